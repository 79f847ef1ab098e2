package leastsquares

import (
	"fmt"
	"math"
	"sync"
)

// NonlinearModel is a vector of twice differentiable functions of x.
type NonlinearModel interface {
	// Values fills value[i] with value_i(x) and, unless jacobian is nil,
	// jacobian(i, j) with the derivative of value_i by x_j. Where a function
	// is not defined it writes NaN.
	Values(x []float64, value []float64, jacobian *Matrix)
}

// NonlinearProblem asks for the x that minimises
//
//	F(x) = sum_i Weight_i (dist(value_i(x), [Low_i, High_i]) / Scale_i)^2
//
// subject to LimitLow_i <= value_i(x) <= LimitHigh_i, Lower <= x <= Upper,
// E x = F and G x <= H.
//
// Low = High aims at one number; an infinite end makes a one-sided band; a row
// without aim has Weight 0 and its Low, High and Scale are not read. Scale is
// positive. Limits may be infinite; nil LimitLow or LimitHigh means none.
// LimitScale, positive, is the unit in which a broken limit is measured; nil
// means 1. Bounds, E, F, G and H are as in Problem.
type NonlinearProblem struct {
	Model                           NonlinearModel
	Start                           []float64
	Low, High, Scale, Weight        []float64
	LimitLow, LimitHigh, LimitScale []float64
	Lower, Upper                    []float64
	E                               *Matrix
	F                               []float64
	G                               *Matrix
	H                               []float64
}

// NonlinearSolution is the answer to a NonlinearProblem. Optimal means a
// local minimiser to rounding: F need not be convex. Infeasible means that no
// nearby point meets the limits; X then minimises the sum of the squares of
// the broken limits, each in its LimitScale, and F among such points. If the
// linear constraints already contradict each other, X is Start within its
// bounds and Violation is +Inf.
type NonlinearSolution struct {
	Status    Status
	X         []float64
	Value     []float64
	Objective float64
	// Violation is the most that a limit is broken, in its LimitScale.
	Violation float64
	// KKT is the largest residual of the optimality conditions, relative to
	// the size of their terms.
	KKT        float64
	Iterations int
	// The multipliers are those of F + sum_i LimitMultiplier_i value_i +
	// Equality.(E x - F) + Inequality.(G x - H) - Lower.(x - l) + Upper.(x - u):
	// a LimitMultiplier is positive where the upper limit holds x back and
	// negative where the lower one does.
	LimitMultiplier                                                            []float64
	LowerMultiplier, UpperMultiplier, InequalityMultiplier, EqualityMultiplier []float64
}

const (
	// metLimit is how far a limit may be broken, in its scale, and count as met.
	metLimit = 1e-8
	// acceptedNonlinearKKT is the largest optimality residual of an Optimal
	// answer; the iteration aims at convergedKKT.
	acceptedNonlinearKKT = 1e-8
	convergedKKT         = 1e-11
)

// workspaces keeps the storage of searches that have ended for those to come: the
// solver of a drink makes many short ones.
var workspaces = sync.Pool{New: func() any {
	w := NewWorkspace()
	w.nearest = true
	return w
}}

// SolveNonlinear minimises p by Gauss-Newton steps, each an exact constrained
// least-squares problem with linearised limits, within a trust region. Where
// the limits are not met at Start it first minimises the sum of the squares by
// which they are broken. An error means malformed input.
func SolveNonlinear(p NonlinearProblem) (NonlinearSolution, error) {
	if err := p.validate(); err != nil {
		return NonlinearSolution{}, err
	}
	space := workspaces.Get().(*Workspace)
	defer workspaces.Put(space)
	start, ok := p.meetLinear(p.Start)
	if !ok {
		s := newIteration(&p, start, space).solution()
		s.Status, s.Violation, s.KKT = Infeasible, math.Inf(1), math.Inf(1)
		return s, nil
	}
	spent, status := 0, Optimal
	it := newIteration(&p, start, space)
	if !(p.violation(it.value) <= metLimit) {
		least := p.leastViolation(start, space)
		spent = least.iterations
		relaxed := p
		if p.violation(least.value) > metLimit {
			status = Infeasible
			relaxed = p.withRelaxedLimits(least.value)
		}
		it = newIteration(&relaxed, least.x, space)
	}
	it.run()
	s := it.solution()
	s.Iterations += spent
	s.Violation = p.violation(s.Value)
	if status == Infeasible {
		s.Status = Infeasible
	}
	return s, nil
}

// leastViolation minimises the sum of the squares of the broken limits.
func (p *NonlinearProblem) leastViolation(start []float64, space *Workspace) *iteration {
	aims := *p
	aims.Low, aims.High, aims.Scale = p.LimitLow, p.LimitHigh, p.LimitScale
	aims.Weight = make([]float64, len(p.Low))
	for i := range aims.Weight {
		if !math.IsInf(p.LimitLow[i], 0) || !math.IsInf(p.LimitHigh[i], 0) {
			aims.Weight[i] = 1
		}
	}
	aims.LimitLow, aims.LimitHigh, aims.LimitScale = nil, nil, nil
	aims.fillLimits()
	best := newIteration(&aims, start, space)
	best.run()
	// A local minimum of the violation need not be the least: try from the
	// middle and the ends of the bounds before believing it.
	spent := best.iterations
	for _, share := range []float64{0.5, 0, 1} {
		if p.violation(best.value) <= metLimit {
			break
		}
		again, ok := p.meetLinear(p.between(share))
		if !ok {
			continue
		}
		other := newIteration(&aims, again, space)
		other.run()
		spent += other.iterations
		if other.objective < best.objective*(1-1e-6) {
			best = other
		}
	}
	best.iterations = spent
	return best
}

// withRelaxedLimits moves each limit that value breaks to value.
func (p *NonlinearProblem) withRelaxedLimits(value []float64) NonlinearProblem {
	relaxed := *p
	relaxed.LimitLow = append([]float64(nil), p.LimitLow...)
	relaxed.LimitHigh = append([]float64(nil), p.LimitHigh...)
	for i, v := range value {
		relaxed.LimitLow[i] = min(relaxed.LimitLow[i], v)
		relaxed.LimitHigh[i] = max(relaxed.LimitHigh[i], v)
	}
	return relaxed
}

// between returns the point at the given share of the way from lower to upper
// bound; Start where a bound is infinite.
func (p *NonlinearProblem) between(share float64) []float64 {
	x := append([]float64(nil), p.Start...)
	for j := range x {
		if l, u := p.lower(j), p.upper(j); !math.IsInf(u-l, 0) {
			x[j] = l + share*(u-l)
		}
	}
	return x
}

// meetLinear returns the point nearest to x, in units of the bounds' widths,
// that meets the linear constraints; false, with x in its bounds, if none does.
func (p *NonlinearProblem) meetLinear(x []float64) ([]float64, bool) {
	n := len(x)
	if rowCount(p.E)+rowCount(p.G) == 0 {
		within, ok := make([]float64, n), true
		for j := range x {
			within[j] = max(min(x[j], p.upper(j)), p.lower(j))
			ok = ok && p.lower(j) <= p.upper(j)
		}
		return within, ok
	}
	q := Problem{
		A: NewMatrix(n, n), B: make([]float64, n), Lower: p.Lower, Upper: p.Upper,
		E: p.E, F: p.F, G: p.G, H: p.H, Reference: x,
	}
	for j := range n {
		weight := 1 / (1 + math.Abs(x[j]))
		if width := p.upper(j) - p.lower(j); width > 0 && !math.IsInf(width, 0) {
			weight = 1 / width
		}
		q.A.Set(j, j, weight)
		q.B[j] = weight * x[j]
	}
	s, err := Solve(q)
	if err != nil {
		panic(err.Error())
	}
	if s.Status == Infeasible {
		for j := range s.X {
			s.X[j] = max(min(x[j], p.upper(j)), p.lower(j))
		}
	}
	return s.X, s.Status != Infeasible
}

// violation is the most that a limit is broken at the given values; +Inf when
// a limited one is not a number.
func (p *NonlinearProblem) violation(value []float64) float64 {
	most := 0.0
	for i, v := range value {
		if p.LimitLow[i] <= v && v <= p.LimitHigh[i] || math.IsInf(p.LimitLow[i], 0) && math.IsInf(p.LimitHigh[i], 0) {
			continue
		}
		broken := max(p.LimitLow[i]-v, v-p.LimitHigh[i]) / p.LimitScale[i]
		if math.IsNaN(broken) {
			return math.Inf(1)
		}
		most = max(most, broken)
	}
	return most
}

func (p *NonlinearProblem) lower(j int) float64 {
	return (&Problem{Lower: p.Lower}).lower(j)
}

func (p *NonlinearProblem) upper(j int) float64 {
	return (&Problem{Upper: p.Upper}).upper(j)
}

// fillLimits replaces absent limits by infinite ones.
func (p *NonlinearProblem) fillLimits() {
	fill := func(s []float64, by float64) []float64 {
		if s != nil {
			return s
		}
		s = make([]float64, len(p.Low))
		for i := range s {
			s[i] = by
		}
		return s
	}
	p.LimitLow = fill(p.LimitLow, math.Inf(-1))
	p.LimitHigh = fill(p.LimitHigh, math.Inf(1))
	p.LimitScale = fill(p.LimitScale, 1)
}

// validate checks the input and fills absent limits.
func (p *NonlinearProblem) validate() error {
	n, m := len(p.Start), len(p.Low)
	if p.Model == nil {
		return fmt.Errorf("leastsquares: no model; expected one with %d functions", m)
	}
	linear := Problem{A: NewMatrix(0, n), Lower: p.Lower, Upper: p.Upper, E: p.E, F: p.F, G: p.G, H: p.H, Reference: p.Start}
	if p.Start == nil {
		return fmt.Errorf("leastsquares: no start; expected a number for each variable")
	}
	if err := linear.validate(); err != nil {
		return err
	}
	for _, list := range []struct {
		name     string
		values   []float64
		optional bool
	}{
		{"high", p.High, false},
		{"scale", p.Scale, false},
		{"weight", p.Weight, false},
		{"lower limit", p.LimitLow, true},
		{"upper limit", p.LimitHigh, true},
		{"limit scale", p.LimitScale, true},
	} {
		if len(list.values) != m && !(list.optional && list.values == nil) {
			return fmt.Errorf("leastsquares: %d numbers for %s; expected %d", len(list.values), list.name, m)
		}
	}
	p.fillLimits()
	for i := range m {
		if w := p.Weight[i]; !(w >= 0) || math.IsInf(w, 0) {
			return fmt.Errorf("leastsquares: weight %d is %g; expected a finite number from 0", i, w)
		}
		if p.Weight[i] > 0 {
			if !(p.Low[i] <= p.High[i]) || math.IsInf(p.Low[i], 1) || math.IsInf(p.High[i], -1) {
				return fmt.Errorf("leastsquares: aim %d is from %g to %g; expected an interval", i, p.Low[i], p.High[i])
			}
			if s := p.Scale[i]; !(s > 0) || math.IsInf(s, 0) {
				return fmt.Errorf("leastsquares: scale %d is %g; expected a positive number", i, s)
			}
		}
		if !(p.LimitLow[i] <= p.LimitHigh[i]) || math.IsInf(p.LimitLow[i], 1) || math.IsInf(p.LimitHigh[i], -1) {
			return fmt.Errorf("leastsquares: limit %d is from %g to %g; expected an interval", i, p.LimitLow[i], p.LimitHigh[i])
		}
		if s := p.LimitScale[i]; !(s > 0) || math.IsInf(s, 0) {
			return fmt.Errorf("leastsquares: limit scale %d is %g; expected a positive number", i, s)
		}
	}
	return nil
}
