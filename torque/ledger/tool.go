package ledger

import (
	"strings"

	"example.com/closefit/units"
)

// A Tool is what the bolts are pulled with.
type Tool struct {
	Name        string `json:"name"`        // "wrench 2"
	Set         string `json:"set"`         // what it is set to; may be empty
	Certificate string `json:"certificate"` // of its calibration; may be empty
}

// UnmarshalJSON reads {"name":…,"set":…,"certificate":…}.
func (t *Tool) UnmarshalJSON(data []byte) error {
	type tool Tool
	return units.DecodeObject(data, (*tool)(t))
}

// check refuses a tool without a name, and texts that would break a line.
func (t Tool) check() error {
	if strings.TrimSpace(t.Name) == "" {
		return fault{kind: ErrRefused, found: "a tool without a name", fix: "say which it is"}.err()
	}
	for _, text := range []string{t.Name, t.Set, t.Certificate} {
		if err := checkText(text, "a tool"); err != nil {
			return err
		}
	}
	return nil
}
