package main

import (
	"bytes"
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.com/closefit/internal/thorough"
)

// words are all that the text of -next says beside what stands in its JSON: labels, and what a key says
// that is true or has a number.
var words = regexp.MustCompile(`^(last: |tool: |it is set to |its certificate: |STOP\. |! |! the gate is shut;  goes on against it: |   (""|): | of  steps done(,  skipped)?|finished|[;,: ]*)$`)

// leaves returns every text and number of a JSON value, line by line.
func leaves(v any) (all []string) {
	switch v := v.(type) {
	case map[string]any:
		for _, x := range v {
			all = append(all, leaves(x)...)
		}
	case []any:
		for _, x := range v {
			all = append(all, leaves(x)...)
		}
	case string:
		all = strings.Split(v, "\n")
	case json.Number:
		all = []string{v.String()}
	}
	return all
}

// cut returns a line without a text, once, where that is no part of a word.
func cut(line, text string) string {
	part := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for from := 0; text != ""; {
		at := strings.Index(line[from:], text)
		if at < 0 {
			return line
		}
		before, after := []rune(line[:from+at]), []rune(line[from+at+len(text):])
		if (len(before) == 0 || !part(before[len(before)-1])) && (len(after) == 0 || !part(after[0])) {
			return string(before) + string(after)
		}
		from += at + len(text)
	}
	return line
}

// whole checks that whatever -next says in text stands in its JSON too, and returns both.
func (b *bench) whole(want int) (n next, text string) {
	b.t.Helper()
	text, _ = b.call(want, "-next")
	form, _ := b.call(want, "-next", "-format", "json")
	var keys any
	d := json.NewDecoder(strings.NewReader(form))
	d.UseNumber()
	if err := d.Decode(&keys); err != nil {
		b.t.Fatalf("%v\n%s", err, form)
	}
	if err := json.Unmarshal([]byte(form), &n); err != nil {
		b.t.Fatal(err)
	}
	all := leaves(keys)
	slices.SortFunc(all, func(a, b string) int { return len(b) - len(a) }) // the longest first
	for line := range strings.Lines(strings.TrimSuffix(text, "\n")) {
		line = strings.TrimSuffix(line, "\n")
		rest := line
		for _, leaf := range all {
			rest = cut(rest, leaf)
		}
		if !words.MatchString(rest) {
			b.t.Errorf("%q is not in the JSON, for it leaves %q\n%s", line, rest, form)
		}
	}
	return n, text
}

// TestCut: a text is cut once, and never out of a word.
func TestCut(t *testing.T) {
	for _, tt := range [][3]string{{"last: a", "a", "last: "}, {"8 of 18", "8", " of 18"}, {"18 of 8", "8", "18 of "}, {"a a", "a", " a"}, {"last", "a", "last"}, {"a", "", "a"}} {
		if got := cut(tt[0], tt[1]); got != tt[2] {
			t.Errorf("%q without %q: %q, want %q", tt[0], tt[1], got, tt[2])
		}
	}
}

// TestJSONIsWhole: in every state JSON says whatever the text says, and which calls may follow; each of
// these is one that the program takes then.
func TestJSONIsWhole(t *testing.T) {
	pauses := strings.Replace(caps, `{ turn = "50°" }`, `{ turn = "45..55°", wait = "4m", check = "Does the crank turn freely?" }`, 1)
	start := []string{"-start", "no"}
	begun := []string{"-done", "-notmoved", "-partway", "-slipped", "-toofar", "-wrongbolt", "-wrongstep"}
	unread := without(t, `rear = "0.025..0.038 mm"`, `rear = "?"`)
	held := without(t, `new = "all"`, "new = [\"FR\", \"RL\", \"RR\"]\nsound = [\"FL\"]")
	checked := without(t, `{ torque = "9 N·m" }, { turn`, `{ torque = "9 N·m", check = "Does the crank turn freely?" }, { turn`)
	for k, tt := range []struct {
		name string
		plan string
		job  []string   // options of a job
		acts [][]string // before
		does int        // then steps that are done
		then func(b *bench, act func(...string))
		exit int
		want []string // the calls that may follow
		says []string // in the text
	}{
		{name: "not started", plan: caps, exit: notAllowed, want: []string{"-start"}, says: []string{"STOP. ", "0 of 8 steps done"}},
		{name: "free", plan: caps, acts: [][]string{start}, want: []string{"-begin", "-tool"}, says: []string{"1. FL: tighten to 9 N·m\npending; cap bolts, stage 1\ndo not pull before -begin 1 is recorded\n  -begin 1: record that step 1 begins now, before the wrench moves\n"}},
		{name: "free, with a tool", plan: caps, acts: [][]string{start, {"-tool", "wrench 2", "-set", "9 N·m", "-certificate", "C-114"}}, does: 1, want: []string{"-begin"}, says: []string{"tool: wrench 2\nit is set to 9 N·m\nits certificate: C-114\n", "last: 1. FL: tighten to 9 N·m; done"}},
		{name: "begun", plan: caps, acts: [][]string{start}, does: 4, then: func(_ *bench, act func(...string)) { act("-begin", "5") }, want: begun, says: []string{"5. FL: mark it, then turn 50° further\nbegun; cap bolts, stage 2\n", `  -wrongbolt "5: BOLT": `, "if nobody knows, -partway 5"}},
		{name: "limits", plan: pauses, acts: [][]string{start}, does: 4, want: []string{"-begin", "-tool"}, says: []string{"turn 50° further (45° to 55°)"}},
		{name: "a wait, free", plan: pauses, acts: [][]string{start}, does: 8, want: []string{"-begin"}, says: []string{"record that it begins"}},
		{name: "waiting", plan: pauses, acts: [][]string{start}, does: 8, then: func(_ *bench, act func(...string)) { act("-begin", "9") }, want: []string{"-done", "-skipped"}, says: []string{"it is over at "}},
		{name: "a check, begun", plan: pauses, acts: [][]string{start}, does: 8, then: func(_ *bench, act func(...string)) {
			act("-begin", "9")
			act("-skipped", "9")
			act("-begin", "10")
		}, want: []string{"-done", "-no"}, says: []string{"1 skipped", "Does the crank turn freely?", "record whether it is so"}},
		{name: "answered no", plan: pauses, acts: [][]string{start}, does: 8, then: func(_ *bench, act func(...string)) {
			act("-begin", "9")
			act("-skipped", "9")
			act("-begin", "10")
			act("-no", "10")
		}, exit: notAllowed, want: []string{"-begin"}, says: []string{"STOP. it was answered no"}},
		{name: "scrap", plan: caps, acts: [][]string{start}, does: 4, then: func(_ *bench, act func(...string)) { act("-begin", "5"); act("-partway", "5") }, exit: notAllowed, want: []string{"-replaced"}, says: []string{"STOP. FL: Step 5"}},
		{name: "its partner", plan: caps, acts: [][]string{start}, does: 4, then: func(_ *bench, act func(...string)) {
			act("-begin", "5")
			act("-partway", "5")
			act("-replaced", "FL")
		}, exit: notAllowed, want: []string{"-loosened", "-replaced", "-kept"}, says: []string{"STOP. FR: ", `  -kept "FR: NAME: REASON": `}},
		{name: "slipped", plan: caps, acts: [][]string{start, {"-begin", "1"}, {"-slipped", "1"}}, exit: notAllowed, want: []string{"-tool"}, says: []string{"STOP. ", "The tool slipped"}},
		{name: "turned before", plan: caps, acts: [][]string{{"-start", "rr"}}, exit: notAllowed, want: []string{"-replaced"}, says: []string{"STOP. RR: "}},
		{name: "what did not fit", plan: caps, acts: [][]string{start, {"-begin", "1"}, {"-done", "1", "-torque", "14 N·m"}}, want: []string{"-begin", "-tool", "-settled"}, says: []string{"STOP. 14.0 N·m is more than"}},
		{name: "done", plan: caps, acts: [][]string{start}, does: 8, says: []string{"8 of 8 steps done\nfinished\n"}},
		{name: "another plan", plan: caps, acts: [][]string{start}, does: 1, then: func(b *bench, _ func(...string)) { b.write(strings.Replace(caps, "mill pump, caps", "mill pump", 1)) }, exit: notAllowed, want: []string{"-revise"}, says: []string{"STOP. "}},
		{name: "another plan while a step is begun", plan: caps, acts: [][]string{start, {"-begin", "1"}}, then: func(b *bench, _ func(...string)) { b.write(strings.Replace(caps, "mill pump, caps", "mill pump", 1)) }, exit: notAllowed, want: append(slices.Clone(begun), "-revise"), says: []string{"to be ended first: 1. FL: tighten to 9 N·m\n", "if nobody knows, -partway 1"}},
		{name: "no witness", plan: caps, acts: [][]string{start}, does: 1, then: func(b *bench, _ func(...string)) { os.RemoveAll(b.witness) }, exit: notAllowed, want: []string{"-takeover"}, says: []string{"STOP. "}},
		{name: "taken over", plan: caps, acts: [][]string{start}, does: 1, then: func(b *bench, act func(...string)) {
			os.RemoveAll(b.witness)
			act("-takeover", "me: the disk was lost")
			for _, bolt := range []string{"FL", "FR", "RL", "RR"} {
				act("-replaced", bolt)
			}
		}, want: []string{"-begin", "-tool"}, says: []string{"last: "}},
		{name: "refused: a ledger that is not one", plan: caps, acts: [][]string{start}, does: 1, then: func(b *bench, _ func(...string)) { os.WriteFile(b.ledger(), []byte("milk\n"), 0o600) }, exit: notAllowed, want: []string{"-takeover"}, says: []string{"STOP. "}},

		{name: "not started, gate shut", plan: unread, job: []string{"-job"}, exit: notAllowed, want: []string{"-start", "-against"}, says: []string{"the gate is shut. Not proven: 1; proven: 13.", "it stands beside -start"}},
		{name: "gate open", plan: proven, job: []string{"-job"}, acts: [][]string{start}, want: []string{"-begin", "-tool"}, says: []string{"1. FL: "}},
		{name: "gate shut", plan: proven, job: []string{"-job"}, acts: [][]string{start}, then: func(b *bench, _ func(...string)) { b.write(unread) }, exit: notAllowed, want: []string{"-against"}, says: []string{"STOP. final assembly: the gate is shut"}},
		{name: "answered no, gate shut", plan: checked, job: []string{"-job"}, acts: [][]string{start}, does: 4, then: func(b *bench, act func(...string)) {
			act("-begin", "5")
			act("-no", "5")
			b.write(strings.Replace(checked, `rear = "0.025..0.038 mm"`, `rear = "?"`, 1))
		}, exit: notAllowed, want: []string{"-against"}, says: []string{"STOP. it was answered no", "the gate is shut"}},
		{name: "gone on against it", plan: unread, job: []string{"-job"}, acts: [][]string{{"-start", "no", "-against", "the builder: read tomorrow"}}, want: []string{"-begin", "-tool"}, says: []string{"! the gate is shut; the builder goes on against it: read tomorrow\n"}},
		{name: "a bolt is held", plan: held, job: []string{"-job"}, acts: [][]string{start}, exit: notAllowed, want: []string{"-replaced", "-against"}, says: []string{"FL is held", "  -replaced FL: "}},
		{name: "a bolt of a later step keeps the gate shut", plan: without(t, `sound = ["a", "b"]`, `sound = ["b"]`), job: []string{"-job"}, acts: [][]string{start}, exit: notAllowed, want: []string{"-replaced", "-against"}, says: []string{"rod bolts a: ", "  -replaced BOLT: "}},
		{name: "trial done", plan: proven, job: []string{"-job", "-phase", "trial"}, acts: [][]string{start}, does: 4, says: []string{"finished\n", "take everything off again"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			reached := func() *bench {
				b := newBench(t, tt.plan)
				b.options = append(b.options, tt.job...)
				act := func(args ...string) {
					if _, said := b.status(args...); !strings.Contains(said, "recorded: ") && !strings.Contains(said, "started: ") && !strings.Contains(said, "takes over") {
						if _, err := os.Stat(b.ledger()); args[0] != "-start" || err != nil {
							t.Errorf("%q: %s", args, said)
						}
					}
				}
				for _, args := range tt.acts {
					act(args...)
				}
				for n := 1; n <= tt.does; n++ {
					b.does(n)
				}
				if tt.then != nil {
					tt.then(b, act)
				}
				return b
			}
			n, text := reached().whole(tt.exit)
			has(t, text, tt.says...)
			if n.Finished != strings.Contains(text, "\nfinished\n") || (n.Stop != "") != (tt.exit == notAllowed) {
				t.Errorf("finished %v, stop %q\n%s", n.Finished, n.Stop, text)
			}
			var flags []string
			for i, c := range n.Record {
				flags = append(flags, c.Flag)
				if c.Means == "" || c.Value == "" || strings.Contains(c.Means+c.Value, "`") {
					t.Errorf("%+v does not say what it means", c)
				}
				first := n.Record[0].Flag == "-done" && tt.exit == notAllowed && c.Flag == "-revise" // once the step is ended
				if args := c.filled(); args != nil && !first && (k+i)%thorough.Every(4) == 0 {
					if status, said := reached().status(args...); status == badInput || !strings.Contains(said, "recorded: ") && !strings.Contains(said, "started: ") && !strings.Contains(said, "need a choice") {
						t.Errorf("%q is offered and not taken: status %d\n%s", args, status, said)
					}
				}
			}
			if !slices.Equal(flags, tt.want) {
				t.Errorf("calls %q, want %q", flags, tt.want)
			}
		})
	}
}

// filled is a follow-up call with something put in for its words in capitals; nil for what the clock
// does not let end, or stands beside another.
func (c followUp) filled() []string {
	if strings.Contains(c.Means, "beside") || c.Flag == "-done" && c.Value == "9" {
		return nil
	}
	value := strings.NewReplacer("NAME: REASON", "me: page 12", "BOLT, BOLT", "no", "BOLT", "RR", "ID", "7", "NAME", "wrench 2").Replace(c.Value)
	return []string{c.Flag, value}
}

// status runs the program within the test, and returns its status and all that it says.
func (b *bench) status(act ...string) (status int, said string) {
	var out, errs bytes.Buffer
	status = run(b.args(act...), strings.NewReader(""), &out, &errs)
	return status, out.String() + errs.String()
}

// TestKeysInHelp: -help says of each key of the JSON what it means.
func TestKeysInHelp(t *testing.T) {
	_, help := call(t, done, "-help")
	_, listed, _ := strings.Cut(help, "by key:\n")
	begun := newBench(t, caps)
	begun.call(done, "-start", "no")
	begun.call(done, "-begin", "1")
	held := jobBench(t, without(t, `new = "all"`, "new = [\"FR\", \"RL\", \"RR\"]\nsound = [\"FL\"]"))
	held.call(done, "-start", "no")
	for _, b := range []*bench{begun, held} {
		_, form := b.status("-next", "-format", "json")
		var keys map[string]any
		if err := json.NewDecoder(strings.NewReader(form)).Decode(&keys); err != nil {
			t.Fatal(err)
		}
		for key := range keys {
			_, means, there := strings.Cut("\n"+listed, "\n  "+key+"\n    \t")
			if line, _, _ := strings.Cut(means, "\n"); !there || line == "" {
				t.Errorf("-help does not say what %q means", key)
			}
		}
	}
}
