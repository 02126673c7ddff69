package fasteners_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

var (
	mm       = units.MustParseLength
	interval = units.MustParseLengthInterval
)

func second[T any](_ T, err error) error { return err }

// given is the reading of an interval; of no text, one that was not taken.
func given(text string) measure.LengthReading {
	if text == "" {
		return measure.LengthReading{}
	}
	return measure.Given(interval(text), "")
}

func taken(t testing.TB, in measure.LengthInstrument, at, size string) measure.LengthReading {
	t.Helper()
	r, err := in.Read(at, mm(size))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// outcome is what a size says of a bolt that has nothing else against it.
func outcome(r measure.LengthReading, limits units.LengthInterval) fasteners.Reuse {
	reuse, _, err := fasteners.Inspect(good(), measure.Assess(r, limits))
	if err != nil {
		panic(err)
	}
	return reuse
}

func TestStretch(t *testing.T) {
	tests := []struct {
		name         string
		now, whenNew string
		limits       string
		stretch      string
		want         fasteners.Reuse
	}{
		// 61.11 - 60.99 = 0.12, 61.13 - 60.97 = 0.16.
		{"within", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "<= 0.16 mm", "0.12..0.16 mm", fasteners.Reusable},
		{"within, bound touching", "61.12 mm", "61 mm", "<= 0.12 mm", "0.12 mm", fasteners.Reusable},
		{"beyond", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "<= 0.11 mm", "0.12..0.16 mm", fasteners.Replace},
		{"between", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "<= 0.15 mm", "0.12..0.16 mm", fasteners.Undecided},
		{"lower bound touching", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "<= 0.12 mm", "0.12..0.16 mm", fasteners.Undecided},
		{"inches", "2.4 ±0.0005 in", "2.395 ±0.0005 in", "<= 0.006 in", "0.004..0.006 in", fasteners.Reusable},
		{"none at all allowed", "61.12 ±0.01 mm", "60.98 ±0.01 mm", "<= 0 mm", "0.12..0.16 mm", fasteners.Replace},
		// 62.08 - 62.15 = -0.07, and a bolt does not get shorter.
		{"nominal with its tolerance", "62.10 ±0.02 mm", "62 ±0.15 mm", "<= 0.2 mm", "0..0.27 mm", fasteners.Undecided},
		{"only an upper bound, and that is enough", "<= 60.05 mm", "60 mm", "<= 0.1 mm", "0..0.05 mm", fasteners.Reusable},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := fasteners.Stretch(given(test.now), given(test.whenNew)).Reading()
			if !r.Interval().Equal(interval(test.stretch)) {
				t.Errorf("stretch %v, want %s", r.Interval(), test.stretch)
			}
			if got := outcome(r, interval(test.limits)); got != test.want {
				t.Errorf("%v, want %v", got, test.want)
			}
		})
	}
}

// A micrometer of common 0.004 and repeats 0.003 mm, by hand. Read twice with it, the common
// part cancels: U = √(3² + 3²) = 4.2427 µm, rounded up to a tenth of a nanometre. Its unsplit
// 0.005 mm may have either sign in each reading: 0.005 + 0.005. Two micrometers without
// anything in common: √(5² + 5²) = 7.0711 µm.
func TestStretchByOneMicrometer(t *testing.T) {
	split := measure.LengthInstrument{Name: "M", Common: mm("0.004 mm"), Repeats: mm("0.003 mm")}
	whole := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.005 mm")}
	other := measure.LengthInstrument{Name: "N", Uncertainty: mm("0.005 mm")}
	for _, test := range []struct {
		name        string
		now, before measure.LengthInstrument
		want        string
	}{
		{"split", split, split, "0.0042427 mm"},
		{"unsplit", whole, whole, "0.01 mm"},
		{"another", whole, other, "0.0070711 mm"},
	} {
		r := fasteners.Stretch(taken(t, test.now, "bolt 3, now", "61.12 mm"), taken(t, test.before, "bolt 3, new", "61.01 mm")).Reading()
		if got := r.Expanded(); !r.Bracket().Equal(interval("0.11 mm")) || !got.Equal(mm(test.want)) {
			t.Errorf("%s: %v ± %v, want 0.11 ± %s", test.name, r.Bracket(), got, test.want)
		}
	}
}

// Readings that contradict themselves prove nothing, whatever the limits, and say so: a bolt
// that got shorter by more than its doubt, a waist thicker than its shank.
func TestContradictions(t *testing.T) {
	for name, size := range map[string]*measure.Sum[units.LengthDim]{
		"shorter than new":       fasteners.Stretch(given("59.97 ±0.01 mm"), given("60 mm")),
		"thicker than its shank": fasteners.NeckDown(given("8.90 ±0.01 mm"), given("8.95 ±0.01 mm")),
	} {
		r := size.Reading()
		if got := outcome(r, interval("<= 0.1 mm")); got != fasteners.Undecided || r.Problem() == "" {
			t.Errorf("%s: %v, %q", name, got, r.Problem())
		}
	}
}

func TestNeckDownAndDiameter(t *testing.T) {
	neck := func(shank, thinnest string) measure.LengthReading {
		return fasteners.NeckDown(given(shank), given(thinnest)).Reading()
	}
	tests := []struct {
		name             string
		measured         measure.LengthReading
		limits, interval string
		want             fasteners.Reuse
	}{
		{"necked within", neck("8.90 ±0.01 mm", "8.86 ±0.01 mm"), "<= 0.06 mm", "0.02..0.06 mm", fasteners.Reusable},
		{"necked beyond", neck("8.90 ±0.01 mm", "8.70 ±0.01 mm"), "<= 0.1 mm", "0.18..0.22 mm", fasteners.Replace},
		{"necked perhaps", neck("8.90 ±0.01 mm", "8.80 ±0.01 mm"), "<= 0.1 mm", "0.08..0.12 mm", fasteners.Undecided},
		{"thick enough", given("0.6243..0.6245 in"), ">= 0.6242 in", "0.6243..0.6245 in", fasteners.Reusable},
		{"at the limit", given("0.6242 in"), ">= 0.6242 in", "0.6242 in", fasteners.Reusable},
		{"too thin", given("0.6239..0.6241 in"), ">= 0.6242 in", "0.6239..0.6241 in", fasteners.Replace},
		{"perhaps too thin", given("0.6241..0.6243 in"), ">= 0.6242 in", "0.6241..0.6243 in", fasteners.Undecided},
		{"too short for its length", given("59.90..59.92 mm"), "60.0..60.4 mm", "59.90..59.92 mm", fasteners.Replace},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if !test.measured.Interval().Equal(interval(test.interval)) {
				t.Errorf("measured %v, want %s", test.measured.Interval(), test.interval)
			}
			if got := outcome(test.measured, interval(test.limits)); got != test.want {
				t.Errorf("%v, want %v", got, test.want)
			}
		})
	}
}

// An unmeasured bolt never passes, nor does one whose limits nobody said: no reading, no limit,
// no answer and no check is Reusable.
func TestSilenceAboutABolt(t *testing.T) {
	for name, got := range map[string]fasteners.Reuse{
		"no length now":      outcome(fasteners.Stretch(given(""), given("60 ±0.01 mm")).Reading(), interval("<= 0.1 mm")),
		"no length when new": outcome(fasteners.Stretch(given("60 ±0.01 mm"), given("")).Reading(), interval("<= 0.1 mm")),
		"no thinnest place":  outcome(fasteners.NeckDown(given("8 mm"), given("")).Reading(), interval("<= 0.1 mm")),
		"no shank":           outcome(fasteners.NeckDown(given(""), given("8 mm")).Reading(), interval("<= 0.1 mm")),
		"no diameter":        outcome(given(""), interval(">= 8 mm")),
		"no limit":           outcome(given("60 mm"), units.LengthInterval{}),
		"a limit of zero":    outcome(given("8 mm"), units.AtLeast(units.Length{})),
		"any length":         outcome(given("8 mm"), interval("any length")),
	} {
		if got != fasteners.Undecided {
			t.Errorf("%s: %v", name, got)
		}
	}
	if got, findings, err := fasteners.Inspect(good(), measure.Assessment[units.LengthDim]{}); err != nil || got != fasteners.Undecided || len(findings) != 1 {
		t.Errorf("an assessment that nobody made: %v, %v, %v", got, findings, err)
	}
	if got, findings, err := fasteners.Inspect(nil); err != nil || got != fasteners.Undecided || len(findings) != len(fasteners.Questions()) {
		t.Errorf("no answer: %v, %v, %v", got, findings, err)
	}
}

// A decided bolt stays decided, and the same, when a reading becomes narrower.
func TestNarrowerReadingKeepsTheAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		micron := func(n int64) units.Length { return units.Micrometre.OfInt(n) }
		lo := rapid.Int64Range(50_000, 51_000).Draw(t, "lo")
		hi := rapid.Int64Range(lo, lo+500).Draw(t, "hi")
		in := rapid.Int64Range(lo, hi).Draw(t, "inner lo")
		out := rapid.Int64Range(in, hi).Draw(t, "inner hi")
		limits := units.AtMost(micron(rapid.Int64Range(0, 1_500).Draw(t, "limit")))
		of := func(lo, hi int64) fasteners.Reuse {
			now := measure.Given(units.MustInterval(micron(lo), micron(hi)), "")
			return outcome(fasteners.Stretch(now, given("50 mm")).Reading(), limits)
		}
		if wide, narrow := of(lo, hi), of(in, out); wide != fasteners.Undecided && narrow != wide {
			t.Fatalf("wide %v, narrow %v", wide, narrow)
		}
	})
}

// One check that condemns a bolt outweighs all others; one that is open outweighs those that pass.
func TestInspectSizes(t *testing.T) {
	assess := func(size, limits string) measure.Assessment[units.LengthDim] {
		return measure.Assess(given(size), interval(limits))
	}
	fits, open, long := assess("60.05 mm", "<= 60.1 mm"), assess("60.05..60.15 mm", "<= 60.1 mm"), assess("60.2..60.3 mm", "<= 60.1 mm")
	for _, test := range []struct {
		name     string
		mark     bool
		sizes    []measure.Assessment[units.LengthDim]
		want     fasteners.Reuse
		findings []string
	}{
		{"all fit", true, []measure.Assessment[units.LengthDim]{fits, fits}, fasteners.Reusable, nil},
		{"one is open", true, []measure.Assessment[units.LengthDim]{fits, open}, fasteners.Undecided,
			[]string{"size 2: undecided: 60.05..60.15 mm, limits <= 60.1 mm"}},
		{"one is open, one too long", true, []measure.Assessment[units.LengthDim]{open, long, fits}, fasteners.Replace,
			[]string{"size 1: undecided: 60.05..60.15 mm, limits <= 60.1 mm", "size 2: replace: 60.2..60.3 mm, limits <= 60.1 mm"}},
		{"not measured", true, []measure.Assessment[units.LengthDim]{measure.Assess(given(""), interval("<= 60.1 mm"))}, fasteners.Undecided,
			[]string{"size 1: undecided: none, limits <= 60.1 mm"}},
		{"no mark, and all fit", false, []measure.Assessment[units.LengthDim]{fits}, fasteners.Undecided,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it"}},
		{"no mark, and too long", false, []measure.Assessment[units.LengthDim]{long}, fasteners.Replace,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it", "size 1: replace: 60.2..60.3 mm, limits <= 60.1 mm"}},
	} {
		answers := good()
		answers["mark"] = test.mark
		got, findings, err := fasteners.Inspect(answers, test.sizes...)
		if err != nil || got != test.want {
			t.Errorf("%s: %v, %v; want %v", test.name, got, err, test.want)
		}
		if d := cmp.Diff(test.findings, findings); d != "" {
			t.Errorf("%s: %s", test.name, d)
		}
	}
}

// good returns the answers of a bolt with nothing against it.
func good() map[string]bool {
	answers := map[string]bool{}
	for _, q := range fasteners.Questions() {
		answers[q.Key] = q.Good
	}
	return answers
}

func TestInspect(t *testing.T) {
	const yes, no = true, false
	tests := []struct {
		name     string
		change   func(map[string]bool)
		want     fasteners.Reuse
		findings []string
	}{
		{"nothing against it", func(map[string]bool) {}, fasteners.Reusable, nil},
		{"yielded", func(a map[string]bool) { a["single-use"] = yes }, fasteners.Replace,
			[]string{"single-use: replace: a yielded bolt is scrap: it has used up stretch that it needs next time"}},
		{"nut binds", func(a map[string]bool) { a["runs"] = no }, fasteners.Replace,
			[]string{"runs: replace: the thread is stretched or damaged"}},
		{"no mark", func(a map[string]bool) { a["mark"] = no }, fasteners.Undecided,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it"}},
		{"not looked at", func(a map[string]bool) { delete(a, "straight") }, fasteners.Undecided,
			[]string{"straight: not answered: Rolled on a flat plate, does it run straight?"}},
		{"pits and no mark", func(a map[string]bool) { a["mark"], a["pits"] = no, yes }, fasteners.Replace,
			[]string{"mark: undecided: nobody knows what the bolt bears; find out or replace it", "pits: replace: cracks start at pits"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			answers := good()
			test.change(answers)
			got, findings, err := fasteners.Inspect(answers)
			if err != nil {
				t.Fatal(err)
			}
			if got != test.want {
				t.Errorf("%v, want %v", got, test.want)
			}
			if d := cmp.Diff(test.findings, findings); d != "" {
				t.Error(d)
			}
		})
	}
	if got, _, err := fasteners.Inspect(map[string]bool{"colour": yes}); !errors.Is(err, fasteners.ErrImpossible) || got != fasteners.Undecided {
		t.Errorf("an unknown question: %v, %v", got, err)
	}
}

// A number that is none of the constants has no word, the first one above them among others.
func TestReuseOutOfRange(t *testing.T) {
	for r, want := range map[fasteners.Reuse]string{fasteners.Replace: "replace", fasteners.Replace + 1: "Reuse(3)", -1: "Reuse(-1)"} {
		if got := r.String(); got != want {
			t.Errorf("%d: %q, want %q", int(r), got, want)
		}
	}
}
