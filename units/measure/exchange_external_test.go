package measure_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// drawReading draws a reading of any kind.
func drawReading(t *rapid.T) measure.LengthReading {
	nm := func(label string, lo, hi int64) units.Length {
		return units.Nanometre.OfInt(100 * rapid.Int64Range(lo, hi).Draw(t, label))
	}
	must := func(r measure.LengthReading, err error) measure.LengthReading {
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	at := rapid.SampledFrom([]string{"main 1", "main 2", ""}).Draw(t, "at")
	in := measure.LengthInstrument{Name: rapid.SampledFrom([]string{"M", "G", ""}).Draw(t, "name"), Freedom: rapid.IntRange(0, 3).Draw(t, "freedom")}
	if rapid.Bool().Draw(t, "split") {
		in.Common, in.Repeats = nm("common", 0, 50), nm("repeats", 1, 50)
	} else {
		in.Uncertainty = nm("U", 1, 50)
	}
	if rapid.Bool().Draw(t, "set") {
		ring := measure.LengthInstrument{Name: "ring", Common: nm("ring", 1, 20)}
		in.SetOn = must(ring.Read("ring 50", nm("size", 400_000, 500_000)))
	}
	var r measure.LengthReading
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0:
		return r
	case 1:
		r = must(in.Indicate(at, nm("shown", -50, 50)))
	case 2:
		r = must(in.Travel(at, nm("from", -50, 50), nm("to", -50, 50)))
	case 3:
		r = must(in.Read(at, nm("v", 400_000, 400_100), nm("w", 400_000, 400_100)))
	case 4:
		lo := nm("lo", 0, 500)
		r = measure.Given(units.MustInterval(lo, lo.Add(nm("width", 0, 100))), "a drawing")
	case 5:
		set := measure.Feelers{Blades: []units.Length{mm("0.10"), mm("0.15"), mm("0.20")}, Tolerance: nm("tolerance", 0, 20),
			Set: rapid.SampledFrom([]string{"", "set A"}).Draw(t, "set")}
		r = must(set.Gap(at, new(mm("0.10")), new(mm("0.20"))))
	case 6:
		r = measure.Given(units.AtLeast(nm("lo", 0, 500)), "")
	default:
		r = must(in.Read(at, nm("v", 400_000, 500_000)))
	}
	if rapid.Bool().Draw(t, "condition") {
		r = r.With(measure.Condition{What: "shells", Is: "out"})
	}
	if rapid.Bool().Draw(t, "worst") {
		r = atWorst(r)
	}
	return r
}

// A reading survives JSON with all that it hangs together with.
func TestReadingsSurviveJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawReading(t), drawReading(t)
		back := func(r measure.LengthReading) measure.LengthReading {
			text, err := json.Marshal(r)
			if err != nil {
				t.Fatal(err)
			}
			var o measure.LengthReading
			if err := json.Unmarshal(text, &o); err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			again, err := json.Marshal(o)
			if err != nil || string(again) != string(text) {
				t.Fatalf("%s comes back as %s, %v", text, again, err)
			}
			if o.Taken() != r.Taken() || !o.Interval().Equal(r.Interval()) || o.String() != r.String() || o.Problem() != r.Problem() {
				t.Fatalf("%s comes back as %s", r, o)
			}
			if d := cmp.Diff(r.Conditions(), o.Conditions(), cmp.Transformer("none", func(c []measure.Condition) []measure.Condition { return append([]measure.Condition{}, c...) })); d != "" {
				t.Fatal(d)
			}
			return o
		}
		difference := func(a, b measure.LengthReading) measure.LengthReading {
			s := measure.Sum[units.LengthDim]{Name: "difference", Terms: []measure.Term[units.LengthDim]{measure.Plus("a", "a", a), measure.Minus("b", "b", b)}}
			return s.Reading()
		}
		before, after := difference(a, b), difference(back(a), back(b))
		if !before.Interval().Equal(after.Interval()) {
			t.Fatalf("a - b was %s, and is %s", before.Interval(), after.Interval())
		}
		back(before)
	})
}

// A key that is not there, that is unknown or that stands twice is an error, each of
// them in turn.
func TestReadingsWithoutAKey(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Common: mm("0.003"), Repeats: mm("0.001")}
	r := read(t, m, "journal", "47.986").With(measure.Condition{What: "bolts", Is: "loose"})
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	keys := regexp.MustCompile(`"[a-z_]+":`).FindAllStringIndex(string(text), -1)
	if len(keys) < 20 {
		t.Fatalf("only %d keys in %s", len(keys), text)
	}
	for _, at := range keys {
		key := string(text[at[0]:at[1]])
		for name, altered := range map[string]string{
			"unknown": string(text[:at[0]]) + `"x` + key[1:] + string(text[at[1]:]),
			"twice":   string(text[:at[0]]) + key + `null,` + string(text[at[0]:]),
		} {
			var o measure.LengthReading
			err := json.Unmarshal([]byte(altered), &o)
			if !errors.Is(err, units.ErrNotWritten) {
				t.Errorf("%s %s: %v", key, name, err)
			}
			if o.Taken() {
				t.Errorf("%s %s: a reading was stored", key, name)
			}
		}
	}
	for _, text := range []string{`{}`, `[]`, `""`, `{"acts":[]}`, fmt.Sprint(1)} {
		var o measure.LengthReading
		if err := json.Unmarshal([]byte(text), &o); err == nil {
			t.Errorf("%s is a reading", text)
		}
	}
}
