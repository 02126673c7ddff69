package stack

import (
	"context"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/floats"
)

// How the distribution of a sum is estimated, where no way with a proof reaches it.
//
// All terms but one are put on a lattice of step h: the part of a term's
// distribution in the cell about a lattice point x is given to the three points
// x-h, x, x+h with the weights of quadratic interpolation,
//
//	y(y-1)/2, 1-y², y(y+1)/2,   y = (X-x)/h in [-1/2, 1/2],
//
// integrated over the distribution, so that every polynomial up to the second
// degree has its exact mean on the lattice: the probabilities sum to one, mean
// and variance are exact, whatever h is. The lattices are convolved directly. A
// transform would be faster on long lattices, but its rounding is relative to the
// largest value, which drowns everything below 1e-16 of it; sums of products of
// (nearly) positive numbers keep their relative precision, however small the
// result. The last term is never put on a lattice:
//
//	P(S > t) = Σ P(lattice sum = x) · P(last > t - x)
//
// with the closed form of its tail. That is what makes the result a smooth
// function of t, and as good as rounding for one term and a sum of two uniform ones.
//
// Only what can make the sum exceed t is put on a lattice at all: a term lies
// above t less the largest of all others. So far out in a tail of bounded terms
// the lattice covers just the corner that counts, and the relative error does not
// grow as the tail gets small.
//
// The error of quadratic interpolation is of the third order in h, and of the
// fourth after averaging over a smooth density. Each probability is computed on
// five lattices; three times the largest difference between the finest and another
// is the estimate of the finest one's error, with what rounding, of the terms too, and
// the cutting off of normal terms may do added. No proof makes it a bound, and no
// Computed that comes from here is called proven; what speaks for it is that the
// coarser lattices err 8 to 30 times as much. Of 15000 sums of up to nine uniform
// terms with widths from 1 to 2000, one erred by 0.4 of its estimate, and no other by
// more than 0.3. Tests hold the estimate against closed forms (normal, uniform and
// triangular sums, arcsine terms far out, mixtures).

// Cells on all lattices together: to begin with, and at the most when the estimate
// is not yet good enough.
const (
	fewestCells = 2560
	mostCells   = 10240
	goodEnough  = 5e-3 // of the value
)

// estimate returns P(S > t) of the sum S of terms, which are in the order of
// compare, with an estimate of its error. At 1e-12 and above that is below 1 % of the
// value for all but sums of samples alone.
func estimate(ctx context.Context, terms []term, t float64) Computed {
	return estimated(ctx, terms, t, 1, term.above)
}

// estimated is estimate with a function of the last term in place of its tail: its density
// gives that of the sum. most is the largest value of the function.
func estimated(ctx context.Context, terms []term, t, most float64, of func(t term, x float64) float64) Computed {
	var lost, lostPart float64
	largest := math.Abs(t) // of what was rounded on its way to float64
	for _, x := range terms {
		if x.kind == normal || x.kind == normalWithin {
			lost += above(reach)
			lostPart += above(reachDown)
		}
		largest += max(math.Abs(x.lo()), math.Abs(x.hi()))
	}
	blur := float64(len(terms)+1) * halfUlp * largest
	for cells := fewestCells; ; cells *= 2 {
		fine, _ := convolve(ctx, terms, t, 0, cells, of)
		var difference, blurred float64
		for _, fewer := range coarser {
			coarse, moved := convolve(ctx, terms, t, blur, cells*fewer/60, of)
			difference = max(difference, math.Abs(fine-coarse))
			blurred, blur = max(blurred, moved), 0 // once is enough
		}
		rounding := epsilon * float64(cells) * math.Abs(fine)
		p := Computed{Value: max(0, min(most, fine)), Error: safety*difference + rounding + safety*blurred + lost*most + lostPart*math.Abs(fine)}
		if p.Error <= goodEnough*p.Value || cells == mostCells || ctx.Err() != nil {
			p.Error += math.SmallestNonzeroFloat64
			return p
		}
	}
}

// coarser has the numbers of cells, in sixtieths of the finest lattice's, that its
// error is judged by. Several, and far apart, because the error of one may
// be small by chance.
var coarser = [...]int{31, 26, 23, 19}

// safety times the largest difference is the estimate.
const safety = 3

const epsilon = 1.0 / (1 << 52)

// mostCombinations is how many combinations of measured values are gone through
// one by one.
const mostCombinations = 1 << 14

// enumerate returns P(S > t) without a lattice, in float64, where all terms but the
// last are samples of few values, or there is one term only; few is false elsewhere.
func enumerate(terms []term, t float64) (p float64, few bool) {
	last, others := terms[len(terms)-1], terms[:len(terms)-1]
	combinations := 1
	for _, x := range others {
		if x.kind != sampled || len(x.atoms) > mostCombinations/combinations {
			return 0, false
		}
		combinations *= len(x.atoms)
	}
	sums := []float64{0}
	for _, x := range others {
		next := make([]float64, 0, len(sums)*len(x.atoms))
		for _, s := range sums {
			for _, a := range x.atoms {
				next = append(next, s+a)
			}
		}
		sums = next
	}
	for _, s := range sums {
		p += last.above(t - s)
	}
	return p / float64(combinations), true
}

// sketchedTail is P(S > t) on one lattice, with no word on its error: for searches.
// With fewestCells it is what estimate gives but where that has to refine; with a
// quarter of them it is good to about one part in a thousand.
func sketchedTail(terms []term, t float64, cells int) float64 {
	v, few := enumerate(terms, t)
	if !few {
		v, _ = convolve(context.Background(), terms, t, 0, cells, term.above)
	}
	return max(0, min(1, v))
}

// convolve returns P(S > t), or what else a function of the last term makes of it, with
// all lattices together having about so many cells, and for a blur that is not zero by how
// much it changes when t moves by it.
func convolve(ctx context.Context, terms []term, t, blur float64, cells int, of func(t term, x float64) float64) (p, moved float64) {
	last, others := terms[len(terms)-1], terms[:len(terms)-1]
	most := last.hi()
	for _, x := range others {
		most += x.hi()
	}
	from := make([]float64, len(others))
	var width float64
	for i, x := range others {
		from[i] = max(x.lo(), t-(most-x.hi()))
		if from[i] > x.hi() {
			return 0, 0 // t lies beyond everything
		}
		width += x.hi() - from[i]
	}
	step := width / float64(cells)
	if step == 0 {
		step = math.SmallestNonzeroFloat64 // every window is one point
	}
	sum := lattice{masses: []float64{1}}
	for i, x := range others {
		if ctx.Err() != nil {
			return 0, 0
		}
		sum = sum.plus(ctx, onLattice(x, from[i], step))
	}
	for k, m := range sum.masses {
		p += m * of(last, t-sum.at(k, step))
	}
	if blur > 0 {
		for k, m := range sum.masses {
			at := t - sum.at(k, step)
			moved += m * (of(last, at-blur) - of(last, at+blur))
		}
	}
	return p, math.Abs(moved)
}

// A lattice is a distribution on the points first, first + step, …
type lattice struct {
	first  float64
	masses []float64
}

func (l lattice) at(k int, step float64) float64 { return l.first + float64(k)*step }

// onLattice puts the part of a term from a point up on a lattice.
func onLattice(x term, from, step float64) lattice {
	width := x.hi() - from
	cells := max(1, int(math.Ceil(width/step)))
	// The cells are centred on the window: cell k lies about first + (k+1)·step.
	first := from + width/2 - float64(cells+1)/2*step
	l := lattice{first: first, masses: make([]float64, cells+2)}
	add := func(k int, v, w float64) {
		y := (v - l.at(k+1, step)) / step
		l.masses[k] += w * y * (y - 1) / 2
		l.masses[k+1] += w * (1 - y*y)
		l.masses[k+2] += w * y * (y + 1) / 2
	}
	if x.kind == sampled {
		for _, v := range x.atoms {
			if v >= from {
				k := int(math.Round((v-first)/step)) - 1
				add(max(0, min(k, cells-1)), v, 1/float64(len(x.atoms)))
			}
		}
		return l
	}
	for k := range cells {
		centre := l.at(k+1, step)
		a, b := max(from, centre-step/2), min(x.hi(), centre+step/2)
		if k == 0 {
			a = from
		}
		if k == cells-1 {
			b = x.hi()
		}
		if a < b {
			x.measure(a, b, func(v, w float64) { add(k, v, w) })
		}
	}
	return l
}

// plus returns the distribution of the sum of independent variables.
func (l lattice) plus(ctx context.Context, m lattice) lattice {
	long, short := l.masses, m.masses
	if len(long) < len(short) {
		long, short = short, long
	}
	sum := make([]float64, len(long)+len(short)-1)
	for i, s := range short {
		if i%64 == 0 && ctx.Err() != nil {
			break
		}
		floats.AddScaled(sum[i:i+len(long)], s, long)
	}
	return lattice{first: l.first + m.first, masses: sum}
}

// sorted returns the terms in the order of compare.
func sorted(terms []term) []term {
	s := slices.Clone(terms)
	sort.Slice(s, func(i, j int) bool { return compare(s[i], s[j]) < 0 }) // a generic one of so large a type is 12 kB of code
	return s
}
