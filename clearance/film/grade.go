package film

import (
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// A Grade is a grade of engine oil by SAE J300, such as 10W-40: what the standard promises of any oil
// that bears it. It is written as its name.
type Grade struct {
	winter, hot int // rows of the tables, from 1; 0 for none
}

// winterGrade is a row of J300 for a grade with W: the most that cranking may meet, and at
// what temperature, and the least kinematic viscosity at 100 °C.
type winterGrade struct {
	name     string
	cranking float64 // mPa·s
	at       float64 // °C
	least    float64 // mm²/s
}

// hotGrade is a row of J300 for a grade without W.
type hotGrade struct {
	name        string
	least, most float64 // mm²/s at 100 °C; most is no longer of the grade
	shear       float64 // mPa·s: the least at 150 °C and a shear rate of 10⁶/s
}

// The tables of SAE J300 JAN2015, as reproduced in two places that agree with each other and, for
// the common grades, with the edition of 1999.
var (
	winterGrades = [...]winterGrade{
		{"0W", 6200, -35, 3.8}, {"5W", 6600, -30, 3.8}, {"10W", 7000, -25, 4.1},
		{"15W", 7000, -20, 5.6}, {"20W", 9500, -15, 5.6}, {"25W", 13000, -10, 9.3},
	}
	hotGrades = [...]hotGrade{
		{"8", 4.0, 6.1, 1.7}, {"12", 5.0, 7.1, 2.0}, {"16", 6.1, 8.2, 2.3}, {"20", 6.9, 9.3, 2.6},
		{"30", 9.3, 12.5, 2.9}, {"40", 12.5, 16.3, 3.5}, {"50", 16.3, 21.9, 3.7}, {"60", 21.9, 26.1, 3.7},
	}
)

// heavyForty is the least high-shear viscosity of a 40 that is no 0W, 5W or 10W.
const heavyForty = 3.7

// ParseGrade reads a grade: "10W-40", "SAE 30", "5W". The error is of kind ErrOil.
func ParseGrade(text string) (Grade, error) {
	s := strings.ToUpper(strings.TrimSpace(text))
	s = strings.TrimSpace(strings.TrimPrefix(s, "SAE"))
	winter, hot, both := strings.Cut(s, "-")
	if !both && !strings.HasSuffix(winter, "W") {
		winter, hot = "", winter
	}
	var g Grade
	for i, row := range winterGrades {
		if row.name == winter {
			g.winter = i + 1
		}
	}
	for i, row := range hotGrades {
		if row.name == hot {
			g.hot = i + 1
		}
	}
	if (winter != "" || both) && g.winter == 0 || (hot != "" || both) && g.hot == 0 || g == (Grade{}) {
		return Grade{}, wrong(ErrOil, "grade of the oil", fmt.Sprintf("%.20q", text), `write a grade of SAE J300, such as "10W-40", "5W-30" or "40"`)
	}
	return g, nil
}

// String returns the grade as it is written; "none" for the zero Grade.
func (g Grade) String() string {
	switch {
	case g == (Grade{}):
		return "none"
	case g.hot == 0:
		return winterGrades[g.winter-1].name
	case g.winter == 0:
		return hotGrades[g.hot-1].name
	}
	return winterGrades[g.winter-1].name + "-" + hotGrades[g.hot-1].name
}

// Kinematic returns the kinematic viscosities at 100 °C that the grade allows. The upper
// bound of J300 is the first that no longer belongs to the grade. A grade with W alone has
// no upper bound, and the zero Grade is an empty interval.
func (g Grade) Kinematic() units.KinematicViscosityInterval {
	of := func(v float64) units.KinematicViscosity {
		var r rounding
		return rounded(&r, units.SquareMillimetrePerSecond, v)
	}
	switch {
	case g == (Grade{}):
		return units.KinematicViscosityInterval{}
	case g.hot == 0:
		return units.AtLeast(of(winterGrades[g.winter-1].least))
	}
	hot := hotGrades[g.hot-1]
	least := hot.least
	if g.winter > 0 {
		least = max(least, winterGrades[g.winter-1].least)
	}
	return units.Between(of(least), of(hot.most))
}

// Shear returns the least dynamic viscosity that the grade promises at 150 °C and a shear rate of
// 10⁶/s, which is near that of a loaded film; zero for a grade that promises none.
func (g Grade) Shear() units.DynamicViscosity {
	var r rounding
	return rounded(&r, units.MillipascalSecond, g.shear())
}

func (g Grade) shear() float64 {
	if g.hot == 0 {
		return 0
	}
	hot := hotGrades[g.hot-1]
	if hot.name == "40" && (g.winter == 0 || winterGrades[g.winter-1].at > -25) {
		return heavyForty
	}
	return hot.shear
}

// Dynamic returns the dynamic viscosities that a film may find at a temperature in oils of the
// grade, of a density at 15 °C. What the grade does not limit stays open:
//
//   - Below, up to 150 °C: the least at 150 °C and high shear, because cooler oil is no thinner.
//     Nothing is promised above 150 °C, nor by a grade with W alone.
//   - Above, from 100 °C: the most at 100 °C, because hotter oil is no thicker.
//   - Above, below 100 °C: the straight line of ASTM D341 from there to what cranking may meet
//     at the grade's low temperature. It holds for oils that follow such a line at the shear rates
//     of cranking and of a film. A grade without W says nothing of the cold, and has no upper
//     bound here.
//
// An interval without a bound is open at that end. The error is of kind ErrOil, for the zero
// Grade too, and where nothing at all is known.
func (g Grade) Dynamic(t units.Temperature, density units.Density) (units.DynamicViscosityInterval, error) {
	none := units.DynamicViscosityInterval{}
	c, err := celsius(t)
	if err != nil {
		return none, err
	}
	if g == (Grade{}) {
		return none, wrong(ErrOil, "grade of the oil", "none", `write a grade of SAE J300, such as "10W-40"`)
	}
	d := density.Float64(units.KilogramPerCubicMetre)
	if !(d >= 600 && d <= 1200) {
		return none, wrong(ErrOil, "density of the oil", density.String(), "write that at 15 °C, from 600 to 1200 kg/m³")
	}
	o := oiling{density: d}
	thickest := 0.0 // mPa·s; 0 for not known
	switch {
	case g.hot > 0 && c >= 100:
		thickest = hotGrades[g.hot-1].most * o.at(c) / 1e3
	case g.winter > 0 && c >= winterGrades[g.winter-1].at:
		w := winterGrades[g.winter-1]
		thickest = w.cranking
		if g.hot > 0 {
			o.line = throughPoints(w.at+kelvin, w.cranking/o.at(w.at)*1e3, 100+kelvin, hotGrades[g.hot-1].most)
			thickest = o.dynamic(c) * 1e3
		}
	}
	var r rounding
	of := func(v float64) units.DynamicViscosity { return rounded(&r, units.MillipascalSecond, v) }
	known := none
	switch shear := g.shear(); {
	case shear > 0 && c <= 150 && thickest > 0:
		known = units.Between(of(shear), of(thickest))
	case shear > 0 && c <= 150:
		known = units.AtLeast(of(shear))
	case thickest > 0:
		known = units.AtMost(of(thickest))
	default:
		return none, wrong(ErrOil, "grade of the oil", fmt.Sprintf("%v at %v, of which it says nothing", g, t), "write the oil's two viscosities from its data sheet")
	}
	return known, r.err
}

// Oils returns two oils at the limits of the grade, of a density at 15 °C and a heat as Oil has them, each on a line of ASTM D341. The
// thin one has the least viscosities that the grade promises, at 100 °C and at 150 °C and high shear. The thick one has the most
// at 100 °C, and in the cold what cranking may just meet. A film between theirs is that of an oil
// which lies between theirs in viscosity; a grade promises that at these temperatures, and not between them.
//
// The error is of kind ErrOil, for a grade too that has not both parts: it leaves one of the oils open.
func (g Grade) Oils(density units.Density, heat units.Pressure) (thin, thick Oil, err error) {
	if g.winter == 0 || g.hot == 0 {
		return thin, thick, wrong(ErrOil, "grade of the oil", g.String(), `write a grade with both parts, such as "10W-40", or the oil's two viscosities from its data sheet`)
	}
	d := density.Float64(units.KilogramPerCubicMetre)
	if !(d >= 600 && d <= 1200) {
		return thin, thick, wrong(ErrOil, "density of the oil", density.String(), "write that at 15 °C, from 600 to 1200 kg/m³")
	}
	w, o, allowed := winterGrades[g.winter-1], oiling{density: d}, g.Kinematic()
	var r rounding
	point := func(celsius, dynamic float64) ViscosityPoint { // dynamic in mPa·s
		return ViscosityPoint{rounded(&r, units.Celsius, celsius), rounded(&r, units.SquareMillimetrePerSecond, dynamic/o.at(celsius)*1e3)}
	}
	thin = Oil{Name: g.String() + " at its thinnest", Cool: ViscosityPoint{units.Celsius.OfInt(100), allowed.Lo()}, Warm: point(150, g.shear()), Density: density, Heat: heat}
	thick = Oil{Name: g.String() + " at its thickest", Cool: point(w.at, w.cranking), Warm: ViscosityPoint{units.Celsius.OfInt(100), allowed.Hi()}, Density: density, Heat: heat}
	for _, x := range []Oil{thin, thick} {
		if _, err := x.oiling(); err != nil {
			return Oil{}, Oil{}, err
		}
	}
	return thin, thick, r.err
}

// MarshalText returns the grade as it is written. The zero Grade is none.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads a grade, or "none".
func (g *Grade) UnmarshalText(text []byte) error {
	if string(text) == "none" {
		*g = Grade{}
		return nil
	}
	read, err := ParseGrade(string(text))
	if err != nil {
		return err
	}
	*g = read
	return nil
}
