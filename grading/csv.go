package grading

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// textFault reports a place in a scheme's text that cannot be read. cause is what a
// value's own parser says; it may be nil.
func textFault(line int, field, fix string, cause error, found string, args ...any) error {
	where := fmt.Sprintf("line %d", line)
	if field != "" {
		where += ", " + field
	}
	kind := ErrScheme
	if cause != nil {
		kind = fmt.Errorf("%w: %w", ErrScheme, cause)
	}
	return fault(kind, where, fix, found, args...)
}

// The kinds of line of a scheme's CSV text, with their columns. A column in
// brackets may be empty, and empty columns at the end may be left out.
func csvColumns() map[string][]string {
	return map[string][]string{
		"scheme":          {"name"},
		"source":          {"source"},
		"interchangeable": {},
		"mix":             {"mix"},
		"limits":          {"limits"},
		"wanted":          {"wanted"},
		"housing":         {"code", "[shell]", "[number]", "[size]"},
		"journal":         {"code", "[shell]", "[number]", "[size]"},
		"shell":           {"grade", "[half]", "wall", "[family]"},
		"sum":             {"from", "to", "shells"},
		"family":          {"name", "undersize"},
		"ground":          {"family"},
		"matrix":          nil, // as wide as it needs
	}
}

// Bounds on a scheme's text.
const (
	maxTextBytes = 1 << 20
	maxTextLines = 10_000
	maxNumber    = 100_000 // that a code counts for in a sum, either way
)

// ReadCSV reads a scheme from lines of comma-separated values (RFC 4180; a line
// that begins with # is a comment). The first column says what a line holds:
//
//	scheme,name
//	source,text                           the manual and its page
//	interchangeable                       the halves of a grade are one part
//	mix,1                                 grades up to so many steps apart in one location
//	limits,0.024..0.048 mm
//	wanted,0.036 mm
//	housing,code,shell,number,size        likewise journal; leave empty what the scheme does not need
//	shell,grade,half,wall,family
//	matrix,,1,2,3                         the journal codes
//	matrix,A,red/blue,red,blue            a housing code and the shells for each
//	sum,2,3,red/blue                      from, to, shells
//	family,name,undersize
//	ground,family                         the crank is ground, and this is the scheme for it
//
// Values have a decimal point: a comma ends a value. Lines may stand in any order, but a
// matrix begins with its journal codes. The error is of kind ErrScheme and names the
// line, or it is the reader's. ReadCSV does not judge the scheme: Validate does.
func ReadCSV(r io.Reader) (*Scheme, error) {
	in := csv.NewReader(io.LimitReader(r, maxTextBytes+1))
	in.Comment = '#'
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = true
	t := &csvText{Scheme: &Scheme{}, columns: csvColumns(), said: map[string]int{}}
	for {
		fields, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			if e, ok := errors.AsType[*csv.ParseError](err); ok {
				return nil, textFault(e.Line, "", "write comma-separated values", e.Err, "")
			}
			return nil, err
		}
		t.line, _ = in.FieldPos(0)
		if in.InputOffset() > maxTextBytes || t.line > maxTextLines {
			return nil, textFault(t.line, "", "write one scheme", purchase.ErrTooLarge, "a text far longer than any scheme")
		}
		if err := t.read(fields); err != nil {
			return nil, err
		}
	}
	if !t.named {
		return nil, textFault(1, "", `write "scheme,name"`, nil, "no line that begins with scheme")
	}
	return t.Scheme, nil
}

// csvText is a scheme as its lines are read.
type csvText struct {
	*Scheme
	columns map[string][]string
	line    int
	kind    string
	fields  []string
	named   bool
	begun   bool
	said    map[string]int // the line of each kind that stands once
	err     error
}

func (t *csvText) fail(field, fix string, cause error, found string, args ...any) {
	if t.err == nil {
		t.err = textFault(t.line, field, fix, cause, found, args...)
	}
}

// read reads one line.
func (t *csvText) read(fields []string) error {
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	if !t.begun {
		fields[0] = strings.TrimPrefix(fields[0], "\ufeff") // spreadsheets write it before the text
	}
	t.begun = true
	t.kind, t.fields = fields[0], fields[1:]
	columns, known := t.columns[t.kind]
	if !known {
		fix := "write one of " + strings.Join(slices.Sorted(maps.Keys(t.columns)), ", ")
		if strings.ContainsAny(t.kind, ";\t") {
			fix += "; put commas between the values, and points in numbers"
		}
		return textFault(t.line, "", fix, nil, "a line that begins with %q", shortened(t.kind))
	}
	if before, once := t.said[t.kind]; once {
		return textFault(t.line, "", "keep one", nil, "a second line of %s, after line %d", t.kind, before)
	}
	if onceOnly()[t.kind] {
		t.said[t.kind] = t.line
	}
	if t.kind == "matrix" {
		t.matrixLine()
		return t.err
	}
	if err := t.divided(columns); err != nil {
		return err
	}
	for len(t.fields) > len(columns) && t.fields[len(t.fields)-1] == "" {
		t.fields = t.fields[:len(t.fields)-1]
	}
	if len(t.fields) > len(columns) {
		return textFault(t.line, "", "leave out the surplus", nil, "%d values after %s, which has %d: %s", len(t.fields), t.kind, len(columns), orNone(columns))
	}
	for i, column := range columns {
		if i >= len(t.fields) {
			t.fields = append(t.fields, "")
		}
		if t.fields[i] == "" && !strings.HasPrefix(column, "[") {
			return textFault(t.line, t.kind+", "+column, "the columns are "+strings.Join(columns, ", "), nil, "nothing")
		}
	}
	t.values()
	return t.err
}

// onceOnly has the kinds of line that a scheme has one of.
func onceOnly() map[string]bool {
	return map[string]bool{"source": true, "interchangeable": true, "mix": true, "limits": true, "wanted": true, "ground": true}
}

// divided returns an error if a decimal comma has divided a size into values: the
// column before it ends in a digit, and put together with a point they are a size.
func (t *csvText) divided(columns []string) error {
	at := slices.IndexFunc(columns, func(c string) bool {
		return slices.Contains([]string{"limits", "wanted", "wall", "undersize", "[size]"}, c)
	})
	if at < 0 {
		return nil
	}
	for start := at; start >= 0; start-- {
		if start >= len(t.fields) || !endsInDigit(t.fields[start]) || headless(t.fields[start]) {
			continue
		}
		for end := start + 2; end <= len(t.fields); end++ {
			parts := t.fields[start:end]
			// Before its column a size has no place but by a comma too many: its rest is then
			// no number, or begins with a nought.
			if next := parts[1]; start < at && !headless(next) && (start+1 == at || isWhole(next)) {
				continue
			}
			whole := strings.Join(parts, ".")
			if _, err := units.ParseLengthInterval(whole); err == nil {
				return textFault(t.line, t.kind, fmt.Sprintf("write %q, in the column of %s: %s", whole, strings.Trim(columns[at], "[]"), strings.Join(columns, ", ")),
					nil, "a comma ends a value")
			}
		}
	}
	return nil
}

func isWhole(text string) bool {
	_, err := strconv.Atoi(text)
	return text == "" || err == nil
}

func endsInDigit(text string) bool {
	return text != "" && '0' <= text[len(text)-1] && text[len(text)-1] <= '9'
}

// headless reports whether a text begins with a nought and another digit.
func headless(text string) bool {
	return len(text) > 1 && text[0] == '0' && '0' <= text[1] && text[1] <= '9'
}

// values takes a line's values over.
func (t *csvText) values() {
	f := t.fields
	switch t.kind {
	case "scheme":
		if t.named {
			t.fail("", "write each to a text of its own", nil, "a second scheme")
		}
		t.named, t.Name = true, f[0]
	case "source":
		t.Source = f[0]
	case "interchangeable":
		t.Interchangeable = true
	case "mix":
		t.Mix = t.number(f[0], "mix")
	case "limits":
		t.Limits = t.interval(f[0], "limits")
	case "wanted":
		t.Wanted = t.length(f[0], "wanted")
	case "housing":
		t.Housing = append(t.Housing, t.code())
	case "journal":
		t.Journal = append(t.Journal, t.code())
	case "shell":
		sh := Shell{Grade: f[0], Family: f[3]}
		var err error
		if sh.Half, err = ParseHalf(f[1]); err != nil {
			t.fail("shell "+f[0]+", half", "", err, "")
		}
		sh.Wall = t.interval(f[2], "shell "+f[0]+", wall")
		t.Shells = append(t.Shells, sh)
	case "sum":
		t.Sums = append(t.Sums, SumRow{From: t.number(f[0], "sum, from"), To: t.number(f[1], "sum, to"), Shells: f[2]})
	case "ground":
		t.Ground = f[0]
	case "family":
		family := Family{Name: f[0]}
		if u := t.length(f[1], "family "+f[0]+", undersize"); u != nil {
			family.Undersize = *u
		}
		t.Families = append(t.Families, family)
	}
}

func (t *csvText) code() Code {
	f, place := t.fields, t.kind+" "+t.fields[0]
	c := Code{Code: f[0], Shell: f[1]}
	if f[2] != "" {
		c.Number = new(t.number(f[2], place+", number"))
	}
	if f[3] != "" {
		c.Size = t.interval(f[3], place+", size")
	}
	return c
}

func (t *csvText) matrixLine() {
	corner := len(t.fields) > 0 && t.fields[0] == ""
	switch {
	case t.Matrix == nil && !corner:
		t.fail("matrix", `write them first, as in "matrix,,1,2,3"`, nil, "the first line of a matrix holds the journal codes")
	case t.Matrix != nil && (corner || len(t.fields) == 0):
		t.fail("matrix", `write one, as in "matrix,A,red,blue"`, nil, "a row without a housing code")
	default:
		t.Matrix = append(t.Matrix, slices.Clone(t.fields))
	}
}

func (t *csvText) number(text, field string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n > maxNumber || n < -maxNumber {
		fix := "write one"
		if _, err := units.ParseLengthInterval(text); err == nil {
			fix = "it is a size, which belongs in the column of size, after an empty one"
		}
		t.fail(field, fix, nil, "%q is no whole number within ±%d", text, maxNumber)
	}
	return n
}

func (t *csvText) interval(text, field string) units.LengthInterval {
	i, err := units.ParseLengthInterval(text)
	if err != nil {
		t.fail(field, "", err, "")
	}
	return i
}

func (t *csvText) length(text, field string) *units.Length {
	l, err := units.ParseLength(text)
	if err != nil {
		t.fail(field, "", err, "")
		return nil
	}
	return &l
}

// WriteCSV writes the scheme as ReadCSV reads it, with every digit. The error is
// the writer's.
func (s *Scheme) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	write := func(fields ...string) {
		for fields[len(fields)-1] == "" { // the kind of the line stays
			fields = fields[:len(fields)-1]
		}
		out.Write(fields) // the error is kept until Flush
	}
	write("scheme", s.Name)
	if s.Source != "" {
		write("source", s.Source)
	}
	if s.Interchangeable {
		write("interchangeable")
	}
	if s.Mix != 0 {
		write("mix", strconv.Itoa(s.Mix))
	}
	if s.Ground != "" {
		write("ground", s.Ground)
	}
	if !s.Limits.IsEmpty() {
		write("limits", s.Limits.Exact())
	}
	if s.Wanted != nil {
		write("wanted", s.Wanted.Exact())
	}
	for _, side := range []Side{Housing, Journal} {
		for _, c := range s.codes(side) {
			number, size := "", ""
			if c.Number != nil {
				number = strconv.Itoa(*c.Number)
			}
			if !c.Size.IsEmpty() {
				size = c.Size.Exact()
			}
			write(string(side), c.Code, c.Shell, number, size)
		}
	}
	for _, row := range s.Matrix {
		// Empty cells at the end are kept: they are holes, and stay so.
		out.Write(append([]string{"matrix"}, row...))
	}
	for _, r := range s.Sums {
		write("sum", strconv.Itoa(r.From), strconv.Itoa(r.To), r.Shells)
	}
	for _, sh := range s.Shells {
		write("shell", sh.Grade, sh.Half.String(), sh.Wall.Exact(), sh.Family)
	}
	for _, f := range s.Families {
		write("family", f.Name, f.Undersize.Exact())
	}
	out.Flush()
	return out.Error()
}
