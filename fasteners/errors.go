package fasteners

import (
	"errors"
	"fmt"
	"strings"
)

// The kinds of error in what a user gives.
var (
	// ErrReading is the kind for a reading or a limit that cannot be one: a length not
	// above zero, a bound missing. A *ReadingError wraps it.
	ErrReading = errors.New("not a possible reading")
	// ErrThread is the kind for an unknown or impossible thread. A *ThreadError wraps it.
	ErrThread = errors.New("not a thread")
	// ErrClass is the kind for an unknown tolerance class, property class or grade, and
	// for one that does not exist for the thread. A *ClassError wraps it.
	ErrClass = errors.New("no such class")
	// ErrJoint is the kind for a joint that cannot be. A *JointError wraps it.
	ErrJoint = errors.New("not a possible joint")
	// ErrQuestion is the kind for an answer to a question that nobody asks.
	ErrQuestion = errors.New("no such question")
	// ErrPrice is the kind for a price or a number of builds that cannot be.
	ErrPrice = errors.New("not a possible price list")
)

// A ReadingError says which reading or limit is impossible and what to write instead.
type ReadingError struct {
	What  string // "length now"
	Value string // what was found
	Fix   string // what to write instead
}

func (e *ReadingError) Error() string {
	return fmt.Sprintf("%s %s: %v; %s", e.What, e.Value, ErrReading, e.Fix)
}

// Unwrap returns ErrReading.
func (e *ReadingError) Unwrap() error { return ErrReading }

func readingError(what, value, fix string) *ReadingError {
	return &ReadingError{What: what, Value: value, Fix: fix}
}

// A ThreadError says what is wrong with a thread and what to write instead.
type ThreadError struct {
	Input string // the text, shortened if long
	What  string // what was found: "a decimal comma"
	Fix   string // what to write instead
}

func (e *ThreadError) Error() string {
	return fmt.Sprintf("thread %q: %s; %s", e.Input, e.What, e.Fix)
}

// Unwrap returns ErrThread.
func (e *ThreadError) Unwrap() error { return ErrThread }

func threadError(input, what, fix string) *ThreadError {
	return &ThreadError{Input: input, What: what, Fix: fix}
}

// A ClassError says which class is unknown, or does not exist where it is asked for, and
// what to write instead.
type ClassError struct {
	Class string // what was found
	What  string // "tolerance class", "property class"
	For   string // what it was asked for, if that matters: "M20"
	Fix   string // what to write instead
}

func (e *ClassError) Error() string {
	if e.For == "" {
		return fmt.Sprintf("%s %q: %v; %s", e.What, e.Class, ErrClass, e.Fix)
	}
	return fmt.Sprintf("%s %q for %s: %v; %s", e.What, e.Class, e.For, ErrClass, e.Fix)
}

// Unwrap returns ErrClass.
func (e *ClassError) Unwrap() error { return ErrClass }

// A JointError says which part of a joint cannot be and what to write instead.
type JointError struct {
	What  string // "bore of the clamped part"
	Value string // what was found
	Fix   string // what to write instead
}

func (e *JointError) Error() string {
	return fmt.Sprintf("%s %s: %v; %s", e.What, e.Value, ErrJoint, e.Fix)
}

// Unwrap returns ErrJoint.
func (e *JointError) Unwrap() error { return ErrJoint }

func jointError(what, value, fix string) *JointError {
	return &JointError{What: what, Value: value, Fix: fix}
}

// shortened returns a text as an error quotes it.
func shortened(s string) string {
	if len(s) > maxDesignation {
		return strings.ToValidUTF8(s[:maxDesignation], "") + "…"
	}
	return s
}
