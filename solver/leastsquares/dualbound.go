package leastsquares

import "math"

// DualBound returns a lower bound on ||A x - B||^2 over all x that satisfy the
// constraints. It holds for any three vectors, so no accuracy is asked of
// them: with y = residualDual, mu = max(inequality, 0), lambda = equality,
//
//  1. ||w||^2 >= 2 y.w - ||y||^2 for w = B - A x;
//  2. mu.(G x - H) <= 0 and lambda.(E x - F) = 0 where x is feasible;
//  3. so ||A x - B||^2 >= 2 y.B - ||y||^2 - lambda.F - mu.H + q.x,
//     q = -2 A^T y + E^T lambda + G^T mu;
//  4. q.x >= sum_j min(q_j Lower_j, q_j Upper_j).
//
// The rounding of the sums is taken off. The bound is tight for the Residual,
// InequalityMultiplier and EqualityMultiplier of an optimal Solution. It is
// minus infinity where a q_j other than 0 meets an infinite bound. Nil vectors
// count as zeros.
func (p Problem) DualBound(residualDual, inequality, equality []float64) float64 {
	return p.dualBound(residualDual, inequality, equality, make([]float64, p.A.Cols), make([]float64, p.A.Cols))
}

// dualBound leaves q in its last argument but one; size is scratch.
func (p *Problem) dualBound(y, inequality, equality, q, size []float64) float64 {
	clear(q)
	clear(size)
	bound, terms := 0.0, 0.0
	add := func(v float64) {
		bound += v
		terms += math.Abs(v)
	}
	accumulate := func(row []float64, by float64) {
		for j, v := range row {
			q[j] += by * v
			size[j] += math.Abs(by * v)
		}
	}
	for i, v := range y {
		if v == 0 {
			continue
		}
		add(2 * v * p.B[i])
		add(-v * v)
		accumulate(p.A.Row(i), -2*v)
	}
	for i, lambda := range equality {
		if lambda != 0 {
			add(-lambda * p.F[i])
			accumulate(p.E.Row(i), lambda)
		}
	}
	for i, mu := range inequality {
		if mu > 0 {
			add(-mu * p.H[i])
			accumulate(p.G.Row(i), mu)
		}
	}
	// A sum of k rounded terms is off by at most about k eps times their size.
	const eps = 0x1p-52
	rows := float64(len(y)+len(equality)+len(inequality)) + 2
	for j, v := range q {
		lower, upper := p.lower(j), p.upper(j)
		if size[j] == 0 {
			continue
		}
		doubt := rows * eps * size[j]
		largest := max(math.Abs(lower), math.Abs(upper))
		if math.IsInf(largest, 0) {
			switch {
			case v > doubt && !math.IsInf(lower, 0):
				add(v * lower)
				bound -= doubt * math.Abs(lower)
			case v < -doubt && !math.IsInf(upper, 0):
				add(v * upper)
				bound -= doubt * math.Abs(upper)
			default:
				return math.Inf(-1)
			}
			continue
		}
		add(min(v*lower, v*upper))
		bound -= doubt * largest
	}
	bound -= (2*rows + float64(len(q))) * eps * terms
	if math.IsNaN(bound) {
		return math.Inf(-1)
	}
	return bound
}
