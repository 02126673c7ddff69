package stack_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A stack that was written and read has the same probabilities.
func TestStackSurvivesJSON(t *testing.T) {
	s := mustStack(t, endPlayParts()...)
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
	write := func(v any) error { _, err := json.Marshal(v); return err }
	law, err := normals(t).Law()
	if err != nil {
		t.Fatal(err)
	}
	var none stack.Stack
	_, distributed := none.Law()
	_, simulated := none.SimulateFunc(t.Context(), func([]float64) float64 { return 0 }, anything, stack.Simulation{Trials: 10})
	_, _, quantile := new(stack.Outcome).Quantile(0.5)
	if got := none.WorstCase().Interval(); !got.IsEmpty() {
		t.Errorf("no stack has a gap of %s", got)
	}
	outcome := func(histogram string) error {
		return read(new(stack.Outcome), `{"trials":3,"mean":1,"stdDev":1,"min":0,"max":2,"below":0,"above":0,"outside":null,"uncertainty":null,"histogram":`+histogram+`}`)
	}
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"no stack", write(stack.Stack{}), measure.ErrEmpty, "New"},
		{"distribution of no stack", distributed, measure.ErrEmpty, "New"},
		{"function of no stack", simulated, measure.ErrEmpty, "New"},
		{"quantile of no outcome", quantile, measure.ErrEmpty, "Simulate"},
		{"no outcome", write(stack.Outcome{}), measure.ErrEmpty, "Simulate"},
		{"a law", write(law), units.ErrNotWritten, "its Stack"},
		{"a law by value", write(*law), units.ErrNotWritten, "its Stack"},
		{"a law to read", read(new(stack.Law), `{"Mean":"1 mm","StdDev":"0.1 mm"}`), units.ErrNotWritten, "read its Stack"},
		{"stack of none", read(new(stack.Stack), `{"contributors":[]}`), measure.ErrEmpty, "give the sizes"},
		{"stack that New refuses", read(new(stack.Stack), `{"contributors":[{"name":"a","sensitivity":"0","nominal":"1 mm","limits":"1 ±0.1 mm","distribution":null,"fixed":false}]}`), stack.ErrUnusable, "+1 if it opens"},
		{"stack of one limit", read(new(stack.Stack), `{"contributors":[{"name":"a","sensitivity":"1","nominal":"1 mm","limits":null,"distribution":null,"fixed":false}]}`), stack.ErrUnusable, "both limits"},
		{"unknown kind", read(new(stack.Distribution), `{"kind":"gaussian","k":3,"sample":null}`), units.ErrNotWritten, `"normal within limits"`},
		{"kind of none", read(new(stack.Distribution), `{"kind":"none","k":null,"sample":null}`), units.ErrNotWritten, "null for no distribution"},
		{"normal without k", read(new(stack.Distribution), `{"kind":"normal","k":null,"sample":null}`), units.ErrNotWritten, `"k" with "normal"`},
		{"uniform with k", read(new(stack.Distribution), `{"kind":"uniform","k":3,"sample":null}`), units.ErrNotWritten, `"k" with "uniform"`},
		{"sample without values", read(new(stack.Distribution), `{"kind":"sample","k":null,"sample":null}`), units.ErrNotWritten, "measured values"},
		{"another key", read(new(stack.Distribution), `{"kind":"uniform","k":null,"sample":null,"mean":1}`), units.ErrNotWritten, `"mean"`},
		{"k twice", read(new(stack.Distribution), `{"kind":"normal","k":3,"k":4,"sample":null}`), units.ErrNotWritten, "twice"},
		{"trials that no bin counts", outcome(`{"first":0,"width":1,"counts":[[3,2]]}`), units.ErrNotWritten, "1 trials"},
		{"more than all trials", outcome(`{"first":0,"width":1,"counts":[[3,2],[4,2]]}`), units.ErrNotWritten, "2 in bin 4"},
		{"bins out of order", outcome(`{"first":0,"width":1,"counts":[[4,2],[3,1]]}`), units.ErrNotWritten, "1 in bin 3"},
		{"a bin that there is not", outcome(`{"first":0,"width":1,"counts":[[16386,3]]}`), units.ErrNotWritten, "bin 16386"},
		{"bins of no width", outcome(`{"first":0,"width":0,"counts":[[3,3]]}`), units.ErrNotWritten, "bins of 0"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: error %v, want kind %v saying %q", test.name, test.err, test.kind, test.says)
		}
	}
}
