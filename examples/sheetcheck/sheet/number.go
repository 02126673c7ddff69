package sheet

import (
	"strings"

	"github.com/shopspring/decimal"
)

// What of a number is read.
const (
	mostDigits   = 15 // that a spreadsheet keeps
	mostExponent = 30 // in either direction
	mostNumber   = 60 // bytes of its text
)

// Numeral returns the cell's number as plain text with a decimal point, "60.012", and
// all places that are written; ok is false if the cell holds no number. Digits are
// never grouped: "1,234" is a number only where the comma is the decimal mark. Spaces
// about it, and the apostrophe by which people keep a spreadsheet from reading a
// number, do not count.
//
// Workbooks hold binary numbers and write up to 17 digits of them. Of those more
// than 15 are not what anybody typed or saw, so a number with more is rounded to
// 15 digits, half away from zero: that gives back every number of up to 15
// digits as it was typed.
func (c *Cell) Numeral() (text string, ok bool) {
	switch text = c.Text; {
	case text == "" || text[0] > '9' && text[0] < 0x80:
		return "", false // most texts begin with a letter
	case isPlain(text) && !c.comma:
		return text, true
	case c.comma && strings.Contains(text, "."):
		return "", false // a point there groups digits
	}
	if text = c.Pointed(); isPlain(text) {
		return text, true
	}
	d, ok := c.number()
	if !ok {
		return "", false
	}
	return d.StringFixed(max(0, -d.Exponent())), true
}

// Number returns the cell's number, as Numeral does. Its exponent says how many places
// are written.
func (c *Cell) Number() (d decimal.Decimal, ok bool) {
	if c.Text == "" || c.Text[0] > '9' && c.Text[0] < 0x80 {
		return d, false
	}
	if n, places, ok := c.Plain(); ok {
		return decimal.New(n, -int32(places)), true
	}
	return c.number()
}

// Plain returns the cell's number as a whole number of units of its last place:
// "60.012" is 60012 to 3 places. ok is false unless the cell holds up to 15 characters,
// all of them digits but for a sign and a decimal mark; for other numbers see Numeral.
func (c *Cell) Plain() (coefficient int64, places int, ok bool) {
	if c.comma {
		return plain(c.Text, ',')
	}
	return plain(c.Text, '.')
}

func plain(text string, mark byte) (coefficient int64, places int, ok bool) {
	if len(text) > mostDigits {
		return 0, 0, false
	}
	negative := text != "" && text[0] == '-'
	digits, after := 0, -1 // after the mark
	for i := range len(text) {
		switch c := text[i]; {
		case c-'0' <= 9:
			coefficient = coefficient*10 + int64(c-'0')
			digits++
		case c == mark && after < 0:
			after = i + 1
		case i > 0 || !negative:
			return 0, 0, false
		}
	}
	if after >= 0 {
		places = len(text) - after
	}
	if negative {
		coefficient = -coefficient
	}
	return coefficient, places, digits > 0
}

// isPlain reports whether a text is digits and perhaps a sign and a point: so short
// that there cannot be too many.
func isPlain(text string) bool {
	_, _, ok := plain(text, '.')
	return ok
}

// Pointed returns the text with a decimal point, and without the spaces and the
// apostrophe about it.
func (c *Cell) Pointed() string {
	text := strings.Trim(c.Text, " '\t\u00a0\u202f")
	if c.comma && !strings.Contains(text, ".") {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

func (c *Cell) number() (d decimal.Decimal, ok bool) {
	text := c.Pointed()
	if c.comma && strings.Contains(c.Text, ".") {
		return d, false // a point there groups digits
	}
	if len(text) > mostNumber {
		return d, false
	}
	d, err := decimal.NewFromString(text)
	if err != nil || d.Exponent() > mostExponent || d.Exponent() < -mostExponent {
		return decimal.Decimal{}, false
	}
	if d.Exponent() > 0 {
		d = d.Round(0)
	}
	over := int32(d.NumDigits() - mostDigits)
	if over <= 0 {
		return d, true
	}
	if over > -d.Exponent() {
		return decimal.Decimal{}, false // a whole number of so many digits is no size
	}
	return shortest(d.Round(-d.Exponent() - over)), true
}

// shortest returns d without the zeros behind its last place.
func shortest(d decimal.Decimal) decimal.Decimal {
	return decimal.RequireFromString(d.String())
}
