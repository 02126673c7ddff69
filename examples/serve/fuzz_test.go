package main

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/ask/asktest"
)

// FuzzBody: the version is taken out of a body as a plain reader of JSON would do it, and the rest stays.
func FuzzBody(f *testing.F) {
	for _, c := range asktest.Library() {
		f.Add([]byte(bodyOf(c)))
	}
	for _, text := range []string{inch, "", "{}", "[]", `{"closefit":1}`, `{"a":{"closefit":1},"closefit" : 1 }`, `{"\u0063losefit":1}`, `{"closefit":1,"closefit":1}`, `{"a":"\"closefit\":1"}`, strings.Repeat("[", 65)} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		before := bytes.Clone(body)
		rest, err := with(body)
		if !bytes.Equal(body, before) {
			t.Fatal("the body was changed")
		}
		whole := map[string]json.RawMessage{}
		if plain := json.Unmarshal(body, &whole); err != nil {
			// It refuses what is no object, what is too deep, and what does not say the version in plain letters, once.
			if plain == nil && !deep(body) && string(whole["closefit"]) == "1" && bytes.Count(body, []byte("closefit")) == 1 {
				t.Fatalf("%q is refused: %v", body, err)
			}
			return
		}
		left := map[string]json.RawMessage{}
		if err := json.Unmarshal(rest, &left); err != nil {
			t.Fatalf("%q leaves %q: %v", body, rest, err)
		}
		if bytes.Count(body, []byte("closefit")) == 1 {
			delete(whole, "closefit")
			if _, there := left["closefit"]; there || len(left) != len(whole) {
				t.Fatalf("%q leaves %q", body, rest)
			}
			for key, value := range whole {
				if !bytes.Equal(value, left[key]) {
					t.Fatalf("%q leaves %q", body, rest)
				}
			}
		}
	})
}

// FuzzRequest: whatever is sent, the status is one that the description names, and the answer is one
// document of the form.
func FuzzRequest(f *testing.F) {
	for _, c := range asktest.Library() {
		f.Add("POST", "/v1/"+c.Question, "application/json", "127.0.0.1", bodyOf(c))
	}
	f.Add("GET", "/healthz", "", "localhost:80", "")
	f.Add("HEAD", "/openapi.json", "", "[::1]", "")
	f.Add("OPTIONS", "/v1/judge", "", "127.0.0.1", "")
	f.Add("POST", "/v1/convert", "application/json; charset=latin1", "example.com", inch)
	s := newServer(slog.New(slog.NewJSONHandler(io.Discard, nil)))
	statuses := []int{200, 204, 400, 404, 405, 413, 415, 421, 422, 503}
	f.Fuzz(func(t *testing.T, method, path, kind, host, body string) {
		if strings.HasPrefix(path, "/v1/record") || strings.HasPrefix(path, "/v1/stack") && len(body) > 1500 {
			return // they have targets of their own, and take long
		}
		r, err := http.NewRequestWithContext(t.Context(), method, "http://x/", strings.NewReader(body))
		if err != nil {
			return
		}
		r.URL.Path, r.Host = path, host
		r.Header.Set("Content-Type", kind)
		w := deadlines{httptest.NewRecorder()}
		s.ServeHTTP(w, r)
		if !slices.Contains(statuses, w.Code) {
			t.Fatalf("%s %s: %d, %.400s", method, path, w.Code, w.Body)
		}
		if w.Header().Get("Content-Type") != "application/json" || method == http.MethodHead || w.Code == http.StatusNoContent {
			return
		}
		var a reply
		if err := json.Unmarshal(w.Body.Bytes(), &a); err != nil {
			t.Fatalf("%.400s: %v", w.Body, err)
		}
		if path != "/openapi.json" && (a.Closefit != 1 || (a.Answer == nil) == (a.Error == nil) || (w.Code == 200) != (a.Error == nil)) {
			t.Fatalf("%d: %.400s", w.Code, w.Body)
		}
	})
}

// deadlines takes those that the server sets.
type deadlines struct{ *httptest.ResponseRecorder }

func (deadlines) SetReadDeadline(time.Time) error  { return nil }
func (deadlines) SetWriteDeadline(time.Time) error { return nil }
