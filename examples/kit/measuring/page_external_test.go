package measuring_test

import (
	"bytes"
	"maps"
	"slices"
	"testing"

	"example.com/closefit/examples/kit/measuring"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/internal/thorough"
)

// TestPage looks at the sheet of each job as a browser shows it: no two texts stand on one
// another at any width or in print, nothing is cut off, nothing is asked for from outside,
// its dark colours are dark, and it breaks no rule of axe-core.
func TestPage(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	all := sheets(t)
	names := slices.Sorted(maps.Keys(all))
	for _, name := range names {
		s := all[name]
		t.Run(name, func(t *testing.T) {
			var html bytes.Buffer
			if err := measuring.Write(&html, record.HTML, s); err != nil {
				t.Fatal(err)
			}
			for _, look := range []func(*testing.T, string) []string{b.Texts, b.Dark, b.Accessible} {
				for _, fault := range look(t, html.String()) {
					t.Error(fault)
				}
			}
		})
	}
}
