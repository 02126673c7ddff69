package tomlfile

import (
	"errors"
	"strconv"
	"strings"
)

// A place is where a value or a table stands in a text, so that it can be changed there.
type place struct {
	kind     placeKind
	from, to int // of a value its text; of a table with a heading, the heading
	members  map[string]*place
	list     []*place
	end      int    // of a table, where the last value in it ends; its heading's end if it holds none
	indent   string // of a table, what stands before its last key
	within   *place // of a table made by dotted keys, the table that they stand in
	dotted   []string
}

// A placeKind is what stands at a place.
type placeKind uint8

const (
	aValue   placeKind = iota
	aSpan              // a list in brackets
	braced             // a table in braces
	headed             // a table with a heading; the text's own table, too
	byDots             // a table made by dotted keys
	implied            // a table of which only tables in it have headings
	repeated           // a list of tables with headings
)

// errLayout is the error of a text whose places cannot be told.
var errLayout = errors.New("its parts cannot be told apart; change it in an editor")

// A surveyor finds the places of a text that is TOML.
type surveyor struct {
	src    string
	at     int
	tables []*place // with headings, in the order of the text
}

// survey returns the text's own table, and every table with a heading.
func survey(src string) (root *place, tables []*place, err error) {
	s := surveyor{src: src}
	if strings.HasPrefix(src, "\ufeff") {
		s.at = len("\ufeff")
	}
	root = &place{kind: headed, members: map[string]*place{}, from: s.at, to: s.at, end: s.at}
	defer func() {
		if fault := recover(); fault != nil {
			if fault != errLayout {
				panic(fault)
			}
			err = errLayout
		}
	}()
	table := root
	for {
		s.skip(true)
		switch {
		case s.at >= len(src):
			return root, s.tables, nil
		case src[s.at] == '[':
			table = s.heading(root)
			s.tables = append(s.tables, table)
		default:
			s.keyValue(table)
		}
	}
}

// fail ends the survey.
func (s *surveyor) fail() { panic(errLayout) }

// next returns the byte at which the surveyor stands.
func (s *surveyor) next() byte {
	if s.at >= len(s.src) {
		s.fail()
	}
	return s.src[s.at]
}

func (s *surveyor) take(c byte) {
	if s.next() != c {
		s.fail()
	}
	s.at++
}

// skip goes over blanks, and over ends of lines and comments too if lines says so.
func (s *surveyor) skip(lines bool) {
	for s.at < len(s.src) {
		switch c := s.src[s.at]; {
		case c == ' ' || c == '\t':
			s.at++
		case lines && (c == '\n' || c == '\r'):
			s.at++
		case lines && c == '#':
			for s.at < len(s.src) && s.src[s.at] != '\n' {
				s.at++
			}
		default:
			return
		}
	}
}

// heading takes a heading, and returns its table.
func (s *surveyor) heading(root *place) *place {
	from := s.at
	s.take('[')
	list := s.next() == '['
	if list {
		s.at++
	}
	names := s.key()
	s.take(']')
	if list {
		s.take(']')
	}
	at := root
	for i, name := range names {
		last := i == len(names)-1
		next := at.members[name]
		switch {
		case next == nil && last && list:
			next = &place{kind: repeated}
			at.members[name] = next
		case next == nil:
			next = &place{kind: implied, members: map[string]*place{}}
			at.members[name] = next
		}
		if next.kind == repeated {
			if last {
				next.list = append(next.list, &place{members: map[string]*place{}})
			}
			next = next.list[len(next.list)-1]
		}
		if next.members == nil {
			s.fail()
		}
		at = next
	}
	at.kind, at.from, at.to, at.end, at.indent = headed, from, s.at, s.at, s.before(from)
	return at
}

// before is the blank text between the beginning of a line and a place in it.
func (s *surveyor) before(at int) string {
	line := s.src[strings.LastIndexByte(s.src[:at], '\n')+1 : at]
	if strings.TrimLeft(line, " \t") != "" {
		return ""
	}
	return line
}

// keyValue takes a key and its value into a table.
func (s *surveyor) keyValue(table *place) {
	from := s.at
	names := s.key()
	s.take('=')
	s.skip(false)
	at := table
	for i, name := range names[:len(names)-1] {
		next := at.members[name]
		if next == nil {
			next = &place{kind: byDots, members: map[string]*place{}, within: table, dotted: names[:i+1]}
			at.members[name] = next
		}
		if next.members == nil {
			s.fail()
		}
		at = next
	}
	at.members[names[len(names)-1]] = s.value()
	table.end, table.indent = s.at, s.before(from)
}

// key takes a key, and the blanks about it.
func (s *surveyor) key() (names []string) {
	for {
		s.skip(false)
		switch s.next() {
		case '"':
			from := s.at
			s.quoted('"')
			name, err := strconv.Unquote(s.src[from:s.at])
			if err != nil {
				s.fail()
			}
			names = append(names, name)
		case '\'':
			from := s.at
			s.quoted('\'')
			names = append(names, s.src[from+1:s.at-1])
		default:
			from := s.at
			for s.at < len(s.src) && !strings.ContainsRune(" \t.=]\n\r\"'", rune(s.src[s.at])) {
				s.at++
			}
			if s.at == from {
				s.fail()
			}
			names = append(names, s.src[from:s.at])
		}
		s.skip(false)
		if s.next() != '.' {
			return names
		}
		s.at++
	}
}

// quoted goes over a text in quotes.
func (s *surveyor) quoted(quote byte) {
	three := strings.Repeat(string(quote), 3)
	long := strings.HasPrefix(s.src[s.at:], three)
	if s.at++; long {
		s.at += 2
	}
	for {
		switch c := s.next(); {
		case c == '\\' && quote == '"':
			s.at += 2
			continue
		case c == quote && !long:
			s.at++
			return
		case long && strings.HasPrefix(s.src[s.at:], three):
			s.at += 3
			for n := 0; n < 2 && s.at < len(s.src) && s.src[s.at] == quote; n++ { // quotes that stand in the text
				s.at++
			}
			return
		}
		s.at++
	}
}

// value takes a value.
func (s *surveyor) value() *place {
	v := &place{from: s.at}
	switch s.next() {
	case '"', '\'':
		s.quoted(s.src[s.at])
	case '[':
		v.kind = aSpan
		s.at++
		for s.skip(true); s.next() != ']'; s.skip(true) {
			v.list = append(v.list, s.value())
			if s.skip(true); s.next() == ',' {
				s.at++
			}
		}
		s.at++
	case '{':
		v.kind, v.members = braced, map[string]*place{}
		s.at++
		v.end = s.at
		for s.skip(true); s.next() != '}'; s.skip(true) {
			s.keyValue(v)
			if s.skip(true); s.next() == ',' {
				s.at++
			}
		}
		s.at++
	default:
		for s.at < len(s.src) && !strings.ContainsRune(",]}#\n\r", rune(s.src[s.at])) {
			s.at++
		}
		s.at = v.from + len(strings.TrimRight(s.src[v.from:s.at], " \t"))
		if s.at == v.from {
			s.fail()
		}
	}
	v.to = s.at
	return v
}
