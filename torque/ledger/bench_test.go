package ledger

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
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
	text, h, err := firstText(testWork, plan, []string{}, testClock())
	if err != nil {
		tb.Fatal(err)
	}
	lines, sum := h.lines, h.sum
	for _, step := range plan.Steps() {
		for _, e := range []event{begin, finish} {
			var line []byte
			line, sum = recordLine(lines, happening{event: e, step: step.Number, bolt: step.Bolt, at: epoch}, sum)
			text = append(text, line...)
			lines++
		}
	}
	return text, plan
}

// BenchmarkOpenLedger measures opening ledgers of two sizes, compared with their witnesses, and,
// beside each, only reading the two files and counting their lines.
func BenchmarkOpenLedger(b *testing.B) {
	for _, steps := range []int{10_000, 100_000} {
		text, plan := bigLedger(b, steps)
		h := onDisk(b)
		witness := filepath.Join(h.Witness, testWork.witnessName())
		for _, err := range []error{os.MkdirAll(h.Witness, 0o700), os.WriteFile(h.Path, text, 0o644), os.WriteFile(witness, text, 0o644)} {
			if err != nil {
				b.Fatal(err)
			}
		}
		b.Run(fmt.Sprintf("%d steps", steps), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				l, err := Open(h, testWork, plan)
				if err != nil {
					b.Fatal(err)
				}
				if _, more := l.Next(); more {
					b.Fatal("not all is done")
				}
				l.Close()
			}
			b.ReportMetric(float64(heldBy(func() any { l, _ := Open(h, testWork, plan); l.Close(); return l }))/float64(steps), "held-B/step")
		})
		b.Run(fmt.Sprintf("%d steps, reading the files and counting lines", steps), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				for _, path := range []string{h.Path, witness} {
					if data, err := os.ReadFile(path); err != nil || bytes.Count(data, []byte("\n")) != 2*steps+3 {
						b.Fatal("lines", err)
					}
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

// BenchmarkRecord measures an acknowledged record, and beside it a bare append and sync of
// the same line to two files.
func BenchmarkRecord(b *testing.B) {
	plan := testPlan(b, "bench", 2)
	b.Run("acknowledged", func(b *testing.B) {
		l, err := Start(onDisk(b), testWork, plan, []string{})
		if err != nil {
			b.Fatal(err)
		}
		defer l.Close()
		b.ReportAllocs()
		for b.Loop() {
			if err := l.Note("a line of the length of a record"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("two appends and syncs", func(b *testing.B) {
		line, _ := recordLine(1000, happening{event: note, detail: "a line of the length of a record", at: epoch}, 0)
		var files []*os.File
		for _, name := range []string{"a", "b"} {
			f, err := os.OpenFile(filepath.Join(b.TempDir(), name), os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o644)
			if err != nil {
				b.Fatal(err)
			}
			defer f.Close()
			files = append(files, f)
		}
		for b.Loop() {
			for _, f := range files {
				if _, err := f.Write(line); err != nil {
					b.Fatal(err)
				}
				if err := f.Sync(); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("the checks alone", func(b *testing.B) {
		l, err := Start(onDisk(b), testWork, plan, []string{})
		if err != nil {
			b.Fatal(err)
		}
		defer l.Close()
		for b.Loop() {
			for range 3 { // before, between and after
				if err := checkAll(l.sides...); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
