package main

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"

	"example.com/closefit/examples/kit/lesson"
)

// Only who asks for the site's own address, from nowhere else, by its own path, is answered.
func TestRefuses(t *testing.T) {
	s := &site{[]file{{lesson.Contents, []byte("contents")}}, "/secret/", "127.0.0.1:4711"}
	for _, test := range []struct {
		name, method, host, path string
		head                     map[string]string
		want                     int
	}{
		{"its own", "GET", s.host, "/secret/", nil, http.StatusOK},
		{"its own, by name", "HEAD", s.host, "/secret/" + lesson.Contents, map[string]string{"Origin": "http://" + s.host}, http.StatusOK},
		{"another host", "GET", "lessons.example:4711", "/secret/", nil, http.StatusNotFound},
		{"another port", "GET", "127.0.0.1:4712", "/secret/", nil, http.StatusNotFound},
		{"another origin", "GET", s.host, "/secret/", map[string]string{"Origin": "http://lessons.example"}, http.StatusForbidden},
		{"no origin that can be named", "GET", s.host, "/secret/", map[string]string{"Origin": "null"}, http.StatusForbidden},
		{"another site's picture", "GET", s.host, "/secret/", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, http.StatusForbidden},
		{"no path", "GET", s.host, "/", nil, http.StatusNotFound},
		{"another path", "GET", s.host, "/guessed/", nil, http.StatusNotFound},
		{"another page", "GET", s.host, "/secret/other.html", nil, http.StatusNotFound},
		{"a page above", "GET", s.host, "/secret/../" + lesson.Contents, nil, http.StatusNotFound},
		{"writing", "POST", s.host, "/secret/", map[string]string{"Origin": "http://" + s.host}, http.StatusMethodNotAllowed},
	} {
		r := httptest.NewRequest(test.method, "http://"+test.host+test.path, nil)
		for name, value := range test.head {
			r.Header.Set(name, value)
		}
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != test.want || test.want != http.StatusOK && bytes.Contains(w.Body.Bytes(), []byte("contents")) {
			t.Errorf("%s: %d, %q", test.name, w.Code, w.Body)
		}
	}
}

// -o DIR writes all pages, each whole, over older ones, and leaves what else is there.
func TestWrite(t *testing.T) {
	all, err := pages([]byte("module"))
	if err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(t.TempDir(), "course", "autumn")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{lesson.Contents: "old", "notes.txt": "mine"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := write(folder, all); err != nil {
		t.Fatal(err)
	}
	there, err := os.ReadDir(folder)
	if err != nil || len(there) != len(lesson.All())+3 { // contents, key and notes
		t.Errorf("%d files, %v", len(there), err)
	}
	for _, f := range all {
		if text, err := os.ReadFile(filepath.Join(folder, f.name)); err != nil || !bytes.Equal(text, f.text) || !bytes.Contains(text, []byte("</html>")) {
			t.Errorf("%s is not whole: %v", f.name, err)
		}
	}
	if text, err := os.ReadFile(filepath.Join(folder, "notes.txt")); err != nil || string(text) != "mine" {
		t.Errorf("another file is %q, %v", text, err)
	}
	if err := write(filepath.Join(folder, "notes.txt"), all); err == nil {
		t.Error("a file is taken for a folder")
	}
}
