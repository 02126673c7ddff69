package measure

import (
	"bytes"
	"encoding/json"

	"example.com/closefit/units"
)

// Lines is a list in JSON of which each element stands on one line, without what stands
// around the list.
type Lines []byte

// Add adds an element, which is JSON without line breaks, of its parts.
func (l *Lines) Add(element ...[]byte) {
	if len(*l) > 0 {
		*l = append(*l, ",\n"...)
	}
	for _, part := range element {
		*l = append(*l, part...)
	}
}

// Len returns how many elements there are.
func (l Lines) Len() int {
	if len(l) == 0 {
		return 0
	}
	return bytes.Count(l, []byte("\n")) + 1
}

// MarshalJSON writes the list.
func (l Lines) MarshalJSON() ([]byte, error) {
	return append(append([]byte("["), l...), ']'), nil
}

// UnmarshalJSON keeps the text of each element.
func (l *Lines) UnmarshalJSON(data []byte) error {
	var elements []json.RawMessage
	if err := json.Unmarshal(data, &elements); err != nil || elements == nil {
		return &units.Error{Kind: units.ErrNotWritten, Where: "list", Found: "no list", Fix: "write a JSON list"}
	}
	*l = nil
	var element bytes.Buffer
	for _, e := range elements {
		element.Reset()
		if err := json.Compact(&element, e); err != nil {
			return err
		}
		l.Add(element.Bytes())
	}
	return nil
}
