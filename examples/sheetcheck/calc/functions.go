package calc

import (
	"fmt"
	"maps"
	"slices"
)

// A function is one that formulas call.
type function struct {
	least, most int // arguments; most is below 0 for any number

	// One of the two. A function of values alone is given one of each argument, and is
	// applied to each element where lists are computed with.
	values func(f *frame, v []Value) Value
	parts  func(f *frame, args []Expr) operand

	one   func(i int) bool // of parts: which arguments are one value, so that a list of them gives a list
	lists bool             // its arguments are computed as lists, whatever the formula is
}

// which says of arguments by number that they are one value.
func which(numbers ...int) func(i int) bool {
	return func(i int) bool { return slices.Contains(numbers, i) }
}

// functions are those that are evaluated, by name. It is made by init, because they
// call one another through it, and never changed.
var functions = map[string]function{}

func init() {
	for _, some := range []map[string]function{logicFunctions(), roundingFunctions(), numberFunctions(), sumFunctions(), criteriaFunctions(), lookupFunctions(), filterFunctions(), partialFunctions(), textFunctions(), dateFunctions()} {
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
	"LAMBDA":       "it makes a function and calls none",
}

func (f *frame) call(e *Call) operand {
	fn, ok := functions[e.Name]
	if !ok {
		if o, ok := f.made(e); ok {
			return o
		}
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
		if fn.one != nil {
			return inner.eachOf(fn, e.Args)
		}
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

// A computed is an argument that is evaluated already.
type computed struct {
	Expr
	operand
}

// eachOf calls a function once for each element of the lists that stand where it takes
// one value.
func (f *frame) eachOf(fn function, args []Expr) operand {
	var operands []operand
	var at []int
	for i, a := range args {
		if !fn.one(i) || !f.array && !hasList(a) {
			continue
		}
		o := f.eval(a)
		if operands == nil {
			args = slices.Clone(args)
		}
		args[i] = &computed{a, o}
		if o.kind == isList || o.kind == isArea && f.array && !o.area.single() {
			operands, at = append(operands, o), append(at, i)
		}
	}
	if len(at) == 0 {
		return fn.parts(f, args)
	}
	return f.lists(operands, func(v []Value) Value {
		for i, n := range at {
			args[n] = &computed{args[n], plain(v[i])}
		}
		o := fn.parts(f, args)
		if o.kind == isList || o.kind == isArea && !o.area.single() {
			return unknown("a list each of whose elements would be one")
		}
		return f.single(o)
	})
}

// hasList reports whether an argument has a list in braces.
func hasList(e Expr) bool {
	found := false
	Walk(e, func(x Expr) bool {
		_, list := x.(*List)
		found = found || list
		return !found
	})
	return found
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
