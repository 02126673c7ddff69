package isofit_test

import (
	"encoding/json"
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func ExampleDesignation() {
	fit, err := isofit.ParseDesignation("55 H7/g6")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(fit.Hole().Limits())
	fmt.Println(fit.Shaft().Limits())
	gap := fit.Clearance().Interval()
	fmt.Println(isofit.KindOf(gap), gap)
	text, err := json.Marshal(fit)
	fmt.Println(string(text), err)
	// Output:
	// 55..55.03 mm
	// 54.971..54.99 mm
	// clearance fit 0.01..0.059 mm
	// "55 H7/g6" <nil>
}

func ExampleDesignation_Working() {
	fit, err := isofit.ParseDesignation("20 H7/s6")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(fit.Working())
	// Output:
	// 20 H7/s6
	//   20 H7
	//     limits = nominal + EI .. nominal + ES; ES - EI = IT7
	//     EI = 0 µm, ES = +21 µm; IT7 = 21 µm
	//     = 20..20.021 mm
	//     source: ISO 286-1:2010, tables 1 to 3
	//   20 s6
	//     limits = nominal + ei .. nominal + es; es - ei = IT6
	//     ei = +35 µm, es = +48 µm; IT6 = 13 µm
	//     = 20.035..20.048 mm
	//     source: ISO 286-1:2010, tables 1, 4 and 5
	//   smallest
	//     20 - 20.048
	//     = -0.048 mm
	//   largest
	//     20.021 - 20.035
	//     = -0.014 mm
	//   C = D - d
	//   = interference fit: smallest interference 0.014 mm, largest interference 0.048 mm
	//   source: ISO 286-1:2010, 3.3 (clearance, interference, kinds of fit)
}

func ExampleParseDesignation_refused() {
	_, err := isofit.ParseDesignation("55 g6/H7")
	fmt.Println(err)
	// Output:
	// "55 g6/H7": not a tolerance class or fit: the shaft before the hole; write "55 H7/g6"
}

func ExampleSize() {
	bore, err := isofit.ParseSize("55 H7")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bore, "is", bore.Limits())
	fmt.Println("IT7 is", bore.Limits().Width(), "wide there")
	// Output:
	// 55 H7 is 55..55.03 mm
	// IT7 is 0.03 mm wide there
}

func ExampleToleranceClass() {
	class, err := isofit.ParseToleranceClass("h6")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, nominal := range []string{"10 mm", "55 mm"} {
		shaft, err := isofit.NewSize(units.MustParseLength(nominal), class)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(shaft, "deviates by", shaft.Deviations())
	}
	// Output:
	// 10 h6 deviates by -0.009..0 mm
	// 55 h6 deviates by -0.019..0 mm
}

// A pin and its bush as they were measured, against the fit that the drawing names.
func ExampleDesignation_Clearance() {
	gauge := measure.LengthInstrument{Name: "bore gauge", Uncertainty: units.MustParseLength("0.0015 mm")}
	micrometer := measure.LengthInstrument{Name: "micrometer", Uncertainty: units.MustParseLength("0.002 mm")}
	bush, errBush := gauge.Read("bush", units.MustParseLength("22.008 mm"))
	pin, errPin := micrometer.Read("pin", units.MustParseLength("21.992 mm"))
	fit, errFit := isofit.ParseDesignation("22 H6/g5")
	if errBush != nil || errPin != nil || errFit != nil {
		fmt.Println(errBush, errPin, errFit)
		return
	}
	a := clearance.BoreFit("pin in its bush", bush, pin).Assess(fit.Clearance().Interval())
	fmt.Println(a.Reading.Interval(), "within", a.Tolerance, a.Verdict)
	// Output:
	// 0.0135..0.0185 mm within 0.007..0.029 mm conforming
}

func ExampleDesign() {
	// A bearing that must never run with less than 0.030 mm.
	hole, shaft, err := isofit.Design{
		Nominal:           units.MustParseLength("60 mm"),
		HoleTolerance:     units.MustParseLength("0.019 mm"),
		ShaftTolerance:    units.MustParseLength("0.015 mm"),
		SmallestClearance: units.MustParseLength("0.030 mm"),
	}.HoleBasis()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(hole, shaft, hole.Sub(shaft))
	// Output:
	// 60..60.019 mm 59.955..59.97 mm 0.03..0.064 mm
}
