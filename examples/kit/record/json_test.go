package record

import (
	"bytes"
	"encoding/json"
	"testing"

	"pgregory.net/rapid"
)

// TestIndented: what an encoder wrote is set in as json.Indent sets it in.
func TestIndented(t *testing.T) {
	text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[\[\]{},:"\\ a]{0,6}`))
	var value *rapid.Generator[any]
	value = rapid.Deferred(func() *rapid.Generator[any] {
		return rapid.OneOf(
			rapid.Map(text, func(s string) any { return s }),
			rapid.Map(rapid.IntRange(-9, 9), func(n int) any { return n }),
			rapid.SampledFrom([]any{nil, true, []any{}, map[string]any{}}),
			rapid.Map(rapid.SliceOfN(value, 0, 3), func(s []any) any { return s }),
			rapid.Map(rapid.MapOfN(text, value, 0, 3), func(m map[string]any) any { return m }))
	})
	rapid.Check(t, func(t *rapid.T) {
		var compact, want bytes.Buffer
		e := json.NewEncoder(&compact)
		e.SetEscapeHTML(false)
		if err := e.Encode(value.Draw(t, "value")); err != nil {
			t.Fatal(err)
		}
		if err := json.Indent(&want, compact.Bytes(), "", "  "); err != nil {
			t.Fatal(err)
		}
		if got := indented(compact.Bytes()); !bytes.Equal(got, want.Bytes()) {
			t.Fatalf("%q, want %q", got, want.Bytes())
		}
	})
}
