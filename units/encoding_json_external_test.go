package units_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

// written is a text as encoding/json writes it where it does not escape HTML.
func written(t interface{ Fatal(...any) }, text string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(text); err != nil {
		t.Fatal(err)
	}
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}

// TestAppendJSON: a text is written as encoding/json writes it, behind what stands there.
func TestAppendJSON(t *testing.T) {
	check := func(t interface {
		Fatal(...any)
		Fatalf(string, ...any)
	}, text string) {
		if got, want := string(units.AppendJSON([]byte("["), text)), "["+written(t, text); got != want {
			t.Fatalf("%q is written %s, want %s", text, got, want)
		}
	}
	for _, text := range []string{"", "60.012 mm", `1 3/64" <&>`, `C:\job`, "60 N·m, ±0.002", "a\tb\nc\x00\x7f", "\xff a byte alone", "cut short \xe2\x80", "\u2028", "2\u2029", "\ufffd", "‧\u2027\u202a"} {
		check(t, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text"))
	})
}

// BenchmarkAppendJSON writes a text beside encoding/json.
func BenchmarkAppendJSON(b *testing.B) {
	const text = "bore gauge, 60.012 mm ±0.0025 mm (k = 2)"
	var room []byte
	b.Run("append", func(b *testing.B) {
		for b.Loop() {
			room = units.AppendJSON(room[:0], text)
		}
	})
	b.Run("encoding_json", func(b *testing.B) {
		var to bytes.Buffer
		e := json.NewEncoder(&to)
		e.SetEscapeHTML(false)
		for b.Loop() {
			to.Reset()
			e.Encode(text)
		}
	})
}
