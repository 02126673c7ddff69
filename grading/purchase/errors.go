package purchase

import (
	"errors"
	"fmt"
	"strings"
)

// The kinds of error, for errors.Is.
var (
	ErrEmptyPack     = errors.New("a pack of nothing")              // *PackError
	ErrNegativeCount = errors.New("a number below zero")            // *PackError, *NumberError
	ErrNoPrice       = errors.New("no price is stated")             // *PackError
	ErrPrice         = errors.New("not a price")                    // *PackError
	ErrDuplicate     = errors.New("named twice")                    // *PackError
	ErrUnserved      = errors.New("demand that cannot be met")      // *UnservedError, *ShortError
	ErrTooLarge      = errors.New("numbers too large to be proven") // *PackError, *NumberError, or wrapped with the number
)

// A PackError reports a pack on sale that is wrongly stated.
type PackError struct {
	Pack  string // its name
	Index int    // its place in the list, from 0
	What  string // what was found
	Kind  error
}

func (e *PackError) Error() string {
	return fmt.Sprintf("pack %d, %q: %v: %s", e.Index+1, e.Pack, e.Kind, e.What)
}

// Unwrap returns the error's kind.
func (e *PackError) Unwrap() error { return e.Kind }

// A NumberError reports an impossible number of parts.
type NumberError struct {
	List string // "need" or "stock"
	Name string // of the need or the part
	N    int
	Kind error // ErrNegativeCount or ErrTooLarge
}

func (e *NumberError) Error() string {
	return fmt.Sprintf("%s of %s: %v: %d; write how many there are", e.List, e.Name, e.Kind, e.N)
}

// Unwrap returns the error's kind.
func (e *NumberError) Unwrap() error { return e.Kind }

// An UnservedError reports needs that no purchase meets.
type UnservedError struct {
	Missing []Missing
}

// Missing is a shortage that remains whatever is bought.
type Missing struct {
	Needs  []string // several where the same parts serve them
	Wanted int      // how many places they have together
	Most   int      // how many of them the stock and all packs on sale can serve
	Packs  int      // how many packs on sale hold a part that serves them
}

func (e *UnservedError) Error() string {
	texts := make([]string, len(e.Missing))
	for i, m := range e.Missing {
		why := "the packs on sale that hold it are not enough"
		if m.Packs == 0 {
			why = "no pack on sale holds it"
		}
		texts[i] = fmt.Sprintf("%s: %d wanted, %d to be had; %s", strings.Join(m.Needs, " and "), m.Wanted, m.Most, why)
	}
	return ErrUnserved.Error() + ": " + strings.Join(texts, "; ")
}

// Unwrap returns ErrUnserved.
func (e *UnservedError) Unwrap() error { return ErrUnserved }

// A ShortError reports a need that the stock and all packs on sale cannot serve
// together with the needs before it.
type ShortError struct {
	Need   string
	Before int      // how many needs before it can be served
	Ways   []string // its ways: "B upper + C lower"
}

func (e *ShortError) Error() string {
	return fmt.Sprintf("%s: %v: once the %d before it are served, nothing is left for any of its ways: %s; order other packs, or find other parts that fit",
		e.Need, ErrUnserved, e.Before, strings.Join(e.Ways, "; "))
}

// Unwrap returns ErrUnserved.
func (e *ShortError) Unwrap() error { return ErrUnserved }
