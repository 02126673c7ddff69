package understand

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Values are numbers, codes or words of verdict in cells one after another that nothing
// computes or judges and no formula reads.
type Values struct {
	Sheet string
	Cells sheet.Area
	Count int
	Why   string
}

// mostValues bounds the groups of values that are named one by one.
const mostValues = 1000

// unread lists the values that nobody looked at, so that silence about them is not taken for
// a proof.
func (r *reader) unread() {
	read := r.readCells()
	for index, g := range r.book.Grids {
		n := &neglected{r: r, sheet: index, open: map[int]*Values{}}
		looked := false // at anything of the sheet
		for at, c := range g.Cells() {
			s := spot{index, at}
			m, _ := r.u.roles.at(s)
			switch {
			case c.Formula != "" || m.Claim || r.told[s]:
				looked = true
			case read.holds(s):
				looked = true
			case m.Role == roleLocation || !r.isValue(s, c):
			default:
				n.add(at)
			}
		}
		n.finish(looked)
	}
}

// isValue reports whether a typed cell holds a number, a code or a word of verdict.
func (r *reader) isValue(s spot, c *sheet.Cell) bool {
	if _, ok := r.number(s); ok {
		return true
	}
	text := strings.TrimSpace(c.Text)
	if text == "" || c.Kind() != sheet.KindText {
		return false
	}
	below, _ := r.u.roles.at(spot{s.sheet, sheet.Place{Row: s.at.Row + 1, Column: s.at.Column}})
	own, _ := r.u.roles.at(s)
	switch role := own.Role; {
	case numberLike(text), role == roleCode, role == roleVerdict:
		return true
	case role != "":
		return false
	case good(text) && below.Role == "": // a line of units may lie between
		below, _ = r.u.roles.at(spot{s.sheet, sheet.Place{Row: s.at.Row + 2, Column: s.at.Column}})
		return below.Role != roleVerdict
	case good(text):
		return below.Role != roleVerdict // else it is its heading
	}
	return below.Role == "" && utf8.RuneCountInString(text) <= 2 && strings.ToUpper(text) == text && strings.ToLower(text) != text
}

// numberLike reports whether a text begins as a number does: "60.012 mm".
func numberLike(text string) bool {
	const marks = "+-., \u00a0"
	rest := strings.TrimLeft(text, "0123456789"+marks)
	if !strings.ContainsAny(text[:len(text)-len(rest)], "0123456789") {
		return false
	}
	if rest == "" {
		return true
	}
	_, unit := parseUnit(rest)
	return unit
}

// neglected gathers the values of a sheet into groups: those below one another, with at most
// one line between them.
type neglected struct {
	r     *reader
	sheet int
	all   []*Values
	open  map[int]*Values // by column
	more  int
}

func (n *neglected) add(at sheet.Place) {
	if v := n.open[at.Column]; v != nil && at.Row-v.Cells.Last.Row <= 2 {
		v.Cells.Last = at
		v.Count++
		return
	}
	if len(n.all) == mostValues {
		n.more++
		return
	}
	v := &Values{Sheet: n.r.book.Grids[n.sheet].Name, Cells: sheet.Area{First: at, Last: at}, Count: 1}
	n.open[at.Column] = v
	n.all = append(n.all, v)
}

// finish says why nobody looked at them. Columns of one heading row side by side stay apart: each
// may be a claim of its own.
func (n *neglected) finish(looked bool) {
	if len(n.all) == 0 {
		return
	}
	if !looked {
		whole := Values{Sheet: n.all[0].Sheet, Cells: n.all[0].Cells, Count: n.more,
			Why: "nothing on this sheet is computed or judged, and no other sheet reads it"}
		for _, v := range n.all {
			whole.Count += v.Count
			whole.Cells.First.Row, whole.Cells.First.Column = min(whole.Cells.First.Row, v.Cells.First.Row), min(whole.Cells.First.Column, v.Cells.First.Column)
			whole.Cells.Last.Row, whole.Cells.Last.Column = max(whole.Cells.Last.Row, v.Cells.Last.Row), max(whole.Cells.Last.Column, v.Cells.Last.Column)
		}
		n.r.u.Values = append(n.r.u.Values, whole)
		return
	}
	for _, v := range n.all {
		v.Why = "no formula reads or gives it"
		t := &table{sheet: n.sheet, down: true}
		if heading, group, _ := n.r.headings(t, v.Cells.First.Column, v.Cells.First.Row); heading != "" || group != "" {
			v.Why = fmt.Sprintf("headed %q; %s", title(&column{heading: heading, group: group}), v.Why)
		} else if left := strings.TrimSpace(n.r.beside(spot{n.sheet, v.Cells.First})); left != "" && v.Count == 1 {
			v.Why = fmt.Sprintf("beside %q; %s", left, v.Why)
		}
		n.r.u.Values = append(n.r.u.Values, *v)
	}
	if n.more > 0 {
		last := n.all[len(n.all)-1].Cells
		n.r.u.Values = append(n.r.u.Values, Values{Sheet: n.all[0].Sheet, Cells: last, Count: n.more, Why: "and what stands further on"})
	}
}

// cells is a set of cells of a book, 64 rows of a column together, and of areas.
type cells struct {
	single map[chunk]uint64
	areas  map[band][]lines
}

type (
	chunk struct{ sheet, column, rows int }
	band  struct{ sheet, from, to int }
	lines struct{ from, to int }
)

func (c *cells) add(s spot) {
	c.single[chunk{s.sheet, s.at.Column, s.at.Row >> 6}] |= 1 << (s.at.Row & 63)
}

// addArea adds an area. Those of the same columns that meet the last one become one with it:
// tables that are looked up again and again, and sums that go on.
func (c *cells) addArea(index int, from, to sheet.Place) {
	const few = 64
	if from.Row == to.Row && to.Column-from.Column < few {
		for column := from.Column; column <= to.Column; column++ {
			c.add(spot{index, sheet.Place{Row: from.Row, Column: column}})
		}
		return
	}
	b := band{index, from.Column, to.Column}
	all := c.areas[b]
	if n := len(all); n > 0 && from.Row <= all[n-1].to+1 && to.Row >= all[n-1].from-1 {
		all[n-1] = lines{min(from.Row, all[n-1].from), max(to.Row, all[n-1].to)}
		return
	}
	c.areas[b] = append(all, lines{from.Row, to.Row})
}

// spread puts the areas into the set of single cells, so far as their sheets reach.
func (c *cells) spread(r *reader) {
	for b, all := range c.areas {
		last, right := r.book.Extent(b.sheet)
		for _, l := range all {
			for column := b.from; column <= min(b.to, right); column++ {
				for row := l.from; row <= min(l.to, last); {
					end := min(row|63, l.to, last)
					c.single[chunk{b.sheet, column, row >> 6}] |= ^uint64(0) >> (63 - (end - row)) << (row & 63)
					row = end + 1
				}
			}
		}
	}
}

func (c *cells) holds(s spot) bool {
	return c.single[chunk{s.sheet, s.at.Column, s.at.Row >> 6}]>>(s.at.Row&63)&1 == 1
}

// readCells returns the cells that formulas read, or that claims without formulas stand on.
func (r *reader) readCells() *cells {
	c := &cells{single: map[chunk]uint64{}, areas: map[band][]lines{}}
	for f := range r.formulas.every() {
		f.each(func(a calc.Area) bool {
			index, ok := f.sheet, a.File == ""
			if a.Sheet != "" && ok {
				index, ok = r.book.Index(a.Sheet)
			}
			if !ok {
				return true
			}
			c.addArea(index, a.From.Place, a.To.Place)
			if last, ok := r.book.Index(a.Last); ok && a.Last != "" {
				for i := index + 1; i <= last; i++ {
					c.addArea(i, a.From.Place, a.To.Place)
				}
			}
			return true
		})
	}
	for _, t := range r.tables {
		for _, k := range t.columns {
			if k.intent == nil {
				continue
			}
			for _, l := range t.lines {
				if r.formulas.at(spot{t.sheet, t.place(l, k.item)}) != nil {
					continue
				}
				e := r.right(k, l)
				if e == nil {
					continue
				}
				for _, a := range pattern.Areas(e) {
					index := t.sheet
					if a.Sheet != "" {
						index, _ = r.book.Index(a.Sheet)
					}
					c.addArea(index, a.From.Place, a.To.Place)
				}
			}
		}
	}
	for _, one := range r.statistics { // typed, and held against others
		index, ok := r.book.Index(one.Sheet)
		e, err := calc.Parse(one.Formula)
		if !ok || err != nil {
			continue
		}
		for _, a := range pattern.Areas(e) {
			c.addArea(index, a.From.Place, a.To.Place)
		}
	}
	c.spread(r)
	return c
}
