package ledger

import (
	"bytes"
	"errors"
	"testing"

	"example.com/closefit/units"
)

// FuzzWeigh: whatever two files hold, they are refused with an error that says what was found, or
// what is made of them begins with all that both have whole, and opens again as it is.
func FuzzWeigh(f *testing.F) {
	s := newScene(f, testPlan(f, "fuzz", 1), 2).closed(f)
	whole := s.last()
	for _, one := range [][2][]byte{{whole, whole}, {whole, s.back(1)}, {s.back(1), whole}, {whole[:len(whole)-1], whole}, {append(bytes.Clone(whole), "5\t"...), whole},
		{append(bytes.Clone(whole), lastLine(whole)...), whole}, {{}, whole}, {whole, {}}, {make([]byte, 40), make([]byte, 40)}, {[]byte(title), nil}} {
		f.Add(one[0], one[1])
	}
	f.Fuzz(func(t *testing.T, ledger, witness []byte) {
		l, w := linked(ledger, true), linked(witness, true)
		for _, c := range []*chain{&l, &w} {
			if !bytes.HasPrefix(append(bytes.Clone(c.data), '\n'), c.text[:max(0, len(c.text)-1)]) {
				t.Fatalf("%q is not the beginning of %q", c.text, c.data)
			}
			if c.whole() && c.ended && len(c.text)+len(c.siblings)+len(c.torn) != len(c.data) {
				t.Fatalf("%d bytes whole, %d of other programs and %d torn of %d", len(c.text), len(c.siblings), len(c.torn), len(c.data))
			}
			if again := linked(c.text, true); c.whole() && (!again.clean() || again.lines != c.lines || again.sum != c.sum) {
				t.Fatalf("what is whole of %q reads otherwise alone", c.data)
			}
		}
		m := s.set(newMemory(), ledger, witness)
		opened, err := s.reopen(m)
		if err != nil {
			var e *units.Error
			if !errors.As(err, &e) || e.Found == "" {
				t.Fatalf("%T %v", err, err)
			}
			if !bytes.Equal(m.get(s.path), ledger) || !bytes.Equal(m.get(s.wit), witness) {
				t.Fatal("refused, and the files were changed")
			}
			return
		}
		now := m.get(s.path)
		if !bytes.HasPrefix(now, l.text) || !bytes.HasPrefix(now, w.text) || !bytes.Equal(now, m.get(s.wit)) {
			t.Fatalf("%q was made of %q and %q", now, ledger, witness)
		}
		opened.Close()
		if again, err := s.reopen(m); err != nil || len(again.Said) > 0 {
			t.Fatalf("opened again: %v", err)
		}
	})
}
