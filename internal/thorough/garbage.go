package thorough

import (
	"os"
	"runtime/debug"
	"strings"
)

// Tests keep little and throw much away: collecting at five times what is kept, in place of twice, saves a tenth
// of the processor time of all tests. Programs that a test starts from its own binary, and benchmarks, collect as
// they do elsewhere, and GOGC in the environment stands.
func init() {
	if len(os.Args) < 2 || !strings.HasPrefix(os.Args[1], "-test.") || os.Getenv("GOGC") != "" {
		return
	}
	for _, arg := range os.Args[1:] {
		if strings.HasPrefix(arg, "-test.bench=") {
			return
		}
	}
	debug.SetGCPercent(400)
}
