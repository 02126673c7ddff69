package clearance

import (
	"fmt"
	"slices"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Arc is a part of the circle where no gap may stand: over the pin's ends, on
// the thrust side.
type Arc struct {
	Name   string      `json:"name"`   // "pin axis, front"
	Centre units.Angle `json:"centre"` // 0° to 360°
	Reach  units.Angle `json:"reach"`  // to either side of the centre; its ends are allowed
}

// A RingLayout holds the rules for the gaps of a piston's rings. The angles are the
// engine maker's. Positions are counted around the piston from a mark that the caller
// chooses, such as the front, seen from above and clockwise.
type RingLayout struct {
	Rings      []string    `json:"rings"`      // from the top one downwards, rails included: "top", "oil, upper rail"
	Neighbours units.Angle `json:"neighbours"` // the least angle between the gaps of rings next to each other
	Any        units.Angle `json:"any"`        // the least angle between any two gaps; zero if there is none
	Forbidden  []Arc       `json:"forbidden"`
}

// Judge returns every broken rule, in words and in order; none if the gaps are right. at
// has the position of each ring's gap, in the order of Rings. The error is of kind
// ErrRange for an impossible angle, measure.ErrEmpty for a layout without rings,
// measure.ErrNotMeasured if positions are missing or too many.
func (l RingLayout) Judge(at ...units.Angle) (faults []string, err error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	if len(at) != len(l.Rings) {
		return nil, &units.Error{Kind: measure.ErrNotMeasured, Where: "ring gaps", Found: fmt.Sprintf("%d positions of %d gaps", len(at), len(l.Rings)), Fix: "give the position of each, from the top ring downwards"}
	}
	for i, gap := range at {
		if err := onCircle("ring gap, "+l.Rings[i], gap); err != nil {
			return nil, err
		}
	}
	for i, gap := range at {
		for _, a := range l.Forbidden {
			if short := a.Reach.Sub(apart(gap, a.Centre)); short.Sign() > 0 {
				faults = append(faults, fmt.Sprintf("the gap of %s at %s stands in the arc of %s (%s ± %s); move it by %s or more", l.Rings[i], gap, a.Name, a.Centre, a.Reach, short))
			}
		}
		for j, above := range at[:i] {
			least := l.least(j, i)
			if distance := apart(gap, above); distance.Less(least) {
				faults = append(faults, fmt.Sprintf("the gaps of %s and %s are %s apart, and must be %s; move one by %s or more", l.Rings[j], l.Rings[i], distance, least, least.Sub(distance)))
			}
		}
	}
	return faults, nil
}

// least returns the least angle between gaps i and j.
func (l RingLayout) least(i, j int) units.Angle {
	if i-j == 1 || j-i == 1 {
		return units.Max(l.Neighbours, l.Any)
	}
	return l.Any
}

// check refuses arcs and separations that are none.
func (l RingLayout) check() error {
	if len(l.Rings) == 0 {
		return &units.Error{Kind: measure.ErrEmpty, Where: "ring gaps", Fix: "name the rings and rails, from the top one downwards"}
	}
	half := units.Degree.OfInt(180)
	for _, s := range []units.Angle{l.Neighbours, l.Any} {
		if s.Sign() < 0 || half.Less(s) {
			return &units.Error{Kind: ErrRange, Where: "smallest separation", Found: s.String(), Fix: "give one from 0° to 180°"}
		}
	}
	for _, a := range l.Forbidden {
		if err := onCircle("forbidden arc, "+a.Name, a.Centre); err != nil {
			return err
		}
		if a.Reach.Sign() <= 0 || half.Cmp(a.Reach) <= 0 {
			return &units.Error{Kind: ErrRange, Where: "forbidden arc, " + a.Name, Found: "a reach of " + a.Reach.String(), Fix: "give one above 0° and below 180°, to either side"}
		}
	}
	return nil
}

// onCircle refuses a position outside 0°..360°.
func onCircle(where string, at units.Angle) error {
	if at.Sign() >= 0 && at.Cmp(units.Turn.OfInt(1)) <= 0 {
		return nil
	}
	return &units.Error{Kind: ErrRange, Where: where, Found: at.String(), Fix: "give it from 0° to 360°, clockwise from the mark"}
}

// apart returns the angle between two positions, at most half a turn.
func apart(a, b units.Angle) units.Angle {
	d := onTurn(a.Sub(b))
	return units.Min(d, units.Turn.OfInt(1).Sub(d))
}

// Plan returns positions for the gaps, in the order of Rings, that obey the layout with
// the most room to spare: a gap can move by up to margin, in whole degrees, and still
// break no rule. The error is of kind ErrNoLayout if there are no such positions,
// ErrTooMany for more than six rings, or what Judge returns for a wrong layout.
//
// It finds a layout whenever there is one. Gaps that obey the rules still
// do when all of them are turned back together until an arc stops one (or, without
// arcs, one stands at the mark). With that one fixed, and the order of the others round
// the piston, the rules only say by how much one gap must stand behind another, so the
// least positions that obey them all exist if any do, and are found by moving gaps on
// until nothing moves. So only these layouts need to be tried: each place where one gap
// can be stopped, with the others in every order.
func (l RingLayout) Plan() (at []units.Angle, margin units.Angle, err error) {
	if err := l.check(); err != nil {
		return nil, margin, err
	}
	n := len(l.Rings)
	if n > mostRings {
		return nil, margin, &units.Error{Kind: ErrTooMany, Where: "ring gaps", Found: fmt.Sprint(n, " rings"), Fix: fmt.Sprintf("give at most %d", mostRings)}
	}
	at = l.place(n, units.Angle{})
	if at == nil {
		return nil, margin, &units.Error{Kind: ErrNoLayout, Where: "ring gaps", Found: fmt.Sprintf("%d gaps do not fit between the arcs so far apart", n),
			Fix: "check the separations and arcs against the engine's manual"}
	}
	// The room to spare, by halving: degrees that can still be had, and cannot.
	for have, cannot := int64(0), int64(180); cannot-have > 1; {
		try := (have + cannot) / 2
		if wider := l.place(n, units.Degree.OfInt(try)); wider != nil {
			at, have, margin = wider, try, units.Degree.OfInt(try)
		} else {
			cannot = try
		}
	}
	return at, margin, nil
}

const mostRings = 6

// place returns positions for n gaps with the margin to spare, or nil.
func (l RingLayout) place(n int, margin units.Angle) []units.Angle {
	wider := RingLayout{Neighbours: l.Neighbours.Add(margin), Any: l.Any}
	if l.Any.Sign() > 0 {
		wider.Any = l.Any.Add(margin)
	}
	half := units.Degree.OfInt(180)
	if n > 1 && half.Less(wider.Neighbours) || n > 2 && half.Less(wider.Any) {
		return nil
	}
	for _, a := range l.Forbidden {
		a.Reach = a.Reach.Add(margin)
		if half.Cmp(a.Reach) <= 0 {
			return nil
		}
		wider.Forbidden = append(wider.Forbidden, a)
	}
	return wider.fitted(n)
}

// fitted returns positions for n gaps that obey the layout, or nil.
func (l RingLayout) fitted(n int) []units.Angle {
	for _, start := range l.starts() {
		for first := range n {
			r := round{layout: l, start: start, order: []int{first}}
			if at := r.complete(n); at != nil {
				return at
			}
		}
	}
	return nil
}

// starts returns the positions where an arc stops a gap that is turned back, and the
// mark, as far as no other arc holds them.
func (l RingLayout) starts() []units.Angle {
	starts := []units.Angle{{}}
	for _, a := range l.Forbidden {
		starts = append(starts, onTurn(a.Centre.Add(a.Reach)))
	}
	slices.SortFunc(starts, units.Angle.Cmp)
	starts = slices.CompactFunc(starts, units.Angle.Equal)
	return slices.DeleteFunc(starts, func(at units.Angle) bool { return !l.clearOf(at).Equal(at) })
}

// clearOf returns the first position from at onwards that no arc holds; it may lie
// beyond a turn. Where the arcs leave none, it lies more than a turn onwards.
func (l RingLayout) clearOf(at units.Angle) units.Angle {
	for end := at.Add(units.Turn.OfInt(1)); at.Cmp(end) <= 0; {
		held := slices.IndexFunc(l.Forbidden, func(a Arc) bool { return apart(at, a.Centre).Less(a.Reach) })
		if held < 0 {
			break
		}
		a := l.Forbidden[held]
		at = at.Add(onTurn(a.Centre.Add(a.Reach).Sub(onTurn(at))))
	}
	return at
}

// onTurn returns the same position from 0° to below 360°; a lies at -360° or above.
func onTurn(a units.Angle) units.Angle {
	turn := units.Turn.OfInt(1)
	if a.Sign() < 0 {
		a = a.Add(turn)
	}
	for turn.Cmp(a) <= 0 {
		a = a.Sub(turn)
	}
	return a
}

// A round is an order of gaps round the piston, the first of them at start.
type round struct {
	layout RingLayout
	start  units.Angle
	order  []int
}

// complete returns the positions of n gaps, with those that are left behind the others
// in any order that fits, or nil.
func (r *round) complete(n int) []units.Angle {
	at, ok := r.settle()
	if !ok {
		return nil
	}
	if len(r.order) == n {
		positions := make([]units.Angle, n)
		for i, gap := range r.order {
			positions[gap] = onTurn(at[i])
		}
		return positions
	}
	for gap := range n {
		if slices.Contains(r.order, gap) {
			continue
		}
		r.order = append(r.order, gap)
		if positions := r.complete(n); positions != nil {
			return positions
		}
		r.order = r.order[:len(r.order)-1]
	}
	return nil
}

// settle returns the least positions of the gaps in their order, counted on beyond a
// turn: each so far behind those before it, and so far before the next turn of those
// before it. ok is false if there are none with the first gap at its start.
func (r *round) settle() (at []units.Angle, ok bool) {
	turn := units.Turn.OfInt(1)
	at = make([]units.Angle, len(r.order))
	for i := range at {
		at[i] = r.start
	}
	// Without arcs, gaps that still move after as many passes as there are gaps push
	// each other round for ever.
	for range at {
		if !r.push(at) {
			break
		}
	}
	if r.push(at) {
		return nil, false
	}
	for moved := true; moved; {
		moved = false
		for i := range at {
			if on := r.layout.clearOf(at[i]); at[i].Less(on) {
				at[i], moved = on, true
			}
		}
		moved = r.push(at) || moved
		if r.start.Less(at[0]) || !at[len(at)-1].Less(r.start.Add(turn)) {
			return nil, false
		}
	}
	return at, true
}

// push moves gaps on as far as the others demand, once, and reports whether one moved.
func (r *round) push(at []units.Angle) (moved bool) {
	turn := units.Turn.OfInt(1)
	raise := func(i int, least units.Angle) {
		if at[i].Less(least) {
			at[i], moved = least, true
		}
	}
	for i := range at {
		for j := i + 1; j < len(at); j++ {
			least := r.layout.least(r.order[i], r.order[j])
			raise(j, at[i].Add(least))
			raise(i, at[j].Sub(turn).Add(least))
		}
	}
	return moved
}
