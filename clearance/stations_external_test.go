package clearance_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
)

func TestStations(t *testing.T) {
	at := func(text string) clearance.LengthReading { return read(t, "micrometer", text, "0.003 mm") }
	s, err := clearance.NewStations(
		[]clearance.LengthReading{at("47.990 mm"), at("47.984 mm")},
		[]clearance.LengthReading{at("47.987 mm"), at("47.985 mm")},
		[]clearance.LengthReading{at("47.978 mm"), at("47.981 mm")},
	)
	if err != nil {
		t.Fatal(err)
	}
	// Each difference has √(3² + 3²) = 4.2426.. µm, up to 4.243.
	for _, test := range []struct {
		name string
		got  clearance.LengthReading
		want string
	}{
		{"taper", s.Taper(), "0.012 ±0.004243 mm"},             // 47.990 - 47.978
		{"out-of-round", s.OutOfRound(), "0.006 ±0.004243 mm"}, // 47.990 - 47.984
		{"smallest", s.Smallest(), "47.978 ±0.003 mm"},
		{"largest", s.Largest(), "47.990 ±0.003 mm"},
		{"extremes", s.Extremes(), "47.975..47.993 mm"},
		{"mean", s.Mean(), "47.9811666667..47.9871666667 mm"}, // 47.98416..
	} {
		got := nearest(test.got.Interval(), 10)
		if !got.Equal(span(test.want)) {
			t.Errorf("%s: %s, want %s", test.name, got.Exact(), test.want)
		}
	}
	if how := s.Taper().How(units.Millimetre); how != "taper: largest of 3 readings less the smallest" {
		t.Errorf("taper: %q", how)
	}
	if how := s.Smallest().How(units.Millimetre); how != "micrometer: smallest of 6 readings" {
		t.Errorf("smallest: %q", how)
	}
	if how := s.Extremes().How(units.Millimetre); how != "micrometer: from the smallest of 6 readings to the largest" {
		t.Errorf("extremes: %q", how)
	}
}

// The fewest degrees of freedom count, and unlimited ones are the most.
func TestStationsWithFreedom(t *testing.T) {
	at := func(freedom int) clearance.LengthReading {
		in := clearance.LengthInstrument{Name: "m", Uncertainty: mm("0.003 mm"), Freedom: freedom}
		return reading[units.LengthDim](t)(in.Read(mm("47.99 mm")))
	}
	s, err := clearance.NewStations([]clearance.LengthReading{at(0), at(9), at(4), at(7), at(0)})
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]clearance.LengthReading{"smallest": s.Smallest(), "extremes": s.Extremes(), "mean": s.Mean()} {
		if r.Freedom() != 4 {
			t.Errorf("%s: %d degrees of freedom", name, r.Freedom())
		}
	}
}

// A crush strip wider at one end says taper.
func TestTaperOfAStrip(t *testing.T) {
	length := reading[units.LengthDim](t)
	front := length(newStrip(t).Between(mm("0.025 mm"), mm("0.038 mm")))
	rear := length(newStrip(t).Nearest(mm("0.051 mm"))) // 0.04355 and more
	s, err := clearance.NewStations([]clearance.LengthReading{front}, []clearance.LengthReading{rear})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Taper().Interval(); !got.Equal(span(">= 0.00555 mm")) {
		t.Errorf("taper %s", got)
	}
	if got := clearance.Judge(s.Taper().Interval(), span("<= 0.005 mm")); got != clearance.AboveLimit {
		t.Errorf("taper to 0.005 mm is %s", got)
	}
	if s.OutOfRound().Taken() {
		t.Error("one direction shows out-of-round")
	}
	same, err := clearance.NewStations([]clearance.LengthReading{front}, []clearance.LengthReading{front})
	if err != nil {
		t.Fatal(err)
	}
	if got := same.Taper().Interval(); !got.Equal(span("0..0.013 mm")) {
		t.Errorf("taper of equal readings %s", got)
	}
	one, err := clearance.NewStations([]clearance.LengthReading{front})
	if err != nil {
		t.Fatal(err)
	}
	if one.Taper().Taken() {
		t.Error("one plane shows taper")
	}
	var none clearance.Stations
	if none.Taper().Taken() || none.OutOfRound().Taken() || none.Smallest().Taken() || none.Largest().Taken() ||
		none.Mean().Taken() || none.Extremes().Taken() {
		t.Error("the zero Stations has readings")
	}
}

func TestBadStations(t *testing.T) {
	r := given("1 mm")
	for _, test := range []struct {
		name   string
		planes [][]clearance.LengthReading
		kind   error
		says   string
	}{
		{"none", nil, clearance.ErrEmpty, "each plane"},
		{"an empty plane", [][]clearance.LengthReading{{}}, clearance.ErrEmpty, "each plane"},
		{"unequal", [][]clearance.LengthReading{{r, r}, {r}}, clearance.ErrStations, "plane 2 has 1 readings, plane 1 has 2"},
		{"not taken", [][]clearance.LengthReading{{r, r}, {r, {}}}, clearance.ErrNotMeasured, "plane 2, direction 2"},
	} {
		_, err := clearance.NewStations(test.planes...)
		if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// What the stations say holds for every set of true sizes in their readings.
func TestStationsHoldTheTrueSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		planes, directions := rapid.IntRange(2, 4).Draw(t, "planes"), rapid.IntRange(2, 3).Draw(t, "directions")
		read := make([][]clearance.LengthReading, planes)
		size := make([][]units.Length, planes)
		var all []units.Length
		for i := range read {
			for range directions {
				a := drawInterval(t, "reading", 47_900, 47_960)
				read[i] = append(read[i], clearance.Given(a, ""))
				size[i] = append(size[i], drawIn(t, "size", a))
			}
			all = append(all, size[i]...)
		}
		s, err := clearance.NewStations(read...)
		if err != nil {
			t.Fatal(err)
		}
		var taper, round units.Length
		for i := range size {
			for j := range size[i] {
				for k := range size {
					taper = units.Max(taper, size[i][j].Sub(size[k][j]))
				}
				for k := range size[i] {
					round = units.Max(round, size[i][j].Sub(size[i][k]))
				}
			}
		}
		mean := units.Sum(all...).MulRat(ratio(1, int64(len(all))))
		for _, x := range []struct {
			name string
			got  clearance.LengthReading
			true units.Length
		}{
			{"taper", s.Taper(), taper}, {"out-of-round", s.OutOfRound(), round}, {"mean", s.Mean(), mean},
			{"smallest", s.Smallest(), units.Min(all[0], all...)}, {"largest", s.Largest(), units.Max(all[0], all...)},
			{"extremes", s.Extremes(), all[0]},
		} {
			if !x.got.Interval().Contains(x.true) {
				t.Fatalf("%s: %s does not hold %s", x.name, x.got, x.true)
			}
		}
	})
}
