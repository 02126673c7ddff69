package mapfile

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// draftRows is how far down a sheet its headings are looked for.
const draftRows = 60

// Draft proposes a map of a file from its headings, as TOML. What it is not sure
// of has a comment that begins "unsure"; what cannot be known from the sheet
// (limits, uncertainties) is left as a comment to fill in.
func Draft(ctx context.Context, name string, f sheet.File) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "# A proposal for %s. Look at every line, above all at those marked unsure.\ntitle = %s\n", oneLine(name), strconv.Quote(name))
	if len(f.Sheets()) == 1 && f.Sheets()[0] == "" {
		b.WriteString("\n[csv]\n# unsure: nothing in a text file says how it is written\n# separator = \";\"\n# decimal = \",\"\n")
	}
	found := false
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
		if d := headed(s, rows); d != nil {
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
	heads    sheet.Row // the headings
	below    []sheet.Row
	location int
	columns  []draftColumn
}

type draftColumn struct {
	heading
	text   string // the heading itself
	column int
	sample sample
}

// headed finds the row of headings: the one with the most of them that are known.
func headed(name string, rows []sheet.Row) *draft {
	var best *draft
	for i, row := range rows {
		d := &draft{sheet: name, heads: row, below: rows[i+1:]}
		for column := range row.Cells {
			text := row.Cells[column].Text
			if row.Cells[column].IsNumber {
				continue
			}
			if isLocation(text) && d.location == 0 {
				d.location = column + 1
			} else if h, ok := readHeading(text); ok {
				d.columns = append(d.columns, draftColumn{heading: h, text: text, column: column + 1})
			}
		}
		if len(d.columns) >= 2 && (best == nil || len(d.columns) > len(best.columns)) {
			best = d
		}
	}
	if best != nil {
		best.look()
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
	fmt.Fprintf(b, "\n[[table]]\nname = %s\n", strconv.Quote(cmp.Or(d.sheet, "the sheet")))
	if d.sheet != "" {
		fmt.Fprintf(b, "sheet = %s\n", strconv.Quote(d.sheet))
	}
	first, last := d.span()
	fmt.Fprintf(b, "rows = \"%d..%s\" # unsure: the first row under the headings in row %d, %s\n", first, last.text, d.heads.Number, last.why)
	if d.location > 0 {
		fmt.Fprintf(b, "location = %q\n", sheet.ColumnName(d.location))
	} else {
		b.WriteString("# unsure: no column of names was recognised\n# location = \"A\"\n")
	}
	for i := range d.columns {
		d.columns[i].write(b, d.length())
	}
	d.checks(b)
}

// end is where a table seems to end.
type end struct{ text, why string }

// span is the rows that have a number in them, from the first under the headings
// to the gap after them.
func (d *draft) span() (first int, last end) {
	first, before := d.heads.Number+1, 0
	for _, row := range d.below {
		numbers := 0
		for _, c := range d.columns {
			if row.Cell(c.column).IsNumber {
				numbers++
			}
		}
		switch {
		case numbers > 0 && before == 0:
			first = row.Number
		case before > 0 && (numbers == 0 || row.Number > before+1):
			return first, end{strconv.Itoa(before), "down to the first row without numbers"}
		case numbers == 0:
			continue
		}
		before = row.Number
	}
	if before > 0 && before < draftRows {
		return first, end{strconv.Itoa(before), "down to the last with numbers"}
	}
	return first, end{"", "down to the last"}
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

func (c *draftColumn) write(b *strings.Builder, length string) {
	fmt.Fprintf(b, "\n# %q\n[table.column.%s]\nat = %q\n", oneLine(c.text), strconv.Quote(c.name), sheet.ColumnName(c.column))
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
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
}
