package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// mostText is how many bytes a text may have that is written into a file.
const mostText = 4 << 10

// ErrText is the error of a text that does not belong in a file.
var ErrText = errors.New("not a text for a file")

// SetText returns the TOML text src with the value at the path changed to the text given, or added
// where there is none: in its table in braces, under its heading, or with a heading of its own.
// Every other byte stays as it is. A name in the path is a key; of an element of a list, its number
// from 0. The error is Errors for a src that is not TOML, and of kind ErrText for a text that is
// longer than 4 KiB or holds what nobody can see.
func SetText(file string, src []byte, path []string, text string) ([]byte, error) {
	if err := writable(text); err != nil {
		return nil, err
	}
	return setValue(file, src, path, quote(text), &node{kind: aText, text: text})
}

// SetTruth is SetText for true or false.
func SetTruth(file string, src []byte, path []string, is bool) ([]byte, error) {
	written := strconv.FormatBool(is)
	return setValue(file, src, path, written, &node{kind: aTruth, text: written})
}

// setValue puts a value at the path, as it is written and as it is read.
func setValue(file string, src []byte, path []string, written string, read *node) ([]byte, error) {
	return changed(file, src, func(s string, root *place, tables []*place) (string, error) {
		p, rest := follow(root, path)
		if len(rest) == 0 && (p.kind == aValue || p.kind == aSpan || p.kind == braced) {
			return s[:p.from] + written + s[p.to:], nil
		}
		if len(rest) == 0 {
			return "", errLayout
		}
		return add(s, p, tables, path, rest, written)
	}, func(n *node) *node { return n.with(path, read) })
}

// SetListed returns src with a text in the list at the path, or out of it. A list that is not there is
// added if something is to stand in it.
func SetListed(file string, src []byte, path []string, text string, listed bool) ([]byte, error) {
	if err := writable(text); err != nil {
		return nil, err
	}
	var texts []string
	root, errs := parse(file, bytes.TrimPrefix(src, []byte("\ufeff")))
	if root == nil || len(errs) > 0 {
		return nil, errs.Sorted()
	}
	if n := root.find(path); n != nil {
		if n.kind != aList {
			return nil, fmt.Errorf("%s is no list; change it in an editor", joined(path))
		}
		for _, e := range n.list {
			if e.kind != aText {
				return nil, fmt.Errorf("%s is no list of texts; change it in an editor", joined(path))
			}
			texts = append(texts, e.text)
		}
	}
	at := slices.Index(texts, text)
	if at >= 0 == listed {
		return src, nil
	}
	after := append(slices.Clone(texts), text)
	if !listed {
		after = slices.Delete(slices.Clone(texts), at, at+1)
	}
	return changed(file, src, func(s string, root *place, tables []*place) (string, error) {
		p, rest := follow(root, path)
		switch {
		case len(rest) > 0:
			return add(s, p, tables, path, rest, "["+quote(text)+"]")
		case p.kind != aSpan:
			return "", errLayout
		case len(after) == 0, len(texts) == 0:
			var all []string
			for _, t := range after {
				all = append(all, quote(t))
			}
			return s[:p.from] + "[" + strings.Join(all, ", ") + "]" + s[p.to:], nil
		case listed:
			end := p.list[len(p.list)-1].to
			return s[:end] + ", " + quote(text) + s[end:], nil
		case at+1 < len(p.list) && !strings.ContainsAny(s[p.list[at].to:p.list[at+1].from], "#\n"):
			return s[:p.list[at].from] + s[p.list[at+1].from:], nil
		case at > 0 && !strings.ContainsAny(s[p.list[at-1].to:p.list[at].from], "#\n"):
			return s[:p.list[at-1].to] + s[p.list[at].to:], nil
		}
		return "", errors.New("the list has its remarks and lines; change it in an editor")
	}, func(n *node) *node {
		list := &node{kind: aList}
		for _, t := range after {
			list.list = append(list.list, &node{kind: aText, text: t})
		}
		return n.with(path, list)
	})
}

// SetList returns src with the value at the path changed to a list of texts, in one line, or added where there is
// none. Every other byte stays as it is.
func SetList(file string, src []byte, path []string, texts []string) ([]byte, error) {
	list := &node{kind: aList}
	quoted := make([]string, len(texts))
	for i, text := range texts {
		if err := writable(text); err != nil {
			return nil, err
		}
		quoted[i] = quote(text)
		list.list = append(list.list, &node{kind: aText, text: text})
	}
	return changed(file, src, func(s string, root *place, tables []*place) (string, error) {
		value := "[" + strings.Join(quoted, ", ") + "]"
		p, rest := follow(root, path)
		switch {
		case len(rest) > 0:
			return add(s, p, tables, path, rest, value)
		case p.kind != aValue && p.kind != aSpan && p.kind != braced:
			return "", errLayout
		}
		return s[:p.from] + value + s[p.to:], nil
	}, func(n *node) *node { return n.with(path, list) })
}

// Text returns the text at the path, and whether a text stands there.
func Text(file string, src []byte, path []string) (string, bool) {
	root, errs := parse(file, bytes.TrimPrefix(src, []byte("\ufeff")))
	if root == nil || len(errs) > 0 {
		return "", false
	}
	n := root.find(path)
	if n == nil || n.kind != aText {
		return "", false
	}
	return n.text, true
}

// writable returns an error for a text that does not belong in a file.
func writable(text string) error {
	if len(text) > mostText {
		return fmt.Errorf("%w: it has %d bytes; write at most %d", ErrText, len(text), mostText)
	}
	if !utf8.ValidString(text) {
		return fmt.Errorf("%w: %q is not in UTF-8; type it again", ErrText, shortened(strings.ToValidUTF8(text, "\uFFFD")))
	}
	if i := strings.IndexFunc(text, func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u2028' || r == '\u2029' }); i >= 0 {
		return fmt.Errorf("%w: %s holds a sign that nobody can see; type it in one line", ErrText, strconv.Quote(shortened(text)))
	}
	return nil
}

// changed makes a change, and looks whether it is the one that was meant.
func changed(file string, src []byte, change func(s string, root *place, tables []*place) (string, error), meant func(*node) *node) ([]byte, error) {
	before, errs := parse(file, bytes.TrimPrefix(src, []byte("\ufeff")))
	if before == nil || len(errs) > 0 {
		return nil, errs.Sorted()
	}
	root, tables, err := survey(string(src))
	if err != nil {
		return nil, err
	}
	text, err := change(string(src), root, tables)
	if err != nil {
		return nil, err
	}
	if len(text) > maxSize {
		return nil, tooLarge(file, int64(len(text)))
	}
	after, errs := parse(file, bytes.TrimPrefix([]byte(text), []byte("\ufeff")))
	if after == nil || len(errs) > 0 || !after.same(meant(before)) {
		return nil, errLayout
	}
	return []byte(text), nil
}

// follow goes along a path as far as there is something, and returns what is left of it.
func follow(p *place, path []string) (*place, []string) {
	for i, name := range path {
		next := p.members[name]
		if p.kind == aSpan || p.kind == repeated {
			if n, err := strconv.Atoi(name); err == nil && n >= 0 && n < len(p.list) {
				next = p.list[n]
			}
		}
		if next == nil {
			return p, path[i:]
		}
		p = next
	}
	return p, nil
}

// add writes a value at the rest of a path, of which p is what there is.
func add(s string, p *place, tables []*place, path, rest []string, value string) (string, error) {
	prefix := ""
	for p.kind == byDots { // only another dotted key adds to it
		prefix = joinedExactly(p.dotted) + "." + prefix
		p = p.within
	}
	written := func(names []string) string {
		text := prefix + bareOrQuotedExactly(names[0]) + " = "
		for _, name := range names[1:] {
			text += "{ " + bareOrQuotedExactly(name) + " = "
		}
		return text + value + strings.Repeat(" }", len(names)-1)
	}
	eol := "\n"
	if strings.Contains(s, "\r\n") {
		eol = "\r\n"
	}
	switch p.kind {
	case braced:
		if len(p.members) == 0 {
			return s[:p.from] + "{ " + written(rest) + " }" + s[p.to:], nil
		}
		return s[:p.end] + ", " + written(rest) + s[p.end:], nil
	case headed:
		if p.from == p.to && len(path) > 1 { // the text's own table: a table gets a heading
			break
		}
		if p.from == p.to && p.end == p.from {
			return s[:p.end] + written(rest) + eol + s[p.end:], nil
		}
		return underLine(s, p.end, eol, p.indent+written(rest)), nil
	case implied:
	default:
		return "", errLayout
	}
	// A table with a heading of its own, under the last that is related to it.
	heads := path[:min(max(len(path)-len(rest), 2), len(path)-1)]
	text := "[" + joinedExactly(heads) + "]" + eol + written(path[len(heads):])
	last := -1
	for _, t := range tables {
		if related(s, t, heads[0]) {
			last = t.end
		}
	}
	switch {
	case last >= 0:
		return underLine(s, last, eol, eol+text), nil
	case s == "" || strings.HasSuffix(s, eol+eol):
		return s + text + eol, nil
	case strings.HasSuffix(s, "\n"):
		return s + eol + text + eol, nil
	}
	return s + eol + eol + text + eol, nil
}

// related reports whether a table's heading begins with a name.
func related(s string, t *place, name string) bool {
	v := surveyor{src: s, at: t.from}
	for v.at < t.to && s[v.at] == '[' {
		v.at++
	}
	names := v.key()
	return names[0] == name
}

// underLine puts a line under the one in which a place is.
func underLine(s string, at int, eol, line string) string {
	n := strings.IndexByte(s[at:], '\n')
	if n < 0 {
		return s + eol + line + eol
	}
	at += n + 1
	return s[:at] + line + eol + s[at:]
}

// joinedExactly writes the parts of a key, each so that it reads back as it is.
func joinedExactly(names []string) string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = bareOrQuotedExactly(n)
	}
	return strings.Join(all, ".")
}

// bareOrQuotedExactly writes a name as a key that reads back as it is.
func bareOrQuotedExactly(name string) string {
	if bareKey.MatchString(name) {
		return name
	}
	return quote(name)
}

// quote writes a text of one line as TOML has it.
func quote(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// find returns what stands at a path; nil if nothing does.
func (n *node) find(path []string) *node {
	for _, name := range path {
		switch {
		case n.kind == aTable:
			n = n.members[name]
		case n.kind == aList:
			i, err := strconv.Atoi(name)
			if err != nil || i < 0 || i >= len(n.list) {
				return nil
			}
			n = n.list[i]
		default:
			return nil
		}
		if n == nil {
			return nil
		}
	}
	return n
}

// with is the tree with a value at a path, which shares the rest.
func (n *node) with(path []string, v *node) *node {
	if len(path) == 0 {
		return v
	}
	if n != nil && n.kind == aList {
		if i, err := strconv.Atoi(path[0]); err == nil && i >= 0 && i < len(n.list) {
			list := slices.Clone(n.list)
			list[i] = list[i].with(path[1:], v)
			return &node{kind: aList, list: list}
		}
		return n
	}
	t := newTable(0)
	var below *node
	if n != nil {
		for name, m := range n.members {
			t.members[name] = m
		}
		below = n.members[path[0]]
	}
	t.members[path[0]] = below.with(path[1:], v)
	return t
}

// same reports whether two trees say the same, wherever it stands.
func (n *node) same(m *node) bool {
	if n.kind != m.kind || n.text != m.text && n.kind != aTable && n.kind != aList || len(n.members) != len(m.members) || len(n.list) != len(m.list) {
		return false
	}
	for name, v := range n.members {
		if w := m.members[name]; w == nil || !v.same(w) {
			return false
		}
	}
	for i, v := range n.list {
		if !v.same(m.list[i]) {
			return false
		}
	}
	return true
}
