package job

import (
	"fmt"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// boltSet is used bolts judged against the same limit.
type boltSet struct {
	name     string
	quantity string
	limit    units.Length
	checks   []boltCheck
}

// A boltCheck is the reading of one bolt: its permanent stretch, or its length itself where
// whenNew is empty.
type boltCheck struct {
	bolt    string
	now     measure.LengthReading
	whenNew units.LengthInterval
}

// size returns what is judged of the bolt.
func (c boltCheck) size() *measure.Sum[units.LengthDim] {
	if !c.whenNew.IsEmpty() {
		return fasteners.Stretch(c.now, measure.Given(c.whenNew, "length when new"))
	}
	return &measure.Sum[units.LengthDim]{Name: "length", Symbol: "L", Terms: []measure.Term[units.LengthDim]{measure.Plus("L", "length", c.now)}}
}

// contradicts reports whether the bolt measures shorter than when it was new.
func (c boltCheck) contradicts() bool {
	size := c.size().Reading()
	return c.now.Taken() && size.Problem() != ""
}

// readBolts reads the lengths of used bolts.
func (r *reader) readBolts(path string, t boltsTable) boltSet {
	set := boltSet{name: t.Name}
	byStretch, byLength := t.LongestStretch != "", t.LongestLength != ""
	switch {
	case byStretch && byLength:
		r.fail(path, "two limits: %w; keep longest_stretch or longest_length", ErrAmbiguous)
		return set
	case !byStretch && !byLength:
		r.fail(path, "no limit: %w; write longest_stretch = \"...\" or longest_length = \"...\"", ErrMissing)
		return set
	}
	var ok bool
	if byStretch {
		set.quantity = "permanent stretch"
		set.limit, ok = read(r, path+".longest_stretch", t.LongestStretch, units.ParseLength)
	} else {
		set.quantity = "length"
		set.limit, ok = read(r, path+".longest_length", t.LongestLength, units.ParseLength)
	}
	if ok && set.limit.Sign() < 0 {
		r.fail(path, "a limit of %s; write zero or more", set.limit)
		ok = false
	}
	if !ok {
		return set
	}
	seen := map[string]string{}
	for i, l := range t.Lengths {
		at := fmt.Sprintf("%s.lengths[%d]", path, i)
		if !r.present(at+".bolt", l.Bolt) || !r.once(at+".bolt", l.Bolt, "bolt", seen) {
			continue
		}
		c := boltCheck{bolt: l.Bolt}
		if l.Length == "" {
			set.checks = append(set.checks, c)
			continue
		}
		if c.now, ok = r.size(t.Name+" "+l.Bolt+", length", at+".length", l.Length, at+".with", l.With); !ok {
			continue
		}
		if byStretch {
			if c.whenNew, ok = r.lengthWhenNew(at, path, t, l); !ok {
				continue
			}
		}
		set.checks = append(set.checks, c)
	}
	return set
}

// lengthWhenNew reads the length that a bolt had when it was new.
func (r *reader) lengthWhenNew(at, path string, t boltsTable, l boltLength) (units.LengthInterval, bool) {
	newPath, newText := at+".new_length", l.NewLength
	if newText == "" {
		newPath, newText = path+".new_length", t.NewLength
	}
	whenNew, ok := read(r, newPath, newText, units.ParseLengthInterval)
	switch {
	case !ok:
		return whenNew, false
	case whenNew.IsPoint():
		r.fail(newPath, "%s: %w; write the length with the tolerance that new bolts have, as in \"44.30 ±0.06 mm\"", newText, ErrNotSure)
		return whenNew, false
	case !whenNew.Bounded() || whenNew.Lo().Sign() <= 0:
		r.fail(newPath, "%s: a length has two bounds, both above zero; write \"44.30 ±0.06 mm\"", newText)
		return whenNew, false
	}
	return whenNew, true
}
