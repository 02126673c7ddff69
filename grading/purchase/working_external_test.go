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
		name          string
		lots, missing []int64
		prices        [][]int64
		says, not     []string
	}{
		{"single parts", []int64{1}, []int64{3}, [][]int64{{0, 5, 5, 10}}, []string{"3 × A missing", "f(0) = 0, f(1) = 5, f(2) = 5, f(3) = 10", "f(n) = min over packs of price + f(n - contents)"}, []string{"lots", tooLong}},
		{"nothing serves", []int64{1}, []int64{1}, [][]int64{{0, -1}}, []string{"f(0) = 0, f(1) cannot be"}, []string{tooLong}},
		{"lots of two", []int64{2}, []int64{2}, [][]int64{{0, 5, 10}}, []string{"2 lots of 2 × A missing", "f(2) = 10"}, []string{"note: 2 × A missing"}},
		{"64 lines", []int64{1}, []int64{63}, [][]int64{ones[:64]}, []string{"f(63) = 63"}, []string{tooLong}},
		{"65 lines", []int64{1}, []int64{64}, [][]int64{ones}, []string{"a table of 65 lines for each of 1 stages, " + tooLong}, []string{"f("}},
		{"two stages", []int64{1}, []int64{1}, [][]int64{{0, 5}, {0, 4}}, []string{"a table of 2 lines for each of 2 stages, " + tooLong}, []string{"f("}},
		{"two parts", []int64{1, 1}, []int64{1, 1}, [][]int64{{0, 5, 5, 5}}, []string{"1 × A missing", "1 × B missing", "a table of 4 lines for each of 1 stages, " + tooLong}, []string{"f("}},
	} {
		c := purchase.Component[name]{Unit: decimal.New(1, 0), Parts: []name{"A", "B"}[:len(test.lots)], Axes: []int{0, 1}[:len(test.lots)],
			Lots: test.lots, Missing: test.missing, Prices: test.prices}
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
