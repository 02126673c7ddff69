package sheet_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// numbered is a row with its number.
type numbered struct {
	Number int
	Texts  []string
}

// tester is what testing.T and rapid.T share.
type tester interface {
	Helper()
	Fatal(...any)
}

func readText(t tester, dir, text string, separator byte) []numbered {
	t.Helper()
	name := filepath.Join(dir, "a.csv")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := sheet.Open(name, separator, sheet.Notation{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var rows []numbered
	for row, err := range sheet.Rows(context.Background(), f, "") {
		if err != nil {
			t.Fatal(err)
		}
		n := numbered{Number: row.Number}
		for _, c := range row.Cells {
			n.Texts = append(n.Texts, c.Text)
		}
		rows = append(rows, n)
	}
	return rows
}

func TestText(t *testing.T) {
	for _, test := range []struct {
		name, text string
		separator  byte
		want       []numbered
	}{
		{"plain", "a,b\n1,2\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"no end of line at the end", "a,b\n1,2", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"byte order mark and carriage returns", "\ufeffa;b\r\n1;2\r\n", ';', []numbered{{1, []string{"a", "b"}}, {2, []string{"1", "2"}}}},
		{"empty lines count", "a\n\n\nb\n", 0, []numbered{{1, []string{"a"}}, {4, []string{"b"}}}},
		{"blank cells", "a,,c,\n", 0, []numbered{{1, []string{"a", "", "c", ""}}}},
		{"tabs", "a\tb,c\n", '\t', []numbered{{1, []string{"a", "b,c"}}}},
		{"quoted", "a,b\n\"1,5\",\"say \"\"two\"\"\"\n3,4\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"1,5", `say "two"`}}, {3, []string{"3", "4"}}}},
		{"line breaks in a cell", "a,b\n\"x\ny\",1\n\nz,2\n", 0, []numbered{{1, []string{"a", "b"}}, {2, []string{"x\ny", "1"}}, {4, []string{"z", "2"}}}},
		{"nothing", "", 0, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, readText(t, t.TempDir(), test.text, test.separator)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestTextLikeCSV: rows are those that encoding/csv reads, whichever way they are
// read here; the file is longer than what is read at once.
func TestTextLikeCSV(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SampledFrom([]string{"", "1", "60.012", "main", "a b", "\"x,y\"", "\"\"\"\"", strings.Repeat("long ", 200)})
		line := rapid.Custom(func(t *rapid.T) string {
			return strings.Join(rapid.SliceOfN(cell, 1, 5).Draw(t, "cells"), ",")
		})
		text := strings.Join(rapid.SliceOfN(line, 0, 300).Draw(t, "lines"), "\n")
		reader := csv.NewReader(strings.NewReader(text))
		reader.FieldsPerRecord = -1
		want, err := reader.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var got [][]string
		for _, row := range readText(t, dir, text, 0) {
			got = append(got, row.Texts)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
	})
}
