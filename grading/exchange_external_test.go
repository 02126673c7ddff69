package grading_test

import (
	"encoding/json"
	"testing"

	"example.com/closefit/grading"
)

// The exchange form itself is checked in internal/exchange.

func TestWordsOfTheExchangeForm(t *testing.T) {
	var side grading.Side
	var rule grading.Rule
	var mix grading.Mix
	var half grading.Half
	var part grading.Part
	for text, into := range map[string]any{`"left"`: &side, `"guess"`: &rule, `"some"`: &mix, `"middle"`: &half, `" upper"`: &part, `""`: &side} {
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
