package demo_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// proven is the demonstration of which everything is proven.
const proven = "all-proven"

// TestACompleteJobIsShort: a complete job of a four-cylinder engine, with every expected
// reading typed, takes at most 160 lines, comments and all.
func TestACompleteJobIsShort(t *testing.T) {
	const most = 160
	src := read(t, proven+".toml")
	if n := strings.Count(src, "\n"); n > most {
		t.Errorf("%d lines, at most %d", n, most)
	}
	if strings.Contains(src, `"?"`) {
		t.Error("a reading is left open")
	}
	for _, line := range strings.Split(src, "\n") {
		const wide = 200
		if len(line) > wide {
			t.Errorf("a line of %d characters, at most %d: %s", len(line), wide, line)
		}
	}
}

// TestOneIsProven: that demonstration is proven whole, every gate of it is open on nobody's
// word, and no other demonstration is proven.
func TestOneIsProven(t *testing.T) {
	for _, name := range job.Demonstrations() {
		a := assess(t, name+".toml", read(t, name+".toml"))
		if a.Proven() != (name == proven) {
			t.Errorf("%s: proven %t", name, a.Proven())
		}
		if name != proven {
			continue
		}
		if e := a.Engine; len(e.Cylinders) != 4 {
			t.Errorf("%d cylinders", len(e.Cylinders))
		}
		for _, p := range job.Phases() {
			if g := a.Gate(p); !g.Open || len(g.Accepted) > 0 {
				t.Errorf("the gate before %s: open %t, %d accepted", p, g.Open, len(g.Accepted))
			}
		}
		if held := a.Held(); len(held) > 0 {
			t.Errorf("held: %v", held)
		}
	}
}

func assess(t *testing.T, name, src string) *job.Assessment {
	t.Helper()
	j, err := job.Read(name, []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return a
}
