package record_test

import (
	"maps"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/internal/thorough"
)

// pages are the records that are looked at: an engine in millimetres and one in inches with
// a trial assembly, and where everything is tried twelve cylinders of which nothing is read, and the
// same read, with long names.
func pages(t *testing.T) map[string]*job.Assessment {
	list := map[string]*job.Assessment{"lock-gate": assess(t, "lock-gate"), "dredger": assess(t, "dredger")}
	if !thorough.Whole() {
		return list
	}
	twelve := jobtest.Twelve()
	list["twelve, nothing read"] = assessText(t, "open.toml", unread(twelve))
	list["long names"] = assessText(t, "long.toml", strings.NewReplacer(
		"Twelve cylinders", "A twelve-cylinder engine whose "+strings.Repeat("very ", 30)+"long title tells its whole story",
		"\"ash\"", "\"Eschenholzlagerschalenhaelfte-0.25\"", "pair, ash", "pair, Eschenholzlagerschalenhaelfte-0.25", "main cap bolts", "the long bolts of the main bearing caps, inner and outer",
		"\"main gallery\"", "\"the main gallery of the left bank, behind the third plug\"").Replace(twelve))
	return list
}

// unread opens every reading of a job.
func unread(src string) string {
	var b strings.Builder
	inside := false
	for line := range strings.Lines(src) {
		if strings.HasPrefix(line, "[") {
			inside = strings.Contains(line, ".readings]")
		}
		if key, _, ok := strings.Cut(line, " = "); ok && (inside || key == "reading") {
			line = key + " = \"?\"\n"
		}
		b.WriteString(line)
	}
	return b.String()
}

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
