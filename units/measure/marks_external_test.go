package measure_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

var (
	micrometer    = measure.LengthInstrument{Name: "outside micrometer", Graduation: units.Micrometre.OfInt(1), Uncertainty: units.Micrometre.OfInt(2)}
	dial          = measure.LengthInstrument{Name: "dial", Graduation: units.Micrometre.OfInt(10), Uncertainty: units.Micrometre.OfInt(6)}
	pressureGauge = measure.Instrument[units.PressureDim]{Name: "gauge", Uncertainty: units.MustParse[units.Pressure]("0.5 psi")}
)

func newStrip(t testing.TB) measure.Strip {
	t.Helper()
	return measure.Strip{Prints: lengths("0.025 mm", "0.038 mm", "0.051 mm")}
}

func newFeelers(t testing.TB) measure.Feelers {
	t.Helper()
	return measure.Feelers{Blades: lengths("0.051 mm", "0.076 mm", "0.107 mm", "0.127 mm", "0.152 mm")}
}

func TestReadings(t *testing.T) {
	length := good[units.LengthDim](t)
	pressure := good[units.PressureDim](t)
	strip, feelers := newStrip(t), newFeelers(t)
	for _, test := range []struct {
		name, interval, how string
		got                 measure.LengthReading
	}{
		{"micrometer", "47.984..47.988 mm", "outside micrometer, 47.986 mm ±0.002 mm (k = 2)",
			length(micrometer.Read("", sized("47.986 mm")))},
		{"dial", "0.104..0.116 mm", "dial from 0.31 mm to 0.2 mm ±0.006 mm (k = 2)",
			length(dial.Travel("", sized("0.31 mm"), sized("0.20 mm")))},
		{"dial cut at zero", "0..0.008 mm", "dial from -0.001 mm to 0.001 mm ±0.006 mm (k = 2)",
			length(dial.Travel("", sized("-0.001 mm"), sized("0.001 mm")))},
		{"strip between", "0.025..0.038 mm", "crush strip between its 0.025 mm and 0.038 mm prints",
			length(strip.Read("", within("0.025..0.038 mm")))},
		// 2·0.025·0.038/0.063 = 0.0301587…, and 2·0.038·0.051/0.089 = 0.0435505…
		{"strip nearest", "0.030158..0.0445 mm", "crush strip nearest its 0.038 mm print",
			length(strip.Read("", within("0.038 mm")))},
		{"strip nearest the first", "0..0.0315 mm",
			"crush strip nearest its first print, 0.025 mm; no lower mark",
			length(strip.Read("", within("0.025 mm")))},
		{"strip nearest the last", ">= 0.04355 mm",
			"crush strip nearest its last print, 0.051 mm; no higher mark",
			length(strip.Read("", within("0.051 mm")))},
		{"strip tighter", "0..0.025 mm", "crush strip wider than its first print, 0.025 mm: less clearance, and no lower mark",
			length(strip.Read("", within("<= 0.025 mm")))},
		{"strip looser", ">= 0.051 mm", "crush strip narrower than its last print, 0.051 mm: more clearance, and no higher mark",
			length(strip.Read("", within(">= 0.051 mm")))},
		{"blades", "0.107..0.127 mm", "feeler blades: 0.107 mm goes, 0.127 mm does not",
			length(feelers.Gap("", new(sized("0.107 mm")), new(sized("0.127 mm"))))},
		{"a blade that goes", ">= 0.107 mm", "feeler blades: 0.107 mm goes; no thicker one was tried",
			length(feelers.Gap("", new(sized("0.107 mm")), nil))},
		{"a blade that does not", "0..0.051 mm", "feeler blades: 0.051 mm does not go; no thinner one was tried",
			length(feelers.Gap("", nil, new(sized("0.051 mm"))))},
		{"given", "2.000..2.006 mm", "printed on the box",
			measure.Given(within("2.000..2.006 mm"), "printed on the box")},
	} {
		if !test.got.Interval().Equal(within(test.interval)) {
			t.Errorf("%s: %s, want %s", test.name, test.got.Interval(), test.interval)
		}
		if got := test.got.How(units.Millimetre); got != test.how {
			t.Errorf("%s: how is\n%q, want\n%q", test.name, got, test.how)
		}
	}

	opens := pressure(measure.Valve(&pressureGauge, "", pressed("45 psi"), pressed("52 psi")))
	if got, want := opens.How(units.PoundForcePerSquareInch), "gauge: shut at 45 psi, open at 52 psi ±0.5 psi (k = 2)"; got != want {
		t.Errorf("valve: %q, want %q", got, want)
	}
	limits := units.MustParse[units.PressureInterval]("48..55 psi")
	if got := measure.Judge(opens.Interval(), limits); got != measure.Undecided {
		t.Errorf("a valve that opens somewhere in 45..52 psi is %s", got)
	}
	shut := pressure(measure.Valve(&pressureGauge, "", pressed("56 psi"), nil))
	if got := measure.Judge(shut.Interval(), limits); got != measure.AboveLimit {
		t.Errorf("a valve shut at 56 psi is %s", got)
	}
	open := pressure(measure.Valve(&pressureGauge, "", nil, pressed("47 psi")))
	if got := measure.Judge(open.Interval(), limits); got != measure.BelowLimit {
		t.Errorf("a valve open at 47 psi is %s", got)
	}
}

// An error about a set made in inches is in inches.
func TestErrorsInInches(t *testing.T) {
	feelers := measure.Feelers{Blades: lengths("0.0015 in", "0.002 in", "0.003 in")}
	_, err := feelers.Gap("", new(sized("0.0025 in")), nil)
	const want = "feeler blades: not in the set: 0.0025 in; the nearest are 0.002 in and 0.003 in; give 0.002..0.003 in for between them"
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// A strip and a blade of usual marks against the limits of an invented engine.
func TestUsualMarks(t *testing.T) {
	length := good[units.LengthDim](t)
	limits := within("0.029..0.057 mm")
	if got := measure.Judge(length(newStrip(t).Read("", within("0.038 mm"))).Interval(), limits); got != measure.Conforming {
		t.Errorf("a strip read at 0.038 mm is %s", got)
	}
	if got := measure.Judge(length(newStrip(t).Read("", within("0.025 mm"))).Interval(), limits); got != measure.Undecided {
		t.Errorf("a strip read at 0.025 mm is %s", got)
	}
	endPlay := measure.Assess(length(newFeelers(t).Gap("", new(sized("0.107 mm")), nil)), within("0.10..0.25 mm"))
	if lower, upper := endPlay.Meets(); endPlay.Verdict != measure.Undecided || !lower || upper {
		t.Errorf("end play of at least 0.107 mm is %s, from below %t, from above %t", endPlay.Verdict, lower, upper)
	}
}

func TestBadReadings(t *testing.T) {
	strip, feelers := newStrip(t), newFeelers(t)
	read := func(r measure.LengthReading, err error) error {
		if err != nil && r.Taken() {
			t.Errorf("a reading beside the error %v", err)
		}
		return err
	}
	stripOf := func(widths ...units.Length) error { return measure.Strip{Prints: widths}.Check() }
	feelersOf := func(blades ...units.Length) error { return measure.Feelers{Blades: blades}.Check() }
	pressure := func(_ measure.Reading[units.PressureDim], err error) error { return err }
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"no uncertainty", read((&measure.LengthInstrument{Name: "calliper"}).Read("", sized("5 mm"))), measure.ErrNoUncertainty, "calliper"},
		{"no uncertainty, with a graduation", read((&measure.LengthInstrument{Graduation: sized("0.01 mm")}).Read("", sized("5 mm"))),
			measure.ErrNoUncertainty, "give its expanded uncertainty (k = 2)"},
		{"negative uncertainty", read((&measure.LengthInstrument{Uncertainty: sized("-0.002 mm")}).Read("", sized("5 mm"))), measure.ErrNotPositive, "-0.002 mm"},
		{"negative graduation", read((&measure.LengthInstrument{Graduation: sized("-1 mm"), Uncertainty: sized("1 mm")}).Read("", sized("5 mm"))), measure.ErrNotPositive, "graduation"},
		{"size of zero", read(micrometer.Read("", sized("0 mm"))), measure.ErrNotPositive, "outside micrometer"},
		{"negative size", read(micrometer.Read("", sized("-47.9 mm"))), measure.ErrNotPositive, "-47.9 mm"},
		{"dial without uncertainty", read((&measure.LengthInstrument{}).Travel("", sized("1 mm"), sized("2 mm"))), measure.ErrNoUncertainty, "instrument"},
		{"no prints", stripOf(), measure.ErrEmpty, "crush strip"},
		{"widths out of order", stripOf(sized("0.038 mm"), sized("0.025 mm")), measure.ErrOrder, "0.025 mm after 0.038 mm"},
		{"a width of zero", stripOf(sized("0 mm"), sized("0.025 mm")), measure.ErrNotPositive, "0 mm"},
		{"not a width", read(strip.Read("", within("0.025..0.04 mm"))), measure.ErrNotInSet, "0.038 mm and 0.051 mm"},
		{"not the first width either", read(strip.Read("", within("0.02..0.025 mm"))), measure.ErrNotInSet, "the first is 0.025 mm; give <= 0.025 mm for less"},
		{"nearest to no width", read(strip.Read("", within("0.06 mm"))), measure.ErrNotInSet, "the last is 0.051 mm; give >= 0.051 mm for more"},
		{"not neighbours", read(strip.Read("", within("0.025..0.051 mm"))), measure.ErrNotInSet, "after 0.025 mm is 0.038 mm"},
		{"the nearest of a single print", read(measure.Strip{Prints: lengths("0.038 mm")}.Read("", within("0.038 mm"))), measure.ErrNotInSet, "wider or narrower"},
		{"no print", read(strip.Read("", units.LengthInterval{})), measure.ErrEmpty, "nearest"},
		{"wider than the second print", read(strip.Read("", within("<= 0.038 mm"))), measure.ErrNotInSet, "the first is 0.025 mm"},
		{"narrower than the second print", read(strip.Read("", within(">= 0.038 mm"))), measure.ErrNotInSet, "the last is 0.051 mm"},
		{"prints out of order, read", read(measure.Strip{Prints: lengths("0.038 mm", "0.025 mm")}.Read("", within("0.038 mm"))), measure.ErrOrder, "0.025 mm after 0.038 mm"},
		{"blades out of order, read", read(measure.Feelers{Blades: lengths("0.3 mm", "0.2 mm")}.Gap("", new(sized("0.3 mm")), nil)), measure.ErrOrder, "0.2 mm after 0.3 mm"},
		{"a tolerance below zero, read", read(measure.Feelers{Blades: lengths("0.2 mm"), Tolerance: sized("-0.01 mm")}.Gap("", new(sized("0.2 mm")), nil)), measure.ErrNotPositive, "such as 0.01 mm"},
		{"zero strip", read(measure.Strip{}.Read("", within("<= 0.025 mm"))), measure.ErrEmpty, "smallest first"},
		{"zero strip, looser", read(measure.Strip{}.Read("", within(">= 0.051 mm"))), measure.ErrEmpty, "smallest first"},
		{"zero strip, nearest", read(measure.Strip{}.Read("", within("1 mm"))), measure.ErrEmpty, "smallest first"},
		{"zero feelers", read(measure.Feelers{}.Gap("", new(sized("1 mm")), nil)), measure.ErrEmpty, "smallest first"},
		{"no blades", feelersOf(), measure.ErrEmpty, "feeler blades"},
		{"blades out of order", feelersOf(sized("0.1 mm"), sized("0.3 mm"), sized("0.2 mm")), measure.ErrOrder, "0.2 mm after 0.3 mm"},
		{"a blade twice", feelersOf(sized("0.1 mm"), sized("0.1 mm")), measure.ErrOrder, "0.1 mm after 0.1 mm"},
		{"not a blade", read(feelers.Gap("", new(sized("0.10 mm")), nil)), measure.ErrNotInSet, "0.076 mm and 0.107 mm"},
		{"not a blade, refused", read(feelers.Gap("", nil, new(sized("0.01 mm")))), measure.ErrNotInSet, "0.051 mm"},
		{"not a blade, in a gap", read(feelers.Gap("", new(sized("0.051 mm")), new(sized("0.2 mm")))), measure.ErrNotInSet, "0.152 mm"},
		{"a thicker blade goes", read(feelers.Gap("", new(sized("0.127 mm")), new(sized("0.107 mm")))), measure.ErrContradiction, "exchange"},
		{"one blade does both", read(feelers.Gap("", new(sized("0.107 mm")), new(sized("0.107 mm")))), measure.ErrContradiction, "0.107 mm goes"},
		{"open below shut", pressure(measure.Valve(&pressureGauge, "", pressed("52 psi"), pressed("45 psi"))), measure.ErrContradiction, "sticks"},
		{"shut and open at once", pressure(measure.Valve(&pressureGauge, "", pressed("45 psi"), pressed("45 psi"))), measure.ErrContradiction, "sticks"},
		{"negative pressure", pressure(measure.Valve(&pressureGauge, "", pressed("-1 psi"), pressed("45 psi"))), measure.ErrNotPositive, "pressure test"},
		{"negative pressure, shut", pressure(measure.Valve(&pressureGauge, "", pressed("-1 psi"), nil)), measure.ErrNotPositive, "pressure test"},
		{"negative pressure, open", pressure(measure.Valve(&pressureGauge, "", nil, pressed("-1 psi"))), measure.ErrNotPositive, "pressure test"},
	} {
		if !errors.Is(test.err, test.kind) {
			t.Errorf("%s: %v is not %v", test.name, test.err, test.kind)
			continue
		}
		var e *units.Error
		if !errors.As(test.err, &e) || e.Fix == "" {
			t.Errorf("%s: %v says no fix", test.name, test.err)
		}
		if !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: %v does not say %q", test.name, test.err, test.says)
		}
	}
}

// Trying every blade in turn brackets the gap between neighbours.
func TestBladesHoldTheGapThatIsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		blades := drawLadder(t, 1, 8)
		feelers := measure.Feelers{Blades: blades}
		gap := drawLength(t, "gap", 0, 300)
		goes := 0
		for goes < len(blades) && blades[goes].Cmp(gap) <= 0 {
			goes++
		}
		var thickest, thinnest *units.Length // that goes, and that does not
		if goes > 0 {
			thickest = &blades[goes-1]
		}
		if goes < len(blades) {
			thinnest = &blades[goes]
		}
		r, err := feelers.Gap("", thickest, thinnest)
		if err != nil || !r.Interval().Contains(gap) {
			t.Fatalf("a gap of %s reads %s, %v", gap, r, err)
		}
	})
}

// drawLadder draws lengths in ascending order.
func drawLadder(t *rapid.T, least, most int) []units.Length {
	var rungs []units.Length
	last := units.Length{}
	for range rapid.IntRange(least, most).Draw(t, "rungs") {
		last = last.Add(drawLength(t, "step", 1, 40))
		rungs = append(rungs, last)
	}
	return rungs
}

func pressed(text string) *units.Pressure {
	p := units.MustParse[units.Pressure](text)
	return &p
}

// Every way to read says in its own words what was seen, and with which doubt.
func TestHowAReadingWasMade(t *testing.T) {
	m := measure.LengthInstrument{Name: "M", Uncertainty: mm("0.003")}
	few := measure.LengthInstrument{Name: "F", Uncertainty: mm("0.003"), Freedom: 4}
	scale := measure.LengthInstrument{Name: "S", LimitOfError: mm("0.01")}
	strip := measure.Strip{Prints: []units.Length{mm("0.025"), mm("0.038"), mm("0.051")}, Tolerance: mm("0.002")}
	blades := measure.Feelers{Blades: []units.Length{mm("0.1"), mm("0.15")}}
	gauge := measure.Instrument[units.PressureDim]{Name: "gauge", Uncertainty: units.MustParse[units.Pressure]("0.1 bar")}
	bar := func(s string) *units.Pressure { p := units.MustParse[units.Pressure](s + " bar"); return &p }
	length := good[units.LengthDim](t)
	pressure := good[units.PressureDim](t)
	for _, c := range []struct{ got, want string }{
		{measure.LengthReading{}.How(units.Millimetre), "not measured"},
		{measure.Given(span("1..2"), "a drawing").How(units.Millimetre), "a drawing"},
		{read(t, m, "a", "10").How(units.Millimetre), "M, 10 mm ±0.003 mm (k = 2)"},
		{read(t, scale, "a", "10").How(units.Millimetre), "S, 10 mm, ±0.01 mm at most"},
		{length(m.Indicate("a", mm("-0.02"))).How(units.Millimetre), "M, showing -0.02 mm ±0.003 mm (k = 2)"},
		{length(m.Travel("a", mm("0.1"), mm("0.25"))).How(units.Millimetre), "M from 0.1 mm to 0.25 mm ±0.003 mm (k = 2)"},
		{length(m.Read("a", mm("10"), mm("10"))).How(units.Millimetre), "M, mean 10 mm of 2 readings ±0.003 mm (k = 2)"},
		{length(strip.Read("a", span("0.025..0.038"))).How(units.Millimetre), "crush strip between its 0.025 mm and 0.038 mm prints, ±0.002 mm at most"},
		{length(strip.Read("a", span("0.038"))).How(units.Millimetre), "crush strip nearest its 0.038 mm print, ±0.002 mm at most"},
		{length(strip.Read("a", span("0.025"))).How(units.Millimetre), "crush strip nearest its first print, 0.025 mm; no lower mark, ±0.002 mm at most"},
		{length(strip.Read("a", span("0.051"))).How(units.Millimetre), "crush strip nearest its last print, 0.051 mm; no higher mark, ±0.002 mm at most"},
		{length(strip.Read("a", units.AtMost(mm("0.025")))).How(units.Millimetre), "crush strip wider than its first print, 0.025 mm: less clearance, and no lower mark, ±0.002 mm at most"},
		{length(strip.Read("a", units.AtLeast(mm("0.051")))).How(units.Millimetre), "crush strip narrower than its last print, 0.051 mm: more clearance, and no higher mark, ±0.002 mm at most"},
		{length(blades.Gap("a", new(mm("0.1")), new(mm("0.15")))).How(units.Millimetre), "feeler blades: 0.1 mm goes, 0.15 mm does not"},
		{length(blades.Gap("a", new(mm("0.15")), nil)).How(units.Millimetre), "feeler blades: 0.15 mm goes; no thicker one was tried"},
		{length(blades.Gap("a", nil, new(mm("0.1")))).How(units.Millimetre), "feeler blades: 0.1 mm does not go; no thinner one was tried"},
		{pressure(measure.Valve(&gauge, "a", bar("1.5"), bar("2"))).How(units.Bar), "gauge: shut at 1.5 bar, open at 2 bar ±0.1 bar (k = 2)"},
		{pressure(measure.Valve(&gauge, "a", bar("1.5"), nil)).How(units.Bar), "gauge: still shut at 1.5 bar; no higher one was tried ±0.1 bar (k = 2)"},
		{pressure(measure.Valve(&gauge, "a", nil, bar("2"))).How(units.Bar), "gauge: already open at 2 bar; no lower one was tried ±0.1 bar (k = 2)"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	if says := read(t, few, "a", "10").How(units.Millimetre); !strings.HasPrefix(says, "F, 10 mm ±0.0043") || !strings.HasSuffix(says, " mm (95.45 %)") { // 2.87/2 × 0.003, JCGM 100:2008, table G.2
		t.Error(says)
	}
}
