package walk_test

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque/ledger"
)

// shared is what the walk has shown, for a test that looks at it meanwhile.
type shared struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *shared) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(b)
}

func (s *shared) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// TestWaitIsWaitedFor: the terminal waits by a clock that nobody can set, shows the time that is
// left, and records the wait as done when it is over and not before; what is typed meanwhile
// neither shortens nor lengthens it. The clock is the test's own.
func TestWaitIsWaitedFor(t *testing.T) {
	home := here(t)
	synctest.Test(t, func(t *testing.T) {
		in, typing := io.Pipe()
		var out shared
		s := pumpSession(t, home, 40)
		s.In, s.Out, s.Clear = in, &out, true
		began := time.Now()
		finished := make(chan error)
		go func() {
			_, err := s.Run()
			finished <- err
		}()
		for _, line := range []string{"none", "", "y", "", "", "", "d", "", "", "d", "", ""} {
			io.WriteString(typing, line+"\n")
			synctest.Wait()
		}
		if !strings.Contains(out.String(), "Time left: 2m0s") {
			t.Fatalf("%s", &out)
		}
		time.Sleep(90 * time.Second)
		io.WriteString(typing, "is it over?\n")
		synctest.Wait()
		status := func() ledger.Status {
			l, _, err := ledger.Read(home, pump)
			if err != nil {
				t.Fatal(err)
			}
			return l.Status(4)
		}
		if status() != ledger.Begun || !strings.Contains(out.String(), "Time left: 31s") || !strings.Contains(out.String(), "is not an answer") {
			t.Errorf("after 90 s of 120: %v\n%s", status(), &out)
		}
		time.Sleep(29 * time.Second)
		synctest.Wait()
		if status() != ledger.Begun {
			t.Errorf("after 119 s of 120: %v", status())
		}
		time.Sleep(2 * time.Second)
		synctest.Wait()
		if status() != ledger.Done || !strings.Contains(out.String(), "The time is over.") {
			t.Errorf("after %v of 2m: %v\n%s", time.Since(began), status(), &out)
		}
		io.WriteString(typing, "q\n")
		if err := <-finished; err != nil {
			t.Error(err)
		}
		typing.Close()
	})
}

// TestWaitGoesOn: a wait that was left goes on while no program is running, and is over when the
// next one looks.
func TestWaitGoesOn(t *testing.T) {
	var s walk.Session
	seconds := 1
	for ; ; seconds *= 4 { // on a machine that takes longer than the wait to leave it, a longer wait
		s = pumpSession(t, here(t), 40)
		s.Plan = planOf(t, strings.Replace(caps, `wait = "2m"`, fmt.Sprintf(`wait = "%ds"`, seconds), 1))
		if _, _, err := walked(t, s, "none", "", "y", "", "", "", "d", "", "", "d", "", "", "q"); err != nil {
			t.Fatal(err)
		}
		l, _, err := ledger.Read(s.Home, pump)
		if err != nil {
			t.Fatal(err)
		}
		if l.Status(4) == ledger.Begun {
			break
		}
		if seconds > 60 {
			t.Fatalf("the wait is %v", l.Status(4))
		}
	}
	time.Sleep(time.Duration(seconds)*time.Second + 1200*time.Millisecond) // and what whole seconds may hide
	shown, _, err := walked(t, s, "", "q")
	if err != nil || !strings.Contains(shown, "The time is over.") || !strings.Contains(shown, "Next: 5. front left") {
		t.Errorf("%v\n%s", err, shown)
	}
}

// TestInputEnds: a walk whose input ends leaves a pull begun, and asks about it when it goes on.
func TestInputEnds(t *testing.T) {
	s := pumpSession(t, here(t), 80)
	if _, finished, err := walked(t, s, "none", "", "y", "", "", ""); finished || err != nil {
		t.Fatal(finished, err)
	}
	l, _, err := ledger.Read(s.Home, pump)
	if err != nil || l.Status(2) != ledger.Begun {
		t.Fatalf("%v, step 2 is %v", err, l.Status(2))
	}
	shown, _, err := walked(t, s, "")
	if err != nil || !strings.Contains(shown, "It was begun before this program started. Do not pull.") || strings.Contains(shown, "Pull now") {
		t.Errorf("%v\n%s", err, shown)
	}
}

// TestTurned: none is an answer and nothing is not; names are known beyond case and blanks, and may
// hold commas.
func TestTurned(t *testing.T) {
	plan := planOf(t, strings.Replace(caps, `bolts = ["c1", "c2"]`, `bolts = ["c, 1", "no"]`, 1))
	for _, tt := range []struct{ text, want string }{
		{"none", ""},
		{"ALL", "front left|front right|c, 1|no"},
		{"no", "no"}, // a bolt of the plan is called so
		{"C,1, frontleft", "c, 1|front left"},
		{"c, 1, c, 1", "c, 1"},
	} {
		turned, err := walk.Turned(plan, tt.text)
		if err != nil || turned == nil || strings.Join(turned, "|") != tt.want {
			t.Errorf("%q: %q, %v, want %s", tt.text, turned, err, tt.want)
		}
	}
	for _, text := range []string{"", ",", "front", "front left;front right", "none, front left"} {
		if turned, err := walk.Turned(plan, text); err == nil || turned != nil {
			t.Errorf("%q: %q", text, turned)
		}
	}
}
