package check

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A checker checks one claim of every location.
type checker interface {
	check(w *window, t *tally)
}

// entry is a checker with the column that it is about.
type entry struct {
	checker
	column string
}

// compiler makes the checkers of one table.
type compiler struct {
	table   *mapfile.Table
	schemes []grading.Scheme
	places  *tomlfile.Places
	path    string
	stored  evaluator
	typed   bool           // the file says which cells are texts
	made    map[string]any // *arithmetic[D] by the column it claims
	errs    *tomlfile.Errors
}

// compile returns the checkers of a table in the order in which they must run: a
// value before the verdict on it.
func (c *compiler) compile() []entry {
	var all, verdicts []entry
	for i := range c.table.Checks {
		k := &c.table.Checks[i]
		path := fmt.Sprintf("%s.check[%d]", c.path, i)
		if k.By == "verdict" || k.By == mapfile.ByFormula {
			continue
		}
		if made, err := c.checker(k); err != nil {
			*c.errs = append(*c.errs, c.places.Wrap(path, err))
		} else {
			all = append(all, entry{made, k.Claim})
		}
	}
	for i := range c.table.Checks {
		k := &c.table.Checks[i]
		if k.By != "verdict" {
			continue
		}
		if made, err := c.verdict(k); err != nil {
			*c.errs = append(*c.errs, c.places.Wrap(fmt.Sprintf("%s.check[%d]", c.path, i), err))
		} else {
			verdicts = append(verdicts, entry{made, k.Claim})
		}
	}
	for _, name := range c.table.Names() {
		if m := c.table.Columns[name]; m.Unit == "" || m.Nominal == "" && !c.typed {
			continue
		}
		made, err := c.readings(name)
		if err != nil {
			*c.errs = append(*c.errs, c.places.Wrap(c.path+".column."+name, err))
			continue
		}
		all = append(all, entry{made, name})
	}
	return append(all, verdicts...)
}

// spot returns where a column of the map stands.
func (c *compiler) spot(name string) spot {
	line, cell := c.table.Line(c.table.Columns[name].At)
	return spot{line: line, cell: cell}
}

// part returns the column that a check needs under a name of its own.
func (c *compiler) part(k *mapfile.Check, role string) (name string, ok bool) {
	name, ok = k.With[role]
	if !ok {
		name = role
	}
	_, ok = c.table.Columns[name]
	return name, ok
}

// form is one way to give a check what it needs.
type form []string

// choose returns the columns of the first form that the map has in full.
func (c *compiler) choose(k *mapfile.Check, forms ...form) (which int, names []string, err error) {
	for i, f := range forms {
		names = nil
		for _, role := range f {
			if name, ok := c.part(k, role); ok {
				names = append(names, name)
			}
		}
		if len(names) == len(f) {
			return i, names, nil
		}
	}
	ways := make([]string, len(forms))
	for i, f := range forms {
		ways[i] = strings.Join(f, ", ")
	}
	return 0, nil, fmt.Errorf("%s needs the columns %s; name them so, or write with = { %s = \"…\" }", k.By, strings.Join(ways, "; or "), forms[0][0])
}

func (c *compiler) checker(k *mapfile.Check) (checker, error) {
	switch k.By {
	case "":
		return nil, fmt.Errorf("nothing to check by; write by = one of %s", strings.Join(Kinds(), ", "))
	case "shells":
		return c.shells(k)
	case "packs":
		return c.packs(k)
	}
	unit := c.table.Columns[k.Claim].Unit
	if unit == "" {
		return nil, fmt.Errorf("the column %s has no unit; write it there", k.Claim)
	}
	d, err := dimensionOf(unit)
	if err != nil {
		return nil, fmt.Errorf("the column %s: %w", k.Claim, err)
	}
	return d.arithmetic(c, k)
}

// A dimensional makes the checkers of one dimension.
type dimensional struct {
	has        func(unit string) bool
	arithmetic func(*compiler, *mapfile.Check) (checker, error)
	verdict    func(*compiler, *mapfile.Check) (checker, error)
	readings   func(c *compiler, name string, claimed bool) (checker, error)
}

func of[D units.Dimension]() dimensional {
	return dimensional{has: is[D], arithmetic: arithmeticOf[D], verdict: verdictOf[D], readings: readingsOf[D]}
}

// dimensionOf returns the dimension that a unit belongs to.
func dimensionOf(unit string) (dimensional, error) {
	for _, d := range []dimensional{
		of[units.LengthDim](), of[units.TorqueDim](), of[units.ForceDim](), of[units.PressureDim](),
		of[units.AreaDim](), of[units.AngleDim](), of[units.VolumeDim](),
	} {
		if d.has(unit) {
			return d, nil
		}
	}
	return dimensional{}, fmt.Errorf("%q is no unit that is known; write one such as mm, in, N·m, ft-lb, kN, bar, mm², °", unit)
}

// Kinds returns what a map's check can be by.
func Kinds() []string {
	return []string{
		"bearing clearance", "verdict", "taper", "out-of-round", "end play", "side play", "ring gap", "ring to file",
		"stretch", "conversion", "torque pair", "stress area", "pitch", "pitch diameter", "minor diameter",
		"stack", "stack worst case", "stack root-sum-square", "shells", "packs", mapfile.ByFormula,
	}
}

func is[D units.Dimension](unit string) bool {
	_, err := units.Parse[units.Unit[D]](unit)
	return err == nil
}

// arithmeticOf makes the checker of a quantity.
func arithmeticOf[D units.Dimension](c *compiler, k *mapfile.Check) (checker, error) {
	f, names, err := formulaOf[D](c, k)
	if err != nil {
		return nil, err
	}
	claim, err := columnOf[D](c, k.Claim)
	if err != nil {
		return nil, err
	}
	var inputs []*column[D]
	for _, name := range names {
		in, err := columnOf[D](c, name)
		if err != nil {
			return nil, err
		}
		inputs = append(inputs, in)
	}
	a := newArithmetic(claim, f, inputs...)
	for _, name := range names {
		above, _ := c.made[name].(*arithmetic[D]) // checked before, if it stands before in the map
		a.above = append(a.above, above)
	}
	a.stored = c.stored
	c.made[k.Claim] = a
	return a, nil
}

// columnOf makes the column of a name, with quantities of the dimension.
func columnOf[D units.Dimension](c *compiler, name string) (*column[D], error) {
	m := c.table.Columns[name]
	if m.Unit == "" {
		return nil, fmt.Errorf("the column %s has no unit; write it there", name)
	}
	unit, err := units.Parse[units.Unit[D]](m.Unit)
	if err != nil {
		return nil, fmt.Errorf("the column %s: %w", name, err)
	}
	made := newColumn(name, c.spot(name), unit)
	if m.Places != nil {
		made.places = *m.Places
	}
	if m.Instrument != "" && m.Uncertainty == "" {
		return nil, fmt.Errorf("the column %s has an instrument and no uncertainty; write uncertainty = \"0.002 %s\", or the instrument's own figure", name, m.Unit)
	}
	if m.Uncertainty != "" {
		made.with = &measure.Instrument[D]{Name: m.Instrument}
		if err := made.with.Uncertainty.UnmarshalText([]byte(m.Uncertainty)); err != nil {
			return nil, fmt.Errorf("the uncertainty of %s: %w", name, err)
		}
		if made.with.Check() != nil {
			return nil, fmt.Errorf("the uncertainty of %s is %s; write one above zero, or leave it out if the readings are exact", name, m.Uncertainty)
		}
	}
	if m.Nominal != "" {
		if p, err := sheet.ParsePlace(m.Nominal); err == nil {
			made.nominalAt = &spot{cell: p}
		} else {
			var q units.Quantity[D]
			if err := q.UnmarshalText([]byte(m.Nominal)); err != nil {
				return nil, fmt.Errorf("the nominal size of %s: %w", name, err)
			}
			made.nominal = &q
		}
	}
	return made, nil
}

// formulaOf returns the formula of a check, and the columns that go in.
func formulaOf[D units.Dimension](c *compiler, k *mapfile.Check) (f formula[D], names []string, err error) {
	var made any
	switch k.By {
	case "bearing clearance":
		var which int
		which, names, err = c.choose(k, form{"bore", "upper", "lower", "journal"}, form{"bore", "wall", "journal"}, form{"inner", "journal"})
		made = []formula[units.LengthDim]{runningClearance(), oneWallTwice(), linear[units.LengthDim]("C = Di - d, Di with the shells fitted", "size", 1, -1)}[which]
	case "end play":
		var which int
		which, names, err = c.choose(k, form{"journal", "housing", "front", "rear"}, form{"journal", "flange"}, form{"from", "to"})
		made = []formula[units.LengthDim]{
			linear[units.LengthDim]("E = L - W - t1 - t2", "washer", 1, -1, -1, -1),
			linear[units.LengthDim]("E = L - F", "width", 1, -1),
			travel[units.LengthDim](),
		}[which]
	case "side play":
		_, names, err = c.choose(k, form{"journal", "rod"})
		made = linear[units.LengthDim]("S = L - b", "width", 1, -1)
	case "stretch":
		_, names, err = c.choose(k, form{"now", "new"})
		made = linear[units.LengthDim]("ΔL = L - L0", "length", 1, -1)
	case "ring gap", "ring to file":
		rule, ok := (&sheet.Cell{Text: k.PerBore}).Number()
		if !ok || rule.Sign() <= 0 {
			return f, nil, fmt.Errorf("%s needs per_bore, how much gap for each unit of bore, above zero: write per_bore = \"0.004\"", k.By)
		}
		if k.By == "ring gap" {
			_, names, err = c.choose(k, form{"bore"})
			made = perBore(rule)
		} else {
			_, names, err = c.choose(k, form{"bore", "gap"})
			made = toFile(rule)
		}
	case "pitch", "pitch diameter", "minor diameter":
		_, thread, missing := c.choose(k, form{"thread"})
		if missing != nil {
			return f, nil, missing
		}
		made, _ = threadLength(c.spot(thread[0]), k.By)
	case "stress area":
		_, thread, missing := c.choose(k, form{"thread"})
		if missing != nil {
			return f, nil, missing
		}
		made = stressArea(c.spot(thread[0]))
	case "taper", "out-of-round":
		names = k.Of
		if len(names) < 2 {
			return f, nil, fmt.Errorf("%s needs two readings or more: write of = [\"front\", \"rear\"]", k.By)
		}
		made = spread(len(names))
	case "conversion", "torque pair":
		names = k.Of
		if len(names) != 1 {
			return f, nil, fmt.Errorf("%s needs the one column that is converted: write of = [\"…\"]", k.By)
		}
		from, wrong := columnOf[D](c, names[0])
		to, alsoWrong := columnOf[D](c, k.Claim)
		if wrong != nil || alsoWrong != nil {
			return f, nil, fmt.Errorf("%s and %s are not in units of one kind", names[0], k.Claim)
		}
		made = same(from.unit, to.unit)
	case "stack":
		names = append(slices.Clone(k.Plus), k.Minus...)
		if len(names) < 2 {
			return f, nil, fmt.Errorf("a stack needs two sizes or more: write plus = [\"…\"] and minus = [\"…\"]")
		}
		var share []int64
		for i := range names {
			share = append(share, 1)
			if i >= len(k.Plus) {
				share[i] = -1
			}
		}
		made = linear[D]("sum of the sizes with their signs", "size", share...)
	case "stack worst case", "stack root-sum-square":
		names = k.Of
		if len(names) < 2 {
			return f, nil, fmt.Errorf("%s needs two tolerances or more: write of = [\"…\", \"…\"]", k.By)
		}
		made = worstCase(len(names))
		if k.By == "stack root-sum-square" {
			made = statistical(len(names))
		}
	default:
		return f, nil, fmt.Errorf("%q is not a check; write one of %s", k.By, strings.Join(Kinds(), ", "))
	}
	if err != nil {
		return f, nil, err
	}
	f, ok := made.(formula[D])
	if !ok {
		return f, nil, fmt.Errorf("%s does not give a quantity in %s; look at the unit of %s", k.By, c.table.Columns[k.Claim].Unit, k.Claim)
	}
	return f, names, nil
}

func (c *compiler) readings(name string) (checker, error) {
	claimed := slices.ContainsFunc(c.table.Checks, func(k mapfile.Check) bool { return k.Claim == name })
	d, err := dimensionOf(c.table.Columns[name].Unit)
	if err != nil {
		return nil, err
	}
	return d.readings(c, name, claimed)
}

func readingsOf[D units.Dimension](c *compiler, name string, claimed bool) (checker, error) {
	made, err := columnOf[D](c, name)
	if err != nil {
		return nil, err
	}
	return readings[D]{made, claimed}, nil
}

func (c *compiler) verdict(k *mapfile.Check) (checker, error) {
	if len(k.Of) != 1 {
		return nil, fmt.Errorf("a verdict needs the one column that it judges: write of = [\"clearance\"]")
	}
	d, err := dimensionOf(c.table.Columns[k.Of[0]].Unit)
	if err != nil {
		return nil, fmt.Errorf("the column %s: %w", k.Of[0], err)
	}
	return d.verdict(c, k)
}

func verdictOf[D units.Dimension](c *compiler, k *mapfile.Check) (checker, error) {
	v := &verdict[D]{spot: c.spot(k.Claim), name: k.Claim, words: defaultWords(), stored: c.stored}
	switch a := c.made[k.Of[0]].(type) {
	case *arithmetic[D]:
		v.value = a
	default:
		reading, err := columnOf[D](c, k.Of[0])
		if err != nil {
			return nil, err
		}
		v.reading = reading
	}
	if k.Limits != "" {
		if err := v.fixed.UnmarshalText([]byte(k.Limits)); err != nil {
			return nil, fmt.Errorf("limits: %w", err)
		}
	}
	for _, side := range []struct {
		role string
		to   **column[D]
	}{{"least", &v.least}, {"most", &v.most}} {
		name, ok := c.part(k, side.role)
		if !ok || k.Limits != "" {
			continue
		}
		limit, err := columnOf[D](c, name)
		if err != nil {
			return nil, err
		}
		*side.to = limit
	}
	if k.Limits == "" && v.least == nil && v.most == nil {
		return nil, fmt.Errorf("a verdict needs limits: write limits = \"0.024..0.048 mm\", or name the columns that hold them least and most")
	}
	if len(k.Conforming)+len(k.NotConforming)+len(k.Below)+len(k.Above) > 0 {
		v.words = words{in: k.Conforming, out: k.NotConforming, below: k.Below, above: k.Above}
	}
	return v, nil
}

func (c *compiler) shells(k *mapfile.Check) (checker, error) {
	_, names, err := c.choose(k, form{"housing", "journal"})
	if err != nil {
		return nil, err
	}
	s := &shells{spot: c.spot(k.Claim), name: k.Claim, housing: c.spot(names[0]), journal: c.spot(names[1])}
	for i := range c.schemes {
		if k.Scheme == c.schemes[i].Name || k.Scheme == "" && len(c.schemes) == 1 {
			s.scheme = &c.schemes[i]
			return s, nil
		}
	}
	return nil, fmt.Errorf("no scheme is called %q; write [[scheme]] from the engine's manual, and scheme = its name", k.Scheme)
}

func (c *compiler) packs(k *mapfile.Check) (checker, error) {
	_, names, err := c.choose(k, form{"needed", "size"})
	if err != nil {
		return nil, err
	}
	p := &packs{spot: c.spot(k.Claim), name: k.Claim, needed: c.spot(names[0]), size: c.spot(names[1])}
	if name, ok := c.part(k, "stock"); ok {
		stock := c.spot(name)
		p.stock = &stock
	}
	return p, nil
}
