package exchange

import (
	"slices"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

type (
	lengthReading    = measure.Reading[units.LengthDim]
	lengthInstrument = measure.Instrument[units.LengthDim]
	lengthSum        = measure.Sum[units.LengthDim]
	lengthTerm       = measure.Term[units.LengthDim]
)

func measureForms() []form {
	return []form{
		valueBy("Reading", drawReading, sameReading),
		valueBy("Instrument", drawInstrument, func(a, b lengthInstrument) bool {
			x, errA := a.Read("main 1", millimetres(60_012))
			y, errB := b.Read("main 1", millimetres(60_012))
			return (errA == nil) == (errB == nil) && sameReading(x, y)
		}),
		valueBy("Term", drawTerm, func(a, b lengthTerm) bool { return a.Factor.Equal(b.Factor) && sameReading(a.Reading, b.Reading) }),
		valueBy("Sum", drawSum, func(a, b lengthSum) bool { return sameReading(a.Reading(), b.Reading()) }),
		valueBy("Assessment", func(t *rapid.T) measure.Assessment[units.LengthDim] {
			return measure.Assess(drawReading(t), drawLimits(t))
		}, func(a, b measure.Assessment[units.LengthDim]) bool {
			return a.Verdict == b.Verdict && a.Tolerance.Equal(b.Tolerance) && sameReading(a.Reading, b.Reading)
		}),
		valueBy("Agreement", func(t *rapid.T) measure.Agreement[units.LengthDim] {
			return measure.Compare(drawReading(t), drawReading(t))
		}, func(a, b measure.Agreement[units.LengthDim]) bool {
			return a.Agree == b.Agree && a.Known == b.Known && sameReading(a.Difference, b.Difference)
		}),
		valueBy("Condition", drawCondition, func(a, b measure.Condition) bool { return a == b }),
		valueBy("Process", func(t *rapid.T) measure.Process[units.LengthDim] {
			return measure.Process[units.LengthDim]{Mean: drawLength(t), Spread: drawLength(t).Abs()}
		}, func(a, b measure.Process[units.LengthDim]) bool {
			return a.Mean.Equal(b.Mean) && a.Spread.Equal(b.Spread)
		}),
		valueBy("Claim", drawClaim, func(a, b measure.Claim) bool { return a == b }),
		valueBy("Verdict", func(t *rapid.T) measure.Verdict {
			return rapid.SampledFrom([]measure.Verdict{measure.Conforming, measure.BelowLimit, measure.AboveLimit, measure.Undecided}).Draw(t, "verdict")
		}, func(a, b measure.Verdict) bool { return a == b }),
		valueBy("Strip", drawStrip, func(a, b measure.Strip) bool {
			x, errA := a.Read("main 1", units.Between(millimetres(50), millimetres(100)))
			y, errB := b.Read("main 1", units.Between(millimetres(50), millimetres(100)))
			return (errA == nil) == (errB == nil) && sameReading(x, y)
		}),
		valueBy("Feelers", drawFeelers, func(a, b measure.Feelers) bool {
			x, errA := a.Gap("ring 1", new(millimetres(100)), nil)
			y, errB := b.Gap("ring 1", new(millimetres(100)), nil)
			return (errA == nil) == (errB == nil) && sameReading(x, y)
		}),
		valueBy("Series", func(t *rapid.T) measure.Series[units.LengthDim] {
			if rapid.Bool().Draw(t, "none") {
				return measure.Series[units.LengthDim]{}
			}
			return measure.Series[units.LengthDim]{drawLength(t), drawLength(t), drawLength(t)}
		}, func(a, b measure.Series[units.LengthDim]) bool {
			return slices.EqualFunc(a, b, units.Length.Equal)
		}),
		valueBy("Stations", drawStations, func(a, b measure.Stations[units.LengthDim]) bool {
			same := true
			for c := measure.Largest; c <= measure.MeanSize; c++ {
				same = same && sameReading(a.Find(c), b.Find(c))
			}
			return same
		}),
	}
}

// millimetres returns thousandths of a millimetre.
func millimetres(thousandths int64) units.Length { return units.Micrometre.OfInt(thousandths) }

func sameReading(a, b lengthReading) bool {
	return a.Taken() == b.Taken() && a.Interval().Equal(b.Interval()) && a.Bracket().Equal(b.Bracket()) && a.String() == b.String() && a.Problem() == b.Problem()
}

func drawCondition(t *rapid.T) measure.Condition {
	return measure.Condition{What: rapid.SampledFrom([]string{"bolts", "shells"}).Draw(t, "what"), Is: rapid.SampledFrom([]string{"out", "loose"}).Draw(t, "is")}
}

func drawClaim(t *rapid.T) measure.Claim {
	return rapid.SampledFrom([]measure.Claim{measure.Largest, measure.Smallest, measure.Taper, measure.OutOfRound, measure.MeanSize}).Draw(t, "claim")
}

func drawLimits(t *rapid.T) units.LengthInterval {
	if rapid.Bool().Draw(t, "without") {
		return units.LengthInterval{}
	}
	lo := millimetres(rapid.Int64Range(59_000, 61_000).Draw(t, "lower limit"))
	return units.Between(lo, lo.Add(millimetres(rapid.Int64Range(0, 50).Draw(t, "tolerance"))))
}

func drawInstrument(t *rapid.T) lengthInstrument {
	um := func(label string, lo, hi int64) units.Length {
		return units.Nanometre.OfInt(100 * rapid.Int64Range(lo, hi).Draw(t, label))
	}
	in := lengthInstrument{Name: rapid.SampledFrom([]string{"M", "G", ""}).Draw(t, "name"), Freedom: rapid.IntRange(0, 3).Draw(t, "freedom"),
		Graduation: um("graduation", 0, 10), LimitOfError: um("limit of error", 0, 20)}
	if rapid.Bool().Draw(t, "split") {
		in.Common, in.Repeats = um("common", 0, 50), um("repeats", 1, 50)
	} else {
		in.Uncertainty, in.K = um("U", 1, 50), decimal.NewFromInt(rapid.Int64Range(0, 3).Draw(t, "k"))
	}
	if rapid.Bool().Draw(t, "set") {
		ring := lengthInstrument{Name: "ring", Common: um("ring", 1, 20)}
		r, err := ring.Read("ring 50", millimetres(50_000))
		if err != nil {
			t.Fatal(err)
		}
		in.SetOn, in.Setting = r, rapid.SampledFrom([]string{"", "after lunch"}).Draw(t, "setting")
	}
	return in
}

func drawReading(t *rapid.T) lengthReading {
	var r lengthReading
	switch rapid.IntRange(0, 3).Draw(t, "kind of reading") {
	case 0:
		return r
	case 1:
		return measure.Given(units.Between(millimetres(rapid.Int64Range(0, 100).Draw(t, "a")), millimetres(rapid.Int64Range(0, 100).Draw(t, "b"))), "a drawing")
	}
	in := drawInstrument(t)
	r, err := in.Read(rapid.SampledFrom([]string{"main 1", "main 2", ""}).Draw(t, "at"), millimetres(rapid.Int64Range(59_900, 60_100).Draw(t, "v")))
	if err != nil {
		t.Skip(err)
	}
	if rapid.Bool().Draw(t, "condition") {
		r = r.With(drawCondition(t))
	}
	return r
}

func drawTerm(t *rapid.T) lengthTerm {
	term := lengthTerm{Symbol: "D", Name: "bore", Factor: units.One.OfRat(drawRat(t)), Reading: drawReading(t)}
	if rapid.Bool().Draw(t, "needs") {
		term.Needs = append(term.Needs, drawCondition(t))
	}
	return term
}

func drawSum(t *rapid.T) lengthSum {
	s := lengthSum{Name: "main 3", Symbol: "C", NonNegative: rapid.Bool().Draw(t, "not below zero"), AtWorst: rapid.Bool().Draw(t, "at worst")}
	for range rapid.IntRange(0, 3).Draw(t, "terms") {
		s.Terms = append(s.Terms, drawTerm(t))
	}
	return s
}

func drawStrip(t *rapid.T) measure.Strip {
	if rapid.Bool().Draw(t, "none") {
		return measure.Strip{}
	}
	return measure.Strip{Prints: []units.Length{millimetres(50), millimetres(100), millimetres(150)},
		Tolerance: millimetres(rapid.Int64Range(0, 9).Draw(t, "off by")), Batch: rapid.SampledFrom([]string{"", "batch 4"}).Draw(t, "batch")}
}

func drawFeelers(t *rapid.T) measure.Feelers {
	if rapid.Bool().Draw(t, "none") {
		return measure.Feelers{}
	}
	return measure.Feelers{Blades: []units.Length{millimetres(50), millimetres(100), millimetres(150)},
		Tolerance: millimetres(rapid.Int64Range(0, 9).Draw(t, "off by")), Set: rapid.SampledFrom([]string{"", "set A"}).Draw(t, "set")}
}

func drawStations(t *rapid.T) measure.Stations[units.LengthDim] {
	in := lengthInstrument{Name: "M", Common: millimetres(3), Repeats: millimetres(1)}
	directions := rapid.IntRange(1, 3).Draw(t, "directions")
	var planes [][]lengthReading
	for range rapid.IntRange(0, 3).Draw(t, "planes") {
		var plane []lengthReading
		for range directions {
			r, err := in.Read("journal", millimetres(rapid.Int64Range(59_990, 60_010).Draw(t, "v")))
			if err != nil {
				t.Fatal(err)
			}
			plane = append(plane, r)
		}
		planes = append(planes, plane)
	}
	if len(planes) == 0 {
		return measure.Stations[units.LengthDim]{}
	}
	var claims []measure.Claim
	if rapid.Bool().Draw(t, "fewer claims") {
		claims = []measure.Claim{drawClaim(t), measure.Largest}
	}
	s, err := measure.NewStations(planes, claims...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func measureExceptions() map[string]string {
	return map[string]string{
		"Lines": "text of JSON already",
	}
}
