package exchange

import (
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
			return a.Agree == b.Agree && sameReading(a.Difference, b.Difference)
		}),
		valueBy("Condition", drawCondition, func(a, b measure.Condition) bool { return a == b }),
		valueBy("Coverage", drawCoverage, func(a, b measure.Coverage) bool {
			return a.Probability() == b.Probability() && a.Factor(3).Equal(b.Factor(3)) && a.Factor(0).Equal(b.Factor(0))
		}),
		valueBy("Probability", func(t *rapid.T) measure.Probability {
			p := measure.Probability{Least: rapid.Float64Range(0, 1).Draw(t, "least"), Greatest: rapid.Float64Range(0, 1).Draw(t, "greatest")}
			if p.Least > p.Greatest {
				p.Least, p.Greatest = p.Greatest, p.Least
			}
			return p
		}, func(a, b measure.Probability) bool { return a == b }),
		valueBy("Risks", func(t *rapid.T) measure.Risks {
			return measure.Risks{Consumer: rapid.Float64Range(0, 1).Draw(t, "consumer"), Producer: rapid.Float64Range(0, 1).Draw(t, "producer")}
		}, func(a, b measure.Risks) bool { return a == b }),
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
			x, errA := a.Between("main 1", millimetres(50), millimetres(100))
			y, errB := b.Between("main 1", millimetres(50), millimetres(100))
			return (errA == nil) == (errB == nil) && sameReading(x, y)
		}),
		valueBy("Feelers", drawFeelers, func(a, b measure.Feelers) bool {
			x, errA := a.Goes("ring 1", millimetres(100))
			y, errB := b.Goes("ring 1", millimetres(100))
			return (errA == nil) == (errB == nil) && sameReading(x, y)
		}),
		valueBy("Series", func(t *rapid.T) measure.Series[units.LengthDim] {
			if rapid.Bool().Draw(t, "none") {
				return measure.Series[units.LengthDim]{}
			}
			s, err := measure.NewSeries(drawLength(t), drawLength(t), drawLength(t))
			if err != nil {
				t.Fatal(err)
			}
			return s
		}, func(a, b measure.Series[units.LengthDim]) bool {
			return a.Len() == b.Len() && (a.Len() == 0 || a.Mean().Equal(b.Mean()))
		}),
		valueBy("Stations", drawStations, func(a, b measure.Stations[units.LengthDim]) bool {
			return sameReading(a.Largest(), b.Largest()) && sameReading(a.Taper(), b.Taper()) && sameReading(a.OutOfRound(), b.OutOfRound())
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

func drawCoverage(t *rapid.T) measure.Coverage {
	var c measure.Coverage
	var err error
	switch rapid.IntRange(0, 2).Draw(t, "made from") {
	case 1:
		c, err = measure.CoverageFactor(decimal.New(rapid.Int64Range(1, 10_000).Draw(t, "k"), -3))
	case 2:
		c, err = measure.CoverageProbability(decimal.New(rapid.Int64Range(1, 999_999).Draw(t, "p"), -6))
	}
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func drawClaim(t *rapid.T) measure.Claim {
	return rapid.SampledFrom([]measure.Claim{measure.Extremes, measure.Taper, measure.OutOfRound}).Draw(t, "claim")
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
	s, err := measure.NewStrip(millimetres(50), millimetres(100), millimetres(150))
	if err == nil && rapid.Bool().Draw(t, "tolerance") {
		s, err = s.WithTolerance(millimetres(rapid.Int64Range(0, 9).Draw(t, "off by")), rapid.SampledFrom([]string{"", "batch 4"}).Draw(t, "batch"))
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func drawFeelers(t *rapid.T) measure.Feelers {
	if rapid.Bool().Draw(t, "none") {
		return measure.Feelers{}
	}
	f, err := measure.NewFeelers(millimetres(50), millimetres(100), millimetres(150))
	if err == nil && rapid.Bool().Draw(t, "tolerance") {
		f, err = f.WithTolerance(millimetres(rapid.Int64Range(0, 9).Draw(t, "off by")), rapid.SampledFrom([]string{"", "set A"}).Draw(t, "set"))
	}
	if err != nil {
		t.Fatal(err)
	}
	return f
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
	s, err := measure.NewStations(planes...)
	if err != nil {
		t.Fatal(err)
	}
	if rapid.Bool().Draw(t, "fewer claims") {
		s = s.Claiming(drawClaim(t), measure.Extremes)
	}
	return s
}
