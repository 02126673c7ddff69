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
