package ledger

import (
	"bytes"
	"fmt"
	"runtime"
	"testing"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// bigLedger returns a ledger of so many steps, all done, and its plan.
func bigLedger(tb testing.TB, steps int) ([]byte, *torque.Plan) {
	nm := units.NewtonMetre.OfInt
	var pattern []torque.Position
	for i := range steps / 4 {
		pattern = append(pattern, torque.Position{Bolt: fmt.Sprintf("bolt %d", i), X: units.Millimetre.OfInt(int64(i % 8 * 50)), Y: units.Millimetre.OfInt(int64(i / 8 * 40))})
	}
	plan, err := torque.NewPlan("big", torque.Group{Name: "bolts", Pattern: pattern, Order: torque.Rows, Use: torque.SingleUse, Stages: []torque.Stage{
		{Pull: torque.Do(torque.Tighten{To: nm(10)})}, {Pull: torque.Do(torque.Tighten{To: nm(20)})},
		{Pull: torque.Do(torque.Tighten{To: nm(30)})}, {Pull: torque.Do(torque.Turn{By: units.Degree.OfInt(90)})}}})
	if err != nil {
		tb.Fatal(err)
	}
	text, sum := headerLine(plan, epoch)
	for i, step := range plan.Steps() {
		for j, e := range []event{begin, finish} {
			var line []byte
			line, sum = recordLine(2*i+j+1, epoch, happening{event: e, step: step.Number, bolt: step.Bolt}, sum)
			text = append(text, line...)
		}
	}
	return text, plan
}

// BenchmarkOpenLedger measures opening ledgers of two sizes, and, beside each, only
// reading as many bytes and counting their lines.
func BenchmarkOpenLedger(b *testing.B) {
	for _, steps := range []int{10_000, 100_000} {
		text, plan := bigLedger(b, steps)
		b.Run(fmt.Sprintf("%d steps", steps), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				h, err := replayed(bytes.NewReader(text), plan)
				if err != nil || !h.progress.finished() {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(heldBy(func() any {
				h, _ := replayed(bytes.NewReader(text), plan)
				return h
			}))/float64(steps), "held-B/step")
		})
		b.Run(fmt.Sprintf("%d steps, counting lines", steps), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if bytes.Count(text, []byte("\n")) != 2*steps+1 {
					b.Fatal("lines")
				}
			}
		})
	}
}

// heldBy returns how much memory stays in use for what f returns.
func heldBy(f func() any) int64 {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	kept := f()
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(kept)
	return int64(after.HeapAlloc) - int64(before.HeapAlloc)
}
