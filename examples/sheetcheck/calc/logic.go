package calc

import "fmt"

func logicFunctions() map[string]function {
	return map[string]function{
		"LET":     {least: 3, most: -1, parts: let},
		"IF":      {least: 2, most: 3, parts: ifElse},
		"IFS":     {least: 2, most: -1, parts: ifs},
		"SWITCH":  {least: 3, most: -1, parts: switchCase},
		"CHOOSE":  {least: 2, most: -1, one: which(0), parts: choose},
		"IFERROR": {least: 2, most: 2, parts: func(f *frame, args []Expr) operand { return f.instead(args, func(Code) bool { return true }) }},
		"IFNA":    {least: 2, most: 2, parts: func(f *frame, args []Expr) operand { return f.instead(args, func(c Code) bool { return c == ErrNA }) }},
		"AND":     {least: 1, most: -1, parts: func(f *frame, args []Expr) operand { return f.count(args, func(yes, no int) bool { return no == 0 }) }},
		"OR":      {least: 1, most: -1, parts: func(f *frame, args []Expr) operand { return f.count(args, func(yes, no int) bool { return yes > 0 }) }},
		"XOR": {least: 1, most: -1, parts: func(f *frame, args []Expr) operand {
			return f.count(args, func(yes, no int) bool { return yes%2 == 1 })
		}},
		"NOT": {least: 1, most: 1, values: func(f *frame, v []Value) Value {
			b := f.logical(v[0])
			if b.kind != KindLogical {
				return b
			}
			return logical(!b.Bool())
		}},
		"TRUE":  {values: func(*frame, []Value) Value { return logical(true) }},
		"FALSE": {values: func(*frame, []Value) Value { return logical(false) }},
		"NA":    {values: func(*frame, []Value) Value { return failed(ErrNA) }},

		"ISBLANK":   kindOf(func(v Value) bool { return v.kind == KindBlank }),
		"ISNUMBER":  kindOf(func(v Value) bool { return v.kind == KindNumber }),
		"ISTEXT":    kindOf(func(v Value) bool { return v.kind == KindText }),
		"ISNONTEXT": kindOf(func(v Value) bool { return v.kind != KindText }),
		"ISLOGICAL": kindOf(func(v Value) bool { return v.kind == KindLogical }),
		"ISERROR":   kindOf(func(v Value) bool { return v.kind == KindError }),
		"ISERR":     kindOf(func(v Value) bool { return v.kind == KindError && v.code != ErrNA }),
		"ISNA":      kindOf(func(v Value) bool { return v.kind == KindError && v.code == ErrNA }),
		"ISREF": {least: 1, most: 1, parts: func(f *frame, args []Expr) operand {
			o := f.eval(args[0])
			if o.kind == isValue && o.value.kind == KindUnknown {
				return o
			}
			return plain(logical(o.kind == isArea))
		}},
		"N": {least: 1, most: 1, values: func(f *frame, v []Value) Value {
			switch v[0].kind {
			case KindText, KindBlank:
				return f.int(0)
			}
			return f.number(v[0])
		}},
		"T": {least: 1, most: 1, values: func(_ *frame, v []Value) Value {
			switch v[0].kind {
			case KindText, KindError, KindUnknown:
				return v[0]
			}
			return textValue("")
		}},
	}
}

// kindOf is a function that asks what a value is.
func kindOf(is func(v Value) bool) function {
	return function{least: 1, most: 1, values: func(_ *frame, v []Value) Value {
		if v[0].kind == KindUnknown {
			return v[0]
		}
		return logical(is(v[0]))
	}}
}

// ifElse evaluates the part that the condition asks for, and not the other one.
func ifElse(f *frame, args []Expr) operand {
	condition := f.eval(args[0])
	if condition.kind == isList || f.array && condition.kind == isArea && !condition.area.single() {
		operands := []operand{condition, f.eval(args[1]), plain(logical(false))}
		if len(args) == 3 {
			operands[2] = f.eval(args[2])
		}
		return f.lists(operands, func(v []Value) Value {
			b := f.logical(v[0])
			switch {
			case b.kind != KindLogical:
				return b
			case b.Bool():
				return v[1]
			}
			return v[2]
		})
	}
	b := f.logical(f.single(condition))
	switch {
	case b.kind != KindLogical:
		return plain(b)
	case b.Bool():
		return f.eval(args[1])
	case len(args) < 3:
		return plain(logical(false))
	}
	return f.eval(args[2])
}

func ifs(f *frame, args []Expr) operand {
	for ; len(args) >= 2; args = args[2:] {
		b := f.logical(f.value(args[0]))
		if b.kind != KindLogical {
			return plain(b)
		}
		if b.Bool() {
			return f.eval(args[1])
		}
	}
	return plain(failed(ErrNA))
}

func switchCase(f *frame, args []Expr) operand {
	v := f.value(args[0])
	if v, is := bad(v); is {
		return plain(v)
	}
	for args = args[1:]; len(args) >= 2; args = args[2:] {
		w := f.value(args[0])
		order, why, ok := f.order(v, w)
		if !ok {
			return plain(why)
		}
		if order == 0 && alike(v, w).kind == alike(w, v).kind {
			return f.eval(args[1])
		}
	}
	if len(args) == 1 {
		return f.eval(args[0])
	}
	return plain(failed(ErrNA))
}

func choose(f *frame, args []Expr) operand {
	n, why, ok := f.integer(f.value(args[0]))
	switch {
	case !ok:
		return plain(why)
	case n < 1 || n >= len(args):
		return plain(failed(ErrValue))
	}
	return f.eval(args[n])
}

// instead returns the second argument where the first is such an error.
func (f *frame) instead(args []Expr, such func(Code) bool) operand {
	o := f.eval(args[0])
	if o.kind == isList || f.array && o.kind == isArea {
		return f.lists([]operand{o, f.eval(args[1])}, func(v []Value) Value {
			if v[0].kind == KindError && such(v[0].code) {
				return v[1]
			}
			return v[0]
		})
	}
	v := f.single(o)
	if v.kind == KindError && such(v.code) {
		return f.eval(args[1])
	}
	return plain(v)
}

// count counts the arguments that are true and those that are not. All of them are
// evaluated, and texts in cells do not count.
func (f *frame) count(args []Expr, result func(yes, no int) bool) operand {
	yes, no := 0, 0
	var all []Value
	for _, a := range args {
		why := f.each(f.eval(a), func(v Value, direct bool) {
			if v.kind == KindText && !direct {
				return
			}
			v = f.logical(v)
			switch {
			case v.kind != KindLogical:
				all = append(all, v)
			case v.Bool():
				yes++
			default:
				no++
			}
		})
		all = append(all, why)
	}
	if v, is := bad(all...); is {
		return plain(v)
	}
	if yes+no == 0 {
		return plain(failed(ErrValue))
	}
	return plain(logical(result(yes, no)))
}

// sameSize returns an error if ranges that belong together are not equally large.
func sameSize(a, b area) (Value, bool) {
	if a.rows() != b.rows() || a.columns() != b.columns() {
		return unknown(fmt.Sprintf("ranges of %d × %d and %d × %d cells, which programs treat differently", a.rows(), a.columns(), b.rows(), b.columns())), false
	}
	return Value{}, true
}
