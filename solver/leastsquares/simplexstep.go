package leastsquares

import "math"

// iterate moves from basis to basis until none is better. It leaves the
// multipliers of the rows in y and, when the objective falls without end, the
// basic part of the ray in direction.
func (t *simplex) iterate() Status {
	limit := 50*(t.rows+t.n) + 1000
	stalled := 0
	for range limit {
		t.iterations++
		if !t.refresh() {
			return Stopped
		}
		// Without progress the rules that cannot cycle take over.
		bland := stalled > 2*t.rows+20
		j := t.price(bland)
		if j < 0 {
			return Optimal
		}
		t.column(j, t.direction)
		t.factor.transpose(t.direction)
		t.factor.solve(t.direction)
		length, leaving := t.ratio(j, bland)
		if math.IsInf(length, 1) {
			return Unbounded
		}
		if math.IsNaN(length) {
			return Stopped
		}
		before := math.Abs(t.x[j])
		if length <= 1e-14*(1+before) {
			stalled++
		} else {
			stalled = 0
		}
		t.move(j, length, leaving)
	}
	return Stopped
}

// refresh factors the basis and computes basic variables and multipliers from
// it.
func (t *simplex) refresh() bool {
	m := t.rows
	t.factor.reset(m)
	for k, j := range t.basis {
		t.column(j, t.matrix[k*m:(k+1)*m])
		copy(t.factor.next(), t.matrix[k*m:(k+1)*m])
		if !t.factor.push(singularBasis) {
			return false
		}
	}
	for _, j := range t.basis {
		t.x[j] = 0
	}
	clear(t.y)
	t.residual()
	// Reflections mix rows that have nothing to do with each other; correcting
	// what they leave takes that out.
	for range 3 {
		t.factor.transpose(t.right)
		t.factor.solve(t.right)
		for k, j := range t.basis {
			t.x[j] += t.right[k]
			t.priced[k] = t.cost[j] - dot(t.matrix[k*m:(k+1)*m], t.y)
		}
		t.factor.solveTransposed(t.priced)
		t.factor.apply(t.priced)
		addScaled(t.y, 1, t.priced)
		t.residual()
	}
	s := &t.workspace.main
	// Rows that only their own slack meets have no part in the others.
	t.size = largestOf(t.x[:t.n])
	for i := t.equalities; i < t.rows; i++ {
		if t.position[t.n+i-t.equalities] < 0 {
			t.size = max(t.size, math.Abs(s.rhs[i]))
		}
	}
	t.size = max(t.size, largestOf(s.rhs[:t.equalities]))
	t.largest = largestOf(s.rhs)
	return true
}

// residual computes what the rows lack.
func (t *simplex) residual() {
	s := &t.workspace.main
	copy(t.right, s.rhs)
	for j, x := range t.x {
		if x == 0 {
			continue
		}
		switch slack := j - t.n; {
		case slack < 0:
			for i := range t.right {
				t.right[i] -= x * s.c[i*s.variables+j]
			}
		case slack < t.rows-t.equalities:
			t.right[t.equalities+slack] -= x
		default:
			i := slack - (t.rows - t.equalities)
			t.right[i] -= x * t.sign[i]
		}
	}
}

// roundoff is what variable j may be off by rounding alone.
func (t *simplex) roundoff(j int) float64 {
	size := t.size
	if slack := j - t.n; slack >= 0 {
		i := slack + t.equalities
		if i >= t.rows {
			i = slack - (t.rows - t.equalities)
		}
		size = max(size, math.Abs(t.workspace.main.rhs[i]))
	}
	return max(basicRoundoff*size, basicRoundoff*basicRoundoff*t.largest)
}

// price returns the variable to enter the basis and sets entered and heading,
// or -1 when no reduced cost has the sign to fall: the one whose reduced cost
// is largest for the size of its column or, by Bland's rule, the first.
func (t *simplex) price(bland bool) int {
	s := &t.workspace.main
	chosen, most := -1, 0.0
	largest := largestOf(t.y)
	for _, j := range t.basis {
		largest = max(largest, math.Abs(t.cost[j]))
	}
	for j, place := range t.position {
		if place >= 0 || t.lower[j] == t.upper[j] {
			continue
		}
		d, size, sum, square := t.cost[j], math.Abs(t.cost[j]), 0.0, 1.0
		add := func(i int, v float64) {
			d -= v * t.y[i]
			size += math.Abs(v * t.y[i])
			sum += math.Abs(v)
			square += v * v
		}
		switch slack := j - t.n; {
		case slack < 0:
			for i := range t.rows {
				add(i, s.c[i*s.variables+j])
			}
		case slack < t.rows-t.equalities:
			add(t.equalities+slack, 1)
		default:
			// An artificial that left never comes back.
			continue
		}
		falls := d < 0 && t.x[j] < t.upper[j] || d > 0 && t.x[j] > t.lower[j]
		if math.Abs(d) <= max(reducedCostRoundoff*size, multiplierRoundoff*sum*largest) || !falls {
			continue
		}
		if score := d * d / square; chosen < 0 || score > most {
			chosen, most = j, score
			t.entered, t.heading = j, 1
			if d > 0 {
				t.heading = -1
			}
			if bland {
				break
			}
		}
	}
	return chosen
}

// ratio returns how far variable j can go until a basic variable, whose place
// it returns, or j itself, -1, meets a bound. Of basic variables that do so
// together the one with the largest pivot leaves or, by Bland's rule, the first.
func (t *simplex) ratio(j int, bland bool) (length float64, leaving int) {
	length, leaving = t.upper[j]-t.lower[j], -1
	least := smallPivot * largestOf(t.direction)
	pivot := 0.0
	for k, b := range t.basis {
		move := -t.heading * t.direction[k]
		if math.Abs(move) <= least || move == 0 {
			continue
		}
		room := t.upper[b] - t.x[b]
		if move < 0 {
			room = t.x[b] - t.lower[b]
		}
		if math.IsInf(room, 1) {
			continue
		}
		if room <= t.roundoff(b) {
			room = 0
		}
		ratio := room / math.Abs(move)
		tie := ratio == length || math.Abs(ratio-length) <= 1e-12*length
		better := ratio < length
		if tie && leaving >= 0 {
			better = math.Abs(move) > pivot
			if bland {
				better = b < t.basis[leaving]
			}
		}
		if better {
			length, leaving, pivot = min(ratio, length), k, math.Abs(move)
		}
	}
	return length, leaving
}

// move carries out the step: j goes its length and, unless it only went from
// bound to bound, takes the place that becomes free.
func (t *simplex) move(j int, length float64, leaving int) {
	for k, b := range t.basis {
		t.x[b] -= t.heading * length * t.direction[k]
	}
	if leaving < 0 {
		if t.heading > 0 {
			t.x[j] = t.upper[j]
		} else {
			t.x[j] = t.lower[j]
		}
		return
	}
	t.x[j] += t.heading * length
	out := t.basis[leaving]
	// The one that leaves does so at the bound it met, exactly.
	if t.heading*t.direction[leaving] > 0 {
		t.x[out] = t.lower[out]
	} else {
		t.x[out] = t.upper[out]
	}
	t.position[out] = -1
	t.basis[leaving], t.position[j] = j, leaving
}
