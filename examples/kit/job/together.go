package job

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// together does so many things, as many at a time as there are processors, and returns when all
// are done. Each must ask for nothing that another changes. Few goroutines do many things each,
// because each has a stack that grows while it does its first.
func together(n int, do func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	work := func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			do(i)
		}
	}
	for range min(n, runtime.GOMAXPROCS(0)) - 1 {
		all.Go(work)
	}
	work()
	all.Wait()
}
