package sheet

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestLinedAsSplit: the columns that are read from lines are what the cells of the rows hold.
func TestLinedAsSplit(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		comma := rapid.Bool().Draw(t, "decimal comma")
		numbers := rapid.SampledFrom([]string{"60.012", "-0.5", "7", "7.", ".25", "000.1", "-0", "99999999", "0.012345678", "1234567", "12345.67", "123.45678", "1234567."})
		others := rapid.SampledFrom([]string{"", " 1", "+1", "1e3", "100000000", "1.2.3", "1,5", "-", ".", "0.1234567890", "1234567890123456", "TRUE", "#N/A", "\r", "1\r2", "5 mm", "µ"})
		words := rapid.SampledFrom([]string{"OK", "low", "high", "a b"})
		odd, quotes := rapid.SampledFrom([]int{0, 0, 60, 10}).Draw(t, "odd"), rapid.Bool().Draw(t, "quotation marks")
		columns, end := rapid.IntRange(1, 5).Draw(t, "columns"), rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end")
		var text strings.Builder
		rows := rapid.IntRange(1, 12).Draw(t, "rows")
		for i := range rows {
			for j := range columns {
				cell := numbers.Draw(t, "number")
				if j%3 == 2 {
					cell = words.Draw(t, "word")
				}
				if odd > 0 && rapid.IntRange(0, odd).Draw(t, "is odd") == 1 {
					cell = others.Draw(t, "other")
				}
				if comma {
					cell = strings.Replace(cell, ".", ",", 1)
				}
				if j > 0 {
					text.WriteByte(';')
				}
				if quotes && rapid.Bool().Draw(t, "quoted") {
					cell = `"` + cell + `"`
				}
				text.WriteString(cell)
			}
			if i+1 < rows || rapid.Bool().Draw(t, "last end") {
				text.WriteString(end)
			}
		}
		whole := []byte(text.String())
		if !paired(whole, ';') {
			return
		}
		d := Dialect{Separator: ';', Decimal: '.'}
		if comma {
			d.Decimal = ','
		}
		var wanted []Lined
		for at := 1; at <= columns; at++ {
			if rapid.IntRange(0, 3).Draw(t, "wanted") > 0 {
				wanted = append(wanted, Lined{At: at})
			}
		}
		b := Batch{lines: &unsplit{of: &Text{name: "a.csv", dialect: d, bounds: DefaultBounds()}, first: 3, text: whole, quoted: quotes}}
		first, n, widest, ok := b.Line(wanted)
		if !ok {
			if odd == 0 && columns == 5 && len(wanted) == 5 {
				t.Fatalf("%q is not read", whole)
			}
			return
		}
		last, err := b.Last(first + n - 1)
		if err != nil {
			t.Fatal(err)
		}
		all, err := b.Rows()
		if err != nil {
			t.Fatal(err)
		}
		if len(all) != n || all[0].Number != first || all[n-1].Number != last.Number || len(all[n-1].Cells) != len(last.Cells) {
			t.Fatalf("%q: %d rows from %d to %d, split %d from %d to %d", whole, n, first, last.Number, len(all), all[0].Number, all[len(all)-1].Number)
		}
		has := 0
		for i, row := range all {
			for j, c := range row.Cells {
				if c.Text != "" {
					has = max(has, j+1)
				}
				if i == n-1 && c != last.Cells[j] {
					t.Fatalf("%q: the last row has %q, split %q", whole, last.Cells[j].Text, c.Text)
				}
			}
			for _, w := range wanted {
				c := row.Cell(w.At)
				if !w.Numbers() {
					if *w.Texts[i] != c.Text || c.Kind() != KindText {
						t.Fatalf("%q: row %d has the text %q, split %q", whole, row.Number, *w.Texts[i], c.Text)
					}
					continue
				}
				coefficient, places, plain := c.Plain()
				for range linedPlaces - places {
					coefficient *= 10
				}
				if !plain || w.Nano[i] != coefficient || int(w.Places[i]) != places || w.Most < places {
					t.Fatalf("%q: row %d has %d to %d places, split %q", whole, row.Number, w.Nano[i], w.Places[i], c.Text)
				}
			}
		}
		if has != widest {
			t.Fatalf("%q: something stands up to column %d, split %d", whole, widest, has)
		}
		read++
	})
	if read < 20 {
		t.Errorf("only %d texts were read", read)
	}
}
