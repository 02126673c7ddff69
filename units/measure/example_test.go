package measure_test

import (
	"fmt"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A bore gauge set in the micrometer that reads the journal: the micrometer's common
// error is in both, and cancels in the clearance.
func ExampleSum() {
	micrometer := measure.LengthInstrument{
		Name:   "micrometer",
		Common: units.MustParseLength("0.003 mm"), Repeats: units.MustParseLength("0.001 mm"),
	}
	setting, _ := micrometer.Read("setting of the bore gauge", units.MustParseLength("20 mm"))
	gauge := measure.LengthInstrument{
		Name:   "bore gauge",
		Common: units.MustParseLength("0.001 mm"), Repeats: units.MustParseLength("0.0015 mm"),
		SetOn: setting,
	}
	bush, _ := gauge.Read("bush", units.MustParseLength("20.021 mm"))
	shaft, _ := micrometer.Read("shaft", units.MustParseLength("19.995 mm"))

	clearance := measure.Sum[units.LengthDim]{Name: "bush, clearance", Symbol: "C", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bush", bush),
		measure.Minus("d", "shaft", shaft),
	}}
	limits := units.MustParseLengthInterval("0.020..0.033 mm")
	fmt.Println(measure.Judge(clearance.Interval(), limits))
	fmt.Print(clearance.Working(units.Millimetre))
	// Output:
	// conforming
	// bush, clearance
	//   D, bush
	//     bore gauge, 20.021 mm ±0.0039371 mm (k = 2)
	//     = 20.0170629..20.0249371 mm
	//   d, shaft
	//     micrometer, 19.995 mm ±0.0031623 mm (k = 2)
	//     = 19.9918377..19.9981623 mm
	//   value
	//     20.021 - 19.995
	//     = 0.026 mm
	//   bore gauge, common to its readings
	//     = 0.001 mm
	//   bore gauge, reading bush, 20.021 mm
	//     = 0.0015 mm
	//   micrometer, common to its readings
	//     0.003 - 0.003
	//     = 0: it cancels
	//   micrometer, reading setting of the bore gauge, 20 mm
	//     = 0.001 mm
	//   bore gauge, set on setting of the bore gauge, 20 mm
	//     = 0.0015 mm
	//   micrometer, reading shaft, 19.995 mm
	//     = 0.001 mm
	//   expanded uncertainty, k = 2, rounded up
	//     U = √(U1² + U2² + …)
	//     √(0.001² + 0.0015² + 0.001² + 0.0015² + 0.001²)
	//     = 0.0027387 mm
	//   C = D - d
	//   = 0.0232613..0.0287387 mm
	//   source: JCGM 100:2008, 5.2.2; what is not known of a correlation is taken at its worst
}
