package job_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
)

// TestSheetHasWhatIsOpen: every item that was not measured stands on the sheet, for any
// engine, and a job with every reading has an empty one.
func TestSheetHasWhatIsOpen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, err := drawBeginning(t).File()
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read("job.toml", src)
		if err != nil {
			t.Fatal(err)
		}
		var readings []string
		for _, p := range j.Sheet().Parts {
			for _, l := range p.Lines {
				readings = append(readings, l.Readings...)
			}
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range a.Items {
			name := i.Name
			for _, q := range []string{" diameter", " taper", " out-of-round"} { // of one reading
				if !slices.Contains(readings, name) {
					name = strings.TrimSuffix(name, q)
				}
			}
			if name != "tightening plan" && !slices.Contains(readings, name) {
				t.Fatalf("%s is not on the sheet\n%s", i.Name, src)
			}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		g := jobtest.Draw(t)
		j, err := job.Read("job.toml", []byte(g.String()))
		if err != nil {
			t.Fatal(err)
		}
		if s := j.Sheet(); len(s.Parts) > 0 || len(s.NoLimits) > 0 {
			t.Fatalf("open in a whole job: %+v\n%s", s, g)
		}
	})
}

// line returns a line of the demonstration's sheet, after a change of the job.
func sheetLine(t *testing.T, name string, changes ...string) job.SheetLine {
	t.Helper()
	j, err := job.Read("job.toml", []byte(strings.NewReplacer(changes...).Replace(base(t))))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range j.Sheet().Parts {
		for _, l := range p.Lines {
			if l.Name == name {
				return l
			}
		}
	}
	t.Fatalf("no line %q", name)
	return job.SheetLine{}
}

// TestGoodEnough: an instrument is good enough if twice its uncertainty is a quarter of
// the limits' width at the most.
func TestGoodEnough(t *testing.T) {
	for _, test := range []struct {
		name, line string
		changes    []string
		want       []string
	}{
		// 0.32 - 0.15 = 0.17, of which an eighth is 0.02125: the dial's 0.005 is, half the
		// blades' steps of 0.05 are not.
		{"a dial", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`}, []string{"dial, good to ±0.005 mm"}},
		{"no dial good enough", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, "uncertainty = \"0.005 mm\"", "uncertainty = \"0.0213 mm\""},
			[]string{"none of the job's is good enough (dial: ±0.0213 mm; blades: ±0.025 mm); it takes ±0.02125 mm or better: dial, feeler blades or gauge"}},
		{"a dial that is just good enough", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, "uncertainty = \"0.005 mm\"", "uncertainty = \"0.02125 mm\""}, []string{"dial, good to ±0.02125 mm"}},
		// Steps of 0.05 in limits 0.4 wide and more.
		{"blades", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, `limits = "0.15..0.32 mm"`, `limits = "0.05..0.45 mm"`}, []string{"dial, good to ±0.005 mm", "blades, good to ±0.025 mm"}},
		{"limits beyond the blades", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, `limits = "0.15..0.32 mm"`, `limits = "0.05..0.55 mm"`, `kind = "dial"`, `kind = "bore gauge"`, `"dial: 0.06 to 0.33 mm"`, `"?"`},
			[]string{"none of the job's is good enough (blades does not reach over the limits)"}},
		{"no limits", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, `limits = "0.15..0.32 mm"`, `limits = "?"`}, []string{"how good follows from the limits"}},
		{"at most", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, `limits = "0.15..0.32 mm"`, `limits = "<= 0.04 mm"`}, []string{"dial, good to ±0.005 mm"}},
		{"at least", "crankshaft end play", []string{`reading = ">= 0.15 mm"`, `reading = "?"`, `limits = "0.15..0.32 mm"`, `limits = ">= 0.04 mm"`}, []string{"one limit alone does not say how good"}},
		// 0.087 - 0.053 = 0.034; a quarter 0.0085, half of that 0.00425; the strip's steps
		// there are 0.030 at the widest. √(0.003² + 0.002² + ...) with the ball micrometer.
		{"a strip", "main bearing clearance", nil, []string{"crush strip: ±0.015 mm", "±0.00425 mm or better"}},
		{"a pressure gauge", "oil jet opening pressure", []string{`1 = "2.8..3.0 bar"`, `1 = "?"`}, []string{"test gauge, good to ±0.05 bar"}},
		{"no pressure gauge good enough", "oil jet opening pressure", []string{`1 = "2.8..3.0 bar"`, `1 = "?"`, `uncertainty = "0.05 bar"`, `uncertainty = "0.08 bar"`}, []string{"none of the job's is good enough (test gauge: ±0.08 bar); it takes ±0.075 bar or better"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			l := sheetLine(t, test.line, test.changes...)
			for _, want := range test.want {
				if !strings.Contains(l.With, want) {
					t.Errorf("%q does not say %q", l.With, want)
				}
			}
		})
	}
}

// TestSheetOfSizes: a clearance that the job measures by its sizes is asked for by them.
func TestSheetOfSizes(t *testing.T) {
	bore := sheetLine(t, "main bore")
	if !slices.Equal(bore.Readings, []string{"main bore 4"}) || bore.For != "main bearing clearance" || bore.Planes != 2 || bore.Stations != 3 ||
		!slices.Equal(bore.Conditions, []string{"bolts tightened as for assembly", "shells out"}) || !strings.HasPrefix(bore.With, "bore gauge, good to ±0.003 mm") {
		t.Errorf("%+v", bore)
	}
	bolts := sheetLine(t, "rod bolts stretch", `, 4b = "44.30 mm"`, ``)
	if !slices.Equal(bolts.Readings, []string{"rod bolts 4b"}) || bolts.Unit != "mm" {
		t.Errorf("%+v", bolts)
	}
}

// TestSheetSaysWhatWasNotSaid: a reading without its conditions stands on the sheet.
func TestSheetSaysWhatWasNotSaid(t *testing.T) {
	j, err := job.Read("job.toml", []byte(strings.Replace(base(t), `conditions = { bolts = "tightened as for assembly", shells = "out" }`, `conditions = { bolts = "?", shells = "out" }`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if s := j.Sheet(); !slices.Equal(s.NotSaid, []string{"main bore (bolts)"}) {
		t.Errorf("%q", s.NotSaid)
	}
}
