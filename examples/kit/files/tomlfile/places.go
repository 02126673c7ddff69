package tomlfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Places says where in a file its values stand.
type Places struct {
	file   string
	lines  map[string]int
	unread map[string]bool // the values that could not be read
}

// File returns the file's name.
func (p *Places) File() string { return p.file }

// Line returns the line of the value at the path, such as
// "bearings[1].readings[0].bore". For a value that the file does not have, it is
// the line of the table that it would belong to; 0 if there is none either.
func (p *Places) Line(path string) int {
	for path != "" {
		if line, ok := p.lines[path]; ok {
			return line
		}
		path = up(path)
	}
	return 0
}

// Errorf makes an error at the path. A %w in the format is its cause.
func (p *Places) Errorf(path, format string, args ...any) *Error {
	return p.Wrap(path, fmt.Errorf(format, args...))
}

// Wrap makes an error at the path with err for its cause and words.
func (p *Places) Wrap(path string, err error) *Error {
	return &Error{File: p.file, Line: p.Line(path), Path: path, What: err.Error(), Err: err}
}

// Unread reports whether there is a value at the path that Decode could not read.
func (p *Places) Unread(path string) bool { return p.unread[path] }

// follows reports whether an error at the path may only follow from one that Decode
// returned: the value there could not be read, or there is none, and something else in its
// table could not.
func (p *Places) follows(path string) bool {
	for at := path; at != ""; at = up(at) {
		if p.unread[at] {
			return true
		}
	}
	if _, there := p.lines[path]; there || path == "" {
		return false
	}
	for at := range p.unread {
		if up(at) == up(path) {
			return true
		}
	}
	return false
}

// All returns the error of Decode and what was found wrong since, but for what only follows
// from it, by line; nil if there is neither.
func (p *Places) All(decoded error, since Errors) error {
	var all Errors
	errors.As(decoded, &all)
	all = slices.Clone(all)
	for _, e := range since {
		if !p.follows(e.Path) {
			all = append(all, e)
		}
	}
	return all.Sorted()
}

// up is the path of what a value stands in.
func up(path string) string { return path[:max(strings.LastIndexAny(path, ".["), 0)] }

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
