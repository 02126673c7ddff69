package units

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"
)

// The exchange forms. A quantity or an interval is text with its unit and every
// digit (Exact). An empty interval is null in JSON and "none" as text, and each of
// these is read back as the empty interval, never as zero; so is a JSON key that is
// not there, which leaves the zero Interval as it was. A Quantity has no empty
// value: null is an error, and a field whose key may be missing is a *Quantity.
//
// A value that is not wanted with every digit is rounded before it is written,
// together with its bound, by Outward.

// MarshalText returns q.Exact.
func (q Value[D, E]) MarshalText() ([]byte, error) { return []byte(q.Exact()), nil }

// AppendText appends q.Exact to b. There is no error.
func (q Value[D, E]) AppendText(b []byte) ([]byte, error) { return q.appendExact(b), nil }

// UnmarshalText parses text as Parse does. An empty text is an error.
func (q *Value[D, E]) UnmarshalText(text []byte) error { return into(q, text) }

// MarshalJSON returns q.Exact as a JSON string.
func (q Value[D, E]) MarshalJSON() ([]byte, error) {
	var room [48]byte
	return append(q.appendExact(append(room[:0], '"')), '"'), nil
}

// UnmarshalJSON parses a JSON string. For a value that may be null use a pointer.
func (q *Value[D, E]) UnmarshalJSON(data []byte) error {
	if inside := shortJSON(data); inside != nil {
		if n, ok := dimensionOf[D]().parseCommon(string(inside)); ok {
			*q = Value[D, E]{n: n}
			return nil
		}
	}
	return fromJSON(q, data, dimensionOf[D]())
}

// MarshalText returns a.Exact: "none" if a is empty.
func (a ClosedInterval[D, E]) MarshalText() ([]byte, error) { return []byte(a.Exact()), nil }

// UnmarshalText parses text as Parse does, and reads "none" as
// the empty interval. An empty text is an error.
func (a *ClosedInterval[D, E]) UnmarshalText(text []byte) error {
	if string(text) == none {
		*a = ClosedInterval[D, E]{}
		return nil
	}
	return into(a, text)
}

// MarshalJSON returns a.Exact as a JSON string: null if a is empty.
func (a ClosedInterval[D, E]) MarshalJSON() ([]byte, error) {
	if a.IsEmpty() {
		return []byte("null"), nil
	}
	return jsonText(a.Exact()), nil
}

// UnmarshalJSON parses a JSON string, and reads null as the empty interval.
func (a *ClosedInterval[D, E]) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*a = ClosedInterval[D, E]{}
		return nil
	}
	if inside := shortJSON(data); inside != nil {
		if lo, hi, ok := dimensionOf[D]().intervalCommon(string(inside)); ok {
			*a = fromGrid[D, E](lo, hi)
			return nil
		}
	}
	return fromJSON(a, data, dimensionOf[D]())
}

// one is what the unit of a bare number is written as where a unit stands alone.
const one = "1"

// MarshalText returns the unit's symbol; that of a bare number is "1".
func (u Scale[D, E]) MarshalText() ([]byte, error) {
	d := dimensionOf[D]()
	if int(u) >= len(d.units) {
		return nil, notWritten("unit of "+d.name, fmt.Sprint(uint8(u)), "use the package's constants")
	}
	return []byte(cmp.Or(u.String(), one)), nil
}

// UnmarshalText reads a unit as Parse does. An empty text is an error.
func (u *Scale[D, E]) UnmarshalText(text []byte) error {
	d := dimensionOf[D]()
	if d.bare() && string(text) == one {
		*u = 0
		return nil
	}
	if len(text) == 0 {
		return notWritten("unit of "+d.name, "an empty text", d.anyUnit())
	}
	return into(u, text)
}

// jsonText returns text as a JSON string. What the text of a quantity or an
// interval is made of needs no escape; < and > are left for the encoder, whose
// caller says whether they are escaped.
func jsonText(text string) []byte {
	b := make([]byte, 0, len(text)+2)
	return append(append(append(b, '"'), text...), '"')
}

// AppendJSON appends text to b as a JSON string, as encoding/json writes it where it does not
// escape HTML. It is for documents of thousands of texts, which that package writes by
// reflection, and anew for each value that writes itself.
func AppendJSON(b []byte, text string) []byte {
	plain := plainJSON(text)
	for i := 0; plain && i < len(text); i++ {
		if text[i] >= utf8.RuneSelf {
			plain = utf8.ValidString(text) && !strings.ContainsAny(text[i:], "\u2028\u2029")
			break
		}
	}
	if plain {
		return append(append(append(b, '"'), text...), '"')
	}
	into := bytes.NewBuffer(b)
	e := json.NewEncoder(into)
	e.SetEscapeHTML(false)
	e.Encode(text) // of a text there is no error
	return bytes.TrimSuffix(into.Bytes(), []byte("\n"))
}

// into parses text into dst, which an error leaves as it was. Of a text that is
// far too long only the beginning is copied.
func into[T readable[T]](dst *T, text []byte) error {
	if len(text) > maxExchange {
		text = text[:maxExchange+1]
	}
	v, err := (*dst).read(string(text), maxExchange)
	if err != nil {
		return err
	}
	*dst = v
	return nil
}

// fromJSON parses a JSON string into dst.
func fromJSON[T readable[T]](dst *T, data []byte, d *dimension) error {
	if string(data) == "null" {
		return &Error{Kind: d.noUnit(), Where: d.name, Found: "null", Fix: "use a pointer for a value that may be missing"}
	}
	if len(data) > 0 && data[0] != '"' {
		return &Error{Kind: d.noUnit(), Where: d.name, Found: "JSON " + shorten(string(data)), Fix: "write a string with a " + d.number() + ", such as " + d.example("60.012")}
	}
	if inside := bytes.TrimSuffix(data[min(1, len(data)):], []byte(`"`)); plainJSON(inside) && len(inside) == len(data)-2 {
		return into(dst, inside)
	}
	const longest = 6*maxText + 2 // every byte of the longest text as \u0000, in quotes
	if len(data) > longest {
		return &Error{Kind: ErrSyntax, Where: d.name, Found: fmt.Sprintf("a JSON string of %d bytes", len(data)), Fix: fmt.Sprintf("write at most %d", maxText)}
	}
	var text string
	if err := json.Unmarshal(data, &text); err != nil {
		return err
	}
	return into(dst, []byte(text))
}

// shortJSON returns what stands inside a JSON string that is so short that it is
// read without a copy; nil if it is not.
func shortJSON(data []byte) []byte {
	const most = 32
	if n := len(data); n > 2 && n <= most && data[0] == '"' && data[n-1] == '"' {
		return data[1 : n-1]
	}
	return nil
}

// plainJSON reports whether what stands inside a JSON string stands for itself: no
// escapes, quotes or control characters.
func plainJSON[T string | []byte](inside T) bool {
	for i := range len(inside) {
		if c := inside[i]; c < ' ' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}
