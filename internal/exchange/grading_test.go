package exchange

import (
	"context"
	"strings"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

func gradingForms() []form {
	return []form{
		valueBy("Side", func(t *rapid.T) grading.Side {
			return rapid.SampledFrom([]grading.Side{grading.Housing, grading.Journal}).Draw(t, "side")
		}, same),
		valueBy("Half", drawHalf, same),
		nameBy("Part", drawPart, same),
		valueBy("Pair", drawPair, same),
		valueBy("Family", drawFamily, same),
		valueBy("Shell", drawShell, same),
		valueBy("Code", func(t *rapid.T) grading.Code {
			c := grading.Code{Code: "A", Shell: rapid.SampledFrom([]string{"", "red/blue"}).Draw(t, "shell")}
			if rapid.Bool().Draw(t, "numbered") {
				c.Number = new(rapid.IntRange(-3, 3).Draw(t, "number"))
			}
			c.Size = drawLimits(t)
			return c
		}, same),
		valueBy("SumRow", func(t *rapid.T) grading.SumRow {
			return grading.SumRow{From: rapid.IntRange(-3, 3).Draw(t, "from"), To: rapid.IntRange(-3, 3).Draw(t, "to"), Shells: "thin/thick"}
		}, same),
		valueBy("Scheme", drawScheme, same),
		valueBy("Row", drawRow, same),
		valueBy("Stamp", func(t *rapid.T) grading.Stamp { return readRow(t, drawRow(t)).Stamps[0] }, same),
		valueBy("RowReading", func(t *rapid.T) grading.RowReading { return readRow(t, drawRow(t)) }, same),
		valueBy("Assignment", drawAssignment, same),
		valueBy("Site", drawAnySite, same),
		valueBy("PairFit", func(t *rapid.T) grading.PairFit { return drawFits(t)[0] }, same),
		valueBy("Audit", func(t *rapid.T) grading.Audit {
			a := drawAudit(t)
			a.Cells = nil
			if rapid.Bool().Draw(t, "with a cell") {
				a.Cells = []grading.Comparison{drawCell(t)}
			}
			return a
		}, same),
		valueBy("Comparison", drawComparison, same),

		valueBy("Plan", drawGradingPlan, same),
	}
}

func drawHalf(t *rapid.T) grading.Half {
	return rapid.SampledFrom([]grading.Half{grading.Either, grading.Upper, grading.Lower, grading.Front, grading.Rear}).Draw(t, "half")
}

// drawPart draws grades too that end in the word of a half.
func drawPart(t *rapid.T) grading.Part {
	return grading.Part{Grade: rapid.SampledFrom([]string{"B", "0.25 undersize red", "rear", "red Upper", "either", "\"1\" <b>"}).Draw(t, "grade"), Half: drawHalf(t)}
}

func drawPair(t *rapid.T) grading.Pair { return grading.Pair{Upper: drawPart(t), Lower: drawPart(t)} }

func drawFamily(t *rapid.T) grading.Family {
	return grading.Family{Name: rapid.SampledFrom([]string{"0.25", "0.50"}).Draw(t, "family"), Undersize: drawLength(t)}
}

func drawShell(t *rapid.T) grading.Shell {
	return grading.Shell{Grade: "red", Half: drawHalf(t), Family: rapid.SampledFrom([]string{"", "0.25"}).Draw(t, "family"), Wall: drawLimits(t)}
}

// drawScheme draws a scheme of any of the rules, whole or not.
func drawScheme(t *rapid.T) grading.Scheme {
	s := steppedScheme()
	s.Source, s.Mix, s.Interchangeable = rapid.SampledFrom([]string{"", "manual, page 12"}).Draw(t, "source"), rapid.IntRange(0, 3).Draw(t, "mix"), rapid.Bool().Draw(t, "interchangeable")
	s.Families = drawSome(t, "families", drawFamily)
	s.Ground = rapid.SampledFrom([]string{"", "0.25"}).Draw(t, "ground")
	switch rapid.IntRange(0, 2).Draw(t, "rule") {
	case 0:
		s.Shells, s.Limits, s.Wanted = nil, units.LengthInterval{}, nil
		s.Matrix = [][]string{{"", "1", "2"}, {"A", "red/blue", "red"}, {"B", "blue", "blue/red"}}
	case 1:
		s.Housing, s.Journal = []grading.Code{{Code: "1"}}, []grading.Code{{Code: "A", Number: new(3)}}
		s.Sums = []grading.SumRow{{From: 2, To: 4, Shells: "red/blue"}}
	}
	return s
}

// steppedScheme is an invented scheme with sizes: a code stands for 6 µm of bore or
// journal, a grade for 4 µm of wall.
func steppedScheme() grading.Scheme {
	size := units.MustParseLengthInterval
	s := grading.Scheme{
		Name: "stepped", Mix: 1,
		Housing: []grading.Code{{Code: "A", Shell: "red", Size: size("64.000..64.006 mm")}, {Code: "B", Shell: "blue", Size: size("64.006..64.012 mm")}},
		Journal: []grading.Code{{Code: "1", Shell: "red", Size: size("59.970..59.976 mm")}, {Code: "2", Shell: "blue", Size: size("59.964..59.970 mm")}},
		Limits:  size("0.020..0.044 mm"), Wanted: new(units.MustParseLength("0.030 mm")),
	}
	for _, half := range []grading.Half{grading.Upper, grading.Lower} {
		s.Shells = append(s.Shells, grading.Shell{Grade: "red", Half: half, Wall: size("1.997..1.999 mm")}, grading.Shell{Grade: "blue", Half: half, Wall: size("2.001..2.003 mm")})
	}
	return s
}

var twoMains = []string{"main 1", "main 2"}

// drawRow draws a row of the stepped scheme that can be read, in one way or in two.
func drawRow(t *rapid.T) grading.Row { return drawRowOf(t, grading.Housing, twoMains) }

func drawRowOf(t *rapid.T, side grading.Side, locations []string) grading.Row {
	s := steppedScheme()
	r := grading.Row{Side: side, Locations: locations, Codes: s.Codes(side), Upright: rapid.Bool().Draw(t, "upright")}
	words := make([]string, len(locations))
	for i := range words {
		words[i] = rapid.SampledFrom(append(s.Codes(side), "?")).Draw(t, "code")
	}
	if rapid.Bool().Draw(t, "its end is known") {
		r.From = rapid.SampledFrom(locations).Draw(t, "from")
	}
	if rapid.Bool().Draw(t, "marked") {
		r.Mark = "*"
		words = append(words, r.Mark)
	}
	r.Text = strings.Join(words, " ")
	return r
}

func readRow(t *rapid.T, r grading.Row) grading.RowReading {
	reading, err := r.Read()
	fatal(t, err)
	return reading
}

func drawAssignment(t *rapid.T) grading.Assignment {
	s := steppedScheme()
	all, err := s.Assign(readRow(t, drawRowOf(t, grading.Housing, twoMains)), readRow(t, drawRowOf(t, grading.Journal, twoMains)))
	fatal(t, err)
	return all[0]
}

func drawSite(t *rapid.T) grading.Site {
	around := func(middle string) units.LengthInterval {
		return units.PlusMinus(units.MustParseLength(middle), units.Micrometre.OfInt(rapid.Int64Range(0, 2).Draw(t, "doubt")))
	}
	return grading.Site{Location: "main 1", Housing: around("64.003 mm"), Journal: around("59.973 mm")}
}

// drawAnySite draws sites of thrust washers too.
func drawAnySite(t *rapid.T) grading.Site {
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 0:
		return grading.Site{Location: "main 3", Room: drawLimits(t)}
	case 1:
		return grading.Site{Location: "main 3", EndPlay: drawLimits(t), Fitted: drawSome(t, "fitted", drawShell)}
	}
	return drawSite(t)
}

func drawFits(t *rapid.T) []grading.PairFit {
	s := steppedScheme()
	places, err := s.Fits([]grading.Site{drawSite(t)})
	fatal(t, err)
	return places[0]
}

func drawAudit(t *rapid.T) grading.Audit {
	s := steppedScheme()
	s.Limits = (units.Between(units.Micrometre.OfInt(rapid.Int64Range(0, 30).Draw(t, "least")), units.Micrometre.OfInt(rapid.Int64Range(31, 60).Draw(t, "most"))))
	s.Wanted = nil
	a, err := s.Audit()
	if a == nil {
		fatal(t, err)
	}
	return *a
}

func drawCell(t *rapid.T) grading.Comparison {
	c := rapid.SampledFrom(drawAudit(t).Cells).Draw(t, "cell")
	c.Sized = c.Sized[:min(1, len(c.Sized))]
	return c
}

func drawComparison(t *rapid.T) grading.Comparison {
	s := steppedScheme()
	main := twoMains[:1]
	all, err := s.Compare(readRow(t, drawRowOf(t, grading.Housing, main)), readRow(t, drawRowOf(t, grading.Journal, main)), []grading.Site{drawSite(t)})
	fatal(t, err)
	c := all[0]
	c.Sized = c.Sized[:min(1, len(c.Sized))]
	return c
}

// drawGradingPlan draws a plan with a trade, cut down to less than what was found: a
// plan cut short by its context may be that.
func drawGradingPlan(t *rapid.T) grading.Plan {
	fits := drawFits(t)
	fits = []grading.PairFit{fits[0], fits[len(fits)-1]} // the nearest and the farthest: enough for a trade
	price := func(label string) *decimal.Decimal {
		return new(decimal.New(rapid.Int64Range(0, 9_999).Draw(t, label), -2))
	}
	var packs []purchase.Pack[grading.Part]
	for _, grade := range []string{"red", "blue"} {
		packs = append(packs, purchase.Pack[grading.Part]{Name: grade + " pair", Price: price(grade), Parts: []purchase.Count[grading.Part]{
			{Part: grading.Part{Grade: grade, Half: grading.Upper}, N: 1}, {Part: grading.Part{Grade: grade, Half: grading.Lower}, N: 1}}})
	}
	p, err := grading.Choose(context.Background(), [][]grading.PairFit{fits}, purchase.Request[grading.Part]{Packs: packs})
	fatal(t, err)
	if rapid.Bool().Draw(t, "without trades") {
		p.Trades = nil
	}
	if rapid.Bool().Draw(t, "without choices") {
		p.Choices = nil
	}
	p.Complete = rapid.Bool().Draw(t, "complete")
	return *p
}
