package walk

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/closefit/examples/kit/page"
)

// A screen shows text within its columns, and takes one line at a time.
type screen struct {
	out     io.Writer
	lines   <-chan string // closed when the input has ended
	columns int
	clear   bool // the screen can be cleared
}

// newScreen reads lines from in until it ends.
func newScreen(in io.Reader, out io.Writer, columns int, clear bool) *screen {
	lines := make(chan string)
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(in); s.Scan(); {
			lines <- strings.TrimSpace(s.Text())
		}
	}()
	return &screen{out, lines, columns, clear}
}

func (s *screen) print(format string, args ...any) { fmt.Fprintf(s.out, format, args...) }

// wipe begins a new picture.
func (s *screen) wipe() {
	if s.clear {
		s.print("\x1b[2J\x1b[H") // ECMA-48
	} else {
		s.print("%s\n", strings.Repeat("-", s.columns))
	}
}

// say prints a text, each of its lines within the columns.
func (s *screen) say(format string, args ...any) {
	for _, line := range strings.Split(fmt.Sprintf(format, args...), "\n") {
		s.hang(line[:len(line)-len(strings.TrimLeft(line, " "))], line)
	}
}

// hang prints a text behind a mark, under which nothing else stands.
func (s *screen) hang(mark, text string) {
	wide := utf8.RuneCountInString(mark)
	lines := page.Wrap(text, max(8, s.columns-wide))
	if len(lines) == 0 {
		s.print("\n")
	}
	for _, line := range lines {
		s.print("%s%s\n", mark, line)
		mark = strings.Repeat(" ", wide)
	}
}

// A choice is an answer that may be typed, and what it means.
type choice struct{ key, means string }

// ask shows what may be answered, and returns what was typed; ok is false when the input has
// ended.
func (s *screen) ask(choices ...choice) (answer string, ok bool) {
	const most = 8 // of a key beside its meaning
	wide := 1
	for _, c := range choices {
		if n := utf8.RuneCountInString(c.key); n <= most {
			wide = max(wide, n)
		}
	}
	for _, c := range choices {
		if utf8.RuneCountInString(c.key) > most {
			s.hang(" ", c.key)
			c.key = ""
		}
		s.hang(fmt.Sprintf(" %-*s  ", wide, c.key), c.means)
	}
	return s.typed()
}

// typed returns the next line that is typed.
func (s *screen) typed() (answer string, ok bool) {
	s.print("> ")
	answer, ok = <-s.lines
	if !ok {
		s.print("\n")
	}
	return answer, ok
}

// wait returns the next line that is typed before the time is over; late is true if none was.
func (s *screen) wait(most time.Duration) (answer string, ok, late bool) {
	timer := time.NewTimer(most)
	defer timer.Stop()
	select {
	case answer, ok = <-s.lines:
		return answer, ok, false
	case <-timer.C:
		return "", true, true
	}
}

// big prints a text in large letters, or, where they would take more rows or have a letter that
// there is none of, in capitals.
func (s *screen) big(text string, rows int) {
	if lines := large(text, s.columns); len(lines) <= rows*bigRow && drawable(text) {
		s.print("%s\n", strings.Join(lines, "\n"))
		return
	}
	s.say("%s", "=== "+strings.ToUpper(text)+" ===")
	s.print("\n")
}

// bigRow is how many lines a row of large letters takes.
const bigRow = 6
