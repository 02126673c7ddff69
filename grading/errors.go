package grading

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// The kinds of error. A *units.Error or another error wraps one of them, or a kind of
// package purchase.
var (
	ErrScheme    = errors.New("not a scheme that can be used")
	ErrCodes     = errors.New("codes that cannot be used") // too many or too few, unknown, of the other side or another crank, or open to more than one reading
	ErrLocations = errors.New("not the same locations")
	ErrNoFit     = errors.New("not proven inside the limits") // the pair of a cell, or any pair of sizes
	ErrUndecided = errors.New("more than one pair is still possible")
)

func fault(kind error, where, fix, found string, args ...any) error {
	return &units.Error{Kind: kind, Where: where, Found: fmt.Sprintf(found, args...), Fix: fix}
}

func (r Row) fault(fix, found string, args ...any) error {
	return fault(ErrCodes, r.place(), fix, found, args...)
}

// place names the row.
func (r Row) place() string {
	return strings.TrimSpace(fmt.Sprintf("%s codes %q", r.Side, shortened(r.Text)))
}

func (s *Scheme) fault(place, fix, found string, args ...any) error {
	return fault(ErrScheme, fmt.Sprintf("scheme %q, %s", s.Name, place), fix, found, args...)
}

// unknownCode reports a stamped code that is none of those known. location may be
// empty.
func unknownCode(location string, side Side, code string, known []string) error {
	where := string(side) + " code"
	if location != "" {
		where = location + ", " + where
	}
	return fault(ErrCodes, fmt.Sprintf("%s %q", where, code), "write the code as it is stamped, or ? if it cannot be read", "no code of the scheme: it holds %s", orNone(known))
}

// codeCount reports a row with more or fewer codes than there are locations; unknown
// are those among them that the scheme does not hold.
func (r Row) codeCount(codes, unknown, locations []string) error {
	found := fmt.Sprintf("%d codes (%s) for %d locations (%s)", len(codes), orNone(codes), len(locations), orNone(locations))
	var fixes []string
	if len(unknown) > 0 {
		fixes = append(fixes, fmt.Sprintf("the scheme does not hold %s: write the code as it is stamped, or ?", strings.Join(unknown, ", ")))
	}
	switch more := len(codes) - len(locations); {
	case more > 0:
		fixes = append(fixes, "leave out what is no code of a location, such as a mark at the end")
	case more < 0:
		fixes = append(fixes, "write ? in the place of each code that cannot be read")
	}
	return r.fault(strings.Join(fixes, "; "), "%s", found)
}

// otherLocations reports two lists that should name the same locations in the same
// order.
func otherLocations(what string, got []string, than string, wanted []string) error {
	return fault(ErrLocations, "", "name the same ones in the same order", "%s of %s, but %s of %s", what, orNone(got), than, orNone(wanted))
}

// shortened cuts a text that is too long to quote.
func shortened(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

func orNone(words []string) string {
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}
