package torque

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestText bounds a name and a question, in bytes.
const longestText = 500

// checkText refuses what would break a line of a plan or a ledger, or play tricks on
// a terminal.
func checkText(s string) *fault {
	if len(s) > longestText {
		return &fault{found: fmt.Sprintf("a text of %d bytes, %q…", len(s), s[:20]), fix: fmt.Sprintf("write at most %d", longestText)}
	}
	if !utf8.ValidString(s) {
		return &fault{found: fmt.Sprintf("%q, which is not UTF-8", s), fix: "save it as UTF-8"}
	}
	for _, r := range s {
		if !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) {
			return &fault{found: fmt.Sprintf("the character %U in %q", r, s), fix: "write it on one line, without tabs"}
		}
	}
	return nil
}

// checkName checks a name that people write in more than one place: not empty, without
// blanks at its ends, on one line.
func checkName(name, what string) *fault {
	trimmed := strings.TrimFunc(name, unicode.IsSpace)
	if trimmed == "" {
		return &fault{found: what + " without a name", fix: "name it"}
	}
	if e := checkText(name); e != nil {
		return e
	}
	if trimmed != name {
		return &fault{found: fmt.Sprintf("the name %q has a blank at its end, which nobody sees", name),
			fix: fmt.Sprintf("write %q", trimmed)}
	}
	return nil
}

// CheckName returns why a text cannot be a name: it is empty, begins or ends with a blank, is
// longer than 500 bytes, or has a character that is not printed. The error is a *units.Error
// without a place; what says whose name it is: "an engine".
func CheckName(name, what string) error {
	if f := checkName(name, what); f != nil {
		return f.err().(*PlanError).Err
	}
	return nil
}

// Folded returns a name without its blanks and in one case, so that two names that people take
// for one are folded alike.
func Folded(name string) string { return folded(name) }

// folded returns a name without its blanks and with one letter for all of its cases, so
// that names that people take for one are one.
func folded(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return least
	}, name)
}

// alike returns the error for two names that people take for one.
func alike(what, name, other string) *fault {
	return &fault{kind: ErrAlike, found: fmt.Sprintf("%s %q and %s %q differ by case or blanks alone", what, other, what, name),
		fix: "write them alike if they are one; else give one another name"}
}

// meant returns advice on a name that is not there: the one that differs from it by case
// or blanks alone, or else what is given.
func meant(name string, names []string, otherwise string) string {
	for _, n := range names {
		if folded(n) == folded(name) {
			return fmt.Sprintf("write %q", n)
		}
	}
	return otherwise
}
