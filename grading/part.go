package grading

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// A Half says where in its location a part goes.
type Half uint8

const (
	Either Half = iota // fits both places: the halves of this grade are one part
	Upper              // a shell in the block or the rod
	Lower              // a shell in the cap
	Front              // a thrust washer in front of its wall
	Rear               // a thrust washer behind it
)

// String returns "upper", "lower", "front", "rear", or nothing for Either.
func (h Half) String() string {
	if h > Rear {
		return fmt.Sprintf("Half(%d)", uint8(h))
	}
	return [...]string{"", "upper", "lower", "front", "rear"}[h]
}

// ParseHalf reads "upper", "lower", "front" or "rear" in any case; "either" and
// nothing at all are Either. The error is of kind [units.ErrNotWritten].
func ParseHalf(s string) (Half, error) {
	word := strings.ToLower(strings.TrimSpace(s))
	for h := Either; h <= Rear; h++ {
		if word == h.String() || word == "either" {
			return h, nil
		}
	}
	return Either, fault(units.ErrNotWritten, "half", "write upper, lower, front, rear or either", "%q", shortened(s))
}

// MarshalText returns the half's word; that of Either is "either". It returns an error
// for a Half that is not one of the constants.
func (h Half) MarshalText() ([]byte, error) {
	if h > Rear {
		return nil, fault(units.ErrNotWritten, "half", "use the package's constants", "%s", h)
	}
	if h == Either {
		return []byte("either"), nil
	}
	return []byte(h.String()), nil
}

// UnmarshalText is ParseHalf, but an empty text is an error.
func (h *Half) UnmarshalText(text []byte) error {
	v, err := ParseHalf(string(text))
	if err == nil && len(text) == 0 {
		err = fault(units.ErrNotWritten, "half", "write upper, lower, front, rear or either", "nothing")
	}
	if err == nil {
		*h = v
	}
	return err
}

// A Part is one thing that can be bought and fitted: a shell of a grade for one
// half. Two parts are the same thing if they are ==.
type Part struct {
	Grade string // as the manual or the box names it: "B", "red", "0.25 undersize B"
	Half  Half
}

// parsePart reads a part as String writes it.
func parsePart(s string) (Part, error) {
	words := strings.Fields(s)
	p := Part{Grade: strings.Join(words, " ")}
	if n := len(words) - 1; n >= 0 {
		if h, err := ParseHalf(words[n]); err == nil {
			p = Part{Grade: strings.Join(words[:n], " "), Half: h}
		}
	}
	if p.Grade == "" {
		return Part{}, fault(units.ErrNotWritten, "part", "write a grade and a half, such as \"B upper\"", "%q", shortened(s))
	}
	return p, nil
}

// String returns the grade and the half: "B upper".
func (p Part) String() string {
	if p.Half == Either || p.Grade == "" {
		return p.Grade
	}
	return p.Grade + " " + p.Half.String()
}

// MarshalText returns String, and adds the half if the grade's last word reads like one.
// It returns an error for a part that UnmarshalText would not read back unchanged: one
// without a grade, or with other spaces than one between words.
func (p Part) MarshalText() ([]byte, error) {
	text := p.String()
	back, err := parsePart(text)
	if p.Half == Either && (err != nil || back != p) {
		text += " either"
		back, err = parsePart(text)
	}
	if err != nil || back != p || !utf8.ValidString(text) {
		return nil, fault(units.ErrNotWritten, "part", "name a grade in words with one space between them, and a half of the package's constants", "%q", shortened(text))
	}
	return []byte(text), nil
}

// UnmarshalText reads the grade, then the half as the last word if the grade has halves
// that differ. The error is of kind [units.ErrNotWritten].
func (p *Part) UnmarshalText(text []byte) error {
	v, err := parsePart(string(text))
	if err == nil {
		*p = v
	}
	return err
}

// A Pair is the two parts of one location: a bearing's upper and lower shell.
// For a pair of thrust washers Upper is the front one and Lower the rear one.
type Pair struct {
	Upper Part `json:"upper"`
	Lower Part `json:"lower"`
}

// String returns "B upper + C lower".
func (p Pair) String() string { return p.Upper.String() + " + " + p.Lower.String() }

// count counts the parts of the pairs, in the order in which they first stand.
func count(pairs []Pair) []purchase.Count[Part] {
	var demand []purchase.Count[Part]
	for _, p := range pairs {
		for _, part := range []Part{p.Upper, p.Lower} {
			i := slices.IndexFunc(demand, func(c purchase.Count[Part]) bool { return c.Part == part })
			if i < 0 {
				i = len(demand)
				demand = append(demand, purchase.Count[Part]{Part: part})
			}
			demand[i].N++
		}
	}
	return demand
}
