package conform

import (
	"errors"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func judgeKinds() map[string]answerer {
	return map[string]answerer{"judge": kind(judge), "conformity": kind(conformity), "guard factor": kind(guardFactor), "risk": kind(risk)}
}

func judge(s sum) (answer, error) {
	if s.Limits == nil {
		return nil, errors.New("judge needs limits")
	}
	got, err := s.judged()
	if err != nil {
		return nil, err
	}
	return answer{"verdict": got["verdict"], "meets_lower": got["meets_lower"], "meets_upper": got["meets_upper"]}, nil
}

// conformity is of pure numbers; a millimetre stands for one.
func conformity(q struct {
	Value, Limits string
	Standard      string `json:"standard_uncertainty"`
}) (answer, error) {
	value, err := units.ParseLength(q.Value + " mm")
	standard, err2 := units.ParseLength(q.Standard + " mm")
	limits, err3 := units.ParseLengthInterval(q.Limits + " mm")
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	gauge := measure.LengthInstrument{Uncertainty: standard.MulInt(2)}
	r, err := gauge.Indicate("", value)
	if err != nil {
		return nil, err
	}
	least, _, err := measure.Conformity(r, limits)
	return answer{"probability": float(least)}, err
}

func guardFactor(q struct{ Risk decimal.Decimal }) (answer, error) {
	k, err := measure.CoverageFactor(decimal.NewFromInt(1).Sub(q.Risk.Mul(decimal.NewFromInt(2))), 0)
	return answer{"factor": k.String()}, err
}

// risk is that of a process of mean 0 and spread 1, in millimetres.
func risk(q struct{ Limit, Uncertainty, Accept string }) (answer, error) {
	limit, err := millimetres(q.Limit)
	expanded, err2 := millimetres(q.Uncertainty)
	accept, err3 := millimetres(q.Accept)
	if err := errors.Join(err, err2, err3); err != nil {
		return nil, err
	}
	p := measure.Process[units.LengthDim]{Spread: units.Millimetre.OfInt(1)}
	consumer, producer, err := p.Risks(units.PlusMinus(units.Length{}, limit), limit.Sub(accept), expanded)
	return answer{"consumer": float(consumer), "producer": float(producer)}, err
}

// millimetres takes a number for so many.
func millimetres(text string) (units.Length, error) {
	n, err := units.ParseRatio(text)
	return units.Millimetre.OfRat(n.Rat(units.One)), err
}

func coverage(q struct {
	Probability decimal.Decimal
	Freedom     int
}) (answer, error) {
	k, err := measure.CoverageFactor(q.Probability, q.Freedom)
	return answer{"k": k.String()}, err
}

func float(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }
