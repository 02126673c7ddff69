package ledger

import (
	"bytes"
	"fmt"
)

// A chain is what one file holds, taken apart: lines of which each has the checksum that it must
// have after the line before it, and what follows them.
type chain struct {
	there bool // the file is there
	data  []byte

	text   []byte // the whole lines, with the newline of the last put back if that was all it lacked
	lines  int
	last   int    // where the last line begins in text
	end    int    // and where it ends
	sum    uint32 // of the last line
	ended  bool   // the last line has its newline
	header header

	siblings []byte // lines that follow an earlier line than the last: another program added them
	torn     []byte // a piece of a line, or zeros, as a crash leaves them
	damage   error  // why the rest is neither, or why there is nothing to read
}

// linked takes a file's bytes apart.
func linked(data []byte, there bool) chain {
	c := chain{there: there, data: data, ended: true}
	if !there {
		return c
	}
	for c.end < len(data) {
		n := bytes.IndexByte(data[c.end:], '\n') + 1
		if n == 0 || !c.link(data[c.end:c.end+n]) {
			break
		}
	}
	c.text = data[:c.end:c.end]
	rest := data[c.end:]
	if c.lines > 0 && len(rest) > 0 {
		rest = c.unended(rest)
	}
	for k := 0; c.lines > 1 && k < mostSiblings; k++ {
		n := bytes.IndexByte(rest, '\n') + 1
		if n == 0 || !c.isSibling(rest[:n]) {
			break
		}
		c.siblings = append(c.siblings, rest[:n]...)
		rest = rest[n:]
	}
	switch {
	case c.damage != nil:
	case c.lines < 2:
		c.damage = c.nothing()
	case isTorn(rest):
		c.torn = rest
	case len(rest) > 0:
		c.damage = damage(c.lines+1, "its checksum is not right: it was altered, or a line was taken out or put in")
	}
	return c
}

// link takes in the next line if it follows the last.
func (c *chain) link(line []byte) bool {
	body, sum, ok := unseal(line, c.sum)
	if !ok || len(line) > longest {
		return false
	}
	if c.lines == 0 {
		if c.header, c.damage = readHeader(body); c.damage != nil {
			return false
		}
	}
	c.last, c.end = c.end, c.end+len(line)
	c.lines++
	c.sum = sum
	return true
}

// unended takes in a last line that has all but its newline, or another byte in the place of
// its newline, and returns what is left.
func (c *chain) unended(rest []byte) []byte {
	if bytes.IndexByte(rest, '\n') >= 0 {
		return rest
	}
	for _, whole := range [][]byte{rest, rest[:len(rest)-1]} {
		line := append(bytes.Clone(whole), '\n')
		if c.link(line) {
			c.text = append(c.text, line...)
			c.ended = false
			return nil
		}
	}
	return rest
}

// mostSiblings bounds the programs that may have written at once.
const mostSiblings = 64

// isSibling reports whether a line was made by a program that did not see the last lines: its
// number says which line it follows.
func (c *chain) isSibling(line []byte) bool {
	field, _, _ := bytes.Cut(line, []byte("\t"))
	n, ok := number(field)
	if !ok || n >= c.lines {
		return false
	}
	var sum uint32
	for text := c.text; n > 0; n-- {
		end := bytes.IndexByte(text, '\n') + 1
		_, sum, _ = unseal(text[:end], sum)
		text = text[end:]
	}
	_, _, ok = unseal(line, sum)
	return ok
}

// isTorn reports whether what follows the whole lines is what a crash may leave of one more: it
// lacks its end, or a part of it did not get to the disk and is zeros, and so is its beginning if
// that part is short.
func isTorn(rest []byte) bool {
	if len(rest) == 0 || bytes.IndexByte(rest[:len(rest)-1], '\n') >= 0 {
		return false
	}
	return rest[len(rest)-1] != '\n' || rest[0] == 0 || bytes.Contains(rest, make([]byte, 64))
}

// nothing says why a file does not even hold a plan.
func (c *chain) nothing() error {
	version1 := []byte("closefit ledger 1\t")
	switch {
	case len(c.data) == 0:
		return damage(1, "it is empty")
	case len(bytes.Trim(c.data, "\x00")) == 0:
		return damage(1, "it is nothing but zeros, %d of them", len(c.data))
	case bytes.HasPrefix(c.data, version1):
		return damage(1, "it is a ledger of version 1, which this program does not read")
	case c.lines == 0:
		return damage(1, "it does not begin as a ledger does")
	}
	return damage(2, "it ends before its plan")
}

// whole reports whether the file is there and can be read to its end.
func (c *chain) whole() bool { return c.there && c.damage == nil }

// clean reports whether the file is whole lines to its end.
func (c *chain) clean() bool {
	return c.whole() && c.ended && len(c.torn)+len(c.siblings) == 0
}

// lastLine returns the last of the whole lines.
func (c *chain) lastLine() []byte { return c.text[c.last:] }

// event returns the event of the last line.
func (c *chain) lastEvent() event {
	var fields [7][]byte
	splitTabs(c.lastLine(), fields[:])
	return parseEvent(fields[2])
}

// shown tells of a line what a person wants to know.
func shown(line []byte) string {
	var fields [7][]byte
	if n := splitTabs(line, fields[:]); n < 6 {
		return fmt.Sprintf("%.60q", line)
	}
	said := string(fields[2])
	if step := string(fields[3]); step != "-" {
		said += " of step " + step
	}
	if bolt := string(fields[4]); bolt != "-" {
		said += fmt.Sprintf(" on bolt %q", bolt)
	}
	return said
}

// isPiece reports whether data is what a crash may leave of text: its beginning, or with zeros
// in the place of some of it.
func isPiece(data, text []byte) bool {
	if len(data) > len(text) {
		// A file may have been made longer in whole blocks.
		if len(bytes.Trim(data[len(text):], "\x00")) > 0 {
			return false
		}
		data = data[:len(text)]
	}
	for i, b := range data {
		if b != text[i] && b != 0 {
			return false
		}
	}
	return true
}
