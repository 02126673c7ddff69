package grading

import (
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Family is the shells for a crank that was ground to an undersize.
type Family struct {
	Name      string       `json:"name" toml:"name"`
	Undersize units.Length `json:"undersize" toml:"undersize"` // of the journal's diameter
}

// Standard is the name to give InFamily for a crank that was never ground. No family can
// have it.
const Standard = "standard"

// InFamily returns the scheme for a crank that is ground to the family's undersize, or,
// by the name Standard, for one that was never ground. If a scheme lists families, choose
// one before its codes mean anything.
//
// On a ground crank the journal sizes are smaller by the undersize, and every grade
// has the family's name before its own, because it is another part. The codes that
// were stamped before grinding are void: the scheme takes those of a Row whose
// Ground is the family. The shells are those that the scheme lists for the family;
// if it lists none, the standard ones with walls thicker by half of the undersize:
//
//	t' = t + u/2
//
// with t the wall and u the undersize of the diameter, both lengths; exact.
// (Practice of the undersize tables in TM 5-4320-300-14, page 6-83. A manual may
// hold other walls: then list them.)
//
// The error is of kind ErrScheme, for an unknown name, or an undersize of zero or less,
// or of more than a tenth of a journal or twice a wall.
func (s *Scheme) InFamily(name string) (*Scheme, error) {
	if name == Standard && s.Ground == "" {
		return s.standard(), nil
	}
	i := slices.IndexFunc(s.Families, func(f Family) bool { return f.Name == name })
	if i < 0 {
		names := []string{Standard}
		if s.Ground != "" {
			names = nil
		}
		for _, f := range s.Families {
			names = append(names, f.Name)
		}
		return nil, s.fault("family "+name, "write one of "+orNone(names), "it is not in the scheme")
	}
	f := s.Families[i]
	if err := s.possible(f); err != nil {
		return nil, err
	}
	t := *s
	t.Name = s.Name + ", " + f.Name
	t.Families, t.Ground = nil, f.Name
	t.Housing = f.codes(s.Housing, units.Length{})
	t.Journal = f.codes(s.Journal, f.Undersize)
	t.Shells = f.shells(s.Shells)
	t.Matrix = nil
	for i, row := range s.Matrix {
		row = slices.Clone(row)
		for k := 1; k < len(row) && i > 0; k++ {
			row[k] = f.named(row[k])
		}
		t.Matrix = append(t.Matrix, row)
	}
	t.Sums = slices.Clone(s.Sums)
	for k := range t.Sums {
		t.Sums[k].Shells = f.named(t.Sums[k].Shells)
	}
	return &t, nil
}

// standard returns the scheme without its families.
func (s *Scheme) standard() *Scheme {
	t := *s
	t.Families, t.Shells = nil, nil
	for _, sh := range s.Shells {
		if sh.Family == "" {
			t.Shells = append(t.Shells, sh)
		}
	}
	return &t
}

// possible returns an error unless a crank can be ground to the family.
func (s *Scheme) possible(f Family) error {
	place := "family " + f.Name
	if f.Undersize.Sign() <= 0 {
		return s.fault(place, "write by how much the journal's diameter is smaller", "%s", f.Undersize)
	}
	// No crank is ground by a tenth of its diameter, and no wall doubled (common
	// practice, no source).
	for _, c := range s.Journal {
		if c.Size.HasLo() && c.Size.Lo().MulRat(big.NewRat(1, 10)).Less(f.Undersize) {
			return s.fault(place, "write by how much its diameter is smaller", "%s, of a journal %s of %s", f.Undersize, c.Code, c.Size)
		}
	}
	for _, sh := range s.Shells {
		if sh.Family == "" && isSize(sh.Wall) && sh.Wall.Lo().MulRat(big.NewRat(2, 1)).Less(f.Undersize) {
			return s.fault(place, "write by how much the journal's diameter is smaller", "%s, of %s of %s", f.Undersize, sh.place(), sh.Wall)
		}
	}
	return nil
}

// codes returns the codes with the family's grades, for sizes smaller by less.
func (f Family) codes(codes []Code, less units.Length) []Code {
	codes = slices.Clone(codes)
	for i := range codes {
		codes[i].Shell = f.named(codes[i].Shell)
		if size := &codes[i].Size; !size.IsEmpty() {
			*size = size.Shift(less.Neg())
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
