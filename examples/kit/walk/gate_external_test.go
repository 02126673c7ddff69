package walk_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// bare is a job of which nothing is measured.
func bare(cylinders int) string {
	return fmt.Sprintf(`title = "bare"
[engine]
cylinders = %d
mains = 5
thrust = "3"
rings = ["top", "second"]
passages = ["gallery"]
[[tightening]]
group = "studs"
bolts = ["a", "b"]
stages = [{ torque = "9 N·m" }]
`, cylinders)
}

// ask asks the gate of a job before its first step, with a ledger of its own.
func ask(t *testing.T, src string) (walk.Answer, *ledger.Ledger) {
	t.Helper()
	gate := walk.Gate{Phase: job.Final, Read: func() (*job.Job, error) { return job.Read("job.toml", []byte(src)) }}
	j, err := gate.Read()
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Start(ledger.Home{Path: filepath.Join(t.TempDir(), "ledger"), Witness: t.TempDir()}, ledger.Work{Engine: "bare engine 1", Build: "first"}, j.Plan(), []string{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	first, _ := j.Plan().Step(1)
	a, err := gate.Ask(l, first)
	if err != nil {
		t.Fatal(err)
	}
	return a, l
}

// TestTooMuchToGoAgainst: nobody has weighed hundreds of unknown things. Of the 25 that keep
// a gate of four cylinders shut (passage, 5 mains, and of each cylinder rod bearing, side play
// and two gaps; end play; two studs), twenty are listed, and the rest counted.
func TestTooMuchToGoAgainst(t *testing.T) {
	word := ledger.Word{By: "the builder", Reason: "as drawn"}
	a, l := ask(t, bare(64))
	if err := a.GoAgainst(l, word); !errors.Is(err, walk.ErrShut) || len(l.Notes()) != 1 { // what Start was told
		t.Errorf("%v, %q", err, l.Notes())
	}
	a, l = ask(t, bare(4))
	first, _ := a.Plan.Step(1)
	if want := 1 + 5 + 4*4 + 1 + 2; len(a.Gate.Shut) != want || !strings.Contains(a.Why(first), fmt.Sprintf("and %d more", want-20)) {
		t.Errorf("%d\n%s", len(a.Gate.Shut), a.Why(first))
	}
	if err := a.GoAgainst(l, word); err != nil {
		t.Fatal(err)
	}
	note := func(text string) string {
		_, said, _ := strings.Cut(walk.History([]ledger.Entry{{What: "note", Detail: text}})[0], "note        ")
		return said
	}
	if said := note(l.Notes()[1]); !strings.Contains(said, "second 4 end gap: not measured") || !strings.HasSuffix(said, "went on against it, the builder: as drawn") {
		t.Error(said)
	}
	if said := note("something else"); said != "something else" {
		t.Error(said)
	}
}

// TestNoteTooLong: what does not fit into the ledger is refused, and no step is begun on it.
func TestNoteTooLong(t *testing.T) {
	a, l := ask(t, bare(4)+"[[accepted]]\nwhat = \"top end gap\"\nby = \"the builder\"\nreason = \""+strings.Repeat("x", 40_000)+"\"\n")
	if err := a.Record(l); !errors.Is(err, ledger.ErrRefused) || !strings.Contains(err.Error(), "write at most 32768") {
		t.Error(err)
	}
}

// TestNoPlan: a job without the plan of a phase has no walk.
func TestNoPlan(t *testing.T) {
	j, err := job.Read("job.toml", []byte(bare(1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := walk.PlanOf(j, job.Trial); !errors.Is(err, walk.ErrNoPlan) || !strings.Contains(err.Error(), "[[trial]]") {
		t.Error(err)
	}
	var plan *torque.Plan
	if plan, _, err = walk.PlanOf(j, job.Final); err != nil || len(plan.Steps()) != 2 {
		t.Error(err)
	}
}
