package ask_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/asktest"
)

// answer asks a question of asktest and reads its answer.
func answer(t *testing.T, name string, into any) {
	t.Helper()
	for _, c := range asktest.Library() {
		if c.Name != name {
			continue
		}
		doc := ask.Library().Answer(t.Context(), c.Document())
		var a struct {
			Closefit int
			Answer   json.RawMessage
			Error    *ask.Refusal
		}
		if err := json.Unmarshal(doc, &a); err != nil || a.Closefit != 1 {
			t.Fatalf("%s: %v: %s", name, err, doc)
		}
		if a.Error != nil {
			t.Fatalf("%s: %s", name, a.Error.Message)
		}
		if err := json.Unmarshal(a.Answer, into); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return
	}
	t.Fatalf("no case %q", name)
}

func text(p *string) string {
	if p == nil {
		return "null"
	}
	return *p
}

func same[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func near(t *testing.T, what string, got ask.Float, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= tolerance) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestJudge: the walls leave 66.012 - 1.999 - 1.999 - 61.975 = 0.0390 at the most, 0.0355 at the least.
// The bore gauge was set in the micrometer that read the journal, whose common part cancels. The rest
// is 0.0022361 and 0.002 of the bore gauge's reading, 0.002 of its setting, twice 0.002 of the
// micrometer, for the setting and the journal, and the scatter of the three readings, 0.001/√3. With
// Student's t of JCGM 100:2008, table G.2, at 95.45 %, which is 2.32 for 9 degrees of freedom and 4.53
// for 2, U is 0.00553.
func TestJudge(t *testing.T) {
	var j ask.Judged
	answer(t, "judge, one instrument sets the other", &j)
	same(t, "verdict", j.Verdict.String(), "conforming")
	u := math.Sqrt(math.Pow(0.0022361, 2) + 2*math.Pow(0.002, 2) + 2*math.Pow(0.002*2.32/2, 2) + math.Pow(0.001/math.Sqrt(3)*4.53, 2))
	var lo, hi float64
	if _, err := fmt.Sscanf(text(j.Measured.Lo)+" "+text(j.Measured.Hi), "%f mm %f mm", &lo, &hi); err != nil {
		t.Fatal(err)
	}
	near(t, "lower", ask.Float(lo), 0.0355-u, 5e-6)
	near(t, "upper", ask.Float(hi), 0.0390+u, 5e-6)
	if len(j.Working) != 2 || !strings.Contains(j.Working[0].Formula, "D - t1 - t2 - d") {
		t.Errorf("working %v", j.Working)
	}
	if j.Conforming == nil || j.Conforming.Least < 0.9545 || j.Conforming.Greatest > 1 || j.Conforming.Least > j.Conforming.Greatest {
		t.Errorf("probability %v", j.Conforming)
	}

	// Between the prints 0.038 and 0.051, each off by 0.004: 34..55 µm.
	answer(t, "judge, a strip", &j)
	same(t, "verdict", j.Verdict.String(), "undecided")
	same(t, "lower", text(j.Measured.Lo), "34 µm")
	same(t, "upper", text(j.Measured.Hi), "55 µm")
	same(t, "limits", text(j.Limits.Hi), "45 µm")
	same(t, "lower limit met", j.MeetsLower, true)
	same(t, "upper limit met", j.MeetsUpper, false)
	if j.Settles == nil || j.Outside != nil || j.Margin != nil {
		t.Errorf("%v, %v, %v", j.Settles, j.Outside, j.Margin)
	}

	// 0.25 mm / 25.4 = 0.009 842 519 68 in, rounded outward.
	answer(t, "judge, blades", &j)
	same(t, "lower", text(j.Measured.Lo), "0.009842519 in")
	same(t, "upper", text(j.Measured.Hi), "null")

	// 1.6 ± 0.1 bar against at least 1.8 bar: 0.1..0.3 bar below. The probability is that of
	// more than 4 standard uncertainties: 3.167e-5 (table of the normal distribution).
	answer(t, "judge, a pressure", &j)
	same(t, "kind", j.Kind, "pressure")
	same(t, "verdict", j.Verdict.String(), "below limit")
	same(t, "outside", text(j.Outside.Lo)+" "+text(j.Outside.Hi), "0.1 bar 0.3 bar")
	near(t, "probability", j.Conforming.Greatest, 3.167e-5, 1e-8)
}

func bounds(b ask.Bounds) string { return text(b.Lo) + " " + text(b.Hi) }

// TestJudgeWays: what a gauge may read besides a size.
func TestJudgeWays(t *testing.T) {
	var j ask.Judged
	answer(t, "judge, a travel", &j) // |-0.02 - 0.13| = 0.15, and the dial's 0.01 of a travel
	same(t, "travel", j.Verdict.String()+" "+bounds(j.Measured), "conforming 0.14 mm 0.16 mm")
	answer(t, "judge, an opening", &j) // shut at 2.1, open at 2.4, and the gauge's 0.1
	same(t, "opening", j.Verdict.String()+" "+bounds(j.Measured), "conforming 2 bar 2.5 bar")
	answer(t, "judge, a condition met", &j)
	same(t, "met", j.Verdict.String()+" "+text(j.Problem), "conforming null")
	answer(t, "judge, a condition not met", &j)
	same(t, "not met", j.Verdict.String()+" "+bounds(j.Measured), "undecided null null")
	if !strings.Contains(text(j.Problem), "tightened to 60 N·m") {
		t.Errorf("problem: %s", text(j.Problem))
	}
	// √(0.005² - 0.003²) = 0.004, which cancels: 1 ± √2·0.003.
	for _, name := range []string{"judge, common and repeats", "judge, uncertainty and repeats"} {
		answer(t, name, &j)
		same(t, name, bounds(j.Measured), "0.9957573 mm 1.0042427 mm")
	}
}

// TestJudgeBeside: 66.010 - 2·2.000 - 61.972 = 0.038, 66.012 - 2·1.999 - 61.970 = 0.044. The strip between its
// 0.038 and 0.051, off by 0.004, agrees; between 0.051 and 0.076 it does not. Two walls of 4.038 - 0.030
// together leave the lower limit, of 4.042 - 0.050 the upper one.
func TestJudgeBeside(t *testing.T) {
	var j ask.Judged
	answer(t, "judge, the strip agrees", &j)
	same(t, "judged", j.Verdict.String()+" "+bounds(j.Measured), "conforming 0.038 mm 0.044 mm")
	same(t, "agree", j.Compared.Agree != nil && *j.Compared.Agree, true)
	same(t, "strip", bounds(j.Compared.Direct), "0.034 mm 0.055 mm")
	same(t, "difference", bounds(j.Compared.Difference), "-0.01 mm 0.017 mm")
	same(t, "wanted", bounds(*j.Wanted), "3.992 mm 4.008 mm")
	answer(t, "judge, the strip does not agree", &j)
	same(t, "judged", j.Verdict.String()+" "+bounds(j.Measured), "undecided null null")
	same(t, "agree", j.Compared.Agree != nil && !*j.Compared.Agree, true)
	same(t, "sum", bounds(j.Compared.Sum), "0.038 mm 0.044 mm")
	if j.Problem == nil || j.Wanted != nil {
		t.Errorf("problem %s, wanted %v", text(j.Problem), j.Wanted)
	}
}

// TestAssign: in red shells of 1.998..2.000 the first clearance is 66.002 - 4.000 - 61.969 to
// 66.004 - 3.996 - 61.967.
func TestAssign(t *testing.T) {
	var a ask.Assigned
	answer(t, "assign, by codes", &a)
	same(t, "locations", len(a.Places), 3)
	same(t, "pairs of 2", a.Places[1].Coded.Pairs[0].String(), "blue upper + blue lower")
	same(t, "pairs of 3, whose journal cannot be read", len(a.Places[2].Coded.Pairs), 2)
	if a.Parts != nil || len(a.Places[2].Coded.Why) == 0 {
		t.Errorf("an open location: parts %v, why %q", a.Parts, a.Places[2].Coded.Why)
	}

	answer(t, "assign, by sizes", &a)
	red := a.Places[0].Sized[2]
	same(t, "pair", red.Upper.String()+" "+red.Lower.String(), "red upper red lower")
	same(t, "clearance", text(red.Clearance.Lo)+" "+text(red.Clearance.Hi), "0.033 mm 0.041 mm")
	if len(a.Places[1].Sized) != 0 || len(a.Places[1].Notes) != 1 || a.Parts != nil {
		t.Errorf("a bore that nothing fits: %+v", a.Places[1])
	}

	answer(t, "assign, by both", &a)
	same(t, "agree", *a.Places[0].Agree, true)
	same(t, "parts", len(a.Parts), 4)
	same(t, "number", a.Parts[0].N, 1)
}

// TestBuy: 3 red upper with 1 in stock, and 2 blue lower. Two of M2 are 32.80; R2 and two of B1 are
// 36.00; M2, B1 and R2 more still.
func TestBuy(t *testing.T) {
	var b ask.Bought
	answer(t, "buy", &b)
	same(t, "price", b.Price.String(), "32.8")
	same(t, "packs", len(b.Packs), 1)
	same(t, "pack", b.Packs[0].Name, "M2")
	same(t, "cheapest", b.Cheapest, true)
	same(t, "proof", b.Proof.Least.String(), "32.8")
	if b.Trades != nil || b.Complete != nil {
		t.Error("trades that nobody asked for")
	}
	answer(t, "buy, with trades", &b)
	same(t, "trades", len(b.Trades), 2)
	same(t, "the nearer one", b.Trades[1].Price.String()+" "+b.Trades[1].Distance.String(), "20 0.001 mm")
}

// TestStack: the gap is 30.00 - 2.34 - 27.61 to 30.20 - 2.30 - 27.55. Its variance is
// (0.1/3)² + 0.04²/12 + 0.06²/24.
func TestStack(t *testing.T) {
	var s ask.Stacked
	answer(t, "stack", &s)
	same(t, "worst case", text(s.WorstCase.Lo)+" "+text(s.WorstCase.Hi), "0.05 mm 0.35 mm")
	variance := 0.1*0.1/9 + 0.04*0.04/12 + 0.06*0.06/24
	same(t, "standard deviation", s.Law.StdDev, "0.037342 mm") // √0.00139444
	near(t, "Cp", *s.Law.Cp, 0.2/(6*math.Sqrt(variance)), 1e-6)
	near(t, "share of the housing in the width", s.Shares[0].OfWidth, 0.2/0.3, 1e-6)
	near(t, "its share in the variance", *s.Shares[0].OfVariance, 0.1*0.1/9/variance, 1e-6)
	same(t, "median", s.Law.Quantiles[1].Gap, "0.2 mm")
	// The normal part has most of the variance: near that of a normal at 2.678 standard deviations, 0.0037.
	near(t, "below", s.Law.Below.Value, 0.0037, 0.0003)

	// 9.000 - 4.001/2 to 9.004 - 3.999/2
	answer(t, "stack, without distributions", &s)
	same(t, "worst case", text(s.WorstCase.Lo)+" "+text(s.WorstCase.Hi), "6.9995 in 7.0045 in")
	near(t, "share", s.Shares[1].OfWidth, 0.001/0.005, 1e-9)
	if s.Law != nil || s.WorstCase.Verdict != nil || len(s.Notes) != 1 {
		t.Errorf("a stack without distributions and limits: %+v", s)
	}
}

// TestStackTogether: r = 0.8·0.75 = 0.6; 10² + 6² - 2·0.6·10·6 = 64 = 8² µm², and tolerances of 30 and 12 µm add to
// √(30² + 12² - 2·0.6·30·12) = √612 = 24.7386338. Above 0.13 mm lies Q(30/8) = 8.8417e-5 (Handbook of
// Mathematical Functions, from memory). How far is not known: 30 + 12.
func TestStackTogether(t *testing.T) {
	for _, name := range []string{"stack, sources", "stack, correlations"} {
		var s ask.Stacked
		answer(t, name, &s)
		same(t, name, s.Law.Mean+" "+s.Law.StdDev, "0.1 mm 0.008 mm")
		same(t, name, text(s.RSS.Lo)+" "+text(s.RSS.Hi), "0.0752613 mm 0.1247387 mm")
		same(t, name, text(s.WorstCase.Lo)+" "+text(s.WorstCase.Hi), "0.058 mm 0.142 mm")
		near(t, name, s.Law.Above.Value, 8.8417e-5, 5e-10)
		near(t, name+": share of the bore", *s.Shares[0].OfVariance, 1, 1e-6) // (100 - 36)/64
		sum := 0.0
		for _, p := range s.Law.Histogram.Parts {
			sum += float64(p.Value)
		}
		if len(s.Law.Histogram.Parts) != len(s.Law.Histogram.Edges)+1 || math.Abs(sum-1) > 1e-4 { // of six digits each
			t.Errorf("%s: %d parts, together %g, between %d edges", name, len(s.Law.Histogram.Parts), sum, len(s.Law.Histogram.Edges))
		}
	}
	var s ask.Stacked
	answer(t, "stack, how far is not known", &s)
	same(t, "at worst", text(s.RSS.Lo)+" "+text(s.RSS.Hi), "0.058 mm 0.142 mm")
	if s.Law != nil || len(s.Notes) != 1 || !strings.Contains(s.Notes[0], "setting") || s.Shares[1].OfVariance != nil {
		t.Errorf("law %v, notes %q", s.Law, s.Notes)
	}
	near(t, "share of the shaft in the width", s.Shares[1].OfWidth, 12.0/42, 1e-6)
}

// TestStackSimulated: a uniform and a triangular size of one fixture rise together. Of half-widths of one,
// their variances are 1/3 and 1/6, and their covariance ∫₀¹ (v - 1)(√v - 1) dv = 7/30: 29/30 in all, about a middle of 0.2.
// Symmetrical, so that half lies below that. Of 20,000 draws the deviation is good to about 0.5 %.
func TestStackSimulated(t *testing.T) {
	var s ask.Stacked
	answer(t, "stack, by chance alone", &s)
	if s.Law != nil || len(s.Notes) != 1 {
		t.Fatalf("law %v, notes %q", s.Law, s.Notes)
	}
	number := func(text string) ask.Float {
		var f float64
		if _, err := fmt.Sscanf(text, "%f mm", &f); err != nil {
			t.Error(err)
		}
		return ask.Float(f)
	}
	deviation := 0.1 * math.Sqrt(29.0/30)
	near(t, "deviation", number(s.Simulated.StdDev), deviation, 0.02*deviation)
	near(t, "mean", number(s.Simulated.Mean), 0.2, 5*deviation/math.Sqrt(20_000))
	near(t, "median", number(s.Simulated.Quantiles[0].Gap), 0.2, 0.006)
	same(t, "worst case", text(s.WorstCase.Lo)+" "+text(s.WorstCase.Hi), "0 mm 0.4 mm")
	// Both are as far from their middles: below 0.05 lies v with (v - 1) + (√v - 1) = -1.5, √v = (√3 - 1)/2, so v/2 = 0.0669873.
	near(t, "below", *s.Simulated.Below, 0.0669873, 5*math.Sqrt(0.067*0.933/20_000))
	same(t, "outside", float64(*s.Simulated.Outside), float64(*s.Simulated.Below))
	same(t, "bins", len(s.Simulated.Histogram.Parts), len(s.Simulated.Histogram.Edges)+1)
}

// TestKeys: what is said wrongly of a judgement or a stack is an error that names its key.
func TestKeys(t *testing.T) {
	for _, c := range []struct{ name, from, to, where, write string }{
		{"judge, a travel", `"how": "travel"`, `"how": "moved"`, `Judge, "terms", number 1, "how"`, `"shown" or "travel" or "opening"`},
		{"judge, a travel", `"-0.02 mm"`, `"-0.02 mm", "0.1 mm"`, `Judge, "terms", number 1, "read"`, "write two"},
		{"judge, a travel", `"with": "dial on a base"`, `"with": "strip"`, `Judge, "terms", number 1, "how"`, `write "shown"`},
		{"judge, a travel", `"with": "dial on a base"`, `"with": null`, `Judge, "terms", number 1, "how"`, `write "shown"`},
		{"judge, a travel", `"how": "travel"`, `"how": "opening"`, `Judge, "terms", number 1, "read"`, `judge a pressure`},
		{"judge, an opening", "2.1..2.4 bar", "2.1 bar", `Judge, "terms", number 1, "read"`, `>= 2.1 bar`},
		{"judge, an opening", "2.1..2.4 bar", "2.4..2.1 bar", `Judge, "terms", number 1, "read"`, `2.1`},
		{"judge, a condition met", `"shells"`, `"bolts"`, `Judge, "terms", number 1, "stated"`, "say it once"},
		{"judge, a condition met", `"is": "out"`, `"is": " "`, `Judge, "terms", number 1, "stated", number 2`, "write both"},
		{"judge, the strip agrees", `["t1", "t2"]`, `["t1", "t3"]`, `Judge, "wanted"`, "each once"},
		{"judge, the strip agrees", `["t1", "t2"]`, `["t1", "t1"]`, `Judge, "wanted"`, "each once"},
		{"judge, the strip agrees", `["t1", "t2"]`, `["D", "d"]`, `Judge, "wanted"`, ""},
		{"judge, the strip agrees", `"with": "strip"`, `"with": "a strip"`, `Judge, "direct", "with"`, "name one of"},
		{"judge, an opening", `"wanted": []`, `"wanted": ["p"]`, `Judge, "wanted"`, "judge lengths"},
		{"judge, said twice", "", "", `Judge, "instruments", number 1, "common"`, "null for the other"},
		{"stack, sources", `"part": 0.8`, `"part": 1.8`, `Stack, "contributors", number 1`, "from -1 to 1"},
		{"stack, sources", `[{"name": "setting", "part": 0.8}]`, `[{"name": "setting", "part": 0.8}, {"name": "setting", "part": 0.1}]`, `Stack, "contributors", number 1`, "once"},
		{"stack, sources", `"correlations": null`, `"correlations": [[1, 0], [0, 1]]`, `Stack, "correlations"`, "not both"},
		{"stack, that cannot be", "", "", `Stack, "correlations"`, "one number from -1 to 1 to each pair"},
		{"stack, correlations", `[0.6, 1]]`, `[0.6, 1], []]`, `Stack, "correlations"`, "one row to each"},
		{"stack, by chance alone", `"trials": 20000`, `"trials": 1`, `Stack, "simulation", "trials"`, "write 2 to 1000000"},
		{"stack, by chance alone", `"trials": 20000`, `"trials": 1000001`, `Stack, "simulation", "trials"`, "1000000"},
		{"stack, by chance alone", `"seed": 7`, `"seed": -7`, `Stack, "simulation", "seed"`, "0 or more"},
		{"stack, by chance alone", `{"kind": "uniform"}`, `null`, `Stack, "simulation"`, "a distribution"},
		{"stack, by chance alone", `"exact": true`, `"exact": false`, `Stack, "contributors", number 3, "limits"`, `true under "exact"`},
		{"stack, by chance alone", `{"kind": "uniform"}, "exact": false`, `{"kind": "uniform"}, "exact": true`, `Stack, "contributors", number 1, "limits"`, `false under "exact"`},
		{"stack, by chance alone", `"distribution": null`, `"distribution": {"kind": "uniform"}`, `Stack, "contributors", number 3, "distribution"`, "write null"},
	} {
		i := slices.IndexFunc(asktest.Library(), func(a asktest.Case) bool { return a.Name == c.name })
		asked := asktest.Library()[i]
		changed := strings.Replace(asked.With, c.from, c.to, 1)
		if changed == asked.With && c.from != "" {
			t.Fatalf("%s has no %s", c.name, c.from)
		}
		asked.With = changed
		var a struct{ Error *ask.Refusal }
		doc := ask.Library().Answer(t.Context(), asked.Document())
		if err := json.Unmarshal(doc, &a); err != nil || a.Error == nil {
			t.Errorf("%s with %s: %v: %.300s", c.name, c.to, err, doc)
		} else if !strings.HasPrefix(text(a.Error.Where), c.where) && !strings.HasPrefix(a.Error.Message, c.where) || !strings.Contains(a.Error.Message, c.write) {
			t.Errorf("%s with %s: where %s: %s", c.name, c.to, text(a.Error.Where), a.Error.Message)
		}
	}
}

// TestConvert: 1.8740 × 25.4 = 47.599 6, 1.8747 × 25.4 = 47.617 38; 0.0385 / 0.0254 = 1.515 74…
func TestConvert(t *testing.T) {
	for _, test := range []struct {
		name, value string
		rounded     bool
	}{
		{"convert, limits", "47.5996..47.6173 mm", true},
		{"convert, a reading", "1.515..1.516 thou", true},
		{"convert, exactly", "<= (5/254) in", false},
		{"convert, a temperature", "-40..212 °F", false},
	} {
		var c ask.Converted
		answer(t, test.name, &c)
		same(t, test.name, c.Value, test.value)
		same(t, test.name+": rounded", c.Rounded, test.rounded)
		said := strings.Contains(strings.Join(c.Working.Notes, " "), "rounded")
		same(t, test.name+": says so", said, test.rounded)
	}
}

// TestRefusals: what is wrong is said, with the key and what to write.
func TestRefusals(t *testing.T) {
	const convert = `{"closefit":1,"question":"convert","with":{"value":"1 mm","to":"in","round":"exact","places":null}}`
	cases := map[string][2]string{ // the document, and what the message has
		"not JSON":        {"convert 1 mm", "no JSON"},
		"cut short":       {convert[:40], "no JSON, or not all of it"},
		"empty":           {"", "no JSON"},
		"a list":          {"[]", "no object"},
		"another version": {strings.Replace(convert, `"closefit":1`, `"closefit":2`, 1), "write 1"},
		"no version":      {strings.Replace(convert, `"closefit":1,`, ``, 1), `no key "closefit"`},
		"no question":     {`{"closefit":1,"question":"weigh","with":{}}`, "ask one of: judge, assign, buy, stack, plan, convert"},
		"another key":     {strings.Replace(convert, `"with"`, `"answer"`, 1), `no key "with"`},
		"a key twice":     {strings.Replace(convert, `"to":"in"`, `"to":"in","to":"mm"`, 1), `the key "to" twice`},
		"too long":        {`"` + strings.Repeat(" ", ask.MaxDocument) + `"`, "too much"},
		"deep":            {`{"closefit":1,"question":"convert","with":` + strings.Repeat("[", 9000) + strings.Repeat("]", 9000) + `}`, "64"},
		"null":            {strings.Replace(convert, `"1 mm"`, `null`, 1), `Convert, "value"`},
		"a number":        {strings.Replace(convert, `"1 mm"`, `1`, 1), `Convert, "value"`},
		"long number":     {strings.Replace(convert, `1 mm`, strings.Repeat("9", 5000)+" mm", 1), `Convert, "value"`},
		"large exponent":  {strings.Replace(convert, `1 mm`, "1e999999999 mm", 1), `Convert, "value"`},
		"exact, places":   {strings.Replace(convert, `"places":null`, `"places":3`, 1), `Convert, "places"`},
		"many places":     {strings.Replace(strings.Replace(convert, "exact", "nearest", 1), `"places":null`, `"places":1000000`, 1), `write 0 to 30`},
	}
	for name, c := range cases {
		var a struct {
			Answer json.RawMessage
			Error  *ask.Refusal
		}
		doc := ask.Library().Answer(t.Context(), []byte(c[0]))
		if err := json.Unmarshal(doc, &a); err != nil || a.Error == nil || a.Answer != nil {
			t.Errorf("%s: %v: %.200s", name, err, doc)
		} else if !strings.Contains(a.Error.Message, c[1]) || a.Error.Kind == nil {
			t.Errorf("%s: %q has no %q", name, a.Error.Message, c[1])
		}
	}
}

// TestWhere: an error names the key and, of a text, the column.
func TestWhere(t *testing.T) {
	var a struct{ Error ask.Refusal }
	doc := ask.Library().Answer(t.Context(), []byte(`{"closefit":1,"question":"convert","with":{"value":"1 mm","to":"lb","round":"exact","places":null}}`))
	if err := json.Unmarshal(doc, &a); err != nil {
		t.Fatal(err)
	}
	same(t, "where", text(a.Error.Where), `Convert, "to"`)
	same(t, "kind", text(a.Error.Kind), "unit of another dimension")
	same(t, "column", *a.Error.Column, 1)
}

// TestTooMuch: lists that are too long are refused before anything is computed.
func TestTooMuch(t *testing.T) {
	many := func(n int, one string) string { return "[" + strings.TrimSuffix(strings.Repeat(one+",", n), ",") + "]" }
	for name, with := range map[string]string{
		"judge": `{"name":"","limits":"1 mm","unit":null,"instruments":[],"non_negative":false,"at_worst":false,"direct":null,"wanted":[],"terms":` + many(201, `{"symbol":"d","name":"d","times":"1","with":null,"read":["1 ±0.1 mm"],"how":"shown","stated":[],"needs":[]}`) + `}`,
		"stack": `{"name":"","limits":null,"unit":"mm","inflation":null,"quantiles":[],"histogram":false,"correlations":null,"simulation":null,"contributors":` + many(101, `{"name":"a","times":"1","limits":"1..2 mm","distribution":null,"exact":false,"sources":[]}`) + `}`,
		"buy":   `{"trades":0,"stock":[],"packs":[],"needs":` + many(201, `{"name":"a","n":1,"alternatives":[{"parts":["a"],"distance":"0 mm"}]}`) + `}`,
	} {
		doc := string(ask.Library().Answer(t.Context(), asktest.Case{Question: name, With: with}.Document()))
		if !strings.Contains(doc, `"kind":"too much to answer"`) {
			t.Errorf("%s: %.300s", name, doc)
		}
	}
}

// TestPanic: a panic is an answer, and the next question is answered too.
func TestPanic(t *testing.T) {
	set := ask.Set{ask.New("break", "", func(context.Context, struct{}) (struct{}, error) { panic("a hole") })}
	doc := string(set.Answer(t.Context(), []byte(`{"closefit":1,"question":"break","with":{}}`)))
	if !strings.Contains(doc, "the library broke") || !strings.Contains(doc, "a hole") {
		t.Error(doc)
	}
}
