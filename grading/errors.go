package grading

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// The kinds of error, for errors.Is. The struct that wraps each holds the place.
var (
	ErrHalf    = errors.New("no such half")
	ErrNoGrade = errors.New("no grade")

	ErrUnknownCode = errors.New("no scheme holds the code")                      // *CodeError
	ErrCodeCount   = errors.New("codes and locations do not match in number")    // *CountError
	ErrNoCodes     = errors.New("no codes")                                      // *RowError
	ErrSide        = errors.New("codes of the wrong side")                       // *RowError
	ErrDirection   = errors.New("it is not clear where the row begins")          // *RowError
	ErrOldStamps   = errors.New("the stamps are not of the crank as it is")      // *RowError
	ErrLocations   = errors.New("not the same locations")                        // *LocationsError, *RowError
	ErrAmbiguous   = errors.New("the row can be read in more than one way")      // *AmbiguousError
	ErrHole        = errors.New("no shell for a pair of codes")                  // *SchemeError
	ErrRule        = errors.New("no such rule")                                  // *SchemeError
	ErrNoShell     = errors.New("no such shell")                                 // *SchemeError
	ErrTwoWalls    = errors.New("one shell with two walls")                      // *SchemeError
	ErrSize        = errors.New("not a size")                                    // *SchemeError
	ErrNoFamily    = errors.New("no such undersize family")                      // *SchemeError
	ErrUndersize   = errors.New("not an undersize")                              // *SchemeError
	ErrNotGround   = errors.New("it is not said whether the crank was ground")   // *SchemeError
	ErrUnused      = errors.New("not used by the rule")                          // *SchemeError
	ErrNoLimits    = errors.New("no limits")                                     // *SchemeError
	ErrOutside     = errors.New("the scheme does not keep the clearance inside") // *SchemeError
	ErrNoFit       = errors.New("no pair is proven inside the limits")           // *NoFitError
	ErrUndecided   = errors.New("more than one pair is still possible")          // *UndecidedError

	ErrText = errors.New("not a scheme's text") // *TextError

	ErrDuplicate = purchase.ErrDuplicate // *SchemeError
	ErrTooLarge  = purchase.ErrTooLarge  // *SchemeError, or wrapped with the number
)

// A CodeError is a stamped code that the scheme does not hold.
type CodeError struct {
	Location string   // "main 3"; empty if the code was asked for alone
	Side     Side     // whose code it is
	Code     string   // as stamped
	Known    []string // the codes that the scheme holds
}

func (e *CodeError) Error() string {
	where := e.Side.String() + " code"
	if e.Location != "" {
		where = e.Location + ", " + where
	}
	return fmt.Sprintf("%s %q: %v; it holds %s", where, e.Code, ErrUnknownCode, orNone(e.Known))
}

// Unwrap returns ErrUnknownCode.
func (e *CodeError) Unwrap() error { return ErrUnknownCode }

// A CountError is a row with more or fewer codes than there are locations.
type CountError struct {
	Row       string   // the row as stamped, or what it is called
	Side      Side     // whose codes they are
	Codes     []string // as read
	Unknown   []string // those among them that the scheme does not hold
	Locations []string
}

func (e *CountError) Error() string {
	s := fmt.Sprintf("%s codes %q: %d codes (%s) for %d locations (%s): %v", e.Side, e.Row,
		len(e.Codes), orNone(e.Codes), len(e.Locations), orNone(e.Locations), ErrCodeCount)
	if len(e.Unknown) > 0 {
		s += fmt.Sprintf("; the scheme does not hold %s: write the code as it is stamped, or ?", strings.Join(e.Unknown, ", "))
	}
	switch more := len(e.Codes) - len(e.Locations); {
	case more > 0:
		return s + "; leave out what is no code of a location, such as a mark at the end"
	case more < 0:
		return s + "; write ? in the place of each code that cannot be read"
	}
	return s
}

// Unwrap returns ErrCodeCount.
func (e *CountError) Unwrap() error { return ErrCodeCount }

// A RowError is a row of codes that cannot be used as it was given.
type RowError struct {
	Row  string // as stamped
	Side Side   // whose codes they are
	What string // what was found, and what to write
	Kind error
}

func (e *RowError) Error() string {
	return fmt.Sprintf("%s codes %q: %v: %s", e.Side, e.Row, e.Kind, e.What)
}

// Unwrap returns the error's kind.
func (e *RowError) Unwrap() error { return e.Kind }

func (r Row) errorf(kind error, format string, args ...any) error {
	return &RowError{Row: shortened(r.Text), Side: r.Side, Kind: kind, What: fmt.Sprintf(format, args...)}
}

// shortened cuts a text that is too long to quote.
func shortened(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// A LocationsError is two lists that should name the same locations in the same
// order.
type LocationsError struct {
	What, Than string   // what the lists are of: "journal codes", "housing codes"
	Got, Want  []string // the locations of each
}

func (e *LocationsError) Error() string {
	return fmt.Sprintf("%s of %s, but %s of %s: %v; name the same ones in the same order", e.What, orNone(e.Got), e.Than, orNone(e.Want), ErrLocations)
}

// Unwrap returns ErrLocations.
func (e *LocationsError) Unwrap() error { return ErrLocations }

// An AmbiguousError is a row of codes that stand close together and can be
// divided in more than one way.
type AmbiguousError struct {
	Row  string
	Ways [][]string // two of them
}

func (e *AmbiguousError) Error() string {
	return fmt.Sprintf("%q: %v: %s, or %s; write it with spaces between the codes, and ? in the place of each that cannot be read", e.Row, ErrAmbiguous,
		strings.Join(e.Ways[0], " "), strings.Join(e.Ways[1], " "))
}

// Unwrap returns ErrAmbiguous.
func (e *AmbiguousError) Unwrap() error { return ErrAmbiguous }

// A SchemeError is a scheme that says nothing, or two things, or nonsense.
type SchemeError struct {
	Scheme string // its name
	Place  string // "housing A, journal 2"; "shell red upper"
	What   string // what was found, and what to write
	Kind   error
}

func (e *SchemeError) Error() string {
	return fmt.Sprintf("scheme %q, %s: %v: %s", e.Scheme, e.Place, e.Kind, e.What)
}

// Unwrap returns the error's kind.
func (e *SchemeError) Unwrap() error { return e.Kind }

func (s *Scheme) errorf(kind error, place, format string, args ...any) error {
	return &SchemeError{Scheme: s.Name, Place: place, Kind: kind, What: fmt.Sprintf(format, args...)}
}

// An UndecidedError is a location whose codes leave more than one pair, where
// one is needed.
type UndecidedError struct {
	Location string
	Pairs    []Pair
	Why      []string // as in Assignment
}

func (e *UndecidedError) Error() string {
	texts := make([]string, len(e.Pairs))
	for i, p := range e.Pairs {
		texts[i] = p.String()
	}
	text := fmt.Sprintf("%s: %v (%s)", e.Location, ErrUndecided, strings.Join(texts, "; "))
	if len(e.Why) > 0 {
		return text + ": " + strings.Join(e.Why, "; ")
	}
	return text + "; find the code, or measure and select from sizes"
}

// Unwrap returns ErrUndecided.
func (e *UndecidedError) Unwrap() error { return ErrUndecided }

// A NoFitError is a location in which no pair is proven inside the limits.
type NoFitError struct {
	Location string
	Limits   units.LengthInterval
	Nearest  Fit // the pair nearest to the wanted clearance
}

func (e *NoFitError) Error() string {
	s := e.Location + ": " + ErrNoFit.Error()
	if e.Nearest.Pair == (Pair{}) {
		return s
	}
	s += fmt.Sprintf("; nearest is %s with %s against %s, %s", e.Nearest.Pair, e.Nearest.Clearance, e.Limits, e.Nearest.Verdict)
	if e.Nearest.Verdict == clearance.Undecided {
		return s + ": measure better"
	}
	return s + ": no listed part fits, look for another or have the part machined"
}

// Unwrap returns ErrNoFit.
func (e *NoFitError) Unwrap() error { return ErrNoFit }

func orNone(words []string) string {
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}
