package stack

import (
	"flag"
	"os"
	"testing"

	_ "pgregory.net/rapid" // for its flags
)

// ordinaryChecks is in how many cases a property is tried where -rapid.checks does not
// say; .ci/long tries more.
const ordinaryChecks = "20"

// thorough is whether -rapid.checks was said.
var thorough bool

func TestMain(m *testing.M) {
	flag.Parse()
	flag.Visit(func(f *flag.Flag) { thorough = thorough || f.Name == "rapid.checks" })
	if !thorough {
		if err := flag.Set("rapid.checks", ordinaryChecks); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
