package check

import (
	"math/big"
	"slices"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A formula recomputes a claim from the readings of one location.
type formula[D units.Dimension] struct {
	text   string // in the trade's symbols
	source string
	of     func(w *window, in []units.Quantity[D]) (units.Quantity[D], bool) // false if there is no answer
	share  []int64                                                           // how often each input counts, with its sign
	slips  []slip[D]

	extremes bool // of the inputs, of which any two may be the ones
}

// A slip is a mistake that belongs to one formula.
type slip[D units.Dimension] struct {
	mistake string
	says    string
	of      func(w *window, in []units.Quantity[D]) units.Quantity[D]
	omits   []int // inputs that somebody who makes it does not use
}

// doubt returns the expanded uncertainty of the result, which is the same in every
// row: that of a sum of readings by the columns' instruments. Columns whose
// instrument is not named may have been read with any other one, and count at
// their worst.
func (f formula[D]) doubt(inputs []*column[D]) units.Quantity[D] {
	var sum measure.Sum[D]
	for i, c := range inputs {
		if c.with == nil || i >= len(f.share) {
			continue
		}
		factor := units.One.OfInt(f.share[i])
		sum.Terms = append(sum.Terms, measure.Term[D]{Name: c.name, Factor: factor, Reading: c.taken(units.Quantity[D]{})})
	}
	r := sum.Reading()
	return r.Expanded()
}

// extremes returns the expanded uncertainty of the largest reading less the smallest:
// that of a difference, or of more stations, of which any two may be the ones.
func extremes[D units.Dimension](inputs []*column[D]) units.Quantity[D] {
	if len(inputs) == 2 {
		return formula[D]{share: []int64{1, -1}}.doubt(inputs)
	}
	plane := make([]measure.Reading[D], len(inputs))
	for i, c := range inputs {
		plane[i] = measure.Given(units.Exactly(units.Quantity[D]{}), "exact")
		if c.with != nil {
			plane[i] = c.taken(units.Quantity[D]{})
		}
	}
	s, err := measure.NewStations([][]measure.Reading[D]{plane}, measure.OutOfRound)
	if err != nil {
		panic("check: the stations of a row are refused: " + err.Error())
	}
	r := s.Find(measure.OutOfRound)
	if !r.Taken() || !r.Bracket().HasHi() {
		return units.Quantity[D]{}
	}
	return r.Interval().Hi().Sub(r.Bracket().Hi())
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

// spread is what taper and out-of-round are made of: the largest reading less the
// smallest.
func spread(n int) formula[units.LengthDim] {
	largest := func(in []units.Length) units.Length {
		return units.Max(in[0], in[1:]...).Sub(units.Min(in[0], in[1:]...))
	}
	first := func(in []units.Length) units.Length { return in[0].Sub(in[len(in)-1]) }
	f := formula[units.LengthDim]{
		text:     "largest - smallest",
		source:   "of the readings given; the true form may be worse between them",
		extremes: true,
		of:       func(_ *window, in []units.Length) (units.Length, bool) { return largest(in), true },
	}
	if n > 2 {
		f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "only the first and the last reading are compared",
			of: func(_ *window, in []units.Length) units.Length { return first(in).Abs() }})
		for i := range n {
			f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "a reading is left out", omits: []int{i},
				of: func(_ *window, in []units.Length) units.Length {
					return largest(slices.Delete(slices.Clone(in), i, i+1))
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
	f.of = ofTolerances(added)
	f.slips = append(f.slips, slip[units.LengthDim]{mistake: OtherRule, says: "the tolerances are combined by root-sum-square",
		of: func(_ *window, in []units.Length) units.Length { return rootSumSquare(in) }})
	return f
}

// statistical is the same stack by root-sum-square.
func statistical(n int) formula[units.LengthDim] {
	f := formula[units.LengthDim]{
		text:   "T = √(t1² + t2² + …)",
		source: "root-sum-square, for independent and centred parts",
		of:     ofTolerances(rootSumSquare),
		slips: []slip[units.LengthDim]{{mistake: OtherRule, says: "the tolerances are added, by worst case",
			of: func(_ *window, in []units.Length) units.Length { return added(in) }}},
	}
	for i := range n {
		f.slips = append(f.slips, slip[units.LengthDim]{mistake: LeftOut, says: "a tolerance is left out", omits: []int{i},
			of: func(_ *window, in []units.Length) units.Length {
				return rootSumSquare(slices.Delete(slices.Clone(in), i, i+1))
			}})
	}
	return f
}

func added(in []units.Length) units.Length { return units.Sum(in...) }

// rootSumSquare rounds up to the tenth of a nanometre, far below what a sheet shows.
func rootSumSquare(in []units.Length) units.Length {
	return units.RootSumSquare(units.Millimetre, 7, in...)
}

// ofTolerances combines tolerances, none of which can be negative.
func ofTolerances(combine func([]units.Length) units.Length) func(*window, []units.Length) (units.Length, bool) {
	return func(_ *window, in []units.Length) (units.Length, bool) {
		for _, t := range in {
			if t.Sign() < 0 {
				return units.Length{}, false
			}
		}
		return combine(in), true
	}
}

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
	return formula[units.LengthDim]{
		text:   "g = r·D",
		source: "the rule in the map, from the engine's or the rings' manual",
		of:     func(_ *window, in []units.Length) (units.Length, bool) { return in[0].Mul(rule), true },
		slips: []slip[units.LengthDim]{{mistake: OtherRule, says: "the rule is applied to the circumference",
			of: func(_ *window, in []units.Length) units.Length {
				return in[0].Mul(rule).MulRat(big.NewRat(355, 113)) // π to six places
			}}},
	}
}

// toFile is how much a ring's gap has to be opened: nothing if it is wide enough.
func toFile(rule decimal.Decimal) formula[units.LengthDim] {
	f := perBore(rule)
	f.text = "f = r·D - g, not below 0"
	f.of = func(_ *window, in []units.Length) (units.Length, bool) {
		return units.Max(in[0].Mul(rule).Sub(in[1]), units.Length{}), true
	}
	f.slips = []slip[units.LengthDim]{
		{mistake: WrongWay, says: "the gap it needs is taken from the gap it has", of: func(_ *window, in []units.Length) units.Length { return in[1].Sub(in[0].Mul(rule)) }},
		{mistake: LeftOut, says: "the gap it has is left out", omits: []int{1}, of: func(_ *window, in []units.Length) units.Length { return in[0].Mul(rule) }},
	}
	return f
}
