package fasteners

import (
	"strings"
	"unicode/utf8"
)

// A pattern is what a part of a designation may look like. It tries its readings from a place on,
// the one that it prefers first, and calls then with the place where each ends, until one succeeds:
// a regular expression as a function, without the package regexp, whose tables of characters are
// larger than all that this package does.
type pattern func(m *reading, from int, then func(at int) bool) bool

// A reading is a text with the parts of it that were asked for, by their numbers; from and to are zero
// for a part that is not there.
type reading struct {
	text  string
	parts [9]struct{ from, to int }
}

// read returns the parts of a text that has the pattern from beginning to end; at 0 is all of it.
func (f pattern) read(s string) (parts []string, ok bool) {
	m := reading{text: s}
	if !f(&m, 0, m.ends) {
		return nil, false
	}
	parts = []string{s}
	for _, p := range m.parts[1:] {
		parts = append(parts, s[p.from:p.to])
	}
	return parts, true
}

// without returns a text without the longest part at its end that has the pattern; ok is false if
// there is none.
func (f pattern) without(s string) (rest string, ok bool) {
	for at := range s {
		m := reading{text: s}
		if f(&m, at, m.ends) {
			return s[:at], true
		}
	}
	return s, false
}

// ends succeeds at the end of the text.
func (m *reading) ends(at int) bool { return at == len(m.text) }

// one is a character for which is holds.
func one(is func(r rune) bool) pattern {
	return func(m *reading, from int, then func(int) bool) bool {
		if from == len(m.text) {
			return false
		}
		r, size := utf8.DecodeRuneInString(m.text[from:])
		return is(r) && then(from+size)
	}
}

// of is one of these characters.
func of(characters string) pattern {
	return one(func(r rune) bool { return r != utf8.RuneError && strings.ContainsRune(characters, r) })
}

// word is this text.
func word(text string) pattern {
	return func(m *reading, from int, then func(int) bool) bool {
		return strings.HasPrefix(m.text[from:], text) && then(from+len(text))
	}
}

// seq is patterns one after the other.
func seq(patterns ...pattern) pattern {
	return func(m *reading, from int, then func(int) bool) bool {
		next := then
		for i := len(patterns) - 1; i >= 0; i-- {
			f, after := patterns[i], next
			next = func(at int) bool { return f(m, at, after) }
		}
		return next(from)
	}
}

// either is the first of the patterns that leads on.
func either(patterns ...pattern) pattern {
	return func(m *reading, from int, then func(int) bool) bool {
		for _, f := range patterns {
			if f(m, from, then) {
				return true
			}
		}
		return false
	}
}

// many is a pattern at least so many times and at most so many, preferably often. most 0 is no bound.
func many(f pattern, least, most int) pattern {
	var from func(m *reading, n, at int, then func(int) bool) bool
	from = func(m *reading, n, at int, then func(int) bool) bool {
		again := func(next int) bool { return next > at && from(m, n+1, next, then) }
		return (most == 0 || n < most) && f(m, at, again) || n >= least && then(at)
	}
	return func(m *reading, at int, then func(int) bool) bool { return from(m, 0, at, then) }
}

// few is a pattern any number of times, preferably seldom.
func few(f pattern) pattern {
	return func(m *reading, from int, then func(int) bool) bool {
		return then(from) || f(m, from, func(at int) bool { return at > from && few(f)(m, at, then) })
	}
}

// maybe is patterns one after the other, or nothing.
func maybe(patterns ...pattern) pattern { return many(seq(patterns...), 0, 1) }

// part is patterns one after the other as a part of the reading with a number.
func part(n int, patterns ...pattern) pattern {
	f := seq(patterns...)
	return func(m *reading, from int, then func(int) bool) bool {
		before := m.parts[n]
		if f(m, from, func(at int) bool {
			m.parts[n].from, m.parts[n].to = from, at
			return then(at)
		}) {
			return true
		}
		m.parts[n] = before
		return false
	}
}

// digits is at least so many digits and at most so many.
func digits(least, most int) pattern { return many(of("0123456789"), least, most) }
