package calc

import (
	"math/big"

	"example.com/closefit/units"
)

// A conversionUnit is a unit of CONVERT.
type conversionUnit struct {
	dimension string
	size      *big.Rat // in the SI unit
	zero      *big.Rat // of a scale of temperature: what is added to reach absolute zero, in its own degrees
}

// conversionUnits are the units of CONVERT, by its own spelling of them, which tells
// capitals: ISO/IEC 29500-1, 18.17; OpenFormula 1.3, CONVERT. Their sizes are those of package
// units, or stand here with their source.
var conversionUnits = func() map[string]conversionUnit {
	all := map[string]conversionUnit{}
	add := func(dimension string, size *big.Rat, names ...string) {
		for _, name := range names {
			all[name] = conversionUnit{dimension: dimension, size: size}
		}
	}
	// prefixed adds a unit with its decimal multiples: SI Brochure, 9th ed., table 7.
	prefixed := func(dimension string, size *big.Rat, names ...string) {
		for prefix, power := range map[string]int64{"": 0, "k": 3, "h": 2, "e": 1, "da": 1, "d": -1, "c": -2, "m": -3, "u": -6, "n": -9, "p": -12, "M": 6, "G": 9} {
			factor := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(max(power, -power)), nil))
			if power < 0 {
				factor.Inv(factor)
			}
			for _, name := range names {
				add(dimension, new(big.Rat).Mul(size, factor), prefix+name)
			}
		}
	}
	times := func(r *big.Rat, num, denom int64) *big.Rat { return new(big.Rat).Mul(r, big.NewRat(num, denom)) }

	prefixed("length", units.Metre.Factor(), "m")
	prefixed("force", units.Newton.Factor(), "N")
	prefixed("pressure", units.Pascal.Factor(), "Pa", "p")
	prefixed("mass", sizeOf[units.MassDim]("g"), "g")
	prefixed("volume", sizeOf[units.VolumeDim]("L"), "l", "L", "lt")

	inch, foot := units.Inch.Factor(), units.Foot.Factor()
	add("length", inch, "in")
	add("length", foot, "ft")
	add("length", times(foot, 3, 1), "yd")
	add("length", times(foot, 5280, 1), "mi")           // NIST SP 811, 2008, B.8: 5280 ft
	add("length", big.NewRat(1852, 1), "Nmi")           // NIST SP 811, 2008, B.8: 1852 m
	add("length", big.NewRat(1, 10_000_000_000), "ang") // NIST SP 811, 2008, B.8: 0.1 nm
	add("force", sizeOf[units.ForceDim]("dyn"), "dyn", "dy")
	add("force", units.PoundForce.Factor(), "lbf")
	add("pressure", units.PoundForcePerSquareInch.Factor(), "psi")
	add("pressure", sizeOf[units.PressureDim]("atm"), "atm", "at")
	add("pressure", sizeOf[units.PressureDim]("mmHg"), "mmHg")
	add("pressure", sizeOf[units.PressureDim]("Torr"), "Torr")
	add("mass", sizeOf[units.MassDim]("lb"), "lbm")
	add("mass", sizeOf[units.MassDim]("oz"), "ozm")
	add("volume", new(big.Rat).Mul(inch, new(big.Rat).Mul(inch, inch)), "in3", "in^3")
	add("volume", new(big.Rat).Mul(foot, new(big.Rat).Mul(foot, foot)), "ft3", "ft^3")
	add("volume", big.NewRat(1, 1), "m3", "m^3")
	gallon := times(new(big.Rat).Mul(inch, new(big.Rat).Mul(inch, inch)), 231, 1) // NIST SP 811, 2008, B.8: 231 in³
	add("volume", gallon, "gal")
	add("volume", times(gallon, 1, 4), "qt")
	add("volume", times(gallon, 1, 8), "pt", "us_pt")
	add("volume", times(gallon, 1, 16), "cup")
	add("volume", times(gallon, 1, 128), "oz")
	add("area", big.NewRat(1, 1), "m2", "m^2")
	add("area", new(big.Rat).Mul(inch, inch), "in2", "in^2")
	add("area", new(big.Rat).Mul(foot, foot), "ft2", "ft^2")
	for name, seconds := range map[string]int64{"sec": 1, "s": 1, "mn": 60, "min": 60, "hr": 3600, "day": 86400, "d": 86400} {
		add("time", big.NewRat(seconds, 1), name)
	}
	for _, scale := range []struct {
		names      []string
		size, zero *big.Rat
	}{ // SI Brochure, 9th ed., 2.3.1; NIST SP 811, 2008, B.8
		{[]string{"K", "kel"}, big.NewRat(1, 1), new(big.Rat)},
		{[]string{"C", "cel"}, big.NewRat(1, 1), big.NewRat(27315, 100)},
		{[]string{"F", "fah"}, big.NewRat(5, 9), big.NewRat(45967, 100)},
	} {
		for _, name := range scale.names {
			all[name] = conversionUnit{dimension: "temperature", size: scale.size, zero: scale.zero}
		}
	}
	return all
}()

// sizeOf returns the size of a unit of package units by its symbol.
func sizeOf[D units.Dimension](symbol string) *big.Rat {
	for _, u := range units.Units[D]() {
		if u.String() == symbol {
			return u.Factor()
		}
	}
	panic("calc: package units has no " + symbol)
}
