package leastsquares

import "math"

// targetRoundoff is the rounding of a target relative to the largest one.
const targetRoundoff = 64 * 0x1p-52

// largestAmplification caps what ill-conditioned working rows may add to it.
const largestAmplification = 1e4

// step moves the free variables towards their targets as far as bounds and
// rows allow. It reports true when something blocked the way and has joined
// the working set.
func (s *activeSet) step(byIndex bool) bool {
	length, blocking := 1.0, noEntrant
	offer := func(at float64, e entrant) {
		at = max(at, 0)
		if at < length || (at == length && (blocking == noEntrant || byIndex && e < blocking)) {
			length, blocking = at, e
		}
	}
	// A target that misses a bound by rounding alone is moved to it: if it
	// blocked, a degenerate vertex would never be left.
	size := max(largestOf(s.target[:len(s.free)]), s.size())
	noise := size * targetRoundoff * min(s.rowFactor.amplification(), largestAmplification)
	for k, j := range s.free {
		to, x := s.target[k], s.x[j]
		if to < s.lower[j] {
			if s.lower[j]-to <= noise {
				s.target[k] = s.lower[j]
				continue
			}
			offer((s.lower[j]-x)/(to-x), entrant(j))
		} else if to > s.upper[j] {
			if to-s.upper[j] <= noise {
				s.target[k] = s.upper[j]
				continue
			}
			offer((s.upper[j]-x)/(to-x), entrant(j))
		}
	}
	for i := s.equalities; i < s.rows; i++ {
		if s.isWorking[i] || s.isIgnored[i] {
			continue
		}
		row := s.cRow(i)
		move, moved := 0.0, 0.0
		for k, j := range s.free {
			term := row[j] * (s.target[k] - s.x[j])
			move += term
			moved += math.Abs(term)
		}
		if move <= dependentColumn*moved || move <= targetRoundoff*size {
			continue
		}
		if slack := max(s.rhs[i]-dot(row, s.x), 0); slack < move {
			offer(slack/move, entrant(s.variables+i))
		}
	}
	if blocking == noEntrant {
		for k, j := range s.free {
			s.x[j] = s.target[k]
		}
		return false
	}
	for k, j := range s.free {
		moved := s.x[j] + length*(s.target[k]-s.x[j])
		s.x[j] = min(max(moved, s.lower[j]), s.upper[j])
	}
	if j := int(blocking); j < s.variables {
		if s.target[s.position[j]] < s.lower[j] {
			s.x[j] = s.lower[j]
		} else {
			s.x[j] = s.upper[j]
		}
		s.pin(j)
	} else {
		s.hold(j - s.variables)
	}
	return true
}

// price computes residual, row multipliers and reduced gradient at x, the
// minimiser over the free variables, and returns the objective.
func (s *activeSet) price() float64 {
	t := len(s.working)
	clear(s.isIgnored)
	clear(s.rowMultiplier)
	lambda := s.scratch[:max(t, len(s.free))]
	value, scale := 0.0, 0.0
	if s.identity {
		for k, j := range s.free {
			lambda[k] = -s.x[j]
		}
		s.rowFactor.transpose(lambda[:len(s.free)])
		value = dot(s.x, s.x)
		scale = math.Sqrt(value)
	} else {
		copy(s.residual, s.b)
		for j, x := range s.x {
			if x != 0 {
				addScaled(s.residual, -x, s.aColumn(j))
			}
		}
		for k := range t {
			lambda[k] = dot(s.rotated[k*s.aims:(k+1)*s.aims], s.residual)
		}
		value = dot(s.residual, s.residual)
		scale = s.aNorm*norm(s.x) + s.bNorm
	}
	s.rowFactor.solve(lambda)
	for k, i := range s.working {
		s.rowMultiplier[i] = lambda[k]
	}
	for j := range s.variables {
		if s.identity {
			s.reduced[j] = s.x[j]
		} else {
			s.reduced[j] = -dot(s.aColumn(j), s.residual)
		}
		s.reducedScale[j] = s.priceNorm[j] * scale
	}
	for k, i := range s.working {
		for j, v := range s.cRow(i) {
			s.reduced[j] += lambda[k] * v
			s.reducedScale[j] += math.Abs(lambda[k] * v)
		}
	}
	return value
}

// choose returns what violates its sign most, relative to the size of its
// column: a pinned variable that would gain by moving inside its bounds, or a
// working inequality with a negative multiplier. byIndex takes the first
// instead, which ends cycles (R. G. Bland, New finite pivoting rules for the
// simplex method, 1977; from memory).
func (s *activeSet) choose(byIndex bool) entrant {
	chosen, most := noEntrant, 0.0
	rowScale := 0.0
	for j, position := range s.position {
		rowScale = max(rowScale, s.reducedScale[j])
		if position >= 0 || s.skipped[j] || s.lower[j] == s.upper[j] {
			continue
		}
		d := s.reduced[j]
		if math.Abs(d) <= gradientRoundoff*s.reducedScale[j] ||
			d > 0 && s.x[j] == s.lower[j] || d < 0 && s.x[j] == s.upper[j] {
			continue
		}
		size := math.Abs(d)
		if s.priceNorm[j] > 0 {
			size /= s.priceNorm[j]
		}
		if size > most {
			chosen, most = entrant(j), size
			if byIndex {
				return chosen
			}
		}
	}
	for _, i := range s.working {
		if i < s.equalities || s.skipped[s.variables+i] {
			continue
		}
		if size := -s.rowMultiplier[i]; size > gradientRoundoff*rowScale && size > most {
			chosen, most = entrant(s.variables+i), size
			if byIndex {
				return chosen
			}
		}
	}
	return chosen
}
