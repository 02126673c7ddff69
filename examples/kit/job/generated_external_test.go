package job_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
)

// A generated job is a job of which everything is proven, as lines of its file. Each line
// that states something which must be known can be taken out by itself.
type generated struct {
	lines []string
}

func (g *generated) add(format string, args ...any) {
	g.lines = append(g.lines, fmt.Sprintf(format, args...))
}

func (g generated) String() string { return strings.Join(g.lines, "\n") + "\n" }

// length writes a number of micrometres in the job's unit; an inch job is drawn in steps
// of a ten-thousandth of an inch, which the number then counts.
func length(inch bool, n int) string {
	if inch {
		return fmt.Sprintf("%d.%04d in", n/10000, n%10000)
	}
	return fmt.Sprintf("%d.%03d mm", n/1000, n%1000)
}

// span writes an interval.
func span(inch bool, lo, hi int) string {
	number, _, _ := strings.Cut(length(inch, lo), " ")
	return number + ".." + length(inch, hi)
}

// drawJob draws an engine of one to twelve cylinders, in millimetres or inches, with its
// own pins or shared ones, and measures it so that all of it is proven: bearings by sizes
// or by strip, gaps by blades, used bolts by their lengths. A size is within 3 steps of its
// middle, an instrument good to one, and limits are 40 and more to either side.
func drawJob(t *rapid.T) generated {
	var g generated
	inch := rapid.Bool().Draw(t, "inch")
	cylinders := rapid.IntRange(1, 12).Draw(t, "cylinders")
	mains := rapid.IntRange(2, 7).Draw(t, "mains")
	shared := cylinders%2 == 0 && rapid.Bool().Draw(t, "shared pins")
	draw := func(label string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, label) }
	g.add(`title = "generated"`)
	g.add("[engine]\ncylinders = %d\nmains = %d\nthrust = \"%d\"", cylinders, mains, draw("thrust", 1, mains))
	pins := make([]string, 0, cylinders)
	if shared {
		var texts []string
		for i := 1; i <= cylinders/2; i++ {
			texts = append(texts, fmt.Sprintf(`["%d", "%d"]`, i, i+cylinders/2))
			pins = append(pins, fmt.Sprintf("%d-%d", i, i+cylinders/2))
		}
		g.add("pins = [%s]", strings.Join(texts, ", "))
	} else {
		for i := range cylinders {
			pins = append(pins, fmt.Sprint(i+1))
		}
	}
	g.add("rings = [\"top ring\", \"second ring\"]\npassages = [\"gallery\", \"drillings\"]")
	jets := draw("jets", 0, 3)
	if jets > 0 {
		g.add("jets = %d", jets)
	}
	g.add("[instruments]")
	g.add(`gauge = { kind = "bore gauge", uncertainty = "%s" }`, length(inch, 1))
	g.add(`micrometer = { kind = "micrometer", uncertainty = "%s" }`, length(inch, 1))
	g.add(`strip = { kind = "crush strip", widths = ["%s", "%s", "%s", "%s"] }`, length(inch, 20), length(inch, 50), length(inch, 70), length(inch, 100))
	g.add(`blades = { kind = "feeler blades", blades = ["%s", "%s", "%s", "%s"] }`, length(inch, 100), length(inch, 150), length(inch, 200), length(inch, 250))
	g.add(`dial = { kind = "dial", uncertainty = "%s" }`, length(inch, 2))
	g.add(`"pressure gauge" = { kind = "pressure gauge", uncertainty = "0.1 bar" }`)
	g.add("[measure.passage.readings]\ngallery = \"clean\"\ndrillings = \"clean\"")
	if jets > 0 {
		g.add("[measure.\"oil jet opening pressure\"]")
		g.add(`limits = "2.0..4.0 bar"`)
		g.add("[measure.\"oil jet opening pressure\".readings]")
		for i := range jets {
			lo := draw("shut", 22, 34)
			g.add(`%d = "%d.%d..%d.%d bar"`, i+1, lo/10, lo%10, (lo+2)/10, (lo+2)%10)
		}
	}
	bearing := func(name, part string, at, journals []string) {
		g.add("[measure.\"%s clearance\"]", name)
		g.add(`limits = "%s"`, span(inch, 20, 120))
		if rapid.Bool().Draw(t, part+" by strip") {
			g.add(`conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }`)
			g.add("[measure.\"%s clearance\".readings]", name)
			for _, l := range at {
				g.add(`%s = "%s"`, l, rapid.SampledFrom([]string{span(inch, 50, 70), length(inch, 70)}).Draw(t, "strip"))
			}
			return
		}
		middle := draw(part, 3000, 6000) * 10
		for _, size := range []struct {
			line, with, conditions string
			at                     []string
			middle, spread         int
		}{
			{part + " bore", "gauge", `conditions = { bolts = "tightened as for assembly", shells = "out" }`, at, middle + 4070, 3},
			{part + " upper wall thickness", "micrometer", "", at, 2000, 2},
			{part + " lower wall thickness", "micrometer", "", at, 2000, 2},
			{part + " journal", "micrometer", "", journals, middle, 3},
		} {
			g.add("[measure.\"%s\"]\nwith = \"%s\"", size.line, size.with)
			if size.conditions != "" {
				g.add("%s", size.conditions)
			}
			g.add("[measure.\"%s\".readings]", size.line)
			for _, l := range size.at {
				g.add(`%s = "%s"`, l, length(inch, size.middle+draw(size.line, -size.spread, size.spread)))
			}
		}
	}
	names := func(n int) (list []string) {
		for i := range n {
			list = append(list, fmt.Sprint(i+1))
		}
		return list
	}
	bearing("main bearing", "main", names(mains), names(mains))
	bearing("rod bearing", "rod", names(cylinders), pins)
	gap := func(line, conditions string, at []string) {
		g.add("[measure.\"%s\"]", line)
		g.add(`limits = "%s"`, span(inch, 90, 260))
		g.add(`with = "blades"`)
		if conditions != "" {
			g.add("%s", conditions)
		}
		g.add("[measure.\"%s\".readings]", line)
		for _, l := range at {
			lo := rapid.SampledFrom([]int{100, 150, 200}).Draw(t, line)
			g.add(`%s = "%s"`, l, span(inch, lo, lo+50))
		}
	}
	gap("rod side play", "", pins)
	for _, ring := range []string{"top ring", "second ring"} {
		gap(ring+" end gap", `conditions = { ring = "square in its own bore", depth = "as the manual says" }`, names(cylinders))
	}
	g.add("[measure.\"crankshaft end play\"]\nwith = \"dial\"")
	g.add(`limits = "%s"`, span(inch, 90, 260))
	from, play := draw("from", 10, 90), draw("end play", 110, 240)
	number, _, _ := strings.Cut(length(inch, from), " ")
	g.add(`reading = "%s to %s"`, number, length(inch, from+play))
	var bolts []string
	for i := range cylinders {
		bolts = append(bolts, fmt.Sprintf("%da", i+1), fmt.Sprintf("%db", i+1))
	}
	if rapid.Bool().Draw(t, "new bolts") {
		g.add("[bolts.\"rod bolts\"]\nnew = [%s]", quoted(bolts))
	} else {
		g.add("[bolts.\"rod bolts\"]\nwith = \"micrometer\"")
		g.add(`longest_length = "%s"`, length(inch, 45100))
		g.add("[bolts.\"rod bolts\".lengths]")
		for _, b := range bolts {
			g.add(`%s = "%s"`, b, length(inch, 45000+draw("bolt", -3, 3)))
		}
	}
	g.add("[[tightening]]\ngroup = \"rod bolts\"\nsingle_use = false\nbolts = [%s]\nstages = [{ torque = \"20 N·m\" }]", quoted(bolts))
	return g
}

func quoted(names []string) string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(list, ", ")
}

// TestGeneratedJobsAreProven: the jobs that the properties below take apart are whole.
func TestGeneratedJobsAreProven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawJob(t)
		a := assessed(t, g.String())
		for _, i := range a.Items {
			if i.Standing != job.Proven {
				t.Fatalf("%s: %s, %s\n%s", i.Name, i.Standing, i.Why, g)
			}
		}
		if !a.Proven() || !a.Gate(job.Final).Open {
			t.Fatalf("not proven\n%s", g)
		}
	})
}

func assessed(t *rapid.T, src string) *job.Assessment {
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	return a
}

// TestTakingAwayOneLine: a job without any one of its lines is refused, or not proven.
func TestTakingAwayOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawJob(t)
		at := rapid.IntRange(1, len(g.lines)-1).Draw(t, "line") // all but the title
		gone := g.lines[at]
		if strings.HasPrefix(gone, "jets") || strings.HasPrefix(gone, "pins") || strings.HasPrefix(gone, "single_use") {
			return // another engine
		}
		src := strings.Join(append(append([]string{}, g.lines[:at]...), g.lines[at+1:]...), "\n") + "\n"
		j, err := job.Read("job.toml", []byte(src))
		if err != nil {
			return
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			return
		}
		if a.Proven() && !strings.Contains(gone, "kind = ") {
			t.Fatalf("still proven without %q\n%s", gone, src)
		}
	})
}

// slipped are the texts that a person may have typed in place of the number and its unit.
func slipped(number, unit string) (list []string) {
	whole, part, _ := strings.Cut(number, ".")
	list = append(list, whole+part[:1]+"."+part[1:]+"0 "+unit, // a place to the right
		"0"+whole[:len(whole)-1]+"."+whole[len(whole)-1:]+part+" "+unit) // and to the left
	other := map[string]string{"mm": "in", "in": "mm"}[unit]
	list = append(list, number+" "+other)
	for i := range len(number) - 1 {
		k := i + 1
		if number[k] == '.' {
			k++
		}
		if number[i] == '.' || number[i] == number[k] {
			continue
		}
		b := []byte(number)
		b[i], b[k] = b[k], b[i]
		list = append(list, string(b)+" "+unit)
	}
	return list
}

// TestSlipsOfThePen: a decimal point in the wrong place, exchanged digits or another unit
// in one reading never leave a job proven if they move it by more than its limits are
// wide. Those that move it by less are counted: nobody could notice them all.
func TestSlipsOfThePen(t *testing.T) {
	tried, refused, unproven, silent := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		g := drawJob(t)
		var at []int
		for i, line := range g.lines {
			if key, text, ok := strings.Cut(line, ` = "`); ok && !strings.Contains(key, "limits") && !strings.Contains(key, "longest") && !strings.Contains(key, " ") &&
				!strings.Contains(text, "..") && !strings.Contains(text, "to") && (strings.HasSuffix(text, ` mm"`) || strings.HasSuffix(text, ` in"`)) {
				at = append(at, i)
			}
		}
		if len(at) == 0 {
			return
		}
		i := rapid.SampledFrom(at).Draw(t, "line")
		key, text, _ := strings.Cut(g.lines[i], ` = "`)
		number, unit, _ := strings.Cut(strings.TrimSuffix(text, `"`), " ")
		typed := rapid.SampledFrom(slipped(number, unit)).Draw(t, "slip")
		lines := append([]string{}, g.lines...)
		lines[i] = key + ` = "` + typed + `"`
		src := strings.Join(lines, "\n") + "\n"
		tried++
		j, err := job.Read("job.toml", []byte(src))
		if err != nil {
			refused++
			return
		}
		a, err := j.Assess(t.Context())
		if err != nil || !a.Proven() {
			unproven++
			return
		}
		was, is := units.MustParseLength(number+" "+unit), units.MustParseLength(typed)
		widest := units.MustParseLength("0.240 mm") // wider than any limits here are
		if unit == "in" {
			widest = units.MustParseLength("0.0240 in")
		}
		if widest.Less(is.Sub(was).Abs()) {
			t.Fatalf("%q for %q leaves it proven\n%s", typed, text, src)
		}
		silent++
	})
	t.Logf("%d slips: %d refused, %d not proven or named, %d within the limits", tried, refused, unproven, silent)
}
