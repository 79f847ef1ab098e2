package solver

import (
	"cmp"
	"math"
	"slices"
)

// lightest is the least weight of a stop that is worth a word, as a part of the
// weightiest.
const lightest = 1e-3

// stops lists the bounds that hold a property at its end, with what a unit more
// room is worth. They are weighed by a step of the pour, and one JND (or the scale
// of the limit) of a property.
func (w *work) stops(one *span, e *extreme) []Stop {
	var list []Stop
	add := func(s Stop, multiplier, step float64) {
		s.Price = math.Abs(multiplier) * e.slope
		s.weight = s.Price * step
		list = append(list, s)
	}
	p, solution := e.within.problem, &e.solution
	for j := range p.open {
		o := &p.open[j]
		if e.within.lower[j] == e.within.upper[j] && o.least < o.most {
			continue // left out to see whether that goes further
		}
		unit := "ml"
		if o.ingredient.Solid {
			unit = "g"
		}
		for _, side := range []struct {
			kind        string
			multipliers []float64
		}{{"least", solution.LowerMultiplier}, {"most", solution.UpperMultiplier}} {
			stop := Stop{Kind: side.kind, Name: o.written.Name, Amount: w.amountOf(o, e.x[j]), Bound: e.x[j] * o.step, Unit: unit}
			add(stop, side.multipliers[j]/o.step, o.step)
		}
	}
	hard := len(w.problem.limits)
	for i := range p.limits {
		l := &p.limits[i]
		stop := Stop{Kind: "limit", Name: l.written, Unit: l.property.Unit(), Bound: l.high}
		if i >= hard {
			stop.Kind = "held"
		}
		if solution.LimitMultiplier[i] < 0 {
			stop.Bound = l.low
		}
		add(stop, solution.LimitMultiplier[i], l.scale)
	}
	row := 0
	for i := range p.ratios {
		r := &p.ratios[i]
		for _, edge := range []float64{r.high, r.low} {
			if !math.IsInf(edge, 0) {
				add(Stop{Kind: "ratio", Name: r.written, Bound: edge, Unit: "ml or g"}, solution.InequalityMultiplier[row], ratioScale)
				row++
			}
		}
	}
	most := 0.0
	for i := range list {
		most = max(most, list[i].weight)
	}
	list = slices.DeleteFunc(list, func(s Stop) bool { return !(s.weight > lightest*most) })
	slices.SortStableFunc(list, func(a, b Stop) int { return cmp.Compare(b.weight, a.weight) })
	return list
}
