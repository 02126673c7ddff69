package examination

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestSolve: the forces of bolts that are held satisfy their springs, and are those that gonum's Cholesky factor gives.
func TestSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "bolts")
		share := float64(rapid.IntRange(0, 100).Draw(t, "share")) / 100
		bolt, members := float64(rapid.IntRange(1, 50).Draw(t, "bolt"))*1e-6, float64(rapid.IntRange(1, 50).Draw(t, "members"))*1e-6
		r := &row{advance: make([]float64, n), force: make([]float64, n), compliance: make([][]float64, n)}
		for i := range n {
			r.advance[i], r.compliance[i] = float64(rapid.IntRange(0, 999).Draw(t, "advance"))/1000, make([]float64, n)
			for j := range n {
				r.compliance[i][j] = members * math.Pow(share, math.Abs(float64(i-j)))
			}
			r.compliance[i][i] = bolt + members
		}
		r.force[0] = 1234
		var held []int
		for i := 1; i < n; i++ {
			held = append(held, i)
		}
		got := r.solve(held, 0)
		a, b := mat.NewSymDense(n-1, nil), mat.NewVecDense(n-1, nil)
		for k, i := range held {
			b.SetVec(k, r.advance[i]-r.compliance[i][0]*r.force[0])
			sum, size := 0.0, math.Abs(b.AtVec(k))
			for m, j := range held {
				a.SetSym(k, m, r.compliance[i][j])
				sum += r.compliance[i][j] * got[m]
				size += math.Abs(r.compliance[i][j] * got[m])
			}
			if math.Abs(sum-b.AtVec(k)) > 1e-14*size {
				t.Fatalf("spring %d gives %g, want %g", i, sum, b.AtVec(k))
			}
		}
		var factored mat.Cholesky
		var want mat.VecDense
		if !factored.Factorize(a) {
			t.Fatal("not definite")
		}
		if err := factored.SolveVecTo(&want, b); err != nil {
			t.Fatal(err)
		}
		for k := range held {
			if math.Abs(got[k]-want.AtVec(k)) > 1e-9*mat.Norm(&want, math.Inf(1)) {
				t.Fatalf("force %d is %g, want %g", k, got[k], want.AtVec(k))
			}
		}
	})
}
