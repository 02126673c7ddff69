package purchase_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading/purchase"
	"example.com/closefit/units"
)

// Needs that cannot be met are named with what they compete for, and how many of it there
// are: worked out beside each.
func TestUnserved(t *testing.T) {
	by := func(label string, n int, alternatives ...[]name) need {
		w := need{Name: label, N: n}
		for _, parts := range alternatives {
			w.Alternatives = append(w.Alternatives, alternative{Parts: parts})
		}
		return w
	}
	one := func(part name, limit int) pack {
		p := priced("one "+string(part), 5, part, 1)
		p.Limit = new(limit)
		return p
	}
	a, b, c := []name{"A"}, []name{"B"}, []name{"C"}
	ab, aa := []name{"A", "B"}, []name{"A", "A"}
	for _, test := range []struct {
		name string
		o    order
		says string // of the error; empty where all are served
	}{
		{"moved over to the other part", order{Needs: []need{by("U", 1, a, b), by("V", 1, a)}, Packs: []pack{one("A", 1), one("B", 1)}}, ""},
		{"moved over twice", order{Needs: []need{by("U", 1, a, b), by("V", 1, b, c), by("W", 1, a)}, Packs: []pack{one("A", 1), one("B", 1)}, Stock: []some{{Part: "C", N: 2}}}, ""},
		{"three for two", order{Needs: []need{by("U", 1, a, b), by("V", 1, a), by("W", 1, b)}, Packs: []pack{one("A", 1), one("B", 1)}},
			"U and V and W: 3 wanted, 2 to be had; the packs on sale that hold it are not enough"},
		{"two of one part", order{Needs: []need{by("U", 4, a)}, Packs: []pack{one("A", 2)}, Stock: []some{{Part: "A", N: 1}}},
			"U: 4 wanted, 3 to be had; the packs on sale that hold it are not enough"},
		{"stock alone", order{Needs: []need{by("U", 4, a)}, Stock: []some{{Part: "A", N: 1}}}, "U: 4 wanted, 1 to be had; no pack on sale holds it"},
		{"two that have nothing in common", order{Needs: []need{by("U", 2, a), by("V", 1, c), by("W", 1, b)}, Packs: []pack{one("A", 1), one("B", 1)}},
			"U: 2 wanted, 1 to be had; the packs on sale that hold it are not enough; V: 1 wanted, 0 to be had; no pack on sale holds it"},
		{"a part taken twice", order{Needs: []need{by("U", 2, aa)}, Packs: []pack{one("A", 3)}}, "U and U: 4 wanted, 3 to be had"},
		{"a pair of which one lacks", order{Needs: []need{by("U", 2, ab)}, Packs: []pack{one("A", 2), one("B", 1)}}, "U: 2 wanted, 1 to be had"},
		{"pairs, the second one in vain", order{Needs: []need{by("U", 1, aa, ab), by("V", 1, aa, ab)}, Packs: []pack{one("A", 2), one("B", 1)}},
			"once the 1 before it are served, nothing is left for any of its alternatives: A + A; A + B"},
		{"pairs, the third one in vain", order{Needs: []need{by("U", 1, aa, ab), by("V", 1, ab, aa), by("W", 1, aa, ab)}, Packs: []pack{one("A", 3), one("B", 2)}},
			"once the 2 before it are served, nothing is left for any of its alternatives: A + A; A + B"},
		{"pairs, just enough", order{Needs: []need{by("U", 1, aa, ab), by("V", 1, aa, ab)}, Packs: []pack{one("A", 2), one("B", 2)}}, ""},
	} {
		p, err := purchase.Cheapest(t.Context(), test.o)
		switch {
		case test.says == "":
			if err != nil {
				t.Errorf("%s: %v", test.name, err)
				continue
			}
			keeps(t, test.o, p)
		case !errors.Is(err, purchase.ErrUnserved) || !strings.Contains(err.Error(), test.says):
			t.Errorf("%s: %v, want %s", test.name, err, test.says)
		}
	}
}

// The bounds that the package states hold on both sides: what lies at one is answered, what
// lies beyond is ErrTooLarge.
func TestBounds(t *testing.T) {
	a := []alternative{{Parts: []name{"A"}}}
	packs := func(n int) (list []pack) {
		for i := range n {
			list = append(list, priced(fmt.Sprint("pack ", i), int64(5+i), "A", 1))
		}
		return list
	}
	price := func(text string) []pack {
		p := packs(1)
		p[0].Price = new(decimal.RequireFromString(text))
		return p
	}
	needs := func(n int) []need { return []need{{Name: "main 1", N: n, Alternatives: a}} }
	far := func(distances ...string) []need {
		w := need{Name: "main 1", N: 1}
		for _, d := range distances {
			w.Alternatives = append(w.Alternatives, alternative{Parts: []name{"A"}, Distance: units.MustParseLength(d)})
		}
		return []need{w}
	}
	for _, test := range []struct {
		name string
		o    order
		ok   bool
	}{
		{"100 000 of a need", order{Needs: needs(100_000), Packs: packs(1)}, true},
		{"100 001 of a need", order{Needs: needs(100_001), Packs: packs(1)}, false},
		{"100 000 in stock", order{Needs: needs(1), Stock: []some{{Part: "A", N: 50_000}, {Part: "A", N: 50_000}}}, true},
		{"100 001 in stock, in two lines", order{Needs: needs(1), Stock: []some{{Part: "A", N: 50_000}, {Part: "A", N: 50_001}}}, false},
		{"1000 packs", order{Needs: needs(1), Packs: packs(1000)}, true},
		{"1001 packs", order{Needs: needs(1), Packs: packs(1001)}, false},
		{"12 places", order{Needs: needs(1), Packs: price("0.000000000001")}, true},
		{"13 places", order{Needs: needs(1), Packs: price("0.0000000000001")}, false},
		{"an exponent of 12", order{Needs: needs(1), Packs: price("1e12")}, true},
		{"an exponent of 13", order{Needs: needs(1), Packs: price("1e13")}, false},
		{"10¹⁰ units", order{Needs: needs(1), Packs: append(packs(1), price("10000000000")[0])[1:]}, true},
		{"10¹⁰ units of another price", order{Needs: needs(1), Packs: []pack{priced("dear", 10_000_000_000, "A", 1), priced("cheap", 1, "A", 1)}}, true},
		{"a unit more", order{Needs: needs(1), Packs: []pack{priced("dear", 10_000_000_001, "A", 1), priced("cheap", 1, "A", 1)}}, false},
		{"as much in larger units", order{Needs: needs(1), Packs: []pack{priced("dear", 20_000_000_000, "A", 1), priced("cheap", 2, "A", 1)}}, true},
		{"a distance of 2³⁴ steps", order{Needs: far("17.179869184 m", "1 nm"), Packs: packs(1)}, true},
		{"a distance of a step more", order{Needs: far("17.179869185 m", "1 nm"), Packs: packs(1)}, true}, // then it is rounded
		{"a pack of 100 000", order{Needs: needs(1), Packs: []pack{priced("all", 1, "A", 100_000)}}, true},
		{"a pack of 100 001", order{Needs: needs(1), Packs: []pack{priced("all", 1, "A", 100_001)}}, false},
	} {
		p, err := purchase.Cheapest(t.Context(), test.o)
		if test.ok && (err != nil || p == nil) || !test.ok && !errors.Is(err, purchase.ErrTooLarge) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// What has no name is refused wherever it stands, and so is an alternative of no parts, and a limit below zero.
func TestNamelessParts(t *testing.T) {
	good := priced("one", 5, "A", 1)
	limited := good
	limited.Limit = new(-1)
	for says, o := range map[string]order{
		"need of main 1": {Needs: []need{{Name: "main 1", N: 1, Alternatives: []alternative{{Parts: []name{"A", ""}}}}}, Packs: []pack{good}},
		"an alternative without parts, which nothing would serve; name its parts, or leave it out": {Needs: []need{{Name: "main 1", N: 3, Alternatives: []alternative{{Parts: []name{"A"}}, {}}}}, Packs: []pack{good}},
		"a part without a name": {Packs: []pack{priced("one", 5, "", 1)}},
		"a limit of -1":         {Packs: []pack{limited}},
		"which parts it holds":  {Packs: []pack{priced("none", 5, "A", 0)}},
	} {
		if p, err := purchase.Cheapest(t.Context(), o); p != nil || !errors.Is(err, purchase.ErrRequest) || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, %v; want it to say %q", p, err, says)
		}
	}
}
