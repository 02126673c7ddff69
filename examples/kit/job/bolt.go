package job

import (
	"fmt"

	"example.com/closefit/clearance"
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// boltSet is used bolts judged against the same limit.
type boltSet struct {
	name     string
	quantity string
	limit    units.Length
	checks   []boltCheck
}

type boltCheck struct {
	bolt    string
	now     clearance.LengthReading
	whenNew units.LengthInterval // empty where the length itself is judged
	check   fasteners.Check
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
		now, ok := r.size(at+".length", l.Length, at+".with", l.With)
		if !ok {
			continue
		}
		c.now = now
		var err error
		if byStretch {
			c, err = r.stretch(at, path, t, l, now, set.limit, c)
		} else {
			c.check, err = fasteners.CheckLength(now.Interval(), set.limit)
		}
		if r.check(at, err) {
			set.checks = append(set.checks, c)
		}
	}
	return set
}

// stretch judges a bolt by how much longer it is than when new.
func (r *reader) stretch(at, path string, t boltsTable, l boltLength, now clearance.LengthReading, limit units.Length, c boltCheck) (boltCheck, error) {
	newPath, newText := at+".new_length", l.NewLength
	if newText == "" {
		newPath, newText = path+".new_length", t.NewLength
	}
	whenNew, ok := read(r, newPath, newText, units.ParseLengthInterval)
	if !ok {
		return c, nil
	}
	if whenNew.IsPoint() {
		r.fail(newPath, "%s: %w; write the length with the tolerance that new bolts have, as in \"44.30 ±0.06 mm\"", newText, ErrNotSure)
		return c, nil
	}
	c.whenNew = whenNew
	var err error
	c.check, err = fasteners.CheckStretch(now.Interval(), whenNew, limit)
	return c, err
}
