package ledger

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// waitPlan has a wait of five minutes as its second step.
func waitPlan(t *testing.T) *torque.Plan {
	t.Helper()
	pull := torque.Do(torque.Tighten{To: units.MustParseTorque("9 N·m")})
	plan, err := torque.NewPlan("gasket", torque.Group{Name: "cover", Pattern: torque.Row("a"),
		Stages: []torque.Stage{{Pull: pull, Then: []torque.Action{torque.Do(torque.Wait{For: 5 * time.Minute})}}, {Pull: pull}}})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// clock is a clock that tests set.
type clock struct{ now time.Time }

func (c *clock) at(l *Ledger) *Ledger {
	l.now = func() time.Time { return c.now }
	return l
}

// TestWaitTakesItsTime: within one program it is over after five minutes to the moment.
func TestWaitTakesItsTime(t *testing.T) {
	start := time.Date(2026, 3, 1, 10, 0, 0, 900e6, time.UTC)
	c := &clock{start}
	l := c.at(openTest(t, filepath.Join(t.TempDir(), "ledger"), waitPlan(t)))
	c.at(l)
	do(t, l, 1)
	if err := l.Begin(2); err != nil {
		t.Fatal(err)
	}
	if over, ok := l.WaitOver(); !ok || !over.Equal(start.Add(5*time.Minute)) {
		t.Errorf("over at %v %v", over, ok)
	}
	for _, early := range []time.Duration{0, time.Second, 5*time.Minute - time.Nanosecond} {
		c.now = start.Add(early)
		if err := l.Done(2); !errors.Is(err, ErrTooSoon) || !strings.Contains(err.Error(), "of 5m are over") {
			t.Errorf("after %v: %v, want ErrTooSoon", early, err)
		}
	}
	if l.Status(2) != Begun {
		t.Errorf("step 2 is %v", l.Status(2))
	}
	c.now = start.Add(5 * time.Minute)
	if err := l.Done(2); err != nil {
		t.Error(err)
	}
	if _, ok := l.WaitOver(); ok {
		t.Error("a wait that is done is still to be over")
	}
}

// TestWaitAcrossPrograms: the ledger writes whole seconds, so the beginning may have been up
// to one later; and a clock that was set back proves nothing.
func TestWaitAcrossPrograms(t *testing.T) {
	plan := waitPlan(t)
	start := time.Date(2026, 3, 1, 10, 0, 0, 900e6, time.UTC)
	written := start.Truncate(time.Second)
	for _, tt := range []struct {
		name string
		now  time.Time
		kind error
		says string
	}{
		{"at once", start, ErrTooSoon, "0s of 5m are over"},
		{"five minutes after what is written", written.Add(5 * time.Minute), ErrTooSoon, "of 5m are over"},
		{"a second later", written.Add(5*time.Minute + time.Second), nil, ""},
		{"the next day", start.Add(24 * time.Hour), nil, ""},
		{"set back by an hour", start.Add(-time.Hour), ErrTooSoon, "it was set back"},
		{"set back by a second", written.Add(-time.Second), ErrTooSoon, "it was set back"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "ledger")
			c := &clock{start}
			l := c.at(openTest(t, path, plan))
			do(t, l, 1)
			if err := errors.Join(l.Begin(2), l.Close()); err != nil {
				t.Fatal(err)
			}
			c.now = tt.now
			l = c.at(openTest(t, path, plan))
			if err := l.Done(2); !errors.Is(err, tt.kind) || err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("%v, want %v", err, tt.kind)
			}
			if tt.kind == nil {
				return
			}
			// A skip is recorded as one, whatever the clock says, and read again as one.
			if err := l.Skip(2); err != nil {
				t.Fatal(err)
			}
			do(t, l, 3)
			if err := l.Close(); err != nil {
				t.Fatal(err)
			}
			p, entries, err := Read(path, plan)
			if err != nil {
				t.Fatal(err)
			}
			done, skipped, of := p.Counts()
			if _, more := p.Next(); p.Status(2) != Skipped || done != 2 || skipped != 1 || of != 3 || more {
				t.Errorf("step 2 is %v, %d done, %d skipped of %d, more to do %v", p.Status(2), done, skipped, of, more)
			}
			if entries[len(entries)-3].What != "skipped" {
				t.Errorf("%v", entries)
			}
		})
	}
}

// TestRealClock: the clock of a ledger that nobody set is the machine's.
func TestRealClock(t *testing.T) {
	l, err := Open(filepath.Join(t.TempDir(), "ledger"), waitPlan(t))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	do(t, l, 1)
	if err := l.Begin(2); err != nil {
		t.Fatal(err)
	}
	if err := l.Done(2); !errors.Is(err, ErrTooSoon) {
		t.Errorf("%v, want ErrTooSoon", err)
	}
	if over, _ := l.WaitOver(); time.Until(over) > 5*time.Minute || time.Until(over) < 4*time.Minute {
		t.Errorf("over in %v", time.Until(over))
	}
}

func TestOnlyAWaitIsSkipped(t *testing.T) {
	l := openTest(t, filepath.Join(t.TempDir(), "ledger"), waitPlan(t))
	if err := l.Skip(1); !isOf(err, errNotBegun) {
		t.Errorf("%v, want errNotBegun", err)
	}
	if err := l.Begin(1); err != nil {
		t.Fatal(err)
	}
	if err := l.Skip(1); !isOf(err, errNotWait) {
		t.Errorf("%v, want errNotWait", err)
	}
}

// TestSkippedWaitIsDoneAgainForANewBolt: with the bolt its wait begins anew.
func TestSkippedWaitIsDoneAgainForANewBolt(t *testing.T) {
	l := openTest(t, filepath.Join(t.TempDir(), "ledger"), waitPlan(t))
	do(t, l, 1)
	if err := errors.Join(l.Begin(2), l.Skip(2), l.Replace("a")); err != nil {
		t.Fatal(err)
	}
	if _, skipped, _ := l.Counts(); l.Status(2) != Pending || skipped != 0 {
		t.Errorf("step 2 is %v, %d skipped", l.Status(2), skipped)
	}
}

// TestSingleUseByTorqueAlone: once its greatest torque was begun, a bolt that is loosened
// is scrap, and so it stays when the ledger is read again; before that it is not.
func TestSingleUseByTorqueAlone(t *testing.T) {
	to := func(text string) torque.Stage {
		return torque.Stage{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque(text)})}
	}
	for _, use := range []torque.BoltUse{torque.SingleUse, torque.Reusable, torque.NotSaid} {
		plan, err := torque.NewPlan("heads", torque.Group{Name: "heads", Pattern: torque.Row("a", "b"), Use: use, Stages: []torque.Stage{to("23 N·m"), to("70 N·m")}})
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "ledger")
		l := openTest(t, path, plan)
		do(t, l, 1, 2)
		if err := l.Loosen("a"); err != nil {
			t.Errorf("%v, loosened at 23 N·m: %v", use, err)
		}
		do(t, l, 1)
		if err := errors.Join(l.Begin(3), l.Stop(3)); err != nil {
			t.Fatal(err)
		}
		l.Close()
		l = openTest(t, path, plan)
		var want error
		if use == torque.SingleUse {
			want = errScrap
		}
		if err := l.Loosen("a"); !isOf(err, want) {
			t.Errorf("%v, loosened at 70 N·m: %v, want %v", use, err, want)
		}
		if err := l.Loosen("b"); err != nil {
			t.Errorf("%v: the other bolt: %v", use, err)
		}
		if err := l.Replace("a"); err != nil {
			t.Fatal(err)
		}
		if err := l.Loosen("a"); err != nil {
			t.Errorf("%v: the new bolt: %v", use, err)
		}
		if err := l.Replace("A"); !isOf(err, errNoSuchBolt) || !strings.Contains(err.Error(), `write "a"`) {
			t.Errorf("%v, want the name that is meant", err)
		}
	}
}
