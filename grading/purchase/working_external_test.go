package purchase_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
)

// A short table of one part and one stage is printed line by line; of a longer one it is
// said how long it is. The prices are those of packs of two at 5.
func TestTableWorking(t *testing.T) {
	ones := make([]int64, 65) // from none to 64 missing
	for n := range ones {
		ones[n] = int64(n)
	}
	const tooLong = "too long to print; the proof holds it"
	for _, test := range []struct {
		name         string
		lot, missing int64
		prices       [][]int64
		says, not    []string
	}{
		{"single parts", 1, 3, [][]int64{{0, 5, 5, 10}}, []string{"3 × A missing", "f(0) = 0, f(1) = 5, f(2) = 5, f(3) = 10", "f(n) = min over packs of price + f(n - contents)"}, []string{"lots", tooLong}},
		{"nothing serves", 1, 1, [][]int64{{0, -1}}, []string{"f(0) = 0, f(1) cannot be"}, []string{tooLong}},
		{"lots of two", 2, 2, [][]int64{{0, 5, 10}}, []string{"2 lots of 2 × A missing", "f(2) = 10"}, []string{"note: 2 × A missing"}},
		{"64 lines", 1, 63, [][]int64{ones[:64]}, []string{"f(63) = 63"}, []string{tooLong}},
		{"65 lines", 1, 64, [][]int64{ones}, []string{"a table of 65 lines for each of 1 stages, " + tooLong}, []string{"f("}},
		{"two stages", 1, 1, [][]int64{{0, 5}, {0, 4}}, []string{"a table of 2 lines for each of 2 stages, " + tooLong}, []string{"f("}},
	} {
		c := purchase.Component[name]{Unit: decimal.New(1, 0), Parts: []name{"B", "A"}, Counted: 1, Lot: test.lot, Missing: test.missing, Prices: test.prices}
		w := (&purchase.Purchase[name]{Proof: purchase.Proof[name]{Components: []purchase.Component[name]{c}}}).Working()
		text := w.Text()
		for _, says := range test.says {
			if !strings.Contains(text, says) {
				t.Errorf("%s: lacks %q:\n%s", test.name, says, text)
			}
		}
		for _, not := range test.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: says %q:\n%s", test.name, not, text)
			}
		}
	}
}

// Each case is named by what the divisions before it leave, and one that nothing serves
// says what it lacks.
func TestCaseWorking(t *testing.T) {
	c := purchase.Component[name]{Unit: decimal.New(1, 0), Parts: []name{"A", "B"}, Lines: [][]string{{"two A"}, {"one B", "its twin"}},
		Choices: []need{{Name: "main 1 and 2 alike", N: 3, Alternatives: []alternative{{Parts: []name{"A"}}, {Parts: []name{"A", "B"}}}}},
		Cases: []purchase.Case{
			{Of: 0, AtMost: new(int64(3))},
			{Of: 3, AtMost: new(int64(1))},
			{Worth: []int64{0, 1}, Sum: 2},
			{Worth: []int64{0, 0}, Sum: 1},
			{Of: 1, AtMost: new(int64(0))},
			{Worth: []int64{1, 0}, Sum: 4},
			{Scale: 1, Worth: []int64{0, 0}, Missing: []int64{0, 0}, Dearer: []int64{5, 4}, Bought: []int64{20, 4}, Served: []int64{0}, Sum: 24, Least: 24},
		}}
	text := (&purchase.Purchase[name]{Proof: purchase.Proof[name]{Components: []purchase.Component[name]{c}}}).Working().Text()
	at := 0
	for _, line := range []string{
		"with 0 to 3 of two A, 0 to 1 of main 1 and 2 alike by A + B", "cannot serve: 2 × B lacking, whatever is bought",
		"with 0 to 3 of two A, at least 2 of main 1 and 2 alike by A + B", "cannot serve: no alternative is left for 1 of the places",
		"with at least 4 of two A, 0 of one B and its like", "cannot serve: 4 × A lacking, whatever is bought",
		"with at least 4 of two A, at least 1 of one B and its like", "at least 24",
	} {
		next := strings.Index(text[at:], line)
		if next < 0 {
			t.Fatalf("lacks %q from there on:\n%s", line, text[at:])
		}
		at += next
	}
}

// The bound of a case is shown with every figure in money. The unit is 0.50, and worths are
// in halves of it. By hand: 4 × 3/2 × 0.50 = 4 × 0.75; 7/2 × 0.50 = 1.75;
// -4/2 × 0.50 = -1; in all 3.75, and prices are multiples of 0.50.
func TestCaseWorkingInMoney(t *testing.T) {
	c := purchase.Component[name]{Unit: decimal.New(50, -2), Least: 8, Parts: []name{"A", "B"}, Lines: [][]string{{"two A", "its twin"}, {"one B"}},
		Choices: []need{{Name: "main 1", N: 1, Alternatives: []alternative{{Parts: []name{"A"}}, {Parts: []name{"B"}}}}},
		Cases:   []purchase.Case{{Scale: 2, Worth: []int64{3, 0}, Missing: []int64{4, 5}, Dearer: []int64{5, -2}, Bought: []int64{-4, 0}, Served: []int64{7}, Sum: 15, Least: 8}}}
	for _, test := range []struct {
		name  string
		alter func(*purchase.Case)
		says  []string
		not   []string
	}{
		{"all of it", func(*purchase.Case) {}, []string{
			"whatever is bought", "4 × A + main 1 served + two A and its like\n", "4 × 0.75 + 1.75 + (-1)\n", "at least 4.00\n",
			"a place is served for the worth of the parts of its cheapest alternative: A 0.75\n",
			"price of a pack less the worth of what it can add: two A 1.25, one B -0.5\n",
			"3.75, rounded up to the next multiple of 0.50\n", "counted together, the first bought first: two A, its twin\n"}, []string{"5 × B", "one B +"}},
		{"no worth", func(k *purchase.Case) { k.Worth, k.Served, k.Sum = []int64{0, 0}, []int64{0}, 16 }, []string{"its cheapest alternative: none\n"}, []string{"× A", "served\n", "rounded up"}},
		{"thirds", func(k *purchase.Case) { k.Scale = 3 }, []string{"4 × 0.5 + 7/6 + (-2/3)\n"}, nil},
		{"no choices", func(k *purchase.Case) { k.Served = nil }, nil, []string{"a place is served"}},
		{"no packs", func(k *purchase.Case) { k.Dearer, k.Bought = nil, nil }, nil, []string{"price of a pack less"}},
	} {
		altered := c
		k := c.Cases[0]
		test.alter(&k)
		altered.Cases = []purchase.Case{k}
		text := (&purchase.Purchase[name]{Proof: purchase.Proof[name]{Least: decimal.New(4, 0), Components: []purchase.Component[name]{altered}}}).Working().Text() + "\n"
		for _, says := range test.says {
			if !strings.Contains(text, says) {
				t.Errorf("%s: lacks %q:\n%s", test.name, says, text)
			}
		}
		for _, not := range test.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: says %q:\n%s", test.name, not, text)
			}
		}
	}
}

// What is bought is told pack by pack, and what is served otherwise or left over beside it;
// a component of 64 cases is printed, and one of 65 is not.
func TestPurchaseWorking(t *testing.T) {
	cases := func(ends int) (list []purchase.Case) {
		for i := range ends - 1 {
			list = append(list, purchase.Case{Of: 0, AtMost: new(int64(i))}, purchase.Case{Worth: []int64{1}, Sum: 1})
		}
		return append(list, purchase.Case{Worth: []int64{1}, Sum: 1})
	}
	p := purchase.Purchase[name]{Price: decimal.New(1250, -2),
		Packs: []purchase.Bought[name]{
			{Pack: pack{Name: "two A", Price: new(decimal.New(5, 0)), Parts: []some{{Part: "A", N: 2}}}, N: 2},
			{Pack: pack{Name: "one B", Price: new(decimal.New(250, -2)), Parts: []some{{Part: "B", N: 1}}}, N: 1}},
		Served: []purchase.Serving[name]{
			{Name: "main 1", Alternative: 0, Parts: []name{"A"}, N: 1}, {Name: "main 2", Alternative: 1, Parts: []name{"B"}, N: 3}, {Name: "main 3", Alternative: 1, Parts: []name{"A", "B"}, N: 1}},
		Leftover: []some{{Part: "A", N: 3}},
	}
	for _, test := range []struct {
		name      string
		alter     func(*purchase.Purchase[name])
		says, not []string
	}{
		{"as it is", func(*purchase.Purchase[name]) {}, []string{"the cheapest purchase\n", "2 × 5 + 1 × 2.50\n", "12.50\n", "buy 2 × two A", "buy 1 × one B", "main 2: 3 served by B\n", "left over: 3 × A\n"},
			[]string{"main 1:", "main 3:", "buy nothing", "not proven"}},
		{"with a gap", func(p *purchase.Purchase[name]) { p.Gap = decimal.New(5, -1) }, []string{"the cheapest purchase found\n", "not proven the cheapest: at most 0.5 dearer"}, nil},
		{"nothing", func(p *purchase.Purchase[name]) { p.Packs, p.Leftover = nil, nil }, []string{"the stock serves; buy nothing\n"}, []string{"left over"}},
		{"64 cases", func(p *purchase.Purchase[name]) {
			p.Proof.Components = []purchase.Component[name]{{Unit: decimal.New(1, 0), Parts: []name{"A"}, Lines: [][]string{{"two A"}}, Cases: cases(64)}}
		}, []string{"with at least 63 of two A"}, []string{"too many to print"}},
		{"65 cases", func(p *purchase.Purchase[name]) {
			p.Proof.Components = []purchase.Component[name]{{Unit: decimal.New(1, 0), Parts: []name{"A"}, Lines: [][]string{{"two A"}}, Cases: cases(65)}}
		}, []string{"65 cases, too many to print; the proof holds them"}, []string{"with at least"}},
	} {
		altered := p
		test.alter(&altered)
		text := altered.Working().Text() + "\n"
		for _, says := range test.says {
			if !strings.Contains(text, says) {
				t.Errorf("%s: lacks %q:\n%s", test.name, says, text)
			}
		}
		for _, not := range test.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: says %q:\n%s", test.name, not, text)
			}
		}
	}
}
