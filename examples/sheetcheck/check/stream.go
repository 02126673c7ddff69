package check

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units/measure"
)

// A stream passes the rows of a file in which everything is plainly right, and keeps the
// others, with those beside them, to be looked at closely. So a file of any length is checked
// whose claims stand on their own rows alone.
type stream struct {
	file    sheet.File
	options Options
	result  *Result
	tables  [][]*streamed // by sheet
	stored  bool          // formulas are not looked at, but what is stored
	far     bool          // a claim stands on more than its row
	apart   [3]apart      // rows, and cells, that are passed over because nothing like them was seen
	ended   bool          // another table begins
}

// An apart is cells that nothing was done with.
type apart struct {
	first, last sheet.Place
	count       int
}

func (a *apart) add(row *sheet.Row, from int) {
	for i := from; i < len(row.Cells); i++ {
		if row.Cells[i].Blank() {
			continue
		}
		at := sheet.Place{Row: row.Number, Column: i + 1}
		if a.count++; a.count == 1 {
			a.first, a.last = at, at
		}
		a.first.Column = min(a.first.Column, at.Column)
		a.last = sheet.Place{Row: at.Row, Column: max(a.last.Column, at.Column)}
	}
}

// Why rows and cells are passed over.
const (
	unlikeRows = iota
	otherTable
	moreColumns
)

// beyond passes a row over that is unlike those by which the table was understood.
func (s *stream) beyond(t *streamed, row *sheet.Row, plain bool) (over bool) {
	b := s.options.Beyond
	if b == nil || row.Number <= b.Row {
		return false
	}
	if s.ended {
		s.apart[otherTable].add(row, 0)
		return true
	}
	if b.Column < len(row.Cells) {
		s.apart[moreColumns].add(row, b.Column)
	}
	if plain {
		return false
	}
	numbers, texts := 0, 0
	count := func(line int) {
		switch v := quickOf(row.Cell(line)); {
		case v.kind == isNumber:
			numbers++
		case v.kind == isText && !v.blank():
			texts++
		}
	}
	for _, r := range t.typed {
		count(r.line)
	}
	for i := range t.claims {
		count(t.claims[i].line)
	}
	location, _ := t.Line(t.Location)
	name := row.Cell(location)
	switch {
	case numbers == 0 && texts > 1:
		s.ended = true
		s.apart[otherTable].add(row, 0)
	case numbers == 0 || location > 0 && (name.Blank() || b.Summary(name.Text)):
		s.apart[unlikeRows].add(row, 0)
	default:
		return false
	}
	return true
}

// sayApart says what was passed over.
func (s *stream) sayApart(name string) {
	row := 0
	if s.options.Beyond != nil {
		row = s.options.Beyond.Row
	}
	for i, why := range []string{
		unlikeRows:  fmt.Sprintf("rows unlike the first ones, up to row %d, from which the sheet was understood", row),
		otherTable:  fmt.Sprintf("another table seems to begin there, and the sheet was understood from its rows up to %d", row),
		moreColumns: fmt.Sprintf("in columns of which nothing stands in the rows up to %d, from which the sheet was understood", row),
	} {
		if a := s.apart[i]; a.count > 0 {
			s.result.Coverage.Values += a.count
			s.result.Unlooked = append(s.result.Unlooked, Unlooked{Sheet: name, Cells: sheet.Area{First: a.first, Last: a.last}, Count: a.count, Why: why})
		}
	}
}

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

// mostKept is how many rows are looked at closely in which something is wrong; more of them are
// counted.
const mostKept = 4000

func newStream(f sheet.File, rules []*rule, o Options, result *Result) *stream {
	s := &stream{file: f, options: o, result: result, tables: make([][]*streamed, len(f.Sheets()))}
	for i, c := range compiled(rules, nil, true) {
		s.far = s.far || c == nil
		if c != nil {
			s.tables[rules[i].index] = appendNew(s.tables[rules[i].index], c)
		}
	}
	return s
}

func appendNew(all []*streamed, t *streamed) []*streamed {
	if slices.Contains(all, t) {
		return all
	}
	return append(all, t)
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

// near reports whether all claims stand on their own rows.
func (s *stream) near() bool { return !s.far }

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
	t, n := b.table, len(b.rows)
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
	if same == nil && p.given == nil && p.judge == nil && p.agree(b, cells, &want) {
		return
	}
	for i, row := range b.rows {
		have := cells.at(i)
		formula := same != nil && row.Cell(p.line).Formula != ""
		if have.blank() {
			b.right[i] = b.right[i] && !formula
			continue
		}
		b.claims[i]++
		right := !formula || same(p, sheet.Place{Row: row.Number, Column: p.line})
		switch {
		case p.given != nil:
			right = right && p.lookedUp(b, claim, row)
		case p.judge != nil:
			right = right && p.judges(b, claim, &judged, i, row.Cell(p.line).Text)
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

// says reports whether a text says what one would of a verdict.
func (b *block) says(j *judge, claim int, text string, verdict measure.Verdict) bool {
	verdicts := [...]measure.Verdict{measure.Conforming, measure.BelowLimit, measure.AboveLimit}
	right, known := b.said[claim][text]
	if !known {
		for i, v := range verdicts {
			says, known := j.words.say(text, v)
			right[i] = says && known
		}
		if b.said[claim] == nil {
			b.said[claim] = map[string][3]bool{}
		}
		if len(b.said[claim]) < 1000 {
			b.said[claim][strings.Clone(text)] = right
		}
	}
	return right[slices.Index(verdicts[:], verdict)]
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
	want.half = 0
	return have.kind == isNumber && p.rounded(have).agrees(want)
}

// read reads the file and returns the rows to be looked at closely; nil if there are formulas.
func (s *stream) read(ctx context.Context) (*sheet.Book, error) {
	names := s.file.Sheets()
	book := sheet.NewBook(names)
	for i, tables := range s.tables {
		if len(tables) == 0 {
			continue
		}
		whole, err := s.sheet(ctx, names[i], tables, book.Grids[i])
		if err != nil || !whole {
			return nil, err
		}
	}
	return book, nil
}

// singles reads the single cells that rows read. ok is false if one has a formula.
func (s *stream) singles(ctx context.Context, name string, tables []*streamed) (rows map[int]bool, ok bool, err error) {
	rows = map[int]bool{}
	last := 0
	for _, t := range tables {
		for _, cell := range t.fixed {
			rows[cell.at.Row] = true
			last = max(last, cell.at.Row)
		}
	}
	for row, err := range sheet.Rows(ctx, s.file, name) {
		if err != nil {
			return nil, false, err
		}
		if row.Number > last {
			break
		}
		for _, t := range tables {
			for _, cell := range t.fixed {
				if cell.at.Row != row.Number {
					continue
				}
				c := row.Cell(cell.at.Column)
				if c.Formula != "" && !s.stored {
					return nil, false, nil
				}
				held := *c
				held.Text = strings.Clone(c.Text)
				if v := quickOf(&held); v.kind != isBlank {
					cell.is = same(v)
				}
			}
		}
	}
	return rows, true, nil
}

// A looking is a batch of rows, and what was seen in them.
type looking struct {
	batch    *sheet.Batch
	rows     []sheet.Row
	blocks   []*block // by table
	text     bool     // of a text file, which has no formulas
	formulas bool     // there are some
	err      error
	done     chan struct{} // holds one when the rows are looked at
}

// look looks at the rows of the batch.
func (l *looking) look() {
	if l.err == nil {
		l.rows, l.err = l.batch.Rows()
	}
	if l.err == nil {
		l.formulas = !l.text && slices.ContainsFunc(l.rows, func(r sheet.Row) bool {
			return slices.ContainsFunc(r.Cells, func(c sheet.Cell) bool { return c.Formula != "" })
		})
		for _, b := range l.blocks {
			b.begin()
			for i := range l.rows {
				if b.table.Holds(l.rows[i].Number) {
					b.add(&l.rows[i], false)
				}
			}
			b.look()
		}
	}
	l.done <- struct{}{}
}

// looks reads the batches of a sheet and looks at their rows, several at once; they come in
// order. Every looking is given back by release.
func (s *stream) looks(ctx context.Context, name string, tables []*streamed) (seen <-chan *looking, release func(*looking)) {
	workers := runtime.GOMAXPROCS(0)
	_, text := s.file.(*sheet.Text)
	ordered, open, free := make(chan *looking, 2*workers), make(chan *looking, 2*workers), make(chan *looking, 2*workers)
	for range cap(free) {
		l := &looking{text: text, done: make(chan struct{}, 1)}
		for _, t := range tables {
			l.blocks = append(l.blocks, newBlock(t))
		}
		free <- l
	}
	go func() {
		defer close(ordered)
		defer close(open)
		for b, err := range s.file.Batches(ctx, name) {
			select {
			case l := <-free:
				l.batch, l.err = b, err
				ordered <- l // neither waits: there is room for all
				open <- l
			case <-ctx.Done():
				return
			}
		}
	}()
	for range workers {
		go func() {
			for l := range open {
				l.look()
			}
		}()
	}
	return ordered, func(l *looking) {
		l.batch.Release()
		free <- l
	}
}

// sheet reads one sheet; ok is false if there are formulas.
func (s *stream) sheet(ctx context.Context, name string, tables []*streamed, kept *sheet.Grid) (ok bool, err error) {
	singles, ok, err := s.singles(ctx, name, tables)
	if err != nil || !ok {
		return false, err
	}
	last := 0
	for _, t := range tables {
		if t.Last() == 0 {
			last = math.MaxInt
		}
		last = max(last, t.Last())
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	seen, release := s.looks(ctx, name, tables)
	var before row
	rows, more, read := 0, 0, 0
	suspect := false                 // the row before
	next := make([]int, len(tables)) // of the rows of a table's block
	for l := range seen {
		<-l.done
		if l.err != nil || l.formulas && !s.stored {
			return false, l.err
		}
		clear(next)
		for i := range l.rows {
			now := row{Row: l.rows[i]}
			right := true
			for j, t := range tables {
				if !t.Holds(now.Number) {
					continue
				}
				b := l.blocks[j]
				plain, claims := b.right[next[j]], b.claims[next[j]]
				next[j]++
				if s.beyond(t, &now.Row, plain) {
					continue
				}
				right = right && plain
				now.claims += claims
				now.lines++
				now.keep = now.keep || !t.begun
				t.begun = true
			}
			now.keep = now.keep || suspect || len(singles) > 0 && singles[now.Number]
			switch {
			case right:
			case rows < mostKept:
				s.take(kept, &before)
				now.keep = true
				rows++
			default:
				more++
			}
			suspect = !right && rows < mostKept
			s.pass(&before)
			if before = now; now.keep {
				s.take(kept, &before)
			}
		}
		before.Cells = slices.Clone(before.Cells) // of a batch that is given back
		read += len(l.rows)
		if s.options.Progress != nil {
			s.options.Progress(read)
		}
		release(l)
		if before.Number >= last {
			break
		}
	}
	s.pass(&before)
	s.sayApart(name)
	if more > 0 {
		s.result.sayMore(more, name)
	}
	return true, ctx.Err()
}

// sayMore says how many rows are wrong beside those that were looked at closely.
func (r *Result) sayMore(rows int, name string) {
	r.Notes = append(r.Notes, fmt.Sprintf("%d more rows of sheet %q do not agree with what is right; correct the first ones and check again", rows, name))
}

// A row is one that streams by.
type row struct {
	sheet.Row
	claims, lines int
	keep, kept    bool
}

// take keeps a row to be looked at closely.
func (s *stream) take(g *sheet.Grid, r *row) {
	if r.kept || r.Number == 0 {
		return
	}
	r.kept = true
	g.Add(r.Number, r.Cells)
}

// pass counts what a row claims, unless it is looked at closely.
func (s *stream) pass(r *row) {
	if !r.kept {
		s.result.Claims += r.claims
		s.result.Coverage.Cells += r.claims
		s.result.Coverage.Checked += r.claims
		s.result.Rows += min(r.lines, 1)
	}
}
