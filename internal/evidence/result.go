package evidence

import (
	"math"
	"math/big"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// Check puts the inputs of a row through the library and returns what came out, in
// the unit of the row.
type Check func(*Row) (Result, error)

// Result is what a check computed: an exact number, a float64 or a text. Made by
// [Decimal], [Rat], [Float64] or [Text]; the zero value is no result.
type Result struct {
	kind   resultKind
	number *big.Rat
	float  float64
	text   string
}

type resultKind int

const (
	noResult resultKind = iota
	exactNumber
	floatNumber
	textual
)

// Decimal is an exact result.
func Decimal(d decimal.Decimal) Result { return Result{kind: exactNumber, number: d.Rat()} }

// Rat is an exact result.
func Rat(r *big.Rat) Result { return Result{kind: exactNumber, number: new(big.Rat).Set(r)} }

// Float64 is an approximate result; a row that wants it exactly is refused.
func Float64(f float64) Result {
	r := Result{kind: floatNumber, float: f}
	if !math.IsNaN(f) && !math.IsInf(f, 0) {
		r.number = new(big.Rat).SetFloat64(f)
	}
	return r
}

// Text is a result that is compared letter for letter.
func Text(s string) Result { return Result{kind: textual, text: s} }

// inUnit is a quantity in the unit of the row, exactly.
func inUnit[D units.Dimension](r *Row, q units.Quantity[D]) (Result, error) {
	unit, err := units.Parse[units.Unit[D]](r.Unit())
	if err != nil {
		return Result{}, err
	}
	return Rat(q.Rat(unit)), nil
}

// String prints an exact number in full up to 30 decimal places, a float64 to its
// shortest form, a text as it is.
func (r Result) String() string {
	switch r.kind {
	case exactNumber:
		return plain(r.number, 30)
	case floatNumber:
		return strconv.FormatFloat(r.float, 'g', -1, 64)
	case textual:
		return r.text
	default:
		return "no result"
	}
}

// short prints a result for a reader: an exact number to at most 9 decimal places, a
// float64 to six significant digits and marked as approximate.
func (r Result) short() string {
	switch r.kind {
	case exactNumber:
		return plain(r.number, 9)
	case floatNumber:
		return "≈ " + strconv.FormatFloat(r.float, 'g', 6, 64)
	default:
		return r.String()
	}
}
