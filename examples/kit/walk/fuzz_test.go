package walk

import (
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
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

// FuzzParseTool: a tool that is read says what was said, without blanks around it, and is set to a torque or to nothing;
// of one that is refused nothing is read.
func FuzzParseTool(f *testing.F) {
	for _, s := range [][3]string{{"wrench 2", "30 N·m", "C-114"}, {" ", "", ""}, {"", " 22 ft·lb ", "\t"}, {"wrench", "30", ""}, {"w", "30 mm", ""}, {"w", "28..32 N·m", "\xff"}} {
		f.Add(s[0], s[1], s[2])
	}
	f.Fuzz(func(t *testing.T, name, set, certificate string) {
		tool, err := ParseTool(name, set, certificate)
		_, wrong := units.ParseTorque(strings.TrimSpace(set))
		if said := strings.TrimSpace(set) != ""; (err != nil) != (said && wrong != nil) {
			t.Fatalf("%q: %v, and as a torque: %v", set, err, wrong)
		}
		if err != nil {
			if tool != (ledger.Tool{}) || err.Error() == "" || !utf8.ValidString(err.Error()) {
				t.Errorf("%q is refused, and %+v is read: %v", set, tool, err)
			}
			return
		}
		if tool != (ledger.Tool{Name: strings.TrimSpace(name), Set: strings.TrimSpace(set), Certificate: strings.TrimSpace(certificate)}) {
			t.Errorf("%q, %q, %q are %+v", name, set, certificate, tool)
		}
		if again, err := ParseTool(tool.Name, tool.Set, tool.Certificate); err != nil || again != tool {
			t.Errorf("%+v is %+v the second time: %v", tool, again, err)
		}
	})
}
