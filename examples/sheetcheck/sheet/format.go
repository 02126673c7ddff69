package sheet

import (
	"strings"
	"unicode/utf8"
)

// A Format is how a cell shows its number: what of a number format's code says what the
// number means.
type Format struct {
	Kind   FormatKind
	Places int    // behind the decimal mark; -1 if as many as there are
	Unit   string // the text that is shown behind the number, as " mm" in 0.000" mm"; without blanks about it
}

// A FormatKind is what a cell's number is shown as.
type FormatKind uint8

const (
	FormatGeneral FormatKind = iota // as it comes
	FormatFixed                     // with so many places
	FormatPercent
	FormatScientific
	FormatFraction
	FormatDate // or a time
	FormatText
)

func general() Format { return Format{Places: -1} }

// longFormat bounds the codes that are read: ISO/IEC 29500 allows 255 characters.
const longFormat = 1024

// parseFormat reads the code of a number format: ISO/IEC 29500-1, 18.8.30 and 18.8.31. Of
// its sections it reads the first, which is for numbers above zero. A code that is no such
// code is General.
func parseFormat(code string) Format {
	f := general()
	if len(code) > longFormat {
		return f
	}
	var unit strings.Builder
	digits, places, behind := false, 0, false // behind the decimal mark
	literal := func(text string) {
		if digits {
			unit.WriteString(text)
		}
	}
scan:
	for i := 0; i < len(code); {
		r, size := utf8.DecodeRuneInString(code[i:])
		rest := code[i+size:]
		i += size
		switch r {
		case ';':
			break scan
		case '"':
			text, _, _ := strings.Cut(rest, `"`)
			literal(text)
			i += min(len(text)+1, len(rest))
		case '\\':
			_, size := utf8.DecodeRuneInString(rest)
			literal(rest[:size])
			i += size
		case '_', '*': // a blank as wide as the next character, or that character over and over
			_, size := utf8.DecodeRuneInString(rest)
			i += size
		case '[':
			inside, _, _ := strings.Cut(rest, "]")
			if symbol, ok := strings.CutPrefix(inside, "$"); ok {
				symbol, _, _ = strings.Cut(symbol, "-")
				literal(symbol)
			} else if strings.Trim(strings.ToLower(inside), "hms") == "" && inside != "" {
				f.Kind = FormatDate // time that has passed, as [h]:mm
			}
			i += min(len(inside)+1, len(rest))
		case '0', '#', '?':
			if behind {
				places++
			}
			digits = true
		case '.':
			behind = true
		case ',':
		case '%':
			f.Kind = FormatPercent
		case '@':
			f.Kind = FormatText
		case '/':
			if digits && f.Kind != FormatDate {
				f.Kind = FormatFraction
			}
		case 'E', 'e':
			if digits && (strings.HasPrefix(rest, "+") || strings.HasPrefix(rest, "-")) {
				f.Kind = FormatScientific
				break scan
			}
			f.date(digits)
		case 'y', 'Y', 'm', 'M', 'd', 'D', 'h', 'H', 's', 'S', 'a', 'A':
			f.date(digits)
		case 'G', 'g': // the word General
			if strings.HasPrefix(strings.ToLower(rest), "eneral") {
				digits = true
				i += len("eneral")
				places = -1
			}
		default:
			literal(code[i-size : i])
		}
	}
	f.Unit = strings.TrimSpace(strings.ReplaceAll(unit.String(), "\u00a0", " "))
	switch {
	case f.Kind == FormatDate, f.Kind == FormatText:
		f.Unit = ""
	case places < 0 || !digits:
	case f.Kind == FormatFraction:
	default:
		f.Places = places
		if f.Kind == FormatGeneral {
			f.Kind = FormatFixed
		}
	}
	return f
}

// date notes a letter of a date, which stands before any digits.
func (f *Format) date(digits bool) {
	if !digits {
		f.Kind = FormatDate
	}
}

// builtIn returns the format of a number that a workbook may leave unsaid: ISO/IEC 29500-1,
// 18.8.30.
func builtIn(id int) Format {
	switch {
	case id == 1, id == 3, id == 37, id == 38:
		return Format{Kind: FormatFixed}
	case id == 2, id == 4, id == 39, id == 40:
		return Format{Kind: FormatFixed, Places: 2}
	case id == 9:
		return Format{Kind: FormatPercent}
	case id == 10:
		return Format{Kind: FormatPercent, Places: 2}
	case id == 11:
		return Format{Kind: FormatScientific, Places: 2}
	case id == 48:
		return Format{Kind: FormatScientific, Places: 1}
	case id == 12, id == 13:
		return Format{Kind: FormatFraction, Places: -1}
	case id >= 14 && id <= 22, id >= 45 && id <= 47:
		return Format{Kind: FormatDate, Places: -1}
	case id == 49:
		return Format{Kind: FormatText, Places: -1}
	}
	return general()
}
