package fasteners

import (
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Joint is a bolt and the parts it clamps, as two springs. Make it with NewJoint.
//
// The stiffnesses come from float64; what is done with them here is exact, so that the
// only doubt is theirs: cones of pressure are an idealisation, good to some 10 % for solid
// metal parts and not meant for gaskets.
type Joint struct {
	bolt, members units.Stiffness
}

// NewJoint returns the joint of a bolt and the clamped parts. The error wraps ErrJoint
// for a stiffness not above zero.
func NewJoint(bolt, members units.Stiffness) (Joint, error) {
	if bolt.Sign() <= 0 {
		return Joint{}, jointError("stiffness of the bolt", bolt.String(), "write a stiffness above zero")
	}
	if members.Sign() <= 0 {
		return Joint{}, jointError("stiffness of the clamped parts", members.String(), "write a stiffness above zero")
	}
	return Joint{bolt, members}, nil
}

// Bolt returns the stiffness of the bolt.
func (j Joint) Bolt() units.Stiffness { return j.bolt }

// Members returns the stiffness of the clamped parts.
func (j Joint) Members() units.Stiffness { return j.members }

// LoadFactor returns the share of an outer load that the bolt feels on top of its
// preload, as long as the joint does not part:
//
//	Φ = kb / (kb + km)
//
// kb and km are the stiffnesses of the bolt and of the clamped parts. It takes the load
// to act at the bolt's head and nut, the worst case (n = 1).
//
// Source: VDI 2230-1:2015, 5.3; Mechanical Engineering Design, 9th ed., equation (8-24).
func (j Joint) LoadFactor() *big.Rat { return j.bolt.Ratio(j.bolt.Add(j.members)) }

// BoltLoad returns the tension of the bolt under an outer load that pulls the joint apart:
//
//	F = Fi + Φ P
//
// Fi is the preload, P the outer load, Φ the load factor. Valid while ClampLoad is not
// below zero.
//
// Source: Mechanical Engineering Design, 9th ed., equation (8-24).
func (j Joint) BoltLoad(preload, outer units.ForceInterval) units.ForceInterval {
	return preload.Add(outer.MulRat(j.LoadFactor()))
}

// ClampLoad returns what still holds the parts together under an outer load:
//
//	Fm = Fi - (1 - Φ) P
//
// Fi is the preload, P the outer load, Φ the load factor. Below zero the joint has parted
// and the bolt bears the whole load.
//
// Source: Mechanical Engineering Design, 9th ed., equation (8-25).
func (j Joint) ClampLoad(preload, outer units.ForceInterval) units.ForceInterval {
	return preload.Sub(outer.MulRat(j.relief()))
}

// relief returns 1 - Φ.
func (j Joint) relief() *big.Rat { return sub(big.NewRat(1, 1), j.LoadFactor()) }

// Separation returns the outer load at which the joint parts:
//
//	P0 = Fi / (1 - Φ)
//
// Fi is the preload, Φ the load factor.
//
// Source: Mechanical Engineering Design, 9th ed., equation (8-30).
func (j Joint) Separation(preload units.ForceInterval) units.ForceInterval {
	return preload.MulRat(new(big.Rat).Inv(j.relief()))
}

// Tightening returns the stiffness that a turning nut feels, bolt and clamped parts in
// series:
//
//	k = kb km / (kb + km)
//
// kb and km are the stiffnesses of the bolt and of the clamped parts.
//
// Source: VDI 2230-1:2015, 5.1.
func (j Joint) Tightening() units.Stiffness { return j.members.MulRat(j.LoadFactor()) }

// Working returns how the joint shares an outer load, for checking by hand, with forces in
// the unit to so many places.
func (j Joint) Working(preload, outer units.ForceInterval, u units.ForceUnit, places int32) units.Working {
	stiffness := func(k units.Stiffness) string { return k.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven) }
	factor := j.LoadFactor().FloatString(3)
	w := units.Working{
		Name: "how the joint shares a load of " + outer.FormatOutward(u, places),
		Steps: []units.Working{
			{Name: "load factor", Formula: "Φ = kb / (kb + km)", Numbers: stiffness(j.bolt) + " / (" + stiffness(j.bolt) + " + " + stiffness(j.members) + ")", Result: factor},
			{Name: "tension of the bolt", Formula: "F = Fi + Φ P", Numbers: preload.FormatOutward(u, places) + " + " + factor + " · " + outer.FormatOutward(u, places), Result: j.BoltLoad(preload, outer).FormatOutward(u, places)},
			{Name: "what still holds the parts", Formula: "Fm = Fi - (1 - Φ) P", Numbers: preload.FormatOutward(u, places) + " - (1 - " + factor + ") · " + outer.FormatOutward(u, places), Result: j.ClampLoad(preload, outer).FormatOutward(u, places)},
			{Name: "load at which they part", Formula: "P0 = Fi / (1 - Φ)", Numbers: preload.FormatOutward(u, places) + " / (1 - " + factor + ")", Result: j.Separation(preload).FormatOutward(u, places)},
		},
		Source: "Mechanical Engineering Design, 9th ed., 8-7 and 8-8",
		Notes:  []string{"stiffnesses come from idealised cones of pressure, good to some 10 % for solid metal parts"},
	}
	if clamp := j.ClampLoad(preload, outer); !clamp.HasLo() || clamp.Lo().Sign() < 0 {
		w.Notes = append(w.Notes, "the parts may come apart: from then on the bolt bears the whole load, and the tension above is too low")
	}
	return w
}

// PreloadFromStretch returns the preload of a bolt from how much it stretched while it
// was tightened, which no friction falsifies:
//
//	F = k ΔL
//
// k is the stiffness of the bolt alone (give its doubt as an interval), ΔL the bolt's
// length tightened less its length loose. Valid below yield.
//
// The error wraps ErrJoint for a stiffness not above zero, and for a stiffness or stretch
// without two bounds.
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
		return jointError("stiffness of the bolt", k.String(), "write both bounds above zero")
	case !a.Bounded():
		return jointError(what, a.String(), "write both bounds")
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

// Heated is a length of one material and how much warmer it becomes.
type Heated struct {
	Length    units.Length
	Expansion decimal.Decimal // coefficient of linear expansion, in 1/K: 0.0000115 for steel
	Rise      units.TemperatureDifference
}

// Growth returns how much longer it becomes, α L ΔT, exactly.
func (h Heated) Growth() units.Length {
	return h.Length.Mul(h.Expansion).MulRat(h.Rise.Rat(units.KelvinDifference))
}

// ThermalChange returns the change of preload when bolt and clamped parts change their
// temperature:
//
//	ΔF = k (Σ αm lm ΔTm - αb lb ΔTb)
//
// k is the stiffness that Tightening returns, α a coefficient of expansion in 1/K, l a
// length in the grip in mm, ΔT a rise of temperature in K; m counts the clamped parts and
// b is the bolt over the same grip. Valid below yield, with moduli that do not change.
//
// The error wraps ErrJoint if the lengths of the clamped parts do not add up to the
// bolt's.
//
// Source: VDI 2230-1:2015, 5.4.2.3, for a modulus that does not change.
func (j Joint) ThermalChange(bolt Heated, members ...Heated) (units.Force, error) {
	var grip, growth units.Length
	for _, m := range members {
		grip = grip.Add(m.Length)
		growth = growth.Add(m.Growth())
	}
	if !grip.Equal(bolt.Length) {
		return units.Force{}, jointError("clamped parts", "of together "+grip.String(), "give the bolt the same length, not its "+bolt.Length.String())
	}
	gap := growth.Sub(bolt.Growth())
	return units.Newton.OfRat(product(j.Tightening().Rat(units.NewtonPerMillimetre), gap.Rat(units.Millimetre))), nil
}

// RiseForStretch returns how much warmer a bolt must be than the parts it clamps to be
// longer by a stretch:
//
//	ΔT = ΔL / (α L)
//
// ΔL is the stretch, L the length that is heated, α the coefficient of expansion in 1/K.
//
// The error wraps ErrJoint for a length or coefficient not above zero.
//
// Source: definition of the coefficient of linear expansion.
func RiseForStretch(stretch, length units.Length, expansion decimal.Decimal) (units.TemperatureDifference, error) {
	if length.Sign() <= 0 || expansion.Sign() <= 0 {
		return units.TemperatureDifference{}, jointError("heated bolt", length.String()+" with α = "+expansion.String()+" 1/K", "write both above zero")
	}
	return units.KelvinDifference.OfRat(stretch.Ratio(length.Mul(expansion))), nil
}
