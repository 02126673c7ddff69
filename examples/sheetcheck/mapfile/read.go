package mapfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// Read reads the map in src; file is its name for errors, which are
// tomlfile.Errors. What a check needs is looked at by package check.
func Read(file string, src []byte) (*Map, *tomlfile.Places, error) {
	m := &Map{}
	places, err := tomlfile.Decode(file, src, m)
	if err != nil {
		return nil, nil, err
	}
	r := reader{places: places}
	r.csv(m.CSV)
	if len(m.Tables) == 0 {
		r.errorf("", "no table; write [[table]] and its columns")
	}
	for i := range m.Tables {
		r.table(fmt.Sprintf("table[%d]", i), &m.Tables[i])
		if m.Tables[i].Name == "" {
			m.Tables[i].Name = fmt.Sprintf("table %d", i+1)
		}
	}
	if err := r.errs.Sorted(); err != nil {
		return nil, nil, err
	}
	return m, places, nil
}

// Dialect returns how the file is written, as far as the map says so.
func (c CSV) Dialect() (d sheet.Dialect) {
	if c.Separator != "" {
		d.Separator = c.Separator[0]
	}
	if c.Decimal != "" {
		d.Decimal = c.Decimal[0]
	}
	return d
}

type reader struct {
	places *tomlfile.Places
	errs   tomlfile.Errors
}

func (r *reader) errorf(path, format string, args ...any) {
	r.errs = append(r.errs, r.places.Errorf(path, format, args...))
}

func (r *reader) csv(c CSV) {
	if c.Decimal != "" && c.Decimal != "." && c.Decimal != "," {
		r.errorf("csv.decimal", "%q is no decimal mark; write \".\" or \",\"", c.Decimal)
	}
	switch c.Separator {
	case "", ",", ";", "\t", "|", ":", " ":
	default:
		r.errorf("csv.separator", "%q does not separate cells; write \",\", \";\", \"|\" or \"\\t\"", c.Separator)
	}
}

func (r *reader) table(path string, t *Table) {
	switch {
	case t.Rows == "" && t.Across == "":
		r.errorf(path+".rows", "no rows; write rows = \"5..11\", or columns = \"C..N\" if locations stand side by side")
	case t.Rows != "" && t.Across != "":
		r.errorf(path+".columns", "rows and columns; write rows if locations stand one below the other, columns if side by side")
	default:
		r.span(path, t)
	}
	if t.Location != "" {
		r.line(path+".location", t, t.Location)
	}
	if len(t.Columns) == 0 {
		r.errorf(path, "no columns; write [table.column.NAME] for each kind of cell")
	}
	for name, c := range t.Columns {
		at := path + ".column." + name
		if c.At == "" {
			r.errorf(at, "no place; write at = \"B\"")
		} else if _, err := sheet.ParsePlace(c.At); err != nil {
			r.line(at+".at", t, c.At)
		}
		if c.Places != nil && (*c.Places < 0 || *c.Places > 9) {
			r.errorf(at+".places", "%d places; write 0 to 9", *c.Places)
		}
	}
	if len(t.Checks) == 0 {
		r.errorf(path, "nothing to check; write [[table.check]] with claim and by")
	}
	for i, c := range t.Checks {
		at := fmt.Sprintf("%s.check[%d]", path, i)
		if c.Claim == "" {
			r.errorf(at, "no claim; write claim = the name of the column to check")
		} else {
			r.known(at+".claim", t, c.Claim)
		}
		for role, name := range c.With {
			r.known(at+".with."+role, t, name)
		}
		for _, list := range []struct {
			key   string
			names []string
		}{{"of", c.Of}, {"plus", c.Plus}, {"minus", c.Minus}} {
			for j, name := range list.names {
				r.known(fmt.Sprintf("%s.%s[%d]", at, list.key, j), t, name)
			}
		}
	}
}

func (r *reader) known(path string, t *Table, name string) {
	if _, ok := t.Columns[name]; !ok {
		r.errorf(path, "no column is called %q; there are %s", name, strings.Join(t.Names(), ", "))
	}
}

// Names returns the names of the table's columns in order.
func (t *Table) Names() []string {
	var names []string
	for name := range t.Columns {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// span reads rows or columns into Span.
func (r *reader) span(path string, t *Table) {
	text, key := t.Rows, ".rows"
	if !t.Down() {
		text, key = t.Across, ".columns"
	}
	from, to, isRange := strings.Cut(text, "..")
	first, err := lineNumber(from, t.Down())
	last := first
	if isRange {
		last = 0
		if strings.TrimSpace(to) != "" && err == nil {
			last, err = lineNumber(to, t.Down())
		}
	}
	switch {
	case err != nil:
		r.errorf(path+key, "%w", err)
	case last != 0 && last < first:
		r.errorf(path+key, "%q runs backwards; write the first before the last", text)
	}
	t.Span.First, t.Span.Last = first, last
}

// line checks a place that every location has: a column's letters where
// locations are rows, a row's number where they are columns.
func (r *reader) line(path string, t *Table, text string) {
	if _, err := lineNumber(text, !t.Down()); err != nil {
		r.errorf(path, "%w", err)
	}
}

func lineNumber(text string, row bool) (int, error) {
	text = strings.TrimSpace(text)
	if !row {
		return sheet.ParseColumn(text)
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, fmt.Errorf("%q is not a row; write its number, as in \"5\"", text)
	}
	return n, nil
}

// Line returns the number of the column (or of the row, in a table across) that
// a location's cells of the kind stand in; cell is that one cell if there is but
// one for all. The text is known to be right.
func (t *Table) Line(at string) (line int, cell sheet.Place) {
	if p, err := sheet.ParsePlace(at); err == nil {
		return 0, p
	}
	line, _ = lineNumber(at, !t.Down())
	return line, sheet.Place{}
}
