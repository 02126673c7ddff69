package grading_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// The exchange form itself is checked in internal/exchange.

func TestWordsOfTheExchangeForm(t *testing.T) {
	var side grading.Side
	var half grading.Half
	var part grading.Part
	for text, into := range map[string]any{`"left"`: &side, `"middle"`: &half, `" upper"`: &part, `""`: &side} {
		if err := json.Unmarshal([]byte(text), into); err == nil {
			t.Errorf("%s is a %T", text, into)
		}
	}
	// A grade that ends in the word of a half stays what it is.
	for _, p := range []grading.Part{{Grade: "rear"}, {Grade: "red Upper"}, {Grade: "red upper", Half: grading.Lower}} {
		text, err := json.Marshal(p)
		var back grading.Part
		if errBack := json.Unmarshal(text, &back); err != nil || errBack != nil || back != p {
			t.Errorf("%s: %#v, %v, %v", text, back, err, errBack)
		}
	}
}

// What could not be read back is not written.
func TestNothingIsWrittenThatCannotBeRead(t *testing.T) {
	for _, v := range []any{
		grading.Half(9), grading.Side(""), grading.Side("left"),
		grading.Part{}, grading.Part{Half: grading.Upper}, grading.Part{Grade: "red", Half: 9}, grading.Part{Grade: " red"}, grading.Part{Grade: "dark  red"},
		grading.Part{Grade: "\xff"}, grading.Row{Text: "A B"}, grading.Pair{Upper: grading.Part{Grade: "red"}},
	} {
		if text, err := json.Marshal(v); !errors.Is(err, units.ErrNotWritten) {
			t.Errorf("%#v is written as %s, %v", v, text, err)
		}
	}
}
