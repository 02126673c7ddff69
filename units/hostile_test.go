package units

import (
	"math"
	"runtime"
	"strings"
	"testing"
	"time"
)

// parsers is every parser of the package, as one that gives only the error.
func parsers() map[string]func(string) error {
	all := map[string]func(string) error{
		"Temperature":         func(s string) error { _, err := ParseTemperature(s); return err },
		"TemperatureInterval": func(s string) error { _, err := Parse[TemperatureInterval](s); return err },
	}
	addParsers[LengthDim](all)
	addParsers[AngleDim](all)
	addParsers[TorqueDim](all)
	addParsers[ForceDim](all)
	addParsers[PressureDim](all)
	addParsers[temperatureDifferenceDim](all)
	addParsers[rotationalSpeedDim](all)
	addParsers[dynamicViscosityDim](all)
	addParsers[AreaDim](all)
	addParsers[VolumeDim](all)
	addParsers[stiffnessDim](all)
	addParsers[MassDim](all)
	addParsers[volumeFlowDim](all)
	addParsers[powerDim](all)
	addParsers[kinematicViscosityDim](all)
	addParsers[densityDim](all)
	addParsers[RatioDim](all)
	return all
}

func addParsers[D Dimension](all map[string]func(string) error) {
	name := dimensionOf[D]().name
	all[name] = func(s string) error { _, err := Parse[Quantity[D]](s); return err }
	all[name+" interval"] = func(s string) error { _, err := Parse[Interval[D]](s); return err }
	all[name+" unit"] = func(s string) error { _, err := Parse[Unit[D]](s); return err }
	all[name+" JSON"] = func(s string) error { return new(Quantity[D]).UnmarshalJSON([]byte(`"` + s + `"`)) }
	all[name+" text"] = func(s string) error { return new(Interval[D]).UnmarshalText([]byte(s)) }
}

// hostile returns texts of 4 KB, and of the 512 bytes that are looked at in full.
func hostile() []string {
	var all []string
	for _, size := range []int{4096, maxText} {
		for _, piece := range []string{
			"9", "0", " ", "1/", "1 ", "1,", "1.", "1..", "-", "+1", "±", "µ", "N·", "lbf·ft ", "O", "½", "\xff", "\x00", "<=", "'", "e9", "1e99",
		} {
			all = append(all, strings.Repeat(piece, size)[:size])
		}
		end := " mm"
		all = append(all,
			strings.Repeat("9", size-len(end))+end,
			"0."+strings.Repeat("0", size-len(end)-3)+"1"+end,
			strings.Repeat("9", size/2-2)+"/"+strings.Repeat("7", size/2-2)+end,
			strings.Repeat("9", size/4)+"."+strings.Repeat("7", size/4)+"e99..1e99"+end,
			strings.Repeat("9", size/3)+" ±"+strings.Repeat("7", size/3)+end,
			strings.Repeat("9", size/3)+" +"+strings.Repeat("7", size/3)+"/-"+strings.Repeat("7", size/4)+end)
	}
	return all
}

// TestHostileTextIsCheap bounds what any parser allocates on any of these texts.
func TestHostileTextIsCheap(t *testing.T) {
	const person, exchange = 64 << 10, 128 << 10 // an exchange form may be longer than a person's text
	for name, parse := range parsers() {
		for _, text := range hostile() {
			parse(text) // what is made once, on first use, is made here
			most := uint64(person)
			if len(text) > maxText {
				most = exchange
			}
			if got := allocated(func() { parse(text) }); got >= most {
				t.Errorf("%s of %s: %d bytes allocated", name, shorten(text), got)
			}
		}
	}
}

// allocated returns the bytes that f allocates.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	least := uint64(math.MaxUint64)
	for range 3 { // another goroutine's allocations count too: take the least
		runtime.ReadMemStats(&before)
		f()
		runtime.ReadMemStats(&after)
		least = min(least, after.TotalAlloc-before.TotalAlloc)
	}
	return least
}

// BenchmarkHostileText reports the slowest of all parsers on all hostile texts,
// and the most that one of them allocates.
func BenchmarkHostileText(b *testing.B) {
	slowest, most := time.Duration(0), uint64(0)
	for b.Loop() {
		slowest = 0
		for _, parse := range parsers() {
			for _, text := range hostile() {
				best := time.Duration(math.MaxInt64)
				for range 5 { // the least of five: another process may hold the processor
					start := time.Now()
					parse(text)
					best = min(best, time.Since(start))
				}
				slowest = max(slowest, best)
			}
		}
	}
	for _, parse := range parsers() {
		for _, text := range hostile() {
			most = max(most, allocated(func() { parse(text) }))
		}
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(float64(slowest.Microseconds()), "µs-slowest")
	b.ReportMetric(float64(most)/1024, "KB-most")
}
