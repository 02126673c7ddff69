package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// judges reports whether a claim is a verdict.
func (c *claim) judges() bool {
	return c.verdicts && c.unit == "" && c.have.kind != isNumber
}

// measured reports whether a claim is computed from readings, so that an empty one is
// missing and not nothing.
func (c *claim) measured() bool { return c.unit != "" && c.of != nil }

// say writes down what is wrong with the claims and the inputs.
func (k *formulaCheck) say() {
	k.sayInputs()
	empty := map[cellKey]sheet.Place{}
	for _, c := range k.claims {
		if at, ok := k.emptyReading(c); ok {
			empty[c.cellKey] = at
		}
	}
	said := map[cellKey]bool{}
	for _, c := range k.claims {
		k.sayClaim(c, empty, said)
	}
	k.sayStale()
}

func (k *formulaCheck) finding(c *claim, severity Severity, right string, e explanation) Finding {
	f := Finding{Severity: severity, Table: c.table, Sheet: k.book.Grids[c.sheet].Name, Column: c.column, Count: 1,
		Ranges: []Span{{c.at, c.at}}, Cells: []Cell{{At: c.at, Location: c.location, Claimed: k.claimed(c), Right: right}},
		Cause: Cause{Mistake: e.mistake, Says: e.says}}
	return f
}

// claimed writes what a claim's cell holds.
func (k *formulaCheck) claimed(c *claim) string {
	if text := k.cell(c.cellKey).Text; text != "" {
		return text
	}
	return c.have.shown("")
}

func (k *formulaCheck) sayClaim(c *claim, empty map[cellKey]sheet.Place, said map[cellKey]bool) {
	severity := WrongValue
	if c.judges() {
		severity = WrongVerdict
	}
	right := c.want.shown(c.unit)
	if c.have.kind == isBlank || c.have.kind == isText && strings.TrimSpace(c.have.text) == "" {
		return // not computed, or shown as nothing: coverage says so
	}
	if c.judges() && k.sayLimits(c, said) {
		return
	}
	if at, ok := empty[c.cellKey]; ok {
		k.result.Findings = append(k.result.Findings, k.finding(c, severity, "", explanation{mistake: NoReading,
			says: fmt.Sprintf("it stands on %s, which is empty", at)}))
		return
	}
	if len(empty) > 0 && c.judges() {
		for _, a := range pattern.Areas(c.right()) {
			if at, ok := empty[k.key(c, a)]; ok && a.Single() {
				k.result.Findings = append(k.result.Findings, k.finding(c, severity, "", explanation{mistake: NoReading,
					says: fmt.Sprintf("it judges %s, which stands on %s, which is empty", a, at)}))
				return
			}
		}
	}
	if c.want.kind == isUnknown || c.have.kind == isUnknown {
		if c.formula && c.difference != nil { // which needs no value to be seen
			k.result.Latent = append(k.result.Latent, k.finding(c, Style, "", *c.difference))
		}
		return
	}
	if c.want.kind == isError && c.have.kind != isError {
		k.result.Findings = append(k.result.Findings, k.finding(c, NotProven, "", explanation{mistake: NoAnswer, says: "its right formula gives " + c.want.text}))
		return
	}
	if c.want.kind == isError && !c.wrong && c.difference == nil {
		e, worth := explanation{mistake: NoAnswer, says: fmt.Sprintf("it gives %s; look at what it stands on", c.have.text)}, NotProven
		if c.judges() {
			e.mistake, worth = ErrorCell, WrongVerdict
		}
		k.result.Findings = append(k.result.Findings, k.finding(c, worth, "", e))
		return
	}
	switch {
	case !c.wrong && c.difference != nil:
		k.result.Latent = append(k.result.Latent, k.finding(c, Style, right, *c.difference))
	case !c.wrong:
		if says := k.hiddenLine(c); says != "" {
			k.result.Latent = append(k.result.Latent, k.finding(c, Style, right, explanation{mistake: HiddenRow, says: says}))
		}
	case c.follows:
		says := "it stands on " + strings.Join(c.from, ", ")
		if c.difference == nil {
			says = "its own formula is right; " + says
		}
		f := k.finding(c, severity, right, explanation{mistake: Follows, says: says})
		f.From = c.from
		k.result.Follows = append(k.result.Follows, f)
		if c.difference != nil {
			k.result.Latent = append(k.result.Latent, k.finding(c, Style, right, *c.difference))
		} else if says := k.hiddenLine(c); says != "" {
			k.result.Latent = append(k.result.Latent, k.finding(c, Style, right, explanation{mistake: HiddenRow, says: says}))
		}
	default:
		k.result.Findings = append(k.result.Findings, k.finding(c, severity, right, k.cause(c)))
	}
}

// cause is the cause of a claim that is wrong in itself: what its formula shows, or else a
// mistake that gives the number found, if that is no coincidence.
func (k *formulaCheck) cause(c *claim) explanation {
	if c.difference != nil {
		return *c.difference
	}
	if c.formula {
		now := k.evaluated(k.own, shadow(k.names[c.sheet]), c.at, false)
		if !c.have.agrees(now) && now.kind != isUnknown {
			return explanation{mistake: Stale, says: fmt.Sprintf("the formula gives %s now; the file was saved without being recalculated", now.shown(c.unit))}
		}
		if c.judges() {
			return explanation{mistake: Residue, says: "the value is on the limit, and a residue of binary arithmetic decides"}
		}
		return explanation{}
	}
	return k.fits(c)
}

// leastDigits is how many digits a number needs, at least, for a mistake to be named that
// gives it: fewer agree with anything.
const leastDigits = 3

// fits tries mistakes on a typed value. Where the size alone would agree with many, none is
// named.
func (k *formulaCheck) fits(c *claim) (none explanation) {
	if c.have.kind != isNumber || c.want.kind != isNumber || c.want.number == 0 {
		if c.have.kind == isText && c.judges() {
			return explanation{mistake: TypedText, says: "another word was typed"}
		}
		return none
	}
	near := func(v float64) bool {
		return math.Abs(c.have.number-v) <= c.have.half*(1+1e-6)+residue && math.Abs(v) > 25*c.have.half
	}
	for _, m := range moves() {
		f, _ := m.factor.Float64()
		if near(c.want.number*f) && digits(c.have.text) >= leastDigits-1 {
			return explanation{mistake: DecimalPoint, says: "this number would fit: the decimal point is moved " + m.says}
		}
	}
	l, ok := pattern.LinearOf(pattern.Resolve(k.book, c.sheet, c.at, c.right()))
	if !ok {
		return none
	}
	scale := 1.0
	for _, t := range l.Terms {
		scale, _ = t.Factor.Float64()
		break
	}
	for _, t := range l.Terms {
		v := k.evaluated(k.corrected, k.names[c.sheet], t.Area.From.Place, true)
		f, _ := t.Factor.Float64()
		d := &differing{k: k, claim: c}
		role, _ := d.column(t.Area)
		if v.kind != isNumber {
			continue
		}
		if role == wallRole && near(c.want.number+math.Abs(scale)*v.number) || (role == "upper" || role == "lower") && near(c.want.number-f*v.number) {
			return explanation{mistake: OneWall, says: fmt.Sprintf("this number would fit: %s is left out", t.Area)}
		}
	}
	for _, f := range []float64{25.4, 1 / 25.4} {
		if near(c.want.number*f) && digits(c.have.text) >= leastDigits-1 {
			return explanation{mistake: Inch, says: "this number would fit: inches and millimetres are mixed"}
		}
	}
	return none
}

// digits counts the digits of a number from the first that is not zero.
func digits(text string) int {
	text = strings.TrimLeft(strings.ReplaceAll(text, ".", ""), "-0")
	return len(text)
}

// key returns the cell that a reference of a claim's formula names.
func (k *formulaCheck) key(c *claim, a *calc.Area) cellKey {
	index := c.sheet
	if a.Sheet != "" {
		if other, ok := k.book.Index(a.Sheet); ok {
			index = other
		}
	}
	return cellKey{index, a.From.Place}
}

// emptyReading returns the first reading of a measured claim that is empty.
func (k *formulaCheck) emptyReading(c *claim) (at sheet.Place, ok bool) {
	if !c.measured() && !c.judges() {
		return at, false
	}
	if len(k.inputs) == 0 {
		return at, false
	}
	k.reads(c, func(a calc.Area) bool {
		key := k.key(c, &a)
		in := k.inputs[key]
		if a.Single() && in != nil && in.of == c.of && k.cell(key).Blank() && !strings.HasPrefix(in.role, "limit") {
			at, ok = key.at, true
		}
		return !ok
	})
	return at, ok
}

// sayLimits reports a verdict beside a limit that is not there, and the limit's cell once.
func (k *formulaCheck) sayLimits(c *claim, said map[cellKey]bool) bool {
	found := false
	k.compares(c, func(a calc.Area) bool {
		key := k.key(c, &a)
		cell := k.cell(key)
		if cell.Formula != "" || cell.Kind() == sheet.KindNumber {
			return true
		}
		in := k.inputs[key]
		beside := in != nil && strings.HasPrefix(in.role, "limit") && in.of == c.of
		fixed := a.Sheet != "" || a.From.RowFixed || a.From.ColumnFixed
		if !beside && !fixed {
			return true
		}
		what := "is blank"
		if !cell.Blank() {
			what = fmt.Sprintf("holds %q", short(cell.Text))
		}
		limit := a
		says := explanation{mistake: NoLimit, says: fmt.Sprintf("the limit in %s %s, and %s says %q", &limit, what, c.at, short(k.claimed(c)))}
		k.result.Findings = append(k.result.Findings, k.finding(c, NotProven, "", says))
		found = true
		if said[key] {
			return true
		}
		said[key] = true
		f := k.finding(c, NotProven, "", says)
		f.Sheet, f.Column, f.Ranges = k.book.Grids[key.sheet].Name, "limit", []Span{{key.at, key.at}}
		f.Cells = []Cell{{At: key.at, Claimed: cell.Text}}
		k.result.Findings = append(k.result.Findings, f)
		return true
	})
	return found
}

// mostSteps bounds the cells that are looked at for what others follow from.
const mostSteps = 20_000_000

// mostRoots is how many cells are named from which something follows.
const mostRoots = 12

// roots returns the cells from which a claim's wrong value follows.
func (k *formulaCheck) roots(c *claim) (all []string) {
	seen := map[cellKey]bool{c.cellKey: true}
	var visit func(c *claim)
	visit = func(c *claim) {
		for _, a := range pattern.Areas(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
			from := k.key(c, a)
			for row := from.at.Row; row <= min(a.To.Row, from.at.Row+10_000); row++ {
				for column := from.at.Column; column <= min(a.To.Column, from.at.Column+64); column++ {
					key := cellKey{from.sheet, sheet.Place{Row: row, Column: column}}
					if k.steps++; seen[key] || len(all) == mostRoots || k.steps > mostSteps {
						continue
					}
					seen[key] = true
					other := k.at[key]
					in := k.inputs[key]
					switch {
					case other != nil && other.wrong && !k.following(other), in != nil && in.number != "":
						all = append(all, k.where(key))
					case other != nil && other.wrong:
						visit(other)
					}
				}
			}
		}
	}
	visit(c)
	slices.Sort(all)
	return all
}

// following reports whether a claim that is wrong stands on a wrong cell and its formula is
// not to blame. It is asked while claims are traced, so it follows the same rule by itself.
func (k *formulaCheck) following(c *claim) bool {
	if c.traced == 0 {
		c.traced = 1 // a ring of cells is nobody's consequence
		k.trace(c)
		c.traced = 2
	}
	return c.follows
}

// where names a cell: "Mains!F13", or "F13" in a text file.
func (k *formulaCheck) where(key cellKey) string {
	if name := k.book.Grids[key.sheet].Name; name != "" {
		return name + "!" + key.at.String()
	}
	return key.at.String()
}

// sayInputs reports texts where numbers belong.
func (k *formulaCheck) sayInputs() {
	var all []*input
	for _, in := range k.inputs {
		if in.text != "" && strings.TrimSpace(in.text) != "" {
			all = append(all, in)
		}
	}
	slices.SortFunc(all, func(a, b *input) int { return a.compare(b.cellKey) })
	for _, in := range all {
		if strings.HasPrefix(in.role, "limit") && in.number == "" {
			continue // said with the verdict
		}
		f := Finding{Severity: WrongValue, Table: in.table, Sheet: k.book.Grids[in.sheet].Name, Column: in.column, Count: 1, Ranges: []Span{{in.at, in.at}},
			Cells: []Cell{{At: in.at, Claimed: in.text, Right: in.number}},
			Cause: Cause{Mistake: StoredText, Says: fmt.Sprintf("%q is a text, which sums leave out and comparisons hold greater than any number", short(in.text))}}
		if in.number == "" {
			f.Severity, f.Cause = NotProven, Cause{Mistake: NoNumber, Says: fmt.Sprintf("%q is no number", short(in.text))}
		}
		k.result.Findings = append(k.result.Findings, f)
	}
}

// sayStale reports formulas outside the map whose stored value they do not give.
func (k *formulaCheck) sayStale() {
	for i, g := range k.book.Grids {
		for at, c := range g.Cells() {
			key := cellKey{i, at}
			if c.Formula == "" || k.at[key] != nil || c.Kind() == sheet.KindNone {
				continue
			}
			have, now := valueOf(c), k.evaluated(k.own, shadow(k.names[i]), key.at, false)
			if now.kind == isUnknown || have.agrees(now) {
				continue
			}
			k.result.Findings = append(k.result.Findings, Finding{Severity: WrongValue, Sheet: g.Name, Column: "formula", Count: 1, Ranges: []Span{{key.at, key.at}},
				Cells: []Cell{{At: key.at, Claimed: c.Text, Right: now.shown("")}},
				Cause: Cause{Mistake: Stale, Says: fmt.Sprintf("the formula gives %s now; the file was saved without being recalculated", now.shown(""))}})
		}
	}
}

// cover says how much of the book was checked, and what was not.
func (k *formulaCheck) cover() {
	v := &k.result.Coverage
	for i, g := range k.book.Grids {
		for at, cell := range g.Cells() {
			key := cellKey{i, at}
			c := k.at[key]
			if c == nil && cell.Formula == "" {
				continue
			}
			if c != nil && cell.Blank() && cell.Formula == "" {
				continue
			}
			v.Cells++
			why := ""
			switch {
			case c == nil:
				why = "its formula belongs to nothing that the map names; it was only recalculated"
			case c.want.kind == isUnknown:
				why = c.want.text
			case c.have.kind == isUnknown:
				why = c.have.text
			case c.have.kind == isBlank:
				why = "it holds no value"
			default:
				v.Checked++
				k.result.Claims++
				continue
			}
			k.result.Unchecked = append(k.result.Unchecked, Unchecked{Sheet: g.Name, At: key.at, Why: why})
		}
	}
	lines := map[cellKey]bool{}
	for _, c := range k.claims {
		if c.of != nil {
			key := cellKey{c.sheet, sheet.Place{Row: c.at.Row}}
			if !c.of.Down() {
				key = cellKey{c.sheet, sheet.Place{Column: c.at.Column}}
			}
			lines[key] = true
		}
	}
	k.result.Rows += len(lines)
}
