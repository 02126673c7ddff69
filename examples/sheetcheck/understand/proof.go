package understand

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/chance"
)

// provenFurther proves the columns of a table without formulas that provenTable leaves open.
func (r *reader) provenFurther(t *table) {
	line := t.lines[0]
	name := func(c *column) string { return t.place(line, c.item).String() }
	by := map[string][]*column{}
	for _, c := range t.columns {
		by[c.role] = append(by[c.role], c)
	}
	one := func(role string) *column {
		if len(by[role]) == 0 {
			return nil
		}
		return by[role][0]
	}
	all := func(roles ...string) (text string, ok bool) {
		var names []string
		for _, role := range roles {
			for _, c := range by[role] {
				names = append(names, name(c))
			}
		}
		return strings.Join(names, "-"), len(names) > 0
	}
	law := func(role, text, from, why string) {
		if c := one(role); c != nil && c.intent == nil && text != "" {
			r.propose(c, text, from, why)
		}
	}
	if long, wide := one("journal length"), one("housing width"); long != nil && wide != nil {
		text := name(long) + "-" + name(wide)
		if washers, ok := all("washer"); ok {
			text += "-" + washers
		}
		law("end play", text, long.unit, "the journal's length less what stands in it")
	}
	if pin := one("pin width"); pin != nil {
		if rods, ok := all("rod width"); ok {
			law("side play", name(pin)+"-"+rods, pin.unit, "the pin's width less the rods'")
		}
	}
	if dials := by["dial"]; len(dials) == 2 {
		for _, role := range []string{"end play", "dial travel"} {
			law(role, "MAX("+name(dials[0])+","+name(dials[1])+")-MIN("+name(dials[0])+","+name(dials[1])+")", dials[0].unit, "the dial's one reading less the other")
		}
	}
	if now, new := one("length now"), one("length new"); now != nil && new != nil {
		law(roleStretch, name(now)+"-"+name(new), new.unit, "the length now less the length before")
	}
	if used, new := one("length used"), one("length new"); used != nil && new != nil {
		for _, c := range by[roleStretch] {
			if c.intent == nil {
				r.propose(c, name(used)+"-"+name(new), new.unit, "the length now less the length before")
			}
		}
	}
	if bore, least := one(roleBore), one(roleLeastGap); bore != nil && least != nil && least.intent == nil {
		if k := r.constantRatio(least, bore); k != "" {
			law(roleLeastGap, name(bore)+"*"+k, bore.unit, "so much of the bore")
		}
	}
	if least, gap := one(roleLeastGap), one(roleGap); least != nil && gap != nil {
		law(roleToFile, "MAX(0,"+name(least)+"-"+name(gap)+")", gap.unit, "what the least gap has more than the one found")
	}
	if reading, nominal := one(roleReading), one("nominal"); reading != nil && nominal != nil {
		law("difference", name(reading)+"-"+name(nominal), reading.unit, "what is read less what it should be")
	}
	if off, low, high := one("difference"), one(roleLow), one(roleHigh); off != nil && off.intent != nil {
		if both := by["tolerance"]; len(both) == 2 {
			if low, high = both[0], both[1]; r.typical(low) > r.typical(high) {
				low, high = high, low
			}
		}
		if low != nil && high != nil {
			law(roleBeyond, fmt.Sprintf("MAX(0,%s-%s)+MIN(0,%s-%s)", name(off), name(high), name(off), name(low)), off.unit, "what the deviation has beyond its tolerances")
			by[roleLow], by[roleHigh] = []*column{low}, []*column{high}
			for _, c := range by[roleVerdict] {
				if c.intent == nil && r.wordsIn(c) {
					r.proposeVerdict(c, []*column{off}, by, 1)
				}
			}
		}
	}
	r.provenOrders(by, law, name)
	for _, c := range t.columns {
		if c.intent == nil && (c.role == roleTaper || c.role == roleRound || c.role == "range") {
			r.proveSpread(c)
		}
	}
	for _, c := range t.columns {
		if c.intent == nil && (claimable(c.role) && !bought(c.role) || c.role == "" && r.fine(c)) && c != t.columns[0] {
			r.proveSum(c)
		}
	}
	for _, c := range t.columns { // what is there in one unit, again in another
		for _, other := range t.columns {
			if c == other || c.intent != nil || other.role != c.role || c.unit == "" || other.unit == "" || c.unit == other.unit || c.item < other.item || c.role == "" || c.role == roleVerdict {
				continue
			}
			if _, ok := ratio(other.unit, c.unit); ok {
				if r.propose(c, name(other), other.unit, "the same in another unit"); c.intent != nil {
					c.role = roleConverted
				}
			}
		}
	}
	for _, c := range by[roleVerdict] {
		if c.intent != nil || r.told[spotOf(c, line)] || c.mark == "" && !r.wordsIn(c) {
			continue
		}
		var judged []*column
		for _, k := range t.columns {
			if k.intent != nil && k.role != roleConverted && k.role != roleVerdict && k.item < c.item {
				judged = append(judged, k)
			}
		}
		for i := len(judged) - 1; i >= 0 && c.intent == nil; i-- {
			r.proposeVerdict(c, judged[i:i+1], by, len(judged))
		}
		if c.intent == nil {
			r.notProven(c, cmp.Or(c.why, "no limits were found with which its words agree"))
		}
	}
}

func spotOf(c *column, line int) spot { return spot{c.table.sheet, c.table.place(line, c.item)} }

// provenOrders proves what is bought in packs.
func (r *reader) provenOrders(by map[string][]*column, law func(role, text, from, why string), name func(*column) string) {
	one := func(role string) string {
		if len(by[role]) == 0 {
			return ""
		}
		return name(by[role][0])
	}
	needed, stock, buy, size, packs, bought, price := one("needed"), one("stock"), one("to buy"), one("pack size"), one(rolePacks), one("bought"), one("price")
	want := needed
	if needed != "" && stock != "" {
		want = "MAX(0," + needed + "-" + stock + ")"
		law("to buy", want, "", "what is needed and not in stock")
	}
	if buy != "" {
		want = buy
	}
	if want != "" && size != "" {
		law(rolePacks, "ROUNDUP(("+want+")/"+size+",0)", "", "whole packs of what is to buy")
	}
	if packs != "" && size != "" {
		law("bought", packs+"*"+size, "", "packs of so many")
	}
	if bought != "" && needed != "" {
		text := bought + "-" + needed
		if stock != "" {
			text = bought + "+" + stock + "-" + needed
		}
		law("left over", text, "", "what is there and not needed")
	}
	if packs != "" && price != "" {
		law(roleCost, packs+"*"+price, "", "packs at their price")
	}
}

// constantRatio returns by what a column is another one's part, if it is the same in most
// lines; empty if it is not.
func (r *reader) constantRatio(c, of *column) string {
	var all []float64
	for _, l := range c.table.lines {
		x, okX := r.number(spotOf(c, l))
		y, okY := r.number(spotOf(of, l))
		if okX && okY && y != 0 {
			all = append(all, x/y)
		}
	}
	if len(all) < leastProof {
		return ""
	}
	slices.Sort(all)
	k := all[len(all)/2]
	for digits := 1; digits <= 3; digits++ {
		text := strconv.FormatFloat(k, 'g', digits, 64)
		short, err := strconv.ParseFloat(text, 64)
		if err == nil && math.Abs(short-k) < 0.01*k && !strings.ContainsAny(text, "e") {
			return text
		}
	}
	return ""
}

// leastProof is how many lines must agree, at least, with what no heading says.
const leastProof = 3

// bought reports whether a role is a count or a price of what is bought: small whole numbers,
// of which some are sums of others by chance.
func bought(role string) bool {
	return role == rolePacks || role == roleCost || role == "to buy" || role == "bought" || role == "left over"
}

// fine reports whether a column's numbers have places enough that they are no sums of others
// by chance.
func (r *reader) fine(c *column) bool {
	fine := 0
	for _, l := range c.table.lines {
		if s := spotOf(c, l); !r.cell(s).Blank() && halfPlace(r.cell(s)) < 0.006 {
			fine++
		}
	}
	return fine > leastProof && 2*fine > len(c.table.lines)
}

// proveSpread looks for readings of one size of which a column is the greatest less the least.
func (r *reader) proveSpread(c *column) {
	var like []*column
	for _, k := range c.table.columns {
		if k == c || k.intent != nil || k.role == roleVerdict || k.role == roleLocation || claimable(k.role) {
			continue
		}
		if k.role == roleReading || k.role == roleJournal || k.role == roleBore || k.role == roleWall || k.role == "" {
			if r.typical(k) > 0 {
				like = append(like, k)
			}
		}
	}
	try := func(some []*column) {
		if len(some) < 2 || c.intent != nil {
			return
		}
		var names []string
		for _, k := range some {
			if v := r.typical(k); v < 0.98*r.typical(some[0]) || v > 1.02*r.typical(some[0]) {
				return
			}
			names = append(names, c.table.place(c.table.lines[0], k.item).String())
		}
		text := strings.Join(names, ",")
		if _, agree, of := r.agreement(c, "MAX("+text+")-MIN("+text+")", some[0].unit); len(some) < len(like) && !nearlyAll(agree, of) {
			return
		}
		if r.propose(c, "MAX("+text+")-MIN("+text+")", some[0].unit, "the greatest of its readings less the least"); c.intent == nil {
			return
		}
		for _, k := range some {
			k.set(roleReading, "one of the readings whose difference is taken")
		}
	}
	const most = 12
	like = like[:min(len(like), most)]
	for n := len(like); n >= 2; n-- { // those side by side, all of them first
		for from := 0; from+n <= len(like); from++ {
			try(like[from : from+n])
		}
	}
}

// mostSums bounds the sums that are tried for one column.
const mostSums = 4000

// A trial is a sum that a column may be: one part less others, of which one may count twice.
type trial struct {
	from  int
	less  []int
	twice int // of the others; -1 for none
	scale float64
}

// value returns what a trial gives in a line; have are the numbers of each part.
func (s *trial) value(have [][]float64, line int) float64 {
	sum := have[s.from][line]
	for _, k := range s.less {
		if sum -= have[k][line]; k == s.twice {
			sum -= have[k][line]
		}
	}
	return s.scale * sum
}

// trials returns the sums of so many parts that are tried, no more than mostSums.
func trials(parts int, scales []float64) (all []trial) {
	for _, scale := range scales {
		for from := range parts {
			for _, less := range subsets(parts, from) {
				all = append(all, trial{from, less, -1, scale})
				if len(less) == 2 { // a wall that counts twice
					all = append(all, trial{from, less, less[0], scale}, trial{from, less, less[1], scale})
				}
				if len(all) > mostSums {
					return all
				}
			}
		}
	}
	return all
}

// summands returns the columns that another one may be a sum of.
func (r *reader) summands(c *column) (parts []*column) {
	for _, k := range c.table.columns {
		if k != c && k.intent == nil && k.role != roleVerdict && k.role != roleLocation && !claimable(k.role) && k.role != roleLow && k.role != roleHigh && r.typical(k) != 0 {
			parts = append(parts, k)
		}
	}
	return parts
}

// How many columns a sum is looked for in, and in how many lines.
const (
	mostSummands = 14
	mostSumLines = 24
)

// proveSum looks for a column from which others are taken so that it gives what stands in
// another: in all lines but few.
func (r *reader) proveSum(c *column) {
	t := c.table
	parts := r.summands(c)
	if len(t.lines) < leastProof || len(parts) > mostSummands || len(parts) < 2 {
		return
	}
	lines := t.lines[:min(len(t.lines), mostSumLines)]
	numbers := func(k *column) []float64 {
		var all []float64
		for _, l := range lines {
			v, ok := r.number(spotOf(k, l))
			if !ok {
				v = math.NaN()
			}
			all = append(all, v)
		}
		return all
	}
	want := numbers(c)
	var have [][]float64
	for _, k := range parts {
		have = append(have, numbers(k))
	}
	scales := []float64{1}
	if c.unit == "µm" || c.unit == "thou" {
		scales = append(scales, 1000)
	}
	all := trials(len(parts), scales)
	for _, s := range all {
		agree, of := 0, 0
		for i, l := range lines {
			off := math.Abs(s.value(have, i) - want[i])
			if math.IsNaN(off) {
				continue
			}
			of++
			if off <= halfPlace(r.cell(spotOf(c, l)))+1e-9 {
				agree++
			}
		}
		if nearlyAll(agree, of) || of >= 2*leastProof && r.noChance(c, agree, of, len(all)) {
			r.takeSum(c, parts, s)
			return
		}
	}
}

// noChance reports whether so many lines of a column agree with one of the sums tried that it is no chance, though
// others do not: two thirds of them, and each agrees by chance as often as a step of its last place comes in the
// range in which most of its numbers lie.
func (r *reader) noChance(c *column, agree, of, tried int) bool {
	if 3*agree < 2*of || of < leastProof {
		return false
	}
	var values []float64
	step := 0.0
	for _, l := range c.table.lines {
		if v, ok := r.number(spotOf(c, l)); ok {
			values = append(values, v)
			step = max(step, 2*halfPlace(r.cell(spotOf(c, l))))
		}
	}
	return chance.Excluded(chance.Agreeing(agree, of, step/usualRange(values)), tried)
}

// usualRange returns twice the range of the middle half of some numbers, which a few that are far off do not widen.
func usualRange(values []float64) float64 {
	values = slices.Clone(values)
	slices.Sort(values)
	return 2 * (values[3*len(values)/4] - values[len(values)/4])
}

// subsets returns up to three of n numbers, without one of them, the smallest sets first.
func subsets(n, without int) (all [][]int) {
	for size := 1; size <= 3; size++ {
		var choose func(from int, some []int)
		choose = func(from int, some []int) {
			if len(some) == size {
				all = append(all, slices.Clone(some))
				return
			}
			for i := from; i < n; i++ {
				if i != without {
					choose(i+1, append(some, i))
				}
			}
		}
		choose(0, nil)
	}
	return all
}

// takeSum takes a column for the sum that its numbers are.
func (r *reader) takeSum(c *column, parts []*column, s trial) {
	t := c.table
	name := func(k *column) string { return t.place(t.lines[0], k.item).String() }
	text := name(parts[s.from])
	largest := parts[s.less[0]]
	for _, k := range s.less {
		text += "-"
		if k == s.twice {
			text += "2*"
		}
		text += name(parts[k])
		if r.typical(parts[k]) > r.typical(largest) {
			largest = parts[k]
		}
	}
	if s.scale != 1 {
		text = fmt.Sprintf("(%s)*%g", text, s.scale)
	}
	if r.propose(c, text, "", "its numbers are this sum"); c.intent == nil {
		return
	}
	if c.role != roleClearance && (c.role != "" || len(s.less) < 2 || r.typical(c) >= r.typical(largest)/50) {
		if c.role == "" {
			c.role = "difference"
		}
		return
	}
	c.role = roleClearance
	parts[s.from].set(roleBore, fmt.Sprintf("%s takes the others from it", c.at()))
	largest.set(roleJournal, fmt.Sprintf("the largest that %s takes off", c.at()))
	walls := []string{roleUpper, roleLower}
	if len(s.less) == 2 {
		walls = []string{roleWall}
	}
	for _, k := range s.less {
		if parts[k] != largest && len(walls) > 0 {
			parts[k].set(walls[0], fmt.Sprintf("a wall that %s takes off", c.at()))
			walls = walls[1:]
		}
	}
}
