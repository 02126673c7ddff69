package page

import (
	"strings"
	"unicode/utf8"
)

// writeEscaped writes a text so that neither in an element nor in an attribute between double quotes
// anything in it is read as markup.
func writeEscaped(b *sink, text string) {
	from := 0
	for i := 0; i < len(text); {
		size, by := 1, ""
		switch c := text[i]; {
		case c >= utf8.RuneSelf:
			var r rune
			if r, size = utf8.DecodeRuneInString(text[i:]); r == utf8.RuneError && size == 1 {
				by = "\uFFFD"
			}
		case c == '<':
			by = "&lt;"
		case c == '>':
			by = "&gt;"
		case c == '&':
			by = "&amp;"
		case c == '"':
			by = "&#34;"
		case c == '\'':
			by = "&#39;"
		case c == 0:
			by = "\uFFFD"
		case c == '\r':
			by = "&#13;" // else it is read as the end of a line
		}
		if by != "" {
			b.WriteString(text[from:i])
			b.WriteString(by)
			from = i + size
		}
		i += size
	}
	b.WriteString(text[from:])
}

// plainName reports whether an attribute is harmless whatever its value, or has its address looked at.
func plainName(name string) bool {
	for _, c := range []byte(name) {
		if (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	lower := strings.ToLower(name)
	switch lower {
	case "", "style", "srcdoc", "srcset", "imagesrcset", "background", "data", "ping", "attributename", "to", "from", "values", "by":
		return false
	}
	return !strings.HasPrefix(lower, "on")
}

// address returns an address that runs nothing.
func address(value string, image bool) string {
	// A reader leaves out blanks at the ends, and tabs and ends of lines anywhere.
	plain := strings.ToLower(strings.Map(func(r rune) rune {
		if r <= ' ' {
			return -1
		}
		return r
	}, value))
	scheme, rest, has := strings.Cut(plain, ":")
	if !has || strings.ContainsAny(scheme, "/?#") {
		return value
	}
	switch scheme {
	case "http", "https", "mailto":
		return value
	case "data":
		for _, kind := range []string{"png", "jpeg", "gif", "webp", "svg+xml"} {
			if image && strings.HasPrefix(rest, "image/"+kind+";base64,") {
				return value
			}
		}
	}
	return "about:invalid"
}
