package job_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/units"
)

// TestGeneratedJobsAreProven: the jobs that the properties below take apart are whole.
func TestGeneratedJobsAreProven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := jobtest.Draw(t)
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
		g := jobtest.Draw(t)
		at := rapid.IntRange(1, len(g.Lines)-1).Draw(t, "line") // all but the title
		gone := g.Lines[at]
		if strings.HasPrefix(gone, "jets") || strings.HasPrefix(gone, "pins") || strings.HasPrefix(gone, "single_use") {
			return // another engine
		}
		src := strings.Join(append(append([]string{}, g.Lines[:at]...), g.Lines[at+1:]...), "\n") + "\n"
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
		g := jobtest.Draw(t)
		var at []int
		for i, line := range g.Lines {
			if key, text, ok := strings.Cut(line, ` = "`); ok && !strings.Contains(key, "limits") && !strings.Contains(key, "longest") && !strings.Contains(key, " ") &&
				!strings.Contains(text, "..") && !strings.Contains(text, "to") && (strings.HasSuffix(text, ` mm"`) || strings.HasSuffix(text, ` in"`)) {
				at = append(at, i)
			}
		}
		if len(at) == 0 {
			return
		}
		i := rapid.SampledFrom(at).Draw(t, "line")
		key, text, _ := strings.Cut(g.Lines[i], ` = "`)
		number, unit, _ := strings.Cut(strings.TrimSuffix(text, `"`), " ")
		typed := rapid.SampledFrom(slipped(number, unit)).Draw(t, "slip")
		lines := append([]string{}, g.Lines...)
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
