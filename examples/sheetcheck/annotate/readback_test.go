package annotate_test

import (
	"archive/zip"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/internal/thorough"
)

// Copies are read back by programs that had no part in writing them: an office program, a
// library for Python and the workbook library.

// A seen cell is what one of them finds in a copy.
type seen struct {
	Comment, Colour, Value, Link string
	Formula                      bool
}

// A view is what one of them finds: sheets in order, and their cells.
type view struct {
	Sheets []string
	Cells  map[string]map[string]seen
}

// profile is where the office program keeps its settings, which it makes on its first start.
var profile string

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "office-")
	if err != nil {
		panic(err)
	}
	profile = folder
	status := m.Run()
	os.RemoveAll(folder)
	os.Exit(status)
}

// office opens copies in the office program, which stores each as an OpenDocument sheet, and
// returns those by the names of the copies.
func office(t *testing.T, copies ...string) map[string]string {
	t.Helper()
	program := thorough.Program(t, "soffice")
	out := t.TempDir()
	args := append([]string{"--headless", "--norestore", "-env:UserInstallation=file://" + filepath.ToSlash(profile), "--convert-to", "ods", "--outdir", out}, copies...)
	said, err := exec.CommandContext(t.Context(), program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("soffice: %v\n%s", err, said)
	}
	stored := map[string]string{}
	for _, c := range copies {
		name := filepath.Join(out, strings.TrimSuffix(filepath.Base(c), filepath.Ext(c))+".ods")
		if _, err := os.Stat(name); err != nil {
			t.Errorf("the office program did not open %s\n%s", filepath.Base(c), said)
			continue
		}
		stored[c] = name
	}
	return stored
}

// document reads what the office program found.
func document(t *testing.T, name string) view {
	t.Helper()
	z, err := zip.OpenReader(name)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	f, err := z.Open("content.xml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	v := view{Cells: map[string]map[string]seen{}}
	colours := map[string]string{}
	var columns []string // the styles that cells have without one of their own
	style, on, row, column, repeat, skip := "", "", 0, 0, 1, 0
	var cell seen
	note, text := false, false
	d := xml.NewDecoder(f)
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return v
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			get := func(name string) string {
				for _, a := range e.Attr {
					if a.Name.Local == name {
						return a.Value
					}
				}
				return ""
			}
			times := func(name string) int {
				n, err := strconv.Atoi(get(name))
				if err != nil {
					return 1
				}
				return n
			}
			switch e.Name.Local {
			case "style":
				style = get("name")
			case "table-cell-properties":
				colours[style] = strings.TrimPrefix(get("background-color"), "#")
			case "table":
				on, row, columns = get("name"), 0, nil
				v.Sheets, v.Cells[on] = append(v.Sheets, on), map[string]seen{}
			case "table-column":
				for range min(times("number-columns-repeated"), 100) {
					columns = append(columns, get("default-cell-style-name"))
				}
			case "table-row":
				row++
				repeat, column = times("number-rows-repeated"), 0
			case "table-cell", "covered-table-cell":
				look := get("style-name")
				if look == "" && column < len(columns) {
					look = columns[column]
				}
				cell = seen{Colour: colours[look], Formula: get("formula") != ""}
				column++
				if cell.Colour == "transparent" {
					cell.Colour = ""
				}
				skip = times("number-columns-repeated") - 1
			case "annotation":
				note = true
			case "p":
				text = true
				if note && cell.Comment != "" {
					cell.Comment += "\n"
				}
			case "a":
				cell.Link = get("href")
			}
		case xml.CharData:
			switch {
			case text && note:
				cell.Comment += string(e)
			case text:
				cell.Value += string(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "p":
				text = false
			case "annotation":
				note = false
			case "table-cell", "covered-table-cell":
				if cell != (seen{}) {
					v.Cells[on][sheet.Place{Row: row, Column: column}.String()] = cell
				}
				column += skip
			case "table-row":
				row += repeat - 1
			}
		}
	}
}

// python reads copies with openpyxl.
func python(t *testing.T, copies ...string) map[string]view {
	t.Helper()
	const program = `
import json, sys
import openpyxl
out = {}
for path in sys.argv[1:]:
    book = openpyxl.load_workbook(path, keep_vba=path.endswith(".xlsm"))
    view = {"Sheets": book.sheetnames, "Cells": {}}
    for sheet in book.worksheets:
        cells = view["Cells"][sheet.title] = {}
        for row in sheet.iter_rows():
            for c in row:
                seen = {}
                if c.comment: seen["Comment"] = c.comment.text
                if c.fill and c.fill.fill_type == "solid": seen["Colour"] = c.fill.fgColor.rgb[2:] if isinstance(c.fill.fgColor.rgb, str) else ""
                if c.value is not None: seen["Value"] = str(c.value)
                if c.hyperlink: seen["Link"] = c.hyperlink.location or ""
                if c.data_type == "f": seen["Formula"] = True
                if seen: cells[c.coordinate] = seen
    out[path] = view
json.dump(out, sys.stdout)
`
	thorough.SkipRaced(t)
	interpreter := ""
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.CommandContext(t.Context(), name, "-c", "import openpyxl").Run() == nil {
			interpreter = name
			break
		}
	}
	if interpreter == "" {
		thorough.Missing(t, "no Python with openpyxl: python3-openpyxl is not installed")
	}
	cmd := exec.CommandContext(t.Context(), interpreter, append([]string{"-c", program}, copies...)...)
	var errs strings.Builder
	cmd.Stderr = &errs
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("openpyxl: %v\n%s", err, errs.String())
	}
	views := map[string]view{}
	if err := json.Unmarshal(text, &views); err != nil {
		t.Fatal(err)
	}
	return views
}

// library reads a copy with the workbook library. Of cells it is asked for those that are named.
func library(t *testing.T, name string, wanted map[string][]string) view {
	t.Helper()
	f, err := excelize.OpenFile(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	v := view{Sheets: f.GetSheetList(), Cells: map[string]map[string]seen{}}
	for on, cells := range wanted {
		v.Cells[on] = map[string]seen{}
		comments, err := f.GetComments(on)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range cells {
			var s seen
			for _, c := range comments {
				if c.Cell == at {
					s.Comment = c.Text
					for _, run := range c.Paragraph {
						if !strings.Contains(s.Comment, run.Text) {
							s.Comment += run.Text
						}
					}
				}
			}
			id, err := f.GetCellStyle(on, at)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.GetStyle(id); err != nil { // which reads the styles; it knows no colours without a theme
				t.Fatal(err)
			}
			if fill := f.Styles.CellXfs.Xf[id].FillID; fill != nil {
				if p := f.Styles.Fills.Fill[*fill].PatternFill; p != nil && p.FgColor != nil {
					s.Colour = p.FgColor.RGB[2:]
				}
			}
			if s.Value, err = f.GetCellValue(on, at); err != nil {
				t.Fatal(err)
			}
			v.Cells[on][at] = s
		}
	}
	return v
}
