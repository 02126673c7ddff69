package main

import (
	"bytes"
	"crypto/sha256"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/lesson"
)

const keyFile = lesson.KeyFile

// A file is a page that was written.
type file struct {
	name string
	text []byte
}

// pages writes all pages, with the module packed by gzip.
func pages(packed []byte) ([]file, error) {
	site := lesson.Site{Module: packed, Hash: sha256.Sum256}
	var all []file
	var failed error
	add := func(name string, write func(w io.Writer) error) {
		var b bytes.Buffer
		if err := write(&b); err != nil && failed == nil {
			failed = err
		}
		all = append(all, file{name, b.Bytes()})
	}
	add(lesson.Contents, site.WriteContents)
	for _, l := range lesson.All() {
		add(l.File(), func(w io.Writer) error { return site.Write(w, l) })
	}
	add(keyFile, site.WriteKey)
	return all, failed
}

// write writes the pages into a folder, each whole or not at all.
func write(folder string, all []file) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, f := range all {
		if err := wholefile.Write(filepath.Join(folder, f.name), f.text); err != nil {
			return err
		}
	}
	return nil
}

// A site serves pages below a path that nobody can guess, to who asks for its own address.
type site struct {
	pages      []file
	path, host string
}

func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	name, ours := strings.CutPrefix(r.URL.Path, s.path)
	if r.Host != s.host || !ours {
		http.NotFound(w, r)
		return
	}
	origin, from := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	if origin != "" && origin != "http://"+s.host || from == "cross-site" && r.Header.Get("Sec-Fetch-Mode") != "navigate" {
		http.Error(w, "not this origin", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "the lessons are only read", http.StatusMethodNotAllowed)
		return
	}
	if name == "" {
		name = lesson.Contents
	}
	i := slices.IndexFunc(s.pages, func(f file) bool { return f.name == name })
	if i < 0 {
		http.NotFound(w, r)
		return
	}
	h.Set("Content-Type", "text/html; charset=utf-8")
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(s.pages[i].text))
}
