package leastsquares

import "math"

// orthogonal holds the Householder factors Q R of a matrix whose columns
// arrive one at a time. The storage is flat and column-major: column k keeps
// its part of R above the diagonal and its reflector from the diagonal down,
//
//	H_k = I - beta_k v_k v_k^T,  Q = H_0 H_1 ... .
//
// Source: G. H. Golub and C. F. Van Loan, Matrix Computations, chapter 5
// (from memory).
type orthogonal struct {
	rows, cols int
	v          []float64
	beta       []float64
	diagonal   []float64
}

// reset empties the factors for columns of the given length.
func (q *orthogonal) reset(rows int) {
	q.rows, q.cols = rows, 0
	q.v = q.v[:0]
	q.beta = resized(q.beta, rows)[:0]
	q.diagonal = resized(q.diagonal, rows)[:0]
}

// truncate forgets all columns from the given one on.
func (q *orthogonal) truncate(cols int) {
	if cols >= q.cols {
		return
	}
	q.cols = cols
	q.v = q.v[:cols*q.rows]
	q.beta = q.beta[:cols]
	q.diagonal = q.diagonal[:cols]
}

// column returns the storage of column k.
func (q *orthogonal) column(k int) []float64 { return q.v[k*q.rows : (k+1)*q.rows] }

// next returns storage for one more column; fill it, then call push.
func (q *orthogonal) next() []float64 {
	need := (q.cols + 1) * q.rows
	if cap(q.v) < need {
		grown := make([]float64, need, 2*need+8)
		copy(grown, q.v)
		q.v = grown
	}
	q.v = q.v[:need]
	return q.v[q.cols*q.rows:]
}

// push factors the column that was filled after next. It reports false, and
// forgets the column, when what the earlier columns leave of it is at most
// tolerance times its norm.
func (q *orthogonal) push(tolerance float64) bool {
	k := q.cols
	column := q.column(k)
	size := norm(column)
	q.transpose(column)
	if k < q.rows {
		rest := norm(column[k:])
		if rest > tolerance*size {
			alpha := -rest
			if column[k] < 0 {
				alpha = rest
			}
			column[k] -= alpha
			q.beta = append(q.beta, -1/(alpha*column[k]))
			q.diagonal = append(q.diagonal, alpha)
			q.cols++
			return true
		}
	}
	q.v = q.v[:k*q.rows]
	return false
}

// transpose replaces x, of length rows, by Q^T x.
func (q *orthogonal) transpose(x []float64) {
	for k := range q.cols {
		v := q.column(k)[k:]
		addScaled(x[k:], -q.beta[k]*dot(v, x[k:]), v)
	}
}

// apply replaces x, of length rows, by Q x.
func (q *orthogonal) apply(x []float64) {
	for k := q.cols - 1; k >= 0; k-- {
		v := q.column(k)[k:]
		addScaled(x[k:], -q.beta[k]*dot(v, x[k:]), v)
	}
}

// solve replaces the first cols numbers of x by R^-1 x.
func (q *orthogonal) solve(x []float64) {
	for k := q.cols - 1; k >= 0; k-- {
		x[k] /= q.diagonal[k]
		addScaled(x[:k], -x[k], q.column(k)[:k])
	}
}

// solveTransposed replaces the first cols numbers of x by R^-T x.
func (q *orthogonal) solveTransposed(x []float64) {
	for k := range q.cols {
		x[k] = (x[k] - dot(q.column(k)[:k], x[:k])) / q.diagonal[k]
	}
}

// amplification returns how much R^-1 may enlarge rounding, estimated from the
// least diagonal element for columns of at most about 1.
func (q *orthogonal) amplification() float64 {
	least := 1.0
	for _, d := range q.diagonal {
		least = min(least, math.Abs(d))
	}
	return 1 / least
}
