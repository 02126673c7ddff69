package grading

import (
	"fmt"
	"slices"
	"strings"

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

// A Thrust is a place for a pair of washers, with what was measured there:
// ThrustRoom or ThrustPlay makes one.
type Thrust struct {
	location string
	measured units.LengthInterval // the room, or the end play with the washers fitted
	fitted   []Washer             // none, or the front and the rear one
}

// ThrustRoom returns a place of which the room was measured: what washers and end
// play fill together, without any washer in it.
func ThrustRoom(location string, room units.LengthInterval) Thrust {
	return Thrust{location: location, measured: room}
}

// ThrustPlay returns a place of which the end play was measured with two washers
// fitted: the thickness of each as it is listed, or closer if it was measured.
func ThrustPlay(location string, endPlay units.LengthInterval, front, rear Washer) Thrust {
	return Thrust{location: location, measured: endPlay, fitted: []Washer{front, rear}}
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
// The errors are those of Scheme.Fits; *SchemeError also wraps ErrNoShell for a
// fitted washer that the list does not hold in its half, and ErrSize for a place of
// which nothing was measured.
func (w Washers) Fits(thrusts []Thrust) ([]Place, error) {
	s := w.scheme()
	if err := s.washersValid(); err != nil {
		return nil, err
	}
	places := make([]Place, len(thrusts))
	for i, t := range thrusts {
		if err := s.measurable(t); err != nil {
			return nil, err
		}
		all, err := s.rank(func(p Pair) (units.LengthInterval, error) {
			e, _, err := s.endPlay(t, p)
			return e, err
		})
		if err != nil {
			return nil, err
		}
		for k := range all {
			all[k].Pair = frontAndRear(all[k].Pair)
		}
		if places[i], err = s.place(t.location, all); err != nil {
			return nil, err
		}
	}
	return places, nil
}

// measurable returns an error unless the place says what pairs can be reckoned
// from.
func (s *Scheme) measurable(t Thrust) error {
	if !t.measured.Bounded() || len(t.fitted) == 0 && !isSize(t.measured) {
		return s.errorf(ErrSize, t.location, "%s measured; a room is above zero, and it and an end play have both bounds", t.measured)
	}
	for i, f := range t.fitted {
		half, shellHalf := Front, Upper
		if i == 1 {
			half, shellHalf = Rear, Lower
		}
		switch {
		case f.Half != half && f.Half != Either:
			return s.errorf(ErrHalf, t.location, "a %s washer fitted as the %s one; exchange them", f.Half, half)
		case !isSize(f.Thickness):
			return s.errorf(ErrSize, t.location, "the %s washer, %s, has a thickness of %s; write both limits of a size above zero", half, f.Step, f.Thickness)
		case !slices.ContainsFunc(s.halves(shellHalf), func(sh Shell) bool { return sh.Grade == f.Step }):
			return s.errorf(ErrNoShell, t.location, "a %s washer %q is fitted, and not listed; list it, or give the room that it leaves", half, f.Step)
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
	e = t.measured
	parts := []Part{p.Upper, p.Lower}
	stays := make([]bool, len(parts))
	for i, f := range t.fitted {
		k := i
		if s.Interchangeable { // either of the two will do, if it has not been taken
			k = slices.IndexFunc(parts, func(part Part) bool { return part.Grade == f.Step })
			if k >= 0 && stays[k] {
				k = 1 - k
			}
		}
		if k >= 0 && parts[k].Grade == f.Step && !stays[k] {
			stays[k] = true
			continue
		}
		e = e.Add(f.Thickness)
		changes = append(changes, exchange{"+ t" + "fr"[i:i+1], f.Thickness})
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
	if err := s.measurable(t); err != nil {
		return units.Working{}, err
	}
	e, changes, err := s.endPlay(t, s.pairOf(p.Upper.Grade, p.Lower.Grade))
	if err != nil {
		return units.Working{}, err
	}
	written := func(a units.LengthInterval) string { return "(" + a.FormatOutward(u, places) + ")" }
	formula, numbers := "E' = R", written(t.measured)
	if len(t.fitted) > 0 {
		formula = "E' = E"
	}
	for _, c := range changes {
		formula += " " + c.symbol
		sign, _, _ := strings.Cut(c.symbol, " ")
		numbers += " " + sign + " " + written(c.thickness)
	}
	return units.Working{
		Name:    t.location + ", " + p.String(),
		Formula: formula,
		Numbers: numbers,
		Result:  e.FormatOutward(u, places),
		Notes:   []string{fmt.Sprintf("against %s: %s", w.Limits.FormatInward(u, places), clearance.Judge(e, w.Limits))},
	}, nil
}
