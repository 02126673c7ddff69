//go:build unix

package calc

import (
	"syscall"
	"time"
)

// worked returns the processor time that the program has had; known is false if that is not told.
func worked() (t time.Duration, known bool) {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0, false
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()), true
}
