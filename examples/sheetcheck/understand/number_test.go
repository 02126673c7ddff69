package understand

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestTypedNumber: the number of a cell is that of its decimals, rounded once.
func TestTypedNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, places := rapid.Int64Range(-999_999_999_999_999, 999_999_999_999_999).Draw(t, "n"), rapid.IntRange(0, 17).Draw(t, "places")
		sign, digits := "", fmt.Sprint(n)
		if digits[0] == '-' {
			sign, digits = "-", digits[1:]
		}
		digits = strings.Repeat("0", max(0, places+1-len(digits))) + digits
		text := sign + digits[:len(digits)-places]
		if places > 0 {
			text += "." + digits[len(digits)-places:]
		}
		c := &sheet.Cell{Text: text}
		got, ok := typedNumber(c)
		d, isNumber := c.Number()
		if want := d.InexactFloat64(); ok != isNumber || ok && got != want {
			t.Fatalf("%s: %v %t, want %v %t", text, got, ok, want, isNumber)
		}
	})
}

func BenchmarkTypedNumber(b *testing.B) {
	c := &sheet.Cell{Text: "60.012"}
	b.Run("one division", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			typedNumber(c)
		}
		if n := testing.AllocsPerRun(100, func() { typedNumber(c) }); n > 0 {
			b.Errorf("%v allocations", n)
		}
	})
	b.Run("by its decimals", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			d, _ := c.Number()
			d.InexactFloat64()
		}
	})
}
