package grading

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// Validate checks that the scheme is complete and says nothing twice: each pair of codes
// has shells, none has two; no code, shell or family stands twice; no grade has two
// walls; the rule uses every entry; the sizes are in proportion to one another; a list of
// shells holds every shell that the codes call for; and the same for every undersize
// family. The error joins one of kind ErrScheme for each fault, in the order of the
// scheme. Audit says whether the shells fit.
func (s *Scheme) Validate() error {
	v := validation{Scheme: s}
	v.words()
	v.unused()
	v.sides()
	v.sizes()
	v.matrix()
	v.sums()
	v.families()
	v.shells()
	if len(v.faults) == 0 {
		v.pairs()
	}
	if len(v.faults) == 0 {
		v.undersizes()
	}
	return errors.Join(v.faults...)
}

// Bounds on a scheme, far beyond any manual's, so that going through all of its
// pairs ends in seconds.
const (
	maxCodes = 256       // of a side
	maxFits  = 2_000_000 // of an audit: pairs of codes times pairs of shells
)

type validation struct {
	*Scheme
	faults []error
}

func (v *validation) fault(place, fix, found string, args ...any) {
	v.faults = append(v.faults, v.Scheme.fault(place, fix, found, args...))
}

func (v *validation) words() {
	if v.Mix < 0 {
		v.fault("mix", "write 0 for one grade in both halves, 1 for neighbours too", "%d steps", v.Mix)
	}
	if l := v.Limits; !l.IsEmpty() && v.Wanted != nil && !l.Contains(*v.Wanted) {
		v.fault("wanted", "write one within them", "%s lies outside the limits %s", v.Wanted, l)
	}
}

// unused finds what a scheme says and does not look at: it was meant for
// another kind of scheme, or a decimal comma has put a size into two columns.
func (v *validation) unused() {
	table := ""
	switch matrix, sums := len(v.Matrix) > 0, len(v.Sums) > 0; {
	case matrix && sums:
		v.faults = append(v.faults, v.twoTables())
	case matrix:
		table = "matrix"
	case sums:
		table = "sums"
	}
	told := table == ""
	for _, side := range []Side{Housing, Journal} {
		for _, c := range v.codes(side) {
			place := string(side) + " " + c.Code
			if c.Shell != "" && !told {
				told = true
				v.fault(table, "leave out the shells of the codes, or the "+table, "%s has a shell of its own, %s", place, c.Shell)
			}
			if c.Number != nil && table != "sums" {
				v.fault(place, "leave it out, or write the sums (a decimal comma divides a value in two: write a point)", "a number %d without sums", *c.Number)
			}
		}
	}
}

// sizes compares the sizes with one another: what is out of all proportion is a
// slip of the decimal point or of the unit, and would have a scheme prove anything.
// The bounds are far beyond what engines have (common practice, no source: grades
// are thousandths of a size apart, a running clearance about a thousandth of the
// journal).
func (v *validation) sizes() {
	bores, journals, walls := v.sizesOf(Housing), v.sizesOf(Journal), v.walls()
	v.proportion(bores, big.NewRat(11, 10))
	v.proportion(journals, big.NewRat(11, 10))
	v.proportion(walls, big.NewRat(2, 1))
	if len(bores) > 0 && len(journals) > 0 {
		bore, journal := bores[0], journals[len(journals)-1]
		if !journal.size.Hi().Less(bore.size.Lo()) {
			v.fault(bore.place+", "+journal.place, "look at points and units", "a bore of %s and a journal of %s leave nothing for shells", bore.size, journal.size)
		} else if n := len(walls); n > 0 && !walls[n-1].size.Lo().Less(bores[len(bores)-1].size.Hi().Sub(journals[0].size.Lo())) {
			v.fault(walls[n-1].place, "look at points and units", "%s is more than bores and journals leave for both shells", walls[n-1].size)
		}
	}
	if l := v.Limits; l.HasHi() {
		switch most := l.Hi(); {
		case len(journals) > 0 && journals[0].size.Lo().MulRat(big.NewRat(1, 100)).Less(most),
			len(walls) > 0 && walls[0].size.Lo().Less(most),
			l.HasLo() && l.Lo().Sign() > 0 && l.Lo().MulRat(big.NewRat(100, 1)).Less(most):
			v.fault("limits", "look at points and units", "%s is wider than any bearing runs", l)
		}
	}
}

// sized is a size with its place.
type sized struct {
	place string
	size  units.LengthInterval
}

// sizesOf returns the sizes of a side's codes, smallest first.
func (v *validation) sizesOf(side Side) []sized {
	var list []sized
	for _, c := range v.codes(side) {
		if isSize(c.Size) {
			list = append(list, sized{string(side) + " " + c.Code, c.Size})
		}
	}
	return ascending(list)
}

// walls returns the walls of the standard shells, thinnest first.
func (v *validation) walls() []sized {
	var list []sized
	for _, sh := range v.Shells {
		if sh.Family == "" && isSize(sh.Wall) {
			list = append(list, sized{sh.place(), sh.Wall})
		}
	}
	return ascending(list)
}

func ascending(list []sized) []sized {
	slices.SortStableFunc(list, func(a, b sized) int { return a.size.Mid().Cmp(b.size.Mid()) })
	return list
}

// proportion notes a fault if the last size is larger than the first by more than
// the factor.
func (v *validation) proportion(list []sized, factor *big.Rat) {
	if len(list) == 0 {
		return
	}
	first, last := list[0], list[len(list)-1]
	if first.size.Lo().MulRat(factor).Less(last.size.Hi()) {
		v.fault(first.place, "look at points and units", "%s here and %s at %s are out of proportion", first.size, last.size, last.place)
	}
}

func (v *validation) sides() {
	for _, side := range []Side{Housing, Journal} {
		codes := v.codes(side)
		if len(codes) == 0 {
			v.fault(string(side), "list them", "no codes")
		}
		if len(codes) > maxCodes {
			v.fault(string(side), fmt.Sprintf("%d is the most", maxCodes), "%d codes", len(codes))
			continue
		}
		for i, c := range codes {
			place := string(side) + " " + c.Code
			if c.Code == "" || strings.Contains(c.Code, illegible) {
				v.fault(fmt.Sprintf("%s %d", side, i+1), "? stands for an illegible code", "%q is no code", c.Code)
			}
			if slices.ContainsFunc(codes[:i], func(d Code) bool { return d.Code == c.Code }) {
				v.fault(place, "keep one", "the code stands in the list before")
			}
			if !c.Size.IsEmpty() {
				v.size(place, c.Size)
			}
		}
	}
}

// size checks a diameter or a wall.
func (v *validation) size(place string, size units.LengthInterval) {
	if !isSize(size) {
		v.fault(place, "write both limits of a size above zero", "%s", size)
	}
}

// isSize reports whether an interval is one of a diameter or a thickness.
func isSize(a units.LengthInterval) bool { return a.Bounded() && a.Lo().Sign() > 0 }

func (v *validation) matrix() {
	if len(v.Matrix) == 0 {
		return
	}
	columns := v.Matrix[0]
	if len(columns) == 0 || columns[0] != "" {
		v.fault("matrix", "begin its first row with an empty corner, and write the journal codes after it", "no first row of journal codes")
		return
	}
	for i, c := range columns[1:] {
		v.matrixCode(Journal, c, columns[1:i+1])
	}
	var before []string
	for _, r := range v.Matrix[1:] {
		if len(r) == 0 {
			v.fault("matrix", "begin it with its housing code", "an empty row")
			continue
		}
		v.matrixCode(Housing, r[0], before)
		before = append(before, r[0])
		if len(r) > len(columns) {
			v.fault("matrix, housing "+r[0], "leave out the surplus", "%d cells for %d columns", len(r)-1, len(columns)-1)
		}
	}
}

// matrixCode checks the code of a row or a column; before are those before it.
func (v *validation) matrixCode(side Side, code string, before []string) {
	place := "matrix, " + string(side) + " " + code
	if slices.Contains(before, code) {
		v.fault(place, "keep one", "it stands in the matrix before")
	}
	if !slices.Contains(v.Codes(side), code) {
		v.fault(place, "write one of "+orNone(v.Codes(side)), "the scheme does not list it")
	}
}

func (v *validation) sums() {
	for i, r := range v.Sums {
		place := fmt.Sprintf("sum %d to %d", r.From, r.To)
		if r.From > r.To {
			v.fault(place, "write the smaller sum first", "from is above to")
		}
		for _, q := range v.Sums[:i] {
			if r.From <= q.To && q.From <= r.To {
				v.fault(place, "let each sum stand in one", "sums that the range %d to %d holds as well", q.From, q.To)
			}
		}
	}
}

func (v *validation) families() {
	if v.Ground == Standard || v.Ground != "" && len(v.Families) > 0 {
		v.fault("ground", "write the one family that the crank is ground to and list none, or leave ground out", "ground to %s, with %d families", v.Ground, len(v.Families))
	}
	for i, f := range v.Families {
		place := "family " + f.Name
		if f.Name == "" || f.Name == Standard || strings.Contains(f.Name, "/") {
			v.fault(fmt.Sprintf("family %d", i+1), fmt.Sprintf("write one without a stroke, and not %s", Standard), "%q is no name of one", f.Name)
		}
		if slices.ContainsFunc(v.Families[:i], func(g Family) bool { return g.Name == f.Name }) {
			v.fault(place, "keep one", "the family stands in the list before")
		}
		if err := v.possible(f); err != nil {
			v.faults = append(v.faults, err)
		}
	}
}

func (v *validation) shells() {
	for i, sh := range v.Shells {
		place := sh.place()
		if sh.Grade == "" {
			v.fault(fmt.Sprintf("shell %d", i+1), "write its grade", "no grade")
		}
		v.size(place, sh.Wall)
		if sh.Half != Either && v.Interchangeable {
			v.fault(place, "leave the half out", "the scheme's halves are interchangeable")
		}
		if sh.Family != "" && !slices.ContainsFunc(v.Families, func(f Family) bool { return f.Name == sh.Family }) {
			v.fault(place, "list it with its undersize", "the scheme lists no family %s", sh.Family)
		}
		for _, other := range v.Shells[:i] {
			if other.Grade != sh.Grade || other.Family != sh.Family ||
				other.Half != sh.Half && other.Half != Either && sh.Half != Either {
				continue
			}
			if other.Wall.Equal(sh.Wall) {
				v.fault(place, "keep one", "the shell stands in the list before")
			} else {
				v.fault(place, "keep the right one", "%s here and %s before", sh.Wall, other.Wall)
			}
		}
	}
}

// place names a shell.
func (sh Shell) place() string {
	place := "shell " + Part{sh.Grade, sh.Half}.String()
	if sh.Family != "" {
		place += " of family " + sh.Family
	}
	return place
}

// pairs goes through every pair of codes.
func (v *validation) pairs() {
	told := map[string]bool{}
	tell := func(err error) {
		if e, ok := errors.AsType[*units.Error](err); ok && !told[e.Where] {
			told[e.Where] = true
			v.faults = append(v.faults, err)
		}
	}
	for _, h := range v.Housing {
		for _, j := range v.Journal {
			p, err := v.Pair(h.Code, j.Code)
			if err != nil {
				tell(err)
				continue
			}
			if len(v.Shells) == 0 {
				continue
			}
			for _, part := range []Part{p.Upper, p.Lower} {
				if _, err := v.wall(part); err != nil {
					tell(err)
				}
			}
		}
	}
}

// undersizes goes through the scheme of every family: its own shells may lack one
// that the codes call for, and its journals may have no size left.
func (v *validation) undersizes() {
	for _, f := range v.Families {
		s, err := v.InFamily(f.Name)
		if err == nil {
			err = s.Validate()
		}
		if err != nil {
			v.faults = append(v.faults, err)
		}
	}
}

// wall returns the wall of a part of the scheme.
func (s *Scheme) wall(p Part) (units.LengthInterval, error) {
	for _, sh := range s.Shells {
		if sh.Family == "" && sh.Grade == p.Grade && (sh.Half == p.Half || sh.Half == Either) {
			if !isSize(sh.Wall) {
				return sh.Wall, s.fault(sh.place(), "write both limits of a size above zero", "%s", sh.Wall)
			}
			return sh.Wall, nil
		}
	}
	return units.LengthInterval{}, s.fault("shell "+p.String(), "list it with its wall", "codes call for it, but no such shell is listed")
}
