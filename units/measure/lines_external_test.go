package measure_test

import (
	"encoding/json"
	"testing"

	"example.com/closefit/units/measure"
)

// TestLines: what was added to a list, or read from one, is its elements, each on a line.
func TestLines(t *testing.T) {
	const want = "[{\"a\":1},\n[2,3]]"
	var added, read measure.Lines
	added.Add([]byte(`{"a":`), []byte("1}"))
	added.Add([]byte("[2,3]"))
	if err := json.Unmarshal([]byte(` [ { "a" : 1 }, [2,
		3] ] `), &read); err != nil {
		t.Fatal(err)
	}
	for _, l := range []measure.Lines{added, read} {
		if text, err := l.MarshalJSON(); err != nil || string(text) != want || l.Len() != 2 {
			t.Errorf("%d: %s, %v; want 2: %s", l.Len(), text, err, want)
		}
	}
	if none := (measure.Lines{}); none.Len() != 0 {
		t.Errorf("%d elements of none", none.Len())
	}
	if err := json.Unmarshal([]byte(`{}`), &read); err == nil {
		t.Error("an object was taken for a list")
	}
}
