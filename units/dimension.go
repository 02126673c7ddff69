package units

import (
	"fmt"
	"math/big"
	"strconv"
	"sync"
)

// A Dimension is a kind of quantity: length, torque, pressure. The set is
// closed; it exists to write functions that serve every dimension, as in
//
//	func Judge[D units.Dimension](measured, tolerance units.Interval[D]) Verdict
type Dimension interface {
	dimension() *dimension
}

// dimension holds what is known of one dimension. It is never changed once made.
type dimension struct {
	name     string    // "length"
	help     string    // a unit to suggest: "mm"
	grid     *big.Rat  // one step of the grid, in the SI unit
	units    []unitDef // by Unit; the first is the one String prints in
	exact    []uint8   // units to try for an exact print, in order
	shown    int       // decimal places that String shows at the most; stringPlaces if 0
	absolute bool      // nothing is below zero in the SI unit
	byKey    map[string]uint8
}

// unitDef is one unit of a dimension.
type unitDef struct {
	symbol    string
	spellings []string // other ways to write it
	si        *big.Rat // its size in the SI unit
	zero      *big.Rat // what its zero is in the SI unit; nil for all but temperatures
	source    string

	factor *big.Rat // its size in grid steps
	offset *big.Rat // its zero in grid steps, or nil
	whole  int64    // factor, if it is a whole number and offset is nil; else 0
	places []int64  // its decimal places in grid steps, as far as they are whole numbers
}

// newDimension completes a dimension from its units.
func newDimension(d dimension) *dimension {
	if d.shown == 0 {
		d.shown = stringPlaces
	}
	d.byKey = make(map[string]uint8, 4*len(d.units))
	for i := range d.units {
		u := &d.units[i]
		u.factor = new(big.Rat).Quo(u.si, d.grid)
		if u.zero != nil {
			u.offset = new(big.Rat).Quo(u.zero, d.grid)
		}
		if u.offset == nil && u.factor.IsInt() && u.factor.Num().IsInt64() {
			u.whole = u.factor.Num().Int64()
			for p := 0; p < len(powersOf10) && u.whole%powersOf10[p] == 0; p++ {
				u.places = append(u.places, u.whole/powersOf10[p])
			}
		}
		for _, s := range append([]string{u.symbol}, u.spellings...) {
			for _, key := range []string{s, joined(s)} {
				if other, taken := d.byKey[key]; taken && int(other) != i {
					panic(fmt.Sprintf("units: %q names both %s and %s", key, d.units[other].symbol, u.symbol))
				}
				d.byKey[key] = uint8(i)
			}
		}
	}
	return &d
}

// possible reports whether so many grid steps may be a value.
func (d *dimension) possible(n int64) bool { return n >= 0 || !d.absolute }

// bare reports whether the dimension is that of pure numbers, whose first unit is
// not written.
func (d *dimension) bare() bool { return d.units[0].symbol == "" }

// number says in words how a value is written.
func (d *dimension) number() string {
	if d.bare() {
		return "number"
	}
	return "number and its unit"
}

// numberFirst is number for somebody who began with something else.
func (d *dimension) numberFirst() string {
	if d.bare() {
		return "number"
	}
	return "number and then its unit"
}

// noUnit is the kind of error in what has no text, and so no unit.
func (d *dimension) noUnit() error {
	if d.bare() {
		return ErrSyntax
	}
	return ErrNoUnit
}

// example quotes numbers with the unit that the dimension suggests.
func (d *dimension) example(numbers string) string {
	if d.bare() {
		return strconv.Quote(numbers)
	}
	return strconv.Quote(numbers + " " + d.help)
}

// bothInFull asks for both bounds of a range where any guess at it may be wrong.
func (d *dimension) bothInFull() string {
	return "write both bounds of a range in full, as in " + d.example("0.024..0.048")
}

// anyUnit asks for a unit of the dimension.
func (d *dimension) anyUnit() string {
	if d.bare() {
		return "write a number alone, or with % or ppm"
	}
	return fmt.Sprintf("write a unit of %s, such as %s", d.name, d.help)
}

// lazily makes a dimension on first use, so that importing the package costs nothing.
func lazily(d func() dimension) func() *dimension {
	return sync.OnceValue(func() *dimension { return newDimension(d()) })
}

func dimensionOf[D Dimension]() *dimension {
	var d D
	return d.dimension()
}

// dimensions returns every dimension, for naming the one that a wrong unit
// belongs to.
func dimensions() []*dimension {
	return []*dimension{
		lengths(), angles(), torques(), forces(), pressures(), temperatures(), temperatureDifferences(),
		rotations(), viscosities(), areas(), volumes(), stiffnesses(), masses(), ratios(),
		volumeFlows(), powers(), kinematicViscosities(), densities(),
	}
}
