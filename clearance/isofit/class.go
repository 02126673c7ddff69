package isofit

import (
	"regexp"
	"strings"
)

// A Class is a tolerance class: the letter of a fundamental deviation and a
// grade, "H7" for a hole or "g6" for a shaft. A Class is a value that can be
// compared with ==. The zero Class is no class: parse one.
type Class struct {
	letter string // in small letters
	grade  Grade
	hole   bool
}

// gradeFirst is a class the wrong way round.
var gradeFirst = regexp.MustCompile(`^(\d{1,2})(\pL{1,2})$`)

// ParseClass reads "H7" or "g6". Capitals are holes, small letters shafts. The
// error is an *Error of kind ErrSyntax, ErrLetter or ErrGrade.
func ParseClass(s string) (Class, error) {
	text := strings.TrimSpace(s)
	if len(text) > maxText {
		return Class{}, wrong(ErrSyntax, shorten(text), "no tolerance class", `write a letter and a grade, such as "H7"`)
	}
	end := strings.IndexFunc(text, func(r rune) bool { return '0' <= r && r <= '9' })
	if m := gradeFirst.FindStringSubmatch(text); m != nil && isLetter(m[2]) && isGrade(m[1]) {
		return Class{}, wrong(ErrSyntax, text, "the grade before its letter", `write "`+m[2]+m[1]+`"`)
	}
	if end == 0 {
		if !isGrade(text) {
			return Class{}, wrong(ErrSyntax, text, "no tolerance class", `write a letter and a grade, such as "H7"`)
		}
		return Class{}, wrong(ErrSyntax, text, "a grade without its letter", `write the letter first: "H`+text+`" for a hole, "h`+text+`" for a shaft`)
	}
	letter, grade := text, ""
	if end > 0 {
		letter, grade = strings.TrimSpace(text[:end]), text[end:]
	}
	small := strings.ToLower(letter)
	if !isLetter(letter) {
		return Class{}, wrongLetter(text, small)
	}
	if grade == "" {
		return Class{}, wrong(ErrGrade, text, "a letter without its grade", `write the grade behind it, such as "`+letter+`7"`)
	}
	g, err := ParseGrade(grade)
	if err != nil {
		if short := strings.TrimLeft(grade, "0"); short != grade && short != "1" && isGrade(short) { // 001 may be 01
			return Class{}, wrong(ErrGrade, text, grade+" is no standard tolerance grade", `write "`+letter+short+`"`)
		}
		return Class{}, wrong(ErrGrade, text, grade+" is no standard tolerance grade", "write 01, 0 or a whole number from 1 to 18")
	}
	if letter != small && letter != strings.ToUpper(letter) {
		return Class{}, wrong(ErrSyntax, text, "a capital and a small letter together",
			`write "`+strings.ToUpper(letter)+grade+`" for a hole or "`+small+grade+`" for a shaft`)
	}
	return Class{letter: small, grade: g, hole: letter != small}, nil
}

// wrongLetter explains a letter that stands for no fundamental deviation here.
func wrongLetter(text, small string) error {
	all := "write one of " + strings.Join(letters(), " ") + ", in capitals for a hole"
	switch small {
	case "i", "l", "o", "q", "w":
		return wrong(ErrLetter, text, "the standard leaves out I, L, O, Q and W, which read like other letters", all)
	case "cd", "ef", "fg":
		return wrong(ErrLetter, text, small+", an intermediate letter of fine mechanics, is not held here", "write one of its neighbours, "+small[:1]+" or "+small[1:])
	}
	return wrong(ErrLetter, text, "no letter of a fundamental deviation before a grade", all)
}

// MustParseClass is ParseClass for literals in programs and tests; it panics on
// an error.
func MustParseClass(s string) Class {
	c, err := ParseClass(s)
	if err != nil {
		panic("isofit: " + err.Error())
	}
	return c
}

// IsHole reports whether the class is a hole's.
func (c Class) IsHole() bool { return c.hole }

// Grade returns the standard tolerance grade.
func (c Class) Grade() Grade { return c.grade }

// Letter returns the letter of the fundamental deviation as it is written: "H",
// "js".
func (c Class) Letter() string { return c.letterShown() }

func (c Class) letterShown() string {
	if c.hole {
		return strings.ToUpper(c.letter)
	}
	return c.letter
}

// String returns "H7".
func (c Class) String() string { return c.letterShown() + c.grade.digits() }

func (c Class) withGrade(g Grade) Class {
	c.grade = g
	return c
}
