package lesson

import (
	"sync"
	"sync/atomic"
	"testing"
)

// TestShared: several goroutines may ask a memo at once; what is known is computed once.
func TestShared(t *testing.T) {
	var m memo[int, int]
	var computed atomic.Int32
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if v, err := m.of(7, func() (int, error) { computed.Add(1); return 49, nil }); v != 49 || err != nil {
				t.Errorf("%d, %v", v, err)
			}
		})
	}
	all.Wait()
	if n := computed.Load(); n != 1 {
		t.Errorf("computed %d times, want once", n)
	}
}
