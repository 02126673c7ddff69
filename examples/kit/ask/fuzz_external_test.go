package ask_test

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"
	"time"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/asktest"
)

// FuzzAnswer: any document has one answer, or one refusal that says what was found and what to
// write; the library does not break, and the same document is answered the same again.
func FuzzAnswer(f *testing.F) {
	for _, c := range asktest.Library() {
		f.Add(c.Document())
	}
	f.Add([]byte(`{"closefit":2}`))
	f.Fuzz(func(t *testing.T, doc []byte) {
		ctx, stop := context.WithTimeout(t.Context(), 200*time.Millisecond)
		defer stop()
		reply := ask.Library().Answer(ctx, doc)
		var a struct {
			Closefit int             `json:"closefit"`
			Answer   json.RawMessage `json:"answer"`
			Error    *ask.Refusal    `json:"error"`
		}
		if err := json.Unmarshal(reply, &a); err != nil || a.Closefit != 1 || (a.Answer == nil) == (a.Error == nil) {
			t.Fatalf("%.400q is answered with %.400q: %v", doc, reply, err)
		}
		again := ask.Library().Answer(ctx, doc)
		if ctx.Err() != nil {
			return // what hangs on the time need not be the same
		}
		if e := a.Error; e != nil && (e.Message == "" || len(e.Message) > 8192 || e.Kind != nil && *e.Kind == ask.ErrBroken.Error()) {
			t.Fatalf("%.400q is refused with %.400q", doc, reply)
		}
		if !bytes.Equal(reply, again) {
			t.Fatalf("%.400q is answered with %.400q, and then with %.400q", doc, reply, again)
		}
	})
}
