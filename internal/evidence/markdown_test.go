package evidence_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/internal/evidence"
)

func TestMarkdown(t *testing.T) {
	report, err := evidence.Evaluate(evidence.Fixture())
	if err != nil {
		t.Fatal(err)
	}
	got := evidence.Markdown([]evidence.Report{report})
	if again := evidence.Markdown([]evidence.Report{report}); !bytes.Equal(got, again) {
		t.Error("two renderings of the same report differ")
	}
	golden(t, "testdata/fixture.golden.md", got)
}

func TestStale(t *testing.T) {
	path := filepath.Join(t.TempDir(), "EVIDENCE.md")
	if err := evidence.Stale(path, []byte("a\n")); !errors.Is(err, evidence.ErrStale) || !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing file: %v", err)
	}
	if err := os.WriteFile(path, []byte("a\nb\nc\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := evidence.Stale(path, []byte("a\nb\nc\n")); err != nil {
		t.Errorf("same bytes: %v", err)
	}
	tests := []struct {
		name, want string
		line       int
		says       string
	}{
		{"a line differs", "a\nB\nc\n", 2, `has "b" where "B" is due`},
		{"a line is gone", "a\nb\n", 3, `has "c" where "" is due`},
		{"a line came", "a\nb\nc\nd\n", 4, `has "" where "d" is due`},
		{"no last line break", "a\nb\nc", 4, `has "" where nothing is due`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			err := evidence.Stale(path, []byte(test.want))
			stale, ok := errors.AsType[*evidence.Error](err)
			if !ok || !errors.Is(err, evidence.ErrStale) {
				t.Fatalf("error %v", err)
			}
			if stale.Line != test.line || !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %q, want line %d and %q", err, test.line, test.says)
			}
		})
	}
}
