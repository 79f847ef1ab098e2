package leastsquares

import "math"

// findNearest moves the main problem's x to the minimiser nearest to the
// reference. All minimisers share A x and every multiplier, so they are the
// points that meet the constraints with A x as it is and with what a nonzero
// multiplier keeps active left active. With u = D (x - reference) the
// objective is ||u||^2.
func (w *Workspace) findNearest() {
	s, u := &w.main, &w.near
	rowScale := largestOf(s.reducedScale)
	kept := func(i int) bool {
		return s.isWorking[i] && s.rowMultiplier[i] > keptMultiplier*rowScale
	}
	equalities := s.equalities + s.aims
	for i := s.equalities; i < s.rows; i++ {
		if kept(i) {
			equalities++
		}
	}
	u.resize(s.variables, 0, s.rows+s.aims, equalities)
	u.identity = true
	w.weight = resized(w.weight, s.variables)
	widest := 0.0
	for j := range s.variables {
		widest = max(widest, w.columnSize(j))
	}
	if widest == 0 {
		widest = 1
	}
	for j := range s.variables {
		d := s.columnNorm[j]
		if d == 0 {
			d = math.Ldexp(widest, -w.exponent[j])
		}
		w.weight[j] = d
		u.lower[j] = d * (s.lower[j] - w.reference[j])
		u.upper[j] = d * (s.upper[j] - w.reference[j])
		switch s.x[j] {
		case s.lower[j]:
			u.x[j] = u.lower[j]
		case s.upper[j]:
			u.x[j] = u.upper[j]
		default:
			u.x[j] = d * (s.x[j] - w.reference[j])
		}
		if s.isKept(j) || s.lower[j] == s.upper[j] {
			u.lower[j], u.upper[j] = u.x[j], u.x[j]
		}
	}
	// Row i of the main problem, in u, becomes the given row.
	put := func(to int, row []float64, stride int, right float64) {
		target := u.cRow(to)
		for j := range target {
			v := row[j*stride]
			right -= v * w.reference[j]
			target[j] = v / w.weight[j]
		}
		u.rhs[to] = right
		largest := largestOf(target)
		if largest == 0 {
			return
		}
		for j := range target {
			target[j] /= largest
		}
		u.rhs[to] /= largest
	}
	for i := range s.equalities {
		put(i, s.cRow(i), 1, s.rhs[i])
	}
	for i := range s.aims {
		put(s.equalities+i, s.a[i:], s.aims, s.b[i]-s.residual[i])
	}
	next, last := s.equalities+s.aims, equalities
	for i := s.equalities; i < s.rows; i++ {
		if kept(i) {
			put(next, s.cRow(i), 1, s.rhs[i])
			next++
		} else {
			put(last, s.cRow(i), 1, s.rhs[i])
			last++
		}
	}
	w.chooseBasis(u)
	for j, x := range u.x {
		if u.position[j] < 0 && u.lower[j] < x && x < u.upper[j] {
			u.release(j)
		}
	}
	if !u.optimise() {
		return
	}
	size := s.size()
	for j := range s.variables {
		switch {
		case u.lower[j] == u.upper[j]:
		case u.x[j] == u.lower[j]:
			s.x[j] = s.lower[j]
		case u.x[j] == u.upper[j]:
			s.x[j] = s.upper[j]
		default:
			x := w.reference[j] + u.x[j]/w.weight[j]
			if math.Abs(x) <= targetRoundoff*max(math.Abs(w.reference[j]), size) {
				x = 0
			}
			s.x[j] = min(max(x, s.lower[j]), s.upper[j])
		}
	}
}
