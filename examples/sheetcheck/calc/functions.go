package calc

import (
	"fmt"
	"maps"
)

// A function is one that formulas call.
type function struct {
	least, most int // arguments; most is below 0 for any number

	// One of the two. A function of values alone is given one of each argument, and is
	// applied to each element where lists are computed with.
	values func(f *frame, v []Value) Value
	parts  func(f *frame, args []Expr) operand

	lists bool // its arguments are computed as lists, whatever the formula is
}

// functions are those that are evaluated, by name. It is made by init, because they
// call one another through it, and never changed.
var functions = map[string]function{}

func init() {
	for _, some := range []map[string]function{logicFunctions(), roundingFunctions(), numberFunctions(), sumFunctions(), criteriaFunctions(), lookupFunctions(), textFunctions(), dateFunctions()} {
		maps.Copy(functions, some)
	}
}

// refused are functions that are known and not evaluated, with the reason.
var refused = map[string]string{
	"INDIRECT":     "its text may name any cell, which is found out only while it runs",
	"TODAY":        "it changes by itself",
	"NOW":          "it changes by itself",
	"RAND":         "it changes by itself",
	"RANDBETWEEN":  "it changes by itself",
	"RANDARRAY":    "it changes by itself",
	"CELL":         "it asks how a cell looks",
	"INFO":         "it asks about the computer",
	"WEBSERVICE":   "it asks another computer",
	"RTD":          "it asks another program",
	"CALL":         "it runs a program",
	"GETPIVOTDATA": "it asks a pivot table",
	"SUBTOTAL":     "it leaves out rows that a filter hides, which is not read here",
	"AGGREGATE":    "it leaves out rows that are hidden, which is not read here",
}

func (f *frame) call(e *Call) operand {
	fn, ok := functions[e.Name]
	if !ok {
		why := "it is not known here"
		if known, ok := refused[e.Name]; ok {
			why = known
		}
		return plain(unknown(fmt.Sprintf("the function %s: %s", e.Name, why)))
	}
	if len(e.Args) < fn.least || fn.most >= 0 && len(e.Args) > fn.most {
		return plain(unknown(fmt.Sprintf("the function %s with %d arguments", e.Name, len(e.Args))))
	}
	inner := f
	if fn.lists && !f.array {
		lists := *f
		lists.array = true
		inner = &lists
	}
	if fn.parts != nil {
		return fn.parts(inner, e.Args)
	}
	if len(e.Args) <= 3 && !inner.array { // as nearly always: nothing is allocated
		var values [3]Value
		scalar := true
		for i, a := range e.Args {
			o := inner.eval(a)
			if o.kind == isList {
				scalar = false
				break
			}
			values[i] = inner.single(o)
		}
		if scalar {
			return plain(fn.values(inner, values[:len(e.Args)]))
		}
	}
	operands := make([]operand, len(e.Args))
	for i, a := range e.Args {
		operands[i] = inner.eval(a)
	}
	return inner.lift(operands, func(v []Value) Value { return fn.values(inner, v) })
}

// ofNumbers is a function of values that are converted to numbers first.
func ofNumbers(least, most int, apply func(f *frame, n []Value) Value) function {
	return function{least: least, most: most, values: func(f *frame, v []Value) Value {
		for i := range v {
			v[i] = f.number(v[i])
		}
		if v, is := bad(v...); is {
			return v
		}
		return apply(f, v)
	}}
}

// ofTexts is a function of values that are converted to texts first.
func ofTexts(least, most int, apply func(f *frame, s []Value) Value) function {
	return function{least: least, most: most, values: func(f *frame, v []Value) Value {
		for i := range v {
			v[i] = f.text(v[i])
		}
		if v, is := bad(v...); is {
			return v
		}
		return apply(f, v)
	}}
}

// mostInteger bounds whole numbers that functions take.
const mostInteger = 1 << 30

// integer converts a value to a whole number, cut off towards zero.
func (f *frame) integer(v Value) (n int, why Value, ok bool) {
	v = f.number(v)
	if v.kind != KindNumber {
		return 0, v, false
	}
	v = f.rounded(v, towardZero)
	if v.kind != KindNumber {
		return 0, v, false
	}
	x := v.Float64()
	if x > mostInteger || x < -mostInteger {
		return 0, failed(ErrNum), false
	}
	return int(x), Value{}, true
}
