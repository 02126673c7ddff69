package job

import "testing"

// TestLines: no two lines have one name, every term is a line, and every line says how it
// is measured.
func TestLines(t *testing.T) {
	e := Engine{Cylinders: []string{"1", "2"}, Mains: []string{"1", "2", "3"}, Pins: []Pin{{"1-2", []string{"1", "2"}}},
		Thrust: "3", Rings: []string{"top ring"}, Passages: []string{"p"}, Jets: []string{"1"}, Decks: []string{"deck"}}
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
		if l.form != state && (len(l.kinds) == 0 && l.fit == nil || l.remedy == Remedy{} && l.form != plain) {
			t.Errorf("%q has no instrument, or nothing to do about it", l.name())
		}
	}
	for i := range lines {
		for _, term := range append(lines[i].terms, lines[i].also...) {
			if find(lines, term) == nil {
				t.Errorf("%q is made of %q, which is no line", lines[i].name(), term)
			}
		}
		if (lines[i].terms == nil && lines[i].also == nil) != (lines[i].fit == nil) {
			t.Errorf("%q has terms or a sum, and not both", lines[i].name())
		}
	}
}
