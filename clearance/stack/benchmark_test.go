package stack_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// sigmas are the standard deviations, in micrometres, of the five normal parts
// that the benchmarks and testdata/numpy_bench.py share.
var sigmas = [...]int64{10, 13, 7, 11, 17}

func fiveParts(b *testing.B) stack.Stack {
	b.Helper()
	s := stack.Stack{}
	for i, sigma := range sigmas {
		middle := units.Micrometre.OfInt(0)
		if i == 0 {
			middle = units.Micrometre.OfInt(100)
		}
		s = append(s, stack.Adds("part", units.PlusMinus(middle, units.Micrometre.OfInt(3*sigma)), stack.Normal(3)))
	}
	return s
}

var limits = units.MustParseLengthInterval("0.02..0.18 mm")

const trials = 1 << 20

// ours returns the time of one simulation.
func ours(b *testing.B, s stack.Stack, n int64, workers int) time.Duration {
	begin := time.Now()
	o, err := s.Simulate(context.Background(), limits, stack.Simulation{Trials: n, Seed: 1, Workers: workers})
	if err != nil {
		b.Fatal(err)
	}
	if math.Abs(o.StdDev-0.0269) > 0.0005 {
		b.Fatalf("standard deviation %g", o.StdDev)
	}
	return time.Since(begin)
}

// bare is the loop that does nothing but draw and add.
func bare() time.Duration {
	begin := time.Now()
	r := rand.New(rand.NewPCG(1, 2))
	var sum float64
	for range trials {
		gap := 0.1
		gap += 0.010 * r.NormFloat64()
		gap += 0.013 * r.NormFloat64()
		gap += 0.007 * r.NormFloat64()
		gap += 0.011 * r.NormFloat64()
		gap += 0.017 * r.NormFloat64()
		sum += gap
	}
	runtime.KeepAlive(sum)
	return time.Since(begin)
}

// BenchmarkSimulateAgainstBareLoop reports how fast one worker is with all that a
// simulation keeps, as a ratio to the bare loop's speed. Here and below each side is
// the best of its runs, taken in turn, so that what else the machine does weighs
// less.
func BenchmarkSimulateAgainstBareLoop(b *testing.B) {
	s := fiveParts(b)
	mine, theirs := time.Duration(math.MaxInt64), time.Duration(math.MaxInt64)
	for b.Loop() {
		mine = min(mine, ours(b, s, trials, 1))
		theirs = min(theirs, bare())
	}
	b.ReportMetric(float64(mine.Nanoseconds())/trials, "ns/trial")
	b.ReportMetric(float64(theirs)/float64(mine), "×bare-loop")
}

// BenchmarkSimulateTwoCores reports how much faster two workers are than one; and,
// for what the machine has to give at the time, how much faster two bare loops at
// once are than two in turn.
func BenchmarkSimulateTwoCores(b *testing.B) {
	if runtime.GOMAXPROCS(0) < 2 {
		b.Skip("one processor")
	}
	s := fiveParts(b)
	shortest := func() time.Duration { return math.MaxInt64 }
	one, two, alone, together := shortest(), shortest(), shortest(), shortest()
	for b.Loop() {
		one = min(one, ours(b, s, trials, 1))
		two = min(two, ours(b, s, trials, 2))
		alone = min(alone, bare())
		begin := time.Now()
		var wait sync.WaitGroup
		for range 2 {
			wait.Go(func() { bare() })
		}
		wait.Wait()
		together = min(together, time.Since(begin))
	}
	b.ReportMetric(float64(one)/float64(two), "×one-core")
	b.ReportMetric(2*float64(alone)/float64(together), "×one-core-bare-loops")
}

// BenchmarkSimulateAgainstNumpy reports how much faster one worker is than numpy
// doing the same vectorised on one core.
func BenchmarkSimulateAgainstNumpy(b *testing.B) {
	python, ok := pythonWithNumpy()
	if !ok {
		b.Skip("no python3 with numpy")
	}
	s := fiveParts(b)
	mine, theirs := math.Inf(1), math.Inf(1)
	for b.Loop() {
		for range 5 {
			mine = min(mine, float64(ours(b, s, trials, 1).Nanoseconds())/trials)
		}
		out, err := exec.Command(python, "testdata/numpy_bench.py", strconv.Itoa(trials), "5").Output()
		if err != nil {
			b.Fatal(err)
		}
		ns, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		if err != nil {
			b.Fatal(err)
		}
		theirs = min(theirs, ns)
	}
	b.ReportMetric(theirs, "numpy-ns/trial")
	b.ReportMetric(theirs/mine, "×numpy")
}

func pythonWithNumpy() (string, bool) {
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import numpy").Run() == nil {
			return python, true
		}
	}
	return "", false
}

// BenchmarkSimulateMemory reports the memory that a run of 100 million trials
// holds at its most.
func BenchmarkSimulateMemory(b *testing.B) {
	s := fiveParts(b)
	var most uint64
	for b.Loop() {
		runtime.GC()
		watch := func(done, total int64) {
			if done%(1<<24) < 1<<14 {
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.Sys)
			}
		}
		_, err := s.Simulate(context.Background(), units.LengthInterval{}, stack.Simulation{Trials: 100_000_000, Seed: 1, Progress: watch})
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(most)/(1<<20), "MiB-from-system")
}
