package tomlfile_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/files/tomlfile"
)

// BenchmarkDecode measures a file of a thousand lines, and the library's decoder, which
// knows no line and stops at the first fault, beside it.
func BenchmarkDecode(b *testing.B) {
	var text strings.Builder
	for i := range 250 {
		fmt.Fprintf(&text, "[gauges.\"gauge %d\"]\nuncertainty = \"0.00%d mm\"\n[[bearings]]\nreadings = [{ location = \"1\", bore = \"60 mm\" }]\n", i, i)
	}
	src := []byte(text.String())
	b.Run("tomlfile", func(b *testing.B) {
		for b.Loop() {
			var f file
			if _, err := tomlfile.Decode("f", src, &f); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("library", func(b *testing.B) {
		for b.Loop() {
			var f file
			if err := toml.Unmarshal(src, &f); err != nil {
				b.Fatal(err)
			}
		}
	})
}
