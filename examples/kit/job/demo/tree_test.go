package demo_test

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/job"
)

// A tree is a job as TOML has it, to take apart: a property changes one place of it, and
// writes the changed job.
type tree map[string]any

// fatal is a test, or a check of a property.
type fatal interface{ Fatal(args ...any) }

// treeOf reads a job.
func treeOf(t fatal, src string) tree {
	var root tree
	if err := toml.Unmarshal([]byte(src), &root); err != nil {
		t.Fatal(err)
	}
	return root
}

// String writes the job.
func (root tree) String() string {
	text, err := toml.Marshal(map[string]any(root))
	if err != nil {
		panic(err) // it was read as TOML
	}
	return string(text)
}

// A place is one key of a table or one element of a list, with what stands there.
type place struct {
	path  string // "measure.main bore.readings.3"
	key   string // "3"
	value any
	named bool // it is a key of a table

	remove, restore func()
	put             func(key string, v any) // another key in its stead, or another element
}

// places are all places of the job, the tables before what is in them.
func (root tree) places() []place {
	var all []place
	var walk func(path string, v any, replace func(any))
	walk = func(path string, v any, replace func(any)) {
		switch v := v.(type) {
		case tree:
			walk(path, map[string]any(v), replace)
		case map[string]any:
			for _, k := range slices.Sorted(maps.Keys(v)) {
				x, at := v[k], k
				if path != "" {
					at = path + "." + k
				}
				var put string
				all = append(all, place{path: at, key: k, value: x, named: true,
					remove: func() { delete(v, k) },
					put: func(key string, x any) {
						delete(v, k)
						put = key
						v[key] = x
					},
					restore: func() {
						delete(v, put)
						v[k] = x
					}})
				walk(at, x, func(x any) { v[k] = x })
			}
		case []any:
			for i, x := range v {
				at := path + "[" + strconv.Itoa(i) + "]"
				all = append(all, place{path: at, key: at, value: x,
					remove:  func() { replace(slices.Delete(slices.Clone(v), i, i+1)) },
					put:     func(_ string, x any) { v[i] = x },
					restore: func() { v[i] = x; replace(v) }})
				walk(at, x, func(x any) { v[i] = x })
			}
		}
	}
	walk("", root, nil)
	return all
}

// An outcome is what becomes of a changed job.
type outcome int

const (
	refused  outcome = iota // status 2: it is said what is wrong
	unproven                // status 1 under -strict
	silent                  // all proven all the same
)

// outcomeOf reads and assesses a job.
func outcomeOf(t *testing.T, src string) (outcome, *job.Assessment, error) {
	t.Helper()
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		return refused, nil, err
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		return refused, nil, err
	}
	if a.Proven() {
		return silent, a, nil
	}
	return unproven, a, nil
}

// A tally counts outcomes.
type tally [silent + 1]int

func (n tally) String() string {
	return fmt.Sprintf("%d in all: %d refused, %d not proven, %d silent", n[refused]+n[unproven]+n[silent], n[refused], n[unproven], n[silent])
}
