package check

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A rule says what a kind of claim should be: a formula, as it should read in the first line
// of its table. What a map calls by name, such as a bearing clearance, is made a formula here.
type rule struct {
	of                  *mapfile.Table // nil if the claim stands alone
	path                string         // in the map
	index               int            // of the sheet
	cell                *mapfile.Cell  // of a claim that stands alone; the base is read from it, each time
	table, column, role string
	unit                string
	base                calc.Expr
	byName              bool   // the map calls it by name and gives no formula
	text, source        string // of the working: in the trade's symbols
	places              int    // the sheet's own rounding; below zero for as written
	slips               []slip
	judge               *judge // of a verdict called by name
	given               *given // of what is looked up here and not computed

	usual *consensus // what the column's own formulas read

	said   [lists]int // claims of which something is to be said, by list
	unsaid int        // of those, that are not listed

	form      *calc.Form // the right formula as evaluators read it
	qualified *calc.Form // likewise, with the sheet before every cell
	common    *calc.Form // the formula that a cell had which was looked at first, and whether it is the right one
	isRight   bool
	alike     map[*calc.Form]bool // others
}

// hasFormula reports whether there is a formula that says what is right.
func (r *rule) hasFormula() bool { return r.base != nil || r.cell != nil }

// firstFormula returns it as it should read in the first line; nil if there is none. Where a claim stands alone it is read
// anew each time: a map may have very many of these.
func (r *rule) firstFormula() calc.Expr {
	if r.cell == nil {
		return r.base
	}
	e, _ := calc.Parse(r.cell.Formula) // read without an error when the rule was made
	return e
}

// A slip is another formula that people write by mistake.
type slip struct {
	mistake, says string
	formula       calc.Expr // as it would read in the first line
}

// A given is what is looked up for a line by the texts of some columns.
type given struct {
	from []string
	find func(texts []string) (value string, isText bool, err error)
	same func(claimed, right string) bool // of texts that mean one thing; may be nil
	// slips returns what would be found by mistake. There are the texts of the lines beside.
	slips func(texts []string, beside [][]string) []found
}

// found is a value that a mistake gives.
type found struct{ value, mistake, says string }

// Kinds returns what a map's check can be by.
func Kinds() []string {
	return []string{
		"bearing clearance", "verdict", "taper", "out-of-round", "end play", "side play", "ring gap", "ring to file",
		"stretch", "conversion", "torque pair", "stress area", "pitch", "pitch diameter", "minor diameter",
		"stack", "stack worst case", "stack root-sum-square", "shells", "packs", mapfile.ByFormula,
	}
}

// A ruler makes the rules of one table.
type ruler struct {
	table   *mapfile.Table
	sheet   int
	schemes []grading.Scheme
	path    string
	places  *tomlfile.Places
	errs    *tomlfile.Errors
	units   map[string]unit
	roles   map[string]string // of columns, by what checks take them for
	rules   []*rule
}

func (r *ruler) fail(path string, err error) {
	if r.places == nil {
		*r.errs = append(*r.errs, &tomlfile.Error{What: err.Error(), Err: err})
		return
	}
	*r.errs = append(*r.errs, r.places.Wrap(path, err))
}

// make makes the rules of the table's checks, a value's before the verdict's on it.
func (r *ruler) make() {
	r.units, r.roles = map[string]unit{}, map[string]string{}
	named := !r.table.AllByFormulas()
	for _, name := range r.table.Names() {
		c := r.table.Columns[name]
		if c.Role != "" {
			r.roles[name] = c.Role
		}
		u, err := unitOf(c.Unit)
		switch {
		case err == nil:
			r.units[name] = u
		case named && c.Unit != "":
			r.fail(r.path+".column."+name, fmt.Errorf("the column %s: %w", name, err))
		}
		if err := r.instrument(name, c); err != nil {
			r.fail(r.path+".column."+name, err)
		}
	}
	for _, verdicts := range []bool{false, true} {
		for i := range r.table.Checks {
			k := &r.table.Checks[i]
			if (k.By == "verdict") != verdicts {
				continue
			}
			c := r.table.Columns[k.Claim]
			made := &rule{of: r.table, index: r.sheet, table: r.table.Name, column: k.Claim, role: c.Role, unit: c.Unit, places: -1, byName: k.By != mapfile.ByFormula}
			made.path = fmt.Sprintf("%s.check[%d]", r.path, i)
			if c.Places != nil {
				made.places = *c.Places
			}
			if u, ok := r.units[k.Claim]; ok {
				made.unit = u.symbol
			}
			if err := r.fill(made, k); err != nil {
				r.fail(made.path, err)
				continue
			}
			if made.role == "" {
				made.role = k.Claim
			}
			r.rules = append(r.rules, made)
		}
	}
}

// instrument checks what a column says of how it was read.
func (r *ruler) instrument(name string, c mapfile.Column) error {
	switch {
	case c.Uncertainty == "" && c.Instrument != "":
		return fmt.Errorf("the column %s has an instrument and no uncertainty; write uncertainty = \"0.002 mm\"", name)
	case c.Uncertainty == "":
	case r.units[name].number == nil:
		return fmt.Errorf("the column %s has an uncertainty and no unit that is known; write its unit", name)
	default:
		u, err := r.units[name].number(c.Uncertainty)
		if err != nil {
			return fmt.Errorf("the uncertainty of %s: %w", name, err)
		}
		if u.Sign() <= 0 {
			return fmt.Errorf("the uncertainty of %s is %s; write one above zero, or leave it out if the readings are exact", name, c.Uncertainty)
		}
	}
	if _, err := sheet.ParsePlace(c.Nominal); c.Nominal != "" && err != nil {
		if r.units[name].number == nil {
			return fmt.Errorf("the column %s has a nominal size and no unit that is known; write its unit", name)
		}
		if _, err := r.units[name].number(c.Nominal); err != nil {
			return fmt.Errorf("the nominal size of %s: %w", name, err)
		}
	}
	return nil
}

// at writes a column's cell in the first line, as a formula names it.
func (r *ruler) at(name string) string {
	line, cell := r.table.Line(r.table.Columns[name].At)
	switch {
	case line == 0:
		return "$" + sheet.ColumnName(cell.Column) + "$" + strconv.Itoa(cell.Row)
	case r.table.Down():
		return sheet.ColumnName(line) + strconv.Itoa(r.table.First())
	}
	return sheet.ColumnName(r.table.First()) + strconv.Itoa(line)
}

// choose returns the columns of the first list of roles that the table has in full.
func (r *ruler) choose(k *mapfile.Check, lists ...[]string) (which int, names []string, err error) {
	ways := make([]string, len(lists))
	for i, roles := range lists {
		names = nil
		for _, role := range roles {
			if name, ok := r.part(k, role); ok {
				names = append(names, name)
			}
		}
		if len(names) == len(roles) {
			for j, name := range names {
				if r.roles[name] == "" {
					r.roles[name] = roles[j]
				}
			}
			return i, names, nil
		}
		ways[i] = strings.Join(roles, ", ")
	}
	return 0, nil, fmt.Errorf("%s needs the columns %s; name them so, or write with = { %s = \"…\" }", k.By, strings.Join(ways, "; or "), lists[0][0])
}

// part returns the column that a check needs under a name of its own.
func (r *ruler) part(k *mapfile.Check, role string) (name string, ok bool) {
	if name, ok = k.With[role]; !ok {
		name = role
	}
	_, ok = r.table.Columns[name]
	return name, ok
}

// into returns how many of the claim's unit a column's unit is.
func (r *ruler) into(k *mapfile.Check, name string) (*big.Rat, error) {
	from, ok := r.units[name]
	to, okTo := r.units[k.Claim]
	if !ok || !okTo || from.dimension != to.dimension {
		return nil, fmt.Errorf("%s and %s are not in units of one kind", name, k.Claim)
	}
	return new(big.Rat).Quo(from.factor, to.factor), nil
}

// sum writes a sum of readings, each with its sign, in the claim's unit. The columns are those
// of the terms; a column that is named twice counts twice.
func (r *ruler) sum(k *mapfile.Check, s measure.Sum[units.LengthDim], names []string) (string, error) {
	share := map[string]*big.Rat{}
	var order []string
	for i, t := range s.Terms {
		name := names[i]
		if share[name] == nil {
			share[name] = new(big.Rat)
			order = append(order, name)
		}
		share[name].Add(share[name], t.Factor.Rat(units.One))
	}
	var common *big.Rat
	same := true
	for _, name := range order {
		into, err := r.into(k, name)
		if err != nil {
			return "", err
		}
		if common == nil {
			common = into
		}
		same = same && common.Cmp(into) == 0
	}
	var b strings.Builder
	for i, name := range order {
		factor := new(big.Rat).Abs(share[name])
		if !same {
			into, _ := r.into(k, name)
			factor.Mul(factor, into)
		}
		term := times(r.at(name), factor)
		if same && factor.IsInt() && factor.Cmp(big.NewRat(1, 1)) != 0 {
			term = factor.Num().String() + "*" + r.at(name)
		}
		switch {
		case share[name].Sign() < 0:
			b.WriteString("-")
		case i > 0:
			b.WriteString("+")
		}
		b.WriteString(term)
	}
	if same {
		return times(b.String(), common), nil
	}
	return b.String(), nil
}

// each writes the columns' cells, all in the claim's unit, with commas between.
func (r *ruler) each(k *mapfile.Check, names []string) (string, error) {
	var parts []string
	for _, name := range names {
		into, err := r.into(k, name)
		if err != nil {
			return "", err
		}
		parts = append(parts, times(r.at(name), into))
	}
	return strings.Join(parts, ","), nil
}

// fill gives a rule its formula.
func (r *ruler) fill(m *rule, k *mapfile.Check) (err error) {
	var none measure.LengthReading
	var formula string
	var others [][3]string
	length := func(symbols string, s measure.Sum[units.LengthDim], names ...string) error {
		if u := r.units[k.Claim]; u.number != nil && !u.length {
			return fmt.Errorf("%s does not give a quantity in %s; look at the unit of %s", k.By, r.table.Columns[k.Claim].Unit, k.Claim)
		}
		m.text, m.source = symbols, "sizes taken as exact"
		formula, err = r.sum(k, s, names)
		return err
	}
	if _, ok := r.units[k.Claim]; !ok && m.byName && k.By != "verdict" && k.By != "shells" && k.By != "packs" && slices.Contains(Kinds(), k.By) {
		return fmt.Errorf("the column %s has no unit; write it there", k.Claim)
	}
	switch k.By {
	case mapfile.ByFormula:
		formula = k.Formula
	case "verdict":
		return r.verdict(m, k)
	case "bearing clearance":
		which, names, missing := r.choose(k, []string{"bore", "upper", "lower", "journal"}, []string{"bore", "wall", "journal"}, []string{"inner", "journal"})
		if missing != nil {
			return missing
		}
		full := (&clearance.MeasuredBearing{}).Fit().Sum
		switch which {
		case 0:
			err = length("C = D - t1 - t2 - d", full, names...)
			others = [][3]string{{Radius, "the bore's radius is taken with the journal's radius, but both walls",
				fmt.Sprintf("(%s-%s)/2-%s-%s", r.at(names[0]), r.at(names[3]), r.at(names[1]), r.at(names[2]))}}
			if into, err := r.into(k, names[0]); err == nil {
				others[0][2] = times(others[0][2], into)
			}
		case 1:
			err = length("C = D - 2·t - d", full, names[0], names[1], names[1], names[2])
		case 2:
			err = length("C = Di - d, Di with the shells fitted", clearance.BoreFit("", none, none).Sum, names...)
		}
	case "end play":
		which, names, missing := r.choose(k, []string{"journal", "housing", "front", "rear"}, []string{"journal", "flange"}, []string{"from", "to"})
		if missing != nil {
			return missing
		}
		switch which {
		case 0:
			err = length("E = L - W - t1 - t2", clearance.PlayFit("", none, none, none, none).Sum, names...)
		case 1:
			err = length("E = L - F", clearance.PlayFit("", none, none).Sum, names...)
		case 2:
			err = r.travel(m, k, names[0], names[1])
			return err
		}
	case "side play":
		_, names, missing := r.choose(k, []string{"journal", "rod"})
		if missing != nil {
			return missing
		}
		err = length("S = L - b", clearance.PlayFit("", none, none).Sum, names...)
	case "stretch":
		_, names, missing := r.choose(k, []string{"now", "new"})
		if missing != nil {
			return missing
		}
		err = length("ΔL = L - L0", clearance.PlayFit("", none, none).Sum, names...)
	case "stack":
		if len(k.Plus)+len(k.Minus) < 2 {
			return fmt.Errorf("a stack needs two sizes or more: write plus = [\"…\"] and minus = [\"…\"]")
		}
		var s measure.Sum[units.LengthDim]
		for range k.Plus {
			s.Terms = append(s.Terms, measure.Plus("", "", none))
		}
		for range k.Minus {
			s.Terms = append(s.Terms, measure.Minus("", "", none))
		}
		m.text, m.source = "sum of the sizes with their signs", "sizes taken as exact"
		formula, err = r.sum(k, s, append(slices.Clone(k.Plus), k.Minus...))
	case "ring gap", "ring to file":
		return r.ring(m, k)
	case "taper", "out-of-round", "stack worst case", "stack root-sum-square":
		return r.several(m, k)
	case "conversion", "torque pair":
		if len(k.Of) != 1 {
			return fmt.Errorf("%s needs the one column that is converted: write of = [\"…\"]", k.By)
		}
		into, wrong := r.into(k, k.Of[0])
		if wrong != nil {
			return wrong
		}
		m.text, m.source = "b = a", r.units[k.Of[0]].source
		formula = times(r.at(k.Of[0]), into)
		others = [][3]string{{WrongWay, "it is multiplied where it is to be divided, or the other way round", times(r.at(k.Of[0]), new(big.Rat).Inv(into))}}
	case "stress area", "pitch", "pitch diameter", "minor diameter":
		return r.thread(m, k)
	case "shells":
		return r.shells(m, k)
	case "packs":
		return r.packs(m, k)
	case "":
		return fmt.Errorf("nothing to check by; write by = one of %s", strings.Join(Kinds(), ", "))
	default:
		return fmt.Errorf("%q is not a check; write one of %s", k.By, strings.Join(Kinds(), ", "))
	}
	if err != nil {
		return err
	}
	return m.read(formula, others...)
}

// read gives a rule its formula, and those that people write by mistake: each with the
// mistake, what it says, and the formula.
func (m *rule) read(formula string, others ...[3]string) (err error) {
	if m.base, err = calc.Parse(formula); err != nil {
		return err
	}
	for _, o := range others {
		e, err := calc.Parse(o[2])
		if err != nil {
			return err
		}
		m.slips = append(m.slips, slip{o[0], o[1], e})
	}
	return nil
}

// travel is the distance from one indication of a dial to another.
func (r *ruler) travel(m *rule, k *mapfile.Check, from, to string) error {
	cells, err := r.each(k, []string{from, to})
	if err != nil {
		return err
	}
	a, b, _ := strings.Cut(cells, ",")
	m.text, m.source = "T = |b - a|", "sizes taken as exact"
	return m.read("ABS("+b+"-"+a+")", [3]string{Added, "the indications are added", b + "+" + a},
		[3]string{WrongWay, "the first is taken from the second with its sign", b + "-" + a},
		[3]string{WrongWay, "the second is taken from the first with its sign", a + "-" + b})
}

// several is what is made of several columns alike.
func (r *ruler) several(m *rule, k *mapfile.Check) error {
	what := map[bool]string{true: "readings", false: "tolerances"}[k.By == "taper" || k.By == "out-of-round"]
	if len(k.Of) < 2 {
		return fmt.Errorf("%s needs two %s or more: write of = [\"…\", \"…\"]", k.By, what)
	}
	forms := map[string]string{"taper": "MAX(%[1]s)-MIN(%[1]s)", "out-of-round": "MAX(%[1]s)-MIN(%[1]s)", "stack worst case": "SUM(%s)", "stack root-sum-square": "SQRT(SUMSQ(%s))"}
	write := func(form string, names []string) (calc.Expr, error) {
		cells, err := r.each(k, names)
		if err != nil {
			return nil, err
		}
		return calc.Parse(fmt.Sprintf(form, cells))
	}
	var err error
	if m.base, err = write(forms[k.By], k.Of); err != nil {
		return err
	}
	type other struct {
		mistake, says, form string
		names               []string
	}
	first, last := r.at(k.Of[0]), r.at(k.Of[len(k.Of)-1])
	var others []other
	switch k.By {
	case "stack worst case":
		m.text, m.source = "T = t1 + t2 + …", "worst case: every part at its limit at once"
		others = []other{{OtherRule, "the tolerances are combined by root-sum-square", forms["stack root-sum-square"], k.Of}}
	case "stack root-sum-square":
		m.text, m.source = "T = √(t1² + t2² + …)", "root-sum-square, for independent and centred parts"
		others = []other{{OtherRule, "the tolerances are added, by worst case", forms["stack worst case"], k.Of}}
	default:
		m.text, m.source = "largest - smallest", "of the readings given; the true form may be worse between them"
		others = []other{
			{WrongWay, "the last reading is taken from the first with its sign", first + "-" + last + "+0*MAX(%s)", k.Of},
			{WrongWay, "the first reading is taken from the last with its sign", last + "-" + first + "+0*MAX(%s)", k.Of},
		}
	}
	for i := range k.Of {
		if len(k.Of) > 2 {
			others = append(others, other{LeftOut, "one of the " + what + " is left out", forms[k.By], slices.Delete(slices.Clone(k.Of), i, i+1)})
		}
	}
	for _, o := range others {
		e, err := write(o.form, o.names)
		if err != nil {
			return err
		}
		m.slips = append(m.slips, slip{o.mistake, o.says, e})
	}
	return nil
}

// ring is a ring's least gap, a share of its bore, or how far to open one.
func (r *ruler) ring(m *rule, k *mapfile.Check) error {
	share, ok := (&sheet.Cell{Text: k.PerBore}).Number()
	if !ok || share.Sign() <= 0 {
		return fmt.Errorf("%s needs per_bore, how much gap for each unit of bore, above zero: write per_bore = \"0.004\"", k.By)
	}
	roles := []string{"bore"}
	if k.By == "ring to file" {
		roles = append(roles, "gap")
	}
	_, names, err := r.choose(k, roles)
	if err != nil {
		return err
	}
	cells, err := r.each(k, names)
	if err != nil {
		return err
	}
	bore, gap, _ := strings.Cut(cells, ",")
	least := bore + "*" + share.String()
	m.text, m.source = "g = r·D", "the rule in the map, from the engine's or the rings' manual"
	formula, others := least, [][3]string{{OtherRule, "the rule is applied to the circumference", least + "*PI()"}}
	if gap != "" {
		m.text = "f = r·D - g, not below 0"
		formula = "MAX(0," + least + "-" + gap + ")"
		others = [][3]string{{WrongWay, "the gap it needs is taken from the gap it has", gap + "-" + least}, {LeftOut, "the gap it has is left out", least}}
	}
	return m.read(formula, others...)
}

// packs is how many packs a sheet orders of a part that comes in packs.
func (r *ruler) packs(m *rule, k *mapfile.Check) error {
	_, names, err := r.choose(k, []string{"needed", "size"})
	if err != nil {
		return err
	}
	needed, size := r.at(names[0]), r.at(names[1])
	lacking := needed
	m.text = "needed / pieces in a pack, upward"
	others := [][3]string{}
	if stock, ok := r.part(k, "stock"); ok {
		lacking, m.text = "MAX(0,"+needed+"-"+r.at(stock)+")", "(needed - stock) / pieces in a pack, upward"
		others = append(others, [3]string{LeftOut, "the stock is left out", "ROUNDUP(" + needed + "/" + size + ",0)"},
			[3]string{Added, "the stock is added", "ROUNDUP((" + needed + "+" + r.at(stock) + ")/" + size + ",0)"})
	}
	others = append(others, [3]string{CutOff, "a part of a pack is left off: it has to be bought", "ROUNDDOWN(" + lacking + "/" + size + ",0)"},
		[3]string{OtherUnit, "pieces are ordered where packs are meant", lacking})
	m.unit = "packs"
	return m.read("ROUNDUP("+lacking+"/"+size+",0)", others...)
}
