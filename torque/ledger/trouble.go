package ledger

import "example.com/closefit/units"

// Trouble is a bolt with which something has to be done before any step begins, or the tool.
type Trouble struct {
	Bolt   string `json:"bolt"`   // empty for the tool, which has to be checked: UseTool
	Step   int    `json:"step"`   // the step that went wrong; 0 if it was none of the bolt's own
	Scrap  bool   `json:"scrap"`  // the bolt must be replaced, and cannot be backed off and used again
	Stays  bool   `json:"stays"`  // it may stay on somebody's word: Keep
	Why    string `json:"why"`    // what happened
	Advice string `json:"advice"` // what to do
}

// UnmarshalJSON reads {"bolt":…,"step":…,"scrap":…,"stays":…,"why":…,"advice":…}.
func (t *Trouble) UnmarshalJSON(data []byte) error {
	type trouble Trouble
	return units.DecodeObject(data, (*trouble)(t))
}
