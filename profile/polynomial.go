package profile

// polynomial evaluates c, constant term first, and its slope.
func polynomial(c []float64, x float64) (value, slope float64) {
	for k := len(c) - 1; k >= 0; k-- {
		slope = slope*x + value
		value = value*x + c[k]
	}
	return value, slope
}
