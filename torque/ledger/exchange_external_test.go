package ledger_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// TestEntriesThatSayLess: an entry that says less or more than it has to is refused, and what
// it is read into stays as it was.
func TestEntriesThatSayLess(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":         `{}`,
		"no bolt":         `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"detail":""}`,
		"a key too many":  `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a","detail":"","tool":"b"}`,
		"a key twice":     `{"line":2,"line":3,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a","detail":""}`,
		"no detail":       `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a"}`,
		"null for a step": `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":null,"bolt":"a","detail":""}`,
		"no such event":   `{"line":2,"time":"2026-02-03T14:05:06Z","what":"pulled","step":1,"bolt":"a","detail":""}`,
	} {
		e := ledger.Entry{Line: 7}
		if err := json.Unmarshal([]byte(text), &e); !errors.Is(err, units.ErrNotWritten) || e.Line != 7 {
			t.Errorf("%s: %v, and the entry is %+v", name, err, e)
		}
	}
}

// TestWorkInWords: a work is said with what is said of it, and read with every key.
func TestWorkInWords(t *testing.T) {
	w := ledger.Work{Engine: "gate 4711", Build: "autumn"}
	if got := w.String(); got != "gate 4711, autumn" {
		t.Error(got)
	}
	w.Assembly = "trial assembly"
	if got := w.String(); got != "gate 4711, autumn, trial assembly" {
		t.Error(got)
	}
	if err := json.Unmarshal([]byte(`{"engine":"e","build":"b"}`), &w); !errors.Is(err, units.ErrNotWritten) || w.Engine != "gate 4711" {
		t.Errorf("%v, %+v", err, w)
	}
}
