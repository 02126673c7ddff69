package ask

import (
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A worded type is written as one of a few words. The schema lists them.
type worded interface {
	~string
	Words() []string
}

// word reads one of the words of a type.
func word[W worded](into *W, text []byte, what string) error {
	words := (*into).Words()
	if !slices.Contains(words, string(text)) {
		return &units.Error{Kind: units.ErrNotWritten, Where: what, Found: shortened(string(text)), Fix: `write "` + strings.Join(words, `" or "`) + `"`}
	}
	*into = W(text)
	return nil
}
