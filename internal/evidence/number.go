package evidence

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// maxNumber bounds the text of a number before any big-number work.
const maxNumber = 60

// A number as a source prints it: 12, -0.5, .0015, 1.2e-6.
var numberForm = regexp.MustCompile(`^[+-]?(\d+(\.\d+)?|\.\d+)([eE][+-]?\d{1,2})?$`)

// parseNumber reads a decimal number and keeps the places it was printed with.
func parseNumber(s string) (decimal.Decimal, error) {
	if len(s) > maxNumber {
		return decimal.Decimal{}, fmt.Errorf("%q… has %d characters; at most %d", s[:maxNumber], len(s), maxNumber)
	}
	if !numberForm.MatchString(s) {
		return decimal.Decimal{}, fmt.Errorf("%q is not a decimal number such as 12, -0.5, .0015 or 1.2e-6", s)
	}
	return decimal.NewFromString(s)
}

// lastPlace returns the unit of the last printed place of d: 1/100 for 3.20.
func lastPlace(d decimal.Decimal) *big.Rat {
	return decimal.New(1, d.Exponent()).Rat()
}

// plain prints r in full when it is a finite decimal of no more than most decimal
// places; otherwise rounded to that many and ended by "…".
func plain(r *big.Rat, most int) string {
	places, finite := r.FloatPrec()
	if finite && places <= most {
		return r.FloatString(places)
	}
	return r.FloatString(most) + "…"
}

// twoDigits prints r >= 0 to two significant digits: 0.000031, 4.2, 170.
func twoDigits(r *big.Rat) string {
	f := new(big.Float).SetPrec(200).SetRat(r)
	scientific := f.Text('e', 1)
	_, exponent, _ := strings.Cut(scientific, "e")
	power, err := strconv.Atoi(exponent)
	if err != nil || power < -9 {
		return scientific
	}
	return f.Text('f', max(0, 1-power))
}
