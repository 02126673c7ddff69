package report

import (
	"bufio"
	"fmt"
	"strings"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

// shownUnknown is how many cells the text lists that were not understood.
const shownUnknown = 30

// writeUnderstanding shows what the sheet is taken to be, before anything is said of it.
func writeUnderstanding(w *bufio.Writer, u *understand.Understanding) {
	fmt.Fprint(w, "\nWHAT THE SHEET IS TAKEN TO BE\n")
	if len(u.Tables) == 0 && len(u.Map.Cells) == 0 {
		fmt.Fprint(w, "  no table was understood\n")
	}
	for _, t := range u.Tables {
		fmt.Fprintf(w, "  %s\n", record.Printable(tableName(t)))
		for _, c := range t.Columns {
			fmt.Fprintf(w, "    %-4s %s\n", c.At, record.Printable(columnLine(c)))
		}
		for _, line := range t.Worked {
			if line != "" {
				fmt.Fprintf(w, "    e.g. %s\n", record.Printable(line))
			}
		}
	}
	for _, c := range u.Map.Cells {
		fmt.Fprintf(w, "  %s: %s%s, =%s\n", record.Printable(at(c.Sheet, c.At)), c.Role, inUnit(c.Unit), record.Printable(c.Formula))
	}
	if len(u.Unknown) > 0 {
		fmt.Fprint(w, "\nNOT UNDERSTOOD\n")
	}
	for i, x := range u.Unknown {
		if i == shownUnknown {
			fmt.Fprintf(w, "  … %d more\n", len(u.Unknown)-i)
			break
		}
		fmt.Fprintf(w, "  %s: %s\n", record.Printable(at(x.Sheet, x.At.String())), record.Printable(x.Why))
	}
}

func tableName(t understand.Table) string {
	kind := "rows"
	switch {
	case t.Card:
		kind = "a card in"
	case !t.Down:
		kind = "columns"
	}
	name := t.Name
	if t.Sheet != "" && t.Sheet != t.Name {
		name = t.Sheet + ", " + t.Name
	}
	if name == "" {
		name = "table"
	}
	return fmt.Sprintf("%s, %s %s", name, kind, t.Lines)
}

func columnLine(c understand.Column) string {
	text := c.Role + inUnit(c.Unit)
	if c.Heading != "" {
		text += fmt.Sprintf(", headed %q", c.Heading)
	}
	switch {
	case c.Formula == "":
	case c.Own == "":
		text += ", which is " + c.Formula
	case c.Own == c.Formula:
		text += ", formula " + c.Formula
	default:
		text += fmt.Sprintf(", formula %s, should be %s", c.Own, c.Formula)
	}
	if c.Reason != "" {
		text += ": " + c.Reason
	}
	return text
}

func inUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

// at names a cell with its sheet.
func at(sheet, cell string) string {
	if sheet == "" {
		return cell
	}
	return sheet + "!" + cell
}

// coverage says how much was checked.
func coverage(r *check.Result) string {
	v := r.Coverage
	if v.Checked == 0 {
		if v.Cells == 0 {
			return "Nothing was checked: no cell with a formula or a verdict was understood."
		}
		return fmt.Sprintf("Nothing was checked: of %s with formulas or verdicts none was compared.", counted(v.Cells, "cell"))
	}
	text := fmt.Sprintf("%s with formulas or verdicts: %d checked, %d not.", counted(v.Cells, "cell"), v.Checked, v.Cells-v.Checked)
	return text
}

// shownValues is how many groups of values the text lists that nobody looked at.
const shownValues = 40

// unlooked returns the values that nobody looked at.
func unlooked(r *check.Result) (lines []string) {
	if len(r.Unlooked) == 0 {
		return nil
	}
	lines = append(lines, fmt.Sprintf("Besides, nobody looked at %s:", counted(r.Coverage.Values, "value")))
	for i, v := range r.Unlooked {
		if i == shownValues {
			lines = append(lines, fmt.Sprintf("… %d more places", len(r.Unlooked)-i))
			break
		}
		lines = append(lines, record.Printable(fmt.Sprintf("%s (%s): %s", at(v.Sheet, v.Cells.String()), counted(v.Count, "value"), v.Why)))
	}
	return lines
}

// A span is cells of one column, one below another, that were not checked for one reason.
type span struct {
	sheet       string
	first, last sheet.Place
	why         string
}

func (s *span) cells() int { return s.last.Row - s.first.Row + 1 }

func (s *span) String() string {
	text := at(s.sheet, s.first.String())
	if s.cells() > 1 {
		text += ":" + s.last.String()
	}
	return text
}

// spans puts the cells together that were not checked.
func spans(r *check.Result) (all []span) {
	type column struct {
		sheet, why string
		column     int
	}
	open := map[column]int{}
	for _, u := range r.Unchecked {
		key := column{u.Sheet, u.Why, u.At.Column}
		if i, ok := open[key]; ok && all[i].last.Row+1 == u.At.Row {
			all[i].last = u.At
			continue
		}
		open[key] = len(all)
		all = append(all, span{u.Sheet, u.At, u.At, u.Why})
	}
	return all
}

// unchecked returns the cells that were not checked with the reason, those of one reason
// together.
func unchecked(r *check.Result) []string {
	const shown = 12
	var order []string
	cells, more := map[string][]string{}, map[string]int{}
	for _, s := range spans(r) {
		some := cells[s.why]
		switch len(some) {
		case shown:
			more[s.why] += s.cells()
			continue
		case 0:
			order = append(order, s.why)
		}
		cells[s.why] = append(some, s.String())
	}
	var lines []string
	for _, why := range order {
		text := strings.Join(cells[why], ", ")
		if n := more[why]; n > 0 {
			text += fmt.Sprintf(" and %d more", n)
		}
		lines = append(lines, record.Printable(text+": "+why))
	}
	return lines
}
