package conform

import (
	"errors"
	"fmt"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func stackKinds() map[string]answerer {
	return map[string]answerer{"worst case": kind(worstCase), "rss": kind(stackRSS), "law": kind(stackLaw)}
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
}

type distribution struct {
	Kind   string
	K, Top float64
}

func (d distribution) made() (stack.Distribution, error) {
	switch d.Kind {
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
	reply := ends(gap, u)
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
	return ends(gap.Interval(), u), nil
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
