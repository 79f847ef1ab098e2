package leastsquares

import "math"

// CheckKKT returns the largest residual of the optimality conditions of s,
// each relative to the size of its terms, from the input alone:
//
//	|C + E^T lambda + G^T mu - zl + zu|_j / (|C_j| + sum |E_ij lambda_i| + sum |G_ij mu_i|),
//	|E_i x - F_i| / (sum |E_ij x_j| + |F_i|), likewise what exceeds H_i or a bound,
//	-min(mu, zl, zu) relative to the first scale, and
//	multiplier times slack / (1 + sum |C_j x_j| + sum |lambda_i F_i| + sum |mu_i H_i|).
//
// None of it depends on the units of variables or rows, except for the 1. It is
// 0 to 1e-13 at a minimiser and +Inf when lengths do not fit or a number is not
// finite.
func (p LinearProblem) CheckKKT(s LinearSolution) float64 {
	n := len(p.C)
	if len(s.X) != n || len(s.LowerMultiplier) != n || len(s.UpperMultiplier) != n ||
		len(s.EqualityMultiplier) != rowCount(p.E) || len(s.InequalityMultiplier) != rowCount(p.G) {
		return math.Inf(1)
	}
	for _, list := range [][]float64{s.X, s.EqualityMultiplier, s.InequalityMultiplier, s.LowerMultiplier, s.UpperMultiplier} {
		if finite("", list) != nil {
			return math.Inf(1)
		}
	}
	worst := 0.0
	note := func(violation, scale float64) {
		if violation <= 0 {
			return
		}
		if ratio := violation / scale; !(ratio <= worst) {
			worst = ratio
		}
	}
	total, largest := 1.0, 0.0
	for j, x := range s.X {
		total += math.Abs(p.C[j] * x)
	}
	for i, lambda := range s.EqualityMultiplier {
		total += math.Abs(lambda * p.F[i])
		row := p.E.Row(i)
		note(math.Abs(dot(row, s.X)-p.F[i]), sizeOf(row, s.X)+math.Abs(p.F[i]))
	}
	for i, mu := range s.InequalityMultiplier {
		total += math.Abs(mu * p.H[i])
	}
	for j, x := range s.X {
		d, size := p.reducedCost(j, s.EqualityMultiplier, s.InequalityMultiplier)
		zl, zu := s.LowerMultiplier[j], s.UpperMultiplier[j]
		largest = max(largest, size)
		note(math.Abs(d-zl+zu), size)
		note(-zl, size)
		note(-zu, size)
		if zl != 0 {
			note(math.Abs(zl*(x-p.lower(j))), total)
		}
		if zu != 0 {
			note(math.Abs(zu*(p.upper(j)-x)), total)
		}
		if outside := max(p.lower(j)-x, x-p.upper(j)); outside > 0 {
			note(outside, math.Abs(x)+outside)
		}
	}
	for i, mu := range s.InequalityMultiplier {
		row := p.G.Row(i)
		excess := dot(row, s.X) - p.H[i]
		note(excess, sizeOf(row, s.X)+math.Abs(p.H[i]))
		note(-mu*largestOf(row), largest)
		if mu != 0 {
			note(math.Abs(mu*excess), total)
		}
	}
	if !isFinite(worst) || !isFinite(total) {
		return math.Inf(1)
	}
	return worst
}

// CheckRay returns by how much r fails to be a direction along which every
// feasible point stays feasible and C.x falls without end, from the input
// alone: the largest of |E_i r| and G_i r, relative to the sums of |E_ij r_j|
// and |G_ij r_j|, and of what points against a finite bound, relative to
// ||r||. It is +Inf where C.r is not negative beyond rounding.
func (p LinearProblem) CheckRay(r []float64) float64 {
	if len(r) != len(p.C) || finite("", r) != nil {
		return math.Inf(1)
	}
	along := func(row []float64) (sum, size float64) {
		for j, v := range row {
			sum += v * r[j]
			size += math.Abs(v * r[j])
		}
		return sum, size
	}
	if slope, size := along(p.C); !(slope < -1e-12*size) {
		return math.Inf(1)
	}
	worst := 0.0
	for i := range rowCount(p.E) {
		if sum, size := along(p.E.Row(i)); sum != 0 {
			worst = max(worst, math.Abs(sum)/size)
		}
	}
	for i := range rowCount(p.G) {
		if sum, size := along(p.G.Row(i)); sum > 0 {
			worst = max(worst, sum/size)
		}
	}
	size := norm(r)
	for j, v := range r {
		if v < 0 && !math.IsInf(p.lower(j), -1) || v > 0 && !math.IsInf(p.upper(j), 1) {
			worst = max(worst, math.Abs(v)/size)
		}
	}
	if math.IsNaN(worst) {
		return math.Inf(1)
	}
	return worst
}

// DualBound returns a lower bound on C.x over all x that satisfy the
// constraints. It holds for any multipliers lambda = equality and
// mu = max(inequality, 0), so no accuracy is asked of them: with
// q = C + E^T lambda + G^T mu,
//
//	C.x >= q.x - lambda.F - mu.H >= sum_j min(q_j Lower_j, q_j Upper_j) - lambda.F - mu.H.
//
// The rounding of the sums is taken off. It is tight for the multipliers of an
// optimal LinearSolution. Where a bound is infinite, a q_j that is rounding
// counts as zero; one that is not makes the bound minus infinity. Nil vectors
// count as zeros.
func (p LinearProblem) DualBound(inequality, equality []float64) float64 {
	mu := make([]float64, len(inequality))
	for i, v := range inequality {
		mu[i] = max(v, 0)
	}
	bound, terms := 0.0, 0.0
	add := func(v float64) {
		bound += v
		terms += math.Abs(v)
	}
	for i, lambda := range equality {
		add(-lambda * p.F[i])
	}
	for i, v := range mu {
		add(-v * p.H[i])
	}
	const eps = 0x1p-52
	rows := float64(len(equality)+len(mu)) + 2
	for j := range p.C {
		q, size := p.reducedCost(j, equality, mu)
		doubt := rows * eps * size
		lower, upper := p.lower(j), p.upper(j)
		term := min(boundTerm(q, lower), boundTerm(q, upper))
		if math.IsInf(term, 0) && math.Abs(q) <= farkasRoundoff*size {
			// With one finite bound the other cannot be on the side of q.
			continue
		}
		add(term)
		if largest := max(math.Abs(lower), math.Abs(upper)); !math.IsInf(largest, 0) {
			bound -= doubt * largest
		} else if nearest := min(math.Abs(lower), math.Abs(upper)); !math.IsInf(nearest, 0) {
			bound -= doubt * nearest
		}
	}
	bound -= (rows + float64(len(p.C))) * eps * terms
	if math.IsNaN(bound) {
		return math.Inf(-1)
	}
	return bound
}
