package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/units"
)

// most is how many bytes the body of a question may have: as many as any sensible one needs.
var most = map[string]int{
	"judge": 128 << 10, "assign": 256 << 10, "buy": 512 << 10, "stack": 128 << 10, "plan": 256 << 10, "convert": 4 << 10, "record": ask.MaxDocument,
}

// bodyMemory is how many bytes all bodies that are still coming may hold together.
const bodyMemory = 64 << 20

var (
	errLarge  = errors.New("too long")
	errSlow   = errors.New("too slow")
	errMemory = errors.New("too many bodies at once")
)

// A reader reads bodies.
type reader struct {
	within time.Duration // a whole body
	most   int64         // bytes of all bodies that are still coming
	held   atomic.Int64
}

// read returns the body, of so many bytes at the most.
func (b *reader) read(w http.ResponseWriter, r *http.Request, most int) ([]byte, error) {
	control := http.NewResponseController(w)
	if err := control.SetReadDeadline(time.Now().Add(b.within)); err != nil {
		return nil, err
	}
	if r.ContentLength > int64(most) {
		pour(r)
		return nil, errLarge
	}
	body := make([]byte, 0, 2<<10)
	held := int64(0)
	defer func() { b.held.Add(-held) }()
	for {
		if len(body) == cap(body) {
			body = append(body, 0)[:len(body)]
		}
		if more := int64(cap(body)) - held; more > 0 {
			held += more
			if b.held.Add(more) > b.most {
				return nil, errMemory
			}
		}
		n, err := r.Body.Read(body[len(body):cap(body)])
		body = body[:len(body)+n]
		switch {
		case len(body) > most:
			pour(r)
			return nil, errLarge
		case err == io.EOF:
			// The server goes on reading, to notice who leaves: that has no end.
			return body, control.SetReadDeadline(time.Time{})
		case errors.Is(err, os.ErrDeadlineExceeded):
			return nil, errSlow
		case err != nil:
			return nil, err
		}
	}
}

// poured is how many bytes of a body that is too long are read and thrown away.
const poured = 4 << 20

// pour reads what is left of a body that is too long, if that is little: many clients send all of it before they
// look for an answer, and would find a broken connection in its place. One that asks first, or that says how
// endless its body is, has its answer at once.
func pour(r *http.Request) {
	if r.ContentLength <= poured && r.Header.Get("Expect") == "" {
		_, _ = io.CopyN(io.Discard, r.Body, poured) // too long it is, however the rest comes
	}
}

// with takes the version of the form out of a body and returns the rest, the question's object.
func with(body []byte) (rest []byte, err error) {
	wrong := func(found string) error {
		return &units.Error{Kind: ask.ErrQuestion, Where: `body, "closefit"`, Found: found, Fix: `write "closefit": 1, the version of the form that is read here`}
	}
	if deep(body) {
		return nil, &units.Error{Kind: ask.ErrQuestion, Where: "body", Found: fmt.Sprintf("more than %d objects or lists in one another", maxDepth), Fix: "write the object that the question asks for"}
	}
	if !json.Valid(body) {
		return nil, &units.Error{Kind: ask.ErrQuestion, Where: "body", Found: "no JSON, or not all of it", Fix: `write {"closefit": 1, …} with the keys of the question`}
	}
	from, to, value := formOf(body)
	switch {
	case from < 0:
		return nil, wrong("no such key")
	case value != "1":
		return nil, wrong(fmt.Sprintf("%.40s", value))
	}
	return append(append(make([]byte, 0, len(body)), body[:from]...), body[to:]...), nil
}

// maxDepth is how deep objects and lists may be nested, as everywhere in the exchange form.
const maxDepth = 64

// deep reports whether the text stands deeper than that in brackets. Those in strings do not count.
func deep(text []byte) bool {
	depth := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '"':
			i = end(text, i)
		case '{', '[':
			if depth++; depth > maxDepth {
				return true
			}
		case '}', ']':
			depth--
		}
	}
	return false
}

// end returns where the string that begins at i ends: at its quotation mark.
func end(text []byte, i int) int {
	for i++; i < len(text) && text[i] != '"'; i++ {
		if text[i] == '\\' {
			i++
		}
	}
	return i
}

// formOf finds the member "closefit" of an object, with the comma that goes with it: it is text[from:to],
// and from is -1 if it is not there. The text is valid JSON.
func formOf(text []byte) (from, to int, value string) {
	depth, start, colon, found := 0, 0, 0, -1
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '"':
			i = end(text, i)
		case c == '{' || c == '[':
			if depth++; depth == 1 {
				if c == '[' {
					return -1, 0, ""
				}
				start, colon = i+1, 0
			}
		case c == ':' && depth == 1 && colon == 0:
			colon = i
			if strings.TrimSpace(string(text[start:i])) == `"closefit"` {
				found = start
			}
		case c == ',' && depth == 1, (c == '}' || c == ']') && depth == 1:
			if found >= 0 {
				value = strings.TrimSpace(string(text[colon+1 : i]))
				if c == ',' {
					return found, i + 1, value
				}
				if text[found-1] == ',' {
					found--
				}
				return found, i, value
			}
			if c != ',' {
				return -1, 0, ""
			}
			start, colon = i+1, 0
		case c == '}' || c == ']':
			depth--
		}
	}
	return -1, 0, ""
}
