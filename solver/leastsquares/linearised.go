package leastsquares

import "math"

// linearised is the least-squares problem of one step d from x: each value is
// v_i + J_i d, each band with two ends has a variable y_i in [Low_i, High_i],
//
//	min sum_i w_i ((v_i + J_i d - y_i) / s_i)^2
//
// subject to the limits on v_i + J_i d, the linear constraints on x + d and
// the trust region. The columns are x + d, whose constraints keep their scale
// and their exact bounds however short the step is, then y.
type linearised struct {
	problem   Problem
	workspace *Workspace
	answer    Solution
	d         []float64

	bands      []int // aim rows that have a variable y
	limitRows  []int // value of each limit row; its sign in limitSigns
	limitSigns []float64
	linearRows int
	boundLower []bool // the lower bound of d_j is that of x_j
	boundUpper []bool

	still float64 // objective of the rows with second derivatives at d = 0

	limitMultiplier, lowerMultiplier, upperMultiplier []float64

	aims, equalities, inequalities Matrix // storage of the problem's A, E and G
	value                          []float64
	gradient, size, columns        []float64
}

// hasOwnRow reports whether aim i is linearised by itself; otherwise it is
// absent or in the rows with second derivatives.
func (it *iteration) hasOwnRow(i int) bool {
	p := it.problem
	if p.Weight[i] == 0 {
		return false
	}
	return !it.curved || p.Low[i] < p.High[i] && distance(it.value[i], p.Low[i], p.High[i]) == 0
}

// build fills the problem at it.x. correction, when not nil, is added to the
// linear model of each limit.
func (l *linearised) build(it *iteration, correction []float64) {
	p, n := it.problem, len(it.x)
	var extra *Matrix
	var extraRight []float64
	if it.curved {
		extra, extraRight = it.curvatureRows(l.limitMultiplier)
		it.curved = extra != nil
	}
	l.bands = l.bands[:0]
	aims := 0
	for i := range p.Weight {
		if it.hasOwnRow(i) {
			aims++
			if p.Low[i] < p.High[i] {
				l.bands = append(l.bands, i)
			}
		}
	}
	columns := n + len(l.bands)
	q := &l.problem
	q.A = &l.aims
	q.A.Resize(aims+rowCount(extra), columns)
	q.B = resized(q.B, q.A.Rows)
	q.Lower, q.Upper = resized(q.Lower, columns), resized(q.Upper, columns)
	q.Reference = resized(q.Reference, columns)
	clear(q.Reference)
	row, band := 0, n
	for i, w := range p.Weight {
		if !it.hasOwnRow(i) {
			continue
		}
		scale := math.Sqrt(w) / p.Scale[i]
		for j, v := range it.jacobian.Row(i) {
			q.A.Set(row, j, scale*v)
		}
		q.B[row] = scale * (dot(it.jacobian.Row(i), it.x) - it.value[i])
		if p.Low[i] < p.High[i] {
			// y is measured from its nearest value, so that it starts at 0.
			at := min(max(it.value[i], p.Low[i]), p.High[i])
			q.A.Set(row, band, -scale)
			q.B[row] += scale * at
			q.Lower[band], q.Upper[band] = p.Low[i]-at, p.High[i]-at
			band++
		} else {
			q.B[row] += scale * p.Low[i]
		}
		row++
	}
	l.still = 0
	for i := range rowCount(extra) {
		copy(q.A.Row(row)[:n], extra.Row(i))
		q.B[row] = extraRight[i] + dot(extra.Row(i), it.x)
		l.still += extraRight[i] * extraRight[i]
		row++
	}
	copy(q.Reference, it.x)
	l.boundVariables(it)
	l.boundRows(it, columns, correction)
}

// boundVariables intersects the bounds with the trust region.
func (l *linearised) boundVariables(it *iteration) {
	p, q := it.problem, &l.problem
	l.boundLower = resized(l.boundLower, len(it.x))
	l.boundUpper = resized(l.boundUpper, len(it.x))
	for j, x := range it.x {
		reach := math.Inf(1)
		if it.columns[j] > 0 {
			reach = it.radius / it.columns[j]
		}
		l.boundLower[j], l.boundUpper[j] = p.lower(j) >= x-reach, p.upper(j) <= x+reach
		q.Lower[j], q.Upper[j] = max(p.lower(j), x-reach), min(p.upper(j), x+reach)
	}
}

// boundRows writes E, G and the linearised limits.
func (l *linearised) boundRows(it *iteration, columns int, correction []float64) {
	p, q, n := it.problem, &l.problem, len(it.x)
	q.E, q.F = nil, nil
	if mE := rowCount(p.E); mE > 0 {
		q.E, q.F = &l.equalities, p.F
		q.E.Resize(mE, columns)
		for i := range mE {
			copy(q.E.Row(i)[:n], p.E.Row(i))
		}
	}
	l.linearRows = rowCount(p.G)
	l.limitRows, l.limitSigns = l.limitRows[:0], l.limitSigns[:0]
	for i := range it.value {
		if !math.IsInf(p.LimitLow[i], 0) {
			l.limitRows, l.limitSigns = append(l.limitRows, i), append(l.limitSigns, -1)
		}
		if !math.IsInf(p.LimitHigh[i], 0) {
			l.limitRows, l.limitSigns = append(l.limitRows, i), append(l.limitSigns, 1)
		}
	}
	rows := l.linearRows + len(l.limitRows)
	q.G, q.H = nil, q.H[:0]
	if rows == 0 {
		return
	}
	q.G, q.H = &l.inequalities, resized(q.H, rows)
	q.G.Resize(rows, columns)
	for i := range l.linearRows {
		copy(q.G.Row(i)[:n], p.G.Row(i))
		q.H[i] = p.H[i]
	}
	for k, i := range l.limitRows {
		sign := l.limitSigns[k]
		for j, v := range it.jacobian.Row(i) {
			q.G.Set(l.linearRows+k, j, sign*v)
		}
		q.H[l.linearRows+k] = sign*dot(it.jacobian.Row(i), it.x) + l.limitSlack(it, k)
		if correction != nil {
			q.H[l.linearRows+k] -= sign * correction[i]
		}
	}
}

// limitSlack is how far the value is inside limit row k.
func (l *linearised) limitSlack(it *iteration, k int) float64 {
	i := l.limitRows[k]
	if l.limitSigns[k] > 0 {
		return it.problem.LimitHigh[i] - it.value[i]
	}
	return it.value[i] - it.problem.LimitLow[i]
}

// solve finds the step and its multipliers. Where the linearised limits
// contradict each other or the trust region, those that are broken now are
// first relaxed to where they stand.
func (l *linearised) solve(it *iteration) {
	n := len(it.x)
	l.workspace.Solve(&l.problem, &l.answer)
	if l.answer.Status == Infeasible {
		for k, i := range l.limitRows {
			row := l.linearRows + k
			l.problem.H[row] = max(l.problem.H[row], l.limitSigns[k]*dot(it.jacobian.Row(i), it.x))
		}
		l.workspace.Solve(&l.problem, &l.answer)
	}
	l.d = resized(l.d, n)
	for j, x := range it.x {
		l.d[j] = l.answer.X[j] - x
	}
	l.limitMultiplier = resized(l.limitMultiplier, len(it.value))
	clear(l.limitMultiplier)
	for k, i := range l.limitRows {
		l.limitMultiplier[i] += l.limitSigns[k] * l.answer.InequalityMultiplier[l.linearRows+k]
	}
	l.lowerMultiplier = resized(l.lowerMultiplier, n)
	l.upperMultiplier = resized(l.upperMultiplier, n)
	for j := range n {
		l.lowerMultiplier[j], l.upperMultiplier[j] = 0, 0
		if l.boundLower[j] {
			l.lowerMultiplier[j] = l.answer.LowerMultiplier[j]
		}
		if l.boundUpper[j] {
			l.upperMultiplier[j] = l.answer.UpperMultiplier[j]
		}
	}
}

// predicted is the merit that the linear model of the values gives the step.
func (l *linearised) predicted(it *iteration) float64 {
	p := it.problem
	l.value = resized(l.value, len(it.value))
	value := l.value
	for i := range value {
		value[i] = it.value[i] + dot(it.jacobian.Row(i), l.d)
	}
	broken := p.broken(value)
	if !it.curved {
		return p.objective(value) + it.penalty*broken
	}
	return it.objective + l.answer.Objective - l.still + it.penalty*broken
}

// scaledSize is the length of the step in the units of the trust region.
func (l *linearised) scaledSize(it *iteration) float64 {
	size := 0.0
	for j, d := range l.d {
		size = max(size, math.Abs(d)*it.columns[j])
	}
	return size
}

// relativeSize is the length of the step relative to x, in columns of J.
func (l *linearised) relativeSize(it *iteration) float64 {
	step, size := l.scaledSize(it), 0.0
	for j, x := range it.x {
		size = max(size, math.Abs(x)*it.columns[j])
	}
	if step == 0 {
		return 0
	}
	return step / size
}

// residual is the largest residual of the optimality conditions of the
// nonlinear problem at it.x with the multipliers of the step, on the scales of
// Problem.CheckKKT, values being in their Scale.
func (l *linearised) residual(it *iteration) float64 {
	p, n := it.problem, len(it.x)
	worst := p.violation(it.value)
	l.gradient, l.size, l.columns = resized(l.gradient, n), resized(l.size, n), resized(l.columns, n)
	gradient, size, columns := l.gradient, l.size, l.columns
	clear(gradient)
	clear(columns)
	sizeX, jacobianSize, aimSize := norm(it.x), 0.0, 0.0
	for i, w := range p.Weight {
		if w == 0 {
			continue
		}
		scale := w / (p.Scale[i] * p.Scale[i])
		r := distance(it.value[i], p.Low[i], p.High[i])
		size := max(math.Abs(it.value[i]), math.Abs(it.value[i]-r))
		aimSize += scale * size * size
		for j, v := range it.jacobian.Row(i) {
			gradient[j] += 2 * scale * r * v
			columns[j] += scale * v * v
			jacobianSize += scale * v * v
		}
	}
	// A millionth of a scale unit is a miss of nothing, whatever x is made of.
	total := math.Sqrt(jacobianSize)*sizeX + math.Sqrt(aimSize) + 1e-6
	for j := range n {
		size[j] = 2 * math.Sqrt(columns[j]) * total
	}
	add := func(by float64, row []float64) {
		for j := range n {
			gradient[j] += by * row[j]
			size[j] += math.Abs(by * row[j])
		}
	}
	for i, mu := range l.limitMultiplier {
		if mu != 0 {
			add(mu, it.jacobian.Row(i))
		}
	}
	for i := range rowCount(p.E) {
		add(l.answer.EqualityMultiplier[i], p.E.Row(i))
	}
	for i := range l.linearRows {
		mu := l.answer.InequalityMultiplier[i]
		add(mu, p.G.Row(i))
		worst = max(worst, mu*math.Abs(p.H[i]-dot(p.G.Row(i), it.x))/(1+it.objective))
	}
	for k := range l.limitRows {
		mu := l.answer.InequalityMultiplier[l.linearRows+k]
		worst = max(worst, mu*math.Abs(l.limitSlack(it, k))/(1+it.objective))
	}
	// A variable on which no aim depends has no scale of its own.
	noise := targetRoundoff * largestOf(size)
	for j := range n {
		zl, zu := l.lowerMultiplier[j], l.upperMultiplier[j]
		gradient[j] += zu - zl
		if slope := math.Abs(gradient[j]); columns[j] > 0 && slope > 0 || slope > noise {
			worst = max(worst, slope/size[j])
		}
		if zl > 0 {
			worst = max(worst, zl*(it.x[j]-p.lower(j))/(1+it.objective))
		}
		if zu > 0 {
			worst = max(worst, zu*(p.upper(j)-it.x[j])/(1+it.objective))
		}
	}
	return worst
}
