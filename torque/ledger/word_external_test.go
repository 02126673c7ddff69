package ledger_test

import (
	"strings"
	"testing"

	"example.com/closefit/torque/ledger"
)

// FuzzParseWord: a text says who and why, and written again says the same, or is refused.
func FuzzParseWord(f *testing.F) {
	for _, s := range []string{"the builder: the manual lets it stay", "", ":", "a:", ":b", "a:b:c", " a : b ", "a\n: b", "a: b\x00", "\xff: a"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ledger.ParseWord(text)
		if err != nil {
			if w != (ledger.Word{}) || err.Error() == "" {
				t.Errorf("%q: %v with %v", text, w, err)
			}
			return
		}
		if w.By == "" || w.Reason == "" || strings.ContainsAny(w.By+w.Reason, "\n\r") {
			t.Errorf("%q is taken as %+v", text, w)
		}
		if again, err := ledger.ParseWord(w.By + ": " + w.Reason); err != nil || again != w {
			t.Errorf("%+v comes back as %+v, %v", w, again, err)
		}
	})
}
