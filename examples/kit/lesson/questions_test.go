package lesson

import (
	"bytes"
	"context"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/ask"
)

// What the pages ask, in types that package ask reads and writes by reflection.
type (
	redraw struct {
		Lesson string  `json:"lesson"`
		At     []int64 `json:"at"`
		Moving bool    `json:"moving"`
	}
	tasks struct {
		Lesson string `json:"lesson"`
		Seed   int64  `json:"seed"`
	}
	try struct {
		Lesson   string `json:"lesson"`
		Seed     int64  `json:"seed"`
		Exercise int64  `json:"exercise"`
		Typed    string `json:"typed"`
	}
	sheet struct {
		Seed int64 `json:"seed"`
	}
)

// heard are the questions, each of which answers with what it was asked.
var heard = ask.Set{
	ask.New("lesson", "", func(_ context.Context, q redraw) (asked, error) {
		return asked{lesson: q.Lesson, at: q.At, moving: q.Moving}, nil
	}),
	ask.New("exercises", "", func(_ context.Context, q tasks) (asked, error) {
		return asked{lesson: q.Lesson, seed: q.Seed}, nil
	}),
	ask.New("answer", "", func(_ context.Context, q try) (asked, error) {
		return asked{lesson: q.Lesson, seed: q.Seed, exercise: q.Exercise, typed: q.Typed}, nil
	}),
	ask.New("key", "", func(_ context.Context, q sheet) (asked, error) { return asked{seed: q.Seed}, nil }),
}

// A document is read as package ask reads it, or refused where that refuses it.
func sameAsAsk(t interface {
	Helper()
	Errorf(string, ...any)
}, doc string) {
	t.Helper()
	var document struct {
		Question string
		With     json.RawMessage
	}
	var want asked
	var refused struct{ Error *ask.Refusal }
	if err := json.Unmarshal(heard.Answer(context.Background(), []byte(doc)), &refused); err != nil {
		t.Errorf("%s: %v", doc, err)
		return
	}
	readable := refused.Error == nil
	if readable {
		if err := json.Unmarshal([]byte(doc), &document); err != nil {
			t.Errorf("%s: %v", doc, err)
			return
		}
		for _, q := range heard {
			if q.Name != document.Question {
				continue
			}
			read, err := q.Read(document.With)
			if err != nil {
				t.Errorf("%s: %v", doc, err)
				return
			}
			switch q := read.With.(type) {
			case redraw:
				want = asked{lesson: q.Lesson, at: q.At, moving: q.Moving}
			case tasks:
				want = asked{lesson: q.Lesson, seed: q.Seed}
			case try:
				want = asked{lesson: q.Lesson, seed: q.Seed, exercise: q.Exercise, typed: q.Typed}
			case sheet:
				want = asked{seed: q.Seed}
			}
		}
	}
	name, got, err := readQuestion([]byte(doc))
	if readable != (err == nil) {
		t.Errorf("%q: package ask says %+v, and the lessons %v", doc, refused.Error, err)
		return
	}
	if len(got.at) == 0 && len(want.at) == 0 {
		got.at, want.at = nil, nil
	}
	if readable && (name.name != document.Question || !reflect.DeepEqual(got, want)) {
		t.Errorf("%q is read as %s %+v, want %+v", doc, name.name, got, want)
	}
}

var documents = []string{
	`{"closefit": 1, "question": "lesson", "with": {"lesson": "stacking", "at": [0, 1, 100, 0, -0], "moving": true}}`,
	` {"with":{"at":[],"moving":false,"lesson":"a\u00e9\ud83d\ude00\ud83d\t\\\/\"b"} , "question" : "lesson","closefit":1 }` + "\n",
	`{"closefit":1,"question":"answer","with":{"lesson":"exact","seed":7,"exercise":2,"typed":"2.5 mm\u2028"}}`,
	`{"closefit":1,"question":"exercises","with":{"lesson":"exact","seed":999999}}`,
	`{"closefit":1,"question":"key","with":{"seed":-1}}`,
	`{"closefit":2,"question":"key","with":{"seed":1}}`,
	`{"closefit":1,"question":"keys","with":{"seed":1}}`,
	`{"closefit":1,"question":"key","with":{"seed":1,"seed":1}}`,
	`{"closefit":1,"question":"key","with":{"seed":1},"with":{"seed":1}}`,
	`{"closefit":1,"question":"key","with":{"seed":01}}`, `{"closefit":1,"question":"key","with":{"seed":1.0}}`, `{"closefit":1,"question":"key","with":{"seed":"1"}}`,
	`{"closefit":1,"question":"key","with":{"seed":9223372036854775808}}`, `{"closefit":1,"question":"key","with":{"seed":null}}`,
	`{"closefit":1,"question":"key","with":{"Seed":1}}`, `{"closefit":1,"question":"key","with":{}}`, `{"closefit":1,"question":"key","with":{"seed":1,"lesson":"exact"}}`,
	`{"closefit":1,"question":"key"}`, `{"closefit":1,"question":"key","with":{"seed":1}} x`, `{"closefit":1,"question":"key","with":{"seed":1}`, `{"closefit":1,"question":"key","with":{"seed":1,}}`,
	`{"closefit":1,"question":"answer","with":{"lesson":"exact","seed":7,"exercise":2,"typed":"` + "\xff\xc3" + `é"}}`,
	`{"closefit":1,"question":"answer","with":{"lesson":"exact","seed":7,"exercise":2,"typed":"` + "\x01" + `"}}`,
	`{"closefit":1,"question":"answer","with":{"lesson":"exact","seed":7,"exercise":2,"typed":"\ud800\u0041\udc00\u12"}}`,
	`[]`, ``, `null`, `{`, `"`, `{"closefit":1,"question":"key","with":[]}`, `{"closefit":1,"question":"lesson","with":{"lesson":"exact","at":[1,],"moving":true}}`,
	`{"closefit":1,"question":"lesson","with":{"lesson":"exact","at":[1],"moving":tru}}`, `{"closefit":1,"question":"lesson","with":{"lesson":"exact","at":[[1]],"moving":true}}`,
}

func TestReadsAsAsk(t *testing.T) {
	readable := 0
	for _, doc := range documents {
		sameAsAsk(t, doc)
		if _, _, err := readQuestion([]byte(doc)); err == nil {
			readable++
		}
	}
	if readable != 6 {
		t.Errorf("%d documents are read, want the first five and the one that is not UTF-8", readable)
	}
	rapid.Check(t, func(t *rapid.T) { // one document, with a piece of another in place of one of its own
		doc, other := rapid.SampledFrom(documents[:5]).Draw(t, "document"), rapid.SampledFrom(documents).Draw(t, "other")
		cut := func(s, name string) (from, to int) {
			from = rapid.IntRange(0, len(s)).Draw(t, name+" from")
			return from, min(len(s), from+rapid.IntRange(0, 4).Draw(t, name+" length"))
		}
		from, to := cut(doc, "cut")
		a, z := cut(other, "piece")
		sameAsAsk(t, doc[:from]+other[a:z]+doc[to:])
	})
}

func FuzzReadsAsAsk(f *testing.F) {
	for _, doc := range documents {
		f.Add(doc)
	}
	f.Fuzz(func(t *testing.T, doc string) {
		if !strings.Contains(doc, "null") { // package ask takes it for a list without numbers, which no lesson takes
			sameAsAsk(t, doc)
		}
	})
}

// An answer is JSON, whatever stands in its texts, and an error says what package ask says of it.
func TestWritesJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 20), func(b []byte) string { return string(b) })).Draw(t, "text")
		var got struct {
			A []string
			B string
			C int64
		}
		doc := object(nil).list("a", []string{text, ""}).words("b", text).number("c", -5).text()
		if err := json.Unmarshal(doc, &got); err != nil {
			t.Fatalf("%s: %v", doc, err)
		}
		want := strings.ToValidUTF8(text, "\uFFFD")
		if b, err := json.Marshal(text); err != nil || json.Unmarshal(b, &want) != nil {
			t.Fatal(err)
		}
		if len(got.A) != 2 || got.A[0] != want || got.A[1] != "" || got.B != want || got.C != -5 {
			t.Fatalf("%s is read as %+v, want %q", doc, got, want)
		}
	})
	_, err := find(All(), "nowhere")
	var got, want any
	if json.Unmarshal(refusal(err), &got) != nil || json.Unmarshal(ask.Refuse(err), &want) != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("the error is %v, and by package ask %v", got, want)
	}
}

// Each question answers what the lesson's own funcs say.
func TestAnswers(t *testing.T) {
	q := NewQuestions()
	answer := func(doc string) map[string]any {
		t.Helper()
		var d struct {
			Answer map[string]any
			Error  any
		}
		if err := json.Unmarshal(q.Answer(t.Context(), []byte(doc)), &d); err != nil || d.Error != nil {
			t.Fatalf("%s: %v, %v", doc, err, d.Error)
		}
		return d.Answer
	}
	l, err := Find("interval")
	if err != nil {
		t.Fatal(err)
	}
	shown, err := l.At(l.Start())
	if err != nil {
		t.Fatal(err)
	}
	at, err := json.Marshal(l.Start())
	if err != nil {
		t.Fatal(err)
	}
	still := answer(`{"closefit":1,"question":"lesson","with":{"lesson":"interval","moving":false,"at":` + string(at) + `}}`)
	moving := answer(`{"closefit":1,"question":"lesson","with":{"lesson":"interval","moving":true,"at":` + string(at) + `}}`)
	texts := func(of []string) (list []any) {
		for _, text := range of {
			list = append(list, text)
		}
		return list
	}
	drawings := texts(shown.Drawings)
	if still["said"] != shown.Said || !reflect.DeepEqual(still["drawings"], drawings) || !reflect.DeepEqual(still["tables"], texts(shown.Tables)) || len(shown.Tables) == 0 || still["working"] != shown.Working || shown.Working == "" {
		t.Errorf("the lesson answers %v, want %v", still, shown)
	}
	if moving["said"] != shown.Said || !reflect.DeepEqual(moving["drawings"], drawings) || !reflect.DeepEqual(moving["tables"], []any{}) || moving["working"] != "" {
		t.Errorf("the moving lesson answers %v, want %v without its tables and its working", moving, shown)
	}
	both, err := l.Exercises(7)
	if err != nil {
		t.Fatal(err)
	}
	if got := answer(`{"closefit":1,"question":"exercises","with":{"lesson":"interval","seed":7}}`)["tasks"]; !reflect.DeepEqual(got, []any{both[0].markup().String(), both[1].markup().String()}) {
		t.Errorf("the exercises are %v", got)
	}
	for typed, right := range map[string]bool{both[1].Right: true, both[1].Usual[0].Answer: false} {
		text, err := json.Marshal(typed)
		if err != nil {
			t.Fatal(err)
		}
		got := answer(`{"closefit":1,"question":"answer","with":{"lesson":"interval","seed":7,"exercise":2,"typed":` + string(text) + `}}`)
		if got["right"] != right || got["reason"] != both[1].Judge(typed).Reason || (got["working"] != "") != right {
			t.Errorf("to %s it answers %v", typed, got)
		}
	}
	if got := answer(`{"closefit":1,"question":"key","with":{"seed":7}}`)["html"]; !strings.Contains(got.(string), both[0].Right) {
		t.Error("the key does not hold a right answer")
	}
	for _, doc := range []string{
		`{"closefit":1,"question":"answer","with":{"lesson":"interval","seed":7,"exercise":3,"typed":""}}`,
		`{"closefit":1,"question":"lesson","with":{"lesson":"interval","moving":false,"at":[]}}`,
		`{"closefit":1,"question":"key","with":{"seed":-1}}`, "",
	} {
		if got := q.Answer(t.Context(), []byte(doc)); !bytes.Contains(got, []byte(`"error":{"message":"`)) {
			t.Errorf("%s is answered with %s", doc, got)
		}
	}
}
