package main

import (
	"context"
	"errors"

	"example.com/closefit/examples/kit/ask"
)

// A lane lets a few in at once, and a few more wait.
type lane struct {
	places chan struct{}
	line   chan struct{} // those that are in and those that wait
}

func newLane(places, waiting int) *lane {
	return &lane{make(chan struct{}, places), make(chan struct{}, places+waiting)}
}

var errFull = errors.New("too many are waiting")

// enter waits for a place. Who got one leaves it by the function.
func (l *lane) enter(ctx context.Context) (leave func(), err error) {
	select {
	case l.line <- struct{}{}:
	default:
		return nil, errFull
	}
	select {
	case l.places <- struct{}{}:
		return func() { <-l.places; <-l.line }, nil
	case <-ctx.Done():
		<-l.line
		return nil, ctx.Err()
	}
}

// What counts as light. Cost grows with all of these.
const (
	lightBody  = 8 << 10 // bytes
	lightTerms = 20
)

// heavy reports whether a question may take long. A judgement with degrees of freedom works out a
// distribution that has no closed form.
func heavy(asked ask.Asked, body int) bool {
	if body > lightBody {
		return true
	}
	switch q := asked.With.(type) {
	case ask.Convert, ask.Assign, ask.Plan:
		return false
	case ask.Judge:
		for _, in := range q.Instruments {
			if in.Gauge != nil && in.Gauge.Freedom != nil || in.SettingPiece != nil && in.SettingPiece.Freedom != nil {
				return true
			}
		}
		for _, t := range q.Terms {
			if len(t.Read) > 1 {
				return true
			}
		}
		return len(q.Terms) > lightTerms
	}
	return true
}
