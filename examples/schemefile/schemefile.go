package schemefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// The kinds of error. An *Error wraps one of them.
var (
	ErrSyntax     = errors.New("not a scheme in TOML")
	ErrUnknownKey = errors.New("unknown key")
	ErrTooLong    = errors.New("a text far longer than any scheme")
)

// An Error is a place in a scheme's text that cannot be read.
type Error struct {
	Line, Column int
	Key          string // "journal.size"; may be empty
	What         string // what was found, and what to write
	Kind         error
}

func (e *Error) Error() string {
	s := fmt.Sprintf("line %d, column %d: %v", e.Line, e.Column, e.Kind)
	if e.Key != "" {
		s += " " + e.Key
	}
	return s + ": " + e.What
}

// Unwrap returns the error's kind.
func (e *Error) Unwrap() error { return e.Kind }

// maxBytes bounds a text.
const maxBytes = 1 << 20

// Read reads a scheme. The error is an *Error, or what reading r gives.
func Read(r io.Reader) (*grading.Scheme, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxBytes {
		return nil, &Error{Line: 1, Column: 1, Kind: ErrTooLong, What: fmt.Sprintf("more than %d bytes", maxBytes)}
	}
	s := &grading.Scheme{}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(s); err != nil {
		return nil, explained(err, text)
	}
	return s, nil
}

// Write writes a scheme as Read reads it. The error is the writer's.
func Write(w io.Writer, s *grading.Scheme) error {
	text, err := toml.Marshal(s)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// explained turns the TOML library's error into one that says what to write.
func explained(err error, text []byte) error {
	if strict, ok := errors.AsType[*toml.StrictMissingError](err); ok && len(strict.Errors) > 0 {
		first := &strict.Errors[0]
		line, column := first.Position()
		key := first.Key()
		return &Error{Line: line, Column: column, Key: strings.Join(key, "."), Kind: ErrUnknownKey, What: suggestion(key)}
	}
	if e, ok := errors.AsType[*toml.DecodeError](err); ok {
		line, column := e.Position()
		return &Error{Line: line, Column: column, Key: strings.Join(e.Key(), "."), Kind: ErrSyntax,
			What: strings.TrimPrefix(e.Error(), "toml: ")}
	}
	// A value that is no string reaches its parser without a place: look for it.
	line, column := 1, 1
	if e, ok := errors.AsType[*units.ParseError](err); ok && bytes.Count(text, []byte(e.Input)) == 1 {
		before := text[:bytes.Index(text, []byte(e.Input))]
		line += bytes.Count(before, []byte("\n"))
		column = len(before) - bytes.LastIndexByte(before, '\n')
	}
	return &Error{Line: line, Column: column, Kind: ErrSyntax, What: strings.TrimPrefix(err.Error(), "toml: ")}
}

// keys returns the keys of each table of a scheme.
func keys() map[string][]string {
	return map[string][]string{
		"": {"name", "source", "rule", "interchangeable", "mix", "limits", "wanted",
			"housing", "journal", "matrix", "sum", "shell", "family"},
		"housing":    {"code", "shell", "number", "size"},
		"journal":    {"code", "shell", "number", "size"},
		"matrix":     {"columns", "row"},
		"matrix.row": {"housing", "shells"},
		"sum":        {"from", "to", "shells"},
		"shell":      {"grade", "half", "family", "wall"},
		"family":     {"name", "undersize"},
	}
}

// suggestion names the key nearest to an unknown one, and all there are.
func suggestion(key []string) string {
	known := keys()[""]
	word := ""
	for i, k := range key {
		word = k
		known = keys()[strings.Join(key[:i], ".")]
		if _, table := keys()[strings.Join(key[:i+1], ".")]; !table {
			break
		}
	}
	if len(known) == 0 {
		return "no key belongs here"
	}
	nearest := known[0]
	for _, k := range known {
		if distance(word, k) < distance(word, nearest) {
			nearest = k
		}
	}
	return fmt.Sprintf("the nearest is %s; there are %s", nearest, strings.Join(known, ", "))
}

// distance is the number of characters to put in, take out or change between two
// words. (Levenshtein's distance.)
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
