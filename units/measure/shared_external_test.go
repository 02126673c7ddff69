package measure_test

import (
	"fmt"
	"sync"
	"testing"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// TestShared: several goroutines may ask one reading, and one part's stations, for the first time at once.
// What follows from them is worked out where it is asked for, and kept; the race detector looks on in .ci/run.
func TestShared(t *testing.T) {
	in := measure.LengthInstrument{Name: "micrometer", Common: units.MustParseLength("0.002 mm"), Repeats: units.MustParseLength("0.001 mm")}
	read := func(at, size string) measure.LengthReading {
		r, err := in.Read(at, units.MustParseLength(size))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	planes := make([][]measure.LengthReading, 3)
	for i, sizes := range [][]string{{"47.986 mm", "47.984 mm"}, {"47.985 mm", "47.979 mm"}, {"47.983 mm", "47.981 mm"}} {
		for j, size := range sizes {
			planes[i] = append(planes[i], read(fmt.Sprintf("plane %d, direction %d", i+1, j+1), size))
		}
	}
	stations, err := measure.NewStations(planes, measure.OutOfRound, measure.Taper)
	if err != nil {
		t.Fatal(err)
	}
	sum := measure.Sum[units.LengthDim]{Name: "gap", Symbol: "c", Terms: []measure.Term[units.LengthDim]{
		measure.Plus("D", "bore", read("bore", "48.031 mm")), measure.Minus("d", "journal", read("journal", "47.986 mm")),
	}}
	gap := sum.Reading()

	const askers = 8
	answers := make([]string, askers)
	var all sync.WaitGroup
	begin := make(chan struct{})
	for i := range askers {
		all.Go(func() {
			<-begin
			answers[i] = fmt.Sprint(gap.Bracket(), gap.Interval(), stations.Find(measure.OutOfRound).Interval(), stations.Find(measure.Taper).Interval())
		})
	}
	close(begin)
	all.Wait()
	for i, a := range answers {
		if a != answers[0] {
			t.Errorf("goroutine %d was told %s, and the first one %s", i, a, answers[0])
		}
	}
}
