package check

import (
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/clearance/stack"
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A formula recomputes a claim from the readings of one location.
type formula[D units.Dimension] struct {
	text   string // in the trade's symbols
	source string
	of     func(w *window, in []units.Quantity[D]) (units.Quantity[D], bool) // false if there is no answer
	share  []int64                                                           // how much of each input's uncertainty the result has
	slips  []slip[D]
}

// A slip is a mistake that belongs to one formula.
type slip[D units.Dimension] struct {
	mistake string
	says    string
	of      func(w *window, in []units.Quantity[D]) units.Quantity[D]
	omits   []int // inputs that somebody who makes it does not use
}

// doubt returns the expanded uncertainty of the result: the readings are
// independent, so the root of the sum of squares.
//
//	U = √Σ (k·u)²
//
// k is the share of an input and u its expanded uncertainty, k = 2. Source:
// JCGM 100:2008, 5.1.2.
func (f formula[D]) doubt(inputs []*column[D]) units.Quantity[D] {
	var terms []units.Quantity[D]
	var step units.Quantity[D]
	for i, c := range inputs {
		if !c.doubt.IsZero() && i < len(f.share) {
			terms = append(terms, c.doubt.MulInt(f.share[i]))
			step = c.step[9]
		}
	}
	if len(terms) == 0 {
		return units.Quantity[D]{}
	}
	return units.RootSumSquare(step, terms...)
}

// total returns the sum of the inputs, each times its share.
func total[D units.Dimension](in []units.Quantity[D], share []int64) units.Quantity[D] {
	var sum units.Quantity[D]
	for i, q := range in {
		sum = sum.Add(q.MulInt(share[i]))
	}
	return sum
}

// linear returns the formula of a sum, with the slips that every sum can have.
// part is what an input is called when one is left out.
func linear[D units.Dimension](text, part string, share ...int64) formula[D] {
	f := formula[D]{
		text:   text,
		source: "sizes taken as exact",
		share:  share,
		of: func(_ *window, in []units.Quantity[D]) (units.Quantity[D], bool) {
			return total(in, share), true
		},
	}
	for i := range share {
		if len(share) > 2 {
			f.slips = append(f.slips, f.without(LeftOut, "a "+part+" is left out", i))
		}
	}
	for i, k := range share {
		if k < 0 {
			f.slips = append(f.slips, f.flipped(Added, "a "+part+" is added where it is to be subtracted", i))
		}
	}
	return f
}

// without is the slip of leaving inputs out.
func (f formula[D]) without(mistake, says string, left ...int) slip[D] {
	share := append([]int64{}, f.share...)
	for _, i := range left {
		share[i] = 0
	}
	return slip[D]{mistake: mistake, says: says, omits: left, of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] { return total(in, share) }}
}

// flipped is the slip of taking inputs with the wrong sign.
func (f formula[D]) flipped(mistake, says string, turned ...int) slip[D] {
	share := append([]int64{}, f.share...)
	for _, i := range turned {
		share[i] = -share[i]
	}
	return slip[D]{mistake: mistake, says: says, of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] { return total(in, share) }}
}

// runningClearance is the clearance of a bearing from its bore, two walls and
// journal.
func runningClearance() formula[units.LengthDim] {
	f := linear[units.LengthDim]("C = D - t1 - t2 - d", "size", 1, -1, -1, -1)
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		b := clearance.Bearing{
			HousingBore: units.Exactly(in[0]), UpperWall: units.Exactly(in[1]),
			LowerWall: units.Exactly(in[2]), Journal: units.Exactly(in[3]),
		}
		return b.Clearance().Lo(), true
	}
	half := big.NewRat(1, 2)
	f.slips = []slip[units.LengthDim]{
		f.without(OneWall, "the lower wall is left out", 2),
		f.without(OneWall, "the upper wall is left out", 1),
		f.flipped(Added, "both walls are added where they are to be subtracted", 1, 2),
		f.flipped(Added, "the upper wall is added where it is to be subtracted", 1),
		f.flipped(Added, "the lower wall is added where it is to be subtracted", 2),
		{mistake: Radius, says: "the bore's radius is taken with the journal's radius, but both walls", omits: nil,
			of: func(_ *window, in []units.Length) units.Length {
				return in[0].Sub(in[3]).MulRat(half).Sub(in[1]).Sub(in[2])
			}},
		f.without(LeftOut, "both walls are left out", 1, 2),
		f.without(LeftOut, "the journal is left out", 3),
	}
	return f
}

// oneWallTwice is the clearance where one wall is given for both shells.
func oneWallTwice() formula[units.LengthDim] {
	f := linear[units.LengthDim]("C = D - 2·t - d", "size", 1, -2, -1)
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		b := clearance.Bearing{
			HousingBore: units.Exactly(in[0]), UpperWall: units.Exactly(in[1]),
			LowerWall: units.Exactly(in[1]), Journal: units.Exactly(in[2]),
		}
		return b.Clearance().Lo(), true
	}
	f.slips = []slip[units.LengthDim]{
		{mistake: OneWall, says: "the wall is taken once", of: func(_ *window, in []units.Length) units.Length { return in[0].Sub(in[1]).Sub(in[2]) }},
		f.flipped(Added, "the walls are added where they are to be subtracted", 1),
		f.without(LeftOut, "the walls are left out", 1),
	}
	return f
}

// travel is the distance from one indication of a dial to another.
func travel[D units.Dimension]() formula[D] {
	f := linear[D]("T = |b - a|", "indication", -1, 1)
	f.of = func(_ *window, in []units.Quantity[D]) (units.Quantity[D], bool) {
		return in[1].Sub(in[0]).Abs(), true
	}
	f.slips = []slip[D]{
		{mistake: Added, says: "the indications are added", of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] { return in[1].Add(in[0]) }},
		{mistake: WrongWay, says: "the first is taken from the second with its sign", of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] { return in[1].Sub(in[0]) }},
		{mistake: WrongWay, says: "the second is taken from the first with its sign", of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] { return in[0].Sub(in[1]) }},
	}
	return f
}

// taper is how much the size changes along a journal, from readings one after
// another along it.
func taper(n int) formula[units.LengthDim] {
	f := spread(n)
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		planes := make([][]clearance.LengthReading, len(in))
		for i, q := range in {
			planes[i] = []clearance.LengthReading{exactly(q)}
		}
		return ofStations(clearance.Stations.Taper, planes...)
	}
	return f
}

// outOfRound is how far a section is from a circle, from diameters in several
// directions.
func outOfRound(n int) formula[units.LengthDim] {
	f := spread(n)
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		plane := make([]clearance.LengthReading, len(in))
		for i, q := range in {
			plane[i] = exactly(q)
		}
		return ofStations(clearance.Stations.OutOfRound, plane)
	}
	return f
}

func exactly(q units.Length) clearance.LengthReading {
	return clearance.Given(units.Exactly(q), "in the sheet")
}

func ofStations(shape func(clearance.Stations) clearance.LengthReading, planes ...[]clearance.LengthReading) (units.Length, bool) {
	s, err := clearance.NewStations(planes...)
	if err != nil {
		return units.Length{}, false
	}
	return shape(s).Interval().Lo(), true
}

// spread has what taper and out-of-round share: the largest reading less the
// smallest, and the ways to get it wrong.
func spread(n int) formula[units.LengthDim] {
	first := func(in []units.Length) units.Length { return in[0].Sub(in[len(in)-1]) }
	f := formula[units.LengthDim]{
		text:   "largest - smallest",
		source: "of the readings given; the true form may be worse between them",
		share:  make([]int64, n),
	}
	f.share[0], f.share[1] = 1, 1 // a difference of two readings, whichever they are
	if n > 2 {
		f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "only the first and the last reading are compared",
			of: func(_ *window, in []units.Length) units.Length { return first(in).Abs() }})
		for i := range n {
			f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "a reading is left out", omits: []int{i},
				of: func(_ *window, in []units.Length) units.Length {
					rest := slices.Delete(slices.Clone(in), i, i+1)
					return units.Max(rest[0], rest[1:]...).Sub(units.Min(rest[0], rest[1:]...))
				}})
		}
	}
	f.slips = append(f.slips,
		slip[units.LengthDim]{mistake: WrongWay, says: "the last reading is taken from the first with its sign", of: func(_ *window, in []units.Length) units.Length { return first(in) }},
		slip[units.LengthDim]{mistake: WrongWay, says: "the first reading is taken from the last with its sign", of: func(_ *window, in []units.Length) units.Length { return first(in).Neg() }})
	return f
}

// worstCase is the stack of tolerances that are each the t of ± t.
func worstCase(n int) formula[units.LengthDim] {
	f := linear[units.LengthDim]("T = t1 + t2 + …", "tolerance", slices.Repeat([]int64{1}, n)...)
	f.source = "worst case: every part at its limit at once"
	f.of = func(_ *window, in []units.Length) (units.Length, bool) { return stackOf(in, inWorstCase) }
	f.slips = append(f.slips, slip[units.LengthDim]{mistake: OtherRule, says: "the tolerances are combined by root-sum-square",
		of: func(_ *window, in []units.Length) units.Length { return either(stackOf(in, byRootSumSquare)) }})
	return f
}

// statistical is the same stack by root-sum-square.
func statistical(n int) formula[units.LengthDim] {
	f := formula[units.LengthDim]{
		text:   "T = √(t1² + t2² + …)",
		source: "root-sum-square, for independent and centred parts",
		of:     func(_ *window, in []units.Length) (units.Length, bool) { return stackOf(in, byRootSumSquare) },
		slips: []slip[units.LengthDim]{{mistake: OtherRule, says: "the tolerances are added, by worst case",
			of: func(_ *window, in []units.Length) units.Length { return either(stackOf(in, inWorstCase)) }}},
	}
	for i := range n {
		f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "a tolerance is left out", omits: []int{i},
			of: func(_ *window, in []units.Length) units.Length {
				return either(stackOf(slices.Delete(slices.Clone(in), i, i+1), byRootSumSquare))
			}})
	}
	return f
}

func inWorstCase(s *stack.Stack) units.LengthInterval { return s.WorstCase().Interval() }

func byRootSumSquare(s *stack.Stack) units.LengthInterval {
	gap, err := s.RSS(units.One.OfInt(1))
	if err != nil {
		panic("check: a factor of one is refused: " + err.Error())
	}
	return gap.Interval()
}

// stackOf returns the tolerance of a stack of tolerances. Parts without any are
// left out; there is no answer for a negative one.
func stackOf(tolerances []units.Length, gap func(*stack.Stack) units.LengthInterval) (units.Length, bool) {
	var all []stack.Contributor
	for _, t := range tolerances {
		switch t.Sign() {
		case -1:
			return units.Length{}, false
		case 1:
			all = append(all, stack.Adds("part", units.PlusMinus(units.Length{}, t), stack.Uniform()))
		}
	}
	if len(all) == 0 {
		return units.Length{}, true
	}
	s, err := stack.New(all...)
	if err != nil {
		return units.Length{}, false
	}
	return gap(s).Hi(), true
}

// either drops the report that there is no answer: a zero then explains nothing.
func either(q units.Length, _ bool) units.Length { return q }

// same is a quantity given again in another unit.
func same[D units.Dimension](from, to units.Unit[D]) formula[D] {
	f := linear[D]("b = a", "value", 1)
	f.source = from.Source()
	factor := new(big.Rat).Quo(from.Factor(), to.Factor())
	squareInverse := new(big.Rat).Inv(new(big.Rat).Mul(factor, factor))
	f.slips = []slip[D]{{mistake: WrongWay, says: "multiplied where it is to be divided, or the other way round", of: func(_ *window, in []units.Quantity[D]) units.Quantity[D] {
		return in[0].MulRat(squareInverse)
	}}}
	return f
}

// perBore is a ring's least gap, a share of its bore.
func perBore(rule decimal.Decimal) formula[units.LengthDim] {
	f := linear[units.LengthDim]("g = r·D", "size", 1)
	f.source = "the rule in the map, from the engine's or the rings' manual"
	f.share = nil
	f.of = func(_ *window, in []units.Length) (units.Length, bool) { return leastGap(rule, in[0]) }
	f.slips = []slip[units.LengthDim]{{mistake: OtherRule, says: "the rule is applied to the circumference", of: func(_ *window, in []units.Length) units.Length {
		return either(leastGap(rule, in[0].MulRat(big.NewRat(355, 113)))) // π to six places
	}}}
	return f
}

func leastGap(rule decimal.Decimal, bore units.Length) (units.Length, bool) {
	limits, err := clearance.SizeRule{PerSizeLo: rule, PerSizeHi: rule}.Limits(exactly(bore))
	if err != nil {
		return units.Length{}, false
	}
	return limits.Lo(), true
}

// toFile is how much a ring's gap has to be opened: nothing if it is wide enough.
func toFile(rule decimal.Decimal) formula[units.LengthDim] {
	f := perBore(rule)
	f.text = "f = r·D - g, not below 0"
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		least, ok := leastGap(rule, in[0])
		return units.Max(least.Sub(in[1]), units.Length{}), ok
	}
	f.slips = []slip[units.LengthDim]{
		{mistake: WrongWay, says: "the gap it needs is taken from the gap it has", of: func(_ *window, in []units.Length) units.Length { return in[1].Sub(either(leastGap(rule, in[0]))) }},
		{mistake: LeftOut, says: "the gap it has is left out", omits: []int{1}, of: func(_ *window, in []units.Length) units.Length { return either(leastGap(rule, in[0])) }},
	}
	return f
}

// ofFit makes a formula of lengths recompute by one of the library's fits, worst
// case of exact sizes being their sum.
func ofFit(f formula[units.LengthDim], fit func(in []clearance.LengthReading) clearance.Fit) formula[units.LengthDim] {
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		readings := make([]clearance.LengthReading, len(in))
		for i, q := range in {
			readings[i] = exactly(q)
		}
		return fit(readings).Reading(clearance.WorstCase).Interval().Lo(), true
	}
	return f
}

// endPlay is the play that washers and widths leave between thrust faces.
func endPlay(text, part string, share ...int64) formula[units.LengthDim] {
	return ofFit(linear[units.LengthDim](text, part, share...), func(in []clearance.LengthReading) clearance.Fit {
		return clearance.EndPlayFit(in[0], in[1], in[2:]...)
	})
}

// sidePlay is the play of a rod on its pin.
func sidePlay() formula[units.LengthDim] {
	return ofFit(linear[units.LengthDim]("S = L - b", "width", 1, -1), func(in []clearance.LengthReading) clearance.Fit {
		return clearance.SidePlayFit(in[0], in[1:]...)
	})
}

// stretch is how much longer a bolt is than when it was new.
func stretch() formula[units.LengthDim] {
	f := linear[units.LengthDim]("ΔL = L - L0", "length", 1, -1)
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		exact := func(l units.Length) measure.LengthReading { return measure.Given(units.Exactly(l), "") }
		sum := fasteners.Stretch(exact(in[0]), exact(in[1]))
		sum.NonNegative = false // a sheet shows the difference of lengths that contradict each other too
		return sum.Interval().Lo(), true
	}
	return f
}
