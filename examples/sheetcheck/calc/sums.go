package calc

import (
	"slices"
)

func sumFunctions() map[string]function {
	of := func(result func(f *frame, s *sums) Value) function {
		return function{least: 1, most: -1, parts: func(f *frame, args []Expr) operand {
			s := f.sum(args)
			if s.unknown.kind == KindUnknown {
				return plain(s.unknown)
			}
			return plain(result(f, s))
		}}
	}
	or := func(result func(f *frame, s *sums) Value) function { // an error that is found is the result
		return of(func(f *frame, s *sums) Value {
			if s.error.kind == KindError {
				return s.error
			}
			return result(f, s)
		})
	}
	ofAll := func(least int, result func(f *frame, n []Value) Value) function {
		return function{least: least, most: -1, parts: func(f *frame, args []Expr) operand {
			n, why := f.numbers(args)
			if why.kind != KindBlank {
				return plain(why)
			}
			return plain(result(f, n))
		}}
	}
	ranked := func(pick func(f *frame, n []Value, k int) Value) function {
		return function{least: 2, most: 2, one: which(1), parts: func(f *frame, args []Expr) operand {
			n, why := f.numbers(args[:1])
			if why.kind != KindBlank {
				return plain(why)
			}
			k, why, ok := f.integer(f.value(args[1]))
			switch {
			case !ok:
				return plain(why)
			case k < 1 || k > len(n):
				return plain(failed(ErrNum))
			}
			if !f.sort(n) {
				return plain(undecided())
			}
			return plain(pick(f, n, k))
		}}
	}
	deviation := func(less int, root bool) function {
		return ofAll(1, func(f *frame, n []Value) Value { return f.deviation(n, less, root) })
	}
	return map[string]function{
		"SUM": or(func(f *frame, s *sums) Value { return s.total }),
		"AVERAGE": or(func(f *frame, s *sums) Value {
			if s.numbers == 0 {
				return failed(ErrDiv0)
			}
			return f.div(s.total, f.int(s.numbers))
		}),
		"MIN":    or(func(f *frame, s *sums) Value { return s.least }),
		"MAX":    or(func(f *frame, s *sums) Value { return s.most }),
		"COUNT":  of(func(f *frame, s *sums) Value { return f.int(s.numbers) }),
		"COUNTA": of(func(f *frame, s *sums) Value { return f.int(s.all) }),
		"COUNTBLANK": {least: 1, most: 1, parts: func(f *frame, args []Expr) operand {
			o := f.eval(args[0])
			if o.kind != isArea {
				return plain(failed(ErrValue))
			}
			blank := 0
			for _, a := range o.areas() {
				blank += a.rows() * a.columns()
			}
			var found Value
			why := f.each(o, func(v Value, _ bool) {
				if v.kind == KindUnknown {
					found = v
				}
				if v.kind != KindText || v.text != "" {
					blank--
				}
			})
			if v, is := bad(why, found); is {
				return plain(v)
			}
			return plain(f.int(blank))
		}},
		"PRODUCT": ofAll(1, func(f *frame, n []Value) Value {
			if len(n) == 0 {
				return f.int(0)
			}
			all := n[0]
			for _, v := range n[1:] {
				if all = f.mul(all, v); all.kind != KindNumber {
					return all
				}
			}
			return all
		}),
		"SUMSQ": ofAll(1, func(f *frame, n []Value) Value {
			all := f.int(0)
			for _, v := range n {
				if all = f.plus(all, f.mul(v, v)); all.kind != KindNumber {
					return all
				}
			}
			return all
		}),
		"MEDIAN": ofAll(1, func(f *frame, n []Value) Value {
			if len(n) == 0 {
				return failed(ErrNum)
			}
			if !f.sort(n) {
				return undecided()
			}
			if len(n)%2 == 1 {
				return n[len(n)/2]
			}
			sum := f.add(n[len(n)/2-1], n[len(n)/2])
			if sum.kind != KindNumber {
				return sum
			}
			return f.div(sum, f.int(2))
		}),
		"SMALL":   ranked(func(_ *frame, n []Value, k int) Value { return n[k-1] }),
		"LARGE":   ranked(func(_ *frame, n []Value, k int) Value { return n[len(n)-k] }),
		"STDEV":   deviation(1, true),
		"STDEV.S": deviation(1, true),
		"STDEVP":  deviation(0, true),
		"STDEV.P": deviation(0, true),
		"VAR":     deviation(1, false),
		"VAR.S":   deviation(1, false),
		"VARP":    deviation(0, false),
		"VAR.P":   deviation(0, false),
		"SUMPRODUCT": {least: 1, most: -1, lists: true, parts: func(f *frame, args []Expr) operand {
			return plain(f.sumProduct(args))
		}},
	}
}

// sums are what SUM, AVERAGE, MIN, MAX, COUNT and COUNTA need of their arguments.
type sums struct {
	numbers, all       int
	total, least, most Value
	unknown, error     Value // the first found
	last               int   // row that is counted last, of a column
}

func (m *machine) newSums() *sums {
	zero := m.int(0)
	return &sums{total: zero, least: zero, most: zero}
}

// take counts a value.
func (m *machine) take(s *sums, v Value, direct bool) {
	switch v.kind {
	case KindBlank:
		if direct {
			s.all++
			m.takeNumber(s, m.int(0))
		}
		return
	case KindUnknown:
		if s.unknown.kind == KindBlank {
			s.unknown = v
		}
		return
	}
	s.all++
	if direct {
		v = m.number(v)
	}
	switch v.kind {
	case KindNumber:
		m.takeNumber(s, v)
	case KindError:
		if s.error.kind == KindBlank {
			s.error = v
		}
	case KindUnknown:
		s.unknown = v
	}
}

func (m *machine) takeNumber(s *sums, v Value) {
	s.numbers++
	if s.total.kind == KindNumber {
		s.total = m.add(s.total, v)
	}
	if s.numbers == 1 {
		s.least, s.most = v, v
		return
	}
	s.least = m.further(s.least, v, -1)
	s.most = m.further(s.most, v, 1)
}

// further returns the lesser or the greater of two numbers.
func (m *machine) further(a, b Value, way int) Value {
	if a.kind != KindNumber {
		return a
	}
	switch order, ok := m.cmp(b, a); {
	case !ok:
		return undecided()
	case order == way:
		return b
	}
	return a
}

// sumKey is where a range begins that is summed: sums of a column that end further
// down go on from there. Those to the last row are kept apart.
type sumKey struct {
	index, top, left, right int
	whole                   bool
}

// sum goes through arguments from the first to the last. An area that comes first is
// summed once for all formulas, and a column only from where the one before ended: a
// column of running totals is a common thing.
func (f *frame) sum(args []Expr) *sums {
	var s *sums
	for i, arg := range args {
		o := f.eval(arg)
		if i == 0 && o.kind == isArea && len(o.more) == 0 {
			known := f.sumArea(o.area)
			if len(args) == 1 {
				return known
			}
			own := *known
			s = &own
			continue
		}
		if s == nil {
			s = f.newSums()
		}
		if why := f.each(o, func(v Value, direct bool) { f.take(s, v, direct) }); why.kind == KindUnknown {
			s.unknown = why
		}
	}
	return s
}

func (f *frame) sumArea(a area) *sums {
	row, column := f.e.book.Extent(a.index)
	a.bottom, a.right = min(a.bottom, row), min(a.right, column)
	key := sumKey{a.index, a.top, a.left, a.right, a.bottom == row}
	s, ok := f.sums[key]
	switch {
	case ok && s.last == a.bottom:
		return s
	case ok && s.last < a.bottom && a.left == a.right:
		own := *s
		s = &own
		a.top = s.last + 1
	default:
		s = f.newSums()
	}
	before := f.e.missing
	if why := f.eachCell(a, func(v Value) { f.take(s, v, false) }); why.kind == KindUnknown {
		s.unknown = why
		return s
	}
	if f.e.missing == before {
		s.last = a.bottom
		f.sums[key] = s
	}
	return s
}

// numbers returns the numbers of arguments; why is an error or unknown if one of them
// is.
func (f *frame) numbers(args []Expr) (n []Value, why Value) {
	var faults []Value
	for _, arg := range args {
		fault := f.each(f.eval(arg), func(v Value, direct bool) {
			if direct {
				v = f.number(v)
			}
			switch v.kind {
			case KindNumber:
				n = append(n, v)
			case KindError, KindUnknown:
				faults = append(faults, v)
			}
		})
		faults = append(faults, fault)
	}
	why, _ = bad(faults...)
	return n, why
}

// sort sorts numbers, unless it cannot be told how two of them compare.
func (f *frame) sort(n []Value) (ok bool) {
	ok = true
	slices.SortStableFunc(n, func(a, b Value) int {
		if f.e.tick(1); f.e.stopped != nil {
			return 0
		}
		order, known := f.cmp(a, b)
		ok = ok && known
		return order
	})
	return ok
}

// deviation returns the variance of numbers or its root. Binary programs take the mean
// first and sum the squares of what is left.
func (f *frame) deviation(n []Value, less int, root bool) Value {
	if len(n) <= less {
		return failed(ErrDiv0)
	}
	sum := f.int(0)
	for _, v := range n {
		sum = f.plus(sum, v)
	}
	if sum.kind != KindNumber {
		return sum
	}
	mean, squares := f.div(sum, f.int(len(n))), f.int(0)
	for _, v := range n {
		if f.e.tick(1); f.e.stopped != nil {
			return unknown("the work was stopped")
		}
		d := f.sub(v, mean)
		if d.kind != KindNumber {
			return d
		}
		if squares = f.plus(squares, f.mul(d, d)); squares.kind != KindNumber {
			return squares
		}
	}
	variance := f.div(squares, f.int(len(n)-less))
	if !root || variance.kind != KindNumber {
		return variance
	}
	return f.root(variance)
}

// sumProduct multiplies lists element by element and sums the products. What is no
// number counts as 0.
func (f *frame) sumProduct(args []Expr) Value {
	all := make([]*list, len(args))
	for i, arg := range args {
		l, v := f.toList(f.eval(arg))
		if l == nil {
			l = &list{rows: 1, columns: 1, values: []Value{v}}
		}
		all[i] = l
		if l.rows != all[0].rows || l.columns != all[0].columns {
			return failed(ErrValue)
		}
	}
	sum, one := f.int(0), f.int(1)
	var faults [2]Value // the first unknown, the first error
	for i := range all[0].values {
		if f.e.tick(1); f.e.stopped != nil {
			return unknown("the work was stopped")
		}
		product := one
		for j, l := range all {
			v := l.values[i]
			switch v.kind {
			case KindUnknown:
				faults[0] = v
			case KindError:
				if faults[1].kind == KindBlank {
					faults[1] = v
				}
			case KindNumber:
				if j == 0 {
					product = v
				} else if product.kind == KindNumber {
					product = f.mul(product, v)
				}
				continue
			}
			product = f.int(0)
		}
		sum = f.plus(sum, product)
	}
	if v, is := bad(faults[:]...); is {
		return v
	}
	return sum
}
