package leastsquares

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func (c check) fractional() FractionalProblem {
	n := len(c.Cost)
	return FractionalProblem{
		C: c.Cost, C0: c.C0, D: c.D, D0: c.D0, E: fromRows(c.Aeq), F: c.Beq, G: fromRows(c.Aineq), H: c.Bineq,
		Lower: boundsOf(c.Lower, n, math.Inf(-1)), Upper: boundsOf(c.Upper, n, math.Inf(1)),
	}
}

func TestPublishedRatios(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{"ratio_reach_1", "ratio_reach_2", "ratio_reach_3"} {
		c := checks[id]
		least, greatest, err := FractionalExtremes(c.fractional())
		if err != nil {
			t.Fatal(err)
		}
		for _, end := range []struct {
			name string
			got  FractionalSolution
			want struct {
				Value float64
				X     []float64
			}
		}{{"least", least, c.Expected.Minimum}, {"greatest", greatest, c.Expected.Maximum}} {
			t.Logf("%s %s: %d rounds, bound off by %.1e", id, end.name, end.got.Rounds, end.got.Bound-end.got.Value)
			if end.got.Status != Optimal || !near(end.got.Value, end.want.Value, c.Tolerance) || !near(end.got.Bound, end.want.Value, 1e-12) {
				t.Errorf("%s: %s %.15g (%v, bound %.15g), want %.15g", c.Source, end.name, end.got.Value, end.got.Status, end.got.Bound, end.want.Value)
			}
			for j, want := range end.want.X {
				if math.Abs(end.got.X[j]-want) > 1e-9*(1+math.Abs(want)) {
					t.Errorf("%s: %s at x[%d] = %.12g, want %.12g", c.Source, end.name, j, end.got.X[j], want)
				}
			}
			if end.got.Certificate.KKT > 1e-13 {
				t.Errorf("%s: certificate with KKT residual %g", c.Source, end.got.Certificate.KKT)
			}
		}
	}
}

// The transformation of Charnes and Cooper is another route to the same
// extreme: y = t x with D.y + D0 t = 1 makes the ratio C.y + C0 t. Source: A.
// Charnes and W. W. Cooper, Programming with linear fractional functionals
// (1962), from memory.
func TestRatioEqualsCharnesAndCooper(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for trial := range 300 {
		n, rows := 1+r.IntN(6), r.IntN(4)
		p := FractionalProblem{C0: r.NormFloat64(), D0: r.Float64(), G: NewMatrix(rows, n)}
		for range n {
			l := 3 * r.Float64()
			p.C, p.D = append(p.C, r.NormFloat64()), append(p.D, 0.1+r.Float64())
			p.Lower, p.Upper = append(p.Lower, l), append(p.Upper, l+3*r.Float64())
		}
		for i := range rows {
			reach := 0.0
			for j := range n {
				v := r.NormFloat64()
				p.G.Set(i, j, v)
				reach += v * (p.Lower[j] + p.Upper[j]) / 2
			}
			p.H = append(p.H, reach+r.Float64())
		}
		s, err := SolveFractional(p)
		if err != nil || s.Status != Optimal {
			t.Fatal(trial, err, s.Status)
		}
		// Rows: G y - H t <= 0, y - Upper t <= 0, Lower t - y <= 0.
		q := LinearProblem{
			C: append(append([]float64(nil), p.C...), p.C0), G: NewMatrix(rows+2*n, n+1), H: make([]float64, rows+2*n),
			E: NewMatrix(1, n+1), F: []float64{1}, Lower: make([]float64, n+1),
		}
		copy(q.E.Row(0), p.D)
		q.E.Set(0, n, p.D0)
		for i := range rows {
			copy(q.G.Row(i), p.G.Row(i))
			q.G.Set(i, n, -p.H[i])
		}
		for j := range n {
			q.G.Set(rows+2*j, j, 1)
			q.G.Set(rows+2*j, n, -p.Upper[j])
			q.G.Set(rows+2*j+1, j, -1)
			q.G.Set(rows+2*j+1, n, p.Lower[j])
		}
		other, err := SolveLinear(q)
		if err != nil || other.Status != Optimal || !near(s.Value, other.Objective, 1e-10) {
			t.Fatalf("trial %d: %.15g, Charnes and Cooper %.15g (%v, %v)", trial, s.Value, other.Objective, other.Status, err)
		}
	}
}

func TestRatiosWithoutAMinimum(t *testing.T) {
	inf := math.Inf(1)
	// x/(1 + x + y) falls to 0 only as y grows without end.
	tends := FractionalProblem{C: []float64{1, 0}, D: []float64{1, 1}, D0: 1, Lower: []float64{1, 0}, Upper: []float64{2, inf}}
	s, err := SolveFractional(tends)
	if err != nil || s.Status != Optimal || s.Value != 0 || s.Ray == nil || s.Bound < -1e-12 {
		t.Errorf("a limit of 0: %+v, %v", s, err)
	}
	// -x + y over 1 + y with x free to grow has no bound.
	endless := FractionalProblem{C: []float64{-1, 1}, D: []float64{0, 1}, D0: 1, Lower: []float64{0, 0}}
	if s, err = SolveFractional(endless); err != nil || s.Status != Unbounded || s.Ray == nil || !math.IsInf(s.Value, -1) {
		t.Errorf("no bound: %+v, %v", s, err)
	}
	zero := FractionalProblem{C: []float64{1}, D: []float64{1}, Lower: []float64{0}, Upper: []float64{1}}
	if _, err = SolveFractional(zero); !errors.Is(err, ErrDenominator) {
		t.Errorf("a denominator of 0: %v", err)
	}
	none := FractionalProblem{C: []float64{1}, D: []float64{1}, Lower: []float64{3}, Upper: []float64{1}}
	if s, err = SolveFractional(none); err != nil || s.Status != Infeasible || s.Certificate.Conflict == nil {
		t.Errorf("nothing feasible: %+v, %v", s, err)
	}
	if _, err = SolveFractional(FractionalProblem{C: []float64{1}, D: []float64{1, 2}}); err == nil {
		t.Error("lengths that differ: no error")
	}
}
