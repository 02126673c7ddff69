package film_test

import (
	"errors"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/clearance/film"
	"example.com/closefit/units"
)

func density(n int64) units.Density { return units.KilogramPerCubicMetre.OfInt(n) }

// thousandth is 0.001.
var thousandth = decimal.New(1, -3)

func celsius(n int64) units.Temperature { return units.Celsius.OfInt(n) }

// At its two points an oil has the viscosities that were given, times the density there.
func TestOilAtItsPoints(t *testing.T) {
	for c, want := range map[int64]float64{
		40:  92 * (866 - 0.65*25) / 1000,   // mm²/s times g/cm³
		100: 13.9 * (866 - 0.65*85) / 1000, // 15 °C is where the density is stated
	} {
		v, err := oil().Dynamic(celsius(c))
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Float64(units.MillipascalSecond); !near(got, want, 1e-8) {
			t.Errorf("%d °C: %g mPa·s, by hand %g", c, got, want)
		}
	}
}

func TestOilGetsThinner(t *testing.T) {
	before := math.Inf(1)
	for c := int64(-40); c <= 250; c += 5 {
		v, err := oil().Dynamic(celsius(c))
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Float64(units.MillipascalSecond); !(got > 0 && got < before) {
			t.Errorf("%d °C: %g after %g", c, got, before)
		} else {
			before = got
		}
	}
	for _, c := range []int64{-41, 251, -273} {
		if _, err := oil().Dynamic(celsius(c)); !errors.Is(err, film.ErrOil) {
			t.Errorf("%d °C: %v", c, err)
		}
	}
}

func TestGradesAreRead(t *testing.T) {
	for text, want := range map[string]string{
		"10W-40": "10W-40", "sae 10w-40": "10W-40", " SAE 30 ": "30", "5W": "5W", "0w-16": "0W-16", "60": "60",
	} {
		g, err := film.ParseGrade(text)
		if err != nil || g.String() != want {
			t.Errorf("%q: %v, %v", text, g, err)
		}
	}
	for _, text := range []string{"", "SAE", "40-10W", "10W40", "10W-", "-40", "10W-41", "3W-40", "W", "40-", "10W-40-40", "none"} {
		if g, err := film.ParseGrade(text); !errors.Is(err, film.ErrOil) {
			t.Errorf("%q: %v, %v", text, g, err)
		}
	}
}

// What a grade does not say stays open.
func TestGradesSayNoMoreThanTheyKnow(t *testing.T) {
	for _, c := range []struct {
		grade    string
		celsius  int64
		low, top bool // whether there is a bound
	}{
		{"10W-40", 100, true, true}, {"10W-40", 20, true, true}, {"10W-40", -25, true, true}, {"10W-40", -30, true, false},
		{"10W-40", 150, true, true}, {"10W-40", 160, false, true},
		{"40", 100, true, true}, {"40", 99, true, false}, {"40", 160, false, true},
		{"5W", -30, false, true}, {"5W", 100, false, true},
	} {
		g, err := film.ParseGrade(c.grade)
		if err != nil {
			t.Fatal(err)
		}
		v, err := g.Dynamic(celsius(c.celsius), density(870))
		if err != nil || v.HasLo() != c.low || v.HasHi() != c.top {
			t.Errorf("%s at %d °C: %v, %v", c.grade, c.celsius, v, err)
		}
	}
	w, err := film.ParseGrade("5W")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Dynamic(celsius(-35), density(870)); !errors.Is(err, film.ErrOil) {
		t.Errorf("5W below its cranking: %v", err)
	}
	if _, err := (film.Grade{}).Dynamic(celsius(90), density(870)); !errors.Is(err, film.ErrOil) {
		t.Errorf("no grade: %v", err)
	}
	if _, err := w.Dynamic(celsius(90), density(0)); !errors.Is(err, film.ErrOil) {
		t.Errorf("no density: %v", err)
	}
	if k := (film.Grade{}).Kinematic(); !k.IsEmpty() || !(film.Grade{}).Shear().IsZero() {
		t.Errorf("no grade has %v", k)
	}
	// 16.3 mm²/s · (870 - 0.65 · 85) kg/m³
	forty, err := film.ParseGrade("40")
	if err != nil {
		t.Fatal(err)
	}
	v, err := forty.Dynamic(celsius(100), density(870))
	if err != nil || !near(v.Hi().Float64(units.MillipascalSecond), 16.3*0.81475, 1e-8) || !v.Lo().Equal(units.MustParse[units.DynamicViscosity]("3.7 mPa·s")) {
		t.Errorf("%v, %v", v, err)
	}
}

// The upper bound of a grade has no step at 100 °C, where the line of the standard's points gives way to the range of
// the grade: the line ends there.
func TestGradesHaveNoStep(t *testing.T) {
	for _, winter := range []string{"0W", "5W", "10W", "15W", "20W", "25W"} {
		for _, hot := range []string{"8", "12", "16", "20", "30", "40", "50", "60"} {
			g, err := film.ParseGrade(winter + "-" + hot)
			if err != nil {
				t.Fatal(err)
			}
			below, err1 := g.Dynamic(units.Celsius.Of(decimal.New(9999, -2)), density(870))
			at, err2 := g.Dynamic(celsius(100), density(870))
			if err := errors.Join(err1, err2); err != nil {
				t.Fatal(err)
			}
			if b, a := below.Hi().Float64(units.MillipascalSecond), at.Hi().Float64(units.MillipascalSecond); !(b > a && b < 1.001*a) {
				t.Errorf("%v: at most %v mPa·s at 99.99 °C and %v at 100 °C", g, b, a)
			}
		}
	}
}

// Every oil of a grade lies within what the grade says, at every temperature.
func TestOilsLieWithinTheirGrade(t *testing.T) {
	g, err := film.ParseGrade("10W-40")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		warm := rapid.Int64Range(1250, 1629).Draw(t, "viscosity at 100 °C") // hundredths of a mm²/s
		cool := rapid.Int64Range(60, 140).Draw(t, "viscosity at 40 °C")
		o := film.Oil{
			Cool:    film.ViscosityPoint{Temperature: celsius(40), Viscosity: units.SquareMillimetrePerSecond.OfInt(cool)},
			Warm:    film.ViscosityPoint{Temperature: celsius(100), Viscosity: units.SquareMillimetrePerSecond.Of(decimal.New(warm, -2))},
			Density: density(865), Heat: units.MustParsePressure("1.7 MPa"),
		}
		cranking, err := o.Dynamic(celsius(-25))
		if err != nil {
			t.Fatal(err)
		}
		hot, err := o.Dynamic(celsius(150))
		if err != nil {
			t.Fatal(err)
		}
		if cranking.Cmp(units.MillipascalSecond.OfInt(7000)) > 0 || hot.Cmp(units.MustParse[units.DynamicViscosity]("3.5 mPa·s")) < 0 {
			t.Skip("not of the grade")
		}
		c := rapid.Int64Range(-25, 150).Draw(t, "temperature")
		v, err := o.Dynamic(celsius(c))
		if err != nil {
			t.Fatal(err)
		}
		within, err := g.Dynamic(celsius(c), density(865))
		if err != nil {
			t.Fatal(err)
		}
		if !within.Contains(v) {
			t.Errorf("%d °C: %v is not in %v", c, v, within)
		}
	})
}
