package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// A Dialect says how a text file is written. What it leaves out is found from the text
// itself, where that is plain.
type Dialect struct {
	Separator byte // between cells, one of ASCII; 0 if it is not said
	Decimal   byte // '.' or ','; 0 if it is not said
}

// ErrUnclear is the kind of error for a text file that can be read in more than one way.
var ErrUnclear = errors.New("it can be read in more than one way")

// How much of a text is looked at to find how it is written.
const (
	sampleBytes = 64 << 10
	sampleRows  = 2000
)

// separators are the characters that are tried between cells, by what they are called.
var separators = []struct {
	mark byte
	name string
}{{'\t', "tabs"}, {';', "semicolons"}, {',', "commas"}, {'|', "bars"}}

func separatorName(mark byte) string {
	for _, s := range separators {
		if s.mark == mark {
			return s.name
		}
	}
	return fmt.Sprintf("%q", mark)
}

// find completes a dialect from the beginning of a text. taken says what was found, and
// from what; the error is of the kind ErrUnclear if the text does not show it.
func (d Dialect) find(sample []byte) (found Dialect, taken []string, err error) {
	found = d
	if mark, ok := titled(sample); ok {
		if found.Separator == 0 {
			found.Separator = mark
			taken = append(taken, "cells are separated by "+separatorName(mark)+", as the first line says")
		}
		_, sample, _ = bytes.Cut(sample, []byte("\n"))
	}
	if found.Separator == 0 {
		var why string
		if found.Separator, why, err = findSeparator(sample); err != nil {
			return d, nil, err
		}
		taken = append(taken, "cells are taken to be separated by "+separatorName(found.Separator)+why)
	}
	if found.Decimal == 0 {
		var why string
		if found.Decimal, why, err = findDecimal(records(sample, found.Separator), found.Separator); err != nil {
			return d, nil, err
		}
		if why != "" {
			taken = append(taken, why)
		}
	}
	return found, taken, nil
}

// titled returns the separator that the first line names, as office programs write it
// there: "sep=;". The line is no row of the sheet.
func titled(sample []byte) (mark byte, ok bool) {
	line, _, _ := bytes.Cut(sample, []byte("\n"))
	text, ok := bytes.CutPrefix(bytes.TrimRight(line, "\r"), []byte("sep="))
	if !ok || len(text) != 1 {
		return 0, false
	}
	return text[0], true
}

// records splits a sample into its records, as far as it can be split. The last may be cut
// off in the middle and is left out where there are others.
func records(sample []byte, separator byte) [][]string {
	r := csv.NewReader(bytes.NewReader(sample))
	r.Comma, r.FieldsPerRecord = rune(separator), -1
	var all [][]string
	for len(all) < sampleRows {
		record, err := r.Read()
		if err != nil {
			break
		}
		all = append(all, record)
	}
	if len(sample) >= sampleBytes/2 && len(all) > 1 {
		all = all[:len(all)-1]
	}
	return all
}

// findSeparator finds the separator with which most cells are numbers: a wrong one cuts
// numbers apart or leaves several in a cell, which count against it.
func findSeparator(sample []byte) (mark byte, why string, err error) {
	type candidate struct {
		mark    byte
		numbers int // cells that read as numbers less those that hold several, in rows of more than one cell
		rows    int // of more than one cell
	}
	var all []candidate
	for _, s := range separators {
		c := candidate{mark: s.mark}
		for _, record := range records(sample, s.mark) {
			if len(record) < 2 {
				continue
			}
			c.rows++
			for _, cell := range record {
				switch {
				case looksNumeric(cell):
					c.numbers++
				case glued.MatchString(cell):
					c.numbers--
				}
			}
		}
		if c.rows > 0 {
			all = append(all, c)
		}
	}
	// A mark that stands in a few texts only separates nothing.
	most := 0
	for _, c := range all {
		most = max(most, c.rows)
	}
	all = slices.DeleteFunc(all, func(c candidate) bool { return 2*c.rows < most })
	slices.SortStableFunc(all, func(a, b candidate) int { return b.numbers - a.numbers })
	switch {
	case len(all) == 0:
		return ',', ": none stands there, so there is one column", nil
	case len(all) == 1:
		return all[0].mark, "", nil
	case all[0].numbers > all[1].numbers:
		return all[0].mark, ", with which more cells are numbers than with " + separatorName(all[1].mark), nil
	}
	return 0, "", fmt.Errorf("%w: cells may be separated by %s or by %s; say which", ErrUnclear, separatorName(all[0].mark), separatorName(all[1].mark))
}

// glued are numbers with a separator between them.
var glued = regexp.MustCompile(`[0-9][;\t|,][-+]?[0-9]`)

// looksNumeric reports whether a cell reads as a number with one of the decimal marks, be its unit behind it.
func looksNumeric(text string) bool {
	text = withoutUnit(text)
	point, comma := Cell{Text: text}, Cell{Text: text, comma: true}
	_, ok := point.Numeral()
	if !ok {
		_, ok = comma.Numeral()
	}
	return ok
}

// findDecimal finds the decimal mark of a text's numbers. A mark with other than three
// digits behind it, or behind a zero, is no mark between thousands.
func findDecimal(rows [][]string, separator byte) (mark byte, why string, err error) {
	type use struct {
		sure, unsure int    // cells
		example      string // a sure one, or else any
		at           Place
	}
	var points, commas use
	count := func(i, j int, cell string) {
		cell = strings.Trim(cell, " '\u00a0\u202f")
		for _, m := range []struct {
			mark byte
			use  *use
		}{{'.', &points}, {',', &commas}} {
			decimal, sure := fraction(cell, m.mark)
			switch {
			case !decimal:
			case sure:
				if m.use.sure == 0 {
					m.use.example, m.use.at = cell, Place{i + 1, j + 1}
				}
				m.use.sure++
			default:
				if m.use.sure+m.use.unsure == 0 {
					m.use.example, m.use.at = cell, Place{i + 1, j + 1}
				}
				m.use.unsure++
			}
		}
	}
	for _, mark := range []func(string) string{func(cell string) string { return cell }, withoutUnit} {
		if points.sure+points.unsure+commas.sure+commas.unsure > 0 {
			break // no number has its unit behind it where others stand alone
		}
		for i, row := range rows {
			for j, cell := range row {
				count(i, j, mark(cell))
			}
		}
	}
	taken := func(mark byte, u use, more string) (byte, string, error) {
		return mark, fmt.Sprintf("numbers are taken to have a decimal %s, as %q in %s%s", map[byte]string{'.': "point", ',': "comma"}[mark], u.example, u.at, more), nil
	}
	few := func(some, many use) bool { return some.sure*10 <= many.sure }
	switch {
	case points.sure > 0 && commas.sure > 0 && few(commas, points):
		return taken('.', points, fmt.Sprintf("; %q in %s has a comma", commas.example, commas.at))
	case points.sure > 0 && commas.sure > 0 && few(points, commas):
		return taken(',', commas, fmt.Sprintf("; %q in %s has a point", points.example, points.at))
	case points.sure > 0 && commas.sure > 0:
		return 0, "", fmt.Errorf("%w: %s is %q and %s is %q; say whether the decimal mark is a point or a comma", ErrUnclear, points.at, points.example, commas.at, commas.example)
	case points.sure > 0:
		return taken('.', points, "")
	case commas.sure > 0:
		return taken(',', commas, "")
	case points.unsure == 0 && commas.unsure == 0:
		return '.', "", nil // no number has a mark
	case separator == ',' && commas.unsure == 0:
		return taken('.', points, ", since commas separate the cells")
	case separator == ';' && points.unsure == 0:
		return taken(',', commas, ", since semicolons separate the cells")
	}
	u := points
	if points.unsure == 0 {
		u = commas
	}
	return 0, "", fmt.Errorf("%w: %q in %s may have a decimal mark or thousands apart; say whether the decimal mark is a point or a comma", ErrUnclear, u.example, u.at)
}

// withoutUnit takes a short word off behind a number, "60,012 mm".
func withoutUnit(cell string) string {
	end := strings.LastIndexAny(cell, "0123456789") + 1
	if rest := strings.TrimSpace(cell[end:]); end == 0 || len(rest) > longestUnit || strings.ContainsAny(rest, ".,;:") {
		return cell
	}
	return cell[:end]
}

// longestUnit is how many bytes a unit behind a number has at most.
const longestUnit = 8

// fraction reports whether a text is digits with one mark among them, and no other; sure is
// true if the mark cannot be one between thousands.
func fraction(text string, mark byte) (ok, sure bool) {
	text = strings.TrimLeft(text, "+-")
	whole, rest, found := strings.Cut(text, string(mark))
	if !found || rest == "" || strings.Trim(whole, "0123456789") != "" || strings.Trim(rest, "0123456789") != "" {
		return false, false
	}
	return true, len(rest) != 3 || whole == "" || whole[0] == '0' || len(whole) > 3
}
