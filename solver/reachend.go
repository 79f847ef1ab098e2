package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// extreme is the end of one property in a room; found is false where the room
// holds no drink.
type extreme struct {
	found bool
	x     []float64
	value float64
	// within is the room with the bounds that stop it.
	within *room
}

// beyond tells whether value a lies further than b along sign, by more than
// round-off.
func beyond(a, b, sign float64) bool {
	return sign*(a-b) > endRoundOff*(1+math.Abs(b))
}

// endRoundOff is how much further an end has to be to count, relative to 1 plus
// its size: the tolerance of limits leaves as much play.
const endRoundOff = 1e-7

// furthest is the end of a property along sign, -1 for the least and 1 for the
// greatest, from several starts. A pour that is none or at least so much, and
// comes out between, is tried both ways.
func (r *room) furthest(p profile.Property, sign float64, starts [][]float64) (extreme, error) {
	var best extreme
	var tried [][]float64
	for _, start := range starts {
		x := start
		for range tangentRounds {
			next, ok := r.vertex(p, sign, x)
			if !ok {
				break
			}
			x = next
		}
		if known(tried, x) {
			continue
		}
		tried = append(tried, x)
		e, err := r.push(p, sign, x)
		if err != nil {
			return best, err
		}
		if e.found && (!best.found || beyond(e.value, best.value, sign)) {
			best = e
		}
	}
	if !best.found {
		return best, nil
	}
	j := r.split(best.x)
	if j < 0 {
		return best, nil
	}
	var settled extreme
	for _, branch := range []*room{r.bounded(j, 0, 0), r.bounded(j, r.none[j], r.upper[j])} {
		e, err := branch.furthest(p, sign, append(starts, best.x))
		if err != nil {
			return settled, err
		}
		if e.found && (!settled.found || beyond(e.value, settled.value, sign)) {
			settled = e
		}
	}
	return settled, nil
}

// tangentRounds is how often a property is linearised anew where the program of
// the last linearisation ended, before the full model takes over.
const tangentRounds = 3

// known tells whether x is among the points, to round-off.
func known(points [][]float64, x []float64) bool {
	for _, point := range points {
		same := true
		for j := range x {
			same = same && math.Abs(point[j]-x[j]) <= roundOff*(1+math.Abs(x[j]))
		}
		if same {
			return true
		}
	}
	return false
}

// push moves a property as far along sign as the full model allows near a start:
// it aims at a value t out of reach, since among drinks on this side of t that
// with the least ((p - t)/s)² is the one with the furthest p. With multiplier μ
// of that square, a unit of room moves p by μ s²/(2 |t - p|).
func (r *room) push(p profile.Property, sign float64, start []float64) (extreme, error) {
	v := r.values(start, profile.PropertySet(0).With(p))
	scale := sizeAt(p, v[p])
	ahead := scale
	e := extreme{x: start, within: r}
	t := v[p] + sign*ahead
	for range mostPushes {
		s, err := r.solve([]aim{{property: p, low: t, high: t, scaleLow: scale, scaleHigh: scale, weight: 1}}, e.x)
		if err != nil || s.Violation > brokenByMore {
			return e, err
		}
		e.x, e.value, e.found = s.X, s.Value[0], true
		short := sign * (t - e.value)
		if short >= scale/2 {
			break
		}
		if short < scale/4 {
			ahead *= 4
		}
		t = e.value + sign*ahead
	}
	return e, nil
}

// mostPushes bounds how often the value aimed at is moved further: by four each
// time, so that any number is passed.
const mostPushes = 60

// perVolume tells whether a property is an amount over the volume.
func perVolume(p profile.Property) bool {
	switch p {
	case profile.Strength, profile.Sugar, profile.Sweetness, profile.Acid, profile.Salt, profile.Bitter, profile.Umami, profile.CarbonDioxide:
		return true
	}
	return false
}

// vertex is the drink at which a property, linearised at the drink of x, is
// furthest along sign. With V' the tangent of the volume, a property that is an
// amount over the volume is N'/V', N' the tangent of p V; any other is its own
// tangent. Limits are p <= h, so N' - h V' <= 0. False where the linearised room
// is empty.
func (r *room) vertex(p profile.Property, sign float64, x []float64) ([]float64, bool) {
	t := r.tangents(profile.PropertySet(0).With(p), x)
	n := len(x)
	q := leastsquares.FractionalProblem{C: make([]float64, n), D: make([]float64, n), D0: 1, Lower: r.lower, Upper: r.upper}
	numerator, constant := t.numerator(p)
	for j, c := range numerator {
		q.C[j] = -sign * c
	}
	q.C0 = -sign * constant
	if perVolume(p) {
		q.D, q.D0 = t.line(profile.Volume)
	}
	ratios, right := r.problem.ratioRows()
	rows := make([]float64, 0, 2*len(r.problem.limits)*n)
	if ratios != nil {
		rows = append(rows, ratios.Data...)
	}
	for i := range r.problem.limits {
		l := &r.problem.limits[i]
		for _, side := range []struct{ edge, sign float64 }{{l.high, 1}, {l.low, -1}} {
			if math.IsInf(side.edge, 0) {
				continue
			}
			row, rest := t.above(l.property, side.edge)
			for _, c := range row {
				rows = append(rows, side.sign*c)
			}
			right = append(right, -side.sign*rest)
		}
	}
	if len(right) > 0 {
		q.G, q.H = &leastsquares.Matrix{Rows: len(right), Cols: n, Data: rows}, right
	}
	s, err := leastsquares.SolveFractional(q)
	if err != nil || s.Status != leastsquares.Optimal {
		return nil, false
	}
	return s.X, true
}
