package leastsquares

import "math"

const (
	// singularBasis: a basis column whose part outside the span of the others
	// is at most this share of its norm makes the basis singular.
	singularBasis = 1e-13
	// smallPivot, relative to the largest element of the column that enters,
	// is what a pivot has to exceed.
	smallPivot = 1e-9
	// reducedCostRoundoff times the size of the terms is what a reduced cost
	// may be by rounding alone.
	reducedCostRoundoff = 1e-11
	// multiplierRoundoff, relative to the largest, is what a multiplier may be
	// off by rounding alone.
	multiplierRoundoff = 1e-13
	// basicRoundoff times the size of the numbers is what a basic variable may
	// be off by rounding alone.
	basicRoundoff = 1e-13
)

// simplex is the bounded primal simplex method on a problem scaled by powers
// of two. Rows are
//
//	E x = F,  G x + s = H,  s >= 0,
//
// and each has an artificial variable, free to grow in the first phase, in
// which the sum of those is minimised, and fixed at 0 in the second. Columns
// are numbered x, then s, then artificials. One variable for each row is
// basic; the others are at a bound, or at 0 if they have none.
//
// Source: G. B. Dantzig, Linear Programming and Extensions (1963), chapter
// 18, for bounds; R. G. Bland, New finite pivoting rules for the simplex
// method (1977); both from memory.
type simplex struct {
	problem                    *Problem
	workspace                  *Workspace
	n, rows, equalities, total int
	sign                       []float64 // of artificials
	lower, upper, x            []float64
	cost                       []float64
	basis                      []int
	position                   []int // in the basis, or -1
	factor                     orthogonal
	y, direction, right        []float64
	matrix, priced             []float64 // of the basis, column-major; corrections of y
	size, largest              float64   // of the numbers that basic variables are made from, and of all right-hand sides
	entered                    int       // the last variable that entered
	heading                    float64   // 1 when it grew, -1 when it fell
	iterations                 int
}

// build scales p and puts every variable at the bound nearest to 0.
func (t *simplex) build(p *Problem) {
	t.problem, t.workspace = p, NewWorkspace()
	t.workspace.build(p)
	s := &t.workspace.main
	t.n, t.rows, t.equalities = s.variables, s.rows, s.equalities
	slacks := t.rows - t.equalities
	t.total = t.n + slacks + t.rows
	t.lower, t.upper = make([]float64, t.total), make([]float64, t.total)
	t.x, t.cost = make([]float64, t.total), make([]float64, t.total)
	t.sign = make([]float64, t.rows)
	t.basis, t.position = make([]int, t.rows), make([]int, t.total)
	t.y, t.direction, t.right = make([]float64, t.rows), make([]float64, t.rows), make([]float64, t.rows)
	t.matrix, t.priced = make([]float64, t.rows*t.rows), make([]float64, t.rows)
	copy(t.lower, s.lower)
	copy(t.upper, s.upper)
	copy(t.x, s.x)
	for j := range t.position {
		t.position[j] = -1
	}
	for j := range t.n {
		switch {
		case math.IsInf(t.lower[j], -1) && math.IsInf(t.upper[j], 1):
			t.x[j] = 0
		case math.Abs(t.lower[j]) <= math.Abs(t.upper[j]):
			t.x[j] = t.lower[j]
		default:
			t.x[j] = t.upper[j]
		}
	}
	for j := t.n; j < t.total; j++ {
		t.upper[j] = math.Inf(1)
	}
	for i := range t.rows {
		gap := s.rhs[i] - dot(s.cRow(i), t.x[:t.n])
		t.sign[i] = 1
		if gap < 0 {
			t.sign[i] = -1
		}
		j := t.n + slacks + i
		if i >= t.equalities && gap >= 0 {
			// The row's own slack will do.
			j = t.n + i - t.equalities
		}
		t.basis[i] = j
		t.position[j] = i
		t.x[j] = math.Abs(gap)
	}
}

// column fills to with column j.
func (t *simplex) column(j int, to []float64) {
	clear(to)
	s := &t.workspace.main
	slacks := t.rows - t.equalities
	switch {
	case j < t.n:
		for i := range to {
			to[i] = s.c[i*s.variables+j]
		}
	case j < t.n+slacks:
		to[t.equalities+j-t.n] = 1
	default:
		to[j-t.n-slacks] = t.sign[j-t.n-slacks]
	}
}

// solve runs both phases.
func (t *simplex) solve() LinearSolution {
	s := &t.workspace.main
	out := LinearSolution{
		X:                    make([]float64, t.n),
		EqualityMultiplier:   make([]float64, t.equalities),
		InequalityMultiplier: make([]float64, t.rows-t.equalities),
	}
	for j := range t.n {
		if t.lower[j] > t.upper[j] {
			out.Status = Infeasible
			return out
		}
	}
	artificial := t.cost[t.total-t.rows:]
	for i := range artificial {
		artificial[i] = 1
	}
	status := t.iterate()
	feasible := true
	for i := range t.rows {
		j := t.total - t.rows + i
		size := sizeOf(s.cRow(i), t.x[:t.n]) + math.Abs(s.rhs[i])
		feasible = feasible && t.x[j] <= max(feasibilityTolerance*size, t.roundoff(j))
		t.upper[j] = 0
	}
	switch {
	case status != Optimal:
		status = Stopped
	case !feasible:
		status = Infeasible
	default:
		clear(artificial)
		copy(t.cost, s.a)
		status = t.iterate()
	}
	out.Status, out.Iterations = status, t.iterations
	if status == Unbounded {
		out.Ray = make([]float64, t.n)
		noise := 1e-12 * largestOf(t.direction)
		t.rayInto(out.Ray, noise)
	}
	t.snap()
	for j := range t.n {
		out.X[j] = t.original(j)
	}
	if status == Optimal {
		multipliers := t.multipliers()
		copy(out.EqualityMultiplier, multipliers)
		copy(out.InequalityMultiplier, multipliers[t.equalities:])
	}
	return out
}

// multipliers returns those of the rows in the units of the problem. At the end
// of a first phase they prove that nothing is feasible.
func (t *simplex) multipliers() []float64 {
	multipliers := make([]float64, t.rows)
	noise := basicRoundoff * largestOf(t.y)
	for i, y := range t.y {
		if math.Abs(y) > noise && (i < t.equalities || y < 0) {
			multipliers[i] = math.Ldexp(-y, -t.workspace.rowExponent[i])
		}
	}
	return multipliers
}

// original returns variable j in the units of the problem, bounds exactly.
func (t *simplex) original(j int) float64 {
	switch w := t.workspace; t.x[j] {
	case t.lower[j]:
		return t.problem.lower(j)
	case t.upper[j]:
		return t.problem.upper(j)
	default:
		x := math.Ldexp(t.x[j], w.shift-w.exponent[j])
		return min(max(x, t.problem.lower(j)), t.problem.upper(j)) + 0
	}
}

// rayInto turns the last direction, with the variable that entered, into one
// of the variables of the problem.
func (t *simplex) rayInto(ray []float64, noise float64) {
	w := t.workspace
	set := func(j int, v float64) {
		if j < t.n && math.Abs(v) > noise {
			ray[j] = math.Ldexp(v, -w.exponent[j])
		}
	}
	set(t.entered, t.heading)
	for k, j := range t.basis {
		set(j, -t.heading*t.direction[k])
	}
}

// snap moves basic variables that differ from a bound or from zero by rounding
// onto it.
func (t *simplex) snap() {
	for _, j := range t.basis {
		noise := t.roundoff(j)
		switch {
		case math.Abs(t.x[j]-t.lower[j]) <= noise || t.x[j] < t.lower[j]:
			t.x[j] = t.lower[j]
		case math.Abs(t.x[j]-t.upper[j]) <= noise || t.x[j] > t.upper[j]:
			t.x[j] = t.upper[j]
		case math.Abs(t.x[j]) <= noise:
			t.x[j] = 0
		}
	}
}
