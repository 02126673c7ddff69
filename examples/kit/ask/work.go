package ask

import (
	"context"
	"sync/atomic"
	"time"
)

// WithWork returns a context that is over once it was asked so often whether it is. A search
// asks once for each case that it looks at, so that the bound counts work and not time: the
// same question gets the same answer on a slow machine. Its error is context.DeadlineExceeded.
func WithWork(ctx context.Context, cases int64) context.Context {
	w := &work{parent: ctx}
	w.left.Store(cases)
	return w
}

type work struct {
	parent context.Context
	left   atomic.Int64
}

func (w *work) Err() error {
	if err := w.parent.Err(); err != nil {
		return err
	}
	if w.left.Add(-1) < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

func (w *work) Deadline() (time.Time, bool) { return w.parent.Deadline() }
func (w *work) Done() <-chan struct{}       { return w.parent.Done() }

// Value has none: context.Cause would otherwise find the parent, and nothing wrong with it.
func (w *work) Value(any) any { return nil }
