package check

import (
	"math"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units/measure"
)

// A streamed is a table of which the rows stream by.
type streamed struct {
	*mapfile.Table
	claims  []passing
	typed   []typed
	fixed   []*fixedCell // that its rows read
	claimIn []int        // by column, which claim stands there, from 1; 0 for none
	limits  map[int]bool // columns that hold limits
	cellsIn []int        // by column, the slot in which its cells are held, from 1; 0 for none
	slots   int          // of a block
	begun   bool
	// same reports whether a claim's cell has the right formula; nil where formulas are not looked at.
	same func(p *passing, at sheet.Place) bool
}

// A passing is a claim's rule, ready for one row after the other.
type passing struct {
	*rule
	line   int
	value  sum    // the right value
	judged sum    // of a verdict called by name: what is judged
	sides  [2]sum // a verdict's limits; nil for none
	doubt  float64
	lines  []int // of a given rule, where its texts stand
}

// A typed is a column of readings.
type typed struct {
	line    int
	limit   bool       // they are limits, without which a verdict judges by nothing
	nominal float64    // 0 for none
	at      *fixedCell // where the nominal size stands in a cell
}

// compiled returns for every rule the table in which its claims are worked out row by row; nil
// for a rule of which the claims stand on more than their rows.
func compiled(rules []*rule, sheetOf func(string) (int, bool), ranges bool) []*streamed {
	all := make([]*streamed, len(rules))
	of := map[*mapfile.Table]*compiler{}
	for i, r := range rules {
		if r.of == nil || !r.of.Down() {
			continue
		}
		c := of[r.of]
		if c == nil {
			c = &compiler{streamed: &streamed{Table: r.of, limits: map[int]bool{}}, index: r.index, sheetOf: sheetOf, ranges: ranges, reads: map[int]bool{}}
			of[r.of] = c
			c.readings()
		}
		p, ok := c.passing(r)
		if !ok {
			continue
		}
		c.claims, all[i] = append(c.claims, p), c.streamed
		if p.value == nil {
			continue // what is looked up, or judged
		}
		for len(c.claimIn) <= p.line {
			c.claimIn = append(c.claimIn, 0)
		}
		c.claimIn[p.line] = len(c.claims)
	}
	for i, r := range rules {
		if c := of[r.of]; c != nil && c.readsClaims(rules) {
			all[i] = nil
		}
	}
	return all
}

// readsClaims reports whether the table reads in its rows what another table claims.
func (c *compiler) readsClaims(rules []*rule) bool {
	t := c.streamed
	return slices.ContainsFunc(rules, func(r *rule) bool {
		if r.index != c.index || r.of == nil || r.of == t.Table || !r.of.Down() {
			return false
		}
		line, _ := r.of.Line(r.of.Columns[r.column].At)
		apart := r.of.Last() > 0 && r.of.Last() < t.First() || t.Last() > 0 && t.Last() < r.of.First()
		return c.reads[line] && !apart
	})
}

func (c *compiler) readings() {
	t := c.streamed
	for _, name := range t.Names() {
		of := t.Columns[name]
		line, _ := t.Line(of.At)
		limit := strings.HasPrefix(of.Role, "limit")
		if line > 0 && limit {
			t.limits[line] = true
		}
		u, err := unitOf(of.Unit)
		if line == 0 || of.Unit == "" && !limit || slices.ContainsFunc(t.Checks, func(k mapfile.Check) bool { return k.Claim == name }) {
			continue
		}
		c.hold(line)
		one := typed{line: line, limit: limit}
		if p, errAt := sheet.ParsePlace(of.Nominal); errAt == nil {
			one.at = c.fix(cellKey{c.index, p})
		} else if err == nil && of.Nominal != "" {
			if n, err := u.number(of.Nominal); err == nil {
				one.nominal, _ = n.Float64()
			}
		}
		t.typed = append(t.typed, one)
	}
}

func (c *compiler) passing(r *rule) (p passing, ok bool) {
	t := c.streamed
	p = passing{rule: r}
	if p.line, _ = t.Line(t.Columns[r.column].At); p.line == 0 {
		return p, false
	}
	c.hold(p.line)
	switch {
	case r.given != nil:
		for _, name := range r.given.from {
			line, _ := t.Line(t.Columns[name].At)
			p.lines = append(p.lines, line)
		}
		return p, !slices.Contains(p.lines, 0)
	case r.judge != nil:
		j := r.judge
		line, cell := t.Line(t.Columns[j.value].At)
		corner := calc.Corner{Place: sheet.Place{Row: t.First(), Column: line}}
		if line == 0 {
			corner = calc.Corner{Place: cell, RowFixed: true, ColumnFixed: true}
		}
		p.judged, ok = c.compile(&calc.Area{From: corner, To: corner})
		for i, l := range j.limits {
			if l.none() {
				continue
			}
			e, err := calc.Parse(l.formula())
			if err != nil {
				return p, false
			}
			var made bool
			p.sides[i], made = c.compile(e)
			ok = ok && made
		}
		p.doubt, _ = j.doubt.Float64()
		return p, ok
	}
	p.value, ok = c.compile(r.base)
	return p, ok
}

// look looks at the rows of the block: whether each plainly holds what it should, and how much it
// claims.
func (b *block) look() {
	t, n := b.table, b.n
	b.right, b.wrong, b.claims = slices.Grow(b.right[:0], n)[:n], slices.Grow(b.wrong[:0], n)[:n], slices.Grow(b.claims[:0], n)[:n]
	for i := range b.slots {
		b.slots[i].done = false
	}
	for i := range b.worked {
		b.worked[i].begun, b.worked[i].done = false, false
	}
	clear(b.wrong)
	clear(b.claims)
	right := true
	for _, cell := range t.fixed { // also one that a row's verdict does not come to
		right = right && cell.value().kind == isNumber
	}
	for i := range b.right {
		b.right[i] = right
	}
	for i := range t.claims {
		t.claims[i].look(b, i)
	}
	for i := range t.typed {
		t.typed[i].look(b)
	}
}

// look looks at the claims of one kind.
func (p *passing) look(b *block, claim int) {
	cells, same := b.cells(p.line), b.table.same
	var want column
	var judged [3]column
	switch {
	case p.given != nil:
	case p.judge != nil:
		judged[0] = p.judged(b)
		for i, side := range p.sides {
			if side != nil {
				judged[1+i] = side(b)
			}
		}
	default:
		want = b.should(claim)
	}
	if same == nil && (p.given == nil && p.judge == nil && p.agree(b, cells, &want) || p.judge != nil && p.judgesAll(b, claim, cells, &judged)) {
		return
	}
	for i := range b.n {
		have := cells.at(i)
		formula := same != nil && b.rows[i].Cell(p.line).Formula != ""
		if have.blank() {
			b.right[i] = b.right[i] && !formula
			continue
		}
		b.claims[i]++
		right := !formula || same(p, sheet.Place{Row: b.rows[i].Number, Column: p.line})
		switch {
		case p.given != nil:
			right = right && b.lined == nil && p.lookedUp(b, claim, b.rows[i])
		case p.judge != nil && have.kind == isText:
			right = right && p.judges(b, claim, &judged, i, *have.text)
		case p.judge != nil:
			right = right && b.lined == nil && p.judges(b, claim, &judged, i, b.rows[i].Cell(p.line).Text)
		default:
			should := want.at(i)
			agrees, known := p.agrees(&have, &should, formula)
			b.wrong[i] = b.wrong[i] || known && !agrees
			right = right && known && agrees
		}
		b.right[i] = b.right[i] && right
	}
}

// look looks at the readings of one kind.
func (r *typed) look(b *block) {
	cells, nominal, sure := b.cells(r.line), r.nominal, true
	if r.at != nil {
		at := r.at.value()
		nominal, sure = at.float(), at.kind == isNumber
	}
	if sure && nominal == 0 && cells.sort == exacts {
		return
	}
	for i := range b.right {
		switch v := cells.at(i); {
		case !sure, v.kind != isNumber && (v.kind != isBlank || r.limit), v.kind == isNumber && nominal != 0 && !near(v.float(), nominal):
			b.right[i] = false
		}
	}
}

// agree says for all rows whether the cells hold what their readings give. It reports false, and
// says nothing, if they need to be looked at one by one.
func (p *passing) agree(b *block, cells, want *column) bool {
	if p.places > 9 || p.places >= 0 && p.places < cells.most {
		return false
	}
	say := func(i int, right bool) {
		b.claims[i]++
		b.right[i] = b.right[i] && right
		b.wrong[i] = b.wrong[i] || !right
	}
	places := func(i int) int {
		if p.places >= 0 {
			return p.places
		}
		return int(cells.places[i])
	}
	switch {
	case cells.sort == exacts && want.sort == exacts:
		for i, n := range cells.nano {
			say(i, 2*abs(n-want.nano[i&want.each]) <= tens[9-places(i)])
		}
	case cells.sort == exacts && want.sort == roughs:
		for i, n := range cells.nano {
			say(i, roughlyAgree(float64(n)/nano, want.f[i], places(i)))
		}
	case cells.sort == texts && want.sort == texts:
		for i, text := range cells.text {
			if blankText(*text) {
				continue
			}
			say(i, sameText(*text, *want.text[i&want.each]))
		}
	default:
		return false
	}
	return true
}

// agrees reports whether a cell holds what its row's readings give; known is false if that needs a
// closer look.
func (p *passing) agrees(cell, want *quick, formula bool) (agrees, known bool) {
	if cell.kind != want.kind || cell.kind != isNumber && cell.kind != isText {
		return false, false
	}
	if cell.kind == isText {
		return sameText(*cell.text, *want.text), true
	}
	if formula && p.places < 0 {
		return math.Abs(cell.float()-want.float()) <= residue*max(1, math.Abs(want.float()))*(1-1e-6), true
	}
	have, places := *cell, int(cell.places)
	if p.places >= 0 && p.places <= 9 && (p.places < places || formula) {
		if have.exact {
			step := tens[9-p.places]
			half := step / 2
			if have.nano < 0 {
				half = -half
			}
			have = exactly((have.nano + half) / step * step)
		} else {
			scale := math.Pow10(p.places)
			have = roughly(math.Round(have.f*scale) / scale)
		}
	}
	if p.places >= 0 {
		places = min(p.places, 9)
	}
	if have.exact && want.exact {
		return 2*abs(have.nano-want.nano) <= tens[9-places], true
	}
	return roughlyAgree(have.float(), want.float(), places), true
}

// roughlyAgree reports whether a number that is written to so many places is another one.
func roughlyAgree(have, want float64, places int) bool {
	return math.Abs(have-want) <= max(0.5*math.Pow10(-places)*(1-1e-6), residue*max(1, math.Abs(want)))
}

// sameText reports whether two texts are one to an office program.
func sameText(a, b string) bool {
	return a == b || strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// judges reports whether a verdict is plainly right. The columns are what is judged, and its limits.
func (p *passing) judges(b *block, claim int, of *[3]column, i int, text string) bool {
	value := of[0].at(i)
	if value.kind != isNumber {
		return false
	}
	verdict := measure.Conforming
	var limits [2]quick
	for side := range p.sides {
		if p.sides[side] == nil {
			continue
		}
		limit := &limits[side]
		if *limit = of[1+side].at(i); limit.kind != isNumber || p.doubt > 0 && math.Abs(value.float()-limit.float()) <= p.doubt*(1+1e-6) {
			return false
		}
		switch order, ok := value.compare(limit, false); {
		case !ok:
			return false
		case side == 0 && order < 0:
			verdict = measure.BelowLimit
		case side == 1 && order > 0:
			verdict = measure.AboveLimit
		}
	}
	if p.sides[0] != nil && p.sides[1] != nil {
		if order, ok := limits[0].compare(&limits[1], false); !ok || order > 0 {
			return false // the lower limit is above the upper one
		}
	}
	return b.says(p.judge, claim, text, verdict)
}

// judgesAll says for all rows whether their verdicts are right. It reports false, and says nothing, if
// they need to be looked at one by one.
func (p *passing) judgesAll(b *block, claim int, cells *column, of *[3]column) bool {
	if cells.sort != texts || of[0].sort != exacts || p.doubt > 0 {
		return false
	}
	for side := range p.sides {
		if p.sides[side] != nil && of[1+side].sort != exacts {
			return false
		}
	}
	var last *string
	var says [3]bool
	for i, text := range cells.text {
		if blankText(*text) {
			continue
		}
		value, low, high := of[0].nano[i&of[0].each], int64(math.MinInt64), int64(math.MaxInt64)
		if p.sides[0] != nil {
			low = of[1].nano[i&of[1].each]
		}
		if p.sides[1] != nil {
			high = of[2].nano[i&of[2].each]
		}
		if text != last { // which is one for very many
			last, says = text, b.saysOf(p.judge, claim, *text)
		}
		verdict := 0
		switch {
		case value > high:
			verdict = 2
		case value < low:
			verdict = 1
		}
		b.claims[i]++
		b.right[i] = b.right[i] && low <= high && says[verdict]
	}
	return true
}

// says reports whether a text says what one would of a verdict.
func (b *block) says(j *judge, claim int, text string, verdict measure.Verdict) bool {
	return b.saysOf(j, claim, text)[slices.Index(allVerdicts[:], verdict)]
}

// saysOf reports of which of allVerdicts a text says what one would.
func (b *block) saysOf(j *judge, claim int, text string) [len(allVerdicts)]bool {
	right, known := b.said[claim][text]
	if known {
		return right
	}
	for i, v := range allVerdicts {
		says, known := j.words.say(text, v)
		right[i] = says && known
	}
	if b.said[claim] == nil {
		b.said[claim] = map[string][3]bool{}
	}
	if len(b.said[claim]) < 1000 {
		b.said[claim][strings.Clone(text)] = right
	}
	return right
}

func (p *passing) lookedUp(b *block, claim int, row *sheet.Row) bool {
	texts := make([]string, len(p.lines))
	for i, line := range p.lines {
		texts[i] = strings.TrimSpace(row.Cell(line).Text)
	}
	key := strings.Join(texts, "\x00")
	value, known := b.known[claim][key]
	if !known {
		var err error
		if value, _, err = p.given.find(texts); err != nil {
			return false
		}
		if b.known[claim] == nil {
			b.known[claim] = map[string]string{}
		}
		if len(b.known[claim]) < 1000 {
			b.known[claim][strings.Clone(key)] = value
		}
	}
	cell := row.Cell(p.line)
	if p.given.same != nil {
		return p.given.same(cell.Text, value)
	}
	have, want := valueOf(cell), valueOf(&sheet.Cell{Text: value})
	want.places = 0
	return have.kind == isNumber && p.rounded(have).agrees(want)
}
