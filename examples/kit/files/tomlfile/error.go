package tomlfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// An Error says what is wrong in a file, where, and what to write instead.
type Error struct {
	File string
	Line int    // from 1; 0 if the whole file is meant
	Path string // the value, as in "bearings[1].clearance"; may be empty
	What string // what was found, and what to write instead
	Err  error  // the cause, for errors.Is and errors.As; may be nil
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.Path != "" {
		b.WriteString(e.Path + ": ")
	}
	b.WriteString(e.What)
	return b.String()
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Errors are all that is wrong in a file, by line.
type Errors []*Error

// Error returns the errors, one a line.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the errors for errors.Is and errors.As.
func (es Errors) Unwrap() []error {
	errs := make([]error, len(es))
	for i, e := range es {
		errs[i] = e
	}
	return errs
}

// Sorted returns the errors in the order of their lines, each once, or nil if there
// are none. A value that serves several others may be found wrong for each of them.
func (es Errors) Sorted() error {
	if len(es) == 0 {
		return nil
	}
	said := map[string]bool{}
	var sorted Errors
	for _, e := range es {
		if text := e.Error(); !said[text] {
			said[text] = true
			sorted = append(sorted, e)
		}
	}
	slices.SortStableFunc(sorted, func(a, b *Error) int { return cmp.Compare(a.Line, b.Line) })
	return sorted
}
