package understand

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/chance"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// judges reports whether a column holds nothing but one or two words, one of them a good one.
func (r *reader) judges(c *column) bool {
	words := map[string]bool{}
	for _, l := range c.table.lines {
		if s := (spot{c.table.sheet, c.table.place(l, c.item)}); r.isText(s) {
			words[strings.TrimSpace(r.cell(s).Text)] = true
		} else if !r.cell(s).Blank() {
			return false
		}
	}
	known := false
	for w := range words {
		known = known || good(w)
	}
	return known && len(words) <= 2
}

// provenTable says which columns are claims: those that the others give.
func (r *reader) provenTable(t *table) {
	by := map[string][]*column{}
	for _, c := range t.columns {
		by[c.role] = append(by[c.role], c)
	}
	if len(by[roleBore]) == 0 {
		return
	}
	bore := by[roleBore][0]
	if bore.unit == "" {
		bore.unit = r.guessed(bore)
	}
	for _, c := range t.columns {
		if c.unit == "" && sized(c.role) {
			c.unit = bore.unit
		}
	}
	line := t.lines[0]
	name := func(c *column) string { return t.place(line, c.item).String() }
	r.provenClearances(t, by, bore)
	r.provenGaps(t, by, bore)
	if torques := by["torque"]; len(torques) > 1 {
		for _, c := range torques[1:] {
			if r.propose(c, name(torques[0]), torques[0].unit, "the torque in another unit"); c.intent != nil {
				c.role = roleConverted
			}
		}
	}
	if len(by[roleStretch]) > 0 && len(by["length new"]) > 0 && len(by["length now"]) > 0 {
		r.propose(by[roleStretch][0], name(by["length now"][0])+"-"+name(by["length new"][0]), by["length new"][0].unit, "the length now less the length before")
	}
	if readings := r.along(t); len(by[roleTaper]) > 0 && len(readings) > 1 {
		var cells []string
		for _, c := range readings {
			cells = append(cells, name(c))
		}
		all := strings.Join(cells, ",")
		r.propose(by[roleTaper][0], "MAX("+all+")-MIN("+all+")", readings[0].unit, "the greatest reading along the journal less the least")
	}
}

// provenClearances takes clearances for what a bore, walls and what runs in it give, and the
// verdicts on them.
func (r *reader) provenClearances(t *table, by map[string][]*column, bore *column) {
	clearances := by[roleClearance]
	inner := append(by[roleJournal], by[rolePiston]...)
	if len(clearances) == 0 || len(inner) == 0 {
		return
	}
	name := func(c *column) string { return t.place(t.lines[0], c.item).String() }
	first := clearances[0]
	if r.propose(first, bearingSum(t, by, bore, inner[0]), bore.unit, "bore less what lies in it"); first.intent == nil {
		for _, c := range append(clearances, by[roleVerdict]...) {
			r.notProven(c, "the numbers of most lines are not bore less walls and journal")
		}
		return
	}
	for _, c := range clearances[1:] {
		if r.propose(c, name(first), first.unit, "the clearance in another unit"); c.intent != nil {
			c.role = roleConverted
		}
	}
	for _, c := range by[roleVerdict] {
		if r.proposeVerdict(c, clearances, by, 1); c.intent == nil {
			r.notProven(c, cmp.Or(c.why, "no limits were found with which its words agree"))
		}
	}
}

// bearingSum writes what is left of a bore when its walls and what runs in it are taken off.
func bearingSum(t *table, by map[string][]*column, bore, inner *column) string {
	name := func(c *column) string { return t.place(t.lines[0], c.item).String() }
	parts := name(bore)
	switch {
	case len(by[roleUpper]) > 0 && len(by[roleLower]) > 0:
		parts += "-" + name(by[roleUpper][0]) + "-" + name(by[roleLower][0])
	case len(by[roleWall]) > 1:
		parts += "-" + name(by[roleWall][0]) + "-" + name(by[roleWall][1])
	case len(by[roleWall]) > 0:
		parts += "-2*" + name(by[roleWall][0])
	}
	return parts + "-" + name(inner)
}

// typedClearance takes a clearance that is typed in a table with formulas for what the sizes beside it give, where
// none of its formulas computes one: if its numbers show that, and no gauge can have given them all. In a
// table of one line its size is enough.
func (r *reader) typedClearance(t *table) {
	by := map[string][]*column{}
	var typed *column
	for _, c := range t.columns {
		by[c.role] = append(by[c.role], c)
		switch {
		case c.intent != nil && (c.role == roleClearance || c.role == "difference"):
			return
		case c.intent == nil && c.run == nil && c.role == roleClearance && r.typical(c) != 0 && typed == nil:
			typed = c
		}
	}
	if typed == nil {
		return
	}
	if inner := append(by[roleJournal], by[rolePiston]...); len(by[roleBore]) == 1 && len(inner) == 1 {
		r.proposeTyped(typed, bearingSum(t, by, by[roleBore][0], inner[0]), by[roleBore][0].unit)
		return
	}
	var sizes []*column // two alone, whatever they are called
	for _, c := range t.columns {
		if c.run == nil && c != typed && c.role != roleLow && c.role != roleHigh && c.role != roleLocation && r.typical(c) > 20*r.typical(typed) {
			sizes = append(sizes, c)
		}
	}
	if len(sizes) == 2 && sizes[0].unit == sizes[1].unit {
		if r.typical(sizes[0]) < r.typical(sizes[1]) {
			sizes[0], sizes[1] = sizes[1], sizes[0]
		}
		name := func(c *column) string { return t.place(t.lines[0], c.item).String() }
		r.proposeTyped(typed, name(sizes[0])+"-"+name(sizes[1]), sizes[0].unit)
	}
}

// proposeTyped takes a formula for what a typed column should hold, if that is no chance.
func (r *reader) proposeTyped(c *column, text, from string) {
	if e, agree, of := r.agreement(c, text, from); e == nil || len(c.table.lines) > 1 && !r.noChance(c, agree, of, 1) {
		return
	}
	r.propose(c, text, from, "the sizes beside it")
}

var decimals = regexp.MustCompile(`0[.,]\d+`)

// provenGaps takes least gaps for so much of the bore as their heading says, and the verdicts
// on the gaps, in order.
func (r *reader) provenGaps(t *table, by map[string][]*column, bore *column) {
	if len(by[roleLeastGap]) == 0 {
		return
	}
	name := func(c *column) string { return t.place(t.lines[0], c.item).String() }
	least := by[roleLeastGap][0]
	if factor := strings.ReplaceAll(decimals.FindString(least.heading), ",", "."); factor != "" {
		r.propose(least, factor+"*"+name(bore), bore.unit, "so much of the bore as its heading says")
	}
	if least.intent == nil {
		return
	}
	for i, c := range by[roleVerdict] {
		if len(by[roleGap]) == len(by[roleVerdict]) {
			r.proposeLeast(c, by[roleGap][i], least)
		}
		if c.intent == nil {
			r.notProven(c, "its words do not agree with the gap and the least gap")
		}
	}
}

// proposeLeast takes words for verdicts on whether a column reaches another, if most lines
// agree.
func (r *reader) proposeLeast(c, judged, least *column) {
	t := c.table
	words := map[bool]map[string]int{true: {}, false: {}}
	for _, l := range t.lines {
		word := strings.TrimSpace(r.cell(spot{t.sheet, t.place(l, c.item)}).Text)
		v, ok := r.number(spot{t.sheet, t.place(l, judged.item)})
		e, _ := r.moved(t, least.intent, t.lines[0], l)
		x, okX := r.evaluate(t.sheet, e)
		if word != "" && ok && okX {
			words[v >= x-halfPlace(r.cell(spot{t.sheet, t.place(l, least.item)}))][word]++
		}
	}
	in := commonest(words[true], "")
	below := opposite(in, commonest(words[false], in), commonest(words[true], in))
	if below == "" || 2*(words[true][in]+words[false][below]) <= len(t.lines) {
		return
	}
	line := t.lines[0]
	text := fmt.Sprintf("IF(%s<%s,%q,%q)", t.place(line, judged.item), t.place(line, least.item), below, in)
	if e, err := calc.Parse(text); err == nil {
		c.intent, c.shape = e, e
		c.reason = fmt.Sprintf("its words agree with whether %s reaches %s in most lines", judged.at(), least.at())
	}
}

// opposite returns the first of some words that there is; where a column says nothing but
// a good word, what is not so.
func opposite(in string, words ...string) string {
	for _, w := range words {
		if w != "" {
			return w
		}
	}
	if good(in) {
		return "not " + in
	}
	return ""
}

// notProven says that the cells of a column without formulas were not understood.
func (r *reader) notProven(c *column, why string) {
	for _, l := range c.table.lines {
		if s := (spot{c.table.sheet, c.table.place(l, c.item)}); !r.cell(s).Blank() {
			r.unknown(s, fmt.Sprintf("headed %q, and %s", c.heading, why))
		}
	}
}

// sized reports whether cells of a role are sizes of a bearing's parts.
func sized(role string) bool {
	switch role {
	case roleUpper, roleLower, roleWall, roleJournal, roleClearance, roleReading, roleTaper, roleRound, roleStretch, "length new", "length now", roleLow, roleHigh:
		return true
	}
	return false
}

// along returns the columns that are readings at places along a journal.
func (r *reader) along(t *table) (all []*column) {
	for _, c := range t.columns {
		words := wordsOf(c.heading)
		for _, w := range []string{"front", "middle", "rear", "vorn", "mitte", "hinten", "avant", "milieu", "arriere", "delante", "medio", "detras"} {
			if allIn(words, []string{w}) && c.intent == nil {
				c.role = roleReading
				all = append(all, c)
				break
			}
		}
	}
	return all
}

// propose takes a formula for what a column should hold, if most lines agree.
func (r *reader) propose(c *column, text, from, why string) {
	e, agree, of := r.agreement(c, text, from)
	if e == nil {
		return
	}
	switch {
	case agree >= 2 && 2*agree > of:
		c.reason = fmt.Sprintf("%s; %d of %d lines agree with it", why, agree, of)
	case len(c.table.lines) <= 2 && of > 0 && agree > 0:
		c.reason = fmt.Sprintf("%s; its number agrees with it", why)
	case len(c.table.lines) == 1 && of == 1 && r.slippedNumber(c, e):
		c.reason = fmt.Sprintf("%s, as its heading says; its number does not agree with it", why)
	default:
		return
	}
	c.intent, c.shape = e, e
}

// agreement parses a formula for what a column should hold, in the column's unit, and counts
// the lines that agree with it, of how many that show it.
func (r *reader) agreement(c *column, text, from string) (e calc.Expr, agree, of int) {
	if from != "" && c.unit != "" && from != c.unit {
		if k, ok := ratio(from, c.unit); ok && k.Cmp(big.NewRat(1, 1)) != 0 {
			text = "(" + text + ")" + factorText(k)
		}
	}
	e, err := calc.Parse(text)
	if err != nil {
		return nil, 0, 0
	}
	for _, l := range c.table.lines {
		moved, _ := r.moved(c.table, e, c.table.lines[0], l)
		want, ok := r.evaluate(c.table.sheet, moved)
		s := spotOf(c, l)
		have, okHave := r.number(s)
		if !ok || !okHave {
			continue
		}
		of++
		if math.Abs(want-have) <= halfPlace(r.cell(s))+1e-9 {
			agree++
		}
	}
	return e, agree, of
}

// nearlyAll reports whether so many lines agree with what no heading says that it is no
// coincidence: all but few.
func nearlyAll(agree, of int) bool { return agree >= leastProof && 5*agree >= 4*of }

// slippedNumber reports whether the one number of a column may be meant for what a formula
// gives: it is of that size, or would be with its decimal point moved or in other units, or if a part were
// not left out.
func (r *reader) slippedNumber(c *column, e calc.Expr) bool {
	t := c.table
	want, ok := r.evaluate(t.sheet, e)
	have, okHave := r.number(spotOf(c, t.lines[0]))
	if !ok || !okHave || want == 0 || have == 0 {
		return false
	}
	size := math.Abs(have / want)
	if size > 1.0/3 && size < 3 {
		return true
	}
	half := halfPlace(r.cell(spotOf(c, t.lines[0]))) + 1e-9
	for _, k := range []float64{10, 100, 1000, 25.4} {
		if math.Abs(math.Abs(have)-math.Abs(want)*k) <= half || math.Abs(math.Abs(have)-math.Abs(want)/k) <= half {
			return true
		}
	}
	for _, other := range t.columns {
		v, ok := r.number(spotOf(other, t.lines[0]))
		if k, convertible := ratio(other.unit, c.unit); convertible {
			f, _ := k.Float64()
			v *= f
		}
		if ok && other != c && (math.Abs(have-want-v) <= half || math.Abs(have-want+v) <= half) {
			return true
		}
	}
	return false
}

// factorText writes a factor so that it reads as usual: "*1000", "/25.4".
func factorText(k *big.Rat) string {
	if k.IsInt() {
		return "*" + k.Num().String()
	}
	inverse := new(big.Rat).Inv(k)
	if places, ends := inverse.FloatPrec(); ends {
		return "/" + inverse.FloatString(places)
	}
	if places, ends := k.FloatPrec(); ends {
		return "*" + k.FloatString(places)
	}
	return fmt.Sprintf("*%s/%s", k.Num(), k.Denom())
}

// halfPlace returns half a step of the last place that a number is written with.
func halfPlace(c *sheet.Cell) float64 {
	text, _ := c.Numeral()
	_, behind, _ := strings.Cut(text, ".")
	places := len(behind)
	if n, _, ok := measuredText(c); ok {
		places = max(0, -int(n.Exponent()))
	}
	return 0.5 * math.Pow10(-places)
}

// evaluate evaluates a sum of cells.
func (r *reader) evaluate(index int, e calc.Expr) (float64, bool) {
	switch e := e.(type) {
	case *calc.Number:
		v, ok := new(big.Rat).SetString(e.Text)
		if !ok {
			return 0, false
		}
		f, _ := v.Float64()
		return f, true
	case *calc.Area:
		return r.number(spot{index, e.From.Place})
	case *calc.Call:
		if e.Name == "ROUNDUP" && len(e.Args) == 2 {
			x, ok := r.evaluate(index, e.Args[0])
			return math.Ceil(x - 1e-9), ok
		}
		if e.Name != "MAX" && e.Name != "MIN" {
			return 0, false
		}
		best, ok := 0.0, false
		for i, a := range e.Args {
			v, known := r.evaluate(index, a)
			if !known {
				return 0, false
			}
			if i == 0 || e.Name == "MAX" && v > best || e.Name == "MIN" && v < best {
				best, ok = v, true
			}
		}
		return best, ok
	case *calc.Binary:
		x, okX := r.evaluate(index, e.X)
		y, okY := r.evaluate(index, e.Y)
		ok := okX && okY
		switch e.Op {
		case calc.Add:
			return x + y, ok
		case calc.Subtract:
			return x - y, ok
		case calc.Multiply:
			return x * y, ok
		case calc.Divide:
			return x / y, ok && y != 0
		}
	}
	return 0, false
}

var bounds = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(?:to|bis|à|a|-|–|\.\.)\s*(\d+(?:[.,]\d+)?)\s*([\p{L}µ·²°]+)?`)

// within returns the limits in a heading such as "Verdict (1.0 to 2.2 thou)"; nil if there
// are none.
func within(heading string) []string {
	m := bounds.FindStringSubmatch(heading)
	if m == nil {
		return nil
	}
	for i := 1; i < 3; i++ {
		m[i] = strings.ReplaceAll(m[i], ",", ".")
	}
	return m[1:]
}

// limits are those of verdicts without formulas, as they read in the first line of the table, and what they judge.
type limits struct {
	judged    *column
	low, high string
	lo, hi    calc.Expr
}

// limitsOf returns the limits that a sheet says for a column of verdicts: in its heading, in columns, in a text, or
// in cells with words beside them; ok is false if it says none.
func (r *reader) limitsOf(c *column, clearances []*column, by map[string][]*column) (l limits, ok bool) {
	t := c.table
	line := t.lines[0]
	l.judged = clearances[0]
	in := func(unitName string) {
		for _, k := range clearances {
			if k.unit == unitName {
				l.judged = k
			}
		}
	}
	switch {
	case within(c.heading) != nil:
		m := within(c.heading)
		l.low, l.high = m[0], m[1]
		if u, ok := parseUnit(m[2]); ok {
			in(u.name)
		}
	case len(by[roleLow]) > 0 && len(by[roleHigh]) > 0:
		l.low, l.high = t.place(line, by[roleLow][0].item).String(), t.place(line, by[roleHigh][0].item).String()
		in(by[roleLow][0].unit)
	case r.statedLimits(t) != nil:
		m := r.statedLimits(t)
		l.low, l.high = m[0], m[1]
		u, _ := parseUnit(m[2])
		in(u.name)
	default:
		a, b := r.blockLimits(t, l.judged)
		if a == nil || b == nil {
			return l, false
		}
		l.low, l.high = fixedName(a.at), fixedName(b.at)
		if u := r.unitBeside(*a); u != "" {
			in(u)
		}
		reason := "it stands beside words for a limit"
		r.u.roles.set(*a, Meaning{Role: roleLow, Unit: l.judged.unit, Reason: reason})
		r.u.roles.set(*b, Meaning{Role: roleHigh, Unit: l.judged.unit, Reason: reason})
	}
	var errL, errH error
	l.lo, errL = calc.Parse(l.low)
	l.hi, errH = calc.Parse(l.high)
	return l, errL == nil && errH == nil && l.judged.intent != nil
}

// proposeVerdict takes words for verdicts on a clearance, if most lines agree. Where the sheet does not say what is
// judged, so many columns are tried; and words that are not known may mean either of two things. What is found
// among several rules is taken only if that is no chance.
func (r *reader) proposeVerdict(c *column, clearances []*column, by map[string][]*column, tried int) {
	if c.mark != "" {
		r.proposeMarks(c, clearances, by)
		return
	}
	t := c.table
	line := t.lines[0]
	l, ok := r.limitsOf(c, clearances, by)
	if !ok {
		return
	}
	judged, low, high := l.judged, l.low, l.high
	words := map[string]map[string]int{"in": {}, "below": {}, "above": {}}
	for _, i := range t.lines {
		word := strings.TrimSpace(r.cell(spotOf(c, i)).Text)
		side, known := r.sideIn(l, i)
		if word == "" || !known {
			continue
		}
		switch side {
		case sideBelow:
			words["below"][word]++
		case sideAbove:
			words["above"][word]++
		default:
			words["in"][word]++
		}
	}
	in := commonest(words["in"], "")
	for w := range words["in"] {
		if good(w) {
			in = w
		}
	}
	if in == "" && len(t.lines) <= 2 { // of one location, the word alone says what it means
		for _, side := range []string{"below", "above"} {
			for w := range words[side] {
				if good(w) {
					in = w
				}
			}
		}
	}
	if len(t.lines) <= 2 && in != "" && bad(in) { // nor is a bad one a good one for standing where a good one should
		in = goodWord
	}
	above, below := commonest(words["above"], in), commonest(words["below"], in)
	for _, other := range []string{below, above, opposite(in, commonest(words["in"], in))} { // "no" for both sides
		if above == "" {
			above = other
		}
		if below == "" {
			below = other
		}
	}
	if in == "" || above == "" || below == "" {
		return // nothing shows what is written beside one that is not within
	}
	agree, of := words["in"][in]+words["below"][below]+words["above"][above], 0
	for _, side := range words {
		for _, n := range side {
			of += n
		}
	}
	if 2*agree <= of && len(t.lines) > 2 {
		return
	}
	if in != goodWord && !good(in) && !bad(in) {
		tried *= 2
	}
	if tried > 1 && !chance.Excluded(bothWays(words, in), tried) {
		c.why = "too few verdicts of both kinds to tell a rule from chance"
		return
	}
	v := t.place(line, judged.item)
	text := fmt.Sprintf(`IF(ROUND(%s,9)<%s,%q,IF(ROUND(%s,9)>%s,%q,%q))`, v, low, below, v, high, above, in)
	if e, err := calc.Parse(text); err == nil {
		c.intent, c.shape = e, e
		c.reason = fmt.Sprintf("its words agree with %s..%s in most lines", low, high)
	}
}

// bothWays returns the bits of words that agree with a rule, from how many it decides each way: if all are alike, or
// all values lie on one side, there are none.
func bothWays(words map[string]map[string]int, in string) float64 {
	n, inside, said, both := 0, 0, 0, 0
	for side, of := range words {
		for word, k := range of {
			n += k
			if side == "in" {
				inside += k
			}
			if word == in {
				said += k
			}
			if side == "in" && word == in {
				both += k
			}
		}
	}
	return chance.Shared(n, inside, said, both)
}

// goodWord is what is wanted where a sheet shows no good word of its own.
const goodWord = "OK"

// statedLimits returns the limits that a text above a table or beside it says, with their unit:
// "allowed 1.0 to 2.6 thou"; nil if there are none, or several.
func (r *reader) statedLimits(t *table) (found []string) {
	for row := 1; row <= mostTitles; row++ {
		for column := 1; column <= mostTitles; column++ {
			s := spot{t.sheet, sheet.Place{Row: row, Column: column}}
			line, _ := t.split(s.at)
			if !r.isText(s) || t.holds(line) {
				continue
			}
			m := within(r.cell(s).Text)
			if m == nil {
				continue
			}
			if u, ok := parseUnit(m[2]); !ok || u.dimension != "length" {
				continue
			}
			if found != nil {
				return nil
			}
			found = m
		}
	}
	return found
}

// blockLimits returns the cells of the two limits that stand above the headings, each to the
// right of words for it, or below the lines where none stand above; nil if there are none, or more than one of a kind.
func (r *reader) blockLimits(t *table, judged *column) (low, high *spot) {
	var lows, highs []spot
	top, _ := t.rows()
	for row := 1; row < top-1; row++ {
		for column := 1; column <= 12; column++ {
			words := spot{t.sheet, sheet.Place{Row: row, Column: column}}
			right := spot{t.sheet, sheet.Place{Row: row, Column: column + 1}}
			if _, isNumber := r.number(right); !isNumber || !r.isText(words) {
				continue
			}
			switch roleOf(r.cell(words).Text) {
			case roleLow:
				lows = append(lows, right)
			case roleHigh:
				highs = append(highs, right)
			}
		}
	}
	if len(lows)+len(highs) == 0 {
		lows, highs = r.limitsBelow(t, judged)
	}
	if len(lows) == 1 && len(highs) == 1 {
		return &lows[0], &highs[0]
	}
	return nil, nil
}

// rows returns the first and the last row of a table.
func (t *table) rows() (first, last int) {
	if t.down {
		return t.lines[0], t.lines[len(t.lines)-1]
	}
	first = 1 << 30
	for _, c := range t.columns {
		row := t.place(t.lines[0], c.item).Row
		first, last = min(first, row), max(last, row)
	}
	return first, last
}

// limitsBelow returns the cells of limits in the rows below a table: in the column that is judged, or else the first
// number to the right of words for one. A number that is the least or the greatest of a column is none.
func (r *reader) limitsBelow(t *table, judged *column) (lows, highs []spot) {
	_, last := t.rows()
	for row := last + 1; row <= last+widestGap; row++ {
		for column := 1; column <= 12; column++ {
			words := spot{t.sheet, sheet.Place{Row: row, Column: column}}
			role := roleOf(r.cell(words).Text)
			if !r.isText(words) || role != roleLow && role != roleHigh {
				continue
			}
			for right := column + 1; right <= 12; right++ {
				s := spot{t.sheet, sheet.Place{Row: row, Column: right}}
				v, isNumber := r.number(s)
				if !isNumber && !r.isText(s) {
					continue
				}
				if own := (spot{t.sheet, sheet.Place{Row: row, Column: judged.item}}); t.down && judged.item > right {
					if n, ok := r.number(own); ok {
						s, v, isNumber = own, n, true
					}
				}
				if isNumber && !r.isExtreme(t, v) && role == roleLow {
					lows = append(lows, s)
				} else if isNumber && !r.isExtreme(t, v) {
					highs = append(highs, s)
				}
				break
			}
		}
	}
	return lows, highs
}

// isExtreme reports whether a number is the least or the greatest of a column.
func (r *reader) isExtreme(t *table, v float64) bool {
	return slices.ContainsFunc(t.columns, func(c *column) bool {
		low, high := math.Inf(1), math.Inf(-1)
		for _, l := range t.lines {
			if n, ok := r.number(spotOf(c, l)); ok {
				low, high = math.Min(low, n), math.Max(high, n)
			}
		}
		return v == low || v == high
	})
}

func fixedName(p sheet.Place) string {
	return fmt.Sprintf("$%s$%d", sheet.ColumnName(p.Column), p.Row)
}

// commonest returns the word that is there most often, but for one.
func commonest(words map[string]int, but string) (best string) {
	for w, n := range words {
		if w != but && (best == "" || n > words[best] || n == words[best] && w < best) {
			best = w
		}
	}
	return best
}
