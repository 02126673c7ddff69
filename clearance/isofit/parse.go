package isofit

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/closefit/units"
)

// maxText bounds what is read, in bytes.
const maxText = 128

// ParseDesignation reads a nominal size, the class of a hole and the class of a shaft:
// "55 H7/g6", "Ø55 H7/g6", "55 mm H7/g6", "2 1/2 in H7/g6". A size without a unit is in
// millimetres, as the standard's designations are. The error is of kind [ErrSyntax] or
// [ErrNotGiven], or one of package units for a size that cannot be read. Its advice is a
// whole text that can replace s.
func ParseDesignation(s string) (Designation, error) {
	text, err := cleaned(s)
	if err != nil {
		return Designation{}, err
	}
	if m := gradesFirst.FindStringSubmatch(text); m != nil && isLetter(m[3]) && isLetter(m[5]) {
		return Designation{}, wrong(ErrSyntax, text, "the grades before their letters", `write "`+m[1]+" "+m[3]+m[2]+"/"+m[5]+m[4]+`"`)
	}
	front, shaft, ok := cutClass(text)
	if !ok {
		return Designation{}, noClass(text)
	}
	rest, stroke := strings.CutSuffix(front, "/")
	if !stroke {
		if rest := strings.TrimRight(front, ` -,;|\`); endsWithClass(rest) && !exponent.MatchString(rest) {
			return Designation{}, wrong(ErrSyntax, text, "no stroke between the classes", `write "`+rest+"/"+shaft+`"`)
		}
		return Designation{}, wrong(ErrSyntax, text, "no hole with a shaft", `write both classes with a stroke between them, such as "55 H7/g6"`)
	}
	size, hole, ok := cutClass(strings.TrimSpace(rest))
	if !ok {
		return Designation{}, wrong(ErrSyntax, text, "no class of a hole before the stroke", `write a capital letter and a grade before it, such as "55 H7/g6"`)
	}
	nominal, err := parseNominal(size)
	if err != nil {
		return Designation{}, inFull(err, text, "", " "+hole+"/"+shaft)
	}
	h, err := ParseToleranceClass(hole)
	if err != nil {
		return Designation{}, inFull(err, text, size+" ", "/"+shaft)
	}
	sh, err := ParseToleranceClass(shaft)
	if err != nil {
		return Designation{}, inFull(err, text, size+" "+hole+"/", "")
	}
	if !h.hole || sh.hole {
		return Designation{}, inFull(mates(h, sh), text, size+" ", "")
	}
	var d Designation
	if d.hole, err = NewSize(nominal, h); err == nil {
		d.shaft, err = NewSize(nominal, sh)
	}
	if err != nil {
		return Designation{}, err
	}
	return d, nil
}

// ParseSize reads a nominal size and a tolerance class: "55 H7". It reads the nominal
// size, and returns errors, as ParseDesignation does.
func ParseSize(s string) (Size, error) {
	text, err := cleaned(s)
	if err != nil {
		return Size{}, err
	}
	size, class, ok := cutClass(text)
	m := lastGradeFirst.FindStringSubmatch(text)
	switch {
	case m != nil && isLetter(m[3]):
		return Size{}, wrong(ErrSyntax, text, "the grade before its letter", `write "`+m[1]+" "+m[3]+m[2]+`"`)
	case !ok:
		return Size{}, noClass(text)
	case endsWithClass(strings.TrimRight(size, ` -,;|/\`)) && !exponent.MatchString(size):
		return Size{}, wrong(ErrSyntax, text, "two classes where one belongs", `write one, such as "55 H7"`)
	case strings.HasSuffix(size, "/"):
		return Size{}, wrong(ErrSyntax, text, "a stroke before the class", `write the class of one part, such as "55 H7"`)
	case exponent.MatchString(text) && exponent.FindStringIndex(text)[1] == len(text):
		return Size{}, wrong(ErrSyntax, text, "a class or a number with an exponent", `write "`+size+" "+class+`" for the class, or the number without an exponent and its class`)
	}
	nominal, err := parseNominal(size)
	if err != nil {
		return Size{}, inFull(err, text, "", " "+class)
	}
	c, err := ParseToleranceClass(class)
	if err != nil {
		return Size{}, inFull(err, text, size+" ", "")
	}
	return NewSize(nominal, c)
}

// readText reads a text into a value, which stays as it was where there is an error.
func readText[T any](into *T, parse func(string) (T, error), text []byte) error {
	read, err := parse(string(text))
	if err == nil {
		*into = read
	}
	return err
}

// cleaned returns a text without blanks and diameter signs around it, with the
// stroke of a keyboard.
func cleaned(s string) (string, error) {
	text := strings.TrimSpace(s)
	if len(text) > maxText || !utf8.ValidString(text) {
		return "", wrong(ErrSyntax, text, "no fit", `write a size and its classes, such as "55 H7/g6"`)
	}
	return strings.TrimSpace(strings.TrimLeft(strings.ReplaceAll(text, "⁄", "/"), "⌀Øø∅")), nil
}

var (
	// lastClass is a class at the end of a text: the whole of a run of letters, so
	// that a unit before it needs a blank between, and a grade, which may be missing.
	lastClass = regexp.MustCompile(`^(?s)(.*?)(\pL+)\s*(\d*)$`)

	// exponent is what reads like a power of ten and like a class.
	exponent = regexp.MustCompile(`[\d.][eE][+-]?\d+`)

	// gradesFirst and lastGradeFirst are classes the wrong way round, behind a size.
	gradesFirst    = regexp.MustCompile(`^(.*\S)\s+(\d{1,2})(\pL{1,2})\s*/\s*(\d{1,2})(\pL{1,2})$`)
	lastGradeFirst = regexp.MustCompile(`^(.*\S)\s+(\d{1,2})(\pL{1,2})$`)

	quoted = regexp.MustCompile(`"([^"]+)"`)
)

// cutClass cuts the class off the end of a text.
func cutClass(text string) (front, class string, ok bool) {
	m := lastClass.FindStringSubmatch(text)
	if m == nil || m[3] == "" && !isLetter(m[2]) {
		return "", "", false
	}
	return strings.TrimSpace(m[1]), m[2] + m[3], true
}

// endsWithClass reports whether a text ends with a letter and a grade.
func endsWithClass(text string) bool {
	m := lastClass.FindStringSubmatch(text)
	return m != nil && m[3] != "" && isLetter(m[2])
}

// isLetter reports whether a text is the letter of a fundamental deviation.
func isLetter(s string) bool { return slices.Contains(letters(), strings.ToLower(s)) }

// isGrade reports whether a text is the number of a standard tolerance grade.
func isGrade(s string) bool {
	_, ok := parseGrade(s)
	return ok
}

// noClass explains a text that does not end with a class.
func noClass(text string) error {
	const example = `such as "55 H7/g6"`
	_, asNumber := units.ParseLength(text + " mm")
	_, asLength := units.ParseLength(text)
	switch {
	case asNumber == nil || asLength == nil:
		return wrong(ErrSyntax, text, "a nominal size without a tolerance class", `write the class behind it, such as "`+text+` H7"`)
	case text == "" || text[0] < '0' || text[0] > '9':
		return wrong(ErrSyntax, text, "no nominal size in front", "write the size first, "+example)
	}
	return wrong(ErrSyntax, text, "no tolerance class at the end", "write a letter and a grade behind the size and its unit, "+example)
}

// parseNominal reads a nominal size, which without a unit is in millimetres.
func parseNominal(text string) (units.Length, error) {
	switch {
	case text == "":
		return units.Length{}, wrong(ErrSyntax, text, "no nominal size in front", `write the size first, such as "55"`)
	case exponent.MatchString(text):
		return units.Length{}, wrong(ErrSyntax, text, "a size with an exponent, which reads like a class", "write the size without it")
	}
	if last := text[len(text)-1]; last >= '0' && last <= '9' || last == '.' {
		if strings.Contains(text, "/") {
			return units.Length{}, wrong(ErrSyntax, text, "a fraction without a unit", `write it in inches, "`+text+` in", or as a decimal number of millimetres`)
		}
		text += " mm"
	}
	return units.ParseLength(text)
}

// inFull returns the error of a part of a text, with what it says to write put
// between what stands before and behind the part.
func inFull(err error, text, before, behind string) error {
	part, ok := errors.AsType[*units.Error](err)
	if !ok {
		return err
	}
	full := *part
	full.Where, full.Column = quote(text), 0
	if !strings.Contains(before+behind, `"`) {
		full.Fix = quoted.ReplaceAllStringFunc(full.Fix, func(q string) string {
			return `"` + before + q[1:len(q)-1] + behind + `"`
		})
	}
	return &full
}

// number writes a nominal size with every digit, in mm without the unit where it has an
// end as a decimal there.
func number(q units.Length) string {
	text := q.Exact()
	if mm, ok := strings.CutSuffix(text, " mm"); ok && !strings.HasPrefix(mm, "(") {
		return mm
	}
	return text
}
