package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/torque/ledger"
)

// proven is the job of an invented engine of which everything is proven: a single cylinder, with
// a trial assembly.
const proven = `title = "mill pump"
build = "second rebuild"
[engine]
name = "mill pump engine 7"
cylinders = ["1"]
mains = ["front", "rear"]
thrust = "rear"
rings = ["ring"]
passages = ["gallery"]
[instruments]
strip = { kind = "crush strip", widths = ["0.025 mm", "0.038 mm", "0.051 mm"] }
blades = { kind = "feeler blades", blades = ["0.15 mm", "0.20 mm", "0.25 mm", "0.30 mm"] }
dial = { kind = "dial", uncertainty = "0.005 mm" }
[measure.passage]
reading = "clean"
[measure."main bearing clearance"]
limits = "0.020..0.060 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
readings = { front = "0.038 mm", rear = "0.025..0.038 mm" }
[measure."rod bearing clearance"]
limits = "0.020..0.060 mm"
conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }
reading = "0.038 mm"
[measure."crankshaft end play"]
limits = "0.10..0.30 mm"
with = "dial"
reading = "0.02 to 0.19 mm"
[measure."rod side play"]
limits = "0.14..0.35 mm"
with = "blades"
reading = "0.20..0.25 mm"
[measure."ring end gap"]
limits = "0.14..0.35 mm"
with = "blades"
conditions = { ring = "square in its own bore", depth = "as the manual says" }
reading = "0.20..0.25 mm"
[bolts."main cap bolts"]
new = "all"
[bolts."rod bolts"]
sound = ["a", "b"]
[[trial]]
group = "main cap bolts"
caps = [["FL", "FR"], ["RL", "RR"]]
old_bolts = true
stages = [{ torque = "9 N·m" }]
[[tightening]]
group = "main cap bolts"
caps = [["FL", "FR"], ["RL", "RR"]]
single_use = true
stages = [{ torque = "9 N·m" }, { turn = "50°" }]
[[tightening]]
group = "rod bolts"
caps = [["a", "b"]]
stages = [{ torque = "8 N·m" }]
`

// without is the job with one text in the place of another, which it has.
func without(t *testing.T, old, new string) string {
	t.Helper()
	if !strings.Contains(proven, old) {
		t.Fatalf("%q is not in the job", old)
	}
	return strings.Replace(proven, old, new, 1)
}

// jobBench is a bench with a job.
func jobBench(t *testing.T, text string) *bench {
	t.Helper()
	b := newBench(t, text)
	b.options = append(b.options, "-job")
	return b
}

// TestOpenGate: a job that is proven is walked, its ledger stands beside it and holds what the
// gate said, once.
func TestOpenGate(t *testing.T) {
	b := jobBench(t, proven)
	b.call(done, "-start", "no")
	said, _ := b.call(done, "-next")
	has(t, said, "mill pump engine 7, second rebuild, final assembly\n", "1. FL: tighten to 9 N·m")
	b.does(1, 2)
	history, _ := b.call(done, "-history")
	has(t, history, "final assembly: gate open; 14 proven\n") // 1 passage, 2 mains, 1 rod, end play, side play, ring, 6 bolts, the plan
	if n := strings.Count(history, "gate open"); n != 1 {
		t.Errorf("the gate is noted %d times, want once\n%s", n, history)
	}
	if _, err := os.Stat(b.ledger()); err != nil {
		t.Error(err)
	}
}

// TestShutGate: no ledger is started and nothing is offered; what keeps it shut is said worst
// first, and how to accept it; a job that accepts it opens the gate, and the ledger keeps on whose
// word.
func TestShutGate(t *testing.T) {
	text := without(t, `front = "0.038 mm", rear = "0.025..0.038 mm"`, `front = "0.025 mm", rear = "?"`)
	b := jobBench(t, text)
	_, said := b.call(notAllowed, "-start", "no")
	has(t, said, "gate shut: no ledger is started", "final assembly: the gate is shut. Not proven: 2; proven: 12.", "main bearing rear clearance", `-against "NAME: REASON": go on against the job's gate, and record it; it stands beside -start`)
	if _, err := os.Stat(b.ledger()); err == nil {
		t.Error("a refusal left a ledger")
	}
	b.write(proven)
	b.call(done, "-start", "no")
	b.write(text)
	said, errs := b.call(notAllowed, "-next")
	has(t, said, "STOP. final assembly: the gate is shut. Not proven: 2; proven: 12.", "  not measured: main bearing rear clearance", "  undecided: main bearing front clearance",
		"[[accepted]]", `what = "main bearing rear clearance"`, `-against "NAME: REASON"`, "no tighten to", "no 1. FL")
	if strings.Index(said, "not measured:") > strings.Index(said, "undecided:") {
		t.Errorf("not worst first\n%s", said)
	}
	has(t, errs, "the work may not go on")
	if n := b.next(notAllowed); n.Step != 0 || n.Do+n.Brief+n.Bolt+n.Group != "" || n.Gate == nil || n.Gate.Open || len(n.Gate.Shut) != 2 || n.Stop == "" {
		t.Errorf("%+v", n)
	}
	_, errs = b.call(notAllowed, "-begin", "1")
	has(t, errs, "the gate is shut", "main bearing rear clearance")
	b.write(text + "[[accepted]]\nwhat = \"main bearing clearance\"\nby = \"the builder\"\nreason = \"the strips are on order\"\n")
	b.call(done, "-begin", "1")
	history, _ := b.call(done, "-history")
	has(t, history, "final assembly: gate open; 12 proven; accepted: main bearing clearance, by the builder: the strips are on order")
}

// TestGoingAgainst: it is an act of its own, with a name and a reason, in the ledger; what
// comes to keep the gate shut later stops the walk again, and what is proven later does not.
func TestGoingAgainst(t *testing.T) {
	b := jobBench(t, without(t, `rear = "0.025..0.038 mm"`, `rear = "?"`))
	for _, bad := range []string{"", ":", "the builder", "the builder:", ": later"} {
		if _, errs := b.call(badInput, "-start", "no", "-against", bad); !strings.Contains(errs, "NAME: REASON") {
			t.Errorf("%q: %s", bad, errs)
		}
	}
	said, _ := b.call(done, "-start", "no", "-against", "the builder: read tomorrow: at noon")
	has(t, said, "goes on against the gate; not proven: 1;")
	b.does(1)
	history, _ := b.call(done, "-history")
	has(t, history, "gate shut by main bearing rear clearance: not measured; 13 proven; went on against it, the builder: read tomorrow: at noon")
	if n := b.next(done); n.Against == nil || *n.Against != (ledger.Word{By: "the builder", Reason: "read tomorrow: at noon"}) {
		t.Errorf("%+v", n)
	}

	b.write(strings.Replace(without(t, `rear = "0.025..0.038 mm"`, `rear = "?"`), `"clean"`, `"blocked"`, 1))
	said, _ = b.call(notAllowed, "-next")
	has(t, said, "wrong: passage gallery", "what = \"main bearing rear clearance\"", "no 2. FR")
	b.call(notAllowed, "-begin", "2")
	b.call(done, "-against", "the builder: it was blown through since")
	b.does(2)

	b.write(without(t, `rear = "0.025..0.038 mm"`, `rear = ">= 0.051 mm"`))
	b.call(notAllowed, "-begin", "3")

	b.write(proven)
	b.does(3)
	_, errs := b.call(notAllowed, "-against", "the builder: for no reason")
	has(t, errs, "nothing to go against")
}

// TestHeldBolt: a bolt that the job holds is not tightened, whoever goes on against the gate,
// until a new one is recorded in its place. Only bolts keep the gate shut, so that the ledger in
// which that is recorded can be started.
func TestHeldBolt(t *testing.T) {
	b := jobBench(t, without(t, `new = "all"`, "new = [\"FR\", \"RL\", \"RR\"]\nsound = [\"FL\"]")) // used, in a group that is used once
	b.call(done, "-start", "no")
	said, _ := b.call(notAllowed, "-next")
	has(t, said, "used, and its group is used once", "FL is held: used, and its group is used once: fit a new one", "-replaced FL: ", "no tighten to")
	b.call(notAllowed, "-begin", "1")
	b.call(done, "-against", "the builder: the rest is sound")
	said, _ = b.call(notAllowed, "-next")
	has(t, said, "STOP. FL is held", "no Not proven", "no 1. FL")
	_, errs := b.call(notAllowed, "-begin", "1")
	has(t, errs, "FL is held")
	plan, _ := b.call(done, "-plan")
	has(t, plan, "! HELD FL: used, and its group is used once: fit a new one", "! The gate before the final assembly is shut: 1 not proven")
	b.call(done, "-replaced", "FL")
	plan, _ = b.call(done, "-plan")
	has(t, plan, "no HELD", "no gate before")
	said, _ = b.call(done, "-next")
	has(t, said, "1. FL: tighten")
	b.does(1)
	// The same in a group that may be used again: nothing is said of it.
	b = jobBench(t, without(t, `sound = ["a", "b"]`, `sound = ["a"]`))
	b.call(done, "-start", "no")
	said, _ = b.call(notAllowed, "-next")
	has(t, said, "rod bolts b: not known to be new or sound")
}

// TestTrialAssembly: it has a gate, a ledger and an end of its own.
func TestTrialAssembly(t *testing.T) {
	b := jobBench(t, without(t, `front = "0.038 mm", rear = "0.025..0.038 mm"`, `front = "?", rear = "?"`))
	b.call(notAllowed, "-start", "no") // the final assembly needs the strips
	final := b.options
	b.options = append(b.options, "-phase", "trial")
	b.call(done, "-start", "no")
	said, _ := b.call(done, "-next")
	has(t, said, "mill pump engine 7, second rebuild, trial assembly\n", "1. FL: tighten to 9 N·m")
	plan, _ := b.call(done, "-plan")
	has(t, plan, "mill pump, trial assembly", "take everything off again. The main cap bolts in it are old")
	b.does(1, 2, 3, 4)
	said, _ = b.call(done, "-next")
	has(t, said, "4 of 4 steps done", "finished", "take everything off again")
	if _, err := os.Stat(strings.TrimSuffix(b.plan, ".toml") + ".trial.ledger"); err != nil {
		t.Error(err)
	}
	b.write(proven)
	b.options = append(final, "-phase", "final")
	b.call(done, "-start", "no")
	if n := b.next(done); *n.Done != 0 || n.Of != 10 || n.Work.Assembly != "final assembly" {
		t.Errorf("%+v", n)
	}
	b.write(proven[:strings.Index(proven, "[[trial]]")] + proven[strings.Index(proven, "[[tightening]]"):])
	b.options = append(final, "-phase", "trial")
	_, errs := b.call(badInput, "-next")
	has(t, errs, "plan for the trial assembly", "[[trial]]")
	b.options = append(final, "-phase", "after")
	_, errs = b.call(badInput, "-next")
	has(t, errs, "write trial or final")
}

// TestJobFromStandardInput: a - is standard input for a job too, which each call reads.
func TestJobFromStandardInput(t *testing.T) {
	at := t.TempDir()
	with := func(act ...string) []string {
		return append(append([]string{"-job", "-ledger", filepath.Join(at, "ledger"), "-witness", filepath.Join(at, "witness")}, act...), "-")
	}
	for _, tt := range []struct {
		status int
		in     string
		args   []string
		want   string
	}{
		{done, proven, []string{"-job", "-plan", "-"}, "mill pump"},
		{done, proven, with("-start", "no"), "started"},
		{done, proven, with("-next"), "1. FL"},
		{done, proven, with("-begin", "1"), "recorded: begin 1"},
		{badInput, proven, []string{"-job", "-next", "-"}, "-ledger FILE"},
		{badInput, proven, with(), "put the plan in a file"},
		{badInput, "", with("-next"), "title"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, strings.NewReader(tt.in), &out, &errs); status != tt.status || !strings.Contains(out.String()+errs.String(), tt.want) {
			t.Errorf("%v: %d, want %d and %q\n%s%s", tt.args, status, tt.status, tt.want, &out, &errs)
		}
	}
}

// TestGateAtTheTerminal: a held bolt and a shut gate are not offered, Return asks the job again, a
// job that is edited while a step is shown stops it, and going on against the gate is recorded,
// before the ledger is started too.
func TestGateAtTheTerminal(t *testing.T) {
	const fl = "new = [\"FR\", \"RL\", \"RR\"]\nscrap = [\"FL\"]"
	held := without(t, `new = "all"`, fl)
	b := jobBench(t, strings.Replace(held, `rear = "0.025..0.038 mm"`, `rear = "?"`, 1))
	s := b.open()
	has(t, s.prompt(), "No ledger is started yet", "not measured: main bearing rear clearance", "no BEEN TURNED")
	has(t, s.types(""), "No ledger is started yet")
	has(t, s.types("none"), "is not an answer", "No ledger is started yet")
	has(t, s.types("against the builder"), "NAME: REASON")
	has(t, s.types("against the builder: the strip comes"), "HAS ANY OF THESE BOLTS BEEN TURNED ALREADY?")
	has(t, s.types("none"), "! ")
	has(t, s.types(""), "FL is held", "no the gate is shut", "no against NAME", "no tighten to 9 N·m 9")
	has(t, s.types("r FL"), "FL: a new bolt is fitted", "Who pulls?")
	has(t, s.types(""), "With which tool?")
	has(t, s.types(""), "Next: 1. FL", "Do not pull yet.", "no BEGUN")
	b.write(proven) // the strip has come
	has(t, s.types("x"), "is not an answer", "Next: 1. FL")
	b.write(strings.Replace(held, `"clean"`, `"blocked"`, 1)) // a passage is found blocked while the step is shown
	has(t, s.types(""), "The job was changed while this step was shown", "wrong: passage gallery: blocked", "no BEGUN")
	b.write(held)
	has(t, s.types(""), "Do not pull yet.")
	has(t, s.types(""), "BEGUN: 1. FL", "Pull now.")
	b.write(strings.Replace(held, `"clean"`, `"blocked"`, 1)) // what was done is recorded all the same
	has(t, s.types("d"), "What was reached")
	has(t, s.types(""), "wrong: passage gallery: blocked", "no Do not pull yet")
	s.type_("q")
	s.leave(notAllowed)
	history, _ := b.call(done, "-history")
	has(t, history, "went on against it, the builder: the strip comes", "replaced    FL", "final assembly: gate open; 14 proven", "done        1. FL")

	// A plan that is edited under way is another plan; a job that cannot be read offers nothing.
	b.write(proven)
	s = b.open()
	s.prompt()
	b.write("title = ")
	has(t, s.types(""), "The job is not as it was, or cannot be read", "pump.toml:1", "Next: nothing", "no Do not pull yet")
	b.write(proven)
	s.types("")
	has(t, s.types(""), "With which tool?")
	has(t, s.types(""), "2. FR: tighten to 9 N·m")
	b.write(without(t, `{ turn = "50°" }`, `{ turn = "60°" }`))
	has(t, s.types(""), "The job is not as it was, or cannot be read", "is another", "-revise", "no BEGUN")
	s.leave(notAllowed)

	b = jobBench(t, proven)
	b.options = append(b.options, "-phase", "trial")
	s = b.open()
	s.prompt()
	has(t, s.types("none"), "This is the trial assembly")
	s.types("")
	s.types("")
	for n := range 4 {
		if n == 0 {
			has(t, s.types(""), "trial assembly", "Do not pull yet.")
		}
		has(t, s.types(""), "BEGUN:")
		s.types("d")
		if n < 3 {
			has(t, s.types(""), "Do not pull yet.")
		}
	}
	s.type_("")
	has(t, s.leave(done), "take everything off again.")
}

// TestOneFileForTheOther: a job file given as a plan, and a plan given as a job file, are told for what they are.
func TestOneFileForTheOther(t *testing.T) {
	b := newBench(t, proven)
	_, errs := b.call(badInput, "-next")
	has(t, errs, "is a job file of shortblock, and no plan; write -job before its name", "no unknown key")
	b.write(caps)
	_, errs = b.call(badInput, "-job", "-next")
	has(t, errs, "is a plan, and no job file; leave -job out", "no [[tightening]]")
	b.write("tilte = 1\n") // neither
	_, errs = b.call(badInput, "-next")
	has(t, errs, "tilte")
}
