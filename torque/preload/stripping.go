package preload

import (
	"fmt"
	"math"
	"math/big"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// tan30 is tan 30°, 1/√3, with the digits that thread standards give it. π has the digits of units.
var (
	tan30 = big.NewRat(57735, 100000)
	pi    = new(big.Rat).Quo(twoPi, big.NewRat(2, 1))
)

// ShearAreas returns the areas that are sheared off when the thread of a bolt or of its nut strips,
// over a length of engagement, for every pair of threads within the limits of 6g and 6H, or of 2A
// and 2B:
//
//	bolt:  AS = π L/P · D1 (P/2 + (d2 - D1) tan 30°)
//	nut:   AN = π L/P · d  (P/2 + (d - D2) tan 30°)
//
// L is the length, P the pitch, d and d2 the major and the pitch diameter of the bolt, D1 and D2 the
// minor and the pitch diameter of the nut or tapped hole. The least area, which is the one that
// standards print, is that of the thinnest bolt in the widest nut. They are exact with the digits
// of π that units has and five of tan 30°, and rounded outward to 0.000001 mm².
//
// The error is of kind ErrImpossible for a length without two bounds above zero, and as
// fasteners.Thread.Limits says.
//
// Source: FED-STD-H28/2B and ASME B1.1-2003, appendix B, from memory; the least areas of metric
// threads agree with printed tables.
func ShearAreas(t fasteners.Thread, length units.LengthInterval) (bolt, nut units.Interval[units.AreaDim], err error) {
	if err := positive("length of engagement", length, `write both bounds above zero, as in "15..16 mm"`); err != nil {
		return bolt, nut, err
	}
	external, internal := "6g", "6H"
	if t.IsUnified() {
		external, internal = "2A", "2B"
	}
	screw, err := t.Limits(external)
	if err != nil {
		return bolt, nut, err
	}
	hole, err := t.Limits(internal)
	if err != nil {
		return bolt, nut, err
	}
	area := func(l, cylinder, outer, inner units.Length) units.Area {
		p := t.Pitch().Rat(units.Millimetre)
		across := outer.Sub(inner).Rat(units.Millimetre)
		across.Mul(across, tan30)
		across.Add(across, new(big.Rat).Mul(p, big.NewRat(1, 2)))
		a := l.Rat(units.Millimetre)
		a.Mul(a, pi)
		a.Mul(a, cylinder.Rat(units.Millimetre))
		a.Mul(a, across)
		return units.SquareMillimetre.OfRat(a.Quo(a, p))
	}
	bolt = units.MustInterval(area(length.Lo(), hole.Minor.Hi(), screw.Pitch.Lo(), hole.Minor.Hi()),
		area(length.Hi(), hole.Minor.Lo(), screw.Pitch.Hi(), hole.Minor.Lo())).Outward(units.SquareMillimetre, 6)
	nut = units.MustInterval(area(length.Lo(), screw.Major.Lo(), screw.Major.Lo(), hole.Pitch.Hi()),
		area(length.Hi(), screw.Major.Hi(), screw.Major.Hi(), hole.Pitch.Lo())).Outward(units.SquareMillimetre, 6)
	return bolt, nut, nil
}

// An Engagement is a bolt screwed into a nut or a tapped hole, with all that decides whether it
// breaks or its thread strips.
type Engagement struct {
	Thread fasteners.Thread     `json:"thread"`
	Length units.LengthInterval `json:"length"` // engaged, without chamfers and countersinks
	// Bolt is the bolt's tensile strength: from the least of its class to the most it may have,
	// which VDI 2230 takes as 1.2 times the least (from memory).
	Bolt units.PressureInterval `json:"bolt"`
	Hole units.PressureInterval `json:"hole"` // the tensile strength of the nut or of the tapped part
	// BoltShear and HoleShear are the shear strength as a part of the tensile strength: 1/√3 =
	// 0.577 by von Mises, 0.6 to 0.65 for quenched and tempered bolts (VDI 2230, from memory).
	BoltShear units.RatioInterval `json:"bolt_shear"`
	HoleShear units.RatioInterval `json:"hole_shear"`
	// Flats is the width across flats of a nut, which widens under load; zero for a tapped hole.
	Flats units.Length `json:"flats"`
}

// UnmarshalJSON reads what encoding/json writes of an Engagement.
func (e *Engagement) UnmarshalJSON(data []byte) error {
	type engagement Engagement
	return units.DecodeObject(data, (*engagement)(e))
}

func (e Engagement) check() error {
	const strength = `write both bounds above zero, as in "250..320 MPa"`
	part := func(where string, r units.RatioInterval) error {
		if err := positive(where, r, `write a part of the tensile strength, as in "0.58..0.65"`); err != nil {
			return err
		}
		if units.One.OfInt(1).Less(r.Hi()) {
			return impossible(where, r.String(), "write a part of the tensile strength, at most 1")
		}
		return nil
	}
	if err := positive("tensile strength of the bolt", e.Bolt, strength); err != nil {
		return err
	}
	if err := positive("tensile strength of the nut or tapped part", e.Hole, strength); err != nil {
		return err
	}
	if err := part("shear strength of the bolt", e.BoltShear); err != nil {
		return err
	}
	if err := part("shear strength of the nut or tapped part", e.HoleShear); err != nil {
		return err
	}
	if e.Flats.IsZero() {
		return nil
	}
	d := e.Thread.Major()
	if e.Flats.Less(d.MulRat(big.NewRat(14, 10))) || d.MulRat(big.NewRat(19, 10)).Less(e.Flats) {
		return impossible("width across flats of the nut", e.Flats.String(), "write one between 1.4 and 1.9 diameters, where the factor for it holds, or none for a tapped hole")
	}
	return nil
}

// A Stripping is what it takes to break a bolt, or to strip it out of what it is screwed into.
type Stripping struct {
	Engagement Engagement          `json:"engagement"`
	Break      units.ForceInterval `json:"break"`       // breaks the bolt in its thread
	BoltThread units.ForceInterval `json:"bolt_thread"` // strips the bolt's thread
	HoleThread units.ForceInterval `json:"hole_thread"` // strips the nut's or the tapped hole's
	// Needed is the length of engagement from which on the bolt breaks first: from its upper bound
	// on for every bolt and hole within the ranges.
	Needed units.LengthInterval `json:"needed"`
	// BreaksFirst is Conforming if the bolt breaks before a thread strips, BelowLimit if a thread
	// strips first, Undecided if the ranges allow both.
	BreaksFirst measure.Verdict `json:"breaks_first"`
}

// UnmarshalJSON reads what encoding/json writes of a Stripping.
func (s *Stripping) UnmarshalJSON(data []byte) error {
	type stripping Stripping
	return units.DecodeObject(data, (*stripping)(s))
}

// Stripping returns what it takes to break the bolt, and to strip its thread or the hole's:
//
//	Fbreak = Rm As
//	Fbolt  = C1 C2 τ AS (L - 0.8 P)/L      τ: shear strength of the bolt
//	Fhole  = C1 C3 τ AN (L - 0.8 P)/L      τ: shear strength of the nut or tapped part
//	C1 = 3.8 s/d - (s/d)² - 2.61                                   a nut; 1 in a tapped hole
//	C2 = 0.897                                                     Rs <= 1
//	     5.594 - 13.682 Rs + 14.107 Rs² - 6.057 Rs³ + 0.9353 Rs⁴   1 < Rs < 2.2
//	C3 = 0.728 + 1.769 Rs - 2.896 Rs² + 1.296 Rs³                  0.4 < Rs < 1
//	     0.897                                                     Rs >= 1
//	Rs = Rm,hole AN / (Rm,bolt AS)
//
// As is the stress area, AS and AN are the shear areas of ShearAreas, L the length of engagement,
// P the pitch, of which 0.8 is lost to the threads that are not whole; s is the width across flats
// of the nut and d the diameter. C1 is for the nut that widens, C2 and C3 are for the threads that
// bend. Beyond the ranges of Rs this package takes 1. It works in float64 and is rounded outward
// to 1 N and 0.001 mm; the factors come from tests, so that it is an estimate and not a bound.
//
// The error is of kind ErrImpossible for a length that leaves no whole thread, a strength that is
// not above zero, a shear strength above the tensile strength, a nut outside 1.4 to 1.9 diameters,
// and as ShearAreas says.
//
// Source: VDI 2230-1:2015, 5.5.5, and E. M. Alexander, Analysis and design of threaded assemblies,
// SAE 770420 (1977), both from memory.
func (e Engagement) Stripping() (Stripping, error) {
	bolt, hole, err := ShearAreas(e.Thread, e.Length)
	if err != nil {
		return Stripping{}, err
	}
	if err := e.check(); err != nil {
		return Stripping{}, err
	}
	pitch := e.Thread.Pitch().Float64(units.Millimetre)
	shortest, longest := e.Length.Lo().Float64(units.Millimetre), e.Length.Hi().Float64(units.Millimetre)
	if shortest <= 0.8*pitch {
		return Stripping{}, impossible("length of engagement", e.Length.String(), "write one that leaves whole threads, more than 0.8 pitches")
	}
	type span struct{ lo, hi float64 }
	areas := func(a units.Interval[units.AreaDim]) span { // for each millimetre
		return span{a.Lo().Float64(units.SquareMillimetre) / shortest, a.Hi().Float64(units.SquareMillimetre) / longest}
	}
	stresses := func(p units.PressureInterval) span {
		return span{p.Lo().Float64(units.Megapascal), p.Hi().Float64(units.Megapascal)}
	}
	parts := func(r units.RatioInterval) span {
		return span{r.Lo().Float64(units.One), r.Hi().Float64(units.One)}
	}
	times := func(factors ...span) span {
		p := span{1, 1}
		for _, f := range factors {
			p.lo, p.hi = p.lo*f.lo, p.hi*f.hi
		}
		return p
	}
	over := func(a, b span) span { return span{a.lo / b.hi, a.hi / b.lo} }
	force := func(f span) units.ForceInterval {
		return units.MustInterval(nearly(units.Newton, math.Floor(f.lo), 0), nearly(units.Newton, math.Ceil(f.hi), 0))
	}

	c1 := 1.0
	if flats := e.Flats.Float64(units.Millimetre) / e.Thread.Major().Float64(units.Millimetre); flats > 0 {
		c1 = 3.8*flats - flats*flats - 2.61
	}
	boltArea, holeArea := areas(bolt), areas(hole)
	ratio := over(times(stresses(e.Hole), holeArea), times(stresses(e.Bolt), boltArea))
	least2, most2 := overRange(bendsBolt, ratio.lo, ratio.hi)
	least3, most3 := overRange(bendsHole, ratio.lo, ratio.hi)
	// What a whole thread bears for each millimetre of its length.
	boltThread := times(span{c1 * least2, c1 * most2}, parts(e.BoltShear), stresses(e.Bolt), boltArea)
	holeThread := times(span{c1 * least3, c1 * most3}, parts(e.HoleShear), stresses(e.Hole), holeArea)
	whole := span{shortest - 0.8*pitch, longest - 0.8*pitch}
	stress := e.Thread.StressArea().Float64(units.SquareMillimetre)
	breaks := times(stresses(e.Bolt), span{stress, stress})

	s := Stripping{
		Engagement: e, Break: force(breaks),
		BoltThread: force(times(boltThread, whole)), HoleThread: force(times(holeThread, whole)),
	}
	// The bolt's own strength breaks the bolt and holds its thread, and so has no say between them.
	perStrength := times(span{c1 * least2, c1 * most2}, parts(e.BoltShear), boltArea)
	byBolt, byHole := over(span{stress, stress}, perStrength), over(breaks, holeThread)
	s.Needed = units.MustInterval(
		nearly(units.Millimetre, math.Floor(1000*(math.Max(byBolt.lo, byHole.lo)+0.8*pitch))/1000, 3),
		nearly(units.Millimetre, math.Ceil(1000*(math.Max(byBolt.hi, byHole.hi)+0.8*pitch))/1000, 3))
	s.BreaksFirst = measure.Judge(e.Length.Sub(s.Needed), units.AtLeast(units.Length{}))
	return s, nil
}

// Weakest returns the preload at which the first of the two threads strips.
func (s Stripping) Weakest() units.ForceInterval {
	return units.MustInterval(units.Min(s.BoltThread.Lo(), s.HoleThread.Lo()), units.Min(s.BoltThread.Hi(), s.HoleThread.Hi()))
}

// bendsBolt is C2 of Engagement.Stripping, and bendsHole C3.
func bendsBolt(rs float64) float64 {
	switch {
	case rs <= 1:
		return 0.897
	case rs < 2.2:
		return 5.594 + rs*(-13.682+rs*(14.107+rs*(-6.057+rs*0.9353)))
	}
	return 1
}

func bendsHole(rs float64) float64 {
	switch {
	case rs >= 1:
		return 0.897
	case rs > 0.4:
		return 0.728 + rs*(1.769+rs*(-2.896+rs*1.296))
	}
	return 1
}

// overRange returns the least and the most of a factor over a range of Rs, at 200 places of it and
// where its formula changes.
func overRange(factor func(float64) float64, from, to float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	try := func(rs float64) { least, most = math.Min(least, factor(rs)), math.Max(most, factor(rs)) }
	const places = 200
	for i := range places + 1 {
		try(from + (to-from)*float64(i)/places)
	}
	for _, edge := range []float64{0.4, 1, 2.2} {
		if from < edge && edge < to {
			try(edge)
			try(math.Nextafter(edge, to))
			try(math.Nextafter(edge, from))
		}
	}
	return least, most
}

// Working shows the forces and the length, for checking by hand, in the unit to so many places.
// Lengths are in inches for a unified thread, else in millimetres.
func (s Stripping) Working(force units.ForceUnit, places int32) units.Working {
	e := s.Engagement
	where := "a tapped hole"
	if !e.Flats.IsZero() {
		where = "a nut, " + e.Thread.Written(e.Flats) + " across flats"
	}
	show := func(f units.ForceInterval) string { return f.FormatOutward(force, places) }
	stress := func(p units.PressureInterval) string { return p.FormatOutward(units.Megapascal, 0) }
	w := units.Working{
		Name: fmt.Sprintf("%v over %s in %s", e.Thread, stretchOf(e.Thread, e.Length), where),
		Steps: []units.Working{
			{Name: "the bolt breaks", Formula: "F = Rm As", Numbers: "Rm = " + stress(e.Bolt), Result: show(s.Break)},
			{Name: "its thread strips", Formula: "F = C1 C2 τ AS (L - 0.8 P)/L", Numbers: fmt.Sprintf("τ = %s · %s", e.BoltShear.Written(units.One), stress(e.Bolt)), Result: show(s.BoltThread)},
			{Name: "the hole's thread strips", Formula: "F = C1 C3 τ AN (L - 0.8 P)/L", Numbers: fmt.Sprintf("τ = %s · %s", e.HoleShear.Written(units.One), stress(e.Hole)), Result: show(s.HoleThread)},
		},
		Result: map[measure.Verdict]string{
			measure.Conforming: "the bolt breaks first",
			measure.BelowLimit: "a thread strips before the bolt breaks",
			measure.Undecided:  "a thread may strip before the bolt breaks",
		}[s.BreaksFirst],
		Source: "VDI 2230-1:2015, 5.5.5, from memory",
		Notes:  []string{fmt.Sprintf("from an engagement of %s on the bolt breaks first", stretchOf(e.Thread, units.Exactly(s.Needed.Hi())))},
	}
	return w
}
