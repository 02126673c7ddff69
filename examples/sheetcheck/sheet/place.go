package sheet

import (
	"fmt"
	"strconv"
	"strings"
)

// A Place is where a cell stands. Row and Column count from 1; column 1 is A.
type Place struct {
	Row, Column int
}

// ParsePlace reads a place such as "C7".
func ParsePlace(s string) (Place, error) {
	letters := strings.TrimRight(s, "0123456789")
	column, err := ParseColumn(letters)
	row, numberErr := strconv.Atoi(s[len(letters):])
	if err != nil || numberErr != nil || row < 1 {
		return Place{}, fmt.Errorf("%q is not a cell; write a column and a row, as in \"C7\"", s)
	}
	return Place{Row: row, Column: column}, nil
}

// ParseColumn reads a column's letters: "A" is 1, "AA" is 27.
func ParseColumn(s string) (int, error) {
	column := 0
	for _, r := range s {
		if 'a' <= r && r <= 'z' { // and not what strings.ToUpper takes for a letter of these
			r += 'A' - 'a'
		}
		if r < 'A' || r > 'Z' || len(s) > 3 {
			return 0, fmt.Errorf("%q is not a column; write its letters, as in \"C\"", s)
		}
		column = column*26 + int(r-'A'+1)
	}
	if column == 0 {
		return 0, fmt.Errorf("no column is named; write its letters, as in \"C\"")
	}
	return column, nil
}

// ColumnName returns the letters of a column.
func ColumnName(column int) string {
	name := ""
	for column > 0 {
		column--
		name = string(rune('A'+column%26)) + name
		column /= 26
	}
	return name
}

// String returns the place as spreadsheets write it: "C7".
func (p Place) String() string { return ColumnName(p.Column) + strconv.Itoa(p.Row) }

// MarshalText returns String.
func (p Place) MarshalText() ([]byte, error) { return []byte(p.String()), nil }
