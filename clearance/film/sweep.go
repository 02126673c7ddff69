package film

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"example.com/closefit/units"
)

// A Case is all that the film of a bearing follows from but its clearance, to be looked at over clearances.
type Case struct {
	Bearing  Bearing  `json:"bearing"` // its Clearance counts for nothing here
	Duty     Duty     `json:"duty"`
	Oil      Oil      `json:"oil"`
	Surfaces Surfaces `json:"surfaces"`
	Pump     *Pump    `json:"pump"` // null where nothing is said of it
}

// A Pump feeds several bearings alike. It delivers so much at the most, and opens at its relief pressure.
type Pump struct {
	Delivery units.VolumeFlow `json:"delivery"` // to these bearings
	Relief   units.Pressure   `json:"relief"`   // above ambient
	Bearings int              `json:"bearings"`
}

// A SweepPoint is what a bearing comes to at one clearance, or why there is nothing.
type SweepPoint struct {
	Clearance units.Length `json:"clearance"`
	State     *State       `json:"state"`  // null where no film was found
	Reason    string       `json:"reason"` // why; empty where there is a State
}

// A State is a working point with what is judged by it. Lambda is the least film over the combined roughness, 0 where that is
// not known.
//
// Need and Pressure follow from a simple pump, and are null without one: all its bearings lose the same, in
// proportion to the pressure, as oil does that leaks without turbulence. So it holds its relief pressure as long as it
// delivers what they lose together, and falls in proportion beyond:
//
//	Need = n Qs,   Pressure = Relief · min(1, Delivery/Need)
//
// The pressure is that at each bearing, the last among them: what the galleries lose is left out.
// Source: balance of flows; common practice, no source.
type State struct {
	Work     WorkingPoint      `json:"work"`
	Lambda   float64           `json:"lambda"`
	Need     *units.VolumeFlow `json:"need"`
	Pressure *units.Pressure   `json:"pressure"`
	Doubts   []Doubt           `json:"doubts"`
}

// mostClearances is how many clearances a Sweep may have.
const mostClearances = 1000

// Check says what is wrong with a case at a clearance, without looking for its film: the error that Sweep returns for its first one.
func (c Case) Check(clearance units.Length) error {
	b := c.Bearing
	b.Clearance = clearance
	if _, err := b.balance(c.Duty, c.Oil); err != nil {
		return err
	}
	if c.Surfaces.Journal.Sign() < 0 || c.Surfaces.Bearing.Sign() < 0 {
		return wrong(ErrBearing, "roughness", fmt.Sprintf("%v and %v", c.Surfaces.Journal, c.Surfaces.Bearing), "write roughnesses of zero or more")
	}
	if p := c.Pump; p != nil {
		switch {
		case p.Delivery.Sign() <= 0:
			return wrong(ErrBearing, "pump delivery", p.Delivery.String(), "write a flow above zero")
		case p.Relief.Sign() <= 0:
			return wrong(ErrBearing, "relief pressure", p.Relief.String(), "write a pressure above ambient")
		case p.Bearings < 1 || p.Bearings > 1000:
			return wrong(ErrBearing, "bearings of the pump", fmt.Sprint(p.Bearings), "write how many it feeds, from 1 to 1000")
		}
	}
	return nil
}

// Sweep returns the states at n clearances in equal steps between two, both among them. A clearance without a film is in the list with
// its reason. The points are computed at once on all processors, each from nothing, so that
// their digits do not depend on how many there are.
//
// If the context ends, it returns the list with its error: what was not reached has that as its reason. Points are taken
// in an order that goes over the whole range first coarsely, then finely. Other errors are those of Work that no other clearance would
// mend, and of kind ErrBearing for clearances out of order, n outside 2 to 1000, and a pump or roughness that cannot be.
func (c Case) Sweep(ctx context.Context, from, to units.Length, n int) ([]SweepPoint, error) {
	switch {
	case n < 2 || n > mostClearances:
		return nil, wrong(ErrBearing, "points of the sweep", fmt.Sprint(n), fmt.Sprintf("write from 2 to %d", mostClearances))
	case from.Sign() <= 0 || !from.Less(to):
		return nil, wrong(ErrBearing, "clearances of the sweep", fmt.Sprintf("%v to %v", from, to), "write one above zero, and a larger one after it")
	}
	if err := c.Check(from); err != nil {
		return nil, err
	}
	clearances := make([]units.Length, n)
	least, most := from.Float64(units.Millimetre), to.Float64(units.Millimetre)
	for i := range clearances {
		var r rounding
		clearances[i] = rounded(&r, units.Millimetre, least+(most-least)*float64(i)/float64(n-1))
		if r.err != nil {
			return nil, r.err
		}
	}
	clearances[0], clearances[n-1] = from, to
	points := c.states(ctx, clearances)
	return points, ctx.Err()
}

// states works the points out, on all processors.
func (c Case) states(ctx context.Context, clearances []units.Length) []SweepPoint {
	points := make([]SweepPoint, len(clearances))
	order := coarselyFirst(len(clearances))
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(clearances)) {
		all.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(order)); i = next.Add(1) - 1 {
				k := order[i]
				points[k] = SweepPoint{Clearance: clearances[k]}
				s, err := c.state(ctx, clearances[k])
				if err != nil {
					points[k].Reason = err.Error()
					continue
				}
				points[k].State = s
			}
		})
	}
	all.Wait()
	return points
}

// coarselyFirst orders n places: both ends, then halves, quarters and so on.
func coarselyFirst(n int) []int {
	order, taken := make([]int, 0, n), make([]bool, n)
	take := func(i int) {
		if !taken[i] {
			order, taken[i] = append(order, i), true
		}
	}
	take(0)
	take(n - 1)
	for parts := 2; len(order) < n; parts *= 2 {
		for k := 1; k < parts; k += 2 {
			take(k * (n - 1) / parts)
		}
		if parts >= n {
			for i := range n {
				take(i)
			}
		}
	}
	return order
}

// state is the state at one clearance.
func (c Case) state(ctx context.Context, clearance units.Length) (*State, error) {
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("not worked out: %w", err)
	}
	b := c.Bearing
	b.Clearance = clearance
	work, err := b.Work(c.Duty, c.Oil)
	if err != nil {
		return nil, err
	}
	s := &State{Work: work, Lambda: c.Surfaces.Lambda(work.Film.Least), Doubts: work.Doubts(c.Surfaces)}
	if p := c.Pump; p != nil {
		var r rounding
		need := float64(p.Bearings) * work.Film.SideFlow.Float64(units.LitrePerMinute)
		delivery, relief := p.Delivery.Float64(units.LitrePerMinute), p.Relief.Float64(units.Bar)
		needed := rounded(&r, units.LitrePerMinute, need)
		pressure := p.Relief
		if delivery < need {
			pressure = rounded(&r, units.Bar, relief*delivery/need)
			s.Doubts = append(s.Doubts, Doubt{
				About: "pressure: the pump does not deliver what its bearings lose", Quantity: "need over delivery", Number: need / delivery, Threshold: 1, Source: "balance of flows",
			})
		}
		if r.err != nil {
			return nil, r.err
		}
		s.Need, s.Pressure = &needed, &pressure
	}
	return s, nil
}

// A Range is what a bearing comes to over an interval of clearances: for each result bounds of the curve that the
// model computes, from the least of it to the most, with what the computation may be off added to either side.
//
// What is added is an estimate and no bound: the Estimate of two grids, to first order, and how far a curve may bulge over the straight lines
// between clearances 2 % apart, by its second differences. It says nothing of what the model leaves out.
type Range struct {
	Clearance    units.LengthInterval      `json:"clearance"`
	Least        units.LengthInterval      `json:"least"` // the thinnest film
	Temperature  units.TemperatureInterval `json:"temperature"`
	PeakPressure units.PressureInterval    `json:"peakPressure"`
	Power        units.PowerInterval       `json:"power"`
	SideFlow     units.VolumeFlowInterval  `json:"sideFlow"`
	Pressure     units.PressureInterval    `json:"pressure"` // that of the pump; empty without one
}

// The places that a Range is worked out at: powers of mesh, in mm. They do not depend on the interval, so a narrower one
// has fewer of the same, and its results lie within those of the wider one.
const (
	mesh      = 1.02
	mostPlace = 350 // of an interval: a thousandfold
)

// Range returns what the bearing comes to over an interval of clearances, which must have both bounds. Between places 2 % apart the
// curves are taken as straight; they rise, fall or turn between them as they do, so an extremum inside is found as well as one
// at an end. The results of a narrower interval lie within those of a wider one.
//
// The errors are those of Sweep; ErrNoFilm if there is no film somewhere in the interval, and the context's, as half a Range would be none.
func (c Case) Range(ctx context.Context, clearance units.LengthInterval) (Range, error) {
	if !clearance.HasLo() || !clearance.HasHi() || clearance.Lo().Sign() <= 0 {
		return Range{}, wrong(ErrBearing, "interval of clearances", clearance.String(), "write one that has both bounds, above zero")
	}
	if err := c.Check(clearance.Lo()); err != nil {
		return Range{}, err
	}
	place := func(q units.Length) float64 { return math.Log(q.Float64(units.Millimetre)) / math.Log(mesh) }
	from, to := place(clearance.Lo()), place(clearance.Hi())
	first, last := int(math.Floor(from))-1, int(math.Ceil(to))+1
	if last-first > mostPlace {
		return Range{}, wrong(ErrBearing, "interval of clearances", clearance.String(), "write bounds less than a thousandfold apart")
	}
	clearances := make([]units.Length, last-first+1)
	for i := range clearances {
		var r rounding
		clearances[i] = rounded(&r, units.Millimetre, math.Pow(mesh, float64(first+i)))
		if r.err != nil {
			return Range{}, r.err
		}
	}
	points := c.states(ctx, clearances)
	if err := ctx.Err(); err != nil {
		return Range{}, err
	}
	for i, p := range points { // the outermost serve the second differences alone
		if p.State == nil && i > 0 && i < len(points)-1 {
			return Range{}, wrong(ErrNoFilm, "film at a clearance of "+p.Clearance.Format(units.Millimetre, 4, units.HalfEven), p.Reason, "write an interval in which each clearance has one")
		}
	}
	span := func(of func(s *State) (value, off float64)) (lo, hi float64) {
		return spanned(points, from-float64(first), to-float64(first), of)
	}
	var r rounding
	out := Range{Clearance: clearance}
	out.Least = inUnit(&r, units.Micrometre)(span(func(s *State) (float64, float64) {
		x, e := s.Work.Film.Least.Float64(units.Micrometre), s.Work.Film.Estimate
		return x, x * (2*e.Sommerfeld + carried) // 1 - e goes with S to the power of two at the most
	}))
	out.Temperature = inUnit(&r, units.Celsius)(span(func(s *State) (float64, float64) {
		e := s.Work.Film.Estimate
		rise := s.Work.Temperature.Float64(units.Celsius) - s.Work.Duty.Inlet.Float64(units.Celsius)
		return s.Work.Temperature.Float64(units.Celsius), rise*(e.Friction+e.SideFlow+e.Sommerfeld) + agreed
	}))
	out.PeakPressure = inUnit(&r, units.Megapascal)(span(func(s *State) (float64, float64) {
		x, e := s.Work.Film.PeakPressure.Float64(units.Megapascal), s.Work.Film.Estimate
		return x, x * (e.Peak + e.Sommerfeld + carried)
	}))
	out.Power = inUnit(&r, units.Watt)(span(func(s *State) (float64, float64) {
		x, e := s.Work.Film.Power.Float64(units.Watt), s.Work.Film.Estimate
		return x, x * (e.Friction + e.Sommerfeld + carried)
	}))
	out.SideFlow = inUnit(&r, units.LitrePerMinute)(span(func(s *State) (float64, float64) {
		x, e := s.Work.Film.SideFlow.Float64(units.LitrePerMinute), s.Work.Film.Estimate
		return x, x * (e.SideFlow + e.Sommerfeld + carried)
	}))
	if c.Pump != nil {
		// The pressure turns sharply where the need is all that the pump delivers, so its range follows from that of the
		// need, which does not.
		least, most := span(func(s *State) (float64, float64) {
			x, e := s.Need.Float64(units.LitrePerMinute), s.Work.Film.Estimate
			return x, x * (e.SideFlow + e.Sommerfeld + carried)
		})
		relief, delivery := c.Pump.Relief.Float64(units.Bar), c.Pump.Delivery.Float64(units.LitrePerMinute)
		lo, hi := relief*min(1, delivery/most), relief*min(1, delivery/max(least, 0))
		switch out.Pressure = inUnit(&r, units.Bar)(lo, min(hi, relief)); { // its valve opens there
		case delivery >= most:
			out.Pressure = units.Exactly(c.Pump.Relief)
		case delivery >= least:
			out.Pressure = units.Between(out.Pressure.Lo(), c.Pump.Relief)
		}
	}
	return out, r.err
}

// spanned is the least and the most of the straight lines through the points, between two places counted in points, with the
// largest error of any point and the largest bulge added.
func spanned(points []SweepPoint, from, to float64, of func(*State) (value, off float64)) (lo, hi float64) {
	values := make([]float64, len(points))
	margin, bulge := 0.0, 0.0
	for i, p := range points {
		values[i] = math.NaN()
		if p.State != nil {
			var off float64
			values[i], off = of(p.State)
			margin = max(margin, off)
		}
		if i >= 2 {
			if b := math.Abs(values[i]-2*values[i-1]+values[i-2]) / 8; b > bulge { // not for NaN
				bulge = b
			}
		}
	}
	at := func(x float64) float64 {
		i := min(int(x), len(values)-2)
		t := x - float64(i)
		switch t {
		case 0:
			return values[i]
		case 1:
			return values[i+1]
		}
		return (1-t)*values[i] + t*values[i+1]
	}
	lo, hi = min(at(from), at(to)), max(at(from), at(to))
	for i := int(math.Ceil(from)); float64(i) <= to; i++ {
		lo, hi = min(lo, values[i]), max(hi, values[i])
	}
	return lo - margin - bulge, hi + margin + bulge
}

// inUnit makes an interval of the unit, rounded outward.
func inUnit[D, E units.Dimension](r *rounding, u units.Scale[D, E]) func(lo, hi float64) units.ClosedInterval[D, E] {
	return func(lo, hi float64) units.ClosedInterval[D, E] {
		return units.Between(rounded(r, u, lo*(1-math.Copysign(outward, lo))), rounded(r, u, hi*(1+math.Copysign(outward, hi))))
	}
}

// outward is more than what rounding to digits may take away.
const outward = 1e-8
