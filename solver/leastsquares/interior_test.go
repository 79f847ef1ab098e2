package leastsquares

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// interiorOptimum minimises p by a primal-dual interior-point method with
// Mehrotra's predictor and corrector, on gonum's dense factors: nothing is
// shared with the active-set method. Equalities leave by the singular value
// decomposition, x = x0 + Z y; bounds and inequalities become C y <= h. It needs
// a point strictly inside these, and C or A of full column rank. It returns the
// objective, and a bound on how far that is from the least by weak duality.
//
// Source: S. Mehrotra, On the implementation of a primal-dual interior point
// method, SIAM J. Optim. 2 (1992); from memory.
func interiorOptimum(t *testing.T, p Problem) (objective, gap float64) {
	t.Helper()
	n := p.A.Cols
	x0, z := nullSpace(t, p)
	free := z.RawMatrix().Cols
	var rows [][]float64
	var h []float64
	add := func(row []float64, right float64) {
		if !math.IsInf(right, 0) {
			rows, h = append(rows, row), append(h, right)
		}
	}
	for j := range n {
		if p.Lower[j] == p.Upper[j] {
			continue // among the equalities
		}
		up, down := make([]float64, n), make([]float64, n)
		up[j], down[j] = 1, -1
		add(up, p.Upper[j])
		add(down, -p.Lower[j])
	}
	for i := range rowCount(p.G) {
		add(p.G.Row(i), p.H[i])
	}
	residual := func(y []float64) ([]float64, float64) {
		x := append([]float64(nil), x0...)
		for j := range x {
			for k := range free {
				x[j] += z.At(j, k) * y[k]
			}
		}
		r, sum := make([]float64, p.A.Rows), 0.0
		for i := range r {
			r[i] = dot(p.A.Row(i), x) - p.B[i]
			sum += r[i] * r[i]
		}
		return r, sum
	}
	if free == 0 {
		_, sum := residual(nil)
		return sum, 0
	}
	m := len(h)
	reduced := func(source func(int) []float64, count int) *mat.Dense {
		if count == 0 {
			return nil
		}
		out := mat.NewDense(count, free, nil)
		for i := range count {
			for k := range free {
				sum := 0.0
				for j, v := range source(i) {
					sum += v * z.At(j, k)
				}
				out.Set(i, k, sum)
			}
		}
		return out
	}
	a := reduced(p.A.Row, p.A.Rows)
	c := reduced(func(i int) []float64 { return rows[i] }, m)
	for i := range h {
		h[i] -= dot(rows[i], x0)
	}
	hessian := mat.NewSymDense(free, nil)
	if a != nil {
		hessian.SymOuterK(2, a.T())
	}
	y, s, lambda := make([]float64, free), make([]float64, m), make([]float64, m)
	size := 1 + largestOf(h)
	for i := range s {
		s[i], lambda[i] = math.Max(h[i], 0.1*size), 1
	}
	best, bestGap := math.Inf(1), math.Inf(1)
	for range 100 {
		r, value := residual(y)
		// Slope of the Lagrangian, and what the rows are off.
		dual, primal := make([]float64, free), make([]float64, m)
		mu := 0.0
		for k := range dual {
			for i := range r {
				dual[k] += 2 * r[i] * a.At(i, k)
			}
			for i := range m {
				dual[k] += lambda[i] * c.At(i, k)
			}
		}
		for i := range m {
			primal[i] = s[i] - h[i]
			for k := range y {
				primal[i] += c.At(i, k) * y[k]
			}
			mu += s[i] * lambda[i]
		}
		if off := mu + norm(dual)*(1+norm(y)) + norm(primal)*(1+norm(lambda)); off < bestGap {
			best, bestGap = value, off
		}
		if bestGap < 1e-11*(1+value) || m == 0 && norm(dual) < 1e-11*(1+value) {
			break
		}
		normal := mat.NewSymDense(free, nil)
		normal.CopySym(hessian)
		for i := range m {
			normal.SymRankOne(normal, lambda[i]/s[i], mat.NewVecDense(free, append([]float64(nil), c.RawRowView(i)...)))
		}
		// Where neither aims nor rows hold y, a proximal term does; the residuals
		// stay those of the problem.
		most := 0.0
		for k := range free {
			most = math.Max(most, hessian.At(k, k))
		}
		for k := range free {
			normal.SetSym(k, k, normal.At(k, k)+1e-9*(1+most))
		}
		var factor mat.Cholesky
		if !factor.Factorize(normal) {
			break // as near as the numbers go
		}
		// step solves for the change that brings s_i lambda_i to target_i.
		step := func(target []float64) (dy, ds, dl []float64) {
			right := mat.NewVecDense(free, nil)
			for k := range free {
				sum := -dual[k]
				for i := range m {
					sum -= c.At(i, k) * (lambda[i]*primal[i] + target[i] - s[i]*lambda[i]) / s[i]
				}
				right.SetVec(k, sum)
			}
			var solved mat.VecDense
			_ = factor.SolveVecTo(&solved, right) // a poor condition is met by the next step
			dy, ds, dl = solved.RawVector().Data, make([]float64, m), make([]float64, m)
			for i := range m {
				ds[i] = -primal[i]
				for k := range dy {
					ds[i] -= c.At(i, k) * dy[k]
				}
				dl[i] = (target[i] - s[i]*lambda[i] - lambda[i]*ds[i]) / s[i]
			}
			return dy, ds, dl
		}
		reach := func(v, dv []float64) float64 {
			most := 1.0
			for i := range v {
				if dv[i] < 0 {
					most = math.Min(most, -v[i]/dv[i])
				}
			}
			return most
		}
		target := make([]float64, m)
		_, affineS, affineL := step(target)
		after, reachS, reachL := 0.0, reach(s, affineS), reach(lambda, affineL)
		for i := range m {
			after += (s[i] + reachS*affineS[i]) * (lambda[i] + reachL*affineL[i])
		}
		if m > 0 {
			centring := math.Pow(after/mu, 3) * mu / float64(m)
			for i := range m {
				target[i] = centring - affineS[i]*affineL[i]
			}
		}
		dy, ds, dl := step(target)
		// One length for both, as the objective is quadratic.
		along := math.Min(1, 0.995*math.Min(reach(s, ds), reach(lambda, dl)))
		if along < 0.3 {
			// Too near some bound: back to the middle first.
			for i := range target {
				target[i] = 0.5 * mu / float64(m)
			}
			dy, ds, dl = step(target)
			along = math.Min(1, 0.995*math.Min(reach(s, ds), reach(lambda, dl)))
		}
		for k := range y {
			y[k] += along * dy[k]
		}
		for i := range m {
			s[i] += along * ds[i]
			lambda[i] += along * dl[i]
		}
	}
	return best, bestGap
}

// nullSpace solves E x = F, with the fixed variables as further rows: x0 is a
// solution, and the columns of the result span the differences of any two.
func nullSpace(t *testing.T, p Problem) ([]float64, *mat.Dense) {
	t.Helper()
	n := p.A.Cols
	var rows, right []float64
	for i := range rowCount(p.E) {
		rows, right = append(rows, p.E.Row(i)...), append(right, p.F[i])
	}
	for j := range n {
		if p.Lower[j] == p.Upper[j] {
			row := make([]float64, n)
			row[j] = 1
			rows, right = append(rows, row...), append(right, p.Lower[j])
		}
	}
	z := mat.NewDense(n, n, nil)
	x0 := make([]float64, n)
	if len(right) == 0 {
		for j := range n {
			z.Set(j, j, 1)
		}
		return x0, z
	}
	var svd mat.SVD
	if !svd.Factorize(mat.NewDense(len(right), n, rows), mat.SVDFull) {
		t.Fatal("no singular values")
	}
	rank := svd.Rank(1e-10)
	var x mat.Dense
	svd.SolveTo(&x, mat.NewDense(len(right), 1, right), rank)
	for j := range n {
		x0[j] = x.At(j, 0)
	}
	var v mat.Dense
	svd.VTo(&v)
	if rank == n {
		return x0, &mat.Dense{}
	}
	return x0, mat.DenseCopyOf(v.Slice(0, n, rank, n))
}

// randomConvex draws a problem of up to sixty variables with a point strictly
// inside its inequalities. A degenerate one has columns and rows that depend on
// others, fixed variables, bounds and rows that touch the unbounded minimiser,
// or aims of low rank.
func randomConvex(r *rand.Rand, degenerate bool) Problem {
	n := 1 + r.IntN(60)
	m := r.IntN(2*n + 2)
	p := Problem{A: NewMatrix(m, n), B: make([]float64, m), Lower: make([]float64, n), Upper: make([]float64, n)}
	for i := range p.A.Data {
		p.A.Data[i] = r.NormFloat64()
	}
	inside := make([]float64, n)
	for j := range n {
		inside[j] = r.NormFloat64()
		p.Lower[j], p.Upper[j] = inside[j]-r.ExpFloat64()-0.05, inside[j]+r.ExpFloat64()+0.05
		switch r.IntN(6) {
		case 0:
			p.Upper[j] = math.Inf(1)
		case 1:
			p.Lower[j] = math.Inf(-1)
		}
	}
	if degenerate {
		rank := 1 + r.IntN(max(1, min(m, n)))
		for i := rank; i < m; i++ {
			row, other := p.A.Row(i), p.A.Row(r.IntN(rank))
			by := r.NormFloat64()
			for j := range row {
				row[j] = by * other[j]
			}
		}
		for range 1 + n/4 {
			from, to := r.IntN(n), r.IntN(n)
			by := float64(r.IntN(5) - 2)
			for i := range m {
				p.A.Set(i, to, by*p.A.At(i, from))
			}
		}
		for range n / 8 {
			j := r.IntN(n)
			p.Lower[j], p.Upper[j] = inside[j], inside[j]
		}
	}
	touching := degenerate && r.IntN(2) == 0
	at := append([]float64(nil), inside...)
	if touching {
		// The minimiser sits where many bounds are.
		for j := range at {
			if k := r.IntN(3); k == 0 && !math.IsInf(p.Lower[j], 0) {
				at[j] = p.Lower[j]
			} else if k == 1 && !math.IsInf(p.Upper[j], 0) {
				at[j] = p.Upper[j]
			}
		}
	}
	for i := range p.B {
		p.B[i] = dot(p.A.Row(i), at)
		if !touching {
			p.B[i] += 3 * r.NormFloat64()
		}
	}
	if equalities := r.IntN(4); n > 8 && equalities > 0 {
		p.E = NewMatrix(equalities, n)
		for i := range equalities {
			for j := range n {
				p.E.Set(i, j, r.NormFloat64())
			}
			if degenerate && i > 0 {
				copy(p.E.Row(i), p.E.Row(0))
			}
			p.F = append(p.F, dot(p.E.Row(i), inside))
		}
	}
	if inequalities := r.IntN(6); inequalities > 0 {
		p.G = NewMatrix(inequalities, n)
		for i := range inequalities {
			for j := range n {
				p.G.Set(i, j, r.NormFloat64())
			}
			slack := 0.05 + r.ExpFloat64()
			if degenerate && i > 0 && r.IntN(2) == 0 {
				copy(p.G.Row(i), p.G.Row(i-1))
			}
			p.H = append(p.H, dot(p.G.Row(i), inside)+slack)
		}
	}
	return p
}

// Two thousand random problems, a quarter of them degenerate, meet the
// optimality conditions and have the objective that the interior-point method
// finds.
func TestObjectiveIsThatOfAnInteriorPointMethod(t *testing.T) {
	const problems = 2000
	worstKKT, worstGap, worstOff, hard := 0.0, 0.0, 0.0, 0
	for seed := range uint64(problems) {
		r := rand.New(rand.NewPCG(seed, 2026))
		degenerate := seed%4 == 0
		p := randomConvex(r, degenerate)
		s, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.Status != Optimal || s.KKT > 1e-9 {
			t.Errorf("seed %d: %v, KKT residual %g", seed, s.Status, s.KKT)
			continue
		}
		worstKKT = math.Max(worstKKT, s.KKT)
		want, gap := interiorOptimum(t, p)
		worstGap = math.Max(worstGap, gap/(1+want))
		if gap > 1e-9*(1+want) {
			hard++
		}
		off := math.Abs(s.Objective-want) / (1 + want)
		worstOff = math.Max(worstOff, off)
		if off > 1e-8 {
			t.Errorf("seed %d: objective %.15g, interior point %.15g (within %.1e)", seed, s.Objective, want, gap)
		}
	}
	t.Logf("largest KKT residual %.1e, gap %.1e, difference %.1e; the gap of %d is above 1e-9", worstKKT, worstGap, worstOff, hard)
}
