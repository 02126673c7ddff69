package conform

import (
	"errors"
	"fmt"
	"slices"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func stackKinds() map[string]answerer {
	return map[string]answerer{"worst case": kind(worstCase), "rss": kind(stackRSS), "law": kind(stackLaw),
		"first exceeds": kind(firstExceeds), "model": remembered(kind(simulated))}
}

// A chain is the question of a stack.
type chain struct {
	Contributors []struct {
		Times        string
		Limits       string
		Distribution *distribution
	}
	Unit      string
	Limits    *string
	Inflation *string
	At        *string
	Coverage  *float64
}

type distribution struct {
	Kind   string
	K, Top float64
	About  *string
}

func (d distribution) made() (stack.Distribution, error) {
	if d.About != nil {
		mean, err := units.ParseLength(*d.About)
		if err != nil {
			return stack.Distribution{}, err
		}
		d.About = nil
		of, err := d.made()
		return of.About(mean), err
	}
	switch d.Kind {
	case "arcsine":
		return stack.Arcsine(), nil
	case "uniform":
		return stack.Uniform(), nil
	case "triangular":
		return stack.Triangular(), nil
	case "normal":
		return stack.Normal(d.K), nil
	case "normal within limits":
		return stack.NormalWithin(d.K), nil
	case "trapezoidal":
		return stack.Trapezoidal(d.Top), nil
	}
	return stack.Distribution{}, fmt.Errorf("no distribution %q", d.Kind)
}

func (c chain) made() (s stack.Stack, u units.LengthUnit, limits units.LengthInterval, err error) {
	for _, x := range c.Contributors {
		times, err1 := units.ParseRatio(x.Times)
		within, err2 := units.ParseLengthInterval(x.Limits)
		if err := errors.Join(err1, err2); err != nil {
			return nil, u, limits, err
		}
		one := stack.Contributor{Name: "x", Sensitivity: times, Limits: within, Distribution: stack.Uniform()}
		if within.IsPoint() {
			one.Fixed, one.Distribution = true, stack.Distribution{}
		} else if x.Distribution != nil {
			if one.Distribution, err = x.Distribution.made(); err != nil {
				return nil, u, limits, err
			}
		}
		s = append(s, one)
	}
	if c.Limits != nil {
		if limits, err = units.ParseLengthInterval(*c.Limits); err != nil {
			return nil, u, limits, err
		}
	}
	u, err = units.Parse[units.LengthUnit](c.Unit)
	return s, u, limits, err
}

func worstCase(c chain) (answer, error) {
	s, u, limits, err := c.made()
	if err != nil {
		return nil, err
	}
	gap := s.WorstCase().Interval()
	reply := halved(gap, u)
	reply["verdict"] = nil
	if c.Limits != nil {
		reply["verdict"] = measure.Judge(gap, limits).String()
	}
	return reply, nil
}

func stackRSS(c chain) (answer, error) {
	s, u, _, err := c.made()
	if err != nil {
		return nil, err
	}
	by := units.One.OfInt(1)
	if c.Inflation != nil {
		if by, err = units.ParseRatio(*c.Inflation); err != nil {
			return nil, err
		}
	}
	gap, err := s.RSS(by)
	if err != nil {
		return nil, err
	}
	return halved(gap.Interval(), u), nil
}

// halved are both ends of a gap, its middle and half its width.
func halved(gap units.LengthInterval, u units.LengthUnit) answer {
	reply := ends(gap, u)
	reply["middle"], reply["tolerance"] = in(gap.Mid(), u), in(gap.Radius(), u)
	return reply
}

func stackLaw(c chain) (answer, error) {
	s, u, limits, err := c.made()
	if err != nil {
		return nil, err
	}
	law, err := s.Law()
	if err != nil {
		return nil, err
	}
	reply := answer{"mean": in(law.Mean, u), "std_dev": in(law.StdDev, u), "below": nil, "above": nil}
	if c.At != nil {
		at, err := units.ParseLength(*c.At)
		if err != nil {
			return nil, err
		}
		d, err := law.Density(at) // for each millimetre
		if err != nil {
			return nil, err
		}
		reply["density"] = float(d.Value * u.OfInt(1).Float64(units.Millimetre))
	}
	if c.Coverage != nil {
		within, err := law.Coverage(*c.Coverage)
		if err != nil {
			return nil, err
		}
		reply["lo"], reply["hi"] = bounds(within, u)
	}
	if c.Limits == nil {
		return reply, nil
	}
	got, err := law.Capability(limits)
	if err != nil {
		return nil, err
	}
	if limits.HasLo() {
		reply["below"] = float(got.Below.Value)
	}
	if limits.HasHi() {
		reply["above"] = float(got.Above.Value)
	}
	return reply, nil
}

// firstExceeds is that the sum of all parts is above a length, less that the sum without the last one is.
func firstExceeds(q struct {
	Parts int
	Above string
}) (answer, error) {
	at, err := units.ParseLength(q.Above)
	if err != nil {
		return nil, err
	}
	if q.Parts < 1 || q.Parts > 100 || at.Sign() < 0 {
		return nil, errors.New("1 to 100 parts, above zero or more")
	}
	part := stack.Adds("x", units.MustParseLengthInterval("0..1 mm"), stack.Uniform())
	var chances [2]float64
	for i := range chances {
		if q.Parts-1+i == 0 {
			continue // nothing is above zero
		}
		law, err := stack.Stack(slices.Repeat([]stack.Contributor{part}, q.Parts-1+i)).Law()
		if err != nil {
			return nil, err
		}
		chances[i] = law.Above(at).Value
	}
	return answer{"probability": float(chances[1] - chances[0])}, nil
}
