package sheet

// A Number is a decimal number as it stands in a cell: Coefficient × 10^-Places.
// Places is how many digits are written after the point.
type Number struct {
	Coefficient int64
	Places      int
}

// maxPlaces bounds the places of a Number, and so its exponent.
const maxPlaces = 30

// A Notation says how the numbers of a file are written.
type Notation struct {
	Decimal byte // '.' or ','; zero means '.'
}

// Number reads a cell's text as a number; ok is false if it is none. Digits are
// never grouped: "1,234" is a number only where the comma is the decimal mark.
//
// Workbooks hold binary numbers and write up to 17 digits of them. Of those more
// than 15 are not what anybody typed or saw, so a number with more is rounded to
// 15 digits, half away from zero: that gives back every number of up to 15
// digits as it was typed.
func (n Notation) Number(text string) (num Number, ok bool) {
	decimal := n.Decimal
	if decimal == 0 {
		decimal = '.'
	}
	for len(text) > 0 && text[0] == ' ' {
		text = text[1:]
	}
	for len(text) > 0 && text[len(text)-1] == ' ' {
		text = text[:len(text)-1]
	}
	i, negative := 0, false
	if len(text) > 0 && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		i = 1
	}
	const most = 15
	coefficient, places, digits, seen, point := int64(0), 0, 0, false, false
	dropped := byte('0') // the first digit that did not fit
	full := false
loop:
	for ; i < len(text); i++ {
		c := text[i]
		switch {
		case c-'0' <= 9:
			seen = true
			if digits == most {
				if !full {
					full, dropped = true, c
				}
				if !point {
					return Number{}, false // more than 15 digits before the point is no size of anything
				}
				continue
			}
			coefficient = coefficient*10 + int64(c-'0')
			if coefficient > 0 {
				digits++
			}
			if point {
				places++
			}
		case c == decimal && !point:
			point = true
		default:
			break loop
		}
	}
	if !seen || places > maxPlaces {
		return Number{}, false
	}
	if i < len(text) {
		exponent, good := exponent(text[i:])
		if !good {
			return Number{}, false
		}
		places -= exponent
	}
	if dropped >= '5' {
		coefficient++
	}
	if full {
		for places > 0 && coefficient%10 == 0 {
			coefficient /= 10
			places--
		}
	}
	for ; places < 0; places++ {
		if coefficient > (1<<63-1)/10 {
			return Number{}, false
		}
		coefficient *= 10
	}
	if places > maxPlaces {
		return Number{}, false
	}
	if negative {
		coefficient = -coefficient
	}
	return Number{Coefficient: coefficient, Places: places}, true
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
	if n.Places <= places {
		return n
	}
	cut := n.Places - places
	if cut > 18 {
		return Number{Places: places}
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
	return Number{Coefficient: quotient, Places: places}
}
