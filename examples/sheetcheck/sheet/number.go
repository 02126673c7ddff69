package sheet

import "strings"

// A Number is a decimal number as it stands in a cell: Coefficient × 10^-Places.
// Places is how many digits are written after the point.
type Number struct {
	Coefficient int64
	Places      int32
}

// maxPlaces bounds the places of a Number, and so its exponent.
const maxPlaces = 30

// A Notation says how the numbers of a file are written.
type Notation struct {
	Decimal byte // '.' or ','; zero means '.'
}

// Cell returns a cell with the text, read as a number if it is one.
func (n Notation) Cell(text string) Cell {
	c := Cell{Text: text}
	c.Number, c.IsNumber = n.Number(text)
	return c
}

// Number reads a text as a number; ok is false if it is none. Digits are never
// grouped: "1,234" is a number only where the comma is the decimal mark. Spaces
// about it, and the apostrophe by which people keep a spreadsheet from reading a
// number, do not count.
//
// Workbooks hold binary numbers and write up to 17 digits of them. Of those more
// than 15 are not what anybody typed or saw, so a number with more is rounded to
// 15 digits, half away from zero: that gives back every number of up to 15
// digits as it was typed.
func (n Notation) Number(text string) (num Number, ok bool) {
	if text == "" || text[0] > '9' && text[0] < 0x80 {
		return num, false // most texts begin with a letter
	}
	if num, ok = n.plain(text); ok {
		return num, true
	}
	if trimmed := strings.Trim(text, " '\t\u00a0\u202f"); trimmed != text {
		return n.plain(trimmed)
	}
	return num, false
}

// leading reads a plain number that a separator or the end of the text follows, as
// most cells of a text file are: digits and perhaps a point. ok is false for
// anything else, which may be a number all the same. It gives what Number gives,
// and finds the end of the cell on the way.
func (n Notation) leading(text string, separator byte) (num Number, end int, ok bool) {
	coefficient, point, start := int64(0), -1, 0
	if text != "" && text[0] == '-' {
		start = 1
	}
	i := start
	for ; i < len(text) && i < 16; i++ {
		c := text[i]
		if digit := c - '0'; digit <= 9 {
			coefficient = coefficient*10 + int64(digit)
			continue
		}
		if c != n.Decimal || point >= 0 {
			break
		}
		point = i
	}
	if i < len(text) && text[i] != separator {
		return num, 0, false
	}
	digits := i - start
	if point >= 0 {
		num.Places = int32(i - point - 1)
		digits--
	}
	num.Coefficient = coefficient
	if start == 1 {
		num.Coefficient = -coefficient
	}
	return num, i, digits > 0 && digits <= 15
}

// plain reads a number with nothing about it.
func (n Notation) plain(text string) (num Number, ok bool) {
	decimal := n.Decimal
	if decimal == 0 {
		decimal = '.'
	}
	i, negative := 0, false
	if text != "" && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		i = 1
	}
	coefficient, point, digits := int64(0), -1, 0
	for ; i < len(text) && digits < 15; i++ {
		c := text[i]
		switch {
		case c-'0' <= 9:
			coefficient = coefficient*10 + int64(c-'0')
			if coefficient > 0 {
				digits++
			}
		case c == decimal && point < 0:
			point = i
		default:
			return n.scientific(text[:i], text[i:], coefficient, point, negative)
		}
	}
	if i < len(text) {
		return n.long(text, i, coefficient, point, negative)
	}
	return finished(text, coefficient, point, negative)
}

// finished makes the number of a text that is digits and perhaps a point.
func finished(text string, coefficient int64, point int, negative bool) (num Number, ok bool) {
	places := 0
	if point >= 0 {
		places = len(text) - point - 1
	}
	last := len(text) - 1
	if last < 0 || text[last]-'0' > 9 && (last == 0 || text[last-1]-'0' > 9) || places > maxPlaces {
		return num, false // no digit, or far too many
	}
	if negative {
		coefficient = -coefficient
	}
	return Number{Coefficient: coefficient, Places: int32(places)}, true
}

// long reads on past the fifteenth digit, which must stand after the point.
func (n Notation) long(text string, i int, coefficient int64, point int, negative bool) (num Number, ok bool) {
	if point < 0 {
		if text[i] != n.Decimal && (n.Decimal != 0 || text[i] != '.') {
			return num, false // more than 15 digits before the point is no size of anything
		}
		point = i
		i++
	}
	end := i
	for end < len(text) && text[end]-'0' <= 9 {
		end++
	}
	if i < end && text[i] >= '5' {
		coefficient++
	}
	kept := text[:i]
	for coefficient != 0 && coefficient%10 == 0 && len(kept)-point > 1 {
		coefficient /= 10
		kept = kept[:len(kept)-1]
	}
	if end < len(text) {
		return n.scientific(kept, text[end:], coefficient, point, negative)
	}
	return finished(kept, coefficient, point, negative)
}

// scientific makes the number of digits and an exponent.
func (n Notation) scientific(digits, rest string, coefficient int64, point int, negative bool) (num Number, ok bool) {
	e, good := exponent(rest)
	if !good {
		return num, false
	}
	if num, ok = finished(digits, coefficient, point, negative); !ok {
		return num, false
	}
	num.Places -= int32(e)
	for ; num.Places < 0; num.Places++ {
		if num.Coefficient > (1<<63-1)/10 || num.Coefficient < -(1<<63-1)/10 {
			return Number{}, false
		}
		num.Coefficient *= 10
	}
	return num, num.Places <= maxPlaces
}

// exponent reads "E-3"; good is false if the text is anything else, or beyond ±30.
func exponent(text string) (e int, good bool) {
	if len(text) < 2 || text[0] != 'e' && text[0] != 'E' {
		return 0, false
	}
	text = text[1:]
	negative := text[0] == '-'
	if text[0] == '-' || text[0] == '+' {
		text = text[1:]
	}
	if text == "" || len(text) > 4 {
		return 0, false
	}
	for i := range len(text) {
		if text[i]-'0' > 9 {
			return 0, false
		}
		e = e*10 + int(text[i]-'0')
	}
	if e > maxPlaces {
		return 0, false
	}
	if negative {
		e = -e
	}
	return e, true
}

// Rounded returns the number with at most so many places, rounded half away from
// zero as spreadsheets do.
func (n Number) Rounded(places int) Number {
	if int(n.Places) <= places {
		return n
	}
	cut := int(n.Places) - places
	if cut > 18 {
		return Number{Places: int32(places)}
	}
	divisor := int64(1)
	for range cut {
		divisor *= 10
	}
	quotient, rest := n.Coefficient/divisor, n.Coefficient%divisor
	switch {
	case rest >= divisor-rest:
		quotient++
	case rest <= -divisor-rest:
		quotient--
	}
	return Number{Coefficient: quotient, Places: int32(places)}
}
