package conform

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func combineKinds() map[string]answerer {
	return map[string]answerer{"combine": kind(combine), "rss": kind(rootSumSquare), "coverage": kind(coverage), "series": kind(series),
		"stations": kind(stations), "welch": kind(welch), "strip": kind(stripRead)}
}

// A sum is the questions of combine and judge.
type sum struct {
	Unit        string       `json:"unit"`
	Limits      *string      `json:"limits"`
	Instruments []instrument `json:"instruments"`
	Terms       []term       `json:"terms"`
	NonNegative bool         `json:"non_negative"`
	AtWorst     bool         `json:"at_worst"`
}

type instrument struct {
	Kind         string  `json:"kind"`
	Name         string  `json:"name"`
	Uncertainty  *string `json:"uncertainty"`
	Repeats      *string `json:"repeats"`
	Common       *string `json:"common"`
	LimitOfError *string `json:"limit_of_error"`
	SetOn        *string `json:"set_on"`
}

type term struct {
	Times string   `json:"times"`
	With  *string  `json:"with"`
	Read  []string `json:"read"`
}

// judged asks package ask.
func (s sum) judged() (map[string]any, error) {
	instruments := []any{}
	for _, i := range s.Instruments {
		one := map[string]any{"kind": i.Kind, "name": i.Name, "uncertainty": i.Uncertainty, "k": nil, "freedom": nil}
		if i.Kind == "gauge" {
			one["repeats"], one["common"], one["limit_of_error"], one["set_on"] = i.Repeats, i.Common, i.LimitOfError, i.SetOn
		}
		instruments = append(instruments, one)
	}
	terms := []any{}
	for i, t := range s.Terms {
		read := t.Read
		if t.With == nil { // a size that is known exactly is written with the tolerance that it has
			at, err := units.ParseLengthInterval(read[0])
			if err != nil {
				return nil, err
			}
			if at.IsPoint() {
				number, unit, _ := strings.Cut(at.Lo().Exact(), " ")
				read = []string{number + " ±0 " + unit}
			}
		}
		terms = append(terms, map[string]any{"symbol": fmt.Sprint("x", i+1), "name": fmt.Sprint("x", i+1), "times": t.Times, "with": t.With, "how": "shown", "read": read, "stated": []any{}, "needs": []any{}})
	}
	limits := ">= 0 " + s.Unit
	if s.Limits != nil {
		limits = *s.Limits
	}
	return asked("judge", map[string]any{"name": "sum", "limits": limits, "unit": s.Unit, "instruments": instruments, "terms": terms,
		"non_negative": s.NonNegative, "at_worst": s.AtWorst, "direct": nil, "wanted": []any{}})
}

func combine(s sum) (answer, error) {
	if s.Limits != nil {
		return nil, errors.New("combine has no limits")
	}
	u, err := units.Parse[units.LengthUnit](s.Unit)
	if err != nil {
		return nil, err
	}
	got, err := s.judged()
	if err != nil {
		return nil, err
	}
	var ends [2]units.Length
	reply := answer{}
	for i, key := range []string{"lo", "hi"} {
		text, is := got["measured"].(map[string]any)[key].(string)
		if !is {
			reply[key] = nil
			continue
		}
		if ends[i], err = units.ParseLength(text); err != nil {
			return nil, err
		}
		reply[key] = in(ends[i], u)
	}
	brackets := units.Length{} // what is certain is no uncertainty
	for _, t := range s.Terms {
		times, err := units.ParseRatio(t.Times)
		if err != nil {
			return nil, err
		}
		half := units.Length{}
		if t.With == nil {
			at, err := units.ParseLengthInterval(t.Read[0])
			if err != nil {
				return nil, err
			}
			if half = (units.Length{}); at.Bounded() {
				half = at.Radius()
			}
		} else if half, err = s.limitOfError(*t.With); err != nil {
			return nil, err
		}
		brackets = brackets.Add(half.Times(times.Abs()))
	}
	if reply["lo"] != nil && reply["hi"] != nil && !s.NonNegative {
		half := ends[1].Sub(ends[0]).Rat(u)
		reply["uncertainty"] = digits(half.Quo(half, units.One.OfInt(2).Rat(units.One)).Sub(half, brackets.Rat(u)))
	}
	return reply, nil
}

func (s sum) limitOfError(name string) (units.Length, error) {
	for _, i := range s.Instruments {
		if i.Name == name && i.LimitOfError != nil {
			return units.ParseLength(*i.LimitOfError)
		}
	}
	return units.Length{}, nil
}

// rootSumSquare combines doubts of sources that know nothing of each other.
func rootSumSquare(q struct{ Parts []string }) (answer, error) {
	var s measure.Sum[units.LengthDim]
	for i, part := range q.Parts {
		u, err := units.ParseLength(part + " mm")
		if err != nil {
			return nil, err
		}
		if u.IsZero() {
			continue
		}
		gauge := measure.LengthInstrument{Name: fmt.Sprint(i), Uncertainty: u.Abs()}
		r, err := gauge.Indicate("part", units.Length{})
		if err != nil {
			return nil, err
		}
		s.Terms = append(s.Terms, measure.Plus(fmt.Sprint(i), "part", r))
	}
	if len(s.Terms) == 0 {
		return answer{"value": "0"}, nil
	}
	return answer{"value": in(s.Reading().Expanded(), units.Millimetre)}, nil
}

type readings struct {
	Values []string
	Unit   string
}

// series is of forces, or of numbers without a unit.
func series(q readings) (answer, error) {
	if q.Unit == "" {
		return seriesOf(q, units.One)
	}
	u, err := units.Parse[units.ForceUnit](q.Unit)
	if err != nil {
		return nil, err
	}
	return seriesOf(q, u)
}

func seriesOf[D units.Dimension](q readings, u units.Unit[D]) (answer, error) {
	var s measure.Series[D]
	for _, text := range q.Values {
		x, err := units.Parse[units.Quantity[D]](text)
		if err != nil {
			return nil, err
		}
		s = append(s, x)
	}
	if len(s) < 2 {
		return nil, errors.New("fewer than two values have no deviation")
	}
	square := new(big.Float).SetPrec(200).SetRat(s.Variance(u))
	deviation, _ := square.Sqrt(square).Rat(nil)
	reply := answer{"mean": in(s.Mean(), u), "deviation": deviation.FloatString(40), "autocorrelation": nil}
	if r, ok := s.Autocorrelation(); ok {
		reply["autocorrelation"] = digits(r)
	}
	return reply, nil
}

// stations are in one plane, each read once.
func stations(q struct {
	Of       string
	Stations int
	Standard string `json:"standard_uncertainty"`
	Freedom  *int
	Unit     string
}) (answer, error) {
	claims := map[string]measure.Claim{"largest": measure.Largest, "range": measure.OutOfRound}
	claim, known := claims[q.Of]
	standard, err := units.ParseLength(q.Standard)
	u, err2 := units.Parse[units.LengthUnit](q.Unit)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	if !known || q.Stations < 1 || q.Stations > 1000 {
		return nil, errors.New("largest or range, of 1 to 1000 stations")
	}
	gauge := measure.LengthInstrument{Name: "gauge", Repeats: standard.MulInt(2)}
	if q.Freedom != nil {
		gauge.Freedom = *q.Freedom
	}
	var plane []measure.LengthReading
	for i := range q.Stations {
		r, err := gauge.Read(fmt.Sprint("station ", i+1), units.Metre.OfInt(1))
		if err != nil {
			return nil, err
		}
		plane = append(plane, r)
	}
	s, err := measure.NewStations([][]measure.LengthReading{plane}, claim)
	if err != nil {
		return nil, err
	}
	return answer{"uncertainty": in(s.Find(claim).Expanded(), u)}, nil
}

// welch are effective degrees of freedom, for which the library has no use: it expands each part by its own
// factor. The sum and the factor are the library's.
func welch(q struct {
	Parts []struct {
		Standard string
		Freedom  int64
	}
	Probability *decimal.Decimal
}) (answer, error) {
	var parts []string
	shares := new(big.Rat)
	for _, p := range q.Parts {
		u, err := units.ParseRatio(p.Standard)
		if err != nil {
			return nil, err
		}
		if u.Sign() <= 0 || p.Freedom < 1 {
			return nil, errors.New("a part above zero, of one degree of freedom or more")
		}
		parts = append(parts, p.Standard)
		square := u.Rat(units.One)
		square.Mul(square, square)
		shares.Add(shares, square.Mul(square, square).Quo(square, new(big.Rat).SetInt64(p.Freedom)))
	}
	got, err := rootSumSquare(struct{ Parts []string }{parts})
	if err != nil {
		return nil, err
	}
	standard, _ := number(got["value"].(string))
	if shares.Sign() == 0 {
		return nil, errors.New("no parts")
	}
	// The library rounds the root up; the squares are exact.
	whole := new(big.Rat)
	for _, text := range parts {
		x, _ := number(text)
		whole.Add(whole, x.Mul(x, x))
	}
	whole.Mul(whole, whole).Quo(whole, shares)
	freedom := new(big.Int).Quo(whole.Num(), whole.Denom())
	reply := answer{"freedom": freedom.String(), "expanded": nil}
	if q.Probability != nil {
		if !freedom.IsInt64() || freedom.Int64() > 1e9 {
			return nil, errors.New("more degrees of freedom than a billion")
		}
		k, err := measure.CoverageFactor(*q.Probability, int(freedom.Int64()))
		if err != nil {
			return nil, err
		}
		reply["expanded"] = digits(standard.Mul(standard, k.Rat()))
	}
	return reply, nil
}

func stripRead(q struct {
	Prints     []string
	Seen, Unit string
}) (answer, error) {
	var strip measure.Strip
	for _, text := range q.Prints {
		c, err := units.ParseLength(text)
		if err != nil {
			return nil, err
		}
		strip.Prints = append(strip.Prints, c)
	}
	seen, err := units.ParseLengthInterval(q.Seen)
	u, err2 := units.Parse[units.LengthUnit](q.Unit)
	if err := errors.Join(err, err2); err != nil {
		return nil, err
	}
	r, err := strip.Read("", seen)
	if err != nil {
		return nil, err
	}
	return ends(r.Interval(), u), nil
}
