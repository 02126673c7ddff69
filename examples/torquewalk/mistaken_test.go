package main

import (
	"os"
	"strings"
	"testing"
)

// TestOptionsSaidWrongly: an option that is empty, as a script's unset name makes it, or given twice, or
// given a value that it does not take, is never taken for one that was not given.
func TestOptionsSaidWrongly(t *testing.T) {
	b := newBench(t, caps)
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"-ledger", "", "-start", "no"}, "-ledger is given without a value"},
		{[]string{"-ledger", b.folder + "/x", "-ledger", b.ledger(), "-start", "no"}, "-ledger is given twice"},
		{[]string{"-witness", b.folder, "-start", "no"}, "-witness is given twice"},
		{[]string{"-phase", "trial", "-phase", "final", "-next"}, "-phase is given twice"},
		{[]string{"-phase", "", "-next"}, "-phase is given without a value"},
		{[]string{"-format", "json", "-format", "text", "-next"}, "-format is given twice"},
		{[]string{"-format", "", "-next"}, "-format is given without a value"},
		{[]string{"-drawings", ""}, "-drawings is given without a value"},
		{[]string{"-begin", " "}, "-begin is given without a value"},
		{[]string{"-start", ""}, "-start is given without a value"},
		{[]string{"-next=false"}, "it takes no value"},
		{[]string{"-history=false"}, "it takes no value"},
	} {
		_, errs := b.call(badInput, tt.args...)
		has(t, errs, tt.says)
	}
	_, errs := call(t, badInput, "-witness", "", "-start", "no", b.plan)
	has(t, errs, "-witness is given without a value")
	if _, err := os.Stat(b.ledger()); err == nil {
		t.Error("a ledger was started")
	}
}

// TestPlanIsNoLedger: the plan's own file, by whatever name, is not taken over as its ledger.
func TestPlanIsNoLedger(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	link := b.folder + "/link"
	if err := os.Symlink(b.plan, link); err != nil {
		t.Skip(err)
	}
	for _, path := range []string{b.plan, link} {
		for _, act := range [][]string{{"-next"}, {"-start", "no"}, {"-takeover", "me: it is there"}} {
			_, errs := b.call(badInput, append([]string{"-ledger", path}, act...)...)
			has(t, errs, "is the file of the plan itself", "name another")
		}
	}
	if text, err := os.ReadFile(b.plan); err != nil || string(text) != caps {
		t.Errorf("%v: the plan was changed:\n%s", err, text)
	}
}

// TestTakeOverWithCorrectedPlan: where the plan was corrected and the witness is gone too, what is there
// can be taken over, and then revised; and the bolts that may have been turned are named by the plan
// that they were turned by.
func TestTakeOverWithCorrectedPlan(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4, 5)                                                                            // 5 is the turn of FL
	b.write(strings.Replace(caps, `{ turn = "50°" }`, `{ torque = "12 N·m" }, { turn = "50°" }`, 1)) // and now a torque
	if err := os.RemoveAll(b.witness); err != nil {
		t.Fatal(err)
	}
	_, errs := b.call(notAllowed, "-begin", "6")
	has(t, errs, "ledger no longer knows", "bolts that may have been turned: FL", "-takeover")
	_, errs = b.call(notAllowed, "-revise", "me: page 12")
	has(t, errs, "ledger no longer knows", "-takeover")
	out, errs := b.call(notAllowed, "-takeover", "me: the disk was changed")
	has(t, out, "recorded: me takes over")
	has(t, errs, "ledger of another plan", "-revise")
	_, errs = b.call(notAllowed, "-begin", "5")
	has(t, errs, "ledger of another plan")
	out, _ = b.call(notAllowed, "-revise", "me: page 12")
	has(t, out, "FL\n  was given: tighten to 9 N·m, turn 50° further")
}

// TestPlanCorrectedInAPull: a plan that is edited while a step is begun is no dead end: how the step ended
// can be said, by the plan that it was begun by, and nothing else before the plan is revised.
func TestPlanCorrectedInAPull(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4)
	b.call(done, "-begin", "5")
	b.write(strings.Replace(caps, "50°", "70°", 1))
	_, errs := b.call(notAllowed, "-revise", "me: page 12")
	has(t, errs, "step 5")
	_, errs = b.call(notAllowed, "-begin", "5")
	has(t, errs, "ledger of another plan")
	_, errs = b.call(notAllowed, "-done", "4")
	has(t, errs, "ledger of another plan")
	_, errs = b.call(notAllowed, "-toosoon", "4: not moved")
	has(t, errs, "ledger of another plan")
	out, errs := b.call(notAllowed, "-done", "5", "-angle", "60°") // too far for 50°, short of 70°
	has(t, out, "by the plan of the ledger: 5. FL: mark it, then turn 50° further", "recorded: done 5", "60.0 ° is more than 48.0..52.0 °")
	has(t, errs, "ledger of another plan", "-revise")
	out, _ = b.call(notAllowed, "-revise", "me: page 12")
	has(t, out, "FL\n  was given: tighten to 9 N·m, turn 50° further")
}

// TestReviseSaysWhatAChoiceDoes: each choice says which pulls count as done; and a bolt by a new name does
// not count as turned where no bolt that is gone was.
func TestReviseSaysWhatAChoiceDoes(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4, 5)
	b.write(strings.Replace(strings.Replace(caps, `"FR"`, `"front right"`, 1), "50°", "55°", 1))
	out, _ := b.call(notAllowed, "-revise", "me: page 12")
	has(t, out,
		"FL\n  was given: tighten to 9 N·m, turn 50° further\n", "choose: leave, replace\n    leave: what it was given stands: of its new pulls, the first 2 count as done and are not given\n    replace: a new bolt is fitted; its new pulls begin",
		"FR\n  was given: tighten to 9 N·m\n  is to get: nothing\n  choose: leave, back off, replace\n    leave: nothing is done to it\n",
		"front right\n  was given: nothing\n  is to get: tighten to 9 N·m, turn 55° further\n  choose: back off, replace\n    back off: it was backed off until it turns freely; its new pulls begin")
	_, errs := b.call(notAllowed, "-revise", "me: page 12", "-choose", "FL: leave", "-choose", "FR: leave", "-choose", "front right: leave")
	has(t, errs, "front right", "not possible")
	_, errs = b.call(badInput, "-revise", "me: page 12", "-choose", "FL: keep")
	has(t, errs, `"keep" is no choice for bolt "FL"; write "BOLT: CHOICE", and as the choice leave, finish, back off or replace`, "no exchange form")
	_, errs = b.call(badInput, "-revise", "me")
	has(t, errs, `-revise: it does not say who and why: "me"; write "NAME: REASON"`)
}

// TestDoubtNamesItsBolt: a step that another bolt's trouble holds says which bolt it is.
func TestDoubtNamesItsBolt(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4)
	b.call(done, "-begin", "5")
	b.call(notAllowed, "-wrongbolt", "5: RR")
	_, errs := b.call(notAllowed, "-begin", "5")
	has(t, errs, "bolt in doubt: RR: ")
	out, _ := b.call(notAllowed, "-next")
	has(t, out, `STOP. RR: `, "\n  -replaced RR: record that a new RR is fitted\n", "no -loosened")
	b.call(notAllowed, "-replaced", "RR")
	out, _ = b.call(notAllowed, "-next")
	has(t, out, "\n  -loosened RL: ", "\n  -replaced RL: ", "\n  -kept \"RL: NAME: REASON\": ")
	b.call(done, "-kept", "RL: the builder: page 12")
	b.call(done, "-begin", "4")
	_, errs = b.call(notAllowed, "-slipped", "4")
	has(t, errs, "The tool slipped", "-tool NAME: ")
}

// TestMisfitStops: a pull that is not what the plan asks stops the work, and is said again, whatever else is
// recorded, until its bolt is replaced.
func TestMisfitStops(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.call(done, "-begin", "1")
	out, errs := b.call(notAllowed, "-done", "1", "-torque", "14 N·m")
	has(t, out, "recorded: done 1", "STOP. 14.0 N·m is more than 8.4..9.6 N·m")
	has(t, errs, "does not fit")
	out, _ = b.call(done, "-next")
	has(t, out, "STOP. 14.0 N·m is more than 8.4..9.6 N·m")
	b.does(2)
	out, _ = b.call(done, "-next")
	has(t, out, "last: 2. FR: tighten to 9 N·m; done", "step 1: STOP. 14.0 N·m is more than 8.4..9.6 N·m")
	b.call(notAllowed, "-replaced", "FL") // for FR, under the same cap
	out, _ = b.call(notAllowed, "-next")
	has(t, out, "last: FL; replaced", "no 14.0 N·m")
}

// TestMisfitSettled: what did not fit is said until somebody settles it, which -next offers, and is once.
func TestMisfitSettled(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.call(done, "-begin", "1")
	b.call(notAllowed, "-done", "1", "-torque", "14 N·m")
	out, _ := b.call(done, "-next")
	has(t, out, "step 1: STOP. ", "\n  -settled 1: record that it is known why what step 1 reached does not fit its bolt or the plan, and the bolt is good\n")
	b.call(notAllowed, "-settled", "2")
	b.call(done, "-settled", "1")
	out, _ = b.call(done, "-next")
	has(t, out, "no STOP.", "no -settled")
	out, _ = b.call(done, "-history")
	has(t, out, "step 1: it is known why, and the bolt is good")
	b.call(notAllowed, "-settled", "1")
}

// TestToolSetWrong: a tool that is recorded as set to another torque than the next pull is said before it,
// and when it is begun; one whose setting fits, or that nobody set, is not.
func TestToolSetWrong(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	const wrong = "wrench 2 is recorded as set to 9 ft·lb, and step 1 is: tighten to 9 N·m. Set it to that, and record the tool again"
	out, _ := b.call(done, "-tool", "wrench 2", "-set", "9 ft·lb")
	has(t, out, wrong)
	n, out := b.whole(done)
	has(t, out, wrong, "  -tool NAME: ")
	has(t, n.Now, "do not pull before -begin 1 is recorded", wrong)
	out, _ = b.call(done, "-begin", "1")
	has(t, out, wrong, "BEGUN: 1. FL")
	out, _ = b.call(done, "-tool", "wrench 2", "-set", "80 in·lb") // 9.04 N·m
	has(t, out, "no is recorded as set to")
	out, _ = b.call(done, "-next")
	has(t, out, "no is recorded as set to")
	b.call(done, "-tool", "wrench 2")
	out, _ = b.call(done, "-next")
	has(t, out, "no is recorded as set to")
}
