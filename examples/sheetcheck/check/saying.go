package check

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// judges reports whether a claim is a verdict.
func (c *claim) judges() bool {
	return c.unit == "" && c.have.kind != isNumber && len(pattern.Comparisons(c.right())) > 0
}

// measured reports whether a claim is computed from readings, so that an empty one is
// missing and not nothing.
func (c *claim) measured() bool { return c.unit != "" && c.of != nil }

// say writes down what is wrong with the claims and the inputs.
func (k *checking) say() {
	k.sayInputs()
	var typed []*claim
	for _, c := range k.claims {
		if c.wrong && !c.follows && !c.formula {
			if fitted := k.fits(c); len(fitted) > 0 {
				c.more().fitted = fitted
			}
			typed = append(typed, c)
		}
	}
	slices.SortStableFunc(typed, func(a, b *claim) int {
		return cmp.Or(cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.table, b.table), cmp.Compare(a.column, b.column), a.line()-b.line())
	})
	k.runs(typed)
	said := map[cellKey]bool{}
	for _, c := range k.claims {
		k.listed = [lists]bool{}
		k.sayClaim(c, said)
	}
	for _, r := range k.most {
		k.result.Notes = append(k.result.Notes, fmt.Sprintf("%d more findings about %s in sheet %q are not listed; correct the first ones and check again", r.unsaid, r.column, k.book.Grids[r.index].Name))
	}
	k.sayStale()
	k.sayContradictions()
}

// The lists of a result in which claims are said.
const (
	inFindings = iota
	inFollows
	inLatent
	lists
)

// list adds to a list what is to be said of a claim, unless so much is said of its rule there that
// it is only counted.
func (k *checking) list(c *claim, in int, say func() Finding) {
	if !k.listed[in] {
		k.listed[in] = true
		if c.said[in]++; c.said[in] > mostKept {
			if c.unsaid++; c.unsaid == 1 {
				k.most = append(k.most, c.rule)
			}
		}
	}
	if c.said[in] <= mostKept {
		list := [lists]*[]Finding{&k.result.Findings, &k.result.Follows, &k.result.Latent}[in]
		*list = append(*list, say())
	}
}

// mostWorked is how many findings show how what is right comes about.
const mostWorked = 200

func (k *checking) finding(c *claim, severity Severity, right string, causes ...explanation) Finding {
	f := Finding{Severity: severity, Table: c.table, Sheet: k.book.Grids[c.sheet].Name, Column: c.column, Count: 1,
		Ranges: []Span{{c.at, c.at}}}
	if k.worked++; k.worked <= mostWorked {
		f.Working = k.working(c)
	}
	for i, e := range causes {
		cause := Cause{Mistake: e.mistake, Says: e.says, Evidence: e.evidence}
		if i == 0 {
			f.Cause = cause
		} else if len(f.Others) < 5 {
			f.Others = append(f.Others, cause)
		}
	}
	f.Cells = []Cell{{At: c.at, Location: k.location(c), Claimed: k.claimed(c), Right: right, Says: f.Cause.Says}}
	if c.difference != nil {
		f.Cells[0].Formula = "=" + c.should().String()
	}
	return f
}

// location returns what the sheet calls the line that a claim is in.
func (k *checking) location(c *claim) string {
	if c.of == nil || c.of.Location == "" {
		return ""
	}
	line, _ := c.of.Line(c.of.Location)
	at := sheet.Place{Row: c.of.First() + c.line(), Column: line}
	if !c.of.Down() {
		at = sheet.Place{Row: line, Column: c.of.First() + c.line()}
	}
	return k.cell(cellKey{c.sheet, at}).Text
}

// working shows how a claim's right value comes about.
func (k *checking) working(c *claim) units.Working {
	w := units.Working{Name: c.column, Formula: c.text, Source: c.source, Result: c.want.shown(c.unit)}
	if c.judge != nil && c.judged && c.unsettled == "" && !c.judgement.swapped {
		w.Numbers, w.Result = strings.TrimPrefix(c.judgement.right(c.judge), c.judgement.verdict.String()+": "), c.judgement.verdict.String()
		return w
	}
	if w.Formula == "" {
		w.Formula = "=" + c.right().String()
	}
	var numbers []string
	for _, a := range pattern.Areas(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
		key := k.key(c, a)
		v := k.evaluated(k.corrected, k.names[key.sheet], key.at, true)
		if !a.Single() || len(numbers) == 8 || v.kind == isUnknown {
			continue
		}
		if part := a.String() + " " + v.shown(""); !slices.Contains(numbers, part) {
			numbers = append(numbers, part)
		}
	}
	if c.given != nil {
		numbers = k.texts(c, 0)
	}
	w.Numbers = strings.Join(numbers, ", ")
	return w
}

// claimed writes what a claim's cell holds.
func (k *checking) claimed(c *claim) string {
	if text := k.cell(c.cellKey).Text; text != "" {
		return text
	}
	return c.have.shown("")
}

// rightly says what is right.
func (c *claim) rightly() string {
	if c.judge != nil && c.judged && c.unsettled == "" && !c.judgement.swapped {
		return c.judgement.right(c.judge)
	}
	if c.places >= 0 && c.want.kind == isNumber {
		return strings.TrimSpace(strconv.FormatFloat(c.want.number, 'f', c.places, 64) + " " + c.unit)
	}
	return c.want.shown(c.unit)
}

func (k *checking) sayClaim(c *claim, said map[cellKey]bool) {
	severity := WrongValue
	if c.judges() {
		severity = WrongVerdict
	}
	if c.have.kind == isBlank || c.have.kind == isText && strings.TrimSpace(c.have.text) == "" && !c.lacksMark() {
		return // not computed, or shown as nothing: coverage says so
	}
	wrong := func(worth Severity, right string, causes ...explanation) {
		k.list(c, inFindings, func() Finding { return k.finding(c, worth, right, causes...) })
	}
	lack, lacks := k.lacks(c)
	if !k.inputs.Empty() && c.judges() && !lacks {
		for _, a := range pattern.Areas(c.right()) {
			judged := k.claimAt(k.key(c, a))
			if judged == nil || !a.Single() {
				continue
			}
			var from explanation
			if from, lacks = k.lacks(judged); lacks {
				lack = explanation{mistake: from.mistake, says: fmt.Sprintf("it judges %s; %s", a, strings.Replace(from.says, "it stands", "that stands", 1))}
				break
			}
		}
	}
	if lacks && k.note(c) {
		return
	}
	if c.judges() && k.sayLimits(c, said) {
		return
	}
	if lacks {
		wrong(severity, "", lack)
		return
	}
	if c.unsettled != "" {
		wrong(NotProven, "", explanation{mistake: NoAnswer, says: c.unsettled})
		return
	}
	if c.want.kind == isUnknown || c.have.kind == isUnknown {
		if c.formula && c.difference != nil { // which needs no value to be seen
			k.list(c, inLatent, func() Finding { return k.finding(c, Style, "", *c.difference) })
		}
		return
	}
	if c.judge != nil && k.sayVerdict(c, wrong) {
		return
	}
	if c.want.kind == isError && c.have.kind != isError {
		wrong(NotProven, "", explanation{mistake: NoAnswer, says: "its right formula gives " + c.want.text})
		return
	}
	if c.want.kind == isError && !c.wrong && c.difference == nil {
		e, worth := explanation{mistake: NoAnswer, says: fmt.Sprintf("it gives %s; look at what it stands on", c.have.text)}, NotProven
		if c.judges() {
			e.mistake, worth = ErrorCell, WrongVerdict
		}
		wrong(worth, "", e)
		return
	}
	latent := func() {
		e := c.difference
		if e == nil {
			if says := k.hiddenLine(c); says != "" {
				e = &explanation{mistake: HiddenRow, says: says, evidence: Formula}
			}
		}
		if e != nil {
			k.list(c, inLatent, func() Finding { return k.finding(c, Style, c.rightly(), *e) })
		}
	}
	switch {
	case !c.wrong:
		if e, ok := k.hangs(c); ok {
			wrong(severity, c.rightly(), e)
		}
		latent()
	case c.follows:
		k.list(c, inFollows, func() Finding {
			on := strings.Join(c.from.cells, ", ")
			says := "it stands on " + on
			if c.difference == nil {
				says = "its own formula is right; " + says
				if !c.formula {
					says = "it is right for what it stands on: " + on
				}
			}
			f := k.finding(c, severity, c.rightly(), explanation{mistake: Follows, says: says, evidence: Formula})
			f.From = c.from.cells
			return f
		})
		latent()
	default:
		k.list(c, inFindings, func() Finding { return k.finding(c, severity, c.rightly(), k.causes(c)...) })
	}
}

// lacksMark reports whether a verdict that is a mark or nothing, as crosses in columns are, says nothing where
// the mark is right.
func (c *claim) lacksMark() bool {
	call, ok := c.right().(*calc.Call)
	if !ok || !c.wrong || !c.judges() || call.Name != "IF" || len(call.Args) != 3 || c.want.kind != isText {
		return false
	}
	marks, nothing := 0, 0
	for _, a := range call.Args[1:] {
		if t, ok := a.(*calc.Text); ok && t.Value == "" {
			nothing++
		} else if ok {
			marks++
		}
	}
	return marks == 1 && nothing == 1
}

// note reports whether a cell holds a remark where there are no readings, and no claim.
func (k *checking) note(c *claim) bool {
	if c.formula || c.have.kind != isText {
		return false
	}
	if c.judge == nil {
		return !c.judges()
	}
	_, known := c.judge.words.say(c.have.text, measure.Conforming)
	return !known
}

// sayVerdict says what is wrong with a verdict called by name, where that is not another verdict.
func (k *checking) sayVerdict(c *claim, wrong func(Severity, string, ...explanation)) bool {
	_, known := c.judge.words.say(c.have.text, measure.Conforming)
	switch {
	case c.judgement.swapped:
		wrong(WrongVerdict, "nothing is proven", explanation{mistake: NoLimit, says: "the lower limit is above the upper one"})
	case c.have.kind == isError:
		wrong(WrongVerdict, c.rightly(), explanation{mistake: ErrorCell, says: fmt.Sprintf("%s holds %s", c.at, c.have.text)})
	case !known:
		wrong(Style, c.rightly(), explanation{mistake: NoWord, says: fmt.Sprintf("%q is no verdict that the map knows; add it there, to conforming or not_conforming", short(k.claimed(c)))})
	case !c.wrong && c.judgement.undecided:
		right, says := c.judgement.uncertain(c.judge)
		wrong(NotProven, right, explanation{mistake: Uncertain, says: says})
	default:
		return false
	}
	return true
}

// hangs reports a claim that is right as it is stored, but whose formula gives another value now, or
// in binary arithmetic.
func (k *checking) hangs(c *claim) (e explanation, hangs bool) {
	if !c.formula {
		return e, false
	}
	now, exactly := k.gives(c)
	if now.kind == isUnknown || c.same(now) || k.agrees(c, now) || k.roots(c) != nil {
		return e, false
	}
	what := map[bool]string{true: "verdict", false: "value"}[c.judges()]
	if exactly.kind != isUnknown && k.agrees(c, exactly) {
		return explanation{mistake: Residue, evidence: Formula, says: fmt.Sprintf("the stored %s is right, but it hangs on the last bit: the formula gives %q exactly and %q in binary arithmetic", what, exactly.shown(""), now.shown(""))}, true
	}
	return explanation{mistake: Stale, evidence: Formula, says: fmt.Sprintf("the stored %s is right, but the formula gives %q: it changes when the sheet is recalculated", what, now.shown(""))}, true
}

// gives returns what a claim's own formula gives in binary arithmetic and exactly: when the
// whole file is recalculated, where that is what the cell holds, else over what the other cells hold.
func (k *checking) gives(c *claim) (now, exactly value) {
	whole, err := k.written.At(k.ctx, k.names[c.sheet], c.at)
	now, exactly = c.rounded(valueFrom(whole.Binary)), c.rounded(valueFrom(whole.Exact))
	if err == nil && (c.same(now) || k.agrees(c, exactly) && !k.agrees(c, now)) {
		return now, exactly
	}
	p, err := k.own.At(k.ctx, shadow(k.names[c.sheet]), c.at)
	if err != nil {
		return value{kind: isUnknown}, value{kind: isUnknown}
	}
	return c.rounded(valueFrom(p.Binary)), c.rounded(valueFrom(p.Exact))
}

// causes are those of a claim that is wrong in itself: what its formula shows, or else the
// mistakes that give the number found, if that is no coincidence.
func (k *checking) causes(c *claim) []explanation {
	if c.formula {
		if now, _ := k.gives(c); now.kind != isUnknown && !c.same(now) {
			stale := explanation{mistake: Stale, evidence: Formula, says: fmt.Sprintf("the formula gives %s now; the file was saved without being recalculated", now.shown(c.unit))}
			if c.difference != nil && !k.agrees(c, now) {
				return []explanation{*c.difference, stale}
			}
			return []explanation{stale}
		}
	}
	if c.difference != nil {
		return append(c.fitted, *c.difference)
	}
	if !c.formula {
		switch {
		case k.cell(c.cellKey).Formula != "":
			return nil // one that cannot be read
		case c.have.kind == isError:
			return []explanation{{mistake: NoNumber, says: "it holds " + c.have.text}}
		case c.want.kind == isNumber && c.have.kind != isNumber:
			return []explanation{{mistake: NoNumber, says: fmt.Sprintf("%q is no number", short(k.claimed(c)))}}
		case c.judge != nil:
			return k.typedVerdict(c)
		case c.judges() && c.have.kind == isText:
			return []explanation{{mistake: TypedText, says: "another word was typed"}}
		}
		return c.fitted
	}
	now, exactly := k.gives(c)
	if now.kind != isUnknown && exactly.kind != isUnknown && k.agrees(c, exactly) {
		return []explanation{{mistake: Residue, evidence: Formula, says: fmt.Sprintf("a last bit decides: the formula gives %q exactly and %q in binary arithmetic", exactly.shown(""), now.shown(""))}}
	}
	return nil
}

// sayContradictions reports rules with which no line of their column agrees, though all have
// one formula: either the sheet is wrong in every line, or the map is.
func (k *checking) sayContradictions() {
	type count struct{ lines, against int }
	counts := map[*rule]*count{}
	for _, t := range k.sieve.tables {
		for i := range t.claims {
			counts[t.claims[i].rule] = &count{lines: t.passed.count(t.formulas[i])}
		}
	}
	for _, c := range k.claims {
		if c.formula && c.of != nil && c.have.kind != isBlank {
			if counts[c.rule] == nil {
				counts[c.rule] = &count{}
			}
			counts[c.rule].lines++
			if c.difference != nil && c.usual == nil {
				counts[c.rule].against++
			}
		}
	}
	for _, c := range k.claims {
		n := counts[c.rule]
		if n == nil || n.lines < 3 || n.against < n.lines {
			continue
		}
		delete(counts, c.rule)
		k.result.Notes = append(k.result.Notes, fmt.Sprintf("the map says that %s should be =%s in %s, and no formula of that column reads so: the sheet is wrong in every line, or the map is", c.column, c.right(), k.where(c.cellKey)))
	}
}

// digits counts the digits of a number from the first that is not zero.
func digits(text string) int {
	text = strings.TrimLeft(strings.ReplaceAll(text, ".", ""), "-0")
	return len(text)
}

// key returns the cell that a reference of a claim's formula names.
func (k *checking) key(c *claim, a *calc.Area) cellKey {
	index := c.sheet
	if a.Sheet != "" {
		if other, ok := k.book.Index(a.Sheet); ok {
			index = other
		}
	}
	return cellKey{index, a.From.Place}
}

// lacks says which reading of a measured claim is empty, or is no number.
func (k *checking) lacks(c *claim) (e explanation, lacks bool) {
	if k.inputs.Empty() || !c.measured() && !c.judges() {
		return e, false
	}
	right := pattern.Resolve(k.book, c.sheet, c.at, c.right())
	minded := pattern.Minded(right)
	for _, a := range pattern.Areas(right) {
		key := k.key(c, a)
		in := k.inputAt(key)
		if !a.Single() || in == nil || minded[a.String()] || in.of != c.of || strings.HasPrefix(in.role, "limit") {
			continue
		}
		if k.cell(key).Blank() {
			return explanation{mistake: NoReading, says: fmt.Sprintf("it stands on %s, which is empty", key.at)}, true
		}
		if in.number == "" {
			return explanation{mistake: NoNumber, says: fmt.Sprintf("it stands on %s, and %q is no number", key.at, short(in.text))}, true
		}
	}
	return e, false
}

// sayLimits reports a verdict beside a limit that is not there, and the limit's cell once.
func (k *checking) sayLimits(c *claim, said map[cellKey]bool) bool {
	found := false
	for _, b := range pattern.Comparisons(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
		for _, side := range []calc.Expr{b.X, b.Y} {
			a, ok := side.(*calc.Area)
			if !ok || !a.Single() {
				continue
			}
			key := k.key(c, a)
			cell := k.cell(key)
			if cell.Formula != "" || cell.Kind() == sheet.KindNumber {
				continue
			}
			in := k.inputAt(key)
			beside := in != nil && strings.HasPrefix(in.role, "limit") && in.of == c.of
			fixed := a.Sheet != "" || a.From.RowFixed || a.From.ColumnFixed
			if !beside && !fixed {
				continue
			}
			what := "is blank"
			if !cell.Blank() {
				what = fmt.Sprintf("holds %q", short(cell.Text))
			}
			says := explanation{mistake: NoLimit, says: fmt.Sprintf("the limit in %s %s, and %s says %q", a, what, c.at, short(k.claimed(c)))}
			k.list(c, inFindings, func() Finding { return k.finding(c, NotProven, "", says) })
			found = true
			if said[key] {
				continue
			}
			said[key] = true
			k.list(c, inFindings, func() Finding {
				f := k.finding(c, NotProven, "", says)
				f.Sheet, f.Column, f.Ranges = k.book.Grids[key.sheet].Name, "limit", []Span{{key.at, key.at}}
				f.Cells, f.Working = []Cell{{At: key.at, Claimed: cell.Text, Says: says.says}}, units.Working{}
				return f
			})
		}
	}
	return found
}

// mostSteps bounds the cells that are looked at for what others follow from.
const mostSteps = 20_000_000

// mostRoots is how many cells are named from which something follows.
const mostRoots = 12

// A roots is the cells from which wrong values follow. Those of very many may follow from the same.
type roots struct{ cells []string }

// roots returns the cells from which a claim's wrong value follows; nil if there are none.
func (k *checking) roots(c *claim) *roots {
	var all []string
	var of *roots // the first ones
	for _, a := range pattern.Areas(pattern.Resolve(k.book, c.sheet, c.at, c.right())) {
		from := k.key(c, a)
		for row := from.at.Row; row <= min(a.To.Row, from.at.Row+10_000); row++ {
			for column := from.at.Column; column <= min(a.To.Column, from.at.Column+64); column++ {
				key := cellKey{from.sheet, sheet.Place{Row: row, Column: column}}
				if k.steps++; key == c.cellKey || len(all) == mostRoots || k.steps > mostSteps {
					continue
				}
				other := k.claimAt(key)
				in := k.inputAt(key)
				switch {
				case other != nil && other.wrong && !k.following(other), in != nil && in.number != "" && !in.stated:
					all = joined(all, k.where(key))
				case other != nil && other.wrong && len(all) == 0:
					of, all = other.from, slices.Clip(other.from.cells)
				case other != nil && other.wrong:
					all = joined(all, other.from.cells...)
				}
			}
		}
	}
	switch {
	case len(all) == 0:
		return nil
	case of != nil && len(of.cells) == len(all):
		return of // nothing was added
	}
	slices.Sort(all)
	return &roots{all}
}

// joined adds to names those that are not among them yet, up to mostRoots.
func joined(all []string, more ...string) []string {
	for _, name := range more {
		if len(all) < mostRoots && !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	return all
}

// follow says of every claim whether it follows. Claims that read lines further on are asked from
// the last on, so that asking one does not ask all.
func (k *checking) follow() {
	on := map[*rule]bool{}
	for _, c := range k.claims {
		if _, known := on[c.rule]; !known {
			on[c.rule] = c.readsOn()
		}
	}
	for _, c := range slices.Backward(k.claims) {
		if on[c.rule] {
			k.following(c)
		}
	}
	for _, c := range k.claims {
		k.following(c)
	}
}

// readsOn reports whether a rule's claims read lines below their own, or to their right.
func (r *rule) readsOn() bool {
	if r.of == nil || r.base == nil {
		return false
	}
	return slices.ContainsFunc(pattern.Areas(r.base), func(a *calc.Area) bool {
		if r.of.Down() {
			return !a.To.RowFixed && a.To.Row > r.of.First()
		}
		return !a.To.ColumnFixed && a.To.Column > r.of.First()
	})
}

// following reports whether a claim that is wrong stands on a wrong cell and its formula is
// not to blame. It is asked while claims are traced, so it follows the same rule by itself.
func (k *checking) following(c *claim) bool {
	if c.traced == 0 {
		c.traced = 1 // a ring of cells is nobody's consequence
		k.trace(c)
		c.traced = 2
	}
	return c.follows
}

// where names a cell: "Mains!F13", or "F13" in a text file.
func (k *checking) where(key cellKey) string {
	if name := k.book.Grids[key.sheet].Name; name != "" {
		return name + "!" + key.at.String()
	}
	return key.at.String()
}

// sayInputs reports texts where numbers belong.
func (k *checking) sayInputs() {
	slices.SortFunc(k.worded, func(a, b *input) int {
		return cmp.Or(cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.at.Row, b.at.Row), cmp.Compare(a.at.Column, b.at.Column))
	})
	for _, in := range k.worded {
		if k.inputAt(cellKey{in.sheet, in.at}) != in {
			continue // another table reads it too
		}
		if strings.HasPrefix(in.role, "limit") && in.number == "" {
			continue // said with the verdict
		}
		if in.stated {
			continue // a size with its unit, which the map allows
		}
		f := Finding{Severity: WrongValue, Table: in.of.Name, Sheet: k.book.Grids[in.sheet].Name, Column: in.column, Count: 1, Ranges: []Span{{in.at, in.at}},
			Cells: []Cell{{At: in.at, Claimed: in.text, Right: in.number}},
			Cause: Cause{Mistake: StoredText, Says: fmt.Sprintf("%q is a text, which sums leave out and comparisons hold greater than any number", short(in.text))}}
		if in.number == "" {
			f.Severity, f.Cause = NotProven, Cause{Mistake: NoNumber, Says: fmt.Sprintf("%q is no number", short(in.text))}
		}
		f.Cells[0].Says = f.Cause.Says
		k.result.Findings = append(k.result.Findings, f)
	}
	k.result.Findings = append(k.result.Findings, k.far...)
}

// mostStale is how many formulas outside the map are listed whose stored value they do not give.
const mostStale = 1000

// sayStale reports formulas outside the map whose stored value they do not give.
func (k *checking) sayStale() {
	stale := 0
	for i, g := range k.book.Grids {
		for at, c := range g.Cells() {
			key := cellKey{i, at}
			if c.Formula == "" || k.claimAt(key) != nil || c.Kind() == sheet.KindNone || k.sieve.rule(key) != nil {
				continue
			}
			have := valueOf(c)
			if now := k.evaluated(k.written, k.names[i], key.at, false); now.kind == isUnknown || have.agrees(now) {
				continue
			}
			if stale++; stale > mostStale {
				continue
			}
			now := k.evaluated(k.own, shadow(k.names[i]), key.at, false)
			if now.kind == isUnknown || have.agrees(now) {
				continue // it follows from another
			}
			says := fmt.Sprintf("the formula gives %s now; the file was saved without being recalculated", now.shown(""))
			k.result.Findings = append(k.result.Findings, Finding{Severity: WrongValue, Sheet: g.Name, Column: "formula", Count: 1, Ranges: []Span{{key.at, key.at}},
				Cells: []Cell{{At: key.at, Claimed: c.Text, Right: now.shown(""), Says: says}}, Cause: Cause{Mistake: Stale, Says: says, Evidence: Formula}})
		}
	}
	if stale > mostStale {
		k.result.Notes = append(k.result.Notes, fmt.Sprintf("%d formulas that the map does not name do not give what is stored; the first %d were looked at", stale, mostStale))
	}
}

// cover says how much of the book was checked, and what was not.
func (k *checking) cover() {
	v := &k.result.Coverage
	for i, g := range k.book.Grids {
		for at, cell := range g.Cells() {
			key := cellKey{i, at}
			c := k.claimAt(key)
			if c == nil && cell.Formula == "" || c == nil && k.sieve.rule(key) != nil {
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
	for _, t := range k.sieve.tables {
		for i := range t.claims {
			n := t.passed.count(t.formulas[i]) + t.passed.count(t.values[i])
			v.Cells, v.Checked, k.result.Claims = v.Cells+n, v.Checked+n, k.result.Claims+n
		}
	}
	columns := map[cellKey]bool{}
	for _, c := range k.claims {
		switch {
		case c.of == nil:
		case c.of.Down():
			k.sieve.sheets[c.sheet].rows.add(c.at.Row)
		default:
			columns[cellKey{c.sheet, sheet.Place{Column: c.at.Column}}] = true
		}
	}
	for _, of := range k.sieve.sheets {
		k.result.Rows += of.rows.count(of.rows)
	}
	k.result.Rows += len(columns)
}
