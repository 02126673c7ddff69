package calc

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestResults: what a cell gives comes back as it was, beside a plain map of all that was noted.
func TestResults(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, plain := results{}, map[sheet.Key]Pair{}
		value := rapid.Custom(func(t *rapid.T) Value {
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				return smallValue(rapid.Int64().Draw(t, "n"), rapid.IntRange(0, 18).Draw(t, "places"))
			case 1:
				return binaryValue(rapid.Float64().Draw(t, "f"))
			case 2:
				return estimated(rapid.Float64().Draw(t, "f"))
			case 3:
				return textValue(rapid.String().Draw(t, "text"))
			case 4:
				return logical(rapid.Bool().Draw(t, "is"))
			case 5:
				return failed(ErrDiv0)
			}
			return unknown("no reason")
		})
		place := rapid.Custom(func(t *rapid.T) sheet.Key {
			return sheet.KeyOf(rapid.IntRange(0, 2).Draw(t, "sheet"), sheet.Place{Row: rapid.IntRange(1, 200).Draw(t, "row") * rapid.SampledFrom([]int{1, 5000}).Draw(t, "step"), Column: rapid.IntRange(1, 1024).Draw(t, "column")})
		})
		for range rapid.IntRange(0, 200).Draw(t, "cells") {
			key, x := place.Draw(t, "cell"), value.Draw(t, "exact")
			p := Pair{x, x}
			if rapid.Bool().Draw(t, "apart") {
				p.Binary = value.Draw(t, "binary")
			}
			r.know(key, p)
			plain[key] = p
			if other := place.Draw(t, "another"); plain[other] == (Pair{}) {
				r.Set(other, open)
			}
		}
		for key, want := range plain {
			if got := r.pair(r.At(key)); got != want {
				t.Fatalf("%x gives %v, want %v", key, got, want)
			}
			for _, beside := range []sheet.Key{key + 1<<16, key - 1<<16, key + 1, key + 1<<48} {
				if is := r.At(beside); plain[beside] == (Pair{}) && is != unseen && is != open {
					t.Fatalf("%x beside %x is known", beside, key)
				}
			}
		}
	})
}
