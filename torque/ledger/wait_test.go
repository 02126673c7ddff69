package ledger

import (
	"errors"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
)

// boots are two starts of a machine.
const (
	thisBoot  = "0b9f5b9e-3c4d-4f7a-9d53-2d1f7f1c0a11"
	otherBoot = "77c1f0a2-8f1e-4c7b-a7d9-3a5c2e9b4d22"
)

// waitPlan has a wait of five minutes as its second step.
func waitPlan(t testing.TB) *torque.Plan {
	return planned(t, "gasket", torque.Group{Name: "cover", Pattern: torque.Row("a"), Stages: []torque.Stage{then(tighten(9), fiveMinutes), tighten(12)}})
}

// TestWaits: a wait takes its time by what nobody can set, where there is that.
func TestWaits(t *testing.T) {
	start := time.Date(2026, 3, 1, 10, 0, 0, 900e6, time.UTC)
	began := uptime{thisBoot, 1000}
	for _, tt := range []struct {
		name  string
		began uptime
		read  bool          // the beginning was read from the file, so another program wrote it
		after time.Duration // what the clock of the machine says at the end
		up    uptime
		kind  error
		says  string
	}{
		{"in this program, at once", uptime{}, false, 0, uptime{}, ErrTooSoon, "0s of 5m are over"},
		{"in this program, nearly", uptime{}, false, 5*time.Minute - 1, uptime{}, ErrTooSoon, "4m59s of 5m are over"},
		{"in this program", uptime{}, false, 5 * time.Minute, uptime{}, nil, ""},
		{"in this program, whose clock stood while the machine slept", began, false, time.Minute, uptime{thisBoot, 1301}, nil, ""},
		{"in this program, and the uptime is coarse", began, false, 5 * time.Minute, uptime{thisBoot, 1300}, nil, ""},

		{"by the uptime, nearly", began, true, 5 * time.Minute, uptime{thisBoot, 1300}, ErrTooSoon, "4m59s of 5m are over"},
		{"by the uptime", began, true, 5 * time.Minute, uptime{thisBoot, 1301}, nil, ""},
		{"by the uptime, the clock set forward", began, true, 24 * time.Hour, uptime{thisBoot, 1060}, ErrTooSoon, "59s of 5m are over"},
		{"by the uptime, the clock set back", began, true, -time.Hour, uptime{thisBoot, 1301}, nil, ""},
		{"by the uptime, which went back", began, true, time.Hour, uptime{thisBoot, 10}, ErrTooSoon, "0s of 5m are over"},

		{"after a new start, by the clock, nearly", began, true, 5 * time.Minute, uptime{otherBoot, 2000}, ErrTooSoon, "of 5m are over"},
		{"after a new start, by the clock", began, true, 5*time.Minute + 100*time.Millisecond, uptime{otherBoot, 20}, nil, ""},
		{"after a new start, the clock set back", began, true, -time.Hour, uptime{otherBoot, 9000}, ErrTooSoon, "it was set back"},
		{"where the system does not tell, at once", uptime{}, true, 0, uptime{}, ErrTooSoon, "0s of 5m are over"},
		{"where the system does not tell", uptime{}, true, 6 * time.Minute, uptime{}, nil, ""},
		{"begun where the system did not tell", uptime{}, true, 6 * time.Minute, uptime{thisBoot, 1}, nil, ""},
		{"ended where the system does not tell, the clock set back a little", began, true, -time.Second, uptime{}, ErrTooSoon, "it was set back"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := newWalk(waitPlan(t))
			w.upTo(t, 2)
			w.now = start
			h := w.p.begins(2, tt.began)
			if (h.detail != "") != (tt.began.Boot != "") {
				t.Fatalf("the beginning keeps %q", h.detail)
			}
			if h.at = start; tt.read {
				if err := w.p.check(h); err != nil {
					t.Fatal(err)
				}
				h.at, h.late = start.Truncate(time.Second), time.Second
				w.p.apply(h)
			} else {
				w.must(t, h)
			}
			end := w.p.ends(2, Reached{})
			end.at, end.up = start.Add(tt.after), tt.up
			over, ok := w.p.waitOver(end.at, tt.up)
			if !ok || (tt.kind == nil) == over.After(end.at) {
				t.Errorf("it is over at %v, %v, and now it is %v", over, ok, end.at)
			}
			if err := w.p.check(end); !errors.Is(err, tt.kind) || err != nil && !strings.Contains(err.Error(), tt.says) {
				t.Fatalf("%v, want %v", err, tt.kind)
			}
			w.p.apply(w.p.on(skip, 2))
			if _, ok := w.p.waitOver(end.at, tt.up); ok || w.p.statusOf(2) != Skipped {
				t.Errorf("a skipped wait is %v", w.p.statusOf(2))
			}
			w.upTo(t, 4)
			if done, skipped, of := w.p.done, w.p.skips, len(w.p.status); done != 2 || skipped != 1 || of != 3 {
				t.Errorf("%d done, %d skipped of %d", done, skipped, of)
			}
		})
	}
}

// TestSystemUptime: where the system tells, it goes on.
func TestSystemUptime(t *testing.T) {
	c := systemClock()
	up, again := c.up(), c.up()
	if runtime.GOOS == "linux" && up.Boot == "" {
		t.Skip("this system does not tell")
	}
	if up.Boot != again.Boot || again.Seconds < up.Seconds || up.Boot != "" && up.check() != nil {
		t.Errorf("%+v, then %+v", up, again)
	}
	if time.Since(c.now()) > time.Minute {
		t.Error("the clock is not the machine's")
	}
}

// TestBeginningOfAWaitAlone keeps an uptime, and one that a system may say.
func TestBeginningOfAWaitAlone(t *testing.T) {
	w := newWalk(waitPlan(t))
	if h := w.p.begins(1, uptime{thisBoot, 7}); h.detail != "" {
		t.Errorf("%+v", h)
	}
	h := w.p.on(begin, 1)
	h.detail = compact(uptime{thisBoot, 7})
	if err := w.say(h); !errors.Is(err, ErrRefused) {
		t.Errorf("%v, want it refused of a pull", err)
	}
	w.upTo(t, 2)
	for _, detail := range []string{"{}", `{"boot":"","up":7}`, `{"boot":"a","up":7}`, `{"boot":"` + thisBoot + `","up":-7}`, `{"boot":"` + thisBoot + `","up":7} `, `{"up":7,"boot":"` + thisBoot + `"}`, "7",
		`{"boot":"` + strings.Repeat("Z", 36) + `","up":7}`} {
		h := w.p.on(begin, 2)
		h.detail = detail
		if err := w.say(h); !errors.Is(err, ErrRefused) {
			t.Errorf("%s: %v, want it refused", detail, err)
		}
	}
	w.must(t, w.p.begins(2, uptime{thisBoot, 7}))
}
