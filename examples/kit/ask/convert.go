package ask

import (
	"context"
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// A Convert asks for a quantity or an interval in another unit.
type Convert struct {
	Value  string   `json:"value"`  // "1.8740..1.8747 in", "60 +0.019/0 mm", "45 lbf·ft"
	To     string   `json:"to"`     // the unit: "mm"
	Round  Rounding `json:"round"`  // which way
	Places *int     `json:"places"` // decimal places in that unit; null for exact, and for limits of a length from inches to millimetres or back, which ISO 370 gives places
}

// A Rounding says which way a conversion may round.
type Rounding string

const (
	Exact   Rounding = "exact"   // not at all: a number without an end is a ratio
	Inward  Rounding = "inward"  // for limits: nothing is allowed that the original refuses
	Outward Rounding = "outward" // for readings: no doubt gets smaller
	Nearest Rounding = "nearest" // each bound to the nearest, half to even
)

// Words are the ways.
func (Rounding) Words() []string {
	return []string{string(Exact), string(Inward), string(Outward), string(Nearest)}
}

// UnmarshalText reads one of the words.
func (r *Rounding) UnmarshalText(text []byte) error { return word(r, text, "rounding") }

// Converted is the answer to Convert.
type Converted struct {
	Value   string        `json:"value"`   // "47.600..47.617 mm"; a number without an end is a ratio, "(5/127) in"
	Kind    string        `json:"kind"`    // "length"
	Lo      *string       `json:"lo"`      // the number of the lower bound; null if there is none
	Hi      *string       `json:"hi"`      // that of the upper bound, the same for a single value
	Unit    string        `json:"unit"`    // empty for a bare number
	Round   Rounding      `json:"round"`   // as it was asked for
	Places  *int          `json:"places"`  // null for exact
	Rounded bool          `json:"rounded"` // whether the value is another one than was given
	Working units.Working `json:"working"`
}

// maxPlaces is to how many places anything is rounded.
const maxPlaces = 30

func conversion(_ context.Context, q Convert) (Converted, error) {
	k, err := kindOf(q.Value)
	if err != nil {
		return Converted{}, at(err, `Convert, "value"`)
	}
	c, err := k.convert(q)
	c.Kind = k.name
	return c, err
}

func convert[D, E units.Dimension](q Convert) (c Converted, err error) {
	value, err := units.Parse[units.ClosedInterval[D, E]](q.Value)
	if err != nil {
		return c, at(err, `Convert, "value"`)
	}
	to, err := units.Parse[units.Scale[D, E]](q.To)
	if err != nil {
		return c, at(err, `Convert, "to"`)
	}
	places, source, err := placesOf(q, value, to)
	if err != nil {
		return c, err
	}
	c = Converted{Unit: to.String(), Round: q.Round, Places: places}
	got := value
	number := func(v units.Value[D, E]) string { return ratio(v.Rat(to)) }
	if places != nil {
		p := int32(*places)
		switch q.Round {
		case Inward:
			if got, err = value.Inward(to, p); err != nil {
				return c, at(err, `Convert, "places"`)
			}
		case Outward:
			got = value.Outward(to, p)
		case Nearest:
			got = nearest(value, to, p)
		}
		number = func(v units.Value[D, E]) string { return v.Rat(to).FloatString(max(0, *places)) }
	}
	if got.HasLo() {
		lo := number(got.Lo())
		c.Lo = &lo
	}
	if got.HasHi() {
		hi := number(got.Hi())
		c.Hi = &hi
	}
	c.Value = written(c.Lo, c.Hi, c.Unit)
	c.Rounded = !got.Equal(value)
	c.Working = units.Working{
		Name:    "conversion to " + named(c.Unit),
		Numbers: strings.TrimSpace(q.Value),
		Result:  c.Value,
		Source:  to.Source(),
	}
	switch {
	case places == nil:
		c.Working.Notes = append(c.Working.Notes, "exact")
	case c.Rounded:
		c.Working.Notes = append(c.Working.Notes, fmt.Sprintf("rounded %s to %d places%s", rounds[q.Round], *places, source))
	default:
		c.Working.Notes = append(c.Working.Notes, fmt.Sprintf("%d places%s hold it exactly", *places, source))
	}
	return c, nil
}

var rounds = map[Rounding]string{Inward: "inward", Outward: "outward", Nearest: "to the nearest, half to even,"}

func named(unit string) string {
	if unit == "" {
		return "a number"
	}
	return unit
}

// placesOf returns the places that are asked for, or those of ISO 370 for limits.
func placesOf[D, E units.Dimension](q Convert, value units.ClosedInterval[D, E], to units.Scale[D, E]) (places *int, source string, err error) {
	const where = `Convert, "places"`
	switch {
	case q.Round == Exact && q.Places != nil:
		return nil, "", wrong(where, fmt.Sprintf("%d with round exact", *q.Places), "write null, or another way to round")
	case q.Round == Exact:
		return nil, "", nil
	case q.Places != nil && (*q.Places < 0 || *q.Places > maxPlaces):
		return nil, "", wrong(where, fmt.Sprint(*q.Places), fmt.Sprintf("write 0 to %d", maxPlaces))
	case q.Places != nil:
		return q.Places, "", nil
	}
	if iv, is := any(value).(units.LengthInterval); is && q.Round == Inward && iv.Bounded() && !iv.IsPoint() {
		if p, ok := units.ConversionPlaces(iv.Width(), any(to).(units.LengthUnit)); ok {
			n := int(p)
			return &n, ", which ISO 370:1975 gives a tolerance of this width", nil
		}
	}
	return nil, "", wrong(where, "null", "write to how many places; only limits of a length in mm or in have usual ones")
}

// nearest rounds each bound to the nearest.
func nearest[D, E units.Dimension](a units.ClosedInterval[D, E], u units.Scale[D, E], places int32) units.ClosedInterval[D, E] {
	switch round := func(v units.Value[D, E]) units.Value[D, E] { return u.Of(v.In(u, places)) }; {
	case !a.HasLo():
		return units.AtMost(round(a.Hi()))
	case !a.HasHi():
		return units.AtLeast(round(a.Lo()))
	default:
		return units.Between(round(a.Lo()), round(a.Hi()))
	}
}

// ratio writes a number with all its digits, or as a ratio if it has no end or a long one.
func ratio(r *big.Rat) string {
	if n, exact := r.FloatPrec(); exact && n <= maxPlaces {
		return r.FloatString(n)
	}
	return "(" + r.RatString() + ")"
}

// written writes an interval as the library reads it.
func written(lo, hi *string, unit string) string {
	text := ""
	switch {
	case lo == nil && hi == nil:
		return "none"
	case lo == nil:
		text = "<= " + *hi
	case hi == nil:
		text = ">= " + *lo
	case *lo == *hi:
		text = *lo
	default:
		text = *lo + ".." + *hi
	}
	return strings.TrimSpace(text + " " + unit)
}
