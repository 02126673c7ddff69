package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// coincidence is how likely it may be that a mistake is named which nobody made: of errors
// spread evenly over reach, as many agree with one of the mistakes that are tried before it
// is named. What would agree more often than that is not named.
const coincidence = 0.016

// reach is how far from what is right an error is likely to be, in millimetres: 30 µm.
const reach = 0.030

// leastSteps is how many steps of its last place a number is read across, at least.
const leastSteps = 25

// A fitting tries mistakes on a typed number, the likeliest first.
type fitting struct {
	k        *checking
	c        *claim
	reach    float64
	step     float64
	spent    float64 // how many evenly spread errors agree with what was tried
	near     []float64
	all      []explanation
	terms    []fitted
	absolute []string // columns of which the first line's reading would give the number
}

// A fitted is a reading in a claim's sum.
type fitted struct {
	pattern.Term
	factor, value float64
	role          string
}

// fits returns the mistakes that give a typed number, if that is no coincidence.
func (k *checking) fits(c *claim) []explanation {
	if c.have.kind != isNumber || c.want.kind != isNumber || c.have.half() == 0 && c.places < 0 && c.have.text == "" {
		return nil
	}
	f := &fitting{k: k, c: c, step: 2 * c.have.half()}
	if _, behind, _ := strings.Cut(c.have.text, "."); f.step == 0 { // where a formula should stand
		f.step = math.Pow10(-len(behind))
	}
	f.reach = 30 * f.step
	u, _ := k.unit(c.unit)
	if u.length {
		factor, _ := u.factor.Float64()
		f.reach = max(5*f.step, reach*0.001/factor)
	}
	f.takeApart()
	for _, s := range c.slips {
		if v := k.try(c, c.moved(s.formula)); v.kind == isNumber {
			f.try(v.number, s.mistake, s.says)
		}
	}
	if c.given != nil && c.given.slips != nil {
		for _, s := range c.given.slips(k.texts(c, 0), nil) {
			f.try(valueOf(&sheet.Cell{Text: s.value}).number, s.mistake, s.says)
		}
	}
	f.parts()
	for _, m := range moves() {
		f.try(c.want.number*m.factor, DecimalPoint, "the decimal point is moved "+m.says)
	}
	for _, o := range u.confused {
		f.try(c.want.number*o.factor, o.mistake, fmt.Sprintf("its unit would be %s, and the cell has %s", o.unit, c.unit))
	}
	f.try(-c.want.number, WrongWay, "the sign is turned")
	if u.length {
		f.try(c.want.number/2, Radius, "half the value: the radial one")
		f.try(c.want.number*2, Radius, "twice the value: the radial one taken for the diametral and doubled")
	}
	f.readings()
	f.nominal()
	f.digits()
	f.beside()
	f.try(math.Trunc(c.want.number/f.step*(1+1e-12))*f.step, CutOff, "the digits past the last place are cut off")
	return f.all
}

// try adds a mistake if the value that it gives is the one found, and not by a likely coincidence.
func (f *fitting) try(v float64, mistake, says string) {
	half := max(f.step/2*(1+1e-6), residue*max(1, math.Abs(v)))
	off := math.Abs(v - f.c.want.number)
	if off <= half {
		return // it would show nothing
	}
	turned := v < 0 && f.c.want.number > 0
	if off <= f.reach+half && !turned {
		if !slices.ContainsFunc(f.near, func(w float64) bool { return math.Abs(v-w) < half }) {
			f.near = append(f.near, v)
			f.spent += f.step / (2 * f.reach)
		}
		if f.spent > coincidence {
			return
		}
	}
	if math.Abs(v-f.c.have.number) > half || !turned && math.Abs(v) <= leastSteps*f.step/2 && digits(f.c.have.text) < 2 {
		return
	}
	if !slices.ContainsFunc(f.all, func(e explanation) bool { return e.mistake == mistake }) {
		f.all = append(f.all, explanation{mistake: mistake, says: "this number would also fit: " + says, evidence: Fits})
	}
}

// takeApart reads the terms of the claim's sum.
func (f *fitting) takeApart() {
	k, c := f.k, f.c
	l, ok := pattern.LinearOf(pattern.Resolve(k.book, c.sheet, c.at, c.right()))
	if !ok {
		return
	}
	d := &differing{k: k, claim: c}
	for _, t := range l.Terms {
		key := k.key(c, t.Area)
		v := k.evaluated(k.corrected, k.names[key.sheet], key.at, true)
		if v.kind != isNumber {
			continue
		}
		factor, _ := t.Factor.Float64()
		role, _ := d.column(t.Area)
		f.terms = append(f.terms, fitted{Term: t, factor: factor, value: v.number, role: role})
	}
}

// isWall reports whether a reading is a shell's wall.
func (t *fitted) isWall() bool { return t.role == wallRole || t.role == "upper" || t.role == "lower" }

// parts: a part of the sum is left out, or has the wrong sign.
func (f *fitting) parts() {
	want := f.c.want.number
	walls := 0.0
	for _, t := range f.terms {
		part := t.factor * t.value
		switch {
		case t.role == wallRole:
			f.try(want-part/2, OneWall, fmt.Sprintf("%s is taken off once", t.Area))
		case t.isWall():
			f.try(want-part, OneWall, fmt.Sprintf("%s is left out", t.Area))
		}
		if t.isWall() {
			walls += part
		}
	}
	if walls != 0 {
		f.try(want-2*walls, Added, "the walls are added where they are to be subtracted")
		f.try(want-walls, LeftOut, "the walls are left out")
	}
	for _, t := range f.terms {
		part := t.factor * t.value
		if t.factor < 0 && len(f.terms) > 1 {
			f.try(want-2*part, Added, fmt.Sprintf("%s is added where it is to be subtracted", t.Area))
		}
		if len(f.terms) > 2 {
			f.try(want-part, LeftOut, fmt.Sprintf("%s is left out", t.Area))
		}
	}
}

// instead tries another number for a reading.
func (f *fitting) instead(t *fitted, v float64, mistake, says string) {
	f.try(f.c.want.number+t.factor*(v-t.value), mistake, says)
}

// readings: one is in another unit, halved, doubled, or has its decimal point moved.
func (f *fitting) readings() {
	for i := range f.terms {
		t := &f.terms[i]
		u, ok := f.k.unit(f.unit(t))
		if !ok || len(f.terms) < 2 {
			continue
		}
		for _, o := range u.confused {
			f.instead(t, t.value/o.factor, o.mistake, fmt.Sprintf("%s is taken to have the unit %s", t.Area, o.unit))
		}
		for _, m := range moves()[:2] {
			f.instead(t, t.value*m.factor, DecimalPoint, fmt.Sprintf("the decimal point of %s is moved %s", t.Area, m.says))
		}
		if u.length {
			f.instead(t, t.value/2, Radius, fmt.Sprintf("%s is halved", t.Area))
			f.instead(t, t.value*2, Radius, fmt.Sprintf("%s is doubled", t.Area))
		}
	}
}

func (f *fitting) unit(t *fitted) string {
	_, unit := (&differing{k: f.k, claim: f.c}).column(t.Area)
	return unit
}

// nominal: the nominal size is taken in place of a reading.
func (f *fitting) nominal() {
	for i := range f.terms {
		t := &f.terms[i]
		if f.c.of == nil {
			return
		}
		for _, name := range f.c.of.Names() {
			if f.c.cellOf(name) != t.Area.From.Place {
				continue
			}
			if v, _, ok := f.k.nominalOf(f.c.of, f.c.sheet, name); ok {
				f.instead(t, v, Nominal, fmt.Sprintf("%s is taken at its nominal size", t.Area))
			}
		}
	}
}

// A move is a decimal point that is moved.
type move struct {
	factor float64
	says   string
}

// moves are the ways to move a decimal point, the likeliest first.
func moves() []move {
	return []move{
		{10, "one place to the right"}, {0.1, "one place to the left"},
		{100, "two places to the right"}, {0.01, "two places to the left"},
		{1000, "three places to the right"}, {0.001, "three places to the left"},
	}
}

// digits: two digits next to one another have changed places.
func (f *fitting) digits() {
	text := []byte(f.c.have.text)
	for i := 1; i < len(text); i++ {
		before := i - 1
		if text[before] == '.' {
			before--
		}
		if before < 0 || !digit(text[i]) || !digit(text[before]) || text[i] == text[before] {
			continue
		}
		typed := slices.Clone(text)
		typed[i], typed[before] = typed[before], typed[i]
		v := valueOf(&sheet.Cell{Text: string(typed)})
		// Exchanged back, the number must be what is right: as far off as it is itself.
		f.try(f.c.want.number+f.c.have.number-v.number, Digits, "two digits next to one another are exchanged")
	}
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// beside: a reading is taken from the column or the line beside.
func (f *fitting) beside() {
	c := f.c
	if c.of == nil {
		return
	}
	take := func(t *fitted, at sheet.Place, mistake string) {
		v := f.k.evaluated(f.k.corrected, f.k.names[c.sheet], at, true)
		if v.kind == isNumber {
			f.instead(t, v.number, mistake, fmt.Sprintf("%s is taken in place of %s", at, t.Area))
		}
	}
	across := func(at sheet.Place, lines, items int) sheet.Place {
		if c.of.Down() {
			return sheet.Place{Row: at.Row + lines, Column: at.Column + items}
		}
		return sheet.Place{Row: at.Row + items, Column: at.Column + lines}
	}
	for i := range f.terms {
		for _, by := range []int{-1, 1} {
			at := across(f.terms[i].Area.From.Place, 0, by)
			for _, other := range f.terms {
				switch {
				case other.Area.From.Place != at:
				case other.isWall() && f.terms[i].isWall():
					take(&f.terms[i], at, OneWall)
				default:
					take(&f.terms[i], at, Neighbour)
				}
			}
		}
	}
	for _, by := range []int{1, -1} {
		for i := len(f.terms) - 1; i >= 0; i-- {
			t := &f.terms[i]
			if t.Area.Sheet == "" && !t.Area.From.RowFixed && !t.Area.From.ColumnFixed {
				take(t, across(t.Area.From.Place, by, 0), Neighbour)
			}
		}
	}
	first := c.of.First()
	for i := range f.terms {
		t := &f.terms[i]
		at := t.Area.From.Place
		if c.of.Down() {
			at.Row = first
		} else {
			at.Column = first
		}
		if t.Area.Sheet != "" || t.Area.From.RowFixed || at == t.Area.From.Place {
			continue
		}
		v := f.k.evaluated(f.k.corrected, f.k.names[c.sheet], at, true)
		w := c.want.number + t.factor*(v.number-t.value)
		if v.kind == isNumber && math.Abs(w-c.have.number) <= f.step/2*(1+1e-6) {
			f.absolute = append(f.absolute, fmt.Sprintf("$%s$%d", sheet.ColumnName(at.Column), at.Row))
		}
	}
	if len(f.absolute) > 0 {
		c.more().absolute = f.absolute
	}
}

// leastRun is how many lines one after another have to agree with a reference that was not
// moved, for it to be no coincidence.
const leastRun = 3

// runs puts numbers down to a reference that stays at the first line, where line after line agrees.
func (k *checking) runs(all []*claim) {
	for i := 0; i < len(all); {
		for _, at := range append(all[i].absolute, "") {
			n := i
			for n < len(all) && at != "" && all[n].rule == all[i].rule && all[n].line()-all[i].line() == n-i && slices.Contains(all[n].absolute, at) {
				n++
			}
			if n-i < leastRun {
				if at == "" {
					i++
				}
				continue
			}
			for _, c := range all[i:n] {
				c.more().fitted = slices.Insert(c.fitted, 0, explanation{mistake: Absolute, evidence: Fits, says: fmt.Sprintf("this number would also fit: %s is taken in every line", at)})
			}
			i = n
			break
		}
	}
}

// line is the number of the claim's line.
func (c *claim) line() int { return int(c.lines) }

// typedVerdict says which mistake would give a verdict that was typed. One about the limits is not named: a limit
// left out, limits swapped or in another unit. A word is a yes or a no, and each wrong one fits about half
// of them. Nor do many wrong words tell more, for only the right ones could speak against such a
// mistake, and rows that are right are not kept. A value on its limit, or one that rounding takes across it, is
// rare enough to tell.
func (k *checking) typedVerdict(c *claim) []explanation {
	v, j := c.judgement, c.judge
	if !c.judged || c.unsettled != "" || v.swapped {
		return nil
	}
	var all []explanation
	says := func(value, lo, hi float64) bool {
		verdict := measure.Conforming
		switch {
		case value < lo:
			verdict = measure.BelowLimit
		case value > hi:
			verdict = measure.AboveLimit
		}
		right, known := j.words.say(c.have.text, verdict)
		return right && known
	}
	add := func(fits bool, mistake, what string) {
		if fits {
			all = append(all, explanation{mistake: mistake, evidence: Fits, says: "this word would also fit: " + what})
		}
	}
	lo, hi, value := math.Inf(-1), math.Inf(1), number(v.value)
	if v.limits.HasLo() {
		lo = number(v.limits.Lo())
	}
	if v.limits.HasHi() {
		hi = number(v.limits.Hi())
	}
	within := lo <= value && value <= hi
	last := math.Nextafter
	add(within && (value == lo && says(last(value, lo-1), lo, hi) || value == hi && says(last(value, hi+1), lo, hi)), Residue,
		"the value is on the limit, which belongs to the tolerance, and a last bit of binary arithmetic decides")
	places := 4
	if i := slices.IndexFunc(c.of.Names(), func(n string) bool { return n == j.value }); i >= 0 {
		if p := c.of.Columns[j.value].Places; p != nil {
			places = *p
		}
	}
	for p := places; p >= max(places-1, 0) && len(all) == 0; p-- {
		scale := math.Pow10(p)
		rounded := math.Round(value*scale) / scale
		add(says(rounded, lo, hi), RoundedFirst, fmt.Sprintf("the value is rounded to %g before it is compared", rounded))
	}
	if len(all) == 0 && !slices.Contains(k.result.Notes, oneWord) {
		k.result.Notes = append(k.result.Notes, oneWord)
	}
	return all
}

// oneWord says why a typed verdict that is wrong gets no cause.
const oneWord = "verdicts were typed that are wrong; which mistake about their limits gave them cannot be told from chance, so none is named"

func number(q units.Ratio) float64 {
	f, _ := q.Rat(units.One).Float64()
	return f
}

// allVerdicts are what a word can say.
var allVerdicts = [...]measure.Verdict{measure.Conforming, measure.BelowLimit, measure.AboveLimit}
