package ask

import (
	"encoding/json"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A member of a union is one of its kinds: the words that name it, and what makes a fresh one.
type member struct {
	words []string
	fresh func() any
}

// union reads an object whose key "kind" says which member it is, as strictly as any other.
func union(data []byte, where string, members ...member) error {
	var only struct {
		Kind string `json:"kind"`
	}
	if err := json.Unmarshal(data, &only); err != nil {
		return &units.Error{Kind: units.ErrNotWritten, Where: where, Found: "no object with a kind", Fix: `write an object with "kind"`}
	}
	var words []string
	for _, m := range members {
		if slices.Contains(m.words, only.Kind) {
			return units.DecodeObject(data, m.fresh())
		}
		words = append(words, m.words...)
	}
	return &units.Error{Kind: units.ErrNotWritten, Where: where + `, "kind"`, Found: shortened(only.Kind), Fix: `write "` + strings.Join(words, `" or "`) + `"`}
}
