package check

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
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

// near reports whether all claims stand on their own rows.
func (s *stream) near() bool { return !s.far }

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

	lined []sheet.Lined // columns that rules read
	plain passedLines   // what the rows are, if all are plainly right and were not split into cells
}

// passedLines are rows of a batch of lines in which everything is plainly right.
type passedLines struct {
	count, claims int
	last          row    // of them
	held          []bool // by table, whether it holds the rows
}

// look looks at the rows of the batch.
func (l *looking) look(s *stream, singles map[int]bool) {
	l.rows = nil
	if l.plain.count = 0; l.err == nil && l.text && l.passes(s, singles) {
		l.done <- struct{}{}
		return
	}
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

// passes looks at the rows of a text without making cells of them. It reports false if they need to be
// looked at as rows: one is not plainly right, or the lines are unlike one another.
func (l *looking) passes(s *stream, singles map[int]bool) bool {
	first, n, widest, ok := l.batch.Line(l.lined)
	last := first + n - 1
	if beyond := s.options.Beyond; !ok || beyond != nil && last > beyond.Row && widest > beyond.Column {
		return false
	}
	for row := range singles {
		if first <= row && row <= last {
			return false
		}
	}
	p := passedLines{count: n, held: l.plain.held[:0]}
	for _, b := range l.blocks {
		held := slices.ContainsFunc(b.table.Spans, func(of mapfile.Span) bool { return of.First <= first && (last <= of.Last || of.Last == 0) })
		p.held = append(p.held, held)
		if !held {
			if slices.ContainsFunc(b.table.Spans, func(of mapfile.Span) bool { return of.First <= last && (first <= of.Last || of.Last == 0) }) {
				return false // it holds some of them
			}
			continue
		}
		b.beginLined(n, l.lined)
		b.look()
		if slices.Contains(b.right, false) {
			return false
		}
		for _, claims := range b.claims {
			p.claims += claims
		}
		p.last.claims += b.claims[n-1]
		p.last.lines++
	}
	p.last.Row, l.err = l.batch.Last(last)
	l.plain = p
	return true
}

// split makes rows of lines that passed, to be looked at one by one.
func (l *looking) split() {
	l.plain.count = 0
	l.rows, l.err = l.batch.Rows()
}

// looks reads the batches of a sheet and looks at their rows, several at once; they come in
// order. Every looking is given back by release.
func (s *stream) looks(ctx context.Context, name string, tables []*streamed, singles map[int]bool) (seen <-chan *looking, release func(*looking)) {
	workers := runtime.GOMAXPROCS(0)
	_, text := s.file.(*sheet.Text)
	columns := linedColumns(tables)
	ordered, open, free := make(chan *looking, 2*workers), make(chan *looking, 2*workers), make(chan *looking, 2*workers)
	for range cap(free) {
		l := &looking{text: text, done: make(chan struct{}, 1), lined: slices.Clone(columns)}
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
				l.look(s, singles)
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
	seen, release := s.looks(ctx, name, tables, singles)
	var before row
	rows, more, read := 0, 0, 0
	suspect := false                 // the row before
	next := make([]int, len(tables)) // of the rows of a table's block
	for l := range seen {
		<-l.done
		if l.err != nil || l.formulas && !s.stored {
			return false, l.err
		}
		if l.plain.count > 0 && (suspect || s.ended || begins(tables, l.plain.held)) {
			if l.split(); l.err != nil {
				return false, l.err
			}
		}
		read += max(len(l.rows), l.plain.count)
		if p := &l.plain; p.count > 0 {
			s.pass(&before)
			before = p.last
			s.count(p.claims-before.claims, (p.count-1)*min(before.lines, 1))
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
	if s.options.looked != nil {
		s.options.looked(r.Number)
	}
	g.Add(r.Number, r.Cells)
}

// pass counts what a row claims, unless it is looked at closely.
func (s *stream) pass(r *row) {
	if !r.kept {
		s.count(r.claims, min(r.lines, 1))
	}
}

// count counts claims that are right, and rows.
func (s *stream) count(claims, rows int) {
	s.result.Claims += claims
	s.result.Coverage.Cells += claims
	s.result.Coverage.Checked += claims
	s.result.Rows += rows
}

// begins reports whether one of the tables that are held begins.
func begins(tables []*streamed, held []bool) bool {
	for i, t := range tables {
		if held[i] && !t.begun {
			return true
		}
	}
	return false
}

// linedColumns returns the columns that rules of the tables read.
func linedColumns(tables []*streamed) (columns []sheet.Lined) {
	for _, t := range tables {
		for at, slot := range t.cellsIn {
			if slot > 0 && !slices.ContainsFunc(columns, func(c sheet.Lined) bool { return c.At == at }) {
				columns = append(columns, sheet.Lined{At: at})
			}
		}
	}
	slices.SortFunc(columns, func(a, b sheet.Lined) int { return cmp.Compare(a.At, b.At) })
	return columns
}
