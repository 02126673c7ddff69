package measure

import "example.com/closefit/units"

// Tied returns the reading of a quantity that depends on something that other readings
// depend on too: the growth of one part with the temperature that it shares with its
// neighbours, or a ring that two gauges were set on. The quantity is value in the middle
// of that thing's bracket, and value ± half at its ends; half is negative if the quantity
// falls as the thing rises. Readings tied to one name move together: their shared part
// counts once, with its signs, and cancels where all parts grow alike.
func Tied[D units.Dimension](to string, value, half units.Quantity[D]) Reading[D] {
	r := Given(units.Exactly(value), "by "+to)
	if !half.IsZero() {
		r.act.more = &more[D]{doubts: []doubt[D]{{source: source{kind: piece, of: to}, lo: half, hi: half}}}
	}
	return r
}
