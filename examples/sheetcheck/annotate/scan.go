package annotate

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"html"
	"io"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// What is read of a part at most. Tags are as long and as deep in one another as the sheet package
// reads them.
const (
	longTag      = 1 << 20
	deepest      = 64
	mostElements = 500_000 // of a part that is held; office programs have fewer than 65,500 styles
)

// A tag is where an element of a part begins or ends.
type tag struct {
	from, to     int64 // from its < to behind its >
	raw          []byte
	prefix, name string // of the element; the prefix with its colon
	depth        int    // of the element; the root's is 1
	opens        bool
	closes       bool // with opens: an element that is empty
}

// A scanner finds the tags of a part, by their place in it. It knows nothing of what a
// namespace stands for.
type scanner struct {
	in    *bufio.Reader
	at    int64
	raw   []byte
	open  []string // names with prefixes
	names map[string][2]string
	begun bool
}

func newScanner(r io.Reader) *scanner {
	return &scanner{in: bufio.NewReaderSize(r, 256<<10), names: map[string][2]string{}}
}

func damaged(format string, args ...any) error {
	return fmt.Errorf("damaged: "+format, args...)
}

// next returns the next tag, whose raw text is good until the one after it; io.EOF at the end.
func (s *scanner) next() (t tag, err error) {
	for {
		if err := s.text(); err != nil {
			return t, err
		}
		from := s.at - 1
		if err := s.piece(); err != nil {
			return t, err
		}
		switch {
		case s.raw[1] == '?', bytes.HasPrefix(s.raw, []byte("<!--")), bytes.HasPrefix(s.raw, []byte("<![CDATA[")):
			continue
		case s.raw[1] == '!':
			return t, damaged("a document type")
		}
		t = tag{from: from, to: s.at, raw: s.raw}
		return t, s.enter(&t)
	}
}

// text reads up to the next tag.
func (s *scanner) text() error {
	for {
		b, err := s.in.ReadSlice('<')
		s.at += int64(len(b))
		switch {
		case err == nil:
			return nil
		case errors.Is(err, bufio.ErrBufferFull):
		case err == io.EOF && s.begun && len(s.open) == 0:
			return io.EOF
		case err == io.EOF:
			return damaged("it ends in the middle")
		default:
			return damaged("%w", err)
		}
	}
}

// piece reads what begins with < to its end.
func (s *scanner) piece() error {
	s.raw = append(s.raw[:0], '<')
	for {
		b, err := s.in.ReadSlice('>')
		s.at += int64(len(b))
		s.raw = append(s.raw, b...)
		if len(s.raw) > longTag {
			return &sheet.BoundError{What: "a tag or a comment without an end", Most: fmt.Sprintf("%d KB are read for one", longTag>>10)}
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err == io.EOF:
			return damaged("it ends in the middle")
		case err != nil:
			return damaged("%w", err)
		}
		if whole(s.raw) {
			return nil
		}
	}
}

// whole reports whether a piece that ends with > ends there.
func whole(raw []byte) bool {
	switch {
	case bytes.HasPrefix(raw, []byte("<!--")):
		return len(raw) >= len("<!---->") && bytes.HasSuffix(raw, []byte("-->"))
	case bytes.HasPrefix(raw, []byte("<![CDATA[")):
		return bytes.HasSuffix(raw, []byte("]]>"))
	case raw[1] == '?':
		return len(raw) >= len("<??>") && bytes.HasSuffix(raw, []byte("?>"))
	}
	quote := byte(0)
	for _, b := range raw {
		switch {
		case quote == 0 && (b == '"' || b == '\''):
			quote = b
		case b == quote:
			quote = 0
		}
	}
	return quote == 0
}

// enter reads a tag's name and follows how deep it stands.
func (s *scanner) enter(t *tag) error {
	name := t.raw[1 : len(t.raw)-1]
	t.opens = len(name) == 0 || name[0] != '/'
	if !t.opens {
		name = name[1:]
	} else if n := len(name); n > 0 && name[n-1] == '/' {
		t.closes, name = true, name[:n-1]
	}
	if i := bytes.IndexAny(name, " \t\r\n"); i >= 0 {
		name = name[:i]
	}
	parts, known := s.names[string(name)]
	if !known {
		if len(name) == 0 {
			return damaged("a tag without a name")
		}
		if i := bytes.IndexByte(name, ':'); i >= 0 {
			parts = [2]string{string(name[:i+1]), string(name[i+1:])}
		} else {
			parts = [2]string{"", string(name)}
		}
		if len(s.names) < 10_000 {
			s.names[string(name)] = parts
		}
	}
	t.prefix, t.name = parts[0], parts[1]
	last := len(s.open) - 1
	if !t.opens {
		if last < 0 || len(s.open[last]) != len(name) || s.open[last] != string(name) {
			return damaged("</%s> closes no element", name)
		}
		t.closes, t.depth, s.open = true, last+1, s.open[:last]
		return nil
	}
	if last < 0 && s.begun {
		return damaged("a second root")
	}
	s.begun = true
	t.depth = last + 2
	if t.depth > deepest {
		return damaged("elements more than %d deep in one another", deepest)
	}
	if !t.closes {
		s.open = append(s.open, t.prefix+t.name)
	}
	return nil
}

// attributes calls f with each attribute, its value as it is written and where that stands in
// the tag, until f returns false.
func (t *tag) attributes(f func(name, value []byte, from int) bool) {
	i := 1 + len(t.prefix) + len(t.name)
	for i < len(t.raw) {
		for i < len(t.raw) && isSpace(t.raw[i]) {
			i++
		}
		equals := bytes.IndexByte(t.raw[i:], '=')
		if equals < 0 {
			return
		}
		name := bytes.TrimRight(t.raw[i:i+equals], " \t\r\n")
		i += equals + 1
		for i < len(t.raw) && isSpace(t.raw[i]) {
			i++
		}
		if i == len(t.raw) {
			return
		}
		length := bytes.IndexByte(t.raw[i+1:], t.raw[i])
		if length < 0 {
			return
		}
		if !f(name, t.raw[i+1:i+1+length], i+1) {
			return
		}
		i += length + 2
	}
}

func isSpace(b byte) bool { return b == ' ' || b == '\t' || b == '\r' || b == '\n' }

// value returns an attribute as it is written and where it stands in the tag.
func (t *tag) value(name string) (value []byte, from int, ok bool) {
	t.attributes(func(n, v []byte, at int) bool {
		if string(n) == name {
			value, from, ok = v, at, true
		}
		return !ok
	})
	return value, from, ok
}

// read returns an attribute's value; empty if it is not there.
func (t *tag) read(name string) string {
	v, _, _ := t.value(name)
	return html.UnescapeString(string(v))
}

// related returns the value of the attribute called id in some namespace: the relation that an
// element names.
func (t *tag) related() (id string) {
	t.attributes(func(n, v []byte, _ int) bool {
		if bytes.HasSuffix(n, []byte(":id")) {
			id = html.UnescapeString(string(v))
		}
		return id == ""
	})
	return id
}

// prefixOf returns the prefix, with its colon, that the tag declares for a namespace.
func (t *tag) prefixOf(space string) (prefix string, ok bool) {
	t.attributes(func(n, v []byte, _ int) bool {
		if string(v) == space && bytes.HasPrefix(n, []byte("xmlns")) {
			prefix, ok = string(bytes.TrimPrefix(n[len("xmlns"):], []byte(":"))), true
			if prefix != "" {
				prefix += ":"
			}
		}
		return !ok || prefix == "" // one with a prefix serves attributes, too
	})
	return prefix, ok
}

// space returns the namespace that the tag declares for its own prefix.
func (t *tag) space() string {
	name := "xmlns"
	if t.prefix != "" {
		name += ":" + t.prefix[:len(t.prefix)-1]
	}
	return t.read(name)
}
