package page

import (
	"encoding/base64"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// Markup is HTML or SVG that this package made: whole elements and escaped text. The zero
// value is nothing.
type Markup struct{ html string }

// String returns the HTML.
func (m Markup) String() string { return m.html }

// A Part is what an element is made of: a Text, a Markup or an Attribute.
type Part interface{ addTo(e *element) }

// Text is a text as people read it. It is escaped where it is written; NUL and bytes that are not
// UTF-8 become U+FFFD.
type Text string

// An Attribute belongs to an element. Attr makes one; the zero value is none.
type Attribute struct{ name, value string }

// constant is a string that only a constant of the program can be.
type constant string

// element is one being made.
type element struct {
	attributes []byte
	content    []byte
}

func (t Text) addTo(e *element)   { e.content = appendEscaped(e.content, string(t)) }
func (m Markup) addTo(e *element) { e.content = append(e.content, m.html...) }

func (a Attribute) addTo(e *element) {
	if a.name == "" {
		return
	}
	e.attributes = append(append(append(e.attributes, ' '), a.name...), `="`...)
	e.attributes = append(appendEscaped(e.attributes, a.value), '"')
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
	var e element
	for _, p := range parts {
		if p != nil {
			p.addTo(&e)
		}
	}
	var b strings.Builder
	b.Grow(len(e.attributes) + len(e.content) + 2*len(name) + 5)
	b.WriteByte('<')
	b.WriteString(string(name))
	b.Write(e.attributes)
	switch {
	case k == shape && len(e.content) == 0:
		b.WriteString("/>")
		return Markup{b.String()}
	case k == void && len(e.content) > 0:
		panic("page: <" + string(name) + "> has no content; give it attributes alone")
	case k == void:
		b.WriteByte('>')
		return Markup{b.String()}
	}
	b.WriteByte('>')
	if k == verbatim {
		b.WriteByte('\n') // readers leave it out, and so keep one that follows
	}
	b.Write(e.content)
	b.WriteString("</")
	b.WriteString(string(name))
	b.WriteByte('>')
	return Markup{b.String()}
}

// Join returns parts one after another.
func Join(parts ...Part) Markup {
	var e element
	for _, p := range parts {
		if p != nil {
			p.addTo(&e)
		}
	}
	if len(e.attributes) > 0 {
		panic("page: Join has no element to give an attribute to; write El")
	}
	return Markup{string(e.content)}
}

// Each returns the markup of each, one after another.
func Each[T any](list []T, of func(T) Markup) Markup {
	var b strings.Builder
	for _, x := range list {
		b.WriteString(of(x).html)
	}
	return Markup{b.String()}
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
	return Attribute{string(name), value}
}

// Class returns the attribute class.
func Class(names string) Attribute { return Attribute{"class", names} }

// ID returns the attribute id.
func ID(id string) Attribute { return Attribute{"id", id} }

// Number returns an attribute with a number, rounded to two places.
func Number(name constant, v float64) Attribute { return Attr(name, number(v)) }

// Width returns a style that makes an element so many letters' heights wide.
func Width(rem float64) Attribute { return Attribute{"style", "width: " + number(rem) + "rem"} }

// Image returns a picture, whoever drew it: in an image an SVG can run nothing and ask for nothing.
func Image(alt, svg string) Markup {
	return El("img", Attr("alt", alt), Attr("src", "data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString([]byte(svg))))
}

// Attributes returns several, to be given as one part.
func Attributes(list ...Attribute) Part { return attributes(list) }

type attributes []Attribute

func (l attributes) addTo(e *element) {
	for _, a := range l {
		a.addTo(e)
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
var Line Part = Markup{"\n"}

// Working returns a working as it writes itself, which escapes its texts.
func Working(w *units.Working) Markup { return Markup{w.HTML()} }

// number writes a number with up to two decimals.
func number(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}
