package units

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// noNumber explains why no number begins at start.
func (s *scanner) noNumber(start int) error {
	s.pos = start
	if s.accept("+", "-", "−") {
		s.space()
	}
	rest := s.rest()
	next, size := utf8.DecodeRuneInString(rest)
	lower := strings.ToLower(rest)
	switch {
	case strings.TrimSpace(s.text) == "":
		return s.fail("nothing", "write a "+s.d.number())
	case rest == "":
		return s.fail("no number", "write a "+s.d.number())
	case strings.HasPrefix(lower, "nan"), strings.HasPrefix(lower, "inf"):
		return s.fail("no finite number", "write a number; a reading that was not taken is left out")
	case next == '+', next == '-', next == '−':
		return s.fail("a second sign", "write one sign")
	case next == '–', next == '—':
		return s.failReplacing("a dash where a minus sign belongs", size, "-")
	case next == '<', next == '>', next == '≤', next == '≥', strings.HasPrefix(rest, "=<"), strings.HasPrefix(rest, "=>"):
		return s.fail("a limit where one value is wanted", "write a "+s.d.number())
	case next == '≈', next == '~':
		return s.fail("a rounded number", "write the exact one, or an interval such as "+s.d.example("2.5 ±0.002"))
	case lookAlike(next, rest[size:]) != "" && followedByNumber(rest[size:]), next == ',' && followedByNumber(rest[size:]):
		return s.misread(s.pos)
	case unicode.IsNumber(next):
		return s.noPlainDigit(next)
	}
	return s.fail("no number", "write a "+s.d.numberFirst())
}

// afterNumber explains what cannot follow the digits that began at start, before
// it is taken for a unit.
func (s *scanner) afterNumber(start int) error {
	rest := s.rest()
	if rest == "" {
		return nil
	}
	next, size := utf8.DecodeRuneInString(rest)
	switch {
	case next == ',' && followedByNumber(rest[size:]),
		lookAlike(next, rest[size:]) != "",
		isSeparator(next) && threeDigits(rest[size:]):
		return s.misread(start)
	case strings.HasPrefix(s.text[s.pos-1:], ".."), strings.HasPrefix(rest, ".."), next == '…':
		return s.fail("an interval where one value is wanted", "write one "+s.d.number())
	case next == '.' && s.fraction.over != nil:
		return s.fail("a stroke and a point in one number", s.d.bothInFull())
	case next == '.' && followedByNumber(rest[size:]):
		return s.fail("a second decimal point", "write one number with one point")
	case (next == '/' || next == '⁄') && !s.unitPerUnit(rest[size:]):
		return s.failStroke(start)
	case unicode.IsNumber(next):
		return s.noPlainDigit(next)
	}
	look := *s
	look.space()
	if look.pos > s.pos && look.pos < s.end && isDigit(look.text[look.pos]) && !s.d.numbered(look.rest()) {
		if threeDigits(look.rest()) {
			return s.misread(start)
		}
		s.pos = look.pos
		return s.fail("a second number", "write one "+s.d.number())
	}
	return nil
}

// unitPerUnit reports whether a stroke behind a pure number begins what somebody
// took for its unit, as in "11.7e-6/K"; the unit's reader has advice on that.
func (s *scanner) unitPerUnit(following string) bool {
	return s.d.bare() && strings.TrimLeft(following, "0123456789. ") == following && following != ""
}

// numbered reports whether text begins with a unit that is spelled with a digit first, as 1/s is.
func (d *dimension) numbered(text string) bool {
	end := 0
	for end < len(text) && (isDigit(text[end]) || text[end] == '/') {
		end++
	}
	for end < len(text) && ('a' <= text[end] && text[end] <= 'z' || 'A' <= text[end] && text[end] <= 'Z') {
		end++
	}
	_, known := d.byKey[text[:end]]
	return known
}

func (s *scanner) noPlainDigit(r rune) error {
	return s.fail(fmt.Sprintf("%q, which is no plain digit", r), "write the digits 0 to 9, and fractions as 1/2")
}

// misread makes the error for a number, begun at start, with something in it at
// pos that only looks like part of a number. It offers what was probably meant.
func (s *scanner) misread(start int) error {
	next, _ := utf8.DecodeRuneInString(s.rest())
	meant, end := s.meant(start)
	if meant == "" {
		return s.fail("a separator where no number has one", "write one number with a point before its decimals and nothing else among its digits")
	}
	what := "a digit separator"
	switch {
	case next == ',' && !strings.ContainsAny(s.text[min(s.pos+1, end):end], ".,"):
		what = "a decimal comma"
	case next == ',':
		what = "a comma between digits"
	case next == 'O' || next == 'o':
		what = "the letter O"
	case unicode.IsLetter(next):
		what = "a letter that looks like 1"
	case unicode.IsSpace(next):
		what = "a space inside a number"
	}
	if end <= s.pos {
		return s.fail(what, "write one number with one point")
	}
	whole := func(number, after string) string { return shorten(strings.TrimSpace(s.text[:start] + number + after)) }
	after := s.text[end:]
	if what == "a decimal comma" {
		after = commas(after, ".") // who writes one decimal comma writes them all
	}
	fix := fmt.Sprintf("write %q", whole(meant, after))
	if digits, thousands := s.maybeThousands(start, end); thousands {
		what = "a comma, which may stand for a point or part thousands"
		fix += fmt.Sprintf(" or %q", whole(digits, commas(s.text[end:], "")))
	}
	return s.fail(what, fix)
}

// commas returns the text with each comma between two digits replaced.
func commas(text, by string) string {
	var b strings.Builder
	for i := range len(text) {
		if text[i] == ',' && i > 0 && i < len(text)-1 && isDigit(text[i-1]) && isDigit(text[i+1]) {
			b.WriteString(by)
		} else {
			b.WriteByte(text[i])
		}
	}
	return b.String()
}

// meant returns what the number begun at start was probably meant to be, and where
// it ends: letters that look like digits changed to them, separators of thousands
// left out, and the last of two kinds of point taken for the decimal one. It is
// empty where the digits stand in no groups that anybody writes.
func (s *scanner) meant(start int) (number string, end int) {
	var runs []string // of digits
	var marks []rune  // between them
	var run []byte
	end = start
loop:
	for end < s.end {
		next, size := utf8.DecodeRuneInString(s.text[end:s.end])
		after := s.text[end+size : s.end]
		digit := lookAlike(next, after)
		switch {
		case isDigit(s.text[end]):
			run = append(run, byte(next))
		case digit != "":
			run = append(run, digit...)
		case (next == '.' || next == ',') && followedByNumber(after),
			(isSeparator(next) || unicode.IsSpace(next)) && threeDigits(after):
			if unicode.IsSpace(next) {
				next = ' '
			}
			runs, marks, run = append(runs, string(run)), append(marks, next), run[:0]
		default:
			break loop
		}
		end += size
	}
	return grouped(append(runs, string(run)), marks), end
}

// grouped writes the runs of digits, parted by the marks, as one plain number:
// groups of three in front of the decimals, all parted by the same mark, and groups
// of three among the decimals parted by spaces. It is empty if they are not that.
func grouped(runs []string, marks []rune) string {
	point := len(marks) // the mark that stands before the decimals
	for i, m := range marks {
		if (m == '.' || m == ',') && onlySpaces(marks[i+1:]) && (i == 0 || m != marks[i-1]) {
			point = i
		}
	}
	if len(marks) == 1 && point == 0 && runs[0] == "" {
		return "0." + runs[1]
	}
	whole := runs[:min(point+1, len(runs))]
	for i, group := range whole {
		switch {
		case len(whole) == 1 && group != "":
		case i == 0 && (group == "" || len(group) > 3 || group[0] == '0'), i > 0 && (len(group) != 3 || marks[i-1] != marks[0]):
			return ""
		}
	}
	if point >= len(marks) {
		return strings.Join(whole, "")
	}
	decimals := runs[point+1:]
	for _, group := range decimals {
		if len(decimals) > 1 && len(group) != 3 {
			return ""
		}
	}
	return strings.Join(whole, "") + "." + strings.Join(decimals, "")
}

func onlySpaces(marks []rune) bool {
	for _, m := range marks {
		if m != ' ' {
			return false
		}
	}
	return true
}

// maybeThousands reports whether the number may as well be a whole one whose one
// comma parts the thousands, and returns its digits.
func (s *scanner) maybeThousands(start, end int) (digits string, ok bool) {
	whole, rest, comma := strings.Cut(s.text[start:end], ",")
	if !comma || whole == "" || len(whole) > 3 || whole[0] == '0' || len(rest) != 3 {
		return "", false
	}
	for _, c := range []byte(whole + rest) {
		if !isDigit(c) {
			return "", false
		}
	}
	return whole + rest, true
}

// lookAlike returns the digit that the letter looks like, if the letter cannot
// begin a unit before what follows it.
func lookAlike(r rune, following string) string {
	switch {
	case (r == 'O' || r == 'o') && (following == "" || !strings.ContainsRune("zuZU", rune(following[0]))):
		return "0"
	case r == 'I' && (following == "" || following[0] == ' ' || followedByNumber(following)), r == 'l' && followedByNumber(following):
		return "1"
	}
	return ""
}

// followedByNumber reports whether the text goes on as a number does.
func followedByNumber(text string) bool {
	text = strings.TrimLeft(text, ".,")
	return text != "" && (isDigit(text[0]) || text[0] == 'O' || text[0] == 'o')
}

// isSeparator reports whether r is used to part thousands, white space apart.
func isSeparator(r rune) bool { return r == '_' || r == '\'' || r == '’' }

// threeDigits reports whether the text begins with three digits and no more.
func threeDigits(text string) bool {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	return n == 3
}
