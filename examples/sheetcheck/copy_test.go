package main

import (
	"archive/zip"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
	"example.com/closefit/internal/thorough"
)

// A told report is what a report says of a workbook's cells.
type told struct {
	Findings, Latent, Follows, Unchecked []map[string]any
	Understanding                        map[string]any
	Coverage                             map[string]any
	Notes                                []string
}

func tell(t *testing.T, args ...string) told {
	t.Helper()
	status, out, errs := try(append([]string{"-format", "json"}, args...)...)
	if status != checked {
		t.Fatalf("%v: status %d: %s", args, status, errs)
	}
	var r told
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestCopy: of each kept workbook, the copy is read as the workbook is, to the last finding; its
// own sheet is passed over, and said to be.
func TestCopy(t *testing.T) {
	books, err := filepath.Glob(kept("layouts/*.xls[xm]"))
	if err != nil || len(books) < 50 {
		t.Fatalf("%d workbooks, %v", len(books), err)
	}
	every := thorough.Every(6)
	for i, path := range books {
		if i%every != 0 && filepath.Ext(path) != ".xlsm" {
			continue
		}
		t.Run(filepath.Base(path), func(t *testing.T) {
			before := read(t, path)
			copied := filepath.Join(t.TempDir(), filepath.Base(path))
			found := tell(t, "-copy", copied, path)
			if read(t, path) != before {
				t.Fatal("the workbook itself was changed")
			}
			if left, err := os.ReadDir(filepath.Dir(copied)); err != nil || len(left) != 1 {
				t.Errorf("beside the copy is %v, %v", left, err)
			}
			again := tell(t, copied)
			if n := len(again.Notes); n == 0 || again.Notes[n-1] != "sheet Check is sheetcheck's own, from a copy that it wrote, and is passed over" {
				t.Errorf("notes: %q", again.Notes)
			} else {
				again.Notes = again.Notes[:n-1]
			}
			if diff := cmp.Diff(found, again, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("the copy is read otherwise (-workbook +copy):\n%s", diff)
			}
			rows := len(found.Findings) + len(found.Latent) + len(found.Follows)
			if strings.Contains(path, ".seeded.") && rows == 0 {
				t.Error("nothing was found")
			}
			sheets := parts(t, copied)
			page := ""
			for name, text := range sheets {
				if strings.Contains(text, `<pageSetup orientation="landscape" fitToHeight="0"/>`) && strings.HasPrefix(name, "xl/worksheets/") {
					page = text
				}
			}
			if got := strings.Count(page, "<hyperlink "); got != rows {
				t.Errorf("%d links for %d findings", got, rows)
			}
			if strings.Contains(page, "<f>") || strings.Contains(page, "<f ") {
				t.Error("a formula on the first sheet")
			}
		})
	}
}

// parts returns the parts of a workbook.
func parts(t *testing.T, path string) map[string]string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	all := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		r.Close()
		all[f.Name] = string(text)
	}
	return all
}

// TestCopyByMap: a map serves for the workbook and for its copy, whose first sheet is another.
func TestCopyByMap(t *testing.T) {
	copied, bearings := filepath.Join(t.TempDir(), "copy.xlsx"), file(t, "map.toml", bearingMap)
	found := tell(t, "-map", bearings, "-copy", copied, sheettest.Pack(t, "book.xlsx", workbook(row(2, "B2-C2-E2", "2.035")+row(3, "B3-C3-D3-E3", "0.031"))))
	again := tell(t, "-map", bearings, copied)
	again.Notes = slices.DeleteFunc(again.Notes, func(n string) bool { return strings.Contains(n, "passed over") })
	if diff := cmp.Diff(found, again, cmpopts.EquateEmpty()); diff != "" || len(found.Findings) == 0 {
		t.Errorf("the copy is read otherwise (-workbook +copy):\n%s", diff)
	}
}

// TestCopyIsInert: what stands in cells does not become a formula.
func TestCopyIsInert(t *testing.T) {
	rows := row(2, "B2-C2-E2", "2.035") + strings.ReplaceAll(row(3, "B3-C3-D3-E3", "0.031"), "main", "=HYPERLINK(1)")
	rows = strings.Replace(rows, `<c r="F3"><f>B3-C3-D3-E3</f><v>0.031</v></c>`, `<c r="F3" t="inlineStr"><is><t>=cmd|A0</t></is></c>`, 1)
	copied := filepath.Join(t.TempDir(), "copy.xlsx")
	status, out, errs, _ := checkFile(t, sheettest.Pack(t, "book.xlsx", workbook(rows)), "-copy", copied)
	if status != checked || !strings.Contains(out, "one wall instead of two") {
		t.Fatalf("status %d, said %s %s", status, out, errs)
	}
	formulas, comments, quoted := 0, "", false
	for name, text := range parts(t, copied) {
		if strings.HasPrefix(name, "xl/worksheets/") {
			formulas += strings.Count(text, "<f>")
			quoted = quoted || strings.Contains(text, `t="inlineStr"><is><t xml:space="preserve">=cmd|A0</t></is></c>`)
		}
		if strings.Contains(name, "comments") {
			comments += text
		}
	}
	if formulas != 1 || !quoted || !strings.Contains(comments, "one wall instead of two") {
		t.Errorf("%d formulas, want the 1 that was there; the text is shown: %t; comments %s", formulas, quoted, comments)
	}
}

// TestNoCopy: where there can be no copy, the report is written all the same, and no file.
func TestNoCopy(t *testing.T) {
	parts := workbook(row(2, "B2-C2-E2", "2.035"))
	parts["xl/styles.xml"] = strings.Replace(parts["xl/styles.xml"], "<styleSheet", `<?xml version="1.0" encoding="windows-1252"?><styleSheet`, 1)
	for name, copied := range map[string]string{
		"part xl/styles.xml: it is in an encoding that the copy cannot be written in; open the workbook in an office program": filepath.Join(t.TempDir(), "copy.xlsx"),
		"cannot write": filepath.Join(t.TempDir(), "none", "copy.xlsx"),
	} {
		status, out, errs, _ := checkFile(t, sheettest.Pack(t, "book.xlsx", parts), "-copy", copied)
		if status != badInput || !strings.Contains(errs, name) || !strings.Contains(out, "one wall instead of two") {
			t.Errorf("status %d, said %s, report %s", status, errs, out)
		}
		if left, err := filepath.Glob(filepath.Join(filepath.Dir(copied), "*")); err != nil || len(left) > 0 {
			t.Errorf("left: %v, %v", left, err)
		}
	}
}
