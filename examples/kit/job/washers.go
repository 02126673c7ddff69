package job

import (
	"fmt"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// washersTable is the thrust washers that are fitted, and those on hand.
type washersTable struct {
	Fitted []string      `toml:"fitted"` // the steps of those that the end play was read with: front, rear
	Mix    int           `toml:"mix"`    // how many steps apart the two may be; 0 if they must be alike
	OnHand []washerTable `toml:"on_hand"`
}

// washerTable is a number of washers of one step. Without a count it is one.
type washerTable struct {
	Step      string `toml:"step"`
	Thickness string `toml:"thickness"`
	Count     *int   `toml:"count"`
}

// thrustWashers are the washers to choose from.
type thrustWashers struct {
	grading.Scheme // washers in place of shells
	fitted         []grading.Shell
	count          map[string]int // by step, the fitted ones among them
}

// readWashers reads the thrust washers; nil without any.
func (r *reader) readWashers(t *washersTable) *thrustWashers {
	if t == nil {
		return nil
	}
	w := thrustWashers{Scheme: grading.Scheme{Name: "thrust washers", Interchangeable: true, Mix: t.Mix}, count: map[string]int{}}
	if t.Mix < 0 || t.Mix > mostParts {
		r.fail("washers.mix", "%d steps apart; write 0 if the two must be alike, 1 if they may be of neighbouring steps", t.Mix)
	}
	seen := map[string]string{}
	var steps []string
	walls := map[string]units.LengthInterval{}
	for i, on := range t.OnHand {
		path := fmt.Sprintf("washers.on_hand[%d]", i)
		if !r.present(path+".step", on.Step) || !r.once(path+".step", on.Step, "washer", seen) {
			continue
		}
		steps = append(steps, on.Step)
		wall, ok := read(r, path+".thickness", on.Thickness, units.ParseLengthInterval)
		if ok && (!wall.Bounded() || wall.Lo().Sign() <= 0) {
			r.fail(path+".thickness", "%s: a thickness has two bounds, both above zero; write \"2.310 ±0.005 mm\"", on.Thickness)
		} else if ok && tooWide(wall) {
			r.fail(path+".thickness", "%s: %w", on.Thickness, errTooWide)
		}
		n := 1
		if on.Count != nil {
			n = *on.Count
		}
		if n < 0 || n > mostParts {
			r.fail(path+".count", "%d of them; write how many there are beside those that are fitted, from 0 to %d", n, mostParts)
		}
		walls[on.Step], w.count[on.Step] = wall, n
		w.Shells = append(w.Shells, grading.Shell{Grade: on.Step, Wall: wall})
	}
	if len(t.OnHand) == 0 {
		r.fail("washers.on_hand", "%w; list the washers that there are: on_hand = [{ step = \"standard\", thickness = \"2.310 ±0.005 mm\", count = 2 }]", ErrMissing)
		return nil
	}
	if len(t.Fitted) != 2 {
		r.fail("washers.fitted", "%d washers fitted: %w; name the steps of the front and the rear one that the end play is read with", len(t.Fitted), ErrCount)
		return nil
	}
	for i, step := range t.Fitted {
		if r.oneOf(fmt.Sprintf("washers.fitted[%d]", i), step, "washer", steps) {
			w.fitted = append(w.fitted, grading.Shell{Grade: step, Wall: walls[step]})
			w.count[step]++
		}
	}
	return &w
}

// instead lists the pairs of washers on hand with which an end play is proven inside its
// limits, the nearest to their middle first; nil if the job lists none, or if the end play
// is not known well enough to choose by. A washer that was measured counts as it measures.
func (j *Job) instead(endPlay measure.LengthReading, limits units.LengthInterval) []string {
	play := endPlay.Interval()
	if j.washers == nil || !play.Bounded() || !limits.Bounded() {
		return nil
	}
	w := j.washers.Scheme
	w.Limits = limits
	thrust := grading.Site{Location: "crankshaft", EndPlay: play}
	for i, end := range []string{"front", "rear"} {
		fitted := j.washers.fitted[i]
		if size := j.sized(end+" thrust washer thickness", end+" thrust washer").Interval(); size.Bounded() {
			fitted.Wall = size
		}
		thrust.Fitted = append(thrust.Fitted, fitted)
	}
	places, err := w.Fits([]grading.Site{thrust})
	var texts []string
	for _, fits := range places {
		for _, f := range fits {
			upper, lower := f.Pair.Upper.Grade, f.Pair.Lower.Grade
			if upper == lower && j.washers.count[upper] < 2 || j.washers.count[upper] < 1 || j.washers.count[lower] < 1 {
				continue
			}
			if upper == j.washers.fitted[0].Grade && lower == j.washers.fitted[1].Grade {
				continue // those are in
			}
			const most = 3
			if len(texts) < most {
				texts = append(texts, fmt.Sprintf("%s in front and %s behind: then %s", upper, lower, reading(f.Clearance, j.show.length, j.show.places)))
			}
		}
	}
	if len(texts) == 0 {
		why := "none brings it inside"
		if err != nil {
			_, why, _ = strings.Cut(err.Error(), ": ")
		}
		return []string{why}
	}
	return texts
}
