package solver

import (
	"math"

	"minim/solver/leastsquares"
)

// leastBrokenMiss is the drink of least F among those that break the hard limits
// least.
func (r *rework) leastBrokenMiss(nodes int) (*nearestDrink, error) {
	best := &nearestDrink{asked: r}
	proven, budget := true, r.budget/2
	least := math.Inf(1)
	for open := range r.openings() {
		if budget <= 0 && best.amounts != nil {
			proven = false
			break
		}
		p, err := r.changing(open)
		if err != nil {
			return nil, err
		}
		moved, answer := p.asBroken(), leastsquares.GridAnswer{Proven: true, Nodes: 1}
		if len(p.open) > 0 {
			if moved, answer, err = p.leastBroken(r.incumbents(p, open)[0], budget); err != nil {
				return nil, err
			}
		}
		nodes, budget = nodes+answer.Nodes, budget-answer.Nodes
		proven = proven && answer.Proven
		one := &nearestDrink{asked: r}
		r.take(one, moved, open, answer.K)
		broken := p.violation(steps(answer.K), &one.values)
		if even := math.Abs(broken-least) <= tolerated*(1+broken); even && one.solution.Objective < best.solution.Objective || !even && broken < least {
			least, best = broken, one
			best.solution.Least, best.solution.Bound = one.solution.Objective, one.solution.Objective
			if len(p.open) > 0 {
				best.solution.Least, best.solution.Bound = answer.Objective, answer.Bound
			}
		}
	}
	best.solution.Proven, best.solution.PreferenceProven, best.solution.Nodes = proven, proven, nodes
	r.keepImperceptible(best)
	return best, nil
}

// asBroken is the problem without the limits and ratios, which its one drink
// breaks as it does.
func (p *problem) asBroken() *problem {
	out := p.with(p.aims, nil)
	out.ratios = nil
	return out
}
