package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// A program keeps a ledger while others keep the same one, on a system without locks. A
// scheduler lets one of them go on at a time, up to its next call of the system.
type program struct {
	id     int
	goes   chan bool // true: go on; false: be killed
	waits  chan struct{}
	ended  bool
	unsure bool // it was told that the ledger no longer knows
}

// An acknowledgement is a record of which a program was told that it is there.
type acknowledgement struct {
	program int
	line    []byte
	turn    int // the step, if it is the beginning of one
}

// several are programs on one memory.
type several struct {
	m        *memory
	s        *scene
	programs []*program
	now      *program
	told     []acknowledgement
	calls    []string
	clocks   int // how many there are, each of which is some microseconds beside the others
}

// asks lets the scheduler decide who goes on.
func (all *several) asks(call string) {
	p := all.now
	if p == nil {
		return
	}
	p.waits <- struct{}{}
	if !<-p.goes {
		all.calls = append(all.calls, fmt.Sprintf("%d is killed before %s", p.id, call))
		panic(killed{})
	}
	all.calls = append(all.calls, fmt.Sprintf("%d: %s", p.id, call))
}

// run is what a program does: it opens the ledger, or starts it, does what is next, and opens
// it again when it is refused.
func (all *several) run(p *program, rounds, records int) {
	defer func() {
		if r := recover(); r != nil && r != (killed{}) {
			panic(r)
		}
		p.ended = true
		close(p.waits)
	}()
	if !<-p.goes {
		return
	}
	for range rounds {
		all.clocks++
		c := testClock()
		own := time.Duration(all.clocks) * time.Microsecond
		now := c.now
		c.now = func() time.Time { return now().Add(own) }
		l, err := open(all.m, c, testHome, testWork, all.s.plan)
		if errors.Is(err, ErrNotStarted) {
			l, err = start(all.m, c, testHome, testWork, all.s.plan, []string{})
		}
		if err != nil {
			p.unsure = p.unsure || errors.Is(err, ErrUnsure)
			continue
		}
		for range records {
			next, ok := l.Next()
			if !ok {
				break
			}
			call, turn := l.Begin, next.Number
			if l.Status(next.Number) == Begun {
				call, turn = func(n int) error { return l.Done(n, Reached{}) }, 0
			}
			if call(next.Number) != nil {
				break
			}
			line := bytes.Clone(l.sides[0].tail)
			all.told = append(all.told, acknowledgement{p.id, line, turn})
		}
		l.Close()
	}
}

// schedule lets the programs go on in some order until all have ended.
func (all *several) schedule(random *rand.Rand, kills bool) {
	for {
		var alive []*program
		for _, p := range all.programs {
			if !p.ended {
				alive = append(alive, p)
			}
		}
		if len(alive) == 0 {
			return
		}
		p := alive[random.IntN(len(alive))]
		for n := 1 + random.IntN(12); n > 0 && !p.ended; n-- {
			all.now = p
			p.goes <- !kills || random.IntN(400) > 0
			<-p.waits
		}
	}
}

// TestSeveralProgramsWithoutLocks: in any order of their calls, and whichever are killed, no
// step is begun by two of them, and nothing of which one was told is lost without a word.
func TestSeveralProgramsWithoutLocks(t *testing.T) {
	plan := testPlan(t, "several", 4)
	var a tally
	var told, unsure int
	rapid.Check(t, func(t *rapid.T) {
		m := newMemory()
		var s *scene
		if rapid.Bool().Draw(t, "started") {
			s = newScene(t, plan, rapid.IntRange(0, 6).Draw(t, "steps")).closed(t)
			m = s.m
		} else {
			s = &scene{m: m, plan: plan, path: "/home/gate.ledger", wit: "/state/closefit/" + testWork.witnessName()}
		}
		m.unlocks = true
		all := &several{m: m, s: s}
		m.turn = all.asks
		for id := range rapid.IntRange(2, 3).Draw(t, "programs") {
			p := &program{id: id, goes: make(chan bool), waits: make(chan struct{})}
			all.programs = append(all.programs, p)
			go all.run(p, 3, 6)
		}
		kills := rapid.Bool().Draw(t, "kills")
		all.schedule(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 1)), kills)
		all.now, m.turn = nil, nil
		begun := map[int]int{}
		for _, one := range all.told {
			if one.turn != 0 {
				begun[one.turn]++
				if begun[one.turn] > 1 {
					t.Fatalf("step %d was begun twice: %v", one.turn, all.told)
				}
			}
		}
		told += len(all.told)
		a.tried++
		l, err := s.reopen(m)
		switch {
		case isRefusal(err), errors.Is(err, ErrNotStarted) && len(all.told) == 0:
			a.refused++
			unsure++
			return
		case err != nil:
			t.Fatal(err)
		case len(l.Said) > 0:
			a.mended++
		default:
			a.same++
		}
		for _, one := range all.told {
			if !bytes.Contains(m.get(s.path), one.line) {
				a.silent++
				t.Fatalf("program %d was told of %q, which is not there; said %q\n%s", one.program, one.line, l.Said, strings.Join(all.calls, "\n"))
			}
		}
		l.Close()
	})
	t.Logf("| two or three programs at once without a lock, some killed; %d records acknowledged | %v |", told, &a)
}
