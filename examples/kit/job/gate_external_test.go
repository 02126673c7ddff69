package job_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// drawSpoilt draws a job and takes something away from it, or adds what somebody says.
func drawSpoilt(t *rapid.T) string {
	g := jobtest.Draw(t)
	for range rapid.IntRange(0, 2).Draw(t, "taken away") {
		at := rapid.IntRange(1, len(g.Lines)-1).Draw(t, "line")
		g.Lines = slices.Delete(g.Lines, at, at+1)
	}
	src := g.String()
	if rapid.Bool().Draw(t, "used once") {
		src = strings.Replace(src, "single_use = false", "single_use = true", 1)
	}
	if rapid.Bool().Draw(t, "scrap") {
		src = strings.Replace(src, `new = ["1a", `, "scrap = [\"1a\"]\nnew = [", 1)
	}
	if rapid.Bool().Draw(t, "blocked") {
		src = strings.Replace(src, `"clean"`, `"blocked"`, 1)
	}
	if rapid.Bool().Draw(t, "accepted") {
		what := rapid.SampledFrom([]string{"passage", "rod bolts", "rod bolts 1a", "main bearing clearance", "crankshaft end play"}).Draw(t, "what")
		src += fmt.Sprintf("[[accepted]]\nwhat = %q\nby = \"the builder\"\nreason = \"as drawn\"\n", what)
	}
	return src
}

// homeOf is where a ledger is kept for a test, empty, and what it belongs to.
func homeOf(t interface{ Fatal(...any) }, folder string) (ledger.Home, ledger.Work) {
	home := ledger.Home{Path: filepath.Join(folder, "ledgers", "engine.ledger"), Witness: filepath.Join(folder, "witnesses")}
	for _, at := range []string{filepath.Dir(home.Path), home.Witness} {
		if err := errors.Join(os.RemoveAll(at), os.MkdirAll(at, 0o755)); err != nil {
			t.Fatal(err)
		}
	}
	return home, ledger.Work{Engine: "engine 1", Build: "as drawn", Assembly: job.Final.String()}
}

// TestWalkAgreesWithTheRecord: whatever is typed at the terminal, no step is begun that the
// record of the job holds, unless a new bolt was recorded in the place of the held one; and none
// while the record's gate is shut by anything but bolts replaced since, unless somebody went on
// against it. Where the record holds nothing, Return begins the first pull.
func TestWalkAgreesWithTheRecord(t *testing.T) {
	folder := t.TempDir()
	tried, refused, against, begun, replaced := 0, 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		src := drawSpoilt(t)
		tried++
		j, err := job.Read("job.toml", []byte(src))
		if err != nil || j.Plan() == nil {
			refused++
			return
		}
		record, err := j.Assess(t.Context())
		if err != nil {
			refused++
			return
		}
		home, work := homeOf(t, folder)
		l, err := ledger.Start(home, work, j.Plan(), []string{})
		if err != nil {
			t.Fatal(err)
		}
		if err := l.Close(); err != nil {
			t.Fatal(err)
		}
		typed := []string{""}
		for range rapid.IntRange(3, 12).Draw(t, "lines") {
			typed = append(typed, rapid.SampledFrom([]string{"", "", "", "d", "d", "y", "r 1a", "r 1b", "r", "against the builder: as drawn", "0", "p"}).Draw(t, "typed"))
		}
		gate := walk.Gate{Phase: job.Final, Read: func() (*job.Job, error) { return j, nil }} // which asking leaves as it is
		var shown strings.Builder
		_, err = walk.Session{Home: home, Work: work, Plan: j.Plan(), In: strings.NewReader(strings.Join(typed, "\n") + "\n"), Out: &shown, Gate: &gate}.Run()
		if err != nil {
			t.Fatal(err)
		}
		_, entries, err := ledger.Read(home, work)
		if err != nil {
			t.Fatal(err)
		}
		fresh := map[string]bool{}
		wentOn, open := false, true
		for _, i := range record.Gate(job.Final).Shut {
			open = open && i.Bolt != ""
		}
		for _, e := range entries {
			switch e.What {
			case "replaced":
				fresh[e.Bolt] = true
				replaced++
			case "note":
				if strings.Contains(e.Detail, `"by":"the builder","reason":"as drawn"}}`) {
					wentOn = true
					against++
				}
			case "begin":
				begun++
				if hold := record.Plan[e.Step-1].Hold; hold != "" && !fresh[e.Bolt] {
					t.Fatalf("step %d is begun, and the record says: %s\n%s", e.Step, hold, src)
				}
				shut := !open
				for _, i := range record.Gate(job.Final).Shut {
					shut = shut || i.Bolt != "" && !fresh[i.Bolt]
				}
				if shut && !wentOn {
					t.Fatalf("step %d is begun while the gate is shut\n%s", e.Step, src)
				}
			}
		}
		first, _ := j.Plan().Step(1)
		if record.Gate(job.Final).Open && slices.Equal(typed[:4], make([]string, 4)) && !first.IsPause() && !slices.ContainsFunc(entries, func(e ledger.Entry) bool { return e.What == "begin" }) {
			t.Fatalf("the gate is open, and nothing is offered\n%s", &shown)
		}
		// What -next asks, of every step: none that is held, none before an open gate, without a ledger.
		for _, s := range j.Plan().Steps() {
			a, err := gate.Ask(nil, s)
			if err != nil {
				t.Fatal(err)
			}
			if want := record.Gate(job.Final).Open && record.Plan[s.Number-1].Hold == ""; a.Passes() != want || (a.Why(s) == "") != want {
				t.Fatalf("step %d passes: %v, want %v\n%s", s.Number, a.Passes(), want, src)
			}
		}
	})
	t.Logf("%d jobs, %d of them refused; %d steps begun, %d bolts replaced, %d times against the gate", tried, refused, begun, replaced, against)
	if thorough.Whole() && (begun == 0 || against == 0 || replaced == 0) {
		t.Error("nothing of that happened")
	}
}

// TestDemonstrationsHold: of each demonstration, the steps that its record holds are those that
// the gate does not let begin even where somebody went on against it.
func TestDemonstrationsHold(t *testing.T) {
	for _, name := range job.Demonstrations() {
		src, err := job.Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		j := read(t, string(src))
		gate := walk.Gate{Read: func() (*job.Job, error) { return j, nil }}
		record := assess(t, string(src))
		for phase, plan := range map[job.Phase]*torque.Plan{job.Trial: j.Trial(), job.Final: j.Plan()} {
			if plan == nil {
				continue
			}
			gate.Phase = phase
			home, work := homeOf(t, t.TempDir())
			l, err := ledger.Start(home, work, plan, []string{})
			if err != nil {
				t.Fatal(err)
			}
			if a, err := gate.Ask(l, torque.Step{}); err != nil {
				t.Fatal(err)
			} else if !a.Gate.Open {
				if err := a.GoAgainst(l, ledger.Word{By: "the builder", Reason: "for a test"}); err != nil {
					t.Fatal(err)
				}
			}
			for _, s := range record.Steps(phase) {
				step, _ := plan.Step(s.Number)
				a, err := gate.Ask(l, step)
				if err != nil {
					t.Fatal(err)
				}
				if a.Passes() != (s.Hold == "") || a.Hold != s.Hold {
					t.Errorf("%s, %s, step %d: passes %v, %q; the record: %q", name, phase, s.Number, a.Passes(), a.Hold, s.Hold)
				}
			}
			l.Close()
		}
	}
}
