package grading

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Washers are the thrust washers that exist for an engine, in steps of
// thickness, and the end play they are to give. Choosing and buying them is the
// same as for shells: the front washer is the upper half, the rear one the lower.
type Washers struct {
	Name            string                `json:"name"`
	Interchangeable bool                  `json:"interchangeable"` // front and rear washers of a step are the same part
	Sizes           []Shell               `json:"sizes"`           // each washer that exists: its step as Grade, Front or Rear as Half, or Either if it fits both
	Mix             Mix                   `json:"mix"`             // which steps may share a crankshaft
	Limits          *units.LengthInterval `json:"limits"`
	Wanted          *units.Length         `json:"wanted"` // the end play aimed at; the middle of the limits if nil
}

// A Thrust is a place for a pair of washers, with what was measured there: either
// Room, what washers and end play fill together without any washer in it; or EndPlay,
// with two washers fitted.
type Thrust struct {
	Location string                `json:"location"`
	Room     *units.LengthInterval `json:"room"`
	EndPlay  *units.LengthInterval `json:"end_play"`
	Fitted   []Shell               `json:"fitted"` // for EndPlay the front and the rear washer: the thickness of each as it is listed, or closer if it was measured
}

// measured is the room, or the end play; empty if there is neither, or both.
func (t Thrust) measured() units.LengthInterval {
	switch {
	case t.Room != nil && t.EndPlay == nil:
		return *t.Room
	case t.EndPlay != nil && t.Room == nil:
		return *t.EndPlay
	}
	return units.LengthInterval{}
}

// Fits returns, for each place, every pair of washers whose end play is proven
// inside the limits, nearest to the wanted end play first. From a room it is
//
//	E' = R - tf' - tr'
//
// with R the room, tf' and tr' the thicknesses of the front and the rear washer to
// fit. From an end play it changes by what is exchanged,
//
//	E' = E + tf - tf' + tr - tr'
//
// with E the end play, tf and tr the washers that were fitted. A washer that is
// fitted and is of the step wanted stays: it is one washer on both sides of the sum
// and leaves it, so that E' is E if both stay. Count those that are fitted as stock
// when you buy. All are lengths, each an interval; E' holds the end play of every
// choice from them.
//
// The errors are those of Scheme.Fits; also for a fitted washer that the list does not
// hold in its half, and for a place of which nothing was measured, or too much.
func (w Washers) Fits(thrusts []Thrust) ([][]PairFit, error) {
	s := w.scheme()
	if err := s.washersValid(); err != nil {
		return nil, err
	}
	places := make([][]PairFit, len(thrusts))
	for i, t := range thrusts {
		if err := s.measurable(t); err != nil {
			return nil, err
		}
		all, err := s.rank(t.Location, func(p Pair) (units.LengthInterval, error) {
			e, _, err := s.endPlay(t, p)
			return e, err
		})
		if err != nil {
			return nil, err
		}
		for k := range all {
			all[k].Pair = frontAndRear(all[k].Pair)
		}
		if places[i], err = s.proven(all); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// measurable returns an error unless the place says what pairs can be reckoned
// from.
func (s *Scheme) measurable(t Thrust) error {
	if m := t.measured(); !m.Bounded() || t.Room != nil && !isSize(m) {
		return s.fault(t.Location, "give a room or an end play; a room is above zero, and both have both bounds", "%s measured", m)
	}
	if fitted := len(t.Fitted); fitted != 0 && t.Room != nil || fitted != 2 && t.EndPlay != nil {
		return s.fault(t.Location, "give the front and the rear washer with an end play, and none with a room", "%d washers fitted", fitted)
	}
	for i, f := range t.Fitted {
		half, shellHalf := Front, Upper
		if i == 1 {
			half, shellHalf = Rear, Lower
		}
		switch {
		case f.Half != half && f.Half != Either:
			return s.fault(t.Location, "exchange them", "a %s washer fitted as the %s one", f.Half, half)
		case !isSize(f.Wall):
			return s.fault(t.Location, "write both limits of a size above zero", "the %s washer, %s, has a thickness of %s", half, f.Grade, f.Wall)
		case !slices.ContainsFunc(s.halves(shellHalf), func(sh Shell) bool { return sh.Grade == f.Grade }):
			return s.fault(t.Location, "list it, or give the room that it leaves", "a %s washer %q is fitted, and not listed", half, f.Grade)
		}
	}
	return nil
}

// An exchange is a washer that is put in or taken out.
type exchange struct {
	symbol    string
	thickness units.LengthInterval
}

// endPlay returns the end play with the pair, and what is taken out and put in
// for it.
func (s *Scheme) endPlay(t Thrust, p Pair) (e units.LengthInterval, changes []exchange, err error) {
	e = t.measured()
	parts := []Part{p.Upper, p.Lower}
	stays := make([]bool, len(parts))
	for i, f := range t.Fitted {
		k := i
		if s.Interchangeable { // either of the two will do, if it has not been taken
			k = slices.IndexFunc(parts, func(part Part) bool { return part.Grade == f.Grade })
			if k >= 0 && stays[k] {
				k = 1 - k
			}
		}
		if k >= 0 && parts[k].Grade == f.Grade && !stays[k] {
			stays[k] = true
			continue
		}
		e = e.Add(f.Wall)
		changes = append(changes, exchange{"+ t" + "fr"[i:i+1], f.Wall})
	}
	for i, part := range parts {
		if stays[i] {
			continue
		}
		wall, err := s.wall(part)
		if err != nil {
			return e, nil, err
		}
		e = e.Sub(wall)
		changes = append(changes, exchange{"- t" + "fr"[i:i+1] + "'", wall})
	}
	return e, changes, nil
}

// scheme returns the washers as shells of a scheme without codes.
func (w Washers) scheme() *Scheme {
	s := &Scheme{Name: w.Name, Interchangeable: w.Interchangeable, Mix: w.Mix, Limits: w.Limits, Wanted: w.Wanted}
	for _, sh := range w.Sizes {
		switch sh.Half {
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
	if err := s.measurable(t); err != nil {
		return units.Working{}, err
	}
	e, changes, err := s.endPlay(t, s.pairOf(p.Upper.Grade, p.Lower.Grade))
	if err != nil {
		return units.Working{}, err
	}
	written := func(a units.LengthInterval) string { return "(" + a.FormatOutward(u, places) + ")" }
	formula, numbers := "E' = R", written(t.measured())
	if len(t.Fitted) > 0 {
		formula = "E' = E"
	}
	for _, c := range changes {
		formula += " " + c.symbol
		sign, _, _ := strings.Cut(c.symbol, " ")
		numbers += " " + sign + " " + written(c.thickness)
	}
	working := units.Working{
		Name:    t.Location + ", " + p.String(),
		Formula: formula,
		Numbers: numbers,
		Result:  e.FormatOutward(u, places),
	}
	if w.Limits != nil {
		working.Notes = []string{fmt.Sprintf("against %s: %s", w.Limits.FormatInward(u, places), measure.Judge(e, *w.Limits))}
	}
	return working, nil
}
