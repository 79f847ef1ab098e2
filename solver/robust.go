package solver

import (
	"math"

	"minim/solver/leastsquares"
)

// robustGrid presents the drinks that taste alike to the branch and bound, to be
// judged by how far their serves are apart: the mean squared distance of a serve
// from the drink meant, by first order, which is cheap and goes with the chance
// that a serve is noticeably off. Nothing is aimed at, so that the only bound of
// a box is 0 and the search looks at every drink that keeps the limits.
type robustGrid struct {
	*grid
	serves *serves
}

// Evaluate implements leastsquares.GridModel.
func (g *robustGrid) Evaluate(k []int) (violation, objective float64) {
	if violation, _ = g.grid.Evaluate(k); violation > 0 {
		return violation, 0
	}
	g.serves.lookAt(g.x)
	return 0, g.serves.meanSquare()
}

// mostRobust chooses, among the drinks that taste alike and have as few
// ingredients as the one chosen, that with the least mean squared distance
// between a serve and the drink meant. It takes the place of the one chosen only
// where the chance that its serves are noticeably off is lower by the full model.
func (w *work) mostRobust(chosen preferred) (preferred, error) {
	s := w.newServes()
	if s == nil || chosen.among == nil {
		return chosen, nil
	}
	s.lookAt(steps(chosen.k))
	chance, _ := s.chance(every)
	cutoff := s.meanSquare()
	counted := chosen.among.counted()
	robust := []int(nil)
	for subset := firstSubset(chosen.size); subset != nil; subset = nextSubset(subset, len(counted)) {
		if chosen.nodes > w.budget {
			chosen.proven = false
			break
		}
		g := &robustGrid{newGrid(chosen.among.with(nil, chosen.among.limits)), s}
		g.pourOnly(counted, subset)
		answer, err := leastsquares.SolveGrid(g, leastsquares.GridOptions{
			NodeLimit: w.budget / 10, Semicontinuous: g.Semicontinuous(), Incumbents: [][]int{chosen.k},
			Cutoff: max(cutoff, math.SmallestNonzeroFloat64),
		})
		if err != nil {
			return chosen, err
		}
		chosen.nodes += answer.Nodes
		chosen.proven = chosen.proven && answer.Proven
		if answer.Found && answer.Violation == 0 && answer.Objective < cutoff-tolerated*(1+cutoff) {
			robust, cutoff = answer.K, answer.Objective
		}
	}
	if robust == nil {
		return chosen, nil
	}
	s.lookAt(steps(robust))
	if lower, _ := s.chance(every); lower < chance {
		chosen.k = robust
	}
	return chosen, nil
}
