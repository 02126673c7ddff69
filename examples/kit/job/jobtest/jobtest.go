// Package jobtest draws jobs of generated engines for the tests of packages that show, walk
// or judge a job.
package jobtest

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// A Job is a job of which everything is proven, as lines of its file. Each line that states
// something which must be known can be taken out by itself.
type Job struct {
	Lines []string
}

func (g *Job) add(format string, args ...any) {
	g.Lines = append(g.Lines, fmt.Sprintf(format, args...))
}

// String returns the file.
func (g Job) String() string { return strings.Join(g.Lines, "\n") + "\n" }

// Length writes a number of micrometres in the job's unit; an inch job is drawn in steps
// of a ten-thousandth of an inch, which the number then counts.
func Length(inch bool, n int) string {
	if inch {
		return fmt.Sprintf("%d.%04d in", n/10000, n%10000)
	}
	return fmt.Sprintf("%d.%03d mm", n/1000, n%1000)
}

// Span writes an interval, its bounds counted as Draw counts them: in micrometres, or in
// ten-thousandths of an inch.
func Span(inch bool, lo, hi int) string {
	number, _, _ := strings.Cut(Length(inch, lo), " ")
	return number + ".." + Length(inch, hi)
}

// Draw draws an engine of one to twelve cylinders, in millimetres or inches, with its
// own pins or shared ones, and measures it so that all of it is proven: bearings by sizes
// or by strip, gaps by blades, used bolts by their lengths. A size is within 3 steps of its
// middle, an instrument good to one, and limits are 40 and more to either side.
func Draw(t *rapid.T) Job {
	var g Job
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
	g.add(`gauge = { kind = "bore gauge", uncertainty = "%s" }`, Length(inch, 1))
	g.add(`micrometer = { kind = "micrometer", uncertainty = "%s" }`, Length(inch, 1))
	g.add(`strip = { kind = "crush strip", widths = ["%s", "%s", "%s", "%s"] }`, Length(inch, 20), Length(inch, 50), Length(inch, 70), Length(inch, 100))
	g.add(`blades = { kind = "feeler blades", blades = ["%s", "%s", "%s", "%s"] }`, Length(inch, 100), Length(inch, 150), Length(inch, 200), Length(inch, 250))
	g.add(`dial = { kind = "dial", uncertainty = "%s" }`, Length(inch, 2))
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
		g.add(`limits = "%s"`, Span(inch, 20, 120))
		if rapid.Bool().Draw(t, part+" by strip") {
			g.add(`conditions = { bolts = "tightened as for assembly", crankshaft = "not turned", oil = "wiped off" }`)
			g.add("[measure.\"%s clearance\".readings]", name)
			for _, l := range at {
				g.add(`%s = "%s"`, l, rapid.SampledFrom([]string{Span(inch, 50, 70), Length(inch, 70)}).Draw(t, "strip"))
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
				g.add(`%s = "%s"`, l, Length(inch, size.middle+draw(size.line, -size.spread, size.spread)))
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
		g.add(`limits = "%s"`, Span(inch, 90, 260))
		g.add(`with = "blades"`)
		if conditions != "" {
			g.add("%s", conditions)
		}
		g.add("[measure.\"%s\".readings]", line)
		for _, l := range at {
			lo := rapid.SampledFrom([]int{100, 150, 200}).Draw(t, line)
			g.add(`%s = "%s"`, l, Span(inch, lo, lo+50))
		}
	}
	gap("rod side play", "", pins)
	for _, ring := range []string{"top ring", "second ring"} {
		gap(ring+" end gap", `conditions = { ring = "square in its own bore", depth = "as the manual says" }`, names(cylinders))
	}
	g.add("[measure.\"crankshaft end play\"]\nwith = \"dial\"")
	g.add(`limits = "%s"`, Span(inch, 90, 260))
	from, play := draw("from", 10, 90), draw("end play", 110, 240)
	number, _, _ := strings.Cut(Length(inch, from), " ")
	g.add(`reading = "%s to %s"`, number, Length(inch, from+play))
	if rapid.Bool().Draw(t, "shells by codes") { // a row that reads otherwise from the other end
		g.add("[shells.main.codes]\nupper = \"A%s\"\nlower = \"1%s\"", strings.Repeat(" B", mains-1), strings.Repeat(" 1", mains-1))
		g.add(`upper_row = { begins = "1" }`)
		g.add("[shells.main.grades]\nupper = { A = \"red\", B = \"blue\" }\nlower = { 1 = \"red\" }")
		g.add("[shells.main]\nstock = [{ half = \"upper\", grade = \"red\" }, { half = \"upper\", grade = \"blue\", count = %d }, { half = \"lower\", grade = \"red\", count = %d }]", mains-1, mains)
	}
	var bolts []string
	for i := range cylinders {
		bolts = append(bolts, fmt.Sprintf("%da", i+1), fmt.Sprintf("%db", i+1))
	}
	if rapid.Bool().Draw(t, "new bolts") {
		g.add("[bolts.\"rod bolts\"]\nnew = [%s]", Quoted(bolts))
	} else {
		g.add("[bolts.\"rod bolts\"]\nwith = \"micrometer\"")
		g.add(`longest_length = "%s"`, Length(inch, 45100))
		g.add("[bolts.\"rod bolts\".lengths]")
		for _, b := range bolts {
			g.add(`%s = "%s"`, b, Length(inch, 45000+draw("bolt", -3, 3)))
		}
	}
	g.add("[[tightening]]\ngroup = \"rod bolts\"\nsingle_use = false\nbolts = [%s]\nstages = [{ torque = \"20 N·m\" }]", Quoted(bolts))
	return g
}

// Quoted writes names as a list of a file has them, without its brackets.
func Quoted(names []string) string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = fmt.Sprintf("%q", n)
	}
	return strings.Join(list, ", ")
}
