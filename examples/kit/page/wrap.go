package page

import (
	"strings"
	"unicode/utf8"
)

// Wrap breaks a text into lines of at most so many letters, between words; a word that is
// longer is broken.
func Wrap(text string, most int) (lines []string) {
	if fits(text, most) {
		return []string{text}
	}
	var line []byte
	n := 0
	for word := range strings.FieldsSeq(text) {
		letters := utf8.RuneCountInString(word)
		if n > 0 && n+1+letters <= most {
			line, n = append(append(line, ' '), word...), n+1+letters
			continue
		}
		if n > 0 {
			lines = append(lines, string(line))
		}
		for ; letters > most; letters -= most { // a name of somebody's own
			end := 0
			for range most {
				_, size := utf8.DecodeRuneInString(word[end:])
				end += size
			}
			lines = append(lines, word[:end])
			word = word[end:]
		}
		line, n = append(line[:0], word...), letters
	}
	if n > 0 {
		lines = append(lines, string(line))
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
