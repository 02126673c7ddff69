package measure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A world draws what instruments err by, from what is said of them and not from the
// package: micrometres, standard deviations.
type world struct {
	t       *testing.T
	rnd     *rand.Rand
	reading bool // make readings; else errors are drawn alone
}

func (w world) normal(u float64) float64 { return u * w.rnd.NormFloat64() }

// estimate returns a standard deviation of u as so many degrees of freedom show it.
func (w world) estimate(u float64, freedom int) float64 {
	if freedom == 0 {
		return u
	}
	sum := 0.0
	for range freedom {
		z := w.rnd.NormFloat64()
		sum += z * z
	}
	return u * math.Sqrt(sum/float64(freedom))
}

func (w world) micrometre(f float64) units.Length {
	q, err := units.Micrometre.OfFloat64(f, 6)
	if err != nil {
		w.t.Fatal(err)
	}
	return q
}

// A draw is one trial: a sum of readings, and by how much the value that it shows is
// off.
type draw struct {
	sum measure.Sum[units.LengthDim]
	off float64
}

func (d *draw) add(factor int64, r measure.LengthReading, off float64) {
	d.sum.Terms = append(d.sum.Terms, measure.Term[units.LengthDim]{Factor: units.One.OfInt(factor), Reading: r})
	d.off += float64(factor) * off
}

const size = 50_000 // micrometres; every true size

// cells are the sums whose coverage is looked at. A cell that draws no estimates has
// one uncertainty in all its trials, and many of them.
func cells() map[string]struct {
	fixed bool
	draw  func(w world) draw
} {
	type cell = struct {
		fixed bool
		draw  func(w world) draw
	}
	all := map[string]cell{}
	read := func(w world, in measure.LengthInstrument, at string, off float64) measure.LengthReading {
		if !w.reading {
			return measure.LengthReading{}
		}
		r, err := in.Read(at, w.micrometre(size+off))
		if err != nil {
			w.t.Fatal(err)
		}
		return r
	}
	factors := map[string][]int64{"bearing": {1, -1, -1, -1}, "difference": {1, -1}, "series": {1, 1, 1, 1, 1}, "weighted": {3, -2, 1}}

	for name, fs := range factors {
		for _, freedom := range []int{0, 1, 4} {
			fixed := freedom == 0
			if !fixed && name != "bearing" && (freedom > 1 || name != "difference") {
				continue // each trial is a reading: the slow ones are few
			}
			// One instrument with a common and a repeating part.
			all[fmt.Sprint("shared, ", name, ", freedom ", freedom)] = cell{fixed, func(w world) (d draw) {
				in := measure.LengthInstrument{Name: "M", Freedom: freedom,
					Common: w.micrometre(2 * w.estimate(1.5, freedom)), Repeats: w.micrometre(2 * w.estimate(0.5, freedom))}
				shift := w.normal(1.5)
				for i, f := range fs {
					off := shift + w.normal(0.5)
					d.add(f, read(w, in, fmt.Sprint(i), off), off)
				}
				return d
			}}
			// The first term by a gauge that was set in the instrument of the others; its
			// own parts are known well.
			all[fmt.Sprint("set on, ", name, ", freedom ", freedom)] = cell{fixed, func(w world) (d draw) {
				m := measure.LengthInstrument{Name: "M", Freedom: freedom,
					Common: w.micrometre(2 * w.estimate(1.5, freedom)), Repeats: w.micrometre(2 * w.estimate(0.5, freedom))}
				shift, setting := w.normal(1.5), w.normal(0.5)
				g := measure.LengthInstrument{Name: "G", Common: w.micrometre(1), Repeats: w.micrometre(1.5), SetOn: read(w, m, "setting", shift+setting)}
				set := shift + setting + w.normal(0.75) + w.normal(0.5)
				for i, f := range fs {
					if i == 0 {
						off := set + w.normal(0.75)
						d.add(f, read(w, g, "bore", off), off)
						continue
					}
					off := shift + w.normal(0.5)
					d.add(f, read(w, m, fmt.Sprint(i), off), off)
				}
				return d
			}}
			// Each term by another instrument, of one figure, and one of an instrument that
			// knows itself.
			all[fmt.Sprint("independent, ", name, ", freedom ", freedom)] = cell{fixed, func(w world) (d draw) {
				for i, f := range fs {
					u, n := float64(i+1)/2, freedom
					if i == 0 {
						n = 0
					}
					off := w.normal(u)
					d.add(f, read(w, measure.LengthInstrument{Name: fmt.Sprint("I", i), Uncertainty: w.micrometre(2 * w.estimate(u, n)), Freedom: n}, "x", off), off)
				}
				return d
			}}
			// One figure, of which all, none, or half is shared, with the signs that hurt or
			// with those of the terms.
			for share, c := range map[string]struct{ share, sign float64 }{"all opposed": {1, 1}, "all alike": {1, 0}, "none": {0, 0}, "half opposed": {0.5, 1}} {
				all[fmt.Sprint("not split, ", share, ", ", name, ", freedom ", freedom)] = cell{fixed, func(w world) (d draw) {
					in := measure.LengthInstrument{Name: "M", Uncertainty: w.micrometre(2 * w.estimate(1.5, freedom)), Freedom: freedom}
					shift := w.normal(1.5 * math.Sqrt(c.share))
					for i, f := range fs {
						off := shift
						if c.sign == 1 && f < 0 {
							off = -shift
						}
						off += w.normal(1.5 * math.Sqrt(1-c.share))
						d.add(f, read(w, in, fmt.Sprint(i), off), off)
					}
					return d
				}}
			}
			// A gauge of one figure, set in a micrometer of one figure that reads the others:
			// every error with the sign that hurts.
			all[fmt.Sprint("set on, not split, ", name, ", freedom ", freedom)] = cell{fixed, func(w world) (d draw) {
				m := measure.LengthInstrument{Name: "M", Uncertainty: w.micrometre(2 * w.estimate(1, freedom)), Freedom: freedom}
				g := measure.LengthInstrument{Name: "G", Uncertainty: w.micrometre(2 * w.estimate(0.7, freedom)), Freedom: freedom}
				shift, gauge := w.normal(1), w.normal(0.7)
				sign := math.Copysign(1, float64(fs[0]))
				g.SetOn = read(w, m, "setting", sign*shift)
				for i, f := range fs {
					if i == 0 {
						off := sign*shift + 2*gauge
						d.add(f, read(w, g, "bore", off), off)
						continue
					}
					off := math.Copysign(1, float64(f)) * shift
					d.add(f, read(w, m, fmt.Sprint(i), off), off)
				}
				return d
			}}
		}
		// Several readings of one size, beside a bracket whose truth lies at an end.
		for _, n := range []int{2, 4} {
			if name != "bearing" && name != "difference" {
				continue
			}
			all[fmt.Sprint("repeated ", n, ", ", name)] = cell{false, func(w world) (d draw) {
				in := measure.LengthInstrument{Name: "M", Common: w.micrometre(0.4)}
				shift := w.normal(0.2)
				for i, f := range fs {
					var values []units.Length
					mean := 0.0
					for range n {
						off := shift + w.normal(1)
						mean += off / float64(n)
						values = append(values, w.micrometre(size+off))
					}
					r, err := in.Read(fmt.Sprint(i), values...)
					if err != nil {
						w.t.Fatal(err)
					}
					d.add(f, r, mean)
				}
				// True at its upper end, 2 above its middle.
				d.add(1, measure.Given(units.PlusMinus(w.micrometre(size), w.micrometre(2)), "a bracket"), -2)
				return d
			}}
		}
	}
	return all
}

// The stated coverage is reached in every cell, at three levels. The slack is three
// standard deviations of the share of trials that hold; the draws are fixed.
func TestCoverageIsReached(t *testing.T) {
	const manyTrials, fewTrials = 5000, 200
	levels := []string{"0.90", "0.9545", "0.99"}
	for name, cell := range cells() {
		w := world{t, rand.New(rand.NewPCG(11, uint64(len(name)))), true}
		trials := fewTrials
		if cell.fixed {
			trials = manyTrials
		}
		held := make([]int, len(levels))
		var reach []float64
		for trial := range trials {
			w.reading = trial == 0 || !cell.fixed
			d := cell.draw(w)
			if w.reading {
				r := d.sum.Reading()
				reach = nil
				for _, p := range levels {
					reach = append(reach, r.At(factor(t, p, 0)).Radius().Float64(units.Micrometre))
				}
			}
			for i := range levels {
				if math.Abs(d.off) <= reach[i] {
					held[i]++
				}
			}
		}
		for i, level := range levels {
			p, _ := strconv.ParseFloat(level, 64)
			slack := 3 * math.Sqrt(p*(1-p)/float64(trials))
			if got := float64(held[i]) / float64(trials); got < p-slack {
				t.Errorf("%s: %s asked, %.4f held of %d", name, level, got, trials)
			}
		}
	}
}
