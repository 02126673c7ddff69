package fasteners

import (
	"errors"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// The kinds of bad input. A *units.Error wraps one of them.
var (
	ErrThread = errors.New("not a thread")         // an unknown or impossible thread
	ErrClass  = errors.New("no such class")        // a class or grade that is unknown, or that the thread does not have
	ErrJoint  = errors.New("not a possible joint") // a joint that cannot be
)

func threadError(text, found, fix string) error {
	return &units.Error{Kind: ErrThread, Where: "thread " + quoted(text), Found: found, Fix: fix}
}

// classError reports a class, of what and asked for which thread, if that matters.
func classError(what, class, thread, fix string) error {
	if thread != "" {
		what += " for " + thread
	}
	return &units.Error{Kind: ErrClass, Where: what, Found: quoted(class), Fix: fix}
}

func jointError(where, found, fix string) error {
	return &units.Error{Kind: ErrJoint, Where: where, Found: found, Fix: fix}
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
