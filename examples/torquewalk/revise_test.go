package main

import (
	"strings"
	"testing"
)

// TestReviseTitle: a plan with another title is another plan; once it is laid against the ledger,
// all that was done stands.
func TestReviseTitle(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4, 5)
	b.write(strings.Replace(caps, "mill pump, caps", "mill pump, main caps", 1))
	out, errs := b.call(notAllowed, "-next")
	has(t, out+errs, "ledger of another plan", `-revise "NAME: REASON"`, "no do not pull before")
	if n := b.next(notAllowed); n.Step != 0 || *n.Done != 5 {
		t.Errorf("%+v", n)
	}
	_, errs = b.call(notAllowed, "-begin", "6")
	has(t, errs, `-revise "NAME: REASON"`)
	_, errs = b.call(notAllowed) // at the terminal
	has(t, errs, "ledger of another plan", `-revise "NAME: REASON"`)
	out, _ = b.call(done, "-revise", "the builder: the title had a slip")
	has(t, out, "the builder revises the plan; 0 bolts differ", "next: 6. FR")
	b.does(6)
	history, _ := b.call(done, "-history")
	has(t, history, "revised     mill pump, main caps (plan ", "the builder: the title had a slip", "plan        mill pump, caps (plan ")
	b.write(caps)
	b.call(notAllowed, "-begin", "7")
}

// TestReviseTorque: bolts whose pulls differ are listed with what can be done, and nothing is
// recorded before there is a choice for each.
func TestReviseTorque(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2)
	before, _ := b.call(done, "-history")
	b.write(strings.Replace(caps, "9 N·m", "11 N·m", 1))
	out, errs := b.call(notAllowed, "-revise", "the builder: page 12 says 11")
	has(t, out, "FL\n  was given: tighten to 9 N·m\n  is to get: tighten to 11 N·m", "\nFR\n", "no RL", "choose: leave, finish, back off, replace")
	has(t, errs, "nothing is recorded", "2 of 2 bolts")
	_, errs = b.call(notAllowed, "-revise", "the builder: page 12 says 11", "-choose", "FL: finish")
	has(t, errs, "1 of 2 bolts")
	_, errs = b.call(notAllowed, "-revise", "the builder: page 12 says 11", "-choose", "FL: finish", "-choose", "FR: leave", "-choose", "RL: leave")
	has(t, errs, "RL")
	_, errs = b.call(notAllowed, "-revise", "the builder: page 12 says 11", "-choose", "FL: finish", "-choose", "FR: leave", "-choose", "RX: leave")
	has(t, errs, "RX")
	if after, _ := b.call(notAllowed, "-next"); !strings.Contains(after, "2 of 8 steps done") {
		t.Error(after)
	}
	if after, _ := b.call(done, "-history"); after != before {
		t.Errorf("something was recorded:\n%s", after)
	}
	out, _ = b.call(done, "-revise", "the builder: page 12 says 11", "-choose", "fl: finish", "-choose", "FR: leave")
	has(t, out, "2 bolts differ", "next: 1. FL: tighten to 11 N·m")
	b.does(1)
	if n := b.next(done); n.Step != 3 || *n.Done != 2 {
		t.Errorf("FR was left as it is, and next is %+v", n)
	}
	history, _ := b.call(done, "-history")
	has(t, history, "done        1. FL: tighten to 9 N·m\n", "done        1. FL: tighten to 11 N·m\n", "FL: finish; FR: leave; the builder: page 12 says 11")
}

// TestReviseTurn: a bolt that was turned, and is used once, is not turned again by a corrected plan.
func TestReviseTurn(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.does(1, 2, 3, 4, 5)
	b.write(strings.Replace(caps, "50°", "70°", 1))
	out, _ := b.call(notAllowed, "-revise", "the builder: page 12 says 70")
	has(t, out, "FL\n  was given: ", "choose: leave, replace", "no finish", "no back off")
	_, errs := b.call(notAllowed, "-revise", "the builder: page 12 says 70", "-choose", "FL: finish")
	has(t, errs, "FL")
	b.call(notAllowed, "-begin", "5")
	out, _ = b.call(done, "-revise", "the builder: page 12 says 70, and FL is good with 50", "-choose", "FL: leave")
	has(t, out, "next: 6. FR: mark it, then turn 70° further")
	_, errs = b.call(notAllowed, "-begin", "5")
	has(t, errs, "done already")
}

// TestReviseWhileBegun: a step that is begun is ended first, by the plan that it was begun with.
func TestReviseWhileBegun(t *testing.T) {
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.call(done, "-begin", "1")
	b.write(strings.Replace(caps, "mill pump, caps", "mill pump, main caps", 1))
	_, errs := b.call(notAllowed, "-revise", "the builder: the title had a slip")
	has(t, errs, "begun")
}

// TestReviseAJob: the gate asks for the plan that the ledger has, and goes on once it is revised.
func TestReviseAJob(t *testing.T) {
	b := jobBench(t, proven)
	b.call(done, "-start", "no")
	b.does(1)
	b.write(without(t, `{ turn = "50°" }`, `{ turn = "60°" }`))
	_, errs := b.call(notAllowed, "-begin", "2")
	has(t, errs, "-revise")
	b.call(done, "-revise", "the builder: page 12 says 60")
	b.does(2)
}
