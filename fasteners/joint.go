package fasteners

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// A Joint is a bolt and the parts it clamps, as two springs. Make it with NewJoint; the zero
// Joint has no stiffness and is refused.
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
// to act at the bolt's head and nut, the worst case (n = 1). It panics for the zero Joint,
// which has no stiffness.
//
// Source: VDI 2230-1:2015, 5.3; Mechanical Engineering Design, 9th ed., equation (8-24).
func (j Joint) LoadFactor() *big.Rat {
	if j.isZero() {
		panic("fasteners: a Joint without stiffness; make it with NewJoint")
	}
	return j.bolt.Ratio(j.bolt.Add(j.members))
}

func (j Joint) isZero() bool { return j.bolt.IsZero() || j.members.IsZero() }

// Contact says whether the parts of a loaded joint still touch. The zero value is
// ContactUndecided: nothing is proven.
type Contact int

const (
	ContactUndecided Contact = iota // the preload and the load allow both answers
	Clamped                         // whatever the preload and the load within their bounds, the bolt still clamps the parts
	Parted                          // the parts have separated, or nothing clamps them any more
)

// String returns "undecided", "clamped" or "parted".
func (c Contact) String() string {
	switch c {
	case Clamped:
		return "clamped"
	case Parted:
		return "parted"
	}
	return "undecided"
}

// A LoadedJoint is how a joint bears an outer load. Its forces are exact.
type LoadedJoint struct {
	Joint          Joint
	Preload, Outer units.ForceInterval // what was given

	Contact    Contact
	Bolt       units.ForceInterval // F, the tension of the bolt
	Clamp      units.ForceInterval // Fm, what still presses the parts together; zero once they have parted
	Separation units.ForceInterval // P0, the outer load at which the parts separate
}

// Under returns how the joint bears an outer load that pulls it apart:
//
//	P0 = Fi / (1 - Φ)
//	F  = Fi + Φ P,   Fm = Fi - (1 - Φ) P     P <= P0, the parts touch
//	F  = P,          Fm = 0                  P >= P0, they have parted and the bolt bears the whole load
//
// Fi is the preload, P the outer load, Φ the load factor. A load below zero presses the parts
// together; it relieves the bolt until the bolt is slack, from where on F = 0 and Fm = -P.
// Concentric loading, below the bolt's yield; past P0 the bolt alone bears every change of
// the load, so that it tires sooner.
//
// The error wraps ErrJoint for the zero Joint, for a preload that lacks a bound, lies below
// zero or is zero throughout, and for a load that lacks a bound or is zero throughout: a load
// that was not said would leave every joint clamped.
//
// Source: Mechanical Engineering Design, 9th ed., equations (8-24), (8-25) and (8-30), and
// equilibrium of the bolt for the parted joint.
func (j Joint) Under(preload, outer units.ForceInterval) (LoadedJoint, error) {
	switch {
	case j.isZero():
		return LoadedJoint{}, jointError("joint", "without stiffness", "make it with NewJoint")
	case !preload.Bounded():
		return LoadedJoint{}, jointError("preload", preload.String(), `write both bounds, as in "40..46 kN"`)
	case preload.Lo().Sign() < 0 || preload.Hi().Sign() == 0:
		return LoadedJoint{}, jointError("preload", preload.String(), "write a force above zero")
	case !outer.Bounded():
		return LoadedJoint{}, jointError("outer load", outer.String(), `write both bounds, as in "0..12 kN"`)
	case outer.Lo().IsZero() && outer.Hi().IsZero():
		return LoadedJoint{}, jointError("outer load", outer.String(), "write the load that pulls the joint apart; without one the bolt bears its preload")
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
		loaded.Contact = Clamped
	case loaded.Clamp.Hi().IsZero():
		loaded.Contact = Parted
	}
	return loaded, nil
}

// tension returns the bolt's tension: the parts can only press, and so can neither pull the
// bolt below the outer load nor, pressed together, push it below zero.
func (j Joint) tension(preload, outer units.Force) units.Force {
	shared := preload.Add(outer.MulRat(j.LoadFactor()))
	return units.Max(shared, units.Max(outer, units.Force{}))
}

// clamping returns what the parts press on each other with, which is the rest of equilibrium.
func (j Joint) clamping(preload, outer units.Force) units.Force {
	return j.tension(preload, outer).Sub(outer)
}

// relief returns 1 - Φ.
func (j Joint) relief() *big.Rat { return sub(big.NewRat(1, 1), j.LoadFactor()) }

// Tightening returns the stiffness that a turning nut feels, bolt and clamped parts in
// series:
//
//	k = kb km / (kb + km)
//
// kb and km are the stiffnesses of the bolt and of the clamped parts. It panics for the zero
// Joint, which has no stiffness.
//
// Source: VDI 2230-1:2015, 5.1.
func (j Joint) Tightening() units.Stiffness { return j.members.MulRat(j.LoadFactor()) }

// Working returns how the joint shares the outer load, for checking by hand, with forces in
// the unit to so many places.
func (l LoadedJoint) Working(u units.ForceUnit, places int32) units.Working {
	if l.Joint.isZero() {
		return units.Working{}
	}
	stiffness := func(k units.Stiffness) string { return k.Format(units.KilonewtonPerMillimetre, 1, units.HalfEven) }
	show := func(f units.ForceInterval) string { return f.FormatOutward(u, places) }
	factor := l.Joint.LoadFactor().FloatString(3)
	tension, tensionNumbers := "F = Fi + Φ P", show(l.Preload)+" + "+factor+" · "+show(l.Outer)
	clamp, clampNumbers := "Fm = Fi - (1 - Φ) P", show(l.Preload)+" - (1 - "+factor+") · "+show(l.Outer)
	note := "the parts stay clamped"
	switch l.Contact {
	case Parted:
		tension, tensionNumbers = "F = P", show(l.Outer)
		clamp, clampNumbers = "Fm = 0", ""
		note = "the parts have come apart: the bolt bears the whole load"
	case ContactUndecided:
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
			{Name: "load factor", Formula: "Φ = kb / (kb + km)", Numbers: stiffness(l.Joint.bolt) + " / (" + stiffness(l.Joint.bolt) + " + " + stiffness(l.Joint.members) + ")", Result: factor},
			{Name: "load at which the parts separate", Formula: "P0 = Fi / (1 - Φ)", Numbers: show(l.Preload) + " / (1 - " + factor + ")", Result: show(l.Separation)},
			{Name: "tension of the bolt", Formula: tension, Numbers: tensionNumbers, Result: show(l.Bolt)},
			{Name: "what still presses the parts together", Formula: clamp, Numbers: clampNumbers, Result: show(l.Clamp)},
		},
		Source: "Mechanical Engineering Design, 9th ed., 8-7 and 8-8",
		Notes:  []string{note, "stiffnesses come from idealised cones of pressure, good to some 10 % for solid metal parts"},
	}
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

// Heated is a length of one material that changes its temperature. A part that stays cold
// has the same temperature twice.
type Heated struct {
	Length    units.Length
	Expansion decimal.Decimal   // coefficient of linear expansion, in 1/K: 0.0000115 for steel
	From, To  units.Temperature // when the joint was tightened, and now
}

// Growth returns how much longer it becomes, α L (To - From), exactly.
//
// The error wraps ErrJoint for a length or coefficient not above zero, and for a temperature
// of absolute zero, which is one that was not said.
func (h Heated) Growth() (units.Length, error) {
	var none units.Temperature
	switch {
	case h.Length.Sign() <= 0:
		return units.Length{}, jointError("heated length", h.Length.String(), "write a length above zero")
	case h.Expansion.Sign() <= 0:
		return units.Length{}, jointError("coefficient of expansion", h.Expansion.String()+" 1/K", "write it in 1/K, as in 0.0000115 for steel")
	case h.From.Equal(none):
		return units.Length{}, jointError("temperature at tightening", h.From.String(), `write the temperature, as in "20 °C"`)
	case h.To.Equal(none):
		return units.Length{}, jointError("temperature now", h.To.String(), `write the temperature, as in "90 °C"`)
	}
	return h.Length.Mul(h.Expansion).MulRat(h.To.Sub(h.From).Rat(units.KelvinDifference)), nil
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
// The error wraps ErrJoint for the zero Joint, for a Heated that Growth refuses, and if the
// lengths of the clamped parts do not add up to the bolt's.
//
// Source: VDI 2230-1:2015, 5.4.2.3, for a modulus that does not change.
func (j Joint) ThermalChange(bolt Heated, members ...Heated) (units.Force, error) {
	if j.isZero() {
		return units.Force{}, jointError("joint", "without stiffness", "make it with NewJoint")
	}
	gap, err := bolt.Growth()
	if err != nil {
		return units.Force{}, fmt.Errorf("bolt: %w", err)
	}
	gap = gap.Neg()
	var grip units.Length
	for i, m := range members {
		growth, err := m.Growth()
		if err != nil {
			return units.Force{}, fmt.Errorf("clamped part %d: %w", i+1, err)
		}
		grip, gap = grip.Add(m.Length), gap.Add(growth)
	}
	if !grip.Equal(bolt.Length) {
		return units.Force{}, jointError("clamped parts", "of together "+grip.String(), "give the bolt the same length, not its "+bolt.Length.String())
	}
	return units.Newton.OfRat(product(j.Tightening().Rat(units.NewtonPerMillimetre), gap.Rat(units.Millimetre))), nil
}

// RiseForStretch returns how much warmer a bolt must be than the parts it clamps to be
// longer by a stretch:
//
//	ΔT = ΔL / (α L)
//
// ΔL is the stretch, L the length that is heated, α the coefficient of expansion in 1/K.
//
// The error wraps ErrJoint for a stretch, length or coefficient not above zero.
//
// Source: definition of the coefficient of linear expansion.
func RiseForStretch(stretch, length units.Length, expansion decimal.Decimal) (units.TemperatureDifference, error) {
	if stretch.Sign() <= 0 {
		return units.TemperatureDifference{}, jointError("stretch", stretch.String(), "write a length above zero")
	}
	if length.Sign() <= 0 || expansion.Sign() <= 0 {
		return units.TemperatureDifference{}, jointError("heated bolt", length.String()+" with α = "+expansion.String()+" 1/K", "write both above zero")
	}
	return units.KelvinDifference.OfRat(stretch.Ratio(length.Mul(expansion))), nil
}
