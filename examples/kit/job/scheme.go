package job

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/schemefile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// sumTable gives shells for a range of sums of both codes' numbers.
type sumTable struct {
	From   *int   `toml:"from"`
	To     *int   `toml:"to"` // the same as from if it is left out
	Shells string `toml:"shells"`
}

// numbersTable has the number that each code counts for in a sum.
type numbersTable struct {
	Upper map[string]int `toml:"upper"`
	Lower map[string]int `toml:"lower"`
}

// readScheme reads which shells belong to which codes, and which exist, from the tables of
// the job or from a file beside it; nil if it is not known. The set's own is for journals
// that were never ground.
func (r *reader) readScheme(set *shellSet, t shellsTable) *grading.Scheme {
	errs := len(r.errs)
	var whole *grading.Scheme
	if t.Scheme != "" {
		for key, there := range map[string]bool{
			"grades": t.Grades != nil, "matrix": t.Matrix != nil, "sum": t.Sum != nil, "numbers": t.Numbers != nil, "sizes": t.Sizes != nil, "walls": t.Walls != nil,
			"interchangeable": t.Interchangeable, "mix": t.Mix != nil, "wanted": t.Wanted != "", "undersizes": t.Undersizes != nil,
		} {
			if there {
				r.fail(set.path()+"."+key, "%s beside a scheme, %q, which says it: %w; keep one", key, t.Scheme, ErrTwice)
			}
		}
		whole = r.schemeFile(set.path()+".scheme", t.Scheme)
	} else {
		whole = r.schemeTables(set, t)
	}
	if whole == nil || len(r.errs) > errs {
		return nil
	}
	standard, err := whole.InFamily(grading.Standard)
	if !r.check(set.path(), err) {
		return nil
	}
	set.scheme = standard
	return whole
}

// mostOfScheme is how long a scheme may be.
const mostOfScheme = 1 << 20

// schemeFile reads a scheme from a file in the job's folder: TOML, or lines of
// comma-separated values if its name ends so. What is wrong in it is said with its lines.
func (r *reader) schemeFile(at, name string) *grading.Scheme {
	if r.folder == nil {
		r.fail(at, "%q: the job was not read from a folder, so no file can be looked for beside it; name the job's file to the program, or write the scheme into the job", name)
		return nil
	}
	if !fs.ValidPath(name) {
		r.fail(at, "%q: %w; write the name of a file in the job's folder, such as \"mains.toml\"", name, fs.ErrInvalid)
		return nil
	}
	if info, err := fs.Stat(r.folder, name); err != nil || info.IsDir() || info.Size() > mostOfScheme {
		switch {
		case err != nil:
			r.fail(at, "%q: %w; write the name of a file in the job's folder", name, unwrapPath(err))
		case info.IsDir():
			r.fail(at, "%q is a folder; write the name of a file in it", name)
		default:
			r.fail(at, "%q has %d bytes; a scheme has at most %d", name, info.Size(), mostOfScheme)
		}
		return nil
	}
	src, err := fs.ReadFile(r.folder, name)
	if err != nil {
		r.fail(at, "%q: %w", name, unwrapPath(err))
		return nil
	}
	var s *grading.Scheme
	if strings.EqualFold(path.Ext(name), ".csv") {
		s, err = grading.ReadCSV(bytes.NewReader(src))
	} else {
		s, err = schemefile.Read(name, src)
	}
	if err == nil {
		err = s.Validate()
	}
	if err == nil && s.Ground != "" {
		err = errors.New("ground is for the job to say: leave it out, and write ground and undersize in the job")
	}
	if err != nil {
		r.inFile(name, err)
		return nil
	}
	return s
}

// unwrapPath is what is wrong with a file, without its name.
func unwrapPath(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}

// inFile notes what is wrong in another file.
func (r *reader) inFile(name string, err error) {
	switch e := err.(type) {
	case tomlfile.Errors:
		r.errs = append(r.errs, e...)
	case interface{ Unwrap() []error }:
		for _, one := range e.Unwrap() {
			r.inFile(name, one)
		}
	default:
		r.errs = append(r.errs, &tomlfile.Error{File: name, What: err.Error(), Err: err})
	}
}

// schemeTables reads a scheme from the tables of the job.
func (r *reader) schemeTables(set *shellSet, t shellsTable) *grading.Scheme {
	at := set.path()
	errs := len(r.errs)
	s := &grading.Scheme{Name: set.name() + "s", Interchangeable: t.Interchangeable}
	s.Shells = r.walls(at+".walls", t.Walls, "", t.Interchangeable)
	r.families(at+".undersizes", t, s)
	var forms []string
	for _, f := range []struct {
		key   string
		there bool
	}{{"grades", t.Grades != nil}, {"matrix", t.Matrix != nil}, {"sum", t.Sum != nil}} {
		if f.there {
			forms = append(forms, f.key)
		}
	}
	switch {
	case len(forms) > 1:
		r.fail(at+"."+forms[1], "%s: %w; keep the one that the manual has", strings.Join(forms, " and "), ErrAmbiguous)
		return nil
	case t.Codes != nil && forms == nil:
		r.fail(at+".codes", "codes without grades: %w; add [%s.grades], which says the shell for each code, or matrix or sum for both codes together", ErrMissing, at)
		return nil
	case t.Codes == nil && forms != nil:
		r.fail(at+"."+forms[0], "%s without codes: %w; add [%s.codes], with the codes as stamped", forms[0], ErrMissing, at)
		return nil
	}
	switch {
	case t.Grades != nil:
		s.Housing, s.Journal = r.codes(at+".grades.upper", t.Grades.Upper, s, "upper"), r.codes(at+".grades.lower", t.Grades.Lower, s, "lower")
	case t.Matrix != nil:
		r.matrix(at+".matrix", t.Matrix, s)
	case t.Sum != nil:
		r.sums(at, t, s)
	}
	if t.Numbers != nil && t.Sum == nil {
		r.fail(at+".numbers", "numbers without a sum: %w; add sum, or leave them out", ErrMissing)
	}
	r.sizes(at+".sizes", t, s)
	if w, ok := readIf(r, at+".wanted", t.Wanted, units.ParseLength); ok {
		s.Wanted = &w
	}
	if len(r.errs) > errs {
		return nil
	}
	if forms != nil {
		if err := s.Validate(); err != nil {
			r.schemeFaults(at, err)
			return nil
		}
	}
	if s.Mix = codedMix(s); t.Mix != nil {
		if s.Mix = *t.Mix; s.Mix < 0 {
			r.fail(at+".mix", "%d steps; write 0 for one grade in both halves, 1 for neighbours too", s.Mix)
			return nil
		}
	}
	return s
}

// schemeFaults notes each fault of a scheme.
func (r *reader) schemeFaults(at string, err error) {
	if e, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range e.Unwrap() {
			r.schemeFaults(at, one)
		}
		return
	}
	r.check(at, err)
}

// codes reads the codes of a side from the grade that each calls for.
func (r *reader) codes(at string, shells map[string]string, s *grading.Scheme, half string) []grading.Code {
	var list []grading.Code
	for _, code := range slices.Sorted(maps.Keys(shells)) {
		r.grade(at+"."+code, shells[code], s, half)
		list = append(list, grading.Code{Code: code, Shell: shells[code]})
	}
	return list
}

// grade checks a grade that codes call for: where walls are known, it has one.
func (r *reader) grade(at, grade string, s *grading.Scheme, half string) {
	if !r.present(at, grade) || len(s.Shells) == 0 || !wallOf(s, partOf(s, grade, half)).IsEmpty() {
		return
	}
	var known []string
	for _, sh := range s.Shells {
		if sh.Family == "" && (sh.Half == grading.Either || sh.Half.String() == half) && !slices.Contains(known, sh.Grade) {
			known = append(known, sh.Grade)
		}
	}
	slices.Sort(known)
	if len(known) == 0 {
		r.fail(at, "no %s shell has a wall: %w; add them to the walls", half, ErrMissing)
		return
	}
	r.unknown(at, half+" shell", grade, known)
}

// bothGrades checks a text of one or two grades.
func (r *reader) bothGrades(at, text string, s *grading.Scheme) {
	upper, lower, two := strings.Cut(text, "/")
	if !two {
		lower = upper
	}
	if strings.Contains(lower, "/") {
		r.fail(at, "%q has more than two shells; write the upper and the lower one, as in \"red/blue\", or one grade for both", text)
		return
	}
	r.grade(at, strings.TrimSpace(upper), s, "upper")
	r.grade(at, strings.TrimSpace(lower), s, "lower")
}

// matrix reads a table of both codes: a first row of journal codes behind an empty corner,
// then for each housing code a row of shells.
func (r *reader) matrix(at string, rows [][]string, s *grading.Scheme) {
	if len(rows) < 2 || len(rows[0]) < 2 || rows[0][0] != "" {
		r.fail(at, "no rows of both codes; write matrix = [[\"\", \"1\", \"2\"], [\"A\", \"red\", \"red/blue\"], …]: the codes of the journals behind an empty corner, then a row for each code of the housings")
		return
	}
	for _, code := range rows[0][1:] {
		s.Journal = append(s.Journal, grading.Code{Code: code})
	}
	for i, row := range rows[1:] {
		if len(row) != len(rows[0]) {
			r.fail(at+index(i+1), "%d cells in a matrix of %d columns: %w; write the code of the housing, and the shells for each code of the journals", len(row), len(rows[0]), ErrCount)
			return
		}
		s.Housing = append(s.Housing, grading.Code{Code: row[0]})
		for k, cell := range row[1:] {
			r.bothGrades(at+index(i+1)+index(k+1), cell, s)
		}
	}
	s.Matrix = rows
}

// sums reads shells for sums of both codes' numbers.
func (r *reader) sums(at string, t shellsTable, s *grading.Scheme) {
	if t.Numbers == nil {
		r.fail(at+".sum", "a sum without the numbers of the codes: %w; add numbers = { upper = { A = 1, B = 2 }, lower = { 1 = 1, 2 = 2 } }", ErrMissing)
		return
	}
	numbered := func(numbers map[string]int) (list []grading.Code) {
		for _, code := range slices.Sorted(maps.Keys(numbers)) {
			list = append(list, grading.Code{Code: code, Number: new(numbers[code])})
		}
		return list
	}
	s.Housing, s.Journal = numbered(t.Numbers.Upper), numbered(t.Numbers.Lower)
	for i, row := range t.Sum {
		here := at + ".sum" + index(i)
		if row.From == nil {
			r.fail(here+".from", "%w; write from = 3, and to where a range of sums has these shells", ErrMissing)
			continue
		}
		to := row.To
		if to == nil {
			to = row.From
		}
		r.bothGrades(here+".shells", row.Shells, s)
		s.Sums = append(s.Sums, grading.SumRow{From: *row.From, To: *to, Shells: row.Shells})
	}
}

// sizes reads the sizes that codes stand for.
func (r *reader) sizes(at string, t shellsTable, s *grading.Scheme) {
	if t.Sizes == nil {
		return
	}
	for _, side := range []struct {
		key   string
		sizes map[string]string
		codes []grading.Code
	}{{"upper", t.Sizes.Upper, s.Housing}, {"lower", t.Sizes.Lower, s.Journal}} {
		var known []string
		for _, c := range side.codes {
			known = append(known, c.Code)
		}
		for _, code := range slices.Sorted(maps.Keys(side.sizes)) {
			here := at + "." + side.key + "." + code
			i := slices.Index(known, code)
			if i < 0 {
				if len(known) == 0 {
					r.fail(here, "the size of a code without codes: %w; add grades, matrix or sum", ErrMissing)
				} else {
					r.unknown(here, "code", code, known)
				}
				continue
			}
			if side.sizes[code] == open {
				continue
			}
			if size, ok := read(r, here, side.sizes[code], units.ParseLengthInterval); ok {
				if !size.Bounded() || size.Lo().Sign() <= 0 || size.IsPoint() {
					r.fail(here, "%s: the sizes of a code have two bounds, both above zero; write \"60.000..60.006 mm\"", side.sizes[code])
					continue
				}
				if tooWide(size) {
					r.fail(here, "%s: %w", side.sizes[code], errTooWide)
					continue
				}
				side.codes[i].Size = size
			}
		}
	}
}

// schemeLimits are the limits of the clearance that a scheme's file states: those of the
// job, if it states none.
func (r *reader) schemeLimits(j *Job, set *shellSet, s *grading.Scheme) {
	m := j.line(set.name() + " clearance")
	if m == nil {
		return
	}
	if own := m.limits[m.quantity]; s.Wanted != nil && !own.IsEmpty() && !own.Contains(*s.Wanted) {
		r.fail(set.path()+".wanted", "%s is wanted, outside the limits of %s; write one within them", s.Wanted.Written(r.unit()), own.Written(r.unit()))
	}
	if s.Limits.IsEmpty() {
		return
	}
	if own := m.limits[m.quantity]; own.IsEmpty() {
		m.limits[m.quantity] = s.Limits
	} else if !own.Equal(s.Limits) {
		r.fail(set.path()+".scheme", "limits of %s in the scheme, and %s under measure.%q: %w; look which the manual has, and keep one", s.Limits.Written(r.unit()), own.Written(r.unit()), m.name(), ErrTwice)
	}
}

// codedMix is how many steps of wall apart the halves are that codes call for at the most:
// what the manual itself mixes may be mixed.
func codedMix(s *grading.Scheme) int {
	standard, err := s.InFamily(grading.Standard)
	if err != nil || len(s.Shells) == 0 {
		return 0
	}
	rank := standard.Ranks()
	most := 0
	for _, h := range standard.Housing {
		for _, c := range standard.Journal {
			if p, err := standard.Pair(h.Code, c.Code); err == nil {
				apart := rank[p.Upper.Grade] - rank[p.Lower.Grade]
				most = max(most, apart, -apart)
			}
		}
	}
	return most
}

// index is the place in a list, in a path to it.
func index(i int) string { return fmt.Sprintf("[%d]", i) }
