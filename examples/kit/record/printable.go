package record

import (
	"strings"
	"unicode"
)

// Printable returns s with every character that is no part of readable text (a
// terminal's escape sequences, a reversal of the writing direction) replaced by
// U+FFFD. Line ends stay.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if ' ' <= r && r <= '~' {
			return r
		}
		if r != '\n' && !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}
