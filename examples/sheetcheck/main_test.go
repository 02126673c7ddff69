package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// try runs the program.
func try(args ...string) (status int, out, errs string) {
	var stdout, stderr bytes.Buffer
	status = run(context.Background(), args, &stdout, &stderr)
	return status, stdout.String(), stderr.String()
}

func kept(name string) string { return filepath.Join("testdata", name) }

func TestStatus(t *testing.T) {
	wrong := file(t, "wrong.csv", "main,bore,upper,lower,journal,clearance,verdict\n1,60.012,2.006,2.004,55.971,0.31,high\n")
	bearings := file(t, "map.toml", bearingMap)
	for _, test := range []struct {
		name   string
		args   []string
		status int
		out    string // in what is written
		errs   string
	}{
		{"nothing wrong", []string{"-strict", "-map", kept("metric.toml"), kept("metric.xlsx")}, checked, "nothing is wrong", ""},
		{"something wrong", []string{"-map", bearings, wrong}, checked, "decimal point moved", ""},
		{"something wrong, strictly", []string{"-strict", "-map", bearings, wrong}, findings, "decimal point moved", ""},
		{"nothing compared", []string{"-map", bearings, file(t, "h.csv", "main,bore,upper,lower,journal,clearance,verdict\n")}, checked, "0 claims compared: nothing was checked.", ""},
		{"nothing compared, strictly", []string{"-strict", "-map", bearings, file(t, "h.csv", "main,bore,upper,lower,journal,clearance,verdict\n")}, findings, "nothing was checked", ""},
		{"formulas without values, strictly", []string{"-strict", "-map", bearings, sheettest.Pack(t, "book.xlsx", workbook(row(2, "B2-C2-D2-E2", "")))}, checked, "1 claim compared: nothing is wrong with them.", ""},
		{"an empty file, strictly", []string{"-strict", "-map", bearings, file(t, "e.csv", "")}, findings, "nothing was checked", ""},
		{"a text in Windows-1252", []string{"-strict", "-map", bearings, file(t, "w.csv", "Lager,Geh\xe4use\nmain 1,60.012,2.006,2.004,55.971,0.031,OK\n")}, checked, "w.csv, taken for Windows 1252\n1 location, 2 claims compared: nothing is wrong", ""},
		{"help", []string{"-help"}, checked, "", "What is read at most"},
		{"version", []string{"-version"}, checked, "sheetcheck of closefit, version ", ""},
		{"a text file with semicolons", []string{file(t, "s.csv", "main;bore;wall;journal;clearance\n1;60,012;2,005;55,971;0,031\n")}, checked, "cells are taken to be separated by semicolons", ""},
		{"one with quotation marks", []string{file(t, "q.csv", "main;bore;wall;journal;clearance;note\n1;60,012;2,005;55,971;0,031;\"tight\"\n")}, checked, "cells are taken to be separated by semicolons", ""},
		{"a text that can be read in two ways", []string{file(t, "u.csv", "main;bore\n1;60.012\n")}, badInput, "", "say whether the decimal mark is a point or a comma, with -separator and -decimal or under [csv] in the map"},
		{"one of which it is said", []string{"-decimal", ",", file(t, "u.csv", "main;bore\n1;60.012\n")}, checked, "nothing was checked", ""},
		{"a mark that is none", []string{"-separator", "x", wrong}, badInput, "", "write , ; | or tab"},
		{"a text and what was found of it", []string{"-map", bearings, file(t, "v.csv", "main,bore\nmain 1,60.012,2.006,2.004,55.971,0.031,OK\n")}, checked, "numbers are taken to have a decimal point, as \"0.031\" in F2", ""},
		{"what cannot be read in any way", []string{file(t, "x.csv", "main;\"bore\n")}, badInput, "", "x.csv, row 1"},
		{"without a map, nothing wrong", []string{"-strict", kept("metric.xlsx")}, checked, "73 claims compared: nothing is wrong with them", ""},
		{"without a map, something wrong", []string{kept("layouts/mains-rows.seeded.xlsx")}, checked, "one wall instead of two: the formula is =B13-C13-E13 and should read =B13-C13-D13-E13", ""},
		{"without a map, strictly", []string{"-strict", kept("layouts/mains-rows.seeded.xlsx")}, findings, "FAULTS THAT DO NOT SHOW YET", ""},
		{"without a map, what it is taken to be", []string{kept("layouts/blocks-de.xlsx")}, checked, "F    clearance in mm, headed \"Lagerspiel\", formula =B7-C7-D7-E7", ""},
		{"without a map, nothing to understand", []string{file(t, "n.csv", "1,2\n3,4\n")}, checked, "Nothing was checked", ""},
		{"without a map, nothing to understand, strictly", []string{"-strict", file(t, "n.csv", "1,2\n3,4\n")}, findings, "nothing was checked", ""},
		{"a map saved of nothing", []string{"-save", filepath.Join(t.TempDir(), "n.toml"), file(t, "n.csv", "1,2\n3,4\n")}, badInput, "", "nothing was understood"},
		{"a map saved and given", []string{"-save", filepath.Join(t.TempDir(), "n.toml"), "-map", bearings, wrong}, badInput, "", "leave one of them out"},
		{"no file", []string{"-map", bearings}, badInput, "", "0 files to check"},
		{"two files", []string{"-map", bearings, wrong, wrong}, badInput, "", "2 files to check"},
		{"an unknown form", []string{"-format", "pdf", "-map", bearings, wrong}, badInput, "", "write text, json or html"},
		{"an unknown option", []string{"-mop", bearings, wrong}, badInput, "", "-help lists the options"},
		{"a map that is not there", []string{"-map", "none.toml", wrong}, badInput, "", "none.toml"},
		{"a map with a mistake", []string{"-map", file(t, "m.toml", "[[tabel]]\n"), wrong}, badInput, "", `m.toml:1: unknown key "tabel"`},
		{"a map of another workbook", []string{"-map", kept("inch.toml"), kept("metric.xlsx")}, badInput, "", `inch.toml:6: table[0].sheet: no sheet is called "Rods"; write one of Mains, Play`},
		{"a copy of a text file", []string{"-copy", filepath.Join(t.TempDir(), "c.xlsx"), "-map", bearings, wrong}, badInput, "", "save the sheet as .xlsx in a spreadsheet program"},
		{"a copy of an OpenDocument sheet", []string{"-copy", filepath.Join(t.TempDir(), "c.ods"), kept("layouts/pump.ods")}, badInput, "", "only .xlsx and .xlsm workbooks have a copy"},
		{"a copy of another kind", []string{"-copy", filepath.Join(t.TempDir(), "c.xlsx"), kept("layouts/macros.xlsm")}, badInput, "", "name a file that ends in .xlsm"},
	} {
		t.Run(test.name, func(t *testing.T) {
			status, out, errs := try(test.args...)
			if status != test.status || !strings.Contains(out, test.out) || !strings.Contains(errs, test.errs) {
				t.Errorf("status %d, want %d; output\n%s\nerrors\n%s", status, test.status, out, errs)
			}
			if status == badInput && out != "" {
				t.Errorf("a refused run wrote %q", out)
			}
			for line := range strings.Lines(errs) {
				if status == badInput && !strings.HasPrefix(line, "sheetcheck: ") {
					t.Errorf("an error line is %q", line)
				}
			}
		})
	}
}

// TestJSON: the lists that the report promises are there without a map, each entry with its
// sheet and cell.
func TestJSON(t *testing.T) {
	status, out, errs := try("-format", "json", kept("layouts/names-es.seeded.xlsx"))
	if status != checked {
		t.Fatalf("status %d: %s", status, errs)
	}
	type entry struct{ Sheet, Cell, Right, Cause, Why string }
	var got struct {
		Findings, Latent, Follows, Unchecked []entry
		Understanding                        struct {
			Tables []struct {
				Columns []struct{ At, Role, Unit string }
			}
			NotUnderstood []entry `json:"not_understood"`
		}
		Coverage struct{ Cells, Checked int }
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	has := func(all []entry, cell, cause string) bool {
		return slices.ContainsFunc(all, func(e entry) bool { return e.Sheet == "Bancada" && e.Cell == cell && e.Cause == cause })
	}
	if !has(got.Findings, "F7", "nominal instead of measured") || !has(got.Latent, "G5", "one limit not compared") || !has(got.Follows, "F10", "follows from a wrong value") || got.Findings[0].Cause != "no limit to judge by" {
		t.Errorf("findings %v\nlatent %v\nfollows %v", got.Findings, got.Latent, got.Follows)
	}
	if got.Unchecked == nil || got.Understanding.NotUnderstood == nil || got.Coverage.Cells == 0 || got.Coverage.Cells != got.Coverage.Checked {
		t.Errorf("unchecked %v, coverage %+v", got.Unchecked, got.Coverage)
	}
	if c := got.Understanding.Tables[0].Columns[5]; c.At != "F" || c.Role != "clearance" || c.Unit != "mm" {
		t.Errorf("column F is %+v", c)
	}
}

// TestOutput: a report goes to its file whole, and an old one is replaced.
func TestOutput(t *testing.T) {
	out := file(t, "report.html", "what was there")
	status, text, errs := try("-format", "html", "-o", out, "-map", kept("twelve.toml"), kept("twelve.xlsx"))
	if status != checked || text != "" {
		t.Fatalf("status %d: %s%s", status, text, errs)
	}
	got, err := os.ReadFile(out)
	if err != nil || !strings.Contains(string(got), "</html>") || strings.Contains(string(got), "what was there") {
		t.Errorf("the file holds %q, %v", got, err)
	}
	if left, err := filepath.Glob(filepath.Join(filepath.Dir(out), ".*")); err != nil || len(left) > 0 {
		t.Errorf("left beside it: %v, %v", left, err)
	}
	if status, _, errs := try("-o", filepath.Join(t.TempDir(), "none", "report"), "-map", kept("twelve.toml"), kept("twelve.xlsx")); status != badInput || !strings.Contains(errs, "cannot write") {
		t.Errorf("status %d: %s", status, errs)
	}
}

// TestNothingOverwritten: neither the sheet nor its map nor an older copy is written over.
func TestNothingOverwritten(t *testing.T) {
	sheet := file(t, "sheet.xlsx", read(t, kept("twelve.xlsx")))
	bearings := file(t, "map.toml", read(t, kept("twelve.toml")))
	other := file(t, "other.xlsx", "what was there")
	for _, test := range [][]string{
		{"-o", sheet}, {"-copy", sheet}, {"-o", bearings}, {"-copy", bearings}, {"-copy", other},
		{"-o", filepath.Join(filepath.Dir(other), ".", "new.xlsx"), "-copy", filepath.Dir(other) + "//new.xlsx"},
	} {
		status, _, errs := try(append(test, "-map", bearings, sheet)...)
		if status != badInput || !strings.Contains(errs, "name ") {
			t.Errorf("%s: status %d: %s", test, status, errs)
		}
	}
	if read(t, sheet) != read(t, kept("twelve.xlsx")) || read(t, bearings) != read(t, kept("twelve.toml")) || read(t, other) != "what was there" {
		t.Error("a file was written over")
	}
}

// read returns what a file holds.
func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestHelp: the bounds that hold are the bounds that are said.
func TestHelp(t *testing.T) {
	_, _, help := try("-help")
	for _, want := range []string{"Exit status 0", "1048576", "columns in use             1024", "512 MB", "200 times", "256 brackets in one another", "saved as .xlsx in a spreadsheet program"} {
		if !strings.Contains(help, want) {
			t.Errorf("the help lacks %q:\n%s", want, help)
		}
	}
}

// TestLongText: of a long sheet the first rows are understood and all are checked; what is
// unlike the first rows is said, and never taken for a location.
func TestLongText(t *testing.T) {
	const head = "main,bore mm,upper mm,lower mm,journal mm,clearance mm,verdict (0.024 to 0.048 mm)\n"
	line := func(i int) string {
		return fmt.Sprintf("%d,60.012,2.006,2.004,55.9%02d,0.0%02d,OK\n", i, 60+i%15, 42-i%15)
	}
	long := func(end string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := 1; i < longRows+5000; i++ {
			b.WriteString(line(i))
		}
		return file(t, "long.csv", b.String()+end)
	}
	for _, test := range []struct {
		name, end string
		says      []string
	}{
		{"right", "", []string{"nothing is wrong", "49998 claims"}},
		{"a wrong value", "25000,60.012,2.006,2.004,55.960,0.024,OK\n", []string{"F25001", "50000 claims"}},
		{"a total", "total,1500300,50150,50100,1399275,1050,\n", []string{"nothing is wrong", "A25001:F25001", "rows unlike the first ones"}},
		{"an average without a name", ",60.012,2.006,2.004,55.967,0.031,\n", []string{"nothing is wrong", "49998 claims"}},
		{"another table", "\nrod,bore mm,upper mm,lower mm,journal mm,play mm,verdict\n1,50.012,1.506,1.504,46.0,0.5,bad\n", []string{"nothing is wrong", "another table seems to begin there"}},
		{"a column more", "25000,60.012,2.006,2.004,55.960,0.042,OK,0.9\n", []string{"nothing is wrong", "H25001", "in columns of which nothing stands"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			status, out, errs := try(long(test.end))
			for _, says := range test.says {
				if status != checked || !strings.Contains(out, says) {
					t.Errorf("status %d, said\n%s%s\nwant %q in it", status, out, errs, says)
				}
			}
		})
	}
}
