package job

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// shellSet is the shells of one kind of bearing: the mains, or the rods.
type shellSet struct {
	name      string // "main bearing"
	locations []string
	walls     []clearance.Alternative // the shells that exist

	shells []grading.Assignment // none without codes
	rows   []codeRow            // the rows of codes that can be read in more than one way
	order  request              // what to buy; the needs are yet to be known where a code is illegible
}

// A request is what to buy for a kind of bearing.
type request = purchase.Request[grading.Part]

// readShells reads the shells of every kind of bearing.
func (r *reader) readShells(e *Engine, tables map[string]shellsTable) []shellSet {
	kinds := map[string][]string{"main": e.Mains, "rod": e.Cylinders}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if kinds[name] == nil {
			r.unknown("shells."+name, "kind of bearing", name, []string{"main", "rod"})
		}
	}
	var sets []shellSet
	for _, name := range []string{"main", "rod"} {
		t, ok := tables[name]
		if !ok {
			continue
		}
		path := "shells." + name
		set := shellSet{name: name + " bearing", locations: kinds[name]}
		set.walls = r.readWalls(path+".walls", t.Walls)
		var scheme *grading.Scheme
		switch {
		case t.Codes != nil && t.Grades != nil:
			scheme = &grading.Scheme{Name: set.name, Housing: codes(t.Grades.Upper), Journal: codes(t.Grades.Lower), Shells: existing(t.Walls)}
			set.shells, set.rows = r.assign(path, set, t, scheme)
		case t.Codes != nil:
			r.fail(path+".codes", "codes without grades: %w; add [%s.grades], which says the shell for each code", ErrMissing, path)
		case t.Grades != nil:
			r.fail(path+".grades", "grades without codes: %w; add [%s.codes], with the codes as stamped", ErrMissing, path)
		}
		set.order.Stock = r.counts(path+".stock", t.Stock)
		for i, p := range t.Packs {
			set.order.Packs = append(set.order.Packs, r.pack(fmt.Sprintf("%s.packs[%d]", path, i), p))
		}
		if scheme != nil {
			r.check(path+".stock", scheme.CheckParts(set.order.Stock))
			for i, p := range set.order.Packs {
				r.check(fmt.Sprintf("%s.packs[%d].holds", path, i), scheme.CheckParts(p.Parts))
			}
		}
		sets = append(sets, set)
	}
	return sets
}

// codeRow is a row of codes that can be read in more than one way.
type codeRow struct {
	key     string // "upper_row"
	reading grading.RowReading
}

// assign finds the shells for the stamped codes: the upper one by the code on the
// housing, the lower one by the code on the journal.
func (r *reader) assign(path string, set shellSet, t shellsTable, scheme *grading.Scheme) ([]grading.Assignment, []codeRow) {
	housing, ok1 := r.row(path+".codes.upper", t.Codes.Upper, t.Codes.UpperRow, grading.Housing, scheme, set.locations)
	journal, ok2 := r.row(path+".codes.lower", t.Codes.Lower, t.Codes.LowerRow, grading.Journal, scheme, set.locations)
	if !ok1 || !ok2 {
		return nil, nil
	}
	shells, err := scheme.Assign(housing, journal)
	r.check(path+".codes", err)
	var open []codeRow
	for _, row := range []codeRow{{"upper_row", housing}, {"lower_row", journal}} {
		if len(row.reading.Others) > 0 {
			open = append(open, row)
		}
	}
	return shells, open
}

// existing makes the shells that exist. What is wrong with a wall is said by readWalls.
func existing(t *wallsTable) []grading.Shell {
	if t == nil {
		return nil
	}
	var list []grading.Shell
	for half, walls := range []map[string]string{t.Upper, t.Lower} {
		for _, grade := range slices.Sorted(maps.Keys(walls)) {
			wall, _ := units.ParseLengthInterval(walls[grade])
			list = append(list, grading.Shell{Grade: grade, Half: []grading.Half{grading.Upper, grading.Lower}[half], Wall: wall})
		}
	}
	return list
}

// codes makes the codes of a side from the shell that each calls for.
func codes(shells map[string]string) []grading.Code {
	var list []grading.Code
	for _, code := range slices.Sorted(maps.Keys(shells)) {
		list = append(list, grading.Code{Code: code, Shell: shells[code]})
	}
	return list
}

// row reads a row of codes as stamped.
func (r *reader) row(path, text string, how *rowTable, side grading.Side, s *grading.Scheme, locations []string) (grading.RowReading, bool) {
	if !r.present(path, text) {
		return grading.RowReading{}, false
	}
	row := grading.Row{Text: text, Side: side, Locations: locations, Codes: s.Codes(side)}
	if how != nil {
		ok1, ok2 := r.end(path+"_row.begins", how.Begins, locations), r.end(path+"_row.mark_at", how.MarkAt, locations)
		if !ok1 || !ok2 {
			return grading.RowReading{}, false
		}
		row.From, row.MarkAt = how.Begins, how.MarkAt
		row.Mark, row.Upright = how.Mark, how.Upright
	}
	reading, err := row.Read()
	if errors.Is(err, grading.ErrLocations) {
		return grading.RowReading{}, false // said of the list of locations itself
	}
	return reading, r.check(path, err)
}

// end checks that a name, if there is one, is of an end of the engine: of its first or
// its last location.
func (r *reader) end(path, name string, locations []string) bool {
	switch {
	case name == "":
		return true
	case len(locations) == 0:
		return false // an error of its own
	case name == locations[0], name == locations[len(locations)-1]:
		return true
	}
	r.fail(path, "location %q: %w; a row begins at one of its ends: write %q or %q", name, ErrUnknown, locations[0], locations[len(locations)-1])
	return false
}

// mostParts is how many shells of a kind a job may count.
const mostParts = 10_000

// counts reads numbers of shells.
func (r *reader) counts(path string, tables []partTable) []purchase.Count[grading.Part] {
	var counts []purchase.Count[grading.Part]
	for i, t := range tables {
		at := fmt.Sprintf("%s[%d]", path, i)
		half, ok := read(r, at+".half", t.Half, grading.ParseHalf)
		if !r.present(at+".grade", t.Grade) || !ok {
			continue
		}
		n := 1
		if t.Count != nil {
			n = *t.Count
		}
		if n < 1 || n > mostParts {
			r.fail(at+".count", "%d of %s; write how many there are, from 1 to %d", n, t.Grade, mostParts)
			continue
		}
		counts = append(counts, purchase.Count[grading.Part]{Part: grading.Part{Grade: t.Grade, Half: half}, N: n})
	}
	return counts
}

// pack reads a pack on sale.
func (r *reader) pack(path string, t packTable) purchase.Pack[grading.Part] {
	r.present(path+".name", t.Name)
	p := purchase.Pack[grading.Part]{Name: t.Name, Parts: r.counts(path+".holds", t.Holds)}
	if len(t.Holds) == 0 {
		r.fail(path+".holds", "%w: %w", purchase.ErrRequest, errors.New("list the shells that it holds"))
	}
	if price, ok := read(r, path+".price", t.Price, parsePrice); ok {
		p.Price = &price
	}
	return p
}

// parsePrice reads an amount of money, without its currency.
func parsePrice(s string) (decimal.Decimal, error) {
	const most = 20
	if len(s) > most || strings.ContainsAny(s, "eE") {
		return decimal.Decimal{}, fmt.Errorf("%.40q is no price; write it plainly, as 12.50", s)
	}
	if strings.Contains(s, ",") {
		return decimal.Decimal{}, fmt.Errorf("%q has a comma; write %q", s, strings.ReplaceAll(s, ",", "."))
	}
	price, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no price; write it as 12.50, and the currency under [show]", s)
	}
	if price.IsNegative() {
		return decimal.Decimal{}, &units.Error{Kind: purchase.ErrRequest, Found: s + " is below zero", Fix: "write what the pack costs"}
	}
	return price, nil
}

// shellsOf finds what to buy for a set of bearings; nil if it has no codes. Locations
// that are proven outside with the shells that the codes call for are left out.
func (j *Job) shellsOf(ctx context.Context, set shellSet, outside []string) (*Shells, error) {
	if len(set.shells) == 0 {
		return nil, nil
	}
	s := &Shells{Bearings: set.name, HeldBack: outside}
	var wanted []grading.Assignment
	for _, a := range set.shells {
		if !slices.Contains(outside, a.Location) {
			wanted = append(wanted, a)
		}
		s.Choices = append(s.Choices,
			choice(a, "upper", a.Housing.Code, func(p grading.Pair) grading.Part { return p.Upper }),
			choice(a, "lower", a.Journal.Code, func(p grading.Pair) grading.Part { return p.Lower }))
	}
	demand, err := grading.Demand(wanted)
	switch {
	case errors.Is(err, grading.ErrUndecided):
		s.Open = &Action{Measure, fmt.Sprintf("%s shells: %s Until then nothing is ordered.", set.name, set.question(wanted))}
		return s, nil
	case err != nil:
		return nil, err
	}
	order := set.order
	order.Needs = grading.Needs(demand, nil)
	bought, err := purchase.Cheapest(ctx, order)
	if errors.Is(err, purchase.ErrUnserved) {
		s.Open = &Action{Order, fmt.Sprintf("%s shells: %s.", set.name, err)}
		return s, nil
	}
	if err != nil && (bought == nil || !errors.Is(err, context.DeadlineExceeded)) {
		return nil, fmt.Errorf("%s shells: %w", set.name, err)
	}
	s.Purchase = j.purchase(bought, order)
	return s, nil
}

// question says what the codes leave open and what to do about it.
func (set shellSet) question(wanted []grading.Assignment) string {
	var said []string
	for _, a := range wanted {
		for _, why := range a.Why {
			at := slices.IndexFunc(set.rows, func(row codeRow) bool { return row.reading.Question() == why })
			text := fmt.Sprintf("location %s, %s.", a.Location, why)
			if at >= 0 {
				text = set.rows[at].question()
			}
			if !slices.Contains(said, text) {
				said = append(said, text)
			}
		}
	}
	return strings.Join(said, " ")
}

// question says how a row can be read, and how to state which it is.
func (row codeRow) question() string {
	var keys []string
	ends, upright := false, false
	for _, a := range row.reading.Others {
		ends, upright = ends || a.Reversed, upright || a.UpsideDown
	}
	if l := row.reading.Row.Locations; ends {
		keys = append(keys, fmt.Sprintf("begins = %q or %q", l[0], l[len(l)-1]))
	}
	if upright {
		keys = append(keys, "upright = true once it is read the right way up")
	}
	return fmt.Sprintf("%s. Then write it under codes, in %s: %s.", row.reading.Question(), row.key, strings.Join(keys, "; "))
}

// choice is the shell, or the shells still possible, for one half.
func choice(a grading.Assignment, half, code string, of func(grading.Pair) grading.Part) Choice {
	var grades []string
	for _, p := range a.Pairs {
		if g := of(p).Grade; !slices.Contains(grades, g) {
			grades = append(grades, g)
		}
	}
	return Choice{Location: a.Location, Half: half, Code: code, Grade: strings.Join(grades, " or ")}
}

// purchase makes a purchase into lines.
func (j *Job) purchase(b *purchase.Purchase[grading.Part], o request) *Purchase {
	p := &Purchase{Total: j.price(b.Price), LeftOver: parts(b.Leftover)}
	for _, x := range b.Packs {
		p.Lines = append(p.Lines, PurchaseLine{
			Count: x.N, Pack: x.Pack.Name, Each: j.price(*x.Pack.Price),
			Sum: j.price(x.Pack.Price.Mul(decimal.NewFromInt(int64(x.N)))),
		})
	}
	p.OnHand = parts(o.Stock)
	p.Proof = fmt.Sprintf("Proven: nothing on sale serves for less than %s.", j.price(b.Proof.Least))
	if b.Gap.Sign() > 0 {
		p.Proof = fmt.Sprintf("Not proven the cheapest: at most %s dearer than the cheapest there can be.", j.price(b.Gap))
	}
	return p
}

// price writes an amount in the job's currency, with two places or as many as it
// has.
func (j *Job) price(d decimal.Decimal) string {
	return strings.TrimSpace(d.StringFixed(max(2, -d.Exponent())) + " " + j.show.currency)
}

func parts(counts []purchase.Count[grading.Part]) []Parts {
	var list []Parts
	for _, c := range counts {
		list = append(list, Parts{c.N, c.Part.String()})
	}
	return list
}
