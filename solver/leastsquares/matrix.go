package leastsquares

import (
	"fmt"
	"math"
)

// Matrix is dense and row-major: element (i, j) is Data[i*Cols+j].
type Matrix struct {
	Rows, Cols int
	Data       []float64
}

// NewMatrix returns a matrix of zeros. It panics when a size is negative.
func NewMatrix(rows, cols int) *Matrix {
	if rows < 0 || cols < 0 {
		panic(fmt.Sprintf("leastsquares: a matrix of %d rows and %d columns", rows, cols))
	}
	return &Matrix{Rows: rows, Cols: cols, Data: make([]float64, rows*cols)}
}

// At returns element (i, j), both counted from 0.
func (m *Matrix) At(i, j int) float64 { return m.Data[i*m.Cols+j] }

// Set assigns element (i, j), both counted from 0.
func (m *Matrix) Set(i, j int, v float64) { m.Data[i*m.Cols+j] = v }

// Row returns row i as a view: writing to it changes the matrix.
func (m *Matrix) Row(i int) []float64 { return m.Data[i*m.Cols : (i+1)*m.Cols : (i+1)*m.Cols] }

// Resize makes the matrix rows by cols, all zeros, reusing Data when it is
// large enough.
func (m *Matrix) Resize(rows, cols int) {
	m.Rows, m.Cols = rows, cols
	m.Data = resized(m.Data, rows*cols)
	clear(m.Data)
}

// rowCount is the number of rows of a matrix that may be absent.
func rowCount(m *Matrix) int {
	if m == nil {
		return 0
	}
	return m.Rows
}

// resized returns a slice of length n, with s's storage when it is large
// enough. What it holds is unspecified.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4)
	}
	return s[:n]
}

func dot(x, y []float64) float64 {
	y = y[:len(x)]
	sum := 0.0
	for i, v := range x {
		sum += v * y[i]
	}
	return sum
}

// norm is the Euclidean norm, safe from overflow of the squares.
func norm(x []float64) float64 {
	sum := dot(x, x)
	if sum > 1e-280 && sum < 1e280 {
		return math.Sqrt(sum)
	}
	largest := 0.0
	for _, v := range x {
		largest = max(largest, math.Abs(v))
	}
	if largest == 0 || math.IsInf(largest, 0) || math.IsNaN(largest) {
		return largest
	}
	sum = 0
	for _, v := range x {
		sum += (v / largest) * (v / largest)
	}
	return largest * math.Sqrt(sum)
}

// addScaled adds a*x to y.
func addScaled(y []float64, a float64, x []float64) {
	x = x[:len(y)]
	for i := range y {
		y[i] += a * x[i]
	}
}
