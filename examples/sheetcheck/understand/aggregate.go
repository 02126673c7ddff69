package understand

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// wholeTotal returns a sum that begins at a total as far down as it should go: a total of a total
// and what is charged after it reads down to the line above its own.
func (r *reader) wholeTotal(f *formula, e calc.Expr) calc.Expr {
	call, ok := e.(*calc.Call)
	if !ok || call.Name != "SUM" || len(call.Args) != 1 {
		return e
	}
	a, ok := call.Args[0].(*calc.Area)
	if !ok || a.Single() || a.Sheet != "" || a.From.Column != f.at.Column || a.To.Column != f.at.Column || a.To.Row >= f.at.Row-1 || f.at.Row-a.To.Row > widestGap {
		return e
	}
	first := r.formulas.at(spot{f.sheet, a.From.Place})
	if first == nil || r.alone(first.spot, first.expr()) != "total" || f.at.Row-a.To.Row-1 > a.To.Row-a.From.Row+1 {
		return e
	}
	for row := a.To.Row + 1; row < f.at.Row; row++ {
		s := spot{f.sheet, sheet.Place{Row: row, Column: f.at.Column}}
		if _, isNumber := r.number(s); !isNumber {
			return e
		}
		if between := r.formulas.at(s); between != nil && r.alone(s, between.expr()) != "" {
			if call, ok := pattern.Unguarded(between.expr()).(*calc.Call); !ok || call.Name != "ROUND" {
				return e // an average, or a total of its own
			}
		}
	}
	whole := *a
	whole.To.Row = f.at.Row - 1
	return &calc.Call{Name: "SUM", Args: []calc.Expr{&whole}}
}

// columnAt returns the column of a table, with formulas or without, that a cell is in; nil if it is in none.
func (r *reader) columnAt(s spot) *column {
	for _, t := range r.tables {
		if line, item := t.split(s.at); t.sheet == s.sheet && t.holds(line) && !t.form {
			if c := t.column(item); c != nil {
				return c
			}
		}
	}
	return nil
}

// allPicked returns a formula that gathers single cells of a column with those that it leaves out: where
// the lines that it picks bear one word in a typed column, and few lines that bear it are missing, or few of
// those picked bear another.
func (r *reader) allPicked(f *formula, e calc.Expr) calc.Expr {
	call, ok := e.(*calc.Call)
	if !ok || aggregate(call.Name) == "" || len(call.Args) < leastProof {
		return e
	}
	var of *column
	picked := map[int]bool{}
	for _, arg := range call.Args {
		a, ok := arg.(*calc.Area)
		if !ok || !a.Single() || a.Sheet != "" {
			return e
		}
		c := r.columnAt(spot{f.sheet, a.From.Place})
		if c == nil || of != nil && c != of {
			return e
		}
		of = c
		line, _ := of.table.split(a.From.Place)
		picked[line] = true
	}
	t := of.table
	for _, words := range t.columns {
		if words == of || words.run != nil || !r.wordsIn(words) {
			continue
		}
		count := map[string]int{}
		word := func(line int) string {
			return strings.ToLower(strings.TrimSpace(r.cell(spotOf(words, line)).Text))
		}
		for line := range picked {
			count[word(line)]++
		}
		common := commonest(count, "")
		var right []int
		off, bear := 0, 0
		for _, l := range t.lines {
			if word(l) == common {
				right = append(right, l)
				bear++
			}
			if picked[l] != (word(l) == common) {
				off++
			}
		}
		if common == "" || bear == len(t.lines) || off == 0 || off > 2 || count[common] < leastProof || 3*off > bear {
			continue
		}
		all := &calc.Call{Name: call.Name}
		for _, l := range right {
			at := calc.Corner{Place: t.place(l, of.item)}
			all.Args = append(all.Args, &calc.Area{From: at, To: at})
		}
		return all
	}
	return e
}

// ofNamedSheet returns a formula that reads the sheet that its line names: where the lines around
// bear the names of sheets, and the others of this line read one area of the sheet that it names.
func (r *reader) ofNamedSheet(f *formula, e calc.Expr) calc.Expr {
	areas := pattern.Areas(e)
	if len(areas) != 1 || areas[0].Sheet == "" || areas[0].Single() {
		return e
	}
	named := strings.TrimSpace(r.beside(f.spot))
	index, ok := r.book.Index(named)
	if other, known := r.book.Index(areas[0].Sheet); !ok || !known || index == other || index == f.sheet {
		return e
	}
	var read *calc.Area
	others := 0
	for column := range f.at.Column + widestGap {
		g := r.formulas.at(spot{f.sheet, sheet.Place{Row: f.at.Row, Column: column}})
		if g == nil || g.spot == f.spot {
			continue
		}
		for _, a := range pattern.Areas(g.expr()) {
			if a.Single() {
				continue
			}
			if on, ok := r.book.Index(a.Sheet); !ok || on != index {
				return e
			}
			switch {
			case read == nil:
				read, others = a, 1
			case a.From.Place == read.From.Place && a.To.Place == read.To.Place:
				others++
			}
		}
	}
	if others < 2 {
		return e
	}
	return pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
		if _, ok := e.(*calc.Area); ok {
			return read
		}
		return nil
	})
}

// namedSheetBeside names the words beside a formula that are the name of the sheet which it reads.
func (r *reader) namedSheetBeside(f *formula) {
	for column := f.at.Column - 1; column > 0; column-- {
		s := spot{f.sheet, sheet.Place{Row: f.at.Row, Column: column}}
		if !r.isText(s) {
			continue
		}
		index, ok := r.book.Index(strings.TrimSpace(r.cell(s).Text))
		if ok && index != f.sheet && !r.u.roles.known(s) {
			r.u.roles.set(s, Meaning{Role: roleLocation, Reason: "it names a sheet that its line reads"})
		}
		return
	}
}

// inSaidUnit corrects the factor of a formula alone that gives one cell in another unit, where the
// sheet says both units beside them and the factor is one that somebody may have written for it.
func (r *reader) inSaidUnit(f *formula, e calc.Expr) calc.Expr {
	l, ok := pattern.LinearOf(e)
	if !ok || len(l.Terms) != 1 || l.Constant.Sign() != 0 || len(l.Wraps) > 0 || l.Terms[0].Area.Sheet != "" {
		return e
	}
	right := func(s spot) string {
		u, _ := parseUnit(r.cell(spot{s.sheet, sheet.Place{Row: s.at.Row, Column: s.at.Column + 1}}).Text)
		return u.name
	}
	from, to := right(spot{f.sheet, l.Terms[0].Area.From.Place}), right(f.spot)
	k, ok := ratio(from, to)
	if !ok || from == to {
		return e
	}
	have := new(big.Rat).Abs(l.Terms[0].Factor)
	off, _ := new(big.Rat).Quo(have, k).Float64()
	tens := slices.ContainsFunc([]float64{0.01, 0.1, 10, 100}, func(t float64) bool { return alike(off, t) })
	if off > 1-shortFactor && off < 1+shortFactor || !tens && !slipped(k, have, to) {
		return e
	}
	if one, err := calc.Parse(l.Terms[0].Area.String() + factorText(k)); err == nil {
		return one
	}
	return e
}

// bothBeside adds the comparison with a limit that no verdict compares with, to a verdict alone
// that compares with the limit beside it: the least stands over the greatest, each with its words
// at its left.
func (r *reader) bothBeside(f *formula, e calc.Expr) calc.Expr {
	call, ok := e.(*calc.Call)
	if !ok || call.Name != "IF" || len(call.Args) != 3 {
		return e
	}
	all := pattern.Comparisons(e)
	if len(all) != 1 || call.Args[0] != calc.Expr(all[0]) {
		return e
	}
	yes, ok := call.Args[1].(*calc.Text)
	bound, okB := all[0].Y.(*calc.Area)
	if !ok || !okB || !good(yes.Value) || !bound.Single() || bound.Sheet != "" {
		return e
	}
	step, sign, want := 1, "<=", roleHigh
	switch all[0].Op {
	case calc.Greater, calc.GreaterEqual:
	case calc.Less, calc.LessEqual:
		step, sign, want = -1, ">=", roleLow
	default:
		return e
	}
	s := spot{f.sheet, sheet.Place{Row: bound.From.Row + step, Column: bound.From.Column}}
	if s.at.Row < 1 {
		return e
	}
	own, other := r.beside(spot{f.sheet, bound.From.Place}), r.beside(s)
	if _, isNumber := r.number(s); !isNumber || roleOf(other) != want || !slices.Contains([]string{roleLow, roleHigh}, roleOf(own)) || roleOf(own) == want || r.compared(s) {
		return e
	}
	a, b := wordsOf(own), wordsOf(other)
	if len(a) != len(b) || len(a) == 0 || len(a) > 1 && a[0] != b[0] || len(a) == 1 && strings.TrimSuffix(a[0], "min") != strings.TrimSuffix(b[0], "max") && strings.TrimSuffix(a[0], "max") != strings.TrimSuffix(b[0], "min") {
		return e // of something else
	}
	text := fmt.Sprintf("IF(AND(%s,%s%s%s),%s,%s)", all[0], all[0].X, sign, s.at, call.Args[1], call.Args[2])
	if both, err := calc.Parse(text); err == nil {
		return both
	}
	return e
}

// compared reports whether a formula compares something with a cell.
func (r *reader) compared(s spot) bool {
	if r.bounds == nil { // of all formulas at once
		r.bounds = map[spot]bool{}
		for f := range r.formulas.every() {
			for _, b := range pattern.Comparisons(f.read) {
				for _, a := range pattern.Areas(b) {
					if a.Sheet == "" {
						at := a.Moved(f.at.Row-f.home.Row, f.at.Column-f.home.Column).From.Place
						r.bounds[spot{f.sheet, at}] = true
					}
				}
			}
		}
	}
	return r.bounds[s]
}

// typedStatistics takes averages and extremes that are typed behind the lines of a table without formulas. An
// average is one by its name, where it lies among the numbers. An extreme is one if it agrees with
// its column, or if the other extreme does: else it may be a limit.
func (r *reader) typedStatistics(t *table) {
	if len(t.lines) < leastProof {
		return
	}
	functions := map[string]string{"average": "AVERAGE", roleLow: "MIN", roleHigh: "MAX", "total": "SUM", "range": ""}
	type typed struct {
		at     spot
		text   string
		column *column
		role   string
		sure   bool
	}
	var all []typed
	extreme, total := map[*column]bool{}, map[int]bool{} // that agree
	last := t.lines[len(t.lines)-1]
	if last-t.lines[0]+1 != len(t.lines) {
		return
	}
	for line := last + 1; line <= last+widestGap; line++ {
		words := r.cell(spot{t.sheet, t.place(line, t.columns[0].item)}).Text
		role := roleOf(words)
		function := functions[role]
		if function == "" {
			if words == "" {
				continue
			}
			break
		}
		for _, c := range t.columns[1:] {
			s := spotOf(c, line)
			have, ok := r.number(s)
			if !ok || r.formulas.at(s) != nil || c.role == roleVerdict || c.role == roleCost {
				continue
			}
			low, high, sum, n := math.Inf(1), math.Inf(-1), 0.0, 0
			finest := 0.5
			for _, l := range t.lines {
				if v, ok := r.number(spotOf(c, l)); ok {
					finest = min(finest, halfPlace(r.cell(spotOf(c, l))))
					low, high, sum, n = math.Min(low, v), math.Max(high, v), sum+v, n+1
				}
			}
			if n != len(t.lines) {
				continue
			}
			want := map[string]float64{"AVERAGE": sum / float64(n), "MIN": low, "MAX": high, "SUM": sum}[function]
			half := halfPlace(r.cell(s))
			if function != "AVERAGE" {
				half = min(half, finest) // 0.06 for 0.062 is a limit, and no rounding
			}
			agrees := math.Abs(want-have) <= half+1e-9
			if agrees && (function == "MIN" || function == "MAX") {
				extreme[c] = true
			}
			total[line] = total[line] || agrees && function == "SUM"
			text := fmt.Sprintf("%s(%s:%s)", function, t.place(t.lines[0], c.item), t.place(last, c.item))
			all = append(all, typed{s, text, c, map[string]string{"AVERAGE": "average", "MIN": "minimum", "MAX": "maximum", "SUM": "total"}[function], agrees || function == "AVERAGE" && have >= low && have <= high})
		}
	}
	for _, one := range all {
		line, _ := t.split(one.at.at)
		switch {
		case one.sure:
		case one.role == "total" && total[line]:
		case (one.role == "minimum" || one.role == "maximum") && extreme[one.column]:
		default:
			continue // a limit, perhaps
		}
		reason := fmt.Sprintf("its words, and %s", one.text)
		r.u.roles.set(one.at, Meaning{Role: one.role, Unit: one.column.unit, Claim: true, Reason: reason})
		r.statistics = append(r.statistics, mapfile.Cell{Sheet: r.book.Grids[t.sheet].Name, At: one.at.at.String(), Formula: one.text, Role: one.role, Unit: one.column.unit, Reason: reason})
	}
}

// typedTotals takes totals of money that are typed below its column, each with words for one: the sum of the
// lines, or of the total above it and what is charged after that. What such words name is a total, if it is of
// that size.
func (r *reader) typedTotals(t *table) {
	if !t.down || len(t.lines) < fewestHeads {
		return
	}
	last := t.lines[len(t.lines)-1]
	for _, c := range t.columns {
		if c.role != roleCost || c == t.columns[0] {
			continue
		}
		sum, from := 0.0, t.lines[0]
		for line := t.lines[0]; line <= last; line++ {
			if v, ok := r.number(spotOf(c, line)); ok && !t.holds(line) {
				sum = math.NaN() // what stands between is not known
			} else if ok {
				sum += v
			}
		}
		for line := last + 1; line <= last+widestGap && !math.IsNaN(sum); line++ {
			s := spotOf(c, line)
			have, ok := r.number(s)
			if !ok {
				continue
			}
			if roleOf(r.beside(s)) != "total" {
				if r.beside(s) == "" {
					break // another table
				}
				sum += have
				continue
			}
			if r.formulas.at(s) == nil && have > sum/2 && have < 2*sum {
				text := fmt.Sprintf("SUM(%s:%s)", t.place(from, c.item), t.place(line-1, c.item))
				reason := fmt.Sprintf("its words, and %s", text)
				r.u.roles.set(s, Meaning{Role: "total", Unit: c.unit, Claim: true, Reason: reason})
				r.statistics = append(r.statistics, mapfile.Cell{Sheet: r.book.Grids[t.sheet].Name, At: s.at.String(), Formula: text, Role: "total", Unit: c.unit, Reason: reason})
			}
			from = line
		}
	}
}

// allAdded returns a sum of single cells of a column with those that it leaves out, where it adds up most lines of
// a table and nothing else.
func (r *reader) allAdded(f *formula, e calc.Expr) calc.Expr {
	l, ok := pattern.LinearOf(e)
	if !ok || len(l.Terms) < 2 || l.Constant.Sign() != 0 || len(l.Wraps) > 0 || roleOf(r.beside(f.spot)) != "total" {
		return e
	}
	var of *column
	added := map[int]bool{}
	for _, term := range l.Terms {
		c := r.columnAt(spot{f.sheet, term.Area.From.Place})
		if c == nil || of != nil && c != of || !term.Area.Single() || term.Area.Sheet != "" || term.Factor.Cmp(big.NewRat(1, 1)) != 0 {
			return e
		}
		of = c
		line, _ := of.table.split(term.Area.From.Place)
		added[line] = true
	}
	t := of.table
	var parts []string
	for _, line := range t.lines {
		if _, ok := r.number(spotOf(of, line)); ok {
			parts = append(parts, t.place(line, of.item).String())
		}
	}
	if len(added) == len(parts) || len(parts)-len(added) > 2 || 2*len(added) <= len(parts) {
		return e
	}
	if all, err := calc.Parse(strings.Join(parts, "+")); err == nil {
		return all
	}
	return e
}

// byItsSum says what a formula alone is whose words name a limit or a clearance: what is less than
// that by a limit is a difference, and what is the same in another unit is a conversion.
func (r *reader) byItsSum(s *single, e calc.Expr) {
	l, ok := pattern.LinearOf(e)
	switch {
	case !ok:
	case len(l.Terms) == 2 && takesOff(l) && s.Role != roleClearance:
		s.Role = "difference"
	case len(l.Terms) == 1 && l.Constant.Sign() == 0 && !plainCopy(l):
		s.Role = roleConverted
	}
}

// counted names the words among which a formula counts, and those that name their lines.
func (r *reader) counted(f *formula) {
	call, ok := f.read.(*calc.Call)
	if !ok || call.Name != "COUNTIF" || len(call.Args) != 2 {
		return
	}
	call, _ = f.expr().(*calc.Call)
	a, ok := call.Args[0].(*calc.Area)
	if !ok || a.Single() || a.Columns || a.Rows || a.File != "" || a.To.Row-a.From.Row > longestRange || a.To.Column-a.From.Column > 64 {
		return
	}
	if key, ok := call.Args[1].(*calc.Area); !ok || !key.Single() {
		return // a word of a verdict
	}
	index := f.sheet
	if a.Sheet != "" {
		if index, ok = r.book.Index(a.Sheet); !ok {
			return
		}
	}
	if !r.firstSought(index, a, "COUNTIF") {
		return
	}
	for row := a.From.Row; row <= a.To.Row; row++ {
		at := func(column int) spot { return spot{index, sheet.Place{Row: row, Column: column}} }
		for column := a.From.Column; column <= a.To.Column; column++ {
			if r.isText(at(column)) && !r.u.roles.known(at(column)) {
				r.u.roles.set(at(column), Meaning{Role: roleGrade, Reason: "it is counted"})
			}
		}
		if before := at(a.From.Column - 1); before.at.Column > 0 && r.isText(before) && !r.u.roles.known(before) {
			r.u.roles.set(before, Meaning{Role: roleLocation, Reason: "it names a line whose words are counted"})
		}
	}
}
