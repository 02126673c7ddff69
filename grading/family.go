package grading

import "example.com/closefit/units"

// A Family is the shells for a crank that was ground to an undersize.
type Family struct {
	Name      string       `toml:"name"`
	Undersize units.Length `toml:"undersize"` // of the journal's diameter
}
