package sheet

import (
	"bufio"
	"bytes"
	"errors"
	"html"
	"io"
)

// longTag bounds the text of one tag: those of a sheet's cells have a few dozen
// bytes.
const longTag = 16 << 10

// A tagReader walks over the tags of an XML text. It knows no more of XML than
// marks need, so as to be several times as fast as encoding/xml, which its tests
// compare it with: it does not check that elements are closed in order, and a
// document type is refused.
type tagReader struct {
	in   *bufio.Reader
	held []byte // the tag, where it did not come in one piece
	text []byte // what stood before it

	tag // the one that was read last
}

// A tag is one tag of an XML text. It is good until the next one.
type tag struct {
	name       []byte // without the namespace's prefix
	attributes []byte
	closes     bool // </name>
	empty      bool // <name/>
}

func newTagReader(r io.Reader) *tagReader {
	return &tagReader{in: bufio.NewReaderSize(r, 64<<10)}
}

var errTag = errors.New("a tag without an end")

// next reads the next tag; the error is io.EOF if there is none. keep says how much
// of the text before it is wanted: at most so many bytes, and one more where there
// are more.
func (t *tagReader) next(keep int) error {
	t.text = t.text[:0]
	for {
		if err := t.skipText(keep); err != nil {
			return err
		}
		start, err := t.in.Peek(2)
		if err != nil && len(start) == 0 {
			return errTag
		}
		switch {
		case start[0] == '?':
			err = t.skipTo("?>", 0)
		case start[0] == '!':
			err = t.declaration(keep)
		default:
			return t.read()
		}
		if err != nil {
			return err
		}
	}
}

// skipText reads up to and with the next "<".
func (t *tagReader) skipText(keep int) error {
	for {
		part, err := t.in.ReadSlice('<')
		if err == nil {
			t.hold(part[:len(part)-1], keep)
			return nil
		}
		t.hold(part, keep)
		if err != bufio.ErrBufferFull {
			return err
		}
	}
}

func (t *tagReader) hold(part []byte, keep int) {
	if room := keep + 1 - len(t.text); keep > 0 && room > 0 {
		t.text = append(t.text, part[:min(room, len(part))]...)
	}
}

// declaration skips a comment, or takes the text of a CDATA section.
func (t *tagReader) declaration(keep int) error {
	start, err := t.in.Peek(8)
	switch {
	case bytes.HasPrefix(start, []byte("!--")):
		return t.skipTo("-->", 0)
	case bytes.Equal(start, []byte("![CDATA[")):
		if _, err := t.in.Discard(8); err != nil {
			return err
		}
		return t.skipTo("]]>", keep)
	case err != nil:
		return errTag
	}
	return errors.New("a document type")
}

// skipTo reads up to and with an ending, and holds what comes before it.
func (t *tagReader) skipTo(ending string, keep int) error {
	last, matched := ending[len(ending)-1], []byte{}
	for {
		part, err := t.in.ReadSlice(last)
		matched = append(matched, part...)
		switch {
		case err == nil && bytes.HasSuffix(matched, []byte(ending)):
			t.hold(matched[:len(matched)-len(ending)], keep)
			return nil
		case err != nil && err != bufio.ErrBufferFull:
			return errTag
		}
		if cut := len(matched) - len(ending); cut > 0 {
			t.hold(matched[:cut], keep)
			matched = append(matched[:0], matched[cut:]...)
		}
	}
}

// read reads a tag to its ">", of which there may be others in its quotation marks.
func (t *tagReader) read() error {
	part, err := t.in.ReadSlice('>')
	if err != nil || !balanced(part) {
		t.held = append(t.held[:0], part...)
		for err != nil || !balanced(t.held) {
			if err != nil && err != bufio.ErrBufferFull || len(t.held) > longTag {
				return errTag
			}
			part, err = t.in.ReadSlice('>')
			t.held = append(t.held, part...)
		}
		part = t.held
	}
	text := part[:len(part)-1]
	t.tag = tag{}
	if t.closes = bytes.HasPrefix(text, []byte("/")); t.closes {
		text = text[1:]
	} else if t.empty = bytes.HasSuffix(text, []byte("/")); t.empty {
		text = text[:len(text)-1]
	}
	t.name = text
	if i := bytes.IndexAny(text, " \t\r\n"); i >= 0 {
		t.name, t.attributes = text[:i], text[i:]
	}
	if i := bytes.IndexByte(t.name, ':'); i >= 0 {
		t.name = t.name[i+1:]
	}
	return nil
}

// balanced reports whether no quotation mark is left open.
func balanced(text []byte) bool {
	open := byte(0)
	for _, c := range text {
		switch {
		case open == 0 && (c == '"' || c == '\''):
			open = c
		case c == open:
			open = 0
		}
	}
	return open == 0
}

// attribute returns the value of an attribute without a namespace, or nothing.
func (t *tag) attribute(name string) string {
	for rest := t.attributes; ; {
		equals := bytes.IndexByte(rest, '=')
		if equals < 0 {
			return ""
		}
		found := bytes.TrimSpace(rest[:equals])
		rest = bytes.TrimLeft(rest[equals+1:], " \t\r\n")
		if len(rest) == 0 {
			return ""
		}
		end := bytes.IndexByte(rest[1:], rest[0])
		if end < 0 {
			return ""
		}
		if string(found) == name {
			return unescaped(rest[1 : end+1])
		}
		rest = rest[end+2:]
	}
}

// unescaped reads the entities in a text.
func unescaped(text []byte) string {
	if bytes.IndexByte(text, '&') < 0 {
		return string(text)
	}
	return html.UnescapeString(string(text))
}
