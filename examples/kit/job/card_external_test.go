package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// engineOf is an engine of so many mains and of pins with the rods given.
func engineOf(mains string, pins ...string) job.Engine {
	e := job.Engine{Mains: strings.Fields(mains), Thrust: strings.Fields(mains)[0]}
	for _, p := range pins {
		e.Pins = append(e.Pins, job.Pin{Name: p, Rods: strings.Split(p, "-")})
		e.Cylinders = append(e.Cylinders, strings.Split(p, "-")...)
	}
	return e
}

// TestCrankOfACard: pins stand between the mains where they divide evenly among the gaps, and
// after them where nothing says in which gap each is.
func TestCrankOfACard(t *testing.T) {
	for _, test := range []struct{ mains, pins, want string }{
		{"a b c", "1 2", "a 1 b 2 c"},
		{"a b c", "1-4 2-5 3-6 7-8", "a 1-4 2-5 b 3-6 7-8 c"},
		{"a b", "1", "a 1 b"},
		{"a", "1 2", "a 1 2"},
		{"a b c d", "1-2 3-4", "a b c d 1-2 3-4"},
	} {
		a := &job.Assessment{Engine: engineOf(test.mains, strings.Fields(test.pins)...)}
		var names []string
		rods := 0
		for _, st := range a.Card().Crank {
			names = append(names, st.Name)
			if st.Thrust != (st.Name == "a") {
				t.Errorf("%s, %s: thrust at %s: %t", test.mains, test.pins, st.Name, st.Thrust)
			}
			if st.Pin {
				rods += len(st.Seats)
			}
		}
		if got := strings.Join(names, " "); got != test.want || rods != len(a.Engine.Cylinders) {
			t.Errorf("mains %s, pins %s: %s with %d rods, want %s", test.mains, test.pins, got, rods, test.want)
		}
	}
}

// TestGatesOfACard: each gate names what it asks for beyond the one before, worst first, places
// of one line that stand alike in one name; what was accepted is no obstacle, and is told once.
func TestGatesOfACard(t *testing.T) {
	word := &job.Excuse{What: "rod side play", By: "the builder", Reason: "a display engine"}
	i := func(group, location, quantity string, before job.Phase, s job.Standing, e *job.Excuse) job.Item {
		name := strings.Join(strings.Fields(group+" "+location+" "+quantity), " ")
		return job.Item{Name: name, Group: group, Location: location, Quantity: quantity, Before: before, Standing: s, Excuse: e}
	}
	a := &job.Assessment{Engine: engineOf("a b", "1"), Items: []job.Item{
		i("main journal", "a", "diameter", job.Choose, job.Proven, nil),
		i("main bearing shells", "", "", job.Trial, job.ToOrder, nil),
		i("main bearing", "a", "clearance", job.Final, job.NotMeasured, nil),
		i("main bearing", "b", "clearance", job.Final, job.NotMeasured, nil),
		i("top ring", "1", "end gap", job.Final, job.NotMeasured, nil),
		i("top ring", "2", "end gap", job.Final, job.Wrong, nil),
		i("rod", "1", "side play", job.Final, job.NotMeasured, word),
		i("rod", "2", "side play", job.Final, job.Wrong, word),
	}}
	c := a.Card()
	var said []string
	for _, g := range c.Gates {
		text := g.Before.String()
		if g.Open {
			text += " open"
		}
		for _, o := range g.Obstacles {
			text += "; " + o.Standing.String() + ": " + o.What
		}
		said = append(said, text)
	}
	want := []string{
		"inspection open",
		"choosing and buying open",
		"trial assembly; to order: main bearing shells",
		"final assembly; wrong: top ring 2 end gap; not measured: main bearing a, b clearance; not measured: top ring 1 end gap",
		"first oil pressure",
	}
	if strings.Join(said, "\n") != strings.Join(want, "\n") {
		t.Errorf("the gates are\n%s\nwant\n%s", strings.Join(said, "\n"), strings.Join(want, "\n"))
	}
	if len(c.Words) != 1 || c.Words[0].Worst != job.Wrong || c.Words[0].By != "the builder" {
		t.Errorf("words: %+v, want the builder's alone, the worst of its items wrong", c.Words)
	}
	if last := c.Gates[job.Final]; last.Proven != 1 || last.Accepted != 2 {
		t.Errorf("%d proven and %d accepted, want 1 and 2", last.Proven, last.Accepted)
	}
}

// TestPullsOfACard: stages in the manual's figures, with what they are done during, in their
// order; checks asked after several stages are told once; a held bolt says why.
func TestPullsOfACard(t *testing.T) {
	a := assess(t, small+`
[bolts.caps]
new = ["L2", "R1", "R2"]
scrap = ["L1"]
[[tightening]]
group = "caps"
caps = [["L1", "R1"], ["L2", "R2"]]
order = ["R2", "L2", "L1", "R1"]
single_use = true
stages = [{ torque = "15 N·m", check = "Does it turn freely?" }, { turn = "55°" }, { turn = "50°", check = "Does it turn freely?" }]
[[tightening]]
group = "side"
bolts = ["S1", "S2"]
stages = [{ torque = "10.5 N·m", during = { group = "caps", stage = 2 } }]
`)
	c := a.Card()
	if len(c.Pulls) != 2 {
		t.Fatalf("%d groups", len(c.Pulls))
	}
	caps, side := c.Pulls[0], c.Pulls[1]
	var do []string
	for _, s := range caps.Stages {
		do = append(do, s.Do)
	}
	if got := strings.Join(do, ", "); got != "15 N·m, +55°, +50°" || !caps.Once || side.Once {
		t.Errorf("%s, used once %t and %t", got, caps.Once, side.Once)
	}
	if got := strings.Join(caps.Stages[0].Order, " "); got != "R2 L2 L1 R1" || !caps.SameOrder() {
		t.Errorf("the order is %s", got)
	}
	if side.Stages[0].During != "stage 2 of caps" {
		t.Errorf("during %q", side.Stages[0].During)
	}
	if len(caps.Held) != 1 || caps.Held[0].Names() != "L1" || !strings.Contains(caps.Held[0].Why, "fit a new one") || len(side.Held) != 1 || side.Held[0].Names() != "S1, S2" {
		t.Errorf("held: %+v and %+v", caps.Held, side.Held)
	}
	b := assess(t, small+`
[[tightening]]
group = "rod bolts"
caps = [["a", "b"], ["c", "d"]]
stages = [{ torque = "15 N·m" }, { torque = "25 N·m", check = "Does it turn freely?" }]
`).Card()
	if !b.Pulls[0].CapByCap || caps.CapByCap || b.Checks[0].When != "after stage 2 of rod bolts, at each cap" {
		t.Errorf("rods are finished cap by cap: %+v, %+v", b.Pulls[0], b.Checks[0])
	}
	if x := c.Checks[0]; x.When != "after stages 1 and 3 of caps" || !strings.HasPrefix(x.What, "Does it turn freely?") {
		t.Errorf("the first check: %+v", x)
	}
}
