package demo_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
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

// A record asks questions about what was typed: does a limit stand that is ten times as wide
// as what was read, does a size stand that is far from its likes, which of two readings is
// wrong that do not agree, or a size or its stamped code. Until a question is answered, what
// hangs on it is not proven, and a less certain reading may not raise it. So a reading is
// compared with a less certain one in a job whose questions have answers.

// answered reports whether something holds of a job with an answer to its questions:
// everything stands; or everything but one reading or one row of codes, which is withdrawn.
func answered(t *rapid.T, root tree, holds func(*job.Assessment) bool) bool {
	root = treeOf(t, root.String())
	a, err := assessed(t, root.String())
	for err == nil && stand(root, a) {
		a, err = assessed(t, root.String())
	}
	if err == nil && holds(a) {
		return true
	}
	for _, p := range root.places() {
		if !typedReadings.MatchString(p.path) && !stamped.MatchString(p.path) {
			continue
		}
		p.put(p.key, "?")
		a, err := assessed(t, root.String())
		p.restore()
		if err == nil && holds(a) {
			return true
		}
	}
	return false
}

var (
	stamped  = regexp.MustCompile(`^shells\..*\.codes\.(upper|lower)$`)
	question = regexp.MustCompile(`^([^:]*): .* write sure = \["([^"]*)"\]`)
)

// stand answers the questions of an assessment about single limits and readings: they stand.
// It returns false if there is none that it has not answered before.
func stand(root tree, a *job.Assessment) (more bool) {
	tables := map[string]map[string]any{}
	for _, kind := range []string{"measure", "bolts"} {
		all, _ := root[kind].(map[string]any)
		for name, table := range all {
			tables[name], _ = table.(map[string]any)
		}
	}
	for _, f := range a.Verdicts() {
		asked := question.FindStringSubmatch(f.Slip)
		if asked == nil {
			continue
		}
		for name, table := range tables {
			line, key := asked[1], asked[2]
			bare := strings.Replace(line, " "+key, "", 1)
			at := strings.HasPrefix(line, name+" "+key) || bare == name || bare == name+" diameter" ||
				line == name || line == name+" diameter" || line == name+" taper" || line == name+" out-of-round"
			said, _ := table["sure"].([]any)
			if at && !slices.Contains(said, any(key)) {
				table["sure"], more = append(said, key), true
			}
		}
	}
	return more
}

// provenIn reports whether an item is proven. A size that was read below zero, which it
// cannot be, contradicts that alone: if the zero is withdrawn, it is proven where it lies
// within its limits.
func provenIn(a *job.Assessment, name string) bool {
	for _, i := range a.Items {
		if i.Name == name && i.Standing == job.Proven {
			return true
		}
	}
	for _, f := range a.Verdicts() {
		if name != f.Name() && name != f.Group+" "+f.Location || f.Measured.Hi == nil || f.Tolerance.Lo != nil {
			continue
		}
		if hi, err := units.ParseLength(*f.Measured.Hi); err == nil && hi.Sign() < 0 {
			return true
		}
	}
	return false
}

// TestAWiderReadingProvesNoMore: a reading that is less certain, and an instrument that is
// less good, prove nothing that the closer one does not prove too, as the job stands or
// with an answer to a question of its record. One reading of the job may be another before,
// so that there is something not proven.
func TestAWiderReadingProvesNoMore(t *testing.T) {
	t.Parallel()
	tried, asked := 0, 0
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
		p.restore()
		tried++
		for _, i := range after.Items {
			if i.Standing != job.Proven || provenIn(before, i.Name) {
				continue
			}
			asked++
			if !answered(t, root, func(a *job.Assessment) bool { return provenIn(a, i.Name) }) {
				t.Fatalf("%s: with %s = %q for %q, %s is proven, and with no answer to a question of the record before\n%s", name, p.path, text, p.value, i.Name, root)
			}
		}
	})
	t.Logf("%d widened; %d items were held by a question that the wider reading does not raise", tried, asked)
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
