package ledger

import (
	"encoding"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/units"
)

// TestWordsOfEnums: each status, choice and mishap is written as a word of its own and read back;
// what lies on either side of them is none, and neither is another word.
func TestWordsOfEnums(t *testing.T) {
	type word interface {
		encoding.TextMarshaler
		fmt.Stringer
	}
	for name, e := range map[string]struct {
		good, bad []word
		read      func(text string) (word, error)
		none      string // what String says of a bad one
	}{
		"status": {[]word{Pending, Begun, Done, Unknown, Skipped, Failed}, []word{Failed + 1, Status(255)},
			func(text string) (word, error) { s := Status(77); err := s.UnmarshalText([]byte(text)); return s, err }, "no status"},
		"choice": {[]word{Leave, Finish, BackOff, Replace}, []word{Leave - 1, Replace + 1},
			func(text string) (word, error) { c := Choice(77); err := c.UnmarshalText([]byte(text)); return c, err }, "no choice"},
		"mishap": {[]word{NotMoved, PartWay, Slipped, TooFar, WrongBolt, WrongStep, TooSoonNotMoved, TooSoonPartWay}, []word{NotMoved - 1, TooSoonPartWay + 1},
			func(text string) (word, error) { m := Mishap(77); err := m.UnmarshalText([]byte(text)); return m, err }, "no mishap"},
	} {
		seen := map[string]bool{}
		for _, w := range e.good {
			text, err := w.MarshalText()
			if err != nil || string(text) != w.String() || len(text) == 0 || seen[string(text)] {
				t.Errorf("%s %v is written %q, %v", name, w, text, err)
			}
			seen[string(text)] = true
			if back, err := e.read(string(text)); err != nil || back != w {
				t.Errorf("%s %q is read as %v, %v", name, text, back, err)
			}
		}
		for _, w := range e.bad {
			if text, err := w.MarshalText(); !errors.Is(err, units.ErrNotWritten) || text != nil || w.String() != e.none {
				t.Errorf("%s: %q, %v, in words %q", name, text, err, w)
			}
		}
		for _, text := range []string{"", "nothing", e.none, strings.ToUpper(e.good[1].String())} {
			back, err := e.read(text)
			if !errors.Is(err, units.ErrNotWritten) || !strings.Contains(err.Error(), e.good[0].String()) || back.String() != e.none {
				t.Errorf("%s %q is read as %v, %v", name, text, back, err)
			}
		}
	}
	if all := Mishaps(); len(all) != 8 || all[0] != NotMoved || all[7] != TooSoonPartWay {
		t.Errorf("%v", all)
	}
	for _, m := range append(Mishaps(), 0, TooSoonPartWay+1) {
		if asked := m.Ask() != ""; asked != (m >= NotMoved && m <= TooSoonPartWay) {
			t.Errorf("%v asks %q", m, m.Ask())
		}
	}
}

// TestWhatIsRecordedOfBolts: notes are given back in their order, and which bolts are new.
func TestWhatIsRecordedOfBolts(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 4)
	defer s.l.Close()
	for _, text := range []string{"asked the foreman", "he said yes"} {
		if err := s.l.Note(text); err != nil {
			t.Fatal(err)
		}
	}
	if got := s.l.Notes(); len(got) != 3 || got[1] != "asked the foreman" || got[2] != "he said yes" { // after what was asked at the start
		t.Errorf("%q", got)
	}
	if err := s.l.Loosen("bolt 2"); err != nil {
		t.Fatal(err)
	}
	if err := s.l.Replace("bolt 1"); err != nil {
		t.Fatal(err)
	}
	if !s.l.Replaced("bolt 1") || s.l.Replaced("bolt 2") {
		t.Errorf("new: bolt 1 %v, bolt 2 %v", s.l.Replaced("bolt 1"), s.l.Replaced("bolt 2"))
	}
	for _, number := range []int{-1, 0, 1, 2, 9} {
		if got := s.l.Status(number); got != Pending {
			t.Errorf("step %d is %v, want pending", number, got)
		}
	}
	if _, ok := s.l.WaitOver(); ok {
		t.Error("a wait is begun")
	}
}
