package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// TestInstrumentsAskedAfter: an instrument that could prove nothing of what it is to judge, is worse than any of its kind, or
// better than anybody can know, is asked after, once, and answered by its key. By hand: limits of 0.031..0.071 mm are 0.040 mm
// apart, and ±0.020 mm is as wide; ±0.0199 mm is not.
func TestInstrumentsAskedAfter(t *testing.T) {
	src := func(kind, says, limits string) string {
		return bench("") + "[instruments.\"the one\"]\nkind = \"" + kind + "\"\n" + says + "\n" + measuring("crankshaft end play", "with = \"the one\"\nlimits = \""+limits+"\"\n")
	}
	for _, test := range []struct{ name, kind, says, limits, asks string }{
		{"as wide as the limits", "dial", `uncertainty = "0.020 mm"`, "0.031..0.071 mm", "±0.020 mm, and the limits that it is to judge, of crankshaft end play, are 0.04 mm apart"},
		{"not as wide", "dial", `uncertainty = "0.0199 mm"`, "0.031..0.071 mm", ""},
		{"answered", "dial", "uncertainty = \"0.020 mm\"\nsure = [\"uncertainty\"]", "0.031..0.071 mm", ""},
		{"another key answers nothing", "dial", "uncertainty = \"0.020 mm\"\nsure = [\"tolerance\"]", "0.031..0.071 mm", `write sure = ["uncertainty"]`},
		{"worse than any", "dial", `uncertainty = "0.5 mm"`, "1.0..7.0 mm", "by more than ±0.1 mm is broken"},
		{"in inches", "dial", `limit_of_error = "0.02 in"`, "1.0..7.0 mm", `write sure = ["limit_of_error"]`},
		{"better than any", "dial", `uncertainty = "0.00002 mm"`, "0.031..0.071 mm", "no bench can know a size to less than ±0.0001 mm"},
		{"blades of the wrong thickness", "feeler blades", `blades = ["0.5 mm", "5.5 mm"]`, "0.1..7.0 mm", "a mark of 5.5 mm"},
		{"blades that are off", "feeler blades", "blades = [\"0.05 mm\", \"0.10 mm\"]\ntolerance = \"0.03 mm\"", "0.031..0.071 mm", `write sure = ["tolerance"]`},
		{"a limit alone", "dial", `uncertainty = "0.03 mm"`, "<= 0.05 mm", ""},
	} {
		var asked []string
		for _, n := range assess(t, src(test.kind, test.says, test.limits)).Next {
			if strings.HasPrefix(n.Text, "the one: ") {
				asked = append(asked, n.Text)
			}
		}
		if got := strings.Join(asked, "\n"); len(asked) > 1 || (got != "") != (test.asks != "") || !strings.Contains(got, test.asks) {
			t.Errorf("%s: %q", test.name, got)
		}
		j, err := job.Read("job.toml", []byte(src(test.kind, test.says, test.limits)))
		if err != nil {
			t.Fatal(err)
		}
		if got := j.AskedOf("the one"); (got != "") != (test.asks != "") || strings.Contains(got, "write sure") {
			t.Errorf("%s: on a page: %q", test.name, got)
		}
	}
}

// TestDemonstrationsAskNothing: no instrument of a demonstration is asked after.
func TestDemonstrationsAskNothing(t *testing.T) {
	for _, name := range job.Demonstrations() {
		src, _ := job.Demonstration(name)
		j, err := job.Read(name, src)
		if err != nil {
			t.Fatal(err)
		}
		for _, in := range j.Instruments() {
			if why := j.AskedOf(in.Name); why != "" {
				t.Errorf("%s: %s", name, why)
			}
		}
	}
}
