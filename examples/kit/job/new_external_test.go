package job_test

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
)

// drawBeginning draws an engine, as a person declares it.
func drawBeginning(t *rapid.T) job.Beginning {
	cylinders := rapid.IntRange(1, 16).Draw(t, "cylinders")
	b := job.Beginning{Cylinders: fmt.Sprint(cylinders), Mains: fmt.Sprint(rapid.IntRange(1, 9).Draw(t, "mains")),
		Rings:    rapid.SampledFrom([]string{"top ring", "top ring, second ring", "1. ring,2. ring, oil ring"}).Draw(t, "rings"),
		Passages: rapid.SampledFrom([]string{"gallery", "main gallery, \"long\" drillings"}).Draw(t, "passages"),
		Jets:     rapid.SampledFrom([]string{"", "0", "4", "left, right"}).Draw(t, "jets"), Decks: rapid.SampledFrom([]string{"", "left bank, right bank"}).Draw(t, "decks"),
		Inspect: rapid.SampledFrom([]string{"", "all", "cylinder, main journal"}).Draw(t, "inspect"), Inches: rapid.Bool().Draw(t, "inches")}
	if cylinders%2 == 0 && rapid.Bool().Draw(t, "shared") {
		var pins []string
		for i := 1; i <= cylinders/2; i++ {
			pins = append(pins, fmt.Sprintf("%d-%d", i, i+cylinders/2))
		}
		b.Pins = strings.Join(pins, " ")
	}
	if rapid.Bool().Draw(t, "names") {
		b.Mains, b.Thrust = "front, centre, rear", "rear"
	}
	return b
}

// TestNewProvesNothing: the file of any engine can be read as it stands; every item is not
// measured, and every gate is shut.
func TestNewProvesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, err := drawBeginning(t).File()
		if err != nil {
			t.Fatal(err)
		}
		a := assessed(t, string(src))
		for _, i := range a.Items {
			if i.Standing != job.NotMeasured {
				t.Fatalf("%s is %s: %s\n%s", i.Name, i.Standing, i.Why, src)
			}
		}
		if a.Proven() || len(a.Items) == 0 || a.Gate(job.Final).Open || a.Gate(job.After).Open {
			t.Fatalf("something is proven\n%s", src)
		}
	})
}

// offer is a line that counts once its # is taken away.
var offer = regexp.MustCompile(`(?m)^( *)#([^ \n])`)

// TestEveryOfferIsOne: with every # of an offer taken away, all that is wrong is what is
// still open.
func TestEveryOfferIsOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, err := drawBeginning(t).File()
		if err != nil {
			t.Fatal(err)
		}
		all := offer.ReplaceAll(src, []byte("$1$2"))
		_, err = job.Read("job.toml", all)
		lines := strings.Split(string(all), "\n")
		var errs tomlfile.Errors
		errors.As(err, &errs)
		for _, e := range errs {
			if line := lines[max(e.Line, 1)-1]; !strings.Contains(line, "?") && !strings.Contains(line, "[]") && !strings.Contains(line, "{}") && !strings.HasPrefix(line, "[shells.") {
				t.Errorf("%v\n%s", e, line)
			}
			if errors.Is(e, tomlfile.ErrUnknownKey) || errors.Is(e, tomlfile.ErrKind) {
				t.Errorf("%v", e)
			}
		}
	})
}

// TestNewFits: the file of a four-cylinder engine, every expected reading typed, has at
// most 160 lines besides the remarks and what further lines follow from.
func TestNewFits(t *testing.T) {
	src, err := job.Beginning{Cylinders: "4", Mains: "5", Rings: "top ring, second ring", Passages: "main gallery, crankshaft drillings", Jets: "4"}.File()
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	before, rules, _ := strings.Cut(string(src), "\n# 3. ")
	_, after, ok := strings.Cut(rules, "\n# 4. ")
	if !ok {
		t.Fatal("no third part")
	}
	for _, l := range strings.Split(offer.ReplaceAllString(before+after, "$1$2"), "\n") {
		if l = strings.TrimSpace(l); l != "" && l[0] != '#' && !strings.HasPrefix(l, `"`) {
			all++
		}
	}
	if all > 160 {
		t.Errorf("%d lines, want 160 at the most", all)
	}
	t.Logf("%d lines as written, %d without remarks and with every offer taken", strings.Count(string(src), "\n"), all)
}

// TestNewRefuses: what cannot be an engine is said by option, all at once.
func TestNewRefuses(t *testing.T) {
	_, err := job.Beginning{Cylinders: "four,", Mains: "0", Pins: "1-4 2-7", Thrust: "9", Inspect: "cylindr"}.File()
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{"-mains: 0 of them", "-rings: missing", "-passages: missing", `-pins: rod "1": unknown name; write one of four`} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("does not say %q:\n%v", want, err)
		}
	}
	_, err = job.Beginning{Cylinders: "four", Mains: "4.5", Jets: "two", Rings: "top ring", Passages: "gallery"}.File()
	for _, want := range []string{`-cylinders: "four": one name, and no number; write how many there are in figures`, `-mains: "4.5": one name`, `-jets: "two": one name`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("does not say %q:\n%v", want, err)
		}
	}
	if text, err := (job.Beginning{Cylinders: "1", Mains: "2", Rings: "top ring", Passages: "gallery"}).File(); err != nil || !strings.Contains(string(text), `title = "An engine of 1 cylinder"`) {
		t.Errorf("%v\n%s", err, text)
	}
	_, err = job.Beginning{Cylinders: "4", Mains: "5", Rings: "top ring", Passages: "gallery", Inspect: "cylindr"}.File()
	if err == nil || !strings.Contains(err.Error(), `-inspect: line "cylindr": unknown name; write "cylinder"`) || strings.Contains(err.Error(), "fits") {
		t.Errorf("%v", err)
	}
	// What no line is of is no slip of the pen: a fit of the engine's own.
	for _, name := range []string{"valve clearance", "camshaft lift"} {
		_, err = job.Beginning{Cylinders: "4", Mains: "5", Thrust: "3", Rings: "top ring", Passages: "gallery", Inspect: name}.File()
		if err == nil || !strings.HasPrefix(err.Error(), `-inspect: line "`+name+`": unknown name`) || !strings.HasSuffix(err.Error(), "write it under [[fits]]") {
			t.Errorf("%v", err)
		}
	}
}

// TestNewRefusesWhatCannotBePrinted: a name that no file could hold.
func TestNewRefusesWhatCannotBePrinted(t *testing.T) {
	for _, name := range []string{"top\x7fring", "top\a", "\xff", "top\nring"} {
		if _, err := (job.Beginning{Cylinders: "1", Mains: "2", Rings: name, Passages: "gallery"}).File(); err == nil || !strings.Contains(err.Error(), "cannot be printed") {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// inspectedIn are the names under inspect, offered or asked for.
func inspectedIn(t *testing.T, src []byte) (names []string) {
	_, list, _ := strings.Cut(string(src), "\ninspect = [\n")
	list, _, ok := strings.Cut(list, "\n]\n")
	if !ok {
		t.Fatalf("no inspect:\n%s", src)
	}
	return regexp.MustCompile(`"[^"]+"`).FindAllString(list, -1)
}

// TestNewOffersEveryLine: what can be measured of an engine stands in its file.
func TestNewOffersEveryLine(t *testing.T) {
	b := job.Beginning{Cylinders: "2", Mains: "3", Rings: "top ring", Passages: "gallery", Jets: "2"}
	src, err := b.File()
	if err != nil {
		t.Fatal(err)
	}
	b.Inspect = "all"
	asked, err := b.File()
	if err != nil {
		t.Fatal(err)
	}
	offered, inspected := inspectedIn(t, src), inspectedIn(t, asked)
	if len(offered) < 20 || !slices.Equal(offered, inspected) {
		t.Errorf("offered are %q, asked for %q", offered, inspected)
	}
	for _, name := range inspected {
		if name = strings.Trim(name, `"`); !strings.Contains(string(asked), fmt.Sprintf("[measure.%q]", name)) && !strings.Contains(string(asked), fmt.Sprintf("[measure.%s]", name)) {
			t.Errorf("%s has no table", name)
		}
	}
}
