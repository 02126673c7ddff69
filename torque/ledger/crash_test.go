package ledger

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

var kills = flag.Int("kills", 40, "how often TestKilledAtRandomMoments kills a program that keeps a ledger")

// victimOf is the environment variable that makes the test program a victim: the
// ledger's path.
const victimOf = "CLOSEFIT_TEST_LEDGER"

func TestMain(m *testing.M) {
	if path := os.Getenv(victimOf); path != "" {
		victim(path)
		return
	}
	os.Exit(m.Run())
}

// longPlan has steps enough for many kills.
func longPlan() *torque.Plan {
	var mains, cover []torque.Position
	for i := range 5 {
		mains = append(mains, torque.Position{Bolt: fmt.Sprintf("main %d", i), X: units.Millimetre.OfInt(int64(i))})
		cover = append(cover, torque.Position{Bolt: fmt.Sprintf("cover %d", i), X: units.Millimetre.OfInt(int64(i))})
	}
	nm := units.NewtonMetre.OfInt
	turn := torque.Do(torque.Turn{By: units.Degree.OfInt(90)})
	plan, err := torque.NewPlan("kill",
		torque.Group{Name: "mains", Pattern: mains, Use: torque.SingleUse, Stages: []torque.Stage{
			{Pull: torque.Do(torque.Tighten{To: nm(30)}), Then: []torque.Action{torque.Do(torque.Inspection{Ask: "Does it turn freely?"})}}, {Pull: turn}, {Pull: turn}}},
		torque.Group{Name: "cover", Pattern: cover, Use: torque.Reusable, Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: nm(9)})}, {Pull: turn}}})
	if err != nil {
		panic(err)
	}
	return plan
}

// victim carries out the plan as fast as it can, with mishaps. It says on standard
// output what it is about to call ("? begin 3") and that the call has returned ("!").
func victim(path string) {
	plan := longPlan()
	must := func(err error) {
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	l, err := Open(path, plan)
	must(err)
	call := func(h happening, call func() error) {
		fmt.Printf("? %s %d %s\n", h.event, h.step, h.bolt)
		must(call())
		fmt.Println("!")
	}
	on := func(e event, n int, f func(int) error) { call(l.happening(e, n), func() error { return f(n) }) }
	for {
		if turn, _, ok := l.Trouble(); ok {
			bolt := turn.Bolt
			if turn.Spends || rand.N(2) == 0 {
				call(happening{event: replace, bolt: bolt}, func() error { return l.Replace(bolt) })
			} else {
				call(happening{event: loosen, bolt: bolt}, func() error { return l.Loosen(bolt) })
			}
		}
		step, ok := l.Next()
		if !ok {
			fmt.Println("finished")
			return
		}
		n := step.Number
		if l.Status(n) == Pending {
			on(begin, n, l.Begin)
		}
		switch mishap := rand.N(12); {
		case mishap == 0:
			on(stop, n, l.Stop)
		case mishap == 1 && !l.progress.held: // else closing it writes nothing
			on(hold, n, func(int) error { return l.Close() })
			l, err = Open(path, plan)
			must(err)
		default:
			on(finish, n, l.Done)
		}
	}
}

// TestKilledAtRandomMoments kills programs that keep a ledger. No step that was
// acknowledged is lost, none is invented and none doubled; the call that was under
// way may have reached the disk or not.
func TestKilledAtRandomMoments(t *testing.T) {
	program, err := os.Executable()
	if err != nil {
		t.Skip(err)
	}
	folder := t.TempDir()
	plan := longPlan()
	killed, acknowledged, underWay, ledgers := 0, 0, 0, 0
	var path string
	var m *model
	for killed < *kills {
		if m == nil || m.next() == 0 || len(m.events) > 300 {
			ledgers++
			path = filepath.Join(folder, fmt.Sprint(ledgers))
			m = &model{plan: plan}
		}
		m.crash()
		before := len(m.events)
		out, wasKilled := runVictim(t, program, path)
		pending := m.read(t, out)
		acknowledged += len(m.events) - before
		if wasKilled {
			killed++
		}
		found := progressOf(t, path, plan, m, pending)
		if found {
			underWay++
		}
	}
	t.Logf("%d kills over %d ledgers: %d calls acknowledged and all found; %d under way and found", killed, ledgers, acknowledged, underWay)
}

// runVictim runs a victim for a few milliseconds and returns what it said, and
// whether it had to be killed.
func runVictim(t *testing.T, program, path string) (said []byte, killed bool) {
	t.Helper()
	victim := exec.Command(program)
	victim.Env = append(os.Environ(), victimOf+"="+path)
	pipe, err := victim.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := victim.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(time.Duration(rand.N(30_000))*time.Microsecond, func() { victim.Process.Kill() })
	said, _ = io.ReadAll(pipe)
	err = victim.Wait()
	timer.Stop()
	if bytes.Contains(said, []byte("error")) {
		t.Fatalf("the victim: %s", said)
	}
	return said, err != nil
}

// read adds to the model what a victim had acknowledged, and returns what it was
// about to do when it died, if anything.
func (m *model) read(t *testing.T, said []byte) (pending *happening) {
	t.Helper()
	lines := bufio.NewScanner(bytes.NewReader(said))
	for lines.Scan() {
		switch text := lines.Text(); {
		case text == "!" && pending != nil:
			m.events = append(m.events, *pending)
			pending = nil
		case strings.HasPrefix(text, "? "):
			// A line may have been cut off by the kill; then its call was not made.
			fields := strings.SplitN(text[2:], " ", 3)
			h := happening{}
			if len(fields) == 3 {
				h = happening{event: parseEvent([]byte(fields[0])), bolt: fields[2]}
				fmt.Sscan(fields[1], &h.step)
			}
			pending = &h
		}
	}
	return pending
}

// progressOf opens the ledger and finds whether it is as the model has it, with the
// pending call or without; it returns whether with, and then the model has it too.
func progressOf(t *testing.T, path string, plan *torque.Plan, m *model, pending *happening) bool {
	t.Helper()
	l, err := Open(path, plan)
	if err != nil {
		t.Fatal(err)
	}
	defer die(l)
	without := &model{plan, m.events[:len(m.events):len(m.events)]}
	without.crash()
	bad := without.compare(l.progress)
	if bad == nil && l.lines == len(without.events)+1 {
		m.events = without.events
		return false
	}
	if pending == nil {
		t.Fatalf("%d lines for %d events, %v", l.lines, len(without.events), bad)
	}
	with := &model{plan, append(m.events[:len(m.events):len(m.events)], *pending)}
	with.crash()
	if bad := with.compare(l.progress); bad != nil || l.lines != len(with.events)+1 {
		t.Fatalf("%d lines for %d events with %v, %v", l.lines, len(with.events), *pending, bad)
	}
	m.events = with.events
	return true
}
