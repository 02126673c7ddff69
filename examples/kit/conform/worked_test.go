package conform

import (
	"fmt"
	"math/big"
)

// A bench collects the vectors that follow by arithmetic. What it computes with are whole numbers,
// fractions and big floats; nothing of the library.
type bench struct {
	all   []Vector
	count map[string]int
	asked map[string]bool
}

// worked are the vectors from arithmetic.
func worked() []Vector {
	b := &bench{count: map[string]int{}, asked: map[string]bool{}}
	workedConversions(b)
	workedPlaces(b)
	workedSums(b)
	workedJudgements(b)
	workedAssignments(b)
	workedIllegible(b)
	workedPurchases(b)
	workedStacks(b)
	workedLaws(b)
	workedThreads(b)
	workedFits(b)
	workedDesignations(b)
	workedTorques(b)
	workedPlans(b)
	workedJoints(b)
	workedProcedures(b)
	workedSizes(b)
	workedReadings(b)
	workedShapes(b)
	workedFilms(b)
	return b.all
}

type obj = map[string]any

// add adds a vector. Near says for which keys an approximate answer will do, and how near.
func (b *bench) add(topic, kind, edge string, question, want obj, near map[string]string, why, derivation string) {
	text := topic + kind + whole(question)
	if b.asked[text] {
		return // each question once, by whatever way it was made
	}
	b.asked[text] = true
	b.count[topic+edge]++
	b.all = append(b.all, Vector{ID: fmt.Sprintf("%s-%s-%04d", topic, edge, b.count[topic+edge]), Topic: topic, Kind: kind, Question: question, Want: want,
		Tolerance: near, Why: why, Basis: Arithmetic, Source: derivation})
}

// rat reads a decimal or a ratio.
func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("not a number: " + text)
	}
	return r
}

func plus(a, b *big.Rat) *big.Rat  { return new(big.Rat).Add(a, b) }
func minus(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func times(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func over(a, b *big.Rat) *big.Rat  { return new(big.Rat).Quo(a, b) }

// dec writes a number that has an end.
func dec(r *big.Rat) string {
	n, exact := r.FloatPrec()
	if !exact {
		panic("without an end: " + r.String())
	}
	return r.FloatString(n)
}

const binary64 = "one in 10¹³ of the value: what a few operations in binary64 may lose"

// relative is a tolerance for programs that compute in binary64, by key.
func relative(of map[string]*big.Rat) map[string]string {
	near := map[string]string{}
	for key, r := range of {
		if r.Sign() != 0 {
			near[key] = over(new(big.Rat).Abs(r), rat("1e13")).FloatString(30)
		}
	}
	if len(near) == 0 {
		return nil
	}
	return near
}

// rounded rounds to a whole number: down, up, or to the nearest with halves to even.
func rounded(r *big.Rat, places int, way string) *big.Rat {
	scale := tenTo(places)
	n := times(r, scale)
	floor := new(big.Int).Div(n.Num(), n.Denom()) // Euclid's: down, for a positive denominator
	rest := minus(n, new(big.Rat).SetInt(floor))
	up := false
	switch way {
	case "up":
		up = rest.Sign() > 0
	case "nearest":
		half := rest.Cmp(big.NewRat(1, 2))
		up = half > 0 || half == 0 && floor.Bit(0) == 1
	}
	if up {
		floor.Add(floor, big.NewInt(1))
	}
	return over(new(big.Rat).SetInt(floor), scale)
}

// rootOf is a square root to 40 digits after the point.
func rootOf(r *big.Rat) *big.Rat {
	scale := tenTo(80)
	n := times(r, scale)
	i := new(big.Int).Sqrt(new(big.Int).Quo(n.Num(), n.Denom()))
	return over(new(big.Rat).SetInt(i), tenTo(40))
}

// pi to 50 digits (Abramowitz and Stegun, table 1.1).
func pi() *big.Rat { return rat("3.14159265358979323846264338327950288419716939937510") }
