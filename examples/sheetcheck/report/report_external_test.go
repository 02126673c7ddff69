package report_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/report"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
)

var update = flag.Bool("update", false, "write the kept reports anew")

func at(text string) sheet.Place {
	p, err := sheet.ParsePlace(text)
	if err != nil {
		panic(err)
	}
	return p
}

// result has a finding of each kind that shows differently.
func result() *check.Result {
	return &check.Result{
		Title: "winch engine", File: "mains.xlsx", Rows: 7, Claims: 14,
		Findings: []check.Finding{
			{Severity: check.WrongVerdict, Table: "mains", Sheet: "Mains", Column: "verdict", Count: 1,
				Ranges: []check.Span{{First: at("G10"), Last: at("G10")}},
				Cells:  []check.Cell{{At: at("G10"), Location: "main 5", Claimed: "OK", Right: "above limit: 0.0483 mm against 0.024..0.048 mm"}},
				Cause:  check.Cause{Mistake: check.RoundedFirst, Says: "the value is rounded to 0.048 mm before it is compared", Evidence: check.Formula},
				Others: []check.Cause{{Mistake: check.OneLimit, Says: "the upper limit is not compared"}},
			},
			{Severity: check.WrongValue, Table: "mains", Sheet: "Mains", Column: "clearance", Count: 7,
				Ranges: []check.Span{{First: at("F6"), Last: at("F9")}, {First: at("F11"), Last: at("F13")}},
				Cells: []check.Cell{
					{At: at("F6"), Location: "=1+1", Claimed: "2.033", Right: "0.031 mm"},
					{At: at("F7"), Location: "<b>\x1b[2J", Claimed: "@A1", Right: "0.037 mm"},
				},
				Cause: check.Cause{Mistake: check.OneWall, Says: "this number would also fit: the lower wall is left out", Evidence: check.Fits},
				Working: units.Working{Name: "clearance", Formula: "C = D - t1 - t2 - d", Numbers: "60.012 - 2.006 - 2.004 - 55.971",
					Result: "0.031 mm"},
			},
			{Severity: check.WrongValue, Table: "mains", Sheet: "Mains", Column: "taper", Count: 1,
				Ranges: []check.Span{{First: at("L8"), Last: at("L8")}}, Cells: []check.Cell{{At: at("L8"), Claimed: "0.02", Right: "0.010 mm"}}},
		},
		Latent: []check.Finding{{Severity: check.Style, Table: "mains", Sheet: "Mains", Column: "clearance", Count: 1,
			Ranges: []check.Span{{First: at("F12"), Last: at("F12")}}, Cells: []check.Cell{{At: at("F12"), Claimed: "0.031", Right: "0.031 mm"}},
			Cause: check.Cause{Mistake: check.Typed, Says: "a number is typed where =B12-C12-D12-E12 should stand"}}},
		Follows: []check.Finding{{Severity: check.WrongVerdict, Table: "mains", Sheet: "Mains", Column: "verdict", Count: 1, From: []string{"Mains!F6"},
			Ranges: []check.Span{{First: at("G6"), Last: at("G6")}}, Cells: []check.Cell{{At: at("G6"), Claimed: "high", Right: "OK"}},
			Cause: check.Cause{Mistake: check.Follows, Says: "its own formula is right; it stands on Mains!F6"}}},
		Coverage:  check.Coverage{Cells: 15, Checked: 14},
		Unchecked: []check.Unchecked{{Sheet: "Mains", At: at("H9"), Why: "the function INDIRECT is not evaluated"}},
		Notes:     []string{"formula not evaluated: F7: the function INDIRECT"},
	}
}

// TestKept compares the reports with those that are kept.
func TestKept(t *testing.T) {
	for _, f := range record.Formats() {
		t.Run(string(f), func(t *testing.T) {
			var b bytes.Buffer
			if err := report.Write(&b, f, result(), nil); err != nil {
				t.Fatal(err)
			}
			name := filepath.Join("testdata", "report."+string(f))
			if *update {
				if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), b.String()); diff != "" {
				t.Errorf("differs from %s (-kept +now); look, and run with -update if it is right:\n%s", name, diff)
			}
		})
	}
}

// TestJSON: the promised names hold what they say, foreign text unchanged.
func TestJSON(t *testing.T) {
	var b bytes.Buffer
	if err := report.Write(&b, record.JSON, result(), nil); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Locations int `json:"locations"`
		Claims    int `json:"claims"`
		Findings  []struct{ Sheet, Cell, Location, Severity, Claimed, Right, Cause, Says string }
		Latent    []struct{ Sheet, Cell, Cause string }
		Follows   []struct {
			Sheet, Cell string
			From        []string
		}
		Unchecked     []struct{ Sheet, Cell, Why string }
		Understanding *struct{}
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Locations != 7 || got.Claims != 14 || len(got.Findings) != 4 || got.Understanding != nil {
		t.Fatalf("%+v", got)
	}
	if f := got.Findings[2]; f.Severity != "value wrong" || f.Sheet != "Mains" || f.Cell != "F7" || f.Cause != check.OneWall || f.Location != "<b>\x1b[2J" || f.Claimed != "@A1" || f.Right != "0.037 mm" {
		t.Errorf("%+v", f)
	}
	if last := got.Findings[3]; last.Cause != "" || last.Says != check.Unexplained {
		t.Errorf("%+v", last)
	}
	if len(got.Latent) != 1 || got.Latent[0].Cell != "F12" || len(got.Follows) != 1 || got.Follows[0].From[0] != "Mains!F6" || len(got.Unchecked) != 1 || got.Unchecked[0].Cell != "H9" {
		t.Errorf("%+v, %+v, %+v", got.Latent, got.Follows, got.Unchecked)
	}
}

// TestAnswer: one mark a cell, the worst kind and text first; a row for each cell of each finding.
func TestAnswer(t *testing.T) {
	r := result()
	r.Findings = append(r.Findings,
		check.Finding{Severity: check.Style, Sheet: "Mains", Count: 1, Cells: []check.Cell{{At: at("G10"), Claimed: "OK", Right: "OK"}},
			Cause: check.Cause{Mistake: check.StoredText, Says: "OK is stored as text"}},
		check.Finding{Severity: check.WrongVerdict, Sheet: "Mains", Count: 1, Cells: []check.Cell{{At: at("G12"), Claimed: "OK"}},
			Cause: check.Cause{Mistake: check.NoReading, Says: "it judges F12, which stands on B12, which is empty"}})
	r.Latent[0].Cells[0].Formula = "=B12-C12-D12-E12"
	a := report.Answer(r)
	marks := map[string]annotate.Mark{}
	for _, m := range a.Marks {
		if _, twice := marks[m.At.String()]; twice || m.Sheet != "Mains" {
			t.Errorf("a mark again: %+v", m)
		}
		marks[m.At.String()] = m
	}
	kinds := map[string]annotate.Kind{}
	for cell, m := range marks {
		kinds[cell] = m.Kind
	}
	// F8, F9 and F11 to F13 are in the ranges of a finding that lists F6 and F7 alone
	want := map[string]annotate.Kind{"G10": annotate.Wrong, "F6": annotate.Wrong, "F7": annotate.Wrong, "F8": annotate.Wrong, "F9": annotate.Wrong, "F11": annotate.Wrong,
		"F12": annotate.Wrong, "F13": annotate.Wrong, "L8": annotate.Wrong, "G12": annotate.Unfounded, "G6": annotate.Follows}
	if diff := cmp.Diff(want, kinds); diff != "" {
		t.Errorf("kinds (-want +got):\n%s", diff)
	}
	text := "verdict wrong\nfound: \"OK\"\nright: above limit: 0.0483 mm against 0.024..0.048 mm\nrounded before the comparison: the value is rounded to 0.048 mm before it is compared\nor one limit not compared: the upper limit is not compared\n\nstyle\nfound: \"OK\"\ntext where a number belongs: OK is stored as text"
	if got := marks["G10"].Text; got != text {
		t.Errorf("G10 says\n%s\nwant\n%s", got, text)
	}
	if got := marks["F12"].Text; !strings.HasPrefix(got, "value wrong\nlike F6: one wall instead of two") || !strings.HasSuffix(got, "should stand\nproposed: =B12-C12-D12-E12") {
		t.Errorf("F12 says %q", got)
	}
	if got := marks["F7"].Text; strings.Contains(got, "\x1b") {
		t.Errorf("F7 says %q", got)
	}
	if len(a.Rows) != 10 || a.Rows[3].At.String() != "F8:F9" || a.Rows[3].Found != "" || a.Rows[3].Cause != "like F6: one wall instead of two: this number would also fit: the lower wall is left out" {
		t.Errorf("%d rows: %+v", len(a.Rows), a.Rows)
	}
	if a.Lines[0] != "winch engine, mains.xlsx" || !strings.Contains(a.Lines[1], "14 claims compared") || !strings.Contains(a.Lines[2], "14 checked") || !slices.Contains(a.Below, "Mains!H9: the function INDIRECT is not evaluated") || !slices.Contains(a.Below, "formula not evaluated: F7: the function INDIRECT") {
		t.Errorf("lines %q, below %q", a.Lines, a.Below)
	}
}

// TestUncheckedTogether: cells below one another that were not checked for one reason are said
// as a range: in the text always, in JSON if they are many.
func TestUncheckedTogether(t *testing.T) {
	r := &check.Result{File: "mains.xlsx", Coverage: check.Coverage{Cells: 205}}
	for row := 9; row < 209; row++ {
		r.Unchecked = append(r.Unchecked, check.Unchecked{Sheet: "Mains", At: sheet.Place{Row: row, Column: 8}, Why: "the work is used up"})
		if row < 11 {
			r.Unchecked = append(r.Unchecked, check.Unchecked{Sheet: "Mains", At: sheet.Place{Row: row, Column: 9}, Why: "no value"})
		}
	}
	r.Unchecked = append(r.Unchecked, check.Unchecked{Sheet: "Mains", At: sheet.Place{Row: 300, Column: 8}, Why: "the work is used up"})
	var text, js bytes.Buffer
	if err := report.Write(&text, record.Text, r, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\n  Mains!H9:H208, Mains!H300: the work is used up\n", "\n  Mains!I9:I10: no value\n"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q:\n%s", want, text.String())
		}
	}
	if err := report.Write(&js, record.JSON, r, nil); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Unchecked []struct {
			Cell, To string
			Values   int
		}
	}
	if err := json.Unmarshal(js.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if n := got.Unchecked; len(n) != 4 || n[0].Cell != "H9" || n[0].To != "H208" || n[0].Values != 200 || n[1].Cell != "I9" || n[2].Cell != "I10" || n[3].Cell != "H300" || n[3].To != "" {
		t.Errorf("JSON has %+v", n)
	}
}
