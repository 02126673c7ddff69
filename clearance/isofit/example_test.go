package isofit_test

import (
	"fmt"

	"example.com/closefit/clearance/isofit"
	"example.com/closefit/units"
)

func ExampleParseFit() {
	fit, err := isofit.ParseFit("55 H7/g6")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(fit.Hole().Limits())
	fmt.Println(fit.Shaft().Limits())
	fmt.Println(fit.Kind(), fit.Clearance())
	// Output:
	// 55..55.03 mm
	// 54.971..54.99 mm
	// clearance fit 0.01..0.059 mm
}

func ExampleFit_Working() {
	fmt.Print(isofit.MustParseFit("20 H7/s6").Working())
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
	//   smallest clearance = hole min - shaft max; largest clearance = hole max - shaft min
	//   20 - 20.048 = -0.048; 20.021 - 20.035 = -0.014
	//   = interference fit: smallest interference 0.014 mm, largest interference 0.048 mm
	//   source: ISO 286-1:2010, 3.3 (clearance, interference, kinds of fit)
}

func ExampleParseFit_refused() {
	_, err := isofit.ParseFit("55 g6/H7")
	fmt.Println(err)
	// Output:
	// "55 g6/H7": the shaft before the hole; write "55 H7/g6"
}

func ExampleDesign_HoleBasis() {
	// A bearing that must never run with less than 0.030 mm.
	pair, err := isofit.Design{
		Nominal:           units.MustParseLength("60 mm"),
		HoleTolerance:     units.MustParseLength("0.019 mm"),
		ShaftTolerance:    units.MustParseLength("0.015 mm"),
		SmallestClearance: units.MustParseLength("0.030 mm"),
	}.HoleBasis()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(pair.Hole, pair.Shaft, pair.Clearance())
	// Output:
	// 60..60.019 mm 59.955..59.97 mm 0.03..0.064 mm
}
