package leastsquares

import (
	"math"
	"testing"
)

func (c check) linearProgram() LinearProblem {
	n := len(c.Cost)
	return LinearProblem{
		C: c.Cost, E: fromRows(c.Aeq), F: c.Beq, G: fromRows(c.Aineq), H: c.Bineq,
		Lower: boundsOf(c.Lower, n, math.Inf(-1)), Upper: boundsOf(c.Upper, n, math.Inf(1)),
	}
}

func TestPublishedLinearPrograms(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{
		"stigler_1939", "klee_minty_3", "klee_minty_6", "beale_cycling", "degenerate_vertex",
		"lp_redundant_equalities", "reach_sugar_max",
	} {
		t.Run(id, func(t *testing.T) {
			c := checks[id]
			p := c.linearProgram()
			s, err := SolveLinear(p)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("kkt %.1e, %d iterations", s.KKT, s.Iterations)
			if s.Status != Optimal || s.KKT > 1e-13 {
				t.Fatalf("%s: status %v, KKT residual %.2e", c.Source, s.Status, s.KKT)
			}
			if !near(s.Objective, c.Expected.Objective, c.Tolerance) {
				t.Errorf("%s: objective %.15g, want %.15g", c.Source, s.Objective, c.Expected.Objective)
			}
			if bound := p.DualBound(s.InequalityMultiplier, s.EqualityMultiplier); bound > s.Objective+1e-12*(1+math.Abs(s.Objective)) || !near(bound, s.Objective, 1e-9) {
				t.Errorf("%s: dual bound %.15g of %.15g", c.Source, bound, s.Objective)
			}
			// Where the list calls x not unique it means the multipliers: each of
			// its linear programs has a single optimal vertex.
			for j, want := range c.Expected.X {
				if math.Abs(s.X[j]-want) > c.Tolerance*math.Max(1, math.Abs(want)) {
					t.Errorf("%s: x[%d] = %.15g, want %.15g", c.Source, j, s.X[j], want)
				}
			}
			if !c.Expected.Unique {
				return
			}
			got := map[string][]float64{
				"eq": s.EqualityMultiplier, "ineq": s.InequalityMultiplier,
				"lower": s.LowerMultiplier, "upper": s.UpperMultiplier,
			}
			for kind, list := range c.Expected.Multipliers {
				for i, want := range list {
					if !near(got[kind][i], want, 1e-8) {
						t.Errorf("%s: %s multiplier %d is %.12g, want %.12g", c.Source, kind, i, got[kind][i], want)
					}
				}
			}
		})
	}
}

// A year of the cheapest diet costs $39.66 at the prices of 1939. Source: the
// list of problems, whose entry names the table and how it was verified in
// rational arithmetic. Stigler's own trial reached $39.93 (from memory).
func TestStiglersDietToTheCent(t *testing.T) {
	c := loadChecks(t)["stigler_1939"]
	s, err := SolveLinear(c.linearProgram())
	if err != nil {
		t.Fatal(err)
	}
	if got := math.Round(365*s.Objective*100) / 100; got != 39.66 {
		t.Errorf("$%.2f a year, want $39.66", got)
	}
	// Wheat flour, liver, cabbage, spinach and navy beans, dollars a year; the
	// note of the problem.
	foods := 0
	for j, x := range s.X {
		if x != 0 {
			foods++
			if !near(x, c.Expected.X[j], 1e-12) {
				t.Errorf("food %d: %g, want %g", j, x, c.Expected.X[j])
			}
		}
	}
	if foods != 5 {
		t.Errorf("%d foods, want 5", foods)
	}
}

func TestPublishedInfeasibleLinearPrograms(t *testing.T) {
	for id, c := range loadChecks(t) {
		if c.Kind != "infeasible" {
			continue
		}
		c.Cost = make([]float64, max(len(c.Lower), len(c.Upper)))
		for j := range c.Cost {
			c.Cost[j] = 1 - float64(j)
		}
		p := c.linearProgram()
		s, err := SolveLinear(p)
		if err != nil {
			t.Fatal(id, err)
		}
		if s.Status != Infeasible || s.Conflict == nil {
			t.Fatalf("%s: status %v; want infeasible. %s", id, s.Status, c.Source)
		}
		checkFarkas(t, &p, s.Conflict)
	}
}

// checkFarkas recomputes the certificate of a conflict from the input.
func checkFarkas(t *testing.T, p *LinearProblem, c *Conflict) {
	t.Helper()
	right, size := 0.0, 1.0
	add := func(multiplier, number float64) {
		if multiplier != 0 {
			right += multiplier * number
			size += math.Abs(multiplier * number)
		}
	}
	for i, y := range c.Equality {
		add(y, p.F[i])
	}
	for i, mu := range c.Inequality {
		add(mu, p.H[i])
		if mu < 0 {
			t.Errorf("inequality multiplier %d is %g", i, mu)
		}
	}
	for j := range p.C {
		sum, terms := c.Upper[j]-c.Lower[j], math.Abs(c.Upper[j])+math.Abs(c.Lower[j])
		for i, y := range c.Equality {
			sum += y * p.E.At(i, j)
			terms += math.Abs(y * p.E.At(i, j))
		}
		for i, mu := range c.Inequality {
			sum += mu * p.G.At(i, j)
			terms += math.Abs(mu * p.G.At(i, j))
		}
		if math.Abs(sum) > 1e-9*terms || c.Lower[j] < 0 || c.Upper[j] < 0 {
			t.Errorf("column %d of the certificate is %g, not 0", j, sum)
		}
		add(-c.Lower[j], p.lower(j))
		add(c.Upper[j], p.upper(j))
	}
	if math.Abs(right+1) > 1e-9*size {
		t.Errorf("right-hand side of the certificate is %g, want -1", right)
	}
}

func TestUnboundedLinearProgramsHaveARay(t *testing.T) {
	for name, p := range map[string]LinearProblem{
		// Textbook: x - y <= 1, minimise -x - y, x, y >= 0.
		"wedge":        {C: []float64{-1, -1}, G: fromRows([][]float64{{1, -1}}), H: []float64{1}, Lower: []float64{0, 0}},
		"no rows":      {C: []float64{0, -2}, Lower: []float64{0, 0}, Upper: []float64{1, math.Inf(1)}},
		"free":         {C: []float64{1, 1}, E: fromRows([][]float64{{1, -1}}), F: []float64{3}},
		"first phase":  {C: []float64{1, -1}, E: fromRows([][]float64{{1, -2}}), F: []float64{-7}, Lower: []float64{1, 0}},
		"scaled badly": {C: []float64{-1e-6, 1e4}, G: fromRows([][]float64{{1e-8, -1e7}}), H: []float64{1e-3}, Lower: []float64{0, 0}},
	} {
		s, err := SolveLinear(p)
		if err != nil {
			t.Fatal(err)
		}
		want := Unbounded
		if name == "first phase" {
			want = Optimal
			// x = 2 y - 7 >= 1 makes x - y = y - 7 at least 4 - 7.
			if !near(s.Objective, -3, 1e-12) {
				t.Errorf("%s: objective %g, want -3", name, s.Objective)
			}
		}
		if name == "scaled badly" {
			// The ray (1e15, 1) costs -1e9 + 1e4: it falls.
			want = Unbounded
		}
		if s.Status != want {
			t.Errorf("%s: status %v, want %v", name, s.Status, want)
			continue
		}
		if want == Unbounded {
			if got := p.CheckRay(s.Ray); got > 1e-12 {
				t.Errorf("%s: the ray %v fails by %g", name, s.Ray, got)
			}
			if slope := dot(p.C, s.Ray); math.Abs(slope+1) > 1e-12 {
				t.Errorf("%s: C.ray = %g, want -1", name, slope)
			}
		}
	}
}

func TestMalformedLinearProgramsAreRefused(t *testing.T) {
	for name, p := range map[string]LinearProblem{
		"columns":      {C: []float64{1}, G: NewMatrix(1, 2), H: []float64{1}},
		"right side":   {C: []float64{1}, G: NewMatrix(1, 1)},
		"not a number": {C: []float64{math.NaN()}},
		"infinite":     {C: []float64{1}, E: &Matrix{Rows: 1, Cols: 1, Data: []float64{math.Inf(1)}}, F: []float64{0}},
		"bounds":       {C: []float64{1}, Lower: []float64{0, 0}},
	} {
		if _, err := SolveLinear(p); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A perturbed answer fails its certificate.
func TestPerturbedLinearProgramFailsItsCertificate(t *testing.T) {
	p := loadChecks(t)["stigler_1939"].linearProgram()
	s, err := SolveLinear(p)
	if err != nil {
		t.Fatal(err)
	}
	for j, x := range s.X {
		s.X[j] = x*1.001 + 1e-4
		if got := p.CheckKKT(s); got < 1e-7 {
			t.Errorf("x[%d] moved: KKT residual %g", j, got)
		}
		s.X[j] = x
	}
	for i, mu := range s.InequalityMultiplier {
		s.InequalityMultiplier[i] = mu*1.001 + 1e-4
		if got := p.CheckKKT(s); got < 1e-7 {
			t.Errorf("multiplier %d moved: KKT residual %g", i, got)
		}
		s.InequalityMultiplier[i] = mu
	}
}

// At x = 5 everything but the sign of the multiplier fits.
func TestMultipliersOfTheWrongSignFail(t *testing.T) {
	p := LinearProblem{C: []float64{1}, G: fromRows([][]float64{{1}}), H: []float64{5}, Lower: []float64{0}}
	s := LinearSolution{X: []float64{5}, InequalityMultiplier: []float64{-1}, LowerMultiplier: []float64{0}, UpperMultiplier: []float64{0}}
	if got := p.CheckKKT(s); got < 0.1 {
		t.Errorf("KKT residual %g", got)
	}
}
