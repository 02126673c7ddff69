package understand

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// sums are roles of what is a sum or difference of sizes, besides a bearing's clearance.
func sums(role string) bool {
	return slices.Contains([]string{"end play", "side play", "deck clearance", roleStretch, roleToFile, roleTaper, roleRound, "dial travel", "left over", "to buy", "range", "bought", rolePacks, "needed", roleLeastGap, "count", "total"}, role)
}

// assign gives the columns of a table their roles: first by what formulas do, then by
// headings.
func (r *reader) assign(t *table) {
	for _, c := range t.columns {
		if c.run != nil && c.intent != nil {
			r.computed(c)
		}
	}
	for i, c := range t.columns {
		if c.role != "" {
			continue
		}
		h := headed(c)
		switch {
		case i == 0 && (!t.form || t.down && r.wordsIn(c)) && (h == "" || h == roleJournal || h == roleBore || h == rolePiston || h == "rod width" || h == "pin width" || r.wordsIn(c) || c.says[0] == "" && r.countsLines(c)):
			c.role, c.reason = roleLocation, "the first column, which no formula reads"
			if r.wordsIn(c) && slices.ContainsFunc(t.columns, func(o *column) bool { return o.role == rolePacks }) {
				c.role = roleGrade
			}
		case i == 1 && h == "" && c.run == nil && t.columns[0].role == roleLocation && r.wordsIn(c) && r.allDistinct(t.columns[0], c):
			c.role, c.reason = roleLocation, "words beside the first column, another in each line"
		case i > 0 && c.run == nil && r.wordsIn(c) && r.asked(c):
			c.role, c.reason = roleGrade, "formulas ask for its words"
		case i > 0 && i < mostHeads && (h == "" || h == roleReading) && c.run == nil && r.wordsIn(c) && r.wordsBefore(t, i):
			c.role, c.reason = roleLocation, "words beside those that name the line"
		case h != "":
			c.role, c.reason = h, fmt.Sprintf("its heading, %q", title(c))
		}
	}
}

// wordsBefore reports whether the columns of a table before one are locations, or words that are sought.
func (r *reader) wordsBefore(t *table, before int) bool {
	return !slices.ContainsFunc(t.columns[:before], func(c *column) bool {
		return c.role != roleLocation && c.role != roleGrade && c.role != roleCode
	})
}

// asked reports whether a formula of its table compares a column's cells with words.
func (r *reader) asked(c *column) bool {
	at := c.table.place(c.table.lines[0], c.item)
	return slices.ContainsFunc(c.table.columns, func(o *column) bool {
		if o.intent == nil {
			return false
		}
		found := false
		calc.Walk(o.intent, func(e calc.Expr) bool {
			if b, ok := e.(*calc.Binary); ok && b.Op.Comparison() {
				a, isArea := b.X.(*calc.Area)
				text, isText := b.Y.(*calc.Text)
				found = found || isArea && isText && text.Value != "" && a.Sheet == "" && a.From.Place == at
			}
			return !found
		})
		return found
	})
}

// ofOwnUnits reports whether each number of a column is in a unit of its own, as a word of its line says: a formula
// that asks for that word reads the number in either case.
func (r *reader) ofOwnUnits(c *column) bool {
	at := c.table.place(c.table.lines[0], c.item)
	reads := func(e calc.Expr) bool {
		return slices.ContainsFunc(pattern.Areas(e), func(a *calc.Area) bool { return a.Sheet == "" && a.From.Place == at })
	}
	return slices.ContainsFunc(c.table.columns, func(o *column) bool {
		call, ok := o.intent.(*calc.Call)
		return ok && call.Name == "IF" && len(call.Args) == 3 && asksWord(call.Args[0]) && !reads(call.Args[0]) && reads(call.Args[1]) && reads(call.Args[2]) && call.Args[1].String() != call.Args[2].String()
	})
}

// countsLines reports whether a column numbers its lines from 1 on.
func (r *reader) countsLines(c *column) bool {
	for i, l := range c.table.lines {
		if v, ok := r.number(spotOf(c, l)); !ok || v != float64(i+1) {
			return false
		}
	}
	return true
}

// allDistinct reports whether two columns together have something else in each line, and the second one is filled in
// each.
func (r *reader) allDistinct(before, c *column) bool {
	seen := map[string]bool{}
	for _, l := range c.table.lines {
		text := strings.TrimSpace(r.cell(spotOf(c, l)).Text)
		both := strings.TrimSpace(r.cell(spotOf(before, l)).Text) + "\x00" + text
		if text == "" || seen[both] {
			return false
		}
		seen[both] = true
	}
	return len(seen) >= leastProof
}

// headed returns the role that a column's headings say. Under a heading over several, "min" and
// "sum" say which reading of a part stands there, and of a computed clearance which one it is.
func headed(c *column) string {
	if said := [2]string{c.heading, c.group}; c.saidBy != said {
		c.saidBy, c.says = said, [2]string{roleOf(c.heading), roleOf(c.group)}
	}
	h, g := c.says[0], c.says[1]
	switch {
	case h == "":
		return g
	case statistic(h) && (part(g) || g == roleClearance && c.run != nil):
		return g
	}
	return h
}

// statistic reports whether a role says which of several numbers one is, or what is made of them.
func statistic(role string) bool {
	return slices.Contains([]string{roleLow, roleHigh, "average", "range", "total"}, role)
}

// part reports whether a role is a part's size.
func part(role string) bool {
	return slices.Contains([]string{roleBore, roleUpper, roleLower, roleWall, roleJournal, rolePiston}, role)
}

func title(c *column) string {
	if c.group != "" && c.heading != "" {
		return c.group + ", " + c.heading
	}
	return c.heading + c.group
}

// wordsIn reports whether most of a column's cells are words.
func (r *reader) wordsIn(c *column) bool {
	words, others := 0, 0
	for _, l := range c.table.lines {
		s := spot{c.table.sheet, c.table.place(l, c.item)}
		switch {
		case r.cell(s).Blank():
		case r.isText(s):
			words++
		default:
			others++
		}
	}
	return words > others
}

// set gives a column that formulas read its role, unless it has one.
func (c *column) set(role, reason string) {
	if c == nil || c.role != "" && c.role != roleReading {
		return
	}
	c.role, c.reason = role, reason
}

// computed gives a column of formulas its role, and those that it reads theirs.
func (r *reader) computed(c *column) {
	t := c.table
	h := headed(c)
	e := pattern.Unguarded(c.intent)
	because := fmt.Sprintf("its formula, %s", e)
	call, _ := e.(*calc.Call)
	switch {
	case isVerdict(e), givesWords(e), givesFlags(e) && len(pattern.Comparisons(e)) > 0:
		c.role = roleVerdict
		if c.reason == "" {
			c.reason = because
		}
	case call != nil && lookUp(call.Name):
		c.role, c.reason = roleLookUp, because
		if slices.Contains([]string{roleWall, roleUpper, roleLower, roleBore, roleJournal, roleLow, roleHigh}, h) && r.typical(c) != 0 {
			c.role = h
			c.reason = fmt.Sprintf("its heading, %q, over a look-up", title(c))
		}
		r.keys(c, call)
	case call != nil && gathering(call) != "" && gathers(call) && (!sums(h) || h == "needed" || h == "count" || h == "total"):
		c.role, c.reason = gathering(call), because
		if h == "needed" {
			c.role = h
		}
	case spread(e) && h != roleTaper && h != roleRound && h != "dial travel":
		c.role, c.reason = "range", because
	case spread(e):
		c.role, c.reason = h, fmt.Sprintf("the greatest less the least of its readings; heading %q", title(c))
		r.readings(t, e)
	default:
		r.summed(c, h, because)
	}
}

func lookUp(name string) bool {
	return slices.Contains([]string{"VLOOKUP", "HLOOKUP", "XLOOKUP", "LOOKUP", "INDEX", "MATCH"}, name)
}

// gathers reports whether a function reads more than single cells.
func gathers(c *calc.Call) bool {
	return slices.ContainsFunc(pattern.Areas(c), func(a *calc.Area) bool { return !a.Single() })
}

// gathering returns the role of what a call over many cells gives.
func gathering(c *calc.Call) string {
	if c.Name != "SUBTOTAL" && c.Name != "AGGREGATE" || len(c.Args) < 2 {
		return aggregate(c.Name)
	}
	switch strings.TrimPrefix(c.Args[0].String(), "10") { // 101 is 1 with rows left out
	case "1", "12":
		return "average"
	case "2", "3":
		return roleCount
	case "4", "14":
		return "maximum"
	case "5", "15":
		return "minimum"
	case "9":
		return "total"
	}
	return ""
}

// aggregate returns the role of what a function over many cells gives.
func aggregate(name string) string {
	switch name {
	case "AVERAGE", "MEDIAN", "AVERAGEIF":
		return "average"
	case "MIN", "SMALL":
		return "minimum"
	case "MAX", "LARGE":
		return "maximum"
	case "COUNT", "COUNTA", "COUNTIF", "COUNTIFS":
		return roleCount
	case "SUM", "SUMIF", "SUMIFS", "SUMPRODUCT":
		return "total"
	}
	return ""
}

// spread reports whether a formula is the greatest of some cells less the least, whatever
// it is multiplied by.
func spread(e calc.Expr) bool {
	b, ok := e.(*calc.Binary)
	if !ok {
		return false
	}
	if b.Op == calc.Multiply || b.Op == calc.Divide {
		return spread(b.X) || spread(b.Y)
	}
	x, okX := b.X.(*calc.Call)
	y, okY := b.Y.(*calc.Call)
	return b.Op == calc.Subtract && okX && okY && x.Name == "MAX" && y.Name == "MIN"
}

// readings names the cells of a spread.
func (r *reader) readings(t *table, e calc.Expr) {
	for _, a := range pattern.Areas(e) {
		_, from := t.split(a.From.Place)
		_, to := t.split(a.To.Place)
		for item := from; item <= to && a.Sheet == "" && to-from < 32; item++ {
			if c := t.column(item); c != nil && c.run == nil {
				c.set(roleReading, "one of the readings whose difference is taken")
			}
		}
	}
}

// keys names the columns by which is looked up.
func (r *reader) keys(c *column, call *calc.Call) {
	var own []*column
	calc.Walk(call, func(e calc.Expr) bool {
		inner, ok := e.(*calc.Call)
		if !ok || !lookUp(inner.Name) || len(inner.Args) == 0 || inner.Name == "INDEX" {
			return true
		}
		for _, a := range pattern.Areas(inner.Args[0]) {
			line, item := c.table.split(a.From.Place)
			if key := c.table.column(item); key != nil && key.run == nil && a.Single() && a.Sheet == "" && line == c.table.lines[0] && !slices.Contains(own, key) {
				own = append(own, key)
			}
		}
		return true
	})
	if len(own) > 1 {
		for _, key := range own {
			key.set(roleCode, "it is looked up together with another")
		}
	}
	calc.Walk(call, func(e calc.Expr) bool {
		inner, ok := e.(*calc.Call)
		if !ok || !lookUp(inner.Name) || len(inner.Args) == 0 || inner.Name == "INDEX" {
			return true
		}
		if a, ok := inner.Args[0].(*calc.Area); ok && a.Single() && a.Sheet == "" {
			line, item := c.table.split(a.From.Place)
			key := c.table.column(item)
			switch {
			case key == nil || line != c.table.lines[0]:
			case key.run != nil:
				r.codes(key)
			case headed(key) == roleCode:
				key.set(roleCode, "it is looked up")
			default:
				key.set(roleGrade, "it is looked up")
			}
		}
		return true
	})
}

// codes names the columns of which a key that is looked up is the sum.
func (r *reader) codes(key *column) {
	l, ok := pattern.LinearOf(key.intent)
	if !ok {
		return
	}
	for _, term := range l.Terms {
		if in := r.columnOf(key.table, term.Area); in != nil && in.run == nil {
			in.set(roleCode, fmt.Sprintf("%s is looked up by their sum", key.at()))
		}
	}
}

// summed gives a column its role that is a sum of cells, or something else computed.
func (r *reader) summed(c *column, h, because string) {
	t := c.table
	l, linear := pattern.LinearOf(c.intent)
	if !linear {
		product, _ := pattern.Unguarded(c.intent).(*calc.Binary)
		rounded, _ := unrounded(c.intent).(*calc.Binary)
		switch {
		case product != nil && product.Op == calc.Power:
			c.role, c.reason = "squared", because
		case r.gapRule(c, rounded, h):
			c.role, c.reason = roleLeastGap, fmt.Sprintf("so much for each unit of bore: %s", because)
		case packsFormula(pattern.Unguarded(c.intent)) && h != roleFactor:
			c.role, c.reason = rolePacks, because
		case quotient(c.intent) && (product != nil && (h == "" || h == "difference") || h == roleFactor):
			c.role, c.reason = "ratio", because
		case h != "" && h != roleVerdict:
			c.role, c.reason = h, fmt.Sprintf("its heading, %q", title(c))
		case product != nil && product.Op == calc.Multiply:
			c.role, c.reason = "product", because
		case rounded != nil && rounded.Op == calc.Subtract:
			c.role, c.reason = "difference", because
		case leastOf(pattern.Unguarded(c.intent)) != "":
			c.role, c.reason = leastOf(pattern.Unguarded(c.intent)), because
		default:
			c.role, c.reason = roleNumber, because
		}
		return
	}
	var inputs []*column
	own, outside := 0, 0
	for _, term := range l.Terms {
		line, item := t.split(term.Area.From.Place)
		if in := t.column(item); in != nil && term.Area.Sheet == "" && line == t.lines[0] && !r.fixed(t, term.Area) {
			inputs = append(inputs, in)
			own++
			continue
		}
		inputs = append(inputs, nil)
		outside++
	}
	switch {
	case outside > 0 && h == roleClearance && own > 1 && takesOff(l) && (r.namesBearing(inputs) || headed(inputs[0]) == roleBore):
		c.role, c.reason = roleClearance, fmt.Sprintf("its heading, %q, over %s", title(c), c.intent)
	case outside > 0 && own > 0 && !takesOff(l) && part(h):
		c.role, c.reason = h, fmt.Sprintf("its heading, %q, over %s", title(c), c.intent)
	case outside > 0 && own > 0:
		c.role, c.reason = "difference", because
	case len(l.Terms) == 1 && (h == roleLeastGap || h == roleGap && smallFactor(l)):
		c.role, c.reason = roleLeastGap, fmt.Sprintf("so much for each unit of bore: %s", because)
		inputs[0].set(roleBore, "the ring gap is a part of it")
	case len(l.Terms) == 1 && h != "" && plainCopy(l):
		c.role, c.reason = h, fmt.Sprintf("a copy of another cell, headed %q", title(c))
	case len(l.Terms) == 1 && plainCopy(l):
		c.role, c.reason = roleNumber, because
		if role := r.copied(c, l.Terms[0].Area); role != "" {
			c.role = role
		}
	case len(l.Terms) == 1:
		c.role, c.reason = roleConverted, because
	case h == roleLeastGap:
		c.role, c.reason = "difference", because
	case sums(h):
		c.role, c.reason = h, fmt.Sprintf("a sum of sizes, headed %q", title(c))
		for i, in := range inputs {
			if in != nil && in.run == nil {
				if hh := headed(in); h == "side play" && len(inputs) == 2 && (hh == "" || hh == roleJournal || hh == h) {
					role := "rod width"
					if l.Terms[i].Factor.Sign() > 0 {
						role = "pin width"
					}
					in.set(role, "a side play is the pin's width less the rod's")
				}
				if hh := headed(in); h == roleStretch && len(inputs) == 2 && (hh == "" || hh == roleReading) {
					role := "length new"
					if l.Terms[i].Factor.Sign() > 0 {
						role = "length now"
					}
					in.set(role, "a stretch is the length now less the length before")
				}
				if hh := headed(in); hh != "" && hh != roleBore && hh != roleJournal {
					in.set(hh, fmt.Sprintf("its heading, %q", title(in)))
				} else if h == roleTaper || h == roleRound {
					in.set(roleReading, "one of the readings whose difference is taken")
				} else if hh != "" {
					in.set(hh, fmt.Sprintf("its heading, %q", title(in)))
				}
			}
		}
	case own > 0 && r.clearanceShape(c, l, inputs) && (h == roleClearance || h == "" && !slices.Contains(l.Wraps, "ABS") && r.withinBore(l, inputs) || h == roleGap && r.namesBearing(inputs)) && !r.otherSizes(inputs):
		c.role, c.reason = roleClearance, fmt.Sprintf("its formula, %s, takes what lies within a bore from it", c.intent)
		r.bearing(c, l, inputs)
	case h == roleClearance && r.coarse(c, l, inputs):
		c.role, c.reason = "difference", because
		for _, in := range inputs {
			if hh := headed(in); hh == "" {
				in.set(roleReading, "one of two readings whose difference is taken")
			}
		}
	case h != "" && h != roleVerdict && !(part(h) && takesOff(l)):
		c.role, c.reason = h, fmt.Sprintf("its heading, %q", title(c))
	case len(l.Terms) > 1 && takesOff(l):
		c.role, c.reason = "difference", because
	case mean(l):
		c.role, c.reason = "average", because
	default:
		c.role, c.reason = roleNumber, because
	}
}

// mean reports whether a sum is so many cells, each by one part in as many.
func mean(l pattern.Linear) bool {
	part := big.NewRat(1, int64(max(len(l.Terms), 1)))
	return len(l.Terms) > 1 && l.Constant.Sign() == 0 && !slices.ContainsFunc(l.Terms, func(t pattern.Term) bool { return t.Factor.Cmp(part) != 0 })
}

// copied returns the role of the column on another sheet of which another is a copy, line by line.
func (r *reader) copied(c *column, a *calc.Area) string {
	if r.fixed(c.table, a) || a.Sheet == "" {
		return ""
	}
	index, ok := r.book.Index(a.Sheet)
	if !ok {
		return ""
	}
	if k, ok := r.kindOf(spot{index, a.From.Place}); ok && k.column != nil && (k.column.role == roleLocation || k.column.role == roleClearance) {
		return k.column.role
	}
	return ""
}

// leastOf returns the role of what is the least or the greatest of several that are computed in it; empty if a
// formula is nothing of the kind.
func leastOf(e calc.Expr) string {
	call, ok := e.(*calc.Call)
	if !ok || call.Name != "MIN" && call.Name != "MAX" || len(call.Args) < 2 {
		return ""
	}
	for _, a := range call.Args {
		if len(pattern.Areas(a)) == 0 {
			return "" // no less than nothing
		}
	}
	return aggregate(call.Name)
}

// gapRule reports whether a column is so much of a bore, as a fixed cell says it: what a ring's gap
// needs. It names that cell.
func (r *reader) gapRule(c *column, product *calc.Binary, h string) bool {
	if product == nil || product.Op != calc.Multiply || h != "" && h != "needed" && h != roleLeastGap && h != roleGap && h != roleLow {
		return false
	}
	bore, okX := product.X.(*calc.Area)
	factor, okY := product.Y.(*calc.Area)
	if okX && okY && r.fixed(c.table, bore) && r.columnOf(c.table, factor) != nil && headed(r.columnOf(c.table, factor)) == roleBore {
		bore, factor = factor, bore
	}
	if !okX || !okY || !r.fixed(c.table, factor) && factor.Sheet == "" {
		return false
	}
	index := c.table.sheet
	if factor.Sheet != "" {
		if index, okX = r.book.Index(factor.Sheet); !okX {
			return false
		}
	}
	in := r.columnOf(c.table, bore)
	if in == nil || headed(in) != roleBore {
		return false
	}
	s := spot{index, factor.From.Place}
	if f, ok := r.number(s); !ok || f <= 0.001 || f >= 0.02 {
		return false
	}
	r.u.roles.set(s, Meaning{Role: roleFactor, Reason: "a ring's gap is so much of its bore"})
	return true
}

// unrounded returns what a formula rounds.
func unrounded(e calc.Expr) calc.Expr {
	e = pattern.Unguarded(e)
	if call, ok := e.(*calc.Call); ok && strings.HasPrefix(call.Name, "ROUND") && len(call.Args) == 2 {
		return call.Args[0]
	}
	return e
}

// takesOff reports whether a sum takes something off.
func takesOff(l pattern.Linear) bool {
	return slices.ContainsFunc(l.Terms, func(t pattern.Term) bool { return t.Factor.Sign() < 0 })
}

// plainCopy reports whether a formula gives a cell as it is.
func plainCopy(l pattern.Linear) bool {
	return len(l.Wraps) == 0 && l.Constant.Sign() == 0 && l.Terms[0].Factor.Cmp(big.NewRat(1, 1)) == 0
}

// smallFactor reports whether a length is multiplied by what a ring gap's rule may be.
func smallFactor(l pattern.Linear) bool {
	f, _ := l.Terms[0].Factor.Float64()
	return f > 0.001 && f < 0.02
}

// packsFormula reports whether a quotient is rounded to a whole number.
func packsFormula(e calc.Expr) bool {
	c, ok := e.(*calc.Call)
	if !ok || !strings.HasPrefix(c.Name, "ROUND") && c.Name != "CEILING" || len(c.Args) == 0 {
		return false
	}
	b, ok := c.Args[0].(*calc.Binary)
	if len(c.Args) == 2 && strings.HasPrefix(c.Name, "ROUND") && c.Args[1].String() != "0" {
		return false // no whole number
	}
	return ok && b.Op == calc.Divide
}

// otherSizes reports whether headings say that what is added up is no part of a bearing.
func (r *reader) otherSizes(inputs []*column) bool {
	others := 0
	for _, in := range inputs {
		if in == nil {
			continue
		}
		switch headed(in) {
		case "", roleBore, roleUpper, roleLower, roleWall, roleJournal, rolePiston, roleReading, roleGrade:
		default:
			others++
		}
	}
	return 2*others > len(inputs)
}

// clearanceShape reports whether a sum takes what lies within a bore from it: what it takes
// off that is nearly as large as the bore, it takes off as often as it counts the bore.
func (r *reader) clearanceShape(c *column, l pattern.Linear, inputs []*column) bool {
	up, bore := new(big.Rat), 0.0
	for i, t := range l.Terms {
		if u, ok := parseUnit(inputs[i].unit); ok && u.dimension != "length" {
			return false
		}
		if t.Factor.Sign() > 0 {
			up.Add(up, t.Factor)
			bore = max(bore, r.typical(inputs[i]))
		}
	}
	if up.Sign() == 0 || l.Constant.Sign() != 0 || len(l.Terms) > 5 || r.otherUnit(c.table.sheet) != "" {
		return false
	}
	within, others := new(big.Rat), 0
	for i, t := range l.Terms {
		switch {
		case t.Factor.Sign() > 0:
		case r.typical(inputs[i]) > bore/2:
			within.Sub(within, t.Factor)
		default:
			others++
		}
	}
	if within.Sign() == 0 {
		known := bore > 0 && !slices.ContainsFunc(inputs, func(in *column) bool { return r.typical(in) == 0 })
		return others > 0 && (!known || headed(c) == roleClearance) // sizes that are not known yet
	}
	return within.Cmp(up) == 0 && !r.coarse(c, l, inputs)
}

// coarse reports whether a difference of two is too large a part of them for the clearance of anything that runs in a
// bore: it is one of readings.
func (r *reader) coarse(c *column, l pattern.Linear, inputs []*column) bool {
	if len(l.Terms) != 2 || len(l.Wraps) > 0 && l.Wraps[0] == "MAX" {
		return false
	}
	largest, scale := 0.0, 1.0
	for i, in := range inputs {
		if v := r.typical(in); v > largest {
			largest = v
			scale, _ = new(big.Rat).Abs(l.Terms[i].Factor).Float64()
		}
	}
	const most = 0.05 // of the bore
	return largest > 0 && r.typical(c) > most*largest*scale
}

// namesBearing reports whether headings name a bore and what runs in it.
func (r *reader) namesBearing(inputs []*column) bool {
	named := map[string]bool{}
	for _, in := range inputs {
		if in != nil {
			named[headed(in)] = true
		}
	}
	return named[roleBore] && (named[roleJournal] || named[rolePiston])
}

// withinBore reports whether what the others are taken from may be a bore: no heading says
// that it is something else, and nothing of the sum is larger.
func (r *reader) withinBore(l pattern.Linear, inputs []*column) bool {
	for i, in := range inputs {
		if l.Terms[i].Factor.Sign() <= 0 {
			continue
		}
		switch headed(in) {
		case "", roleBore, roleReading:
		default:
			return false
		}
		size := r.typical(in)
		for j, other := range inputs {
			if l.Terms[j].Factor.Sign() < 0 && r.typical(other) > size {
				return false
			}
		}
		return true
	}
	return false
}

// bearing names the parts of a bearing's clearance, or a piston's. Where the formula leaves
// a wall out that the headings name, what is meant is written anew.
func (r *reader) bearing(c *column, l pattern.Linear, inputs []*column) {
	t := c.table
	var bore, within *column
	var largest float64
	for i, in := range inputs {
		v := r.typical(in)
		switch {
		case bore == nil && l.Terms[i].Factor.Sign() > 0:
			bore = in
		case v > largest || within == nil:
			within, largest = in, v
		}
	}
	bore.set(roleBore, fmt.Sprintf("%s takes the others from it", c.at()))
	if headed(within) == rolePiston {
		within.set(rolePiston, fmt.Sprintf("its heading, %q", title(within)))
	} else {
		within.set(roleJournal, fmt.Sprintf("the largest that %s takes off", c.at()))
	}
	var walls []*column
	for _, other := range t.columns {
		if other == bore || other == within || other == c {
			continue
		}
		used := slices.Index(inputs, other)
		h := headed(other)
		if used >= 0 || r.typical(other) > 0 && (h == roleUpper || h == roleLower || h == roleWall && other.run == nil) {
			walls = append(walls, other)
		}
	}
	switch {
	case len(walls) == 2 && roleOf(walls[0].heading) == roleLower:
		walls[0].set(roleLower, "its heading")
		walls[1].set(roleUpper, "the other wall")
	case len(walls) == 2:
		walls[0].set(roleUpper, fmt.Sprintf("a wall that %s takes off", c.at()))
		walls[1].set(roleLower, fmt.Sprintf("a wall that %s takes off", c.at()))
	case len(walls) == 1:
		walls[0].set(roleWall, fmt.Sprintf("a wall that %s takes off", c.at()))
	default:
		return // of a piston, or no bearing that is known
	}
	r.correct(c, l, bore, within, walls)
}

// correct writes a clearance anew if its column leaves a wall out: a bearing has two.
func (r *reader) correct(c *column, l pattern.Linear, bore, within *column, walls []*column) {
	t := c.table
	line := t.lines[0]
	k := new(big.Rat).Abs(l.Terms[0].Factor)
	want := map[int]*big.Rat{bore.item: k, within.item: new(big.Rat).Neg(k)}
	text := t.place(line, bore.item).String()
	for _, w := range walls {
		f := new(big.Rat).Neg(k)
		factor := ""
		if len(walls) == 1 {
			f.Mul(f, big.NewRat(2, 1))
			factor = "2*"
		}
		want[w.item] = f
		text += fmt.Sprintf("-%s%s", factor, t.place(line, w.item))
	}
	text += "-" + t.place(line, within.item).String()
	same := len(l.Terms) == len(want)
	for _, term := range l.Terms {
		_, item := t.split(term.Area.From.Place)
		if f, ok := want[item]; !ok || f.Cmp(term.Factor) != 0 {
			same = false
		}
	}
	if same || !r.fits(bore, within, walls) {
		return
	}
	if k.Cmp(big.NewRat(1, 1)) != 0 {
		s := k.FloatString(9)
		text = fmt.Sprintf("(%s)*%s", text, strings.TrimRight(strings.TrimRight(s, "0"), "."))
	}
	if e, err := calc.Parse(text); err == nil {
		c.intent = e
		c.reason += "; all of its formulas leave a wall out, and a bearing has two"
	}
}

// fits reports whether a bearing's sizes leave room for two walls, and for no third. Where the
// walls of a heading are both of them together, only the sum as it stands is a clearance.
func (r *reader) fits(bore, within *column, walls []*column) bool {
	free := r.typical(bore) - r.typical(within)
	for _, w := range walls {
		free -= r.typical(w) * 2 / float64(len(walls))
	}
	const most = 0.02 // of the bore; a running clearance is a thousandth or two
	return free > 0 && free < most*r.typical(bore)
}

// mostTypical is of how many lines the middle is taken, spread over all of them.
const mostTypical = 1000

// typical returns the middle of a column's numbers.
func (r *reader) typical(c *column) float64 {
	if c == nil {
		return 0
	}
	var all []float64
	lines := c.table.lines
	for i := 0; i < len(lines); i += 1 + len(lines)/mostTypical {
		if v, ok := r.number(spot{c.table.sheet, c.table.place(lines[i], c.item)}); ok {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// assignUnits gives units to columns whose headings do not say them, by what formulas do.
func (r *reader) assignUnits(t *table) {
	for range 2 {
		for _, c := range t.columns {
			if c.intent == nil || c.role == roleVerdict {
				continue
			}
			if call, ok := pattern.Unguarded(c.intent).(*calc.Call); c.unit == "" && ok && lookUp(call.Name) {
				c.unit = r.lookedUnit(t.sheet, call)
			}
			if c.role == roleLookUp {
				continue
			}
			l, ok := pattern.LinearOf(c.intent)
			if !ok {
				r.alikeUnits(c)
				r.sharedUnit(c)
				continue
			}
			known := ""
			var scale *big.Rat
			for _, term := range l.Terms {
				if in := r.columnOf(t, term.Area); in != nil && in.unit != "" {
					known, scale = in.unit, new(big.Rat).Inv(new(big.Rat).Abs(term.Factor))
				}
			}
			if known == "" && c.role == roleClearance && r.otherUnit(t.sheet) == "" {
				for _, term := range l.Terms {
					if in := r.columnOf(t, term.Area); in != nil && (in.role == roleBore || term.Factor.Sign() > 0) {
						known, scale = r.guessed(in), new(big.Rat).Inv(new(big.Rat).Abs(term.Factor))
					}
				}
			}
			if a := l.Terms[0].Area; known == "" && c.unit == "" && len(l.Terms) == 1 && a.Sheet != "" && plainCopy(l) {
				if index, ok := r.book.Index(a.Sheet); ok {
					if k, ok := r.kindOf(spot{index, a.From.Place}); ok && k.column != nil {
						c.unit = k.column.unit
					}
				}
			}
			if known == "" {
				continue
			}
			for _, term := range l.Terms {
				if in := r.columnOf(t, term.Area); in != nil && in.unit == "" && len(l.Terms) > 1 {
					in.unit = known
				}
			}
			if c.unit == "" {
				by := new(big.Rat).Inv(scale)
				if u, ok := scaledUnit(known, by); ok {
					c.unit = u
				} else if c.role == roleLeastGap || c.role == roleToFile || c.role == "difference" {
					c.unit = known
				}
			}
		}
	}
}

// guessed returns the unit that a bore's size looks like: no engine's is so many inches.
func (r *reader) guessed(bore *column) string {
	if r.typical(bore) >= 7 {
		return "mm"
	}
	return "in"
}

// columnOf returns the column that a reference reads in its own line.
func (r *reader) columnOf(t *table, a *calc.Area) *column {
	_, item := t.split(a.From.Place)
	if a.Sheet != "" {
		return nil
	}
	return t.column(item)
}

// sharedUnit gives a spread or an aggregate the unit of what it reads.
func (r *reader) sharedUnit(c *column) {
	if c.unit != "" || c.role == roleCount || c.role == rolePacks || c.role == roleCost || c.role == "needed" {
		return
	}
	if quotient(c.intent) || givesFlags(c.intent) {
		return
	}
	defer func() {
		if all := pattern.Areas(c.intent); c.unit == "" && ofLength(c.role) && len(all) > 0 && all[0].Sheet != "" {
			if index, ok := r.book.Index(all[0].Sheet); ok {
				c.unit = r.sheetUnit(index)
			}
		}
	}()
	for _, a := range pattern.Areas(c.intent) {
		index := c.table.sheet
		if a.Sheet != "" {
			index, _ = r.book.Index(a.Sheet)
		}
		if k, ok := r.kindOf(spot{index, a.From.Place}); ok && k.column != nil && k.column.unit != "" {
			c.unit = squared(pattern.Unguarded(c.intent), k.column.unit)
			return
		}
	}
}

// lookedUnit returns the unit of the column in which a look-up finds what it gives.
func (r *reader) lookedUnit(index int, call *calc.Call) string {
	var a *calc.Area
	column := 0
	switch {
	case call.Name == "VLOOKUP" && len(call.Args) > 2:
		a, _ = call.Args[1].(*calc.Area)
		if n, ok := call.Args[2].(*calc.Number); ok {
			column, _ = strconv.Atoi(n.Text)
			column--
		}
	case call.Name == "INDEX" && len(call.Args) > 1:
		a, _ = call.Args[0].(*calc.Area)
	case call.Name == "XLOOKUP" && len(call.Args) > 2, call.Name == "LOOKUP" && len(call.Args) > 2:
		a, _ = call.Args[2].(*calc.Area)
	}
	if a == nil || a.Columns || a.Rows || a.From.Column+column > a.To.Column || a.From.Row >= a.To.Row {
		return ""
	}
	if a.Sheet != "" {
		other, ok := r.book.Index(a.Sheet)
		if !ok {
			return ""
		}
		index = other
	}
	at := sheet.Place{Row: a.From.Row, Column: a.From.Column + column}
	if k, ok := r.kindOf(spot{index, at}); ok && k.column != nil {
		return k.column.unit
	}
	heading, _, unitName := r.headings(&table{sheet: index, down: true}, at.Column, at.Row)
	if unitName == "" && part(roleOf(heading)) {
		unitName = r.sheetUnit(index)
	}
	return unitName
}

// quotient reports whether a formula divides by cells, so that its unit is not that of what it
// reads.
func quotient(e calc.Expr) (divides bool) {
	calc.Walk(e, func(e calc.Expr) bool {
		b, ok := e.(*calc.Binary)
		divides = divides || ok && b.Op == calc.Divide && len(pattern.Areas(b.Y)) > 0
		return true
	})
	return divides
}

// alikeUnits gives the typed columns that a formula adds up, or compares the sizes of, the unit
// of the others.
func (r *reader) alikeUnits(c *column) {
	var all []*column
	scaled := false
	var gather func(e calc.Expr)
	gather = func(e calc.Expr) {
		switch e := e.(type) {
		case *calc.Binary:
			if e.Op == calc.Add || e.Op == calc.Subtract {
				gather(e.X)
				gather(e.Y)
			} else if _, isNumber := e.Y.(*calc.Number); isNumber && e.Op != calc.Power {
				scaled = true
				gather(e.X)
			}
		case *calc.Call:
			if e.Name == "IF" && len(e.Args) == 3 && !asksWord(e.Args[0]) {
				gather(e.Args[1])
				gather(e.Args[2])
			}
			if slices.Contains([]string{"MIN", "MAX", "AVERAGE", "MEDIAN", "SUM", "ABS", "ROUND"}, e.Name) {
				for _, a := range e.Args {
					gather(a)
				}
			}
		case *calc.Area:
			line, from := c.table.split(e.From.Place)
			_, to := c.table.split(e.To.Place)
			for item := from; item <= to && e.Sheet == "" && line == c.table.lines[0] && to-from < 32; item++ {
				if in := c.table.column(item); in != nil {
					all = append(all, in)
				}
			}
		}
	}
	gather(pattern.Unguarded(c.intent))
	known := ""
	for _, in := range all {
		if in.unit != "" && known != "" && in.unit != known {
			return
		}
		known = max(known, in.unit)
	}
	if known == "" && !scaled {
		known = c.unit
	}
	for _, in := range all {
		if in.unit == "" && in.run == nil {
			in.unit = known
		}
	}
}

// inUnits corrects a factor that a whole column has and that its units contradict, where the
// sheet names the units of all that is read and of what comes out: *25 where a millimetre is
// made of an inch.
func (r *reader) inUnits(t *table) {
	for _, c := range t.columns {
		if c.intent == nil || !c.said || c.role != roleConverted && c.role != roleClearance {
			continue
		}
		l, ok := pattern.LinearOf(c.intent)
		if !ok || l.Constant.Sign() != 0 {
			continue
		}
		from, whole := "", true
		for _, term := range l.Terms {
			in := r.columnOf(t, term.Area)
			line, _ := t.split(term.Area.From.Place)
			whole = whole && in != nil && in.said && line == t.lines[0] && (from == "" || from == in.unit)
			if in != nil {
				from = in.unit
			}
		}
		k, comparable := ratio(from, c.unit)
		if !whole || !comparable {
			continue
		}
		have := new(big.Rat).Abs(l.Terms[0].Factor)
		off, _ := new(big.Rat).Quo(have, k).Float64()
		if off > 1-shortFactor && off < 1+shortFactor || !slipped(k, have, c.unit) {
			continue
		}
		var text strings.Builder
		for i, term := range l.Terms {
			n := new(big.Rat).Quo(term.Factor, have)
			sign := "+"
			if n.Sign() < 0 {
				sign = "-"
			}
			if n.Abs(n); i > 0 || sign == "-" {
				text.WriteString(sign)
			}
			if n.Cmp(big.NewRat(1, 1)) != 0 {
				text.WriteString(n.RatString() + "*")
			}
			text.WriteString(term.Area.String())
		}
		body := text.String()
		if len(l.Terms) > 1 {
			body = "(" + body + ")"
		}
		if k.Cmp(big.NewRat(1, 1)) != 0 {
			body += factorText(k)
		}
		if e, err := calc.Parse(body); err == nil {
			c.intent = e
			c.reason += fmt.Sprintf("; its unit, %s, asks for another factor than the formulas have", c.unit)
		}
	}
}

// slipped reports whether a factor is one that somebody may have written for another: one
// that is written short or left out, or that belongs to other units. Any other is a rule's.
func slipped(right, have *big.Rat, unitName string) bool {
	off, _ := new(big.Rat).Quo(have, right).Float64()
	one := big.NewRat(1, 1)
	switch {
	case off > 0.9 && off < 1.1:
		return true
	case have.Cmp(one) == 0:
		return true
	case right.Cmp(one) == 0 && have.Cmp(big.NewRat(1, 1000)) == 0:
		return false // the thousandth part of a size, as a rule of the trade has it
	}
	u, _ := parseUnit(unitName)
	typed, _ := have.Float64()
	for _, from := range usual[u.dimension] {
		for _, to := range usual[u.dimension] {
			if k, ok := ratio(from, to); ok && from != to {
				f, _ := k.Float64()
				if math.Abs(typed-f) <= 1e-3*f {
					return true
				}
			}
		}
	}
	return false
}

// shortFactor is how far off a factor may be, of its size, that is written short: 1.3558 for
// 1.35582, but not 1.356.
const shortFactor = 5e-5
