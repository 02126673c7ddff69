package ledger

import (
	"bytes"
	"errors"
	"testing"

	"example.com/closefit/units"
)

// attacked returns a text with edits made to it, each told by four bytes: what is done, where, and
// with what. Edits are short where texts are long, so that a fuzzer finds its way among them.
func attacked(text, edits []byte) []byte {
	text = bytes.Clone(text)
	for ; len(edits) >= 4; edits = edits[4:] {
		at, with := (int(edits[1])<<8|int(edits[2]))%(len(text)+1), edits[3]
		head, tail := text[:at:at], text[at:]
		switch edits[0] % 8 {
		case 0:
			text = head
		case 1:
			text = append(append(head, with), tail...)
		case 2:
			text = append(head, tail[min(int(with), len(tail)):]...)
		case 3:
			text = append(head, append(make([]byte, int(with)), tail...)...)
		case 4:
			text = append(text, tail...)
		case 5:
			text = text[:bytes.LastIndexByte(text[:max(0, len(text)-1)], '\n')+1] // without its last line
		case 6:
			for n := range min(int(with), len(tail)) {
				text[at+n] = 0
			}
		case 7:
			if len(tail) > 0 {
				text[at] ^= 1 << (with % 8)
			}
		}
		if len(text) > 1<<16 {
			text = text[:1<<16]
		}
	}
	return text
}

// FuzzWeigh: whatever two files hold, they are refused with an error that says what was found, or
// what is made of them begins with all that both have whole, and opens again as it is.
func FuzzWeigh(f *testing.F) {
	s := newScene(f, testPlan(f, "fuzz", 1), 2).closed(f)
	whole := s.last()
	for _, one := range [][2]string{{"", ""}, {"", "\x050000"}, {"\x050000", ""}, {"\x07\xff\xff\x01", ""}, {"\x04\x01\x00\x00", ""}, {"\x00\x00\x00\x00", ""},
		{"", "\x00\x04\x00\x00"}, {"\x03\x04\x00\xff", "\x06\x02\x00\xff"}} {
		f.Add([]byte(one[0]), []byte(one[1]))
	}
	f.Fuzz(func(t *testing.T, ledgerEdits, witnessEdits []byte) {
		ledger, witness := attacked(whole, ledgerEdits), attacked(whole, witnessEdits)
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
		if _, entries, err := read(m, testHome, testWork); err == nil && len(entries) == 0 {
			t.Fatal("it is read, and says nothing")
		}
		if !bytes.Equal(m.get(s.path), ledger) || !bytes.Equal(m.get(s.wit), witness) {
			t.Fatal("reading changed the files")
		}
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
