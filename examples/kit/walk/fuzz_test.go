package walk

import (
	"strings"
	"testing"
)

// FuzzParseReached: what is read of a pull is what was said, once each; the same text with its parts
// the other way round says the same.
func FuzzParseReached(f *testing.F) {
	for _, s := range []string{"", " 95 N·m ", "88..92°", "88..92 ° ; 95 ±1 N·m", "95", "95 mm", "95 N·m; often", "1 N·m;2 N·m", ";", "1° ;\t"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseReached(text)
		parts := strings.Split(text, ";")
		if err != nil {
			if !r.Torque.IsEmpty() || !r.Angle.IsEmpty() || err.Error() == "" {
				t.Errorf("%q is refused, and half read: %v", text, err)
			}
			return
		}
		said := 0
		var exact []string
		if !r.Torque.IsEmpty() {
			said++
			exact = append(exact, r.Torque.Exact())
		}
		if !r.Angle.IsEmpty() {
			said++
			exact = append(exact, r.Angle.Exact())
		}
		if strings.TrimSpace(text) != "" && said != len(parts) {
			t.Fatalf("%q says %d things, and %d are kept", text, len(parts), said)
		}
		for _, again := range []string{strings.Join(exact, ";"), strings.Join([]string{parts[len(parts)-1], parts[0]}, ";")} {
			if said < 2 && strings.Contains(again, ";") {
				continue
			}
			if b, err := ParseReached(again); err != nil || !b.Torque.Equal(r.Torque) || !b.Angle.Equal(r.Angle) {
				t.Errorf("%q and %q are %v and %v, %v", text, again, r, b, err)
			}
		}
	})
}
