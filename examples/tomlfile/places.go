package tomlfile

import (
	"fmt"
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
	w := walk{found: map[string]int{}, count: map[string]int{}, keys: map[unstable.Position]string{}}
	for i, c := range src {
		if c == '\n' {
			w.newlines = append(w.newlines, i)
		}
	}
	w.parser.Reset(src)
	table := ""
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
	found  map[string]int               // the line of each path
	count  map[string]int               // of the elements of a list of tables so far, by path
	keys   map[unstable.Position]string // the path that each key of a value ends at

	newlines []int // where they stand
}

// mostParts is how many parts of a dotted key are followed. No file that a person
// writes has more, and paths of thousands would fill the memory.
const mostParts = 32

// at returns where a node begins.
func (w *walk) at(n *unstable.Node) unstable.Position {
	offset := int(n.Raw.Offset)
	before := sort.SearchInts(w.newlines, offset)
	column := offset + 1
	if before > 0 {
		column = offset - w.newlines[before-1]
	}
	return unstable.Position{Line: before + 1, Column: column}
}

func (w *walk) line(n *unstable.Node) int { return w.at(n).Line }

// table notes a table's heading and returns its path. On the way a list of
// tables stands for its last element.
func (w *walk) table(e *unstable.Node, list bool) string {
	path := ""
	keys := e.Key()
	for parts := 0; parts < mostParts && keys.Next(); parts++ {
		path = join(path, string(keys.Node().Data))
		line := w.line(keys.Node())
		if list && keys.IsLast() {
			w.count[path]++
		}
		if n := w.count[path]; n > 0 {
			w.note(path, line)
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
		w.note(path, line)
	}
	return path
}

func (w *walk) note(path string, line int) {
	if _, ok := w.found[path]; !ok {
		w.found[path] = line
	}
}

// keyValue notes a value and what is in it.
func (w *walk) keyValue(table string, e *unstable.Node) {
	path, line := table, 0
	keys := e.Key()
	for parts := 0; parts < mostParts && keys.Next(); parts++ {
		path = join(path, string(keys.Node().Data))
		line = w.line(keys.Node())
		w.note(path, line)
		w.keys[w.at(keys.Node())] = path
	}
	w.value(path, line, e.Value())
}

// value notes what is in a list or an inline table. An element that does not
// know its own line has the line of its list.
func (w *walk) value(path string, line int, v *unstable.Node) {
	if v.Raw.Length > 0 {
		line = w.line(v)
	}
	w.note(path, line)
	switch v.Kind {
	case unstable.Array:
		elements := v.Children()
		for i := 0; elements.Next(); {
			if elements.Node().Kind == unstable.Comment {
				continue
			}
			w.value(fmt.Sprintf("%s[%d]", path, i), line, elements.Node())
			i++
		}
	case unstable.InlineTable:
		members := v.Children()
		for members.Next() {
			if members.Node().Kind == unstable.KeyValue {
				w.keyValue(path, members.Node())
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
