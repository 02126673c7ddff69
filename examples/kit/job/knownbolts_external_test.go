package job_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
)

// What a job says of its bolts is kept by the phase and the group, and is left out of where it is
// not said; a fault in it is found once.
func TestKnownBolts(t *testing.T) {
	const src = `title = "pump engine"
[engine]
cylinders = 4
mains = 3
pins = [["1", "3"], ["2", "4"]]
thrust = "1"
rings = ["ring"]
passages = ["p"]

[[tightening]]
group = "main cap bolts"
caps = [["1L", "1R"], ["2L", "2R"], ["3L", "3R"]]
single_use = false
stages = [{ torque = "20 N·m" }]
bolt = { thread = "M10", class = "10.9", friction = "0.10..0.14", stiffness = "150..180 kN/mm" }

[[tightening]]
group = "pan bolts"
bolts = ["p1"]
single_use = false
stages = [{ torque = "8 N·m" }]

[[trial]]
group = "main cap bolts"
caps = [["1L", "1R"], ["2L", "2R"], ["3L", "3R"]]
single_use = false
stages = [{ torque = "20 N·m" }]
bolt = { thread = "M10", class = "8.8", friction = "B", stiffness = "150..180 kN/mm" }
`
	j := read(t, src)
	final, trial := j.KnownBolts(job.Final), j.KnownBolts(job.Trial)
	if len(final) != 1 || final["main cap bolts"].Strength.Class != "10.9" {
		t.Errorf("final assembly: %v", final)
	}
	if len(trial) != 1 || trial["main cap bolts"].Strength.Class != "8.8" {
		t.Errorf("trial assembly: %v", trial)
	}
	if other := j.KnownBolts(job.Inspect); len(other) != 0 {
		t.Errorf("inspection: %v", other)
	}
	_, err := job.Read("job.toml", []byte(strings.Replace(src, `"8.8"`, `"8,8"`, 1)))
	var all tomlfile.Errors
	if !errors.As(err, &all) || len(all) != 1 || all[0].Path != "trial[0].bolt.class" {
		t.Errorf("%v, want one error, of the class", err)
	}
}
