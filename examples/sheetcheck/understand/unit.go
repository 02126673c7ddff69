package understand

import (
	"math/big"
	"strings"
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
		if u, ok := parseUnit(heading[i+1:]); ok {
			rest := strings.TrimRight(heading[:i], "/_ ,")
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
	for _, candidate := range []string{"mm", "in", "µm", "thou", "m", "N·m", "lbf·ft", "lbf·in", "kgf·m", "°", "turn"} {
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
