package understand

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A limit is one that a verdict compares with.
type limit struct {
	comparison *calc.Binary
	subject    calc.Expr
	bound      calc.Expr
	below      bool // the comparison is true of what is less than the bound
	inside     bool // what the comparison gives for what is within
	high       bool
	known      bool // on which side it is
	good       bool // a good word says what is within
}

// mostComparisons bounds the cases of a verdict that are gone through.
const mostComparisons = 10

// isVerdict reports whether a formula gives words by comparisons.
func isVerdict(e calc.Expr) bool {
	call, ok := e.(*calc.Call)
	if !ok || call.Name != "IF" && call.Name != "IFS" {
		return false
	}
	text := false
	for _, a := range call.Args {
		if _, isText := a.(*calc.Text); isText || isVerdict(a) {
			text = true
		}
	}
	return text && len(pattern.Comparisons(e)) > 0
}

// givesWords reports whether a formula gives one of some words, whatever it asks.
func givesWords(e calc.Expr) bool {
	_, isText := e.(*calc.Text)
	return !isText && allOutcomes(e, func(e calc.Expr) bool {
		text, ok := e.(*calc.Text)
		return ok && text.Value != ""
	})
}

// givesFlags reports whether a formula gives one of some numbers, whatever it asks: 1 for what is good, and 0.
func givesFlags(e calc.Expr) bool {
	_, isNumber := e.(*calc.Number)
	return !isNumber && allOutcomes(e, func(e calc.Expr) bool {
		_, ok := e.(*calc.Number)
		return ok
	})
}

// allOutcomes reports whether all that a formula may give is so.
func allOutcomes(e calc.Expr, is func(calc.Expr) bool) bool {
	if call, ok := e.(*calc.Call); ok && call.Name == "IF" && len(call.Args) == 3 {
		return allOutcomes(call.Args[1], is) && allOutcomes(call.Args[2], is)
	}
	return is(e)
}

// outcome returns what a verdict says if comparisons come out as told.
func outcome(e calc.Expr, told map[*calc.Binary]bool) (word string, ok bool) {
	switch e := e.(type) {
	case *calc.Text:
		return e.Value, true
	case *calc.Number:
		return e.Text, true
	case *calc.Logical:
		return fmt.Sprint(e.Value), true
	case *calc.Call:
		if e.Name != "IF" || len(e.Args) < 2 {
			return "", false
		}
		yes, ok := truth(e.Args[0], told)
		switch {
		case !ok:
			return "", false
		case yes:
			return outcome(e.Args[1], told)
		case len(e.Args) < 3:
			return "FALSE", true
		}
		return outcome(e.Args[2], told)
	}
	return "", false
}

func truth(e calc.Expr, told map[*calc.Binary]bool) (yes, ok bool) {
	switch e := e.(type) {
	case *calc.Binary:
		yes, ok = told[e]
		return yes, ok
	case *calc.Call:
		switch e.Name {
		case "AND", "OR":
			yes = e.Name == "AND"
			for _, a := range e.Args {
				if b, isSame := a.(*calc.Binary); isSame && b.Op == calc.Equal && e.Name == "AND" {
					continue // what else is asked of a good one
				}
				one, ok := truth(a, told)
				if !ok {
					return false, false
				}
				if e.Name == "AND" {
					yes = yes && one
				} else {
					yes = yes || one
				}
			}
			return yes, true
		case "NOT":
			if len(e.Args) == 1 {
				yes, ok = truth(e.Args[0], told)
				return !yes, ok
			}
		}
	}
	return false, false
}

// decode takes a verdict apart into its limits. words are what it can say, the one for what
// is within all limits first, if it is known.
func (r *reader) decode(c *column) (limits []limit, words []string) {
	verdict := pattern.Unguarded(c.intent)
	all := pattern.Comparisons(verdict)
	if len(all) > mostComparisons {
		return nil, nil
	}
	var inside map[*calc.Binary]bool
	many := false
	seen := map[string]bool{}
	for bits := range 1 << len(all) {
		told := map[*calc.Binary]bool{}
		for i, b := range all {
			told[b] = bits>>i&1 == 1
		}
		word, ok := outcome(verdict, told)
		if !ok {
			return nil, nil
		}
		if !seen[word] {
			seen[word] = true
			words = append(words, word)
		}
		if good(word) {
			many = inside != nil
			inside = told
		}
	}
	if many {
		inside = nil
	}
	if inside != nil && r.answersFault(c, verdict, all, inside) {
		inside = negated(inside)
	}
	for _, b := range all {
		l := limit{comparison: b, subject: b.X, bound: b.Y, below: b.Op == calc.Less || b.Op == calc.LessEqual}
		if r.isLimit(c, b.X) && !r.isLimit(c, b.Y) {
			l.subject, l.bound, l.below = b.Y, b.X, !l.below
		}
		limits = append(limits, l)
	}
	worded := inside != nil
	if !worded {
		inside = r.between(c, verdict, limits)
	}
	for i := range limits {
		if l := &limits[i]; inside != nil {
			l.inside = inside[l.comparison]
			l.high, l.known, l.good = l.below == l.inside, true, worded
		} else if op := l.comparison.Op; op.Comparison() && op != calc.Equal && op != calc.NotEqual {
			l.inside = op == calc.LessEqual || op == calc.GreaterEqual // a limit belongs to what is within it
			l.high, l.known = l.below == l.inside, true
		}
	}
	if word, ok := outcome(verdict, inside); ok && inside != nil {
		i := slices.Index(words, word)
		words[0], words[i] = words[i], words[0]
	}
	return limits, words
}

// answersFault reports whether a verdict of one comparison answers yes where a value is beyond its limit, as to "too
// wide?": a word beside the limit says on which side it is, or else the comparison does, which has the limit
// itself within.
func (r *reader) answersFault(c *column, verdict calc.Expr, all []*calc.Binary, inside map[*calc.Binary]bool) bool {
	if len(all) != 1 {
		return false
	}
	b := all[0]
	for _, yes := range []bool{true, false} {
		if word, _ := outcome(verdict, map[*calc.Binary]bool{b: yes}); !answer(word) {
			return false
		}
	}
	below := b.Op == calc.Less || b.Op == calc.LessEqual
	if a, ok := b.Y.(*calc.Area); ok && a.Single() {
		index := c.table.sheet
		if a.Sheet != "" {
			if index, ok = r.book.Index(a.Sheet); !ok {
				return false
			}
		}
		switch sideSaid(r.beside(spot{index, a.From.Place})) {
		case roleHigh:
			return below != inside[b]
		case roleLow:
			return below == inside[b]
		}
	}
	for _, word := range wordsOf(title(c)) {
		if good(strings.TrimSuffix(word, "?")) {
			return false // yes, it is good
		}
	}
	strict := b.Op == calc.Less || b.Op == calc.Greater
	return strict == inside[b] && b.Op.Comparison() && b.Op != calc.Equal && b.Op != calc.NotEqual
}

// negated returns comparisons as they come out otherwise.
func negated(told map[*calc.Binary]bool) map[*calc.Binary]bool {
	other := map[*calc.Binary]bool{}
	for b, yes := range told {
		other[b] = !yes
	}
	return other
}

// between returns how the comparisons come out for what lies within its limits, where no word
// of the verdict is known: between two numbers with which the same cell is compared, if the
// verdict says something else below them, something else above them, and something else where
// one of the other comparisons comes out otherwise. It is nil if there is no such case, or
// more than one.
func (r *reader) between(c *column, verdict calc.Expr, limits []limit) map[*calc.Binary]bool {
	told := map[*calc.Binary]bool{}
	paired := map[*calc.Binary]bool{}
	for i, a := range limits {
		for _, b := range limits[i+1:] {
			x, okX := r.boundOf(c, a.bound)
			y, okY := r.boundOf(c, b.bound)
			if !okX || !okY || x == y || a.subject.String() != b.subject.String() || paired[a.comparison] || paired[b.comparison] {
				continue
			}
			told[a.comparison], told[b.comparison] = a.below == (x > y), b.below == (y > x)
			paired[a.comparison], paired[b.comparison] = true, true
		}
	}
	if len(paired) == 0 {
		return nil
	}
	var others []*calc.Binary
	for _, l := range limits {
		if !paired[l.comparison] {
			others = append(others, l.comparison)
		}
	}
	var found map[*calc.Binary]bool
	for bits := range 1 << len(others) {
		one := maps.Clone(told)
		for i, b := range others {
			one[b] = bits>>i&1 == 1
		}
		if !decisive(verdict, one) {
			continue
		}
		if found != nil {
			return nil
		}
		found = one
	}
	return found
}

// decisive reports whether a verdict says something else as soon as any one comparison comes out
// otherwise.
func decisive(verdict calc.Expr, told map[*calc.Binary]bool) bool {
	word, ok := outcome(verdict, told)
	for b := range told {
		other := maps.Clone(told)
		other[b] = !other[b]
		if w, _ := outcome(verdict, other); w == word {
			return false
		}
	}
	return ok
}

// boundOf returns the number that a limit is in the first line.
func (r *reader) boundOf(c *column, e calc.Expr) (float64, bool) {
	if a, ok := e.(*calc.Area); ok && a.Single() {
		index := c.table.sheet
		if a.Sheet != "" {
			if index, ok = r.book.Index(a.Sheet); !ok {
				return 0, false
			}
		}
		return r.number(spot{index, a.From.Place})
	}
	return r.evaluate(c.table.sheet, e)
}

// isLimit reports whether one side of a comparison is the limit: a number, a cell that stays
// where it is, or a column that is headed as one.
func (r *reader) isLimit(c *column, e calc.Expr) bool {
	switch e := e.(type) {
	case *calc.Number:
		return true
	case *calc.Area:
		line, item := c.table.split(e.From.Place)
		if e.Sheet != "" || r.fixed(c.table, e) || !c.table.holds(line) {
			return true
		}
		if col := c.table.column(item); col != nil {
			role := roleOf(col.heading)
			return role == roleLow || role == roleHigh || role == roleLeastGap
		}
	}
	return false
}

// judge finds the limits of a table's verdicts, and says what their cells are.
func (r *reader) judge(t *table) {
	for _, c := range t.columns {
		if c.role != roleVerdict || c.intent == nil {
			continue
		}
		limits, words := r.decode(c)
		r.inclusive(c, limits)
		r.bothLimits(c, limits)
		var parts []string
		for _, l := range limits {
			side := "at least "
			if l.high {
				side = "at most "
			}
			parts = append(parts, fmt.Sprintf("%s %s%s", l.subject, side, l.bound))
			r.name(t, l, r.unitOf(t, l.subject))
			if a, ok := l.subject.(*calc.Area); ok && r.ruleOfBound(c, l.bound) == roleLeastGap {
				if gap := r.columnOf(t, a); gap != nil && gap.run == nil && gap.role == "" {
					gap.role, gap.reason = roleGap, "a verdict compares it with the least gap"
				}
			}
		}
		if c.reason = "its formula chooses among words"; len(parts) > 0 {
			c.reason = fmt.Sprintf("its formula compares %s", strings.Join(parts, ", "))
		}
		if len(words) > 0 {
			quoted := make([]string, len(words))
			for i, w := range words {
				quoted[i] = strconv.Quote(w)
			}
			c.reason += "; it says " + strings.Join(quoted, " or ")
		}
	}
}

// unitOf returns the unit of what is judged.
func (r *reader) unitOf(t *table, e calc.Expr) string {
	for _, a := range pattern.Areas(e) {
		line, item := t.split(a.From.Place)
		if c := t.column(item); c != nil && t.holds(line) && a.Sheet == "" {
			return c.unit
		}
	}
	return ""
}

// name gives the cells of a limit their role.
func (r *reader) name(t *table, l limit, unitName string) {
	if choice, ok := l.bound.(*calc.Call); ok && choice.Name == "IF" && len(choice.Args) == 3 { // by kind
		for _, one := range choice.Args[1:] {
			l.bound = one
			r.name(t, l, unitName)
		}
		return
	}
	a, ok := l.bound.(*calc.Area)
	if !ok || !a.Single() || !l.known {
		return
	}
	role, side := roleLow, "lower"
	if l.high {
		role, side = roleHigh, "upper"
	}
	line, item := t.split(a.From.Place)
	if a.Sheet == "" && !r.fixed(t, a) && t.holds(line) {
		if c := t.column(item); c != nil && (c.role != roleLeastGap || c.run == nil) {
			c.role, c.reason = role, "a verdict compares with it as the "+side+" limit"
			if c.unit == "" {
				c.unit = unitName
			}
		}
		return
	}
	index := t.sheet
	if a.Sheet != "" {
		if index, ok = r.book.Index(a.Sheet); !ok {
			return
		}
	}
	s := spot{index, a.From.Place}
	if u := r.unitBeside(s); u != "" {
		unitName = u
	}
	if !r.u.roles.known(s) {
		if roleOf(r.beside(s)) == "tolerance" {
			role = "tolerance"
		}
		r.u.roles.set(s, Meaning{Role: role, Unit: unitName, Reason: "verdicts compare with it as the " + side + " limit"})
	}
}

// unitBeside returns the unit that stands beside a single cell: to its right, in its number
// format, or in the words to its left or over it.
func (r *reader) unitBeside(s spot) string {
	if u, ok := parseUnit(r.book.Grids[s.sheet].Format(r.cell(s)).Unit); ok {
		return u.name
	}
	for column := s.at.Column + 1; column <= s.at.Column+3; column++ { // behind it and others of its row
		right := spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column}}
		if u, ok := parseUnit(r.cell(right).Text); ok && r.isText(right) {
			return u.name
		}
		if isRate(r.cell(right).Text) {
			return ""
		}
		if next := (spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column + 1}}); r.isText(right) && column == s.at.Column+1 && toWord(r.cell(right).Text) {
			if _, isNumber := r.number(next); isNumber {
				continue // 29.0 to 31.5 daN
			}
		}
		if _, isNumber := r.number(right); !isNumber || r.formulas.at(right) != nil {
			break
		}
	}
	for column := s.at.Column - 1; column > 0 && column > s.at.Column-4; column-- {
		if left := (spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column}}); r.isText(left) {
			if u, ok := parseUnit(r.cell(left).Text); ok {
				if _, behind := r.number(spot{s.sheet, sheet.Place{Row: s.at.Row, Column: column - 1}}); behind && column < s.at.Column-1 {
					break // the unit of another number
				}
				return u.name
			}
			if _, u, ok := splitUnit(r.cell(left).Text); ok {
				return u.name
			}
		}
	}
	for row := s.at.Row - 1; row > 0 && row > s.at.Row-12; row-- {
		if over := (spot{s.sheet, sheet.Place{Row: row, Column: s.at.Column}}); r.isText(over) {
			if _, u, ok := splitUnit(r.cell(over).Text); ok {
				return u.name
			}
			break
		}
	}
	return ""
}

// isRate reports whether a text is one unit for each of another, as N/mm or µm/m/K.
func isRate(text string) bool {
	first, _, found := strings.Cut(strings.TrimSpace(text), "/")
	_, ok := parseUnit(first)
	_, whole := parseUnit(text)
	return found && ok && !whole
}

// toWord reports whether a word stands between the two ends of a range.
func toWord(text string) bool {
	words := wordsOf(text)
	return len(words) == 0 || len(words) == 1 && slices.Contains([]string{"to", "bis", "a", "hasta", "and", "und", "et", "y", "max", "-"}, words[0])
}

// inclusive corrects comparisons that refuse a value on its limit: a limit belongs to what is
// within it. Without a good word nobody knows that there is anything within: it may be a scale.
func (r *reader) inclusive(c *column, limits []limit) {
	right := map[*calc.Binary]calc.Op{}
	for _, l := range limits {
		if !l.good || r.ruleOfBound(c, l.bound) == roleLeastGap {
			continue
		}
		op := l.comparison.Op
		switch {
		case l.inside && op == calc.Less:
			right[l.comparison] = calc.LessEqual
		case l.inside && op == calc.Greater:
			right[l.comparison] = calc.GreaterEqual
		case !l.inside && op == calc.LessEqual:
			right[l.comparison] = calc.Less
		case !l.inside && op == calc.GreaterEqual:
			right[l.comparison] = calc.Greater
		}
	}
	if len(right) == 0 {
		return
	}
	c.intent = pattern.Rewrite(c.intent, func(e calc.Expr) calc.Expr {
		b, ok := e.(*calc.Binary)
		if !ok {
			return nil
		}
		op, wrong := right[b]
		if !wrong {
			return nil
		}
		other := *b
		other.Op = op
		return &other
	})
}

// ruleOfBound returns the role of a limit that is computed in each line.
func (r *reader) ruleOfBound(c *column, e calc.Expr) string {
	if a, ok := e.(*calc.Area); ok {
		if col := r.columnOf(c.table, a); col != nil && col.run != nil {
			return col.role
		}
	}
	return ""
}

// bothLimits adds the comparison with a limit that stands in a column of the table and that no
// formula reads, where a verdict compares with the other one alone.
func (r *reader) bothLimits(c *column, limits []limit) {
	t := c.table
	call, ok := c.intent.(*calc.Call)
	if len(limits) != 1 || !limits[0].good || !limits[0].inside || !ok || call.Name != "IF" || len(call.Args) != 3 || call.Args[0] != calc.Expr(limits[0].comparison) {
		return
	}
	a, ok := limits[0].bound.(*calc.Area)
	if !ok || r.columnOf(t, a) == nil || r.fixed(t, a) {
		return
	}
	want, sign := roleHigh, "<="
	if limits[0].high {
		want, sign = roleLow, ">="
	}
	var unread []*column
	for _, other := range t.columns {
		if other.run == nil && roleOf(other.heading) == want && r.numbered(t, other.item) && !r.isRead(t, other) {
			unread = append(unread, other)
		}
	}
	if len(unread) != 1 {
		return
	}
	text := fmt.Sprintf("IF(AND(%s,%s%s%s),%s,%s)", limits[0].comparison, limits[0].subject, sign, t.place(t.lines[0], unread[0].item), call.Args[1], call.Args[2])
	e, err := calc.Parse(text)
	if err != nil {
		return
	}
	c.intent = e
	unread[0].role, unread[0].reason = want, fmt.Sprintf("its heading, %q; no verdict compares with it", title(unread[0]))
	unread[0].unit = r.unitOf(t, limits[0].subject)
}

// isRead reports whether a formula of the table reads a column.
func (r *reader) isRead(t *table, c *column) bool {
	for _, other := range t.columns {
		if other.intent == nil {
			continue
		}
		for _, a := range pattern.Areas(other.intent) {
			_, from := t.split(a.From.Place)
			_, to := t.split(a.To.Place)
			if a.Sheet == "" && from <= c.item && c.item <= to {
				return true
			}
		}
	}
	return false
}

// typedVerdicts takes words that are typed beside formulas, as in tables without them.
func (r *reader) typedVerdicts(t *table) {
	by := map[string][]*column{}
	for _, c := range t.columns {
		by[c.role] = append(by[c.role], c)
		if h := roleOf(c.heading); c.run == nil && h != c.role && (h == roleLow || h == roleHigh) {
			by[h] = append(by[h], c)
		}
	}
	for _, c := range by[roleVerdict] {
		if c.run != nil || !r.wordsIn(c) {
			continue
		}
		var judged []*column
		for _, k := range append(by[roleClearance], by[roleConverted]...) {
			if k.intent != nil {
				judged = append(judged, k)
			}
		}
		if len(judged) > 0 && t.down {
			r.proposeVerdict(c, judged, by, 1)
		}
		if c.intent == nil {
			r.notProven(c, cmp.Or(c.why, "no limits were found with which its words agree"))
		}
	}
}
