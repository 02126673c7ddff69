package understand

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/check"
)

// GoesOn says of the values that nobody looked at, where they reach to the last row that was read of a
// longer sheet, that nobody looked at those below either.
func (u *Understanding) GoesOn() {
	used, _ := u.book.Grids[0].Used()
	for i := range u.Values {
		if v := &u.Values[i]; v.Cells.Last.Row >= used.Last.Row-1 {
			v.Why += fmt.Sprintf("; nor what stands below row %d in these columns", used.Last.Row)
		}
	}
}

// Extend takes what was read in the first rows of a long sheet for all of it: a table that goes
// on to the last of these rows goes on to the end. It returns what further rows are held against;
// ok is false, and nothing is changed, if the first rows do not tell what the others are.
func (u *Understanding) Extend() (b *check.Beyond, ok bool) {
	used, _ := u.book.Grids[0].Used()
	if len(u.Map.Cells)+len(u.faults) > 0 || len(u.Map.Tables) != 1 || len(u.Tables) != 1 || !u.Map.Tables[0].Down() {
		return nil, false
	}
	m := &u.Map.Tables[0]
	last := &m.Spans[len(m.Spans)-1]
	if last.Last != used.Last.Row {
		return nil, false
	}
	last.Last = 0
	m.Rows = strings.TrimSuffix(m.Rows, fmt.Sprint(used.Last.Row))
	u.Tables[0].Lines = m.Rows
	u.GoesOn()
	return &check.Beyond{Row: used.Last.Row, Column: used.Last.Column, Summary: summary}, true
}
