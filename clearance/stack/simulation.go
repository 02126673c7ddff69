package stack

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"example.com/closefit/units"
)

// A Simulation holds the settings of a Monte Carlo run (JCGM 101:2008, clause 7). The
// trials depend on Seed, Trials and the contributors alone, whatever the number of
// workers.
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

// spanOf returns limits as numbers of the unit.
func spanOf[D units.Dimension](limits units.Interval[D], u units.Unit[D]) span {
	s := span{math.Inf(-1), math.Inf(1)}
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
// ctx's error when ctx is done. Sizes of any distribution may share sources; it must be
// known how far. Other errors: [ErrUnusable] for less than two trials or negative workers,
// and those of Stack.
func (s Stack) Simulate(ctx context.Context, limits units.LengthInterval, sim Simulation) (*Outcome, error) {
	terms, err := s.terms()
	if err != nil {
		return nil, err
	}
	if !s.independent() {
		return s.simulate(ctx, s.gapOf(), spanOf(limits, units.Millimetre), !limits.IsEmpty(), sim)
	}
	law := newLaw(s.centre(), slices.DeleteFunc(slices.Clone(terms), func(t term) bool { return t.kind == noDistribution }))
	if law.sigma == 0 {
		return nil, nothingVaries()
	}
	inOrder := sorted(terms) // of their own, whatever the one given was
	centre := s.centre().Float64(units.Millimetre)
	draw := func(x []float64, r *rand.Rand) error {
		for i := range x {
			x[i] = centre
		}
		addDraws(x, inOrder, r)
		return nil
	}
	c := &collector{sim: sim, histogram: newHistogram(centre+law.mean, law.sigma), limits: spanOf(limits, units.Millimetre), limited: !limits.IsEmpty(), draw: draw}
	return c.run(ctx)
}

// gapOf returns the gap of sizes in millimetres.
func (s Stack) gapOf() func(sizes []float64) float64 {
	sensitivities := make([]float64, len(s))
	for i, c := range s {
		sensitivities[i] = c.Sensitivity.Float64(units.One)
	}
	return func(sizes []float64) (gap float64) {
		for i, x := range sizes {
			gap += sensitivities[i] * x
		}
		return gap
	}
}

// SimulateFunc runs a Monte Carlo simulation of a function of the contributors' sizes. f
// gets the sizes in millimetres, in the order of the stack; it must not keep or change
// the slice, and may be called from several goroutines at once. Sensitivities play no
// part. The result of f may have any unit; limits are numbers of that unit. A result that
// is not finite, or beyond ±1e140, ends the run with an error of kind [units.ErrSyntax];
// other errors are those of Simulate.
func (s Stack) SimulateFunc(ctx context.Context, f func(sizes []float64) float64, limits units.RatioInterval, sim Simulation) (*Outcome, error) {
	return s.simulate(ctx, f, spanOf(limits, units.One), !limits.IsEmpty(), sim)
}

// simulate runs a simulation of a function of the sizes.
func (s Stack) simulate(ctx context.Context, f func(sizes []float64) float64, limits span, limited bool, sim Simulation) (*Outcome, error) {
	if _, err := s.terms(); err != nil {
		return nil, err
	}
	if err := s.checkTogether(); err != nil {
		return nil, err
	}
	of := s.joint()
	draw := func(x []float64, r *rand.Rand) error {
		sizes := make([]float64, len(s)*len(x))
		of.draw(sizes, len(x), r)
		row := make([]float64, len(s))
		fill := func(j int) {
			for i := range row {
				row[i] = sizes[i*len(x)+j]
			}
		}
		for j := range x {
			if j%64 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			fill(j)
			x[j] = f(row)
			if !(math.Abs(x[j]) <= mostResult) {
				fill(j) // f may have changed it, against the rule
				return notFinite("simulation", x[j], row)
			}
		}
		return nil
	}
	if err := sim.check(); err != nil {
		return nil, err
	}
	// The first trials say where the histogram has to lie.
	first, stream := make([]float64, min(chunk, sim.Trials)), streamOf(sim.Seed, 0)
	if err := draw(first, stream); err != nil {
		return nil, err
	}
	var t tally
	for _, v := range first {
		t.merge(tally{n: 1, sum: v - first[0], squares: (v - first[0]) * (v - first[0])})
	}
	c := &collector{sim: sim, histogram: newHistogram(t.moments(first[0])), limits: limits, limited: limited, draw: draw, first: first, stream: stream}
	return c.run(ctx)
}

// notFinite is the error of a function with a result that cannot be used.
func notFinite(where string, result float64, sizes []float64) error {
	return wrong(units.ErrSyntax, where, fmt.Sprintf("the function gives %v for the sizes %v mm", result, sizes), "give a function that is finite, and no more than 1e140, wherever the sizes can lie")
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

// A collector shares the blocks among workers and brings what they find together
// in the order of the blocks, so that sums round the same way in every run.
type collector struct {
	sim     Simulation
	limits  span
	limited bool                                  // by limits that were given
	draw    func(x []float64, r *rand.Rand) error // fills a chunk with results from a stream
	first   []float64                             // the first chunk, if it is drawn already; nil once it is counted
	stream  *rand.Rand                            // that the first block goes on with
	blocks  int64
	failed  atomic.Bool // once err is set

	mu        sync.Mutex
	handedOut int64
	next      int64           // the block that total waits for
	waiting   map[int64]tally // finished before their turn; no more than there are workers
	total     tally
	histogram *histogram
	done      int64
	err       error
}

// run makes the trials.
func (c *collector) run(ctx context.Context) (*Outcome, error) {
	if err := c.sim.check(); err != nil {
		return nil, err
	}
	c.waiting, c.blocks = map[int64]tally{}, (c.sim.Trials+block-1)/block
	workers := c.sim.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var wait sync.WaitGroup
	for range min(int64(workers), c.blocks) {
		wait.Go(func() { c.work(ctx) })
	}
	wait.Wait()
	if c.err != nil {
		return nil, c.err
	}
	return c.outcome(), nil
}

// work makes one block after the other.
func (c *collector) work(ctx context.Context) {
	own := c.histogram.empty()
	x := make([]float64, chunk)
	for {
		b, ok := c.take(ctx)
		if !ok {
			break
		}
		t, err := c.trials(ctx, x, b, own)
		if err != nil {
			c.fail(err)
			break
		}
		c.finish(b, t)
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
	if c.err == nil {
		c.err = err
	}
	c.failed.Store(true)
}

func (c *collector) finish(b int64, t tally) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.waiting[b] = t
	c.done += t.n
	for {
		t, ready := c.waiting[c.next]
		if !ready {
			break
		}
		delete(c.waiting, c.next)
		c.next++
		c.total.merge(t)
	}
	if c.sim.Progress != nil {
		c.sim.Progress(c.done, c.sim.Trials)
	}
}

// errOfAnother ends the work of all others once one has failed. It is never returned, for err is set then.
var errOfAnother = errors.New("stack: another worker failed")

// trials makes the trials of a block.
func (c *collector) trials(ctx context.Context, x []float64, b int64, h *histogram) (t tally, err error) {
	r := streamOf(c.sim.Seed, uint64(b))
	for left := min(block, c.sim.Trials-b*block); left > 0; left -= chunk {
		if err := ctx.Err(); err != nil {
			return t, err
		}
		if c.failed.Load() {
			return t, errOfAnother
		}
		part := x[:min(left, chunk)]
		if b == 0 && c.first != nil { // one worker alone has this block
			part, r, c.first = c.first, c.stream, nil
		} else if err := c.draw(part, r); err != nil {
			return t, err
		}
		h.add(&t, part, c.limits)
	}
	return t, nil
}
