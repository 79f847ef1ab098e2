package leastsquares

import (
	"encoding/binary"
	"math"
	"testing"
)

// numbersFrom reads hostile numbers from bytes: each byte picks a special
// value or eight further bytes as they are.
func numbersFrom(data []byte) func() float64 {
	special := []float64{
		0, math.Copysign(0, -1), 1, -1, 2, 0.5, 1e-300, -1e-300, 1e300, -1e300, 5e-324, 1e-8, 1e8,
		math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1), 3, -2, 7,
	}
	return func() float64 {
		if len(data) == 0 {
			return 0
		}
		pick := int(data[0])
		data = data[1:]
		if pick < 200 || len(data) < 8 {
			return special[pick%len(special)]
		}
		v := math.Float64frombits(binary.LittleEndian.Uint64(data))
		data = data[8:]
		return v
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(byte(2), byte(3), byte(1), byte(1), []byte{2, 3, 4, 5, 2, 2, 3, 1, 17, 18, 19, 2, 2, 2, 3, 3, 3, 0, 0, 15, 16})
	f.Add(byte(1), byte(1), byte(0), byte(2), []byte{6, 8, 9, 10, 11, 12, 13, 2, 3})
	f.Add(byte(3), byte(2), byte(2), byte(0), []byte{8, 8, 9, 6, 6, 7, 10, 10, 13, 13, 2, 2, 2, 2, 2, 2})
	f.Add(byte(3), byte(4), byte(2), byte(2), []byte{2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 2, 2, 2, 2})
	f.Fuzz(func(t *testing.T, n, m, equalities, inequalities byte, data []byte) {
		next := numbersFrom(data)
		fill := func(k int) []float64 {
			x := make([]float64, k)
			for i := range x {
				x[i] = next()
			}
			return x
		}
		matrix := func(rows, cols int) *Matrix { return &Matrix{Rows: rows, Cols: cols, Data: fill(rows * cols)} }
		cols, rows := int(n%5), int(m%6)
		p := Problem{A: matrix(rows, cols), B: fill(rows)}
		e, g := int(equalities%3), int(inequalities%3)
		p.E, p.F = matrix(e, cols), fill(e)
		p.G, p.H = matrix(g, cols), fill(g)
		p.Lower, p.Upper = fill(cols), fill(cols)
		if n >= 128 {
			p.Reference = fill(cols)
		}
		s, err := Solve(p)
		if err != nil {
			return
		}
		switch s.Status {
		case Optimal:
			for _, list := range [][]float64{s.X, s.Residual, {s.Objective, s.KKT}, s.EqualityMultiplier, s.InequalityMultiplier, s.LowerMultiplier, s.UpperMultiplier} {
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
			if bound := p.DualBound(s.Residual, s.InequalityMultiplier, s.EqualityMultiplier); bound > s.Objective*(1+1e-6)+1e-6 && isFinite(s.Objective) && s.KKT < 1e-14 && e+g == 0 {
				t.Errorf("bound %g above the objective %g", bound, s.Objective)
			}
		case Infeasible:
			if s.Conflict == nil || len(s.Conflict.Set) == 0 {
				t.Error("infeasible without a conflict")
			}
		}
	})
}

func FuzzSolveChoice(f *testing.F) {
	f.Add(byte(3), byte(2), byte(2), byte(0), []byte{2, 3, 4, 5, 2, 2, 3, 1, 2, 2, 3, 3, 3})
	f.Add(byte(4), byte(3), byte(2), byte(1), []byte{6, 8, 9, 10, 11, 12, 13, 2, 3, 9, 9, 9})
	f.Add(byte(4), byte(1), byte(3), byte(1), []byte{2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2})
	f.Fuzz(func(t *testing.T, n, m, most, inequalities byte, data []byte) {
		next := numbersFrom(data)
		fill := func(k int) []float64 {
			x := make([]float64, k)
			for i := range x {
				x[i] = next()
			}
			return x
		}
		cols, rows, g := int(n%5), int(m%4), int(inequalities%2)
		p := ChoiceProblem{A: &Matrix{Rows: rows, Cols: cols, Data: fill(rows * cols)}, B: fill(rows), Most: int(most % 4)}
		p.G, p.H = &Matrix{Rows: g, Cols: cols, Data: fill(g * cols)}, fill(g)
		for j := range cols {
			p.Upper = append(p.Upper, 1+(int(n)+j)%3)
		}
		a, err := SolveChoice(p, ChoiceOptions{Budget: -1})
		if err != nil || !a.Found {
			return
		}
		used := 0
		for j, k := range a.K {
			if k < 0 || k > p.Upper[j] {
				t.Errorf("k[%d] = %d", j, k)
			}
			used += min(k, 1)
		}
		if used > p.Most || used != len(a.Support) {
			t.Errorf("%d columns of %d", used, p.Most)
		}
		// Enumeration knows of no limit that counts as met within rounding.
		best, equal := p.enumerate(nil)
		if len(equal) > 0 && isFinite(best) && a.Objective > best*(1+1e-7)+1e-7 {
			t.Errorf("objective %g, enumeration %g", a.Objective, best)
		}
	})
}
