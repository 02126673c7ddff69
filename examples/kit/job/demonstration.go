package job

import (
	"embed"
	"fmt"
	"slices"
	"strings"
)

//go:embed demo/*.toml
var demonstrations embed.FS

// DefaultDemonstration is the demonstration job shown when none is named.
const DefaultDemonstration = "lock-gate"

// Demonstrations returns the names of the jobs that are built in. Each is of an
// invented engine, and is drawn from its design, which stands beside it in the
// folder demo.
func Demonstrations() []string {
	entries, err := demonstrations.ReadDir("demo")
	if err != nil {
		panic("job: " + err.Error()) // the folder is built in
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".toml"))
	}
	slices.Sort(names)
	return names
}

// Demonstration returns the text of a demonstration job, to read or to begin a
// job of one's own from.
func Demonstration(name string) ([]byte, error) {
	if !slices.Contains(Demonstrations(), name) {
		return nil, fmt.Errorf("demonstration %q: %w; there are %s", name, ErrUnknown, strings.Join(Demonstrations(), ", "))
	}
	return demonstrations.ReadFile("demo/" + name + ".toml")
}
