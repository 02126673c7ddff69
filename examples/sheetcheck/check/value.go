package check

import (
	"math"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A valueKind is what a value is.
type valueKind uint8

const (
	isBlank valueKind = iota
	isNumber
	isText
	isBool
	isError
	isUnknown
)

// A value is what a cell holds or should hold.
type value struct {
	kind   valueKind
	places uint16 // that a typed number is written with, and 1; 0 for one that is not written
	number float64
	text   string
}

// mostPlaces is how many places of a number count; so many are beyond any binary64.
const mostPlaces = 400

// written returns a number as one that is written with so many places.
func (v value) written(places int) value {
	v.places = uint16(min(places, mostPlaces) + 1)
	return v
}

// half returns half a step of the last place that a number is written with; 0 if it is not written.
func (v value) half() float64 {
	if v.places == 0 {
		return 0
	}
	return 0.5 * math.Pow10(1-int(v.places))
}

func valueOf(c *sheet.Cell) value {
	switch c.Kind() {
	case sheet.KindNumber:
		text, _ := c.Numeral()
		n, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return value{kind: isText, text: c.Text}
		}
		v := value{kind: isNumber, number: n, text: c.Text}
		if c.Formula == "" {
			_, behind, _ := strings.Cut(text, ".")
			v = v.written(len(behind))
		}
		return v
	case sheet.KindText:
		return value{kind: isText, text: c.Text}
	case sheet.KindBool:
		return value{kind: isBool, text: strings.ToUpper(c.Text)}
	case sheet.KindError:
		return value{kind: isError, text: c.Text}
	}
	return value{}
}

func valueFrom(v calc.Value) value {
	switch v.Kind() {
	case calc.KindNumber:
		return value{kind: isNumber, number: v.Float64(), text: strings.TrimPrefix(v.String(), "≈")}
	case calc.KindText:
		return value{kind: isText, text: v.String()}
	case calc.KindLogical:
		return value{kind: isBool, text: v.String()}
	case calc.KindError:
		return value{kind: isError, text: v.String()}
	case calc.KindUnknown:
		return value{kind: isUnknown, text: v.Why()}
	}
	return value{}
}

// residue is how far, of their size, two numbers may be apart that are one in binary
// arithmetic: far above what a few operations leave, far below what anybody reads.
const residue = 1e-9

// agrees reports whether what is held is what is wanted, to the places that it is written with.
func (v value) agrees(want value) bool {
	switch {
	case v.kind == isNumber && want.kind == isNumber:
		off, half := math.Abs(v.number-want.number), v.half()
		return off <= max(half, residue)*(1+residue) && half > 0 || off <= residue*max(1, math.Abs(want.number))
	case v.kind == isNumber && want.kind == isBlank:
		return v.number == 0
	case v.kind == isText && want.kind == isText:
		return strings.EqualFold(strings.TrimSpace(v.text), strings.TrimSpace(want.text))
	case v.kind == isText && want.kind == isBlank:
		return strings.TrimSpace(v.text) == ""
	}
	return v.kind == want.kind && v.text == want.text
}

// shown writes a value with its unit.
func (v value) shown(unit string) string {
	if v.kind != isNumber {
		return v.text
	}
	text := strconv.FormatFloat(v.number, 'g', 9, 64)
	if unit == "" {
		return text
	}
	if unit[0] == '0' { // a part of a unit, as 0.01 mm
		return text + " × " + unit
	}
	return text + " " + unit
}
