package main

import (
	"path/filepath"
	"testing"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// TestPage looks at reports as a browser shows them: no two texts stand on one another at any
// width or in print, nothing is cut off, nothing is asked for from outside, the dark colours
// are dark, and no rule of axe-core is broken.
func TestPage(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	for name, args := range map[string][]string{
		"understood": {filepath.Join("layouts", "blocks-de.seeded.xlsx")},
		"right":      {filepath.Join("layouts", "deck.xlsx")},
		"by a map":   {"-map", kept("metric.toml"), "metric.xlsx"},
		"many":       {filepath.Join("layouts", "order.seeded.xlsx")},
	} {
		t.Run(name, func(t *testing.T) {
			args[len(args)-1] = kept(args[len(args)-1])
			status, html, errs := try(append([]string{"-format", "html"}, args...)...)
			if status != 0 || errs != "" {
				t.Fatalf("status %d: %s", status, errs)
			}
			for _, look := range []func(*testing.T, string) []string{b.Texts, b.Dark, b.Accessible} {
				for _, fault := range look(t, html) {
					t.Error(fault)
				}
			}
		})
	}
}
