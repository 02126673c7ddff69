package demo_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
)

var (
	doubts  = regexp.MustCompile(`^instruments\..*\.(uncertainty|limit_of_error|tolerance)$`)
	onStrip = regexp.MustCompile(`^measure\.(main|rod) bearing clearance\.`) // between its own prints alone
)

// A widening writes what was read less certainly.
type widening struct {
	place
	wider func(t *rapid.T) string
}

// widenings are all that a job has: an instrument good to less, a gap between blades or
// a pressure with but one of its bounds, a part's tolerance.
func widenings(places []place) (list []widening) {
	for _, p := range places {
		text, ok := p.value.(string)
		if !ok {
			continue
		}
		factor := func(t *rapid.T) int64 { return rapid.Int64Range(2, 6).Draw(t, "times") }
		read := typedReadings.MatchString(p.path) || strings.HasSuffix(p.path, ".new_length")
		switch {
		case doubts.MatchString(p.path):
			list = append(list, widening{p, func(t *rapid.T) string { return times(text, factor(t)) }})
		case read && strings.Contains(text, " ±"):
			size, doubt, _ := strings.Cut(text, " ±")
			list = append(list, widening{p, func(t *rapid.T) string { return size + " ±" + times(doubt, factor(t)) }})
		case read && strings.Contains(text, "..") && !onStrip.MatchString(p.path):
			lo, hi, _ := strings.Cut(text, "..")
			_, unit, _ := cutLast(hi, " ")
			list = append(list, widening{p, func(t *rapid.T) string {
				return rapid.SampledFrom([]string{">= " + lo + " " + unit, "<= " + hi}).Draw(t, "one bound")
			}})
		}
	}
	return list
}

// times multiplies the number of a text.
func times(text string, n int64) string {
	at := number.FindStringIndex(text)
	return text[:at[0]] + decimal.RequireFromString(text[at[0]:at[1]]).Mul(decimal.NewFromInt(n)).String() + text[at[1]:]
}

// contradicted are the items of an assessment that two readings disagree about. That one of
// two is wrong is known only as far as both are certain: less certain ones may agree, and
// then they prove what they say. No reading alone is excepted, nor one far from its likes; but limits
// of which not a tenth is used are asked after no more where a reading uses more of them.
func contradicted(a *job.Assessment) map[string]bool {
	found := map[string]bool{}
	for _, f := range a.Verdicts() {
		if strings.Contains(f.Slip, "Look in the manual, and if it stands") || strings.Contains(f.Advice, "do not agree") || strings.Contains(f.Advice, "measures shorter than when new") {
			found[f.Name()], found[f.Group+" "+f.Location] = true, true // a bolt is an item without its quantity
		}
	}
	return found
}

// TestAWiderReadingProvesNoMore: no reading that is less certain, and no instrument that is
// less good, proves an item that was not proven. One reading of the job may be another
// before, so that there is something not proven.
func TestAWiderReadingProvesNoMore(t *testing.T) {
	t.Parallel()
	tried, held := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		name, src := aJob(t)
		root := treeOf(t, src)
		places := root.places()
		if rapid.Bool().Draw(t, "another reading") {
			p := rapid.SampledFrom(readingsOf(places)).Draw(t, "reading")
			if text, is := p.value.(string); is {
				p.put(p.key, shifted(t, text))
				places = root.places()
			}
		}
		before, err := assessed(t, root.String())
		if err != nil {
			return // not in the set of blades, or the like
		}
		p := rapid.SampledFrom(widenings(places)).Draw(t, "widened")
		text := p.wider(t)
		p.put(p.key, text)
		after, err := assessed(t, root.String())
		if err != nil {
			return
		}
		tried++
		excepted := contradicted(before)
		standing := map[string]job.Standing{}
		for _, i := range before.Items {
			standing[i.Name] = i.Standing
		}
		for _, i := range after.Items {
			if i.Standing != job.Proven || standing[i.Name] == job.Proven {
				continue
			}
			// Which shell and which grade of wall is called for is open while a size contradicts
			// its stamped code. It is a choice and no measurement: a size that says less leaves it
			// to the code. The clearance that the choice makes is not excepted.
			if excepted[i.Name] || strings.HasSuffix(i.Name, " shells") || strings.HasSuffix(i.Name, " wall "+i.Location+" grade") {
				held++
				continue
			}
			t.Fatalf("%s: with %s = %q for %q, %s is proven, which was %s", name, p.path, text, p.value, i.Name, standing[i.Name])
		}
	})
	t.Logf("%d widened; %d items were held by a contradiction that the wider reading does not have", tried, held)
	least := 50
	if !thorough.Whole() {
		least = 15
	}
	if tried < least {
		t.Error("too few were widened")
	}
}

// readingsOf are the places where a reading is typed.
func readingsOf(places []place) (list []place) {
	for _, p := range places {
		if typedReadings.MatchString(p.path) {
			list = append(list, p)
		}
	}
	return list
}

// shifted moves the last figures of the first number of a text.
func shifted(t *rapid.T, text string) string {
	at := number.FindStringIndex(text)
	if at == nil {
		return text
	}
	was := decimal.RequireFromString(text[at[0]:at[1]])
	by := decimal.New(rapid.Int64Range(-40, 40).Draw(t, "by"), was.Exponent())
	return text[:at[0]] + fmt.Sprint(was.Add(by).Abs()) + text[at[1]:]
}
