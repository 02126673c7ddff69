package check

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// words are the texts by which a sheet says what a part is.
type words struct {
	in, out, below, above []string
}

// defaultWords are what sheets write where the map does not say.
func defaultWords() words {
	return words{
		in:    []string{"ok", "pass", "yes", "good", "in", "conforming", "true", "1"},
		out:   []string{"not ok", "nok", "fail", "no", "bad", "out", "reject", "false", "0"},
		below: []string{"low", "tight", "below", "below limit", "too tight", "under"},
		above: []string{"high", "loose", "above", "above limit", "too loose", "over"},
	}
}

// say reports whether a text says what one would of a verdict; known is false if the text is
// none of the words.
func (w words) say(text string, v measure.Verdict) (right, known bool) {
	for _, of := range []struct {
		texts []string
		right bool
	}{{w.in, v == measure.Conforming}, {w.out, v.Outside()}, {w.below, v == measure.BelowLimit}, {w.above, v == measure.AboveLimit}} {
		if slices.ContainsFunc(of.texts, func(t string) bool { return strings.EqualFold(t, strings.TrimSpace(text)) }) {
			return of.right, true
		}
	}
	return false, false
}

// A judge is what a verdict judges, by what, and in which words.
type judge struct {
	value  string // the column
	unit   unit
	limits [2]limit // the lower and the upper one
	words  words
	doubt  *big.Rat // expanded uncertainty of the value, in its unit
}

// A limit is a number, or a cell in a unit of its own.
type limit struct {
	fixed *big.Rat
	cell  *calc.Area // as it reads in the first line
	into  *big.Rat   // how many of the value's unit the cell's unit is
}

func (l limit) none() bool { return l.fixed == nil && l.cell == nil }

func (l limit) formula() string {
	if l.cell != nil {
		return times(l.cell.String(), l.into)
	}
	if text, ok := numeral(l.fixed); ok {
		return text
	}
	return l.fixed.Num().String() + "/" + l.fixed.Denom().String()
}

// verdict gives a verdict its formula.
func (r *ruler) verdict(m *rule, k *mapfile.Check) error {
	if len(k.Of) != 1 {
		return fmt.Errorf("a verdict needs the one column that it judges: write of = [\"clearance\"]")
	}
	j := &judge{value: k.Of[0], words: defaultWords()}
	var ok bool
	if j.unit, ok = r.units[j.value]; !ok {
		_, err := unitOf(r.table.Columns[j.value].Unit)
		return fmt.Errorf("the column %s: %w", j.value, err)
	}
	one := big.NewRat(1, 1)
	if lo, hi, cells := cellLimits(k.Limits); cells {
		j.limits = [2]limit{{cell: lo, into: one}, {cell: hi, into: one}}
	} else if k.Limits != "" {
		lo, hi, err := j.unit.limits(k.Limits)
		if err != nil {
			return fmt.Errorf("limits: %w; or write two cells, as in limits = \"Limits!B2..B3\"", err)
		}
		j.limits = [2]limit{{fixed: lo}, {fixed: hi}}
	} else {
		for i, role := range []string{"least", "most"} {
			name, ok := r.part(k, role)
			if !ok {
				continue
			}
			u, ok := r.units[name]
			if !ok || u.dimension != j.unit.dimension {
				return fmt.Errorf("the limit %s is not in a unit of the kind of %s", name, j.unit.symbol)
			}
			e, err := calc.Parse(r.at(name))
			if err != nil {
				return err
			}
			r.roles[name] = "limit " + role
			j.limits[i] = limit{cell: e.(*calc.Area), into: new(big.Rat).Quo(u.factor, j.unit.factor)}
		}
	}
	if j.limits[0].none() && j.limits[1].none() {
		return fmt.Errorf("a verdict needs limits: write limits = \"0.024..0.048 mm\" or limits = \"B2..B3\", or name the columns that hold them least and most")
	}
	if len(k.Conforming)+len(k.NotConforming)+len(k.Below)+len(k.Above) > 0 {
		j.words = words{in: k.Conforming, out: k.NotConforming, below: k.Below, above: k.Above}
	}
	j.doubt = r.doubt(j.value)
	m.judge = j
	m.text, m.source = "least ≤ value ≤ most", "a limit belongs to the tolerance: ISO 14253-1:2017"
	word := func(of []string, other string) string {
		for _, w := range append(of, j.words.out...) {
			return `"` + strings.ReplaceAll(w, `"`, `""`) + `"`
		}
		return `"` + other + `"`
	}
	formula := word(j.words.in, "OK")
	if !j.limits[1].none() {
		formula = fmt.Sprintf("IF(%s>%s,%s,%s)", r.at(j.value), j.limits[1].formula(), word(j.words.above, "high"), formula)
	}
	if !j.limits[0].none() {
		formula = fmt.Sprintf("IF(%s<%s,%s,%s)", r.at(j.value), j.limits[0].formula(), word(j.words.below, "low"), formula)
	}
	return m.read(formula)
}

// cellLimits reads limits that are two cells: "B2..B3", "Limits!B2..B3".
func cellLimits(text string) (lo, hi *calc.Area, ok bool) {
	from, to, isRange := strings.Cut(text, "..")
	if !isRange {
		return nil, nil, false
	}
	var both [2]*calc.Area
	for i, t := range []string{from, to} {
		e, err := calc.Parse(strings.TrimSpace(t))
		a, isCell := e.(*calc.Area)
		if err != nil || !isCell || !a.Single() {
			return nil, nil, false
		}
		fixed := *a
		fixed.From.RowFixed, fixed.From.ColumnFixed = true, true
		fixed.To = fixed.From
		if i == 1 && fixed.Sheet == "" {
			fixed.Sheet = both[0].Sheet
		}
		both[i] = &fixed
	}
	return both[0], both[1], true
}

// doubt returns the expanded uncertainty of a column's values, which is the same in every
// line: that of its readings, or of the sum that its rule is. Columns whose instrument is not
// named may have been read with any other one, and count at their worst.
func (r *ruler) doubt(name string) *big.Rat {
	none := new(big.Rat)
	i := slices.IndexFunc(r.rules, func(m *rule) bool { return m.column == name })
	if i < 0 {
		return r.sumOfDoubts(name, []string{name}, []*big.Rat{big.NewRat(1, 1)})
	}
	m := r.rules[i]
	if m.base == nil {
		return none
	}
	k := &r.table.Checks[slices.IndexFunc(r.table.Checks, func(c mapfile.Check) bool { return c.Claim == name })]
	if k.By == "taper" || k.By == "out-of-round" {
		return r.doubtOfExtremes(name, k.Of)
	}
	sum, ok := pattern.LinearOf(m.base)
	if !ok || k.By == "ring gap" || k.By == "ring to file" {
		return none
	}
	var names []string
	var factors []*big.Rat
	for _, t := range sum.Terms {
		for _, other := range r.table.Names() {
			if strings.ReplaceAll(r.at(other), "$", "") == t.Area.From.Place.String() {
				own := new(big.Rat).Quo(r.units[name].factor, r.units[other].factor) // in the reading's own unit
				names, factors = append(names, other), append(factors, own.Mul(own, t.Factor))
			}
		}
	}
	return r.sumOfDoubts(name, names, factors)
}

// reading returns a reading of nothing with a column's instrument, as a number of a unit; ok
// is false if the column's readings are exact.
func (r *ruler) reading(name, in string) (reading measure.Reading[units.RatioDim], ok bool) {
	c := r.table.Columns[name]
	if c.Uncertainty == "" || r.units[name].number == nil || r.units[in].factor == nil {
		return reading, false
	}
	u, err := r.units[name].number(c.Uncertainty)
	if err != nil || u.Sign() <= 0 {
		return reading, false
	}
	u.Mul(u, new(big.Rat).Quo(r.units[name].factor, r.units[in].factor))
	by := measure.Instrument[units.RatioDim]{Name: c.Instrument, Uncertainty: units.One.OfRat(u)}
	reading, err = by.Indicate(name, units.Ratio{})
	return reading, err == nil
}

func (r *ruler) sumOfDoubts(in string, names []string, factors []*big.Rat) *big.Rat {
	var sum measure.Sum[units.RatioDim]
	for i, name := range names {
		if reading, ok := r.reading(name, in); ok {
			sum.Terms = append(sum.Terms, measure.Term[units.RatioDim]{Name: name, Factor: units.One.OfRat(factors[i]), Reading: reading})
		}
	}
	if len(sum.Terms) == 0 {
		return new(big.Rat)
	}
	reading := sum.Reading()
	return reading.Expanded().Rat(units.One)
}

// doubtOfExtremes is that of the largest reading less the smallest: of a difference, or of
// more stations, of which any two may be the ones.
func (r *ruler) doubtOfExtremes(in string, names []string) *big.Rat {
	if len(names) == 2 {
		return r.sumOfDoubts(in, names, []*big.Rat{big.NewRat(1, 1), big.NewRat(-1, 1)})
	}
	plane := make([]measure.Reading[units.RatioDim], len(names))
	for i, name := range names {
		reading, ok := r.reading(name, in)
		if !ok {
			reading = measure.Given(units.Exactly(units.Ratio{}), "exact")
		}
		plane[i] = reading
	}
	s, err := measure.NewStations([][]measure.Reading[units.RatioDim]{plane}, measure.OutOfRound)
	if err != nil {
		return new(big.Rat)
	}
	out := s.Find(measure.OutOfRound)
	if !out.Taken() || !out.Bracket().HasHi() {
		return new(big.Rat)
	}
	return out.Interval().Hi().Sub(out.Bracket().Hi()).Rat(units.One)
}

// A judgement is a verdict as it should be, and what it stands on.
type judgement struct {
	verdict   measure.Verdict
	undecided bool
	value     units.Ratio // as a number of the judge's unit
	limits    units.Interval[units.RatioDim]
	swapped   bool // the lower limit is above the upper one
}

// judge judges a claim's value in the book as it should be; ok is false if the value or a
// limit is no number.
func (k *checking) judge(c *claim) (v judgement, ok bool) {
	j := c.judge
	if v.value, ok = k.exactly(c.sheet, c.cellOf(j.value), big.NewRat(1, 1)); !ok {
		return v, false
	}
	var bounds [2]units.Ratio
	for i, l := range j.limits {
		switch {
		case l.fixed != nil:
			bounds[i] = units.One.OfRat(l.fixed)
		case l.cell != nil:
			rows, columns := c.off()
			e, _ := pattern.Move(l.cell, rows, columns)
			key := k.key(c, e.(*calc.Area))
			if bounds[i], ok = k.exactly(key.sheet, key.at, l.into); !ok {
				return v, false
			}
		}
	}
	switch {
	case j.limits[0].none():
		v.limits = units.AtMost(bounds[1])
	case j.limits[1].none():
		v.limits = units.AtLeast(bounds[0])
	default:
		var err error
		if v.limits, err = units.NewInterval(bounds[0], bounds[1]); err != nil {
			v.swapped = true
			return v, true
		}
	}
	v.verdict = measure.Judge(units.Exactly(v.value), v.limits)
	doubt := units.One.OfRat(j.doubt)
	v.undecided = doubt.Sign() > 0 && measure.Judge(units.PlusMinus(v.value, doubt), v.limits) == measure.Undecided
	return v, true
}

// exactly returns the number of a cell in the book as it should be, in another unit.
func (k *checking) exactly(index int, at sheet.Place, into *big.Rat) (q units.Ratio, ok bool) {
	p, err := k.corrected.At(k.ctx, k.names[index], at)
	if err != nil {
		return q, false
	}
	r, ok := p.Exact.Rat()
	if !ok {
		if r, ok = p.Binary.Rat(); !ok {
			return q, false
		}
	}
	return units.One.OfRat(r.Mul(r, into)), true
}

// right says what a verdict should be, with the value and the limits.
func (v judgement) right(j *judge) string {
	return fmt.Sprintf("%s: %s %s against %s %s", v.verdict, v.value.Written(units.One), j.unit.symbol, v.limits.Written(units.One), j.unit.symbol)
}

// uncertain says that a verdict is not proven, and which reading would settle it.
func (v judgement) uncertain(j *judge) (right, says string) {
	doubt := units.One.OfRat(j.doubt)
	right = fmt.Sprintf("undecided: %s %s ± %s %s against %s %s", v.value.Written(units.One), j.unit.symbol, doubt.Written(units.One), j.unit.symbol, v.limits.Written(units.One), j.unit.symbol)
	says = "with its uncertainty the value reaches past a limit"
	by := measure.Instrument[units.RatioDim]{Uncertainty: doubt}
	if r, err := by.Indicate(j.value, v.value); err == nil {
		if u, ok := measure.Assess(r, v.limits).Settling(measure.NineInTen); ok {
			says += fmt.Sprintf("; another reading, good to ±%s %s, would settle it nine times in ten", downward(u.Rat(units.One)), j.unit.symbol)
		}
	}
	return right, says
}

// downward writes an uncertainty with two digits, no larger than it is.
func downward(u *big.Rat) string {
	for places := range 12 {
		scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
		scaled := new(big.Rat).Mul(u, new(big.Rat).SetInt(scale))
		whole := new(big.Int).Quo(scaled.Num(), scaled.Denom())
		if whole.Cmp(big.NewInt(10)) >= 0 {
			return new(big.Rat).SetFrac(whole, scale).FloatString(places)
		}
	}
	return u.FloatString(12)
}
