package page

import (
	"encoding/base64"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// Markup is HTML or SVG that this package made: whole elements and escaped text. The zero
// value is nothing.
type Markup struct {
	html string
	long []string // in place of html, of what is long: one piece after another
}

// String returns the HTML.
func (m Markup) String() string {
	if m.long != nil {
		return strings.Join(m.long, "")
	}
	return m.html
}

// A sink takes markup as it is made. A long piece stays where it is, so that a page is not
// copied once for each element around its parts.
type sink struct {
	b    strings.Builder
	long []string
}

const long = 4096

func (s *sink) WriteString(text string) {
	if len(text) < long {
		s.b.WriteString(text)
		return
	}
	if s.b.Len() > 0 {
		s.long = append(s.long, s.b.String())
		s.b = strings.Builder{}
	}
	s.long = append(s.long, text)
}

func (s *sink) write(m Markup) {
	s.WriteString(m.html)
	for _, piece := range m.long {
		s.WriteString(piece)
	}
}

// empty reports whether nothing was written since so many letters.
func (s *sink) empty(since int) bool { return s.long == nil && s.b.Len() == since }

func (s *sink) markup() Markup {
	switch {
	case s.long == nil:
		return Markup{html: s.b.String()}
	case s.b.Len() > 0:
		s.long = append(s.long, s.b.String())
	}
	return Markup{long: s.long}
}

// A Part is what an element is made of: a Text, a Markup or an Attribute.
type Part interface {
	length() int           // about
	writeAttributes(*sink) // all that it has
	writeContent(*sink)
}

// Text is a text as people read it. It is escaped where it is written; NUL and bytes that are not
// UTF-8 become U+FFFD.
type Text string

// An Attribute belongs to an element. Attr makes one; the zero value is none.
type Attribute struct {
	name, value string
	plain       bool // whether value is known to need no escape
}

// constant is a string that only a constant of the program can be.
type constant string

func (t Text) length() int             { return len(t) + len(t)/8 }
func (t Text) writeAttributes(*sink)   {}
func (t Text) writeContent(b *sink)    { writeEscaped(b, string(t)) }
func (m Markup) length() int           { return len(m.html) }
func (m Markup) writeAttributes(*sink) {}
func (m Markup) writeContent(b *sink)  { b.write(m) }
func (a Attribute) length() int        { return len(a.name) + len(a.value) + 4 }
func (a Attribute) writeContent(*sink) {}
func (a Attribute) writeAttributes(b *sink) {
	if a.name == "" {
		return
	}
	b.WriteString(` `)
	b.WriteString(a.name)
	b.WriteString(`="`)
	if a.plain {
		b.WriteString(a.value)
	} else {
		writeEscaped(b, a.value)
	}
	b.WriteString(`"`)
}

// El returns an element with attributes and content, in the order of the parts. Its name is a
// literal of the program. Scripts, style sheets, frames and what else runs or loads something
// are no elements of it; see [Document]. It panics for these, and where an element
// that has no content is given some.
func El(name constant, parts ...Part) Markup {
	k, known := elements[name]
	if !known {
		panic("page: El does not write <" + string(name) + ">; scripts and styles belong to a Document, other elements to the table in elements.go")
	}
	var b sink
	size := 2*len(name) + 6
	for _, p := range parts {
		if p != nil {
			size += p.length()
		}
	}
	b.b.Grow(min(size, 2*long))
	b.WriteString(`<`)
	b.WriteString(string(name))
	for _, p := range parts {
		if p != nil {
			p.writeAttributes(&b)
		}
	}
	b.WriteString(`>`)
	begun := b.b.Len()
	if k == verbatim {
		b.WriteString("\n") // readers leave it out, and so keep one that follows
	}
	for _, p := range parts {
		if p != nil {
			p.writeContent(&b)
		}
	}
	switch {
	case k == shape && b.empty(begun):
		return Markup{html: b.b.String()[:begun-1] + "/>"}
	case k == void && !b.empty(begun):
		panic("page: <" + string(name) + "> has no content; give it attributes alone")
	case k == void:
		return b.markup()
	}
	b.WriteString("</")
	b.WriteString(string(name))
	b.WriteString(`>`)
	return b.markup()
}

// Join returns parts one after another.
func Join(parts ...Part) Markup {
	var b sink
	size := 0
	for _, p := range parts {
		if p != nil {
			size += p.length()
		}
	}
	b.b.Grow(min(size, 2*long))
	for _, p := range parts {
		if p != nil {
			if isAttribute(p) {
				panic("page: Join has no element to give an attribute to; write El")
			}
			p.writeContent(&b)
		}
	}
	return b.markup()
}

// isAttribute reports whether a part is for the beginning of an element.
func isAttribute(p Part) bool {
	switch p.(type) {
	case Attribute, attributes:
		return true
	}
	return false
}

// Each returns the markup of each, one after another.
func Each[T any](list []T, of func(T) Markup) Markup {
	var b sink
	for i, x := range list {
		m := of(x)
		if i == 0 { // the others are about as long
			b.b.Grow(min(m.length()*(len(list)+1), 4*long))
		}
		b.write(m)
	}
	return b.markup()
}

// Attr returns an attribute. Its name is a literal of the program; handlers of events and styles
// are none, and Attr panics for them. An address, as in href and src, that is not of http, https or mailto,
// of the page itself or of the place it came from becomes "about:invalid"; an src may hold an image as data.
func Attr(name constant, value string) Attribute {
	if !plainName(string(name)) {
		panic("page: " + string(name) + " is not an attribute that Attr writes; a script of the Document listens for events, and a class gives a style")
	}
	switch name {
	case "href", "src", "action", "formaction", "cite", "poster":
		value = address(value, name == "src")
	}
	return Attribute{name: string(name), value: value}
}

// Class returns the attribute class.
func Class(names string) Attribute { return Attribute{name: "class", value: names} }

// ID returns the attribute id.
func ID(id string) Attribute { return Attribute{name: "id", value: id} }

// Number returns an attribute with a number, rounded to two places.
func Number(name constant, v float64) Attribute { return Attr(name, number(v)) }

// Width returns a style that makes an element so many letters' heights wide.
func Width(rem float64) Attribute {
	return Attribute{name: "style", value: "width: " + number(rem) + "rem"}
}

// Image returns a picture, whoever drew it: in an image an SVG can run nothing and ask for nothing.
func Image(alt, svg string) Markup {
	return El("img", Attr("alt", alt), Attr("src", "data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString([]byte(svg))))
}

// Attributes returns several, to be given as one part.
func Attributes(list ...Attribute) Part { return attributes(list) }

type attributes []Attribute

func (l attributes) length() (n int) {
	for _, a := range l {
		n += a.length()
	}
	return n
}

func (l attributes) writeContent(*sink) {}

func (l attributes) writeAttributes(b *sink) {
	for _, a := range l {
		a.writeAttributes(b)
	}
}

// If returns the part if the condition holds, and else nothing.
func If(condition bool, p Part) Part {
	if condition {
		return p
	}
	return Markup{}
}

// Line ends a line of the source.
var Line Part = Markup{html: "\n"}

// Working returns a working as it writes itself, which escapes its texts.
func Working(w *units.Working) Markup { return Markup{html: w.HTML()} }

// number writes a number with up to two decimals.
func number(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
