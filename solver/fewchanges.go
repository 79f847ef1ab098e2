package solver

import (
	"iter"
	"math"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// rework is a drink that is to meet its aims with as few changed pours as can be.
// Each pour has an amount from before, which need not lie on its measure: a pour
// that stays keeps exactly that, one that changes takes a multiple of its measure.
type rework struct {
	*work
	// before is the amount of each pour of work.pours, in base units.
	before []float64
	// uncounted pours change without counting: what has just taken the place of
	// another is new to the hand in any amount.
	uncounted []bool
	// anyAmount are pours of which any amount is the same drink.
	anyAmount []bool
	// newState tells that a solid came in for a liquid, or the other way: the amount
	// that it starts from says nothing of how much it takes.
	newState bool
	// alone is what the change alone leaves unnoticed; nil where nothing but the
	// aims counts, as for a jug.
	alone *untouched
	// halfToDouble tells that the pours are those that near leaves.
	halfToDouble bool
	// loose are limits that no drink is refused for where none can keep them.
	loose []limit
	// quiet limits tastes that nobody aims at; no drink is refused for them where
	// none can keep them.
	quiet []limit
}

// reworked is the outcome of a rework.
type reworked struct {
	// amounts are those of the pours, in base units; changed tells which moved.
	amounts []float64
	changed []bool
	// moved counts the changed pours that count.
	moved int
	// size is the sum of the squared changes, each in steps of its pour's measure.
	size     float64
	solution Solution
	// alike is the set of the drinks that were chosen among; nil where the amounts
	// from before were the answer.
	alike *problem
	// asked is the question that the drink was found for: with the pours and limits
	// that it kept.
	asked *rework
}

// exactly is the F at which a drink counts as the one aimed at: round-off of
// targets written with six figures.
const exactly = 1e-6

// imperceptibly is the miss, in JND, up to which none is perceptible.
const imperceptibly = profile.Perceptible * (1 - 1e-9)

// fewChanges finds, in this order:
//
//  1. the least F, among the first of these sets that has a drink: those without
//     any perceptible miss; those that keep unnoticed what the change alone leaves
//     so, make no other miss larger and have no larger total miss; those that keep the strength so; all;
//     where hard limits cannot be kept, those that break them least. The first two
//     are first looked for with every pour between half and double of what it was;
//     Where the change alone goes unnoticed in all, or some miss stays perceptible
//     and the nearest drink is so little nearer that nobody could tell, no pour
//     moves (hardlyHelped);
//  2. among the drinks that no taster could tell from that one (unlikeness), and
//     whose misses are perceptible only where its own are, the fewest changed
//     pours;
//  3. of these the least change, the sum of squared changes in steps;
//  4. of equals the least F, then the order of names.
//
// The amounts from before are the answer where they are the drink aimed at.
func (r *rework) fewChanges() (*reworked, error) {
	if out := r.unchanged(); out != nil {
		return out, nil
	}
	best, err := r.leastMiss()
	if err != nil {
		return nil, err
	}
	q := best.among.alike(&best.values)
	out := &reworked{alike: q, asked: best.asked, solution: best.solution, amounts: best.amounts, changed: best.changed, size: math.Inf(1)}
	out.moved = r.count(best.changed)
	asWere, err := r.hardlyHelped(best)
	if err != nil {
		return nil, err
	}
	if asWere {
		out.amounts, out.changed = slices.Clone(r.before), make([]bool, len(r.pours))
		out.moved, out.size, out.solution.Objective = 0, 0, r.missOf(r.before)
		return out, nil
	}
	found, err := best.asked.fewest(q, out)
	if err != nil {
		return nil, err
	}
	if !found {
		out.size = r.sizeOf(out.amounts)
		out.solution.PreferenceProven = false
	}
	for i := range out.changed {
		out.changed[i] = out.changed[i] && out.amounts[i] != r.before[i]
	}
	out.moved = r.count(out.changed)
	return out, nil
}

// unchanged is the drink as it was, where that is the one aimed at.
func (r *rework) unchanged() *reworked {
	for i := range r.pours {
		if r.comesIn(i) {
			return nil
		}
	}
	p, err := r.changing(make([]bool, len(r.pours)))
	if err != nil {
		return nil
	}
	var v profile.Values
	d := p.drink(nil)
	d.Evaluate(p.wanted, &v, nil, nil)
	f := p.objective(&v)
	if f > exactly || p.violation(nil, &v) > 0 {
		return nil
	}
	return &reworked{
		asked: r, amounts: slices.Clone(r.before), changed: make([]bool, len(r.pours)),
		solution: Solution{Objective: f, Least: f, Proven: true, PreferenceProven: true},
	}
}

// comesIn tells whether a pour is wanted that there was none of: it changes in
// every drink.
func (r *rework) comesIn(i int) bool {
	return r.before[i] == 0 && !r.pours[i].fixed && !r.pours[i].optional
}

// changing is the problem with the given pours open and all others as before.
func (r *rework) changing(open []bool) (*problem, error) {
	w := *r.work
	w.pours = slices.Clone(r.pours)
	for i := range w.pours {
		if !open[i] {
			w.pours[i].fixed, w.pours[i].amount = true, r.before[i]
		}
	}
	w.problem = newProblem(r.ice, w.pours, r.problem.aims, r.problem.limits)
	w.problem.anyVolumeIsAlike = r.problem.anyVolumeIsAlike
	return w.problem, w.readRatios()
}

// amountsOf are the amounts of all pours with k steps of each open one.
func (r *rework) amountsOf(open []bool, k []int) []float64 {
	amounts := slices.Clone(r.before)
	n := 0
	for i := range amounts {
		if open[i] {
			amounts[i] = float64(k[n]) * r.pours[i].step
			n++
		}
	}
	return amounts
}

// sizeOf is the sum of the squared changes in steps.
func (r *rework) sizeOf(amounts []float64) float64 {
	sum := 0.0
	for i := range amounts {
		if d := (amounts[i] - r.before[i]) / r.pours[i].step; !r.pours[i].fixed {
			sum += d * d
		}
	}
	return sum
}

// count is how many counted pours changed.
func (r *rework) count(changed []bool) int {
	n := 0
	for i, c := range changed {
		if c && !r.uncounted[i] {
			n++
		}
	}
	return n
}

// nearestDrink is the drink with the least F.
type nearestDrink struct {
	amounts  []float64
	changed  []bool
	values   profile.Values
	among    *problem // its limits are those that were kept
	asked    *rework  // the question with the pours and limits that were kept
	solution Solution
}

// try is one of the sets of drinks that are looked through in turn.
type try struct {
	among  *rework
	limits []limit
	within []ball
	// clean tells that no miss is perceptible in any of them.
	clean bool
}

// tries are the sets of drinks in the order of fewChanges.
func (r *rework) tries() ([]try, error) {
	var out []try
	add := func(among *rework, clean bool, within []ball, limits ...[]limit) {
		all := slices.Concat(limits...)
		if clean {
			for i := range among.problem.aims {
				all = append(all, imperceptible(&among.problem.aims[i])...)
			}
		}
		if len(r.quiet) > 0 {
			out = append(out, try{among, slices.Concat(all, r.quiet), within, clean})
		}
		out = append(out, try{among, all, within, clean})
	}
	kept := r.with(slices.Concat(r.problem.limits, r.loose))
	if r.alone != nil {
		near, err := kept.near(false)
		if err != nil {
			return nil, err
		}
		seasoned, err := kept.near(r.alone.bitter)
		if err != nil {
			return nil, err
		}
		for _, pair := range [][2]*rework{{near, seasoned}, {kept, kept}} {
			clean, middle := pair[0], pair[1].with(slices.Concat(kept.problem.limits, r.alone.limits))
			add(clean, true, nil, clean.problem.limits)
			add(middle, false, []ball{r.alone.total}, middle.problem.limits)
		}
		if len(r.alone.strength) > 0 {
			strong := kept.with(slices.Concat(kept.problem.limits, r.alone.strength))
			add(strong, false, nil, strong.problem.limits)
		}
	} else {
		add(kept, true, nil, kept.problem.limits)
	}
	add(kept, false, nil, kept.problem.limits)
	if len(r.loose) > 0 {
		add(r, false, nil, r.problem.limits)
	}
	return out, nil
}

// leastMiss is the first step of fewChanges. Pours whose amount from before lies
// off the measure may keep it: each choice of those that do is searched.
func (r *rework) leastMiss() (*nearestDrink, error) {
	tries, err := r.tries()
	if err != nil {
		return nil, err
	}
	nodes := 0
	proven := true
	for _, t := range tries {
		best, err := t.among.leastWithin(t, (r.budget-nodes)/2)
		if err != nil {
			return nil, err
		}
		nodes += best.solution.Nodes
		if best.amounts == nil {
			proven = proven && best.solution.Proven
			continue
		}
		best.solution.Nodes = nodes
		best.solution.Proven = best.solution.Proven && proven
		best.solution.PreferenceProven = best.solution.Proven
		best.asked = t.among
		if !t.clean {
			r.keepImperceptible(best)
		}
		return best, nil
	}
	return r.leastBrokenMiss(nodes)
}

// imperceptible limits an aim to what nobody notices.
func imperceptible(a *aim) []limit {
	j, ok := a.property.JND()
	if !ok {
		return nil
	}
	low, high := j.At(j.Level(a.low)-imperceptibly), j.At(j.Level(a.high)+imperceptibly)
	return []limit{{property: a.property, low: low, high: high, scale: j.Size(a.high)}}
}

// keepImperceptible limits, among the drinks to choose from, every miss that is
// not perceptible in the best one to stay so.
func (r *rework) keepImperceptible(best *nearestDrink) {
	limits := slices.Clone(best.among.limits)
	for i := range r.problem.aims {
		for _, l := range imperceptible(&r.problem.aims[i]) {
			if l.broken(best.values[l.property]) == 0 {
				limits = append(limits, l)
			}
		}
	}
	best.among = best.among.with(best.among.aims, limits)
}

// offMeasure lists the pours that may change and whose amount from before is no
// amount that they could change to.
func (r *rework) offMeasure() []int {
	var off []int
	for i := range r.pours {
		if p := &r.pours[i]; !p.fixed && !r.comesIn(i) {
			if _, on := p.stepsOf(r.before[i]); !on {
				off = append(off, i)
			}
		}
	}
	return off
}

// stepsOf is how many steps an amount is, and whether it is a whole number of
// them that the pour may have.
func (p *pour) stepsOf(amount float64) (k int, on bool) {
	x := amount / p.step
	k = int(math.Round(x))
	on = math.Abs(x-float64(k)) <= roundOff && k <= p.high && (k >= p.low || p.optional && k == 0)
	return k, on
}

// openings are the choices of which pours may change: all that are not fixed, and
// without each set of those that are off their measure, which keep their amount.
func (r *rework) openings() iter.Seq[[]bool] {
	off := r.offMeasure()
	return func(yield func([]bool) bool) {
		for mask := range 1 << min(len(off), 30) {
			open := make([]bool, len(r.pours))
			for i := range open {
				open[i] = !r.pours[i].fixed
			}
			for n, i := range off {
				if mask>>n&1 != 0 {
					open[i] = false
				}
			}
			if !yield(open) {
				return
			}
		}
	}
}

// leastWithin is the drink of least F of a set, by at most so many boxes; its
// amounts are nil where there is none.
func (r *rework) leastWithin(t try, budget int) (*nearestDrink, error) {
	best := &nearestDrink{}
	best.solution.Proven = true
	least, bound := beyondTaste, math.Inf(1)
	for open := range r.openings() {
		if best.solution.Nodes >= budget {
			best.solution.Proven = false
			break
		}
		p, err := r.changing(open)
		if err != nil {
			return nil, err
		}
		q := p.with(p.aims, t.limits)
		q.within = t.within
		q.want()
		answer, err := q.search(newGrid(q), leastsquares.GridOptions{NodeLimit: budget - best.solution.Nodes, Incumbents: r.incumbents(q, open), Cutoff: least})
		if err != nil {
			return nil, err
		}
		best.solution.Nodes += answer.Nodes
		best.solution.Proven = best.solution.Proven && answer.Proven
		if answer.Found && answer.Violation == 0 {
			bound = min(bound, answer.Bound)
			if best.amounts == nil || answer.Objective < least-tolerated*(1+least) {
				least = max(answer.Objective, math.SmallestNonzeroFloat64)
				r.take(best, q, open, answer.K)
			}
		}
	}
	if best.amounts != nil {
		best.solution.Least, best.solution.Bound = best.solution.Objective, min(bound, best.solution.Objective)
	}
	return best, nil
}

// take makes the drink of k steps the best.
func (r *rework) take(best *nearestDrink, q *problem, open []bool, k []int) {
	best.amounts, best.changed, best.among = r.amountsOf(open, k), open, q
	d := q.drink(steps(k))
	d.Evaluate(profile.AllProperties, &best.values, nil, nil)
	best.solution.Objective = q.objective(&best.values)
}

// incumbents are where the search starts: the amounts from before, as near as
// the measures come to them, and the rounded optimum in real amounts.
func (r *rework) incumbents(q *problem, open []bool) [][]int {
	var start []int
	for i := range r.pours {
		if !open[i] {
			continue
		}
		p := &r.pours[i]
		least := p.low
		if p.optional {
			least = 0
		}
		k, _ := p.stepsOf(r.before[i])
		start = append(start, min(max(k, least), p.high))
	}
	if len(start) == 0 {
		return [][]int{start}
	}
	incumbents := [][]int{start}
	if s, err := q.continuous(append(q.starts(r.volume), steps(start))); err == nil {
		rounded := make([]int, len(start))
		for j := range rounded {
			rounded[j] = min(max(int(math.Round(s.X[j])), q.open[j].low), q.open[j].high)
			if q.open[j].optional && s.X[j] < float64(q.open[j].low)/2 {
				rounded[j] = 0
			}
		}
		incumbents = append(incumbents, rounded)
	}
	return incumbents
}

// search is SolveGrid, and the one drink there is where no pour is open.
func (p *problem) search(m leastsquares.GridModel, o leastsquares.GridOptions) (leastsquares.GridAnswer, error) {
	if len(p.open) == 0 {
		violation, objective := m.Evaluate(nil)
		found := violation == 0 && objective <= o.Cutoff
		return leastsquares.GridAnswer{Violation: violation, Objective: objective, Bound: objective, Proven: true, Nodes: 1, Found: found}, nil
	}
	for j := range p.open {
		least := 0
		if p.open[j].optional {
			least = p.open[j].low
		}
		o.Semicontinuous = append(o.Semicontinuous, least)
	}
	return leastsquares.SolveGrid(m, o)
}
