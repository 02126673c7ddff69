package grading

import (
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Family is the shells for a crank that was ground to an undersize.
type Family struct {
	Name      string       `toml:"name"`
	Undersize units.Length `toml:"undersize"` // of the journal's diameter
}

// InFamily returns the scheme for a crank of the family: the journal sizes are
// smaller by the undersize, and every grade has the family's name before its
// own, because it is another part. The shells are those that the scheme lists
// for the family; if it lists none, the standard ones with walls thicker by half
// of the undersize:
//
//	t' = t + u/2
//
// with t the wall and u the undersize of the diameter, both lengths; exact.
// (Practice of the undersize tables in TM 5-4320-300-14, page 6-83. A manual may
// hold other walls: then list them.)
//
// The error is a *SchemeError, which wraps ErrNoFamily, for a name that the
// scheme does not hold.
func (s *Scheme) InFamily(name string) (*Scheme, error) {
	i := slices.IndexFunc(s.Families, func(f Family) bool { return f.Name == name })
	if i < 0 {
		names := make([]string, len(s.Families))
		for k, f := range s.Families {
			names[k] = f.Name
		}
		return nil, s.errorf(ErrNoFamily, "family "+name, "the scheme holds %s", orNone(names))
	}
	f := s.Families[i]
	t := *s
	t.Name = s.Name + ", " + f.Name
	t.Families = nil
	t.Housing = f.codes(s.Housing, units.Length{})
	t.Journal = f.codes(s.Journal, f.Undersize)
	t.Shells = f.shells(s.Shells)
	if s.Matrix != nil {
		t.Matrix = &Matrix{Columns: slices.Clone(s.Matrix.Columns)}
		for _, r := range s.Matrix.Rows {
			cells := make([]string, len(r.Shells))
			for k, text := range r.Shells {
				cells[k] = f.named(text)
			}
			t.Matrix.Rows = append(t.Matrix.Rows, MatrixRow{r.Housing, cells})
		}
	}
	t.Sums = slices.Clone(s.Sums)
	for k := range t.Sums {
		t.Sums[k].Shells = f.named(t.Sums[k].Shells)
	}
	return &t, nil
}

// codes returns the codes with the family's grades, for sizes smaller by less.
func (f Family) codes(codes []Code, less units.Length) []Code {
	codes = slices.Clone(codes)
	for i := range codes {
		codes[i].Shell = f.named(codes[i].Shell)
		if size := codes[i].Size; size != nil {
			smaller := size.Shift(less.Neg())
			codes[i].Size = &smaller
		}
	}
	return codes
}

// shells returns the shells of the family.
func (f Family) shells(all []Shell) []Shell {
	half := f.Undersize.MulRat(big.NewRat(1, 2))
	var own, grown []Shell
	for _, sh := range all {
		switch sh.Family {
		case f.Name:
			own = append(own, Shell{Grade: f.named(sh.Grade), Half: sh.Half, Wall: sh.Wall})
		case "":
			grown = append(grown, Shell{Grade: f.named(sh.Grade), Half: sh.Half, Wall: sh.Wall.Shift(half)})
		}
	}
	if own != nil {
		return own
	}
	return grown
}

// named puts the family's name before each grade of a text such as "red/blue".
func (f Family) named(text string) string {
	if strings.TrimSpace(text) == "" {
		return text
	}
	grades := strings.Split(text, "/")
	for i, g := range grades {
		grades[i] = f.Name + " " + strings.TrimSpace(g)
	}
	return strings.Join(grades, "/")
}
