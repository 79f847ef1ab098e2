package solver

import (
	"errors"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// Question is what Design and Report are asked.
type Question struct {
	Spec  *pantry.Spec
	Shelf *pantry.Shelf
	// Like is the drink whose profile is the target, besides Spec.Target; nil: none.
	Like *pantry.Spec
	// Robust asks, among drinks that taste alike and have as few ingredients, for
	// the one whose serves differ least, in the place of the one nearest to the
	// best.
	Robust bool
	// Alternatives is how many other sets of ingredients to look for.
	Alternatives int
	// Budget is how many boxes all searches of the question may look at; 0 means
	// DefaultBudget, or fewer, see boxesFor.
	Budget int
}

// DefaultBudget is how many boxes a question over few pours looks at before it
// gives up proof: a second or two on one core of a server.
const DefaultBudget = 120_000

// fewPours is up to how many open pours a box takes about the same time.
const fewPours = 12

// boxesFor is the budget of a question over so many open pours:
// DefaultBudget min(1, (fewPours/n)²), since relaxing a box solves a dense
// problem in n unknowns.
func boxesFor(pours int) int {
	if pours <= fewPours {
		return DefaultBudget
	}
	return DefaultBudget * fewPours * fewPours / (pours * pours)
}

// Errors of questions that cannot be worked on.
var (
	// ErrNoTarget is returned for open pours without anything to aim at.
	ErrNoTarget = errors.New("pours are open but nothing is aimed at; expected a target such as `abv: 18 %`")
	// ErrNoPours is returned for a spec without any ingredient.
	ErrNoPours = errors.New("no ingredient to pour; expected at least one under mix or top")
	// ErrNoLiquid is returned where all that could be poured is dry.
	ErrNoLiquid = errors.New("nothing liquid to pour; expected at least one liquid, such as water")
)

// Design finds the amounts of the open pours: the least F over what the bar can
// measure and, among the drinks that no taster could tell from that one, the
// one with the least untargeted salt, bitter and umami, the fewest ingredients,
// the nearest to the best (or, where Question.Robust asks for it, the one least
// often noticeably off), and the first by name.
//
// A hard limit that cannot be kept is no error: the answer names it in Broken.
// Errors are pantry.InputErrors, ErrNoTarget, ErrNoPours, ErrNoLiquid or
// ErrNoVolume.
//
// Open pours of a prep in the drink are found too, see SolvePreps. Of a prep the
// answer is the prep itself, against its own target.
func Design(q Question) (*Answer, error) {
	switch {
	case q.Spec.Makes != nil:
		return designPrep(q)
	case openPreps(q):
		out, err := SolvePreps([]Question{q})
		if err != nil {
			return nil, err
		}
		a := out.Drinks[0]
		a.noteStillOpen(q.Shelf)
		return a, nil
	case q.Spec.Choose != nil:
		return chooseKnown(q)
	}
	w, err := newWork(q)
	if err != nil {
		return nil, err
	}
	p := w.problem
	if len(p.open) == 0 {
		return w.answer(p, nil, Solution{Proven: true, PreferenceProven: true})
	}
	if len(p.aims)+len(p.limits) == 0 {
		return nil, ErrNoTarget
	}
	if !p.wanted.Has(profile.Volume) {
		p = p.with(p.aims, append(slices.Clone(p.limits), leastDrink))
		w.problem = p
	}

	continuous, err := p.continuous(p.starts(w.volume))
	if err != nil {
		return nil, err
	}
	best, err := p.onMeasures(continuous.X, w.budget*2/3)
	if err != nil {
		return nil, err
	}
	left := w.budget - best.Nodes
	solving := p
	if best.Violation > 0 {
		if solving, best, err = p.leastBroken(best.K, left*2/3); err != nil {
			return nil, err
		}
		left -= best.Nodes
	}
	chosen, err := solving.prefer(best.K, left)
	if err != nil {
		return nil, err
	}
	if q.Robust {
		if chosen, err = w.mostRobust(chosen); err != nil {
			return nil, err
		}
	}
	if again, err := p.continuous([][]float64{continuous.X, steps(best.K)}); err != nil {
		return nil, err
	} else if better(&again, &continuous) {
		continuous = again
	}
	w.continuous, w.chosen = &continuous, &chosen
	others, err := w.optionalAlternatives(continuous.X, chosen.k)
	if err != nil {
		return nil, err
	}
	w.others = others
	return w.answer(solving, chosen.k, Solution{
		Least: best.Objective, Bound: best.Bound, Proven: best.Proven, PreferenceProven: chosen.proven && best.Proven,
		KKT: continuous.KKT, Nodes: best.Nodes + chosen.nodes,
	})
}

// leastDrink keeps a question without a volume from being answered with an empty
// glass. Common practice, no source: a smaller drink is a sip.
var leastDrink = limit{
	property: profile.Volume, low: 30, high: math.Inf(1), scale: sizeAt(profile.Volume, 30), written: "volume at least 30 ml (a drink at all)",
}

// onMeasures is the branch and bound, started from the rounded continuous
// optimum.
func (p *problem) onMeasures(x []float64, budget int) (leastsquares.GridAnswer, error) {
	g := newGrid(p)
	start := make([]int, len(x))
	for j := range x {
		start[j] = min(max(int(math.Round(x[j])), g.root.Lower[j]), g.root.Upper[j])
		if start[j] > 0 && start[j] < p.open[j].low {
			start[j] = 0
		}
	}
	return leastsquares.SolveGrid(g, leastsquares.GridOptions{
		NodeLimit: budget, Semicontinuous: g.Semicontinuous(), Incumbents: [][]int{start},
	})
}

// leastBroken answers a problem whose limits cannot all be kept: first the
// least violation, then the least F with every broken limit moved to where that
// drink left it. Ratios are only moved where they cannot be kept by themselves.
func (p *problem) leastBroken(start []int, budget int) (*problem, leastsquares.GridAnswer, error) {
	aims := make([]aim, len(p.limits))
	for i, l := range p.limits {
		aims[i] = aim{property: l.property, low: l.low, high: l.high, scaleLow: l.scale, scaleHigh: l.scale, weight: 1}
	}
	least, err := p.with(aims, nil).onMeasures(steps(start), budget/2)
	if err != nil {
		return p, least, err
	}
	var values profile.Values
	d := p.drink(steps(least.K))
	d.Evaluate(profile.AllProperties, &values, nil, nil)
	moved := p.with(p.aims, nil)
	for _, l := range p.limits {
		if l.broken(values[l.property]) > 0 {
			l.low, l.high = min(l.low, values[l.property]), max(l.high, values[l.property])
		}
		moved.limits = append(moved.limits, l)
	}
	moved.ratios = nil
	for _, r := range p.ratios {
		if x := steps(least.K); r.broken(x) > 0 {
			r.low, r.high = min(r.low, r.quotient(x)), max(r.high, r.quotient(x))
		}
		moved.ratios = append(moved.ratios, r)
	}
	moved.want()
	answer, err := moved.onMeasures(steps(least.K), budget-least.Nodes)
	answer.Nodes += least.Nodes
	answer.Proven = answer.Proven && least.Proven
	return moved, answer, err
}
