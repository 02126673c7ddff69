package clearance_test

import (
	"errors"
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A bore gauge and micrometers read a main bearing with its caps tightened and its
// shells out; the walls were read as well.
func Example() {
	gauge := measure.LengthInstrument{Name: "bore gauge", Uncertainty: length("0.003 mm")}
	micrometer := measure.LengthInstrument{Name: "micrometer", Uncertainty: length("0.001 mm")}
	bore, err1 := gauge.Read("main 3, bore", length("52.012 mm"))
	upper, err2 := micrometer.Read("main 3, upper wall", length("2.001 mm"))
	lower, err3 := micrometer.Read("main 3, lower wall", length("2.003 mm"))
	journal, err4 := micrometer.Read("main 3, journal", length("47.968 mm"))
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		fmt.Println(err)
		return
	}
	main3 := clearance.MeasuredBearing{HousingBore: bore, UpperWall: upper, LowerWall: lower, Journal: journal}
	limits := interval("0.024..0.048 mm")
	a := main3.Fit().Assess(limits)
	fmt.Println(a.Verdict, "-", a.Reading.Problem())

	main3.HousingBore = bore.With(clearance.BoltsAsAssembled(), clearance.ShellsOut())
	a = main3.Fit().Assess(limits)
	fmt.Println(a.Verdict, "-", a.Reading.Interval().FormatOutward(units.Millimetre, 4))
	// Output:
	// undecided - housing bore: bolts: tightened as for assembly is needed, and not stated
	// conforming - 0.0357..0.0443 mm
}

func ExampleBearing() {
	b := clearance.Bearing{
		HousingBore: units.MustParseLengthInterval("52.012 ±0.003 mm"),
		UpperWall:   units.MustParseLengthInterval("2.001 ±0.001 mm"),
		LowerWall:   units.MustParseLengthInterval("2.003 ±0.001 mm"),
		Journal:     units.MustParseLengthInterval("47.968 ±0.002 mm"),
	}
	fmt.Print(b.Working(units.Millimetre))
	// Output:
	// running clearance
	//   smallest
	//     52.009 - 2.002 - 2.004 - 47.97
	//     = 0.033 mm
	//   largest
	//     52.015 - 2 - 2.002 - 47.966
	//     = 0.047 mm
	//   C = D - t1 - t2 - d
	//   = 0.033..0.047 mm
	//   source: worst case: the smallest bore with the largest walls and journal, and the other way round
}

// mustLength and friends keep the examples short; programs check their errors.
var (
	length   = units.MustParseLength
	interval = units.MustParseLengthInterval
)

// The bore is read with a gauge that was set in the micrometer which reads the journal:
// what the micrometer errs by in every reading cancels.
func ExampleFit_Working() {
	micrometer := measure.LengthInstrument{Name: "micrometer", Common: length("0.003 mm"), Repeats: length("0.001 mm")}
	set, err1 := micrometer.Read("gauge setting", length("52.000 mm"))
	gauge := measure.LengthInstrument{Name: "bore gauge", Repeats: length("0.001 mm"), SetOn: set}
	bore, err2 := gauge.Indicate("bush", length("0.032 mm"))
	shaft, err3 := micrometer.Read("shaft", length("51.994 mm"))
	if err := errors.Join(err1, err2, err3); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(clearance.BoreFit("bush, running clearance", bore, shaft).Working(units.Millimetre))
	// Output:
	// bush, running clearance
	//   D, bore
	//     bore gauge, showing 0.032 mm ±0.0034642 mm (k = 2)
	//     = 52.0285358..52.0354642 mm
	//   d, shaft
	//     micrometer, 51.994 mm ±0.0031623 mm (k = 2)
	//     = 51.9908377..51.9971623 mm
	//   value
	//     52.032 - 51.994
	//     = 0.038 mm
	//   bore gauge, reading bush, 0.032 mm
	//     = 0.001 mm
	//   micrometer, common to its readings
	//     0.003 - 0.003
	//     = 0: it cancels
	//   micrometer, reading gauge setting, 52 mm
	//     = 0.001 mm
	//   bore gauge, set on gauge setting, 52 mm
	//     = 0.001 mm
	//   micrometer, reading shaft, 51.994 mm
	//     = 0.001 mm
	//   expanded uncertainty, k = 2, rounded up
	//     U = √(U1² + U2² + …)
	//     √(0.001² + 0.001² + 0.001² + 0.001²)
	//     = 0.002 mm
	//   C = D - d
	//   = 0.036..0.04 mm
	//   source: JCGM 100:2008, 5.2.2; what is not known of a correlation is taken at its worst
}

func ExampleFit_Remeasurements() {
	read := func(name, value, uncertainty string) measure.LengthReading {
		in := measure.LengthInstrument{Name: name, Uncertainty: length(uncertainty)}
		r, err := in.Read("", length(value))
		if err != nil {
			fmt.Println(err)
		}
		return r
	}
	pin := clearance.BoreFit("pin clearance", read("calliper", "22.012 mm", "0.010 mm"), read("micrometer", "22.000 mm", "0.003 mm"))
	fmt.Println(pin.Assess(interval("0.005..0.020 mm")).Verdict)
	offered := map[string][]measure.LengthInstrument{
		"D": {{Name: "bore gauge", Uncertainty: length("0.002 mm")}},
		"d": {{Name: "micrometer", Uncertainty: length("0.003 mm")}},
	}
	for _, m := range pin.Remeasurements(interval("0.005..0.020 mm"), 0.5, offered) {
		for symbol, in := range m.With {
			fmt.Printf("read %s with the %s: then ±%s in all, which settles it %.0f times in 100\n", symbol, in.Name, m.Expanded.Format(units.Millimetre, 4, units.Ceiling), 100*m.Chance)
		}
	}
	// Output:
	// undecided
	// read D with the bore gauge: then ±0.0037 mm in all, which settles it 56 times in 100
}

func ExampleFit_Agreement() {
	sizes := clearance.MeasuredBearing{
		HousingBore: measure.Given(interval("52.012 ±0.003 mm"), "bore gauge"),
		UpperWall:   measure.Given(interval("2.001 ±0.001 mm"), "micrometer"),
		LowerWall:   measure.Given(interval("2.003 ±0.001 mm"), "micrometer"),
		Journal:     measure.Given(interval("47.968 ±0.002 mm"), "micrometer"),
	}
	sizes.HousingBore = sizes.HousingBore.With(clearance.BoltsAsAssembled(), clearance.ShellsOut())
	f := sizes.Fit()
	f.Direct = measure.Given(interval("0.051..0.064 mm"), "crush strip")
	a := f.Agreement()
	fmt.Println(a.Agree, a.Difference.Interval())
	fmt.Println(f.Assess(interval("0.03..0.06 mm")).Verdict)
	// Output:
	// false 0.004..0.031 mm
	// undecided
}

// A bearing that is too tight, and the shells and the undersize that exist.
func ExampleFit_Remedies() {
	b := clearance.MeasuredBearing{
		HousingBore: measure.Given(interval("52.012 ±0.003 mm"), "bore gauge").With(clearance.BoltsAsAssembled(), clearance.ShellsOut()),
		UpperWall:   measure.Given(interval("2.004 ±0.001 mm"), "box"),
		LowerWall:   measure.Given(interval("2.004 ±0.001 mm"), "box"),
		Journal:     measure.Given(interval("47.984 ±0.002 mm"), "micrometer"),
	}
	f := b.Fit()
	f.Series = map[string]string{"t1": "standard", "t2": "standard", "d": "standard"}
	shell := func(term, name, wall, series string) clearance.Alternative {
		return clearance.Alternative{Term: term, Name: name, Reading: measure.Given(interval(wall), "box"), Series: series}
	}
	remedies, err := f.Remedies(interval("0.020..0.044 mm"),
		shell("t1", "blue shell above", "1.999 ±0.001 mm", "standard"),
		shell("t2", "blue shell below", "1.999 ±0.001 mm", "standard"),
		shell("t1", "undersize shell above", "2.125 ±0.001 mm", "0.25"),
		shell("t2", "undersize shell below", "2.125 ±0.001 mm", "0.25"),
		clearance.Alternative{Term: "d", Name: "journal ground", Reading: measure.Given(interval("47.730 ±0.005 mm"), "grinder"),
			Series: "0.25", Effort: clearance.Grinding},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range remedies {
		for _, c := range r.Changes {
			fmt.Println(c.Name)
		}
		fmt.Printf("  then %s, at least %s inside\n", r.Result.Interval(), r.Margin)
	}
	nothing, err := f.Remedies(interval("0.020..0.044 mm"))
	fmt.Println(len(nothing), err)
	// Output:
	// blue shell above
	// blue shell below
	//   then 0.023..0.037 mm, at least 0.003 mm inside
	// undersize shell above
	// undersize shell below
	// journal ground
	//   then 0.022..0.042 mm, at least 0.002 mm inside
	// 0 <nil>
}

// A piston measured where its maker does not say proves nothing.
func ExamplePistonFit() {
	const at = "12 mm above the skirt's lower edge, across the pin"
	cylinder, piston := measure.Given(interval("86.02..86.03 mm"), "bore gauge"), measure.Given(interval("85.97..85.98 mm"), "micrometer")
	limits := interval("0.03..0.07 mm")
	a := clearance.PistonFit(cylinder, piston, at).Assess(limits)
	fmt.Println(a.Verdict, "-", a.Reading.Problem())
	a = clearance.PistonFit(cylinder, piston.With(clearance.GaugePoint(at)), at).Assess(limits)
	fmt.Println(a.Verdict, "-", a.Reading.Interval())
	// Output:
	// undecided - piston: gauge point: 12 mm above the skirt's lower edge, across the pin is needed, and not stated
	// conforming - 0.04..0.06 mm
}

// 220.0 - 45.0 - 141.9 - 32.6 = 0.5 mm, and 0.1 mm either way.
func ExampleDeckFit() {
	size := func(text string) measure.LengthReading { return measure.Given(interval(text), "drawing") }
	deck := clearance.DeckFit(size("220.0 ±0.1 mm"), size("45.0 mm"), size("141.9 mm"), size("32.6 mm"))
	fmt.Println(deck.Sum.Formula(), "is", deck.Best().Interval())
	// Output: H = B - r - l - k is 0.4..0.6 mm
}

// Two rods on one crankpin of 50.40 mm: 50.40 - 25.05 - 25.10 = 0.25 mm.
func ExamplePlayFit() {
	size := func(text string) measure.LengthReading { return measure.Given(interval(text), "calliper") }
	play := clearance.PlayFit("rod side play", size("50.40 mm"), size("25.05 mm"), size("25.10 mm"))
	fmt.Println(play.Assess(interval("0.15..0.35 mm")).Verdict, play.Best().Interval())
	// Output: conforming 0.25 mm
}

// A cylinder worn by 0.03 mm on its diameter: π × 0.03 mm = 0.0942.. mm more gap.
func ExampleGapGrowth() {
	fmt.Println(clearance.GapGrowth(interval("0.03 mm")).FormatOutward(units.Millimetre, 3))
	// Output: 0.094..0.095 mm
}

// An end play of 0.30 to 0.31 mm by dial, with 2.40 mm washers fitted on both
// sides: which pair would bring it to 0.10 to 0.20 mm?
func ExampleFit_Wanted() {
	washer := measure.Given(interval("2.40 mm"), "micrometer")
	f := clearance.PlayFit("end play", measure.LengthReading{}, washer, washer)
	f.Direct = measure.Given(interval("0.30..0.31 mm"), "dial")
	pair, ok, err := f.Wanted(interval("0.10..0.20 mm"), "w1", "w2")
	fmt.Println(pair, ok, err)
	// Output: 4.91..5 mm true <nil>
}

func ExampleFile() {
	rule := clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0.0040..0.0045")}
	limits, err := rule.Limits(measure.Given(interval("86.00..86.01 mm"), "bore gauge"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("limits", limits)
	filing, ok := clearance.File(measure.Given(interval("0.30..0.32 mm"), "feeler blades"), limits)
	fmt.Println(ok)
	fmt.Print(filing.Working(units.Millimetre))
	// Output:
	// limits 0.34404..0.387 mm
	// true
	// to file off
	//   g, gap
	//     feeler blades
	//     = 0.3..0.32 mm
	//   L - g_lo to H - g_hi, and not less than nothing
	//   0.34404 - 0.3 to 0.387 - 0.32
	//   = 0.04404..0.067 mm
	//   note: file a little, square to the ring, and measure again
}

func ExampleRingLayout() {
	degrees := units.MustParseAngle
	layout := clearance.RingLayout{
		Rings:      []string{"top", "second", "oil"},
		Neighbours: degrees("90°"), Any: degrees("30°"),
		Forbidden: []clearance.Arc{
			{Name: "pin, front", Centre: degrees("90°"), Reach: degrees("15°")},
			{Name: "pin, rear", Centre: degrees("270°"), Reach: degrees("15°")},
			{Name: "thrust side", Centre: degrees("180°"), Reach: degrees("20°")},
		},
	}
	at, margin, err := layout.Plan()
	fmt.Println(at, "room to spare:", margin, err)
	faults, err := layout.Judge(degrees("100°"), degrees("300°"), degrees("45°"))
	for _, fault := range faults {
		fmt.Println(fault)
	}
	fmt.Println(err)
	// Output:
	// [132 ° 0 ° 227 °] room to spare: 27 ° <nil>
	// the gap of top at 100 ° stands in the arc of pin, front (90 ° ± 15 °); move it by 5 ° or more
	// <nil>
}

// An aluminium housing on a steel journal opens up as it warms.
func ExampleFit_Opening() {
	body := func(material, perKelvin string) clearance.Body {
		return clearance.Body{Material: material, PerKelvin: units.MustParse[units.RatioInterval](perKelvin),
			With: "the engine", Temperature: units.MustParse[units.TemperatureInterval]("90 °C")}
	}
	bodies := map[string]clearance.Body{
		"D": body("aluminium", "21.5 ppm"), "t1": body("steel", "11.7 ppm"), "t2": body("steel", "11.7 ppm"), "d": body("crank steel", "12.3 ppm"),
	}
	wall := measure.Given(interval("2 mm"), "drawing")
	b := clearance.MeasuredBearing{
		HousingBore: measure.Given(interval("52 mm"), "drawing"), UpperWall: wall, LowerWall: wall,
		Journal: measure.Given(interval("47.96 mm"), "drawing"),
	}
	opening, err := b.Fit().Opening(bodies)
	fmt.Print(opening.Working(units.Millimetre))
	fmt.Println(err)
	// Output:
	// running clearance, opening by linear expansion from 20 °C (ISO 1:2022)
	//   ΔD, housing bore, aluminium
	//     D × 21.5 ppm/K × (90 °C - 20 °C)
	//     = 0.07826 mm
	//   Δt1, upper wall, steel
	//     t1 × 11.7 ppm/K × (90 °C - 20 °C)
	//     = 0.001638 mm
	//   Δt2, lower wall, steel
	//     t2 × 11.7 ppm/K × (90 °C - 20 °C)
	//     = 0.001638 mm
	//   Δd, journal, crank steel
	//     d × 12.3 ppm/K × (90 °C - 20 °C)
	//     = 0.04129356 mm
	//   value
	//     0.07826 - 0.001638 - 0.001638 - 0.04129356
	//     = 0.03369044 mm
	//   ΔC = ΔD - Δt1 - Δt2 - Δd
	//   = 0.03369044 mm
	//   source: interval arithmetic
	// <nil>
}

// A steel journal, its micrometer and the micrometer's setting rod have lain on one bench
// at about 30 °C: nothing is to be corrected. A journal fresh from the washer is another
// matter.
func ExampleBody_AtReference() {
	steel := units.MustParse[units.RatioInterval]("11.0..12.0 ppm")
	bench := clearance.Body{Material: "steel", PerKelvin: steel, With: "the bench", Temperature: units.MustParse[units.TemperatureInterval]("29..31 °C")}
	washed := clearance.Body{Material: "steel", PerKelvin: steel, Temperature: units.MustParse[units.TemperatureInterval]("44..46 °C")}
	journal := measure.Given(interval("47.990 mm"), "micrometer")
	for _, part := range []clearance.Body{bench, washed} {
		r, err := part.AtReference(journal, bench, bench, units.Millimetre)
		fmt.Println(r.Interval().FormatOutward(units.Millimetre, 4), err)
	}
	_, err := washed.AtReference(journal, bench, clearance.Body{}, units.Millimetre)
	fmt.Println(err)
	// Output:
	// 47.9899..47.9901 mm <nil>
	// 47.9802..47.9833 mm <nil>
	// master: temperature: not measured; give the temperature
}

func ExampleSlips() {
	limits := interval("0.029..0.057 mm")
	typed := measure.Given(interval("0.38 mm"), "micrometer and bore gauge")
	fmt.Println(measure.Judge(typed.Interval(), limits))
	for _, s := range clearance.Slips(typed, limits, units.Millimetre, []units.LengthUnit{units.Inch}) {
		fmt.Println(s)
	}
	// Output:
	// above limit
	// probable slip: the decimal point one place to the left would make it 0.038 mm, conforming; read it again
}

func ExampleCompression() {
	c := clearance.Compression{
		Bore: interval("86.0 mm"), Stroke: interval("80.0 mm"), Deck: interval("0.35..0.45 mm"),
		GasketBore: interval("87.0 mm"), GasketThickness: interval("1.2 mm"),
		Chamber: units.MustParse[units.VolumeInterval]("39.8..40.2 cm³"), Dish: units.MustParse[units.VolumeInterval]("3 cm³"),
	}
	working, err := c.Working(units.Millimetre, units.CubicCentimetre)
	fmt.Print(working)
	fmt.Println(err)
	// Output:
	// compression ratio
	//   V, swept
	//     π/4·B²·S
	//     B = 86 mm, S = 80 mm
	//     = 464.704..464.705 cm³
	//   V_c, over the piston
	//     V_chamber + V_dish + π/4·(G²·s + B²·h)
	//     V_chamber = 39.8..40.2 cm³, V_dish = 3 cm³, G = 87 mm, s = 1.2 mm, h = 0.35..0.45 mm
	//     = 51.966..52.948 cm³
	//   ε = (V + V_c)/V_c
	//   (464.704..464.705 cm³ + 51.966..52.948 cm³)/(51.966..52.948 cm³)
	//   = 9.77..9.95
	//   note: the crevice above the top ring is left out
	// <nil>
}

func ExampleBearing_Undersized() {
	standard := clearance.Bearing{UpperWall: interval("0.1245..0.1250 in"), Journal: interval("1.9990..2.0000 in")}
	ground := standard.Undersized(length("0.010 in"))
	fmt.Println(ground.UpperWall.FormatOutward(units.Inch, 4), ground.Journal.FormatOutward(units.Inch, 4))
	// Output: 0.1295..0.1300 in 1.9890..1.9900 in
}

func ExampleSizeRule_Working() {
	rule := clearance.SizeRule{PerSize: units.MustParse[units.RatioInterval]("0.0040..0.0045"), Extra: length("0.001 in")}
	working, err := rule.Working(measure.Given(interval("3.7505 in"), "telescopic gauge"), units.Inch)
	fmt.Print(working)
	fmt.Println(err)
	// Output:
	// limits by size
	//   size
	//     telescopic gauge
	//     = 3.7505 in
	//   per size × size + extra, the lower limit at the largest size
	//   0.004 × 3.7505 + 0.001 to 0.0045 × 3.7505 + 0.001
	//   = 0.016002..0.01787725 in
	//   source: common practice, no source
	// <nil>
}

func ExampleCrush() {
	c := clearance.Crush{Upper: interval("0.03..0.05 mm"), Lower: interval("0.04..0.06 mm")}
	fmt.Print(c.Working(units.Millimetre))
	// Output:
	// interference on the diameter from crush
	//   δ = (h1 + h2)/π
	//   (0.03..0.05 mm + 0.04..0.06 mm)/π
	//   = 0.022281..0.035015 mm
	//   source: the length of a circle
}

// A shell is thinner toward the joint than at its crown: the clearance there is wider.
func ExampleBearingStations() {
	gauge := measure.LengthInstrument{Name: "bore gauge", Repeats: length("0.002 mm")}
	micrometer := measure.LengthInstrument{Name: "micrometer", Repeats: length("0.001 mm")}
	station := func(direction, bore, wall, journal string) clearance.MeasuredBearing {
		d, err1 := gauge.Read("bore, "+direction, length(bore))
		j, err2 := micrometer.Read("journal, "+direction, length(journal))
		if err := errors.Join(err1, err2); err != nil {
			fmt.Println(err)
		}
		at := measure.Condition{What: "direction", Is: direction}
		w := measure.Given(interval(wall), "ball micrometer").With(at)
		return clearance.MeasuredBearing{
			HousingBore: d.With(clearance.BoltsAsAssembled(), clearance.ShellsOut(), at), UpperWall: w, LowerWall: w,
			Journal: j.With(at), Place: []measure.Condition{at},
		}
	}
	s, err := clearance.BearingStations([]clearance.MeasuredBearing{
		station("across the crowns", "60.000 mm", "2.000 mm", "55.964 mm"),
		station("30° from the joint", "60.004 mm", "1.995 mm", "55.964 mm"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("least", s.Find(measure.Smallest).Interval().FormatOutward(units.Millimetre, 4))
	fmt.Println("greatest", s.Find(measure.Largest).Interval().FormatOutward(units.Millimetre, 4))
	// Output:
	// least 0.0334..0.0386 mm
	// greatest 0.0474..0.0526 mm
}

// A thimble that moves on by 0.5 mm, a turn short.
func ExampleSlips_turns() {
	journal := measure.Given(interval("47.486 mm"), "micrometer")
	for _, s := range clearance.Slips(journal, interval("47.980..47.992 mm"), units.Millimetre, nil, length("0.5 mm")) {
		fmt.Println(s)
	}
	// Output: probable slip: one turn of 0.5 mm more would make it 47.986 mm, conforming; read it again
}
