package understand

import (
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"example.com/closefit/units"
)

// A unit is one that a heading or a number format names.
type unit struct {
	name      string
	dimension string
	factor    *big.Rat // to the SI's own
}

// parseUnit reads a unit; ok is false if the text is none.
func parseUnit(text string) (u unit, ok bool) {
	text = strings.TrimSpace(strings.Trim(strings.TrimSpace(text), "[]()"))
	switch strings.ToLower(text) {
	case "":
		return u, false
	case "inches", "inch", "zoll", "pouces", "pulgadas":
		text = "in"
	case "um", "μm":
		text = "µm"
	case "deg":
		text = "°"
	case "turns", "umdrehungen", "tours", "vueltas":
		text = "turn"
	case "degrees", "grad", "degres", "degrés", "grados":
		text = "°"
	case "mil", "mils":
		text = "thou"
	case "pulg", "pulg.":
		text = "in"
	}
	if u, ok := workshopUnits()[text]; ok {
		return u, true
	}
	if u, ok := partOfUnit(text); ok {
		return u, true
	}
	if !unitLike(text) {
		return u, false
	}
	for _, read := range []func(string) (unit, bool){of[units.LengthDim]("length"), of[units.TorqueDim]("torque"), of[units.AngleDim]("angle"), of[units.ForceDim]("force"), of[units.PressureDim]("pressure"), of[units.AreaDim]("area"), of[units.VolumeDim]("volume")} {
		if u, ok := read(text); ok {
			return u, true
		}
	}
	return u, false
}

// workshopUnits are units that sheets name and package units has none of: masses on a scale, and the decanewton
// of springs and wrenches. They are exact.
var workshopUnits = sync.OnceValue(func() map[string]unit {
	all := map[string]unit{}
	for _, u := range []struct {
		unit
		spellings []string
	}{
		{unit{"g", "mass", big.NewRat(1, 1000)}, []string{"g", "gr", "gram", "grams", "gramm", "Gramm", "gramme", "grammes", "gramo", "gramos"}},
		{unit{"kg", "mass", big.NewRat(1, 1)}, []string{"kg"}},
		{unit{"daN", "force", big.NewRat(10, 1)}, []string{"daN"}},
		{unit{"daN·m", "torque", big.NewRat(10, 1)}, []string{"daN·m", "daN.m", "daNm"}},
	} {
		for _, text := range u.spellings {
			all[text] = u.unit
		}
	}
	return all
})

// partial is a part of a unit, by a power of ten: "1/100 mm", "0,01 mm". Hundredths alone are those of a millimetre.
var partial = regexp.MustCompile(`^(?:1/1(0{1,4})|0[.,](0{0,3})1)\s*(\pL.*)?$`)

// partOfUnit reads a part of a unit of length that has no name of its own, or the unit that it is: 1/1000 mm is 1 µm.
func partOfUnit(text string) (u unit, ok bool) {
	switch plainLetters.Replace(strings.ToLower(text)) {
	case "hundertstel", "hundertstel mm", "centiemes", "centieme", "centesimas", "centesima":
		text = "1/100 mm"
	}
	m := partial.FindStringSubmatch(text)
	if m == nil {
		return u, false
	}
	places := len(m[1])
	if places == 0 {
		places = len(m[2]) + 1
	}
	if m[3] == "" {
		if text != "1/100" {
			return u, false
		}
		m[3] = "mm"
	}
	whole, ok := parseUnit(m[3])
	if !ok || whole.dimension != "length" {
		return u, false
	}
	u = unit{name: "0." + strings.Repeat("0", places-1) + "1 " + whole.name, dimension: whole.dimension}
	u.factor = new(big.Rat).Quo(whole.factor, new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)))
	for _, named := range []string{"µm", "thou"} {
		if same, _ := parseUnit(named); same.factor.Cmp(u.factor) == 0 {
			return same, true
		}
	}
	return u, true
}

// countUnit reports whether a text says what is counted, or the money that a number is: "pcs", "€/bag".
func countUnit(text string) bool {
	for _, part := range strings.Split(plainLetters.Replace(strings.ToLower(strings.TrimSpace(text))), "/") {
		if !slices.Contains([]string{"pc", "pcs", "pieces", "stk", "stk.", "stuck", "piezas", "pzas", "uds", "bag", "bags", "box", "boxes", "pack", "packs", "beutel", "sachet", "sachets", "€", "$", "eur", "euro"}, strings.TrimSpace(part)) {
			return false
		}
	}
	return true
}

// SameUnit reports whether two texts are spellings of one unit, as ft-lb and lbf·ft are.
func SameUnit(a, b string) bool {
	x, okX := parseUnit(a)
	y, okY := parseUnit(b)
	return a == b || okX && okY && x.dimension == y.dimension && x.factor.Cmp(y.factor) == 0
}

// unitLike reports whether a text may be a unit: most words of headings are not, and to find
// that out takes long.
func unitLike(text string) bool {
	const longest, longestWord = 14, 4 // bytes; of letters alone, as "thou" is
	letters, some := true, false
	for _, r := range text {
		letters = letters && r < utf8.RuneSelf && unicode.IsLetter(r)
		some = some || unicode.IsLetter(r) || strings.ContainsRune("°'\"′″’”", r)
	}
	return some && len(text) <= longest && (!letters || len(text) <= longestWord)
}

func of[D units.Dimension](dimension string) func(string) (unit, bool) {
	return func(text string) (unit, bool) {
		u, ok := units.LookUp[D](text)
		if !ok {
			return unit{}, false
		}
		return unit{u.String(), dimension, u.Factor()}, true
	}
}

// splitUnit takes the unit out of a heading: in brackets, behind a stroke or an underline,
// or as its last word.
func splitUnit(heading string) (rest string, u unit, ok bool) {
	heading = strings.TrimSpace(heading)
	for _, b := range []string{"()", "[]"} {
		open := strings.LastIndexByte(heading, b[0])
		if open < 0 {
			continue
		}
		inside, behind, closed := strings.Cut(heading[open+1:], b[1:])
		if u, ok := parseUnit(inside); ok && closed {
			return strings.TrimSpace(heading[:open] + " " + behind), u, true
		}
	}
	if i := strings.LastIndexAny(heading, "/_ "); i > 0 {
		if _, rate := parseUnit(heading[:i]); rate && heading[i] == '/' {
			return heading, unit{}, false // N/mm
		}
		if u, ok := parseUnit(heading[i+1:]); ok {
			rest := strings.TrimRight(heading[:i], "/_ ,")
			if j := strings.LastIndexAny(rest, " ([") + 1; strings.ContainsAny(rest[j:], "/^⁻") || strings.HasPrefix(rest[j:], "0.") || strings.HasPrefix(rest[j:], "0,") {
				u, ok = partOfUnit(strings.Trim(heading[j:], "()[] "))
				return strings.TrimRight(rest[:j], "/_ ,([×x"), u, ok
			}
			if strings.HasSuffix(" "+rest, " of a") {
				return heading, unit{}, false // sixths of a turn
			}
			if cut, found := strings.CutSuffix(rest, " in"); found && u.name != "in" || found && len(heading)-i > 3 {
				rest = cut // "Spiel in mm", "Sizes in inches"
			}
			return rest, u, true
		}
	}
	return heading, u, false
}

func withoutUnit(heading string) string {
	rest, _, _ := splitUnit(heading)
	return rest
}

// ratio returns by what a number in one unit is multiplied to have it in another.
func ratio(from, to string) (*big.Rat, bool) {
	a, okA := parseUnit(from)
	b, okB := parseUnit(to)
	if !okA || !okB || a.dimension != b.dimension {
		return nil, false
	}
	return new(big.Rat).Quo(a.factor, b.factor), true
}

// scaledUnit returns the usual unit that is so many times smaller than another: 1000 times
// a number of mm is one of µm.
func scaledUnit(name string, by *big.Rat) (string, bool) {
	for _, candidate := range []string{"mm", "in", "µm", "thou", "m", "N·m", "lbf·ft", "lbf·in", "kgf·m", "daN·m", "N", "daN", "kN", "g", "kg", "°", "turn", "0.01 mm"} {
		r, ok := ratio(name, candidate)
		if !ok {
			continue
		}
		off := new(big.Rat).Quo(by, r)
		off.Sub(off, big.NewRat(1, 1))
		if off.Abs(off).Cmp(big.NewRat(1, 10000)) < 0 {
			return candidate, true
		}
	}
	return "", false
}
