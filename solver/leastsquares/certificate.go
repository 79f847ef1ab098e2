package leastsquares

import "math"

// report turns the scaled answer into one of p. Multipliers of bounds are
// computed from the input, not from the factors.
func (w *Workspace) report(p *Problem, s *Solution) {
	m := &w.main
	for j := range s.X {
		switch m.x[j] {
		case m.lower[j]:
			s.X[j] = p.lower(j)
		case m.upper[j]:
			s.X[j] = p.upper(j)
		default:
			// Scaling back can round below the smallest numbers, so the bound
			// is applied once more.
			x := math.Ldexp(m.x[j], w.shift-w.exponent[j])
			s.X[j] = min(max(x, p.lower(j)), p.upper(j)) + 0
		}
	}
	s.Objective = 0
	for i := range s.Residual {
		s.Residual[i] = p.B[i] - dot(p.A.Row(i), s.X)
		s.Objective += s.Residual[i] * s.Residual[i]
	}
	if s.Status != Optimal {
		return
	}
	// Where every aim is met to rounding the multipliers are all zero.
	if norm(m.residual) <= targetRoundoff*(m.aNorm*norm(m.x)+m.bNorm) {
		return
	}
	// Multipliers that are rounding, of the gradient or of the larger ones
	// among them, are none.
	amplified := targetRoundoff * min(m.rowFactor.amplification(), largestAmplification)
	noise := amplified * max(largestOf(m.reducedScale), largestOf(m.rowMultiplier))
	for i, lambda := range m.rowMultiplier {
		if math.Abs(lambda) <= noise {
			continue
		}
		lambda = math.Ldexp(lambda, 1+w.shift-w.rowExponent[i])
		if i < m.equalities {
			s.EqualityMultiplier[i] = lambda
		} else {
			s.InequalityMultiplier[i-m.equalities] = max(lambda, 0)
		}
	}
	w.sums = resized(w.sums, len(s.X))
	p.gradient(w.sums, s.Residual, s.EqualityMultiplier, s.InequalityMultiplier)
	for j, d := range w.sums {
		if m.position[j] >= 0 {
			continue
		}
		if d > 0 && m.x[j] == m.lower[j] {
			s.LowerMultiplier[j] = d
		} else if d < 0 && m.x[j] == m.upper[j] {
			s.UpperMultiplier[j] = -d
		}
	}
}

// gradient fills g with -2 A^T residual + E^T equality + G^T inequality.
func (p *Problem) gradient(g, residual, equality, inequality []float64) {
	clear(g)
	for i, r := range residual {
		if r != 0 {
			addScaled(g, -2*r, p.A.Row(i))
		}
	}
	for i, lambda := range equality {
		if lambda != 0 {
			addScaled(g, lambda, p.E.Row(i))
		}
	}
	for i, mu := range inequality {
		if mu != 0 {
			addScaled(g, mu, p.G.Row(i))
		}
	}
}

// CheckKKT returns the largest residual of the optimality conditions of s,
// each relative to the size of its terms, from the input alone: with r =
// A x - B and the Lagrangian of Solution,
//
//	|2 A^T r + E^T lambda + G^T mu - zl + zu|_j
//	    / (2 ||A_j|| (||A|| ||x|| + ||B||) + sum |E_ij lambda_i| + sum |G_ij mu_i|),
//	|E_i x - F_i| / (||E_i|| ||x|| + |F_i|), likewise what exceeds H_i or a bound,
//	-min(mu, zl, zu) relative to the first scale, and
//	multiplier times slack / (1 + ||r||^2).
//
// It is 0 to 1e-13 at a minimiser and +Inf when lengths do not fit or a number
// is not finite.
func (p Problem) CheckKKT(s Solution) float64 {
	n := p.A.Cols
	if len(s.X) != n || len(s.LowerMultiplier) != n || len(s.UpperMultiplier) != n ||
		len(s.EqualityMultiplier) != rowCount(p.E) || len(s.InequalityMultiplier) != rowCount(p.G) {
		return math.Inf(1)
	}
	worst := 0.0
	note := func(violation, scale float64) {
		if violation <= 0 {
			return
		}
		ratio := violation / scale
		if !(ratio <= worst) {
			worst = ratio
		}
	}
	residual := make([]float64, p.A.Rows)
	objective := 0.0
	for i := range residual {
		residual[i] = p.B[i] - dot(p.A.Row(i), s.X)
		objective += residual[i] * residual[i]
	}
	g := make([]float64, n)
	p.gradient(g, residual, s.EqualityMultiplier, s.InequalityMultiplier)
	column := make([]float64, p.A.Rows)
	scale := make([]float64, n)
	total := norm(p.A.Data)*norm(s.X) + norm(p.B)
	for j := range n {
		for i := range column {
			column[i] = p.A.At(i, j)
		}
		scale[j] = 2 * norm(column) * total
		for i, lambda := range s.EqualityMultiplier {
			scale[j] += math.Abs(lambda * p.E.At(i, j))
		}
		for i, mu := range s.InequalityMultiplier {
			scale[j] += math.Abs(mu * p.G.At(i, j))
		}
		zl, zu := s.LowerMultiplier[j], s.UpperMultiplier[j]
		note(math.Abs(g[j]-zl+zu), scale[j])
		note(-zl, scale[j])
		note(-zu, scale[j])
		if zl != 0 {
			note(math.Abs(zl*(s.X[j]-p.lower(j))), 1+objective)
		}
		if zu != 0 {
			note(math.Abs(zu*(p.upper(j)-s.X[j])), 1+objective)
		}
		if outside := max(p.lower(j)-s.X[j], s.X[j]-p.upper(j)); outside > 0 {
			note(outside, norm(s.X)+math.Abs(s.X[j])+outside)
		}
	}
	sizeX := norm(s.X)
	for i := range s.EqualityMultiplier {
		row := p.E.Row(i)
		note(math.Abs(dot(row, s.X)-p.F[i]), norm(row)*sizeX+math.Abs(p.F[i]))
	}
	largest := largestOf(scale)
	for i, mu := range s.InequalityMultiplier {
		row := p.G.Row(i)
		excess := dot(row, s.X) - p.H[i]
		note(excess, norm(row)*sizeX+math.Abs(p.H[i]))
		note(-mu*largestOf(row), largest)
		if mu != 0 {
			note(math.Abs(mu*excess), 1+objective)
		}
	}
	if !isFinite(worst) || !isFinite(objective) || !isFinite(sizeX) {
		return math.Inf(1)
	}
	for _, list := range [][]float64{s.EqualityMultiplier, s.InequalityMultiplier, s.LowerMultiplier, s.UpperMultiplier} {
		if finite("", list) != nil {
			return math.Inf(1)
		}
	}
	return worst
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
