package demo_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
)

// spare are the places of a job that state nothing which has to be known of the engine: it
// may be proven without any one of them. Everything else is a reading, a limit, a
// condition, a place, a bolt, or how one of these is to be understood.
var spare = []struct {
	where *regexp.Regexp
	why   string
}{
	{regexp.MustCompile(`^(note|date|by)$`), "for the reader alone"},
	{regexp.MustCompile(`^(engine\.name|build)$`), "which engine and build it is proves nothing of it; a ledger is refused without them"},
	{regexp.MustCompile(`^instruments\.[^.]*\.repeats$`), "without it a doubt is only wider"},
	{regexp.MustCompile(`^instruments\.[^.]*\.(widths|blades)\[\d+\]$`), "a print or a blade that no reading names"},
	{regexp.MustCompile(`^measure\.(main journal\.planes|cylinder\.directions)$`), "names that its form can do without; with them a missing station is missed"},
	{regexp.MustCompile(`^shells$|^shells\.main$`), "the clearances are measured with the shells that are fitted"},
	{regexp.MustCompile(`^shells\.main\.walls(\.(upper|lower)(\.\w+)?)?$`), "what other shells there are, to offer one in place of a wrong one"},
	{regexp.MustCompile(`^tightening\[\d\]\.order$`), "there is a usual order"},
	{regexp.MustCompile(`^tightening\[\d\]\.stages\[\d\](\.check)?$`), "how bolts are tightened is the manual's to say"},
}

// TestNothingCanBeTakenAway takes one thing after another out of the job of which all is
// proven: every table, every key, every element of a list, each reading within an inline
// table; and then every line of its text. Without it the job is refused, or is not proven,
// unless it is spare. Where TESTS is not whole it takes one thing in three.
func TestNothingCanBeTakenAway(t *testing.T) {
	t.Parallel()
	src := read(t, proven+".toml")
	root := treeOf(t, src)
	if got, _, err := outcomeOf(t, root.String()); got != silent {
		t.Fatalf("the whole job: outcome %d, %v", got, err)
	}
	met := make([]bool, len(spare))
	var n tally
	every := thorough.Every(7)
	for i, p := range root.places() {
		if i%every != 0 {
			continue
		}
		p.remove()
		got, _, _ := outcomeOf(t, root.String())
		p.restore()
		n[got]++
		if got != silent {
			continue
		}
		known := false
		for i, s := range spare {
			if s.where.MatchString(p.path) {
				known, met[i] = true, true
			}
		}
		if !known {
			t.Errorf("all is proven without %s = %v", p.path, p.value)
		}
	}
	for i, s := range spare {
		if !met[i] && thorough.Whole() {
			t.Errorf("nothing was spare because: %s (%s)", s.why, s.where)
		}
	}
	t.Logf("things taken away: %s, and all of these spare", n)
	if n[refused]+n[unproven] < 250/every {
		t.Error("too few things were taken away")
	}
}

// TestNoLineCanBeTakenAway is the same line by line. A header that is gone leaves its
// lines to the table before. Where TESTS is not whole it takes one line in seven.
func TestNoLineCanBeTakenAway(t *testing.T) {
	t.Parallel()
	src := read(t, proven+".toml")
	lines := strings.SplitAfter(src, "\n")
	spareLine := regexp.MustCompile(`^\s*(#.*)?$|^(note|date|by) +=|^(name|build) =|^order = "inside out"$|^planes = \["front"|^directions = \["along the crank"|^order = \[|^\[shells.main.walls\]$`)
	var n tally
	every := thorough.Every(7)
	for i, line := range lines {
		if i%every != 0 {
			continue
		}
		got, _, _ := outcomeOf(t, strings.Join(lines[:i], "")+strings.Join(lines[i+1:], ""))
		n[got]++
		if text := strings.TrimSpace(line); got == silent && !spareLine.MatchString(text) && !strings.HasPrefix(text, "upper = { rye") && !strings.HasPrefix(text, "lower = { rye") {
			t.Errorf("all is proven without line %d: %s", i+1, text)
		}
	}
	t.Logf("lines taken away: %s, and all of these spare or empty", n)
}

// TestNoStationCanBeTakenAway takes one number, one plane and one direction after another
// out of the readings that have several.
func TestNoStationCanBeTakenAway(t *testing.T) {
	t.Parallel()
	root := treeOf(t, read(t, proven+".toml"))
	var n tally
	for _, p := range root.places() {
		text, ok := p.value.(string)
		if !ok || !strings.Contains(text, ";") {
			continue
		}
		body, unit, _ := cutLast(text, " ")
		planes := strings.Split(body, "; ")
		for _, less := range withoutOne(planes) {
			p.put(p.key, less+" "+unit)
			got, _, _ := outcomeOf(t, root.String())
			p.restore()
			n[got]++
			if got == silent {
				t.Errorf("all is proven with %s = %q for %q", p.path, less, text)
			}
		}
	}
	t.Logf("stations taken away: %s", n)
	if n[refused]+n[unproven] < 80 {
		t.Error("too few stations were taken away")
	}
}

// withoutOne are planes without one number, without one plane, and without one direction.
func withoutOne(planes []string) (list []string) {
	directions := len(strings.Fields(planes[0]))
	for i, plane := range planes {
		rest := func(instead ...string) string {
			return strings.Join(append(append(append([]string{}, planes[:i]...), instead...), planes[i+1:]...), "; ")
		}
		list = append(list, rest())
		for k := range directions {
			list = append(list, rest(without(plane, k)))
		}
	}
	for k := range directions {
		var all []string
		for _, plane := range planes {
			all = append(all, without(plane, k))
		}
		list = append(list, strings.Join(all, "; "))
	}
	return list
}

// without is a plane without the number of a direction.
func without(plane string, direction int) string {
	numbers := strings.Fields(plane)
	return strings.Join(append(numbers[:direction:direction], numbers[direction+1:]...), " ")
}

// TestNothingCanBeTakenAwayOfAnyEngine takes something out of a generated job.
func TestNothingCanBeTakenAwayOfAnyEngine(t *testing.T) {
	t.Parallel()
	more := []*regexp.Regexp{
		regexp.MustCompile(`^instruments\.[^.]*$`),           // nothing is read with it
		regexp.MustCompile(`^tightening\[\d\]\.single_use$`), // of torque alone it need not be said
	}
	rapid.Check(t, func(t *rapid.T) {
		src := jobtest.Draw(t).String()
		root := treeOf(t, src)
		p := rapid.SampledFrom(root.places()).Draw(t, "taken away")
		if p.key == "count" && fmt.Sprint(p.value) == "1" {
			return // what is not counted is one
		}
		p.remove()
		a, err := assessed(t, root.String())
		if err != nil || !a.Proven() {
			return
		}
		for _, s := range spare {
			if s.where.MatchString(p.path) {
				return
			}
		}
		for _, s := range more {
			if s.MatchString(p.path) {
				return
			}
		}
		t.Fatalf("all is proven without %s = %v\n%s", p.path, p.value, src)
	})
}
