package sheet

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// ErrFormula is the kind of error for a formula that is not evaluated.
var ErrFormula = errors.New("formula not evaluated")

// What of a formula is evaluated at most.
const (
	formulaText   = 2048
	formulaNests  = 32
	formulaDepth  = 200    // formulas on formulas
	formulaCells  = 20_000 // cells that one depends on
	formulaPeriod = 5 * time.Second
)

// FormulaBounds says the bounds of Evaluator in words.
func FormulaBounds() string {
	return fmt.Sprintf("%d characters, %d brackets in one another, formulas on formulas %d deep, %d cells, %s for all of a sheet", formulaText, formulaNests, formulaDepth, formulaCells, formulaPeriod)
}

// An Evaluator evaluates formulas of one sheet. Before a formula is handed to the
// workbook library, everything that it stands on is looked at: only arithmetic and
// the plain functions are let through, and no other sheet or file.
type Evaluator struct {
	book     *Workbook
	sheet    string
	depth    map[Place]int
	deadline time.Time
}

// Evaluator returns an evaluator of a sheet's formulas. The error is a *BoundError
// for a sheet too large to be loaded whole.
func (w *Workbook) Evaluator(sheet string) (*Evaluator, error) {
	if err := w.loadable(sheet); err != nil {
		return nil, fmt.Errorf("formulas not evaluated: %w", err)
	}
	if w.book == nil {
		book, err := w.model()
		if err != nil {
			return nil, err
		}
		w.book = book
	}
	return &Evaluator{book: w, sheet: sheet, depth: map[Place]int{}, deadline: time.Now().Add(formulaPeriod)}, nil
}

// Evaluate returns the value of the formula at a place. The error wraps ErrFormula
// if it is not one that is evaluated.
func (e *Evaluator) Evaluate(ctx context.Context, at Place) (value string, err error) {
	if err := e.check(ctx, at); err != nil {
		return "", fmt.Errorf("%w: %s: %s", ErrFormula, at, err)
	}
	err = guarded(func() (err error) {
		value, err = e.book.book.CalcCellValue(e.sheet, at.String())
		return err
	})
	if err != nil {
		return "", fmt.Errorf("%w: %s: %w", ErrFormula, at, err)
	}
	return value, nil
}

// check walks over all that a cell depends on, without recursion.
func (e *Evaluator) check(ctx context.Context, at Place) error {
	type step struct {
		place Place
		left  []Place // what it stands on and is not yet looked at
		deep  int     // of what was looked at
	}
	const open = -1
	var stack []step
	enter := func(p Place) error {
		formula, err := e.book.book.GetCellFormula(e.sheet, p.String())
		if err != nil {
			return err
		}
		on, err := dependencies(formula)
		if err != nil {
			return err
		}
		e.depth[p] = open
		stack = append(stack, step{place: p, left: on})
		return nil
	}
	if _, seen := e.depth[at]; seen {
		if e.depth[at] == open {
			return errors.New("it depends on a cell that is not evaluated")
		}
		return nil
	}
	if err := enter(at); err != nil {
		return err
	}
	for len(stack) > 0 {
		switch {
		case ctx.Err() != nil:
			return context.Cause(ctx)
		case time.Now().After(e.deadline):
			return fmt.Errorf("the %s for formulas are used up", formulaPeriod)
		case len(stack) > formulaDepth:
			return fmt.Errorf("formulas on formulas more than %d deep", formulaDepth)
		case len(e.depth) > formulaCells:
			return fmt.Errorf("more than %d cells to look at", formulaCells)
		}
		top := &stack[len(stack)-1]
		if len(top.left) == 0 {
			e.depth[top.place] = top.deep + 1
			deep := top.deep + 1
			stack = stack[:len(stack)-1]
			if len(stack) > 0 {
				below := &stack[len(stack)-1]
				below.deep = max(below.deep, deep)
				if below.deep > formulaDepth {
					return fmt.Errorf("formulas on formulas more than %d deep", formulaDepth)
				}
			}
			continue
		}
		next := top.left[len(top.left)-1]
		top.left = top.left[:len(top.left)-1]
		switch deep, seen := e.depth[next]; {
		case seen && deep == open:
			return fmt.Errorf("it depends on itself, through %s, or on a cell that is not evaluated", next)
		case seen:
			top.deep = max(top.deep, deep)
		default:
			if err := enter(next); err != nil {
				return err
			}
		}
	}
	return nil
}

// dependencies returns the cells that a formula stands on, or an error if it is
// not one of the plain ones.
func dependencies(formula string) ([]Place, error) {
	if len(formula) > formulaText {
		return nil, fmt.Errorf("a formula of %d characters", len(formula))
	}
	nests, deepest := 0, 0
	for _, c := range formula {
		switch c {
		case '(':
			nests++
			deepest = max(deepest, nests)
		case ')':
			nests--
		case '[', '{', '#', '!':
			return nil, fmt.Errorf("%q in a formula: another file or sheet, a list or an error", c)
		}
	}
	if deepest > formulaNests {
		return nil, fmt.Errorf("%d brackets in one another", deepest)
	}
	if err := plainWords(formula); err != nil {
		return nil, err
	}
	var on []Place
	for _, r := range Ranges(formula) {
		rows, columns := r.To.Row-r.From.Row+1, r.To.Column-r.From.Column+1
		if rows < 1 || columns < 1 || rows > formulaCells || columns > formulaCells || rows*columns > formulaCells-len(on) {
			return nil, fmt.Errorf("a range of %d × %d cells", rows, columns)
		}
		for row := r.From.Row; row <= r.To.Row; row++ {
			for column := r.From.Column; column <= r.To.Column; column++ {
				on = append(on, Place{Row: row, Column: column})
			}
		}
	}
	return on, nil
}

// plainWords lets through references, numbers and functions that compute from
// their arguments alone.
func plainWords(formula string) error {
	functions := []string{
		"SUM", "ABS", "MIN", "MAX", "ROUND", "ROUNDUP", "ROUNDDOWN", "TRUNC", "INT", "SQRT", "SUMSQ", "AVERAGE",
		"IF", "AND", "OR", "NOT", "PI", "POWER", "CEILING", "FLOOR", "MOD", "N", "TRUE", "FALSE",
	}
	for i := 0; i < len(formula); {
		switch c := formula[i]; {
		case c == '"':
			end := strings.IndexByte(formula[i+1:], '"')
			if end < 0 {
				return errors.New("a quotation mark left open")
			}
			i += end + 2
		case c == '\'':
			return errors.New("another sheet in a formula")
		case isWord(c):
			end := i
			for end < len(formula) && isWord(formula[end]) {
				end++
			}
			word := strings.ToUpper(formula[i:end])
			_, isCell := reference(word)
			_, isNumber := (&Cell{Text: word}).Number()
			switch call := end < len(formula) && formula[end] == '('; {
			case call && !slices.Contains(functions, word):
				return fmt.Errorf("the function %s", word)
			case !call && !isCell && !isNumber && word != "TRUE" && word != "FALSE" && !strings.HasSuffix(word, "E"):
				return fmt.Errorf("the name %s", word)
			}
			i = end
		default:
			i++
		}
	}
	return nil
}
