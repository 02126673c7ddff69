package stack

import (
	"flag"
	"os"
	"testing"

	_ "pgregory.net/rapid" // for its flags

	sample "example.com/closefit/internal/thorough"
)

// ordinaryChecks is in how many cases a property is tried where -rapid.checks does not
// say; .ci/long tries more.
func ordinaryChecks() string {
	if sample.Whole() {
		return "20"
	}
	return "5"
}

// thorough is whether -rapid.checks was said.
var thorough bool

func TestMain(m *testing.M) {
	flag.Parse()
	flag.Visit(func(f *flag.Flag) { thorough = thorough || f.Name == "rapid.checks" })
	if !thorough {
		if err := flag.Set("rapid.checks", ordinaryChecks()); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
