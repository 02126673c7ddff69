package ask

import (
	"fmt"
	"math"
	"strconv"

	"example.com/closefit/units"
)

// Digits is how many digits a Float is given to. The last bits of a computed probability may
// differ from one processor to the next; what is written does not.
const Digits = 6

// A Float is a number that was computed in floating point, such as a probability. It is
// written with Digits digits.
type Float float64

// MarshalJSON writes the rounded number.
func (f Float) MarshalJSON() ([]byte, error) {
	if v := float64(f); math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, float64(f), 'g', Digits, 64), nil
}

// UnmarshalJSON reads a number.
func (f *Float) UnmarshalJSON(data []byte) error {
	v, err := strconv.ParseFloat(string(data), 64)
	if err != nil {
		return &units.Error{Kind: units.ErrNotWritten, Where: "number", Found: fmt.Sprintf("%.40s", data), Fix: "write a number"}
	}
	*f = Float(v)
	return nil
}

// at puts the key before an error.
func at(err error, format string, of ...any) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", fmt.Sprintf(format, of...), err)
}

// few returns an error for a list with more entries than are answered.
func few(where string, n, most int) error {
	if n <= most {
		return nil
	}
	return &units.Error{Kind: ErrTooMuch, Where: where, Found: strconv.Itoa(n), Fix: fmt.Sprintf("give %d at the most", most)}
}

// wrong is an error about what stands at a key.
func wrong(where, found, write string) error {
	return &units.Error{Kind: ErrQuestion, Where: where, Found: found, Fix: write}
}

// shortened is a text as an error quotes it.
func shortened(text string) string { return fmt.Sprintf("%.40q", text) }
