package grading

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// Validate checks that the scheme says one thing for everything it must say:
// each pair of codes has shells, none has two; no code, shell or family stands
// twice; no grade has two walls; where shells are listed, those that codes call
// for are among them; and so for every undersize family. The error joins a *SchemeError for each fault, in the order
// of the scheme. Whether the shells fit is Audit's question.
func (s *Scheme) Validate() error {
	v := validation{Scheme: s}
	v.words()
	v.sides()
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

func (v *validation) fault(kind error, place, format string, args ...any) {
	v.faults = append(v.faults, v.errorf(kind, place, format, args...))
}

func (v *validation) words() {
	if v.Rule != EachHalf && v.Rule != ByMatrix && v.Rule != BySum {
		v.fault(ErrRule, "rule", "%q; write %q, %q or %q", v.Rule, EachHalf, ByMatrix, BySum)
	}
	if v.Mix != SameGrade && v.Mix != Neighbours && v.Mix != AnyGrades {
		v.fault(ErrRule, "mix", "%q; write %q or %q, or leave it out for one grade in both halves", v.Mix, Neighbours, AnyGrades)
	}
	if l := v.Limits; l != nil && v.Wanted != nil && !l.Contains(*v.Wanted) {
		v.fault(ErrSize, "wanted", "%s lies outside the limits %s", v.Wanted, l)
	}
}

func (v *validation) sides() {
	for _, side := range []Side{Housing, Journal} {
		codes := v.codes(side)
		if len(codes) == 0 {
			v.fault(ErrHole, side.String(), "no codes; list them")
		}
		if len(codes) > maxCodes {
			v.fault(ErrTooLarge, side.String(), "%d codes; %d is the most", len(codes), maxCodes)
			continue
		}
		for i, c := range codes {
			place := side.String() + " " + c.Code
			if c.Code == "" || strings.Contains(c.Code, Illegible) {
				v.fault(ErrUnknownCode, fmt.Sprintf("%s %d", side, i+1), "%q is no code; ? stands for what cannot be read", c.Code)
			}
			if slices.ContainsFunc(codes[:i], func(d Code) bool { return d.Code == c.Code }) {
				v.fault(ErrDuplicate, place, "the code stands in the list before")
			}
			if c.Size != nil {
				v.size(place, *c.Size)
			}
		}
	}
}

// size checks a diameter or a wall.
func (v *validation) size(place string, size units.LengthInterval) {
	if !size.Bounded() || size.Lo().Sign() <= 0 {
		v.fault(ErrSize, place, "%s; write both limits of a size above zero", size)
	}
}

func (v *validation) matrix() {
	if v.Rule != ByMatrix || v.Matrix == nil {
		return // a matrix that is missing is a hole for every pair
	}
	columns := v.Matrix.Columns
	for i, c := range columns {
		place := "matrix, journal " + c
		if slices.Contains(columns[:i], c) {
			v.fault(ErrDuplicate, place, "the column stands in the matrix before")
		}
		if !slices.Contains(v.Codes(Journal), c) {
			v.fault(ErrUnknownCode, place, "no journal code; the scheme lists %s", orNone(v.Codes(Journal)))
		}
	}
	for i, r := range v.Matrix.Rows {
		place := "matrix, housing " + r.Housing
		if slices.ContainsFunc(v.Matrix.Rows[:i], func(q MatrixRow) bool { return q.Housing == r.Housing }) {
			v.fault(ErrDuplicate, place, "the row stands in the matrix before")
		}
		if !slices.Contains(v.Codes(Housing), r.Housing) {
			v.fault(ErrUnknownCode, place, "no housing code; the scheme lists %s", orNone(v.Codes(Housing)))
		}
		if len(r.Shells) > len(columns) {
			v.fault(ErrDuplicate, place, "%d cells for %d columns", len(r.Shells), len(columns))
		}
	}
}

func (v *validation) sums() {
	if v.Rule != BySum {
		return
	}
	for i, r := range v.Sums {
		place := fmt.Sprintf("sum %d to %d", r.From, r.To)
		if r.From > r.To {
			v.fault(ErrSize, place, "write the smaller sum first")
		}
		for _, q := range v.Sums[:i] {
			if r.From <= q.To && q.From <= r.To {
				v.fault(ErrDuplicate, place, "sums that the range %d to %d holds as well", q.From, q.To)
			}
		}
	}
}

func (v *validation) families() {
	for i, f := range v.Families {
		place := "family " + f.Name
		if f.Name == "" || strings.Contains(f.Name, "/") {
			v.fault(ErrNoFamily, fmt.Sprintf("family %d", i+1), "%q is no name; write one without a stroke", f.Name)
		}
		if slices.ContainsFunc(v.Families[:i], func(g Family) bool { return g.Name == f.Name }) {
			v.fault(ErrDuplicate, place, "the family stands in the list before")
		}
		if f.Undersize.Sign() <= 0 {
			v.fault(ErrSize, place, "an undersize of %s; write how much smaller the journal is", f.Undersize)
		}
	}
}

func (v *validation) shells() {
	for i, sh := range v.Shells {
		place := sh.place()
		if sh.Grade == "" {
			v.fault(ErrNoGrade, fmt.Sprintf("shell %d", i+1), "write its grade")
		}
		v.size(place, sh.Wall)
		if sh.Half != Either && v.Interchangeable {
			v.fault(ErrHalf, place, "the scheme's halves are interchangeable; leave the half out")
		}
		if sh.Family != "" && !slices.ContainsFunc(v.Families, func(f Family) bool { return f.Name == sh.Family }) {
			v.fault(ErrNoFamily, place, "the scheme lists no family %s", sh.Family)
		}
		for _, other := range v.Shells[:i] {
			if other.Grade != sh.Grade || other.Family != sh.Family ||
				other.Half != sh.Half && other.Half != Either && sh.Half != Either {
				continue
			}
			if other.Wall.Equal(sh.Wall) {
				v.fault(ErrDuplicate, place, "the shell stands in the list before")
			} else {
				v.fault(ErrTwoWalls, place, "%s here and %s before", sh.Wall, other.Wall)
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
		if e, ok := errors.AsType[*SchemeError](err); ok && !told[e.Place] {
			told[e.Place] = true
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
			return sh.Wall, nil
		}
	}
	return units.LengthInterval{}, s.errorf(ErrNoShell, "shell "+p.String(), "codes call for it, but no such shell is listed with its wall")
}
