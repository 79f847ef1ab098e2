package leastsquares

import "math"

// dependentChoice: a column of which the path leaves at most this share of
// its norm counts as dependent on it.
const dependentChoice = 1e-8

// tinyChoice is a norm whose square is close to vanishing.
const tinyChoice = 1e-140

// vanishes reports whether what is left of column j, of the given norm, counts
// as nothing.
func (s *chooser) vanishes(j int, size float64) bool {
	return size <= max(dependentChoice*s.size[j], tinyChoice)
}

// reduction holds what the reflections of a path make of the columns and the
// target, for each rank of it. A column that depends on the path is none: what
// it could still do is in lost.
type reduction struct {
	rows, stride int
	// reduced[r] holds rows r.. of every column after r reflections, at
	// stride times its number; target[r] those of B.
	reduced [][]float64
	target  [][]float64
	// top[r][j] is row r of column j once it is final, topTarget[r] that of B.
	top       [][]float64
	topTarget []float64
	// independent are the columns that a reflection each was made of, and
	// diagonal what it left of them.
	independent []int
	diagonal    []float64
	dependent   int     // columns of the path without a reflection
	lost        float64 // how far those can move the residual beyond the span of the others
	reflector   []float64
}

func newReduction(s *chooser) reduction {
	d := reduction{rows: s.rows, stride: s.rows, reflector: make([]float64, s.rows)}
	for r := range s.rows + 1 {
		d.reduced = append(d.reduced, make([]float64, s.n*s.rows))
		d.target = append(d.target, make([]float64, s.rows-r))
		d.top = append(d.top, make([]float64, s.n))
	}
	d.topTarget = make([]float64, s.rows)
	d.diagonal = make([]float64, s.rows)
	copy(d.reduced[0], s.column)
	copy(d.target[0], s.p.B)
	return d
}

func (d *reduction) rank() int { return len(d.independent) }

// columnOf returns what is left of column j at the present rank.
func (d *reduction) columnOf(j int) []float64 {
	r := d.rank()
	return d.reduced[r][j*d.stride : j*d.stride+d.rows-r]
}

// extended tells how to undo a push.
type extended struct {
	dependent bool
	lost      float64
}

// push adds column j to the path and reflects the candidates.
func (d *reduction) push(s *chooser, j int, candidates []int) extended {
	before := extended{lost: d.lost}
	r := d.rank()
	v := d.reflector[:d.rows-r]
	copy(v, d.columnOf(j))
	size := norm(v)
	if s.vanishes(j, size) {
		d.lost += float64(s.upper[j]) * (size + 1e-15*s.size[j])
		d.dependent++
		before.dependent = true
		return before
	}
	alpha := -size
	if v[0] < 0 {
		alpha = size
	}
	v[0] -= alpha
	beta := -1 / (alpha * v[0])
	d.diagonal[r] = alpha
	next, top := d.reduced[r+1], d.top[r]
	for _, c := range candidates {
		x := d.reduced[r][c*d.stride : c*d.stride+len(v)]
		y := next[c*d.stride : c*d.stride+len(v)]
		sum := 0.0
		for i, w := range v {
			sum += w * x[i]
		}
		sum *= beta
		top[c] = x[0] - sum*v[0]
		for i := 1; i < len(v); i++ {
			y[i-1] = x[i] - sum*v[i]
		}
	}
	x := d.target[r]
	sum := beta * dot(v, x)
	d.topTarget[r] = x[0] - sum*v[0]
	for i := 1; i < len(v); i++ {
		d.target[r+1][i-1] = x[i] - sum*v[i]
	}
	d.independent = append(d.independent, j)
	return before
}

// pop undoes the last push that is not undone.
func (d *reduction) pop(before extended) {
	d.lost = before.lost
	if before.dependent {
		d.dependent--
		return
	}
	d.independent = d.independent[:len(d.independent)-1]
}

// pathInverse is the inverse W of the triangle R of an independent path, and
// what follows from it.
type pathInverse struct {
	ready   bool
	inverse [mostChoiceRows][mostChoiceRows]float64
	square  [mostChoiceRows]float64 // ||W_i||^2
	alone   [mostChoiceRows]float64 // W times the target: the path's coefficients without others
}

func (w *pathInverse) fill(d *reduction) {
	w.ready = true
	n := d.rank()
	for k := range n {
		w.inverse[k][k] = 1 / d.diagonal[k]
		for i := k - 1; i >= 0; i-- {
			sum := 0.0
			for l := i + 1; l <= k; l++ {
				sum += d.top[i][d.independent[l]] * w.inverse[l][k]
			}
			w.inverse[i][k] = -sum / d.diagonal[i]
		}
	}
	for i := range n {
		w.square[i], w.alone[i] = 0, 0
		for k := i; k < n; k++ {
			w.square[i] += w.inverse[i][k] * w.inverse[i][k]
			w.alone[i] += w.inverse[i][k] * d.topTarget[k]
		}
	}
}

// away is the distance of x from the nearest integer between lower and upper.
func away(x, lower, upper float64) float64 {
	if x <= lower {
		return lower - x
	}
	if x >= upper {
		return x - upper
	}
	return math.Abs(x - math.Floor(x+0.5))
}
