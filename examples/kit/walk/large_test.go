package walk

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/page"
)

func TestLarge(t *testing.T) {
	want := strings.Join([]string{
		"█████       █   █",
		"█           ██  █       ██ █",
		"████        █ █ █   █   █ █ █",
		"    █       █  ██       █ █ █",
		"████        █   █       █   █",
	}, "\n")
	if got := strings.Join(large("5 N·m", 80)[:5], "\n"); got != want {
		t.Errorf("\n%s\nwant\n%s", got, want)
	}
	if got := large("L R", 12); len(got) != 12 || got[0] != "█" || got[6] != "████" {
		t.Errorf("two lines of five and their spaces: %q", got)
	}
}

// TestLargeFits: whatever the text and however narrow the screen, no line is wider.
func TestLargeFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		columns := rapid.IntRange(6, 100).Draw(t, "columns")
		for _, line := range large(text, columns) {
			if n := utf8.RuneCountInString(line); n > columns {
				t.Fatalf("%q is %d wide", line, n)
			}
		}
		for _, line := range page.Wrap(text, columns) {
			if n := utf8.RuneCountInString(line); n > columns {
				t.Fatalf("%q is %d wide", line, n)
			}
		}
	})
}

// TestGlyphs: every glyph is one letter and five rows, each other than the next.
func TestGlyphs(t *testing.T) {
	seen := map[[5]byte]rune{}
	for r, shape := range shapes() {
		if other, twice := seen[shape]; twice {
			t.Errorf("%c and %c look the same", r, other)
		}
		seen[shape] = r
	}
	for _, r := range "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,·-+/°?!:≈±m" {
		if _, ok := shapes()[r]; !ok {
			t.Errorf("no %c", r)
		}
	}
}
