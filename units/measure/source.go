package measure

import (
	"strings"

	"example.com/closefit/units"
)

// kind says to whom an error belongs, and so how it adds up when readings do.
type kind uint8

const (
	// repeat is the error of one act of reading: its own, shared with no other.
	repeat kind = iota
	// scatter is a repeat that was estimated from the readings of one act alone.
	scatter
	// common is an error that an instrument makes in every reading, the same way.
	common
	// whole is a stated uncertainty of which nothing else is known: two acts of
	// one instrument may share any part of it, with either sign.
	whole
	// piece is a tolerance of a thing: a blade, a print, a temperature. It is a
	// bracket, certain, and the same wherever the same piece stands.
	piece
)

// A source is where an error comes from. Errors of one source are one error:
// they add with their signs before anything else is done.
type source struct {
	kind kind
	of   string // the instrument, or the piece
	act  string // which act of reading or setting; empty for common and piece
}

// setOn begins the name of an act of setting an instrument, readingOf that of reading.
const (
	setOn     = "set on "
	readingOf = "reading "
)

// String names the source for a working: "outside micrometer, common".
func (s source) String() string {
	of := s.of
	if of == "" {
		of = "an instrument without a name"
	}
	switch s.kind {
	case common:
		return of + ", common to its readings"
	case repeat:
		if s.act == "" {
			return of + ", each reading"
		}
	case scatter:
		of += ", scatter"
	}
	if s.act == "" {
		return of
	}
	act := s.act
	if strings.HasPrefix(act, readingOf) {
		act, _, _ = strings.Cut(act, ", "+setOn)
	}
	return of + ", " + act
}

// shares reports whether the source is an error of the instrument itself, which may
// have to do with any other.
func (s source) shares() bool { return s.kind != piece && s.kind != scatter }

// named reports whether the source can be recognized when it is met again. One
// that cannot is taken at its worst: it may be the same error or another.
func (s source) named() bool {
	switch s.kind {
	case common, piece:
		return s.of != ""
	case repeat, scatter:
		return s.act != ""
	}
	return false
}

// A doubt is what one source does to one reading. An error adds lo at the lower
// end of the reading and hi at the upper one; the two differ for a piece that sets
// one end alone, as each of two blades does. Of a spread, lo and hi are equal: the
// change of the reading when the source's error is twice its standard uncertainty.
type doubt[D units.Dimension] struct {
	source
	lo, hi  units.Quantity[D]
	freedom int32 // degrees of freedom behind a spread; 0 for unlimited
}

// times returns the doubt in so many times the reading.
func (d doubt[D]) times(f units.Ratio) doubt[D] {
	d.lo, d.hi = d.lo.Times(f), d.hi.Times(f)
	if f.Sign() < 0 {
		d.lo, d.hi = d.hi, d.lo
	}
	return d
}

// plus and minus are the factors of a term that counts once.
var (
	plus  = units.One.OfInt(1)
	minus = units.One.OfInt(-1)
)
