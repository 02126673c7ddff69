package stack_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// slowStacks take a second and more for the probability of a gap: by lattices, by the exact sum,
// and by samples beside a normal size.
func slowStacks(t *testing.T) map[string]stack.Stack {
	t.Helper()
	all := map[string]stack.Stack{}
	for i := range 60 {
		limits := units.MustParseLengthInterval(fmt.Sprintf("1.000..1.%03d mm", 101+2*i))
		all["lattices"] = append(all["lattices"], stack.Adds(fmt.Sprint(i), limits, stack.Arcsine()))
		all["exact"] = append(all["exact"], stack.Adds(fmt.Sprint(i), limits, stack.Uniform()))
		var values []units.Length
		for j := range 10 {
			values = append(values, units.Micrometre.OfInt(int64(1000+7*i+j*j*(i%5+1))))
		}
		all["samples"] = append(all["samples"], stack.Adds(fmt.Sprint(i), units.MustParseLengthInterval("1..3 mm"), stack.Sample(values...)))
	}
	return all
}

// An endingContext ends once it was asked for its error so often, and counts how often it is asked
// after that: what goes on working asks many times.
type endingContext struct {
	context.Context
	left, after int
}

func (c *endingContext) Err() error {
	if c.left > 0 {
		c.left--
		return nil
	}
	c.after++
	return context.Canceled
}

// TestLawEndsWithItsContext: whatever a Law is asked, it stops soon after its context ends, with the
// context's error and no number.
func TestLawEndsWithItsContext(t *testing.T) {
	gap := units.MustParseLength("64 mm")
	questions := map[string]func(l *stack.Law) error{
		"capability": func(l *stack.Law) error {
			c, err := l.Capability(units.MustParseLengthInterval("62..64 mm"))
			if err != nil && (c.Cpk != 0 || c.Outside != (stack.Computed{}) || !c.Limits.IsEmpty()) {
				t.Errorf("%+v with %v", c, err)
			}
			return err
		},
		"quantile": func(l *stack.Law) error { _, err := l.Quantile(0.01); return err },
		"coverage": func(l *stack.Law) error { _, err := l.Coverage(0.99); return err },
		"density":  func(l *stack.Law) error { _, err := l.Density(gap); return err },
		"working": func(l *stack.Law) error {
			_, err := l.Working(units.MustParseLengthInterval("62..64 mm"))
			return err
		},
		"bins": func(l *stack.Law) error { _, _, err := l.Histogram(); return err },
		"above": func(l *stack.Law) error {
			if p := l.Above(gap); !math.IsNaN(p.Value) || !math.IsInf(p.Error, 1) || p.Proven {
				return fmt.Errorf("a probability of %v", p)
			}
			return context.Canceled
		},
	}
	for kind, s := range slowStacks(t) {
		for name, ask := range questions {
			ctx, stop := context.WithCancel(t.Context())
			l, err := s.LawContext(ctx)
			if err != nil {
				t.Fatal(kind, err)
			}
			stop()
			if err := ask(l); !errors.Is(err, context.Canceled) {
				t.Errorf("%s, %s after the end: %v", kind, name, err)
			}
			for _, asked := range []int{1, 4, 20} {
				ending := &endingContext{Context: t.Context(), left: asked}
				l, err := s.LawContext(ending)
				if err != nil {
					continue // it was asked after already
				}
				if err := ask(l); ending.after > 0 && (!errors.Is(err, context.Canceled) || ending.after > 200) {
					t.Errorf("%s, %s: ended when it was asked after %d times, and asked after %d times more: %v", kind, name, asked, ending.after, err)
				}
			}
		}
	}
	ended, stop := context.WithCancel(t.Context())
	stop()
	if _, err := slowStacks(t)["exact"].LawContext(ended); !errors.Is(err, context.Canceled) {
		t.Errorf("a law in a context that has ended: %v", err)
	}
}
