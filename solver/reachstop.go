package solver

import (
	"cmp"
	"math"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// lightest is the least weight of a stop that is worth a word, as a part of the
// weightiest.
const lightest = 1e-3

// atBound is how near to a bound an end counts as stopped by it: a part of a step
// and of the scale of a limit.
const atBound = 1e-6

// wall is a bound that an end stands at: moving by a step of each pour uses up
// normal of its room.
type wall struct {
	stop   Stop
	normal []float64
	// step weighs a unit of its room, perUnit counts units in one of the normal's.
	step, perUnit float64
}

// stops lists the bounds that hold a property at its end, with what a unit more
// room is worth, and the residual of the optimality conditions.
//
// At an end the slopes g of the property, outwards, are Σ λ_i a_i with a_i the
// normals of the bounds that it stands at and λ_i >= 0 (Karush, Kuhn and Tucker):
// λ_i is what a unit of room at bound i is worth. The λ are found by least
// squares, each row multiplied by the room of its pour; the residual is the
// largest row of what is left, which is what moving one pour over all of its room
// would still bring by first order, over 1 plus the size of the end.
func (w *work) stops(one *span, sign float64, e *extreme) ([]Stop, float64) {
	t := e.within.tangents(profile.PropertySet(0).With(one.property), e.x)
	walls := w.walls(e, t)
	slope, _ := t.line(one.property)
	n := len(slope)
	q := leastsquares.Problem{
		A: leastsquares.NewMatrix(n, len(walls)), B: make([]float64, n), Lower: make([]float64, len(walls)),
	}
	for j := range slope {
		room := max(e.within.upper[j]-e.within.lower[j], 1)
		q.B[j] = sign * slope[j] * room
		for i := range walls {
			q.A.Set(j, i, walls[i].normal[j]*room)
		}
	}
	left, worth := q.B, make([]float64, len(walls))
	if s, err := leastsquares.Solve(q); err == nil {
		left, worth = s.Residual, s.X
	}
	residual := 0.0
	for _, v := range left {
		residual = max(residual, math.Abs(v)/(1+math.Abs(e.value)))
	}
	var list []Stop
	most := 0.0
	for i := range walls {
		s := walls[i].stop
		s.Price = worth[i] * walls[i].perUnit
		s.weight = s.Price * walls[i].step
		most = max(most, s.weight)
		list = append(list, s)
	}
	list = slices.DeleteFunc(list, func(s Stop) bool { return !(s.weight > lightest*most && s.weight > residual) })
	slices.SortStableFunc(list, func(a, b Stop) int { return cmp.Compare(b.weight, a.weight) })
	return list, residual
}

// walls are the bounds that an end stands at, in the order of pours, limits and
// ratios. A pour of none that may only be none or at least so much stands at its
// most too. They are weighed by a step of the pour, and one JND (or the scale of the
// limit) of a property.
func (w *work) walls(e *extreme, t *tangents) []wall {
	var list []wall
	p := e.within.problem
	for j := range p.open {
		o := &p.open[j]
		unit := "ml"
		if o.ingredient.Solid {
			unit = "g"
		}
		for _, side := range []struct {
			kind       string
			edge, sign float64
		}{{"least", e.within.lower[j], -1}, {"most", e.within.upper[j], 1}} {
			if math.Abs(e.x[j]-side.edge) > atBound {
				continue
			}
			stop := Stop{Kind: side.kind, Name: o.written.Name, Amount: w.amountOf(o, e.x[j]), Bound: e.x[j] * o.step, Unit: unit}
			normal := make([]float64, len(e.x))
			normal[j] = side.sign
			list = append(list, wall{stop, normal, o.step, 1 / o.step})
		}
	}
	hard := len(w.problem.limits)
	for i := range p.limits {
		l := &p.limits[i]
		for _, side := range []struct{ edge, sign float64 }{{l.low, -1}, {l.high, 1}} {
			if !(math.Abs(t.values[l.property]-side.edge) <= atBound*l.scale) {
				continue
			}
			stop := Stop{Kind: "limit", Name: l.written, Bound: side.edge, Unit: l.property.Unit()}
			if i >= hard {
				stop.Kind = "held"
			}
			normal, _ := t.line(l.property)
			for j := range normal {
				normal[j] *= side.sign
			}
			list = append(list, wall{stop, normal, l.scale, 1})
		}
	}
	return append(list, ratioWalls(p, e.x)...)
}

// ratioWalls are the ratios that a drink of x stands at.
func ratioWalls(p *problem, x []float64) []wall {
	rows, right := p.ratioRows()
	var list []wall
	row := 0
	for i := range p.ratios {
		r := &p.ratios[i]
		for _, edge := range []float64{r.high, r.low} {
			if math.IsInf(edge, 0) {
				continue
			}
			normal := rows.Row(row)
			if math.Abs(dotOf(normal, x)-right[row]) <= atBound {
				stop := Stop{Kind: "ratio", Name: r.written, Bound: edge, Unit: "ml or g"}
				list = append(list, wall{stop, normal, ratioScale, 1})
			}
			row++
		}
	}
	return list
}

// dotOf is the sum of the products of two lists.
func dotOf(a, b []float64) float64 {
	sum := 0.0
	for j := range a {
		sum += a[j] * b[j]
	}
	return sum
}
