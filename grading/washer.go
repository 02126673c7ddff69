package grading

import (
	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

// Washers are the thrust washers that exist for an engine, in steps of
// thickness, and the end play they are to give. Choosing and buying them is the
// same as for shells: the front washer is the upper half, the rear one the lower.
type Washers struct {
	Name            string
	Interchangeable bool // front and rear washers of a step are the same part
	Sizes           []Washer
	Mix             Mix // which steps may share a crankshaft
	Limits          units.LengthInterval
	Wanted          *units.Length // the end play aimed at; the middle of the limits if nil
}

// A Washer is one washer that exists.
type Washer struct {
	Step      string // "standard", "0.10 oversize"
	Half      Half   // Front or Rear; Either if it fits both
	Thickness units.LengthInterval
}

// A Thrust is a place for a pair of washers.
type Thrust struct {
	Location string
	Room     units.LengthInterval // what washers and end play fill together
}

// Room returns what washers and end play fill together, from the end play
// measured with known washers:
//
//	R = E + tf + tr
//
// with E the end play, tf and tr the thicknesses of the front and the rear washer
// that were fitted; lengths, each an interval. The result holds the room for
// every choice from the intervals.
func Room(endPlay, front, rear units.LengthInterval) units.LengthInterval {
	return endPlay.Add(front).Add(rear)
}

// Fits returns, for each place, every pair of washers whose end play
//
//	E = R - tf - tr
//
// is proven inside the limits, nearest to the wanted end play first. The errors
// are those of Scheme.Fits.
func (w Washers) Fits(thrusts []Thrust) ([]Place, error) {
	s := w.scheme()
	if err := s.washersValid(); err != nil {
		return nil, err
	}
	places := make([]Place, len(thrusts))
	for i, t := range thrusts {
		all, err := s.rank(t.Location, t.Room)
		if err != nil {
			return nil, err
		}
		for k := range all {
			all[k].Pair = frontAndRear(all[k].Pair)
		}
		if places[i], err = s.place(t.Location, all); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// scheme returns the washers as shells of a scheme without codes.
func (w Washers) scheme() *Scheme {
	s := &Scheme{Name: w.Name, Interchangeable: w.Interchangeable, Mix: w.Mix, Limits: &w.Limits, Wanted: w.Wanted}
	for _, size := range w.Sizes {
		sh := Shell{Grade: size.Step, Half: size.Half, Wall: size.Thickness}
		switch size.Half {
		case Front:
			sh.Half = Upper
		case Rear:
			sh.Half = Lower
		}
		s.Shells = append(s.Shells, sh)
	}
	return s
}

func (s *Scheme) washersValid() error {
	v := validation{Scheme: s}
	v.shells()
	if len(v.faults) > 0 {
		return v.faults[0]
	}
	return nil
}

func frontAndRear(p Pair) Pair {
	if p.Upper.Half == Upper {
		p.Upper.Half = Front
	}
	if p.Lower.Half == Lower {
		p.Lower.Half = Rear
	}
	return p
}

// Working shows the end play of a pair as it would be worked out by hand.
func (w Washers) Working(t Thrust, p Pair, u units.LengthUnit, places int32) (units.Working, error) {
	s := w.scheme()
	front, err := s.wall(Part{p.Upper.Grade, Upper})
	if err != nil {
		return units.Working{}, err
	}
	rear, err := s.wall(Part{p.Lower.Grade, Lower})
	if err != nil {
		return units.Working{}, err
	}
	e := t.Room.Sub(front).Sub(rear)
	return units.Working{
		Name:    t.Location + ", " + p.String(),
		Formula: "E = R - tf - tr",
		Numbers: "(" + t.Room.FormatOutward(u, places) + ") - (" + front.FormatOutward(u, places) + ") - (" + rear.FormatOutward(u, places) + ")",
		Result:  e.FormatOutward(u, places),
		Notes:   []string{"against " + w.Limits.FormatInward(u, places) + ": " + clearance.Judge(e, w.Limits).String()},
	}, nil
}
