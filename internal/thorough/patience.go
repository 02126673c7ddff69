package thorough

import (
	"testing"
	"time"
)

// Patience is how long a test waits for something that has to come. It bounds nothing: it only ends a
// test that would hang, and is so long that a machine that is slow, busy or stands still for a while
// does not reach it.
const Patience = 5 * time.Minute

// Until waits until something holds, and fails the test if it never does.
func Until(t testing.TB, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(Patience); !holds(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("never: %s", what)
		}
	}
}
