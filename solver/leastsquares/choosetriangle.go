package leastsquares

import "math"

// triangleNodes is how many values the triangle search may try before boxes
// take over; they cope better with targets far outside the box.
const triangleNodes = 5000

// triangle is the search for integer points near a target in the triangle of
// a support's columns.
type triangle struct {
	n            int
	r            [mostChoiceRows][mostChoiceRows]float64
	z            [mostChoiceRows]float64
	order        [mostChoiceRows]int // place in the support of each level
	lower, upper [mostChoiceRows]float64
	x            [mostChoiceRows]float64
	rest         float64 // what no coefficient can change
	nodes        int
	columns      orthogonal
}

// fill factors the support. It reports false when its columns depend on each
// other: then some level would have no bound. The weakest column that is left
// comes first, so that strong ones are fixed first.
func (t *triangle) fill(w *choiceWorker) bool {
	s := w.chooser
	n := len(w.support)
	if n > s.rows {
		return false
	}
	t.n = n
	var left [mostChoiceRows][mostChoiceRows]float64
	var taken [mostChoiceRows]bool
	for c, j := range w.support {
		copy(left[c][:], s.columnOf(j))
	}
	t.columns.reset(s.rows)
	for level := range n {
		weakest, least := -1, math.Inf(1)
		for c := range n {
			if taken[c] {
				continue
			}
			if size := norm(left[c][level:s.rows]); size < least {
				weakest, least = c, size
			}
		}
		j := w.support[weakest]
		taken[weakest] = true
		t.order[level] = weakest
		copy(t.columns.next(), s.columnOf(j))
		if s.vanishes(j, least) || !t.columns.push(dependentChoice) {
			return false
		}
		t.lower[level], t.upper[level] = w.relaxed.Lower[weakest], w.relaxed.Upper[weakest]
		if t.lower[level] > t.upper[level] {
			// Nothing is within the limit; a box of no points finds that out.
			return true
		}
		v, beta := t.columns.column(level)[level:], t.columns.beta[level]
		for c := range n {
			if !taken[c] {
				x := left[c][level:s.rows]
				addScaled(x, -beta*dot(v, x), v)
			}
		}
		copy(t.r[level][:level], t.columns.column(level)[:level])
	}
	var b [mostChoiceRows]float64
	copy(b[:], s.p.B)
	t.columns.transpose(b[:s.rows])
	copy(t.z[:n], b[:n])
	t.rest = dot(b[n:s.rows], b[n:s.rows])
	return true
}

// shrink narrows the box to the one around the ellipsoid of the points within
// the limit: x_i lies within sqrt(room (AᵀA)⁻¹_ii) of the least squares. It
// reports false when the ellipsoid is empty.
func (t *triangle) shrink(w *choiceWorker) bool {
	room := w.limit(0) - t.rest
	if !(room >= 0) {
		return false
	}
	if math.IsInf(room, 1) {
		return true
	}
	var inverse [mostChoiceRows][mostChoiceRows]float64 // of R, by rows
	for i := t.n - 1; i >= 0; i-- {
		by := 1 / t.columns.diagonal[i]
		inverse[i][i] = by
		for k := i + 1; k < t.n; k++ {
			sum := 0.0
			for l := i + 1; l <= k; l++ {
				sum += t.r[l][i] * inverse[l][k]
			}
			inverse[i][k] = -by * sum
		}
	}
	for i := range t.n {
		row := inverse[i][i:t.n]
		x := dot(row, t.z[i:t.n])
		reach := math.Sqrt(room * dot(row, row))
		reach += 1e-9 * (1 + math.Abs(x) + reach)
		c := t.order[i]
		w.relaxed.Lower[c] = max(w.relaxed.Lower[c], math.Ceil(x-reach))
		w.relaxed.Upper[c] = min(w.relaxed.Upper[c], math.Floor(x+reach))
		if w.relaxed.Lower[c] > w.relaxed.Upper[c] {
			return false
		}
	}
	return true
}

// search offers every point within the limit to w. It reports false when it
// gave up.
func (t *triangle) search(w *choiceWorker) bool {
	for level := range t.n {
		if t.lower[level] > t.upper[level] {
			return true
		}
	}
	t.nodes = 0
	t.descend(w, t.n-1, t.rest)
	w.work += t.nodes
	return t.nodes <= triangleNodes
}

// descend fixes the variable of a level, nearest values first, given what the
// levels above add to the residual.
func (t *triangle) descend(w *choiceWorker, level int, sum float64) {
	if level < 0 {
		for l, c := range t.order[:t.n] {
			w.steps[c] = int(t.x[l])
		}
		w.offer(w.support, w.steps)
		return
	}
	center := t.z[level]
	for l := level + 1; l < t.n; l++ {
		center -= t.r[l][level] * t.x[l]
	}
	diagonal := t.columns.diagonal[level]
	center /= diagonal
	lower, upper := t.lower[level], t.upper[level]
	below := min(max(math.Floor(center), lower-1), upper)
	above := below + 1
	for t.nodes <= triangleNodes {
		var x float64
		switch {
		case below >= lower && (above > upper || center-below <= above-center):
			x = below
			below--
		case above <= upper:
			x = above
			above++
		default:
			return
		}
		t.nodes++
		next := sum + (x-center)*(x-center)*diagonal*diagonal
		if next > w.limit(0) {
			return
		}
		t.x[level] = x
		t.descend(w, level-1, next)
	}
}
