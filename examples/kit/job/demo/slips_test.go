package demo_test

import (
	"context"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

var (
	// typedReadings are the places of a job where somebody typed what an instrument showed.
	typedReadings = regexp.MustCompile(`^measure\..*\.(readings\.[^.]+|reading)$|^bolts\..*\.lengths\.[^.]+$`)

	// number is a number in a text.
	number = regexp.MustCompile(`\d+(\.\d+)?`)
)

// slipsOf are what a person may have typed in place of a number: its point a place to either
// side, two neighbouring digits exchanged.
func slipsOf(n string) (list []string) {
	whole, part, _ := strings.Cut(n, ".")
	if part != "" {
		list = append(list, strings.TrimSuffix(whole+part[:1]+"."+part[1:], "."))
	}
	list = append(list, "0"+whole[:len(whole)-1]+"."+whole[len(whole)-1:]+part)
	for i := range len(n) - 1 {
		k := i + 1
		if n[k] == '.' && k+1 < len(n) {
			k++
		}
		if n[i] == '.' || n[k] == '.' || n[i] == n[k] {
			continue
		}
		b := []byte(n)
		b[i], b[k] = b[k], b[i]
		list = append(list, string(b))
	}
	return list
}

// travel is what a text that was read says of a length: what a dial moved by, or the number
// that begins at the place.
func travel(text string, at int) units.Length {
	_, unit, _ := cutLast(text, " ")
	if from, to, ok := strings.Cut(strings.TrimSuffix(text, " "+unit), " to "); ok {
		return length(to + " " + unit).Sub(length(from + " " + unit)).Abs()
	}
	return length(number.FindString(text[at:]) + " " + unit)
}

// TestSlipsOfThePen puts every slip into every number of every reading of the job of which
// all is proven, one at a time: a point in the wrong place, exchanged digits, another unit.
// None stays proven that moves what was read by more than the limits are wide, or, where it
// has but one limit, by more than its likes are apart. Nobody could notice one that moves
// it by less: there are three, of a dial's first figure, and what they make of the travel
// is as likely as the travel itself. Where TESTS is not whole it tries one in eleven.
func TestSlipsOfThePen(t *testing.T) {
	t.Parallel()
	root := treeOf(t, read(t, proven+".toml"))
	width := func(line string) units.Length {
		table, _ := root["measure"].(map[string]any)[line].(map[string]any)
		text, _ := table["limits"].(string)
		if iv, err := units.ParseLengthInterval(text); err == nil && iv.Bounded() {
			return iv.Width()
		}
		return units.Length{} // a term of a fit, or a single limit: whatever is silent is too much
	}
	var n tally
	at, every := 0, thorough.Every(11)
	for _, p := range root.places() {
		text, ok := p.value.(string)
		if !ok || !typedReadings.MatchString(p.path) || !number.MatchString(text) {
			continue
		}
		try := func(typed string, moved units.Length) {
			if at++; at%every != 0 {
				return
			}
			p.put(p.key, typed)
			got, _, _ := outcomeOf(t, root.String())
			p.restore()
			n[got]++
			line := strings.Split(p.path, ".")[1]
			if got == silent && width(line).Less(moved) {
				t.Errorf("%s: %q for %q moves it by %s, and all is proven", p.path, typed, text, moved)
			}
		}
		for _, at := range number.FindAllStringIndex(text, -1) {
			for _, s := range slipsOf(text[at[0]:at[1]]) {
				typed := text[:at[0]] + s + text[at[1]:]
				try(typed, travel(typed, at[0]).Sub(travel(text, at[0])).Abs())
			}
		}
		if body, unit, _ := cutLast(text, " "); unit == "mm" {
			try(body+" in", units.Metre.OfInt(1)) // of anything here, more than its limits are wide
		}
	}
	t.Logf("slips of the pen: %s", n)
	if n[refused]+n[unproven] < 500/every || n[silent] > 3 {
		t.Errorf("%s: want at least %d that are noticed, and at most 3 that nobody could", n, 500/every)
	}
}

// typedLimits are the places of a job where somebody typed limits.
var typedLimits = regexp.MustCompile(`^(measure\..*|fits\[\d+\])\.(limits|taper|out_of_round)$|^bolts\..*\.longest_(length|stretch)$`)

// tenTimes moves the decimal point of a number.
func tenTimes(n string, up bool) string {
	by := decimal.New(1, 1)
	if !up {
		by = decimal.New(1, -1)
	}
	return decimal.RequireFromString(n).Mul(by).String()
}

// wider are limits with the upper bound ten times as large, with the lower one ten times as
// small, and in inches for millimetres.
func wider(text string) (list []string) {
	body, unit, ok := strings.Cut(text, " ")
	if unit == "" || !ok {
		return nil
	}
	if strings.HasPrefix(text, "<= ") || strings.HasPrefix(text, ">= ") {
		sign := text[:3]
		number, unit, _ := strings.Cut(text[3:], " ")
		list = append(list, strings.TrimSpace(sign+tenTimes(number, sign == "<= ")+" "+unit))
	} else if lo, hi, two := strings.Cut(body, ".."); two {
		list = append(list, lo+".."+tenTimes(hi, true)+" "+unit)
		if decimal.RequireFromString(lo).IsPositive() {
			list = append(list, tenTimes(lo, false)+".."+hi+" "+unit)
		}
	} else if number.FindString(body) == body {
		list = append(list, tenTimes(body, true)+" "+unit)
	}
	if strings.HasSuffix(text, " mm") {
		list = append(list, strings.TrimSuffix(text, "mm")+"in")
	}
	return list
}

// tryLimits tries every way in which the limits that are picked may have been typed too wide,
// and reports what stays proven of what they prove.
func tryLimits(t fatal, name, src string, picked func(limits []place) []place, errorf func(string, ...any)) (tried int) {
	proves := func(src string) (map[string]job.Finding, bool) {
		j, err := job.Read("job.toml", []byte(src))
		if err != nil {
			return nil, false
		}
		a, err := j.Assess(context.Background())
		if err != nil {
			return nil, false
		}
		found := map[string]job.Finding{}
		for _, f := range a.Verdicts() {
			found[f.Name()] = f
		}
		return found, true
	}
	root := treeOf(t, src)
	before, ok := proves(root.String())
	if !ok {
		t.Fatal(name + ": not read")
	}
	var limits []place
	for _, p := range root.places() {
		if _, is := p.value.(string); is && typedLimits.MatchString(p.path) {
			limits = append(limits, p)
		}
	}
	for _, p := range picked(limits) {
		text := p.value.(string)
		for _, typed := range wider(text) {
			p.put(p.key, typed)
			after, ok := proves(root.String())
			p.restore()
			if !ok {
				continue // refused
			}
			tried++
			for item, f := range after {
				if was := before[item]; f.Tolerance.Text != was.Tolerance.Text && was.Verdict == measure.Conforming && f.Verdict == measure.Conforming {
					errorf("%s: %s is proven with %s = %q for %q", name, item, p.path, typed, text)
				}
			}
		}
	}
	return tried
}

// TestLimitsTooWide: limits with a bound that is ten times too large or too small, or in the
// wrong unit, prove nothing of what those that were meant prove; and those that were meant
// are nowhere asked after. Where TESTS is not whole it tries one limit in seven.
func TestLimitsTooWide(t *testing.T) {
	t.Parallel()
	tried, every := 0, thorough.Every(7)
	some := func(all []place) (list []place) {
		for i := 0; i < len(all); i += every {
			list = append(list, all[i])
		}
		return list
	}
	for _, name := range job.Demonstrations() {
		src := read(t, name+".toml")
		tried += tryLimits(t, name, src, some, t.Errorf)
		for _, f := range assess(t, name+".toml", src).Verdicts() {
			if strings.Contains(f.Slip, "Look in the manual, and if it stands") {
				t.Errorf("%s: %s", name, f.Slip)
			}
		}
	}
	t.Logf("%d limits typed too wide", tried)
	if tried < 100/every {
		t.Error("too few were tried")
	}
}

// TestLimitsTooWideOfAnyEngine is the same of generated engines; that the limits which were
// meant are not asked after, other properties see.
func TestLimitsTooWideOfAnyEngine(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		one := func(all []place) []place { return []place{rapid.SampledFrom(all).Draw(t, "limits")} }
		tryLimits(t, "generated", jobtest.Draw(t).String(), one, t.Fatalf)
	})
}
