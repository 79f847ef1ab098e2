package leastsquares

import "math"

const (
	// parallelPair: where 1 - g^2 is below this the two columns count as one,
	// and what the angle between them could still do is added to the limit.
	parallelPair = 1e-6
	// narrowRows is how many reduced rows the fast loop over pairs holds.
	narrowRows = 4
)

// choicePairs holds the reduced columns of a node's candidates by place.
type choicePairs struct {
	column       []int
	unit         [][narrowRows]float64
	wide         [][mostChoiceRows]float64
	norm, height []float64 // h = unit.target
	inverse      []float64 // 1 / norm
	lower, upper []float64
	covers       []uint64
	group        []uint64
	dependent    []bool
	path         [][mostChoiceRows]float64 // a_j = W R_j, when hasPath
	hasPath      []bool
	firsts       int // only these places may come first in a pair
}

func (c *choicePairs) resize(n int) {
	c.column = resized(c.column, n)
	c.unit = resized(c.unit, n)
	c.wide = resized(c.wide, n)
	c.norm, c.height = resized(c.norm, n), resized(c.height, n)
	c.inverse = resized(c.inverse, n)
	c.lower, c.upper = resized(c.lower, n), resized(c.upper, n)
	c.covers, c.group = resized(c.covers, n), resized(c.group, n)
	c.dependent = resized(c.dependent, n)
	c.path, c.hasPath = resized(c.path, n), resized(c.hasPath, n)
}

// fill places the candidates, those that meet the rarest unmet need first,
// and returns the largest of what dependent ones could do beyond the span.
func (w *choiceWorker) fill(n *choiceNode, uncovered uint64) (loose float64) {
	c, s, d := &w.pairs, w.chooser, &w.reduction
	c.resize(len(n.candidates))
	need := uint64(0)
	if uncovered != 0 {
		need = s.rarest(n.candidates, uncovered)
	}
	first, last := 0, len(n.candidates)
	for _, j := range n.candidates {
		place := first
		if need == 0 || s.covers[j]&need != 0 {
			first++
		} else {
			last--
			place = last
		}
		c.column[place] = j
	}
	c.firsts = first
	rows := d.rows - d.rank()
	target := d.target[d.rank()]
	for i, j := range c.column {
		x := d.columnOf(j)
		sum := 0.0
		for _, v := range x {
			sum += v * v
		}
		size := math.Sqrt(sum)
		c.covers[i], c.group[i] = s.covers[j], s.group[j]
		c.lower[i], c.upper[i] = float64(s.least[j]), float64(s.upper[j])
		c.hasPath[i] = false
		c.dependent[i] = s.vanishes(j, size)
		c.norm[i], c.height[i] = size, 0
		by := 0.0
		if c.dependent[i] {
			loose = max(loose, float64(s.upper[j])*(size+1e-15*s.size[j]))
		} else {
			by = 1 / size
		}
		c.inverse[i] = by
		if rows <= narrowRows {
			u := &c.unit[i]
			*u = [narrowRows]float64{}
			for k, v := range x {
				u[k] = v * by
				c.height[i] += u[k] * target[k]
			}
			continue
		}
		u := &c.wide[i]
		*u = [mostChoiceRows]float64{}
		for k, v := range x {
			u[k] = v * by
			c.height[i] += u[k] * target[k]
		}
	}
	return loose
}

// leaf tries the supports of a node that takes at most two more columns.
func (w *choiceWorker) leaf(n *choiceNode) {
	w.work++
	w.nodes++
	d := &w.reduction
	target := d.target[d.rank()]
	square := dot(target, target)
	uncovered := w.required &^ n.covered
	w.inverse.ready = false
	if uncovered == 0 && square <= w.limit(d.lost) {
		w.decode(n.path, -1, -1)
	}
	if n.left == 0 {
		return
	}
	loose := d.lost + 2*w.fill(n, uncovered)
	c := &w.pairs
	limit := w.limit(loose)
	for p := range c.firsts {
		rest := square - c.height[p]*c.height[p]
		need := uncovered &^ c.covers[p]
		if need == 0 && rest <= limit && w.singleMayFit(p, rest, limit) {
			w.decode(n.path, c.column[p], -1)
			limit = w.limit(loose)
		}
		if n.left < 2 {
			continue
		}
		w.work += len(c.column) - p - 1
		w.pairCount += len(c.column) - p - 1
		for q := p + 1; ; q++ {
			var g float64
			// Rounding may take g beyond 1; below the limit that must not count.
			excess := max(rest-limit, 0)
			if d.rows-d.rank() <= narrowRows {
				q, g = w.narrow(p, q, need, excess)
			} else {
				q, g = w.broad(p, q, need, excess)
			}
			if q < 0 {
				break
			}
			if w.pairMayFit(p, q, g, square, limit, loose) {
				w.decode(n.path, c.column[p], c.column[q])
				limit = w.limit(loose)
			}
		}
	}
}

// narrow returns the first place from q on that with p may come within the
// limit, and the cosine g between them, or -1. excess is what ||r||^2 - h_p^2
// exceeds the limit by, or 0.
func (w *choiceWorker) narrow(p, q int, need uint64, excess float64) (int, float64) {
	c := &w.pairs
	u := c.unit[p]
	hp, group := c.height[p], c.group[p]
	n := len(c.unit)
	units, heights, covers, groups := c.unit[:n], c.height[:n], c.covers[:n], c.group[:n]
	if group == 0 {
		for ; q < n; q++ {
			if need&^covers[q] != 0 {
				continue
			}
			v := &units[q]
			g := u[0]*v[0] + u[1]*v[1] + u[2]*v[2] + u[3]*v[3]
			h := heights[q] - g*hp
			if h*h < excess*(1-g*g) {
				continue
			}
			return q, g
		}
		return -1, 0
	}
	for ; q < n; q++ {
		if need&^covers[q] != 0 || groups[q]&group != 0 {
			continue
		}
		v := &units[q]
		g := u[0]*v[0] + u[1]*v[1] + u[2]*v[2] + u[3]*v[3]
		h := heights[q] - g*hp
		if h*h < excess*(1-g*g) {
			continue
		}
		return q, g
	}
	return -1, 0
}

// broad is narrow for more rows.
func (w *choiceWorker) broad(p, q int, need uint64, excess float64) (int, float64) {
	c := &w.pairs
	u := &c.wide[p]
	for ; q < len(c.wide); q++ {
		if need&^c.covers[q] != 0 || c.group[q]&c.group[p] != 0 {
			continue
		}
		g := 0.0
		for k, v := range &c.wide[q] {
			g += u[k] * v
		}
		h := c.height[q] - g*c.height[p]
		if h*h < excess*(1-g*g) {
			continue
		}
		return q, g
	}
	return -1, 0
}

// singleMayFit tests the integer nearest to the coefficient of one column.
func (w *choiceWorker) singleMayFit(p int, rest, limit float64) bool {
	c := &w.pairs
	if c.dependent[p] {
		return true
	}
	e := away(c.height[p]*c.inverse[p], c.lower[p], c.upper[p]) * c.norm[p]
	return rest+e*e <= limit
}

// pairMayFit tests the integers of a pair, then those of the path.
func (w *choiceWorker) pairMayFit(p, q int, g, square, limit, loose float64) bool {
	c := &w.pairs
	hp, hq := c.height[p], c.height[q]
	open := 1 - g*g
	if open < parallelPair {
		angle := math.Sqrt(max(open, 1e-15))
		reach := max(c.upper[p]*c.norm[p], c.upper[q]*c.norm[q]) * angle
		return square-max(hp*hp, hq*hq) <= w.limit(loose+reach)
	}
	dq := hq - g*hp
	by := 1 / open
	rest := square - hp*hp - dq*dq*by
	if c.dependent[p] || c.dependent[q] {
		return true
	}
	xq := dq * by * c.inverse[q]
	e := away(xq, c.lower[q], c.upper[q]) * c.norm[q]
	if rest+e*e*open > limit {
		return false
	}
	xp := (hp - g*hq) * by * c.inverse[p]
	e = away(xp, c.lower[p], c.upper[p]) * c.norm[p]
	if rest+e*e*open > limit {
		return false
	}
	d := &w.reduction
	if d.dependent > 0 {
		return true
	}
	if !w.inverse.ready {
		w.inverse.fill(d)
	}
	w.fillPath(p)
	w.fillPath(q)
	ap, aq := &c.path[p], &c.path[q]
	for i, j := range d.independent {
		x := w.inverse.alone[i] - ap[i]*xp - aq[i]*xq
		e := away(x, float64(w.chooser.least[j]), float64(w.chooser.upper[j]))
		bp, bq := ap[i]*c.inverse[p], aq[i]*c.inverse[q]
		spread := w.inverse.square[i] + (bp*bp-2*g*bp*bq+bq*bq)*by
		if rest+e*e/spread > limit {
			return false
		}
	}
	return true
}

// fillPath computes a = W R_j for the column at a place, once a node.
func (w *choiceWorker) fillPath(place int) {
	c, d := &w.pairs, &w.reduction
	if c.hasPath[place] {
		return
	}
	c.hasPath[place] = true
	j := c.column[place]
	for i := range d.rank() {
		sum := 0.0
		for k := i; k < d.rank(); k++ {
			sum += w.inverse.inverse[i][k] * d.top[k][j]
		}
		c.path[place][i] = sum
	}
}
