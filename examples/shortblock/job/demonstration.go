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
const DefaultDemonstration = "drainage-pump"

// Demonstrations returns the names of the jobs that are built in: two invented
// engines, one in millimetres and one in inches, and one with the published
// limits of a technical manual and invented readings.
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
