package job

import "testing"

// TestLines: no two lines have one name, every term is a line, and every line says how it
// is measured.
func TestLines(t *testing.T) {
	e := Engine{Cylinders: []string{"1", "2"}, Mains: []string{"1", "2", "3"}, Pins: []Pin{{"1-2", []string{"1", "2"}}},
		Thrust: "3", Rings: []string{"top ring"}, Passages: []string{"p"}, Jets: []string{"1"}, Decks: []string{"deck"}, Pumps: []string{"oil pump"}}
	lines := linesOf(&e)
	seen := map[string]bool{}
	for i := range lines {
		l := &lines[i]
		if seen[l.name()] {
			t.Errorf("%q stands twice", l.name())
		}
		seen[l.name()] = true
		if len(l.where(&e)) == 0 {
			t.Errorf("%q has no place", l.name())
		}
		if l.how == "" {
			t.Errorf("%q does not say how it is measured", l.name())
		}
		workedOut := l.terms != nil
		if l.form != state && l.form != layout && len(l.kinds) == 0 && !workedOut {
			t.Errorf("%q has no instrument, and is not worked out", l.name())
		}
		if l.form != state && l.form != plain && l.remedy == (Remedy{}) {
			t.Errorf("%q has nothing to do about it", l.name())
		}
	}
	for i := range lines {
		for _, term := range append(lines[i].terms, lines[i].also...) {
			if find(lines, term) == nil {
				t.Errorf("%q is made of %q, which is no line", lines[i].name(), term)
			}
		}
		if made := lines[i].fit != nil || lines[i].sum != nil || lines[i].quotient != nil; (lines[i].terms != nil || lines[i].also != nil) != made {
			t.Errorf("%q has terms or a sum, and not both", lines[i].name())
		}
	}
}
