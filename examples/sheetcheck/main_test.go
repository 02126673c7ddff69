package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
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
		{"formulas without values, strictly", []string{"-strict", "-map", bearings, sheettest.Pack(t, "book.xlsx", workbook(row(2, "B2-C2-D2-E2", "")))}, findings, "0 claims compared: nothing was checked.", ""},
		{"an empty file, strictly", []string{"-strict", "-map", bearings, file(t, "e.csv", "")}, findings, "nothing was checked", ""},
		{"a text in Windows-1252", []string{"-strict", "-map", bearings, file(t, "w.csv", "Lager,Geh\xe4use\nmain 1,60.012,2.006,2.004,55.971,0.031,OK\n")}, checked, "w.csv, taken for Windows 1252\n1 location, 2 claims compared: nothing is wrong", ""},
		{"help", []string{"-help"}, checked, "", "What is read at most"},
		{"a draft", []string{"-draft", kept("inch.xlsx")}, checked, "[[table.check]]", ""},
		{"a draft of a text file with semicolons", []string{"-draft", file(t, "s.csv", "main;bore;wall;journal;clearance\n1;60,012;2,005;55,971;0,031\n")}, checked, "[csv] # as the file itself shows it\nseparator = \";\"\ndecimal = \",\"\n\n[[table]]", ""},
		{"a draft of one with quotation marks", []string{"-draft", file(t, "q.csv", "main;bore;wall;journal;clearance;note\n1;60,012;2,005;55,971;0,031;\"tight\"\n")}, checked, "[csv] # as the file itself shows it\nseparator = \";\"\ndecimal = \",\"\n\n[[table]]", ""},
		{"a text that can be read in two ways", []string{"-draft", file(t, "u.csv", "main;bore\n1;60.012\n")}, badInput, "", "say whether the decimal mark is a point or a comma, with -separator and -decimal or under [csv] in the map"},
		{"one of which it is said", []string{"-decimal", ",", "-draft", file(t, "u.csv", "main;bore\n1;60.012\n")}, checked, "decimal = \",\"", ""},
		{"a mark that is none", []string{"-separator", "x", "-draft", wrong}, badInput, "", "write , ; | or tab"},
		{"a text and what was found of it", []string{"-map", bearings, file(t, "v.csv", "main,bore\nmain 1,60.012,2.006,2.004,55.971,0.031,OK\n")}, checked, "numbers are taken to have a decimal point, as \"0.031\" in F2", ""},
		{"a draft of what cannot be read in any way", []string{"-draft", file(t, "x.csv", "main;\"bore\n")}, badInput, "", "x.csv, row 1"},
		{"a draft of what has no headings", []string{"-draft", file(t, "n.csv", "1,2\n3,4\n")}, checked, "No heading was recognised", ""},
		{"no map", []string{wrong}, badInput, "", "no map; write -map MAP.toml, or -draft"},
		{"no file", []string{"-map", bearings}, badInput, "", "0 files to check"},
		{"two files", []string{"-map", bearings, wrong, wrong}, badInput, "", "2 files to check"},
		{"an unknown form", []string{"-format", "pdf", "-map", bearings, wrong}, badInput, "", "write text, json or html"},
		{"an unknown option", []string{"-mop", bearings, wrong}, badInput, "", "-help lists the options"},
		{"a map that is not there", []string{"-map", "none.toml", wrong}, badInput, "", "none.toml"},
		{"a map with a mistake", []string{"-map", file(t, "m.toml", "[[tabel]]\n"), wrong}, badInput, "", `m.toml:1: unknown key "tabel"`},
		{"a map of another workbook", []string{"-map", kept("inch.toml"), kept("metric.xlsx")}, badInput, "", `inch.toml:6: table[0].sheet: no sheet is called "Rods"; write one of Mains, Play`},
		{"comments on a text file", []string{"-comments", filepath.Join(t.TempDir(), "c.xlsx"), "-map", bearings, wrong}, badInput, "", "is no workbook; comments are for .xlsx and .xlsm files"},
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
		{"-o", sheet}, {"-comments", sheet}, {"-o", bearings}, {"-comments", bearings}, {"-comments", other},
		{"-o", filepath.Join(filepath.Dir(other), ".", "new"), "-comments", filepath.Dir(other) + "//new"},
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

// TestDraftSaysWhatItLeavesOut: headings that mean nothing known, and numbers below a
// gap, are told of.
func TestDraftSaysWhatItLeavesOut(t *testing.T) {
	path := filepath.Join(t.TempDir(), "gap.csv")
	text := "main,bore,upper,lower,journal,clearance,Min\n1,60.012,2.001,2.003,55.970,0.038,0.02\n\n4,60.011,2.001,2.002,55.969,0.39,0.02\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"-draft", path}, &out, &errs); status != checked {
		t.Fatalf("exit status %d: %s", status, errs.String())
	}
	for _, say := range []string{"NUMBERS STAND AGAIN from row 4 on", `"Min" stands over G and was not recognised`} {
		if !strings.Contains(out.String(), say) {
			t.Errorf("the proposal does not say %q:\n%s", say, out.String())
		}
	}
}
