package solver

import (
	"slices"

	"minim/solver/leastsquares"
)

// Boxes that the exchange looks at: of one set of ingredients, and of all sets.
const (
	exchangeBoxes    = 12
	allExchangeBoxes = 40_000
)

// trial is a set of ingredients with the best steps found for it: least broken,
// then nearest.
type trial struct {
	support              []int
	k                    []int
	violation, objective float64
}

func (t *trial) better(other *trial) bool {
	if t.violation < other.violation-tolerated {
		return true
	}
	return t.violation <= other.violation+tolerated && t.objective < other.objective-tolerated*(1+other.objective)
}

// exchange looks for better sets of ingredients by the full model alone, one
// ingredient added, left out or exchanged for another at a time, until nothing
// helps or so many boxes were looked at. It serves where the linear picture of
// the question misleads: far from the target, and where limits are broken.
type exchange struct {
	*choice
	problem *problem
	boxes   int
}

// allowed tells whether a set keeps the conditions of the choice.
func (e *exchange) allowed(support []int) bool {
	if e.count(support) > e.most {
		return false
	}
	for _, j := range e.must {
		if !slices.Contains(support, j) {
			return false
		}
	}
	for _, g := range e.groups {
		n := 0
		for _, j := range g.Columns {
			if slices.Contains(support, j) {
				n++
			}
		}
		if n != 1 {
			return false
		}
	}
	return true
}

// try finds steps for a set; ok is false where the conditions or the cost forbid it.
func (e *exchange) try(support []int) (t trial, ok bool, err error) {
	if len(support) == 0 || !e.allowed(support) || e.boxes >= allExchangeBoxes {
		return t, false, nil
	}
	p := e.problem.only(support)
	g := newGrid(p)
	for n := range support {
		g.root.Lower[n] = max(p.open[n].low, 1)
	}
	answer, err := leastsquares.SolveGrid(liquidGrid{g}, leastsquares.GridOptions{NodeLimit: exchangeBoxes})
	e.boxes += answer.Nodes + 1
	if err != nil || !answer.Found {
		return t, false, err
	}
	t = trial{support: support, k: make([]int, len(e.problem.open)), violation: answer.Violation, objective: answer.Objective}
	money := 0.0
	for n, j := range support {
		t.k[j] = answer.K[n]
		if e.cost != nil {
			money += e.cost[j] * float64(answer.K[n])
		}
	}
	return t, e.cost == nil || money <= e.room*(1+roundOff), nil
}

// improve takes the best exchange again and again; enough says when to stop.
func (e *exchange) improve(best trial, enough func(*trial) bool) (trial, error) {
	for !enough(&best) {
		now := best
		for place := range len(now.support) + 1 {
			for j := -1; j < len(e.problem.open); j++ {
				if slices.Contains(now.support, j) || j < 0 && place == len(now.support) {
					continue
				}
				set := slices.Clone(now.support)
				if place < len(set) {
					set = slices.Delete(set, place, place+1)
				}
				if j >= 0 {
					set = append(set, j)
				}
				slices.Sort(set)
				t, ok, err := e.try(set)
				if err != nil {
					return best, err
				}
				if ok && t.better(&best) {
					best = t
				}
			}
		}
		if !best.better(&now) {
			break
		}
	}
	return best, nil
}

// first is a set to start from: what must be in the drink, one of each group and,
// where that is none, whatever is best alone.
func (e *exchange) first() (best trial, found bool, err error) {
	set := slices.Clone(e.must)
	for _, g := range e.groups {
		if !slices.ContainsFunc(g.Columns, func(j int) bool { return slices.Contains(set, j) }) && len(g.Columns) > 0 {
			set = append(set, g.Columns[0])
		}
	}
	starts := [][]int{set}
	if len(set) == 0 {
		starts = nil
		for j := range e.problem.open {
			starts = append(starts, []int{j})
		}
	}
	for _, s := range starts {
		slices.Sort(s)
		t, ok, err := e.try(s)
		if err != nil {
			return best, found, err
		}
		if ok && (!found || t.better(&best)) {
			best, found = t, true
		}
	}
	return best, found, nil
}

// leastBroken looks for a set that keeps the hard limits of the question; where
// none is found it returns the steps that break them least and, of these, are as
// near as may be.
func (c *choice) leastBroken(p *problem) (k []int, broken bool, err error) {
	if len(p.limits)+len(p.ratios) == 0 {
		return nil, false, nil
	}
	e := &exchange{choice: c, problem: p}
	best, found, err := e.first()
	if err != nil || !found {
		return nil, false, err
	}
	best, err = e.improve(best, func(t *trial) bool { return t.violation == 0 })
	return best.k, best.violation > 0, err
}

// nearer exchanges ingredients of a drink for others, as far as the conditions
// allow.
func (c *choice) nearer(p *problem, from leastsquares.ChoiceAnswer) (leastsquares.ChoiceAnswer, error) {
	e := &exchange{choice: c, problem: p}
	start := trial{support: from.Support, k: from.K, objective: from.Objective}
	best, err := e.improve(start, func(t *trial) bool { return t.objective <= p.near() })
	if best.violation == 0 && best.objective < from.Objective {
		from.K, from.Support, from.Objective = best.k, best.support, best.objective
		from.Bound = min(from.Bound, best.objective)
	}
	return from, err
}

// leastBrokenAnswer answers with the ingredients of k, whose limits cannot be kept.
func (w *work) leastBrokenAnswer(c *choice, asked *problem, k []int) (*Answer, error) {
	narrow, amounts := w.narrowTo(asked, k)
	solving, best, err := narrow.leastBroken(amounts, boxesFor(len(narrow.open)))
	if err != nil {
		return nil, err
	}
	continuous, err := narrow.continuous([][]float64{steps(best.K)})
	if err != nil {
		return nil, err
	}
	w.continuous = &continuous
	w.choice = &Chosen{NotOffered: w.notOffered, AtMost: c.most, Count: c.count(support(k)), Offered: c.offered(), Nearest: best.Objective}
	return w.answer(solving, best.K, Solution{Least: best.Objective, KKT: continuous.KKT, Nodes: best.Nodes})
}
