package stack_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func distributions() *rapid.Generator[stack.Distribution] {
	return rapid.Custom(func(t *rapid.T) stack.Distribution {
		k := float64(rapid.IntRange(10, 99_999).Draw(t, "k, in thousandths")) / 1000
		var sample []units.Length
		for range rapid.IntRange(2, 5).Draw(t, "measured") {
			sample = append(sample, units.Nanometre.OfInt(rapid.Int64Range(1_990_000, 2_010_000).Draw(t, "value, nm")))
		}
		return rapid.SampledFrom([]stack.Distribution{{}, stack.Uniform(), stack.Normal(k), stack.NormalWithin(k),
			stack.Triangular(), stack.Arcsine(), stack.Sample(sample...)}).Draw(t, "distribution")
	})
}

func contributors() *rapid.Generator[stack.Contributor] {
	return rapid.Custom(func(t *rapid.T) stack.Contributor {
		return stack.Contributor{
			Name:         rapid.String().Draw(t, "name"),
			Sensitivity:  units.One.OfInt(rapid.Int64Range(1, 9999).Draw(t, "sensitivity")).MulRat(units.Percent.OfInt(-1).Rat(units.One)),
			Nominal:      units.Micrometre.OfInt(rapid.Int64Range(-9000, 9000).Draw(t, "nominal, µm")),
			Limits:       units.PlusMinus(mm("2 mm"), units.Nanometre.OfInt(rapid.Int64Range(10_000, 90_000).Draw(t, "half width, nm"))),
			Distribution: distributions().Draw(t, "distribution"),
			Fixed:        rapid.Bool().Draw(t, "fixed"),
		}
	})
}

// survives fails unless a value comes back from JSON as it was, and each of its keys
// is missed when it is not there.
func survives[T any](t interface {
	Helper()
	Fatalf(string, ...any)
}, v T) (read T) {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%+v: %v", v, err)
	}
	if err := json.Unmarshal(text, &read); err != nil {
		t.Fatalf("%s is not read: %v", text, err)
	}
	if again, err := json.Marshal(read); err != nil || string(again) != string(text) {
		t.Fatalf("%s comes back as %s, %v", text, again, err)
	}
	var keys map[string]json.RawMessage
	if string(text) == "null" || json.Unmarshal(text, &keys) != nil {
		return read
	}
	if len(keys) == 0 {
		t.Fatalf("%T is written as %s", v, text)
	}
	for key := range keys {
		without := map[string]json.RawMessage{}
		for k, v := range keys {
			if k != key {
				without[k] = v
			}
		}
		short, err := json.Marshal(without)
		if err != nil {
			t.Fatalf("%v", err)
		}
		var none T
		if err := json.Unmarshal(short, &none); !errors.Is(err, units.ErrNotWritten) {
			t.Fatalf("%s, without %q: %v", short, key, err)
		}
	}
	return read
}

func TestContributorsSurviveJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := contributors().Draw(t, "contributor")
		survives(t, c.Distribution)
		if read := survives(t, c); !reflect.DeepEqual(read.Distribution, c.Distribution) || read.Fixed != c.Fixed ||
			!read.Limits.Equal(c.Limits) || !read.Nominal.Equal(c.Nominal) || !read.Sensitivity.Equal(c.Sensitivity) {
			t.Fatalf("%+v comes back as %+v", c, read)
		}
	})
	if read := survives(t, stack.Contributor{}); !read.Limits.IsEmpty() {
		t.Errorf("no limits come back as %s", read.Limits)
	}
}

func TestStackSurvivesJSON(t *testing.T) {
	s := mustStack(t, endPlayParts()...)
	read := survives(t, s)
	if !read.WorstCase().Interval().Equal(s.WorstCase().Interval()) {
		t.Errorf("worst case %s", read.WorstCase().Interval())
	}
	before, errBefore := s.Law()
	after, errAfter := read.Law()
	if err := errors.Join(errBefore, errAfter); err != nil {
		t.Fatal(err)
	}
	if p, q := before.Above(mm("0.16 mm")), after.Above(mm("0.16 mm")); p != q {
		t.Errorf("above 0.16 mm: %v, and read again %v", p, q)
	}
	for _, limits := range []string{"0.05..0.16 mm", ">= 0.05 mm"} {
		c, err := before.Capability(tolerance(limits))
		if err != nil {
			t.Fatal(err)
		}
		if read := survives(t, c); !reflect.DeepEqual(read.Below, c.Below) || read.Cpk != c.Cpk || !read.Limits.Equal(c.Limits) {
			t.Errorf("%+v comes back as %+v", c, read)
		}
	}
	for _, limits := range []units.LengthInterval{{}, tolerance("0.05..0.16 mm")} {
		o, err := s.Simulate(t.Context(), limits, stack.Simulation{Trials: 5000, Seed: 3})
		if err != nil {
			t.Fatal(err)
		}
		if read := survives(t, o); summarize(t, read) != summarize(t, o) || (read.Outside == nil) != limits.IsEmpty() {
			t.Errorf("%+v comes back as %+v", o, read)
		}
	}
	a, err := normals(t).Proportional(tolerance("0.94..1.06 mm"), 0.9973)
	if err != nil {
		t.Fatal(err)
	}
	survives(t, a)
	survives(t, stack.Cost{Scale: 0.1, Exponent: 2})
	survives(t, stack.TailProbability{Value: 1e-12, Error: 3e-22, Proven: true})
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
