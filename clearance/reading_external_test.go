package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func newStrip(t testing.TB) clearance.Strip {
	t.Helper()
	s, err := clearance.NewStrip(mm("0.025 mm"), mm("0.038 mm"), mm("0.051 mm"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func newFeelers(t testing.TB) clearance.Feelers {
	t.Helper()
	f, err := clearance.NewFeelers(mm("0.051 mm"), mm("0.076 mm"), mm("0.107 mm"), mm("0.127 mm"), mm("0.152 mm"))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

var (
	micrometer = clearance.LengthInstrument{Name: "outside micrometer", Graduation: units.Micrometre.OfInt(1), Uncertainty: units.Micrometre.OfInt(2)}
	dial       = clearance.LengthInstrument{Name: "dial", Graduation: units.Micrometre.OfInt(10), Uncertainty: units.Micrometre.OfInt(6)}
)

func TestReadings(t *testing.T) {
	length := reading[units.LengthDim](t)
	pressure := reading[units.PressureDim](t)
	strip, feelers := newStrip(t), newFeelers(t)
	for _, test := range []struct {
		name, interval, how string
		got                 clearance.LengthReading
	}{
		{"micrometer", "47.984..47.988 mm", "outside micrometer, 47.986 mm ±0.002 mm (k = 2)",
			length(micrometer.Read(mm("47.986 mm")))},
		{"dial", "0.104..0.116 mm", "dial from 0.31 mm to 0.2 mm, ±0.006 mm (k = 2)",
			length(dial.Difference(mm("0.31 mm"), mm("0.20 mm")))},
		{"dial cut at zero", "0..0.008 mm", "dial from -0.001 mm to 0.001 mm, ±0.006 mm (k = 2)",
			length(dial.Difference(mm("-0.001 mm"), mm("0.001 mm")))},
		{"strip between", "0.025..0.038 mm", "crush strip between its 0.025 mm and 0.038 mm widths",
			length(strip.Between(mm("0.025 mm"), mm("0.038 mm")))},
		// 2·0.025·0.038/0.063 = 0.0301587…, and 2·0.038·0.051/0.089 = 0.0435505…
		{"strip nearest", "0.030158..0.0445 mm", "crush strip nearest its 0.038 mm width, between the half-way marks to its neighbours",
			length(strip.Nearest(mm("0.038 mm")))},
		{"strip nearest the first", "0..0.0315 mm",
			"crush strip nearest its first width, 0.025 mm: below the half-way mark to 0.038 mm; no lower mark",
			length(strip.Nearest(mm("0.025 mm")))},
		{"strip nearest the last", ">= 0.04355 mm",
			"crush strip nearest its last width, 0.051 mm: above the half-way mark from 0.038 mm; no upper mark",
			length(strip.Nearest(mm("0.051 mm")))},
		{"strip tighter", "0..0.025 mm", "crush strip past its first width, 0.025 mm; no lower mark",
			length(strip.Tighter())},
		{"strip looser", ">= 0.051 mm", "crush strip past its last width, 0.051 mm; no upper mark",
			length(strip.Looser())},
		{"blades", "0.107..0.127 mm", "feeler blades: 0.107 mm goes, 0.127 mm does not",
			length(feelers.Gap(mm("0.107 mm"), mm("0.127 mm")))},
		{"a blade that goes", ">= 0.107 mm", "feeler blades: 0.107 mm goes; no thicker one was tried",
			length(feelers.Goes(mm("0.107 mm")))},
		{"a blade that does not", "0..0.051 mm", "feeler blades: 0.051 mm does not go; no thinner one was tried",
			length(feelers.Refuses(mm("0.051 mm")))},
		{"given", "2.000..2.006 mm", "printed on the box",
			clearance.Given(span("2.000..2.006 mm"), "printed on the box")},
		{"widened", "0.105..0.129 mm", "feeler blades: 0.107 mm goes, 0.127 mm does not (good to ±0.002 mm)",
			length(feelers.Gap(mm("0.107 mm"), mm("0.127 mm"))).Widened(mm("0.002 mm"))},
	} {
		if !test.got.Interval().Equal(span(test.interval)) {
			t.Errorf("%s: %s, want %s", test.name, test.got.Interval(), test.interval)
		}
		if got := test.got.How(units.Millimetre); got != test.how {
			t.Errorf("%s: how is\n%q, want\n%q", test.name, got, test.how)
		}
	}

	opens := pressure(clearance.ValveOpens(units.MustParsePressure("45 psi"), units.MustParsePressure("52 psi")))
	if got, want := opens.How(units.PoundForcePerSquareInch), "shut at 45 psi, open at 52 psi"; got != want {
		t.Errorf("valve: %q, want %q", got, want)
	}
	limits := units.MustParsePressureInterval("48..55 psi")
	if got := clearance.Judge(opens.Interval(), limits); got != clearance.Undecided {
		t.Errorf("a valve that opens somewhere in 45..52 psi is %s", got)
	}
	shut := pressure(clearance.ValveShut(units.MustParsePressure("56 psi")))
	if got := clearance.Judge(shut.Interval(), limits); got != clearance.AboveLimit {
		t.Errorf("a valve shut at 56 psi is %s", got)
	}
	open := pressure(clearance.ValveOpen(units.MustParsePressure("47 psi")))
	if got := clearance.Judge(open.Interval(), limits); got != clearance.BelowLimit {
		t.Errorf("a valve open at 47 psi is %s", got)
	}
}

// Words are in the unit that the shop thinks in.
func TestHowInInches(t *testing.T) {
	strip, err := clearance.NewStrip(mm("0.0010 in"), mm("0.0015 in"), mm("0.0020 in"))
	if err != nil {
		t.Fatal(err)
	}
	r := reading[units.LengthDim](t)(strip.Between(mm("0.0010 in"), mm("0.0015 in")))
	if got, want := r.How(units.Inch), "crush strip between its 0.001 in and 0.0015 in widths"; got != want {
		t.Errorf("how is %q, want %q", got, want)
	}
}

// What was made from readings says so in the unit asked for.
func TestHowOfMadeReadings(t *testing.T) {
	in := units.Inch
	r := read(t, "micrometer", "2.0005 in", "0.0001 in")
	other := clearance.Given(span("1.9999..2.0010 in"), "rule")
	warm := at(t, "steel", "0.0000117", "68..86 °F")
	warmed, err := warm.Warmed(r)
	if err != nil {
		t.Fatal(err)
	}
	fit := clearance.PinFit(other, clearance.LengthReading{})
	fit.Direct = r
	open, err := fit.Warm(map[string]clearance.Condition{"D": at(t, "steel", "0.00001", "30 °C")})
	if err != nil {
		t.Fatal(err)
	}
	fit.Terms[1].Reading = other
	const micrometer = "micrometer, 2.0005 in ±0.0001 in (k = 2)"
	for want, got := range map[string]string{
		"1/2 times " + micrometer:                                    r.Times(ratio(1, 2)).How(in),
		"at 20..30 °C: " + micrometer:                                warmed.How(in),
		"what two readings have in common: " + micrometer + "; rule": clearance.Compare(r, other).Common.How(in),
		micrometer + "; warm, by ≈0.0002..≈0.0002 in more":           open.Direct.How(in),
		"two readings that do not agree (" + micrometer + "; pin clearance by calculation; " + clearance.WorstCase.String() + "): measure both again": fit.Best(clearance.WorstCase).How(in),
	} {
		if got != want {
			t.Errorf("how is\n%q, want\n%q", got, want)
		}
	}
}

// An error about a set made in inches is in inches.
func TestErrorsInInches(t *testing.T) {
	feelers, err := clearance.NewFeelers(mm("0.0015 in"), mm("0.002 in"), mm("0.003 in"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = feelers.Goes(mm("0.0025 in"))
	const want = "feeler set: not in the set: 0.0025 in; the nearest are 0.002 in and 0.003 in"
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// A strip and a blade of usual marks against the limits of an invented engine.
func TestUsualMarks(t *testing.T) {
	length := reading[units.LengthDim](t)
	limits := span("0.029..0.057 mm")
	if got := clearance.Judge(length(newStrip(t).Nearest(mm("0.038 mm"))).Interval(), limits); got != clearance.Conforming {
		t.Errorf("a strip read at 0.038 mm is %s", got)
	}
	if got := clearance.Judge(length(newStrip(t).Nearest(mm("0.025 mm"))).Interval(), limits); got != clearance.Undecided {
		t.Errorf("a strip read at 0.025 mm is %s", got)
	}
	endPlay := clearance.Assess(length(newFeelers(t).Goes(mm("0.107 mm"))), span("0.10..0.25 mm"))
	if endPlay.Verdict != clearance.Undecided || !endPlay.AboveLower() || endPlay.BelowUpper() {
		t.Errorf("end play of at least 0.107 mm is %s, from below %t, from above %t",
			endPlay.Verdict, endPlay.AboveLower(), endPlay.BelowUpper())
	}
}

func TestAReadingNotTakenProvesNothing(t *testing.T) {
	var r clearance.LengthReading
	if r.Taken() {
		t.Error("the zero Reading was taken")
	}
	for _, limits := range []string{"0..1 mm", "<= 5 mm", ">= 0 mm"} {
		if got := clearance.Judge(r.Interval(), span(limits)); got != clearance.Undecided {
			t.Errorf("not taken is %s against %s", got, limits)
		}
	}
	if r.Widened(mm("1 mm")).Taken() {
		t.Error("widening takes the reading")
	}
}

func TestBadReadings(t *testing.T) {
	strip, feelers := newStrip(t), newFeelers(t)
	read := func(r clearance.LengthReading, err error) error {
		if err != nil && r.Taken() {
			t.Errorf("a reading beside the error %v", err)
		}
		return err
	}
	stripOf := func(widths ...units.Length) error { _, err := clearance.NewStrip(widths...); return err }
	feelersOf := func(blades ...units.Length) error { _, err := clearance.NewFeelers(blades...); return err }
	pressure := func(_ clearance.PressureReading, err error) error { return err }
	psi := units.MustParsePressure
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"no uncertainty", read(clearance.LengthInstrument{Name: "calliper"}.Read(mm("5 mm"))), clearance.ErrNoUncertainty, "calliper"},
		{"no uncertainty, with a graduation", read(clearance.LengthInstrument{Graduation: mm("0.01 mm")}.Read(mm("5 mm"))),
			clearance.ErrNoUncertainty, "give its expanded uncertainty (k = 2)"},
		{"negative uncertainty", read(clearance.LengthInstrument{Uncertainty: mm("-0.002 mm")}.Read(mm("5 mm"))), clearance.ErrNoUncertainty, "-0.002 mm"},
		{"negative graduation", read(clearance.LengthInstrument{Graduation: mm("-1 mm"), Uncertainty: mm("1 mm")}.Read(mm("5 mm"))), clearance.ErrNotPositive, "graduation"},
		{"size of zero", read(micrometer.Read(mm("0 mm"))), clearance.ErrNotPositive, "outside micrometer"},
		{"negative size", read(micrometer.Read(mm("-47.9 mm"))), clearance.ErrNotPositive, "-47.9 mm"},
		{"dial without uncertainty", read(clearance.LengthInstrument{}.Difference(mm("1 mm"), mm("2 mm"))), clearance.ErrNoUncertainty, "instrument"},
		{"no widths", stripOf(), clearance.ErrEmpty, "crush strip"},
		{"widths out of order", stripOf(mm("0.038 mm"), mm("0.025 mm")), clearance.ErrOrder, "0.025 mm after 0.038 mm"},
		{"a width of zero", stripOf(mm("0 mm"), mm("0.025 mm")), clearance.ErrNotPositive, "0 mm"},
		{"not a width", read(strip.Between(mm("0.025 mm"), mm("0.04 mm"))), clearance.ErrNotInSet, "0.038 mm and 0.051 mm"},
		{"not the first width either", read(strip.Between(mm("0.02 mm"), mm("0.025 mm"))), clearance.ErrNotInSet, "the first is 0.025 mm"},
		{"nearest to no width", read(strip.Nearest(mm("0.06 mm"))), clearance.ErrNotInSet, "the last is 0.051 mm"},
		{"not neighbours", read(strip.Between(mm("0.025 mm"), mm("0.051 mm"))), clearance.ErrNotNeighbours, "after 0.025 mm is 0.038 mm"},
		{"the same twice", read(strip.Between(mm("0.025 mm"), mm("0.025 mm"))), clearance.ErrNotNeighbours, "nearest"},
		{"exchanged", read(strip.Between(mm("0.038 mm"), mm("0.025 mm"))), clearance.ErrOrder, "smaller clearance first"},
		{"zero strip", read(clearance.Strip{}.Tighter()), clearance.ErrEmpty, "smallest first"},
		{"zero strip, looser", read(clearance.Strip{}.Looser()), clearance.ErrEmpty, "smallest first"},
		{"zero strip, nearest", read(clearance.Strip{}.Nearest(mm("1 mm"))), clearance.ErrEmpty, "smallest first"},
		{"zero feelers", read(clearance.Feelers{}.Goes(mm("1 mm"))), clearance.ErrEmpty, "smallest first"},
		{"no blades", feelersOf(), clearance.ErrEmpty, "feeler set"},
		{"blades out of order", feelersOf(mm("0.1 mm"), mm("0.3 mm"), mm("0.2 mm")), clearance.ErrOrder, "0.2 mm after 0.3 mm"},
		{"a blade twice", feelersOf(mm("0.1 mm"), mm("0.1 mm")), clearance.ErrOrder, "0.1 mm after 0.1 mm"},
		{"not a blade", read(feelers.Goes(mm("0.10 mm"))), clearance.ErrNotInSet, "0.076 mm and 0.107 mm"},
		{"not a blade, refused", read(feelers.Refuses(mm("0.01 mm"))), clearance.ErrNotInSet, "0.051 mm"},
		{"not a blade, in a gap", read(feelers.Gap(mm("0.051 mm"), mm("0.2 mm"))), clearance.ErrNotInSet, "0.152 mm"},
		{"a thicker blade goes", read(feelers.Gap(mm("0.127 mm"), mm("0.107 mm"))), clearance.ErrContradiction, "exchange"},
		{"one blade does both", read(feelers.Gap(mm("0.107 mm"), mm("0.107 mm"))), clearance.ErrContradiction, "0.107 mm goes"},
		{"open below shut", pressure(clearance.ValveOpens(psi("52 psi"), psi("45 psi"))), clearance.ErrContradiction, "sticks"},
		{"shut and open at once", pressure(clearance.ValveOpens(psi("45 psi"), psi("45 psi"))), clearance.ErrContradiction, "sticks"},
		{"negative pressure", pressure(clearance.ValveOpens(psi("-1 psi"), psi("45 psi"))), clearance.ErrNotPositive, "pressure test"},
		{"negative pressure, shut", pressure(clearance.ValveShut(psi("-1 psi"))), clearance.ErrNotPositive, "pressure test"},
		{"negative pressure, open", pressure(clearance.ValveOpen(psi("-1 psi"))), clearance.ErrNotPositive, "pressure test"},
	} {
		if !errors.Is(test.err, test.kind) {
			t.Errorf("%s: %v is not %v", test.name, test.err, test.kind)
			continue
		}
		var e *clearance.Error
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
		feelers, err := clearance.NewFeelers(blades...)
		if err != nil {
			t.Fatal(err)
		}
		gap := drawLength(t, "gap", 0, 300)
		goes := 0
		for goes < len(blades) && blades[goes].Cmp(gap) <= 0 {
			goes++
		}
		var r clearance.LengthReading
		switch goes {
		case 0:
			r, err = feelers.Refuses(blades[0])
		case len(blades):
			r, err = feelers.Goes(blades[goes-1])
		default:
			r, err = feelers.Gap(blades[goes-1], blades[goes])
		}
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
