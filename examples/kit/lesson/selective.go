package lesson

import (
	"context"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

func selective() *Lesson {
	return &Lesson{
		Key: "selective", Title: "Selective assembly",
		Question: "Every part varies by more than the clearance may. How does every engine come out right?",
		Reads: []string{
			"Bores and journals are made within their tolerances, and the tolerances together are wider than the limits of the clearance. Making the parts closer costs money. Measuring them costs less: so the maker measures each bore and each journal, sorts it into a class, and stamps the class on block and crankshaft. For each pair of classes there is a shell of its own thickness.",
			"Sorting makes no part closer. It only puts like to like: a large bore or a small journal gets a thick shell. The spread that is left is that of one class of bores, one class of journals, and two walls.",
			"More classes mean more grades on the shelf. And shells come in packs: whoever needs three of a grade may have to buy four. What you save in the shop you pay at the counter.",
		},
		Try: []string{
			"Find the smallest number of classes that keeps every engine inside the limits.",
			"Make the walls less close. From where on do more classes no longer help?",
			"Make the packs larger, and see what is left over.",
		},
		Controls: []Control{
			slider("Classes of bores, and of journals", 1, 8, 1, 3, 0, ""),
			slider("Tolerance of bores, and of journals", 8, 40, 2, 24, 3, "mm"),
			slider("Tolerance of a wall, ±", 5, 30, 5, 10, 4, "mm"),
			slider("Shells in a pack", 1, 10, 1, 4, 0, ""),
		},
		show:      showSelective,
		exercises: [2]func(*draws) setter{pairTask, packsTask},
	}
}

// classes are bores and journals sorted into classes of equal width, with shells for each sum.
type classes struct {
	n                int64
	width, tolerance units.Length // of all bores, and of all journals; of a wall, to either side
}

// class is the i-th of n equal parts of a range that begins so, counted from zero.
func class(from, width units.Length, i, n int64) units.LengthInterval {
	return units.Between(from.Add(width.MulRat(ratio(i, n))), from.Add(width.MulRat(ratio(i+1, n))))
}

// bearing is a bearing of the i-th class of bores, smallest first, and the j-th of journals, largest
// first. Its shells have the thickness that puts the middle of the clearance into that of the limits.
func (c classes) bearing(i, j int64) clearance.Bearing {
	bore := class(millimetres(56792, 3), c.width, i, c.n)
	journal := class(millimetres(52800, 3).Sub(c.width), c.width, c.n-1-j, c.n)
	wall := bore.Mid().Sub(journal.Mid()).Sub(clearanceLimits().Mid()).MulRat(ratio(1, 2))
	walls := units.PlusMinus(wall, c.tolerance)
	return clearance.Bearing{HousingBore: bore, UpperWall: walls, LowerWall: walls, Journal: journal}
}

// whole is the clearance of every pair of codes.
func (c classes) whole() units.LengthInterval {
	all := c.bearing(0, 0).Clearance()
	for i := range c.n {
		for j := range c.n {
			all = all.Hull(c.bearing(i, j).Clearance())
		}
	}
	return all
}

// stamped are where the five bores and journals of one engine lie in their tolerances, in
// hundredths, the journals counted from the largest.
func stamped() [5][2]int64 {
	return [5][2]int64{{48, 21}, {12, 55}, {83, 60}, {67, 94}, {18, 9}}
}

// grade is a shell's, counted from the thinnest.
type grade int64

// String names the grade.
func (g grade) String() string { return "grade " + strconv.FormatInt(int64(g)+1, 10) }

// order is what to buy for the engine.
func (c classes) order(inPack int64) purchase.Request[grade] {
	var r purchase.Request[grade]
	need := map[grade]int{}
	for _, at := range stamped() {
		need[grade(at[0]*c.n/100+at[1]*c.n/100)] += 2
	}
	for g := range grade(2*c.n - 1) {
		if need[g] == 0 {
			continue
		}
		price := decimal.NewFromInt(3).Add(decimal.New(420, -2).Mul(decimal.NewFromInt(inPack)))
		r.Needs = append(r.Needs, purchase.Need[grade]{Name: g.String(), N: need[g], Alternatives: []purchase.Alternative[grade]{{Parts: []grade{g}}}})
		r.Packs = append(r.Packs, purchase.Pack[grade]{Name: "pack of " + g.String(), Price: &price, Parts: []purchase.Count[grade]{{Part: g, N: int(inPack)}}})
	}
	return r
}

func showSelective(at []int64) (view, error) {
	mm, limits := units.Millimetre, clearanceLimits()
	width, tolerance := millimetres(at[1], 3), millimetres(at[2], 4)
	c, none := classes{at[0], width, tolerance}, classes{1, width, tolerance}
	with, without := c.whole(), none.whole()
	v := view{said: []string{
		"Without codes the clearance may be " + without.FormatOutward(mm, 4) + ", a spread of " + micrometres(without.Width(), 1) + ": " + measure.Judge(without, limits).String() + ".",
		"With " + strconv.FormatInt(c.n, 10) + " classes on either side it is " + with.FormatOutward(mm, 4) + ", a spread of " + micrometres(with.Width(), 1) + ": " + measure.Judge(with, limits).String() + ". That takes " + strconv.FormatInt(2*c.n-1, 10) + " grades of shells.",
	}}
	order := c.order(at[3])
	cheapest, err := purchase.Cheapest(context.Background(), order)
	if err != nil {
		return view{}, err
	}
	packs, left, used := 0, 0, 0
	for _, b := range cheapest.Packs {
		packs += b.N
	}
	for _, l := range cheapest.Leftover {
		left += l.N
	}
	for _, n := range order.Needs {
		used += n.N
	}
	v.said = append(v.said, "One engine of five main bearings needs "+strconv.Itoa(used)+" shells in "+strconv.Itoa(len(order.Needs))+" grades. That is "+strconv.Itoa(packs)+" packs, and "+strconv.Itoa(left)+" shells are left over.")
	b := c.bearing(0, 0)
	clear := b.Clearance()
	v.working = func() ([]units.Working, error) {
		return []units.Working{{Name: "clearance of the first class of bores with the first of journals", Formula: "C = D - 2 t - d, each end with what makes it least or most",
			Numbers: b.HousingBore.FormatOutward(mm, 4) + " - 2 · " + b.UpperWall.FormatOutward(mm, 4) + " - " + b.Journal.FormatOutward(mm, 4), Result: clear.FormatOutward(mm, 4)}, packsWorking(order, packs)}, nil
	}
	var x, y, room []float64
	for n := int64(1); n <= 8; n++ {
		x, y = append(x, float64(n)), append(y, classes{n, width, tolerance}.whole().Width().Float64(units.Micrometre))
		room = append(room, limits.Width().Float64(units.Micrometre))
	}
	v.charts = []page.Chart{
		page.Intervals{ID: "selective-1", Title: "Clearances that parts within their tolerances can make", X: page.Axis{Name: "running clearance", Unit: "mm"}, Read: "clearance", Rows: []page.Interval{on("without codes", without, limits, mm, 4), on("with codes", with, limits, mm, 4)}},
		page.Lines{ID: "selective-2", Title: "What more classes buy", X: page.Axis{Name: "classes"}, Y: page.Axis{Name: "spread", Unit: "µm"}, FromZero: true,
			Lines: []page.Series{{Name: "spread of the clearance", X: x, Y: y}, {Name: "width of the limits", X: x, Y: room}}},
	}
	return v, nil
}

// packsWorking is how to come to the number of packs, grade by grade.
func packsWorking(r purchase.Request[grade], packs int) units.Working {
	stock, inPack := map[string]int{}, 0
	for _, s := range r.Stock {
		stock[s.Part.String()] = s.N
	}
	for _, p := range r.Packs {
		inPack = p.Parts[0].N
	}
	var each []string
	for _, n := range r.Needs {
		short, text := max(0, n.N-stock[n.Name]), strconv.Itoa(n.N)
		if r.Stock != nil {
			text = "(" + text + " - " + strconv.Itoa(stock[n.Name]) + ")"
		}
		each = append(each, n.Name+": "+text+" / "+strconv.Itoa(inPack)+", up to "+strconv.Itoa((short+inPack-1)/inPack))
	}
	w := units.Working{Name: "packs to buy", Formula: "needed / in a pack, rounded up to whole packs, for each grade", Numbers: strings.Join(each, "; "), Result: strconv.Itoa(packs) + " packs", Notes: []string{"a pack holds one grade, so each grade is rounded up by itself"}}
	if r.Stock != nil {
		w.Formula = "(needed - on the shelf) / in a pack, rounded up to whole packs, for each grade"
	}
	return w
}

func pairTask(d *draws) setter {
	mm := units.Millimetre
	n, step, tolerance := d.from(3, 5, 1), d.from(4, 8, 1), d.from(10, 20, 5)
	boreFrom, journalFrom := d.from(56780, 56800, 1), d.from(52770, 52790, 1)
	i, j := d.from(0, n-1, 1), d.from(0, n-1, 1)
	width := millimetres(step*n, 3)
	bores, journals := units.Between(millimetres(boreFrom, 3), millimetres(boreFrom, 3).Add(width)), units.Between(millimetres(journalFrom, 3), millimetres(journalFrom, 3).Add(width))
	bore, journal := class(bores.Lo(), width, i, n), class(journals.Lo(), width, j, n)
	wall := units.PlusMinus(mm.Of(bore.Mid().Sub(journal.Mid()).Sub(millimetres(69, 3)).MulRat(ratio(1, 2)).In(mm, 3)), millimetres(tolerance, 4))
	b := clearance.Bearing{HousingBore: bore, UpperWall: wall, LowerWall: wall, Journal: journal}
	t := &task[units.LengthDim]{unit: mm, places: 4, round: outward, exact: b.Clearance(),
		text:    "A bore and a journal are stamped with their classes, and both shells have the grade that belongs to the pair. What can the running clearance be, from the least to the most?",
		given:   [][2]string{{"bores of this class", bore.String()}, {"journals of this class", journal.String()}, {"all bores", bores.String()}, {"all journals", journals.String()}, {"each wall of this grade", wall.String()}},
		working: units.Working{Name: "running clearance", Formula: "C = D - 2 t - d, each end with what makes it least or most", Numbers: bore.String() + " - 2 · (" + wall.String() + ") - (" + journal.String() + ")", Result: b.Clearance().Written(mm)},
	}
	lows := bore.Lo().Sub(wall.Lo().MulInt(2)).Sub(journal.Lo())
	highs := bore.Hi().Sub(wall.Hi().MulInt(2)).Sub(journal.Hi())
	t.mistaken(units.Between(lows, highs), "You subtracted the smallest from the smallest and the largest from the largest. The clearance is least where the bore is smallest and walls and journal are largest.")
	t.mistaken(bore.Sub(wall).Sub(journal), "You took one wall. A bearing has two shells, and the journal stands between them.")
	t.mistaken(clearance.Bearing{HousingBore: bores, UpperWall: wall, LowerWall: wall, Journal: journals}.Clearance(), "You took all bores and all journals. The codes say that these two lie in their classes; that is what the codes are for.")
	t.mistaken(bore.Sub(units.Exactly(wall.Mid().MulInt(2))).Sub(journal), "You took the walls as exact. They have a tolerance of their own, and there are two of them.")
	return t
}

func packsTask(d *draws) setter {
	pack := d.from(2, 6, 1)
	type row struct{ need, stock int64 }
	rows := []row{{d.from(2, 7, 1), d.from(0, 2, 1)}, {d.from(2, 7, 1), d.from(0, 2, 1)}, {d.from(2, 7, 1), d.from(1, 2, 1)}}
	var r purchase.Request[grade]
	var given [][2]string
	n := func(v int64) string { return strconv.FormatInt(v, 10) }
	need, stock, down, forgot := int64(0), int64(0), int64(0), int64(0)
	for i, x := range rows {
		g, price := grade(i), decimal.NewFromInt(10)
		r.Needs = append(r.Needs, purchase.Need[grade]{Name: g.String(), N: int(x.need), Alternatives: []purchase.Alternative[grade]{{Parts: []grade{g}}}})
		r.Stock = append(r.Stock, purchase.Count[grade]{Part: g, N: int(x.stock)})
		r.Packs = append(r.Packs, purchase.Pack[grade]{Name: "pack of " + g.String(), Price: &price, Parts: []purchase.Count[grade]{{Part: g, N: int(pack)}}})
		given = append(given, [2]string{g.String(), n(x.need) + " needed, " + n(x.stock) + " on the shelf"})
		need, stock = need+x.need, stock+x.stock
		down, forgot = down+max(0, x.need-x.stock)/pack, forgot+(x.need+pack-1)/pack
	}
	cheapest, err := purchase.Cheapest(context.Background(), r)
	if err != nil {
		panic("lesson: " + err.Error())
	}
	packs := int64(0)
	for _, b := range cheapest.Packs {
		packs += int64(b.N)
	}
	count := func(v int64) units.Ratio { return units.One.OfInt(v) }
	t := &task[units.RatioDim]{unit: units.One, places: 0, round: nearest, exact: units.Exactly(count(packs)), given: append(given, [2]string{"shells of one grade in a pack", n(pack)}), working: packsWorking(r, int(packs)),
		text: "Shells are sold in packs of one grade. How many packs have to be bought, of all grades together?"}
	t.mistakenFor(count((need-stock+pack-1)/pack), "You threw the grades together. A pack holds one grade, so each grade is rounded up to whole packs by itself.")
	t.mistakenFor(count(forgot), "You forgot what is on the shelf. Take it off what is needed, grade by grade, before you count packs.")
	t.mistakenFor(count(down), "You rounded down. Half a pack is not sold: what is short by one shell costs a whole pack.")
	return t
}
