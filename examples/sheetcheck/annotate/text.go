package annotate

import (
	"fmt"
	"regexp"
	"strings"
)

// longest is how many characters a cell or a comment has at most: a bound of office programs.
const longest = 32_000

// likeEscape is a text that would read as a character that XML cannot hold: ISO/IEC 29500-1,
// 22.9.2.19.
var likeEscape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// shown writes a text for a t element: what reads as an escape stays what it is.
func shown(text string) string {
	if runes := []rune(text); len(runes) > longest {
		text = string(runes[:longest]) + "…"
	}
	text = likeEscape.ReplaceAllStringFunc(text, func(e string) string { return "_x005F" + e })
	return escaped(text)
}

// escaped writes a text for XML, in ASCII, with nothing that XML cannot hold.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\n' || r == '\t':
			fmt.Fprintf(&b, "&#%d;", r)
		case r < ' ' || r == 0xFFFE || r == 0xFFFF:
			b.WriteString("&#65533;")
		case r < 0x7F:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "&#%d;", r)
		}
	}
	return b.String()
}
