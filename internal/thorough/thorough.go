// Package thorough says how much the tests try. In `go test ./...` a long list of cases is
// sampled, and a property is tried in few draws, so that the whole takes less than a minute.
// With TESTS=whole in the environment, as in .ci/run, nothing is left out.
package thorough

import (
	"flag"
	"os"
	"strconv"
)

// Whole reports whether everything is to be tried.
func Whole() bool { return os.Getenv("TESTS") == "whole" }

// Every is the step through a list of cases: n, or 1 where everything is tried.
func Every(n int) int {
	if Whole() {
		return 1
	}
	return n
}

// Checks is how many draws each property of the package is tried in, where not everything is
// and -rapid.checks does not say. It is called by an init, before flags are read.
func Checks(n int) {
	if !Whole() {
		if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
			panic(err) // the package has no property
		}
	}
}
