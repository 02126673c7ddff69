package calc

// A Code is an error that a formula can give.
type Code uint8

// The errors: ISO/IEC 29500-1, 18.17.
const (
	ErrNull    Code = iota + 1 // #NULL!
	ErrDiv0                    // #DIV/0!
	ErrValue                   // #VALUE!
	ErrRef                     // #REF!
	ErrName                    // #NAME?
	ErrNum                     // #NUM!
	ErrNA                      // #N/A
	ErrPending                 // #GETTING_DATA
	ErrSpill                   // #SPILL!
	ErrCalc                    // #CALC!

	lastCode = ErrCalc
)

// String returns the error as sheets show it: "#N/A".
func (c Code) String() string {
	words := [...]string{"", "#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#GETTING_DATA", "#SPILL!", "#CALC!"}
	if int(c) >= len(words) {
		return "#VALUE!"
	}
	return words[c]
}
