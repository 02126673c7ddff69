package lesson

import (
	"hash/fnv"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
)

// borders are answers at the borders of what is allowed, and a hair outside.
func (t *task[D]) borders() (right, wrong []string) {
	hair := quantity(t.unit, 1, t.places+6)
	b := t.allowed()
	text := func(lo, hi units.Quantity[D]) string {
		if !t.two() {
			return lo.Exact()
		}
		return units.Between(lo, hi).Exact()
	}
	if !t.two() {
		return []string{text(b.lo.Lo(), b.lo.Lo()), text(b.lo.Hi(), b.lo.Hi()), b.lo.Exact()},
			[]string{text(b.lo.Lo().Sub(hair), b.lo.Lo()), text(b.lo.Hi().Add(hair), b.lo.Lo())}
	}
	return []string{text(b.lo.Lo(), b.hi.Hi()), text(b.lo.Hi(), b.hi.Lo()), text(b.lo.Lo(), b.hi.Lo())},
		[]string{text(b.lo.Lo().Sub(hair), b.hi.Hi()), text(b.lo.Hi().Add(hair), b.hi.Hi()), text(b.lo.Lo(), b.hi.Hi().Add(hair)), text(b.lo.Lo(), b.hi.Lo().Sub(hair))}
}

// A border belongs to what is allowed, and nothing beyond it does; the key for the seed holds the right answer.
func TestBorders(t *testing.T) {
	for _, l := range All() {
		for i, draw := range l.exercises {
			for seed := uint64(0); seed < 1000; seed += uint64(thorough.Step(40, 5)) {
				h := fnv.New64a()
				h.Write([]byte(l.Key + strconv.Itoa(i)))
				d := &draws{rand.New(rand.NewPCG(seed, h.Sum64()))}
				s := draw(d)
				for !s.clear() {
					s = draw(d)
				}
				e := s.set()
				right, wrong := s.(interface {
					borders() (right, wrong []string)
				}).borders()
				for _, typed := range right {
					if a := e.Judge(typed); !a.Right {
						t.Errorf("%s %d, seed %d: %s is at the border and judged wrong: %s", l.Key, i+1, seed, typed, a.Reason)
					}
				}
				for _, typed := range wrong {
					if e.Judge(typed).Right {
						t.Errorf("%s %d, seed %d: %s is beyond the border and judged right", l.Key, i+1, seed, typed)
					}
				}
			}
		}
	}
}

func TestKeyAgrees(t *testing.T) {
	for seed := int64(0); seed < 1000; seed += int64(thorough.Step(200, 20)) {
		m, err := key(seed)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range All() {
			both, err := l.Exercises(seed)
			if err != nil {
				t.Fatal(err)
			}
			for i := range both {
				if !strings.Contains(m.String(), "Right: "+both[i].Right+"<") {
					t.Errorf("seed %d: the key does not hold %s", seed, both[i].Right)
				}
			}
		}
	}
}
