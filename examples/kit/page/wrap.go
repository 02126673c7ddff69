package page

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Wrap breaks a text into lines of at most so many letters, between words; a word that is
// longer is broken.
func Wrap(text string, most int) (lines []string) {
	if fits(text, most) {
		return []string{text}
	}
	before := ' '
	for _, c := range text + " " {
		if c != ' ' && unicode.IsSpace(c) || c == ' ' && before == ' ' {
			text = strings.Join(strings.Fields(text), " ") // one blank between words, as most texts have it
			break
		}
		before = c
	}
	lines = make([]string, 0, len(text)/max(most, 1)+1)
	for text != "" {
		end, blank := 0, 0 // of as many letters as fit, and the last blank among them
		for n := 0; n < most && end < len(text); n++ {
			if text[end] == ' ' {
				blank = end
			}
			_, size := utf8.DecodeRuneInString(text[end:])
			end += size
		}
		next := end
		switch {
		case end == len(text):
		case text[end] == ' ':
			next = end + 1
		case blank > 0: // else it is a word longer than a line, a name of somebody's own
			end, next = blank, blank+1
		}
		lines = append(lines, text[:end])
		text = text[next:]
	}
	return lines
}

// fits reports whether a text is a line as it stands, as most are.
func fits(text string, most int) bool {
	if text == "" || len(text) > most {
		return false
	}
	before := byte(' ')
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c >= utf8.RuneSelf || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return before != ' '
}
