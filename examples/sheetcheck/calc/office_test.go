package calc

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// officeSheet is the sheet that the formulas of testdata/office.csv stand in.
func officeSheet() *grid {
	g := newGrid("S")
	for at, text := range map[string]string{
		"A1": "60.012", "A2": "60.015", "A3": "60.008", "A4": "60.021",
		"B1": "2.006", "B2": "2.004", "B3": "2.005", "B4": "2.002",
		"C1": "'red", "C2": "'Blue", "C3": "'blue",
		"D1": "1", "D2": "3", "D3": "5", "D4": "7",
	} {
		g.put("S", at, text)
	}
	g.named["least"] = "S!$B$4"
	return g
}

// TestOffice: what an office program gives, in both syntaxes in which it writes the
// formula. Its numbers have 15 digits.
func TestOffice(t *testing.T) {
	t.Run("values", func(t *testing.T) { likeOffice(t, "testdata/office.csv", nil) })
	t.Run("ranges", func(t *testing.T) { likeOffice(t, "testdata/ranges.csv", nil) })
	t.Run("a row hidden by hand", func(t *testing.T) { likeOffice(t, "testdata/hidden.csv", map[int]bool{3: false}) })
	t.Run("a row hidden by a filter", func(t *testing.T) { likeOffice(t, "testdata/filtered.csv", map[int]bool{3: true}) })
}

func likeOffice(t *testing.T, name string, hidden map[int]bool) {
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = ';'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for syntax := range 2 {
		g := officeSheet()
		g.hidden = hidden
		for i, row := range rows {
			g.put("S", fmt.Sprintf("F%d", i+1), "="+row[syntax])
		}
		e := New(g, DefaultBounds())
		for i, row := range rows {
			p, err := e.At(t.Context(), "S", sheet.Place{Row: i + 1, Column: 6})
			same := agrees(p.Binary, row[2], row[3])
			if different := row[4] != ""; same == different {
				t.Errorf("%s is %s (%v), in the office program %s %s; same: %t, said to be different: %t", row[syntax], p.Binary, err, row[2], row[3], same, different)
			}
		}
	}
}

// agrees compares a value with what the office program wrote: logicals are 1 and 0
// there.
func agrees(v Value, kind, text string) bool {
	switch kind {
	case "float", "percentage", "currency", "boolean":
		want, err := strconv.ParseFloat(text, 64)
		if text == "true" || text == "false" {
			want, err = map[string]float64{"true": 1}[text], nil
		}
		got := v.Float64()
		if v.Kind() == KindLogical {
			got = float64(v.n)
		}
		return err == nil && math.Abs(got-want) <= 1e-14*math.Abs(want)
	case "string", "":
		return v.Kind() == KindText && v.text == text
	case "error":
		return v.Kind() == KindError && (v.String() == text || strings.HasPrefix(text, "Err:")) // numbers of its own
	}
	return false
}
