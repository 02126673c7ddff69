package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// savedMap writes the map of a workbook and returns its name.
func savedMap(t *testing.T, book string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "saved.toml")
	tell(t, "-save", name, book)
	return name
}

// unread writes which values nobody looked at.
func unread(r told) (text string) {
	for _, u := range r.Unchecked {
		if n, ok := u["values"]; ok {
			text += fmt.Sprint(u["sheet"], "!", u["cell"], ":", u["to"], " ", n, "; ")
		}
	}
	return text
}

// TestMapLeavesNothingOut: with the map that is its memory, a workbook's report says the same of
// units along formulas and of values that nobody looks at as without it.
func TestMapLeavesNothingOut(t *testing.T) {
	for _, name := range []string{"values/units.seeded.xlsx", "values/grades-near.seeded.xlsx", "strangers/shim-choice.xlsx"} {
		t.Run(name, func(t *testing.T) {
			book := filepath.Join("testdata", "layouts", name)
			without, with := tell(t, book), tell(t, "-map", savedMap(t, book), book)
			if a, b := fmt.Sprint(without.Latent), fmt.Sprint(with.Latent); a != b {
				t.Errorf("latent: without a map %s, with it %s", a, b)
			}
			if a, b := unread(without), unread(with); a != b {
				t.Errorf("unread: without a map %s, with it %s", a, b)
			}
		})
	}
}

// TestMapOfEmptyColumn: a column that the map names and that is empty is said.
func TestMapOfEmptyColumn(t *testing.T) {
	book := filepath.Join("testdata", "layouts", "mains-rows.xlsx")
	name := savedMap(t, book)
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	moved := strings.Replace(string(text), "[table.column.\"bore\"]\n", "[table.column.\"reading\"]\nat = \"Z\"\nunit = \"mm\"\n\n[table.column.\"bore\"]\n", 1)
	if moved == string(text) {
		t.Fatalf("no columns in the map:\n%s", text)
	}
	if err := os.WriteFile(name, []byte(moved), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, out, _ := try("-map", name, book); !strings.Contains(out, `names Z for "reading", and nothing stands there`) {
		t.Errorf("the empty column is not said:\n%s", out)
	}
}
