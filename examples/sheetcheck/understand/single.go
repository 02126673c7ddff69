package understand

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A single is a formula that stands alone: an average below a column, a total.
type single struct {
	formula *formula
	right   calc.Expr
	text    string // of it
	Meaning
}

const itsFormula = "its formula, "

// singles reads the formulas that belong to no table, and the cells that look-ups read.
func (r *reader) singles() {
	for f := range r.formulas.every() {
		r.lookedUp(f)
		r.counted(f)
		if f.table != nil {
			continue
		}
		e := f.expr()
		s := &single{formula: f, right: pattern.Rewrite(e, func(e calc.Expr) calc.Expr {
			if a, ok := e.(*calc.Area); ok {
				if all, changed := r.whole(f.sheet, a); changed {
					return all
				}
			}
			return nil
		})}
		r.namedSheetBeside(f)
		s.right = r.wholeTotal(f, s.right)
		s.right = r.allPicked(f, s.right)
		s.right = r.allAdded(f, s.right)
		s.right = r.ofNamedSheet(f, s.right)
		s.right = r.inSaidUnit(f, s.right)
		s.right = r.bothBeside(f, s.right)
		s.Role = r.alone(f.spot, e)
		if call, ok := s.right.(*calc.Call); ok && (call.Name == "SUM" || call.Name == "SUMSQ") && roleOf(r.label(f.spot, false)) == roleSquares {
			s.right, s.Role = &calc.Call{Name: "SQRT", Args: []calc.Expr{call}}, roleSquares
		}
		if s.Role == "" {
			if isVerdict(e) || saysWords(e) {
				s.Role = roleVerdict
			} else if h := roleOf(r.beside(f.spot)); h != "" && h != roleVerdict {
				s.Role = h
			}
		}
		if s.Role == "" {
			s.Role, s.Unit = r.sumOfAlike(f, e)
		}
		if m, known := r.u.roles.at(f.spot); known && (m.Role == roleLow || m.Role == roleHigh) {
			s.Role, s.Unit = m.Role, m.Unit // that verdicts compare with
		}
		if c := r.columnOver(f); s.Role == "" && c != nil {
			s.Role, s.Unit = c.role, c.unit
		}
		if s.Role == "" && r.explained(f, e) {
			s.Role = computedRole(e)
		}
		if s.Role == "" {
			r.unknown(f.spot, fmt.Sprintf("a formula alone, =%s; nothing says what it should be", e))
			continue
		}
		if (s.Role == roleLow || s.Role == roleHigh || s.Role == roleClearance) && !r.u.roles.known(f.spot) {
			r.byItsSum(s, e)
		}
		s.Claim = true
		s.Reason = itsFormula + s.right.String()
		s.text = s.Reason[len(itsFormula):] // kept once: there may be very many
		if s.Role != roleCount && s.Role != roleVerdict && s.Unit == "" {
			if call, ok := s.right.(*calc.Call); ok && s.Role == roleLookUp {
				s.Unit = r.lookedUnit(f.sheet, call)
			} else {
				s.Unit = r.unitOfRange(f.spot, s.right)
			}
			if s.Role == roleSquares {
				s.Unit = strings.TrimSuffix(s.Unit, "²")
			}
		}
		r.u.roles.set(f.spot, s.Meaning)
		r.lone = append(r.lone, s)
	}
}

// columnOver returns the column of a table above a formula that reads as the column's do: the share of the totals
// below the shares. It is nil if there is none.
func (r *reader) columnOver(f *formula) *column {
	for row := f.at.Row - 1; row > 0 && row >= f.at.Row-2; row-- {
		over := r.formulas.at(spot{f.sheet, sheet.Place{Row: row, Column: f.at.Column}})
		if over == nil || over.table == nil || over.rel != f.rel {
			continue
		}
		_, item := over.table.split(over.at)
		return over.table.column(item)
	}
	return nil
}

// sumOfAlike returns the role and the unit of a formula alone that adds up what stands alone elsewhere and is of
// one kind: the totals of several tables, or counts; or a total and what is charged or taken off after it.
func (r *reader) sumOfAlike(f *formula, e calc.Expr) (role, unitName string) {
	l, ok := pattern.LinearOf(e)
	if !ok || len(l.Terms) < 2 || l.Constant.Sign() != 0 {
		return "", ""
	}
	var charged []spot
	money := false // so far
	for i, t := range l.Terms {
		index := f.sheet
		if t.Area.Sheet != "" {
			if index, ok = r.book.Index(t.Area.Sheet); !ok {
				return "", ""
			}
		}
		s := spot{index, t.Area.From.Place}
		m, known := r.u.roles.at(s)
		if _, isNumber := r.number(s); !known && i > 0 && isNumber && money && r.formulas.at(s) == nil && s.at.Column == f.at.Column {
			m, known = Meaning{Role: roleCost, Reason: "a total is added to it"}, true
			charged = append(charged, s)
		}
		is := func(m Meaning) bool { return m.Role == "total" || m.Role == roleCost }
		money = is(m) && m.Unit == "" && (i == 0 || money)
		one := new(big.Rat).Abs(t.Factor).Cmp(big.NewRat(1, 1)) == 0
		if !known || !t.Area.Single() || !one || !money && (t.Factor.Sign() < 0 || i > 0 && (m.Role != role || m.Unit != unitName)) || m.Role != roleCount && !is(m) {
			return "", ""
		}
		role, unitName = m.Role, m.Unit
	}
	for _, s := range charged {
		r.u.roles.set(s, Meaning{Role: roleCost, Reason: "it is charged after a total"})
	}
	return "total", unitName
}

// saysWords reports whether a formula alone says one of two words, whatever it asks.
func saysWords(e calc.Expr) bool {
	call, ok := e.(*calc.Call)
	if !ok || call.Name != "IF" || len(call.Args) != 3 {
		return false
	}
	_, yes := call.Args[1].(*calc.Text)
	_, no := call.Args[2].(*calc.Text)
	return yes && no
}

// alone returns the role of a formula over many cells.
func (r *reader) alone(s spot, e calc.Expr) string {
	heading := r.beside(s)
	words := strings.Join(wordsOf(heading), " ")
	if spread(e) {
		return "range"
	}
	call, ok := e.(*calc.Call)
	if !ok {
		if b, isSum := e.(*calc.Binary); isSum && b.Op == calc.Add {
			x, okX := b.X.(*calc.Call)
			y, okY := b.Y.(*calc.Call)
			if okX && okY && x.Name == y.Name {
				return aggregate(x.Name)
			}
		}
		return ""
	}
	if lookUp(call.Name) && call.Name != "MATCH" {
		return roleLookUp
	}
	switch call.Name {
	case "SQRT":
		if len(call.Args) == 1 {
			if inner, ok := call.Args[0].(*calc.Call); ok && (inner.Name == "SUMSQ" || inner.Name == "SUMPRODUCT" || inner.Name == "SUM") {
				return roleSquares
			}
		}
	case "SUM", "SUMPRODUCT":
		counts := false
		calc.Walk(call, func(e calc.Expr) bool {
			b, ok := e.(*calc.Binary)
			counts = counts || ok && b.Op.Comparison()
			return true
		})
		if counts {
			return roleCount
		}
		if strings.Contains(words, "worst case") {
			return "worst case"
		}
	case "ROUND":
		if len(call.Args) == 2 {
			return r.alone(s, call.Args[0])
		}
	}
	return gathering(call)
}

// beside returns the words to the left of a cell, or over it.
func (r *reader) beside(s spot) string {
	for column := s.at.Column - 1; column > 0; column-- {
		left := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column}}
		if !r.isText(left) {
			continue
		}
		text := r.cell(left).Text
		if before := (spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column - 1}}); column > 1 && r.isText(before) && roleOf(text) == "" && roleOf(r.cell(before).Text) != "" {
			return r.cell(before).Text // "Journal | d | 54.98", "Discount | from 100 on | 4.20"
		}
		return text
	}
	return ""
}

// unitOfRange returns the unit of the cells that a formula gathers.
func (r *reader) unitOfRange(f spot, e calc.Expr) string {
	if u := r.unitBesideLeft(f); u != "" {
		return u
	}
	if u, ok := parseUnit(r.cell(spot{f.sheet, sheet.Place{Row: f.at.Row, Column: f.at.Column + 1}}).Text); ok {
		return u.name
	}
	for row := f.at.Row - 1; row > 0 && row >= f.at.Row-mostHeads; row-- {
		if over := (spot{f.sheet, sheet.Place{Row: row, Column: f.at.Column}}); r.isText(over) {
			if _, u, ok := splitUnit(r.cell(over).Text); ok {
				return u.name
			}
			break
		}
	}
	for _, a := range pattern.Areas(e) {
		index := f.sheet
		if a.Sheet != "" {
			index, _ = r.book.Index(a.Sheet)
		}
		if k, ok := r.kindOf(spot{index, a.From.Place}); ok && k.column != nil {
			if k.column.unit == "" {
				continue // signs, or counts
			}
			return k.column.unit
		}
		for row := a.From.Row - 1; row > 0 && row >= a.From.Row-2; row-- {
			over := spot{index, sheet.Place{Row: row, Column: a.From.Column}}
			if !r.isText(over) {
				continue
			}
			role := roleOf(r.cell(over).Text)
			_, u, ok := splitUnit(r.cell(over).Text)
			if ok {
				r.typedRange(index, a, role, u.name)
				return u.name
			}
		}
	}
	return ""
}

func (r *reader) unitBesideLeft(s spot) string {
	if _, u, ok := splitUnit(r.beside(s)); ok {
		return u.name
	}
	return ""
}

// typedRange names numbers that are typed under a heading and gathered by a formula.
func (r *reader) typedRange(index int, a *calc.Area, role, unitName string) {
	all, _ := r.whole(index, a)
	if role == "" {
		role = roleNumber
	}
	for row := all.From.Row; row <= all.To.Row; row++ {
		s := spot{index, sheet.Place{Row: row, Column: all.From.Column}}
		if r.formulas.at(s) == nil && !r.u.roles.known(s) {
			r.u.roles.set(s, Meaning{Role: role, Unit: unitName, Reason: "its heading"})
		}
	}
}

// lookedUp names the cells that a formula looks things up in, by their headings.
func (r *reader) lookedUp(f *formula) {
	if !f.looks {
		return
	}
	calc.Walk(f.expr(), func(e calc.Expr) bool {
		call, ok := e.(*calc.Call)
		if !ok || len(call.Args) < 2 {
			return true
		}
		var a *calc.Area
		skip := 0
		switch call.Name {
		case "VLOOKUP", "HLOOKUP":
			a, _ = call.Args[1].(*calc.Area)
			skip = 1
		case "XLOOKUP":
			if len(call.Args) > 2 {
				a, _ = call.Args[2].(*calc.Area)
			}
		case "INDEX":
			a, _ = call.Args[0].(*calc.Area)
		}
		if a == nil || a.Columns || a.Rows || a.File != "" || a.To.Row-a.From.Row > longestRange || a.To.Column-a.From.Column > 64 {
			return true
		}
		index := f.sheet
		if a.Sheet != "" {
			if index, ok = r.book.Index(a.Sheet); !ok {
				return true
			}
		}
		if r.firstSought(index, a, "in "+call.Name) {
			r.source(index, a, call.Name == "HLOOKUP", skip)
		}
		return true
	})
}

// soughtIn names the cells among which a formula's look-ups seek their keys.
func (r *reader) soughtIn(f *formula) {
	if !f.looks {
		return
	}
	calc.Walk(f.expr(), func(e calc.Expr) bool {
		if call, ok := e.(*calc.Call); ok && len(call.Args) > 1 {
			r.keyCells(f, call)
		}
		return true
	})
}

// A soughtArea is cells that formulas look up in, and how.
type soughtArea struct {
	sheet    int
	from, to sheet.Place
	how      string
}

// firstSought reports whether an area is met for the first time: a column of look-ups reads one
// area in each of its lines.
func (r *reader) firstSought(index int, a *calc.Area, how string) bool {
	key := soughtArea{index, a.From.Place, a.To.Place, how}
	if r.sought[key] || r.steps > mostSteps {
		return false
	}
	r.steps += (a.To.Row - a.From.Row + 1) * (a.To.Column - a.From.Column + 1)
	if r.sought == nil {
		r.sought = map[soughtArea]bool{}
	}
	r.sought[key] = true
	return true
}

// keyCells names the cells among which a look-up seeks its key.
func (r *reader) keyCells(f *formula, call *calc.Call) {
	if !lookUp(call.Name) || call.Name == "INDEX" {
		return
	}
	a, ok := call.Args[1].(*calc.Area)
	if !ok || a.Columns || a.Rows || a.File != "" || a.To.Row-a.From.Row > longestRange {
		return
	}
	index := f.sheet
	if a.Sheet != "" {
		if index, ok = r.book.Index(a.Sheet); !ok {
			return
		}
	}
	if !r.firstSought(index, a, call.Name) {
		return
	}
	first, last := a.From.Place, a.To.Place
	switch {
	case call.Name == "HLOOKUP" || call.Name != "VLOOKUP" && first.Row == last.Row:
		last.Row = first.Row
	default:
		last.Column = first.Column
	}
	heading, _, unitName := r.headings(&table{sheet: index, down: first.Row < last.Row}, first.Column, first.Row)
	headedRole := roleOf(heading)
	for row := first.Row; row <= last.Row; row++ {
		for column := first.Column; column <= min(last.Column, first.Column+64); column++ {
			s := spot{index, sheet.Place{Row: row, Column: column}}
			if !r.cell(s).Blank() && r.formulas.at(s) == nil && !r.u.roles.known(s) {
				m := Meaning{Role: roleGrade, Reason: "a look-up seeks its key in it"}
				if _, isNumber := r.number(s); isNumber && ofLength(headedRole) && unitName != "" {
					m.Role, m.Unit = headedRole, unitName // a size, of which the next is looked up
				} else if isNumber && unitName != "" && headedRole == "" && nextBelow(call) {
					m = Meaning{Role: roleLow, Unit: unitName, Reason: "a look-up takes the last that is not greater"}
				}
				r.u.roles.set(s, m)
			}
		}
	}
}

// nextBelow reports whether a look-up takes the last key that is not greater than what is sought.
func nextBelow(call *calc.Call) bool {
	switch call.Name {
	case "LOOKUP":
		return true
	case "VLOOKUP", "HLOOKUP":
		return len(call.Args) == 3 || len(call.Args) == 4 && (call.Args[3].String() == "TRUE" || call.Args[3].String() == "1")
	case "MATCH":
		return len(call.Args) == 2 || len(call.Args) == 3 && call.Args[2].String() == "1"
	}
	return false
}

// source names the cells of an area that is looked up in.
func (r *reader) source(index int, a *calc.Area, across bool, skip int) {
	t := &table{sheet: index, down: !across}
	fromLine, fromItem := t.split(a.From.Place)
	toLine, toItem := t.split(a.To.Place)
	for item := fromItem + skip; item <= toItem; item++ {
		heading, group, unitName := r.headings(t, item, fromLine)
		role := roleOf(heading)
		if role == "" {
			role = roleOf(group)
		}
		if unitName == "" && part(role) {
			unitName = r.sheetUnit(index)
		}
		for line := fromLine; line <= toLine; line++ {
			s := spot{index, t.place(line, item)}
			if r.u.roles.known(s) || r.cell(s).Blank() || r.formulas.at(s) != nil {
				continue
			}
			m := Meaning{Role: role, Unit: unitName, Reason: fmt.Sprintf("it is looked up; heading %q", heading)}
			if _, isNumber := r.number(s); !isNumber && role != roleGrade && role != roleCode || role == "" || toItem-fromItem+1-skip > 1 && unitName == "" && role != roleLow && role != roleHigh {
				m.Role = roleLookUp
				if !isNumber {
					m.Unit = ""
				}
			}
			r.u.roles.set(s, m)
		}
	}
}
