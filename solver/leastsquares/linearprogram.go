package leastsquares

import (
	"fmt"
	"math"
)

// LinearProblem asks for the x that minimises C.x subject to
//
//	Lower <= x <= Upper,  E x = F,  G x <= H.
//
// E and G have a column for each number of C; nil means no such rows. A nil
// Lower is minus infinity everywhere, a nil Upper plus infinity; single bounds
// may be infinite too. All other numbers must be finite.
type LinearProblem struct {
	C            []float64
	E            *Matrix
	F            []float64
	G            *Matrix
	H            []float64
	Lower, Upper []float64
}

// LinearSolution is the answer to a LinearProblem. Its multipliers are those of
//
//	L = C.x + Equality.(E x - F) + Inequality.(G x - H)
//	    - LowerMultiplier.(x - Lower) + UpperMultiplier.(x - Upper)
//
// where all but Equality are non-negative.
type LinearSolution struct {
	Status Status
	// X is a vertex, or a feasible point when the status is Unbounded; a
	// variable that ended at a bound equals it exactly.
	X []float64
	// Objective is C.X.
	Objective                                                                  float64
	EqualityMultiplier, InequalityMultiplier, LowerMultiplier, UpperMultiplier []float64
	// KKT is LinearProblem.CheckKKT of an optimal solution, otherwise +Inf.
	KKT float64
	// Iterations counts changes of the basis and moves from bound to bound.
	Iterations int
	// Conflict explains an Infeasible status; otherwise nil.
	Conflict *Conflict
	// Ray explains an Unbounded status; otherwise nil. X + t Ray is feasible
	// for every t >= 0, and C.Ray is -1: see CheckRay.
	Ray []float64
}

// SolveLinear minimises p by the bounded primal simplex method and certifies
// the answer from the input data: an optimum by its multipliers, infeasibility
// by Farkas's lemma and a set of constraints that conflict, a missing minimum
// by a ray. Dependent equalities are no obstacle, nor are degenerate vertices.
// An error means malformed input. Crossed bounds make the problem Infeasible.
//
// The method keeps no inverse: each basis is factored anew by reflections,
// which costs rows^3 and lets no error grow. Some hundred rows and thousands
// of columns are meant.
func SolveLinear(p LinearProblem) (LinearSolution, error) {
	inner, err := p.inner()
	if err != nil {
		return LinearSolution{}, err
	}
	var t simplex
	t.build(&inner)
	s := t.solve()
	p.complete(&s)
	if s.Status == Infeasible {
		w := NewWorkspace()
		w.farkas = t.multipliers()
		s.Conflict = inner.explain(w)
		if s.Conflict == nil {
			s.Status = Stopped
		}
	}
	return s, nil
}

// inner writes p as a Problem whose A has C for its only row.
func (p *LinearProblem) inner() (Problem, error) {
	n := len(p.C)
	if p.E != nil && p.E.Cols != n || p.G != nil && p.G.Cols != n {
		return Problem{}, fmt.Errorf("leastsquares: the rows have not as many columns as the objective; expected %d", n)
	}
	inner := Problem{
		A: &Matrix{Rows: 1, Cols: n, Data: p.C}, B: []float64{0},
		E: p.E, F: p.F, G: p.G, H: p.H, Lower: p.Lower, Upper: p.Upper,
	}
	if err := inner.validate(); err != nil {
		return Problem{}, err
	}
	return inner, nil
}

// complete computes what follows from the point and the multipliers of rows.
func (p *LinearProblem) complete(s *LinearSolution) {
	s.KKT = math.Inf(1)
	s.LowerMultiplier, s.UpperMultiplier = make([]float64, len(p.C)), make([]float64, len(p.C))
	if s.Status == Infeasible {
		return
	}
	s.Objective = dot(p.C, s.X)
	if s.Status == Unbounded {
		if slope := dot(p.C, s.Ray); slope < 0 {
			for j := range s.Ray {
				s.Ray[j] = s.Ray[j]/-slope + 0
			}
		}
		if !(p.CheckRay(s.Ray) <= acceptedKKT) || finite("", s.X) != nil {
			s.Status, s.Ray = Stopped, nil
		}
		return
	}
	for j, x := range s.X {
		d, _ := p.reducedCost(j, s.EqualityMultiplier, s.InequalityMultiplier)
		switch {
		case d > 0 && x == p.lower(j):
			s.LowerMultiplier[j] = d
		case d < 0 && x == p.upper(j):
			s.UpperMultiplier[j] = -d
		}
	}
	s.KKT = p.CheckKKT(*s)
	if s.Status == Optimal && !(s.KKT <= acceptedKKT) {
		s.Status = Stopped
	}
}

// reducedCost returns (C + E^T equality + G^T inequality)_j and the size of
// the terms in it.
func (p *LinearProblem) reducedCost(j int, equality, inequality []float64) (sum, size float64) {
	sum, size = p.C[j], math.Abs(p.C[j])
	add := func(v float64) {
		sum += v
		size += math.Abs(v)
	}
	for i, lambda := range equality {
		if lambda != 0 {
			add(lambda * p.E.At(i, j))
		}
	}
	for i, mu := range inequality {
		if mu != 0 {
			add(mu * p.G.At(i, j))
		}
	}
	return sum, size
}

func (p *LinearProblem) lower(j int) float64 {
	if p.Lower == nil {
		return math.Inf(-1)
	}
	return p.Lower[j]
}

func (p *LinearProblem) upper(j int) float64 {
	if p.Upper == nil {
		return math.Inf(1)
	}
	return p.Upper[j]
}
