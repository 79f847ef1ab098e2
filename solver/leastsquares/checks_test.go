package leastsquares

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// check is one problem of testdata/solver_checks.json; each carries its own
// source. Absent bounds are null.
type check struct {
	ID, Kind, Form, Source string
	Tolerance              float64
	A, Aeq, Aineq, H, P    [][]float64
	B, Beq, Bineq          []float64
	// The field g of a quadratic program; a capital G would be ambiguous.
	Linear         []float64 `json:"g"`
	C0             float64   `json:"c0"`
	Cost           []float64 `json:"c"`
	D              []float64 `json:"d"`
	D0             float64   `json:"d0"`
	Lower, Upper   []*float64
	Step           []float64
	ZeroOrAtLeast  []float64 `json:"zero_or_at_least"`
	MaxNonzero     int       `json:"max_nonzero"`
	Degree         int
	XData          []float64 `json:"x_data"`
	YData          []float64 `json:"y_data"`
	Model          string
	Start1, Start2 []float64
	T, S, V        []float64
	VolumeTarget   *float64 `json:"volume_target"`
	VolumeScale    *float64 `json:"volume_scale"`
	Contraction    json.RawMessage
	Expected       struct {
		Objective         float64
		X                 []float64
		XExample          []float64 `json:"x_example"`
		Ax                []float64
		Unique            bool
		MultipliersUnique *bool `json:"multipliers_unique"`
		Multipliers       map[string][]float64
		IIS               [][][2]any `json:"iis"`
		Minimum, Maximum  struct {
			Value float64
			X     []float64
		}
	}
}

func loadChecks(t *testing.T) map[string]check {
	t.Helper()
	text, err := os.ReadFile("testdata/solver_checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var list []check
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	checks := map[string]check{}
	for _, c := range list {
		checks[c.ID] = c
	}
	return checks
}

func fromRows(rows [][]float64) *Matrix {
	if len(rows) == 0 {
		return nil
	}
	m := NewMatrix(len(rows), len(rows[0]))
	for i, row := range rows {
		copy(m.Row(i), row)
	}
	return m
}

func boundsOf(list []*float64, n int, absent float64) []float64 {
	bounds := make([]float64, n)
	for j := range bounds {
		bounds[j] = absent
		if j < len(list) && list[j] != nil {
			bounds[j] = *list[j]
		}
	}
	return bounds
}

// problem converts a check to the form of this package, and returns what must
// be added to its objective. x.Hx/2 + g.x + c0 becomes ||L^T x - d||^2 + c0 -
// ||d||^2 with L L^T = H/2 and 2 L d = -g.
func (c check) problem(t *testing.T) (Problem, float64) {
	t.Helper()
	p := Problem{A: fromRows(c.A), B: c.B, E: fromRows(c.Aeq), F: c.Beq, G: fromRows(c.Aineq), H: c.Bineq}
	constant := 0.0
	if c.Form == "polynomial_ls" {
		p.A = NewMatrix(len(c.XData), c.Degree+1)
		for i, x := range c.XData {
			for k, power := 0, 1.0; k <= c.Degree; k, power = k+1, power*x {
				p.A.Set(i, k, power)
			}
		}
	}
	if c.Form == "linear" {
		p.A = NewMatrix(0, max(len(c.Lower), len(c.Upper)))
	}
	if c.Form == "qp" {
		n := len(c.H)
		half := mat.NewSymDense(n, nil)
		for i := range n {
			for j := i; j < n; j++ {
				half.SetSym(i, j, c.H[i][j]/2)
			}
		}
		var factor mat.Cholesky
		if !factor.Factorize(half) {
			t.Fatalf("%s: the Hessian is not positive definite", c.ID)
		}
		var l mat.TriDense
		factor.LTo(&l)
		var d mat.VecDense
		g := mat.NewVecDense(n, append([]float64(nil), c.Linear...))
		g.ScaleVec(-0.5, g)
		if err := d.SolveVec(&l, g); err != nil {
			t.Fatal(err)
		}
		p.A = NewMatrix(n, n)
		p.B = make([]float64, n)
		for i := range n {
			p.B[i] = d.AtVec(i)
			for j := range n {
				p.A.Set(i, j, l.At(j, i))
			}
		}
		constant = c.C0 - dot(p.B, p.B)
	}
	p.Lower = boundsOf(c.Lower, p.A.Cols, math.Inf(-1))
	p.Upper = boundsOf(c.Upper, p.A.Cols, math.Inf(1))
	return p, constant
}

// near compares by tolerance absolute plus relative.
func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*(1+math.Abs(want))
}

// TestPublishedProblems runs the linear least-squares problems of the list. Its
// linear programs, ratios and choices of few columns have tests of their own.
func TestPublishedProblems(t *testing.T) {
	checks := loadChecks(t)
	ids := []string{
		"quadprog_doc", "quadprog_test2", "hs21", "hs35", "hs76", "hs118",
		"hs28", "hs48", "hs51", "hs52", "hs53",
		"nnls_doc_1", "nnls_doc_2", "nnls_jl_1", "nnls_jl_2",
		"lawson_hanson_line", "lsqlin_doc_bounds", "strd_longley", "strd_filip",
		"duplicate_columns", "rank_deficient_3of5", "zero_column", "weakly_active_bound",
		"redundant_constraints", "fixed_variable", "dependent_equalities",
		"badly_scaled", "all_at_bounds", "vertex_overdetermined",
	}
	for _, id := range ids {
		t.Run(id, func(t *testing.T) {
			c := checks[id]
			p, constant := c.problem(t)
			s, err := Solve(p)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("kkt %.1e, %d iterations", s.KKT, s.Iterations)
			if s.Status != Optimal || s.KKT > 1e-13 {
				t.Errorf("%s: status %v, KKT residual %.2e", c.Source, s.Status, s.KKT)
			}
			if got := s.Objective + constant; !near(got, c.Expected.Objective, c.Tolerance) {
				t.Errorf("%s: objective %.15g, want %.15g", c.Source, got, c.Expected.Objective)
			}
			// The list calls x of rank_deficient_3of5 unique, but with five columns
			// of rank two (1/4, 13/12, 2/5, 17/60, 1/4) has the same A x and lies
			// inside the bounds as well; there only the objective and A x are fixed.
			if c.Expected.Unique && id != "rank_deficient_3of5" {
				for j, want := range c.Expected.X {
					if math.Abs(s.X[j]-want) > c.Tolerance*math.Max(1, math.Abs(want)) {
						t.Errorf("%s: x[%d] = %.15g, want %.15g", c.Source, j, s.X[j], want)
					}
				}
			}
			for i, want := range c.Expected.Ax {
				if got := p.B[i] - s.Residual[i]; !near(got, want, c.Tolerance) {
					t.Errorf("%s: (A x)[%d] = %.15g, want %.15g", c.Source, i, got, want)
				}
			}
			if c.Expected.MultipliersUnique == nil || *c.Expected.MultipliersUnique {
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
			}
		})
	}
}
