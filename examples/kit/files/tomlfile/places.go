package tomlfile

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Places says where in a file its values stand.
type Places struct {
	file  string
	lines map[string]int
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
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
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

// survey walks a document that is known to be right.
func survey(src []byte) walk {
	w := walk{lines: map[string]int{}, count: map[string]int{}}
	for i, c := range src {
		if c == '\n' {
			w.newlines = append(w.newlines, i)
		}
	}
	w.parser.Reset(src)
	var table key
	for w.parser.NextExpression() {
		e := w.parser.Expression()
		switch e.Kind {
		case unstable.Table:
			table = w.table(e, false)
		case unstable.ArrayTable:
			table = w.table(e, true)
		case unstable.KeyValue:
			w.keyValue(table, e)
		}
	}
	return w
}

type walk struct {
	parser unstable.Parser
	lines  map[string]int // of each path
	count  map[string]int // of the elements of a list of tables so far, by path
	keys   []key          // of every table and value, in the order of the file

	newlines []int // where they stand
}

// A key leads to a table or a value.
type key struct {
	parts []string // its names, those of the tables that it stands in first
	paths []string // the path up to each part, with the numbers of list elements
	line  int
}

// path returns the whole path; of no key, nothing.
func (k key) path() string {
	if len(k.paths) == 0 {
		return ""
	}
	return k.paths[len(k.paths)-1]
}

// with returns the key with a part more.
func (k key) with(part, path string, line int) key {
	return key{append(slices.Clip(k.parts), part), append(slices.Clip(k.paths), path), line}
}

// mostParts is how many parts of a dotted key are followed. No file that a person
// writes has more, and paths of thousands would fill the memory.
const mostParts = 32

// line returns the line that a node begins on.
func (w *walk) line(n *unstable.Node) int {
	return sort.SearchInts(w.newlines, int(n.Raw.Offset)) + 1
}

// table notes a table's heading and returns its key. On the way a list of tables
// stands for its last element.
func (w *walk) table(e *unstable.Node, list bool) key {
	var k key
	parts := e.Key()
	for n := 0; n < mostParts && parts.Next(); n++ {
		name, line := string(parts.Node().Data), w.line(parts.Node())
		path := join(k.path(), name)
		if list && parts.IsLast() {
			w.count[path]++
		}
		if n := w.count[path]; n > 0 {
			w.note(path, line)
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
		w.note(path, line)
		k = k.with(name, path, line)
	}
	w.keys = append(w.keys, k)
	return k
}

func (w *walk) note(path string, line int) {
	if _, ok := w.lines[path]; !ok {
		w.lines[path] = line
	}
}

// keyValue notes a value and what is in it.
func (w *walk) keyValue(table key, e *unstable.Node) {
	k := table
	parts := e.Key()
	for n := 0; n < mostParts && parts.Next(); n++ {
		name := string(parts.Node().Data)
		k = k.with(name, join(k.path(), name), w.line(parts.Node()))
		w.note(k.path(), k.line)
	}
	w.keys = append(w.keys, k)
	w.value(k, e.Value())
}

// value notes what is in a list or an inline table. An element that does not know
// its own line has the line of its list.
func (w *walk) value(k key, v *unstable.Node) {
	if v.Raw.Length > 0 {
		k.line = w.line(v)
	}
	w.note(k.path(), k.line)
	switch v.Kind {
	case unstable.Array:
		elements := v.Children()
		for i := 0; elements.Next(); {
			if elements.Node().Kind == unstable.Comment {
				continue
			}
			element := k
			element.paths = append(slices.Clone(k.paths[:len(k.paths)-1]), fmt.Sprintf("%s[%d]", k.path(), i))
			w.value(element, elements.Node())
			i++
		}
	case unstable.InlineTable:
		members := v.Children()
		for members.Next() {
			if members.Node().Kind == unstable.KeyValue {
				w.keyValue(k, members.Node())
			}
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
