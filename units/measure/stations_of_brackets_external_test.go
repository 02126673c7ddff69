package measure_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A crush strip wider at one end says taper.
func TestTaperOfAStrip(t *testing.T) {
	length := good[units.LengthDim](t)
	front := length(newStrip(t).Read("", within("0.025..0.038 mm")))
	rear := length(newStrip(t).Read("", within("0.051 mm"))) // 0.04355 and more
	s, err := measure.NewStations([][]measure.LengthReading{{front}, {rear}})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Find(measure.Taper).Interval(); !got.Equal(within(">= 0.00555 mm")) {
		t.Errorf("taper %s", got)
	}
	if got := measure.Judge(s.Find(measure.Taper).Interval(), within("<= 0.005 mm")); got != measure.AboveLimit {
		t.Errorf("taper to 0.005 mm is %s", got)
	}
	if s.Find(measure.OutOfRound).Taken() {
		t.Error("one direction shows out-of-round")
	}
	same, err := measure.NewStations([][]measure.LengthReading{{front}, {front}})
	if err != nil {
		t.Fatal(err)
	}
	if got := same.Find(measure.Taper).Interval(); !got.Equal(within("0..0.013 mm")) {
		t.Errorf("taper of equal readings %s", got)
	}
	one, err := measure.NewStations([][]measure.LengthReading{{front}})
	if err != nil {
		t.Fatal(err)
	}
	if one.Find(measure.Taper).Taken() {
		t.Error("one plane shows taper")
	}
	var none measure.Stations[units.LengthDim]
	if none.Find(measure.Taper).Taken() || none.Find(measure.OutOfRound).Taken() || none.Find(measure.Smallest).Taken() || none.Find(measure.Largest).Taken() ||
		none.Find(measure.MeanSize).Taken() {
		t.Error("the zero Stations has readings")
	}
}

// Of brackets the range is that of two different stations. By hand: 2.000..2.010 lies at
// most 2.010 - 2.004 = 0.006 from 2.004..2.005, and may be equal to it.
func TestOutOfRoundOfBrackets(t *testing.T) {
	r := shows(t, measure.OutOfRound, []measure.LengthReading{given("2.000..2.010 mm"), given("2.004..2.005 mm"), given("2.004..2.005 mm")})
	if got := r.Interval(); !got.Equal(within("0..0.006 mm")) {
		t.Errorf("out-of-round %s", got)
	}
	// A value among brackets: 2.000 lies 0.004 to 0.005 from the others.
	r = shows(t, measure.OutOfRound, []measure.LengthReading{given("2.000 mm"), given("2.004..2.005 mm"), given("2.004..2.005 mm")})
	if got := r.Interval(); !got.Equal(within("0.004..0.005 mm")) {
		t.Errorf("out-of-round with a value %s", got)
	}
}

func TestBadStations(t *testing.T) {
	r := given("1 mm")
	for _, test := range []struct {
		name   string
		planes [][]measure.LengthReading
		kind   error
		says   string
	}{
		{"none", nil, measure.ErrEmpty, "each plane"},
		{"an empty plane", [][]measure.LengthReading{{}}, measure.ErrEmpty, "each plane"},
		{"unequal", [][]measure.LengthReading{{r, r}, {r}}, measure.ErrEmpty, "plane 2 has 1 readings, plane 1 has 2"},
		{"not taken", [][]measure.LengthReading{{r, r}, {r, {}}}, measure.ErrNotMeasured, "plane 2, direction 2"},
	} {
		_, err := measure.NewStations(test.planes)
		if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// What the stations say holds for every set of true sizes in their readings.
func TestStationsHoldTheTrueSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		planes, directions := rapid.IntRange(2, 4).Draw(t, "planes"), rapid.IntRange(2, 3).Draw(t, "directions")
		read := make([][]measure.LengthReading, planes)
		size := make([][]units.Length, planes)
		var all []units.Length
		for i := range read {
			for range directions {
				a := drawInterval(t, "reading", 47_900, 47_960)
				read[i] = append(read[i], measure.Given(a, ""))
				size[i] = append(size[i], drawIn(t, "size", a))
			}
			all = append(all, size[i]...)
		}
		s, err := measure.NewStations(read)
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
			got  measure.LengthReading
			true units.Length
		}{
			{"taper", s.Find(measure.Taper), taper}, {"out-of-round", s.Find(measure.OutOfRound), round}, {"mean", s.Find(measure.MeanSize), mean},
			{"smallest", s.Find(measure.Smallest), units.Min(all[0], all...)}, {"largest", s.Find(measure.Largest), units.Max(all[0], all...)},
		} {
			if !x.got.Interval().Contains(x.true) {
				t.Fatalf("%s: %s does not hold %s", x.name, x.got, x.true)
			}
		}
	})
}
