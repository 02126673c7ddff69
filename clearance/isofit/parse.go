package isofit

import (
	"strings"
	"unicode/utf8"

	"example.com/closefit/units"
)

// maxText bounds what is read, in bytes.
const maxText = 64

// ParseFit reads a nominal size, the class of a hole and the class of a shaft:
// "55 H7/g6", "Ø55 H7/g6", "55 mm H7/g6". A size without a unit is in
// millimetres, as the standard's designations are. The error is an *Error, or
// the *units.ParseError of a size that cannot be read.
func ParseFit(s string) (Fit, error) {
	nominal, classes, err := split(s)
	if err != nil {
		return Fit{}, err
	}
	hole, shaft, found := strings.Cut(strings.ReplaceAll(classes, "⁄", "/"), "/")
	if !found {
		return Fit{}, wrong(ErrSyntax, shorten(s), "no hole with a shaft", `write both classes with a stroke between them, such as "55 H7/g6"; for one part use ParseSize`)
	}
	h, err := ParseClass(hole)
	if err != nil {
		return Fit{}, err
	}
	sh, err := ParseClass(shaft)
	if err != nil {
		return Fit{}, err
	}
	return NewFit(nominal, h, sh)
}

// MustParseFit is ParseFit for literals in programs and tests; it panics on an
// error.
func MustParseFit(s string) Fit {
	f, err := ParseFit(s)
	if err != nil {
		panic("isofit: " + err.Error())
	}
	return f
}

// ParseSize reads a nominal size and a tolerance class: "55 H7". The nominal
// size is read as ParseFit does; so are the errors.
func ParseSize(s string) (Size, error) {
	nominal, class, err := split(s)
	if err != nil {
		return Size{}, err
	}
	if strings.ContainsAny(class, "/⁄") {
		return Size{}, wrong(ErrSyntax, shorten(s), "two classes where one belongs", `write one, such as "55 H7"; for a fit use ParseFit`)
	}
	c, err := ParseClass(class)
	if err != nil {
		return Size{}, err
	}
	return NewSize(nominal, c)
}

// MustParseSize is ParseSize for literals in programs and tests; it panics on an
// error.
func MustParseSize(s string) Size {
	z, err := ParseSize(s)
	if err != nil {
		panic("isofit: " + err.Error())
	}
	return z
}

// split reads the nominal size and returns what stands behind it.
func split(s string) (nominal units.Length, rest string, err error) {
	text := strings.TrimSpace(s)
	if len(text) > maxText || !utf8.ValidString(text) {
		return nominal, "", wrong(ErrSyntax, shorten(text), "no fit", `write a size and its classes, such as "55 H7/g6"`)
	}
	text = strings.TrimSpace(strings.TrimLeft(text, "⌀Øø∅"))
	end := strings.IndexFunc(text, func(r rune) bool {
		return !('0' <= r && r <= '9' || r == '.' || r == ',' || r == '+' || r == '-' || r == '−')
	})
	if end == 0 || text == "" {
		return nominal, "", wrong(ErrSyntax, text, "no nominal size in front", `write the size first, such as "55 H7/g6"`)
	}
	if end < 0 {
		return nominal, "", wrong(ErrSyntax, text, "a nominal size without a tolerance class", `write the class behind it, such as "`+text+` H7"`)
	}
	size, rest := text[:end], strings.TrimSpace(text[end:])
	unit := "mm"
	if first, second, two := strings.Cut(rest, " "); two && !strings.ContainsAny(first, "/⁄0123456789") {
		if _, known := units.ParseUnit[units.LengthDim](first); known == nil {
			unit, rest = first, strings.TrimSpace(second)
		}
	}
	nominal, err = units.ParseLength(size + " " + unit)
	return nominal, rest, err
}

// shorten cuts a long text for an error, at the end of a character.
func shorten(s string) string {
	if len(s) <= maxText {
		return strings.ToValidUTF8(s, "�")
	}
	end := maxText
	for end > 0 && !utf8.RuneStart(s[end]) {
		end--
	}
	return strings.ToValidUTF8(s[:end], "�") + "…"
}

// number writes a length in mm without the unit.
func number(q units.Length) string {
	text, _, _ := strings.Cut(q.String(), " ")
	return text
}
