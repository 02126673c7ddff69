package units

import (
	"errors"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// readsAs checks that every text is read as the value whose exact print is given.
func readsAs[T printable](t *testing.T, parse func(string) (T, error), want string, texts ...string) {
	t.Helper()
	for _, text := range texts {
		v, err := parse(text)
		if err != nil {
			t.Error(err)
			continue
		}
		if v.Exact() != want {
			t.Errorf("%q is read as %s, want %s", text, v.Exact(), want)
		}
	}
}

// TestNumbers: every way to write a number, in a unit that makes it plain.
func TestNumbers(t *testing.T) {
	readsAs(t, ParseLength, "60.012 mm", "60.012 mm", "60.012mm", "  60.012   mm ", "+60.012 mm", "+ 60.012 mm", "060.0120 mm",
		"60.012\u00a0mm", "60.012\u2009mm", "6.0012e1 mm", "60012E-3 mm", "60012e-03 mm", "0.60012e+2 mm", "60012 µm", "60.012e6 nm", "0.060012 m")
	readsAs(t, ParseLength, "-0.5 mm", "-.5 mm", "-0.5 mm", "−0.5 mm", "- 0.5 mm", "(-1/2) mm")
	readsAs(t, ParseLength, "5 mm", "5. mm", "5e0 mm", "(10/2) mm", "0.5 cm")
	readsAs(t, ParseLength, "26.590625 mm", "1 3/64 in", "1-3/64 in", `1 3/64"`, "67/64 in", "1 6/128 inch", "1 3⁄64 in", "1  3/64 in")
	readsAs(t, ParseLength, "-26.590625 mm", "-1 3/64 in", "-1-3/64 in")
	readsAs(t, ParseLength, "12.7 mm", "1/2 in", "1/2 inch", "1⁄2\"")
	readsAs(t, ParseLength, "38.1 mm", "1 1/2 in", "3/2 in")
	readsAs(t, ParseLength, "152.4 mm", "1/2 ft")
	readsAs(t, ParseLength, "(127/15) mm", "(1/3) in")
	readsAs(t, ParseLength, "9223372036.854775807 mm", "9223372036.854775807 mm", "9223372036854775.807 nm")
	readsAs(t, ParseLength, "-9223372.036854775808 mm", "-9223372036854.775808 nm")
}

// TestSpellings: every unit in the ways that people write it.
func TestSpellings(t *testing.T) {
	readsAs(t, ParseLength, "9.525 mm", "3/8 in", `3/8"`, "3/8″", "3/8”", "3/8''", "0.375 inch", "0.375 inches", "0.375in.", "375 thou", "375 mil", "3750 tenths", "375000 µin", "375000 uin", "9525 µm", "9525 μm", "9525 um", "9525 micron", "0.03125 ft", "0.03125'", "9.525 millimeters")
	readsAs(t, ParseAngle, "90 °", "90°", "90 deg", "90 degrees", "1/4 turn", "0.25 rev", "5400′", "5400 arcmin", "324000″", "100 gon", "100 grad")
	readsAs(t, ParseTorque, "30 N·m", "30 N·m", "30 Nm", "30 N-m", "30 N m", "30 N.m", "30 N*m", "30 N×m", "30 N⋅m", "30Nm", "30 newton metres", "30 newton-meters", "3000 N·cm", "3000 cNm", "30000 N mm", "0.03 kN·m")
	readsAs(t, ParseTorque, "29.8279948632908088 N·m", "22 lbf·ft", "22 lbf ft", "22 lbf-ft", "22 ft·lbf", "22 ft-lbf", "22 lb-ft", "22 ft-lb", "22 ft lb", "22 ft.lb", "22 ft. lbs.", "22 ft-lbs", "22 lb·ft", "22 lbft", "22 ftlb", "22 foot-pounds", "22 pound-feet", "22 foot pound", "264 in-lb", "264 in·lbf", "264 lbf·in", "264 lb-in", "264 in. lb.", "264 inch-pounds", "4224 ozf·in", "4224 in-oz")
	readsAs(t, ParseTorque, "30.400615 N·m", "3.1 kgf·m", "3.1 kgm", "3.1 kg-m", "3.1 kgf m", "3.1 kg·m", "3.1 mkg", "3.1 kpm", "310 kgf·cm", "310 kg-cm", "310000 gf·cm")
	readsAs(t, ParseForce, "21400 N", "21.4 kN", "21400 N", "21400 newtons", "0.0214 MN")
	readsAs(t, ParseForce, "19.6133 N", "2 kgf", "2 kp", "1961330 dyn")
	readsAs(t, ParseForce, "4448.2216152605 N", "1000 lbf", "1 kip", "16000 ozf")
	readsAs(t, ParsePressure, "50 psi", "50 psi", "50 lbf/in2", "50 lbf/in²", "50 lb/in²", "0.05 ksi", "7200 psf")
	readsAs(t, ParsePressure, "392.266 kPa", "4 kgf/cm²", "4 kgf/cm2", "4 kg/cm2", "4 kp/cm²", "0.04 kgf/mm²", "3.92266 bar", "392266 Pa", "392266 N/m²", "0.392266 MPa", "0.392266 N/mm²", "3922.66 mbar")
	readsAs(t, ParsePressure, "1 Torr", "1 Torr", "1 torr", "(1/760) atm")
	readsAs(t, ParseTemperature, "20 °C", "20 °C", "20°C", "20 C", "20C", "20 degC", "20 deg C", "20 deg. C", "20 degrees C", "20 ℃", "20 celsius", "68 °F", "68F", "68 degF", "68 ℉", "293.15 K")
	readsAs(t, ParseTemperature, "-40 °C", "-40 °F", "-40 °C", "233.15 K")
	readsAs(t, Parse[TemperatureDifference], "70 K", "70 K", "70 °C", "126 °F", "126 degF")
	readsAs(t, Parse[RotationalSpeed], "3000 r/min", "3000 rpm", "3000 RPM", "3000 r/min", "3000 rev/min", "3000 1/min", "3000 min⁻¹", "50 r/s", "50 rps", "18000 °/s")
	readsAs(t, Parse[DynamicViscosity], "12.5 mPa·s", "12.5 mPa·s", "12.5 mPas", "12.5 mPa s", "12.5 mPa-s", "12.5 cP", "0.125 P", "0.0125 Pa·s")
	readsAs(t, Parse[DynamicViscosity], "1.8 µreyn", "1.8 µreyn", "1.8 μreyn", "1.8 ureyn", "0.0000018 reyn")
	readsAs(t, Parse[Area], "645.16 mm²", "1 in²", "1 in2", "1 in^2", "1 sq in", "1 sq. in.", "645.16 mm2", "6.4516 cm²", "0.00064516 m²")
	readsAs(t, Parse[Volume], "16.387064 cm³", "1 in³", "1 in3", "1 cu in", "1 cu. in.", "16.387064 cc", "16.387064 mL", "16387.064 mm³", "0.016387064 L", "0.000016387064 m³")
	readsAs(t, Parse[Stiffness], "412000 N/mm", "412 kN/mm", "412 N/µm", "412000 N/mm", "412000000 N/m")
	readsAs(t, Parse[VolumeFlow], "3.6 L/min", "3.6 L/min", "3.6 l/min", "3.6 lpm", "60 cm³/s", "60 cc/s", "60 mL/s", "60000 mm³/s", "60000 mm3/s", "0.00006 m³/s")
	readsAs(t, Parse[VolumeFlow], "3.785411784 L/min", "1 US gal/min", "1 US gpm", "3.85 in³/s") // 231 in³ in a minute
	readsAs(t, Parse[Power], "745.69987158227022 W", "1 hp", "0.74569987158227022 kW", "745.69987158227022 watts")
	readsAs(t, Parse[KinematicViscosity], "14.2 mm²/s", "14.2 mm²/s", "14.2 mm2/s", "14.2 cSt", "0.142 St", "0.0000142 m²/s")
	readsAs(t, Parse[Density], "865 kg/m³", "865 kg/m3", "0.865 g/cm³", "0.865 g/cm3", "0.865 kg/L", "0.865 g/mL", "865 g/L")
	readsAs(t, Parse[Stiffness], "2300 lbf/in", "2300 lbf/in", "2300 lb/in")
}

func TestIntervals(t *testing.T) {
	readsAs(t, ParseLengthInterval, "0.024..0.048 mm", "0.024..0.048 mm", "0.024 .. 0.048 mm", "0.024 mm..0.048 mm", "24..48 µm", "0.024...0.048 mm", "0.024…0.048 mm", "24 µm..0.048 mm",
		"0.036 ±0.012 mm", "0.036±0.012mm", "0.036 +/-0.012 mm", "0.036 +-0.012 mm", "0.036 mm ±12 µm", "0 +0.048/+0.024 mm")
	readsAs(t, ParseLengthInterval, "60..60.019 mm", "60 +0.019/0 mm", "60 +0.019/-0 mm", "60 +0.019/0.000 mm", "60 +0.019 / 0 mm", "60+0.019/0 mm", "60 mm +19/0 µm", "60 +.019/0mm")
	readsAs(t, ParseLengthInterval, "59.981..60 mm", "60 0/-0.019 mm", "60 +0/-0.019 mm", "60 0/−0.019 mm", "60 mm 0/-19 µm")
	readsAs(t, ParseLengthInterval, "59.971..59.99 mm", "60 -0.010/-0.029 mm", "60 −0.010/−0.029 mm")
	readsAs(t, ParseLengthInterval, "26.590625..27.384375 mm", "1 3/64..1 5/64 in", "1-3/64..1-5/64 in", `1 3/64"..1 5/64"`)
	readsAs(t, ParseLengthInterval, "2.5 mm", "2.5 mm", "2.5..2.5 mm", "2.5 ±0 mm", "2.5 +0/0 mm")
	readsAs(t, ParseLengthInterval, "-0.02..0.01 mm", "-0.02..0.01 mm", "−0.02..+0.01 mm")
	readsAs(t, ParseLengthInterval, "<= 0.02 mm", "<= 0.02 mm", "<=0.02 mm", "≤ 0.02 mm", "≤20 µm")
	readsAs(t, Parse[PressureInterval], ">= 50 psi", ">= 50 psi", ">=50psi", "≥ 50 psi")
	readsAs(t, Parse[TorqueInterval], "27..33 N·m", "30 ±3 N·m", "27..33 Nm", "30 +3/-3 N-m")
	readsAs(t, Parse[TemperatureInterval], "18..22 °C", "18..22 °C", "20 ±2 °C", "20 ±2 C", "18 °C..71.6 °F", "291.15..295.15 K", "68 ±3.6 °F")
	readsAs(t, Parse[Interval[temperatureDifferenceDim]], "60..80 K", "60..80 K", "70 ±10 °C", "126 ±18 °F")
	readsAs(t, ParseLengthInterval, "any length", "any length", " any length ")
}

// Every named mistake: the kind of error, the place and what to write.
func TestMistakes(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	torque := func(s string) error { _, err := ParseTorque(s); return err }
	force := func(s string) error { _, err := ParseForce(s); return err }
	pressure := func(s string) error { _, err := ParsePressure(s); return err }
	angle := func(s string) error { _, err := ParseAngle(s); return err }
	temperature := func(s string) error { _, err := ParseTemperature(s); return err }
	difference := func(s string) error { _, err := Parse[TemperatureDifference](s); return err }
	viscosity := func(s string) error { _, err := Parse[DynamicViscosity](s); return err }
	speed := func(s string) error { _, err := Parse[RotationalSpeed](s); return err }
	volume := func(s string) error { _, err := Parse[Volume](s); return err }
	lengths := func(s string) error { _, err := ParseLengthInterval(s); return err }
	temperatures := func(s string) error { _, err := Parse[TemperatureInterval](s); return err }

	const aTorque, aPressure = "a torque is a force times a length; write ", "a pressure is a force over an area; write "
	// What may be a lone deviation is never offered as a range.
	const eitherWay = `write both deviations, upper first, as in "60 0/-0.019 mm", or both bounds in full, as in "59.981..60 mm"`
	tests := []struct {
		parse  func(string) error
		text   string
		kind   error
		column int
		what   string // a part of it
		fix    string // all of it
	}{
		// Numbers.
		{length, "60,012 mm", ErrSyntax, 3, "may stand for a point or part thousands", `write "60.012 mm" or "60012 mm"`},
		{length, "0,024 mm", ErrSyntax, 2, "a decimal comma", `write "0.024 mm"`},
		{length, "0,5; 2, 1,5 mm", ErrSyntax, 2, "a decimal comma", `write "0.5; 2, 1.5 mm"`},
		{length, "60,0125 mm", ErrSyntax, 3, "a decimal comma", `write "60.0125 mm"`},
		{length, ",5 mm", ErrSyntax, 1, "a decimal comma", `write "0.5 mm"`},
		{length, "1.234,5 mm", ErrSyntax, 6, "a decimal comma", `write "1234.5 mm"`},
		{length, "1,234.5 mm", ErrSyntax, 2, "a comma between digits", `write "1234.5 mm"`},
		{length, "1,234,567 µm", ErrSyntax, 2, "a comma between digits", `write "1234567 µm"`},
		{length, "1234,567,890 mm", ErrSyntax, 5, "a separator where no number has one", "write one number with a point before its decimals and nothing else among its digits"},
		{length, "0,123,456 mm", ErrSyntax, 2, "a separator where no number has one", "write one number with a point before its decimals and nothing else among its digits"},
		{length, ",123,456 mm", ErrSyntax, 1, "a separator where no number has one", "write one number with a point before its decimals and nothing else among its digits"},
		{length, "1,23,456 mm", ErrSyntax, 2, "a separator where no number has one", "write one number with a point before its decimals and nothing else among its digits"},
		{length, "1 234.5 mm", ErrSyntax, 2, "a space inside a number", `write "1234.5 mm"`},
		{length, "1'234 mm", ErrSyntax, 2, "a digit separator", `write "1234 mm"`},
		{length, "1_234 mm", ErrSyntax, 2, "a digit separator", `write "1234 mm"`},
		{length, "6O.O12 mm", ErrSyntax, 2, "the letter O", `write "60.012 mm"`},
		{length, "60.o12 mm", ErrSyntax, 4, "the letter O", `write "60.012 mm"`},
		{length, "-O.5 mm", ErrSyntax, 2, "the letter O", `write "-0.5 mm"`},
		{length, "l.5 mm", ErrSyntax, 1, "a letter that looks like 1", `write "1.5 mm"`},
		{length, "2.5I mm", ErrSyntax, 4, "a letter that looks like 1", `write "2.51 mm"`},
		{length, "60.0.12 mm", ErrSyntax, 5, "a second decimal point", "write one number with one point"},
		{length, "3/ in", ErrSyntax, 2, "a stroke without a fraction", `write a fraction as 3/8, or as a decimal; write both bounds of a range in full, as in "0.024..0.048 mm"`},
		{length, "1 3/0 in", ErrSyntax, 5, "a fraction over zero", "write a denominator such as 64"},
		{length, "1½ in", ErrSyntax, 2, "'½', which is no plain digit", "write the digits 0 to 9, and fractions as 1/2"},
		{length, "٣ mm", ErrSyntax, 1, "'٣', which is no plain digit", "write the digits 0 to 9, and fractions as 1/2"},
		{length, "5 6 mm", ErrSyntax, 3, "a second number", "write one number and its unit"},
		{length, `5' 6"`, ErrSyntax, 4, "a second number", "write one number and one unit, such as 66 in for 5 ft 6 in"},
		{length, "5 ft 6 in", ErrSyntax, 6, "a second number", "write one number and one unit, such as 66 in for 5 ft 6 in"},
		{angle, "90°30′", ErrSyntax, 4, "a second number", "write one number and one unit"},
		{length, "--5 mm", ErrSyntax, 2, "a second sign", "write one sign"},
		{length, "–5 mm", ErrSyntax, 1, "a dash where a minus sign belongs", `write "-5 mm"`},
		{length, "≈5 mm", ErrSyntax, 1, "a rounded number", `write the exact one, or an interval such as "2.5 ±0.002 mm"`},
		{length, "NaN mm", ErrSyntax, 1, "no finite number", "write a number; a reading that was not taken is left out"},
		{length, "-Inf mm", ErrSyntax, 2, "no finite number", "write a number; a reading that was not taken is left out"},
		{length, "", ErrSyntax, 1, "nothing", "write a number and its unit"},
		{length, "mm", ErrSyntax, 1, "no number", "write a number and then its unit"},
		{length, "-", ErrSyntax, 2, "no number", "write a number and its unit"},
		{length, "5 \xff", ErrSyntax, 3, "a byte that is no UTF-8", "write plain text"},
		{length, "1e100 mm", ErrSyntax, 2, "an exponent beyond ±99", "write the number in a fitting unit"},
		{length, strings.Repeat("9", 600) + " mm", ErrSyntax, 513, "a text of 603 bytes", "a quantity is written in at most 512"},

		// Units.
		{length, "60.012", ErrNoUnit, 7, "a number without a unit", `write "60.012 mm"`},
		{length, "1 3/64", ErrNoUnit, 7, "a number without a unit", `write "1 3/64 in"`},
		{torque, "30", ErrNoUnit, 3, "a number without a unit", `write "30 N·m"`},
		{length, "60.012 MM", ErrSyntax, 8, `"MM", which is no unit`, "write mm"},
		{length, "6 milimetre", ErrSyntax, 3, `"milimetre", which is no unit`, "write mm"},
		{length, "6 km", ErrSyntax, 3, `"km", which is no unit`, "write one of mm, µm, nm, cm, m, in, thou, tenth, µin, ft, yd"},
		{length, "60.012 N·m", ErrWrongDimension, 8, `"N·m", a unit of torque where a length is wanted`, "write a unit of length, such as mm"},
		{angle, "30 N m", ErrWrongDimension, 4, `"N m", a unit of torque where an angle is wanted`, "write a unit of angle, such as °"},
		{torque, "30 m", ErrWrongDimension, 4, `"m", which is no unit of torque`, aTorque + "N·m or kgf·m"},
		{torque, "30 ft", ErrWrongDimension, 4, `"ft"`, aTorque + "lbf·ft"},
		{torque, "30 in", ErrWrongDimension, 4, `"in"`, aTorque + "lbf·in"},
		{torque, "30 lb", ErrWrongDimension, 4, `"lb"`, aTorque + "lbf·ft or lbf·in"},
		{torque, "3 kg", ErrWrongDimension, 3, `"kg"`, aTorque + "kgf·m or kgf·cm"},
		{torque, "30 N", ErrWrongDimension, 4, `"N"`, aTorque + "N·m"},
		{torque, "30 nm", ErrWrongDimension, 4, `"nm"`, "nm is the nanometre; write N·m"},
		{torque, "30 J", ErrWrongDimension, 4, `"J"`, "the joule is an energy; write N·m"},
		{torque, "22 ft/lb", ErrSyntax, 4, `"ft/lb", which is no unit`, "write lbf·ft"},
		{torque, "22 Ft-Lbs", ErrSyntax, 4, `"Ft-Lbs", which is no unit`, "write lbf·ft"},
		{force, "30 lb", ErrWrongDimension, 4, `"lb"`, "a pound is a mass; write lbf for the force that it weighs"},
		{force, "30 lbs", ErrWrongDimension, 4, `"lbs"`, "a pound is a mass; write lbf for the force that it weighs"},
		{force, "3 kg", ErrWrongDimension, 3, `"kg"`, "a kilogram is a mass; write kgf for the force that it weighs"},
		{force, "30 N·m", ErrWrongDimension, 4, `"N·m", a unit of torque where a force is wanted`, "write a unit of force, such as N"},
		{pressure, "4 kg", ErrWrongDimension, 3, `"kg"`, aPressure + "kgf/cm²"},
		{pressure, "50 pounds", ErrWrongDimension, 4, `"pounds"`, aPressure + "psi"},
		{pressure, "50 psig", ErrWrongDimension, 4, `"psig"`, "gauge or absolute is not part of the unit; write psi"},
		{pressure, "640 mPa", ErrWrongDimension, 5, `"mPa"`, "mPa is the millipascal; write MPa"},
		{pressure, "50 PSI", ErrSyntax, 4, `"PSI", which is no unit`, "write psi"},
		{temperature, "20°", ErrWrongDimension, 3, `"°"`, "write °C or °F"},
		{temperature, "-300 °C", ErrSyntax, 1, "below absolute zero", "write -273.15 °C or more"},
		{difference, "20 deg", ErrWrongDimension, 4, `"deg"`, "write K, °C or °F"},
		{viscosity, "70 cSt", ErrWrongDimension, 4, `"cSt"`, "a kinematic viscosity is no dynamic one; multiply its mm²/s by the density in g/cm³ and write mPa·s"},
		{speed, "50 Hz", ErrWrongDimension, 4, `"Hz"`, "the hertz counts cycles of any kind; write r/s"},
		{volume, "48 cm", ErrWrongDimension, 4, `"cm", a unit of length where a volume is wanted`, "write a unit of volume, such as cm³"},

		// Intervals where one value is wanted.
		{length, "60 +0.019/0 mm", ErrSyntax, 4, "an interval where one value is wanted", "write one number and its unit"},
		{length, "1..2 mm", ErrSyntax, 3, "an interval where one value is wanted", "write one number and its unit"},
		{length, "1 mm..2 mm", ErrSyntax, 3, "an interval where one value is wanted", "write one number and its unit"},
		{length, "2.5 ±0.002 mm", ErrSyntax, 5, "an interval where one value is wanted", "write one number and its unit"},
		{length, "<= 5 mm", ErrSyntax, 1, "a limit where one value is wanted", "write a number and its unit"},

		// Intervals.
		{lengths, "0.048..0.024 mm", ErrOrder, 1, "a lower bound above the upper bound", `write "0.024..0.048 mm"`},
		{lengths, "1 in..2 mm", ErrOrder, 1, "a lower bound above the upper bound", `write "2 mm..1 in"`},
		{lengths, "60 -0.029/-0.010 mm", ErrOrder, 11, "a lower deviation above the upper one", `write "60 -0.010/-0.029 mm"`},
		{lengths, "0.024-0.048 mm", ErrSyntax, 6, "a range written with a dash or a word", `write "0.024..0.048 mm"`},
		{lengths, "0.024 – 0.048 mm", ErrSyntax, 6, "a range written with a dash or a word", `write "0.024..0.048 mm"`},
		{lengths, "0.024 to 0.048 mm", ErrSyntax, 6, "a range written with a dash or a word", `write "0.024..0.048 mm"`},
		{lengths, "60 -65 mm", ErrSyntax, 4, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "60 −65 mm", ErrSyntax, 4, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "60-60 mm", ErrSyntax, 3, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "65-60 mm", ErrSyntax, 3, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "60-65.5 mm", ErrSyntax, 3, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "60 mm-65 mm", ErrSyntax, 6, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "3/8-1.5 in", ErrSyntax, 4, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "3/8-5 in", ErrSyntax, 4, "one deviation where two belong, or a range with a dash", eitherWay},
		{lengths, "60 - 65 mm", ErrSyntax, 3, "a range written with a dash or a word", `write "60..65 mm"`},
		{lengths, "60 –65 mm", ErrSyntax, 3, "a range written with a dash or a word", `write "60..65 mm"`},
		{lengths, "60-65 mm", ErrSyntax, 3, "a range written with a dash or a word", `write "60..65 mm"`},
		{lengths, "9-10 mm", ErrSyntax, 2, "a range written with a dash or a word", `write "9..10 mm"`},
		{lengths, "60 +0.019 mm", ErrSyntax, 4, "one deviation where two belong", `write both, upper first, as in "60 +0.019/0 mm"`},
		{lengths, "60 +0,019/0 mm", ErrSyntax, 6, "a decimal comma", `write "60 +0.019/0 mm"`},
		{lengths, "60,012..60,014 mm", ErrSyntax, 3, "may stand for a point", `write "60.012..60.014 mm" or "60012..60014 mm"`},
		{lengths, "2.5 ±-0.002 mm", ErrSyntax, 6, "a negative uncertainty", "write ± and a number without a sign"},
		{lengths, "..0.048 mm", ErrSyntax, 1, "no lower bound", `write "<= 0.048 mm"`},
		{lengths, "0.024.. mm", ErrSyntax, 8, "no upper bound", `write ">= 0.024 mm"`},
		{lengths, "0,024..0,048 mm", ErrSyntax, 2, "a decimal comma", `write "0.024..0.048 mm"`},
		{lengths, "2,5 ±0,002 mm", ErrSyntax, 2, "a decimal comma", `write "2.5 ±0.002 mm"`},
		{lengths, "0.024..0.048", ErrNoUnit, 13, "a number without a unit", `write "0.024..0.048 mm"`},
		{lengths, "60 +0.019/0", ErrNoUnit, 12, "a number without a unit", `write "60 +0.019/0 mm"`},
		{lengths, "<0.02 mm", ErrSyntax, 1, "a limit that leaves out its own bound", `write "<=0.02 mm"`},
		{lengths, "=< 0.02 mm", ErrSyntax, 1, "a limit's sign the wrong way round", `write "<= 0.02 mm"`},
		{lengths, "max. 0.02 mm", ErrSyntax, 1, "a limit in words", `write "<= 0.02 mm"`},
		{lengths, "0.02 mm min", ErrSyntax, 9, "a limit in words", `write ">= 0.02 mm"`},
		{lengths, "0.024 N·m..0.048 mm", ErrWrongDimension, 7, `"N·m", a unit of torque`, "write a unit of length, such as mm"},
		{temperatures, "-300..20 °C", ErrSyntax, 1, "below absolute zero", "write -273.15 °C or more"},
		{temperatures, "20..18 °C", ErrOrder, 1, "a lower bound above", `write "18..20 °C"`},
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			err := test.parse(test.text)
			e, ok := errors.AsType[*Error](err)
			if !ok || !errors.Is(err, test.kind) {
				t.Fatalf("error %v, want kind %v", err, test.kind)
			}
			if e.Column != test.column || !strings.Contains(e.Found, test.what) || e.Fix != test.fix {
				t.Errorf("column %d: %q; %q\nwant %d: %q; %q", e.Column, e.Found, e.Fix, test.column, test.what, test.fix)
			}
			if quoted, err := strconv.Unquote(e.Where); err != nil || !utf8Prefix(test.text, quoted) {
				t.Errorf("it quotes %q", e.Where)
			}
			if offered, ok := strings.CutPrefix(e.Fix, `write "`); ok && test.kind != ErrNoUnit && !strings.Contains(offered, ",") {
				offered, _, _ = strings.Cut(offered, `"`)
				if err := test.parse(offered); err != nil {
					t.Errorf("what it says to write is wrong too: %v", err)
				}
			}
		})
	}
}

// utf8Prefix reports whether quoted is text, or its beginning with the sign that
// there is more, or text with bytes in it that are no UTF-8.
func utf8Prefix(text, quoted string) bool {
	begin, cut := strings.CutSuffix(quoted, "…")
	return quoted == text || cut && strings.HasPrefix(text, begin) || quoted == strings.ToValidUTF8(text, "�")
}

func TestParseErrorText(t *testing.T) {
	_, err := ParseTorque("30 m")
	const want = `"30 m", column 4: "m", which is no unit of torque; a torque is a force times a length; write N·m or kgf·m`
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

func TestParseUnit(t *testing.T) {
	if u, err := Parse[Unit[TorqueDim]]("ft-lb"); err != nil || u != PoundForceFoot {
		t.Errorf("%v, %v", u, err)
	}
	_, err := Parse[Unit[LengthDim]]("")
	if e, ok := errors.AsType[*Error](err); !ok || e.Kind != ErrSyntax || e.Column != 1 {
		t.Errorf("%v", err)
	}
}

// TestEveryUnitIsRead: every symbol and spelling of every unit is read as that
// unit, also by the parser's other path.
func TestEveryUnitIsRead(t *testing.T) {
	for _, d := range dimensions() {
		var seen []string
		for i, u := range d.units {
			if u.symbol == "" && d != ratios() || u.source == "" || slices.Contains(seen, u.symbol) {
				t.Errorf("%s: unit %d is without symbol or source, or has %q twice", d.name, i, u.symbol)
			}
			seen = append(seen, u.symbol)
			for _, s := range append([]string{u.symbol}, u.spellings...) {
				if got, ok := d.spelled(s); !ok || int(got) != i {
					t.Errorf("%s: %q is read as %d, %v, want %s", d.name, s, got, ok, u.symbol)
				}
			}
		}
		if _, ok := d.spelled(d.help); !ok && !d.bare() {
			t.Errorf("%s: the unit to suggest, %q, is none", d.name, d.help)
		}
	}
}

// TestEveryUnitIsReadBehindANumber: by the whole parser too, with more space before it than people type, in one value
// and at each place of an interval.
func TestEveryUnitIsReadBehindANumber(t *testing.T) {
	for _, d := range dimensions() {
		for _, u := range d.units {
			for _, unit := range append([]string{u.symbol}, u.spellings...) {
				for _, text := range []string{"2 " + unit, " 2  " + unit + " ", "2\t" + unit} {
					s, err := newScanner(d, text, maxText)
					if err != nil {
						t.Fatal(err)
					}
					r, err := s.number()
					if err != nil {
						t.Errorf("%s: %q: %v", d.name, text, err)
						continue
					}
					if got, err := s.unit(); err != nil || got.symbol != u.symbol || r.Cmp(big.NewRat(2, 1)) != 0 {
						t.Errorf("%s: %q is read as %v and %v, %v", d.name, text, r, got, err)
					}
				}
				want := u.toSteps(big.NewRat(3, 1))
				texts := []string{"2..3 " + unit, "2 " + unit + " .. 3  " + unit}
				if u.offset == nil { // a deviation is a difference, and has no zero of its own
					texts = append(texts, "2.5 "+unit+" ±0.5 "+unit)
				}
				if !d.bare() { // of which "2.5 ±0.5 %" may be meant in two ways
					texts = append(texts, "2.5 ±0.5 "+unit, "2 +1/0  "+unit)
				}
				for _, text := range texts {
					s, err := newScanner(d, text, maxText)
					if err != nil {
						t.Fatal(err)
					}
					if lo, hi, err := s.interval(); err != nil || lo.Cmp(u.toSteps(big.NewRat(2, 1))) != 0 || hi.Cmp(want) != 0 {
						t.Errorf("%s: %q is read as %v..%v, %v", d.name, text, lo, hi, err)
					}
				}
			}
		}
	}
}
