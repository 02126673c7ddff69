package bench_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/closefit/examples/kit/bench"
)

// FuzzSet: whatever is typed as anything of a job, the text becomes a job that says so, and taking the
// change back gives the same bytes; or an error leaves all as it was.
func FuzzSet(f *testing.F) {
	const small = "title = \"A pump\"\n[engine]\ncylinders = 1\nmains = 2\nthrust = \"1\"\nrings = [\"top ring\"]\npassages = [\"main gallery\"]\n" +
		"[instruments.micrometer]\nkind = \"micrometer\"\nuncertainty = \"0.004 mm\"\n"
	f.Add(small, "reading", "main journal", "1", "?", "52.005 mm", false)
	f.Add(small, "instrument", "dial", "micrometer", "?", "0.01 mm", false)
	f.Add(small, "about", "", "title", "A pump", "Another # \"pump\"", true)
	f.Add(small, "planes", "main journal", "", "?", "front; rear", false)
	f.Add(small, "limits", "main clearance", "", "?", "0.02..0.05 mm", false)
	f.Fuzz(func(t *testing.T, text, key, line, place, was, now string, sure bool) {
		s := bench.Source{Name: "j.toml", Text: []byte(text)}
		before := bytes.Clone(s.Text)
		var k bench.Key
		unknown := k.UnmarshalText([]byte(key))
		if unknown != nil && (k != "" || !strings.Contains(unknown.Error(), "write ") || !utf8.ValidString(unknown.Error())) || unknown == nil && string(k) != key {
			t.Fatalf("%q is read as the key %q: %v", key, k, unknown)
		}
		out, change, err := bench.Set(s, bench.Edit{Key: bench.Key(key), Line: line, Place: place, Was: was, Now: now, Sure: sure})
		if !bytes.Equal(s.Text, before) {
			t.Fatal("the text itself was changed")
		}
		if err != nil {
			if out != nil || err.Error() == "" || bench.InWords(err) == "" {
				t.Errorf("%q with %v", out, err)
			}
			return
		}
		if unknown != nil {
			t.Fatalf("%q is a key of what was set, and is refused: %v", key, unknown)
		}
		after := bench.Source{Name: "j.toml", Text: out}
		if _, err := after.Read(); err != nil {
			t.Fatalf("%q is no job: %v", out, err)
		}
		back, _, err := bench.Undo(after, change)
		if err != nil || !bytes.Equal(back, before) {
			t.Fatalf("%q became %q, and undone %q, %v", before, out, back, err)
		}
	})
}
