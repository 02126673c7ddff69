package film

import (
	"fmt"

	"example.com/closefit/units"
)

// The exchange form: plain objects whose keys are all there; a missing or unknown key is an
// error, also where a type stands alone.

func (b *Bearing) UnmarshalJSON(data []byte) error        { return units.DecodeObject(data, b) }
func (s *Supply) UnmarshalJSON(data []byte) error         { return units.DecodeObject(data, s) }
func (n *Numbers) UnmarshalJSON(data []byte) error        { return units.DecodeObject(data, n) }
func (e *Estimate) UnmarshalJSON(data []byte) error       { return units.DecodeObject(data, e) }
func (f *Film) UnmarshalJSON(data []byte) error           { return units.DecodeObject(data, f) }
func (f *Field) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, f) }
func (o *Oil) UnmarshalJSON(data []byte) error            { return units.DecodeObject(data, o) }
func (p *ViscosityPoint) UnmarshalJSON(data []byte) error { return units.DecodeObject(data, p) }
func (d *Duty) UnmarshalJSON(data []byte) error           { return units.DecodeObject(data, d) }
func (p *WorkingPoint) UnmarshalJSON(data []byte) error   { return units.DecodeObject(data, p) }
func (s *Surfaces) UnmarshalJSON(data []byte) error       { return units.DecodeObject(data, s) }
func (d *Doubt) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, d) }
func (c *Cycle) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, c) }
func (p *LoadPoint) UnmarshalJSON(data []byte) error      { return units.DecodeObject(data, p) }
func (m *Mechanism) UnmarshalJSON(data []byte) error      { return units.DecodeObject(data, m) }
func (p *GasPoint) UnmarshalJSON(data []byte) error       { return units.DecodeObject(data, p) }
func (o *Orbit) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, o) }
func (p *OrbitPoint) UnmarshalJSON(data []byte) error     { return units.DecodeObject(data, p) }
func (p *SweepPoint) UnmarshalJSON(data []byte) error     { return units.DecodeObject(data, p) }
func (s *State) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, s) }
func (c *Case) UnmarshalJSON(data []byte) error           { return units.DecodeObject(data, c) }
func (p *Pump) UnmarshalJSON(data []byte) error           { return units.DecodeObject(data, p) }
func (r *Range) UnmarshalJSON(data []byte) error          { return units.DecodeObject(data, r) }

// MarshalText returns the words of String.
func (g Groove) MarshalText() ([]byte, error) {
	if int(g) >= len(grooveWords) {
		return nil, wrong(ErrBearing, "groove", g.String(), "use one of the kinds")
	}
	return []byte(g.String()), nil
}

// UnmarshalText reads the words of String.
func (g *Groove) UnmarshalText(text []byte) error {
	for i, word := range grooveWords {
		if string(text) == word {
			*g = Groove(i)
			return nil
		}
	}
	return wrong(units.ErrNotWritten, "groove", fmt.Sprintf("%.40q", text), `write "none", "circumferential" or "pockets"`)
}
