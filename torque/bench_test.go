package torque

import (
	"fmt"
	"testing"

	"example.com/closefit/units"
)

// rows returns a pattern of so many bolts in rows of eight.
func rows(bolts int) []Position {
	p := make([]Position, bolts)
	for i := range p {
		p[i] = Position{Bolt: fmt.Sprintf("bolt %d", i), X: units.Millimetre.OfInt(int64(i % 8 * 50)), Y: units.Millimetre.OfInt(int64(i / 8 * 40))}
	}
	return p
}

// fourStages is a group tightened in four stages.
func fourStages(p []Position, order Sequence) Group {
	nm := units.NewtonMetre.OfInt
	return Group{Name: "bolts", Pattern: p, Order: order, Use: SingleUse, Stages: []Stage{
		{Pull: Do(Tighten{To: nm(10)})}, {Pull: Do(Tighten{To: nm(20)})}, {Pull: Do(Tighten{To: nm(30)})}, {Pull: Do(Turn{By: units.Degree.OfInt(90)})}}}
}

func BenchmarkNewPlan(b *testing.B) {
	pattern := rows(200)
	for _, order := range []Sequence{InsideOut, OutsideIn, Spiral, Cross, Rows, Given(namesOf(pattern))} {
		b.Run(name(order)+", 200 bolts, 4 stages", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := NewPlan("plan", fourStages(pattern, order)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// name returns the name of a sequence.
func name(s Sequence) string {
	if a, is := s.(Arrangement); is {
		return a.String()
	}
	return "given"
}
