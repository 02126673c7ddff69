package demo_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
)

// asksForShells are the tables that ask for the shells to be chosen and bought: without them the
// clearances are measured with those that are fitted, and no shells are asked for.
var asksForShells = regexp.MustCompile(`^shells(\.\w+)?$`)

// TestTakingAwayProvesNothing takes one thing after another out of the demonstrations of which
// not all is proven. Nothing may become proven by that, no gate may open, and nothing that is
// open may fall out of sight. Two things are known: where no shells are asked for none are
// missing; and shells on hand that are wrong by their clearance alone are no longer wrong
// where that is not proven any more, and then it is the clearance that is open. Where TESTS
// is not whole it takes one thing in three.
func TestTakingAwayProvesNothing(t *testing.T) {
	t.Parallel()
	for _, name := range job.Demonstrations() {
		if name == proven {
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			root := treeOf(t, read(t, name+".toml"))
			_, whole, err := outcomeOf(t, root.String())
			if err != nil {
				t.Fatal(err)
			}
			before := map[string]job.Item{}
			for _, i := range whole.Items {
				before[i.Name] = i
			}
			var n tally
			every := thorough.Every(3)
			for i, p := range root.places() {
				if i%every != 0 {
					continue
				}
				p.remove()
				got, a, _ := outcomeOf(t, root.String())
				p.restore()
				n[got]++
				if got == refused {
					continue
				}
				now := map[string]job.Item{}
				for _, i := range a.Items {
					now[i.Name] = i
				}
				shells := asksForShells.MatchString(p.path)
				for _, i := range a.Items {
					was := before[i.Name]
					clearance := now[strings.TrimSuffix(i.Name, "shells")+"clearance"]
					byClearance := was.Standing == job.Wrong && was.Why == "the clearance with these shells is proven wrong" && clearance.Name != "" && clearance.Standing != job.Proven
					if i.Standing == job.Proven && was.Standing != job.Proven && !byClearance {
						t.Errorf("without %s = %v: %s is proven (%s), and was %s: %s", p.path, p.value, i.Name, i.Why, was.Standing, was.Why)
					}
				}
				for name, was := range before {
					if _, ok := now[name]; !ok && was.Standing != job.Proven && !(shells && was.Quantity == "shells") {
						t.Errorf("without %s = %v: %s is gone, and was %s: %s", p.path, p.value, name, was.Standing, was.Why)
					}
				}
				for _, phase := range job.Phases() {
					if shells && !slices.ContainsFunc(whole.Gate(phase).Shut, func(i job.Item) bool { return i.Quantity != "shells" }) {
						continue
					}
					if a.Gate(phase).Open && !whole.Gate(phase).Open {
						t.Errorf("without %s = %v: the gate of %s is open", p.path, p.value, phase)
					}
				}
			}
			t.Logf("things taken away: %s", n)
		})
	}
}
