package leastsquares

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// whole draws a linear program in small whole numbers: degenerate vertices,
// dependent rows, free variables and all three outcomes are common.
func wholeLinear(r *rand.Rand, most int) LinearProblem {
	n := 1 + r.IntN(most)
	p := LinearProblem{E: NewMatrix(r.IntN(3), n), G: NewMatrix(r.IntN(most+2), n)}
	draw := func() float64 { return float64(r.IntN(7) - 3) }
	for j := range n {
		p.C = append(p.C, draw())
		lower, upper := math.Inf(-1), math.Inf(1)
		if r.IntN(4) > 0 {
			lower = draw()
		}
		if r.IntN(3) == 0 {
			upper = 3 + float64(r.IntN(3))
			if r.IntN(8) == 0 && !math.IsInf(lower, -1) {
				upper = lower
			}
		}
		p.Lower, p.Upper = append(p.Lower, lower), append(p.Upper, upper)
		for i := range p.E.Rows {
			p.E.Set(i, j, draw())
		}
		for i := range p.G.Rows {
			if r.IntN(2) == 0 {
				p.G.Set(i, j, draw())
			}
		}
	}
	for range p.E.Rows {
		p.F = append(p.F, draw())
	}
	for range p.G.Rows {
		p.H = append(p.H, float64(r.IntN(6)))
	}
	if p.E.Rows > 1 && r.IntN(2) == 0 {
		for j, v := range p.E.Row(0) {
			p.E.Set(1, j, -2*v)
		}
		p.F[1] = -2 * p.F[0]
	}
	if p.G.Rows > 1 && r.IntN(3) == 0 {
		copy(p.G.Row(1), p.G.Row(0))
		p.H[1] = p.H[0]
	}
	return p
}

// checkLinear verifies the answer's own certificate from the input.
func checkLinear(t *testing.T, p LinearProblem, s LinearSolution) {
	t.Helper()
	switch s.Status {
	case Optimal:
		if s.KKT > 1e-12 {
			t.Errorf("KKT residual %g", s.KKT)
		}
		if bound := p.DualBound(s.InequalityMultiplier, s.EqualityMultiplier); !near(bound, s.Objective, 1e-9) || bound > s.Objective+1e-9*(1+math.Abs(s.Objective)) {
			t.Errorf("dual bound %.15g, objective %.15g", bound, s.Objective)
		}
	case Infeasible:
		checkFarkas(t, &p, s.Conflict)
	case Unbounded:
		if got := p.CheckRay(s.Ray); got > 1e-12 {
			t.Errorf("the ray fails by %g", got)
		}
		feasible := s
		zero := p
		zero.C = make([]float64, len(p.C))
		if got := zero.CheckKKT(feasible); got > 1e-9 {
			t.Errorf("the point of the ray fails by %g", got)
		}
	default:
		t.Errorf("status %v: %+v", s.Status, p)
	}
}

func TestEveryLinearProgramIsCertified(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	count := map[Status]int{}
	for range 5000 {
		p := wholeLinear(r, 7)
		s, err := SolveLinear(p)
		if err != nil {
			t.Fatal(err)
		}
		count[s.Status]++
		checkLinear(t, p, s)
		if t.Failed() {
			t.Fatalf("%+v", p)
		}
	}
	for _, status := range []Status{Optimal, Infeasible, Unbounded} {
		if count[status] < 100 {
			t.Errorf("%v came up %d times in 5000", status, count[status])
		}
	}
	t.Log(count)
}

// The least of C.x over the vertices of a bounded problem: every choice of n
// constraints that hold with equality.
func TestLinearProgramEqualsTheBestVertex(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	for trial := range 400 {
		p := wholeLinear(r, 3)
		n := len(p.C)
		for j := range n {
			p.Lower[j], p.Upper[j] = float64(-r.IntN(3)), float64(1+r.IntN(3))
		}
		var rows [][]float64
		var right []float64
		for i := range p.E.Rows {
			rows, right = append(rows, p.E.Row(i)), append(right, p.F[i])
		}
		for i := range p.G.Rows {
			rows, right = append(rows, p.G.Row(i)), append(right, p.H[i])
		}
		for j := range n {
			unit := make([]float64, n)
			unit[j] = 1
			rows, right = append(rows, unit, unit), append(right, p.Lower[j], p.Upper[j])
		}
		best := math.Inf(1)
		chosen := make([]int, n)
		var visit func(depth, from int)
		visit = func(depth, from int) {
			if depth < n {
				for i := from; i < len(rows); i++ {
					chosen[depth] = i
					visit(depth+1, i+1)
				}
				return
			}
			a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
			for k, i := range chosen {
				a.SetRow(k, rows[i])
				b.SetVec(k, right[i])
			}
			var x mat.VecDense
			if math.Abs(mat.Det(a)) < 0.5 || x.SolveVec(a, b) != nil {
				return
			}
			for i, row := range rows {
				gap := dot(row, x.RawVector().Data) - right[i]
				kind := i - p.E.Rows - p.G.Rows
				if gap > 1e-9 && (i >= p.E.Rows && (kind < 0 || kind%2 == 1)) || gap < -1e-9 && kind >= 0 && kind%2 == 0 || i < p.E.Rows && math.Abs(gap) > 1e-9 {
					return
				}
			}
			best = min(best, dot(p.C, x.RawVector().Data))
		}
		visit(0, 0)
		s, err := SolveLinear(p)
		if err != nil {
			t.Fatal(err)
		}
		if math.IsInf(best, 1) != (s.Status == Infeasible) || s.Status == Optimal && !near(s.Objective, best, 1e-10) || s.Status == Stopped {
			t.Fatalf("trial %d: %v %.12g, best vertex %.12g: %+v", trial, s.Status, s.Objective, best, p)
		}
	}
}

// Another program's simplex on larger problems in standard form.
func TestLinearProgramEqualsGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	for trial := range 60 {
		rows, n := 3+r.IntN(12), 20+r.IntN(40)
		p := LinearProblem{E: NewMatrix(rows, n), F: make([]float64, rows), Lower: make([]float64, n)}
		for j := range n {
			p.C = append(p.C, r.Float64()+0.1)
			x := r.Float64()
			for i := range rows {
				p.E.Set(i, j, r.NormFloat64())
				p.F[i] += x * p.E.At(i, j)
			}
		}
		want, _, err := lp.Simplex(p.C, mat.NewDense(rows, n, p.E.Data), p.F, 0, nil)
		if err != nil {
			t.Fatal(trial, err)
		}
		s, err := SolveLinear(p)
		if err != nil || s.Status != Optimal || !near(s.Objective, want, 1e-9) {
			t.Fatalf("trial %d: %.15g (%v, %v), gonum %.15g", trial, s.Objective, s.Status, err, want)
		}
		checkLinear(t, p, s)
	}
}

// Units of variables and rows, as powers of ten, must not matter.
func TestLinearProgramDoesNotDependOnUnits(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	for trial := range 500 {
		p := wholeLinear(r, 6)
		s, err := SolveLinear(p)
		if err != nil {
			t.Fatal(err)
		}
		q := LinearProblem{E: NewMatrix(p.E.Rows, p.E.Cols), G: NewMatrix(p.G.Rows, p.G.Cols)}
		q.F, q.H = append(q.F, p.F...), append(q.H, p.H...)
		rowUnit := make([]float64, p.E.Rows+p.G.Rows)
		for i := range rowUnit {
			rowUnit[i] = math.Pow(10, float64(r.IntN(13)-6))
		}
		for j, c := range p.C {
			unit := math.Pow(10, float64(r.IntN(13)-6))
			q.C = append(q.C, c*unit)
			q.Lower, q.Upper = append(q.Lower, p.Lower[j]/unit), append(q.Upper, p.Upper[j]/unit)
			for i := range p.E.Rows {
				q.E.Set(i, j, p.E.At(i, j)*unit*rowUnit[i])
			}
			for i := range p.G.Rows {
				q.G.Set(i, j, p.G.At(i, j)*unit*rowUnit[p.E.Rows+i])
			}
		}
		for i := range q.F {
			q.F[i] *= rowUnit[i]
		}
		for i := range q.H {
			q.H[i] *= rowUnit[p.E.Rows+i]
		}
		other, err := SolveLinear(q)
		if err != nil {
			t.Fatal(err)
		}
		if s.Status != other.Status || s.Status == Optimal && !near(s.Objective, other.Objective, 1e-9) {
			t.Fatalf("trial %d: %v %.12g in other units %v %.12g (KKT %g): %+v", trial, s.Status, s.Objective, other.Status, other.Objective, other.KKT, q)
		}
		again, _ := SolveLinear(q)
		if !reflect.DeepEqual(again, other) {
			t.Fatal("solved twice, two answers")
		}
	}
}

// Klee and Minty's problems make a rule of largest coefficients visit 2^n
// vertices; their optimum is (0, ..., 0, 5^n). Source: V. Klee and G. J. Minty,
// How good is the simplex algorithm? (1972), scaled as in the list of problems.
func TestKleeMintyOfEverySize(t *testing.T) {
	for n := 1; n <= 12; n++ {
		p := LinearProblem{G: NewMatrix(n, n), Lower: make([]float64, n)}
		for i := range n {
			p.C = append(p.C, -math.Pow(2, float64(n-1-i)))
			p.H = append(p.H, math.Pow(5, float64(i+1)))
			p.G.Set(i, i, 1)
			for j := range i {
				p.G.Set(i, j, math.Pow(2, float64(i-j+1)))
			}
		}
		s, err := SolveLinear(p)
		if err != nil || s.Status != Optimal || s.Objective != -math.Pow(5, float64(n)) {
			t.Errorf("%d: %v %.15g after %d iterations", n, s.Status, s.Objective, s.Iterations)
		}
	}
}

func FuzzSolveLinear(f *testing.F) {
	f.Add(byte(2), byte(1), byte(1), []byte{2, 3, 4, 5, 2, 2, 3, 1, 17, 18, 19, 2, 2, 2, 3, 3, 3, 0, 0, 15, 16})
	f.Add(byte(4), byte(0), byte(3), []byte{3, 2, 3, 2, 5, 3, 3, 2, 5, 3, 3, 2, 0, 0, 2, 0, 0, 0, 2, 0, 0, 0, 0, 15, 15, 15, 15})
	f.Add(byte(3), byte(2), byte(2), []byte{8, 8, 9, 6, 6, 7, 10, 10, 13, 13, 2, 2, 2, 2, 2, 2})
	f.Fuzz(func(t *testing.T, n, equalities, inequalities byte, data []byte) {
		next := numbersFrom(data)
		fill := func(k int) []float64 {
			x := make([]float64, k)
			for i := range x {
				x[i] = next()
			}
			return x
		}
		cols, e, g := int(n%5), int(equalities%3), int(inequalities%4)
		p := LinearProblem{C: fill(cols)}
		p.E = &Matrix{Rows: e, Cols: cols, Data: fill(e * cols)}
		p.F = fill(e)
		p.G = &Matrix{Rows: g, Cols: cols, Data: fill(g * cols)}
		p.H = fill(g)
		p.Lower, p.Upper = fill(cols), fill(cols)
		s, err := SolveLinear(p)
		if err != nil {
			return
		}
		switch s.Status {
		case Optimal:
			for _, list := range [][]float64{s.X, {s.Objective, s.KKT}, s.EqualityMultiplier, s.InequalityMultiplier, s.LowerMultiplier, s.UpperMultiplier} {
				if finite("", list) != nil {
					t.Errorf("optimal with %+v", s)
				}
			}
			for j, x := range s.X {
				if x < p.Lower[j] || x > p.Upper[j] {
					t.Errorf("x[%d] = %g is outside %g..%g", j, x, p.Lower[j], p.Upper[j])
				}
			}
			if got := p.CheckKKT(s); got > acceptedKKT {
				t.Errorf("optimal with KKT residual %g", got)
			}
		case Infeasible:
			if s.Conflict == nil || len(s.Conflict.Set) == 0 {
				t.Error("infeasible without a conflict")
			}
		case Unbounded:
			if got := p.CheckRay(s.Ray); got > acceptedKKT {
				t.Errorf("a ray that fails by %g", got)
			}
		}
	})
}
