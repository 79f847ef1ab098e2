package leastsquares

import (
	"math/rand/v2"
	"testing"
)

// Sizes up to 500 variables end with a certificate.
func TestLargeProblems(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for _, size := range []struct{ rows, cols, equalities, inequalities int }{{7, 500, 2, 6}, {60, 200, 0, 0}, {150, 100, 3, 10}} {
		p := mixture(r, size.rows, size.cols, 25)
		x := make([]float64, size.cols)
		for j := range x {
			if r.IntN(10) == 0 {
				x[j] = 24 * r.Float64()
			}
		}
		p.E, p.G = NewMatrix(size.equalities, size.cols), NewMatrix(size.inequalities, size.cols)
		for i := range p.E.Data {
			p.E.Data[i] = r.Float64()
		}
		for i := range p.G.Data {
			p.G.Data[i] = r.NormFloat64()
		}
		for i := range p.E.Rows {
			p.F = append(p.F, dot(p.E.Row(i), x))
		}
		for i := range p.G.Rows {
			p.H = append(p.H, dot(p.G.Row(i), x))
		}
		s, err := Solve(p)
		if err != nil || s.Status != Optimal || s.KKT > 1e-12 {
			t.Errorf("%+v: %v, KKT residual %g after %d iterations, %v", size, s.Status, s.KKT, s.Iterations, err)
		}
		t.Logf("%+v: %d iterations, KKT residual %.1e", size, s.Iterations, s.KKT)
	}
}
