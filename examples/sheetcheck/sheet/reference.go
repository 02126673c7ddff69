package sheet

import (
	"regexp"
	"strconv"
	"strings"
)

// A Reference is a cell that a formula names.
type Reference struct {
	Place
	ColumnFixed, RowFixed bool // written with a dollar sign
	Sheet                 bool // of a sheet that is named, this one or another
}

// A Range is the cells that a formula names at one place, a single one if both
// ends are the same.
type Range struct {
	From, To Reference
}

// Holds reports whether the range, on the formula's own sheet, holds the cell.
func (r Range) Holds(p Place) bool {
	return !r.From.Sheet &&
		min(r.From.Row, r.To.Row) <= p.Row && p.Row <= max(r.From.Row, r.To.Row) &&
		min(r.From.Column, r.To.Column) <= p.Column && p.Column <= max(r.From.Column, r.To.Column)
}

// Ranges returns the cells that a formula names, in order.
func Ranges(formula string) []Range {
	var all []Range
	joined := false
	scan(formula, func(r Reference, text string, colon bool) string {
		if joined {
			all[len(all)-1].To = r
		} else {
			all = append(all, Range{From: r, To: r})
		}
		joined = colon
		return text
	})
	return all
}

// moved returns a formula as it reads when it is copied so many rows down and
// columns to the right.
func moved(formula string, rows, columns int) string {
	return movedLines(scan(formula, func(r Reference, _ string, _ bool) string {
		if !r.RowFixed {
			r.Row += rows
		}
		if !r.ColumnFixed {
			r.Column += columns
		}
		if r.Row < 1 || r.Column < 1 {
			return "#REF!"
		}
		return dollar(r.ColumnFixed) + ColumnName(r.Column) + dollar(r.RowFixed) + strconv.Itoa(r.Row)
	}), rows, columns)
}

// lines are whole columns or rows, as in "B:$D" and "3:3", or a text in quotation marks.
var lines = regexp.MustCompile(`"[^"]*"|'[^']*'|(\$?[A-Za-z]{1,3}):(\$?[A-Za-z]{1,3})\b|(\$?[0-9]{1,7}):(\$?[0-9]{1,7})\b`)

// movedLines moves the whole columns and rows that a formula names.
func movedLines(formula string, rows, columns int) string {
	if !strings.Contains(formula, ":") {
		return formula
	}
	var out strings.Builder
	last := 0
	for _, m := range lines.FindAllStringSubmatchIndex(formula, -1) {
		from, to := m[0], m[1]
		alone := (from == 0 || !isWord(formula[from-1])) && (to == len(formula) || !isWord(formula[to]) && formula[to] != '(' && formula[to] != '!')
		out.WriteString(formula[last:from])
		last = to
		switch {
		case m[2] >= 0 && alone:
			out.WriteString(movedColumn(formula[m[2]:m[3]], columns) + ":" + movedColumn(formula[m[4]:m[5]], columns))
		case m[6] >= 0 && alone:
			out.WriteString(movedRow(formula[m[6]:m[7]], rows) + ":" + movedRow(formula[m[8]:m[9]], rows))
		default:
			out.WriteString(formula[from:to])
		}
	}
	return out.String() + formula[last:]
}

func movedColumn(text string, by int) string {
	column, err := ParseColumn(text)
	if err != nil || column+by < 1 {
		return text // fixed by its dollar sign, or none
	}
	return ColumnName(column + by)
}

func movedRow(text string, by int) string {
	row, err := strconv.Atoi(text)
	if err != nil || row+by < 1 {
		return text
	}
	return strconv.Itoa(row + by)
}

func dollar(fixed bool) string {
	if fixed {
		return "$"
	}
	return ""
}

// scan walks over a formula and replaces each reference in it. Texts in quotation
// marks, functions and names are left alone.
func scan(formula string, replace func(r Reference, text string, colon bool) string) string {
	var out strings.Builder
	for i := 0; i < len(formula); {
		c := formula[i]
		switch {
		case c == '"' || c == '\'':
			end := strings.IndexByte(formula[i+1:], c)
			if end < 0 {
				out.WriteString(formula[i:])
				return out.String()
			}
			out.WriteString(formula[i : i+end+2])
			i += end + 2
		case isWord(c):
			end := i
			for end < len(formula) && isWord(formula[end]) {
				end++
			}
			word := formula[i:end]
			r, ok := reference(word)
			if ok && (end == len(formula) || formula[end] != '(' && formula[end] != '!') {
				r.Sheet = i > 0 && formula[i-1] == '!'
				out.WriteString(replace(r, word, end < len(formula) && formula[end] == ':'))
			} else {
				out.WriteString(word)
			}
			i = end
		default:
			out.WriteByte(c)
			i++
		}
	}
	return out.String()
}

func isWord(c byte) bool {
	return c == '$' || c == '_' || c == '.' || c >= 0x80 || c-'0' <= 9 || c-'A' < 26 || c-'a' < 26
}

// reference reads "$C$7".
func reference(word string) (r Reference, ok bool) {
	rest := word
	if r.ColumnFixed = strings.HasPrefix(rest, "$"); r.ColumnFixed {
		rest = rest[1:]
	}
	digits := strings.TrimLeft(rest, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")
	letters := rest[:len(rest)-len(digits)]
	if r.RowFixed = strings.HasPrefix(digits, "$"); r.RowFixed {
		digits = digits[1:]
	}
	if len(digits) == 0 || len(digits) > 7 {
		return r, false
	}
	p, err := ParsePlace(letters + digits)
	r.Place = p
	return r, err == nil
}
