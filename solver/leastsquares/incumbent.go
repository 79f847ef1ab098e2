package leastsquares

import (
	"cmp"
	"math"
	"slices"
)

// gridPoint is an evaluated point of the grid. measure is what the pass
// minimises: the objective, or the square of the violation.
type gridPoint struct {
	k                             []int
	violation, objective, measure float64
}

// incumbents keeps the best points seen: all whose measure equals the least.
type incumbents struct {
	points []gridPoint
	least  float64
	better func(a, b []int) int
}

// slack is how far above value still counts as equal to it.
func slack(value float64) float64 { return equalObjective * (1 + value) }

// offer keeps p when it is at least as good as the best, and reports whether
// the least measure fell. p.k is copied.
func (c *incumbents) offer(p gridPoint) bool {
	if !(p.measure <= c.least+slack(c.least)) {
		return false
	}
	fell := p.measure < c.least
	if fell {
		c.least = p.measure
		kept := c.points[:0]
		for _, q := range c.points {
			if q.measure <= c.least+slack(c.least) {
				kept = append(kept, q)
			}
		}
		c.points = kept
	}
	for i := range c.points {
		q := &c.points[i]
		if slices.Equal(q.k, p.k) {
			return fell
		}
		// Of points equal in every digit only the first in order can win.
		if q.measure == p.measure && q.objective == p.objective {
			if c.order(p.k, q.k) < 0 {
				copy(q.k, p.k)
				q.violation = p.violation
			}
			return fell
		}
	}
	p.k = slices.Clone(p.k)
	c.points = append(c.points, p)
	return fell
}

func (c *incumbents) order(a, b []int) int {
	if c.better != nil {
		if by := c.better(a, b); by != 0 {
			return by
		}
	}
	return slices.Compare(a, b)
}

// best returns the first of the equal points: by objective where it differs
// by more than rounding, then by order.
func (c *incumbents) best() (gridPoint, bool) {
	if len(c.points) == 0 {
		return gridPoint{}, false
	}
	lowest := math.Inf(1)
	for _, p := range c.points {
		lowest = min(lowest, p.objective)
	}
	var best *gridPoint
	for i := range c.points {
		p := &c.points[i]
		if p.objective <= lowest+slack(lowest) && (best == nil || c.order(p.k, best.k) < 0) {
			best = p
		}
	}
	return *best, true
}

// moved returns k_j after the given number of steps, skipping what lies
// between zero and a semicontinuous minimum, and whether it is in the grid.
func (s *gridSearch) moved(j, from, steps int) (int, bool) {
	to := from + steps
	if least := s.least(j); to > 0 && to < least {
		to = 0
		if steps > 0 {
			to = least
		}
	}
	return to, to >= s.root.Lower[j] && to <= s.root.Upper[j] && to != from
}

// least is the smallest value of variable j other than 0.
func (s *gridSearch) least(j int) int {
	if s.options.Semicontinuous == nil {
		return 1
	}
	return max(s.options.Semicontinuous[j], 1)
}

// snap moves each number to the nearest value of the grid.
func (s *gridSearch) snap(k []int) {
	for j, v := range k {
		v = min(max(v, s.root.Lower[j]), s.root.Upper[j])
		if least := s.least(j); v > 0 && v < least {
			// The root box ends at values of the grid.
			if 2*v < least && s.root.Lower[j] <= 0 {
				v = 0
			} else {
				v = least
			}
		}
		k[j] = v
	}
}

// compare orders points for the local search: first violation, then objective.
func (p gridPoint) compare(q gridPoint) int {
	return cmp.Or(cmp.Compare(p.violation, q.violation), cmp.Compare(p.objective, q.objective))
}

// localSearch improves k, in place, by single moves of one or two steps and
// by pairs of moves of one step until none helps.
func (s *gridSearch) localSearch(k []int) {
	current := s.evaluate(k)
	try := func() bool {
		p := s.evaluate(k)
		if p.compare(current) < 0 {
			current = p
			return true
		}
		return false
	}
	// The budget only guards against models that improve without end.
	for improved, rounds := true, 0; improved && rounds < 1000; rounds++ {
		improved = false
		for j := range k {
			for _, steps := range [...]int{-1, 1, -2, 2} {
				from := k[j]
				to, ok := s.moved(j, from, steps)
				if !ok {
					continue
				}
				k[j] = to
				if try() {
					improved = true
				} else {
					k[j] = from
				}
			}
		}
		if improved {
			continue
		}
	pairs:
		for i := range k {
			for j := range i {
				for _, steps := range [...][2]int{{1, -1}, {-1, 1}, {1, 1}, {-1, -1}} {
					fromI, fromJ := k[i], k[j]
					toI, okI := s.moved(i, fromI, steps[0])
					toJ, okJ := s.moved(j, fromJ, steps[1])
					if !okI || !okJ {
						continue
					}
					k[i], k[j] = toI, toJ
					if try() {
						improved = true
						break pairs
					}
					k[i], k[j] = fromI, fromJ
				}
			}
		}
	}
}
