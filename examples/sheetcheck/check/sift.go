package check

import (
	"math/bits"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A sieve is the rows of a book in which everything is plainly right, and of those that are
// plainly wrong all but the first: no claim is made of their cells, which may be very many, and
// they are only counted.
type sieve struct {
	tables map[*mapfile.Table]*sifted
	sheets []siftedSheet
	typed  bool // a claim without a formula passed
}

type siftedSheet struct {
	rows     rowSet      // with claims that passed
	byColumn [][]*sifted // tables with claims in a column
}

// A sifted is a table with the rows of which all claims passed.
type sifted struct {
	*streamed
	index    int    // of the sheet
	apart    rowSet // rows with a claim of another kind, which the table may read
	passed   rowSet
	wrong    int      // rows that plainly disagree
	more     rowSet   // of those, which are counted alone
	formulas []rowSet // by claim, rows in which it has a formula
	values   []rowSet // likewise, in which something is typed in its cell
	block    *block   // of the rows that are looked at now
	blank    []bool   // of those, which claim nothing
}

// A rowSet is a set of rows.
type rowSet []uint64

func (s *rowSet) add(row int) {
	for len(*s) <= row>>6 {
		*s = append(*s, make([]uint64, 1+len(*s))...)
	}
	(*s)[row>>6] |= 1 << (row & 63)
}

func (s rowSet) holds(row int) bool { return row>>6 < len(s) && s[row>>6]>>(row&63)&1 == 1 }

// count counts the rows that are in another set too.
func (s rowSet) count(other rowSet) (n int) {
	for i := range min(len(s), len(other)) {
		n += bits.OnesCount64(s[i] & other[i])
	}
	return n
}

// passes reports whether all claims of a line of a table passed.
func (v *sieve) passes(t *mapfile.Table, line int) bool {
	s := v.tables[t]
	return s != nil && s.passed.holds(line)
}

// rule returns the rule of a claim that passed; nil of other cells.
func (v *sieve) rule(key cellKey) *passing {
	if key.sheet >= len(v.sheets) || !v.sheets[key.sheet].rows.holds(key.at.Row) || key.at.Column >= len(v.sheets[key.sheet].byColumn) {
		return nil
	}
	for _, t := range v.sheets[key.sheet].byColumn[key.at.Column] {
		if !t.passed.holds(key.at.Row) {
			continue
		}
		for i := range t.claims {
			if t.claims[i].line == key.at.Column {
				return &t.claims[i]
			}
		}
	}
	return nil
}

// sift passes the rows of the book in which everything is plainly right. It passes tables
// whole: of which every claim is worked out from its own row and single cells.
func (k *checking) sift(rules []*rule) {
	all := compiled(rules, k.book.Index, !k.hides())
	far := map[*mapfile.Table]bool{}
	for i, r := range rules {
		far[r.of] = far[r.of] || all[i] == nil
	}
	tables := make([][]*sifted, len(k.names))
	for i, r := range rules {
		if r.of == nil || far[r.of] || k.sieve.tables[r.of] != nil {
			continue
		}
		t := &sifted{streamed: all[i], index: r.index, formulas: make([]rowSet, len(all[i].claims)), values: make([]rowSet, len(all[i].claims)), block: newBlock(all[i])}
		k.sieve.tables[r.of] = t
		tables[r.index] = append(tables[r.index], t)
	}
	for _, r := range rules {
		if row, ok := r.row(); ok {
			for _, t := range tables[r.index] {
				t.apart.add(row)
			}
		}
	}
	for _, of := range tables {
		for _, t := range of {
			t.same = func(p *passing, at sheet.Place) bool {
				c := claim{cellKey: cellKey{t.index, at}, rule: p.rule, aside: nothing, formula: true, lines: int32(at.Row - t.First())}
				return k.sameFormula(&c)
			}
			for _, cell := range t.fixed {
				k.fixed(cell, rules)
			}
		}
	}
	for index, of := range tables {
		if len(of) == 0 {
			continue
		}
		for rows := range k.book.Grids[index].Blocks(blockRows) {
			for _, t := range of {
				t.sift(rows)
			}
			if k.ctx.Err() != nil {
				return
			}
		}
		for _, t := range of {
			k.sieve.settle(t)
			if more := t.passed.count(t.more); more > 0 {
				k.result.sayMore(more, k.book.Grids[index].Name)
			}
		}
	}
}

// row returns the one row in which the rule's claims stand; ok is false if they go down a column.
func (r *rule) row() (row int, ok bool) {
	if r.of == nil {
		at, err := sheet.ParsePlace(r.cell.At)
		return at.Row, err == nil
	}
	line, cell := r.of.Line(r.of.Columns[r.column].At)
	if line == 0 {
		return cell.Row, true
	}
	return line, !r.of.Down()
}

// blockRows is how many rows are looked at together.
const blockRows = 256

// sift looks at those of the rows that belong to the table.
func (t *sifted) sift(rows []sheet.Row) {
	t.block.begin()
	t.blank = t.blank[:0]
	for i := range rows {
		row := &rows[i]
		if !t.Holds(row.Number) {
			continue
		}
		blank, binary := true, false
		for i := range t.claims {
			switch c := row.Cell(t.claims[i].line); {
			case c.Formula != "":
				t.formulas[i].add(row.Number)
				binary, blank = true, false
			case !c.Blank():
				t.values[i].add(row.Number)
				blank = false
			}
		}
		t.block.add(row, binary)
		t.blank = append(t.blank, blank)
	}
	t.block.look()
	for i, row := range t.block.rows {
		switch {
		case t.blank[i]:
		case !t.begun: // the first one shows what the others are like
			t.begun = true
		case t.apart.holds(row.Number):
		case t.block.right[i]:
			t.passed.add(row.Number)
		case t.block.wrong[i]:
			if t.wrong++; t.wrong > mostKept {
				t.passed.add(row.Number)
				t.more.add(row.Number)
			}
		}
	}
}

// settle says which rows of a table passed, when all are looked at: a value that is typed among
// formulas needs a closer look.
func (v *sieve) settle(t *sifted) {
	for i := range t.claims {
		if t.formulas[i].count(t.formulas[i]) > 0 {
			for j := range min(len(t.passed), len(t.values[i])) {
				t.passed[j] &^= t.values[i][j]
			}
		}
	}
	of := &v.sheets[t.index]
	for i := range t.claims {
		v.typed = v.typed || t.passed.count(t.values[i]) > 0
		for len(of.byColumn) <= t.claims[i].line {
			of.byColumn = append(of.byColumn, nil)
		}
		of.byColumn[t.claims[i].line] = append(of.byColumn[t.claims[i].line], t)
	}
	for len(of.rows) < len(t.passed) {
		of.rows = append(of.rows, 0)
	}
	for i, rows := range t.passed {
		of.rows[i] |= rows
	}
}

// fixed reads a cell that all rows of a table read. One that is a claim, or that holds what
// cannot be told quickly, stays unknown.
func (k *checking) fixed(cell *fixedCell, rules []*rule) {
	for _, r := range rules {
		if r.index != cell.sheet {
			continue
		}
		if r.of == nil {
			if r.cell.At == cell.at.String() {
				return
			}
			continue
		}
		line, at := r.of.Line(r.of.Columns[r.column].At)
		item, across := cell.at.Column, cell.at.Row
		if !r.of.Down() {
			item, across = across, item
		}
		if line == 0 && at == cell.at || line == item && r.of.Holds(across) {
			return
		}
	}
	c := k.cell(cell.cellKey)
	v := quickOf(c)
	if c.Formula != "" {
		p, err := k.written.At(k.ctx, k.names[cell.sheet], cell.at)
		if err != nil || p.Exact.Kind() != calc.KindNumber || p.Binary.Kind() != calc.KindNumber {
			return
		}
		v = quickOf(&sheet.Cell{Text: p.Exact.String()})
		v.clean = false
	}
	if v.kind == isNumber {
		cell.is = same(v)
	}
}
