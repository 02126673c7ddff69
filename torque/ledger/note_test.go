package ledger

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestNotes: a note is kept as it is, through closing and reading, and changes nothing; a
// replaced bolt is known as such, and a loosened one is not.
func TestNotes(t *testing.T) {
	path, plan := filepath.Join(t.TempDir(), "ledger"), smallPlan(t, "small")
	l := openTest(t, path, plan)
	texts := []string{"-", `{"gate":"final assembly","by":"the builder"}`, strings.Repeat("ä", longestNote/2)}
	first, _ := plan.Step(1)
	for _, err := range []error{l.Note(texts[0]), l.Begin(first.Number), l.Note(texts[1]), l.Done(first.Number), l.Note(texts[2])} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, bad := range []string{"", "a\tb", "a\nb", "a\x00b", "\xff", strings.Repeat("x", longestNote+1)} {
		if err := l.Note(bad); !errors.Is(err, ErrRefused) {
			t.Errorf("%.20q: %v, want it refused", bad, err)
		}
	}
	bolts := plan.Groups()[0].Pattern
	a, b := bolts[0].Bolt, bolts[1].Bolt
	for _, err := range []error{l.Replace(a), l.Loosen(b), l.Close()} {
		if err != nil {
			t.Fatal(err)
		}
	}
	l = openTest(t, path, plan)
	defer l.Close()
	read, entries, err := Read(path, plan)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range []*Ledger{l, read} {
		if !slices.Equal(l.Notes(), texts) || !l.Replaced(a) || l.Replaced(b) {
			t.Errorf("%.60q, %v, %v", l.Notes(), l.Replaced(a), l.Replaced(b))
		}
	}
	if e := entries[0]; e.What != "note" || e.Text != "-" || e.Bolt != "" || e.Step != 0 {
		t.Errorf("%+v", e)
	}
}
