package solver

import (
	"minim/profile"
)

// tangents are the properties of a problem linearised at one drink.
type tangents struct {
	problem  *problem
	x        []float64
	values   profile.Values
	mix, top profile.Gradients
}

// tangents linearises what the room's limits need, and the properties wanted
// besides, at the drink of x.
func (r *room) tangents(wanted profile.PropertySet, x []float64) *tangents {
	t := &tangents{problem: r.problem, x: x}
	d := r.problem.drink(x)
	d.Evaluate(r.problem.wanted|wanted.With(profile.Volume), &t.values, &t.mix, &t.top)
	return t
}

// line is the tangent of a property: its slopes in one step of each open pour,
// and its value where all of them are none.
func (t *tangents) line(p profile.Property) (slope []float64, constant float64) {
	slope = make([]float64, len(t.x))
	constant = t.values[p]
	for j := range slope {
		gradient := &t.mix[p]
		if t.problem.open[j].stage == OnTop {
			gradient = &t.top[p]
		}
		slope[j] = dot(gradient, &t.problem.column[j])
		constant -= slope[j] * t.x[j]
	}
	return slope, constant
}

// numerator is the tangent of p V where p is an amount over the volume V, else
// that of p.
func (t *tangents) numerator(p profile.Property) (slope []float64, constant float64) {
	slope, constant = t.line(p)
	if !perVolume(p) {
		return slope, constant
	}
	volume, start := t.line(profile.Volume)
	value, size := t.values[p], t.values[profile.Volume]
	for j := range slope {
		slope[j] = size*slope[j] + value*volume[j]
	}
	return slope, size*constant + value*(start-size)
}

// above is the tangent of what a property exceeds an edge by, times the volume
// where it is an amount over that.
func (t *tangents) above(p profile.Property, edge float64) (slope []float64, constant float64) {
	slope, constant = t.numerator(p)
	if !perVolume(p) {
		return slope, constant - edge
	}
	volume, start := t.line(profile.Volume)
	for j := range slope {
		slope[j] -= edge * volume[j]
	}
	return slope, constant - edge*start
}
