package calc

import (
	"strconv"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A Form is a formula as it reads from its own cell: cells into which one formula was copied
// have one Form. It is read from one of them, the first that was met.
type Form struct {
	Expr Expr        // as it reads in the cell At; positions are those of that cell's text
	At   sheet.Place // zero if the formula was read for its own cell alone
}

// Off returns how many rows below and columns to the right of the form's own cell a cell is:
// by so much the references that are not fixed move.
func (f *Form) Off(at sheet.Place) (rows, columns int) {
	if f.At == (sheet.Place{}) {
		return 0, 0
	}
	return at.Row - f.At.Row, at.Column - f.At.Column
}

// Forms reads formulas, and each that was copied into many cells once. The zero value is
// ready; it is not safe for use by several goroutines at once.
type Forms struct {
	known map[string]*Form
	key   []byte
}

// mostForms is how many forms are kept. Sheets that people make have some dozens.
const mostForms = 20_000

// Read reads the formula of a cell, as Parse does. The form is the same one for cells whose
// formulas are alike; one that holds what is seldom copied, such as whole rows, is the
// cell's own.
func (f *Forms) Read(formula string, at sheet.Place) (*Form, error) {
	var alike bool
	f.key, alike = appendKey(f.key[:0], formula, at)
	if alike {
		if known := f.known[string(f.key)]; known != nil {
			return known, nil
		}
	}
	e, err := Parse(formula)
	if err != nil {
		return nil, err
	}
	if !alike || len(f.known) == mostForms {
		return &Form{Expr: e}, nil
	}
	if f.known == nil {
		f.known = map[string]*Form{}
	}
	form := &Form{Expr: e, At: at}
	f.known[string(f.key)] = form
	return form, nil
}

// appendKey writes a formula's text with each cell that it names replaced by where that is
// from its own cell. Formulas with one key differ by nothing else. alike is false where the
// text holds what is not told apart here.
func appendKey(key []byte, formula string, at sheet.Place) (_ []byte, alike bool) {
	if len(formula) > longestFormula || namespace(formula) != "" {
		return key, false
	}
	var before Corner // the cell before a colon
	joined := false
	for i := 0; i < len(formula); {
		c := formula[i]
		switch {
		case c == '"' || c == '\'':
			end := i + 1
			for end < len(formula) && formula[end] != c {
				end++
			}
			if end == len(formula) {
				return key, false
			}
			key = append(key, formula[i:end+1]...)
			i = end + 1
			if joined {
				return key, false
			}
		case isWord(c):
			end := i + 1
			for end < len(formula) && isWord(formula[end]) {
				end++
			}
			word := formula[i:end]
			i = end
			following := byte(0)
			if end < len(formula) {
				following = formula[end]
			}
			cell, ok := corner(word)
			if ok && following != '(' && following != '!' && following != '[' {
				if key = appendCell(key, cell, at); joined {
					if following == ':' {
						return key, false // three in a row
					}
					key = append(key, order(before.Row, cell.Row), order(before.Column, cell.Column))
				}
				if before, joined = cell, following == ':'; joined {
					key = append(key, ':')
					i++
				}
				continue
			}
			switch {
			case joined:
				return key, false
			case following != ':':
				key = append(key, word...)
				continue
			}
			if key, i, ok = appendColumns(key, formula, word, i, at); !ok {
				return key, false
			}
		case c == '[' || c == '#' || c == ':' || joined || c < ' ' && !isSpace(c):
			return key, false
		default:
			key = append(key, c)
			i++
		}
	}
	return key, !joined
}

// appendColumns writes whole columns, such as $A:B, of which the colon stands at i.
func appendColumns(key []byte, formula, word string, i int, at sheet.Place) (_ []byte, next int, ok bool) {
	end := i + 1
	for end < len(formula) && isWord(formula[end]) {
		end++
	}
	from, ok1 := column(word)
	to, ok2 := column(formula[i+1 : end])
	if !ok1 || !ok2 || end < len(formula) && (formula[end] == '!' || formula[end] == '(' || formula[end] == '[' || formula[end] == ':') {
		return key, i, false
	}
	key = append(key, 2)
	for _, c := range []Corner{from, to} {
		key = appendOffset(key, c.Column, at.Column, c.ColumnFixed)
	}
	return append(key, order(from.Column, to.Column)), end, true
}

// appendCell writes a cell; 1 is in no formula's text outside quotation marks.
func appendCell(key []byte, c Corner, at sheet.Place) []byte {
	key = append(key, 1)
	key = appendOffset(key, c.Row, at.Row, c.RowFixed)
	return appendOffset(key, c.Column, at.Column, c.ColumnFixed)
}

func appendOffset(key []byte, n, at int, fixed bool) []byte {
	if fixed {
		key = append(key, '$')
	} else {
		n -= at
	}
	return append(strconv.AppendInt(key, int64(n), 10), ';')
}

// order says in which order the two ends of a range are written: read, they are put in order.
func order(a, b int) byte {
	if a > b {
		return '>'
	}
	return '<'
}
