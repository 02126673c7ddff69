package planfile_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
)

// trial reads the groups of a trial assembly.
func trial(src string) (*torque.Plan, error) {
	var f struct {
		Trial []planfile.Group `toml:"trial"`
	}
	places, err := tomlfile.Decode("job.toml", []byte(src), &f)
	if err != nil {
		return nil, err
	}
	plan, errs := planfile.Plan("trial assembly", planfile.Trial, f.Trial, places)
	return plan, errs.Sorted()
}

// TestTrial: what costs a set of bolts, or may break one, has to be meant.
func TestTrial(t *testing.T) {
	const caps = "[[trial]]\ngroup = \"main cap bolts\"\ncaps = [[\"1L\", \"1R\"], [\"2L\", \"2R\"]]\n"
	const snug, full = "stages = [{ torque = \"23 N·m\" }]\n", "stages = [\n{ torque = \"23 N·m\" },\n{ turn = \"55°\" }]\n"
	for _, tt := range []struct {
		name, said string
		want       []string // in the error; none if it is right
	}{
		{"reusable", "single_use = false\n" + full, nil},
		{"reusable, old ones", "single_use = false\nold_bolts = true\n" + full, nil},
		{"torques alone, nothing said", snug, nil},
		{"used once, and not said which", "single_use = true\n" + snug, []string{"line 2", "old_bolts = true", "another 4"}},
		{"old ones", "single_use = true\nold_bolts = true\n" + snug, nil},
		{"new ones", "single_use = true\nold_bolts = false\n" + snug, nil},
		{"old ones, turned", "single_use = true\nold_bolts = true\n" + full, []string{"line 8", "4 old bolts", "a second time", "turn_in_trial = true"}},
		{"new ones, turned", "single_use = true\nold_bolts = false\n" + full, []string{"line 8", "4 new bolts", "bought twice", "turn_in_trial = true"}},
		{"turned, and meant", "single_use = true\nold_bolts = false\nturn_in_trial = true\n" + full, nil},
		{"meant, and not turned", "single_use = true\nold_bolts = true\nturn_in_trial = true\n" + snug, []string{"line 6", "take it out"}},
		{"meant of reusable ones", "single_use = false\nturn_in_trial = true\n" + full, []string{"line 5", "take it out"}},
	} {
		plan, err := trial(caps + tt.said)
		if (err == nil) != (tt.want == nil) || (err == nil) != (plan != nil) {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(strings.ReplaceAll(err.Error(), "job.toml:", "line "), want) {
				t.Errorf("%s: %v, want %q in it", tt.name, err, want)
			}
		}
	}
	for _, said := range []string{"old_bolts = true", "old_bolts = false", "turn_in_trial = true"} {
		_, err := planfile.Read("p.toml", []byte("title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\n"+said+"\nstages = [{ torque = \"9 N·m\" }]\n"))
		if err == nil || !strings.Contains(err.Error(), "outside a trial assembly") || !strings.Contains(err.Error(), "p.toml:5") {
			t.Errorf("%s: %v", said, err)
		}
	}
}

// TestCapByCap: the order is read, and bolts without caps are refused with what a file can say.
func TestCapByCap(t *testing.T) {
	const head = "title = \"x\"\n[[tightening]]\ngroup = \"rod bolts\"\norder = \"cap by cap\"\nstages = [{ torque = \"9 N·m\" }, { torque = \"20 N·m\" }]\n"
	plan, err := planfile.Read("p.toml", []byte(head+"caps = [[\"1a\", \"1b\"], [\"2a\", \"2b\"]]\n"))
	if err != nil {
		t.Fatal(err)
	}
	var bolts []string
	for _, s := range plan.Plan.Steps() {
		bolts = append(bolts, s.Bolt)
	}
	if got := strings.Join(bolts, " "); got != "1a 1b 1a 1b 2a 2b 2a 2b" {
		t.Error(got)
	}
	_, err = planfile.Read("p.toml", []byte(head+"bolts = [\"1a\", \"1b\"]\n"))
	if err == nil || !strings.Contains(err.Error(), "p.toml:6") || !strings.Contains(err.Error(), "list them in caps, or write part") {
		t.Error(err)
	}
}
