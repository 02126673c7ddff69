package units_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// The clearance of a main bearing: the housing bore less two shell walls less the
// journal, each as measured, against the limits.
func Example() {
	bore := units.MustParseLengthInterval("60.012 ±0.002 mm")
	upper := units.MustParseLengthInterval("2.001..2.003 mm")
	lower := units.MustParseLengthInterval("2.002..2.004 mm")
	journal := units.MustParseLengthInterval("55.970 ±0.002 mm")

	clearance := bore.Sub(upper).Sub(lower).Sub(journal)
	limits := units.MustParseLengthInterval("0.024..0.048 mm")

	fmt.Println(clearance, "in", limits, clearance.Within(limits))
	fmt.Println(clearance.FormatOutward(units.Thou, 2))
	// Output:
	// 0.031..0.043 mm in 0.024..0.048 mm true
	// 1.22..1.70 thou
}

func ExampleParseLength() {
	for _, text := range []string{"60.012 mm", "2.3625in", "1 3/64 in", `3/8"`, "1.5 thou"} {
		l, err := units.ParseLength(text)
		fmt.Println(l, err)
	}
	// Output:
	// 60.012 mm <nil>
	// 60.0075 mm <nil>
	// 26.590625 mm <nil>
	// 9.525 mm <nil>
	// 0.0381 mm <nil>
}

// What is wrong is quoted, with the place and what to write.
func ExampleParseLength_wrong() {
	for _, text := range []string{"60,0125 mm", "6O.012 mm", "60.012", "60.012 N·m"} {
		_, err := units.ParseLength(text)
		fmt.Println(err)
	}
	// Output:
	// "60,0125 mm", column 3: a decimal comma; write "60.0125 mm"
	// "6O.012 mm", column 2: the letter O; write "60.012 mm"
	// "60.012", column 7: a number without a unit; write "60.012 mm"
	// "60.012 N·m", column 8: "N·m", a unit of torque where a length is wanted; write a unit of length, such as mm
}

func ExampleError() {
	_, err := units.ParseForce("30 lb")
	if e, ok := errors.AsType[*units.Error](err); ok {
		fmt.Println(e.Column, e.Found)
		fmt.Println(e.Fix)
	}
	fmt.Println(errors.Is(err, units.ErrWrongDimension))
	// Output:
	// 4 "lb", which is no unit of force
	// a pound is a mass; write lbf for the force that it weighs
	// true
}

func ExampleParseTorque() {
	for _, text := range []string{"30 Nm", "30 N-m", "22 ft-lb", "22 lbf·ft", "265 in-lb", "3.1 kgm"} {
		t, err := units.ParseTorque(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(t.Format(units.NewtonMetre, 2, units.HalfEven), "=", t.Format(units.PoundForceFoot, 2, units.HalfEven))
	}
	// Output:
	// 30.00 N·m = 22.13 lbf·ft
	// 30.00 N·m = 22.13 lbf·ft
	// 29.83 N·m = 22.00 lbf·ft
	// 29.83 N·m = 22.00 lbf·ft
	// 29.94 N·m = 22.08 lbf·ft
	// 30.40 N·m = 22.42 lbf·ft
}

func ExampleParseLengthInterval() {
	for _, text := range []string{"0.024..0.048 mm", "60 +0.019/0 mm", "2.5 ±0.002 mm", "<= 0.02 mm", "2.5 mm"} {
		iv, err := units.ParseLengthInterval(text)
		fmt.Println(iv, err)
	}
	// Output:
	// 0.024..0.048 mm <nil>
	// 60..60.019 mm <nil>
	// 2.498..2.502 mm <nil>
	// <= 0.02 mm <nil>
	// 2.5 mm <nil>
}

func ExampleScale_Parse() {
	for _, cell := range []string{"60.012", "2.3625 in", "60,012", "sixty"} {
		bore, err := units.Millimetre.Parse(cell)
		fmt.Println(bore, err != nil)
	}
	// Output:
	// 60.012 mm false
	// 60.0075 mm false
	// 0 mm true
	// 0 mm true
}

func ExampleScale_Of() {
	wall := units.Millimetre.Of(decimal.RequireFromString("2.006"))
	fmt.Println(wall, wall.Equal(units.Micrometre.OfInt(2006)))
	// Output: 2.006 mm true
}

func ExampleScale_OfFloat64() {
	stretch, err := units.Micrometre.OfFloat64(123.456789, 1)
	fmt.Println(stretch, err)
	// Output: 0.1235 mm <nil>
}

func ExampleUnits() {
	for _, u := range units.Units[units.ForceDim]() {
		factor, _ := u.Factor().Float64()
		fmt.Printf("%-7s %.6g N (%s)\n", u, factor, u.Source())
	}
	// Output:
	// N       1 N (SI Brochure, 9th edition (2019))
	// kN      1000 N (SI Brochure, 9th edition (2019))
	// MN      1e+06 N (SI Brochure, 9th edition (2019))
	// lbf     4.44822 N (NIST SP 811 (2008), B.8)
	// kip     4448.22 N (NIST SP 811 (2008), B.8)
	// ozf     0.278014 N (NIST SP 811 (2008), B.8)
	// kgf     9.80665 N (NIST SP 811 (2008), B.8)
	// gf      0.00980665 N (NIST SP 811 (2008), B.8)
	// US tonf 8896.44 N (NIST SP 811 (2008), B.8)
	// dyn     1e-05 N (NIST SP 811 (2008), B.8)
}

// In rounds, and only there is anything rounded.
func ExampleValue_In() {
	p := units.MustParse[units.Pressure]("50 psi")
	fmt.Println(p.In(units.Bar, 2), p.In(units.Bar, 6), p.In(units.PoundForcePerSquareInch, 6))
	// Output: 3.45 3.447379 50
}

func ExampleValue_Rounded() {
	l := units.MustParseLength("1.5 thou") // 0.0381 mm
	fmt.Println(l.Rounded(units.Millimetre, 3, units.HalfEven),
		l.Rounded(units.Millimetre, 3, units.Ceiling), l.Rounded(units.Millimetre, 3, units.Floor))
	// Output: 0.038 0.039 0.038
}

func ExampleValue_Format() {
	l := units.MustParseLength("2.3625 in")
	fmt.Println(l.Format(units.Millimetre, 3, units.HalfEven))
	fmt.Println(l.Format(units.Inch, 4, units.HalfEven))
	// Output:
	// 60.008 mm
	// 2.3625 in
}

// String is for reading; Exact keeps every digit.
func ExampleValue_Exact() {
	third := units.MustParseLength("1 mm").MulRat(big.NewRat(1, 3))
	fmt.Println(third, "is", third.Exact())
	psi := units.MustParse[units.Pressure]("50 psi")
	fmt.Println(psi, "is", psi.Exact())
	// Output:
	// ≈0.333333 mm is (1/3) mm
	// ≈344.737865 kPa is 50 psi
}

func ExampleValue_Equal() {
	fmt.Println(units.MustParseLength("1 in").Equal(units.MustParseLength("25.4 mm")))
	// Output: true
}

// A column of a database keeps the text, and "none" where nothing was measured.
func ExampleClosedInterval_UnmarshalText() {
	for _, reading := range []units.LengthInterval{units.MustParseLengthInterval("47.986 ±0.002 mm"), {}} {
		column, err := reading.MarshalText()
		if err != nil {
			fmt.Println(err)
			return
		}
		var back units.LengthInterval
		err = back.UnmarshalText(column)
		fmt.Printf("%s %v %v\n", column, back.Equal(reading), err)
	}
	// Output:
	// 47.984..47.988 mm true <nil>
	// none true <nil>
}

// A unit without a constant is found by its symbol.
func ExampleParse_unit() {
	mercury, err := units.Parse[units.Unit[units.PressureDim]]("inHg")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(units.MustParse[units.Pressure]("60 kPa").Format(mercury, 2, units.HalfEven)) // 60000 / 3386.388640341 = 17.7180
	// Output: 17.72 inHg
}

// Limits of size converted so that no part passes that the drawing would refuse.
func ExampleClosedInterval_Inward() {
	limits := units.MustParseLengthInterval("1.950 ±0.016 in")
	inward, err := limits.Inward(units.Millimetre, 2)
	fmt.Println(inward, err)
	_, err = units.MustParseLengthInterval("0.024..0.048 mm").Inward(units.Inch, 2)
	fmt.Println(err)
	// Output:
	// 49.13..49.93 mm <nil>
	// 0.024..0.048 mm, converted to in with 2 decimal places: an empty interval, which holds no value; ask for more places
}

// Where the tables of ISO 370 give a number of places, they keep the rounding small
// against the tolerance.
func ExampleConversionPlaces() {
	limits := units.MustParseLengthInterval("0.024..0.048 mm")
	places, ok := units.ConversionPlaces(limits.Width(), units.Inch)
	if !ok {
		places = 4 // the tables say nothing: choose
	}
	inward, err := limits.Inward(units.Inch, places)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range []units.Working{
		{Name: "lower limit", Formula: "limit ÷ 25.4 mm/in, rounded up", Numbers: limits.Lo().WrittenBare(units.Millimetre) + " ÷ 25.4", Result: inward.Lo().Written(units.Inch)},
		{Name: "upper limit", Formula: "limit ÷ 25.4 mm/in, rounded down", Numbers: limits.Hi().WrittenBare(units.Millimetre) + " ÷ 25.4", Result: inward.Hi().Written(units.Inch)},
	} {
		fmt.Print(w)
	}
	// Output:
	// lower limit
	//   limit ÷ 25.4 mm/in, rounded up
	//   0.024 ÷ 25.4
	//   = 0.001 in
	// upper limit
	//   limit ÷ 25.4 mm/in, rounded down
	//   0.048 ÷ 25.4
	//   = 0.0018 in
}

// Subtraction takes its operands to vary independently.
func ExampleClosedInterval_Sub() {
	bore := units.MustParseLengthInterval("60 +0.019/0 mm")
	shaft := units.MustParseLengthInterval("60 -0.010/-0.029 mm")
	fmt.Println(bore.Sub(shaft))
	fmt.Println(bore.Sub(bore))
	// Output:
	// 0.01..0.048 mm
	// -0.019..0.019 mm
}

func ExampleClosedInterval_Within() {
	limits := units.MustParseLengthInterval("0.024..0.048 mm")
	for _, text := range []string{"0.030..0.040 mm", "0.010..0.020 mm", "0.020..0.030 mm"} {
		reading := units.MustParseLengthInterval(text)
		fmt.Println(reading, reading.Within(limits), reading.Overlaps(limits))
	}
	// Output:
	// 0.03..0.04 mm true true
	// 0.01..0.02 mm false false
	// 0.02..0.03 mm false true
}

// A limit may be one-sided, and arithmetic keeps it so.
func ExampleAtLeast() {
	oil := units.AtLeast(units.MustParse[units.Pressure]("2.5 bar"))
	fmt.Println(oil, oil.HasLo(), oil.HasHi())
	fmt.Println(oil.Contains(units.MustParse[units.Pressure]("36 psi")), oil.Contains(units.MustParse[units.Pressure]("37 psi")))
	fmt.Println(oil.Neg())
	// Output:
	// >= 250 kPa true false
	// false true
	// <= -250 kPa
}

func ExampleTemperature() {
	shop, oil := units.MustParse[units.Temperature]("68 °F"), units.MustParse[units.Temperature]("90 °C")
	rise := oil.Sub(shop)
	fmt.Println(shop, rise, rise.In(units.FahrenheitDifference, 0))
	fmt.Println(shop.Add(rise).In(units.Fahrenheit, 1).StringFixed(1), units.Fahrenheit)
	// Output:
	// 20 °C 70 K 126
	// 194.0 °F
}

// In JSON a quantity is a string with its unit; a number without one is refused.
func ExampleValue_MarshalJSON() {
	var bolt struct {
		Torque units.Torque
		Angle  units.AngleInterval
	}
	err := json.Unmarshal([]byte(`{"Torque": "30 ft-lb", "Angle": "90 ±5 °"}`), &bolt)
	text, _ := json.Marshal(bolt)
	fmt.Println(string(text), err)
	fmt.Println(json.Unmarshal([]byte(`{"Torque": 30}`), &bolt))
	// Output:
	// {"Torque":"40.674538449942012 N·m","Angle":"85..95 °"} <nil>
	// torque: no unit: JSON 30; write a string with a number and its unit, such as "60.012 N·m"
}

func ExampleWorking() {
	w := units.Working{
		Name:    "main 3, clearance",
		Formula: "C = D - t₁ - t₂ - d",
		Numbers: "60.012 - 2.001 - 2.003 - 55.970",
		Result:  "0.038 mm",
	}
	fmt.Print(w.Text())
	fmt.Print(w.Markdown())
	// Output:
	// main 3, clearance
	//   C = D - t₁ - t₂ - d
	//   60.012 - 2.001 - 2.003 - 55.970
	//   = 0.038 mm
	// - **main 3, clearance**
	//   - C = D - t₁ - t₂ - d
	//   - 60.012 - 2.001 - 2.003 - 55.970
	//   - = 0.038 mm
}

// A function for every dimension takes the dimension as its type argument.
func ExampleDimension() {
	fmt.Println(middle(units.MustParse[units.TorqueInterval]("27..33 N·m")), middle(units.MustParse[units.AngleInterval]("85..95 °")))
	// Output: 30 N·m 90 °
}

func middle[D units.Dimension](iv units.Interval[D]) units.Quantity[D] { return iv.Mid() }

// A shell is stored as its code and its wall.
type shell struct {
	Code string               `json:"code"`
	Wall units.LengthInterval `json:"wall"`
}

func (s *shell) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, s) }

// A key that was forgotten is an error and never an empty code. A wall that was not
// measured is null.
func ExampleDecodeObject() {
	for _, text := range []string{`{"code":"B","wall":"2.002 ±0.001 mm"}`, `{"code":"B","wall":null}`, `{"wall":null}`} {
		var s shell
		err := json.Unmarshal([]byte(text), &s)
		fmt.Println(s.Code, s.Wall, err)
	}
	// Output:
	// B 2.001..2.003 mm <nil>
	// B none <nil>
	//  none shell: not of the exchange form: no key "code"; write it, with null if there is nothing
}

// Coefficients of friction and scatters are pure numbers.
func ExampleParseRatio() {
	for _, text := range []string{"0.12", "12 %", "11.7 ppm", "1/2", "12/16"} {
		r, err := units.ParseRatio(text)
		fmt.Println(r, err)
	}
	// Output:
	// 0.12 <nil>
	// 0.12 <nil>
	// 0.0000117 <nil>
	// 0.5 <nil>
	// 0 "12/16", column 1: a stroke, which may part the bounds of a range; write "12..16" for a range; write a fraction in lowest terms, or as a decimal
}

// Two pistons are matched in grams, whatever the scales show.
func ExampleParse() {
	first, err := units.Parse[units.Mass]("412.6 g")
	if err != nil {
		fmt.Println(err)
		return
	}
	second, err := units.Parse[units.Mass]("14.57 oz")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(second.Sub(first).Format(units.Gram, 2, units.HalfEven)) // 14.57 × 28.349523125 = 413.0526 g
	// Output: 0.45 g
}
