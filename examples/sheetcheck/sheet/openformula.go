package sheet

import "strings"

// openFormula returns a formula of an OpenDocument sheet as a workbook would have it:
// "of:=[.B7]-SUM([.C7:.E7];[$Limits.$B$2])" is "B7-SUM(C7:E7,Limits!$B$2)". See
// OpenDocument 1.3, part 4, 5.2 to 5.14. A formula in a language that is not known is
// returned as it is.
func openFormula(text string) string {
	rest := text
	for _, language := range []string{"of:", "oooc:", "msoxl:"} {
		if after, ok := strings.CutPrefix(text, language); ok {
			if language == "msoxl:" {
				return strings.TrimPrefix(after, "=")
			}
			rest = after
			break
		}
	}
	rest = strings.TrimPrefix(strings.TrimPrefix(rest, "="), "=") // the second: it is to be recalculated always
	var out strings.Builder
	braces := 0
	for rest != "" {
		switch c := rest[0]; c {
		case '"', '\'':
			end := strings.IndexByte(rest[1:], c)
			if end < 0 {
				out.WriteString(rest)
				return out.String()
			}
			out.WriteString(rest[:end+2])
			rest = rest[end+2:]
		case '[':
			inside, after := bracketed(rest[1:])
			out.WriteString(openReference(inside))
			rest = after
		default:
			switch c {
			case '{':
				braces++
			case '}':
				braces--
			case ';':
				c = ','
			case '|':
				if braces > 0 {
					c = ';'
				}
			case '~':
				c = ','
			case '!':
				c = ' '
			}
			word := 0
			for word < len(rest) && isWord(rest[word]) {
				word++
			}
			if word > 0 {
				out.WriteString(function(rest[:word]))
				rest = rest[word:]
				continue
			}
			out.WriteByte(c)
			rest = rest[1:]
		}
	}
	return out.String()
}

// function returns a function's name without the maker's that may stand before it.
func function(word string) string {
	for _, before := range []string{"COM.MICROSOFT.", "ORG.OPENOFFICE.", "ORG.LIBREOFFICE."} {
		if after, ok := strings.CutPrefix(word, before); ok {
			return after
		}
	}
	return word
}

// bracketed splits a text at the bracket that closes it. Brackets in the quoted name of a
// sheet do not count.
func bracketed(text string) (inside, after string) {
	quoted := false
	for i := range len(text) {
		switch {
		case text[i] == '\'':
			quoted = !quoted
		case text[i] == ']' && !quoted:
			return text[:i], text[i+1:]
		}
	}
	return text, ""
}

// openReference returns a reference such as ".B7", "$'Sheet 1'.$B$2:.$C$3" or
// "Limits.B2:Limits.C3" as a workbook would have it.
func openReference(text string) string {
	from, to, isRange := cutUnquoted(text, ':')
	sheet, cell := sheetAndCell(from)
	if strings.Contains(cell, "#REF!") || sheet == "#REF!" {
		return "#REF!"
	}
	out := cell
	if isRange {
		other, last := sheetAndCell(to)
		if strings.Contains(last, "#REF!") {
			return "#REF!"
		}
		if other != "" && other != sheet {
			return sheet + ":" + other + "!" + cell + ":" + last // through several sheets
		}
		out += ":" + last
	}
	if sheet != "" {
		out = sheet + "!" + out
	}
	return out
}

// sheetAndCell splits "$'Sheet 1'.$B$2" at its last point outside quotation marks.
func sheetAndCell(text string) (sheet, cell string) {
	quoted, point := false, -1
	for i := range len(text) {
		switch {
		case text[i] == '\'':
			quoted = !quoted
		case text[i] == '.' && !quoted:
			point = i
		}
	}
	if point < 0 {
		return "", text
	}
	return strings.TrimPrefix(text[:point], "$"), text[point+1:]
}

// cutUnquoted is strings.Cut, save that what stands in single quotation marks is not cut.
func cutUnquoted(text string, mark byte) (before, after string, found bool) {
	quoted := false
	for i := range len(text) {
		switch {
		case text[i] == '\'':
			quoted = !quoted
		case text[i] == mark && !quoted:
			return text[:i], text[i+1:], true
		}
	}
	return text, "", false
}
