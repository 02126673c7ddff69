package conform

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// FuzzAnswer: any line is a question that gets one line with its id, an answer or the reason that
// there is none, or it ends the answering with an error.
func FuzzAnswer(f *testing.F) {
	vectors, err := Vectors()
	if err != nil {
		f.Fatal(err)
	}
	seen := map[string]bool{}
	for _, v := range vectors {
		if seen[v.Topic+v.Kind] {
			continue
		}
		seen[v.Topic+v.Kind] = true
		text, err := json.Marshal(v.asked())
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, line string) {
		if strings.ContainsAny(line, "\n\r") {
			return
		}
		var out bytes.Buffer
		if err := Answer(t.Context(), strings.NewReader(line), &out); err != nil || len(line) == 0 {
			if out.Len() > 0 {
				t.Errorf("%q is answered with %q, and with %v", line, out.Bytes(), err)
			}
			return
		}
		var asked, reply struct {
			ID     string          `json:"id"`
			Answer json.RawMessage `json:"answer"`
			Cannot *string         `json:"cannot"`
		}
		if err := json.Unmarshal([]byte(line), &asked); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(out.Bytes(), &reply); err != nil || reply.ID != asked.ID || (reply.Answer == nil) == (reply.Cannot == nil) {
			t.Errorf("%q is answered with %q: %v", line, out.Bytes(), err)
		}
	})
}

// FuzzTake: whatever a program writes as its answers, the report counts each question once, and no
// line that is not the wanted answer passes.
func FuzzTake(f *testing.F) {
	all, err := Vectors()
	if err != nil {
		f.Fatal(err)
	}
	var vectors []Vector
	seen := map[string]bool{}
	for _, v := range all {
		if !seen[v.Topic+v.Kind] {
			seen[v.Topic+v.Kind] = true
			vectors = append(vectors, v)
		}
	}
	right := func(v Vector) string {
		text, err := json.Marshal(map[string]any{"id": v.ID, "answer": v.Want})
		if err != nil {
			f.Fatal(err)
		}
		return string(text)
	}
	for i, v := range vectors {
		f.Add(uint(i), right(v))
	}
	f.Add(uint(0), `{"id":"x"}`)
	f.Add(uint(1), `{"id":"x","cannot":"y"}`+"\n[]")
	f.Fuzz(func(t *testing.T, which uint, text string) {
		v := vectors[which%uint(len(vectors))]
		r := newReport([]string{"x"}, []Vector{v})
		for line := range strings.SplitSeq(text, "\n") {
			r.take([]byte(line))
		}
		if r.waiting < 0 || r.waiting > 1 || r.answered() > 1 {
			t.Fatalf("%d are waited for, %d answered", r.waiting, r.answered())
		}
		r.take([]byte(right(v))) // answered again, or for the first time
		r.finish()
		if r.waiting != 0 {
			t.Fatalf("the answer is not taken after %q", text)
		}
		var b bytes.Buffer
		if err := r.Text(&b); err != nil {
			t.Fatal(err)
		}
		if err := r.JSON(&b); err != nil {
			t.Fatal(err)
		}
		if b.Len() > 1<<16+20*len(text) {
			t.Fatalf("a report of %d bytes on an answer of %d", b.Len(), len(text))
		}
	})
}
