package ledger

import (
	"errors"
	"fmt"
	"strings"

	"example.com/closefit/units"
)

// A Word is somebody's word for going on where the ledger by itself would not.
type Word struct {
	By     string `json:"by"`     // who
	Reason string `json:"reason"` // why
}

// errWord is the kind of a text that is nobody's word.
var errWord = errors.New("it does not say who and why")

// ParseWord reads "NAME: REASON".
func ParseWord(text string) (Word, error) {
	by, reason, _ := strings.Cut(text, ":")
	w := Word{strings.TrimSpace(by), strings.TrimSpace(reason)}
	if w.By == "" || w.Reason == "" {
		return Word{}, &units.Error{Kind: errWord, Found: fmt.Sprintf("%.80q", text),
			Fix: `write "NAME: REASON", as in "the builder: the manual lets it stay"`}
	}
	if err := w.check(); err != nil {
		return Word{}, err
	}
	return w, nil
}

// check refuses a word that does not say who and why, each on one line.
func (w Word) check() error {
	for what, text := range map[string]string{"who": w.By, "why": w.Reason} {
		if strings.TrimSpace(text) == "" {
			return fault{kind: ErrRefused, found: "a word that does not say " + what, fix: "say who goes on, and why"}.err()
		}
		if err := checkText(text, "a word"); err != nil {
			return err
		}
	}
	return nil
}

// UnmarshalJSON reads {"by":…,"reason":…}.
func (w *Word) UnmarshalJSON(data []byte) error {
	type word Word
	return units.DecodeObject(data, (*word)(w))
}
