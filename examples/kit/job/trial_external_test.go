package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// TestTheTrialIsOfTheSameEngine: the trial assembly has no group and no bolt that the
// tightening does not have; it may have fewer.
func TestTheTrialIsOfTheSameEngine(t *testing.T) {
	const tightening = "[[tightening]]\ngroup = \"main studs\"\nbolts = [\"1a\", \"1b\"]\nstages = [{ torque = \"11 N·m\" }]\n"
	for _, test := range []struct {
		name, trial, say string
	}{
		{"the same", "group = \"main studs\"\nbolts = [\"1a\", \"1b\"]\n", ""},
		{"fewer", "group = \"main studs\"\nbolts = [\"1b\"]\n", ""},
		{"another group", "group = \"main stud\"\nbolts = [\"1a\", \"1b\"]\n", `group of bolts "main stud": unknown name; write "main studs"`},
		{"another bolt", "group = \"main studs\"\nbolts = [\"1a\", \"1B\"]\n", `bolt "1B": unknown name; write "1b"`},
	} {
		src := small + "[[trial]]\n" + test.trial + "stages = [{ torque = \"9 N·m\" }]\n"
		if _, err := job.Read("job.toml", []byte(src)); err != nil {
			t.Errorf("%s, without a tightening: %v", test.name, err)
		}
		_, err := job.Read("job.toml", []byte(src+tightening))
		if test.say == "" {
			if err != nil {
				t.Errorf("%s: %v", test.name, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), test.say) || !strings.HasPrefix(err.Error(), "job.toml:") {
			t.Errorf("%s: %v, want %q", test.name, err, test.say)
		}
	}
}
