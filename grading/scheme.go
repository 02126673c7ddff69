package grading

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A Side is the side of the oil film that a code belongs to.
type Side string

const (
	Housing Side = "housing" // the block or the rod
	Journal Side = "journal" // the crank
)

// A Scheme says which shells belong to which stamped codes. Whoever has the engine's
// manual types it in: closefit holds none.
//
// Each code gives the shell of its own half: the housing's the upper one, the journal's
// the lower one. Or both codes together give both shells, by a Matrix or by Sums; there
// "red/blue" is a red upper and a blue lower shell, and "red" is red for both.
type Scheme struct {
	Name   string `json:"name" toml:"name"`
	Source string `json:"source" toml:"source,omitempty"` // the manual and its page

	// Interchangeable says that the halves of one grade are the same part. Otherwise
	// upper and lower shells are bought apart.
	Interchangeable bool `json:"interchangeable" toml:"interchangeable,omitempty"`

	Housing []Code `json:"housing" toml:"housing"`
	Journal []Code `json:"journal" toml:"journal"`

	// Matrix is a table of both codes as a manual prints it: a first row of the
	// journal codes, with an empty corner before them, then for each housing code a row
	// that begins with it and has the shells for each journal code.
	Matrix [][]string `json:"matrix" toml:"matrix,omitempty"`
	Sums   []SumRow   `json:"sum" toml:"sum,omitempty"` // by the sum of both codes' numbers

	Shells   []Shell  `json:"shell" toml:"shell,omitempty"`   // the shells that exist, with their walls
	Families []Family `json:"family" toml:"family,omitempty"` // undersizes
	Ground   string   `json:"ground" toml:"ground,omitempty"` // the undersize family that the crank is ground to, as InFamily sets it; empty if it is not ground
	Mix      int      `json:"mix" toml:"mix,omitempty"`       // how many steps apart, in order of wall, the grades in one location may be, in selecting from sizes: 0 for one grade, 1 for neighbours too

	Limits units.LengthInterval `json:"limits" toml:"limits,omitempty"` // of the running clearance, or the end play
	Wanted *units.Length        `json:"wanted" toml:"wanted,omitempty"` // the clearance to aim at; the middle of the limits if nil
}

// A Code is one code that can be stamped.
type Code struct {
	Code   string               `json:"code" toml:"code"`
	Shell  string               `json:"shell" toml:"shell,omitempty"`   // the grade for its half, without a matrix or sums
	Number *int                 `json:"number" toml:"number,omitempty"` // with sums; if nil, the code itself is the number
	Size   units.LengthInterval `json:"size" toml:"size,omitempty"`     // the bore or journal diameter that the code stands for
}

// A SumRow gives shells for a range of sums.
type SumRow struct {
	From   int    `json:"from" toml:"from"`
	To     int    `json:"to" toml:"to"`
	Shells string `json:"shells" toml:"shells"`
}

// A Shell is one shell that exists, or one thrust washer.
type Shell struct {
	Grade  string               `json:"grade" toml:"grade"`             // of a washer its step: "standard", "0.10 oversize"
	Half   Half                 `json:"half" toml:"half,omitempty"`     // Either if both halves are alike
	Family string               `json:"family" toml:"family,omitempty"` // the undersize that it is for
	Wall   units.LengthInterval `json:"wall" toml:"wall"`               // thickness at the middle
}

// Codes returns the codes of a side, in the scheme's order.
func (s *Scheme) Codes(side Side) []string {
	list := s.codes(side)
	codes := make([]string, len(list))
	for i, c := range list {
		codes[i] = c.Code
	}
	return codes
}

func (s *Scheme) codes(side Side) []Code {
	switch side {
	case Housing:
		return s.Housing
	case Journal:
		return s.Journal
	}
	return nil
}

// CheckParts returns an error of kind ErrScheme for the first part that is not in the
// scheme: its codes and shells do not name the grade, or the grade has a shell in the
// other half alone, or the half is given for interchangeable halves or missing for
// others. Otherwise a misspelt grade in a pack or in the stock would pass for a part that
// nobody needs.
func (s *Scheme) CheckParts(counts []purchase.Count[Part]) error {
	grades := s.Grades()
	for _, c := range counts {
		place := "part " + c.Part.String()
		switch {
		case !slices.Contains(grades, c.Part.Grade):
			return s.fault(place, "write one of "+orNone(grades), "no grade of the scheme")
		case s.Interchangeable && c.Part.Half != Either:
			return s.fault(place, "leave the half out", "the scheme's halves are interchangeable")
		case !s.Interchangeable && c.Part.Half == Either:
			return s.fault(place, "write which half it is", "the scheme's halves are not interchangeable")
		case s.inOtherHalf(c.Part):
			return s.fault(place, "list its shell, or write another", "no shell of that grade in that half")
		}
	}
	return nil
}

// inOtherHalf reports whether the grade of a part has a shell in the other half and none in
// its own. Of a grade without any shell it is false: not every scheme lists its shells.
func (s *Scheme) inOtherHalf(p Part) bool {
	other := false
	for _, sh := range s.Shells {
		if sh.Grade != p.Grade || sh.Family != "" {
			continue
		}
		if sh.Half == Either || sh.Half == p.Half {
			return false
		}
		other = true
	}
	return other
}

// Grades returns the grades that the shells and the codes of the scheme name, in their
// order, and then those of its families.
func (s *Scheme) Grades() []string {
	var grades []string
	add := func(text string) {
		for g := range strings.SplitSeq(text, "/") {
			if g = strings.TrimSpace(g); g != "" && !slices.Contains(grades, g) {
				grades = append(grades, g)
			}
		}
	}
	for _, sh := range s.Shells {
		if sh.Family == "" {
			add(sh.Grade)
		}
	}
	for _, c := range slices.Concat(s.Housing, s.Journal) {
		add(c.Shell)
	}
	for i, row := range s.Matrix {
		for k := 1; k < len(row) && i > 0; k++ {
			add(row[k])
		}
	}
	for _, sum := range s.Sums {
		add(sum.Shells)
	}
	for _, f := range s.Families {
		if t, err := s.InFamily(f.Name); err == nil {
			for _, g := range t.Grades() {
				add(g)
			}
		}
	}
	return grades
}

// code finds a code.
func (s *Scheme) code(side Side, code string) (Code, error) {
	list := s.codes(side)
	i := slices.IndexFunc(list, func(c Code) bool { return c.Code == code })
	if i < 0 {
		return Code{}, unknownCode("", side, code, s.Codes(side))
	}
	return list[i], nil
}

// Pair returns the shells for a housing code and a journal code. The error is of kind
// ErrCodes for an unknown code, or ErrScheme if the scheme gives no shell. In a scheme
// with undersize families the shells are the standard ones.
func (s *Scheme) Pair(housing, journal string) (Pair, error) {
	h, err := s.code(Housing, housing)
	if err != nil {
		return Pair{}, err
	}
	j, err := s.code(Journal, journal)
	if err != nil {
		return Pair{}, err
	}
	switch {
	case len(s.Matrix) > 0 && len(s.Sums) > 0:
		return Pair{}, s.twoTables()
	case len(s.Matrix) > 0:
		return s.byMatrix(h, j)
	case len(s.Sums) > 0:
		return s.bySum(h, j)
	}
	return s.eachHalf(h, j)
}

func (s *Scheme) twoTables() error {
	return s.fault("matrix", "keep the one that the manual has", "there are sums too")
}

func (s *Scheme) eachHalf(h, j Code) (Pair, error) {
	upper, err := s.shellOf("housing "+h.Code, "upper", h.Shell)
	if err != nil {
		return Pair{}, err
	}
	lower, err := s.shellOf("journal "+j.Code, "lower", j.Shell)
	if err != nil {
		return Pair{}, err
	}
	return s.pairOf(Part{upper, Upper}, Part{lower, Lower}), nil
}

// shellOf reads the grade of one half.
func (s *Scheme) shellOf(place, half, text string) (string, error) {
	grade := strings.TrimSpace(text)
	if grade == "" {
		return "", s.fault(place, fmt.Sprintf("write the grade of the %s shell, or a matrix or sums for both", half), "no shell")
	}
	if strings.Contains(grade, "/") {
		return "", s.fault(place, fmt.Sprintf("write the grade of the %s shell", half), "%q gives two shells to one half", text)
	}
	return grade, nil
}

func (s *Scheme) byMatrix(h, j Code) (Pair, error) {
	place := cell(h.Code, j.Code)
	row := slices.IndexFunc(s.Matrix[1:], func(r []string) bool { return len(r) > 0 && r[0] == h.Code })
	if row < 0 {
		return Pair{}, s.fault(place, "write it", "the matrix has no row for housing %s", h.Code)
	}
	shells := s.Matrix[row+1]
	column := 1
	for column < len(s.Matrix[0]) && s.Matrix[0][column] != j.Code {
		column++
	}
	if column >= len(s.Matrix[0]) {
		return Pair{}, s.fault(place, "write it", "the matrix has no column for journal %s", j.Code)
	}
	if column >= len(shells) {
		return Pair{}, s.fault(place, "write its shells, as in \"red/blue\"", "the row ends before it")
	}
	return s.shellsOf(place, shells[column])
}

func (s *Scheme) bySum(h, j Code) (Pair, error) {
	place := cell(h.Code, j.Code)
	a, err := s.number(Housing, h)
	if err != nil {
		return Pair{}, err
	}
	b, err := s.number(Journal, j)
	if err != nil {
		return Pair{}, err
	}
	for _, r := range s.Sums {
		if r.From <= a+b && a+b <= r.To {
			return s.shellsOf(fmt.Sprintf("sum %d to %d", r.From, r.To), r.Shells)
		}
	}
	return Pair{}, s.fault(place, "write one that does", "no range of sums holds %d + %d = %d", a, b, a+b)
}

// cell names a cell of a table.
func cell(housing, journal string) string { return "housing " + housing + ", journal " + journal }

// shellsOf reads shells written as one text.
func (s *Scheme) shellsOf(place, text string) (Pair, error) {
	grades := strings.Split(text, "/")
	for i, g := range grades {
		grades[i] = strings.TrimSpace(g)
	}
	switch {
	case slices.Contains(grades, ""):
		return Pair{}, s.fault(place, "write one for both halves, or two as in \"red/blue\"", "%q lacks a shell", text)
	case len(grades) > 2:
		return Pair{}, s.fault(place, "write one for both halves, or two as in \"red/blue\"", "%q gives more than two shells", text)
	}
	return s.pairOf(Part{grades[0], Upper}, Part{grades[len(grades)-1], Lower}), nil
}

// pairOf makes a pair of two parts, which fit both places if halves are alike.
func (s *Scheme) pairOf(upper, lower Part) Pair {
	if s.Interchangeable {
		upper.Half, lower.Half = Either, Either
	}
	return Pair{upper, lower}
}

// An Assignment is the shells that the codes of one location call for.
type Assignment struct {
	Location string   `json:"location"`
	Housing  Stamp    `json:"housing"` // with every code that is still possible
	Journal  Stamp    `json:"journal"`
	Pairs    []Pair   `json:"pairs"` // one; several where codes leave them possible
	Why      []string `json:"why"`   // which codes leave several pairs, and how to tell; empty if there is one pair
}

// Assign returns the shells for every location, from the codes of both sides. The
// two must name the same locations in the same order: a rod the location of its
// crank pin. A location keeps every pair that an illegible code, or a row that can
// be read in another way, leaves possible.
//
// The error is of kind ErrCodes for the codes of one side given as those of the other,
// for journal codes older or newer than the grinding of the crank, and for a reading or a
// location without codes; ErrScheme for a scheme with undersize families before InFamily
// chose one of them or Standard; ErrLocations for other locations; or that of Pair.
func (s *Scheme) Assign(housing, journal RowReading) ([]Assignment, error) {
	if err := s.assignable(housing, journal); err != nil {
		return nil, err
	}
	list := make([]Assignment, len(housing.Stamps))
	bores, journals := housing.merged(), journal.merged()
	for i := range list {
		a := Assignment{Location: bores[i].Location, Housing: bores[i], Journal: journals[i]}
		pairs := make([][]Pair, len(a.Housing.Possible)) // by housing code, then by journal code
		for k, h := range a.Housing.Possible {
			for _, j := range a.Journal.Possible {
				p, err := s.Pair(h, j)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", a.Location, err)
				}
				pairs[k] = append(pairs[k], p)
				if !slices.Contains(a.Pairs, p) {
					a.Pairs = append(a.Pairs, p)
				}
			}
		}
		if slices.ContainsFunc(pairs, func(of []Pair) bool { return !slices.Equal(of, pairs[0]) }) {
			a.Why = append(a.Why, housing.why(i)...)
		}
		if slices.ContainsFunc(pairs, func(of []Pair) bool { return len(slices.Compact(slices.Clone(of))) > 1 }) {
			a.Why = append(a.Why, journal.why(i)...)
		}
		list[i] = a
	}
	return list, nil
}

// assignable returns an error unless the readings are codes of both sides for this
// scheme.
func (s *Scheme) assignable(housing, journal RowReading) error {
	if len(s.Families) > 0 {
		names := make([]string, len(s.Families))
		for i, f := range s.Families {
			names[i] = f.Name
		}
		return s.fault("journal", fmt.Sprintf("choose %s, or %s for a crank that was never ground, by InFamily", strings.Join(names, ", "), Standard),
			"it is not said whether the crank was ground")
	}
	if err := housing.check(Housing); err != nil {
		return err
	}
	if err := journal.check(Journal); err != nil {
		return err
	}
	if housing.Row.Ground != "" {
		return housing.Row.fault(fmt.Sprintf("leave %q out", housing.Row.Ground), "a housing is not ground to an undersize")
	}
	if got := journal.Row.Ground; got != s.Ground {
		if got == "" {
			return journal.Row.fault(fmt.Sprintf("say that they were stamped for %s, or measure and select from sizes", s.Ground),
				"the crank is ground to %s, and its codes are of the sizes before", s.Ground)
		}
		return journal.Row.fault(fmt.Sprintf("choose the scheme of %s by InFamily", got),
			"they were stamped for %s, and the crank is %s", got, orStandard(s.Ground))
	}
	return sameLocations(housing.Stamps, journal.Stamps)
}

func orStandard(ground string) string {
	if ground == "" {
		return Standard
	}
	return "ground to " + ground
}

// why says what leaves several codes possible at the location of that index.
func (r RowReading) why(i int) []string {
	var why []string
	if s := r.Stamps[i]; len(s.Possible) > 1 {
		why = append(why, fmt.Sprintf("%s code %s is not legible: find it, or measure and select from sizes", r.Row.Side, s.Code))
	}
	for _, a := range r.Others {
		if !slices.Equal(a.Stamps[i].Possible, r.Stamps[i].Possible) {
			return append(why, r.Question())
		}
	}
	return why
}

func sameLocations(housing, journal []Stamp) error {
	names, codes := locationsOf(housing), locationsOf(journal)
	if !slices.Equal(names, codes) {
		return otherLocations("journal codes", codes, "housing codes", names)
	}
	return nil
}

// Demand counts the parts that the assignments call for, in the order in which
// they first call for them. The error is of kind ErrUndecided for the first location
// with more than one pair.
func Demand(assignments []Assignment) ([]purchase.Count[Part], error) {
	pairs := make([]Pair, len(assignments))
	for i, a := range assignments {
		if len(a.Pairs) != 1 {
			texts := make([]string, len(a.Pairs))
			for k, p := range a.Pairs {
				texts[k] = p.String()
			}
			fix := "find the code, or measure and select from sizes"
			if len(a.Why) > 0 {
				fix = strings.Join(a.Why, "; ")
			}
			return nil, fault(ErrUndecided, a.Location, fix, "%s", strings.Join(texts, "; "))
		}
		pairs[i] = a.Pairs[0]
	}
	return count(pairs), nil
}

// number returns the number that a code counts for in a sum.
func (s *Scheme) number(side Side, c Code) (int, error) {
	if c.Number == nil {
		n, err := strconv.Atoi(c.Code)
		if err != nil {
			return 0, s.fault(string(side)+" "+c.Code, "write one", "no number to add")
		}
		c.Number = &n
	}
	if n := *c.Number; n > maxNumber || n < -maxNumber {
		return 0, s.fault(string(side)+" "+c.Code, fmt.Sprintf("write a number within ±%d", maxNumber), "%d counts for more than any code", n)
	}
	return *c.Number, nil
}
