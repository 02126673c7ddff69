package lesson

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"example.com/closefit/units"
)

// The kinds of error that a question itself may have, in the words of package ask.
var (
	errQuestion = errors.New("not a question that can be answered")
	errBroken   = errors.New("the library broke")
)

func notRead(where, found, fix string) error {
	return &units.Error{Kind: errQuestion, Where: where, Found: found, Fix: fix}
}

// readDocument reads {"closefit": 1, "question": …, "with": {…}}: which question it asks, and what it
// says with which keys. It is strict: each key once, no other one, and nothing behind.
func readDocument(doc []byte) (name string, a asked, said []string, err error) {
	r := jsonReader{text: string(doc)}
	version := int64(0)
	keys := r.object(func(key string) bool {
		switch key {
		case "closefit":
			version = r.integer()
		case "question":
			name = r.string()
		case "with":
			said = r.object(func(key string) bool { return r.said(key, &a) })
		default:
			return false
		}
		return true
	})
	r.space()
	switch {
	case r.failed || r.at != len(r.text) || len(keys) != 3:
		return name, a, said, notRead("the document", fmt.Sprintf("something else at byte %d of %d", r.at, len(doc)), `write {"closefit": 1, "question": …, "with": {…}}`)
	case version != 1:
		return name, a, said, notRead(`document, "closefit"`, strconv.FormatInt(version, 10), "write 1, the version of the form that is read here")
	}
	return name, a, said, nil
}

// said reads what stands at one key of a question.
func (r *jsonReader) said(key string, a *asked) bool {
	switch key {
	case "lesson":
		a.lesson = r.string()
	case "typed":
		a.typed = r.string()
	case "seed":
		a.seed = r.integer()
	case "exercise":
		a.exercise = r.integer()
	case "moving":
		a.moving = r.truth()
	case "at":
		a.at = r.integers()
	default:
		return false
	}
	return true
}

// A jsonReader reads the JSON (RFC 8259) that questions are made of: objects, strings, whole numbers and
// lists of them, true and false. What is anything else fails, and stays where it failed.
type jsonReader struct {
	text   string
	at     int
	failed bool
}

func (r *jsonReader) space() {
	for r.at < len(r.text) && (r.text[r.at] == ' ' || r.text[r.at] == '\t' || r.text[r.at] == '\n' || r.text[r.at] == '\r') {
		r.at++
	}
}

// next reports whether a sign stands next, behind space, and goes behind it.
func (r *jsonReader) next(sign byte) bool {
	r.space()
	if r.failed || r.at == len(r.text) || r.text[r.at] != sign {
		return false
	}
	r.at++
	return true
}

// need is next for a sign that must be there.
func (r *jsonReader) need(sign byte) { r.failed = !r.next(sign) || r.failed }

// object calls field at the value of each key, and returns the keys. Field reads the value, or returns false
// for a key that there is not.
func (r *jsonReader) object(field func(key string) bool) (keys []string) {
	r.need('{')
	if r.next('}') {
		return nil
	}
	for !r.failed {
		key := r.string()
		r.need(':')
		for _, before := range keys {
			r.failed = r.failed || before == key
		}
		keys = append(keys, key)
		if !field(key) {
			r.failed = true
		}
		if !r.next(',') {
			r.need('}')
			break
		}
	}
	return keys
}

func (r *jsonReader) integers() (list []int64) {
	r.need('[')
	if r.next(']') {
		return nil
	}
	for !r.failed {
		list = append(list, r.integer())
		if !r.next(',') {
			r.need(']')
			break
		}
	}
	return list
}

func (r *jsonReader) integer() int64 {
	r.space()
	from := r.at
	for r.at < len(r.text) && (r.text[r.at] >= '0' && r.text[r.at] <= '9' || r.at == from && r.text[r.at] == '-') {
		r.at++
	}
	digits := r.text[from:r.at]
	if len(digits) > 0 && digits[0] == '-' {
		digits = digits[1:]
	}
	n, err := strconv.ParseInt(r.text[from:r.at], 10, 64)
	r.failed = r.failed || err != nil || len(digits) > 1 && digits[0] == '0'
	return n
}

func (r *jsonReader) truth() bool {
	r.space()
	for word, is := range map[string]bool{"true": true, "false": false} {
		if end := r.at + len(word); end <= len(r.text) && r.text[r.at:end] == word {
			r.at = end
			return is
		}
	}
	r.failed = true
	return false
}

// string reads a string. What is not UTF-8 in it, or half of a pair of UTF-16, becomes U+FFFD.
func (r *jsonReader) string() string {
	r.need('"')
	var b []byte
	for !r.failed && r.at < len(r.text) {
		c := r.text[r.at]
		switch {
		case c == '"':
			r.at++
			return string(b)
		case c < ' ':
			r.failed = true
		case c == '\\':
			b = utf8.AppendRune(b, r.escaped())
		default:
			char, size := utf8.DecodeRuneInString(r.text[r.at:])
			b = utf8.AppendRune(b, char)
			r.at += size
		}
	}
	r.failed = true
	return ""
}

// escaped reads a character behind a backslash.
func (r *jsonReader) escaped() rune {
	if r.at+1 >= len(r.text) {
		r.failed = true
		return 0
	}
	c := r.text[r.at+1]
	r.at += 2
	switch c {
	case '"', '\\', '/':
		return rune(c)
	case 'b':
		return '\b'
	case 'f':
		return '\f'
	case 'n':
		return '\n'
	case 'r':
		return '\r'
	case 't':
		return '\t'
	case 'u':
	default:
		r.failed = true
		return 0
	}
	first := r.hexadecimal(r.at)
	r.failed = r.failed || first < 0
	r.at += 4
	if utf16.IsSurrogate(first) {
		if r.at+2 <= len(r.text) && r.text[r.at:r.at+2] == `\u` {
			if both := utf16.DecodeRune(first, r.hexadecimal(r.at+2)); both != utf8.RuneError {
				r.at += 6
				return both
			}
		}
		return utf8.RuneError
	}
	return first
}

// hexadecimal returns the number of four hexadecimal digits, or -1.
func (r *jsonReader) hexadecimal(at int) rune {
	if at+4 > len(r.text) {
		return -1
	}
	n := rune(0)
	for _, c := range []byte(r.text[at : at+4]) {
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		default:
			return -1
		}
		n = n<<4 | rune(c)
	}
	return n
}

// An object is the inside of an object of JSON, being written.
type object []byte

func (o object) raw(key string, value []byte) object {
	if len(o) > 0 {
		o = append(o, ',')
	}
	return append(append(quoted(o, key), ':'), value...)
}

func (o object) number(key string, n int64) object { return o.raw(key, strconv.AppendInt(nil, n, 10)) }

func (o object) words(key, text string) object {
	return quoted(o.raw(key, nil), text)
}

func (o object) list(key string, texts []string) object {
	o = append(o.raw(key, nil), '[')
	for i, text := range texts {
		if i > 0 {
			o = append(o, ',')
		}
		o = quoted(o, text)
	}
	return append(o, ']')
}

func (o object) text() []byte {
	return append(append([]byte{'{'}, o...), '}')
}

// quoted appends a text as a string of JSON.
func quoted(to []byte, text string) []byte {
	to = append(to, '"')
	from := 0
	for i := 0; i < len(text); {
		c := text[i]
		if c < utf8.RuneSelf {
			if c < ' ' || c == '"' || c == '\\' {
				to = append(to, text[from:i]...)
				if c < ' ' {
					to = append(to, `\u00`...)
					to = append(to, "0123456789abcdef"[c>>4], "0123456789abcdef"[c&15])
				} else {
					to = append(to, '\\', c)
				}
				from = i + 1
			}
			i++
			continue
		}
		char, size := utf8.DecodeRuneInString(text[i:])
		if char == utf8.RuneError && size == 1 {
			to = append(append(to, text[from:i]...), "\uFFFD"...)
			from = i + 1
		}
		i += size
	}
	return append(append(to, text[from:]...), '"')
}

// refusal writes an error as a document, as package ask does.
func refusal(err error) []byte {
	o := object(nil).words("message", err.Error())
	var e units.Error
	if found, is := errors.AsType[*units.Error](err); is {
		e = *found
	}
	kind := ""
	if e.Kind != nil {
		kind = e.Kind.Error()
	}
	say := func(key, text string) {
		if text == "" {
			o = o.raw(key, []byte("null"))
		} else {
			o = o.words(key, text)
		}
	}
	say("kind", kind)
	say("where", e.Where)
	if e.Column > 0 {
		o = o.number("column", int64(e.Column))
	} else {
		say("column", "")
	}
	say("found", e.Found)
	say("write", e.Fix)
	return object(nil).number("closefit", 1).raw("error", o.text()).text()
}
