//go:build !unix

package calc

import "time"

// worked returns the processor time that the program has had; known is false if that is not told.
func worked() (t time.Duration, known bool) { return 0, false }
