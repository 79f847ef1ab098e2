package profile

import "math"

// curve is a monotone piecewise cubic through points (x, y): it stays between
// neighbouring points where they rise or fall together, and its slope is
// continuous. Outside the points it goes on straight.
//
// Source: Fritsch & Butland, A method for constructing local monotone piecewise
// cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984).
type curve struct{ x, y, slope []float64 }

// newCurve takes two or more points with rising x.
func newCurve(x, y []float64) curve {
	n := len(x)
	c := curve{x: x, y: y, slope: make([]float64, n)}
	secant := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	c.slope[0], c.slope[n-1] = secant(0), secant(n-2)
	for i := 1; i < n-1; i++ {
		left, right := secant(i-1), secant(i)
		if left*right <= 0 {
			continue
		}
		h0, h1 := x[i]-x[i-1], x[i+1]-x[i]
		alpha := (h0 + 2*h1) / (3 * (h0 + h1))
		c.slope[i] = left * right / (alpha*right + (1-alpha)*left)
	}
	return c
}

// at returns the value and the slope at x.
func (c *curve) at(x float64) (value, slope float64) {
	last := len(c.x) - 1
	switch {
	case x <= c.x[0] || math.IsNaN(x):
		return c.y[0] + c.slope[0]*(x-c.x[0]), c.slope[0]
	case x >= c.x[last]:
		return c.y[last] + c.slope[last]*(x-c.x[last]), c.slope[last]
	}
	i := 0
	for x >= c.x[i+1] {
		i++
	}
	h := c.x[i+1] - c.x[i]
	s := (x - c.x[i]) / h
	y0, y1, m0, m1 := c.y[i], c.y[i+1], h*c.slope[i], h*c.slope[i+1]
	a := 2*(y0-y1) + m0 + m1
	b := 3*(y1-y0) - 2*m0 - m1
	return y0 + s*(m0+s*(b+s*a)), (m0 + s*(2*b+3*s*a)) / h
}
