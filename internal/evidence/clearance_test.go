package evidence_test

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

	"example.com/closefit/clearance"
	"example.com/closefit/internal/evidence"
	"example.com/closefit/units"
)

// clearanceChecks are the checks of package clearance.
func clearanceChecks() map[string]evidence.Check {
	return map[string]evidence.Check{
		"smallest clearance":     printedFit(units.LengthInterval.Lo),
		"largest clearance":      printedFit(units.LengthInterval.Hi),
		"undersize wall":         steppedSize(clearance.UndersizeWall),
		"undersize journal":      steppedSize(clearance.UndersizeJournal),
		"undersize bore":         steppedSize(clearance.UndersizeBore),
		"oversize":               steppedSize(clearance.Oversize),
		"gap growth":             gapGrowth,
		"end play after washers": endPlayAfterWashers,

		"conformity probability": conformityProbability,
		"guard factor":           guardFactor,
		"consumer risk":          globalRisk(func(r clearance.Risks) float64 { return r.Consumer }),
		"producer risk":          globalRisk(func(r clearance.Risks) float64 { return r.Producer }),
		"root sum square":        rootSumSquare,
		"coverage factor":        coverageFactor,
		"effective freedom":      effectiveFreedom,
		"expanded uncertainty":   expandedUncertainty,

		"series mean":               seriesMean,
		"series standard deviation": seriesDeviation,
		"series autocorrelation":    seriesAutocorrelation,

		"coefficient per fahrenheit":             coefficientPerFahrenheit,
		"growth":                                 thermalGrowth,
		"warmed from one temperature to another": warmedFromTo,

		"smallest by rule":  sizeRule(units.LengthInterval.Lo),
		"largest by rule":   sizeRule(units.LengthInterval.Hi),
		"strip lower bound": stripBound(units.LengthInterval.Lo),
		"strip upper bound": stripBound(units.LengthInterval.Hi),
	}
}

// inUnit returns the length in the row's unit.
func inUnit(r *evidence.Row, q units.Length) (evidence.Result, error) {
	u, err := units.ParseUnit[units.LengthDim](r.Unit())
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(q.Rat(u)), nil
}

// partTimes says how often a part counts in a printed fit.
var partTimes = [...]struct {
	prefix string
	times  int64
}{{"bore", +1}, {"shaft", -1}, {"two_shells", -2}, {"gasket", +1}}

// printedFit adds up the part sizes of a table and gives one end of the clearance.
func printedFit(end func(units.LengthInterval) units.Length) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		f := clearance.Fit{Name: "fit", Symbol: "C"}
		for _, key := range r.Keys() {
			size, err := evidence.Parse(r, key, units.ParseLengthInterval)
			if err != nil {
				return evidence.Result{}, err
			}
			term := clearance.Term{Symbol: key, Name: key, Reading: clearance.Given(size, "printed")}
			for _, p := range partTimes {
				if strings.HasPrefix(key, p.prefix) {
					term.Times = p.times
				}
			}
			if term.Times == 0 {
				return evidence.Result{}, fmt.Errorf("no part is called %q", key)
			}
			f.Terms = append(f.Terms, term)
		}
		return inUnit(r, end(f.Reading(clearance.WorstCase).Interval()))
	}
}

// steppedSize moves a printed size by an undersize or an oversize.
func steppedSize(step func(units.LengthInterval, units.Length) units.LengthInterval) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		standard, err := evidence.Parse(r, "standard", units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		by, err := evidence.Parse(r, "step", units.ParseLength)
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnit(r, step(standard, by).Lo())
	}
}

func gapGrowth(r *evidence.Row) (evidence.Result, error) {
	bore, err := evidence.Parse(r, "bore", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, clearance.GapGrowth(bore).Mid())
}

// endPlayAfterWashers exchanges the washers fitted for others, by their total
// thickness.
func endPlayAfterWashers(r *evidence.Row) (evidence.Result, error) {
	var sizes [3]clearance.LengthReading
	for i, key := range []string{"play", "fitted", "instead"} {
		size, err := evidence.Parse(r, key, units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		sizes[i] = clearance.Given(size, "printed")
	}
	f := clearance.MeasuredEndPlay(sizes[0], sizes[1])
	after, err := f.With(clearance.WorstCase, clearance.Alternative{Term: "t1", Reading: sizes[2]})
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, after.Reading(clearance.WorstCase).Interval().Lo())
}

// asLength takes a pure number for so many millimetres: the formulas of JCGM 106
// hold in any unit.
func asLength(d decimal.Decimal) units.Length { return units.Millimetre.Of(d) }

// numberInterval reads an interval of pure numbers.
func numberInterval(text string) (units.LengthInterval, error) {
	return units.ParseLengthInterval(text + " mm")
}

// stated returns the reading of a value with a standard uncertainty.
func stated(value, standard decimal.Decimal) (clearance.LengthReading, error) {
	in := clearance.LengthInstrument{Uncertainty: asLength(standard).MulInt(2)}
	return in.Read(asLength(value))
}

func conformityProbability(r *evidence.Row) (evidence.Result, error) {
	value, err := r.Decimal("value")
	if err != nil {
		return evidence.Result{}, err
	}
	standard, err := r.Decimal("standard_uncertainty")
	if err != nil {
		return evidence.Result{}, err
	}
	limits, err := evidence.Parse(r, "limits", numberInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	reading, err := stated(value, standard)
	if err != nil {
		return evidence.Result{}, err
	}
	p, err := clearance.ConformityProbability(reading, limits)
	return evidence.Float64(p), err
}

func guardFactor(r *evidence.Row) (evidence.Result, error) {
	risk, err := r.Float64("risk")
	if err != nil {
		return evidence.Result{}, err
	}
	k, err := clearance.GuardFactor(risk)
	return evidence.Float64(k), err
}

// globalRisk takes a process of mean 0 and spread 1, limits at ± limit, and a
// measurement whose expanded uncertainty (k = 2) is limit/ratio; parts are
// accepted within ± guard times the limit.
func globalRisk(which func(clearance.Risks) float64) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		limit, err := r.Decimal("limit")
		if err != nil {
			return evidence.Result{}, err
		}
		ratio, err := r.Decimal("ratio")
		if err != nil {
			return evidence.Result{}, err
		}
		guard, err := r.Decimal("guard")
		if err != nil {
			return evidence.Result{}, err
		}
		around := func(d decimal.Decimal) units.LengthInterval {
			return units.PlusMinus(units.Length{}, asLength(d))
		}
		process := clearance.Process[units.LengthDim]{Spread: asLength(decimal.NewFromInt(1))}
		expanded := asLength(limit).MulRat(new(big.Rat).Inv(ratio.Rat()))
		risks, err := process.Risks(around(limit), around(limit.Mul(guard)), expanded)
		return evidence.Float64(which(risks)), err
	}
}

// rootSumSquare combines numbers of nanometres. A row that wants places of a
// nanometre is computed in micrometres, since the result is rounded up to the
// nanometre.
func rootSumSquare(r *evidence.Row) (evidence.Result, error) {
	if err := r.ExpectUnit("nm"); err != nil {
		return evidence.Result{}, err
	}
	scale := units.Nanometre
	if !r.Tolerance.Exact() {
		scale = units.Micrometre
	}
	var instruments []clearance.LengthInstrument
	for _, key := range r.Keys() {
		u, err := r.Decimal(key)
		if err != nil {
			return evidence.Result{}, err
		}
		instruments = append(instruments, clearance.LengthInstrument{Uncertainty: scale.Of(u)})
	}
	return evidence.Rat(clearance.Together(instruments...).Rat(scale)), nil
}

func coverageFactor(r *evidence.Row) (evidence.Result, error) {
	p, err := evidence.Parse(r, "probability", parseCoverage)
	if err != nil {
		return evidence.Result{}, err
	}
	freedom, err := r.Int("freedom")
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Decimal(p.Factor(freedom)), nil
}

// doubtful returns the sum of readings whose standard uncertainties and degrees of
// freedom the row has as "25/18", each a number of micrometres for a nanometre, so
// that rounding up to the nanometre is small.
func doubtful(r *evidence.Row) (clearance.LengthReading, error) {
	f := clearance.Fit{Name: "sum", Symbol: "y"}
	for _, key := range r.Keys() {
		if key == "coverage" {
			continue
		}
		in, err := evidence.Parse(r, key, func(text string) (clearance.LengthInstrument, error) {
			standard, freedom, _ := strings.Cut(text, "/")
			u, err1 := decimal.NewFromString(standard)
			n, err2 := strconv.Atoi(freedom)
			return clearance.LengthInstrument{Name: key, Uncertainty: units.Micrometre.Of(u).MulInt(2), Freedom: n}, errors.Join(err1, err2)
		})
		if err != nil {
			return clearance.LengthReading{}, err
		}
		reading, err := in.Read(units.Metre.OfInt(1))
		if err != nil {
			return clearance.LengthReading{}, err
		}
		f.Terms = append(f.Terms, clearance.Term{Symbol: key, Name: key, Times: 1, Reading: reading})
	}
	return f.Reading(clearance.ByKind), nil
}

func effectiveFreedom(r *evidence.Row) (evidence.Result, error) {
	sum, err := doubtful(r)
	return evidence.Decimal(decimal.NewFromInt(int64(sum.Freedom()))), err
}

func expandedUncertainty(r *evidence.Row) (evidence.Result, error) {
	if err := r.ExpectUnit("nm"); err != nil {
		return evidence.Result{}, err
	}
	sum, err := doubtful(r)
	if err != nil {
		return evidence.Result{}, err
	}
	coverage, err := evidence.Parse(r, "coverage", parseCoverage)
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(sum.At(coverage).Radius().Rat(units.Micrometre)), nil
}

func parseCoverage(text string) (clearance.Coverage, error) {
	d, err := decimal.NewFromString(text)
	if err != nil {
		return clearance.Coverage{}, err
	}
	return clearance.CoverageProbability(d)
}

// certified reads a data set, its numbers as millimetres.
func certified(r *evidence.Row) (clearance.Series[units.LengthDim], error) {
	var none clearance.Series[units.LengthDim]
	name, err := r.Input("data")
	if err != nil {
		return none, err
	}
	file, err := os.Open(filepath.Join(root, "clearance", "testdata", "strd", name+".txt"))
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
	return clearance.NewSeries(values...)
}

func seriesMean(r *evidence.Row) (evidence.Result, error) {
	s, err := certified(r)
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Rat(s.Mean().Rat(units.Millimetre)), nil
}

func seriesDeviation(r *evidence.Row) (evidence.Result, error) {
	s, err := certified(r)
	if err != nil {
		return evidence.Result{}, err
	}
	return evidence.Decimal(s.Spread(units.Millimetre, 25)), nil
}

func seriesAutocorrelation(r *evidence.Row) (evidence.Result, error) {
	s, err := certified(r)
	if err != nil {
		return evidence.Result{}, err
	}
	c, ok := s.Autocorrelation()
	if !ok {
		return evidence.Result{}, fmt.Errorf("all values are equal")
	}
	return evidence.Rat(c), nil
}

// millionths reads a coefficient in millionths.
func millionths(r *evidence.Row, key string) (clearance.Expansion, error) {
	d, err := r.Decimal(key)
	if err != nil {
		return clearance.Expansion{}, err
	}
	d = d.Shift(-6)
	return clearance.PerKelvin(d, d)
}

func coefficientPerFahrenheit(r *evidence.Row) (evidence.Result, error) {
	if err := r.ExpectUnit("1e-6/°F"); err != nil {
		return evidence.Result{}, err
	}
	e, err := millionths(r, "per_kelvin")
	if err != nil {
		return evidence.Result{}, err
	}
	f, _ := e.PerFahrenheit(15)
	return evidence.Decimal(f.Shift(6)), nil
}

func thermalGrowth(r *evidence.Row) (evidence.Result, error) {
	size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	c, err := condition(r, "temperature")
	if err != nil {
		return evidence.Result{}, err
	}
	g, err := c.Growth(size)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, g.Lo())
}

// condition reads the coefficient and a temperature.
func condition(r *evidence.Row, key string) (clearance.Condition, error) {
	e, err := millionths(r, "per_kelvin")
	if err != nil {
		return clearance.Condition{}, err
	}
	t, err := evidence.Parse(r, key, units.ParseTemperatureInterval)
	return clearance.Condition{Expansion: e, Temperature: t}, err
}

// warmedFromTo takes a size at one temperature to 20 °C and from there to another.
func warmedFromTo(r *evidence.Row) (evidence.Result, error) {
	size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
	if err != nil {
		return evidence.Result{}, err
	}
	from, err := condition(r, "from")
	if err != nil {
		return evidence.Result{}, err
	}
	to, err := condition(r, "to")
	if err != nil {
		return evidence.Result{}, err
	}
	reference, err := from.AtReference(clearance.Given(size, "published"))
	if err != nil {
		return evidence.Result{}, err
	}
	warm, err := to.Warmed(reference)
	if err != nil {
		return evidence.Result{}, err
	}
	return inUnit(r, warm.Interval().Lo())
}

func sizeRule(end func(units.LengthInterval) units.Length) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		lo, err := r.Decimal("per_lo")
		if err != nil {
			return evidence.Result{}, err
		}
		hi, err := r.Decimal("per_hi")
		if err != nil {
			return evidence.Result{}, err
		}
		size, err := evidence.Parse(r, "size", units.ParseLengthInterval)
		if err != nil {
			return evidence.Result{}, err
		}
		limits, err := clearance.SizeRule{PerSizeLo: lo, PerSizeHi: hi}.Limits(clearance.Given(size, ""))
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnit(r, end(limits))
	}
}

// stripReading reads a strip as nearest to a width.
func stripReading(r *evidence.Row) (clearance.LengthReading, error) {
	strip, err := evidence.Parse(r, "widths", func(text string) (clearance.Strip, error) {
		var widths []units.Length
		for item := range slices.Values(strings.Split(text, ",")) {
			w, err := units.ParseLength(strings.TrimSpace(item))
			if err != nil {
				return clearance.Strip{}, err
			}
			widths = append(widths, w)
		}
		return clearance.NewStrip(widths...)
	})
	if err != nil {
		return clearance.LengthReading{}, err
	}
	nearest, err := evidence.Parse(r, "nearest", units.ParseLength)
	if err != nil {
		return clearance.LengthReading{}, err
	}
	return strip.Nearest(nearest)
}

func stripBound(end func(units.LengthInterval) units.Length) evidence.Check {
	return func(r *evidence.Row) (evidence.Result, error) {
		reading, err := stripReading(r)
		if err != nil {
			return evidence.Result{}, err
		}
		return inUnit(r, end(reading.Interval()))
	}
}
