package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque"
)

// read reads a job.
func read(t *testing.T, src string) *job.Job {
	t.Helper()
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// pulled are the bolts of a plan as they are pulled.
func pulled(p *torque.Plan) string {
	var bolts []string
	for _, s := range p.Steps() {
		if !s.IsPause() {
			bolts = append(bolts, s.Bolt)
		}
	}
	return strings.Join(bolts, " ")
}

// TestRodByRod: rods whose caps are given are finished one by one, also where two share a pin,
// unless the group says another order; the caps of mains are not, nor a group that another is
// tied to, of which no cap can be finished first.
func TestRodByRod(t *testing.T) {
	const v = `title = "v"
[engine]
cylinders = 4
mains = 3
pins = [["1", "3"], ["2", "4"]]
thrust = "1"
rings = ["ring"]
passages = ["p"]
`
	const stages = "single_use = false\nstages = [{ torque = \"8 N·m\" }, { torque = \"20 N·m\" }]\n"
	group := func(name, bolts string) string {
		return "[[tightening]]\ngroup = \"" + name + "\"\n" + bolts + "\n" + stages
	}
	const caps = `caps = [["1a", "1b"], ["3a", "3b"], ["2a", "2b"]]`
	const rodByRod, across = "1a 1b 1a 1b 3a 3b 3a 3b 2a 2b 2a 2b", "3a 3b 1a 1b 2a 2b 3a 3b 1a 1b 2a 2b"
	for name, tt := range map[string]struct{ src, want string }{
		"by default":              {group("rod bolts", caps), rodByRod},
		"by another name":         {group("Connecting-rod nuts", caps), rodByRod},
		"in places":               {group("rod bolts", `places = [{ bolt = "1a", x = "0 mm", y = "0 mm", part = "1" }, { bolt = "2a", x = "0 mm", y = "90 mm", part = "2" }]`), "1a 1a 2a 2a"},
		"inside out, as it says":  {group("rod bolts", caps+"\norder = \"inside out\""), across},
		"main caps":               {group("main cap bolts", caps), across},
		"a rod by part of a word": {group("threaded rods' rodeo bolts", `bolts = ["1a", "1b"]`), "1a 1b 1a 1b"},
		"tied": {group("rod bolts", caps) + "[[tightening]]\ngroup = \"side\"\nbolts = [\"s\"]\nstages = [{ torque = \"7 N·m\", during = { group = \"rod bolts\", stage = 1 } }]\n",
			"3a 3b 1a 1b 2a 2b s 3a 3b 1a 1b 2a 2b"},
	} {
		if got := pulled(read(t, v+tt.src).Plan()); got != tt.want {
			t.Errorf("%s: %s, want %s", name, got, tt.want)
		}
		trial := read(t, v+strings.ReplaceAll(tt.src, "[[tightening]]", "[[trial]]")).Trial()
		if got := pulled(trial); got != tt.want {
			t.Errorf("%s, in a trial: %s, want %s", name, got, tt.want)
		}
	}
}

// TestTrialUseFollowsTheTightening: what the tightening says is used once is so in the trial
// assembly, whether that says nothing of it or denies it.
func TestTrialUseFollowsTheTightening(t *testing.T) {
	const trial = used + "[[trial]]\ngroup = \"cap\"\ncaps = [[\"1L\", \"1R\"]]\nstages = [{ torque = \"9 N·m\" }]\n"
	for said, want := range map[string]string{
		"":                       "old_bolts = true if the manual",
		"single_use = false\n":   "is used once: more than one answer; write single_use = true",
		"single_use = true\n":    "old_bolts = true if the manual",
		"old_bolts = false\n":    "",
		"old_bolts = true\n":     "",
		"turn_in_trial = true\n": "old_bolts = true if the manual",
	} {
		_, err := job.Read("job.toml", []byte(trial+said))
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", said, err, want)
		}
	}
}

// used is an engine of one rod, whose bolts are used once and not new, with a trial assembly.
const used = small + `
[bolts.cap]
sound = ["1L"]
scrap = ["1R"]
[bolts.rod]
sound = ["a"]
scrap = ["b"]
[[tightening]]
group = "cap"
bolts = ["1L", "1R"]
single_use = true
stages = [{ torque = "9 N·m" }, { turn = "50°" }]
[[tightening]]
group = "rod"
bolts = ["a", "b"]
stages = [{ torque = "9 N·m" }]
`

// TestUsedOnceIsHeld: sound bolts of a group that is used once are held, until new ones are
// fitted; then what was said of the old ones no longer counts.
func TestUsedOnceIsHeld(t *testing.T) {
	j := read(t, used)
	assessed := func(j *job.Job) *job.Assessment {
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	a := assessed(j)
	held := a.Held()
	if len(held) != 3 || !strings.Contains(held["1L"], "used once: fit a new one") || !strings.Contains(held["1R"], "scrap") {
		t.Errorf("%v", held)
	}
	for _, s := range a.Steps(job.Final) {
		if (s.Hold != "") != (held[s.Bolt] != "") {
			t.Errorf("step %d, %s: %q", s.Number, s.Bolt, s.Hold)
		}
	}
	if held := assessed(j.WithNew("1R", "none")).Held(); len(held) != 2 || held["1L"] == "" {
		t.Errorf("%v", held)
	}
	if a := assessed(j.WithNew("1R").WithNew("1L", "b")); len(a.Held()) != 0 || item(t, a, "cap 1L").Standing != job.Proven {
		t.Errorf("%v", a.Held())
	}
	if held := assessed(j).Held(); len(held) != 3 {
		t.Errorf("the job as it was read holds %v", held)
	}
}

// TestTrialBolts: scrap is held in a trial assembly too, unless old bolts were asked for by
// name; and its end says what does not go back.
func TestTrialBolts(t *testing.T) {
	const snug, turned = "stages = [{ torque = \"9 N·m\" }]\n", "stages = [{ torque = \"9 N·m\" }, { turn = \"50°\" }]\n"
	for name, tt := range map[string]struct {
		said, held, end string
	}{
		"nothing said":  {snug, "b", "everything off again."},
		"old":           {"single_use = true\nold_bolts = true\n" + snug, "", "old and are used once: none of them goes back"},
		"short of it":   {"single_use = true\nold_bolts = true\n" + snug, "", "The cap are not pulled as in the final assembly: a clearance"},
		"new":           {"single_use = true\nold_bolts = false\n" + snug, "", "see in the manual whether"},
		"new, turned":   {"single_use = true\nold_bolts = false\nturn_in_trial = true\n" + turned, "", "The 2 cap went in new and were turned: they are scrap"},
		"reusable, old": {"old_bolts = true\n" + snug, "", "everything off again."},
	} {
		group, bolts := "cap", `["1L", "1R"]`
		if !strings.Contains(tt.said, "single_use") {
			group, bolts = "rod", `["a", "b"]`
		}
		j := read(t, used+"[[trial]]\ngroup = \""+group+"\"\nbolts = "+bolts+"\n"+tt.said)
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		held := ""
		for _, s := range a.Steps(job.Trial) {
			if s.Hold != "" {
				held += s.Bolt
			}
		}
		if held != tt.held || !strings.Contains(j.TrialEnd(), tt.end) {
			t.Errorf("%s: held %q, want %q; %s", name, held, tt.held, j.TrialEnd())
		}
		if strings.Contains(tt.said, "turn =") && strings.Contains(j.TrialEnd(), "not pulled as") {
			t.Errorf("%s: %s", name, j.TrialEnd())
		}
		if !strings.Contains(strings.Join(a.Cautions, "\n"), j.TrialEnd()) {
			t.Errorf("%s: the cautions do not say how it ends", name)
		}
	}
	if end := read(t, used).TrialEnd(); end != "" {
		t.Errorf("no trial, and %q", end)
	}
}
