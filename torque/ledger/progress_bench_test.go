package ledger

import (
	"fmt"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// longPlan has so many steps on so many bolts.
func longPlan(t testing.TB, steps int) *torque.Plan {
	stages := []torque.Stage{tighten(20), then(tighten(30), asks("Free?")), turnBy(60), turnBy(30)}
	bolts := make([]string, steps/len(stages))
	for i := range bolts {
		bolts[i] = fmt.Sprintf("bolt %d", i)
	}
	return planned(t, "long", torque.Group{Name: "long", Pattern: torque.Row(bolts...), Order: torque.Rows, Use: torque.SingleUse, Stages: stages})
}

// BenchmarkProgress takes in 100,000 steps, begun and done, bare and with what was reached. The
// bare walk through the plan's steps stands beside it.
func BenchmarkProgress(b *testing.B) {
	plan := longPlan(b, 100_000)
	for _, bb := range []struct {
		name    string
		reached func(n int) Reached
	}{
		{"bare", func(int) Reached { return Reached{} }},
		{"one of 60 torques reached", func(n int) Reached {
			return Reached{Torque: units.MustParse[units.TorqueInterval](fmt.Sprintf("%d ±2 N·m", 20+n%60)), By: "the builder"}
		}},
	} {
		var said []happening
		w := newWalk(plan)
		for n := range w.p.status {
			for _, h := range []happening{w.p.begins(n+1, uptime{}), w.p.ends(n+1, bb.reached(n))} {
				if step, _ := plan.Step(n + 1); step.IsPause() {
					h.detail = ""
				}
				said = append(said, h)
			}
		}
		b.Run(bb.name, func(b *testing.B) {
			for b.Loop() {
				p := newProgress(plan)
				for _, h := range said {
					if err := p.check(h); err != nil {
						b.Fatal(err)
					}
					h.at, h.late = time.Unix(0, 0), time.Second
					p.apply(h)
				}
			}
		})
	}
	b.Run("steps alone", func(b *testing.B) {
		for b.Loop() {
			for n := range plan.Steps() {
				if _, ok := plan.Step(n + 1); !ok {
					b.Fatal(n)
				}
			}
		}
	})
}
