package leastsquares

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

// Minimise (x - 2)^2 + (y - 1)^2: free, the optimum is (2, 1). With x <= 3/2
// it is (3/2, 1), the upper multiplier 2 (2 - 3/2) = 1.
func TestClosedFormFreeAndBounded(t *testing.T) {
	p := Problem{A: fromRows([][]float64{{1, 0}, {0, 1}}), B: []float64{2, 1}}
	s, err := Solve(p)
	if err != nil || s.Status != Optimal || s.X[0] != 2 || s.X[1] != 1 || s.Objective != 0 {
		t.Errorf("free: %+v, %v", s, err)
	}
	p.Upper = []float64{1.5, math.Inf(1)}
	s, err = Solve(p)
	if err != nil || s.Status != Optimal || s.X[0] != 1.5 || s.X[1] != 1 || s.Objective != 0.25 || s.UpperMultiplier[0] != 1 {
		t.Errorf("bounded: %+v, %v", s, err)
	}
}

// Two components x, y in 0..100 with x + y = 100 and the share of x,
// 0.4 x / (x + y), at most 0.1: that is 0.3 x - 0.1 y <= 0, so x <= 25. The aim
// x = 40 is missed by 15: objective 225 at (25, 75). With F = (x - 40)^2,
// E: x + y = 100 and G: 0.3 x - 0.1 y <= 0 stationarity reads
// 2 (25 - 40) + lambda + 0.3 mu = 0 and lambda - 0.1 mu = 0, hence
// 0.4 mu = 30, mu = 75, lambda = 7.5.
func TestClosedFormRatioLimit(t *testing.T) {
	p := Problem{
		A: fromRows([][]float64{{1, 0}}), B: []float64{40},
		E: fromRows([][]float64{{1, 1}}), F: []float64{100}, G: fromRows([][]float64{{0.3, -0.1}}), H: []float64{0},
		Lower: []float64{0, 0}, Upper: []float64{100, 100},
	}
	s, err := Solve(p)
	if err != nil || s.Status != Optimal || !near(s.X[0], 25, 1e-12) || !near(s.X[1], 75, 1e-12) || !near(s.Objective, 225, 1e-12) ||
		!near(s.InequalityMultiplier[0], 75, 1e-12) || !near(s.EqualityMultiplier[0], 7.5, 1e-12) {
		t.Errorf("linear: %+v, %v", s, err)
	}
	// The same with the ratio as a nonlinear limit: value 1 is 0.4 x / (x + y).
	// Its derivative by x along x + y = 100 is 0.004, so its multiplier is 30 / 0.004.
	q := NonlinearProblem{
		Start: []float64{90, 10}, Low: []float64{40, 0}, High: []float64{40, 0}, Scale: []float64{1, 1}, Weight: []float64{1, 0},
		LimitLow: []float64{math.Inf(-1), math.Inf(-1)}, LimitHigh: []float64{math.Inf(1), 0.1}, LimitScale: []float64{1, 0.01},
		Lower: p.Lower, Upper: p.Upper, E: p.E, F: p.F,
		Model: complexModel{func(x, v []complex128) { v[0], v[1] = x[0], 0.4*x[0]/(x[0]+x[1]) }},
	}
	n, err := SolveNonlinear(q)
	if err != nil || n.Status != Optimal || !near(n.X[0], 25, 1e-9) || !near(n.X[1], 75, 1e-9) || !near(n.Objective, 225, 1e-9) ||
		!near(n.LimitMultiplier[1], 7500, 1e-6) || n.Violation > 1e-9 {
		t.Errorf("nonlinear: %+v, %v", n, err)
	}
	// The same as a linear inequality, without the equality: x = 25 is not
	// forced, (40, 100) meets 0.3 x <= 0.1 y only from y = 120, so y <= 100
	// leaves x = 100/3.
	q.E, q.F, q.G, q.H = nil, nil, p.G, p.H
	q.LimitLow, q.LimitHigh, q.LimitScale = nil, nil, nil
	n, err = SolveNonlinear(q)
	if err != nil || n.Status != Optimal || !near(n.X[0], 100.0/3, 1e-9) || n.X[1] != 100 || n.InequalityMultiplier[0] <= 0 || n.UpperMultiplier[1] <= 0 {
		t.Errorf("linear inequality: %+v, %v", n, err)
	}
}

// Rosenbrock's function 100 (y - x^2)^2 + (1 - x)^2 within x^2 + y^2 <= 2 has
// its free optimum (1, 1) on the circle; within radius^2 1 the published
// optimum of the disk problem is (0.7864, 0.6177) with value 0.0457.
//
// Source: MathWorks documentation, "Solve a Constrained Nonlinear Problem"
// (value from memory).
func TestRosenbrockInADisk(t *testing.T) {
	p := NonlinearProblem{
		Start: []float64{0, 0}, Low: []float64{0, 1, 0}, High: []float64{0, 1, 0}, Scale: []float64{0.1, 1, 1}, Weight: []float64{1, 1, 0},
		LimitLow: []float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}, LimitHigh: []float64{math.Inf(1), math.Inf(1), 1}, LimitScale: ones(3),
		Model: complexModel{func(x, v []complex128) { v[0], v[1], v[2] = x[1]-x[0]*x[0], x[0], x[0]*x[0]+x[1]*x[1] }},
	}
	for _, start := range [][]float64{{0, 0}, {-1.2, 1}, {3, -4}, {0.5, 0.5}} {
		p.Start = start
		s, err := SolveNonlinear(p)
		if err != nil || s.Status != Optimal || math.Abs(s.X[0]-0.7864) > 1e-4 || math.Abs(s.X[1]-0.6177) > 1e-4 || math.Abs(s.Objective-0.0457) > 1e-4 || s.KKT > 1e-8 {
			t.Errorf("from %v: %+v, %v", start, s, err)
		}
	}
}

// A band costs nothing inside and acts as its nearer edge outside: x in
// [2, 3], started at 0 and 10, ends at 2 and 3; y aims at 5 with a weight.
func TestBandsAreOneSided(t *testing.T) {
	p := NonlinearProblem{
		Low: []float64{4, 5, math.Inf(-1)}, High: []float64{9, 5, 7}, Scale: []float64{2, 1, 1}, Weight: []float64{1, 2, 1},
		Model: complexModel{func(x, v []complex128) { v[0], v[1], v[2] = x[0]*x[0], x[1], x[0]+x[1] }},
	}
	for _, row := range []struct{ start, x float64 }{{0.5, 2}, {10, 3}, {2.5, 2.5}} {
		p.Start = []float64{row.start, 1}
		p.Upper = []float64{12, 4}
		s, err := SolveNonlinear(p)
		if err != nil || s.Status != Optimal || s.X[1] != 4 || !near(s.Objective, 2, 1e-9) {
			t.Errorf("from %g: %+v, %v", row.start, s, err)
		}
		if s.X[0] < 2-1e-6 || s.X[0] > 3+1e-6 {
			t.Errorf("from %g: x = %g, want it in its band", row.start, s.X[0])
		}
	}
}

// x^2 + y^2 <= 1 and x + y >= 2 contradict each other. The least sum of
// squares (x^2 + y^2 - 1)^2 + (2 - x - y)^2 has x = y by symmetry; with x = y =
// u, 2 (2u^2 - 1) 4u - 4 (2 - 2u) = 0, that is 4u^3 = 2, u = 2^(-1/3).
func TestLimitsThatContradict(t *testing.T) {
	p := NonlinearProblem{
		Start: []float64{3, -1}, Low: []float64{5, 0, 0}, High: []float64{5, 0, 0}, Scale: ones(3), Weight: []float64{1, 0, 0},
		LimitLow: []float64{math.Inf(-1), math.Inf(-1), 2}, LimitHigh: []float64{math.Inf(1), 1, math.Inf(1)},
		Model: complexModel{func(x, v []complex128) { v[0], v[1], v[2] = x[0], x[0]*x[0]+x[1]*x[1], x[0]+x[1] }},
	}
	u := math.Pow(2, -1.0/3)
	s, err := SolveNonlinear(p)
	if err != nil || s.Status != Infeasible || math.Abs(s.X[0]-u) > 1e-3 || math.Abs(s.X[1]-u) > 1e-3 || !near(s.Violation, math.Max(2*u*u-1, 2-2*u), 1e-4) {
		t.Errorf("got %+v, %v; want x = y = %g", s, err, u)
	}
	// z >= 3 with z <= 1 by its bound: z = 1, and among such points the other
	// variable still reaches its aim.
	q := NonlinearProblem{
		Start: []float64{0, 0}, Low: []float64{5, 0}, High: []float64{5, 0}, Scale: ones(2), Weight: []float64{1, 0},
		LimitLow: []float64{math.Inf(-1), 3}, Upper: []float64{9, 1},
		Model: complexModel{func(x, v []complex128) { v[0], v[1] = x[0], x[1] }},
	}
	s, err = SolveNonlinear(q)
	if err != nil || s.Status != Infeasible || !near(s.X[0], 5, 1e-9) || s.X[1] != 1 || s.Violation != 2 {
		t.Errorf("got %+v, %v; want (5, 1)", s, err)
	}
	// Linear constraints that contradict each other.
	q.E, q.F = fromRows([][]float64{{0, 1}}), []float64{2}
	s, err = SolveNonlinear(q)
	if err != nil || s.Status != Infeasible || !math.IsInf(s.Violation, 1) {
		t.Errorf("got %+v, %v; want infeasible", s, err)
	}
}

// On a linear model SolveNonlinear must agree with Solve.
func TestLinearModelAgreesWithSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := drawFeasible(t, true)
		if p.A.Rows == 0 {
			return
		}
		want, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		m, g := p.A.Rows, p.G.Rows
		q := NonlinearProblem{
			Start: make([]float64, p.A.Cols), Lower: p.Lower, Upper: p.Upper, E: p.E, F: p.F,
			Model: complexModel{func(x, v []complex128) {
				for i := range m + g {
					var row []float64
					if i < m {
						row = p.A.Row(i)
					} else {
						row = p.G.Row(i - m)
					}
					v[i] = 0
					for j, a := range row {
						v[i] += complex(a, 0) * x[j]
					}
				}
			}},
		}
		q.Low, q.Scale, q.Weight = make([]float64, m+g), ones(m+g), make([]float64, m+g)
		q.LimitLow, q.LimitHigh = make([]float64, m+g), make([]float64, m+g)
		for i := range m + g {
			q.LimitLow[i], q.LimitHigh[i] = math.Inf(-1), math.Inf(1)
			if i < m {
				q.Low[i], q.Weight[i] = p.B[i], 1
			} else {
				q.LimitHigh[i] = p.H[i-m]
			}
		}
		q.High = q.Low
		got, err := SolveNonlinear(q)
		if err != nil {
			t.Fatal(err)
		}
		if got.Status != Optimal || !near(got.Objective, want.Objective, 1e-6) {
			t.Fatalf("%v with objective %.12g, KKT %g, violation %g; the linear optimum is %.12g; %s", got.Status, got.Objective, got.KKT, got.Violation, want.Objective, describe(p))
		}
	})
}

func TestMalformedProblemsAreRefused(t *testing.T) {
	a := fromRows([][]float64{{1, 2}})
	nan, inf := math.NaN(), math.Inf(1)
	for name, p := range map[string]Problem{
		"no matrix":             {},
		"too few numbers":       {A: &Matrix{Rows: 2, Cols: 2, Data: []float64{1}}, B: []float64{1, 2}},
		"right side missing":    {A: a},
		"matrix not a number":   {A: fromRows([][]float64{{nan}}), B: []float64{1}},
		"right side infinite":   {A: a, B: []float64{inf}},
		"E missing":             {A: a, B: []float64{1}, F: []float64{1}},
		"E of another width":    {A: a, B: []float64{1}, E: fromRows([][]float64{{1}}), F: []float64{1}},
		"lower bound infinite":  {A: a, B: []float64{1}, Lower: []float64{inf, 0}},
		"upper bound infinite":  {A: a, B: []float64{1}, Upper: []float64{-inf, 0}},
		"upper not a number":    {A: a, B: []float64{1}, Upper: []float64{nan, 0}},
		"one bound":             {A: a, B: []float64{1}, Upper: []float64{1}},
		"one reference":         {A: a, B: []float64{1}, Reference: []float64{1}},
		"reference is infinite": {A: a, B: []float64{1}, Reference: []float64{1, inf}},
	} {
		if _, err := Solve(p); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	good := func() NonlinearProblem {
		return NonlinearProblem{
			Model: complexModel{func(x, v []complex128) { v[0] = x[0] }}, Start: []float64{0},
			Low: []float64{1}, High: []float64{1}, Scale: []float64{1}, Weight: []float64{1},
		}
	}
	if s, err := SolveNonlinear(good()); err != nil || s.Status != Optimal {
		t.Fatal(s, err)
	}
	for name, spoil := range map[string]func(p *NonlinearProblem){
		"no model":          func(p *NonlinearProblem) { p.Model = nil },
		"no start":          func(p *NonlinearProblem) { p.Start = nil },
		"start is infinite": func(p *NonlinearProblem) { p.Start = []float64{inf} },
		"two scales":        func(p *NonlinearProblem) { p.Scale = ones(2) },
		"no scale":          func(p *NonlinearProblem) { p.Scale = nil },
		"scale zero":        func(p *NonlinearProblem) { p.Scale = []float64{0} },
		"weight negative":   func(p *NonlinearProblem) { p.Weight = []float64{-1} },
		"band reversed":     func(p *NonlinearProblem) { p.Low = []float64{2} },
		"limits reversed":   func(p *NonlinearProblem) { p.LimitLow, p.LimitHigh = []float64{2}, []float64{1} },
		"limit scale zero":  func(p *NonlinearProblem) { p.LimitScale = []float64{0} },
		"bound missing":     func(p *NonlinearProblem) { p.Lower = []float64{} },
	} {
		p := good()
		spoil(&p)
		if _, err := SolveNonlinear(p); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a matrix of negative size: no panic")
		}
	}()
	NewMatrix(-1, 2)
}

// The point of the circle x^2 + y^2 = 1 nearest to (2, 1) is (2, 1)/sqrt 5, at
// distance sqrt 5 - 1. Steps along the tangent leave the circle, which is what
// the second-order correction is for (N. Maratos, 1978; from memory).
func TestNearestPointOfACircle(t *testing.T) {
	p := NonlinearProblem{
		Low: []float64{2, 1, 0}, High: []float64{2, 1, 0}, Scale: ones(3), Weight: []float64{1, 1, 0},
		LimitLow: []float64{math.Inf(-1), math.Inf(-1), 1}, LimitHigh: []float64{math.Inf(1), math.Inf(1), 1},
		Model: complexModel{func(x, v []complex128) { v[0], v[1], v[2] = x[0], x[1], x[0]*x[0]+x[1]*x[1] }},
	}
	for _, angle := range []float64{0, 0.3, 1, 2, 3, 4, 5, 6} {
		p.Start = []float64{math.Cos(angle), math.Sin(angle)}
		s, err := SolveNonlinear(p)
		root := math.Sqrt(5)
		if err != nil || s.Status != Optimal || !near(s.X[0], 2/root, 1e-7) || !near(s.X[1], 1/root, 1e-7) || !near(s.Objective, (root-1)*(root-1), 1e-8) {
			t.Errorf("from angle %g: %+v, %v", angle, s, err)
		}
	}
}

// At x = 0 the limit x^2 >= 1 is stationary; other starts find its way out.
// The limits hold at x = -1 or 1, both local optima of (x - 0.2)^2.
func TestStationaryViolationIsLeft(t *testing.T) {
	p := NonlinearProblem{
		Start: []float64{0, 0}, Low: []float64{0.2, 0}, High: []float64{0.2, 0}, Scale: ones(2), Weight: []float64{1, 0},
		LimitLow: []float64{math.Inf(-1), 1}, Lower: []float64{-3, math.Inf(-1)}, Upper: []float64{2, math.Inf(1)},
		Model: complexModel{func(x, v []complex128) { v[0], v[1] = x[0], x[0]*x[0] }},
	}
	s, err := SolveNonlinear(p)
	if err != nil || s.Status != Optimal || !near(math.Abs(s.X[0]), 1, 1e-8) {
		t.Errorf("got %+v, %v", s, err)
	}
}

// log x is not defined at the start, nor left of 0 on the way to its aim.
func TestUndefinedValuesAreSurvived(t *testing.T) {
	p := NonlinearProblem{
		Start: []float64{-1}, Low: []float64{-2}, High: []float64{-2}, Scale: ones(1), Weight: ones(1),
		Model: complexModel{func(x, v []complex128) {
			v[0] = cmplx.Log(x[0])
			if real(x[0]) <= 0 {
				v[0] = cmplx.NaN()
			}
		}},
	}
	s, err := SolveNonlinear(p)
	if err != nil || s.Status != Stopped {
		t.Errorf("undefined at the start: %+v, %v", s, err)
	}
	p.LimitHigh = []float64{5}
	if s, err = SolveNonlinear(p); err != nil || s.Status == Optimal {
		t.Errorf("undefined limit at the start: %+v, %v", s, err)
	}
	p.Start, p.LimitHigh = []float64{40}, nil
	s, err = SolveNonlinear(p)
	if err != nil || s.Status != Optimal || !near(s.X[0], math.Exp(-2), 1e-9) {
		t.Errorf("undefined on the way: %+v, %v", s, err)
	}
}

// With A = 1, B = 2 and 0 <= x: y = -1 gives q = 2 and the bound 2 y B - y^2 +
// 2*0 = -5; y = 1 gives q = -2, which meets the infinite upper bound.
func TestDualBoundWithInfiniteBounds(t *testing.T) {
	p := Problem{A: fromRows([][]float64{{1}}), B: []float64{2}, Lower: []float64{0}}
	if got := p.DualBound([]float64{-1}, nil, nil); !near(got, -5, 1e-12) || got > -5 {
		t.Errorf("lower bound only: %g, want just below -5", got)
	}
	if got := p.DualBound([]float64{1}, nil, nil); !math.IsInf(got, -1) {
		t.Errorf("against the infinite bound: %g", got)
	}
	p.Lower, p.Upper = nil, []float64{3}
	if got := p.DualBound([]float64{1}, nil, nil); !near(got, 4-1-6, 1e-12) || got > -3 {
		t.Errorf("upper bound only: %g, want just below -3", got)
	}
	if got := p.DualBound([]float64{math.NaN()}, nil, nil); !math.IsInf(got, -1) {
		t.Errorf("for a vector of no numbers: %g", got)
	}
}

// A certificate for another problem is no certificate.
func TestCheckKKTRefusesWhatDoesNotFit(t *testing.T) {
	p := Problem{A: fromRows([][]float64{{1}}), B: []float64{2}}
	s, err := Solve(p)
	if err != nil || p.CheckKKT(s) > 1e-15 {
		t.Fatal(s, err)
	}
	short := s
	short.X = nil
	nan := s
	nan.LowerMultiplier = []float64{math.NaN()}
	infinite := s
	infinite.X = []float64{math.Inf(1)}
	negative := s
	negative.LowerMultiplier, negative.UpperMultiplier = []float64{-1}, []float64{-1}
	for name, wrong := range map[string]Solution{"short": short, "not a number": nan, "infinite": infinite, "negative multiplier": negative} {
		if got := p.CheckKKT(wrong); !(got > acceptedKKT) {
			t.Errorf("%s: residual %g", name, got)
		}
	}
}
