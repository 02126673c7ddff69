package evidence

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Header is the first line of every evidence file.
const Header = "id,check,inputs,want,unit,tolerance,source,provenance,note"

var (
	idForm  = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.+_-]*$`)
	keyForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*$`)
)

// Load reads one evidence file. It returns every row or, joined, the errors of all
// bad ones; each is an [*Error] with the file and the line.
func Load(path string) ([]Row, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return load(f, path)
}

func load(from io.Reader, file string) ([]Row, error) {
	columns := strings.Split(Header, ",")
	r := csv.NewReader(from)
	r.FieldsPerRecord = -1

	header, err := r.Read()
	if err == io.EOF {
		return nil, &Error{File: file, Kind: ErrHeader, Detail: "the file is empty; the first line must be " + Header}
	}
	if err != nil {
		return nil, &Error{File: file, Line: 1, Kind: ErrHeader, Cause: err}
	}
	if !slices.Equal(header, columns) {
		return nil, &Error{File: file, Line: 1, Kind: ErrHeader,
			Detail: fmt.Sprintf("found %q; the first line must be %s", strings.Join(header, ","), Header)}
	}

	var rows []Row
	var bad []error
	lineOf := map[string]int{}
	for {
		fields, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			// What follows a broken quote cannot be trusted to start where a row does.
			e := &Error{File: file, Kind: ErrCSV, Cause: err}
			if parse, ok := errors.AsType[*csv.ParseError](err); ok {
				e.Line, e.Cause = parse.Line, parse.Err
			}
			bad = append(bad, e)
			break
		}
		line, _ := r.FieldPos(0)
		row, err := newRow(fields, file, line)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		if first, twice := lineOf[row.ID]; twice {
			bad = append(bad, row.errorf(ErrDuplicate, "first used on line %d", first))
			continue
		}
		lineOf[row.ID] = line
		rows = append(rows, row)
	}
	if len(bad) > 0 {
		return nil, errors.Join(bad...)
	}
	if len(rows) == 0 {
		return nil, &Error{File: file, Kind: ErrEmpty, Detail: "the file has a header and no row"}
	}
	return rows, nil
}

// newRow reads the nine fields of a row and returns the first thing wrong with them.
func newRow(fields []string, file string, line int) (Row, error) {
	columns := strings.Split(Header, ",")
	wrong := func(id string, kind error, format string, args ...any) (Row, error) {
		return Row{}, &Error{File: file, Line: line, ID: id, Kind: kind, Detail: fmt.Sprintf(format, args...)}
	}
	if len(fields) != len(columns) {
		return wrong("", ErrCSV, "found %d fields; a field that holds a comma needs double quotes around it", len(fields))
	}
	id := fields[0]
	if !idForm.MatchString(id) {
		return wrong("", ErrID, "%q: write letters, digits and . + _ - without spaces", id)
	}
	for i, field := range fields {
		if field != strings.TrimSpace(field) || strings.ContainsFunc(field, unicode.IsControl) {
			return wrong(id, ErrCSV, "%s %q begins or ends with a space, or holds a line break", columns[i], field)
		}
	}
	row := Row{
		ID: id, Check: fields[1], Want: fields[3], unit: fields[4], Source: fields[6],
		Provenance: Provenance(fields[7]), Note: fields[8], File: file, Line: line,
	}
	for _, i := range []int{1, 3, 5, 6, 7} {
		if fields[i] == "" {
			return wrong(id, ErrMissing, "%s", columns[i])
		}
	}
	if row.Document() == "" {
		return wrong(id, ErrMissing, "source %q names no document before its semicolon", row.Source)
	}
	if !slices.Contains(Provenances(), row.Provenance) {
		return wrong(id, ErrProvenance, "%q: write one of %q", row.Provenance, Provenances())
	}
	if fault := row.provenanceFault(); fault != "" {
		return wrong(id, ErrProvenance, "%s", fault)
	}
	var err error
	if row.inputs, err = parseInputs(fields[2]); err != nil {
		return wrong(id, ErrInputs, "%v", err)
	}
	if row.Tolerance, err = parseTolerance(fields[5]); err != nil {
		return wrong(id, ErrTolerance, "%v", err)
	}
	if row.Tolerance.Exact() {
		return row, nil // want may be a text
	}
	want, err := parseNumber(row.Want)
	if err != nil {
		return wrong(id, ErrNumber, "want %v; a text is wanted with the tolerance 0", err)
	}
	if row.Tolerance.Allowed(want).Sign() == 0 {
		return wrong(id, ErrTolerance, "%s of %s is nothing: write an absolute tolerance", row.Tolerance, row.Want)
	}
	return row, nil
}

// provenanceFault says what a row must add about how its value came to be known.
func (r *Row) provenanceFault() string {
	work := r.ReadIn()
	switch r.Provenance {
	case Reproduced:
		if work == "" {
			return "a reproduced value was read in another work: end the source with \"; read in WORK\""
		}
	case Derived:
		if r.Note == "" {
			return "a derived value follows by arithmetic: write the arithmetic into the note"
		}
	case WorkedExample: // read in the book or in another work
	default:
		if work != "" {
			return fmt.Sprintf("%s, and read in %s: write reproduced, or leave out where it was read", r.Provenance, work)
		}
	}
	return ""
}

// parseInputs reads "key=value; key=value". The empty text has no inputs.
func parseInputs(s string) ([]input, error) {
	if s == "" {
		return nil, nil
	}
	var inputs []input
	for part := range strings.SplitSeq(s, ";") {
		key, value, found := strings.Cut(part, "=")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		switch {
		case !found:
			return nil, fmt.Errorf("%q has no =; write key=value; key=value", strings.TrimSpace(part))
		case !keyForm.MatchString(key):
			return nil, fmt.Errorf("%q is not a key of letters, digits and _", key)
		case value == "":
			return nil, fmt.Errorf("%s has no value", key)
		case slices.ContainsFunc(inputs, func(in input) bool { return in.key == key }):
			return nil, fmt.Errorf("%s is given twice", key)
		}
		inputs = append(inputs, input{key: key, value: value})
	}
	return inputs, nil
}
