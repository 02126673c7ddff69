package ledger_test

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// TestEntriesSurviveJSON: an entry comes back as it was, and one that says less or more than
// it has to is refused.
func TestEntriesSurviveJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := ledger.Entry{
			Line: rapid.IntRange(2, 1000).Draw(t, "line"), Time: time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "time"), 0).UTC(),
			What: rapid.SampledFrom([]string{"begin", "done", "skipped", "stopped", "hold", "lost", "replaced", "loosened", "note"}).Draw(t, "what"),
			Step: rapid.IntRange(0, 99).Draw(t, "step"), Bolt: rapid.SampledFrom([]string{"", "1L", "2 \"rear\""}).Draw(t, "bolt"),
			Text: rapid.SampledFrom([]string{"", `{"gate":"final"}`}).Draw(t, "text"),
		}
		text, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		var back ledger.Entry
		if err := json.Unmarshal(text, &back); err != nil || back != e {
			t.Fatalf("%s came back as %+v, %v", text, back, err)
		}
	})
	for name, text := range map[string]string{
		"nothing":         `{}`,
		"no bolt":         `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"text":""}`,
		"a key too many":  `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a","text":"","tool":"b"}`,
		"a key twice":     `{"line":2,"line":3,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a","text":""}`,
		"no text":         `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":1,"bolt":"a"}`,
		"null for a step": `{"line":2,"time":"2026-02-03T14:05:06Z","what":"begin","step":null,"bolt":"a","text":""}`,
		"no such event":   `{"line":2,"time":"2026-02-03T14:05:06Z","what":"pulled","step":1,"bolt":"a","text":""}`,
	} {
		e := ledger.Entry{Line: 7}
		if err := json.Unmarshal([]byte(text), &e); !errors.Is(err, units.ErrNotWritten) || e.Line != 7 {
			t.Errorf("%s: %v, and the entry is %+v", name, err, e)
		}
	}
}

func TestStatusInWords(t *testing.T) {
	for status, want := range map[ledger.Status]string{ledger.Pending: `"pending"`, ledger.Begun: `"begun"`, ledger.Done: `"done"`, ledger.Unknown: `"unknown"`, ledger.Skipped: `"skipped"`} {
		text, err := json.Marshal(status)
		if err != nil || string(text) != want {
			t.Errorf("%v is written %s, %v", status, text, err)
		}
		back := ledger.Status(9)
		if err := json.Unmarshal(text, &back); err != nil || back != status {
			t.Errorf("%s is read as %v, %v", text, back, err)
		}
	}
	var s ledger.Status
	if err := json.Unmarshal([]byte(`"finished"`), &s); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("%v, want a word that is none refused", err)
	}
	if _, err := json.Marshal(ledger.Status(9)); !errors.Is(err, units.ErrNotWritten) {
		t.Errorf("%v, want a number that is none refused", err)
	}
}
