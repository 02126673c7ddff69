package measure_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"strings"
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

// Stations come back with their readings and claims, and are refused where a reading is
// missing or a claim cannot be made of them.
func TestStationsAreExchanged(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	s, err := measure.NewStations([][]measure.LengthReading{{read(t, m, "1", "60"), read(t, m, "2", "60.008")}}, measure.OutOfRound)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back measure.Stations[units.LengthDim]
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	want, got := s.Find(measure.OutOfRound).Interval(), back.Find(measure.OutOfRound).Interval()
	if want.IsEmpty() || !got.Equal(want) {
		t.Errorf("%s, want %s", got, want)
	}
	if err := json.Unmarshal([]byte(`{"planes":[[]],"claims":["out of round"]}`), &back); err == nil {
		t.Error("stations without a reading are read")
	}
}

// What no function of the package could have made is refused, and leaves what was there.
func TestReadingsThatCannotBe(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Common: mm("0.003"), Repeats: mm("0.001")}
	one := asText(t, read(t, m, "journal", "47.986"))
	sum := measure.Sum[units.LengthDim]{Name: "sum", Terms: []measure.Term[units.LengthDim]{measure.Plus("a", "a", read(t, m, "a", "10")), measure.Plus("b", "b", read(t, m, "b", "20"))}}
	two := asText(t, sum.Reading())
	for _, c := range []struct{ name, text, from, to string }{
		{"a value of one figure", one, `"seen":["47.986 mm","0 mm"]`, `"seen":["47.986 mm"]`},
		{"a value of three", one, `"seen":["47.986 mm","0 mm"]`, `"seen":["47.986 mm","0 mm","0 mm"]`},
		{"freedom below zero", one, `"stated":"0 mm","freedom":0`, `"stated":"0 mm","freedom":-1`},
		{"an uncertainty below zero", one, `"stated":"0 mm"`, `"stated":"-0.001 mm"`},
		{"nothing that was done", one, `"means":"value"`, `"means":""`},
		{"something else that was done", one, `"means":"value"`, `"means":"guess"`},
		{"a doubt's freedom below zero", one, `"hi":"0.003 mm","freedom":0`, `"hi":"0.003 mm","freedom":-1`},
		{"a spread with two ends", one, `"hi":"0.003 mm"`, `"hi":"0.002 mm"`},
		{"a doubt of no kind", one, `"kind":"common"`, `"kind":"rare"`},
		{"a bracket the wrong way round", one, `"bracket":{"lo":"47.986 mm"`, `"bracket":{"lo":"48 mm"`},
		{"one act that counts twice", one, `"factor":"1"`, `"factor":"2"`},
		{"one act with a condition not met", one, `"unmet":null`, `"unmet":["bolts loose"]`},
		{"one act of stations", one, `"of_stations":false`, `"of_stations":true`},
		{"two acts without words", two, `"words":"sum"`, `"words":null`},
		{"words about nothing", two, two[strings.Index(two, `"acts":`):strings.Index(two, `,"words"`)], `"acts":[]`},
	} {
		altered := strings.Replace(c.text, c.from, c.to, 1)
		if altered == c.text {
			t.Errorf("%s: %s does not stand in %s", c.name, c.from, c.text)
		}
		var o measure.LengthReading
		if err := json.Unmarshal([]byte(altered), &o); err == nil || o.Taken() {
			t.Errorf("%s: %v, %v", c.name, o, err)
		}
	}
	// With words, one act may count twice.
	var o measure.LengthReading
	if err := json.Unmarshal([]byte(strings.Replace(strings.Replace(one, `"factor":"1"`, `"factor":"2"`, 1), `"words":null`, `"words":"twice"`, 1)), &o); err != nil || !o.Interval().Contains(mm("95.972")) {
		t.Errorf("twice 47.986 mm: %s, %v", o, err)
	}
}

func asText(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A verdict that neither rule gives is refused: 10.001 ± 0.002 mm is undecided, and by its
// best estimate conforming.
func TestVerdictThatDoesNotFollow(t *testing.T) {
	m := measure.LengthInstrument{Name: "micrometer", Uncertainty: mm("0.002")}
	text := asText(t, measure.Assess(read(t, m, "size", "10.001"), span("10..10.01")))
	for verdict, follows := range map[string]bool{"undecided": true, "conforming": true, "below limit": false, "above limit": false} {
		var a measure.Assessment[units.LengthDim]
		err := json.Unmarshal([]byte(strings.Replace(text, `"undecided"`, `"`+verdict+`"`, 1)), &a)
		if (err == nil) != follows || follows && a.Verdict.String() != verdict {
			t.Errorf("%s: %s, %v", verdict, a.Verdict, err)
		}
	}
}
