package calc

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestWholeColumns: look-ups, counts and running totals in every row of a column look at
// each cell a few times and not once for every row.
func TestWholeColumns(t *testing.T) {
	const rows = 5000
	g := newGrid("S")
	for i := 1; i <= rows; i++ {
		g.put("S", fmt.Sprintf("A%d", i), fmt.Sprint(i*7919%rows))
		g.put("S", fmt.Sprintf("B%d", i), fmt.Sprint(i))
		g.put("S", fmt.Sprintf("C%d", i), fmt.Sprintf("=VLOOKUP(%d,A:B,2,FALSE)", i*7919%rows))
		g.put("S", fmt.Sprintf("D%d", i), fmt.Sprintf("=SUM(B$1:B%d)", i))
		g.put("S", fmt.Sprintf("E%d", i), fmt.Sprintf("=COUNTIF(A:A,A%d)+COUNTIF(A:A,-1)", i))
		g.put("S", fmt.Sprintf("F%d", i), fmt.Sprintf("=MATCH(%d.5,B:B)", i))
		g.put("S", fmt.Sprintf("G%d", i), "=AVERAGE(B:B)")
	}
	e := New(g, Bounds{Visits: 40 * rows, Array: 10})
	for i := 1; i <= rows; i++ {
		for column, want := range map[int]int{3: i, 4: i * (i + 1) / 2, 5: 1, 6: i} {
			p, err := e.At(t.Context(), "S", sheet.Place{Row: i, Column: column})
			if err != nil || p.Exact.String() != fmt.Sprint(want) || p.Binary.String() != fmt.Sprint(want) && want < 1e6 {
				t.Fatalf("row %d, column %d is %v, %v; want %d", i, column, p, err, want)
			}
		}
		if p, err := e.At(t.Context(), "S", sheet.Place{Row: i, Column: 7}); err != nil || p.Exact.String() != "2500.5" {
			t.Fatalf("the average is %v, %v; want 2500.5", p, err)
		}
	}
}

// TestColumnOfFormulas: a look-up in formulas that are not evaluated yet asks for all of
// them at once, and not for one after the other.
func TestColumnOfFormulas(t *testing.T) {
	const rows = 5000
	for _, formula := range []string{"MATCH(5000.5,A:A,0)", "MATCH(5000.5,A:A)", "XMATCH(5000.5,A:A,-1)", "COUNTIF(A:A,5000.5)", "VLOOKUP(5000.5,A:B,1,FALSE)*1000-5000.5*999", "SUM(A:A)-SUM(A1:A4999)"} {
		g := newGrid("S")
		for i := 1; i <= rows; i++ {
			g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf("=%d+0.5", i))
		}
		g.put("S", "C1", "="+formula)
		want := "5000"
		switch formula[:3] {
		case "COU":
			want = "1"
		case "VLO", "SUM":
			want = "5000.5"
		}
		p, err := New(g, Bounds{Visits: 20 * rows}).At(t.Context(), "S", sheet.Place{Row: 1, Column: 3})
		if err != nil || p.Exact.String() != want {
			t.Errorf("%s is %v, %v; want %s", formula, p, err, want)
		}
	}
}

// TestDeep: formulas on formulas, deeper than any recursion should go.
func TestDeep(t *testing.T) {
	const rows = 100_000
	g := newGrid("S")
	for i := 1; i < rows; i++ {
		g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf("=A%d+1", i+1))
	}
	g.put("S", fmt.Sprintf("A%d", rows), "1")
	p, err := New(g, Bounds{Visits: 10 * rows}).At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
	if err != nil || p.Exact.String() != fmt.Sprint(rows) {
		t.Errorf("it is %v, %v; want %d", p, err, rows)
	}
	g.put("S", fmt.Sprintf("A%d", rows), "=A1")
	_, err = New(g, Bounds{Visits: 10 * rows}).At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
	if err == nil || !strings.Contains(err.Error(), "it depends on itself") || !strings.Contains(err.Error(), "(100000 cells)") {
		t.Errorf("of a ring, the error is %v", err)
	}
	if len(err.Error()) > 500 {
		t.Errorf("the error has %d characters", len(err.Error()))
	}
}

// TestWaiting: formulas that each wait for all below them do not keep lists of what they
// wait for that are together as large as the square of their number.
func TestWaiting(t *testing.T) {
	const rows = 2000
	g := newGrid("S")
	for i := 1; i < rows; i++ {
		g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf("=MIN(A%d:A%d)", i+1, rows))
	}
	g.put("S", fmt.Sprintf("A%d", rows), "7")
	e := New(g, Bounds{Visits: 10 * rows * rows})
	p, err := e.At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
	if err != nil || p.Exact.String() != "7" {
		t.Errorf("it is %v, %v; want 7", p, err)
	}
	if len(e.waiting) != 0 {
		t.Errorf("%d cells are still waited for", len(e.waiting))
	}
}

// TestGreedy: formulas that would take memory or time without end are given up.
func TestGreedy(t *testing.T) {
	for _, test := range []struct {
		name, why string
		fill      func(g *grid)
	}{
		{"names in names", "cells to look at", func(g *grid) {
			for i := range 12 {
				g.named[fmt.Sprint("deep_", i)] = strings.TrimSuffix(strings.Repeat(fmt.Sprintf("deep_%d+", i+1), 20), "+")
			}
			g.named["deep_12"] = "1"
			g.put("S", "A1", "=deep_0")
		}},
		{"squares of squares", "", func(g *grid) {
			g.put("S", "A40", "=10/7")
			for i := 39; i >= 1; i-- {
				g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf("=(A%d^2+A%d*A%d)/2.01", i+1, i+1, i+1))
			}
		}},
		{"many long texts", "MB of texts", func(g *grid) {
			for i := 2; i < 1000; i++ {
				g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf(`=REPT("x",32000)&%d`, i))
			}
			g.put("S", "A1", "=COUNTA(A2:A999)")
		}},
		{"a list of long texts", "a list of more than", func(g *grid) {
			g.put("S", "B3000", "1")
			g.put("S", "A1", `=SUMPRODUCT(LEN(REPT("x",32000)&B1:B3000))`)
		}},
		{"long powers", "", func(g *grid) { g.put("S", "A1", "=(10/7)^100000-(10/7)^99999") }},
		{"a great factor", "", func(g *grid) { g.put("S", "A1", "=FACT(170)*FACT(170)*FACT(170)") }},
		{"a large list", "a list of", func(g *grid) {
			g.put("S", "A1", "=SUMPRODUCT(ROW(B1:B1000)*COLUMN(B1:ZZ1))")
			g.put("S", "ZZ1000", "1")
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			g := newGrid("S")
			test.fill(g)
			b := DefaultBounds()
			b.Visits, b.Work = 1_000_000, 0
			p, err := New(g, b).At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
			if test.why == "" && err != nil || test.why != "" && (err == nil || !strings.Contains(err.Error(), test.why)) {
				t.Errorf("it is %v, %v; want %q", p.Binary, err, test.why)
			}
			if p.Exact.rat != nil && p.Exact.size() > mostBits {
				t.Errorf("the exact value takes %d bytes", p.Exact.size())
			}
		})
	}
}

// TestTextsUsedUp: where formulas give more texts than are held, those that give a number are
// evaluated all the same: 1000 texts of 32,000 characters, exactly and in binary64, are twice the bound.
func TestTextsUsedUp(t *testing.T) {
	g := newGrid("S")
	for i := 1; i <= 1000; i++ {
		g.put("S", fmt.Sprintf("A%d", i), fmt.Sprintf(`=REPT("x",32000)&%d`, i))
		g.put("S", fmt.Sprintf("B%d", i), "=2*0.75")
	}
	e := New(g, DefaultBounds())
	texts := 0
	for i := 1; i <= 1000; i++ {
		if _, err := e.At(t.Context(), "S", sheet.Place{Row: i, Column: 1}); err == nil {
			texts++
		} else if !strings.Contains(err.Error(), "more than 32 MB of texts") {
			t.Fatal(err)
		}
		if p, err := e.At(t.Context(), "S", sheet.Place{Row: i, Column: 2}); err != nil || p.Exact.String() != "1.5" {
			t.Fatalf("B%d is %v, %v, want 1.5", i, p.Exact, err)
		}
	}
	if most := 32 << 20 / (2 * 32_000); texts > most || texts < most-2 {
		t.Errorf("%d texts are held, want %d", texts, most)
	}
}

// TestWorkUsedUp: once the work is used up, what is known stays known and all else is
// refused at once.
func TestWorkUsedUp(t *testing.T) {
	g := newGrid("S")
	for i := 2; i <= 3000; i++ {
		g.put("S", fmt.Sprintf("A%d", i), "1.5")
	}
	g.put("S", "A1", "=SUM(A2:A3000)")
	e := New(g, Bounds{Visits: 1_000_000, Array: 100, Work: 1000})
	for range 2 {
		_, err := e.At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
		var r *Refusal
		if !errors.As(err, &r) || !strings.Contains(r.Why, "for formulas are used up") {
			t.Errorf("error is %v", err)
		}
	}
	if p, err := e.At(t.Context(), "S", sheet.Place{Row: 2, Column: 1}); err != nil || p.Exact.String() != "1.5" {
		t.Errorf("a typed cell is %v, %v", p, err)
	}
}
