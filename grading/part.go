package grading

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading/purchase"
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

var halfNames = [...]string{"", "upper", "lower", "front", "rear"}

// String returns "upper", "lower", "front", "rear", or nothing for Either.
func (h Half) String() string {
	if int(h) >= len(halfNames) {
		return fmt.Sprintf("Half(%d)", uint8(h))
	}
	return halfNames[h]
}

// ParseHalf reads "upper", "lower", "front" or "rear" in any case; "either" and
// nothing at all are Either. The error wraps ErrHalf.
func ParseHalf(s string) (Half, error) {
	word := strings.ToLower(strings.TrimSpace(s))
	if word == "either" {
		return Either, nil
	}
	if i := slices.Index(halfNames[:], word); i >= 0 {
		return Half(i), nil
	}
	return 0, fmt.Errorf("%q: %w; write upper, lower, front, rear or either", s, ErrHalf)
}

// MarshalText returns the half's word; Either is "either".
func (h Half) MarshalText() ([]byte, error) {
	if h == Either {
		return []byte("either"), nil
	}
	return []byte(h.String()), nil
}

// UnmarshalText is ParseHalf.
func (h *Half) UnmarshalText(text []byte) error {
	v, err := ParseHalf(string(text))
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

// ParsePart reads a part as String writes it: the grade, then the half as the
// last word if the grade has halves that differ. The error wraps ErrNoGrade.
func ParsePart(s string) (Part, error) {
	words := strings.Fields(s)
	p := Part{Grade: strings.Join(words, " ")}
	if n := len(words) - 1; n >= 0 {
		if h, err := ParseHalf(words[n]); err == nil {
			p = Part{Grade: strings.Join(words[:n], " "), Half: h}
		}
	}
	if p.Grade == "" {
		return Part{}, fmt.Errorf("part %q: %w; write a grade and a half, such as \"B upper\"", s, ErrNoGrade)
	}
	return p, nil
}

// MustParsePart is ParsePart for literals; it panics on an error.
func MustParsePart(s string) Part {
	p, err := ParsePart(s)
	if err != nil {
		panic("grading: " + err.Error())
	}
	return p
}

// String returns the grade and the half: "B upper".
func (p Part) String() string {
	if p.Half == Either {
		return p.Grade
	}
	return p.Grade + " " + p.Half.String()
}

// MarshalText returns String.
func (p Part) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText is ParsePart.
func (p *Part) UnmarshalText(text []byte) error {
	v, err := ParsePart(string(text))
	if err == nil {
		*p = v
	}
	return err
}

// A Pair is the two parts of one location: a bearing's upper and lower shell.
// For a pair of thrust washers Upper is the front one and Lower the rear one.
type Pair struct {
	Upper, Lower Part
}

// String returns "B upper + C lower".
func (p Pair) String() string { return p.Upper.String() + " + " + p.Lower.String() }

// A Count is a number of one part.
type Count = purchase.Count[Part]

// total adds up counts by part and keeps the order in which the parts first stand.
func total(counts []Count) []Count {
	var sum []Count
	at := map[Part]int{}
	for _, c := range counts {
		i, known := at[c.Part]
		if !known {
			at[c.Part] = len(sum)
			sum = append(sum, c)
			continue
		}
		sum[i].N += c.N
	}
	return sum
}
