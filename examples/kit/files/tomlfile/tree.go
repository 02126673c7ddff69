package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// ErrTwice is the error of a key or a table that stands twice.
var ErrTwice = errors.New("given twice")

// mostParts is how many parts of a dotted key, and lists in lists, are followed. No file
// that a person writes has more, and paths of thousands would fill the memory.
const mostParts = 32

// A kind is what a node is.
type kind uint8

const (
	aText kind = iota
	aWhole
	aDecimal
	aTruth
	aDate
	aList
	aTable
)

// A node is a value of a file as it is written.
type node struct {
	kind    kind
	text    string // of a text what it says; of a number, a truth and a date what is written
	line    int
	keys    []string // of a table, in the order of the file
	members map[string]*node
	list    []*node
	tables  bool // a list of tables with headings, [[NAME]]
	headed  bool // a table that has a heading of its own
	closed  bool // a table in braces, or with dotted keys: no heading may add to it
	dotted  bool // made by a dotted key
}

func newTable(line int) *node { return &node{kind: aTable, line: line, members: map[string]*node{}} }

// put sets a member of a table.
func (n *node) put(name string, v *node) {
	if _, ok := n.members[name]; !ok {
		n.keys = append(n.keys, name)
	}
	n.members[name] = v
}

// grower makes a tree of the text.
type grower struct {
	parser   unstable.Parser
	file     string
	newlines []int
	errs     Errors
}

// parse makes the tree of a text, with an error for what stands in it twice, of which the
// first counts. Of a text that is not TOML there is no tree, and an error for each line.
func parse(file string, src []byte) (*node, Errors) {
	src = slices.Clone(src)
	var faults Errors
	for {
		g := grower{file: file}
		for i, c := range src {
			if c == '\n' {
				g.newlines = append(g.newlines, i)
			}
		}
		tree, err := g.grow(src)
		if err == nil {
			if len(faults) > 0 {
				return nil, faults
			}
			return tree, g.errs
		}
		at := len(src)
		if len(err.Highlight) > 0 || cap(err.Highlight) > 0 {
			at = int(g.parser.Range(err.Highlight).Offset)
		}
		line := sort.SearchInts(g.newlines, min(at, len(src))) + 1
		if text := lineAt(src, line); strings.TrimSpace(text) == "" && line > 1 { // the end of the file, or of a list
			line--
		}
		what := inWords(err.Message, lineAt(src, line))
		faults = append(faults, &Error{File: file, Line: line, What: what, Err: err})
		if len(faults) == mostFaults || strings.Contains(what, "not closed") || strings.Contains(what, "without end") || !blank(src, line) {
			return nil, faults
		}
	}
}

// blank makes a line blank, so that what follows can be parsed, and reports whether it was
// not before.
func blank(src []byte, line int) bool {
	for n, rest := 1, src; ; n++ {
		end := bytes.IndexByte(rest, '\n')
		if end < 0 {
			end = len(rest)
		}
		if n == line {
			was := len(bytes.TrimSpace(rest[:end])) > 0
			for i := range rest[:end] {
				rest[i] = ' '
			}
			return was
		}
		if end == len(rest) {
			return false
		}
		rest = rest[end+1:]
	}
}

// grow makes the tree of a text, or returns the first thing that is not TOML.
func (g *grower) grow(src []byte) (*node, *unstable.ParserError) {
	g.parser.Reset(src)
	root := newTable(0)
	table := root
	for g.parser.NextExpression() {
		e := g.parser.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = g.table(root, e)
		case unstable.KeyValue:
			g.keyValue(table, e, false)
		}
	}
	var err *unstable.ParserError
	if errors.As(g.parser.Error(), &err) {
		return nil, err
	}
	return root, nil
}

// line returns the line that a node begins on; 0 if it does not know.
func (g *grower) line(n *unstable.Node) int {
	if n.Raw.Length == 0 {
		return 0
	}
	return sort.SearchInts(g.newlines, int(n.Raw.Offset)) + 1
}

func (g *grower) fail(line int, kind error, format string, args ...any) {
	g.errs = append(g.errs, &Error{File: g.file, Line: line, What: fmt.Sprintf(format, args...), Err: kind})
}

// names are the parts of a key, and the line that it stands on. ok is false if it has too
// many.
func (g *grower) names(e *unstable.Node) (names []string, line int, ok bool) {
	parts := e.Key()
	for parts.Next() {
		if line == 0 {
			line = g.line(parts.Node())
		}
		names = append(names, string(parts.Node().Data))
	}
	if len(names) > mostParts {
		g.fail(line, nil, "a key of %d parts; write at most %d", len(names), mostParts)
	}
	return names, line, len(names) <= mostParts
}

// table returns the table of a heading. On the way a list of tables stands for its last
// element. Of a heading that is wrong, the table belongs to nothing.
func (g *grower) table(root *node, e *unstable.Node) *node {
	names, line, ok := g.names(e)
	if !ok {
		return newTable(line)
	}
	written := "[" + joined(names) + "]"
	at := root
	for i, name := range names {
		last := i == len(names)-1
		next := at.members[name]
		switch {
		case next == nil && last && e.Kind == unstable.ArrayTable:
			next = &node{kind: aList, line: line, tables: true}
			at.put(name, next)
		case next == nil:
			next = newTable(line)
			at.put(name, next)
		}
		switch {
		case last && e.Kind == unstable.ArrayTable && next.tables:
			element := newTable(line)
			element.headed = true
			next.list = append(next.list, element)
			return element
		case last && e.Kind == unstable.ArrayTable && next.headed:
			g.fail(line, ErrTwice, "[%s] stands in double brackets here, and in single ones on line %d: write double ones at both, or keep one of the two", written, next.line)
			return newTable(line)
		case last && e.Kind == unstable.ArrayTable:
			g.fail(line, ErrTwice, "[%s]: %s: it is %s on line %d; keep one of the two", written, ErrTwice, next.said(), next.line)
			return newTable(line)
		case last && next.tables:
			g.fail(line, ErrTwice, "%s stands in single brackets here, and in double ones on line %d; write [%s]", written, next.line, written)
			return newTable(line)
		case next.tables:
			next = next.list[len(next.list)-1]
		}
		if next.kind != aTable || next.closed || last && (next.headed || next.dotted) {
			whole := "[" + joined(names[:i+1]) + "]"
			g.fail(line, ErrTwice, "%s: %s, first on line %d; keep one, with all that belongs to it", whole, ErrTwice, next.line)
			return newTable(line)
		}
		if last {
			next.headed = true
			if next.line == 0 || len(next.keys) == 0 {
				next.line = line
			}
		}
		at = next
	}
	return at
}

// joined writes the parts of a key with dots between.
func joined(names []string) string {
	written := make([]string, len(names))
	for i, n := range names {
		written[i] = bareOrQuoted(n)
	}
	return strings.Join(written, ".")
}

// keyValue puts a value into a table.
func (g *grower) keyValue(table *node, e *unstable.Node, inBraces bool) {
	names, line, ok := g.names(e)
	if !ok {
		return
	}
	for i, name := range names[:len(names)-1] {
		next := table.members[name]
		if next == nil {
			next = newTable(line)
			next.dotted = true
			table.put(name, next)
		}
		if next.kind != aTable || next.closed && !inBraces || next.headed {
			g.fail(line, ErrTwice, "%s: %s, first on line %d; keep one", joined(names[:i+1]), ErrTwice, next.line)
			return
		}
		table = next
	}
	name := names[len(names)-1]
	if before := table.members[name]; before != nil {
		g.fail(line, ErrTwice, "%s: %s, first on line %d; keep one", bareOrQuoted(name), ErrTwice, before.line)
		return
	}
	table.put(name, g.value(e.Value(), line, 0))
}

// value makes the node of a value. One that does not know its own line has that of what it
// stands in.
func (g *grower) value(v *unstable.Node, line, depth int) *node {
	if own := g.line(v); own > 0 {
		line = own
	}
	n := &node{text: string(v.Data), line: line}
	if depth > mostParts {
		g.fail(line, nil, "lists in lists more than %d deep; look where one is not closed", mostParts)
		return n
	}
	switch v.Kind {
	case unstable.String:
		n.kind = aText
	case unstable.Integer:
		n.kind = aWhole
	case unstable.Float:
		n.kind = aDecimal
	case unstable.Bool:
		n.kind = aTruth
	case unstable.Array:
		n.kind = aList
		elements := v.Children()
		for elements.Next() {
			if elements.Node().Kind != unstable.Comment {
				n.list = append(n.list, g.value(elements.Node(), line, depth+1))
			}
		}
	case unstable.InlineTable:
		*n = *newTable(line)
		members := v.Children()
		for members.Next() {
			if members.Node().Kind == unstable.KeyValue {
				g.keyValue(n, members.Node(), true)
			}
		}
		n.closed = true
	default:
		n.kind = aDate
	}
	return n
}
