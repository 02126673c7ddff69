package job_test

import (
	"strings"
	"testing"
)

// boltsOf is the small engine with used bolts of these lengths, read by caliper to ±0.02 mm.
func boltsOf(lengths ...string) string {
	var names, said []string
	for i, l := range lengths {
		name := string(rune('a' + i))
		names = append(names, `"`+name+`"`)
		said = append(said, name+` = "`+l+` mm"`)
	}
	return small + "[instruments.caliper]\nkind = \"caliper\"\nuncertainty = \"0.02 mm\"\n" +
		"[bolts.studs]\nlongest_length = \"68.35 mm\"\nwith = \"caliper\"\nlengths = { " + strings.Join(said, ", ") + " }\n" +
		"[[tightening]]\ngroup = \"studs\"\nbolts = [" + strings.Join(names, ", ") + "]\nstages = [{ torque = \"11 N·m\" }]\n"
}

// TestExchangedDigitsAmongLikes: a length that two exchanged digits put out from among its
// likes by more than they are apart is asked after, though it keeps the limit: it was
// meant to be the other one. One that no slip explains, or that is as near as its likes are
// to each other, is what it is; and two likes are too few to tell. By hand: 68.20 and 68.02
// differ by 0.18, and the likes by 0.04.
func TestExchangedDigitsAmongLikes(t *testing.T) {
	for _, test := range []struct {
		name    string
		lengths []string
		meant   string // what the first of them was probably meant to be; empty if it is not asked after
	}{
		{"exchanged, and further than the likes are apart", []string{"68.02", "68.18", "68.21", "68.22"}, "68.20 mm"},
		{"exchanged, and not by much", []string{"68.12", "68.18", "68.21", "68.22"}, "68.21 mm"},
		{"exchanged upwards", []string{"68.32", "68.18", "68.21", "68.22"}, "68.23 mm"},
		{"as they are apart", []string{"68.15", "68.18", "68.21", "68.22"}, ""},
		{"out, and no slip would bring it back", []string{"68.10", "68.18", "68.21", "68.22"}, ""},
		{"two likes", []string{"68.02", "68.18", "68.22"}, ""},
		{"one of its likes is shorter", []string{"68.02", "68.01", "68.21", "68.22"}, ""},
	} {
		f := finding(t, assess(t, boltsOf(test.lengths...)), "studs a length")
		if test.meant == "" {
			if f.Slip != "" {
				t.Errorf("%s: %s", test.name, f.Slip)
			}
			continue
		}
		if !strings.Contains(f.Slip, "with two digits exchanged it would be "+test.meant) || f.Verdict.String() != "undecided" {
			t.Errorf("%s: %s, %q", test.name, f.Verdict, f.Slip)
		}
	}
}

// TestReadAgain: a reading that was asked after, and read again, is judged as it stands, and
// the record says so.
func TestReadAgain(t *testing.T) {
	src := boltsOf("68.02", "68.18", "68.21", "68.22")
	src = strings.Replace(src, "with = \"caliper\"\n", "with = \"caliper\"\nsure = [\"a\"]\n", 1)
	a := assess(t, src)
	if f := finding(t, a, "studs a length"); f.Slip != "" || f.Verdict.String() != "conforming" || !strings.HasSuffix(f.How, "; read again, and it stands") {
		t.Errorf("%s, %q, slip %q", f.Verdict, f.How, f.Slip)
	}
	if f := finding(t, a, "studs b length"); strings.Contains(f.How, "again") {
		t.Errorf("nobody read it again: %s", f.How)
	}
	again := endPlay("0.15..0.32 mm", "blades", "0.155..0.20 mm")
	if f := finding(t, assess(t, small+again+"sure = [\"crankshaft\"]\n"), "crankshaft end play"); !strings.HasSuffix(f.How, "; read again, and it stands") {
		t.Errorf("a line: %s", f.How)
	}
}
