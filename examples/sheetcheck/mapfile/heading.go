package mapfile

import (
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A heading is what the words above a column are taken to mean.
type heading struct {
	name  string   // of the column in the map
	unit  string   // as the heading says it; empty if it does not
	words []string // why
	claim bool     // something the sheet computes
}

// meanings are words of headings and the column that they mean, the more special
// before the more general.
func meanings() []heading {
	return []heading{
		{name: "clearance", words: []string{"clearance"}, claim: true},
		{name: "clearance", words: []string{"oil gap"}, claim: true},
		{name: "verdict", words: []string{"verdict"}, claim: true},
		{name: "verdict", words: []string{"ok?"}, claim: true},
		{name: "verdict", words: []string{"result"}, claim: true},
		{name: "verdict", words: []string{"pass"}, claim: true},
		{name: "out-of-round", words: []string{"round"}, claim: true},
		{name: "taper", words: []string{"taper"}, claim: true},
		{name: "end play", words: []string{"end", "play"}, claim: true},
		{name: "end play", words: []string{"end", "float"}, claim: true},
		{name: "side play", words: []string{"side", "play"}, claim: true},
		{name: "stress area", words: []string{"stress", "area"}, claim: true},
		{name: "stretch", words: []string{"stretch"}, claim: true},
		{name: "torque", words: []string{"torque"}},
		{name: "thread", words: []string{"thread"}},
		{name: "new", words: []string{"new"}},
		{name: "now", words: []string{"now"}},
		{name: "now", words: []string{"used"}},
		{name: "upper", words: []string{"upper"}},
		{name: "lower", words: []string{"lower"}},
		{name: "wall", words: []string{"wall"}},
		{name: "wall", words: []string{"shell", "thick"}},
		{name: "front", words: []string{"front"}},
		{name: "middle", words: []string{"middle"}},
		{name: "rear", words: []string{"rear"}},
		{name: "journal", words: []string{"journal"}},
		{name: "journal", words: []string{"pin"}},
		{name: "bore", words: []string{"bore"}},
		{name: "bore", words: []string{"housing"}},
		{name: "gap", words: []string{"gap"}},
	}
}

// read says what a heading means; ok is false if nothing that is known.
func readHeading(text string) (h heading, ok bool) {
	lower := strings.ToLower(text)
	for _, m := range meanings() {
		if !slices.ContainsFunc(m.words, func(w string) bool { return !strings.Contains(lower, w) }) {
			m.unit = unitIn(text)
			return m, true
		}
	}
	return h, false
}

// isLocation reports whether a heading stands over what locations are called.
func isLocation(text string) bool {
	lower := strings.ToLower(strings.TrimSpace(text))
	return slices.Contains([]string{"main", "rod", "location", "place", "cylinder", "engine", "bearing", "no", "no.", "#", "bolt"}, lower)
}

// unitIn returns the unit in a heading: in brackets, or as its last word.
func unitIn(text string) string {
	text = strings.TrimSpace(text)
	candidates := []string{}
	for _, b := range []string{"()", "[]"} {
		if open := strings.IndexByte(text, b[0]); open >= 0 {
			inside, _, _ := strings.Cut(text[open+1:], b[1:])
			candidates = append(candidates, strings.TrimSpace(inside))
		}
	}
	if fields := strings.Fields(text); len(fields) > 1 {
		candidates = append(candidates, strings.Trim(fields[len(fields)-1], ",/"))
	}
	for _, c := range candidates {
		if slices.Contains([]string{"mm", "µm", "μm", "um", "in", "inch", "thou", "N·m", "Nm", "N.m", "ft-lb", "lbf·ft", "in-lb", "lbf·in", "kgf·m", "bar", "psi", "kPa", "mm²", "mm2", "in²", "°", "deg"}, c) {
			switch c {
			case "inch":
				return "in"
			case "um", "μm":
				return "µm"
			case "N.m":
				return "N·m"
			case "mm2":
				return "mm²"
			}
			return c
		}
	}
	return ""
}

// sample is what the first cells under a heading look like.
type sample struct {
	numbers int
	texts   int
	places  int     // most written after the point
	first   float64 // of the numbers, for their size alone
}

func (s *sample) add(c *sheet.Cell) {
	n, isNumber := c.Number()
	switch {
	case c.Blank():
	case isNumber:
		if s.numbers == 0 {
			s.first = n.InexactFloat64()
		}
		s.numbers++
		s.places = max(s.places, int(-n.Exponent()))
	default:
		s.texts++
	}
}
