package ledger

import (
	"bufio"
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

var kills = flag.Int("kills", 40, "how often TestKilledAtRandomMoments kills a program that keeps a ledger")

// victimOf is the environment variable that makes the test program a victim: the folder of its
// home.
const victimOf = "CLOSEFIT_TEST_LEDGER"

func TestMain(m *testing.M) {
	if folder := os.Getenv(victimOf); folder != "" {
		victim(folder)
		return
	}
	os.Exit(m.Run())
}

// killHome is the home of a victim.
func killHome(folder string) Home {
	return Home{Path: filepath.Join(folder, "kill.ledger"), Witness: filepath.Join(folder, "state")}
}

// killPlan has steps enough for many kills.
func killPlan() *torque.Plan {
	nm, turn := units.NewtonMetre.OfInt, torque.Do(torque.Turn{By: units.Degree.OfInt(90)})
	var mains, cover []string
	for i := range 5 {
		mains = append(mains, fmt.Sprintf("main %d", i))
		cover = append(cover, fmt.Sprintf("cover %d", i))
	}
	plan, err := torque.NewPlan("kill",
		torque.Group{Name: "mains", Pattern: torque.Row(mains...), Use: torque.SingleUse, Stages: []torque.Stage{
			{Pull: torque.Do(torque.Tighten{To: nm(30)}), Then: []torque.Action{torque.Do(torque.Inspection{Ask: "Does it turn freely?"})}}, {Pull: turn}, {Pull: turn}}},
		torque.Group{Name: "cover", Pattern: torque.Row(cover...), Use: torque.Reusable, Stages: []torque.Stage{{Pull: torque.Do(torque.Tighten{To: nm(9)})}, {Pull: turn}}})
	if err != nil {
		panic(err)
	}
	return plan
}

// victim carries out the plan as fast as it can, with mishaps, and opens the ledger again now
// and then. It says on standard output what it is about to call ("? begin 3 main 2") and that
// the call has returned ("!").
func victim(folder string) {
	plan, home := killPlan(), killHome(folder)
	must := func(err error) {
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	l, err := Open(home, testWork, plan)
	if errors.Is(err, ErrNotStarted) {
		l, err = Start(home, testWork, plan, []string{})
	}
	must(err)
	call := func(e event, step int, bolt string, err func() error) {
		fmt.Printf("? %s %d %s\n", strings.ReplaceAll(e.String(), " ", "_"), step, bolt)
		must(err())
		fmt.Println("!")
	}
	for {
		for _, t := range l.Troubles() {
			if t.Scrap || rand.N(2) == 0 {
				call(replace, 0, t.Bolt, func() error { return l.Replace(t.Bolt) })
			} else {
				call(loosen, 0, t.Bolt, func() error { return l.Loosen(t.Bolt) })
			}
		}
		step, ok := l.Next()
		if !ok {
			fmt.Println("finished")
			return
		}
		n := step.Number
		if l.Status(n) != Begun {
			call(begin, n, step.Bolt, func() error { return l.Begin(n) })
		}
		switch mishap := rand.N(14); {
		case mishap == 0 && !step.IsPause():
			call(PartWay.event(), n, step.Bolt, func() error { return l.Mishap(What{Mishap: PartWay, Step: n}) })
		case mishap == 1:
			call(note, 0, "", func() error { return l.Note("a pause for tea") })
			call(finish, n, step.Bolt, func() error { return l.Done(n, Reached{By: "the builder"}) })
		case mishap == 2:
			must(l.Close())
			l, err = Open(home, testWork, plan)
			must(err)
		default:
			call(finish, n, step.Bolt, func() error { return l.Done(n, Reached{}) })
		}
	}
}

// A call is what a victim called.
type call struct {
	what string
	step int
	bolt string
}

// TestKilledAtRandomMoments kills programs that keep a ledger. No call that was acknowledged
// is lost, none is invented and none doubled; the call that was under way may have reached
// the disk or not; and the ledger opens again without being taken over.
func TestKilledAtRandomMoments(t *testing.T) {
	thorough.SkipRaced(t)
	program, err := os.Executable()
	if err != nil {
		t.Skip(err)
	}
	var a tally
	killed, acknowledged, underWay, ledgers := 0, 0, 0, 0
	var folder string
	var told []call
	var p pace
	for killed < *kills {
		if folder == "" || len(told) > 300 {
			ledgers++
			folder, told = t.TempDir(), nil
		}
		out, wasKilled := runVictim(t, program, folder, &p)
		more, pending := calls(out)
		told = append(told, more...)
		acknowledged += len(more)
		if wasKilled {
			killed++
		}
		a.tried++
		l, err := Open(killHome(folder), testWork, killPlan())
		if errors.Is(err, ErrNotStarted) && len(told) == 0 {
			a.same++
			continue // killed before the ledger was started
		}
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Said) > 0 {
			a.mended++
		} else {
			a.same++
		}
		_, found := l.Next()
		l.Close()
		_, entries, err := Read(killHome(folder), testWork)
		if err != nil {
			t.Fatal(err)
		}
		var there []call
		for _, e := range entries[2:] { // after the plan, and what was asked at the start
			there = append(there, call{strings.ReplaceAll(e.What, " ", "_"), e.Step, e.Bolt})
		}
		if pending != nil && len(there) == len(told)+1 {
			told = append(told, *pending)
			underWay++
		}
		if fmt.Sprint(there) != fmt.Sprint(told) {
			a.silent++
			t.Fatalf("%d records, and %d were acknowledged:\n%v\n%v", len(there), len(told), there, told)
		}
		if !found {
			folder = ""
		}
	}
	if acknowledged == 0 {
		t.Error("each was killed before it had recorded anything")
	}
	t.Logf("| programs killed: %d kills over %d ledgers, %d calls acknowledged, %d under way and found | %v |", killed, ledgers, acknowledged, underWay, &a)
}

// A pace is how fast victims are on this machine as it is.
type pace struct{ first, line time.Duration } // to their first line, and from one to the next

// runVictim runs a victim, kills it somewhere in its start or behind one of its lines, and returns what it said, and
// whether it had to be killed. A moment is a drawn part of what a victim takes, so that it falls where it should
// on any machine.
func runVictim(t *testing.T, program, folder string, p *pace) (said []byte, killed bool) {
	t.Helper()
	victim := exec.Command(program)
	victim.Env = append(os.Environ(), victimOf+"="+folder)
	pipe, err := victim.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	if err := victim.Start(); err != nil {
		t.Fatal(err)
	}
	kill := func(within time.Duration) *time.Timer {
		return time.AfterFunc(rand.N(within+1), func() { victim.Process.Kill() })
	}
	var timer *time.Timer
	behind := rand.N(40) // lines; 0 is the start
	if behind == 0 {
		timer = kill(p.first)
	}
	lines := bufio.NewReader(pipe)
	for n := 1; ; n++ {
		line, err := lines.ReadBytes('\n')
		said = append(said, line...)
		if err != nil {
			break
		}
		if n == 1 {
			p.first, began = time.Since(began), time.Now()
		} else {
			p.line = time.Since(began) / time.Duration(n-1)
		}
		if n == behind {
			timer = kill(2 * p.line)
		}
	}
	err = victim.Wait()
	if timer != nil {
		timer.Stop()
	}
	if bytes.Contains(said, []byte("error")) {
		t.Fatalf("the victim: %s", said)
	}
	return said, err != nil
}

// calls returns what a victim had acknowledged, and what it was about to do when it died, if
// anything.
func calls(said []byte) (told []call, pending *call) {
	lines := bufio.NewScanner(bytes.NewReader(said))
	for lines.Scan() {
		switch text := lines.Text(); {
		case text == "!" && pending != nil:
			told = append(told, *pending)
			pending = nil
		case strings.HasPrefix(text, "? "):
			fields := strings.SplitN(text[2:], " ", 3)
			if len(fields) < 3 {
				return told, nil // cut off by the kill: its call was not made
			}
			pending = &call{what: fields[0], bolt: fields[2]}
			fmt.Sscan(fields[1], &pending.step)
		}
	}
	return told, pending
}
