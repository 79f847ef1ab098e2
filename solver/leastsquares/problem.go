package leastsquares

import (
	"fmt"
	"math"
)

// Problem asks for the x that minimises ||A x - B||^2 subject to
//
//	Lower <= x <= Upper,  E x = F,  G x <= H.
//
// A has a row for each aim and a column for each variable; B one number for
// each row of A. E and G have as many columns as A; nil means no such rows.
// A nil Lower is minus infinity everywhere, a nil Upper plus infinity; single
// bounds may be infinite too. All other numbers must be finite.
//
// Where A and the constraints leave x undetermined, Solve returns the
// minimiser that is nearest to Reference (nil: 0) in the norm
//
//	||D (x - Reference)||,  D_j = ||A_j||_2,
//
// which does not change when a variable's unit does. A column of zeros has the
// largest of the D_j; if all are zeros, D_j = 1.
type Problem struct {
	A            *Matrix
	B            []float64
	Lower, Upper []float64
	E            *Matrix
	F            []float64
	G            *Matrix
	H            []float64
	Reference    []float64
}

// Status says how a search ended.
type Status int

const (
	// Optimal: the answer satisfies the optimality conditions.
	Optimal Status = iota
	// Infeasible: no x meets the constraints.
	Infeasible
	// Stopped: the budget of iterations or the precision of the numbers ran
	// out first; the answer is the best point reached.
	Stopped
)

// String returns the status as one lower-case word.
func (s Status) String() string {
	switch s {
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	case Stopped:
		return "stopped"
	}
	return fmt.Sprintf("Status(%d)", int(s))
}

// Solution is the answer to a Problem. Its multipliers are those of
//
//	L = ||A x - B||^2 + Equality.(E x - F) + Inequality.(G x - H)
//	    - LowerMultiplier.(x - Lower) + UpperMultiplier.(x - Upper)
//
// where all but Equality are non-negative.
type Solution struct {
	Status Status
	// X is the point; a variable that ended at a bound equals it exactly.
	X []float64
	// Objective is ||A X - B||^2.
	Objective float64
	// Residual is B - A X, the y for which Problem.DualBound is tight.
	Residual                                                                   []float64
	EqualityMultiplier, InequalityMultiplier, LowerMultiplier, UpperMultiplier []float64
	// KKT is Problem.CheckKKT of this solution. Workspace.Solve leaves it NaN.
	KKT float64
	// Iterations counts changes of the active set, all stages together.
	Iterations int
	// Conflict explains an Infeasible status; otherwise nil. Workspace.Solve
	// leaves it nil.
	Conflict *Conflict
}

// acceptedKKT is the largest residual of the optimality conditions, relative
// to the data, with which a solution is called Optimal.
const acceptedKKT = 1e-9

// Solve minimises p by a primal active-set method on orthogonal factors and
// certifies the answer from the input data. An error means malformed input:
// wrong lengths, a NaN, or an infinite number where only finite ones make
// sense. Crossed bounds make the problem Infeasible.
func Solve(p Problem) (Solution, error) {
	if err := p.validate(); err != nil {
		return Solution{}, err
	}
	w := NewWorkspace()
	w.nearest = true
	var s Solution
	w.Solve(&p, &s)
	if s.Status == Infeasible {
		s.Conflict = p.explain(w)
		if s.Conflict == nil {
			s.Status = Stopped
		}
		s.KKT = math.Inf(1)
		return s, nil
	}
	s.KKT = p.CheckKKT(s)
	if !(s.KKT <= acceptedKKT) {
		s.Status = Stopped
	}
	return s, nil
}

func (p *Problem) validate() error {
	if p.A == nil {
		return fmt.Errorf("leastsquares: no matrix A; expected one with a column for each variable")
	}
	n := p.A.Cols
	matrices := []struct {
		name string
		m    *Matrix
		rhs  []float64
	}{{"A", p.A, p.B}, {"E", p.E, p.F}, {"G", p.G, p.H}}
	for _, part := range matrices {
		if part.m == nil {
			if len(part.rhs) != 0 {
				return fmt.Errorf("leastsquares: %d right-hand sides without matrix %s", len(part.rhs), part.name)
			}
			continue
		}
		if part.m.Rows < 0 || part.m.Cols < 0 || len(part.m.Data) != part.m.Rows*part.m.Cols {
			return fmt.Errorf("leastsquares: matrix %s has %d numbers; expected %d x %d", part.name, len(part.m.Data), part.m.Rows, part.m.Cols)
		}
		if part.m.Cols != n {
			return fmt.Errorf("leastsquares: matrix %s has %d columns; expected %d as in A", part.name, part.m.Cols, n)
		}
		if len(part.rhs) != part.m.Rows {
			return fmt.Errorf("leastsquares: matrix %s has %d rows but %d right-hand sides", part.name, part.m.Rows, len(part.rhs))
		}
		if err := finite("matrix "+part.name, part.m.Data); err != nil {
			return err
		}
		if err := finite("right-hand side of "+part.name, part.rhs); err != nil {
			return err
		}
	}
	if p.Reference != nil {
		if len(p.Reference) != n {
			return fmt.Errorf("leastsquares: %d reference values; expected %d", len(p.Reference), n)
		}
		if err := finite("reference", p.Reference); err != nil {
			return err
		}
	}
	return validateBounds(p.Lower, p.Upper, n)
}

// validateBounds accepts nil, and infinite bounds on their own side.
func validateBounds(lower, upper []float64, n int) error {
	for k, bounds := range [][]float64{lower, upper} {
		name := [2]string{"lower", "upper"}[k]
		if bounds == nil {
			continue
		}
		if len(bounds) != n {
			return fmt.Errorf("leastsquares: %d %s bounds; expected %d", len(bounds), name, n)
		}
		for j, v := range bounds {
			if math.IsNaN(v) || math.IsInf(v, 1-2*k) {
				return fmt.Errorf("leastsquares: %s bound %d is %g; expected a number", name, j, v)
			}
		}
	}
	return nil
}

func finite(name string, x []float64) error {
	for i, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("leastsquares: number %d of %s is %g; expected a finite one", i, name, v)
		}
	}
	return nil
}

func (p *Problem) lower(j int) float64 {
	if p.Lower == nil {
		return math.Inf(-1)
	}
	return p.Lower[j]
}

func (p *Problem) upper(j int) float64 {
	if p.Upper == nil {
		return math.Inf(1)
	}
	return p.Upper[j]
}
