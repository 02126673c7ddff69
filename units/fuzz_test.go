package units

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// spellings are texts that people write, for all parsers alike: what is right for
// one is a wrong unit for another.
var spellings = []string{
	"60.012 mm", "60.012mm", " 60.012  mm ", "-0.5 µm", "−0.5 μm", "+25 um", ".5 in", "5. in", "1.2e-3 m", "12E2 nm", "2.3625in",
	"1 3/64 in", "1-3/64 in", `3/8"`, "3⁄8 in", `1 1/2”`, "1.5 thou", "4 mil", "2 tenths", "6 ft", "6'",
	"90°", "90 deg", "1/4 turn", "30′", "12 arcsec", "100 gon", "1.5 rad",
	"30 N·m", "30 Nm", "30 N-m", "30 N m", "30 N.m", "30 newton-metres", "22 lbf·ft", "22 ft-lb", "22 ft·lbf", "22 lb-ft", "22 ft. lbs.",
	"265 in-lb", "16 ozf·in", "3.1 kgf·m", "3.1 kgm", "31 kgf·cm", "4800 lbf", "21.4 kN", "2 kgf",
	"50 psi", "2.5 bar", "640 MPa", "640 N/mm2", "4 kgf/cm²", "29.92 inHg", "760 Torr", "120 ksi",
	"20 °C", "20C", "68 degF", "293.15 K", "-40 ℉", "3000 rpm", "314.159 rad/s", "12.5 mPa·s", "12.5 cP", "1.8 µreyn",
	"412.6 g", "1.3 lb", "20.5 oz", "412.6 ±0.5 g", "58 mm²", "0.0878 in2", "48.6 cc", "2.97 cu in", "1.998 L", "412 kN/mm", "0.4 N/µm", "2300 lbf/in",
	"0.024..0.048 mm", "0.024 .. 0.048 mm", "0.024…0.048 mm", "1 in..30 mm", "1 3/64..1 5/64 in",
	"60 +0.019/0 mm", "60 0/-0.019 mm", "60 -0.010/-0.029 mm", "60 mm +19/0 µm", "2.5 ±0.002 mm", "2.5 +/-0.002 mm", "30 ±3 lbf·ft",
	"0.12", " 12 % ", "120ppm", "11.7e-6", "1/2", "-2/3", "1 1/2", "(1/3)", "0.12..0.16", "12..16 %", "0.14 ±0.02", "14 % ± 2 %", "0.14 +0.02/-0.01", ">= 0.1", "any pure number",
	"<= 0.02 mm", "≤0.02 mm", ">= 50 psi", "18..22 °C", "68 ±3 °F", "any length", "any torque",
}

// attacks are texts that nobody should write.
var attacks = []string{
	"", " ", "mm", ".", "-", "+-1 mm", "1", "1 mm mm", "1,5 mm", "1,234.5 mm", "1.234,5 mm", "1,234,567 mm", ",5 mm", "1'234 mm", "1_000 mm", "1 000 mm",
	"6O.O12 mm", "O.5 mm", "l.5 mm", "2.5I mm", "OO mm", "1½ in", "½ in", "٥ mm", "５ mm", "²3 mm", "1e mm", "1e+ mm", "1e99 mm", "1e-99 mm", "1e100 mm",
	"1e999999999 mm", "1e-999999999 mm", "9223372036854775807 nm", "9223372036.854775807 mm", "-9223372036.854775808 mm", "9223372.036854775808 m",
	"1/0 in", "1 1/0 in", "1/ in", "/2 in", "1/2/3 in", "1 2 3/4 in", "1 3/64/64 in", "5' 6\"", "5 ft 6 in", "90°30′",
	"1..", "..1 mm", "...", "2..1 mm", "1..2..3 mm", "1 mm..2 in..", "1 +2 mm", "1 +2/ mm", "1 +/2 mm", "1 +1/+2 mm", "1 ± mm", "1 ±-1 mm", "± mm", "1 -3/8 in",
	"12/16", "2/4", "1-1/2", "1/0", "0.14 ±10 %", "12 %..0.16", "0.12 -", "0.12.", "12 ‰", "11.7e-6/K", "11.7 ppm/K", "0.12 0.16", "0,12", "1,200", "0.12-0.16", "%", "12 % %",
	"<1 mm", "< mm", "<= mm", "=< 1 mm", "<= <= 1 mm", ">=1..2 mm", "max 1 mm", "1 mm min.", "1-2 mm", "1 – 2 mm", "1 to 2 mm",
	"-300 °C", "<= -1 K", "NaN mm", "Inf mm", "-inf mm", "≈5 mm", "1 \x00mm", "1 mm\x00", "\xff1 mm", "1 \xffmm", "1 m\u0301m", "\u202e1 mm", "1\u200bmm", "1 M\u0130N",
	strings.Repeat("9", 400) + " mm", "0." + strings.Repeat("0", 400) + "1 mm", strings.Repeat("9", 200) + "/" + strings.Repeat("7", 200) + " in",
	strings.Repeat("9", 4096) + " mm", strings.Repeat(" ", 4096), strings.Repeat("±", 2048), strings.Repeat("1/", 2048), strings.Repeat("µ", 2000) + "m",
	strings.Repeat("∙", 171), "é" + strings.Repeat("\x84", 600), strings.Repeat("1 ", 250) + "mm", "1 " + strings.Repeat("N·", 200) + "m", strings.Repeat("1..", 170), strings.Repeat("1,", 250) + "1 mm", "1 " + strings.Repeat("-", 500),
}

// kinds are the kinds of error that a parser may return.
var kinds = []error{ErrSyntax, ErrEmpty, ErrNoUnit, ErrWrongDimension, ErrOrder}

// A printable value is one that a parser returns.
type printable interface {
	Exact() string
	String() string
	MarshalText() ([]byte, error)
}

// fuzz checks of a parser, for any text: it does not panic; what it returns
// prints, and the print is read as the same value, in every form; spaces around
// the text change nothing; and an error says which kind it is, where the place is
// and what to do.
func fuzz[T printable, P interface {
	*T
	UnmarshalText([]byte) error
	UnmarshalJSON([]byte) error
}](f *testing.F, parse func(string) (T, error), equal func(a, b T) bool) {
	for _, s := range spellings {
		f.Add(s)
	}
	for _, s := range attacks {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := parse(text)
		spaced, errSpaced := parse("\t" + text + " ")
		if err != nil {
			checkParseError(t, text, err)
			if errSpaced == nil {
				t.Errorf("%q is refused but not with spaces around it", text)
			}
			return
		}
		if len(text)+2 <= maxText && (errSpaced != nil || !equal(v, spaced)) {
			t.Errorf("%q is another value with spaces around it: %v, %v", text, spaced, errSpaced)
		}
		if !utf8.ValidString(v.String()) || v.String() == "" {
			t.Errorf("String %q", v.String())
		}
		exact := v.Exact()
		b, err := v.MarshalText()
		if err != nil {
			if !errors.Is(err, ErrSyntax) || len(exact) <= maxText {
				t.Errorf("MarshalText: %v", err)
			}
			return
		}
		again, err := parse(exact)
		if err != nil || !equal(v, again) {
			t.Fatalf("%q prints as %q, which is read as %v, %v", text, exact, again, err)
		}
		var fromText, fromJSON T
		if err := P(&fromText).UnmarshalText(b); err != nil || !equal(v, fromText) {
			t.Errorf("UnmarshalText(%q): %v, %v", b, fromText, err)
		}
		j, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(j, &fromJSON); err != nil || !equal(v, fromJSON) {
			t.Errorf("Unmarshal(%s): %v, %v", j, fromJSON, err)
		}
	})
}

func checkParseError(t *testing.T, text string, err error) {
	t.Helper()
	e, ok := errors.AsType[*Error](err)
	if !ok {
		t.Fatalf("%q: %v, which is no *Error", text, err)
	}
	if !slices.Contains(kinds, e.Kind) || !errors.Is(err, e.Kind) {
		t.Errorf("%q: kind %v", text, e.Kind)
	}
	if e.Column < 1 || e.Column > utf8.RuneCountInString(text)+1 {
		t.Errorf("%q: column %d", text, e.Column)
	}
	if e.Found == "" || e.Fix == "" || len(e.Error()) > 1024 || !utf8.ValidString(e.Error()) {
		t.Errorf("%q: %q", text, e.Error())
	}
}

func FuzzParseLength(f *testing.F)      { fuzz(f, ParseLength, Length.Equal) }
func FuzzParseAngle(f *testing.F)       { fuzz(f, ParseAngle, Angle.Equal) }
func FuzzParseTorque(f *testing.F)      { fuzz(f, ParseTorque, Torque.Equal) }
func FuzzParseForce(f *testing.F)       { fuzz(f, ParseForce, Force.Equal) }
func FuzzParsePressure(f *testing.F)    { fuzz(f, ParsePressure, Pressure.Equal) }
func FuzzParseTemperature(f *testing.F) { fuzz(f, ParseTemperature, Temperature.Equal) }
func FuzzParseTemperatureDifference(f *testing.F) {
	fuzz(f, Parse[TemperatureDifference], TemperatureDifference.Equal)
}
func FuzzParseRotationalSpeed(f *testing.F) { fuzz(f, Parse[RotationalSpeed], RotationalSpeed.Equal) }
func FuzzParseDynamicViscosity(f *testing.F) {
	fuzz(f, Parse[DynamicViscosity], DynamicViscosity.Equal)
}
func FuzzParseArea(f *testing.F)      { fuzz(f, Parse[Area], Area.Equal) }
func FuzzParseVolume(f *testing.F)    { fuzz(f, Parse[Volume], Volume.Equal) }
func FuzzParseStiffness(f *testing.F) { fuzz(f, Parse[Stiffness], Stiffness.Equal) }

func FuzzParseVolumeFlow(f *testing.F) { fuzz(f, Parse[VolumeFlow], VolumeFlow.Equal) }
func FuzzParsePower(f *testing.F)      { fuzz(f, Parse[Power], Power.Equal) }
func FuzzParseKinematicViscosity(f *testing.F) {
	fuzz(f, Parse[KinematicViscosity], KinematicViscosity.Equal)
}
func FuzzParseDensity(f *testing.F) { fuzz(f, Parse[Density], Density.Equal) }

func FuzzParseMass(f *testing.F)  { fuzz(f, Parse[Mass], Mass.Equal) }
func FuzzParseRatio(f *testing.F) { fuzz(f, ParseRatio, Ratio.Equal) }

func FuzzParseLengthInterval(f *testing.F) { fuzz(f, ParseLengthInterval, LengthInterval.Equal) }
func FuzzParseAngleInterval(f *testing.F)  { fuzz(f, Parse[AngleInterval], AngleInterval.Equal) }
func FuzzParseTorqueInterval(f *testing.F) { fuzz(f, Parse[TorqueInterval], TorqueInterval.Equal) }
func FuzzParseForceInterval(f *testing.F)  { fuzz(f, Parse[ForceInterval], ForceInterval.Equal) }
func FuzzParsePressureInterval(f *testing.F) {
	fuzz(f, Parse[PressureInterval], PressureInterval.Equal)
}
func FuzzParseTemperatureInterval(f *testing.F) {
	fuzz(f, Parse[TemperatureInterval], TemperatureInterval.Equal)
}
func FuzzParseTemperatureDifferenceInterval(f *testing.F) {
	fuzz(f, Parse[Interval[temperatureDifferenceDim]], Interval[temperatureDifferenceDim].Equal)
}
func FuzzParseRotationalSpeedInterval(f *testing.F) {
	fuzz(f, Parse[Interval[rotationalSpeedDim]], Interval[rotationalSpeedDim].Equal)
}
func FuzzParseDynamicViscosityInterval(f *testing.F) {
	fuzz(f, Parse[Interval[dynamicViscosityDim]], Interval[dynamicViscosityDim].Equal)
}
func FuzzParseAreaInterval(f *testing.F)   { fuzz(f, Parse[Interval[AreaDim]], Interval[AreaDim].Equal) }
func FuzzParseVolumeInterval(f *testing.F) { fuzz(f, Parse[VolumeInterval], VolumeInterval.Equal) }
func FuzzParseStiffnessInterval(f *testing.F) {
	fuzz(f, Parse[StiffnessInterval], StiffnessInterval.Equal)
}

func FuzzParseVolumeFlowInterval(f *testing.F) {
	fuzz(f, Parse[Interval[volumeFlowDim]], Interval[volumeFlowDim].Equal)
}
func FuzzParsePowerInterval(f *testing.F) {
	fuzz(f, Parse[Interval[powerDim]], Interval[powerDim].Equal)
}
func FuzzParseKinematicViscosityInterval(f *testing.F) {
	fuzz(f, Parse[Interval[kinematicViscosityDim]], Interval[kinematicViscosityDim].Equal)
}
func FuzzParseDensityInterval(f *testing.F) {
	fuzz(f, Parse[Interval[densityDim]], Interval[densityDim].Equal)
}

func FuzzParseMassInterval(f *testing.F)  { fuzz(f, Parse[Interval[MassDim]], Interval[MassDim].Equal) }
func FuzzParseRatioInterval(f *testing.F) { fuzz(f, Parse[RatioInterval], RatioInterval.Equal) }

// FuzzParseUnit checks that every text is a unit that prints as itself, or an
// error that says so.
func FuzzParseUnit(f *testing.F) {
	for _, s := range []string{"mm", "ft-lb", "N m", "km", "", "MM", "\xff", strings.Repeat("µ", 600)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		u, err := Parse[Unit[TorqueDim]](text)
		if err != nil {
			checkParseError(t, text, err)
			return
		}
		if again, err := Parse[Unit[TorqueDim]](u.String()); err != nil || again != u {
			t.Errorf("%q is %s, which is read as %s, %v", text, u, again, err)
		}
	})
}

// FuzzScaleParse: under a heading that names the unit, a bare number is one of that unit, and a text
// with a unit is what it is without the heading.
func FuzzScaleParse(f *testing.F) {
	for _, s := range append(spellings, attacks...) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Thou.Parse(text)
		alone, errAlone := ParseLength(text)
		if err != nil {
			checkParseError(t, text, err)
			if errAlone == nil {
				t.Errorf("%q is refused under a heading, and not without one: %v", text, err)
			}
			return
		}
		if errAlone == nil {
			if !got.Equal(alone) {
				t.Errorf("%q is %s under a heading, and %s without one", text, got, alone)
			}
			return
		}
		if named, err := ParseLength(text + " thou"); len(text)+5 <= maxText && (err != nil || !named.Equal(got)) {
			t.Errorf("%q is %s under a heading, and with the unit %s, %v", text, got, named, err)
		}
	})
}
