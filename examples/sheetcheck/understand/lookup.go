package understand

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// leastLookedUp is how many lines must find their own key, at least, for keys that are numbers
// to be taken for codes and not for the steps of a scale.
const leastLookedUp = 3

// exactly corrects look-ups of a whole column that take a neighbour where a key is missing:
// the keys are words or codes, or every line finds its own number. A scale with steps is
// looked up so on purpose.
func (r *reader) exactly(t *table) {
	for _, c := range t.columns {
		if c.intent == nil || c.run == nil {
			continue
		}
		c.intent = pattern.Rewrite(c.intent, func(e calc.Expr) calc.Expr {
			call, ok := e.(*calc.Call)
			if !ok || !slices.Contains(pattern.LookUps(call), call) || pattern.Exact(call) {
				return nil
			}
			why := r.meantExactly(t, call)
			exact, ok := pattern.Exactly(call)
			if why == "" || !ok {
				return nil
			}
			c.reason += "; " + why
			return exact
		})
	}
}

// A key is what is looked up, or in what.
type key struct {
	text   string
	number float64
	isText bool
}

func (k key) String() string {
	if k.isText {
		return fmt.Sprintf("%q", k.text)
	}
	return fmt.Sprint(k.number)
}

func (r *reader) key(s spot) (k key, ok bool) {
	if v, ok := r.number(s); ok {
		return key{number: v}, true
	}
	c := r.cell(s)
	text := c.Text
	if c.Formula != "" {
		p, err := r.values.At(r.ctx, r.book.Grids[s.sheet].Name, s.at)
		if err != nil || p.Binary.Kind() != calc.KindText {
			return k, false
		}
		text = p.Binary.String()
	}
	text = strings.ToLower(strings.TrimSpace(text))
	return key{text: text, isText: true}, text != ""
}

// keys returns what stands in a column or row of keys, if all of it is of one kind.
func (r *reader) keysIn(index int, a *calc.Area) (all []key, ok bool) {
	if a.Sheet != "" {
		if index, ok = r.book.Index(a.Sheet); !ok {
			return nil, false
		}
	}
	last, right := r.book.Extent(index)
	to := sheet.Place{Row: min(a.To.Row, last), Column: min(a.To.Column, right)}
	if r.steps += max(0, to.Row-a.From.Row) + 1; to.Row-a.From.Row > longestRange || r.steps > mostSteps || a.From.Row != to.Row && a.From.Column != to.Column {
		return nil, false
	}
	for row := a.From.Row; row <= to.Row; row++ {
		for column := a.From.Column; column <= to.Column; column++ {
			k, ok := r.key(spot{index, sheet.Place{Row: row, Column: column}})
			if !ok {
				continue
			}
			if len(all) > 0 && k.isText != all[0].isText {
				if a.Columns && len(all) == 1 && all[0].isText { // a heading over numbers
					all = all[:0]
				} else {
					return nil, false
				}
			}
			all = append(all, k)
		}
	}
	return all, len(all) > 1
}

// meantExactly says why a look-up is meant to find its key and nothing else; empty if nothing
// shows that.
func (r *reader) meantExactly(t *table, call *calc.Call) string {
	a, ok := pattern.Keys(call)
	sought, okSought := call.Args[0].(*calc.Area)
	if !ok || !okSought || !sought.Single() || sought.File != "" {
		return "" // a number past all others is a trick to find the last
	}
	keys, ok := r.keysIn(t.sheet, a)
	if !ok {
		return ""
	}
	if keys[0].isText {
		return fmt.Sprintf("its keys are words or codes, %s and so on, of which none lies between two others", keys[0])
	}
	if keys[0].number == 0 {
		return "" // a scale from nothing on
	}
	found := map[float64]bool{}
	lines := 0
	for _, l := range t.lines {
		e, ok := r.moved(t, sought, t.lines[0], l)
		at, isArea := e.(*calc.Area)
		if !ok || !isArea {
			continue
		}
		index := t.sheet
		if at.Sheet != "" {
			index, _ = r.book.Index(at.Sheet)
		}
		k, ok := r.key(spot{index, at.From.Place})
		if !ok {
			continue
		}
		if k.isText || !slices.Contains(keys, k) {
			return ""
		}
		found[k.number] = true
		lines++
	}
	if lines < leastLookedUp || len(found) < 2 {
		return ""
	}
	return "every line finds its own key"
}

// unsorted reports look-ups that need their keys in order where they are not, and that are
// not known to be meant exactly.
func (r *reader) unsorted() {
	type place struct {
		sheet int
		keys  string
	}
	said := map[place]*check.Finding{}
	for f := range r.formulas.every() {
		if !f.looks {
			continue
		}
		for _, call := range pattern.LookUps(f.expr()) {
			a, ok := pattern.Keys(call)
			if !ok || pattern.Exact(call) || call.Name[0] == 'X' { // XLOOKUP and XMATCH need no order
				continue
			}
			if f.table != nil && r.meantExactly(f.table, call) != "" {
				continue
			}
			p := place{f.sheet, fmt.Sprint(a, f.at.Column)}
			if one := said[p]; one != nil {
				addCell(one, r.book.Grids[f.sheet].Name, f.at)
				continue
			}
			if _, known := said[p]; known {
				continue
			}
			said[p] = nil
			keys, ok := r.keysIn(f.sheet, a)
			if !ok {
				continue
			}
			way := 1
			if call.Name == "MATCH" && len(call.Args) > 2 && call.Args[2].String() == "-1" {
				way = -1
			}
			for i := 1; i < len(keys); i++ {
				if way*compareKeys(keys[i-1], keys[i]) <= 0 {
					continue
				}
				one := newFault(r.book.Grids[f.sheet].Name, f.at, check.Approximate,
					fmt.Sprintf("=%s needs the keys in %s in order, and %s stands before %s: a look-up of %s may take another line", f.expr(), a, keys[i-1], keys[i], keys[i]))
				said[p] = one
				r.u.faults = append(r.u.faults, one)
				break
			}
		}
	}
}

func compareKeys(a, b key) int {
	if a.isText {
		return strings.Compare(a.text, b.text)
	}
	switch {
	case a.number < b.number:
		return -1
	case a.number > b.number:
		return 1
	}
	return 0
}
