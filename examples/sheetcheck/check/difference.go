package check

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// differs says how a claim's formula differs from the right one: nil if it does not. What it
// says is read from the formula, and is no guess.
func (k *checking) differs(c *claim) *explanation {
	cell := k.cell(c.cellKey)
	if !c.formula {
		return k.typedOver(c, cell)
	}
	if c.looked != nil && c.usual == nil {
		return nil // what is looked up here has no formula
	}
	if k.sameFormula(c) {
		return nil
	}
	should := c.should()
	right, actual := pattern.Resolve(k.book, c.sheet, c.at, should), k.actual(c)
	if pattern.Relative(right, c.at) == pattern.Relative(actual, c.at) || c.byName && k.sameRule(c, actual) {
		return nil
	}
	mistake, says := k.slipped(c, actual)
	if c.wrong && c.judges() && k.lastBit(c) {
		mistake, says = Residue, "a last bit of binary arithmetic decides"
	}
	if mistake == "" {
		mistake, says = (&differing{k: k, claim: c, right: right, actual: actual}).mistake()
	}
	says = fmt.Sprintf("the formula is =%s and should read =%s: %s", shortFormula(cell.Formula, actual), should, says)
	return &explanation{mistake: mistake, says: says, evidence: Formula}
}

// lastBit reports whether a claim's own formula gives what is right exactly, and what its cell
// holds in binary arithmetic.
func (k *checking) lastBit(c *claim) bool {
	now, exactly := k.gives(c)
	return c.same(now) && exactly.kind != isUnknown && !c.same(exactly) && k.agrees(c, exactly)
}

// sameRule reports whether a formula means what the map calls by name, however it is written. One
// that is no sum is taken to mean it where the column shows no usual form and it gives what is right.
func (k *checking) sameRule(c *claim, actual calc.Expr) bool {
	same, sums := sameSum(pattern.Resolve(k.book, c.sheet, c.at, c.right()), actual)
	return same || !sums && c.usual == nil && !c.wrong
}

// sameSum reports whether two formulas are the same sum; sums is false unless both are sums.
func sameSum(right, actual calc.Expr) (same, sums bool) {
	r, okR := pattern.LinearOf(right)
	a, okA := pattern.LinearOf(actual)
	if !okR || !okA {
		return false, false
	}
	return len(r.Terms) == len(a.Terms) && r.Constant.Cmp(a.Constant) == 0 && !slices.ContainsFunc(r.Terms, func(t pattern.Term) bool {
		return !slices.ContainsFunc(a.Terms, func(o pattern.Term) bool {
			return o.Area.Sheet == t.Area.Sheet && o.Area.From.Place == t.Area.From.Place && o.Factor.Cmp(t.Factor) == 0
		})
	}), true
}

// slipped reports whether a formula is one that people write by mistake in place of the rule's.
func (k *checking) slipped(c *claim, actual calc.Expr) (mistake, says string) {
	for _, s := range c.slips {
		e := c.moved(s.formula)
		same, _ := sameSum(e, actual)
		if pattern.Relative(e, c.at) == pattern.Relative(actual, c.at) || same && len(pattern.Areas(e)) > 2 {
			return s.mistake, s.says
		}
	}
	return "", ""
}

func shortFormula(text string, e calc.Expr) string {
	if len(text) > 200 || strings.Contains(text, "[.") || strings.HasPrefix(text, "of:") {
		return e.String()
	}
	return text
}

// typedOver says that something is typed where the column has formulas.
func (k *checking) typedOver(c *claim, cell *sheet.Cell) *explanation {
	if cell.Blank() || cell.Formula != "" || !k.formulasBeside(c) {
		return nil
	}
	what := "a number is typed"
	mistake := Typed
	if cell.Kind() == sheet.KindText {
		what, mistake = "a text is typed", TypedText
	}
	g := k.book.Grids[c.sheet]
	if g.Protected && g.Locked(cell) {
		mistake = Overwritten
		what += " into a locked cell"
	}
	return &explanation{mistake: mistake, evidence: Formula, says: fmt.Sprintf("%s where =%s should stand: it stays when a reading changes", what, c.should())}
}

// A columnKey is a column of the map's tables; without a name, all of a table's columns.
type columnKey struct {
	of   *mapfile.Table
	name string
}

// formulasBeside reports whether most claims of the column have formulas, so that one
// without has lost its own. Where the column is that claim alone, as in a form, the table's
// others tell.
func (k *checking) formulasBeside(c *claim) bool {
	if c.of == nil {
		return false
	}
	if k.beside == nil {
		k.beside = map[columnKey]*formulaCount{}
		for of, t := range k.sieve.tables {
			all := &formulaCount{}
			k.beside[columnKey{of: of}] = all
			for i := range t.claims {
				n := &formulaCount{claims: t.passed.count(t.passed), with: t.passed.count(t.formulas[i]), without: t.passed.count(t.values[i])}
				k.beside[columnKey{of, t.claims[i].column}] = n
				all.claims, all.with, all.without = all.claims+n.claims, all.with+n.with, all.without+n.without
			}
		}
		for _, other := range k.claims {
			for _, key := range []columnKey{{other.of, other.column}, {of: other.of}} {
				n := k.beside[key]
				if n == nil {
					n = &formulaCount{}
					k.beside[key] = n
				}
				n.claims++
				switch {
				case other.formula:
					n.with++
				case !k.cell(other.cellKey).Blank():
					n.without++
				}
			}
		}
	}
	n := k.beside[columnKey{c.of, c.column}]
	if n.claims == 1 {
		n = k.beside[columnKey{of: c.of}]
	}
	return n.with > 0 && n.with >= n.without
}

// A formulaCount counts the claims of a column that have formulas, and those with something
// else in their cells.
type formulaCount struct{ claims, with, without int }

// A differing is a right formula and the one that is there.
type differing struct {
	k             *checking
	claim         *claim
	right, actual calc.Expr
}

// mistake names the difference, the most telling first.
func (d *differing) mistake() (mistake, says string) {
	for _, try := range []func() (string, string){d.lookUp, d.verdict, d.packs, d.turnedRound, d.units, d.references, d.linear, d.fewer} {
		if mistake, says = try(); mistake != "" {
			return mistake, says
		}
	}
	return Odd, "it is unlike its neighbours"
}

// calls returns the calls of the functions in a formula.
func calls(e calc.Expr, names ...string) (all []*calc.Call) {
	calc.Walk(e, func(e calc.Expr) bool {
		if c, ok := e.(*calc.Call); ok && slices.Contains(names, c.Name) {
			all = append(all, c)
		}
		return true
	})
	return all
}

// lookUp: a key that is not there takes its neighbour's line.
func (d *differing) lookUp() (mistake, says string) {
	right, actual := pattern.LookUps(d.right), pattern.LookUps(d.actual)
	if len(right) != len(actual) {
		return "", ""
	}
	for i := range right {
		if pattern.Exact(right[i]) && !pattern.Exact(actual[i]) {
			return Approximate, "a key that is missing takes what stands beside it" + d.suchKey(actual[i])
		}
	}
	for i := range right {
		if len(right[i].Args) < 3 || len(actual[i].Args) < 3 || right[i].Name != actual[i].Name {
			continue
		}
		if a, b := right[i].Args[2].String(), actual[i].Args[2].String(); a != b && strings.HasSuffix(right[i].Name, "VLOOKUP") || a != b && right[i].Name == "HLOOKUP" {
			return Neighbour, fmt.Sprintf("it takes column %s of what it looks up, and not %s", b, a)
		}
	}
	return "", ""
}

// mostKeys bounds the keys that are looked at for one that would go wrong.
const mostKeys = 1000

// suchKey says which key would take a neighbour's line; empty if none is at hand.
func (d *differing) suchKey(c *calc.Call) string {
	a, ok := pattern.Keys(c)
	if !ok {
		return ""
	}
	index := d.k.key(d.claim, a).sheet
	rows, columns := d.k.book.Extent(index)
	var last value
	for i := 0; i < mostKeys; i++ {
		at := sheet.Place{Row: a.From.Row + i, Column: a.From.Column}
		if a.From.Row == a.To.Row {
			at = sheet.Place{Row: a.From.Row, Column: a.From.Column + i}
		}
		if at.Row > min(a.To.Row, rows) || at.Column > min(a.To.Column, columns) {
			break
		}
		v := valueOf(d.k.cell(cellKey{index, at}))
		if v.kind == isNumber || v.kind == isText && strings.TrimSpace(v.text) != "" {
			if last.kind == isNumber && v.kind == isNumber && v.number > last.number {
				return fmt.Sprintf(": %g, say, that of %s", (last.number+v.number)/2, last.text)
			}
			last = v
		}
	}
	if last.kind != isText {
		return ""
	}
	return fmt.Sprintf(": %q, say, that of %q", last.text+"x", last.text)
}

// unrounded takes ROUND off; places is how many it keeps, and rounded whether it was there.
func unrounded(e calc.Expr) (inner calc.Expr, places string, rounded bool) {
	if c, ok := e.(*calc.Call); ok && strings.HasPrefix(c.Name, "ROUND") && len(c.Args) == 2 {
		return c.Args[0], c.Args[1].String(), true
	}
	return e, "", false
}

// verdict compares comparisons.
func (d *differing) verdict() (mistake, says string) {
	right, actual := pattern.Comparisons(d.right), pattern.Comparisons(d.actual)
	if len(right) == 0 {
		return "", ""
	}
	if len(actual) < len(right) {
		return OneLimit, fmt.Sprintf("it compares %d of %d limits", len(actual), len(right))
	}
	if len(actual) != len(right) {
		return "", ""
	}
	var bounds [2][]string
	for i := range right {
		bounds[0], bounds[1] = append(bounds[0], right[i].Y.String()), append(bounds[1], actual[i].Y.String())
	}
	if len(right) == 2 && bounds[0][0] == bounds[1][1] && bounds[0][1] == bounds[1][0] && bounds[0][0] != bounds[0][1] && right[0].Op == actual[0].Op {
		return Swapped, "the lower limit stands where the upper one belongs"
	}
	for i := range right {
		x, places, was := unrounded(right[i].X)
		y, now, is := unrounded(actual[i].X)
		if x.String() != y.String() {
			continue
		}
		switch {
		case is && (!was || now != places):
			return RoundedFirst, fmt.Sprintf("it rounds to %s places before it compares", now)
		case was && !is:
			return Residue, "it compares without rounding, so that a residue of binary arithmetic decides at the limit"
		}
	}
	for i := range right {
		if right[i].Op != actual[i].Op && right[i].X.String() == actual[i].X.String() && right[i].Y.String() == actual[i].Y.String() {
			if below(right[i].Op) != below(actual[i].Op) {
				return WrongWay, fmt.Sprintf("it has %s where %s belongs", actual[i].Op, right[i].Op)
			}
			return Strict, fmt.Sprintf("it has %s where %s belongs: a value on the limit is within it", actual[i].Op, right[i].Op)
		}
	}
	if u := d.limitsIn(right, actual); u != "" {
		return confusionOf(u, d.claim), fmt.Sprintf("its limits have the unit %s", u)
	}
	for i := range right {
		x, okX := single(right[i].X)
		y, okY := single(actual[i].X)
		if okX && okY && d.unit(x) != d.unit(y) {
			return MixedUnits, fmt.Sprintf("%s is in %s, and its limit in %s", y, d.unit(y), d.unit(x))
		}
	}
	return "", ""
}

// below reports whether a comparison asks whether one is less than another.
func below(op calc.Op) bool { return op == calc.Less || op == calc.LessEqual }

// limitsIn returns the unit that typed limits are in, where it is not that of the value.
func (d *differing) limitsIn(right, actual []*calc.Binary) string {
	if d.claim.judge == nil {
		return ""
	}
	for _, o := range d.claim.judge.unit.confused {
		fits := 0
		for i := range right {
			typed, ok := actual[i].Y.(*calc.Number)
			if !ok {
				continue
			}
			v, w := valueOf(&sheet.Cell{Text: typed.Text}), d.k.try(d.claim, right[i].Y)
			if w.kind == isNumber && math.Abs(v.number-w.number*o.factor) <= 2*v.half() {
				fits++
			}
		}
		if fits == len(right) && fits > 0 {
			return o.unit
		}
	}
	return ""
}

func confusionOf(unit string, c *claim) string {
	for _, o := range c.judge.unit.confused {
		if o.unit == unit {
			return o.mistake
		}
	}
	return OtherUnit
}

func single(e calc.Expr) (*calc.Area, bool) {
	e, _, _ = unrounded(e)
	a, ok := e.(*calc.Area)
	return a, ok && a.Single()
}

// unit returns the unit of a cell of the table, if the map says it.
func (d *differing) unit(a *calc.Area) string {
	_, c := d.column(a)
	return c
}

// column returns the role and unit of the table's column that a reference reads.
func (d *differing) column(a *calc.Area) (role, unit string) {
	t := d.claim.of
	if t == nil || a.Sheet != "" {
		return "", ""
	}
	for name, c := range t.Columns {
		line, cell := t.Line(c.At)
		if line > 0 && (t.Down() && a.From.RowFixed || !t.Down() && a.From.ColumnFixed) {
			continue // a cell above the table or beside it
		}
		if line == 0 && a.From.Place == cell || line > 0 && (t.Down() && line == a.From.Column || !t.Down() && line == a.From.Row) {
			return d.k.role(t, name), c.Unit
		}
	}
	return "", ""
}

// packs: a part of a pack has to be bought.
func (d *differing) packs() (mistake, says string) {
	r, okR := d.right.(*calc.Call)
	a, okA := d.actual.(*calc.Call)
	if okR && okA && r.Name != a.Name && strings.HasPrefix(r.Name, "ROUND") && strings.HasPrefix(a.Name, "ROUND") {
		return WrongSide, fmt.Sprintf("%s where %s belongs", a.Name, r.Name)
	}
	return "", ""
}

// turnedRound: all signs are the wrong way round.
func (d *differing) turnedRound() (mistake, says string) {
	r, okR := pattern.LinearOf(d.right)
	a, okA := pattern.LinearOf(d.actual)
	if !okR || !okA || len(r.Terms) != len(a.Terms) || len(r.Terms) < 2 {
		return "", ""
	}
	for _, t := range r.Terms {
		if !slices.ContainsFunc(a.Terms, func(o pattern.Term) bool {
			return o.Area.From.Place == t.Area.From.Place && o.Area.Sheet == t.Area.Sheet && new(big.Rat).Neg(o.Factor).Cmp(t.Factor) == 0
		}) {
			return "", ""
		}
	}
	return WrongWay, "it subtracts the wrong way round"
}

// units: CONVERT from or to another unit.
func (d *differing) units() (mistake, says string) {
	r, a := calls(d.right, "CONVERT"), calls(d.actual, "CONVERT")
	for i := range r {
		if i < len(a) && len(r[i].Args) == 3 && len(a[i].Args) == 3 {
			for j := 1; j < 3; j++ {
				if x, y := r[i].Args[j].String(), a[i].Args[j].String(); x != y {
					return MixedUnits, fmt.Sprintf("it converts with %s where %s belongs", y, x)
				}
			}
		}
	}
	return "", ""
}

// fewer: single cells are read where a range should be.
func (d *differing) fewer() (mistake, says string) {
	ranges := func(e calc.Expr) (n int) {
		for _, a := range pattern.Areas(e) {
			if !a.Single() {
				n++
			}
		}
		return n
	}
	if ranges(d.right) > 0 && ranges(d.actual) == 0 && len(pattern.Areas(d.actual)) > 0 {
		return LeftOut, "it leaves readings out"
	}
	return "", ""
}

// references compares what two formulas of one shape read.
func (d *differing) references() (mistake, says string) {
	right, actual := pattern.Areas(d.right), pattern.Areas(d.actual)
	if pattern.Shape(d.right) != pattern.Shape(d.actual) {
		if x, ok := d.right.(*calc.Call); ok && len(right) == 1 && len(actual) == 1 && !right[0].Single() && actual[0].Single() {
			if y, ok := d.actual.(*calc.Call); ok && x.Name == y.Name {
				return WrongRange, fmt.Sprintf("it reads %s alone and should read %s", actual[0], right[0])
			}
		}
		return "", ""
	}
	for i := range right {
		r, a := right[i], actual[i]
		if r.Sheet == a.Sheet && r.From == a.From && r.To == a.To {
			continue
		}
		fixedR, fixedA := d.fixed(r), d.fixed(a)
		roleR, unitR := d.column(r)
		_, unitA := d.column(a)
		switch {
		case d.nominal(r, a):
			return Nominal, fmt.Sprintf("%s, a nominal size, is taken in place of %s", a, r)
		case fixedR && !fixedA:
			return Moving, fmt.Sprintf("%s should be %s: it moves when the formula is copied", a, r)
		case fixedA && !fixedR && r.Single():
			return Absolute, fmt.Sprintf("%s is fixed and should be %s", a, r)
		case r.Sheet != a.Sheet:
			return Odd, fmt.Sprintf("it reads %s and should read %s", a, r)
		case r.From.Place == a.From.Place && r.To.Place == a.To.Place:
			return Moving, fmt.Sprintf("%s should be %s", a, r)
		case !r.Single() && besides(r, a):
			return Neighbour, fmt.Sprintf("it reads %s and should read %s", a, r)
		case !r.Single():
			return WrongRange, fmt.Sprintf("it reads %s and should read %s", a, r)
		case roleR == wallRole && r.From.Row == a.From.Row, (roleR == "upper" || roleR == "lower") && r.From.Row == a.From.Row:
			return OneWall, fmt.Sprintf("%s is taken in place of %s", a, r)
		case unitR != unitA && unitR != "" && unitA != "":
			return MixedUnits, fmt.Sprintf("it reads %s in %s, and not %s in %s", a, unitA, r, unitR)
		case !d.claim.wrong:
			return Odd, fmt.Sprintf("it reads %s and should read %s, which happens to make no difference now", a, r)
		case r.From.Column == a.From.Column || r.From.Row == a.From.Row:
			return Neighbour, fmt.Sprintf("it reads %s and should read %s", a, r)
		}
		return Odd, fmt.Sprintf("it reads %s and should read %s", a, r)
	}
	return "", ""
}

// nominal reports whether one reference reads the nominal size of the column that another reads.
func (d *differing) nominal(r, a *calc.Area) bool {
	t := d.claim.of
	if t == nil || a.Sheet != "" {
		return false
	}
	for _, c := range t.Columns {
		at, err := sheet.ParsePlace(c.Nominal)
		line, _ := t.Line(c.At)
		if err == nil && at == a.From.Place && line > 0 && (t.Down() && line == r.From.Column || !t.Down() && line == r.From.Row) {
			return true
		}
	}
	return false
}

// besides reports whether two ranges are as long as each other and lie side by side.
func besides(a, b *calc.Area) bool {
	rows, columns := b.From.Row-a.From.Row, b.From.Column-a.From.Column
	if b.To.Row-a.To.Row != rows || b.To.Column-a.To.Column != columns {
		return false
	}
	return a.From.Row == a.To.Row && columns == 0 || a.From.Column == a.To.Column && rows == 0
}

// wallRole is the role of a column with the one thickness of both shells.
const wallRole = "wall"

// fixed reports whether a reference stays where it is from line to line.
func (d *differing) fixed(a *calc.Area) bool {
	if t := d.claim.of; t != nil && !t.Down() {
		return a.From.ColumnFixed
	}
	return a.From.RowFixed
}

// linear compares sums by their factors.
func (d *differing) linear() (mistake, says string) {
	r, okR := pattern.LinearOf(d.right)
	a, okA := pattern.LinearOf(d.actual)
	if !okR || !okA {
		return "", ""
	}
	have := map[sheet.Place]*big.Rat{}
	for _, t := range a.Terms {
		have[t.Area.From.Place] = t.Factor
	}
	var ratios []*big.Rat
	var missing []pattern.Term
	for _, t := range r.Terms {
		f := have[t.Area.From.Place]
		delete(have, t.Area.From.Place)
		if f == nil {
			missing = append(missing, t)
			continue
		}
		ratios = append(ratios, new(big.Rat).Quo(f, t.Factor))
	}
	switch {
	case len(missing) > 0:
		return d.leftOut(missing, a, have)
	case len(have) > 0:
		return "", ""
	}
	one := big.NewRat(1, 1)
	same := !slices.ContainsFunc(ratios, func(q *big.Rat) bool { return q.Cmp(ratios[0]) != 0 })
	if same {
		switch q := ratios[0]; {
		case q.Cmp(one) == 0 && slices.Equal(r.Wraps, a.Wraps):
			return Odd, "it comes to the same by another way, unlike its neighbours"
		case q.Cmp(one) == 0:
			return Odd, "it is unlike its neighbours"
		case q.Cmp(big.NewRat(-1, 1)) == 0:
			return WrongWay, "it subtracts the wrong way round"
		default:
			return d.factor(q, r)
		}
	}
	for i, q := range ratios {
		role, _ := d.column(r.Terms[i].Area)
		switch {
		case q.Cmp(one) == 0:
		case q.Sign() < 0:
			return Added, fmt.Sprintf("%s has the wrong sign", r.Terms[i].Area)
		case q.Cmp(big.NewRat(1, 2)) == 0 && role == wallRole:
			return OneWall, fmt.Sprintf("%s is taken off once, and a bearing has two walls", r.Terms[i].Area)
		case q.Cmp(big.NewRat(1, 2)) == 0 && role == "" && d.claim.role == "clearance" && twice(r, i):
			return OneWall, fmt.Sprintf("%s is taken off once and should be taken off twice", r.Terms[i].Area)
		case (q.Cmp(big.NewRat(1, 2)) == 0 || q.Cmp(big.NewRat(2, 1)) == 0) && !slices.Contains([]string{"bore", "journal", "piston"}, role):
			return Odd, fmt.Sprintf("%s counts %s times what it should", r.Terms[i].Area, q.RatString())
		case q.Cmp(big.NewRat(1, 2)) == 0 || q.Cmp(big.NewRat(2, 1)) == 0:
			return Radius, fmt.Sprintf("%s counts %s times what it should", r.Terms[i].Area, q.RatString())
		case q.Cmp(big.NewRat(1, 1000)) == 0 || q.Cmp(big.NewRat(1000, 1)) == 0:
			return MixedUnits, fmt.Sprintf("%s counts %s times what it should: a millimetre is 1000 µm, an inch 1000 thou", r.Terms[i].Area, strings.TrimSuffix(q.FloatString(3), ".000"))
		default:
			return Factor, fmt.Sprintf("%s counts %s times what it should", r.Terms[i].Area, q.FloatString(4))
		}
	}
	return "", ""
}

// twice reports whether a term is taken off twice as often as another one is counted.
func twice(l pattern.Linear, i int) bool {
	return l.Terms[i].Factor.Sign() < 0 && slices.ContainsFunc(l.Terms, func(t pattern.Term) bool {
		return t.Factor.Sign() > 0 && new(big.Rat).Mul(t.Factor, big.NewRat(-2, 1)).Cmp(l.Terms[i].Factor) == 0
	})
}

// leftOut says what is left out of a sum, and what stands in its place.
func (d *differing) leftOut(missing []pattern.Term, a pattern.Linear, extra map[sheet.Place]*big.Rat) (mistake, says string) {
	m := missing[0]
	role, _ := d.column(m.Area)
	if a.Constant.Sign() != 0 {
		typed, _ := a.Constant.Float64()
		v := valueOf(d.k.cell(cellKey{d.claim.sheet, m.Area.From.Place}))
		if factor, _ := m.Factor.Float64(); v.kind == isNumber && factor != 0 {
			if near := typed / factor / v.number; near > 0.98 && near < 1.02 {
				return Nominal, fmt.Sprintf("a typed size stands in place of %s", m.Area)
			}
		}
	}
	if role == wallRole || role == "upper" || role == "lower" {
		return OneWall, fmt.Sprintf("%s is left out, and a bearing has two walls", m.Area)
	}
	if len(extra) > 0 && !d.claim.wrong {
		return Odd, fmt.Sprintf("another cell stands in place of %s, which makes no difference now", m.Area)
	}
	if len(extra) > 0 {
		return Neighbour, fmt.Sprintf("another cell stands in place of %s", m.Area)
	}
	return LeftOut, fmt.Sprintf("%s is left out", m.Area)
}

// factor names a wrong factor by how many times the right one it is.
func (d *differing) factor(q *big.Rat, right pattern.Linear) (mistake, says string) {
	whole := right.Terms[0].Factor.IsInt() // as 1000 is, of which no decimal point was moved
	says = fmt.Sprintf("it comes to %s times what is right", strings.TrimRight(strings.TrimRight(q.FloatString(6), "0"), "."))
	abs := new(big.Rat).Abs(q)
	if abs.Cmp(big.NewRat(1, 1)) < 0 {
		abs.Inv(abs)
	}
	is := func(text string) bool {
		r, _ := new(big.Rat).SetString(text)
		return abs.Cmp(r) == 0
	}
	within := func(text string) bool {
		r, _ := new(big.Rat).SetString(text)
		off, _ := new(big.Rat).Quo(abs, r).Float64()
		return off > 0.999 && off < 1.001
	}
	switch {
	case (is("10") || is("100")) && whole && len(right.Terms[0].Factor.Num().String()) > 1:
		return Factor, says
	case is("10"), is("100"):
		return DecimalPoint, says
	case is("1000"):
		return MixedUnits, says + ": a millimetre is 1000 µm, an inch 1000 thou"
	case within("25.4") && d.claim.role == "least gap":
		return MixedUnits, says + ": an inch is 25.4 mm"
	case within("25.4"):
		return Inch, says + ": an inch is 25.4 mm"
	case within("25400"), within("39.37007874"), within("2540"):
		return MixedUnits, says
	case is("12"):
		return FootPounds, says + ": a foot is 12 inches"
	case is("2") && len(right.Terms) > 1:
		return Radius, says
	}
	return Factor, says
}
