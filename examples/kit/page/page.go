package page

import (
	_ "embed"
	"fmt"
)

// Style is the style sheet.
//
//go:embed style.css
var Style string

// Chart returns a reading drawn over its limits, as an SVG element. Each begins so far from
// the left and is so wide, in parts of the whole scale.
func Chart(limitsFrom, limitsWide, readingFrom, readingWide float64) string {
	const width, least = 100, 1.5
	wide := max(least, width*readingWide)
	from := min(width*readingFrom, width-wide)
	return fmt.Sprintf(`<svg class="chart" viewBox="0 0 %d 12" preserveAspectRatio="none" aria-hidden="true">`+
		`<rect class="scale" width="100" height="12"/><rect class="limits" x="%.2f" width="%.2f" height="12"/><rect class="reading" x="%.2f" y="4" width="%.2f" height="4"/></svg>`,
		width, width*limitsFrom, width*limitsWide, from, wide)
}
