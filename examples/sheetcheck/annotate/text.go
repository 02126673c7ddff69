package annotate

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf16"
)

// longest is how many characters a cell or a comment has at most, as UTF-16 counts them: a bound of office programs,
// some of which take a workbook with a longer one for damaged.
const longest = 32_767

// length returns how many characters of UTF-16 a text has.
func length(text string) (n int) {
	for _, r := range text {
		n += utf16.RuneLen(r)
	}
	return n
}

// cut returns a text of no more than so many characters of UTF-16; what is missing shows as "…".
func cut(text string, most int) string {
	if len(text) <= most || length(text) <= most {
		return text
	}
	n := 0
	for i, r := range text {
		if n += utf16.RuneLen(r); n > most-1 {
			return text[:i] + "…"
		}
	}
	return text
}

// likeEscape is a text that would read as a character that XML cannot hold: ISO/IEC 29500-1,
// 22.9.2.19.
var likeEscape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// shown writes a text for a t element: what reads as an escape stays what it is.
func shown(text string) string {
	text = likeEscape.ReplaceAllStringFunc(cut(text, longest), func(e string) string { return "_x005F" + e })
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
