package check

import (
	"fmt"
	"math"

	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// nominalOf returns the nominal size of a column, in the column's unit.
func (k *checking) nominalOf(t *mapfile.Table, index int, name string) (v float64, u unit, ok bool) {
	c := t.Columns[name]
	u, known := k.unit(c.Unit)
	if c.Nominal == "" || !known {
		return 0, u, false
	}
	if at, err := sheet.ParsePlace(c.Nominal); err == nil {
		held := valueOf(k.cell(cellKey{index, at}))
		return held.number, u, held.kind == isNumber
	}
	n, err := u.number(c.Nominal)
	if err != nil {
		return 0, u, false
	}
	v, _ = n.Float64()
	return v, u, true
}

// near reports whether a reading is within a tenth of its nominal size: wear and regrinding
// stay far inside that, slips far outside.
func near(v, nominal float64) bool { return 10*math.Abs(v-nominal) <= math.Abs(nominal) }

// nominal looks at a reading far from its nominal size that would be near it with the decimal
// point moved or in another unit.
func (k *checking) nominal(t *mapfile.Table, key cellKey, name string, c *sheet.Cell) {
	nominal, u, ok := k.nominalOf(t, key.sheet, name)
	v := valueOf(c).number
	if !ok || near(v, nominal) {
		return
	}
	cause := Cause{Mistake: FarOff, Says: "it is more than a tenth off its nominal size"}
	fits := func(fits bool, mistake, says string) {
		if fits && cause.Mistake == FarOff {
			cause = Cause{Mistake: mistake, Says: "this number would also fit: " + says, Evidence: Fits}
		}
	}
	for _, m := range moves() {
		fits(near(v/m.factor, nominal), DecimalPoint, "the decimal point is moved "+m.says)
	}
	for _, o := range u.confused {
		fits(near(v/o.factor, nominal), o.mistake, fmt.Sprintf("its unit would be %s, and the cells have %s", o.unit, u.symbol))
	}
	fits(near(2*v, nominal), Radius, "it is half its nominal size")
	fits(near(v/2, nominal), Radius, "it is twice its nominal size")
	k.far = append(k.far, Finding{Severity: WrongValue, Table: t.Name, Sheet: k.book.Grids[key.sheet].Name, Column: name, Count: 1, Ranges: []Span{{key.at, key.at}},
		Cells: []Cell{{At: key.at, Claimed: c.Text, Right: fmt.Sprintf("near %.3f %s", nominal, u.symbol), Says: cause.Says}}, Cause: cause})
}
