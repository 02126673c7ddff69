package units

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lookUp finds the unit spelled so; the error names the place in text.
func (d *dimension) lookUp(spelling, text string, offset int) (uint8, error) {
	if u, ok := d.spelled(spelling); ok {
		return u, nil
	}
	return 0, d.unknown(spelling, text, offset)
}

// spelled finds the unit spelled so, with whatever stands between its parts.
func (d *dimension) spelled(spelling string) (u uint8, ok bool) {
	if u, ok = d.byKey[spelling]; ok {
		return u, true
	}
	key := joined(spelling)
	if key == "" { // nothing but hyphens, stops and spaces, which are no unit of a bare number
		return 0, false
	}
	u, ok = d.byKey[key]
	return u, ok
}

// joined returns the spelling with a middle dot for every multiplication sign,
// hyphen, stop or run of spaces between its parts.
func joined(spelling string) string {
	if len(spelling) > shown {
		return spelling
	}
	parts := strings.FieldsFunc(spelling, func(r rune) bool {
		switch r {
		case '·', '⋅', '∙', '•', '*', '×', '-', '‑', '.':
			return true
		}
		return unicode.IsSpace(r)
	})
	return strings.Join(parts, "·")
}

// unknown explains why the spelling is no unit of d.
func (d *dimension) unknown(spelling, text string, offset int) error {
	found := fmt.Sprintf("%q", shorten(spelling))
	if second := secondNumber(spelling); second >= 0 {
		fix := "write one number and one unit"
		if d == lengths() {
			fix += ", such as 66 in for 5 ft 6 in"
		}
		return parseError(ErrSyntax, text, offset+second, "a second number", fix)
	}
	if strings.ContainsAny(spelling, "±+<>") || strings.Contains(spelling, "..") || strings.Contains(spelling, "…") {
		return parseError(ErrSyntax, text, offset, "an interval where one value is wanted", "write one "+d.number())
	}
	if fix, ok := d.mistaken(spelling); ok {
		return parseError(ErrWrongDimension, text, offset, found+", which is no unit of "+d.name, fix)
	}
	for _, other := range dimensions() {
		if other == d || spelling == "" {
			continue
		}
		if _, known := other.spelled(spelling); known {
			if other.bare() {
				return parseError(ErrWrongDimension, text, offset,
					fmt.Sprintf("%s, which makes a pure number where %s is wanted", found, withArticle(d.name)), d.anyUnit())
			}
			return parseError(ErrWrongDimension, text, offset,
				fmt.Sprintf("%s, a unit of %s where %s is wanted", found, other.name, withArticle(d.name)), d.anyUnit())
		}
	}
	if near := d.nearest(spelling); len(near) > 0 {
		return parseError(ErrSyntax, text, offset, found+", which is no unit", "write "+strings.Join(near, " or "))
	}
	if d.bare() {
		return parseError(ErrSyntax, text, offset, found+" behind a pure number", d.anyUnit())
	}
	var symbols []string
	for _, u := range d.units {
		symbols = append(symbols, u.symbol)
	}
	return parseError(ErrSyntax, text, offset, found+", which is no unit", "write one of "+strings.Join(symbols, ", "))
}

// secondNumber returns where in what follows a number another one begins, as in
// `' 6"` or "ft 6 in"; -1 if nowhere. The 2 of mm2 is none.
func secondNumber(spelling string) int {
	before := '"'
	for i, r := range spelling {
		if '0' <= r && r <= '9' && (unicode.IsSpace(before) || strings.ContainsRune(`'′’"″”°`, before)) {
			return i
		}
		before = r
	}
	return -1
}

func withArticle(noun string) string {
	if strings.ContainsAny(noun[:1], "aeiou") {
		return "an " + noun
	}
	return "a " + noun
}

// mistaken has what people write for a unit of the dimension though it is one of
// mass, or half of one, or says more than the type holds; and what to write.
func (d *dimension) mistaken(spelling string) (fix string, ok bool) {
	for _, m := range mistakes {
		if m.dimension == d.name && m.spelling == spelling {
			return m.fix, true
		}
	}
	return "", false
}

const (
	aPound    = "a pound is a mass; write lbf for the force that it weighs"
	aKilogram = "a kilogram is a mass; write kgf for the force that it weighs"
	aTorque   = "a torque is a force times a length; write "
	aPressure = "a pressure is a force over an area; write "
	aTon      = "a ton-force is 2000 lbf in the US, 2240 lbf elsewhere, and 1000 kgf where it is metric; write US tonf, lbf or kgf"
	aTonne    = "a ton is 907.18474 kg in the US, 1016.0469088 kg elsewhere, and 1000 kg where it is metric; write kg or lb"
	aDensity  = "a kinematic viscosity is no dynamic one; multiply its mm²/s by the density in g/cm³ and write mPa·s"
	perKelvin = "a pure number has no unit; write what a coefficient comes to for each kelvin as a number, 11.7e-6 or 11.7 ppm"
	perDegree = "a pure number has no unit; multiply what a coefficient comes to for each degree Fahrenheit by 1.8 for each kelvin, and write it as a number"
	aWater    = "water has another density at another temperature; write inH2O for the conventional inch of water, 249.08891 Pa, or give the pressure in Pa"
)

// mistakes are a table and no map, which would be made by a program as long as itself.
var mistakes = []struct{ dimension, spelling, fix string }{
	{"length", "NM", "nm is the nanometre, and N·m a unit of torque; write a unit of length, such as mm"},
	{"force", "lb", aPound}, {"force", "lbs", aPound}, {"force", "pound", aPound}, {"force", "pounds", aPound}, {"force", "lb.", aPound}, {"force", "lbs.", aPound},
	{"force", "lbm", aPound}, {"force", "kg", aKilogram}, {"force", "kilo", aKilogram}, {"force", "kilos", aKilogram}, {"force", "kilogram", aKilogram},
	{"force", "kilograms", aKilogram}, {"force", "g", "a gram is a mass; write gf for its weight"}, {"force", "oz", "an ounce is a mass; write ozf for its weight"},
	{"force", "t", "a tonne is a mass, and weighs 9.80665 kN; give the force in kN"}, {"force", "ton", aTon}, {"force", "tons", aTon}, {"force", "tonf", aTon},
	{"force", "ton-force", aTon}, {"force", "tons-force", aTon}, {"force", "ton force", aTon}, {"force", "tons force", aTon},
	{"torque", "m", aTorque + "N·m or kgf·m"}, {"torque", "cm", aTorque + "N·cm or kgf·cm"}, {"torque", "mm", aTorque + "N·mm"}, {"torque", "ft", aTorque + "lbf·ft"},
	{"torque", "foot", aTorque + "lbf·ft"}, {"torque", "feet", aTorque + "lbf·ft"}, {"torque", "in", aTorque + "lbf·in"}, {"torque", "inch", aTorque + "lbf·in"},
	{"torque", "inches", aTorque + "lbf·in"}, {"torque", "lb", aTorque + "lbf·ft or lbf·in"}, {"torque", "lbs", aTorque + "lbf·ft or lbf·in"},
	{"torque", "lbf", aTorque + "lbf·ft or lbf·in"}, {"torque", "pounds", aTorque + "lbf·ft or lbf·in"}, {"torque", "kg", aTorque + "kgf·m or kgf·cm"},
	{"torque", "kgf", aTorque + "kgf·m or kgf·cm"}, {"torque", "N", aTorque + "N·m"}, {"torque", "kN", aTorque + "kN·m"}, {"torque", "oz", aTorque + "ozf·in"},
	{"torque", "ozf", aTorque + "ozf·in"}, {"torque", "nm", "nm is the nanometre; write N·m"}, {"torque", "mN", "mN is the millinewton; write N·m, or N·mm for the mN·m"},
	{"torque", "mN·m", "write N·mm, which is the same"}, {"torque", "mNm", "write N·mm, which is the same"}, {"torque", "J", "the joule is an energy; write N·m"},
	{"pressure", "kg", aPressure + "kgf/cm²"}, {"pressure", "kgf", aPressure + "kgf/cm²"}, {"pressure", "kilo", aPressure + "kgf/cm²"},
	{"pressure", "kilos", aPressure + "kgf/cm²"}, {"pressure", "lb", aPressure + "psi"}, {"pressure", "lbs", aPressure + "psi"}, {"pressure", "lbf", aPressure + "psi"},
	{"pressure", "pounds", aPressure + "psi"}, {"pressure", "N", aPressure + "N/mm² or N/m²"}, {"pressure", "psig", "gauge or absolute is not part of the unit; write psi"},
	{"pressure", "psia", "gauge or absolute is not part of the unit; write psi"}, {"pressure", "barg", "gauge or absolute is not part of the unit; write bar"},
	{"pressure", "bara", "gauge or absolute is not part of the unit; write bar"}, {"pressure", "mPa", "mPa is the millipascal; write MPa"}, {"pressure", "mpa", "write MPa"},
	{"pressure", "inH2O (4 °C)", aWater}, {"pressure", "inH2O (60 °F)", aWater}, {"pressure", "inH2O (20 °C)", aWater}, {"pressure", "inH2O@4C", aWater},
	{"pressure", "inH2O@60F", aWater},
	{"temperature", "°", "write °C or °F"}, {"temperature", "degrees", "write °C or °F"}, {"temperature", "degree", "write °C or °F"},
	{"temperature", "deg", "write °C or °F"},
	{"temperature difference", "°", "write K, °C or °F"}, {"temperature difference", "degrees", "write K, °C or °F"},
	{"temperature difference", "degree", "write K, °C or °F"}, {"temperature difference", "deg", "write K, °C or °F"},
	{"dynamic viscosity", "cSt", aDensity}, {"dynamic viscosity", "St", aDensity}, {"dynamic viscosity", "mm2/s", aDensity}, {"dynamic viscosity", "mm²/s", aDensity},
	{"mass", "lbf", "a pound-force is a force; write lb for the pound on the scales"}, {"mass", "kgf", "a kilogram-force is a force; write kg"},
	{"mass", "kp", "a kilopond is a force; write kg"}, {"mass", "gf", "a gram-force is a force; write g"}, {"mass", "pond", "a pond is a force; write g"},
	{"mass", "ozf", "an ounce-force is a force; write oz"}, {"mass", "N", "a newton is a force, the weight of 101.972 g; give the mass in g or kg"},
	{"mass", "kN", "a kilonewton is a force, the weight of 101.972 kg; give the mass in kg"}, {"mass", "gr", "gr is the grain, 0.06479891 g; write g for the gram"},
	{"mass", "gr.", "gr is the grain, 0.06479891 g; write g for the gram"}, {"mass", "t", "write kg; a tonne is 1000 of them"}, {"mass", "ton", aTonne},
	{"mass", "tons", aTonne},
	{"pure number", "‰", "a per mille is a tenth of a percent; write %"}, {"pure number", "/K", perKelvin}, {"pure number", "1/K", perKelvin},
	{"pure number", "K⁻¹", perKelvin}, {"pure number", "K^-1", perKelvin}, {"pure number", "ppm/K", perKelvin}, {"pure number", "/°C", perKelvin},
	{"pure number", "1/°C", perKelvin}, {"pure number", "ppm/°C", perKelvin}, {"pure number", "µm/m·K", perKelvin}, {"pure number", "µm/(m·K)", perKelvin},
	{"pure number", "µm/m/K", perKelvin}, {"pure number", "µm/m·°C", perKelvin}, {"pure number", "mm/m·K", perKelvin}, {"pure number", "/°F", perDegree},
	{"pure number", "1/°F", perDegree}, {"pure number", "ppm/°F", perDegree}, {"pure number", "in/in·°F", perDegree}, {"pure number", "in/in/°F", perDegree},
	{"pure number", "µin/in·°F", perDegree},
	{"rotational speed", "Hz", "the hertz counts cycles of any kind; write r/s"},
}

// nearest returns the symbols of the units whose spelling is most like the one
// given: the same but for capitals, or a word with one letter off.
func (d *dimension) nearest(spelling string) (symbols []string) {
	if len(spelling) > shown {
		return nil
	}
	for _, alike := range []func(a, b string) bool{sameButCapitals, oneOff} {
		for _, u := range d.units {
			for _, s := range append([]string{u.symbol}, u.spellings...) {
				if s != "" && (alike(spelling, s) || alike(joined(spelling), s)) && !slices.Contains(symbols, u.symbol) {
					symbols = append(symbols, u.symbol)
				}
			}
		}
		if len(symbols) > 0 {
			return symbols
		}
	}
	return nil
}

// sameButCapitals reports whether the unit is the one spelled but for capitals.
// A small m for a capital one proves nothing, for milli- and mega- are a thousand
// million apart; nor does a capital M before the rest as it is: it is meant.
func sameButCapitals(spelled, unit string) bool {
	switch {
	case !strings.EqualFold(spelled, unit):
		return false
	case strings.HasPrefix(spelled, "m") && strings.HasPrefix(unit, "M"):
		return false
	case strings.HasPrefix(spelled, "M") && strings.HasPrefix(unit, "m"):
		return spelled[1:] != unit[1:]
	}
	return true
}

// oneOff reports whether a and b differ by one letter put in, left out or
// changed. In a short word, or where a prefix such as kilo- would stand, that
// proves nothing: kpsi is no misspelled psi.
func oneOff(a, b string) bool {
	if utf8.RuneCountInString(a) > utf8.RuneCountInString(b) {
		a, b = b, a
	}
	const word = 5 // letters
	short, long := []rune(a), []rune(b)
	if len(long) < word || len(long)-len(short) > 1 {
		return false
	}
	i := 0
	for i < len(short) && short[i] == long[i] {
		i++
	}
	rest := long[i:]
	if len(rest) > 0 {
		rest = rest[1:]
	}
	if len(short) == len(long) && i < len(short) {
		return !beginsUnit(long, i) && string(short[i+1:]) == string(rest)
	}
	if string(short[i:]) != string(rest) {
		return false
	}
	for ; i > 0 && long[i-1] == long[i]; i-- { // the letter may be any of several alike
	}
	return !beginsUnit(long, i)
}

// beginsUnit reports whether a unit, or the prefix of one, begins at i.
func beginsUnit(word []rune, i int) bool {
	return i == 0 || strings.ContainsRune("·/ -.", word[i-1])
}
