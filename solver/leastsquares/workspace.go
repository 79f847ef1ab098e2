package leastsquares

import "math"

// Workspace holds the storage of the method, so that many problems of similar
// size can be solved without allocating. It must not be shared between
// goroutines. The same sequence of problems gives the same answers, and each
// answer depends on its own problem only.
type Workspace struct {
	nearest bool      // go on to the minimiser nearest to Reference
	start   []float64 // begin here instead of at Reference, when not nil

	main, feasibility, near activeSet

	exponent    []int  // of two: x' = x 2^exponent / 2^shift
	aimSpan     []span // of the largest in each column of A
	rowSpan     []span
	rowExponent []int
	shift       int
	reference   []float64 // scaled
	weight      []float64 // D of the nearest stage, scaled
	columns     orthogonal
	basisRows   orthogonal
	// farkas proves infeasibility: non-negative on inequalities; equalities first.
	farkas []float64
	sums   []float64
}

// NewWorkspace returns an empty workspace.
func NewWorkspace() *Workspace { return &Workspace{} }

// feasibilityTolerance is the largest distance from a constraint, relative to
// the size of the terms in it, that counts as rounding.
const feasibilityTolerance = 1e-10

// Solve minimises p into s as the function Solve does, except that p is taken
// to be well formed, that any minimiser will do where several exist, and that
// KKT and Conflict are left out. It allocates nothing once the slices of w and
// s have grown to the size of the problem.
func (w *Workspace) Solve(p *Problem, s *Solution) {
	s.Conflict, s.KKT, s.Iterations = nil, math.NaN(), 0
	n, mE, mG := p.A.Cols, rowCount(p.E), rowCount(p.G)
	s.X = resized(s.X, n)
	s.Residual = resized(s.Residual, p.A.Rows)
	s.EqualityMultiplier = resized(s.EqualityMultiplier, mE)
	s.InequalityMultiplier = resized(s.InequalityMultiplier, mG)
	s.LowerMultiplier = resized(s.LowerMultiplier, n)
	s.UpperMultiplier = resized(s.UpperMultiplier, n)
	clear(s.EqualityMultiplier)
	clear(s.InequalityMultiplier)
	clear(s.LowerMultiplier)
	clear(s.UpperMultiplier)
	w.farkas = resized(w.farkas, mE+mG)
	clear(w.farkas)

	w.build(p)
	m := &w.main
	crossed := false
	for j := range n {
		crossed = crossed || p.lower(j) > p.upper(j)
	}
	if crossed {
		s.Status = Infeasible
		w.report(p, s)
		return
	}
	if !w.meetsConstraints(8*0x1p-52, 0) {
		feasible := w.findFeasible(p)
		s.Iterations += w.feasibility.iterations
		if !feasible {
			s.Status = Infeasible
			w.report(p, s)
			return
		}
	}
	if m.equalities > 0 {
		w.chooseBasis(m)
	} else {
		releaseInterior(m)
	}
	s.Status = Stopped
	if m.optimise() && w.meetsConstraints(acceptedKKT, 0) {
		s.Status = Optimal
	}
	s.Iterations += m.iterations
	if w.nearest && s.Status == Optimal && !m.isUnique() {
		w.findNearest()
		s.Iterations += w.near.iterations
	}
	w.report(p, s)
}

// constraint returns row i of E followed by G, and its right-hand side.
func (p *Problem) constraint(i int) ([]float64, float64) {
	if mE := rowCount(p.E); i >= mE {
		return p.G.Row(i - mE), p.H[i-mE]
	}
	return p.E.Row(i), p.F[i]
}

// meetsConstraints reports whether x satisfies all rows within a tolerance
// relative to their size or an absolute one.
func (w *Workspace) meetsConstraints(relative, absolute float64) bool {
	s := &w.main
	for i := range s.rows {
		gap, size := rowGap(s.cRow(i), s.x, s.rhs[i])
		allowed := max(relative*size, absolute)
		if !(gap <= allowed) || i < s.equalities && -gap > allowed {
			return false
		}
	}
	return true
}

// rowGap returns row.x - right and the size ||row|| ||x|| + |right| that its
// rounding is relative to.
func rowGap(row, x []float64, right float64) (gap, size float64) {
	return dot(row, x) - right, norm(row)*norm(x) + math.Abs(right)
}

// findFeasible minimises ||c x + slack - rhs||^2 over the bounds, slack >= 0
// on inequalities and 0 on equalities, and moves the main problem's x there.
// A residual rho that is not zero proves that nothing is feasible:
// rho.rhs exceeds rho.(c x + slack) everywhere in the bounds.
// It reports false only when that proof stands in the numbers of p.
func (w *Workspace) findFeasible(p *Problem) bool {
	s, f := &w.main, &w.feasibility
	slacks := s.rows - s.equalities
	f.resize(s.variables+slacks, s.rows, 0, 0)
	for j := range s.variables {
		column := f.aColumn(j)
		for i := range column {
			column[i] = s.c[i*s.variables+j]
		}
	}
	copy(f.b, s.rhs)
	copy(f.lower, s.lower)
	copy(f.upper, s.upper)
	copy(f.x, s.x)
	for k := range slacks {
		i, j := s.equalities+k, s.variables+k
		column := f.aColumn(j)
		clear(column)
		column[i] = 1
		f.lower[j], f.upper[j] = 0, math.Inf(1)
		gap, _ := rowGap(s.cRow(i), s.x, s.rhs[i])
		f.x[j] = max(-gap, 0)
	}
	releaseInterior(f)
	scale := largestOf(s.rhs) + largestOf(s.x)
	optimal := f.optimise()
	// What rounding may have made of a residual, given every number on the way.
	noise := targetRoundoff * (scale + largestOf(f.x))
	copy(s.x, f.x)
	for j, x := range s.x {
		if math.Abs(x) <= noise && s.lower[j] <= 0 && s.upper[j] >= 0 {
			s.x[j] = 0
		}
	}
	if w.meetsConstraints(feasibilityTolerance, noise) {
		return true
	}
	f.sharpenResidual()
	for i, rho := range f.residual {
		if math.Abs(rho) <= noise || i >= s.equalities && rho > 0 {
			rho = 0
		}
		w.farkas[i] = math.Ldexp(-rho, -w.rowExponent[i])
	}
	gap, margin := p.farkasGap(w.farkas)
	return !optimal || gap <= margin
}

// sharpenResidual takes from the residual what rounding left in the span of
// the free columns. The method without rows keeps their factors.
func (s *activeSet) sharpenResidual() {
	s.aimFactor.transpose(s.residual)
	clear(s.residual[:s.aimFactor.cols])
	s.aimFactor.apply(s.residual)
}

// releaseInterior frees the variables that start strictly inside their bounds.
func releaseInterior(s *activeSet) {
	for j, x := range s.x {
		if s.lower[j] < x && x < s.upper[j] {
			s.release(j)
		}
	}
}

// chooseBasis frees as many variables as the equalities have rank, preferring
// those inside their bounds and well-conditioned columns, and holds that many
// independent rows. The other equalities follow from these.
func (w *Workspace) chooseBasis(s *activeSet) {
	q := &w.columns
	q.reset(s.equalities)
	for _, pass := range []struct {
		tolerance float64
		interior  bool
	}{{1e-2, true}, {1e-2, false}, {dependentBasis, true}, {dependentBasis, false}} {
		for j, x := range s.x {
			interior := s.lower[j] < x && x < s.upper[j]
			if q.cols == s.equalities {
				break
			}
			if s.position[j] >= 0 || s.lower[j] == s.upper[j] || interior != pass.interior {
				continue
			}
			column := q.next()
			for i := range column {
				column[i] = s.c[i*s.variables+j]
			}
			if largestOf(column) > dependentBasis && q.push(pass.tolerance) {
				s.release(j)
			} else {
				q.v = q.v[:q.cols*q.rows]
			}
		}
	}
	r := &w.basisRows
	r.reset(len(s.free))
	for i := 0; i < s.equalities && r.cols < len(s.free); i++ {
		row := s.cRow(i)
		column := r.next()
		for k, j := range s.free {
			column[k] = row[j]
		}
		if r.push(dependentBasis) {
			s.hold(i)
		}
	}
}

// dependentBasis decides the rank of the equalities, on rows scaled to 1.
const dependentBasis = 1e-11

// isUnique reports whether every pinned variable and working row is kept by a
// multiplier that is not zero: then no other minimiser exists.
func (s *activeSet) isUnique() bool {
	rowScale := 0.0
	for j, position := range s.position {
		rowScale = max(rowScale, s.reducedScale[j])
		if position < 0 && s.lower[j] != s.upper[j] && !s.isKept(j) {
			return false
		}
	}
	for _, i := range s.working {
		if i >= s.equalities && s.rowMultiplier[i] <= keptMultiplier*rowScale {
			return false
		}
	}
	return true
}

// keptMultiplier, relative to the size of the terms in a multiplier, is what
// shows it to be other than zero.
const keptMultiplier = 1e3 * gradientRoundoff

func (s *activeSet) isKept(j int) bool {
	return s.position[j] < 0 && math.Abs(s.reduced[j]) > keptMultiplier*s.reducedScale[j] &&
		(s.x[j] == s.lower[j] || s.x[j] == s.upper[j])
}
