package clearance_test

import (
	"fmt"

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
	limits := units.MustParseLengthInterval("0.030..0.052 mm")
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
		units.MustParseLength("0.076 mm"), units.MustParseLength("0.102 mm"), units.MustParseLength("0.127 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	endPlay, err := feelers.Goes(units.MustParseLength("0.102 mm"))
	if err != nil {
		fmt.Println(err)
		return
	}
	a := clearance.Assess(endPlay, units.MustParseLengthInterval("0.10..0.266 mm"))
	fmt.Println(a.Verdict, "- enough is proven:", a.AboveLower(), "- not too much is proven:", a.BelowUpper())
	_, err = feelers.Goes(units.MustParseLength("0.10 mm"))
	fmt.Println(err)
	// Output:
	// undecided - enough is proven: true - not too much is proven: false
	// feeler set: not in the set: 0.1 mm; the nearest are 0.076 mm and 0.102 mm
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
