package ask

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// MaxDocument is how many bytes a question may have.
const MaxDocument = 1 << 20

// The kinds of error that a question itself may have.
var (
	ErrQuestion = errors.New("not a question that can be answered")
	ErrTooMuch  = errors.New("too much to answer")
	ErrBroken   = errors.New("the library broke") // a panic, which is a defect of ours
)

// A Question is one that programs may ask. New makes one.
type Question struct {
	Name    string       // "judge"
	Does    string       // what it does, in a sentence
	Request reflect.Type // what stands under "with"
	Reply   reflect.Type // what stands under "answer"
	read    func(with []byte) (Asked, error)
}

// Asked is a question that was read: it is of the right form, and not answered yet.
type Asked struct {
	With   any // of the type Request
	answer func(ctx context.Context) (any, error)
}

// New makes a question of a function. Q is a struct of the exchange form, which is read by
// units.DecodeObject: every field with a json tag must be there. A is what package json writes
// as an object.
func New[Q, A any](name, does string, answer func(ctx context.Context, with Q) (A, error)) Question {
	return Question{name, does, reflect.TypeFor[Q](), reflect.TypeFor[A](), func(with []byte) (Asked, error) {
		var q Q
		if err := units.DecodeObject(with, &q); err != nil {
			return Asked{}, err
		}
		return Asked{q, func(ctx context.Context) (any, error) { return answer(ctx, q) }}, nil
	}}
}

// Read reads the object that stands under "with" in a document, for programs that answer in their
// own way.
func (q Question) Read(with []byte) (a Asked, err error) {
	defer broken(&err)
	return q.read(with)
}

// Answer returns the answering document. It never panics.
func (a Asked) Answer(ctx context.Context) (reply []byte, err error) {
	defer broken(&err)
	v, err := a.answer(ctx)
	if err != nil {
		return nil, err
	}
	return write(answered{1, listed(v)})
}

// broken makes an error of a panic.
func broken(err *error) {
	if v := recover(); v != nil {
		*err = &units.Error{Kind: ErrBroken, Found: fmt.Sprint(v), Fix: "this is a defect of closefit: report it with the question"}
	}
}

// A Set is the questions that a program answers, in the order in which they are shown.
type Set []Question

// document is what a question comes in.
type document struct {
	Closefit int             `json:"closefit"`
	Question string          `json:"question"`
	With     json.RawMessage `json:"with"`
}

// An answered document has one of answer and error.
type answered struct {
	Closefit int `json:"closefit"`
	Answer   any `json:"answer"`
}

type refused struct {
	Closefit int     `json:"closefit"`
	Error    Refusal `json:"error"`
}

// A Refusal says why a question has no answer. What is not known of it is null.
type Refusal struct {
	Message string  `json:"message"` // all of it, for a person
	Kind    *string `json:"kind"`    // "no unit", "not of the exchange form"
	Where   *string `json:"where"`   // the key, `Judge, "limits"`, or what the value was given for
	Column  *int    `json:"column"`  // in a text that was read, from 1
	Found   *string `json:"found"`
	Write   *string `json:"write"` // what to write instead
}

// Answer answers a document with a document. It never fails and never panics: what is wrong
// with the question stands in the answer.
func (s Set) Answer(ctx context.Context, doc []byte) []byte {
	asked, err := s.read(doc)
	if err != nil {
		return Refuse(err)
	}
	reply, err := asked.Answer(ctx)
	if err != nil {
		return Refuse(err)
	}
	return reply
}

func (s Set) read(doc []byte) (a Asked, err error) {
	if len(doc) > MaxDocument {
		return a, &units.Error{Kind: ErrTooMuch, Where: "the document", Found: fmt.Sprintf("%d bytes", len(doc)), Fix: fmt.Sprintf("ask with %d at the most", MaxDocument)}
	}
	var d document
	if !json.Valid(doc) {
		return a, &units.Error{Kind: ErrQuestion, Where: "the document", Found: "no JSON, or not all of it", Fix: `write {"closefit": 1, "question": …, "with": {…}}`}
	}
	if err := units.DecodeObject(doc, &d); err != nil {
		return a, err
	}
	if d.Closefit != 1 {
		return a, &units.Error{Kind: ErrQuestion, Where: `document, "closefit"`, Found: fmt.Sprint(d.Closefit), Fix: "write 1, the version of the form that is read here"}
	}
	i := slices.IndexFunc(s, func(q Question) bool { return q.Name == d.Question })
	if i < 0 {
		var names []string
		for _, q := range s {
			names = append(names, q.Name)
		}
		return a, &units.Error{Kind: ErrQuestion, Where: `document, "question"`, Found: fmt.Sprintf("%.40q", d.Question), Fix: "ask one of: " + strings.Join(names, ", ")}
	}
	return s[i].Read(d.With)
}

// Refuse writes an error as a document.
func Refuse(err error) []byte {
	r := Refusal{Message: err.Error()}
	say := func(to **string, text string) {
		if text != "" {
			*to = &text
		}
	}
	if e, is := errors.AsType[*units.Error](err); is {
		where := e.Where
		if before, cut := strings.CutSuffix(r.Message, ": "+e.Error()); cut { // the key, in whose text the error is
			where = before
		}
		say(&r.Where, where)
		say(&r.Found, e.Found)
		say(&r.Write, e.Fix)
		if e.Kind != nil {
			say(&r.Kind, e.Kind.Error())
		}
		if e.Column > 0 {
			r.Column = &e.Column
		}
	}
	text, err := write(refused{1, r})
	if err != nil {
		return []byte(`{"closefit":1,"error":{"message":"the error cannot be written","kind":null,"where":null,"column":null,"found":null,"write":null}}`)
	}
	return text
}

// write writes a document in one line, without the escapes that only HTML needs.
func write(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
