package clearance_test

import (
	"fmt"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// A crush strip lies between its 0.020 and 0.030 widths, and the limits are
// 0.024 to 0.048 mm: the strip cannot tell.
func Example() {
	strip, err := clearance.NewStrip(
		units.MustParseLength("0.020 mm"), units.MustParseLength("0.030 mm"), units.MustParseLength("0.040 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	main3, err := strip.Between(units.MustParseLength("0.020 mm"), units.MustParseLength("0.030 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	limits := units.MustParseLengthInterval("0.024..0.048 mm")
	fmt.Println("main 3:", main3)
	fmt.Println(clearance.Judge(main3.Interval(), limits))
	// Output:
	// main 3: 0.02..0.03 mm, crush strip between its 0.02 mm and 0.03 mm widths
	// undecided
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

func ExampleJudge() {
	limits := units.MustParseLengthInterval("0.029..0.057 mm")
	for _, measured := range []string{"0.034 ±0.003 mm", "0.025..0.038 mm", "0.02 mm", ">= 0.06 mm"} {
		fmt.Println(measured, clearance.Judge(units.MustParseLengthInterval(measured), limits))
	}
	// Output:
	// 0.034 ±0.003 mm conforming
	// 0.025..0.038 mm undecided
	// 0.02 mm below limit
	// >= 0.06 mm above limit
}

func ExampleInstrument_Read() {
	micrometer := clearance.LengthInstrument{
		Name:        "outside micrometer 25-50 mm",
		Graduation:  units.MustParseLength("0.001 mm"),
		Uncertainty: units.MustParseLength("0.002 mm"),
	}
	journal, err := micrometer.Read(units.MustParseLength("47.986 mm"))
	fmt.Println(journal, err)
	_, err = clearance.LengthInstrument{Name: "borrowed micrometer"}.Read(units.MustParseLength("47.986 mm"))
	fmt.Println(err)
	// Output:
	// 47.984..47.988 mm, outside micrometer 25-50 mm, 47.986 mm ±0.002 mm (k = 2) <nil>
	// borrowed micrometer: an instrument without uncertainty; give its expanded uncertainty (k = 2), as its certificate states it
}

func ExampleFeelers_Goes() {
	feelers, err := clearance.NewFeelers(
		units.MustParseLength("0.10 mm"), units.MustParseLength("0.15 mm"), units.MustParseLength("0.20 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	endPlay, err := feelers.Goes(units.MustParseLength("0.15 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	a := clearance.Assess(endPlay, units.MustParseLengthInterval("0.15..0.32 mm"))
	fmt.Println("enough is proven:", a.AboveLower(), "- not too much is proven:", a.BelowUpper())
	fmt.Print(a.Working(units.Millimetre))
	_, err = feelers.Goes(units.MustParseLength("0.12 mm"))
	fmt.Println(err)
	// Output:
	// enough is proven: true - not too much is proven: false
	// verdict
	//   all of the reading within the limits: conforming; none of it: outside
	//   >= 0.15 mm to 0.15..0.32 mm
	//   = undecided
	//   source: ISO 14253-1:2017, default rule
	//   note: proven not to be below the lower limit
	//   note: an expanded uncertainty of 0.085 mm would settle it
	// feeler set: not in the set: 0.12 mm; the nearest are 0.1 mm and 0.15 mm
}

func ExampleValveOpens() {
	jet, err := clearance.ValveOpens(units.MustParsePressure("45 psi"), units.MustParsePressure("52 psi"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(jet.How(units.PoundForcePerSquareInch))
	fmt.Println(clearance.Judge(jet.Interval(), units.MustParsePressureInterval("44..55 psi")))
	// Output:
	// shut at 45 psi, open at 52 psi
	// conforming
}

// mustLength and friends keep the examples short; programs check their errors.
var (
	length   = units.MustParseLength
	interval = units.MustParseLengthInterval
)

// Housing bore and journal are read, the walls are what is printed on the boxes.
func ExampleFit_Working() {
	gauge := clearance.LengthInstrument{Name: "bore gauge", Uncertainty: length("0.003 mm")}
	micrometer := clearance.LengthInstrument{Name: "micrometer", Uncertainty: length("0.004 mm")}
	bore, err := gauge.Read(length("52.012 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	journal, err := micrometer.Read(length("47.968 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	wall := clearance.Given(interval("2.000..2.003 mm"), "printed on the box")
	main3 := clearance.MeasuredBearing{HousingBore: bore, UpperWall: wall, LowerWall: wall, Journal: journal}
	fmt.Print(main3.Fit().Working(clearance.ByKind, units.Millimetre))
	// Output:
	// running clearance
	//   D, housing bore
	//     bore gauge, 52.012 mm ±0.003 mm (k = 2)
	//     = 52.009..52.015 mm
	//   t1, upper wall
	//     printed on the box
	//     = 2..2.003 mm
	//   t2, lower wall
	//     printed on the box
	//     = 2..2.003 mm
	//   d, journal
	//     micrometer, 47.968 mm ±0.004 mm (k = 2)
	//     = 47.964..47.972 mm
	//   smallest
	//     52.012 - 2.003 - 2.003 - 47.968
	//     = 0.038 mm
	//   largest
	//     52.012 - 2 - 2 - 47.968
	//     = 0.044 mm
	//   expanded uncertainty, k = 2, rounded up
	//     U = √(U1² + U2² + …)
	//     √(0.003² + 0.004²)
	//     = 0.005 mm
	//     source: JCGM 100:2008, 5.1.2
	//   C = D - t1 - t2 - d
	//   uncertainties by root-sum-square (k = 2), brackets by worst case
	//   = 0.033..0.049 mm
	//   source: JCGM 100:2008, 5.1.2, for uncertainties; interval arithmetic for brackets
}

// What a good foreman would say of a strip between its 0.020 and 0.030 prints.
func ExampleAssessment_Needed() {
	strip, err := clearance.NewStrip(length("0.020 mm"), length("0.030 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	reading, err := strip.Between(length("0.020 mm"), length("0.030 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	main3 := clearance.Assess(reading, interval("0.024..0.048 mm"))
	needed, ok := main3.Needed()
	fmt.Println(main3.Verdict, needed, ok)

	gauge := clearance.LengthInstrument{Name: "bore gauge", Uncertainty: length("0.001 mm")}
	micrometer := clearance.LengthInstrument{Name: "micrometer", Uncertainty: length("0.0008 mm")}
	together := clearance.Together(gauge, micrometer, micrometer, micrometer)
	fmt.Println(together, main3.SettledBy(together))
	// Output:
	// undecided 0.002 mm true
	// 0.001709 mm true
}

func ExampleFit_Remeasurements() {
	read := func(name, value, uncertainty string) clearance.LengthReading {
		r, err := clearance.LengthInstrument{Name: name, Uncertainty: length(uncertainty)}.Read(length(value))
		if err != nil {
			fmt.Println(err)
		}
		return r
	}
	pin := clearance.PinFit(read("calliper", "22.012 mm", "0.010 mm"), read("micrometer", "22.000 mm", "0.003 mm"))
	fmt.Println(pin.Assess(clearance.ByKind, interval("0.005..0.020 mm")).Verdict)
	offered := map[string][]clearance.LengthInstrument{
		"D": {{Name: "bore gauge", Uncertainty: length("0.002 mm")}},
		"d": {{Name: "micrometer", Uncertainty: length("0.003 mm")}},
	}
	for _, m := range pin.Remeasurements(clearance.ByKind, interval("0.005..0.020 mm"), offered) {
		fmt.Printf("read %s with the %s: then ±%s in all\n", m.Uses[0].Term, m.Uses[0].Instrument.Name, m.Expanded)
	}
	// Output:
	// undecided
	// read D with the bore gauge: then ±0.003606 mm in all
}

func ExampleFit_Agreement() {
	sizes := clearance.MeasuredBearing{
		HousingBore: clearance.Given(interval("52.012 ±0.003 mm"), "bore gauge"),
		UpperWall:   clearance.Given(interval("2.001 ±0.001 mm"), "micrometer"),
		LowerWall:   clearance.Given(interval("2.003 ±0.001 mm"), "micrometer"),
		Journal:     clearance.Given(interval("47.968 ±0.002 mm"), "micrometer"),
	}
	f := sizes.Fit()
	f.Direct = clearance.Given(interval("0.051..0.064 mm"), "crush strip")
	a := f.Agreement(clearance.ByKind)
	fmt.Println(a.Agree, a.Apart)
	fmt.Println(f.Assess(clearance.ByKind, interval("0.03..0.06 mm")).Verdict)
	// Output:
	// false 0.004 mm
	// undecided
}

// A bearing that is too tight, and the shells and the undersize that exist.
func ExampleFit_Remedies() {
	b := clearance.MeasuredBearing{
		HousingBore: clearance.Given(interval("52.012 ±0.003 mm"), "bore gauge"),
		UpperWall:   clearance.Given(interval("2.004 ±0.001 mm"), "box"),
		LowerWall:   clearance.Given(interval("2.004 ±0.001 mm"), "box"),
		Journal:     clearance.Given(interval("47.984 ±0.002 mm"), "micrometer"),
	}
	f := b.Fit()
	for i := range f.Terms[1:] {
		f.Terms[1+i].Series = "standard"
	}
	shell := func(term, name, wall, series string) clearance.Alternative {
		return clearance.Alternative{Term: term, Name: name, Reading: clearance.Given(interval(wall), "box"), Series: series}
	}
	remedies, err := f.Remedies(clearance.WorstCase, interval("0.020..0.044 mm"),
		shell("t1", "blue shell above", "1.999 ±0.001 mm", "standard"),
		shell("t2", "blue shell below", "1.999 ±0.001 mm", "standard"),
		shell("t1", "undersize shell above", "2.125 ±0.001 mm", "0.25"),
		shell("t2", "undersize shell below", "2.125 ±0.001 mm", "0.25"),
		clearance.Alternative{Term: "d", Name: "journal ground", Reading: clearance.Given(interval("47.730 ±0.005 mm"), "grinder"),
			Series: "0.25", Effort: clearance.Grinding},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(remedies.Text(units.Millimetre))
	nothing, err := f.Remedies(clearance.WorstCase, interval("0.020..0.044 mm"))
	fmt.Print(nothing.Text(units.Millimetre), err)
	// Output:
	// blue shell above and blue shell below: 0.023..0.037 mm, at least 0.003 mm inside
	// undersize shell above and undersize shell below and journal ground: 0.022..0.042 mm, at least 0.002 mm inside
	// nothing at hand brings it inside: a case for a machine shop
	// <nil>
}

// An end play of 0.30 to 0.31 mm by dial, with 2.40 mm washers fitted on both
// sides: which pair would bring it to 0.10 to 0.20 mm?
func ExampleFit_Wanted() {
	washer := clearance.Given(interval("2.40 mm"), "micrometer")
	f := clearance.MeasuredEndPlay(clearance.Given(interval("0.30..0.31 mm"), "dial"), washer, washer)
	pair, ok, err := f.Wanted(clearance.ByKind, interval("0.10..0.20 mm"), "t1", "t2")
	fmt.Println(pair, ok, err)
	// Output: 4.91..5 mm true <nil>
}

func ExampleFile() {
	rule := clearance.SizeRule{PerSizeLo: decimal.RequireFromString("0.0040"), PerSizeHi: decimal.RequireFromString("0.0045")}
	limits, err := rule.Limits(clearance.Given(interval("86.00..86.01 mm"), "bore gauge"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("limits", limits)
	filing, ok := clearance.File(clearance.Given(interval("0.30..0.32 mm"), "feeler blades"), limits)
	fmt.Println(filing.Needed, ok)
	fmt.Print(filing.Working(units.Millimetre))
	// Output:
	// limits 0.34404..0.387 mm
	// true true
	// to file off
	//   g, gap
	//     feeler blades
	//     = 0.3..0.32 mm
	//   L - g_lo to H - g_hi, and not less than nothing
	//   0.34404 - 0.3 to 0.387 - 0.32
	//   = 0.04404..0.067 mm
	//   note: file a little, square to the ring, and measure again
}

func ExampleRingLayout_Plan() {
	degrees := units.MustParseAngle
	layout := clearance.RingLayout{
		Neighbours: degrees("90°"), Any: degrees("30°"),
		Forbidden: []clearance.Arc{
			{Name: "pin, front", Centre: degrees("90°"), Reach: degrees("15°")},
			{Name: "pin, rear", Centre: degrees("270°"), Reach: degrees("15°")},
			{Name: "thrust side", Centre: degrees("180°"), Reach: degrees("20°")},
		},
	}
	gaps, margin, err := layout.Plan("top", "second", "oil")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range gaps {
		fmt.Println(g.Ring, g.At)
	}
	fmt.Println("room to spare:", margin)
	faults, err := layout.Judge(
		clearance.RingGap{Ring: "top", At: degrees("100°")}, clearance.RingGap{Ring: "second", At: degrees("300°")})
	for _, f := range faults {
		fmt.Println(f.Detail)
	}
	fmt.Println(err)
	// Output:
	// top 132 °
	// second 0 °
	// oil 227 °
	// room to spare: 27 °
	// the gap of top at 100 ° stands in the arc of pin, front (90 ° ± 15 °)
	// <nil>
}

// An aluminium housing on a steel journal opens up as it warms.
func ExampleFit_Opening() {
	alpha := func(perKelvin string) clearance.Expansion {
		d := decimal.RequireFromString(perKelvin)
		e, err := clearance.PerKelvin(d, d)
		if err != nil {
			fmt.Println(err)
		}
		return e
	}
	at := units.MustParseTemperatureInterval("90 °C")
	conditions := map[string]clearance.Condition{
		"D":  {Material: "aluminium", Expansion: alpha("0.0000215"), Temperature: at},
		"t1": {Material: "steel", Expansion: alpha("0.0000117"), Temperature: at},
		"t2": {Material: "steel", Expansion: alpha("0.0000117"), Temperature: at},
		"d":  {Material: "steel", Expansion: alpha("0.0000123"), Temperature: at},
	}
	wall := clearance.Given(interval("2 mm"), "drawing")
	b := clearance.MeasuredBearing{
		HousingBore: clearance.Given(interval("52 mm"), "drawing"), UpperWall: wall, LowerWall: wall,
		Journal: clearance.Given(interval("47.96 mm"), "drawing"),
	}
	working, err := b.Fit().OpeningWorking(conditions, units.Millimetre)
	fmt.Print(working)
	fmt.Println(err)
	// Output:
	// running clearance, opening from 20 °C
	//   ΔD, housing bore, aluminium
	//     D·α·(T - 20 °C)
	//     52 mm × 0.0000215/K × (90 °C - 20 °C)
	//     = 0.07826 mm
	//   Δt1, upper wall, steel
	//     t1·α·(T - 20 °C)
	//     2 mm × 0.0000117/K × (90 °C - 20 °C)
	//     = 0.001638 mm
	//   Δt2, lower wall, steel
	//     t2·α·(T - 20 °C)
	//     2 mm × 0.0000117/K × (90 °C - 20 °C)
	//     = 0.001638 mm
	//   Δd, journal, steel
	//     d·α·(T - 20 °C)
	//     47.96 mm × 0.0000123/K × (90 °C - 20 °C)
	//     = 0.041293..0.041294 mm
	//   ΔC = ΔD - Δt1 - Δt2 - Δd
	//   = 0.03369..0.033691 mm
	//   source: linear expansion; sizes are stated at 20 °C (ISO 1:2022)
	// <nil>
}

func ExampleSlips() {
	limits := interval("0.029..0.057 mm")
	typed := clearance.Given(interval("0.38 mm"), "micrometer and bore gauge")
	fmt.Println(clearance.Judge(typed.Interval(), limits))
	for _, s := range clearance.Slips(typed, limits, units.Millimetre, units.Inch) {
		fmt.Println(s)
	}
	// Output:
	// above limit
	// probable slip: the decimal point one place to the left would make it 0.038 mm, conforming; read it again
}

func ExampleStations() {
	micrometer := clearance.LengthInstrument{Name: "micrometer", Uncertainty: length("0.003 mm")}
	var planes [][]clearance.LengthReading
	for _, plane := range [][]string{{"47.990 mm", "47.984 mm"}, {"47.978 mm", "47.981 mm"}} {
		var readings []clearance.LengthReading
		for _, text := range plane {
			r, err := micrometer.Read(length(text))
			if err != nil {
				fmt.Println(err)
				return
			}
			readings = append(readings, r)
		}
		planes = append(planes, readings)
	}
	journal, err := clearance.NewStations(planes...)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("taper", journal.Taper().Interval(), clearance.Judge(journal.Taper().Interval(), interval("<= 0.005 mm")))
	fmt.Println("out-of-round", journal.OutOfRound().Interval())
	fmt.Println("for the fit", journal.Extremes().Interval())
	// Output:
	// taper 0.007757..0.016243 mm above limit
	// out-of-round 0.001757..0.010243 mm
	// for the fit 47.975..47.993 mm
}

func ExampleInstrument_Repeat() {
	micrometer := clearance.LengthInstrument{Name: "micrometer", Uncertainty: length("0.002 mm")}
	journal, err := micrometer.Repeat(length("47.985 mm"), length("47.989 mm"), length("47.987 mm"))
	fmt.Println(journal, err)
	fmt.Println(journal.Freedom(), "degrees of freedom")
	// Output:
	// 47.983154..47.990846 mm, micrometer, mean 47.987 mm of 3 readings <nil>
	// 6 degrees of freedom
}

func ExampleConformityProbability() {
	gauge := clearance.LengthInstrument{Name: "bore gauge and micrometer", Uncertainty: length("0.004 mm")}
	r, err := gauge.Read(length("0.027 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	limits := interval("0.024..0.048 mm")
	p, err := clearance.ConformityProbability(r, limits)
	fmt.Printf("%s, %.3f, %v\n", clearance.Judge(r.Interval(), limits), p, err)
	// Output: undecided, 0.933, <nil>
}

func ExampleAccepting() {
	guarded, err := clearance.Accepting(interval("0.024..0.048 mm"), length("0.004 mm"))
	fmt.Println(guarded, err)
	_, err = clearance.Accepting(interval("0.024..0.048 mm"), length("0.013 mm"))
	fmt.Println(err)
	// Output:
	// 0.028..0.044 mm <nil>
	// guard band: no such guard band: 0.013 mm on each side of 0.024..0.048 mm; nothing is left to accept: measure with an uncertainty well below half the width of the limits
}

func ExampleProcess_Risks() {
	process := clearance.Process[units.LengthDim]{Mean: length("0.036 mm"), Spread: length("0.006 mm")}
	limits := interval("0.024..0.048 mm")
	plain, err1 := process.Risks(limits, limits, length("0.004 mm"))
	guarded, err2 := process.Risks(limits, interval("0.028..0.044 mm"), length("0.004 mm"))
	fmt.Printf("as measured: bad ones passed %.4f, good ones refused %.4f, %v\n", plain.Consumer, plain.Producer, err1)
	fmt.Printf("with proof:  bad ones passed %.4f, good ones refused %.4f, %v\n", guarded.Consumer, guarded.Producer, err2)
	// Output:
	// as measured: bad ones passed 0.0098, good ones refused 0.0220, <nil>
	// with proof:  bad ones passed 0.0002, good ones refused 0.1606, <nil>
}

func ExampleCompression() {
	c := clearance.Compression{
		Bore: interval("86.0 mm"), Stroke: interval("80.0 mm"), Deck: interval("0.35..0.45 mm"),
		GasketBore: interval("87.0 mm"), GasketThickness: interval("1.2 mm"),
		Chamber: units.MustParseVolumeInterval("39.8..40.2 cm³"), Dish: units.MustParseVolumeInterval("3 cm³"),
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

func ExampleUndersizeWall() {
	fmt.Println(clearance.UndersizeWall(interval("0.1245..0.1250 in"), length("0.010 in")).FormatOutward(units.Inch, 4))
	// Output: 0.1295..0.1300 in
}

func ExampleSizeRule_Working() {
	rule := clearance.SizeRule{PerSizeLo: decimal.RequireFromString("0.0040"), PerSizeHi: decimal.RequireFromString("0.0045"), Extra: length("0.001 in")}
	working, err := rule.Working(clearance.Given(interval("3.7505 in"), "telescopic gauge"), units.Inch)
	fmt.Print(working)
	fmt.Println(err)
	// Output:
	// limits by size
	//   size
	//     telescopic gauge
	//     = 3.7505 in
	//   per size × size + extra, the lower limit at the largest size
	//   0.004 × 3.7505 + 0.001 to 0.0045 × 3.7505 + 0.001
	//   = 0.016002..≈0.017877 in
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
