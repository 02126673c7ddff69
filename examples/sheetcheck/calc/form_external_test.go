package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestFormsLikeParse: a formula that is read once for many cells, and moved to one of them,
// reads as Parse reads the text of that cell. Formulas are drawn of pieces, right ones and
// wrong ones, and copied as an office program copies them.
func TestFormsLikeParse(t *testing.T) {
	cell := rapid.Custom(func(t *rapid.T) string {
		dollar := func(label string) string {
			if rapid.Bool().Draw(t, label) {
				return "$"
			}
			return ""
		}
		return dollar("c") + sheet.ColumnName(rapid.SampledFrom([]int{3, 4, 26, 27, 703}).Draw(t, "column")) +
			dollar("r") + fmt.Sprint(rapid.SampledFrom([]int{5, 6, 9, 10, 100}).Draw(t, "row"))
	})
	piece := rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0, 1:
			return cell.Draw(t, "cell")
		case 2:
			return cell.Draw(t, "from") + ":" + cell.Draw(t, "to")
		}
		return rapid.SampledFrom([]string{"+", "-", "*", " ", ",", "(", ")", "SUM(", "LOG10(", "1.5E3", "2", "3:7", "$3:$7", "A:B", "$A:C", "D5:E6:F7", "Mains!", "'a ''b'!", `"B7"`, `"`, "{1,2}", "#REF!", "Shells[Wall]",
			"[1]S!", "rate", "of:", "of:=[.B2]", "B2!", "B2(", ":", "%", "^", "<=", "\x01", "TRUE", "A1.B", "é7", "C7:D9!A1"}).Draw(t, "piece")
	})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 1, 7).Draw(t, "pieces"), "")
		if rapid.Bool().Draw(t, "well formed") {
			text = "SUM(" + cell.Draw(t, "a") + ":" + cell.Draw(t, "b") + ",$A:D)*IF(" + cell.Draw(t, "c") + `>2,"C5",` + cell.Draw(t, "d") + ")"
		}
		var forms calc.Forms
		for range rapid.IntRange(1, 5).Draw(t, "cells") {
			at := sheet.Place{Row: 20 + rapid.IntRange(-4, 4).Draw(t, "down"), Column: 20 + rapid.IntRange(-2, 7).Draw(t, "right")}
			mine := text
			if e, err := calc.Parse(text); err == nil && rapid.Bool().Draw(t, "copied") {
				if moved, ok := calc.Move(e, at.Row-20, at.Column-20); ok {
					mine = moved.String()
				}
			}
			want, wrong := calc.Parse(mine)
			form, err := forms.Read(mine, at)
			if (err == nil) != (wrong == nil) {
				t.Fatalf("%q: error %v; Parse says %v", mine, err, wrong)
			}
			if err != nil {
				continue
			}
			rows, columns := form.Off(at)
			if got, _ := calc.Move(form.Expr, rows, columns); got.String() != want.String() || fmt.Sprint(areas(got)) != fmt.Sprint(areas(want)) {
				t.Fatalf("%q in %s reads as %s, want %s", mine, at, got, want)
			}
		}
	})
}

// areas lists what a formula names, with the dollar signs of both ends.
func areas(e calc.Expr) (all []calc.Area) {
	calc.Walk(e, func(e calc.Expr) bool {
		if a, ok := e.(*calc.Area); ok {
			plain := calc.Area{File: a.File, Sheet: a.Sheet, Last: a.Last, From: a.From, To: a.To, Columns: a.Columns, Rows: a.Rows}
			all = append(all, plain)
		}
		return true
	})
	return all
}

// TestFormsAlike: what was copied has one form, and what only looks alike has not.
func TestFormsAlike(t *testing.T) {
	at := func(row, column int) sheet.Place { return sheet.Place{Row: row, Column: column} }
	for _, test := range []struct {
		name  string
		one   string
		other string // two rows down and a column to the right
		alike bool
	}{
		{"copied", "B7-2*$C7", "C9-2*$C9", true},
		{"dragged", "B7-C7", "C9-D7", false},
		{"fixed and moving at the same place", "B7-$C$9", "C9-$C$9", true},
		{"a fixed one elsewhere", "B7-$C$9", "C9-$C$11", false},
		{"another number", "B7*25.4", "C9*25.40", false},
		{"a range that turns over", "SUM(B$8:B7)", "SUM(C$8:C9)", false},
		{"a range from a fixed line", "SUM(B$7:B7)", "SUM(C$7:C9)", true},
		{"whole columns", "VLOOKUP(B7,$F:$G,2,0)", "VLOOKUP(C9,$F:$G,2,0)", true},
		{"a cell in a text", `B7&"B7"`, `C9&"C9"`, false},
		{"a function that looks like a cell", "LOG10(B7)", "LOG10(C9)", true},
		{"another sheet", "Shells!B7", "Shells!C9", true},
	} {
		var forms calc.Forms
		one, err1 := forms.Read(test.one, at(7, 6))
		other, err2 := forms.Read(test.other, at(9, 7))
		if err1 != nil || err2 != nil || (one == other) != test.alike {
			t.Errorf("%s: %s and %s: alike %t, want %t (%v, %v)", test.name, test.one, test.other, one == other, test.alike, err1, err2)
		}
	}
}

// FuzzForms: a formula read as one of many like it is what Parse makes of it, for its first cell and
// for the next that it was copied to.
func FuzzForms(f *testing.F) {
	for _, s := range []string{"A1-B1", "$A$1+SUM(B1:B3)", "'a b'!A1", "IF(A1>\"A1\",1,2)", "A:A", "1:2", "A1:B", "LOG10(A1)", "_A1", "A1.B2", "T[a]", "A1E2", "a1"} {
		f.Add(s, uint16(3), uint16(2))
	}
	f.Fuzz(func(t *testing.T, formula string, down, right uint16) {
		var forms calc.Forms
		alike := func(formula string, at sheet.Place) calc.Expr {
			want, wrong := calc.Parse(formula)
			form, err := forms.Read(formula, at)
			if (err == nil) != (wrong == nil) {
				t.Fatalf("%q: %v, alone %v", formula, err, wrong)
			}
			if err != nil {
				return nil
			}
			rows, columns := form.Off(at)
			if got, _ := calc.Move(form.Expr, rows, columns); got.String() != want.String() {
				t.Fatalf("%q in %s is %s, alone %s", formula, at, got, want)
			}
			return want
		}
		rows, columns := int(down%100), int(right%100)
		e := alike(formula, sheet.Place{Row: 20, Column: 20})
		if e == nil {
			return
		}
		if moved, ok := calc.Move(e, rows, columns); ok {
			alike(moved.String(), sheet.Place{Row: 20 + rows, Column: 20 + columns})
		}
	})
}
