package fasteners

import (
	"errors"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// ErrImpossible is the kind of every error about an impossible thread, class, bolt or
// joint. A *units.Error wraps it and says which.
var ErrImpossible = errors.New("not possible")

func impossible(where, found, fix string) error {
	return &units.Error{Kind: ErrImpossible, Where: where, Found: found, Fix: fix}
}

func threadError(text, found, fix string) error {
	return impossible("thread "+quoted(text), found, fix)
}

// notWritten reports text that is not of the exchange form.
func notWritten(where, found, fix string) error {
	return &units.Error{Kind: units.ErrNotWritten, Where: where, Found: found, Fix: fix}
}

// quoted returns a text as an error shows it, cut if it is long.
func quoted(s string) string {
	if len(s) > maxDesignation {
		s = strings.ToValidUTF8(s[:maxDesignation], "") + "…"
	}
	return strconv.Quote(s)
}
