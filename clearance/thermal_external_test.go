package clearance_test

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// perKelvin is a coefficient between two numbers of millionths.
func perKelvin(lo, hi int64) units.RatioInterval {
	return units.MustInterval(units.PartsPerMillion.OfInt(lo), units.PartsPerMillion.OfInt(hi))
}

func at(material, alpha, temperature string) clearance.Body {
	return clearance.Body{Material: material, PerKelvin: units.MustParse[units.RatioInterval](alpha),
		Temperature: units.MustParse[units.TemperatureInterval](temperature)}
}

// An aluminium block on a steel crankshaft opens as it warms: by hand,
// 52.000 × 0.0000215 × 70 - 4.000 × 0.0000117 × 70 - 47.960 × 0.0000123 × 70
// = 0.07826 - 0.003276 - 0.04129356 = 0.03369044 mm.
func TestAnAluminiumBlockOpensUp(t *testing.T) {
	b := clearance.MeasuredBearing{
		HousingBore: given("52.000 mm"), UpperWall: given("2.000 mm"), LowerWall: given("2.000 mm"), Journal: given("47.960 mm"),
	}
	conditions := map[string]clearance.Body{
		"D": at("aluminium", "0.0000215", "90 °C"), "t1": at("steel", "0.0000117", "90 °C"),
		"t2": at("steel", "0.0000117", "90 °C"), "d": at("crank steel", "0.0000123", "90 °C"),
	}
	opening, err := b.Fit().Opening(conditions)
	if err != nil || !opening.Interval().Equal(span("0.03369044 mm")) {
		t.Errorf("opening %s, %v", opening.Interval(), err)
	}
	warm, err := b.Fit().Warm(conditions, units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	if got := warm.Best().Interval(); !got.Equal(span("0.07369044 mm")) {
		t.Errorf("warm clearance %s", got.Exact())
	}
	if text := warm.Working(units.Millimetre).Text(); !strings.Contains(text, "at 90 °C: drawing") {
		t.Errorf("working:\n%s", text)
	}

	// The same by strip: what it showed, and the opening.
	strip := b.Fit()
	strip.Direct = reading[units.LengthDim](t)(newStrip(t).Read("", span("0.038..0.051 mm")))
	warm, err = strip.Warm(conditions, units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	if got := warm.Direct.Interval(); !got.Equal(span("0.07169044..0.08469044 mm")) {
		t.Errorf("warm clearance by strip %s", got.Exact())
	}
	iron := map[string]clearance.Body{"D": at("iron", "0.0000114", "90 °C"), "d": at("crank steel", "0.0000123", "110 °C")}
	closing, err := b.Fit().Opening(iron)
	if err != nil || closing.Interval().Hi().Sign() >= 0 {
		t.Errorf("an iron block over a warmer crank opens by %s, %v", closing.Interval(), err)
	}
}

// bodyOf is a body that shares its material, and its temperature with others of the name.
func bodyOf(material, alpha, with, temperature string) clearance.Body {
	return clearance.Body{Material: material, PerKelvin: units.MustParse[units.RatioInterval](alpha), With: with,
		Temperature: units.MustParse[units.TemperatureInterval](temperature)}
}

// An engine all of one iron, all equally warm, opens by its cold clearance alone: of
// 0.040 mm, by 0.040·α·θ, from 0.040 × 0.000010 × 60 = 0.0000240 to 0.040 × 0.000012 × 80
// = 0.0000384 mm. The library holds αθ within 0.000011·70 ± (0.000011·10 + 70·0.000001 +
// 10·0.000001) = 0.00077 ± 0.00019. Were each part as warm as it likes, the opening would
// be uncertain by more than 20 µm.
func TestPartsThatShareATemperature(t *testing.T) {
	b := clearance.MeasuredBearing{
		HousingBore: given("60.000 mm"), UpperWall: given("2.000 mm"), LowerWall: given("2.000 mm"), Journal: given("55.960 mm"),
	}
	of := func(with string) map[string]clearance.Body {
		iron := bodyOf("iron", "0.000010..0.000012", with, "80..100 °C")
		return map[string]clearance.Body{"D": iron, "t1": iron, "t2": iron, "d": iron}
	}
	together, err := b.Fit().Opening(of("the engine"))
	if err != nil {
		t.Fatal(err)
	}
	if got := together.Interval(); !got.Equal(span("0.0000232..0.0000384 mm")) {
		t.Errorf("all equally warm, it opens by %s", got.Exact())
	}
	apart, err := b.Fit().Opening(of(""))
	if err != nil || apart.Interval().Width().Less(mm("0.020 mm")) {
		t.Errorf("each as warm as it likes, it opens by %s, %v", apart.Interval(), err)
	}
	warm, err := b.Fit().Warm(of("the engine"), units.Millimetre)
	if err != nil || !warm.Sum.Reading().Interval().Within(span("0.0400232..0.0400384 mm")) {
		t.Errorf("warm it is %s, %v", warm.Sum.Reading().Interval().Exact(), err)
	}
	mixed := of("the engine")
	mixed["d"] = bodyOf("iron", "0.000011..0.000012", "the engine", "80..100 °C")
	if _, err := b.Fit().Opening(mixed); !errors.Is(err, measure.ErrContradiction) || !strings.Contains(err.Error(), "iron") {
		t.Errorf("one material with two coefficients: %v", err)
	}
	mixed["d"] = bodyOf("iron", "0.000010..0.000012", "the engine", "80..90 °C")
	if _, err := b.Fit().Opening(mixed); !errors.Is(err, measure.ErrContradiction) || !strings.Contains(err.Error(), "the engine") {
		t.Errorf("one temperature in two ways: %v", err)
	}
}

// The opening holds that of every choice of the coefficients and the temperatures, those
// that are shared chosen once: brute force in exact arithmetic.
func TestOpeningHoldsEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		materials, places := []string{"iron", "steel", ""}, []string{"block", "crank", ""}
		alphas, temperatures := map[string][2]int64{}, map[string][2]int64{}
		pair := func(label string, lo, hi int64) [2]int64 {
			a, b := rapid.Int64Range(lo, hi).Draw(t, label), rapid.Int64Range(lo, hi).Draw(t, label)
			return [2]int64{min(a, b), max(a, b)}
		}
		for _, m := range materials {
			alphas[m] = pair("alpha", 8, 25)
		}
		for _, p := range places {
			temperatures[p] = pair("temperature", -40, 150)
		}
		body := func(m, p string) clearance.Body {
			a, d := alphas[m], temperatures[p]
			between, err := units.NewInterval(units.Celsius.Of(decInt(d[0])), units.Celsius.Of(decInt(d[1])))
			if err != nil {
				t.Fatal(err)
			}
			return clearance.Body{Material: m, PerKelvin: perKelvin(a[0], a[1]), With: p, Temperature: between}
		}
		pick := func(of [2]int64) func() *big.Rat {
			return func() *big.Rat {
				share := rapid.Int64Range(0, 4).Draw(t, "share")
				return ratio(4*of[0]+share*(of[1]-of[0]), 4)
			}
		}
		chosenAlpha, chosenTemperature := map[string]*big.Rat{}, map[string]*big.Rat{}
		choose := func(chosen map[string]*big.Rat, name string, pick func() *big.Rat) *big.Rat {
			if name != "" && chosen[name] != nil {
				return chosen[name]
			}
			q := pick()
			chosen[name] = q
			return q
		}
		sizes := []units.LengthInterval{drawInterval(t, "bore", 60_000, 60_020), drawInterval(t, "journal", 59_900, 59_990)}
		f := clearance.BoreFit("bush", measure.Given(sizes[0], ""), measure.Given(sizes[1], ""))
		bodies := map[string]clearance.Body{}
		cold, opening := new(big.Rat), new(big.Rat)
		for i, symbol := range []string{"D", "d"} {
			m, p := rapid.SampledFrom(materials).Draw(t, "material"), rapid.SampledFrom(places).Draw(t, "place")
			bodies[symbol] = body(m, p)
			alpha, temperature := choose(chosenAlpha, m, pick(alphas[m])), choose(chosenTemperature, p, pick(temperatures[p]))
			size := drawIn(t, "size", sizes[i]).Rat(units.Millimetre)
			growth := new(big.Rat).Sub(temperature, ratio(20, 1))
			growth.Mul(growth, alpha).Mul(growth, ratio(1, 1_000_000)).Mul(growth, size)
			if symbol == "d" {
				growth.Neg(growth)
				size.Neg(size)
			}
			cold.Add(cold, size)
			opening.Add(opening, growth)
		}
		got, err := f.Opening(bodies)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Interval().Contains(units.Millimetre.OfRat(opening)) {
			t.Fatalf("%s does not hold %s", got.Interval().Exact(), opening.FloatString(9))
		}
		warm, err := f.Warm(bodies, units.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		if c := cold.Add(cold, opening); !warm.Sum.Reading().Interval().Contains(units.Millimetre.OfRat(c)) {
			t.Fatalf("%s does not hold %s", warm.Sum.Reading().Interval().Exact(), c.FloatString(9))
		}
	})
}

func TestAtReference(t *testing.T) {
	steel := func(with, temperature string) clearance.Body {
		return bodyOf("steel", "0.000011..0.000012", with, temperature)
	}
	journal := read(t, "micrometer", "50.010 mm", "0.002 mm")
	// Everything of one steel and equally warm: no correction, though neither is known
	// exactly. (Second-order doubts: three times the square of the first-order ones, below
	// a nanometre.)
	bench := steel("the bench", "29..31 °C")
	r, err := bench.AtReference(journal, bench, bench, units.Millimetre)
	if err != nil || !r.Interval().Within(span("50.0079985..50.0120015 mm")) || !r.Bracket().Contains(mm("50.010 mm")) {
		t.Errorf("one steel, equally warm: %s, %v", r.Interval().Exact(), err)
	}
	// The same without a word of what they share: 4 × 50 × ~(0.0000115·1 + 10·0.0000005) mm.
	bench.With, bench.Material = "", ""
	if r, err = bench.AtReference(journal, bench, bench, units.Millimetre); err != nil || r.Interval().Within(span("50.005..50.015 mm")) {
		t.Errorf("nothing shared: %s, %v", r.Interval().Exact(), err)
	}
	// A part of 36 °C, read at 20 °C in all else: 50.01/(1 + 0.0000125·16) = 50.
	exact := func(alpha, temperature string) clearance.Body { return at("", alpha, temperature) }
	cool := exact("0.0000115", "20 °C")
	r, err = exact("0.0000125", "36 °C").AtReference(journal, cool, cool, units.Millimetre)
	if err != nil || !r.Bracket().Equal(span("50 mm")) {
		t.Errorf("a warm part: %s, %v", r.Bracket().Exact(), err)
	}
	// The same at 4 °C: 49.99/(1 - 0.0000125·16) = 50.
	r, err = exact("0.0000125", "4 °C").AtReference(given("49.99 mm"), cool, cool, units.Millimetre)
	if err != nil || !r.Bracket().Equal(span("50 mm")) {
		t.Errorf("a cold part: %s, %v", r.Bracket().Exact(), err)
	}
	// Set on a master of 30 °C, read at 20 °C with an instrument that has cooled: it shows
	// too much for what has shrunk less. (1 + 0.0000115·10)(1 - 0.0000125·10) = 0.99998998...
	r, err = cool.AtReference(given("50 mm"), exact("0.0000125", "20 °C"), exact("0.0000115", "30 °C"), units.Millimetre)
	want := mm("50 mm").MulRat(new(big.Rat).Mul(ratio(1000115, 1000000), ratio(999875, 1000000)))
	if err != nil || !r.Bracket().Equal(units.Exactly(want)) {
		t.Errorf("a warm master: %s, %v", r.Bracket().Exact(), err)
	}
	// What is not said is not assumed.
	_, err = cool.AtReference(journal, cool, clearance.Body{}, units.Millimetre)
	if !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), "master: temperature") {
		t.Errorf("no master: %v", err)
	}
	blank := cool
	blank.PerKelvin = units.RatioInterval{}
	_, err = blank.AtReference(journal, cool, cool, units.Millimetre)
	if !errors.Is(err, measure.ErrNotMeasured) || !strings.Contains(err.Error(), "part: coefficient of expansion: not measured; give it, such as") {
		t.Errorf("no coefficient: %v", err)
	}
	if r, err := cool.AtReference(measure.LengthReading{}, cool, cool, units.Millimetre); err != nil || r.Taken() {
		t.Errorf("not read: %s, %v", r, err)
	}
}

// A correction holds the truth for every choice of what is not known exactly.
func TestAtReferenceHoldsEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type number struct{ lo, hi, chosen *big.Rat }
		draw := func(label string, lo, hi int64) number {
			a, b := rapid.Int64Range(lo, hi).Draw(t, label), rapid.Int64Range(lo, hi).Draw(t, label)
			a, b = min(a, b), max(a, b)
			share := rapid.Int64Range(0, 4).Draw(t, label+" share")
			return number{ratio(a, 1), ratio(b, 1), ratio(4*a+share*(b-a), 4)}
		}
		alphas := map[string]number{"iron": draw("iron", 8, 25), "steel": draw("steel", 8, 25)}
		thetas := map[string]number{"bench": draw("bench", -20, 60), "part": draw("part", -40, 150), "store": draw("store", 0, 30)}
		var chosen [3][2]*big.Rat
		var bodies [3]clearance.Body
		million := ratio(1, 1_000_000)
		for i := range bodies {
			m, w := rapid.SampledFrom([]string{"iron", "steel"}).Draw(t, "material"), rapid.SampledFrom([]string{"bench", "part", "store"}).Draw(t, "with")
			a, d := alphas[m], thetas[w]
			between, err := units.NewInterval(units.Celsius.Of(decInt(d.lo.Num().Int64())), units.Celsius.Of(decInt(d.hi.Num().Int64())))
			if err != nil {
				t.Fatal(err)
			}
			bodies[i] = clearance.Body{Material: m, PerKelvin: perKelvin(a.lo.Num().Int64(), a.hi.Num().Int64()), With: w, Temperature: between}
			chosen[i] = [2]*big.Rat{new(big.Rat).Mul(a.chosen, million), new(big.Rat).Sub(d.chosen, ratio(20, 1))}
		}
		one := ratio(1, 1)
		grown := func(alpha, theta *big.Rat) *big.Rat {
			g := new(big.Rat).Mul(alpha, theta)
			return g.Add(g, one)
		}
		shown := drawLength(t, "shown", 10_000, 100_000)
		f := grown(chosen[2][0], chosen[2][1])
		f.Mul(f, grown(chosen[1][0], new(big.Rat).Sub(chosen[1][1], chosen[2][1]))).Quo(f, grown(chosen[0][0], chosen[0][1]))
		truth := shown.MulRat(f)
		r, err := bodies[0].AtReference(measure.Given(units.Exactly(shown), ""), bodies[1], bodies[2], units.Millimetre)
		if err != nil || !r.Interval().Contains(truth) {
			t.Fatalf("%s does not hold %s, %v", r.Interval().Exact(), truth.Exact(), err)
		}
	})
}

func TestBadBodies(t *testing.T) {
	coefficient := func(text string) error {
		_, err := at("", text, "90 °C").Warmed(given("1 mm"), units.Millimetre)
		return err
	}
	steel := units.MustParse[units.RatioInterval]("11.7 ppm")
	fit := clearance.BoreFit("pin clearance", given("22.01 mm"), measure.LengthReading{})
	warm := func(symbol string, c clearance.Body) error {
		_, err := fit.Warm(map[string]clearance.Body{symbol: c}, units.Millimetre)
		return err
	}
	belowZero := clearance.Body{PerKelvin: steel, Temperature: colder(t)}
	_, opening := fit.Opening(map[string]clearance.Body{"d": at("steel", "0.0000117", "90 °C")})
	_, growth := clearance.Body{}.Warmed(given("1 mm"), units.Millimetre)
	_, corrected := belowZero.AtReference(given("1 mm"), belowZero, belowZero, units.Millimetre)
	_, warmed := belowZero.Warmed(given("1 mm"), units.Millimetre)
	for _, test := range []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"millionths without their exponent", coefficient("11.7"), clearance.ErrRange, "0.0000117"},
		{"a negative coefficient", coefficient("-0.0000117..0.0000117"), clearance.ErrRange, "per K"},
		{"a coefficient of one bound", coefficient("<= 0.0000117"), clearance.ErrRange, "per K"},
		{"a coefficient just above those of the metals", coefficient("0..500.1 ppm"), clearance.ErrRange, "per K"},
		{"no temperature", growth, measure.ErrNotMeasured, "give the temperature"},
		{"below absolute zero", corrected, clearance.ErrRange, "-273.15 °C"},
		{"below absolute zero, warmed", warmed, clearance.ErrRange, "-273.15 °C"},
		{"below absolute zero, in a fit", warm("D", belowZero), clearance.ErrRange, "-300 °C"},
		{"one bound of temperature", warm("D", clearance.Body{PerKelvin: steel, Temperature: units.MustParse[units.TemperatureInterval](">= 20 °C")}),
			measure.ErrNotMeasured, "the lowest and the highest"},
		{"degrees that nothing survives", warm("D", at("steel", "0.0000117", "9000 °C")), clearance.ErrRange, "look at its unit"},
		{"no such term", warm("x", at("steel", "0.0000117", "90 °C")), measure.ErrNotInSet, `"x"`},
		{"a size not read", opening, measure.ErrNotMeasured, "pin clearance, shaft"},
	} {
		if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, test.err)
		}
	}
}

// TestDegreesInTheirUnit: words say a temperature in the unit that the body names. In °C 150 °F
// has no end.
func TestDegreesInTheirUnit(t *testing.T) {
	b := bodyOf("steel", "11.7 ppm", "the oil", "150..170 °F")
	b.In = units.Fahrenheit
	warm, err := b.Warmed(given("60 mm"), units.Millimetre)
	if err != nil || !strings.HasPrefix(warm.How(units.Millimetre), "at 150..170 °F: ") {
		t.Errorf("%s, %v", warm.How(units.Millimetre), err)
	}
	cold, err := b.AtReference(given("60 mm"), b, b, units.Millimetre)
	if err != nil || !strings.HasPrefix(cold.How(units.Millimetre), "corrected to 20 °C from 150..170 °F: ") {
		t.Errorf("%s, %v", cold.How(units.Millimetre), err)
	}
	opening, err := clearance.BoreFit("pin clearance", given("22.01 mm"), given("22 mm")).Opening(map[string]clearance.Body{"D": b})
	if how := opening.Terms[0].Reading.How(units.Millimetre); err != nil || !strings.Contains(how, "(150..170 °F - 20 °C)") {
		t.Errorf("%s, %v", how, err)
	}
	hot, other := at("steel", "11.7 ppm", "16000 °F"), b
	hot.In, other.Temperature = units.Fahrenheit, units.MustParse[units.TemperatureInterval]("150..171 °F")
	_, tooHot := hot.Warmed(given("60 mm"), units.Millimetre)
	_, two := b.AtReference(given("60 mm"), other, b, units.Millimetre)
	for want, err := range map[string]error{"16000 °F": tooHot, "150..170 °F and 150..171 °F": two, "-508 °F": func() error {
		below := clearance.Body{PerKelvin: b.PerKelvin, Temperature: colder(t), In: units.Fahrenheit}
		_, err := below.Warmed(given("60 mm"), units.Millimetre)
		return err
	}()} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %s: %v", want, err)
		}
	}
}

// colder is what no text can say and a program can.
func colder(t testing.TB) units.TemperatureInterval {
	t.Helper()
	a, err := units.NewInterval(units.Celsius.Of(dec("-300")), units.Celsius.Of(dec("-290")))
	if err != nil {
		t.Fatal(err)
	}
	return a
}
