//go:build !nobrowser

package record_test

import (
	"maps"
	"os"
	"testing"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/internal/thorough"
)

func TestMain(m *testing.M) { os.Exit(pagetest.Share(m)) }

// TestPage looks at each page: no two texts stand on one another at any width or in print,
// nothing is cut off, nothing is asked for from outside, and the card is the first sheet, alone.
func TestPage(t *testing.T) {
	b := pagetest.Open(t)
	all := pages(t)
	if thorough.Whole() {
		maps.Copy(all, filmed(t))
	}
	for name, a := range all {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			html := render(t, record.HTML, a)
			none(t, b.Texts(t, html))
			none(t, b.Alone(t, html, ".card"))
		})
	}
}

// TestPageIsAccessible: the page breaks no rule of axe-core, in light and in dark.
func TestPageIsAccessible(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	html := render(t, record.HTML, assess(t, "lock-gate"))
	none(t, b.Dark(t, html))
	none(t, b.Accessible(t, html))
	for _, a := range filmed(t) {
		none(t, b.Accessible(t, render(t, record.HTML, a)))
	}
}

// TestPictureTexts: no two texts of the card's picture stand on one another.
func TestPictureTexts(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	for name, a := range pages(t) {
		t.Run(name, func(t *testing.T) {
			none(t, b.Picture(t, render(t, record.SVG, a)))
		})
	}
}

func none(t *testing.T, faults []string) {
	t.Helper()
	for _, f := range faults {
		t.Error(f)
	}
}
