package calc

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/sheet"
)

func criteriaFunctions() map[string]function {
	one := func(result func(f *frame, s *sums) Value) function {
		return function{least: 2, most: 3, one: which(1), parts: func(f *frame, args []Expr) operand {
			return plain(f.sumIf(args[:1], args[1:2], args[2:], true, result))
		}}
	}
	several := func(result func(f *frame, s *sums) Value) function {
		return function{least: 3, most: -1, one: func(i int) bool { return i > 0 && i%2 == 0 }, parts: func(f *frame, args []Expr) operand {
			ranges, criteria := pairs(args[1:])
			return plain(f.sumIf(ranges, criteria, args[:1], false, result))
		}}
	}
	total := func(_ *frame, s *sums) Value { return s.total }
	average := func(f *frame, s *sums) Value {
		if s.numbers == 0 {
			return failed(ErrDiv0)
		}
		return f.div(s.total, f.int(s.numbers))
	}
	return map[string]function{
		"COUNTIF": {least: 2, most: 2, one: which(1), parts: func(f *frame, args []Expr) operand {
			return plain(f.countIf(args[:1], args[1:]))
		}},
		"COUNTIFS": {least: 2, most: -1, one: func(i int) bool { return i%2 == 1 }, parts: func(f *frame, args []Expr) operand {
			ranges, criteria := pairs(args)
			return plain(f.countIf(ranges, criteria))
		}},
		"SUMIF":      one(total),
		"AVERAGEIF":  one(average),
		"SUMIFS":     several(total),
		"AVERAGEIFS": several(average),
		"MINIFS":     several(func(_ *frame, s *sums) Value { return s.least }),
		"MAXIFS":     several(func(_ *frame, s *sums) Value { return s.most }),
	}
}

// pairs parts arguments that come two by two.
func pairs(args []Expr) (first, second []Expr) {
	for i := 0; i < len(args); i += 2 {
		first = append(first, args[i])
		if i+1 < len(args) {
			second = append(second, args[i+1])
		}
	}
	return first, second
}

// A criterion is what COUNTIF and its like ask of a cell: OpenFormula 1.3, Criterion;
// ISO/IEC 29500-1, 18.17.
type criterion struct {
	op      Op
	value   Value
	pattern string // of a text with wildcards, in small letters; else empty
}

// criterion reads what is asked for: a value, or a text that begins with a comparison.
func (f *frame) criterion(v Value) (c criterion, why Value, ok bool) {
	if v, is := bad(v); is {
		return c, v, false
	}
	c.value = v
	switch v.kind {
	case KindText:
	case KindBlank:
		c.value = f.int(0)
		return c, why, true
	default:
		return c, why, true
	}
	rest := v.text
	for _, op := range []Op{LessEqual, GreaterEqual, NotEqual, Equal, Less, Greater} {
		if after, ok := strings.CutPrefix(rest, op.String()); ok {
			c.op, rest = op, after
			break
		}
	}
	switch n := f.fromText(rest); {
	case rest == "":
		c.value = textValue("")
	case n.kind == KindNumber:
		c.value = n
	case n.kind == KindUnknown:
		return c, n, false
	case strings.EqualFold(rest, "TRUE") || strings.EqualFold(rest, "FALSE"):
		c.value = logical(strings.EqualFold(rest, "TRUE"))
	default:
		c.value = textValue(rest)
		if strings.ContainsAny(rest, "*?~") && (c.op == Equal || c.op == NotEqual) {
			c.pattern = strings.ToLower(rest)
		}
	}
	return c, why, true
}

// meets reports whether a cell meets the criterion; why is set if it cannot be told.
func (f *frame) meets(c *criterion, v Value) (yes bool, why Value) {
	if v.kind == KindUnknown {
		return false, v
	}
	if c.value.kind == KindText && c.value.text == "" { // asked for nothing
		empty := v.kind == KindBlank || v.kind == KindText && v.text == "" && c.op == Equal
		switch c.op {
		case Equal:
			return empty, why
		case NotEqual:
			return v.kind != KindBlank, why
		}
		return false, why
	}
	if v.kind != c.value.kind {
		if v.kind == KindText && c.value.kind == KindNumber && c.op <= NotEqual && f.fromText(v.text).kind == KindNumber {
			return false, unknown(fmt.Sprintf("whether the text %q counts as a number differs between programs", v.text))
		}
		return c.op == NotEqual, why
	}
	switch {
	case v.kind == KindError:
		return (v.code == c.value.code) == (c.op == Equal), why
	case c.pattern != "":
		return match(c.pattern, strings.ToLower(v.text)) == (c.op == Equal), why
	}
	order, why, ok := f.order(v, c.value)
	return ok && holds(c.op, order), why
}

// match reports whether a text fits a pattern: "?" is one character, "*" any number,
// and "~" takes from the next its meaning. It never goes back further than one star.
func match(pattern, s string) bool {
	starPattern, starText := "", ""
	star := false
	for s != "" {
		r, size := utf8.DecodeRuneInString(s)
		if pattern != "" {
			p, width := utf8.DecodeRuneInString(pattern)
			switch {
			case p == '*':
				star, starPattern, starText = true, pattern[width:], s
				pattern = pattern[width:]
				continue
			case p == '?':
				pattern, s = pattern[width:], s[size:]
				continue
			case p == '~' && len(pattern) > width:
				q, more := utf8.DecodeRuneInString(pattern[width:])
				if q == r {
					pattern, s = pattern[width+more:], s[size:]
					continue
				}
			case p == r:
				pattern, s = pattern[width:], s[size:]
				continue
			}
		}
		if !star {
			return false
		}
		_, size = utf8.DecodeRuneInString(starText)
		starText = starText[size:]
		pattern, s = starPattern, starText
	}
	return strings.Trim(pattern, "*") == ""
}

// selection goes through the cells of ranges that lie over one another and calls visit
// for the places at which all criteria are met.
func (f *frame) selection(ranges, criteria []Expr, visit func(row, column int)) (first area, why Value) {
	if len(ranges) != len(criteria) {
		return first, unknown("a range without its criterion")
	}
	areas, asked := make([]area, len(ranges)), make([]criterion, len(ranges))
	for i, r := range ranges {
		o := f.eval(r)
		if o.kind != isArea || len(o.more) > 0 {
			if v, is := bad(o.value); is {
				return first, v
			}
			return first, failed(ErrValue)
		}
		c, why, ok := f.criterion(f.value(criteria[i]))
		if !ok {
			return first, why
		}
		areas[i], asked[i] = o.area, c
		if why, ok := sameSize(areas[0], areas[i]); !ok {
			return first, why
		}
	}
	first = areas[0]
	rows, columns := min(first.rows(), f.e.lower), min(first.columns(), f.e.right)
	if v, ok := f.e.look(rows * columns * len(areas)); !ok {
		return first, v
	}
	var fault Value
	for row := range rows {
		for column := range columns {
			all := true
			for i, a := range areas {
				yes, why := f.meets(&asked[i], f.cell(a.index, sheet.Place{Row: a.top + row, Column: a.left + column}))
				if why.kind != KindBlank && fault.kind == KindBlank {
					fault = why
				}
				if all = all && yes; !all {
					break
				}
			}
			if all {
				visit(row, column)
			}
		}
	}
	return first, fault
}

func (f *frame) countIf(ranges, criteria []Expr) Value {
	if n, ok := f.countEqual(ranges, criteria); ok {
		return f.int(n)
	}
	count := 0
	first, why := f.selection(ranges, criteria, func(int, int) { count++ })
	if why.kind != KindBlank {
		return why
	}
	// Empty cells past the end meet a criterion too, if all of them do.
	past := first.rows()*first.columns() - min(first.rows(), f.e.lower)*min(first.columns(), f.e.right)
	if past > 0 {
		blank := true
		for _, c := range criteria {
			asked, _, _ := f.criterion(f.value(c))
			yes, _ := f.meets(&asked, Value{})
			blank = blank && yes
		}
		if blank {
			count += past
		}
	}
	return f.int(count)
}

// countEqual counts the cells of one column that equal a value. A sheet that marks
// what stands in it twice does so in every row.
func (f *frame) countEqual(ranges, criteria []Expr) (n int, ok bool) {
	if len(ranges) != 1 || len(criteria) != 1 {
		return 0, false
	}
	o := f.eval(ranges[0])
	if o.kind != isArea || len(o.more) > 0 || o.area.left != o.area.right {
		return 0, false
	}
	c, _, ok := f.criterion(f.value(criteria[0]))
	if !ok || c.op != Equal || c.pattern != "" || c.value.kind != KindNumber && (c.value.kind != KindText || c.value.text == "") {
		return 0, false
	}
	v, _, ok := f.vectorOf(o, false)
	if !ok || v.filled <= fewRows {
		return 0, false
	}
	return v.counted(c.value)
}

// sumIf sums what lies in the range of target, or else in the first of ranges, where
// the criteria are met. Of a target that is fitted only the first cell counts: it is
// taken to be as large as the range.
func (f *frame) sumIf(ranges, criteria, target []Expr, fitted bool, result func(f *frame, s *sums) Value) Value {
	if len(target) == 0 {
		target = ranges[:1]
	}
	o := f.eval(target[0])
	if o.kind != isArea || len(o.more) > 0 {
		if v, is := bad(o.value); is {
			return v
		}
		return failed(ErrValue)
	}
	s := f.newSums()
	first, why := f.selection(ranges, criteria, func(row, column int) {
		f.take(s, f.cell(o.area.index, sheet.Place{Row: o.area.top + row, Column: o.area.left + column}), false)
	})
	if why.kind == KindBlank && !fitted {
		if v, ok := sameSize(first, o.area); !ok {
			why = v
		}
	}
	if v, is := bad(why, s.unknown, s.error); is {
		return v
	}
	return result(f, s)
}
