package sheet

import (
	"fmt"
	"strings"
)

// An Area is a rectangle of cells, from its first at the top left to its last.
type Area struct {
	First, Last Place
}

// ParseArea reads an area such as "B7:E12", or a single cell. Dollar signs do not count, and
// corners may stand in any order.
func ParseArea(s string) (Area, error) {
	from, to, isRange := strings.Cut(strings.ReplaceAll(s, "$", ""), ":")
	first, err := ParsePlace(from)
	last := first
	if isRange && err == nil {
		last, err = ParsePlace(to)
	}
	if err != nil {
		return Area{}, fmt.Errorf("%q is not a range of cells; write two corners, as in \"B7:E12\"", s)
	}
	return Area{
		First: Place{min(first.Row, last.Row), min(first.Column, last.Column)},
		Last:  Place{max(first.Row, last.Row), max(first.Column, last.Column)},
	}, nil
}

// Holds reports whether the cell lies in the area.
func (a Area) Holds(p Place) bool {
	return a.First.Row <= p.Row && p.Row <= a.Last.Row && a.First.Column <= p.Column && p.Column <= a.Last.Column
}

// String returns the area as spreadsheets write it: "B7:E12", or "B7" for one cell.
func (a Area) String() string {
	if a.First == a.Last {
		return a.First.String()
	}
	return a.First.String() + ":" + a.Last.String()
}
