package stack

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"

	"example.com/closefit/units"
)

// A Simulation says how a Monte Carlo run is made (JCGM 101:2008, clause 7). The
// trials depend on Seed, Trials and the contributors alone, not on how many
// workers share them.
type Simulation struct {
	Trials  int64  // at least 2
	Seed    uint64 // any number; the same seed gives the same trials
	Workers int    // how many goroutines; 0 for one to each processor

	// Progress, if not nil, is called from time to time with how many trials are
	// done, by one goroutine at a time.
	Progress func(done, total int64)
}

// span is limits of what is simulated, infinite where there is none.
type span struct{ lo, hi float64 }

// spanOf returns limits as numbers of the unit; nil for no limits.
func spanOf[D units.Dimension](limits units.Interval[D], u units.Unit[D]) *span {
	if limits.IsEmpty() {
		return nil
	}
	s := &span{math.Inf(-1), math.Inf(1)}
	if limits.HasLo() {
		s.lo = limits.Lo().Float64(u)
	}
	if limits.HasHi() {
		s.hi = limits.Hi().Float64(u)
	}
	return s
}

// Simulate runs a Monte Carlo simulation of the gap, in millimetres, and counts the
// trials outside the limits; the empty interval counts none. It stops early with
// ctx's error when ctx is done. Other errors: [ErrUnusable] for less than two trials
// or negative workers, and those of Law.
func (s *Stack) Simulate(ctx context.Context, limits units.LengthInterval, sim Simulation) (*Outcome, error) {
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	law, err := newLaw(s.middle(), terms)
	if err != nil {
		return nil, err
	}
	inOrder := sorted(terms) // of their own, whatever the one given was
	centre := s.middle().Float64(units.Millimetre)
	add := func(x []float64, r *rand.Rand) error {
		for i := range x {
			x[i] = centre
		}
		for _, t := range inOrder {
			t.addDraws(x, r)
		}
		return nil
	}
	return sim.run(ctx, newHistogram(centre+law.mean, law.sigma), spanOf(limits, units.Millimetre), add)
}

// SimulateFunc runs a Monte Carlo simulation of a function of the contributors'
// sizes. f gets the sizes in millimetres, in the order of Contributors; it must
// not keep or change the slice, and may be called from several goroutines at once.
// Sensitivities play no part. What f returns may have any unit; limits are numbers of
// that unit. A result that is not finite, or beyond ±1e140, ends the run with an error of
// kind [units.ErrSyntax]; other errors are those of Simulate.
func (s *Stack) SimulateFunc(ctx context.Context, f func(sizes []float64) float64, limits units.RatioInterval, sim Simulation) (*Outcome, error) {
	if _, err := s.terms(); err != nil {
		return nil, err
	}
	terms := make([]term, len(s.contributors))
	middles := make([]float64, len(s.contributors))
	for i, c := range s.contributors {
		terms[i] = newTerm(c.asItself())
		middles[i] = c.Limits.Mid().Float64(units.Millimetre)
	}
	add := func(x []float64, r *rand.Rand) error {
		sizes := make([]float64, len(terms)*len(x))
		for i, t := range terms {
			column := sizes[i*len(x) : (i+1)*len(x)]
			for j := range column {
				column[j] = middles[i]
			}
			t.addDraws(column, r)
		}
		row := make([]float64, len(terms))
		for j := range x {
			if j%64 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			for i := range row {
				row[i] = sizes[i*len(x)+j]
			}
			x[j] = f(row)
			if !(math.Abs(x[j]) <= mostResult) {
				for i := range row {
					row[i] = sizes[i*len(x)+j]
				}
				return wrong(units.ErrSyntax, "simulation", fmt.Sprintf("the function gives %v for the sizes %v mm", x[j], row), "give a function that is finite, and no more than 1e140, wherever the sizes can lie")
			}
		}
		return nil
	}
	if err := sim.check(); err != nil {
		return nil, err
	}
	pilot := make([]float64, chunk)
	r := streamOf(sim.Seed, math.MaxUint64) // a block of its own, and not counted
	if err := add(pilot, r); err != nil {
		return nil, err
	}
	var m moments
	m.add(pilot, pilot[0])
	return sim.run(ctx, newHistogram(m.mean(), m.stdDev()), spanOf(limits, units.One), add)
}

// asItself returns the contributor with a sensitivity of one.
func (c Contributor) asItself() Contributor {
	return contributor(c.Name, 1, c.Limits, c.Distribution)
}

// mostResult is the largest result whose square can be summed over all trials.
const mostResult = 1e140

const (
	chunk = 1024       // trials drawn at a time: a few columns of them stay in the nearest cache
	block = 16 * chunk // trials that share a stream
)

func (sim Simulation) check() error {
	switch {
	case sim.Trials < 2:
		return wrong(ErrUnusable, "simulation", fmt.Sprintf("%d trials", sim.Trials), "give two or more; a million settle a coverage interval to two digits")
	case sim.Workers < 0:
		return wrong(ErrUnusable, "simulation", fmt.Sprintf("%d workers", sim.Workers), "give 0 for one to each processor, or a positive number")
	}
	return nil
}

// run makes the trials. draw fills a chunk with results from a stream.
func (sim Simulation) run(ctx context.Context, whole *histogram, limits *span, draw func([]float64, *rand.Rand) error) (*Outcome, error) {
	if err := sim.check(); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	all := collector{
		sim: sim, histogram: whole, limits: limits, cancel: cancel, waiting: map[int64]tally{},
		blocks: (sim.Trials + block - 1) / block,
	}
	workers := sim.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var wait sync.WaitGroup
	for range min(int64(workers), all.blocks) {
		wait.Go(func() { all.work(ctx, draw) })
	}
	wait.Wait()
	if all.err != nil {
		return nil, all.err
	}
	return all.outcome(), nil
}

// A collector shares the blocks among workers and brings what they find together
// in the order of the blocks, so that sums round the same way in every run.
type collector struct {
	sim    Simulation
	limits *span // nil for none
	blocks int64
	cancel context.CancelFunc

	mu        sync.Mutex
	handedOut int64
	next      int64           // the block that total waits for
	waiting   map[int64]tally // finished before their turn; no more than there are workers
	total     tally
	histogram *histogram
	done      int64
	err       error
}

// A tally is what is kept of one block, besides the histogram.
type tally struct {
	moments
	below, above int64
}

func (c *collector) work(ctx context.Context, draw func([]float64, *rand.Rand) error) {
	own := c.histogram.empty()
	x := make([]float64, chunk)
	for {
		b, ok := c.take(ctx)
		if !ok {
			break
		}
		n := min(block, c.sim.Trials-b*block)
		t, err := c.sim.trials(ctx, x, n, c.limits, streamOf(c.sim.Seed, uint64(b)), own, draw)
		if err != nil {
			c.fail(err)
			break
		}
		c.finish(b, n, t)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.histogram.merge(own)
}

// take returns the next block to work on.
func (c *collector) take(ctx context.Context) (b int64, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if err := ctx.Err(); err != nil && c.handedOut < c.blocks && c.err == nil {
		c.err = context.Cause(ctx)
	}
	if c.err != nil || c.handedOut == c.blocks {
		return 0, false
	}
	c.handedOut++
	return c.handedOut - 1, true
}

func (c *collector) fail(err error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.err == nil || errors.Is(c.err, context.Canceled) {
		c.err = err
	}
	c.cancel()
}

func (c *collector) finish(b, n int64, t tally) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.waiting[b] = t
	for {
		t, ready := c.waiting[c.next]
		if !ready {
			break
		}
		delete(c.waiting, c.next)
		c.next++
		c.total.below += t.below
		c.total.above += t.above
		c.total.moments.merge(t.moments)
	}
	c.done += n
	if c.sim.Progress != nil {
		c.sim.Progress(c.done, c.sim.Trials)
	}
}

// trials makes n trials from a stream.
func (sim Simulation) trials(ctx context.Context, x []float64, n int64, limits *span, r *rand.Rand, h *histogram, draw func([]float64, *rand.Rand) error) (tally, error) {
	var t tally
	if limits == nil {
		limits = &span{math.Inf(-1), math.Inf(1)}
	}
	for left := n; left > 0; left -= chunk {
		if err := ctx.Err(); err != nil {
			return t, err
		}
		part := x[:min(left, chunk)]
		if err := draw(part, r); err != nil {
			return t, err
		}
		t.moments.add(part, h.centre)
		h.add(part)
		for _, v := range part {
			if v < limits.lo {
				t.below++
			}
			if v > limits.hi {
				t.above++
			}
		}
	}
	return t, nil
}
