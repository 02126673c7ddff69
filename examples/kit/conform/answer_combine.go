package conform

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func combineKinds() map[string]answerer {
	return map[string]answerer{"combine": kind(combine), "rss": kind(rootSumSquare), "coverage": kind(coverage), "series": kind(series)}
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

func series(q struct {
	Values []string
	Unit   string
}) (answer, error) {
	var s measure.Series[units.ForceDim]
	u, err := units.Parse[units.ForceUnit](q.Unit)
	if err != nil {
		return nil, err
	}
	for _, text := range q.Values {
		f, err := units.ParseForce(text)
		if err != nil {
			return nil, err
		}
		s = append(s, f)
	}
	if len(s) < 2 {
		return nil, errors.New("fewer than two values have no deviation")
	}
	square, _ := s.Variance(u).Float64()
	return answer{"mean": in(s.Mean(), u), "deviation": float(root(square))}, nil
}
