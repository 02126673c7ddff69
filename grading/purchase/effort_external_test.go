package purchase_test

import (
	"context"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
)

// effort is how many cases were examined: for the price, and, as far as Progress tells,
// for all aims and trades together.
type effort struct{ price, all int }

// watch returns o with its effort counted.
func (e *effort) watch(o order) order {
	last, at := "", 0
	o.Progress = func(aim string, examined, _ int) {
		if aim != last || examined < at {
			last, at = aim, 0
		}
		e.all += examined - at
		at = examined
	}
	return o
}

// TestEffort holds the searches to the number of cases that they take today, and the
// first answers, for which there is no time to search, to how much dearer than the
// cheapest they are. The numbers are measured, and prove nothing; they are the same on
// every machine. A change that makes the searches longer or the first answers dearer is to
// be seen here, and not in a test of time.
func TestEffort(t *testing.T) {
	past, cancel := context.WithCancel(context.Background())
	cancel()
	for _, test := range []struct {
		name   string
		orders int
		order  func(seed uint64) order
		trades int
		most   effort
		dearer string // in all, in percent
	}{
		{"10 parts, 12 packs", 30, func(seed uint64) order { return mixed(seed, 10, 12, 20) }, 0, effort{668, 463}, "1.318"},
		{"20 parts, 24 packs", 6, func(seed uint64) order { return mixed(seed, 20, 24, 20) }, 0, effort{2672, 5688}, "1.624"},
		{"nearly equal packs", 20, tight, 0, effort{316, 116}, "1.067"},
		{"14 mains", 4, func(seed uint64) order { return fitted(seed, 14, 8) }, 6, effort{116, 724}, "24.73"},
		{"40 mains", 2, func(seed uint64) order { return fitted(seed, 40, 8) }, 3, effort{78, 371}, "17.78"},
	} {
		var took effort
		var first, cheapest decimal.Decimal
		for seed := range uint64(test.orders) {
			o := took.watch(test.order(seed))
			p, err := purchase.Cheapest(t.Context(), o)
			if err != nil {
				t.Fatal(test.name, err)
			}
			took.price += p.Proof.Examined
			if test.trades > 0 {
				if _, _, err := purchase.Trades(t.Context(), o, p, test.trades); err != nil {
					t.Fatal(test.name, err)
				}
			}
			o.Progress = nil
			f, _ := purchase.Cheapest(past, o)
			if f == nil {
				t.Fatal(test.name, "no first answer")
			}
			first, cheapest = first.Add(f.Price), cheapest.Add(p.Price)
		}
		if took.price > test.most.price || took.all > test.most.all {
			t.Errorf("%s: %+v cases, more than %+v", test.name, took, test.most)
		}
		dearer := first.Div(cheapest).Sub(decimal.NewFromInt(1)).Shift(2)
		if dearer.GreaterThan(decimal.RequireFromString(test.dearer)) {
			t.Errorf("%s: first answers %s %% dearer, more than %s", test.name, dearer.StringFixed(3), test.dearer)
		}
	}
}
