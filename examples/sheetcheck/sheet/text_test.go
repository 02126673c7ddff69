package sheet

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rowsOf reads a text by one of a textReader's methods: its rows, each with its number, and
// the error.
func rowsOf(text string, bounds Bounds, read func(*textReader) error) (rows []string, err error) {
	r := &textReader{Text: &Text{name: "a.csv", dialect: Dialect{Separator: ','}, bounds: bounds}, in: &pieceReader{Reader: strings.NewReader(text)}}
	r.rows = newSupply(func(b *Batch, _ error) bool {
		var all []Row
		if all, err = b.Rows(); err != nil {
			return false
		}
		for _, row := range all {
			line := fmt.Sprint(row.Number)
			for _, c := range row.Cells {
				line += fmt.Sprintf(" %q", c.Text)
			}
			rows = append(rows, line)
		}
		b.Release()
		return true
	})
	if errRead := read(r); errRead != errEnough {
		err = errRead
	}
	return rows, err
}

// sameRows fails unless the text has the same rows and the same error where it is split at
// its separators, as far as that goes, as where package csv reads all of it.
func sameRows(t rapid.TB, text string, bounds Bounds) {
	got, errGot := rowsOf(text, bounds, func(r *textReader) error { return r.readAll(context.Background()) })
	want, errWant := rowsOf(text, bounds, func(r *textReader) error { return r.quoted(context.Background()) })
	if fmt.Sprint(errGot) != fmt.Sprint(errWant) {
		t.Fatalf("%.200q: the error is %v, by package csv %v", text, errGot, errWant)
	}
	if errGot == nil && len(got) != len(want) {
		t.Fatalf("%.200q: %d rows, by package csv %d", text, len(got), len(want))
	}
	for i := range min(len(got), len(want)) { // before an error there are those of the batches that are whole
		if got[i] != want[i] {
			t.Fatalf("%.200q: row %.200s, by package csv %.200s", text, got[i], want[i])
		}
	}
}

func TestSplitAsPackageCSVReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "60.012", ",", ",", ",,", "\n", "\n", "\r\n", "\r", "\n\n", " ", "µ", `"`, `"x,y"`, "\"two\nlines\"", `""`}), 0, 40)
		if rapid.Bool().Draw(t, "quotation marks in pairs") {
			pieces = rapid.SliceOfN(rapid.SampledFrom([]string{"60.012,", ",", ",,", "\n", "\r\n", `"x,y",`, `"x",`, `"",`, "\"x\"\n", "\"x,\"\r\n", `"x"`, "\"\"\n", "\"\r\"\n"}), 0, 40)
		}
		if rapid.Bool().Draw(t, "without quotation marks") {
			pieces = rapid.SliceOfN(rapid.SampledFrom([]string{"a", "60.012", ",", ",,", "\n", "\r\n", "\r", "\n\n", " ", "µ"}), 0, 40)
		}
		sameRows(t, strings.Join(pieces.Draw(t, "text"), ""), Bounds{Columns: 5, Rows: 9, CellText: 12})
	})
}

// TestSplitAcrossBlocks: lines that end about where a block of 64 KB does, lines longer
// than blocks, and a quotation mark in the first block, the second and the third.
func TestSplitAcrossBlocks(t *testing.T) {
	bounds := DefaultBounds()
	bounds.CellText = 200 << 10
	for _, before := range []int{64<<10 - 3, 64<<10 - 2, 64<<10 - 1, 64 << 10, 64<<10 + 1, 128<<10 - 1, 128 << 10} {
		line := "60.012,2.004\r\n"
		whole := strings.Repeat(line, before/len(line)) + strings.Repeat("\n", before%len(line))
		for name, text := range map[string]string{
			"lines":              whole + "1,2\r\n3,4",
			"a long line":        strings.Repeat("x", before) + ",7\n8,9\n",
			"a quotation mark":   whole + "1,\"two\nlines\"\n\n3,4\n",
			"one never closed":   whole + "1,\"two\n",
			"one inside a cell":  whole + "1,2\n3,t\"wo\n",
			"too many columns":   whole + strings.Repeat(",", bounds.Columns) + "\n",
			"a cell too long":    whole + strings.Repeat("x", bounds.CellText+1) + "\n",
			"a line without end": whole + strings.Repeat("x", 3*longPiece),
		} {
			t.Run(fmt.Sprintf("%s/%d", name, before), func(t *testing.T) { sameRows(t, text, bounds) })
		}
	}
}

// TestPlainNumbers: a plain number is a whole number of its last place.
func TestPlainNumbers(t *testing.T) {
	for _, test := range []struct {
		cell        Cell
		coefficient int64
		places      int
		ok          bool
	}{
		{Cell{Text: "60.012"}, 60012, 3, true},
		{Cell{Text: "-0.05"}, -5, 2, true},
		{Cell{Text: "7."}, 7, 0, true},
		{Cell{Text: ".5"}, 5, 1, true},
		{Cell{Text: "2,50", comma: true}, 250, 2, true},
		{Cell{Text: "123456789012345"}, 123456789012345, 0, true},
		{cell: Cell{Text: "1234567890123456"}},
		{cell: Cell{Text: "2,50"}},
		{cell: Cell{Text: "2.50", comma: true}},
		{cell: Cell{Text: "1.2.3"}},
		{cell: Cell{Text: "1-2"}},
		{cell: Cell{Text: "+1"}},
		{cell: Cell{Text: "1e3"}},
		{cell: Cell{Text: " 1"}},
		{cell: Cell{Text: "-"}},
		{cell: Cell{Text: "."}},
		{cell: Cell{Text: "-."}},
		{cell: Cell{}},
	} {
		coefficient, places, ok := test.cell.Plain()
		if ok != test.ok || ok && (coefficient != test.coefficient || places != test.places) {
			t.Errorf("%+v is %d to %d places, %t", test.cell, coefficient, places, ok)
		}
	}
}
