package calc

import "time"

func dateFunctions() map[string]function {
	part := func(of func(t time.Time) int) function {
		return ofNumbers(1, 1, func(f *frame, n []Value) Value {
			t, why, ok := f.day(n[0])
			if !ok {
				return why
			}
			return f.int(of(t))
		})
	}
	return map[string]function{
		"YEAR":  part(time.Time.Year),
		"MONTH": part(func(t time.Time) int { return int(t.Month()) }),
		"DAY":   part(time.Time.Day),
		"WEEKDAY": part(func(t time.Time) int {
			return int(t.Weekday()) + 1 // Sunday is 1
		}),
		"DATE": ofNumbers(3, 3, func(f *frame, n []Value) Value {
			var parts [3]int
			for i, v := range n {
				k, why, ok := f.integer(v)
				if !ok {
					return why
				}
				parts[i] = k
			}
			if parts[0] < 1901 || parts[0] > 9999 || parts[1] < -10_000 || parts[1] > 10_000 || parts[2] < -1_000_000 || parts[2] > 1_000_000 {
				return unknown("a date before 1901 or after 9999")
			}
			t := time.Date(parts[0], time.Month(parts[1]), parts[2], 0, 0, 0, 0, time.UTC)
			return f.int(int(t.Sub(dayZero) / (24 * time.Hour)))
		}),
		"DAYS": ofNumbers(2, 2, func(f *frame, n []Value) Value { return f.sub(f.rounded(n[0], downward), f.rounded(n[1], downward)) }),
	}
}

// dayZero is the day of number 0, counted back from days after February 1900, which
// some programs give 29 days: ISO/IEC 29500-1, 18.17.
var dayZero = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

// day returns the day of a number.
func (f *frame) day(v Value) (t time.Time, why Value, ok bool) {
	v = f.rounded(v, downward)
	if v.kind != KindNumber {
		return t, v, false
	}
	n, why, ok := f.integer(v)
	switch {
	case !ok:
		return t, why, false
	case n < 0:
		return t, failed(ErrNum), false
	case n <= 60 || n > 2_958_465:
		return t, unknown("a date before March 1900 or after 9999"), false
	}
	return dayZero.AddDate(0, 0, n), Value{}, true
}
