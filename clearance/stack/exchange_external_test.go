package stack_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A stack that was written and read has the same probabilities.
func TestStackSurvivesJSON(t *testing.T) {
	s := stack.Stack(endPlayParts())
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var read stack.Stack
	if err := json.Unmarshal(text, &read); err != nil {
		t.Fatal(err)
	}
	before, errBefore := s.Law()
	after, errAfter := read.Law()
	if err := errors.Join(errBefore, errAfter); err != nil {
		t.Fatal(err)
	}
	if p, q := before.Above(mm("0.16 mm")), after.Above(mm("0.16 mm")); p != q {
		t.Errorf("above 0.16 mm: %v, and read again %v", p, q)
	}
}

func TestWhatIsNotOfTheExchangeForm(t *testing.T) {
	read := func(into any, text string) error { return json.Unmarshal([]byte(text), into) }
	var none stack.Stack
	_, distributed := none.Law()
	_, simulated := none.SimulateFunc(t.Context(), func([]float64) float64 { return 0 }, anything, stack.Simulation{Trials: 10})
	_, _, quantile := new(stack.Outcome).Quantile(0.5)
	if got := none.WorstCase().Interval(); !got.IsEmpty() {
		t.Errorf("no stack has a gap of %s", got)
	}
	outcome := func(width int, bins string) error {
		return read(new(stack.Outcome), fmt.Sprintf(`{"trials":3,"mean":1,"stdDev":1,"min":0,"max":2,"below":0,"above":0,"outside":null,"uncertainty":null,"binStart":0,"binWidth":%d,"bins":%s}`, width, bins))
	}
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"distribution of no stack", distributed, measure.ErrEmpty, "give the sizes"},
		{"function of no stack", simulated, measure.ErrEmpty, "give the sizes"},
		{"quantile of no outcome", quantile, measure.ErrEmpty, "Simulate"},
		{"a law of nothing", read(new(stack.Law), `{"stack":[]}`), measure.ErrEmpty, "give the sizes"},
		{"a law without its stack", read(new(stack.Law), `{"mean":"1 mm"}`), units.ErrNotWritten, `"stack"`},
		{"a law of what cannot be", read(new(stack.Law), `{"stack":[{"name":"a","sensitivity":"0","limits":"1 ±0.1 mm","distribution":null,"fixed":false,"sources":null}]}`), stack.ErrUnusable, "+1 if it opens"},
		{"unknown kind", read(new(stack.Distribution), `{"kind":"gaussian","k":3,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, `"normal within limits"`},
		{"kind of none", read(new(stack.Distribution), `{"kind":"none","k":null,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, "null for no distribution"},
		{"normal without k", read(new(stack.Distribution), `{"kind":"normal","k":null,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, `"k" with "normal"`},
		{"uniform with k", read(new(stack.Distribution), `{"kind":"uniform","k":3,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, `"k" with "uniform"`},
		{"uniform with a mean", read(new(stack.Distribution), `{"kind":"uniform","k":null,"mean":"1 mm","top":null,"sample":null}`), units.ErrNotWritten, `"mean" with "uniform"`},
		{"trapezoid without a top", read(new(stack.Distribution), `{"kind":"trapezoidal","k":null,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, `"top" with "trapezoidal"`},
		{"sample without values", read(new(stack.Distribution), `{"kind":"sample","k":null,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, "measured values"},
		{"another key", read(new(stack.Distribution), `{"kind":"uniform","k":null,"mean":null,"top":null,"sample":null,"median":1}`), units.ErrNotWritten, `"median"`},
		{"k twice", read(new(stack.Distribution), `{"kind":"normal","k":3,"k":4,"mean":null,"top":null,"sample":null}`), units.ErrNotWritten, "twice"},
		{"trials that no bin counts", outcome(1, "[0,2,0]"), units.ErrNotWritten, "1 trials in no bin"},
		{"more than all trials", outcome(1, "[2,2,0]"), units.ErrNotWritten, "2 trials in bin 1"},
		{"less than no trials", outcome(1, "[4,0,-1]"), units.ErrNotWritten, "4 trials in bin 0"},
		{"less than no trials, later", outcome(1, "[1,-1,3]"), units.ErrNotWritten, "-1 trials in bin 1"},
		{"no bins", outcome(1, "null"), units.ErrNotWritten, "3 trials in no bin"},
		{"bins of no width", outcome(0, "[0,3,0]"), units.ErrNotWritten, "bins of 0"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: error %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
}
