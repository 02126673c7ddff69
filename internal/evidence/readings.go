package evidence

import (
	"bufio"
	"errors"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// asLength takes a pure number for so many millimetres: the formulas of JCGM 106
// hold in any unit.
func asLength(d decimal.Decimal) units.Length { return units.Millimetre.Of(d) }

// numberInterval reads an interval of pure numbers.
func numberInterval(text string) (units.LengthInterval, error) {
	return units.ParseLengthInterval(text + " mm")
}

// stated returns the reading of a value with a standard uncertainty.
func stated(value, standard decimal.Decimal) (measure.LengthReading, error) {
	in := measure.LengthInstrument{Uncertainty: asLength(standard).MulInt(2)}
	return in.Indicate("", asLength(value))
}

func conformityProbability(r *Row) (Result, error) {
	value, err := r.Decimal("value")
	if err != nil {
		return Result{}, err
	}
	standard, err := r.Decimal("standard_uncertainty")
	if err != nil {
		return Result{}, err
	}
	limits, err := Parse(r, "limits", numberInterval)
	if err != nil {
		return Result{}, err
	}
	reading, err := stated(value, standard)
	if err != nil {
		return Result{}, err
	}
	least, _, err := measure.Conformity(reading, limits)
	return Float64(least), err
}

// guardFactor is the coverage factor of which the risk is left at one limit.
func guardFactor(r *Row) (Result, error) {
	risk, err := r.Decimal("risk")
	if err != nil {
		return Result{}, err
	}
	k, err := measure.CoverageFactor(decimal.NewFromInt(1).Sub(risk).Sub(risk), 0)
	return Decimal(k), err
}

// globalRisk takes a process of mean 0 and spread 1, limits at ± limit, and a
// measurement whose expanded uncertainty (k = 2) is limit/ratio; parts are
// accepted within ± guard times the limit.
func globalRisk(which func(consumer, producer float64) float64) Check {
	return func(r *Row) (Result, error) {
		limit, err := r.Decimal("limit")
		if err != nil {
			return Result{}, err
		}
		ratio, err := r.Decimal("ratio")
		if err != nil {
			return Result{}, err
		}
		guard, err := r.Decimal("guard")
		if err != nil {
			return Result{}, err
		}
		around := func(d decimal.Decimal) units.LengthInterval {
			return units.PlusMinus(units.Length{}, asLength(d))
		}
		process := measure.Process[units.LengthDim]{Spread: asLength(decimal.NewFromInt(1))}
		expanded := asLength(limit).MulRat(new(big.Rat).Inv(ratio.Rat()))
		consumer, producer, err := process.Risks(around(limit), asLength(limit.Sub(limit.Mul(guard))), expanded)
		return Float64(which(consumer, producer)), err
	}
}

// rootSumSquare combines numbers of nanometres. A row that wants places of a
// nanometre is computed in micrometres, since the result is rounded up to the
// nanometre.
func rootSumSquare(r *Row) (Result, error) {
	if err := r.ExpectUnit("nm"); err != nil {
		return Result{}, err
	}
	scale := units.Nanometre
	if !r.Tolerance.Exact() {
		scale = units.Micrometre
	}
	sum := lengthSum{Name: "sum"}
	for _, key := range r.Keys() {
		u, err := r.Decimal(key)
		if err != nil {
			return Result{}, err
		}
		in := measure.LengthInstrument{Name: key, Uncertainty: scale.Of(u)}
		reading, err := in.Read(key, units.Metre.OfInt(1))
		if err != nil {
			return Result{}, err
		}
		sum.Terms = append(sum.Terms, measure.Plus(key, key, reading))
	}
	expanded := sum.Reading().Expanded()
	if r.Tolerance.Exact() { // rounded up as the source rounds
		return Decimal(expanded.Rounded(scale, 0, units.Ceiling)), nil
	}
	return Rat(expanded.Rat(scale)), nil
}

func coverageFactor(r *Row) (Result, error) {
	p, err := r.Decimal("probability")
	if err != nil {
		return Result{}, err
	}
	freedom, err := r.Int("freedom")
	if err != nil {
		return Result{}, err
	}
	k, err := measure.CoverageFactor(p, freedom)
	return Decimal(k), err
}

// A part is a standard uncertainty with its degrees of freedom, of a row that has it as
// "25/18": micrometres for nanometres, so that rounding up is small.
type part struct {
	standard units.Length
	freedom  int
}

// parts reads the parts of a row.
func parts(r *Row) ([]part, error) {
	var all []part
	for _, key := range r.Keys() {
		if key == "coverage" {
			continue
		}
		p, err := Parse(r, key, func(text string) (part, error) {
			standard, freedom, _ := strings.Cut(text, "/")
			u, err1 := decimal.NewFromString(standard)
			n, err2 := strconv.Atoi(freedom)
			return part{units.Micrometre.Of(u), n}, errors.Join(err1, err2)
		})
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// known returns the sum of readings with such uncertainties, of different instruments.
func known(all []part, withFreedom bool) (measure.LengthReading, error) {
	sum := lengthSum{Name: "sum"}
	for i, p := range all {
		in := measure.LengthInstrument{Name: fmt.Sprint(i), Uncertainty: p.standard.MulInt(2)}
		if withFreedom {
			in.Freedom = p.freedom
		}
		reading, err := in.Read("", units.Metre.OfInt(1))
		if err != nil {
			return measure.LengthReading{}, err
		}
		sum.Terms = append(sum.Terms, measure.Plus("", "", reading))
	}
	return sum.Reading(), nil
}

// welch returns the effective degrees of freedom of JCGM 100:2008, G.4.1, cut to a whole
// number. The library has no use for it: it expands each part by its own factor.
func welch(all []part) (int64, error) {
	sum, err := known(all, false)
	if err != nil {
		return 0, err
	}
	fourth := func(q units.Length) *big.Rat {
		x := q.Rat(units.Micrometre)
		x.Mul(x, x)
		return x.Mul(x, x)
	}
	shares := new(big.Rat)
	for _, p := range all {
		shares.Add(shares, new(big.Rat).Quo(fourth(p.standard), big.NewRat(int64(p.freedom), 1)))
	}
	whole := fourth(sum.Expanded().MulRat(big.NewRat(1, 2)))
	n := whole.Quo(whole, shares)
	return new(big.Int).Quo(n.Num(), n.Denom()).Int64(), nil
}

func effectiveFreedom(r *Row) (Result, error) {
	all, err := parts(r)
	if err != nil {
		return Result{}, err
	}
	n, err := welch(all)
	return Decimal(decimal.NewFromInt(n)), err
}

// expandedUncertainty is the library's factor at the effective degrees of freedom times the
// library's sum. What the library itself says of such parts must not be less.
func expandedUncertainty(r *Row) (Result, error) {
	if err := r.ExpectUnit("nm"); err != nil {
		return Result{}, err
	}
	coverage, err := r.Decimal("coverage")
	if err != nil {
		return Result{}, err
	}
	all, err := parts(r)
	if err != nil {
		return Result{}, err
	}
	n, err1 := welch(all)
	plain, err2 := known(all, false)
	own, err3 := known(all, true)
	if err := errors.Join(err1, err2, err3); err != nil {
		return Result{}, err
	}
	effective, err1 := measure.CoverageFactor(coverage, int(n))
	unlimited, err2 := measure.CoverageFactor(coverage, 0)
	if err := errors.Join(err1, err2); err != nil {
		return Result{}, err
	}
	expanded := plain.Expanded().MulRat(big.NewRat(1, 2)).Mul(effective)
	if got := own.At(unlimited).Radius(); got.Less(expanded) {
		return Result{}, fmt.Errorf("the library's own %s is less than %s", got, expanded)
	}
	return Rat(expanded.Rat(units.Micrometre)), nil
}

type lengthSum = measure.Sum[units.LengthDim]

// certified reads a data set, its numbers as millimetres. The data sets lie in
// testdata/strd, beside the folder of the row's file.
func certified(r *Row) (measure.Series[units.LengthDim], error) {
	var none measure.Series[units.LengthDim]
	name, err := r.Input("data")
	if err != nil {
		return none, err
	}
	file, err := os.Open(filepath.Join(filepath.Dir(r.File), "..", "strd", name+".txt"))
	if err != nil {
		return none, err
	}
	defer file.Close()
	var values []units.Length
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if text := strings.TrimSpace(lines.Text()); !strings.HasPrefix(text, "#") {
			v, err := units.ParseLength(text + " mm")
			if err != nil {
				return none, err
			}
			values = append(values, v)
		}
	}
	return values, nil
}

func seriesMean(r *Row) (Result, error) {
	s, err := certified(r)
	if err != nil {
		return Result{}, err
	}
	return Rat(s.Mean().Rat(units.Millimetre)), nil
}

func seriesDeviation(r *Row) (Result, error) {
	s, err := certified(r)
	if err != nil {
		return Result{}, err
	}
	deviation := new(big.Float).SetPrec(200).SetRat(s.Variance(units.Millimetre))
	return Rat(exactly(deviation.Sqrt(deviation))), nil
}

// exactly returns a number that is not infinite.
func exactly(f *big.Float) *big.Rat {
	r, _ := f.Rat(nil)
	return r
}

func seriesAutocorrelation(r *Row) (Result, error) {
	s, err := certified(r)
	if err != nil {
		return Result{}, err
	}
	c, ok := s.Autocorrelation()
	if !ok {
		return Result{}, fmt.Errorf("all values are equal")
	}
	return Rat(c), nil
}

// stripReading reads a strip as nearest to a width.
func stripReading(r *Row) (measure.LengthReading, error) {
	strip, err := Parse(r, "widths", func(text string) (strip measure.Strip, err error) {
		for item := range slices.Values(strings.Split(text, ",")) {
			w, err := units.ParseLength(strings.TrimSpace(item))
			if err != nil {
				return measure.Strip{}, err
			}
			strip.Prints = append(strip.Prints, w)
		}
		return strip, nil
	})
	if err != nil {
		return measure.LengthReading{}, err
	}
	nearest, err := Parse(r, "nearest", units.ParseLength)
	if err != nil {
		return measure.LengthReading{}, err
	}
	return strip.Read("", units.Exactly(nearest))
}

func stripBound(end func(units.LengthInterval) units.Length) Check {
	return func(r *Row) (Result, error) {
		reading, err := stripReading(r)
		if err != nil {
			return Result{}, err
		}
		return inUnit(r, end(reading.Interval()))
	}
}
