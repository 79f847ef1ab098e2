package leastsquares

import "math"

const (
	// dependentColumn: a column whose part outside the span of the free ones
	// is at most this share of its norm counts as dependent on them.
	dependentColumn = 1e-13
	// dependentRow is the same for a row of the working set.
	dependentRow = 1e-12
	// gradientRoundoff times the size of the terms that were added up is what
	// a reduced gradient may be by rounding alone.
	gradientRoundoff = 50 * 0x1p-52
)

// activeSet minimises ||a x - b||^2 (or ||x||^2 when identity is set) over
// lower <= x <= upper, rows 0..equalities-1 of c x = rhs and the other rows
// of c x <= rhs. It is a primal active-set method: the free variables move,
// all others are pinned where they are (at a bound, or at any value between),
// and a working set of rows of c holds with equality. On the free variables,
//
//  1. c_P^T = Q [R; 0] splits x_P = Q [xi_1; xi_2];
//  2. R^T xi_1 = rhs - c_N x_N is given by the working set;
//  3. xi_2 solves the least-squares problem that is left, by its own Q R;
//  4. the step towards that point ends at the nearest bound or row, which
//     joins the working set;
//  5. at the point itself C_P^T lambda = a_P^T (b - a x) gives the
//     multipliers of the rows and, through them, the reduced gradient of the
//     pinned variables; the one with the largest wrong sign is released.
//
// A released variable has a nonzero reduced gradient and so cannot be
// dependent on the free ones: R stays regular with any rank of a.
//
// Sources: C. L. Lawson and R. J. Hanson, Solving Least Squares Problems
// (1974), chapters 20 to 23; P. B. Stark and R. L. Parker, Bounded-Variable
// Least-Squares (1995); both from memory.
type activeSet struct {
	variables, aims, rows, equalities int
	identity                          bool

	a                  []float64 // column-major, aims x variables
	b                  []float64
	c                  []float64 // row-major, rows x variables
	rhs                []float64
	lower, upper, x    []float64
	columnNorm         []float64
	priceNorm          []float64 // with the rows of c, what gradients are compared by
	aNorm, bNorm       float64
	free               []int
	position           []int // place in free, or -1 when pinned
	working            []int // rows of c that hold with equality
	isWorking, skipped []bool
	isIgnored          []bool // rows that depend on the working ones, until the next point is priced

	rowFactor, aimFactor orthogonal
	plain                bool      // aimFactor holds columns of a itself, not of a Q
	rotated              []float64 // a_P Q, column-major
	scratch              []float64
	target               []float64
	residual             []float64 // b - a x
	rowMultiplier        []float64 // lambda of every row of c
	reduced              []float64 // half the reduced gradient
	reducedScale         []float64 // size of the terms in it

	iterations int
}

// resize sets the sizes and empties the working set.
func (s *activeSet) resize(variables, aims, rows, equalities int) {
	s.variables, s.aims, s.rows, s.equalities = variables, aims, rows, equalities
	s.identity = false
	s.a = resized(s.a, aims*variables)
	s.b = resized(s.b, aims)
	s.c = resized(s.c, rows*variables)
	s.rhs = resized(s.rhs, rows)
	s.lower = resized(s.lower, variables)
	s.upper = resized(s.upper, variables)
	s.x = resized(s.x, variables)
	s.columnNorm = resized(s.columnNorm, variables)
	s.priceNorm = resized(s.priceNorm, variables)
	s.position = resized(s.position, variables)
	s.isWorking = resized(s.isWorking, rows)
	s.isIgnored = resized(s.isIgnored, rows)
	s.skipped = resized(s.skipped, variables+rows)
	s.scratch = resized(s.scratch, variables+aims+rows)
	s.target = resized(s.target, variables+rows)
	s.residual = resized(s.residual, aims)
	s.rowMultiplier = resized(s.rowMultiplier, rows)
	s.reduced = resized(s.reduced, variables)
	s.reducedScale = resized(s.reducedScale, variables)
	s.free = resized(s.free, variables)[:0]
	s.working = resized(s.working, rows)[:0]
	for j := range s.position {
		s.position[j] = -1
	}
	clear(s.isWorking)
	clear(s.isIgnored)
	clear(s.skipped)
	s.iterations = 0
	s.plain = false
}

func (s *activeSet) aColumn(j int) []float64 { return s.a[j*s.aims : (j+1)*s.aims] }
func (s *activeSet) cRow(i int) []float64 {
	return s.c[i*s.variables : (i+1)*s.variables]
}

// measure computes the norms that tolerances are relative to.
func (s *activeSet) measure() {
	s.bNorm, s.aNorm = 0, 1
	if s.identity {
		for j := range s.columnNorm {
			s.columnNorm[j] = 1
		}
	} else {
		sum := 0.0
		for j := range s.variables {
			s.columnNorm[j] = norm(s.aColumn(j))
			sum += s.columnNorm[j] * s.columnNorm[j]
		}
		s.aNorm, s.bNorm = math.Sqrt(sum), norm(s.b)
	}
	for j, size := range s.columnNorm {
		for i := range s.rows {
			size = max(size, math.Abs(s.c[i*s.variables+j]))
		}
		s.priceNorm[j] = size
	}
}

// size is the largest number that x is made from: its own, or b in columns of
// a, which may cancel.
func (s *activeSet) size() float64 {
	size := largestOf(s.x)
	if s.aNorm > 0 {
		size = max(size, s.bNorm/s.aNorm)
	}
	return size
}

// release puts variable j among the free.
func (s *activeSet) release(j int) {
	s.position[j] = len(s.free)
	s.free = append(s.free, j)
}

// pin takes variable j from the free, at the value it has.
func (s *activeSet) pin(j int) {
	k := s.position[j]
	copy(s.free[k:], s.free[k+1:])
	s.free = s.free[:len(s.free)-1]
	for ; k < len(s.free); k++ {
		s.position[s.free[k]] = k
	}
	if s.plain {
		s.aimFactor.truncate(s.position[j])
	}
	s.position[j] = -1
}

// hold adds row i to the working set; drop removes it.
func (s *activeSet) hold(i int) {
	s.isWorking[i] = true
	s.working = append(s.working, i)
}

func (s *activeSet) drop(i int) {
	s.isWorking[i] = false
	for k, row := range s.working {
		if row == i {
			copy(s.working[k:], s.working[k+1:])
			s.working = s.working[:len(s.working)-1]
			return
		}
	}
}

// factor brings the factors up to date with the free variables and the
// working set. Rows that depend on earlier ones leave the working set. It
// returns the place among the free of the first dependent column, or -1; with
// rows in the working set the place is of no variable in particular.
func (s *activeSet) factor() int {
	s.rowFactor.reset(len(s.free))
	for k := 0; k < len(s.working); {
		row := s.cRow(s.working[k])
		column := s.rowFactor.next()
		for q, j := range s.free {
			column[q] = row[j]
		}
		if s.rowFactor.push(dependentRow) {
			k++
		} else {
			s.isIgnored[s.working[k]] = true
			s.drop(s.working[k])
		}
	}
	if s.identity {
		return -1
	}
	if len(s.working) == 0 {
		if !s.plain {
			s.aimFactor.reset(s.aims)
			s.plain = true
		}
		for k := s.aimFactor.cols; k < len(s.free); k++ {
			copy(s.aimFactor.next(), s.aColumn(s.free[k]))
			if !s.aimFactor.push(dependentColumn) {
				return k
			}
		}
		return -1
	}
	s.rotate()
	s.plain = false
	s.aimFactor.reset(s.aims)
	for k := len(s.working); k < len(s.free); k++ {
		copy(s.aimFactor.next(), s.rotated[k*s.aims:(k+1)*s.aims])
		if !s.aimFactor.push(dependentColumn) {
			return k
		}
	}
	return -1
}

// rotate computes a_P Q, Q from the factors of the working rows.
func (s *activeSet) rotate() {
	m := s.aims
	s.rotated = resized(s.rotated, m*len(s.free))
	for k, j := range s.free {
		copy(s.rotated[k*m:(k+1)*m], s.aColumn(j))
	}
	sum := s.scratch[:m]
	for k := range s.rowFactor.cols {
		v := s.rowFactor.column(k)
		clear(sum)
		for q := k; q < len(s.free); q++ {
			addScaled(sum, v[q], s.rotated[q*m:(q+1)*m])
		}
		for q := k; q < len(s.free); q++ {
			addScaled(s.rotated[q*m:(q+1)*m], -s.rowFactor.beta[k]*v[q], sum)
		}
	}
}

// findTarget computes the minimiser over the free variables with the working
// rows held, steps 2 and 3.
func (s *activeSet) findTarget() {
	t, p := len(s.working), len(s.free)
	target := s.target[:p]
	for k, i := range s.working {
		sum := s.rhs[i]
		row := s.cRow(i)
		for j, position := range s.position {
			if position < 0 {
				sum -= row[j] * s.x[j]
			}
		}
		target[k] = sum
	}
	s.rowFactor.solveTransposed(target)
	clear(target[t:])
	if !s.identity {
		r := s.scratch[:s.aims]
		copy(r, s.b)
		for j, position := range s.position {
			if position < 0 && s.x[j] != 0 {
				addScaled(r, -s.x[j], s.aColumn(j))
			}
		}
		for k := range t {
			addScaled(r, -target[k], s.rotated[k*s.aims:(k+1)*s.aims])
		}
		s.aimFactor.transpose(r)
		s.aimFactor.solve(r)
		copy(target[t:], r)
	}
	s.rowFactor.apply(target)
}

// entrant names what the last release let go: a variable, or a row when it is
// at least the number of variables.
type entrant int

const noEntrant entrant = -1

// optimise runs the method from x, which must meet all constraints, with the
// free variables and working rows as they stand. It reports whether it ended
// at an optimum within round-off. Free variables that differ from a bound or
// from zero by rounding alone are then assigned it.
func (s *activeSet) optimise() bool {
	s.measure()
	size := largestOf(s.x)
	ended := s.iterate()
	noise := targetRoundoff * max(size, s.size())
	for _, j := range s.free {
		if s.x[j]-s.lower[j] <= noise {
			s.x[j] = s.lower[j]
		} else if s.upper[j]-s.x[j] <= noise {
			s.x[j] = s.upper[j]
		} else if math.Abs(s.x[j]) <= noise {
			s.x[j] = 0
		}
	}
	return ended
}

func (s *activeSet) iterate() bool {
	limit := 20*(s.variables+s.rows) + 200
	patience := s.variables + s.rows
	entering := noEntrant
	crash := true
	best, stalled := math.Inf(1), 0
	for range limit {
		s.iterations++
		dependent := s.factor()
		if dependent >= 0 && entering == noEntrant {
			// Only the start may hold dependent columns: they stay where they are.
			if !crash || len(s.working) > 0 {
				return false
			}
			s.pin(s.free[dependent])
			continue
		}
		if dependent < 0 {
			s.findTarget()
		}
		if entering != noEntrant && (dependent >= 0 || !s.movesInward(entering)) {
			s.retreat(entering)
			if entering = s.choose(stalled > patience); entering == noEntrant {
				return true
			}
			s.enter(entering)
			continue
		}
		crash = false
		if s.step(stalled > patience) {
			entering = noEntrant
			stalled++
			continue
		}
		value := s.price()
		if value < best-1e-14*math.Abs(best) || math.IsInf(best, 1) {
			best, stalled = value, 0
			clear(s.skipped)
		} else if stalled++; stalled > 4*patience+50 {
			// The objective no longer falls: what is left is round-off.
			return true
		}
		if entering = s.choose(stalled > patience); entering == noEntrant {
			return true
		}
		s.enter(entering)
	}
	return false
}

func (s *activeSet) enter(e entrant) {
	if int(e) < s.variables {
		s.release(int(e))
	} else {
		s.drop(int(e) - s.variables)
	}
}

// retreat undoes enter and keeps e out until the objective falls.
func (s *activeSet) retreat(e entrant) {
	s.skipped[e] = true
	if int(e) < s.variables {
		s.pin(int(e))
	} else {
		s.hold(int(e) - s.variables)
	}
}

// movesInward reports whether the new target lies on the side of e that its
// multiplier promised.
func (s *activeSet) movesInward(e entrant) bool {
	if j := int(e); j < s.variables {
		move := s.target[s.position[j]] - s.x[j]
		return move*s.reduced[j] < 0
	}
	row := s.cRow(int(e) - s.variables)
	move := 0.0
	for k, j := range s.free {
		move += row[j] * (s.target[k] - s.x[j])
	}
	return move < 0
}
