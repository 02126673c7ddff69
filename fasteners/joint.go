package fasteners

import (
	"fmt"
	"math/big"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Joint is a bolt and the parts it clamps, as two springs. Both stiffnesses must be above
// zero; the zero Joint is refused.
//
// The stiffnesses come from float64 and the arithmetic on them is exact, so all the doubt
// lies in the stiffnesses: cones of pressure are an idealisation, good to some 10 % for
// solid metal parts and not meant for gaskets.
type Joint struct {
	Bolt    units.Stiffness `json:"bolt"`
	Members units.Stiffness `json:"members"` // of the clamped parts
}

func (j Joint) check() error {
	if j.Bolt.Sign() <= 0 {
		return impossible("stiffness of the bolt", j.Bolt.String(), "write a stiffness above zero")
	}
	if j.Members.Sign() <= 0 {
		return impossible("stiffness of the clamped parts", j.Members.String(), "write a stiffness above zero")
	}
	return nil
}

// UnmarshalJSON reads the exchange form. A missing key is an error, and so is a stiffness not
// above zero.
func (j *Joint) UnmarshalJSON(data []byte) error {
	type joint Joint
	var w joint
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	if err := Joint(w).check(); err != nil {
		return err
	}
	*j = Joint(w)
	return nil
}

// LoadFactor returns the share of an outer load that the bolt feels on top of its
// preload, as long as the joint does not part:
//
//	Φ = kb / (kb + km)
//
// kb and km are the stiffnesses of the bolt and of the clamped parts. It takes the load
// to act at the bolt's head and nut, the worst case (n = 1).
//
// The error is of kind ErrImpossible for a stiffness not above zero.
//
// Source: VDI 2230-1:2015, 5.3; Mechanical Engineering Design, 9th ed., equation (8-24).
func (j Joint) LoadFactor() (units.Ratio, error) {
	if err := j.check(); err != nil {
		return units.Ratio{}, err
	}
	return units.One.OfRat(j.loadFactor()), nil
}

func (j Joint) loadFactor() *big.Rat { return j.Bolt.Ratio(j.Bolt.Add(j.Members)) }

// Tightening returns the stiffness against a turning nut, bolt and clamped parts in
// series:
//
//	k = kb km / (kb + km)
//
// Symbols and error are those of LoadFactor.
//
// Source: VDI 2230-1:2015, 5.1.
func (j Joint) Tightening() (units.Stiffness, error) {
	if err := j.check(); err != nil {
		return units.Stiffness{}, err
	}
	return j.Members.MulRat(j.loadFactor()), nil
}

// A LoadedJoint is a joint under an outer load. Its forces are exact.
type LoadedJoint struct {
	Joint   Joint               `json:"joint"`
	Preload units.ForceInterval `json:"preload"`
	Outer   units.ForceInterval `json:"outer"` // the load that pulls the joint apart

	// Clamped is Conforming if the bolt clamps the parts at every preload and load within
	// their bounds, BelowLimit if the parts have separated or nothing clamps them any
	// more, and Undecided if the bounds allow both.
	Clamped    measure.Verdict     `json:"clamped"`
	Bolt       units.ForceInterval `json:"bolt"`       // F, the tension of the bolt
	Clamp      units.ForceInterval `json:"clamp"`      // Fm, the force that presses the parts together; zero once they have parted
	Separation units.ForceInterval `json:"separation"` // P0, the outer load at which the parts separate
}

// UnmarshalJSON reads the exchange form. A missing key is an error, and so are forces that
// do not follow from the joint, the preload and the outer load.
func (l *LoadedJoint) UnmarshalJSON(data []byte) error {
	type loadedJoint LoadedJoint
	var w loadedJoint
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	follows, err := w.Joint.Under(w.Preload, w.Outer)
	if err != nil {
		return err
	}
	if w.Clamped != follows.Clamped || !w.Bolt.Equal(follows.Bolt) || !w.Clamp.Equal(follows.Clamp) || !w.Separation.Equal(follows.Separation) {
		return notWritten("loaded joint", "forces that do not follow from its joint and loads", "write what Joint.Under returns")
	}
	*l = follows
	return nil
}

// Under returns how the joint bears an outer load that pulls it apart:
//
//	P0 = Fi / (1 - Φ)
//	F  = Fi + Φ P,   Fm = Fi - (1 - Φ) P     P <= P0, the parts touch
//	F  = P,          Fm = 0                  P >= P0, they have parted and the bolt bears the whole load
//
// Fi is the preload, P the outer load, Φ the load factor. A load below zero presses the
// parts together; it relieves the bolt until the bolt is slack, and beyond that F = 0 and
// Fm = -P. Concentric loading, below the bolt's yield. Past P0 the bolt alone bears every
// change of the load, and tires sooner.
//
// The error is of kind ErrImpossible for a stiffness not above zero, for a preload that
// lacks a bound, lies below zero or is zero throughout, and for a load that lacks a bound
// or is zero throughout: a forgotten load would leave every joint clamped.
//
// Source: Mechanical Engineering Design, 9th ed., equations (8-24), (8-25) and (8-30), and
// equilibrium of the bolt for the parted joint.
func (j Joint) Under(preload, outer units.ForceInterval) (LoadedJoint, error) {
	if err := j.check(); err != nil {
		return LoadedJoint{}, err
	}
	switch {
	case !preload.Bounded():
		return LoadedJoint{}, impossible("preload", preload.String(), `write both bounds, as in "40..46 kN"`)
	case preload.Lo().Sign() < 0 || preload.Hi().Sign() == 0:
		return LoadedJoint{}, impossible("preload", preload.String(), "write a force above zero")
	case !outer.Bounded():
		return LoadedJoint{}, impossible("outer load", outer.String(), `write both bounds, as in "0..12 kN"`)
	case outer.Lo().IsZero() && outer.Hi().IsZero():
		return LoadedJoint{}, impossible("outer load", outer.String(), "write the load that pulls the joint apart; without one the bolt bears its preload")
	}
	// The tension rises with the preload and with the load; the clamping force rises with the
	// preload and falls with the load.
	tightest, loosest := preload.Hi(), preload.Lo()
	loaded := LoadedJoint{
		Joint: j, Preload: preload, Outer: outer,
		Bolt:       units.MustInterval(j.tension(loosest, outer.Lo()), j.tension(tightest, outer.Hi())),
		Clamp:      units.MustInterval(j.clamping(loosest, outer.Hi()), j.clamping(tightest, outer.Lo())),
		Separation: preload.MulRat(new(big.Rat).Inv(j.relief())),
	}
	switch {
	case loaded.Clamp.Lo().Sign() > 0:
		loaded.Clamped = measure.Conforming
	case loaded.Clamp.Hi().IsZero():
		loaded.Clamped = measure.BelowLimit
	}
	return loaded, nil
}

// tension returns the bolt's tension: the parts can only press, and so can neither pull the
// bolt below the outer load nor, pressed together, push it below zero.
func (j Joint) tension(preload, outer units.Force) units.Force {
	shared := preload.Add(outer.MulRat(j.loadFactor()))
	return units.Max(shared, units.Max(outer, units.Force{}))
}

// clamping returns what the parts press on each other with, which is the rest of equilibrium.
func (j Joint) clamping(preload, outer units.Force) units.Force {
	return j.tension(preload, outer).Sub(outer)
}

// relief returns 1 - Φ.
func (j Joint) relief() *big.Rat { return sub(big.NewRat(1, 1), j.loadFactor()) }

// Working shows how the joint shares the outer load, with forces in the unit to so many
// places.
func (l LoadedJoint) Working(u units.ForceUnit, places int32) units.Working {
	if l.Joint.check() != nil {
		return units.Working{}
	}
	stiffness := func(k units.Stiffness) string { return k.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven) }
	show := func(f units.ForceInterval) string { return f.FormatOutward(u, places) }
	factor := l.Joint.loadFactor().FloatString(3)
	tension, tensionNumbers := "F = Fi + Φ P", show(l.Preload)+" + "+factor+" · "+show(l.Outer)
	clamp, clampNumbers := "Fm = Fi - (1 - Φ) P", show(l.Preload)+" - (1 - "+factor+") · "+show(l.Outer)
	note := "the parts stay clamped"
	switch l.Clamped {
	case measure.BelowLimit:
		tension, tensionNumbers = "F = P", show(l.Outer)
		clamp, clampNumbers = "Fm = 0", ""
		note = "the parts have come apart: the bolt bears the whole load"
	case measure.Undecided:
		tension, tensionNumbers = "F = Fi + Φ P, at least P", tensionNumbers+", at least "+show(l.Outer)
		clamp, clampNumbers = "Fm = Fi - (1 - Φ) P, at least 0", clampNumbers+", at least 0"
		note = "the parts may come apart: from then on the bolt bears the whole load"
	}
	if l.Outer.Lo().Sign() < 0 {
		note += "; a load below zero presses the parts together, and the bolt no further than slack"
	}
	return units.Working{
		Name: "how the joint shares a load of " + show(l.Outer),
		Steps: []units.Working{
			{Name: "load factor", Formula: "Φ = kb / (kb + km)", Numbers: stiffness(l.Joint.Bolt) + " / (" + stiffness(l.Joint.Bolt) + " + " + stiffness(l.Joint.Members) + ")", Result: factor},
			{Name: "load at which the parts separate", Formula: "P0 = Fi / (1 - Φ)", Numbers: show(l.Preload) + " / (1 - " + factor + ")", Result: show(l.Separation)},
			{Name: "tension of the bolt", Formula: tension, Numbers: tensionNumbers, Result: show(l.Bolt)},
			{Name: "what still presses the parts together", Formula: clamp, Numbers: clampNumbers, Result: show(l.Clamp)},
		},
		Source: "Mechanical Engineering Design, 9th ed., 8-7 and 8-8",
		Notes:  []string{note, "stiffnesses come from idealised cones of pressure, good to some 10 % for solid metal parts"},
	}
}

// PreloadFromStretch returns the preload of a bolt from its stretch under tightening,
// which does not depend on friction:
//
//	F = k ΔL
//
// k is the stiffness of the bolt alone (give its doubt as an interval), ΔL the bolt's
// length tightened less its length loose. Valid below yield.
//
// The error is of kind ErrImpossible unless the stiffness is above zero and both
// intervals have two bounds.
//
// Source: Hooke's law.
func PreloadFromStretch(bolt units.StiffnessInterval, stretch units.LengthInterval) (units.ForceInterval, error) {
	if err := checkSpring(bolt, "stretch", stretch); err != nil {
		return units.ForceInterval{}, err
	}
	return corners(bolt, stretch, func(k units.Stiffness, l units.Length) units.Force {
		return units.Newton.OfRat(product(k.Rat(units.NewtonPerMillimetre), l.Rat(units.Millimetre)))
	}), nil
}

// StretchFromPreload returns how much a bolt stretches under a preload, ΔL = F / k. Symbols,
// range and errors are those of PreloadFromStretch, with the preload for the stretch.
//
// Source: Hooke's law.
func StretchFromPreload(bolt units.StiffnessInterval, preload units.ForceInterval) (units.LengthInterval, error) {
	if err := checkSpring(bolt, "preload", preload); err != nil {
		return units.LengthInterval{}, err
	}
	return corners(bolt, preload, func(k units.Stiffness, f units.Force) units.Length {
		return units.Millimetre.OfRat(quotient(f.Rat(units.Newton), k.Rat(units.NewtonPerMillimetre)))
	}), nil
}

// checkSpring refuses a stiffness not above zero, and an interval without two bounds.
func checkSpring[D units.Dimension](k units.StiffnessInterval, what string, a units.Interval[D]) error {
	switch {
	case !k.Bounded() || k.Lo().Sign() <= 0:
		return impossible("stiffness of the bolt", k.String(), "write both bounds above zero")
	case !a.Bounded():
		return impossible(what, a.String(), "write both bounds")
	}
	return nil
}

// corners returns the smallest interval that holds a result, monotonic in both of its
// arguments, at the four pairs of their bounds.
func corners[A, B, C units.Dimension](a units.Interval[A], b units.Interval[B], f func(units.Quantity[A], units.Quantity[B]) units.Quantity[C]) units.Interval[C] {
	low := units.Between(f(a.Lo(), b.Lo()), f(a.Lo(), b.Hi()))
	high := units.Between(f(a.Hi(), b.Lo()), f(a.Hi(), b.Hi()))
	return low.Hull(high)
}

// Heated is a length of one material that changes its temperature. A part that stays cold
// has the same temperature twice.
type Heated struct {
	Length    units.Length      `json:"length"`
	Expansion units.Ratio       `json:"expansion"` // coefficient of linear expansion, for each kelvin: 11.5 ppm for steel
	From      units.Temperature `json:"from"`      // when the joint was tightened
	To        units.Temperature `json:"to"`        // now
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (h *Heated) UnmarshalJSON(data []byte) error {
	type heated Heated
	return units.DecodeObject(data, (*heated)(h))
}

// growth returns how much longer it becomes, α L (To - From), exactly. The part is what an
// error calls it.
func (h Heated) growth(part string) (units.Length, error) {
	var none units.Temperature
	switch {
	case h.Length.Sign() <= 0:
		return units.Length{}, impossible(part+", heated length", h.Length.String(), "write a length above zero")
	case h.Expansion.Sign() <= 0:
		return units.Length{}, impossible(part+", coefficient of expansion", h.Expansion.String(), `write it for each kelvin, as in "11.5 ppm" for steel`)
	case h.From.Equal(none):
		return units.Length{}, impossible(part+", temperature at tightening", h.From.String(), `write the temperature, as in "20 °C"`)
	case h.To.Equal(none):
		return units.Length{}, impossible(part+", temperature now", h.To.String(), `write the temperature, as in "90 °C"`)
	}
	return h.Length.MulRat(product(h.Expansion.Rat(units.One), h.To.Sub(h.From).Rat(units.KelvinDifference))), nil
}

// ThermalChange returns the change of preload when bolt and clamped parts change their
// temperature:
//
//	ΔF = k (Σ αm lm ΔTm - αb lb ΔTb)
//
// k is the stiffness that Tightening returns, α a coefficient of expansion for each kelvin, l a
// length in the grip in mm, ΔT a rise of temperature in K; m counts the clamped parts and
// b is the bolt over the same grip. Valid below yield, with moduli that do not change.
//
// The error is of kind ErrImpossible for a stiffness, a length or a coefficient not above
// zero, for a missing temperature (absolute zero), and if the lengths of the clamped
// parts do not add up to the bolt's.
//
// Source: VDI 2230-1:2015, 5.4.2.3, for a modulus that does not change.
func (j Joint) ThermalChange(bolt Heated, members ...Heated) (units.Force, error) {
	k, err := j.Tightening()
	if err != nil {
		return units.Force{}, err
	}
	gap, err := bolt.growth("bolt")
	if err != nil {
		return units.Force{}, err
	}
	gap = gap.Neg()
	var grip units.Length
	for i, m := range members {
		growth, err := m.growth(fmt.Sprintf("clamped part %d", i+1))
		if err != nil {
			return units.Force{}, err
		}
		grip, gap = grip.Add(m.Length), gap.Add(growth)
	}
	if !grip.Equal(bolt.Length) {
		return units.Force{}, impossible("clamped parts", grip.String()+" together", "give them the length of the bolt in the grip, "+bolt.Length.String())
	}
	return units.Newton.OfRat(product(k.Rat(units.NewtonPerMillimetre), gap.Rat(units.Millimetre))), nil
}

// RiseForStretch returns how much warmer than the parts it clamps a bolt must be to grow
// by a stretch:
//
//	ΔT = ΔL / (α L)
//
// ΔL is the stretch, L the length that is heated, α the coefficient of expansion for each
// kelvin.
//
// The error is of kind ErrImpossible for a stretch, length or coefficient not above zero.
//
// Source: definition of the coefficient of linear expansion.
func RiseForStretch(stretch, length units.Length, expansion units.Ratio) (units.TemperatureDifference, error) {
	switch {
	case stretch.Sign() <= 0:
		return units.TemperatureDifference{}, impossible("stretch", stretch.String(), "write a length above zero")
	case length.Sign() <= 0:
		return units.TemperatureDifference{}, impossible("heated bolt", length.String(), "write a length above zero")
	case expansion.Sign() <= 0:
		return units.TemperatureDifference{}, impossible("heated bolt, coefficient of expansion", expansion.String(), `write it for each kelvin, as in "11.5 ppm" for steel`)
	}
	return units.KelvinDifference.OfRat(stretch.Ratio(length.MulRat(expansion.Rat(units.One)))), nil
}
