package lesson_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/lesson"
	"example.com/closefit/internal/thorough"
)

// every calls f for both exercises of each lesson and each of a thousand seeds, or for a sample.
func every(t *testing.T, f func(t *testing.T, name string, seed int64, e *lesson.Exercise)) {
	step := int64(thorough.Step(20, 4))
	for _, l := range lesson.All() {
		for seed := int64(0); seed < 1000; seed += step {
			both, err := l.Exercises(seed)
			if err != nil {
				t.Fatal(l.Key, seed, err)
			}
			for i := range both {
				f(t, l.Key+" "+string('1'+rune(i)), seed, &both[i])
			}
		}
	}
}

// A task's own right answer is right, and each usual mistake is wrong and gets its reason.
func TestExercises(t *testing.T) {
	every(t, func(t *testing.T, name string, seed int64, e *lesson.Exercise) {
		if a := e.Judge(e.Right); !a.Right {
			t.Errorf("%s, seed %d: its own answer %s is judged wrong: %s", name, seed, e.Right, a.Reason)
		}
		if len(e.Usual) < 2 {
			t.Errorf("%s knows %d mistakes", name, len(e.Usual))
		}
		for _, m := range e.Usual {
			a := e.Judge(m.Answer)
			if a.Right || a.Reason != m.Why {
				t.Errorf("%s, seed %d: %s should be told %q, and is told %v %q", name, seed, m.Answer, m.Why, a.Right, a.Reason)
			}
		}
		for _, typed := range []string{"", "   ", "hello", "0.03", "12 N", "<= 4 mm", "1e99 mm", strings.Repeat("9", 500)} {
			if name == "selective 2" && typed == "0.03" {
				continue // a count has no unit
			}
			if a := e.Judge(typed); a.Right || a.Reason == "" {
				t.Errorf("%s, seed %d: %q: %+v", name, seed, typed, a)
			}
		}
	})
}

// Two students of one class, whose seeds are neighbours, mostly have different numbers.
func TestSeedsDiffer(t *testing.T) {
	const class = 30
	seen, same, all := map[string]int64{}, 0, 0
	every(t, func(t *testing.T, name string, seed int64, e *lesson.Exercise) {
		text := name
		for _, g := range e.Given {
			text += "|" + g[0] + g[1]
		}
		all++
		if before, was := seen[text]; was && seed-before <= class {
			same++
		}
		seen[text] = seed
	})
	if same*50 > all {
		t.Errorf("%d of %d exercises are the same as another one's in a class", same, all)
	}
}

func TestSeedOutOfRange(t *testing.T) {
	for _, seed := range []int64{-1, lesson.MaxSeed + 1} {
		if _, err := lesson.All()[0].Exercises(seed); err == nil {
			t.Error("no error for the seed", seed)
		}
	}
}
