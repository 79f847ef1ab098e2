package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// leastChange presents the drinks of a grid by how far they are from amounts
// from before: the sum of squared differences in steps. The limits, and to taste
// like another drink, are those of the grid, whose aims do not count.
type leastChange struct {
	*grid
	// from is in steps of the open pours, whole or not.
	from []float64
	// asked judges drinks that differ by as much: the least F comes first.
	asked *problem
}

// Evaluate implements leastsquares.GridModel.
func (c *leastChange) Evaluate(k []int) (violation, objective float64) {
	violation, _ = c.grid.Evaluate(k)
	for j := range k {
		d := float64(k[j]) - c.from[j]
		objective += d * d
	}
	return violation, objective
}

// Relax implements leastsquares.GridModel: the rows of the limits, and a row
// k - from for each open pour, which is exact.
func (c *leastChange) Relax(node *leastsquares.Node, cutoff float64, r *leastsquares.Relaxation) {
	c.grid.Relax(node, math.Inf(1), r)
	if r.Empty {
		return
	}
	a := r.Problem.A
	for j := range c.from {
		first := len(a.Data)
		for range a.Cols {
			a.Data = append(a.Data, 0)
		}
		a.Data[first+j] = 1
		a.Rows++
		r.Problem.B = append(r.Problem.B, c.from[j])
	}
}

// nearer orders drinks of equal change by F.
func (c *leastChange) nearer(a, b []int) int {
	fa, fb := c.miss(a), c.miss(b)
	switch {
	case fa < fb:
		return -1
	case fa > fb:
		return 1
	}
	return 0
}

func (c *leastChange) miss(k []int) float64 {
	var v profile.Values
	d := c.asked.drink(steps(k))
	d.Evaluate(c.asked.wanted, &v, nil, nil)
	return c.asked.objective(&v)
}

// fewest looks, for rising numbers of changed pours that count, for the least
// change among the drinks of q, and stops at the first number that has one. It
// writes what it found into out.
func (r *rework) fewest(q *problem, out *reworked) (found bool, err error) {
	counted := r.byName(false)
	sets := r.uncountedSets()
	budget := r.budget / 2
	for size := 0; size <= len(counted) && !found; size++ {
		least, f := beyondTaste, math.Inf(1)
		for _, subset := range subsetsOf(counted, size) {
			for _, besides := range sets {
				if budget <= 0 {
					out.solution.PreferenceProven = false
					return found, nil
				}
				open := make([]bool, len(r.pours))
				for i := range open {
					open[i] = r.comesIn(i)
				}
				for _, i := range subset {
					open[i] = true
				}
				for _, i := range besides {
					open[i] = true
				}
				c, err := r.leastChangeOf(q, open)
				if err != nil {
					return found, err
				}
				answer, err := c.problem.search(c, leastsquares.GridOptions{NodeLimit: budget, Cutoff: least, Better: c.nearer})
				if err != nil {
					return found, err
				}
				budget -= answer.Nodes
				out.solution.Nodes += answer.Nodes
				out.solution.PreferenceProven = out.solution.PreferenceProven && answer.Proven
				if !answer.Found || answer.Violation > 0 {
					continue
				}
				miss := c.miss(answer.K)
				room := tolerated * (1 + answer.Objective)
				if found && answer.Objective > least-room && (answer.Objective > least+room || miss >= f-tolerated*(1+f)) {
					continue
				}
				found = true
				least, f = max(answer.Objective, math.SmallestNonzeroFloat64), miss
				out.amounts, out.changed, out.size = r.amountsOf(open, answer.K), open, answer.Objective
				out.solution.Objective = miss
			}
		}
	}
	return found, nil
}

// uncountedSets are the sets of uncounted pours to change, none first.
func (r *rework) uncountedSets() [][]int {
	list := r.byName(true)
	if len(list) > mostSets {
		return [][]int{list}
	}
	return allSubsets(list)
}

// leastChangeOf is the search over the open pours among the drinks of q.
func (r *rework) leastChangeOf(q *problem, open []bool) (*leastChange, error) {
	p, err := r.changing(open)
	if err != nil {
		return nil, err
	}
	asked := p
	if q.ratios == nil {
		p.ratios = nil
	}
	p = p.with(nil, q.limits)
	p.within = q.within
	p.want()
	c := &leastChange{grid: newGrid(p), asked: asked}
	for i := range r.pours {
		if open[i] {
			c.from = append(c.from, r.before[i]/r.pours[i].step)
		}
	}
	return c, nil
}
