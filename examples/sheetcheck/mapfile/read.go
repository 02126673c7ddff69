package mapfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/calc"
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
	if len(m.Tables) == 0 && len(m.Cells) == 0 {
		r.errorf("", "no table; write [[table]] and its columns")
	}
	for i, c := range m.Cells {
		r.cell(fmt.Sprintf("cell[%d]", i), c)
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
		r.spans(path, t)
	}
	if t.Location != "" {
		r.line(path+".location", t, t.Location)
	}
	if len(t.Columns) == 0 {
		r.errorf(path, "no columns; write [table.column.NAME] for each kind of cell")
	}
	stands := map[string]string{}
	for _, name := range t.Names() {
		c := t.Columns[name]
		at := path + ".column." + name
		if other, twice := stands[strings.ToUpper(c.At)]; twice && c.At != "" {
			r.errorf(at+".at", "%s and %s both stand in %s; write each place once", other, name, c.At)
		}
		stands[strings.ToUpper(c.At)] = name
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
		if slices.ContainsFunc(t.Checks[:i], func(other Check) bool { return other.Claim == c.Claim && c.Claim != "" }) {
			r.errorf(at+".claim", "%s is checked already; write one check for each claim", c.Claim)
		}
		if c.Claim == "" {
			r.errorf(at, "no claim; write claim = the name of the column to check")
		} else {
			r.known(at+".claim", t, c.Claim)
		}
		switch {
		case c.By == ByFormula && c.Formula == "":
			r.errorf(at, "no formula; write formula = as it should read in the first line, such as \"B8-C8-D8-E8\"")
		case c.By == ByFormula:
			r.formula(at+".formula", c.Formula)
		case c.Formula != "":
			r.errorf(at+".formula", "a formula is for by = %q", ByFormula)
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

// cell checks a claim that stands alone.
func (r *reader) cell(path string, c Cell) {
	if _, err := sheet.ParsePlace(c.At); err != nil {
		r.errorf(path+".at", "%w", err)
	}
	if c.Formula == "" {
		r.errorf(path, "no formula; write formula = \"AVERAGE(F8:F14)\"")
		return
	}
	r.formula(path+".formula", c.Formula)
}

func (r *reader) formula(path, text string) {
	if _, err := calc.Parse(text); err != nil {
		r.errorf(path, "%w", err)
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

// spans reads rows or columns into Spans: "5..11", or "5..8, 12..15".
func (r *reader) spans(path string, t *Table) {
	text, key := t.Rows, ".rows"
	if !t.Down() {
		text, key = t.Across, ".columns"
	}
	for part := range strings.SplitSeq(text, ",") {
		s, err := parseSpan(part, t.Down())
		before := 0
		if n := len(t.Spans); n > 0 {
			before = t.Spans[n-1].Last
		}
		switch {
		case err != nil:
			r.errorf(path+key, "%w", err)
			return
		case s.Last != 0 && s.Last < s.First:
			r.errorf(path+key, "%q runs backwards; write the first before the last", strings.TrimSpace(part))
			return
		case len(t.Spans) > 0 && (before == 0 || s.First <= before):
			r.errorf(path+key, "%q is not below what stands before it; write the lines in order, each once", strings.TrimSpace(part))
			return
		}
		t.Spans = append(t.Spans, s)
	}
}

func parseSpan(text string, down bool) (s Span, err error) {
	from, to, isRange := strings.Cut(text, "..")
	if s.First, err = lineNumber(from, down); err != nil {
		return s, err
	}
	s.Last = s.First
	if isRange {
		s.Last = 0
		if strings.TrimSpace(to) != "" {
			s.Last, err = lineNumber(to, down)
		}
	}
	return s, err
}

// Holds reports whether a line belongs to the table.
func (t *Table) Holds(line int) bool {
	for _, s := range t.Spans {
		if s.First <= line && (line <= s.Last || s.Last == 0) {
			return true
		}
	}
	return false
}

// First returns the first line.
func (t *Table) First() int { return t.Spans[0].First }

// Last returns the last line; 0 if the table goes to the end.
func (t *Table) Last() int { return t.Spans[len(t.Spans)-1].Last }

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
