package mapfile

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// draftRows is how far down a sheet its headings are looked for.
const draftRows = 60

// Draft proposes a map of a file from its headings, as TOML. What it is not sure
// of has a comment that begins "unsure"; what cannot be known from the sheet
// (limits, uncertainties) is left as a comment to fill in.
func Draft(ctx context.Context, name string, f sheet.File) (text string, err error) {
	var b strings.Builder
	found := false
	fmt.Fprintf(&b, "# A proposal for %s. Look at every line, above all at those marked unsure.\ntitle = %s\n", oneLine(name), quote(name))
	if t, ok := f.(*sheet.Text); ok {
		d := t.Dialect()
		fmt.Fprintf(&b, "\n[csv] # as the file itself shows it\nseparator = %q\ndecimal = %q\n", string(d.Separator), string(d.Decimal))
	}
	for _, s := range f.Sheets() {
		var rows []sheet.Row
		for row, err := range sheet.Rows(ctx, f, s) {
			if err != nil {
				return "", err
			}
			if row.Number > draftRows {
				break
			}
			rows = append(rows, sheet.Row{Number: row.Number, Cells: slices.Clone(row.Cells)})
		}
		for _, d := range drafts(s, rows) {
			var table strings.Builder
			d.write(&table)
			found = true
			if strings.Contains(table.String(), "\n[[table.check]]") {
				b.WriteString(table.String())
				continue
			}
			b.WriteString("\n# In this table nothing to check was recognised. Add a [[table.check]], and take\n# the # away.")
			b.WriteString(strings.ReplaceAll(strings.TrimRight(table.String(), "\n"), "\n", "\n# ") + "\n")
		}
	}
	if !found {
		b.WriteString("\n# No heading was recognised. Write [[table]] and its columns by hand; the\n# package documentation of mapfile shows how.\n")
	}
	return b.String(), nil
}

// A draft is a table as it is proposed.
type draft struct {
	sheet    string
	number   int       // of those side by side; 0 if there is one
	across   bool      // locations stand side by side: what is called a row here is a column of the sheet
	heads    sheet.Row // the headings
	below    []sheet.Row
	location int
	columns  []draftColumn
	others   []draftColumn // headings that mean nothing known
}

type draftColumn struct {
	heading
	text   string // the heading itself
	column int
	sample sample
}

// drafts returns the tables of a sheet: one under a row of headings, or, where a
// column of headings has more of them, one for each time that they begin anew.
func drafts(name string, rows []sheet.Row) []*draft {
	down, across := headed(name, rows), headed(name, turned(rows))
	switch {
	case down == nil && across == nil:
		return nil
	case across == nil || down != nil && len(down.columns) >= len(across.columns):
		down.look()
		return []*draft{down}
	}
	var all []*draft
	for _, c := range across.columns {
		if last := len(all) - 1; last < 0 || slices.ContainsFunc(all[last].columns, func(o draftColumn) bool { return o.name == c.name }) {
			all = append(all, &draft{sheet: name, across: true, heads: across.heads, below: across.below})
		}
		d := all[len(all)-1]
		d.columns = append(d.columns, c)
	}
	for i, d := range all {
		d.look()
		d.number = i + 1
		d.nameAcross(all[0].columns[0].column)
	}
	return all
}

// nameAcross finds the row of names: the last above the headings with a text over
// the first location.
func (d *draft) nameAcross(before int) {
	first, _ := d.span()
	for _, location := range d.below {
		for row := before - 1; row > 0 && location.Number == first && d.location == 0; row-- {
			if c := location.Cell(row); !c.Blank() && !isNumber(c) {
				d.location = row
			}
		}
	}
}

// turned returns the columns of a sheet's rows as rows.
func turned(rows []sheet.Row) []sheet.Row {
	columns := make([]sheet.Row, draftRows)
	for i := range columns {
		columns[i] = sheet.Row{Number: i + 1, Cells: make([]sheet.Cell, draftRows)}
		for _, row := range rows {
			columns[i].Cells[row.Number-1] = *row.Cell(i + 1)
		}
	}
	return columns
}

// headed finds the row of headings: the one with the most of them that are known.
func headed(name string, rows []sheet.Row) *draft {
	var best *draft
	for i, row := range rows {
		d := &draft{sheet: name, heads: row, below: rows[i+1:]}
		for column := range row.Cells {
			text := row.Cells[column].Text
			if isNumber(&row.Cells[column]) {
				continue
			}
			if isLocation(text) && d.location == 0 {
				d.location = column + 1
			} else if h, ok := readHeading(text); ok {
				d.columns = append(d.columns, draftColumn{heading: h, text: text, column: column + 1})
			} else if strings.TrimSpace(text) != "" {
				d.others = append(d.others, draftColumn{text: text, column: column + 1})
			}
		}
		if len(d.columns) >= 2 && (best == nil || len(d.columns) > len(best.columns)) {
			best = d
		}
	}
	return best
}

// look samples what stands under the headings, and gives each column a name of its
// own.
func (d *draft) look() {
	names := map[string]int{}
	for i := range d.columns {
		c := &d.columns[i]
		if names[c.name]++; names[c.name] > 1 {
			c.name = fmt.Sprintf("%s %d", c.name, names[c.name])
		}
		for _, row := range d.below {
			c.sample.add(row.Cell(c.column))
		}
	}
}

func (d *draft) write(b *strings.Builder) {
	name := cmp.Or(d.sheet, "the sheet")
	if d.number > 0 {
		name += fmt.Sprintf(" %d", d.number)
	}
	fmt.Fprintf(b, "\n[[table]]\nname = %s\n", quote(name))
	if d.sheet != "" {
		fmt.Fprintf(b, "sheet = %s\n", quote(d.sheet))
	}
	first, last := d.span()
	if d.across {
		to := ""
		if last.number > 0 {
			to = sheet.ColumnName(last.number)
		}
		fmt.Fprintf(b, "columns = \"%s..%s\" # unsure: the headings stand in column %s; %s\n", sheet.ColumnName(first), to, sheet.ColumnName(d.heads.Number), last.why)
	} else {
		to := ""
		if last.number > 0 {
			to = strconv.Itoa(last.number)
		}
		fmt.Fprintf(b, "rows = \"%d..%s\" # unsure: the headings stand in row %d; %s\n", first, to, d.heads.Number, last.why)
	}
	if d.location > 0 {
		fmt.Fprintf(b, "location = %q\n", d.line(d.location))
	} else {
		b.WriteString("# unsure: no column of names was recognised\n# location = \"A\"\n")
	}
	for i := range d.columns {
		d.columns[i].write(b, d.line(d.columns[i].column), d.length())
	}
	for _, c := range d.others {
		fmt.Fprintf(b, "\n# unsure: %s stands over %s and was not recognised; limits belong in a check\n", quote(oneLine(c.text)), d.line(c.column))
	}
	d.checks(b)
}

// line writes where a kind of cell stands: a column's letters, or a row's number
// where locations stand side by side.
func (d *draft) line(n int) string {
	if d.across {
		return strconv.Itoa(n)
	}
	return sheet.ColumnName(n)
}

// place writes where a location stands: a row's number, or a column's letters where
// locations stand side by side.
func (d *draft) place(n int) string {
	if d.across {
		return "column " + sheet.ColumnName(n)
	}
	return fmt.Sprintf("row %d", n)
}

func isNumber(c *sheet.Cell) bool {
	_, ok := c.Numeral()
	return ok
}

// numbers counts the numbers of a row under the headings.
func (d *draft) numbers(row sheet.Row) int {
	n := 0
	for _, c := range d.columns {
		if isNumber(row.Cell(c.column)) {
			n++
		}
	}
	return n
}

// end is where a table seems to end; number is 0 if it goes on to the last.
type end struct {
	number int
	why    string
}

// span is the rows that have a number in them, from the first under the headings
// to the gap after them.
func (d *draft) span() (first int, last end) {
	first, before := d.heads.Number+1, 0
	for i, row := range d.below {
		numbers := d.numbers(row)
		switch {
		case numbers > 0 && before == 0:
			first = row.Number
		case before > 0 && (numbers == 0 || row.Number > before+1):
			why := "it goes on to the first without numbers"
			if again := slices.IndexFunc(d.below[i:], func(r sheet.Row) bool { return d.numbers(r) > 0 }); again >= 0 {
				why += fmt.Sprintf("; NUMBERS STAND AGAIN from %s on, and are left out", d.place(d.below[i+again].Number))
			}
			return first, end{before, why}
		case numbers == 0:
			continue
		}
		before = row.Number
	}
	if before > 0 && before < draftRows {
		return first, end{before, "it goes on to the last with numbers"}
	}
	return first, end{0, "it goes on to the last"}
}

// length is the unit of length that the headings name, or that the sizes look like.
func (d *draft) length() string {
	named := "mm"
	for _, c := range d.columns {
		size := c.heading.words[0] == "bore" || c.heading.words[0] == "journal"
		switch {
		case size && c.unit != "":
			return c.unit
		case size && c.sample.first >= 7: // no engine's journal is so many inches
			return "mm"
		case size && c.sample.first > 0:
			return "in"
		case c.unit == "in":
			named = "in"
		}
	}
	return named
}

func (c *draftColumn) write(b *strings.Builder, at, length string) {
	fmt.Fprintf(b, "\n# %q\n[table.column.%s]\nat = %q\n", oneLine(c.text), quote(c.name), at)
	if c.sample.numbers == 0 {
		return
	}
	unit := c.unit
	if unit != "" {
		fmt.Fprintf(b, "unit = %q\n", unit)
	} else {
		switch c.heading.words[0] {
		case "torque":
			unit = "N·m"
		case "stress":
			unit = "mm²"
		default:
			unit = length
		}
		fmt.Fprintf(b, "unit = %q # unsure: the heading has no unit; guessed from the others and the sizes\n", unit)
	}
	if !c.claim {
		fmt.Fprintf(b, "# uncertainty = \"0.002 %s\" # of one reading, k = 2, if it is known\n", unit)
		return
	}
	usual := 4
	if unit == "in" {
		usual = 5
	}
	fmt.Fprintf(b, "places = %d # unsure: how the sheet rounds it; up to %d places are stored\n", min(c.sample.places, usual), c.sample.places)
}

// checks proposes the checks for which the columns are there.
func (d *draft) checks(b *strings.Builder) {
	has := func(names ...string) bool {
		for _, n := range names {
			if !slices.ContainsFunc(d.columns, func(c draftColumn) bool { return c.name == n }) {
				return false
			}
		}
		return true
	}
	propose := func(claim, by, more string) {
		fmt.Fprintf(b, "\n[[table.check]]\nclaim = %q\nby = %q\n%s", claim, by, more)
	}
	if has("clearance", "bore", "journal") && (has("upper", "lower") || has("wall")) {
		propose("clearance", "bearing clearance", "")
	}
	if has("clearance", "verdict") {
		b.WriteString("\n# The limits are not known from the headings: write them and take the # away.\n# [[table.check]]\n# claim = \"verdict\"\n# by = \"verdict\"\n# of = [\"clearance\"]\n# limits = \"0.024..0.048 mm\"\n")
	}
	if has("taper", "front", "rear") {
		propose("taper", "taper", "of = [\"front\", \"rear\"] # unsure: the readings along the journal\n")
	}
	if has("stretch", "now", "new") {
		propose("stretch", "stretch", "")
	}
	if has("stress area", "thread") {
		propose("stress area", "stress area", "")
	}
	for _, of := range []string{"torque", "clearance"} {
		for n := 2; has(of, fmt.Sprintf("%s %d", of, n)); n++ {
			by := "conversion"
			if of == "torque" {
				by = "torque pair"
			}
			propose(fmt.Sprintf("%s %d", of, n), by, fmt.Sprintf("of = [%q] # unsure: taken for the same in another unit\n", of))
		}
	}
}

// oneLine keeps a heading from ending the comment that it stands in.
func oneLine(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if len(text) > 80 {
		text = text[:80]
	}
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
}

// quote writes a text as a TOML string, with escapes for what cannot be read.
func quote(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
