// Package sheettest makes workbooks for the tests and benchmarks of sheetcheck, and reads
// them with the workbook library alone, which is what speed is measured against.
package sheettest

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Workbook writes a workbook of one sheet, Sheet1, with so many rows, and returns its path. row
// returns the cells of each, the first numbered 1.
func Workbook(tb testing.TB, rows int, row func(number int) []any) string {
	tb.Helper()
	path := filepath.Join(tb.TempDir(), "mains.xlsx")
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		tb.Fatal(err)
	}
	for i := 1; i <= rows; i++ {
		if err := w.SetRow(fmt.Sprintf("A%d", i), row(i)); err != nil {
			tb.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		tb.Fatal(err)
	}
	if err := f.SaveAs(path); err != nil {
		tb.Fatal(err)
	}
	return path
}

// Streamed reads the cells of a workbook's Sheet1 with the workbook library alone.
func Streamed(tb testing.TB, path string) (rows, cells int) {
	tb.Helper()
	f, err := excelize.OpenFile(path, excelize.Options{RawCellValue: true})
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	r, err := f.Rows("Sheet1")
	if err != nil {
		tb.Fatal(err)
	}
	defer r.Close()
	for r.Next() {
		texts, err := r.Columns()
		if err != nil {
			tb.Fatal(err)
		}
		rows++
		cells += len(texts)
	}
	return rows, cells
}

// Pack writes parts as an archive, and returns its path.
func Pack(tb testing.TB, name string, parts map[string]string) string {
	tb.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for part, text := range parts {
		w, err := z.Create(part)
		if err != nil {
			tb.Fatal(err)
		}
		if _, err := io.WriteString(w, text); err != nil {
			tb.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		tb.Fatal(err)
	}
	path := filepath.Join(tb.TempDir(), name)
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		tb.Fatal(err)
	}
	return path
}
