package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/torque/ledger"
)

// demo is a bench with the demonstration's plan.
func demo(t *testing.T) *bench { return newBench(t, string(demonstration)) }

// TestStepByStep carries out the demonstration as a script would: every step is begun before it
// is done, and neither is recorded twice.
func TestStepByStep(t *testing.T) {
	b := demo(t)
	b.call(done, "-start", "no")
	turns := 0
	for range 200 {
		n := b.next(done)
		if n.Finished {
			if *n.Done != n.Of-1 || n.Skipped != 1 || turns != 10 {
				t.Errorf("finished with %d of %d done and %d skipped, and %d turns, want all but the one wait, and 10", *n.Done, n.Of, n.Skipped, turns)
			}
			return
		}
		id := fmt.Sprint(n.Step)
		_, said := b.call(notAllowed, "-done", id)
		has(t, said, "begin it before the pull")
		b.call(done, "-begin", id)
		b.call(notAllowed, "-begin", id)
		if n.Mark {
			turns++
		}
		if strings.HasPrefix(n.Do, "wait ") {
			_, said := b.call(notAllowed, "-done", id) // minutes are not over at once, in another program
			has(t, said, " of 4m are over")
			out, _ := b.call(done, "-next")
			has(t, out, "it is over at ")
			b.call(done, "-skipped", id)
			continue
		}
		b.call(notAllowed, "-skipped", id)
		b.call(done, "-done", id)
		b.call(notAllowed, "-done", id)
	}
	t.Error("not finished")
}

// TestFlags: every option, right and wrong, with the status and what is said.
func TestFlags(t *testing.T) {
	b := newBench(t, caps)
	other := filepath.Join(b.folder, "none", "other.toml")
	for _, tt := range []struct {
		status int
		args   []string
		want   string // in what it says
	}{
		{done, []string{"-help"}, "usage: torquewalk"},
		{done, []string{"-version"}, "torquewalk of closefit, version "},
		{badInput, []string{"-done", "1", "-version"}, "write it alone"},
		{done, []string{"-plan"}, "turn 50° further"},
		{badInput, []string{"-nxt"}, "-help shows"},
		{badInput, []string{"-next", "-plan"}, "one at a time"},
		{badInput, []string{"-begin", "1", "-done", "1"}, "one at a time"},
		{badInput, []string{"-begin", "1", "-begin", "2"}, "-begin is given twice"},
		{badInput, []string{"-next", "-format", "xml"}, "write text or json"},
		{badInput, []string{"-plan", "-format", "json"}, "-format without -next"},
		{badInput, []string{"-begin", "1", "-torque", "9 N·m"}, "-torque says nothing here"},
		{badInput, []string{"-next", "-choose", "FL: leave"}, "-choose without -revise"},
		{badInput, []string{"-job"}, "is a plan, and no job file; leave -job out"},
		{badInput, []string{"-phase", "trial", "-next"}, "has no phases"},
		{badInput, []string{"-against", "a: b"}, "has no gate"},
		{badInput, []string{"-start", "no", "-against", "a: b"}, "has no gate"},
		{badInput, []string{other}, "2 plans"},

		{notAllowed, []string{"-next"}, "-start \"BOLT, BOLT\": start the ledger: no, if"},
		{notAllowed, []string{"-begin", "1"}, "not started"},
		{notAllowed, []string{"-history"}, "not started"},
		{notAllowed, []string{"-takeover", "the builder: there is nothing"}, "not started"},
		{notAllowed, []string{"-revise", "the builder: there is nothing"}, "not started"},
		{badInput, []string{"-start", "maybe"}, `"maybe" is no bolt of the plan; write none, all, or names with commas between: FL, FR, RL, RR`},
		{badInput, []string{"-start", ""}, "-start is given without a value"},
		{badInput, []string{"-start", "FL, "}, "is no bolt of the plan"},
		{done, []string{"-start", "no"}, "started: "},
		{notAllowed, []string{"-start", "no"}, "there already"},

		{done, []string{"-next"}, "do not pull before -begin 1 is recorded"},
		{done, []string{"-next"}, "! Never turn a bolt whose turn is in doubt"},
		{badInput, []string{"-begin", "one"}, `-begin: "one" is no step; write its number`},
		{badInput, []string{"-begin", "99"}, "name a step from 1 to 8"},
		{notAllowed, []string{"-begin", "2"}, "do step 1 first"},
		{notAllowed, []string{"-done", "1"}, "not begun"},
		{notAllowed, []string{"-notmoved", "1"}, "not begun"},
		{done, []string{"-begin", "1"}, "BEGUN: 1. FL: tighten to 9 N·m"},
		{done, []string{"-next"}, "if nobody knows, -partway 1"},
		{badInput, []string{"-done", "1", "-torque", "9"}, `-torque: "9"`},
		{badInput, []string{"-done", "1", "-angle", "9 N·m"}, "-angle: "},
		{badInput, []string{"-done", "x"}, "-done: \"x\" is no step"},
		{done, []string{"-done", "1", "-torque", "9.1 N·m", "-angle", "20..25°", "-by", "the builder"}, "next: 2. FR"},
		{notAllowed, []string{"-done", "1", "-by", ""}, "done already"},
		{done, []string{"-history"}, "done        1. FL: tighten to 9 N·m; reached 9.1 N·m; turned 20..25 °; by the builder"},

		{badInput, []string{"-no", "x"}, "-no: \"x\" is no step"},
		{notAllowed, []string{"-no", "2"}, "refused"},
		{badInput, []string{"-skipped", "x"}, "no step"},
		{notAllowed, []string{"-skipped", "2"}, "refused"},
		{badInput, []string{"-wrongbolt", "2"}, `write "ID: BOLT"`},
		{badInput, []string{"-wrongbolt", "2:"}, `write "ID: BOLT"`},
		{badInput, []string{"-wrongbolt", "x: FL"}, "no step"},
		{badInput, []string{"-wrongstep", "2: x"}, `"x" is no step`},
		{badInput, []string{"-toosoon", "2"}, `write "ID: not moved"`},
		{badInput, []string{"-toosoon", "1: moved"}, `write "not moved" or "part-way"`},
		{badInput, []string{"-kept", "FL: the builder"}, "who and why"},
		{badInput, []string{"-kept", "FL"}, "BOLT: NAME: REASON"},
		{notAllowed, []string{"-kept", "FL: the builder: page 12"}, "refused"},
		{badInput, []string{"-replaced", "F"}, "no such bolt"},
		{badInput, []string{"-loosened", "F"}, "no such bolt"},
		{badInput, []string{"-tool", " "}, "-tool is given without a value; write NAME"},
		{badInput, []string{"-begin", "2", "-set", "9 N·m"}, "-set says nothing here"},
		{badInput, []string{"-tool", "wrench 2", "-set", "9"}, `-tool: -set: "9", column 2: a number without a unit; write "9 N·m"`},
		{badInput, []string{"-settled", "x"}, "-settled: \"x\" is no step"},
		{notAllowed, []string{"-settled", "1"}, "step 1: refused: nothing that does not fit, or it is settled; there is nothing to say of it"},
		{done, []string{"-tool", "wrench 2", "-set", "9 N·m", "-certificate", "C-114"}, "recorded: tool wrench 2"},
		{done, []string{"-history"}, "tool        wrench 2; set to 9 N·m; certificate C-114"},
		{badInput, []string{"-takeover", "the builder"}, "NAME: REASON"},
		{notAllowed, []string{"-takeover", "the builder: nothing is wrong"}, "refused"},
		{badInput, []string{"-revise", "the builder"}, "NAME: REASON"},
		{notAllowed, []string{"-revise", "the builder: nothing changed"}, "nothing to revise"},
		{badInput, []string{"-revise", "a: b", "-choose", "FL"}, "-choose"},
		{badInput, []string{"-revise", "a: b", "-choose", "FL: throw away"}, `"throw away"`},
		{badInput, []string{"-revise", "a: b", "-choose", "FL: leave", "-choose", "fl: replace"}, "given twice"},
	} {
		out, errs := b.call(tt.status, tt.args...)
		if !slices.ContainsFunc(strings.Split(tt.want, "|"), func(want string) bool { return strings.Contains(out+errs, want) }) {
			t.Errorf("%q: %q was not said in\n%s%s", tt.args, tt.want, out, errs)
		}
	}
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{"-next", other}, "other.toml"},
		{[]string{"-witness", b.folder, "-begin", "1", b.plan}, "is the ledger's own"},
		{[]string{"-job"}, "name the job file"},
	} {
		if _, errs := call(t, map[bool]int{true: notAllowed, false: badInput}[strings.Contains(tt.want, "own")], tt.args...); !strings.Contains(errs, tt.want) {
			t.Errorf("%q: %q was not said in %s", tt.args, tt.want, errs)
		}
	}
}

// TestNameOfTheWork: without engine or build a plan is printed, and no ledger is kept or looked
// for; the error names the key and what to write.
func TestNameOfTheWork(t *testing.T) {
	b := newBench(t, strings.Replace(caps, "build = \"second rebuild\"\n", "", 1))
	b.call(done, "-plan")
	for _, act := range [][]string{{"-next"}, {"-start", "no"}, {"-begin", "1"}, {"-history"}, {"-drawings", b.folder}, {}} {
		_, errs := b.call(badInput, act...)
		has(t, errs, "pump.toml", "build: missing", `as in build = "rebuild of autumn"`, "no engine: missing")
	}
}

// TestWitnessFolder: the witness is kept where -witness says, or where the file does, counted from
// its folder, or in the user's own.
func TestWitnessFolder(t *testing.T) {
	kept := func(folder string) int {
		found, _ := filepath.Glob(filepath.Join(folder, "*.witness"))
		return len(found)
	}
	b := newBench(t, strings.Replace(caps, "build = ", "witness = \"../copies\"\nbuild = ", 1))
	b.options = nil
	t.Chdir(t.TempDir())
	b.call(done, "-start", "no")
	if n := kept(filepath.Join(b.folder, "..", "copies")); n != 1 {
		t.Errorf("%d witnesses where the file says, want 1", n)
	}
	_, errs := b.call(notAllowed, "-witness", b.witness, "-begin", "1")
	has(t, errs, "the ledger's witness is not there")
	b.does(1)

	b = newBench(t, strings.Replace(caps, "second rebuild", "third rebuild", 1))
	b.options = nil
	usual, err := ledger.WitnessFolder()
	if err != nil {
		t.Fatal(err)
	}
	before := kept(usual)
	b.call(done, "-start", "no")
	if n := kept(usual); n != before+1 {
		t.Errorf("%d witnesses in %s, want one more than %d", n, usual, before)
	}

	b = newBench(t, strings.Replace(caps, "build = ", "witness = \".\"\nbuild = ", 1))
	b.options = nil
	_, errs = b.call(notAllowed, "-start", "no")
	has(t, errs, "is the ledger's own")
}

// TestMishaps: each event of the script form, by what it leads to.
func TestMishaps(t *testing.T) {
	for _, tt := range []struct {
		name  string
		done  int      // how many steps are done before, the next of which is begun
		act   []string // what went wrong
		exit  int
		want  []string // in what is said
		steps string   // what is next then: its step, or "held"
	}{
		{"not moved", 4, []string{"-notmoved", "5"}, done, []string{"next: 5. FL"}, "5"},
		{"a torque part-way", 0, []string{"-partway", "1"}, done, []string{"next: 1. FL"}, "1"},
		{"a turn part-way", 4, []string{"-partway", "5"}, notAllowed, []string{"FL: Step 5", "Back it off and scrap it"}, "held"},
		{"a turn too far", 4, []string{"-toofar", "5"}, notAllowed, []string{"FL: Step 5", "Back it off and scrap it"}, "held"},
		{"the tool slipped", 0, []string{"-slipped", "1"}, notAllowed, []string{"Check the tool"}, "held"},
		{"the wrong bolt, a torque that it is to have", 0, []string{"-wrongbolt", "1: RR"}, done, []string{"next: 1. FL"}, "1"},
		{"the wrong bolt, a turn", 4, []string{"-wrongbolt", "5: RR"}, notAllowed, []string{"RR: It was given the pull of step 5", "scrap"}, "held"},
		{"its own bolt", 4, []string{"-wrongbolt", "5: FL"}, notAllowed, []string{"refused"}, "5"},
		{"no bolt", 4, []string{"-wrongbolt", "5: F"}, badInput, []string{"the plan has no such bolt"}, "5"},
		{"another step, its bolt's next", 4, []string{"-wrongstep", "5: 7"}, done, []string{"next: 5. FL"}, "5"},
		{"another step, done before", 4, []string{"-wrongstep", "5: 2"}, done, []string{"next: 5. FL"}, "5"},
		{"another step, too far", 0, []string{"-wrongstep", "1: 7"}, notAllowed, []string{"RL: Step"}, "held"},
		{"no step", 0, []string{"-wrongstep", "1: 99"}, badInput, []string{"the plan has no step 99"}, "1"},
		{"done too soon", 2, []string{"-toosoon", "1: not moved"}, notAllowed, []string{"refused", "say first how it ended"}, "3"}, // while another is begun
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t, caps)
			b.call(done, "-start", "no")
			for n := 1; n <= tt.done; n++ {
				b.does(n)
			}
			b.call(done, "-begin", fmt.Sprint(tt.done+1))
			out, errs := b.call(tt.exit, tt.act...)
			has(t, out+errs, tt.want...)
			if tt.steps == "held" {
				n := b.next(notAllowed)
				if n.Step != 0 || len(n.Troubles) == 0 || n.Stop == "" || n.Do != "" {
					t.Errorf("%+v: a step is offered while something is wrong", n)
				}
				_, errs := b.call(notAllowed, "-begin", fmt.Sprint(tt.done+1))
				has(t, errs, "refused")
				return
			}
			if n := b.next(done); fmt.Sprint(n.Step) != tt.steps || n.Stop != "" {
				t.Errorf("next is %+v, want step %s", n, tt.steps)
			}
		})
	}
}

// TestMended: what puts right a scrap bolt and its partner, a slip, a step said done too soon, and
// a check answered no.
func TestMended(t *testing.T) {
	b := newBench(t, strings.Replace(caps, `{ turn = "50°" }`, `{ turn = "50°", check = "Does the crank turn freely?" }`, 1))
	b.call(done, "-start", "none")
	b.does(1, 2, 3, 4, 5, 6)
	b.call(done, "-begin", "7")
	b.call(notAllowed, "-partway", "7") // RL
	_, errs := b.call(notAllowed, "-loosened", "RL")
	has(t, errs, "scrap")
	_, errs = b.call(notAllowed, "-replaced", "RL") // recorded; its partner has to be looked at
	has(t, errs, "RR: ", "under the same cap")
	b.call(notAllowed, "-begin", "3")
	b.call(done, "-kept", "rr: the builder: page 12 lets it stay")
	n := b.next(done)
	if n.Step != 3 || n.Bolt != "RL" {
		t.Errorf("next is %+v, want the first step of the new bolt, 3", n)
	}
	b.does(3, 7, 8)
	b.call(done, "-begin", "9")
	out, errs := b.call(notAllowed, "-no", "9")
	has(t, out+errs, "recorded: no 9", "asked again")
	if n = b.next(notAllowed); n.Step != 9 || n.Status != "failed" || n.Stop == "" {
		t.Errorf("after a no: %+v", n)
	}
	b.call(done, "-begin", "9")
	b.call(done, "-done", "9")
	if n = b.next(done); !n.Finished {
		t.Errorf("not finished: %+v", n)
	}
	out, errs = b.call(notAllowed, "-toosoon", "8: part-way") // the last of RR
	has(t, out+errs, "recorded: toosoon 8: part-way", "RR: Step 8")
	if n = b.next(notAllowed); n.Finished || *n.Done != 8 {
		t.Errorf("after a step that was not done: %+v", n)
	}
	history, _ := b.call(done, "-history")
	has(t, history, "part-way    7. RL: mark it, then turn 50° further", "replaced    RL", "kept        RR; the builder: page 12 lets it stay", "\x20 no          9. Does", "too soon, part-way  8. RR")
}

// TestTurnedBefore: bolts that were turned before the ledger began are in doubt from the start.
func TestTurnedBefore(t *testing.T) {
	b := newBench(t, caps)
	_, errs := b.call(notAllowed, "-start", "rr, FL")
	has(t, errs, "FL: ", "RR: ", "no RL: ", "turned before the ledger began")
	b.call(notAllowed, "-begin", "1")
	b.call(notAllowed, "-replaced", "FL")
	b.call(done, "-replaced", "RR")
	b.does(1)
}

// TestStandardInput: - is a plan from standard input. A walk needs that for its answers,
// and a ledger needs a name.
func TestStandardInput(t *testing.T) {
	b := newBench(t, caps)
	at := []string{"-witness", b.witness, "-ledger", b.ledger()}
	for _, test := range []struct {
		args   []string
		stdin  string
		status int
		want   string
	}{
		{[]string{"-plan", "-"}, caps, done, "turn 50° further"},
		{append(at, "-start", "no", "-"), caps, done, "started"},
		{append(at, "-next", "-"), caps, done, "1. FL"},
		{[]string{"-next", "-"}, caps, badInput, "name that with -ledger FILE"},
		{[]string{"-"}, caps, badInput, "put the plan in a file"},
		{[]string{"-plan", "-"}, strings.Replace(caps, "title = ", "titel = ", 1), badInput, `standard input:`},
		{[]string{"-plan", "-"}, strings.Repeat("#", 20<<20), badInput, "at most 256 kB are read"},
		{[]string{"-plan", t.TempDir()}, "", badInput, "is a folder"},
	} {
		var out, errs bytes.Buffer
		status := run(test.args, strings.NewReader(test.stdin), &out, &errs)
		if text := out.String() + errs.String(); status != test.status || !strings.Contains(text, test.want) {
			t.Errorf("%v: status %d, want %d and %q:\n%s", test.args, status, test.status, test.want, text)
		}
	}
}

// TestDrawings: a drawing is written over an earlier one of the same work, and over nothing else.
func TestDrawings(t *testing.T) {
	b := demo(t)
	folder := t.TempDir()
	said, _ := b.call(done, "-drawings", folder)
	for i, part := range []string{"crankcase", "rod bolts", "drum flange studs"} {
		path := filepath.Join(folder, fmt.Sprintf("drawing-%d.svg", i+1))
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(text), "</svg>") || !strings.Contains(said, path+": "+part) {
			t.Errorf("%s: %v, %s", path, err, said)
		}
	}
	first := filepath.Join(folder, "drawing-1.svg")
	before, _ := os.ReadFile(first)
	b.call(done, "-start", "no")
	b.call(done, "-drawings", folder) // of what is done
	if after, _ := os.ReadFile(first); bytes.Equal(before, after) {
		t.Error("the drawing of a ledger is that of the plan")
	}
	const mine = "<svg>my own</svg>"
	for _, text := range []string{mine, ""} {
		if err := os.WriteFile(first, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, errs := b.call(badInput, "-drawings", folder)
		has(t, errs, first, "nothing is written over it")
		if now, _ := os.ReadFile(first); string(now) != text {
			t.Errorf("%q was written over", text)
		}
	}
	other := newBench(t, strings.Replace(string(demonstration), "winter overhaul", "summer overhaul", 1))
	if err := os.Remove(first); err != nil {
		t.Fatal(err)
	}
	_, errs := other.call(badInput, "-drawings", folder)
	has(t, errs, "drawing-2.svg")
	_, errs = b.call(badInput, "-drawings", filepath.Join(folder, "none"))
	has(t, errs, "none")
}

// TestDemonstration: without a plan the demonstration goes on where it was left, from whatever
// folder.
func TestDemonstration(t *testing.T) {
	b := demo(t)
	call(t, done, append(b.options, "-start", "no")...)
	call(t, done, append(b.options, "-begin", "1")...)
	t.Chdir(t.TempDir())
	out, _ := call(t, done, append(b.options, "-next")...)
	has(t, out, "ferry winch engine 62", "begun; main cap bolts")
	if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
		t.Errorf("%v, %d files in the current folder", err, len(left))
	}
}

// TestShortblockJob: a job's tightening is a plan too.
func TestShortblockJob(t *testing.T) {
	said, _ := call(t, done, "-plan", "-job", filepath.Join("..", "kit", "job", "demo", "lock-gate.toml"))
	has(t, said, "1. ", "further")
}

// TestNextInJSON: what a screen needs stands in it, the cautions among it.
func TestNextInJSON(t *testing.T) {
	b := newBench(t, caps)
	n := b.next(notAllowed)
	if n.Step != 0 || *n.Done != 0 || !strings.Contains(n.Stop, "not started") || n.Of != 8 {
		t.Errorf("before a start: %+v", n)
	}
	b.call(done, "-start", "no")
	b.does(1)
	n = b.next(done)
	if n.Work != (ledger.Work{Engine: "mill pump engine 7", Build: "second rebuild"}) || n.Ledger != b.ledger() || n.Last != "1. FL: tighten to 9 N·m; done" ||
		*n.Done != 1 || n.Of != 8 || n.Step != 2 || n.Status != "pending" || n.Bolt != "FR" || n.Brief != "9 N·m" || len(n.Cautions) < 4 || n.Troubles == nil || n.Said == nil {
		t.Errorf("%+v", n)
	}
	text, _ := b.call(done, "-next", "-format", "json")
	var keys map[string]any
	if err := json.Unmarshal([]byte(text), &keys); err != nil || keys["troubles"] == nil || keys["cautions"] == nil {
		t.Errorf("%v\n%s", err, text)
	}
}

// TestKnownBolts: what the plan's numbers mean for bolts that are known is printed, and what a pull
// reached is held against it: what does not fit stops, and is noted.
func TestKnownBolts(t *testing.T) {
	const bolt = "bolt = { thread = \"M6\", class = \"8.8\", friction = \"0.12..0.14\", stiffness = \"100..120 kN/mm\", neighbours = \"0\" }\n"
	b := newBench(t, caps+bolt)
	out, _ := b.call(done, "-meaning")
	has(t, out, "cap bolts", "note: not compared: stripping", "? cap bolts: stage 2 takes the bolt to", "beyond its proof load of 11.7 kN")
	b.call(done, "-start", "no")
	for n := 1; n <= 4; n++ {
		b.does(n)
	}
	b.call(done, "-begin", "5")
	out, errs := b.call(notAllowed, "-done", "5", "-angle", "50°", "-torque", "9.5 N·m")
	has(t, out, "recorded: done 5", "STOP. FL took 9.5", "the thread strips")
	has(t, errs, "does not fit its bolt")
	b.call(done, "-begin", "6")
	out, _ = b.call(done, "-done", "6", "-angle", "50°")
	has(t, out, "the torque at the end of the turn of FR was not noted")
	history, _ := b.call(done, "-history")
	has(t, history, "note        step 5: STOP. FL took 9.5")
	out, _ = newBench(t, caps).call(done, "-meaning")
	has(t, out, "nothing is known of these bolts")
}
