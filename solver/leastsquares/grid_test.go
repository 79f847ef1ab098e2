package leastsquares

import (
	"math"
	"testing"
)

// boxModel is integer least squares: x_j = step_j k_j, objective ||A x - b||^2,
// rows E x = f and G x <= h exact to 1e-9.
type boxModel struct {
	p            Problem // in k
	lower, upper []int
}

func newBoxModel(p Problem, step []float64) *boxModel {
	m := &boxModel{}
	scaled := func(a *Matrix) *Matrix {
		if a == nil {
			return nil
		}
		c := NewMatrix(a.Rows, a.Cols)
		for i := range a.Rows {
			for j := range a.Cols {
				c.Set(i, j, a.At(i, j)*step[j])
			}
		}
		return c
	}
	m.p = Problem{A: scaled(p.A), B: p.B, E: scaled(p.E), F: p.F, G: scaled(p.G), H: p.H}
	for j := range p.A.Cols {
		m.lower = append(m.lower, int(math.Ceil(p.Lower[j]/step[j]-1e-9)))
		m.upper = append(m.upper, int(math.Floor(p.Upper[j]/step[j]+1e-9)))
	}
	return m
}

func (m *boxModel) Variables() (int, int) { return len(m.lower), 0 }
func (m *boxModel) Root() Node            { return Node{Lower: m.lower, Upper: m.upper} }

func (m *boxModel) Evaluate(k []int) (violation, objective float64) {
	x := make([]float64, len(k))
	for j, v := range k {
		x[j] = float64(v)
	}
	for i := range m.p.A.Rows {
		r := dot(m.p.A.Row(i), x) - m.p.B[i]
		objective += r * r
	}
	for i := range rowCount(m.p.E) {
		if gap := math.Abs(dot(m.p.E.Row(i), x) - m.p.F[i]); gap > 1e-9 {
			violation = math.Hypot(violation, gap)
		}
	}
	for i := range rowCount(m.p.G) {
		if gap := dot(m.p.G.Row(i), x) - m.p.H[i]; gap > 1e-9 {
			violation = math.Hypot(violation, gap)
		}
	}
	return violation, objective
}

func (m *boxModel) bounds(node *Node, r *Relaxation) {
	r.Problem.Lower = resized(r.Problem.Lower, len(node.Lower))
	r.Problem.Upper = resized(r.Problem.Upper, len(node.Lower))
	for j := range node.Lower {
		r.Problem.Lower[j], r.Problem.Upper[j] = float64(node.Lower[j]), float64(node.Upper[j])
	}
}

func (m *boxModel) Relax(node *Node, _ float64, r *Relaxation) {
	m.bounds(node, r)
	r.Problem.A, r.Problem.B = m.p.A, m.p.B
	r.Problem.E, r.Problem.F, r.Problem.G, r.Problem.H = m.p.E, m.p.F, m.p.G, m.p.H
}

func TestPublishedGridProblems(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{
		"ils_2d", "ils_rounding_fails", "ils_mixed_steps", "ils_zero_or_at_least", "ils_fixed_sum",
		"ils_more_columns_than_rows", "ils_mixture_1", "ils_mixture_2", "ils_mixture_3", "ils_mixture_4",
		"ils_8_1", "ils_8_2",
	} {
		t.Run(id, func(t *testing.T) {
			c := checks[id]
			p, _ := c.problem(t)
			m := newBoxModel(p, c.Step)
			o := GridOptions{NodeLimit: -1, Cutoff: math.Inf(1)}
			if c.ZeroOrAtLeast != nil {
				o.Semicontinuous = make([]int, len(c.Step))
				for j, least := range c.ZeroOrAtLeast {
					o.Semicontinuous[j] = int(math.Round(least / c.Step[j]))
				}
			}
			a, err := SolveGrid(m, o)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d nodes", a.Nodes)
			if !a.Found || !a.Proven || a.Violation != 0 || !near(a.Objective, c.Expected.Objective, c.Tolerance) {
				t.Errorf("%s: got %+v, want objective %.15g", c.Source, a, c.Expected.Objective)
			}
			for j, want := range c.Expected.X {
				if got := float64(a.K[j]) * c.Step[j]; math.Abs(got-want) > 1e-9 {
					t.Errorf("%s: x[%d] = %g, want %g", c.Source, j, got, want)
				}
			}
		})
	}
}
