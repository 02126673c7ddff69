package understand

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A measured is what a part of a formula is by the units that the sheet says. Its zero value is
// one of which nothing is known, and stays so through whatever is done with it: a unit that
// nobody said is never at fault.
type measured struct {
	known    bool
	length   int  // dimension: powers of length
	force    int  // and of force; a torque is both
	angle    bool // an angle, of which no products are followed
	scales   []float64
	constant bool // a number that is typed into the formula or a fixed cell
	value    float64
	digits   int // of the number as it is typed
	beside   bool
	because  []string // what the sheet says: "B5 is in mm (heading "Bore (mm)")"
}

// sameUnit is how far two scales may be apart, of their size, and be of one unit: more than a
// conversion factor is written short, and less than any two units of a dimension are apart.
const sameUnit = 0.01

// usual are the units between which factors are known: what formulas convert between.
var usual = map[string][]string{
	"length":   {"m", "cm", "mm", "µm", "in", "thou", "ft"},
	"torque":   {"N·m", "lbf·ft", "lbf·in", "kgf·m"},
	"force":    {"N", "kN", "lbf", "kgf"},
	"pressure": {"Pa", "kPa", "MPa", "bar", "psi"},
	"area":     {"mm²", "cm²", "m²", "in²"},
	"volume":   {"mm³", "cm³", "m³", "in³"},
	"angle":    {"°", "turn", "rad"},
}

// powers are dimensions as powers of length and force.
var powers = map[string][2]int{"length": {1, 0}, "torque": {1, 1}, "force": {0, 1}, "pressure": {-2, 1}, "area": {2, 0}, "volume": {3, 0}, "angle": {0, 0}}

func (m *measured) dimension() string {
	for name, p := range powers {
		if p == [2]int{m.length, m.force} && m.angle == (name == "angle") {
			return name
		}
	}
	return ""
}

// units writes the units that a measured may be in.
func (m *measured) units() string {
	var names []string
	for _, s := range m.scales {
		name := "a unit that has no name here"
		for _, u := range usual[m.dimension()] {
			if parsed, ok := parseUnit(u); ok {
				f, _ := parsed.factor.Float64()
				if f == 1 {
					name = fmt.Sprintf("units of %.4g %s", s, u)
				}
				if alike(f, s) {
					name = u
					break
				}
			}
		}
		names = append(names, name)
	}
	return strings.Join(names, " or ")
}

func alike(a, b float64) bool { return math.Abs(a-b) <= sameUnit*math.Abs(b) }

// of returns the measured of a number in a unit.
func (u unit) measured(because string) measured {
	p, ok := powers[u.dimension]
	if !ok {
		return measured{}
	}
	f, _ := u.factor.Float64()
	return measured{known: true, length: p[0], force: p[1], angle: u.dimension == "angle", scales: []float64{f}, because: []string{because}}
}

// dimensions reports formulas along which units are mixed: sums and comparisons of numbers in
// different units, and results in another unit than the heading says.
func (r *reader) dimensions() {
	type place struct {
		table *table
		sheet int
		item  int
		rel   string
	}
	intended := map[*column]bool{} // whether the formula that is meant is at fault
	said := map[place]*check.Finding{}
	for f := range r.formulas.every() {
		p := place{table: f.table, sheet: f.sheet, item: f.at.Column, rel: f.rel}
		if f.table != nil {
			line, item := f.table.split(f.at)
			p.item = item
			if c := f.table.column(item); c != nil && c.intent != nil {
				fault, known := intended[c]
				if !known {
					fault = r.mixed(f.table.sheet, f.table.place(f.table.lines[0], item), c.intent) != ""
					intended[c] = fault
				}
				if !fault || r.right(c, line) == nil {
					continue
				}
			}
		}
		one, known := said[p]
		if !known {
			if why := r.mixed(f.sheet, f.at, f.expr()); why != "" {
				one = newFault(r.book.Grids[f.sheet].Name, f.at, check.MixedUnits, why)
				r.u.faults = append(r.u.faults, one)
			}
			said[p] = one
		} else if one != nil {
			addCell(one, r.book.Grids[f.sheet].Name, f.at)
		}
	}
}

// mixed says how a formula mixes units; empty if nothing that the sheet says shows that it does.
func (r *reader) mixed(index int, at sheet.Place, e calc.Expr) string {
	d := &dimensioner{r: r, index: index}
	m := d.of(e, 0)
	if d.fault != "" {
		return fmt.Sprintf("=%s %s", e, d.fault)
	}
	own, ok := r.unitSaid(spot{index, at})
	if !ok || !m.known || own.beside || m.length == 0 && m.force == 0 && !m.angle {
		return ""
	}
	if _, ok := together(m, own); ok {
		return ""
	}
	return fmt.Sprintf("=%s gives %s, and %s: %s", e, m.units(), own.because[0], strings.Join(m.because, ", "))
}

// A dimensioner follows the units along a formula.
type dimensioner struct {
	r     *reader
	index int
	fault string
}

// deepestUnits bounds how deep in a formula units are followed.
const deepestUnits = 100

// together returns what two measured are that are added, or compared; ok is false if they
// cannot be.
func together(x, y measured) (both measured, ok bool) {
	if x.length != y.length || x.force != y.force || x.angle != y.angle {
		return measured{}, false
	}
	both = x
	both.scales = nil
	for _, s := range x.scales {
		if slices.ContainsFunc(y.scales, func(t float64) bool { return alike(s, t) }) {
			both.scales = append(both.scales, s)
		}
	}
	both.because = merge(x.because, y.because)
	return both, len(both.scales) > 0
}

func merge(a, b []string) []string {
	all := slices.Clone(a)
	for _, s := range b {
		if !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

// join adds or compares.
func (d *dimensioner) join(x, y calc.Expr, a, b measured, how string) measured {
	switch {
	case a.constant && b.constant:
		return measured{constant: true, digits: 9}
	case a.constant:
		return b
	case b.constant:
		return a
	case !a.known || !b.known:
		return measured{}
	}
	both, ok := together(a, b)
	if !ok {
		if d.fault == "" {
			d.fault = fmt.Sprintf("%s %s, in %s, and %s, in %s: %s", how, x, a.units(), y, b.units(), strings.Join(merge(a.because, b.because), ", "))
		}
		return measured{}
	}
	both.beside = a.beside && b.beside
	return both
}

// all joins the arguments of a function.
func (d *dimensioner) all(args []calc.Expr, depth int) (m measured) {
	var first calc.Expr
	for _, a := range args {
		if _, missing := a.(*calc.Missing); missing {
			continue
		}
		one := d.of(a, depth)
		if first == nil {
			m, first = one, a
			continue
		}
		if m.constant {
			first = a
		}
		m = d.join(first, a, m, one, "puts together")
	}
	return m
}

// by multiplies with a typed number, which may only count or may convert.
func (m measured) by(value float64, digits int) measured {
	v := math.Abs(value)
	if !m.known || v == 0 {
		return measured{}
	}
	counts := func(v float64) bool { return v >= 1 && v <= 12 && v == math.Trunc(v) || v == 0.5 }
	pure := counts(v) || math.Abs(1/v-math.Round(1/v)) < 1e-9 && counts(math.Round(1/v))
	converts := false
	names := usual[m.dimension()]
	for _, from := range names {
		for _, to := range names {
			if k, ok := ratio(from, to); ok && from != to {
				f, _ := k.Float64()
				converts = converts || math.Abs(v-f) <= 1e-3*f
			}
		}
	}
	short := digits < 3 && v != 1000 // a tenth of something, or its thousandth part as a rule of the trade has it
	if v < 1 && (v == 0.001 || v == 0.01 || v == 0.1) {
		short = true
	}
	other := m
	other.scales = nil
	if pure || converts && short {
		other.scales = slices.Clone(m.scales)
	}
	if converts {
		for _, s := range m.scales {
			other.scales = append(other.scales, s/v)
		}
	}
	if len(other.scales) == 0 {
		return measured{}
	}
	return other
}

// product multiplies, or divides if sign is -1.
func product(x, y measured, sign int) measured {
	if x.beside && !x.constant || y.beside && !y.constant {
		return measured{} // a cell alone may be a factor whose heading says what for
	}
	switch {
	case x.constant && y.constant:
		return measured{constant: true, digits: max(x.digits, y.digits), value: x.value * math.Pow(y.value, float64(sign))}
	case y.constant && y.value != 0:
		if sign > 0 {
			return x.by(y.value, y.digits)
		}
		if y.value == 1000 { // also a thousandth part
			return x.by(0.001, 1)
		}
		return x.by(1/y.value, y.digits)
	case x.constant && sign > 0:
		return y.by(x.value, x.digits)
	case !x.known || !y.known || x.angle || y.angle:
		return measured{}
	}
	m := measured{known: true, length: x.length + sign*y.length, force: x.force + sign*y.force, because: merge(x.because, y.because)}
	if m.length == 0 && m.force == 0 {
		return measured{}
	}
	for _, a := range x.scales {
		for _, b := range y.scales {
			m.scales = append(m.scales, a*math.Pow(b, float64(sign)))
		}
	}
	return m
}

// raised takes a power of a measured.
func (m measured) raised(n float64) measured {
	length, force := float64(m.length)*n, float64(m.force)*n
	if !m.known || m.angle || m.beside || length != math.Trunc(length) || force != math.Trunc(force) || length == 0 && force == 0 || math.Abs(n) > 6 {
		return measured{}
	}
	other := measured{known: true, length: int(length), force: int(force), because: m.because}
	for _, s := range m.scales {
		other.scales = append(other.scales, math.Pow(s, n))
	}
	return other
}

// of returns the measured of a part of a formula.
func (d *dimensioner) of(e calc.Expr, depth int) measured {
	if depth > deepestUnits || d.fault != "" {
		return measured{}
	}
	depth++
	switch e := e.(type) {
	case *calc.Number:
		v, err := strconv.ParseFloat(e.Text, 64)
		if err != nil {
			return measured{}
		}
		return measured{constant: true, value: v, digits: significant(e.Text)}
	case *calc.Area:
		return d.area(e)
	case *calc.Unary:
		m := d.of(e.X, depth)
		if e.Op == calc.Percent {
			return measured{}
		}
		if e.Op == calc.Minus {
			m.value = -m.value
		}
		return m
	case *calc.Binary:
		x, y := d.of(e.X, depth), d.of(e.Y, depth)
		switch {
		case e.Op.Comparison():
			d.join(e.X, e.Y, x, y, "compares")
			return measured{}
		case e.Op == calc.Add, e.Op == calc.Subtract:
			return d.join(e.X, e.Y, x, y, "puts together")
		case e.Op == calc.Multiply:
			return product(x, y, 1)
		case e.Op == calc.Divide:
			return product(x, y, -1)
		case e.Op == calc.Power && y.constant:
			return x.raised(y.value)
		}
	case *calc.Call:
		return d.call(e, depth)
	}
	return measured{}
}

// call returns the measured of a function's result.
func (d *dimensioner) call(e *calc.Call, depth int) measured {
	args := e.Args
	if len(args) == 0 {
		return measured{}
	}
	switch e.Name {
	case "ABS", "ROUND", "ROUNDUP", "ROUNDDOWN", "TRUNC", "INT", "MROUND", "CEILING", "FLOOR", "SMALL", "LARGE", "IFERROR", "IFNA":
		return d.of(args[0], depth)
	case "SUM", "MIN", "MAX", "AVERAGE", "MEDIAN", "STDEV", "STDEV.S", "STDEVP", "STDEV.P", "RANGE":
		return d.all(args, depth)
	case "MINIFS", "MAXIFS", "SUMIFS", "AVERAGEIFS":
		return d.of(args[0], depth)
	case "SUMIF", "AVERAGEIF":
		return d.of(args[len(args)-1-map[bool]int{true: 1, false: 0}[len(args) == 2]], depth)
	case "SQRT":
		return d.of(args[0], depth).raised(0.5)
	case "SUMSQ":
		return d.all(args, depth).raised(2)
	case "IF":
		return d.branches(args, depth)
	case "VLOOKUP", "HLOOKUP", "XLOOKUP", "LOOKUP", "INDEX":
		return d.found(e)
	case "CONVERT":
		return d.converted(args, depth)
	}
	for _, a := range args { // for what is compared in it
		d.of(a, depth)
	}
	return measured{}
}

// branches returns what both results of an IF are. Where the condition asks for a word, such
// as the unit that was chosen, each may be in a unit of its own.
func (d *dimensioner) branches(args []calc.Expr, depth int) measured {
	d.of(args[0], depth)
	asks := asksWord(args[0])
	var all []measured
	for _, a := range args[1:] {
		switch a.(type) {
		case *calc.Text, *calc.Missing:
			continue
		}
		all = append(all, d.of(a, depth))
	}
	switch {
	case len(all) == 1 && !asks:
		return all[0]
	case len(all) == 1, len(all) == 2 && !all[0].constant && !all[1].constant && (!all[0].known || !all[1].known):
		if len(all) == 1 && len(args) == 3 { // IF(B5="","",…)
			return all[0]
		}
		return measured{}
	case len(all) == 2 && asks:
		return measured{}
	case len(all) == 2:
		return d.join(args[1], args[2], all[0], all[1], "gives either")
	}
	return measured{}
}

// asksWord reports whether a condition asks for a word.
func asksWord(condition calc.Expr) (asks bool) {
	calc.Walk(condition, func(e calc.Expr) bool {
		text, ok := e.(*calc.Text)
		asks = asks || ok && text.Value != ""
		return true
	})
	return asks
}

// found returns the unit of what a look-up finds: that of its column or row.
func (d *dimensioner) found(e *calc.Call) measured {
	for _, a := range e.Args {
		if inner, ok := a.(*calc.Call); ok {
			d.of(inner, 1)
		}
	}
	n := map[string]int{"VLOOKUP": 1, "HLOOKUP": 1, "XLOOKUP": 2, "LOOKUP": len(e.Args) - 1, "INDEX": 0}[e.Name]
	if n >= len(e.Args) {
		return measured{}
	}
	a, ok := e.Args[n].(*calc.Area)
	if !ok {
		return measured{}
	}
	one := *a
	if e.Name == "VLOOKUP" || e.Name == "HLOOKUP" {
		if len(e.Args) < 3 {
			return measured{}
		}
		at, ok := e.Args[2].(*calc.Number)
		if !ok {
			return measured{}
		}
		k, err := strconv.Atoi(at.Text)
		if err != nil || k < 1 {
			return measured{}
		}
		if e.Name == "VLOOKUP" {
			one.From.Column += k - 1
			one.To.Column = one.From.Column
		} else {
			one.From.Row += k - 1
			one.To.Row = one.From.Row
		}
	} else if e.Name == "LOOKUP" && n == 1 || one.From.Row != one.To.Row && one.From.Column != one.To.Column {
		return measured{}
	}
	return d.area(&one)
}

// officeUnits are the names that CONVERT has for units.
var officeUnits = map[string]string{"um": "µm", "J": "N·m", "flb": "lbf·ft", "p": "Pa"}

func (d *dimensioner) converted(args []calc.Expr, depth int) measured {
	m := d.of(args[0], depth)
	if len(args) != 3 {
		return measured{}
	}
	var ends [2]measured
	for i, a := range args[1:] {
		t, ok := a.(*calc.Text)
		if !ok {
			return measured{}
		}
		name := t.Value
		if other, known := officeUnits[name]; known {
			name = other
		}
		u, ok := parseUnit(name)
		if !ok {
			return measured{}
		}
		ends[i] = u.measured(fmt.Sprintf("CONVERT takes it for %q", t.Value))
	}
	if m.known && ends[0].known {
		if _, ok := together(m, ends[0]); !ok && d.fault == "" {
			d.fault = fmt.Sprintf("converts %s from %s, and it is in %s: %s", args[0], args[1], m.units(), strings.Join(m.because, ", "))
		}
	}
	ends[1].because = m.because
	return ends[1]
}

// mostSides is how many columns or rows of a range are looked at for their units.
const mostSides = 24

// area returns the unit of a reference. A range whose columns or rows are in different units is
// at fault with whatever gathers it.
func (d *dimensioner) area(a *calc.Area) measured {
	index := d.index
	if a.File != "" || a.Last != "" {
		return measured{}
	}
	if a.Sheet != "" {
		var ok bool
		if index, ok = d.r.book.Index(a.Sheet); !ok {
			return measured{}
		}
	}
	if a.Single() {
		s := spot{index, a.From.Place}
		m, ok := d.r.unitSaid(s)
		if ok && !m.beside {
			return m
		}
		if c := d.r.cell(s); c.Formula == "" && a.From.RowFixed && a.From.ColumnFixed {
			if v, isNumber := d.r.number(s); isNumber && !ok {
				text, _ := c.Numeral()
				return measured{constant: true, value: v, digits: significant(text)}
			}
		}
		return m
	}
	last, right := d.r.book.Extent(index)
	var m measured
	var from calc.Expr
	known := func(p sheet.Place) bool { // so far
		s := spot{index, p}
		if c := d.r.cell(s); c.Blank() && c.Formula == "" || d.r.isText(s) {
			return true
		}
		said, ok := d.r.unitSaid(s)
		if !ok {
			m = measured{}
			return false
		}
		one := &calc.Area{Sheet: a.Sheet, From: calc.Corner{Place: p}, To: calc.Corner{Place: p}}
		if from == nil {
			m, from = said, one
			return true
		}
		m = d.join(from, one, m, said, "gathers")
		return m.known
	}
	for column := a.From.Column; column <= min(a.To.Column, right, a.From.Column+mostSides); column++ {
		if !known(sheet.Place{Row: a.From.Row, Column: column}) {
			return m
		}
	}
	for row := a.From.Row + 1; row <= min(a.To.Row, last, a.From.Row+mostSides); row++ {
		if !known(sheet.Place{Row: row, Column: a.From.Column}) {
			return m
		}
	}
	return m
}

// significant counts the digits of a number but for zeros at its beginning and its end.
func significant(text string) int {
	text = strings.ReplaceAll(text, ".", "")
	return len(strings.Trim(text, "0"))
}

// perUnit are headings that say what a number is for each of something.
var perUnit = regexp.MustCompile(`(?i)(^|[^\pL])(per|pro|je|par|por|each|to|in[ ]1)([^\pL]|$)`)

// unitSaid returns the unit that the sheet says a cell is in, with where it does.
func (r *reader) unitSaid(s spot) (m measured, ok bool) {
	key := sheet.KeyOf(s.sheet, s.at)
	if said := r.saidUnits.At(key); said != nil {
		return *said, said.known
	}
	m = r.sayUnit(s)
	switch {
	case !m.known:
		r.saidUnits.Set(key, &unsaid)
	case r.saidKept < mostSaid:
		r.saidUnits.Set(key, &m)
		r.saidKept++
	}
	return m, m.known
}

// mostSaid bounds the units of cells that are kept.
const mostSaid = 100_000

// unsaid is the unit of each cell of which the sheet says none. It is never written to.
var unsaid measured

func (r *reader) sayUnit(s spot) measured {
	for _, t := range r.on[s.sheet] {
		line, item := t.split(s.at)
		if !t.holds(line) {
			continue
		}
		c := t.column(item)
		if c == nil {
			continue
		}
		u, ok := parseUnit(c.headed)
		if !ok {
			return measured{}
		}
		where := "the unit over it"
		switch {
		case !t.down:
			where = "the unit beside it"
		}
		for _, text := range []string{c.heading, c.group} {
			if _, own, ok := splitUnit(text); ok {
				if !plainlySaid(text) {
					return measured{}
				}
				if own.name == u.name {
					where = fmt.Sprintf("heading %q", text)
					break
				}
			}
		}
		if f, ok := parseUnit(r.book.Grids[s.sheet].Format(r.cell(s)).Unit); ok {
			if f.name != u.name {
				return measured{} // the sheet says two things
			}
			if where[0] == 't' {
				where = "its number format"
			}
		}
		return u.measured(fmt.Sprintf("%s is in %s (%s)", s.at, u.name, where))
	}
	if u, ok := parseUnit(r.book.Grids[s.sheet].Format(r.cell(s)).Unit); ok {
		return u.measured(fmt.Sprintf("%s is in %s (its number format)", s.at, u.name))
	}
	name := r.unitBeside(s)
	u, ok := parseUnit(name)
	if !ok || !plainlySaid(r.beside(s)) || utf8.RuneCountInString(u.name) == 1 && u.name != "°" {
		return measured{} // a letter is rather a grade than a unit
	}
	m := u.measured(fmt.Sprintf("%s is in %s (the words beside it)", s.at, u.name))
	m.beside = true
	return m
}

// plainlySaid reports whether a heading names the unit of its numbers, and not a rate, a place
// at so many of them, or a letter that only looks like a unit.
func plainlySaid(heading string) bool {
	rest, u, ok := splitUnit(heading)
	if !ok {
		return true
	}
	if perUnit.MatchString(rest) {
		return false
	}
	if i := strings.LastIndexByte(heading, '/'); i > 0 && strings.Contains(heading[i:], strings.TrimSpace(u.name)) {
		words := strings.Fields(heading[:i])
		if len(words) > 0 {
			if _, isUnit := parseUnit(words[len(words)-1]); isUnit {
				return false
			}
		}
	}
	last, _ := utf8.DecodeLastRuneInString(rest)
	if unicode.IsDigit(last) && !strings.ContainsAny(heading, "[(") {
		return false
	}
	return utf8.RuneCountInString(u.name) > 1 || u.name == "°" || strings.ContainsAny(heading, "[(/_")
}
