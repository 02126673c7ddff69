// Package thorough says how much the tests try. In `go test ./...` a long list of cases is
// sampled, and a property is tried in few draws, so that the whole takes less than a minute.
// With TESTS=whole in the environment nothing is left out; .ci/long runs that. With TESTS=most
// only a list that takes minutes is sampled, and a property is tried in five times as many draws as in
// go test. With TESTS=race, for the race detector, what it sees nothing of is left to a run without
// it. .ci/run runs these two.
package thorough

import (
	"flag"
	"os"
	"os/exec"
	"strconv"
	"testing"
)

// Whole reports whether everything is to be tried, but for what Step says of lists that take minutes.
func Whole() bool { return most() || os.Getenv("TESTS") == "whole" }

func most() bool { return os.Getenv("TESTS") == "most" }

// Every is the step through a list of cases: n, or 1 where everything is tried.
func Every(n int) int { return Step(n, 1) }

// Step is the step through a list of cases that takes minutes: n in go test, some with TESTS=most, and
// 1 with TESTS=whole.
func Step(n, some int) int {
	switch {
	case most():
		return some
	case Whole():
		return 1
	}
	return n
}

// Checks is how many draws each property of the package is tried in, where not everything is
// and -rapid.checks does not say. It is called by an init, before flags are read.
func Checks(n int) {
	switch {
	case raced():
		n = (n + 4) / 5 // of what takes many times as long
	case most():
		n = min(5*n, 100)
	}
	if !Whole() || most() {
		if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
			panic(err) // the package has no property
		}
	}
}

// Long skips a test that takes seconds, such as one that drives a browser, where not everything
// is tried.
func Long(t testing.TB) {
	t.Helper()
	if !Whole() {
		t.Skip("this takes seconds: run it with TESTS=whole")
	}
}

func raced() bool { return os.Getenv("TESTS") == "race" }

// SkipRaced skips a test of what the race detector sees nothing of, where it looks on: other
// programs, and long work of one goroutine, which it makes many times as long.
func SkipRaced(t testing.TB) {
	t.Helper()
	if raced() {
		t.Skip("the race detector sees nothing of this: run it without TESTS=race")
	}
}

// Program returns the path of another program, which the test runs. The test is skipped where
// the race detector looks on, and where the program is missing.
func Program(t testing.TB, name string) string {
	t.Helper()
	SkipRaced(t)
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, "there is no "+name+": install it")
	}
	return path
}

// Missing skips a test for what it needs and there is not. With PAGETEST=whole, as in .ci/run,
// the test fails.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("PAGETEST") == "whole" {
		t.Fatal(what)
	}
	t.Skip(what)
}
