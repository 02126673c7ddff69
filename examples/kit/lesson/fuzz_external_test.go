package lesson_test

import (
	"bytes"
	"encoding/json"
	"strconv"
	"testing"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/lesson"
)

// FuzzAnswer: whatever a page asks of a lesson, and whatever a student types, there is an answer, the
// same each time, or a refusal; nothing breaks.
func FuzzAnswer(f *testing.F) {
	for i, l := range lesson.All() {
		f.Add(`{"closefit":1,"question":"answer","with":{"lesson":` + strconv.Quote(l.Key) + `,"seed":` + strconv.Itoa(i) + `,"exercise":1,"typed":"0.031 mm"}}`)
		f.Add(`{"closefit":1,"question":"exercises","with":{"lesson":` + strconv.Quote(l.Key) + `,"seed":-1}}`)
	}
	f.Add(`{"closefit":1,"question":"key","with":{"seed":7}}`)
	set := lesson.NewQuestions()
	f.Fuzz(func(t *testing.T, doc string) {
		reply := set.Answer(t.Context(), []byte(doc))
		var a struct {
			Answer json.RawMessage `json:"answer"`
			Error  *ask.Refusal    `json:"error"`
		}
		if err := json.Unmarshal(reply, &a); err != nil || (a.Answer == nil) == (a.Error == nil) {
			t.Fatalf("%.400q: %v", reply, err)
		}
		if a.Error != nil && a.Error.Kind != nil && *a.Error.Kind == ask.ErrBroken.Error() {
			t.Fatalf("%q: %.400q", doc, reply)
		}
		if again := set.Answer(t.Context(), []byte(doc)); !bytes.Equal(again, reply) {
			t.Fatalf("%q: %.400q, and then %.400q", doc, reply, again)
		}
	})
}
