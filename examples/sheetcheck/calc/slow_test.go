package calc

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A slow evaluator: the arithmetic of a formula by math/big alone, straight down its
// tree, for the exact value; by float64 for the binary one.

type slow struct {
	r       *big.Rat // nil for an error
	f       float64
	invalid bool // of the binary value
}

func slowly(e Expr, cells map[string]string) slow {
	number := func(text string) slow {
		r, _ := new(big.Rat).SetString(text)
		f, _ := r.Float64()
		return slow{r: r, f: f}
	}
	switch e := e.(type) {
	case *Number:
		return number(e.Text)
	case *Area:
		return number(cells[e.String()])
	case *Unary:
		x := slowly(e.X, cells)
		switch {
		case e.Op == Minus:
			x.f = -x.f
		case e.Op == Percent:
			x.f /= 100
		}
		if x.r != nil {
			switch e.Op {
			case Minus:
				x.r = new(big.Rat).Neg(x.r)
			case Percent:
				x.r = new(big.Rat).Quo(x.r, big.NewRat(100, 1))
			}
		}
		return x
	case *Binary:
		x, y := slowly(e.X, cells), slowly(e.Y, cells)
		out := slow{invalid: x.invalid || y.invalid}
		ok := x.r != nil && y.r != nil
		r := new(big.Rat)
		switch e.Op {
		case Add:
			out.f = x.f + y.f
			if ok {
				r.Add(x.r, y.r)
			}
		case Subtract:
			out.f = x.f - y.f
			if ok {
				r.Sub(x.r, y.r)
			}
		case Multiply:
			out.f = x.f * y.f
			if ok {
				r.Mul(x.r, y.r)
			}
		case Divide:
			out.invalid = out.invalid || y.f == 0
			if !out.invalid {
				out.f = x.f / y.f
			}
			if ok = ok && y.r.Sign() != 0; ok {
				r.Quo(x.r, y.r)
			}
		}
		if ok {
			out.r = r
		}
		return out
	case *Call:
		return slowCall(e, cells)
	}
	panic(fmt.Sprintf("%T", e))
}

func slowCall(e *Call, cells map[string]string) slow {
	out := slow{r: new(big.Rat)}
	for i, a := range e.Args {
		x := slowly(a, cells)
		out.invalid = out.invalid || x.invalid
		switch {
		case x.r == nil:
			out.r = nil
		case out.r == nil:
		case i == 0:
			out.r = x.r
		case e.Name == "SUM":
			out.r = new(big.Rat).Add(out.r, x.r)
		case e.Name == "MAX" && x.r.Cmp(out.r) > 0:
			out.r = x.r
		}
		switch {
		case i == 0:
			out.f = x.f
		case e.Name == "SUM":
			out.f += x.f
		case e.Name == "MAX":
			out.f = max(out.f, x.f)
		}
	}
	return out
}

// arithmetic draws a formula of the four operations over five cells.
func arithmetic(cells map[string]string) *rapid.Generator[string] {
	leaf := rapid.OneOf(
		rapid.Custom(func(t *rapid.T) string { return decimalText(t, 6, 4) }),
		rapid.SampledFrom([]string{"A1", "A2", "A3", "A4", "A5"}),
	)
	var within func(deep int) *rapid.Generator[string]
	within = func(deep int) *rapid.Generator[string] {
		if deep == 0 {
			return leaf
		}
		return rapid.Custom(func(t *rapid.T) string {
			x := within(rapid.IntRange(0, deep-1).Draw(t, "left")).Draw(t, "x")
			y := within(rapid.IntRange(0, deep-1).Draw(t, "right")).Draw(t, "y")
			switch rapid.IntRange(0, 9).Draw(t, "kind") {
			case 0:
				return "-" + "(" + x + ")"
			case 1:
				return "(" + x + ")%"
			case 2:
				return "SUM(" + x + "," + y + ",0.1)"
			case 3:
				return "MAX(" + x + "," + y + ")"
			}
			return "(" + x + ")" + rapid.SampledFrom([]string{"+", "-", "*", "/"}).Draw(t, "op") + "(" + y + ")"
		})
	}
	return within(4)
}

func decimalText(t *rapid.T, digits, places int) string {
	n := rapid.Int64Range(0, powersOfTen[digits]).Draw(t, "coefficient")
	scale := rapid.IntRange(0, places).Draw(t, "places")
	return new(big.Rat).SetFrac64(n, powersOfTen[scale]).FloatString(scale)
}

// TestLikeSlow: exact and binary values are those of the plain evaluators.
func TestLikeSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells, g := map[string]string{}, newGrid("S")
		for i := 1; i <= 5; i++ {
			at := fmt.Sprintf("A%d", i)
			cells[at] = decimalText(t, 8, 5)
			g.put("S", at, cells[at])
		}
		formula := arithmetic(cells).Draw(t, "formula")
		g.put("S", "B1", "="+formula)
		p, err := New(g, DefaultBounds()).At(t.Context(), "S", sheet.Place{Row: 1, Column: 2})
		if err != nil {
			t.Fatal(err)
		}
		e, err := Parse(formula)
		if err != nil {
			t.Fatal(err)
		}
		want := slowly(e, cells)
		got, ok := p.Exact.Rat()
		switch {
		case want.r == nil:
			if p.Exact.Kind() != KindError {
				t.Fatalf("%s is %s, want an error", formula, p.Exact)
			}
		case !ok && want.r.Num().BitLen()+want.r.Denom().BitLen() < mostBits:
			t.Fatalf("%s is %s, want %s", formula, p.Exact, want.r)
		case ok && got.Cmp(want.r) != 0:
			t.Fatalf("%s is %s, want %s", formula, got, want.r)
		}
		if !want.invalid && (p.Binary.Kind() != KindNumber || p.Binary.Float64() != want.f) {
			t.Fatalf("%s is %s in binary64, want %v", formula, p.Binary, want.f)
		}
		if want.invalid && p.Binary.Kind() != KindError {
			t.Fatalf("%s is %s in binary64, want an error", formula, p.Binary)
		}
	})
}

// TestRoundings: ROUND and its like against whole numbers of steps, by their
// definition.
func TestRoundings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := decimalText(t, 12, 6)
		negative := rapid.Bool().Draw(t, "negative")
		places := rapid.IntRange(-3, 7).Draw(t, "to places")
		x, _ := new(big.Rat).SetString(text)
		step := new(big.Rat).SetInt64(1)
		for range max(places, -places) {
			step.Mul(step, big.NewRat(10, 1))
		}
		if places > 0 {
			step.Inv(step)
		}
		steps := new(big.Rat).Quo(x, step)
		cut := new(big.Int).Quo(steps.Num(), steps.Denom())
		rest := new(big.Rat).Sub(steps, new(big.Rat).SetInt(cut))
		sign := ""
		if negative {
			sign = "-"
		}
		for name, up := range map[string]bool{"ROUND": rest.Cmp(big.NewRat(1, 2)) >= 0, "ROUNDUP": rest.Sign() > 0, "ROUNDDOWN": false} {
			want := new(big.Rat).SetInt(cut)
			if up {
				want.Add(want, big.NewRat(1, 1))
			}
			want.Mul(want, step)
			if negative {
				want.Neg(want)
			}
			g := newGrid("S")
			formula := fmt.Sprintf("%s(%s%s,%d)", name, sign, text, places)
			g.put("S", "A1", "="+formula)
			p, err := New(g, DefaultBounds()).At(t.Context(), "S", sheet.Place{Row: 1, Column: 1})
			if err != nil {
				t.Fatal(err)
			}
			if got, ok := p.Exact.Rat(); !ok || got.Cmp(want) != 0 {
				t.Fatalf("%s is %s, want %s", formula, p.Exact, want.FloatString(8))
			}
			near, _ := want.Float64()
			if p.Binary.Float64() != near {
				t.Fatalf("%s is %s in binary64, want %v, the nearest to %s", formula, p.Binary, near, want.FloatString(8))
			}
		}
	})
}

// TestLookUpsLikeSlow: look-ups by hash table and by halving find what going through
// the rows one by one finds.
func TestLookUpsLikeSlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 90).Draw(t, "rows")
		sorted := rapid.Bool().Draw(t, "sorted")
		g := newGrid("S")
		var keys []int
		for i := range n {
			k := rapid.IntRange(0, 40).Draw(t, "key")
			if sorted && i > 0 {
				k = keys[i-1] + k%3
			}
			keys = append(keys, k)
			if k%7 == 3 && !sorted {
				g.put("S", fmt.Sprintf("A%d", i+1), fmt.Sprintf("=%d/10", k))
			} else {
				g.put("S", fmt.Sprintf("A%d", i+1), fmt.Sprintf("%d.%d", k/10, k%10))
			}
		}
		e := New(g, DefaultBounds())
		for try := range 4 { // the second makes the table
			key := rapid.IntRange(-2, 130).Draw(t, "sought")
			first, last := 0, 0
			for i, k := range keys {
				if k == key && first == 0 {
					first = i + 1
				}
				if k <= key {
					last = i + 1
				}
			}
			for formula, want := range map[string]int{fmt.Sprintf("MATCH(%d/10,A1:A%d,0)", key, n): first, fmt.Sprintf("MATCH(%d/10,A:A)", key): last} {
				if strings.Contains(formula, "A:A") && !sorted {
					continue
				}
				at := sheet.Place{Row: 200 + try, Column: 2}
				if strings.Contains(formula, "A:A") {
					at.Column = 3
				}
				g.cells[0][at] = &sheet.Cell{Formula: formula}
				p, err := e.At(t.Context(), "S", at)
				delete(g.cells[0], at)
				if err != nil {
					t.Fatal(err)
				}
				if got := p.Exact.String(); want == 0 && got != "#N/A" || want > 0 && got != fmt.Sprint(want) {
					t.Fatalf("%s is %s, want %d in %v", formula, got, want, keys)
				}
			}
		}
	})
}
