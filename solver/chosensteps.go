package solver

import (
	"math"
	"sync"

	"minim/profile"
	"minim/solver/leastsquares"
)

// leastLiquid is the least ethanol and water, in grams per ml, of what is called a
// drink where ingredients are chosen: syrups and pastes hold less.
const leastLiquid = 0.7

// only returns the problem with none of the open pours but those listed.
func (p *problem) only(columns []int) *problem {
	q := new(problem)
	p.pick(columns, q)
	return q
}

// pick makes q the problem with none of the open pours but those listed, in q's
// own storage.
func (p *problem) pick(columns []int, q *problem) {
	open, column := q.open[:0], q.column[:0]
	*q = *p
	q.open, q.column, q.ratios = open, column, nil
	for _, j := range columns {
		q.open, q.column = append(q.open, p.open[j]), append(q.column, p.column[j])
	}
	for _, r := range p.ratios {
		numerator, denominator := r.numerator, r.denominator
		r.numerator, r.denominator = make([]float64, len(columns)), make([]float64, len(columns))
		for n, j := range columns {
			r.numerator[n], r.denominator[n] = numerator[j], denominator[j]
		}
		q.ratios = append(q.ratios, r)
	}
}

// spareGrids are grids whose storage serves one set of pours after the other.
var spareGrids = sync.Pool{New: func() any { return emptyGrid(new(problem)) }}

// resizedTo returns s with n zeros in it.
func resizedTo(s []float64, n int) []float64 {
	s = append(s[:0], make([]float64, n)...)
	return s
}

// liquidGrid is the grid of drinks that are liquid enough to be called one.
type liquidGrid struct{ *grid }

// Evaluate implements leastsquares.GridModel.
func (g liquidGrid) Evaluate(k []int) (violation, objective float64) {
	for j := range k {
		g.x[j] = float64(k[j])
	}
	d := g.drink(g.x)
	d.Evaluate(g.wanted.With(profile.Volume).With(profile.Dilution), &g.values, nil, nil)
	melt := g.values[profile.Dilution] / 100 * float64(d.Mix.Volume()) / profile.MeltMillilitresPerGram
	liquid := melt + d.Mix[profile.EthanolGrams] + d.Mix[profile.WaterGrams] + d.Top[profile.EthanolGrams] + d.Top[profile.WaterGrams]
	violation = g.violation(g.x, &g.values)
	if short := leastLiquid*g.values[profile.Volume] - liquid; short > 0 {
		violation += short
	}
	return violation, g.objective(&g.values)
}

// chosenObjective is the full model of a candidate; ok is false where it breaks
// a limit or is too thick to be a drink.
func (p *problem) chosenObjective(support, k []int) (objective float64, ok bool) {
	g := spareGrids.Get().(*grid)
	defer spareGrids.Put(g)
	p.pick(support, g.problem)
	g.x = resizedTo(g.x, len(support))
	violation, objective := liquidGrid{g}.Evaluate(k)
	return objective, violation == 0
}

// chosenSteps searches the steps of a set of pours by the bounds of the full
// model: see leastsquares.ChoiceProblem.Decode.
func (p *problem) chosenSteps(support, least, upper []int, cutoff float64, limit int) (k []int, objective, bound float64, boxes int) {
	g := spareGrids.Get().(*grid)
	defer spareGrids.Put(g)
	p.pick(support, g.problem)
	g.root.Lower, g.root.Upper = append(g.root.Lower[:0], least...), append(g.root.Upper[:0], upper...)
	g.prepare()
	answer, err := leastsquares.SolveGrid(liquidGrid{g}, leastsquares.GridOptions{NodeLimit: limit, Cutoff: cutoff, Sparing: true, Workspace: g.space})
	if err != nil {
		panic("solver: " + err.Error())
	}
	bound = answer.Bound
	if answer.Proven {
		bound = math.Inf(1)
	}
	if !answer.Found || answer.Violation > 0 {
		return nil, math.Inf(1), bound, answer.Nodes
	}
	return answer.K, answer.Objective, bound, answer.Nodes
}

// highest is the most steps of a pour that any drink with F at most cutoff can
// hold: no other pour takes anything away, so that it alone must not exceed the
// volume nor what is left of any taste that is aimed at or limited.
func (p *problem) highest(j int, cutoff float64) int {
	high := float64(p.open[j].high)
	_, volume := p.between(profile.Volume, cutoff)
	for property := range profile.Property(profile.Properties) {
		weights, perVolume, ok := property.Linear()
		if !ok || !perVolume {
			continue
		}
		_, most := p.between(property, cutoff)
		if each := dot(&weights, &p.column[j]); each > 0 && !math.IsInf(most, 1) {
			high = min(high, most*volume/each)
		}
	}
	return int(math.Floor(high + roundOff))
}

// between is where a property of a drink with F at most cutoff can lie: around
// its aim or, without one, within its limits.
func (p *problem) between(property profile.Property, cutoff float64) (low, high float64) {
	for i := range p.aims {
		if a := &p.aims[i]; a.property == property && !a.onLevels {
			room := math.Sqrt(cutoff / a.weight)
			return max(0, a.low-a.scaleLow*room), a.high + a.scaleHigh*room
		}
	}
	high = math.Inf(1)
	for i := range p.limits {
		if l := &p.limits[i]; l.property == property {
			low, high = max(low, l.low), min(high, l.high)
		}
	}
	return low, high
}
