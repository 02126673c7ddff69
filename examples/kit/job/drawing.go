package job

import "example.com/closefit/units"

// drawing gathers what the findings of a group are drawn on.
type drawing struct {
	items    []drawn
	from, to float64
	begun    bool
}

// drawn is a reading and its limits as floats, for a picture alone. A missing
// bound is nil.
type drawn struct {
	reading, limits [2]*float64
}

// add takes a reading and its limits into the drawing.
func add[D units.Dimension](d *drawing, measured, limits units.Interval[D], u units.Unit[D]) {
	item := drawn{floats(measured, u), floats(limits, u)}
	for _, x := range []*float64{item.reading[0], item.reading[1], item.limits[0], item.limits[1]} {
		switch {
		case x == nil:
		case !d.begun:
			d.from, d.to, d.begun = *x, *x, true
		default:
			d.from, d.to = min(d.from, *x), max(d.to, *x)
		}
	}
	d.items = append(d.items, item)
}

func floats[D units.Dimension](a units.Interval[D], u units.Unit[D]) (bounds [2]*float64) {
	if a.HasLo() {
		x := a.Lo().Float64(u)
		bounds[0] = &x
	}
	if a.HasHi() {
		x := a.Hi().Float64(u)
		bounds[1] = &x
	}
	return bounds
}

// into places every finding that has a reading on the scale, which leaves some
// room at either end.
func (d *drawing) into(findings []Finding) {
	margin := (d.to - d.from) / 8
	from, wide := d.from-margin, d.to-d.from+2*margin
	if wide == 0 {
		return
	}
	span := func(bounds [2]*float64) (start, width float64) {
		end := 1.0
		if bounds[0] != nil {
			start = (*bounds[0] - from) / wide
		}
		if bounds[1] != nil {
			end = (*bounds[1] - from) / wide
		}
		return start, end - start
	}
	for i, item := range d.items {
		if !findings[i].Taken {
			continue
		}
		x := &Drawing{}
		x.LimitsFrom, x.LimitsWide = span(item.limits)
		x.ReadingFrom, x.ReadingWide = span(item.reading)
		findings[i].Drawing = x
	}
}
