package units

import (
	"encoding/json"
	"math/big"
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// The benchmarks measure this package and a named alternative in turns, in one
// run, and print the ratio of the two times. All of them:
//
//	go test -run '^$' -bench . ./units
//
// Results are kept in BENCHMARKS.md.

// A contest is one thing done in two ways, each n times over.
type contest struct {
	ours, theirs func(n int)
}

// seconds runs both in turns and returns what each took.
func (c contest) seconds(n int) (ours, theirs float64) {
	const turns = 20
	n = max(1, n/turns)
	for range turns {
		start := time.Now()
		c.ours(n)
		middle := time.Now()
		c.theirs(n)
		ours += middle.Sub(start).Seconds()
		theirs += time.Since(middle).Seconds()
	}
	return ours / float64(n*turns), theirs / float64(n*turns)
}

// run reports both, and theirs ÷ ours under the name given.
func (c contest) run(b *testing.B, name string) {
	ours, theirs := c.seconds(b.N)
	b.ReportMetric(ours*1e9, "ns/op")
	b.ReportMetric(theirs*1e9, "ns-"+name)
	b.ReportMetric(theirs/ours, "times-faster-than-"+name)
	b.ReportMetric(testing.AllocsPerRun(10, func() { c.ours(100) })/100, "allocs")
	b.ReportMetric(testing.AllocsPerRun(10, func() { c.theirs(100) })/100, "allocs-"+name)
}

// A fit is a bearing's bounds in micrometres: housing bore, upper and lower wall,
// journal, and the tolerance of the clearance.
type fit [5][2]int64

// fits come to every verdict: inside, undecided at the lower and at the upper
// limit, below, above, undecided at both.
var fits = [...]fit{
	{{60010, 60014}, {2001, 2003}, {2002, 2004}, {55970, 55974}, {24, 48}},
	{{60010, 60014}, {2001, 2003}, {2002, 2004}, {55976, 55982}, {24, 48}},
	{{60010, 60014}, {2001, 2003}, {2002, 2004}, {55958, 55962}, {24, 48}},
	{{60000, 60004}, {2004, 2006}, {2004, 2006}, {55984, 55988}, {24, 48}},
	{{60018, 60022}, {2000, 2001}, {2000, 2001}, {55950, 55954}, {24, 48}},
	{{60000, 60024}, {2001, 2003}, {2002, 2004}, {55960, 55974}, {24, 48}},
}

type verdict uint8

const (
	inside verdict = iota
	below
	above
	undecided
	overflow
)

var wantVerdicts = [len(fits)]verdict{inside, undecided, undecided, below, above, undecided}

func judgeUnits(f *[5]LengthInterval) verdict {
	clearance := f[0].Sub(f[1]).Sub(f[2]).Sub(f[3])
	switch tolerance := f[4]; {
	case clearance.Within(tolerance):
		return inside
	case clearance.Below(tolerance):
		return below
	case tolerance.Below(clearance):
		return above
	}
	return undecided
}

// A decimalInterval is the plain way to hold an interval in decimals.
type decimalInterval struct{ lo, hi decimal.Decimal }

func (a decimalInterval) sub(b decimalInterval) decimalInterval {
	return decimalInterval{a.lo.Sub(b.hi), a.hi.Sub(b.lo)}
}

func judgeDecimal(f *[5]decimalInterval) verdict {
	clearance := f[0].sub(f[1]).sub(f[2]).sub(f[3])
	switch tolerance := f[4]; {
	case clearance.lo.GreaterThanOrEqual(tolerance.lo) && clearance.hi.LessThanOrEqual(tolerance.hi):
		return inside
	case clearance.hi.LessThan(tolerance.lo):
		return below
	case clearance.lo.GreaterThan(tolerance.hi):
		return above
	}
	return undecided
}

// An intInterval is written by hand for one purpose, in picometres. It does the same
// job: overflow is found, and so is what was not measured, which proves nothing.
type intInterval struct {
	lo, hi   int64
	measured bool
}

func (a intInterval) sub(b intInterval) (intInterval, bool) {
	lo, hi := a.lo-b.hi, a.hi-b.lo
	if (a.lo^b.hi)&(a.lo^lo) < 0 || (a.hi^b.lo)&(a.hi^hi) < 0 {
		return intInterval{}, false
	}
	return intInterval{lo, hi, a.measured && b.measured}, true
}

func judgeInt(f *[5]intInterval) verdict {
	c, ok := f[0].sub(f[1])
	if !ok {
		return overflow
	}
	if c, ok = c.sub(f[2]); !ok {
		return overflow
	}
	if c, ok = c.sub(f[3]); !ok {
		return overflow
	}
	switch tolerance := f[4]; {
	case !c.measured || !tolerance.measured:
		return undecided
	case c.lo >= tolerance.lo && c.hi <= tolerance.hi:
		return inside
	case c.hi < tolerance.lo:
		return below
	case c.lo > tolerance.hi:
		return above
	}
	return undecided
}

// in returns the fits in one of the three forms.
func in[T any](interval func(lo, hi int64) T) (all [len(fits)][5]T) {
	for i, f := range fits {
		for k, part := range f {
			all[i][k] = interval(part[0], part[1])
		}
	}
	return all
}

func inUnits() [len(fits)][5]LengthInterval {
	return in(func(lo, hi int64) LengthInterval { return MustInterval(Micrometre.OfInt(lo), Micrometre.OfInt(hi)) })
}

func inDecimal() [len(fits)][5]decimalInterval {
	return in(func(lo, hi int64) decimalInterval { return decimalInterval{decimal.New(lo, -3), decimal.New(hi, -3)} })
}

func inInt() [len(fits)][5]intInterval {
	return in(func(lo, hi int64) intInterval { return intInterval{lo * 1_000_000, hi * 1_000_000, true} })
}

// TestContestants: the benchmark compares three ways to the same verdicts.
func TestContestants(t *testing.T) {
	u, d, i := inUnits(), inDecimal(), inInt()
	for k, want := range wantVerdicts {
		if got := [3]verdict{judgeUnits(&u[k]), judgeDecimal(&d[k]), judgeInt(&i[k])}; got != [3]verdict{want, want, want} {
			t.Errorf("fit %d: %v, want %d", k, got, want)
		}
	}
}

// over judges the fits n times in all and counts the verdicts, so that none can
// be left out.
func over[T any](fits *[len(fits)][5]T, judge func(*[5]T) verdict, counts *[5]int) func(n int) {
	return func(n int) {
		k := 0
		for range n {
			counts[judge(&fits[k])]++
			if k++; k == len(fits) {
				k = 0
			}
		}
	}
}

func BenchmarkJudgementAgainstDecimal(b *testing.B) {
	u, d := inUnits(), inDecimal()
	var counts [5]int
	contest{over(&u, judgeUnits, &counts), over(&d, judgeDecimal, &counts)}.run(b, "decimal")
}

func BenchmarkJudgementAgainstInt64(b *testing.B) {
	u, i := inUnits(), inInt()
	var counts [5]int
	// The integers are the faster ones: say how many times as long this package takes.
	theirs, ours := contest{over(&i, judgeInt, &counts), over(&u, judgeUnits, &counts)}.seconds(b.N)
	b.ReportMetric(ours*1e9, "ns/op")
	b.ReportMetric(theirs*1e9, "ns-int64")
	b.ReportMetric(ours/theirs, "times-slower-than-int64")
}

var sinkLength int

func BenchmarkParse(b *testing.B) {
	contest{
		func(n int) {
			for range n {
				q, err := ParseLength("60.012 mm")
				if err != nil {
					b.Fatal(err)
				}
				sinkLength += q.Sign()
			}
		},
		func(n int) {
			for range n {
				d, err := decimal.NewFromString("60.012")
				if err != nil {
					b.Fatal(err)
				}
				sinkLength += int(d.Exponent())
			}
		},
	}.run(b, "decimal")
}

func BenchmarkPrint(b *testing.B) {
	q, d := MustParseLength("60.012 mm"), decimal.RequireFromString("60.012")
	contest{
		func(n int) {
			for range n {
				sinkLength += len(keep(q.Format(Millimetre, 3, HalfEven)))
			}
		},
		func(n int) {
			for range n {
				sinkLength += len(keep(d.StringFixed(3)))
			}
		},
	}.run(b, "decimal")
}

// The same number as text and as JSON, through package encoding/json on both sides.
func BenchmarkString(b *testing.B) {
	q, d := MustParseLength("60.012 mm"), decimal.RequireFromString("60.012")
	contest{
		func(n int) {
			for range n {
				sinkLength += len(keep(q.String()))
			}
		},
		func(n int) {
			for range n {
				sinkLength += len(keep(d.String()))
			}
		},
	}.run(b, "decimal")
}

func BenchmarkMarshalJSON(b *testing.B) {
	q, d := MustParseLength("60.012 mm"), decimal.RequireFromString("60.012")
	contest{marshalled(b, &q), marshalled(b, &d)}.run(b, "decimal")
}

func marshalled(b *testing.B, v any) func(n int) {
	return func(n int) {
		for range n {
			text, err := json.Marshal(v)
			if err != nil {
				b.Fatal(err)
			}
			sinkLength += len(text)
		}
	}
}

func BenchmarkUnmarshalJSON(b *testing.B) {
	contest{unmarshalled(b, `"60.012 mm"`, new(Length)), unmarshalled(b, `"60.012"`, new(decimal.Decimal))}.run(b, "decimal")
}

func unmarshalled(b *testing.B, text string, v any) func(n int) {
	data := []byte(text)
	return func(n int) {
		for range n {
			if err := json.Unmarshal(data, v); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkIntervalJSON has no alternative.
func BenchmarkIntervalJSON(b *testing.B) {
	iv := MustParseLengthInterval("0.024..0.048 mm")
	b.ReportAllocs()
	for b.Loop() {
		text, err := json.Marshal(iv)
		if err != nil || json.Unmarshal(text, &iv) != nil {
			b.Fatal(err)
		}
	}
}

var sinkText string

// keep makes the text escape, as a text that is used does.
func keep(s string) string {
	sinkText = s
	return s
}

// BenchmarkIntervalParse has no alternative: nothing else reads an interval.
func BenchmarkIntervalParse(b *testing.B) {
	for name, text := range map[string]string{"bounds": "0.024..0.048 mm", "deviations": "60 +0.019/0 mm"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				iv, err := ParseLengthInterval(text)
				if err != nil {
					b.Fatal(err)
				}
				sinkLength += iv.Lo().Sign()
			}
		})
	}
}

// TestAllocations: the hot paths allocate as little as is promised.
func TestAllocations(t *testing.T) {
	u := inUnits()
	q := MustParseLength("60.012 mm")
	buffer, quoted := make([]byte, 0, 64), []byte(`"60.012 mm"`)
	for name, test := range map[string]struct {
		most float64
		f    func()
	}{
		"clearance and judgement": {0, func() { judgeUnits(&u[0]) }},
		"Add, Sub, Cmp, MulInt":   {0, func() { sinkLength += q.Add(q).Sub(q).MulInt(3).Cmp(q) }},
		"Parse":                   {0, func() { q, _ := ParseLength("60.012 mm"); sinkLength += q.Sign() }},
		"Parse of 18 digits":      {0, func() { q, _ := ParseLength("123456789.123456789 mm"); sinkLength += q.Sign() }},
		"Format":                  {1, func() { keep(q.Format(Millimetre, 3, HalfEven)) }},
		"String":                  {1, func() { keep(q.String()) }},
		"Exact":                   {1, func() { keep(q.Exact()) }},
		"Exact of an interval":    {1, func() { keep(u[0][4].Exact()) }},
		"MarshalJSON":             {1, func() { b, _ := q.MarshalJSON(); sinkLength += len(b) }},
		"UnmarshalJSON":           {0, func() { sinkLength += q.Sign(); _ = q.UnmarshalJSON(quoted) }},
		"appendFormat":            {0, func() { buffer = q.appendFormat(buffer[:0], Inch, 4, HalfEven) }},
	} {
		if got := testing.AllocsPerRun(100, test.f); got > test.most {
			t.Errorf("%s: %v allocations, at most %v", name, got, test.most)
		}
	}
}

// TestAllocationsOfWhatIsOrdinary: whatever people write most of the time, and every
// operation on it, stays in machine integers and allocates nothing.
func TestAllocationsOfWhatIsOrdinary(t *testing.T) {
	none := func(name string, f func()) {
		t.Helper()
		if got := testing.AllocsPerRun(20, f); got > 0 {
			t.Errorf("%s: %v allocations", name, got)
		}
	}
	for _, text := range []string{"60.012 mm", "60.012mm", "-60.012 mm", "+60.012 mm", ".5 mm", "60 mm", "0 mm", "2.3622 in", "-0.5 thou", "999999999.999999999 mm"} {
		none(text, func() { q, _ := ParseLength(text); sinkLength += q.Sign() })
		quoted := []byte(`"` + text + `"`)
		var q Length
		none("JSON of "+text, func() { _ = q.UnmarshalJSON(quoted) })
	}
	for _, text := range []string{"0.024..0.048 mm", "0.024 .. 0.048 mm", "0.024..0.048mm", "-1..+1 mm", "2.5 mm", "1..1 in"} {
		none(text, func() { a, _ := ParseLengthInterval(text); sinkLength += a.Lo().Sign() })
		quoted := []byte(`"` + text + `"`)
		var a LengthInterval
		none("JSON of "+text, func() { _ = a.UnmarshalJSON(quoted) })
	}
	none("a number under a heading", func() { q, _ := Millimetre.Parse("60.012"); sinkLength += q.Sign() })
	none("torque", func() { q, _ := ParseTorque("45 lbf·ft"); sinkLength += q.Sign() })
	none("temperature", func() { q, _ := Parse[Temperature]("293.15 K"); sinkLength += q.Cmp(q) })

	p, q := MustParseLength("60.012 mm"), MustParseLength("-2.5 mm")
	a, b := MustParseLengthInterval("0.024..0.048 mm"), MustParseLengthInterval("0.03..0.04 mm")
	half, third, minus := big.NewRat(1, 2), big.NewRat(1, 3), big.NewRat(-3, 2)
	for name, f := range map[string]func() Length{
		"Add":                func() Length { return p.Add(q) },
		"Sub":                func() Length { return q.Sub(p) },
		"Neg":                func() Length { return p.Neg() },
		"Abs":                func() Length { return q.Abs() },
		"MulInt":             func() Length { return q.MulInt(-7) },
		"MulRat by a half":   func() Length { return p.MulRat(half) },
		"MulRat by a third":  func() Length { return p.MulRat(third) },
		"MulRat below zero":  func() Length { return q.MulRat(minus) },
		"Min and Max":        func() Length { return Max(q, Min(p, q)) },
		"Sum":                func() Length { return Sum(p, q, p) },
		"RootSumSquare":      func() Length { return RootSumSquare(Millimetre, 7, a.Lo(), a.Hi(), b.Lo()) },
		"RootSumSquare in µ": func() Length { return RootSumSquare(Micrometre, 1, a.Lo(), a.Hi()) },
		"Mid":                func() Length { return a.Mid() },
		"Radius":             func() Length { return a.Radius() },
		"Width":              func() Length { return a.Width() },
	} {
		none(name, func() { sinkLength += f().Sign() })
	}
	for name, f := range map[string]func() LengthInterval{
		"Add":                    func() LengthInterval { return a.Add(b) },
		"Sub":                    func() LengthInterval { return a.Sub(b) },
		"Neg":                    func() LengthInterval { return a.Neg() },
		"Shift":                  func() LengthInterval { return a.Shift(q) },
		"Hull":                   func() LengthInterval { return a.Hull(b) },
		"MulRat by a half":       func() LengthInterval { return a.MulRat(half) },
		"MulRat below zero":      func() LengthInterval { return a.MulRat(minus) },
		"Exactly":                func() LengthInterval { return Exactly(q) },
		"Between":                func() LengthInterval { return Between(p, q) },
		"PlusMinus":              func() LengthInterval { return PlusMinus(p, q) },
		"NewInterval":            func() LengthInterval { c, _ := NewInterval(q, p); return c },
		"Add up to a wide range": func() LengthInterval { return Between(q, p).Add(Between(q, p)) },
	} {
		none("interval, "+name, func() { sinkLength += f().Lo().Sign() })
	}
	for name, f := range map[string]func() bool{
		"Contains": func() bool { return a.Contains(q) }, "Within": func() bool { return b.Within(a) }, "Below": func() bool { return a.Below(b) },
		"Overlaps": func() bool { return a.Overlaps(b) }, "Equal": func() bool { return a.Equal(b) }, "IsPoint": func() bool { return a.IsPoint() },
		"Bounded": func() bool { return a.Bounded() }, "Less": func() bool { return q.Less(p) }, "equal quantities": func() bool { return p.Equal(q) },
	} {
		none(name, func() {
			if f() {
				sinkLength++
			}
		})
	}
}
