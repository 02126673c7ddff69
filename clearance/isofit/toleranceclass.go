package isofit

import (
	"regexp"
	"strings"

	"example.com/closefit/units"
)

// A ToleranceClass is the letter of a fundamental deviation with a grade, "H7" for a
// hole or "g6" for a shaft. It is a value that can be compared with ==. The zero
// ToleranceClass is no class: parse one.
type ToleranceClass struct {
	letter string // in small letters
	grade  grade
	hole   bool
}

// gradeFirst is a class the wrong way round.
var gradeFirst = regexp.MustCompile(`^(\d{1,2})(\pL{1,2})$`)

// ParseToleranceClass reads "H7" or "g6". Capitals are holes, small letters shafts. The
// error is of kind [ErrSyntax], or [ErrNotGiven] for the intermediate letters cd, ef, fg.
func ParseToleranceClass(s string) (ToleranceClass, error) {
	text := strings.TrimSpace(s)
	if len(text) > maxText {
		return ToleranceClass{}, wrong(ErrSyntax, text, "no tolerance class", `write a letter and a grade, such as "H7"`)
	}
	end := strings.IndexFunc(text, func(r rune) bool { return '0' <= r && r <= '9' })
	if m := gradeFirst.FindStringSubmatch(text); m != nil && isLetter(m[2]) && isGrade(m[1]) {
		return ToleranceClass{}, wrong(ErrSyntax, text, "the grade before its letter", `write "`+m[2]+m[1]+`"`)
	}
	if end == 0 {
		if !isGrade(text) {
			return ToleranceClass{}, wrong(ErrSyntax, text, "no tolerance class", `write a letter and a grade, such as "H7"`)
		}
		return ToleranceClass{}, wrong(ErrSyntax, text, "a grade without its letter", `write the letter first: "H`+text+`" for a hole, "h`+text+`" for a shaft`)
	}
	letter, digits := text, ""
	if end > 0 {
		letter, digits = strings.TrimSpace(text[:end]), text[end:]
	}
	small := strings.ToLower(letter)
	if !isLetter(letter) {
		return ToleranceClass{}, wrongLetter(text, small)
	}
	if digits == "" {
		return ToleranceClass{}, wrong(ErrSyntax, text, "a letter without its grade", `write the grade behind it, such as "`+letter+`7"`)
	}
	g, ok := parseGrade(digits)
	if !ok {
		fix := "write 01, 0 or a whole number from 1 to 18"
		if short := strings.TrimLeft(digits, "0"); short != digits && short != "1" && isGrade(short) { // 001 may be 01
			fix = `write "` + letter + short + `"`
		}
		return ToleranceClass{}, wrong(ErrSyntax, text, digits+" is no standard tolerance grade", fix)
	}
	if letter != small && letter != strings.ToUpper(letter) {
		return ToleranceClass{}, wrong(ErrSyntax, text, "a capital and a small letter together",
			`write "`+strings.ToUpper(letter)+digits+`" for a hole or "`+small+digits+`" for a shaft`)
	}
	return ToleranceClass{letter: small, grade: g, hole: letter != small}, nil
}

// wrongLetter explains a letter that stands for no fundamental deviation here.
func wrongLetter(text, small string) error {
	all := "write one of " + strings.Join(letters(), " ") + ", in capitals for a hole"
	switch small {
	case "i", "l", "o", "q", "w":
		return wrong(ErrSyntax, text, "the standard leaves out I, L, O, Q and W, which read like other letters", all)
	case "cd", "ef", "fg":
		return wrong(ErrNotGiven, text, small+", an intermediate letter of fine mechanics, is not held here", "write one of its neighbours, "+small[:1]+" or "+small[1:])
	}
	return wrong(ErrSyntax, text, "no letter of a fundamental deviation before a grade", all)
}

func (c ToleranceClass) letterShown() string {
	if c.hole {
		return strings.ToUpper(c.letter)
	}
	return c.letter
}

// String returns "H7".
func (c ToleranceClass) String() string {
	if c.letter == "" {
		return "no tolerance class"
	}
	return c.letterShown() + c.grade.digits()
}

// MarshalText returns String. The error, of kind [ErrSyntax], is for the zero
// ToleranceClass.
func (c ToleranceClass) MarshalText() ([]byte, error) {
	if c.letter == "" {
		return nil, noClassGiven("tolerance class")
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads what ParseToleranceClass does.
func (c *ToleranceClass) UnmarshalText(text []byte) error {
	return readText(c, ParseToleranceClass, text)
}

// noClassGiven is the error of a zero value.
func noClassGiven(what string) error {
	return &units.Error{Kind: ErrSyntax, Where: what, Found: "none was given", Fix: "parse one, such as H7"}
}

func (c ToleranceClass) withGrade(g grade) ToleranceClass {
	c.grade = g
	return c
}
