package torque

import (
	"fmt"
	"slices"
	"strings"
)

// A Sequence is the order in which the bolts of a pattern are pulled: an [Arrangement],
// or a list, [Given].
type Sequence interface {
	// arrange returns the name of every bolt of the pattern once. The bolts of the pattern
	// all stand in different places. A list may be wrong; NewPlan checks it.
	arrange([]Position) []string
}

// Given is a list of bolts in the order to pull them.
type Given []string

func (g Given) arrange([]Position) []string { return slices.Clone(g) }

// An Arrangement is a sequence that follows from the places of the bolts. In JSON it is a
// word: "inside out".
//
// If bolts hold one Part together, like the two of a bearing cap, the parts are put in
// order first and then the bolts of each, so that no cap is left cocked. Rows and a list
// ignore parts: they take the bolts as they stand, and as they are listed. Only CapByCap
// reaches beyond one stage.
type Arrangement uint8

const (
	// InsideOut begins in the middle of the pattern, which is the centre of the smallest
	// circle around its bolts, and works outward. Among bolts equally far from the middle,
	// the next is the one farthest from the last, or the first named of several such; where
	// they stand evenly round a circle they are pulled as by Cross. So a row of five is
	// pulled 3, 2, 4, 1, 5, and five on a circle 1, 3, 5, 2, 4.
	InsideOut Arrangement = iota

	// OutsideIn begins farthest from the middle and works inward, crosswise like
	// InsideOut. It is the usual order for loosening.
	OutsideIn

	// Spiral begins in the middle and works outward, going round clockwise among those
	// equally far from it.
	Spiral

	// Cross goes across the pattern from each bolt to the one opposite, as on a flange. A
	// number of bolts that divides by four goes by fours: a bolt, the one opposite, the
	// one a quarter round, and the one opposite that. Another even number goes by
	// opposite pairs. The next four, or pair, begins as far as can be from the bolts
	// pulled already. In an odd number no bolt has an opposite: the next is always the
	// bolt farthest from the last, which draws a star. Eight are pulled 1, 5, 3, 7, 2, 6,
	// 4, 8, and five 1, 3, 5, 2, 4.
	//
	// The bolts are taken by their direction from the middle, from the first named on, the
	// way round on which its neighbour is named first; one in the middle comes first.
	//
	// Source: the sequences of ASME PCC-1 for flanges of 4 to 32 bolts, from memory; pairs
	// and stars of other numbers are common practice, no source.
	Cross

	// Rows pulls row after row down the page, each from left to right: cap after cap
	// where the pattern is made by Caps.
	Rows

	// CapByCap finishes one cap, all stages, before the next is begun, as for the rods of
	// an engine. The caps are taken in the order of the pattern, and so are the bolts of
	// each. The pauses after a stage are made for each cap. Only a group can have it, not
	// a stage; each bolt has to name its Part, and no stage of the group may be tied to
	// another.
	CapByCap
)

// arrangements are the words and the rules. All but rows put the parts of a pattern in order
// first, and then the bolts of each.
var arrangements = [...]struct {
	word    string
	arrange func([]point) []point
	parts   bool
}{
	InsideOut: {"inside out", insideOut, true},
	OutsideIn: {"outside in", outsideIn, true},
	Spiral:    {"spiral", spiral, true},
	Cross:     {"cross", cross, true},
	Rows:      {"rows", byRows, false},
	CapByCap:  {"cap by cap", inPattern, true},
}

func (a Arrangement) arrange(pattern []Position) []string {
	if int(a) >= len(arrangements) {
		return nil
	}
	rule, all := arrangements[a], points(pattern)
	if rule.parts {
		all = byParts(all, rule.arrange)
	} else {
		all = rule.arrange(centred(all))
	}
	names := make([]string, len(all))
	for i, p := range all {
		names[i] = p.bolt
	}
	return names
}

// String returns the arrangement in words.
func (a Arrangement) String() string {
	if int(a) >= len(arrangements) {
		return "no arrangement"
	}
	return arrangements[a].word
}

// MarshalText returns the words of String. A number that is no Arrangement is an error.
func (a Arrangement) MarshalText() ([]byte, error) {
	if int(a) >= len(arrangements) {
		return nil, (&fault{part: "Order", found: fmt.Sprintf("Arrangement(%d) does not exist", a), fix: "take InsideOut, OutsideIn, Spiral, Cross, Rows or CapByCap"}).err()
	}
	return []byte(a.String()), nil
}

// UnmarshalText reads "inside out", "outside in", "spiral", "cross", "rows" or "cap by cap", in small
// letters or capitals.
func (a *Arrangement) UnmarshalText(text []byte) error {
	words := strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(string(text)), "-", " ")), " ")
	for i, known := range arrangements {
		if known.word == words {
			*a = Arrangement(i)
			return nil
		}
	}
	return (&fault{part: "Order", found: fmt.Sprintf("%.40q is not an order", text),
		fix: `write "inside out", "outside in", "spiral", "cross", "rows" or "cap by cap", or list the bolts`}).err()
}
