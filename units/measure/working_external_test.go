package measure_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// calculator works out what a working prints, as a person with a pocket calculator
// does: numbers, + - × · / ( ) ² √.
type calculator struct {
	t    rapid.TB
	text string
}

func (c *calculator) fail() { c.t.Fatalf("cannot work out %q", c.text) }

func (c *calculator) take(s string) bool {
	rest, ok := strings.CutPrefix(strings.TrimLeft(c.text, " "), s)
	if ok {
		c.text = rest
	}
	return ok
}

func (c *calculator) sum() float64 {
	total := c.product()
	for {
		switch {
		case c.take("+"):
			total += c.product()
		case c.take("-"):
			total -= c.product()
		default:
			return total
		}
	}
}

func (c *calculator) product() float64 {
	total := c.factor()
	for {
		switch {
		case c.take("×"), c.take("·"):
			total *= c.factor()
		case c.take("/"):
			total /= c.factor()
		default:
			return total
		}
	}
}

func (c *calculator) factor() float64 {
	var v float64
	switch {
	case c.take("-"):
		return -c.factor()
	case c.take("√("):
		v = math.Sqrt(c.sum())
		if !c.take(")") {
			c.fail()
		}
	case c.take("("):
		v = c.sum()
		if !c.take(")") {
			c.fail()
		}
	default:
		text := strings.TrimLeft(c.text, " ≈")
		n := 0
		for n < len(text) && (text[n] >= '0' && text[n] <= '9' || text[n] == '.') {
			n++
		}
		var err error
		if v, err = strconv.ParseFloat(text[:n], 64); err != nil {
			c.fail()
		}
		c.text = text[n:]
	}
	if c.take("²") {
		v *= v
	}
	return v
}

// addsUp fails unless what the working prints follows from what it prints: each
// step's result from its numbers, the root from the results of the steps, the result
// from value and root.
func addsUp(t rapid.TB, w units.Working, terms int) {
	t.Helper()
	result := func(s units.Working) (lo, hi float64, ok bool) {
		text, ok := strings.CutSuffix(s.Result, " mm")
		if !ok {
			return 0, 0, s.Result == "0: it cancels"
		}
		from, to, two := strings.Cut(text, "..")
		if !two {
			to = from
		}
		lo = (&calculator{t, from}).sum()
		hi = (&calculator{t, to}).sum()
		return lo, hi, true
	}
	const close = 4e-7
	var lo, hi, root, most float64
	for _, s := range w.Steps[terms:] {
		got, _, ok := result(s)
		if !ok {
			t.Fatalf("%s: no number in the result %q\n%s", s.Name, s.Result, w)
		}
		if s.Numbers != "" {
			c := calculator{t, s.Numbers}
			if want := c.sum(); c.text != "" || math.Abs(want-got) > close {
				t.Fatalf("%s: %s is %.7f, and printed as %s\n%s", s.Name, s.Numbers, want, s.Result, w)
			}
		}
		switch {
		case s.Name == "value":
			lo, hi = got, got
		case s.Name == "smallest":
			lo = got
		case s.Name == "largest":
			hi = got
		case strings.HasPrefix(s.Name, "expanded uncertainty"):
			want := math.Sqrt(root)
			if strings.HasSuffix(s.Name, "at its worst") {
				want = most
			}
			if math.Abs(want-got) > close {
				t.Fatalf("the steps give %.7f, and U is %s\n%s", want, s.Result, w)
			}
			lo, hi = lo-got, hi+got
		default:
			root, most = root+got*got, most+got
		}
	}
	from, to, ok := result(w)
	if !ok || math.Abs(from-lo) > close || math.Abs(to-hi) > close {
		t.Fatalf("the steps give %.7f..%.7f, and the result is %s\n%s", lo, hi, w.Result, w)
	}
}

// Every number that a working prints follows from the others that it prints.
func TestWorkingAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := measure.Sum[units.LengthDim]{Name: "s", Symbol: "s", AtWorst: rapid.Bool().Draw(t, "worst")}
		m := measure.LengthInstrument{Name: "M", Common: mm("0.003"), Repeats: mm("0.0011"), Freedom: rapid.IntRange(0, 2).Draw(t, "freedom of M")}
		if rapid.Bool().Draw(t, "M not split") {
			m = measure.LengthInstrument{Name: "M", Uncertainty: mm("0.0033")}
		}
		g := measure.LengthInstrument{Name: "G", Repeats: mm("0.0007"), SetOn: read(t, m, "setting", "60")}
		h := g
		h.Common, h.Setting = mm("0.0004"), "after lunch"
		n := rapid.IntRange(1, 5).Draw(t, "terms")
		for i := range n {
			r := drawReading(t)
			if which := rapid.IntRange(0, 4).Draw(t, "which"); which < 3 {
				in := []measure.LengthInstrument{m, g, h}[which]
				r = read(t, in, rapid.SampledFrom([]string{"a", "b", ""}).Draw(t, "at"), rapid.SampledFrom([]string{"60.01", "60.02"}).Draw(t, "value"))
			}
			if !r.Taken() || !r.Bracket().Bounded() {
				r = measure.Given(span("1..2"), "a drawing")
			}
			f := rapid.SampledFrom([]int64{1, -1, 2, -3}).Draw(t, "factor")
			s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Symbol: string(rune('a' + i)), Factor: units.One.OfInt(f), Reading: r})
		}
		for _, step := range s.Working(units.Millimetre).Steps[n:] {
			if len(step.Notes) > 0 {
				return // a piece that two terms share: shown in words
			}
		}
		addsUp(t, s.Working(units.Millimetre), n)
	})
}

// A term that counts not at all may lack any bound.
func TestWorkingOfAFactorOfZero(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	for _, r := range []measure.LengthReading{measure.Given(units.AtLeast(mm("1")), "a blade"), measure.Given(units.AtMost(mm("1")), "a strip")} {
		s := sumOf([]measure.LengthReading{read(t, m, "a", "60")}, nil)
		s.Terms = append(s.Terms, measure.Term[units.LengthDim]{Symbol: "b", Reading: r})
		w := s.Working(units.Millimetre)
		if !strings.Contains(w.Text(), "60 + 0·b") || !strings.Contains(w.Result, "59.997..60.003") {
			t.Errorf("working:\n%s", w)
		}
	}
}

// An uncertainty with few degrees of freedom is not one at k = 2.
func TestWorkingNamesTheCoverage(t *testing.T) {
	for freedom, want := range map[int]string{0: "expanded uncertainty, k = 2, rounded up", 3: "expanded uncertainty, 95.45 %, rounded up"} {
		m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003"), Freedom: freedom}
		s := sumOf([]measure.LengthReading{read(t, m, "a", "60")}, nil)
		w := s.Working(units.Millimetre)
		if got := w.Steps[len(w.Steps)-1].Name; got != want {
			t.Errorf("%d degrees of freedom: %q, want %q", freedom, got, want)
		}
	}
}

// A bracket less itself is nothing, exactly: what one blade leaves open cancels. Its
// working shows both ends, and not a difference of two lower ends.
func TestWorkingOfWhatCancels(t *testing.T) {
	gap := good[units.LengthDim](t)(measure.Feelers{Set: "set", Blades: []units.Length{mm("0.10"), mm("0.15")}}.Gap("gap 1", new(mm("0.10")), new(mm("0.15"))))
	s := sumOf([]measure.LengthReading{gap}, []measure.LengthReading{gap})
	w := s.Working(units.Millimetre)
	for _, says := range []string{"0.1 - 0.15\n", "0.15 - 0.1\n", "-0.05..0.05 mm becomes 0 mm"} { // by hand
		if w.Result != "0 mm" || !strings.Contains(w.Text(), says) {
			t.Errorf("a gap less itself does not say %q:\n%s", says, w.Text())
		}
	}
}

// A working says what is missing, what was not met, and what the quantity cannot be.
func TestWorkingSaysWhatIsWrong(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	a, b := read(t, m, "a", "60"), read(t, m, "b", "59.95")
	term := func(symbol, name string, r measure.LengthReading, needs ...measure.Condition) measure.Term[units.LengthDim] {
		return measure.Term[units.LengthDim]{Symbol: symbol, Name: name, Factor: units.One.OfInt(1), Reading: r, Needs: needs}
	}
	tight := measure.Condition{What: "bolts", Is: "tight"}
	contrary := measure.Compare(a, read(t, m, "c", "61")).Best()
	for name, c := range map[string]struct {
		s         measure.Sum[units.LengthDim]
		says, not []string
	}{
		"all there":          {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("a", "bore", a), term("b", "shaft", b)}}, []string{"JCGM 100:2008, 5.2.2"}, []string{"not measured", "= not known", "below zero"}},
		"one missing":        {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("a", "bore", a), term("b", "shaft", measure.LengthReading{})}}, []string{"not known", "shaft was not measured"}, []string{"bore was not", "JCGM"}},
		"one without name":   {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("b", "", measure.LengthReading{})}}, []string{"b was not measured"}, nil},
		"no terms":           {measure.Sum[units.LengthDim]{}, []string{"not known"}, []string{"JCGM"}},
		"loose bolts":        {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("a", "bore", a, tight), term("b", "shaft", b)}}, []string{"bore: bolts: tight is needed, and not stated"}, []string{"shaft: "}},
		"a contradiction":    {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("a", "bore", contrary)}}, []string{contrary.Problem()}, nil},
		"no play below zero": {measure.Sum[units.LengthDim]{NonNegative: true, Terms: []measure.Term[units.LengthDim]{term("a", "bore", a)}}, []string{"it cannot be below zero"}, nil},
		"certain":            {measure.Sum[units.LengthDim]{Terms: []measure.Term[units.LengthDim]{term("a", "bore", measure.Given(span("1..2"), "a drawing"))}}, []string{"interval arithmetic"}, []string{"JCGM"}},
	} {
		text := c.s.Working(units.Millimetre).Text()
		for _, says := range c.says {
			if !strings.Contains(text, says) {
				t.Errorf("%s: lacks %q:\n%s", name, says, text)
			}
		}
		for _, not := range c.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: says %q:\n%s", name, not, text)
			}
		}
	}
}
