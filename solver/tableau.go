package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// tableau collects the rows of one relaxation. Its columns are the steps of the
// open pours, the slack of the volume, and further slacks.
type tableau struct {
	box        *box
	plainSteps int // how many columns are steps
	low, high  []float64
	aims, caps []tableauRow
	volume     expression
}

// tableauRow is an expression to be brought to 0 (an aim) or kept at most 0 (a
// cap), already scaled.
type tableauRow struct {
	expression
	slack       int // a further column, or -1
	coefficient float64
}

// expression is constant + steps·k + volume e.
type expression struct {
	constant float64
	steps    []float64
	volume   float64
}

func (t *tableau) reset(b *box) {
	n := len(b.lower)
	t.box, t.plainSteps = b, n
	t.low = append(append(t.low[:0], b.lower...), -b.slack)
	t.high = append(append(t.high[:0], b.upper...), b.slack)
	t.aims, t.caps = t.aims[:0], t.caps[:0]
	t.volume.constant = b.volume
	for j := range n {
		t.volume.constant -= b.volumeSlope[j] * b.centre[j]
	}
	t.volume.steps, t.volume.volume = b.volumeSlope, 1
	t.cap(t.volume, -b.volumeHigh, 1)
	t.cap(t.volume, -b.volumeLow, -1)
}

// row returns a fresh row at the end of rows, with its storage reused.
func row(rows *[]tableauRow, n int) *tableauRow {
	if len(*rows) < cap(*rows) {
		*rows = (*rows)[:len(*rows)+1]
	} else {
		*rows = append(*rows, tableauRow{})
	}
	r := &(*rows)[len(*rows)-1]
	if len(r.steps) != n {
		r.steps = make([]float64, n)
	}
	r.slack, r.coefficient = -1, 0
	return r
}

// set makes r the expression (e + shift) × factor.
func (r *tableauRow) set(e expression, shift, factor float64) {
	r.constant = (e.constant + shift) * factor
	r.volume = e.volume * factor
	for j, v := range e.steps {
		r.steps[j] = v * factor
	}
}

// cap adds (e + shift) × factor <= 0.
func (t *tableau) cap(e expression, shift, factor float64) {
	row(&t.caps, t.plainSteps).set(e, shift, factor)
}

// aim adds e × factor = 0 as an aim, less a slack between low and high (in the
// unit of e) where these differ.
func (t *tableau) aim(e expression, factor, low, high float64) {
	r := row(&t.aims, t.plainSteps)
	r.set(e, 0, factor)
	if low == high {
		r.constant -= low * factor
		return
	}
	r.slack, r.coefficient = len(t.low), -factor
	t.low, t.high = append(t.low, low), append(t.high, high)
}

// span bounds an expression over the box.
func (t *tableau) span(e expression) (low, high float64) {
	low = e.constant - math.Abs(e.volume)*t.box.slack
	high = e.constant + math.Abs(e.volume)*t.box.slack
	for j, v := range e.steps {
		a, b := v*t.box.lower[j], v*t.box.upper[j]
		low += min(a, b)
		high += max(a, b)
	}
	return low, high
}

// fill writes the rows into p, reusing its storage.
func (t *tableau) fill(p *leastsquares.Problem) {
	columns := len(t.low)
	p.Lower, p.Upper = t.low, t.high
	p.A, p.B = fillMatrix(p.A, p.B, t.aims, columns)
	p.G, p.H = fillMatrix(p.G, p.H, t.caps, columns)
}

// fillMatrix lays rows out as a matrix and right-hand side: coefficients · x
// against minus the constant.
func fillMatrix(m *leastsquares.Matrix, rhs []float64, rows []tableauRow, columns int) (*leastsquares.Matrix, []float64) {
	if m == nil {
		m = &leastsquares.Matrix{}
	}
	m.Rows, m.Cols = len(rows), columns
	size := len(rows) * columns
	if cap(m.Data) < size {
		m.Data = make([]float64, size)
	}
	m.Data = m.Data[:size]
	clear(m.Data)
	rhs = rhs[:0]
	for i := range rows {
		r := &rows[i]
		line := m.Data[i*columns : (i+1)*columns]
		copy(line, r.steps)
		line[len(r.steps)] = r.volume
		if r.slack >= 0 {
			line[r.slack] = r.coefficient
		}
		rhs = append(rhs, -r.constant)
	}
	return m, rhs
}

// numerator is p times its divisor over a box: a linear expression that p's
// true numerator stays within stray of. ok is false where p has none.
type numerator struct {
	expression
	stray     float64
	perVolume bool
	ok        bool
}

// total is the weighted sum of the amounts as an expression in the steps.
func (g *grid) total(weights *profile.State, steps []float64) expression {
	e := expression{constant: dot(weights, &g.mix) + dot(weights, &g.top), steps: steps}
	for j := range g.column {
		steps[j] = dot(weights, &g.column[j])
	}
	return e
}

// numeratorOf writes property p over the box.
func (g *grid) numeratorOf(t *tableau, p profile.Property, steps []float64) numerator {
	weights, perVolume, ok := p.Linear()
	switch {
	case ok:
		return numerator{expression: g.total(&weights, steps), perVolume: perVolume, ok: true}
	case p == profile.Sweetness:
		w := weights
		low, high := g.fructoseRange()
		w[profile.FructoseGrams] = 1000 * (low + high) / 2
		n := numerator{expression: g.total(&w, steps), perVolume: true, ok: true}
		if high > low {
			_, most := g.amountRange(t.box, profile.FructoseGrams)
			n.stray = 1000 * most * (high - low) / 2
		}
		return n
	case p == profile.Umami:
		// u V (1 + 121.8 v), v bounded by the nucleotides over the volume.
		least, most := g.amountRange(t.box, profile.NucleotidesMilligrams)
		vLow, vHigh := least/max(t.box.volumeHigh, math.SmallestNonzeroFloat64), 0.0
		if most > 0 {
			if t.box.volumeLow <= 0 {
				return numerator{}
			}
			vHigh = most / t.box.volumeLow
		}
		var w profile.State
		w[profile.GlutamicMilligrams] = profile.MSGPerGlutamicAcid * (1 + profile.UmamiSynergy*(vLow+vHigh)/2)
		n := numerator{expression: g.total(&w, steps), perVolume: true, ok: true}
		_, glutamic := g.amountRange(t.box, profile.GlutamicMilligrams)
		n.stray = profile.MSGPerGlutamicAcid * glutamic * profile.UmamiSynergy * (vHigh - vLow) / 2
		return n
	}
	return numerator{}
}

// amountRange bounds one component of the finished drink over the box.
func (g *grid) amountRange(b *box, c profile.Component) (least, most float64) {
	least = g.mix[c] + g.top[c]
	most = least
	for j := range g.column {
		least += g.column[j][c] * b.lower[j]
		most += g.column[j][c] * b.upper[j]
	}
	return least, most
}

// fructoseRange bounds the relative sweetness of fructose over all drinks of
// the problem, by the warmest and coldest that these can be.
func (g *grid) fructoseRange() (low, high float64) {
	low, _ = profile.FructoseSweetness(g.warmest)
	high, _ = profile.FructoseSweetness(g.coldest)
	return low, high
}

// addAim adds the rows of an aim, one for each edge.
func (g *grid) addAim(t *tableau, a *aim) {
	root := math.Sqrt(a.weight)
	if a.property == profile.Volume {
		t.aimEdges(a, t.volume, root, func(edge float64) (float64, float64) { return edge, edge })
		return
	}
	n := g.numeratorOf(t, a.property, g.spare())
	if !n.ok {
		return
	}
	if !n.perVolume {
		t.aimEdges(a, n.expression, root, func(edge float64) (float64, float64) { return edge - n.stray, edge + n.stray })
		return
	}
	if t.box.volumeHigh <= 0 {
		return
	}
	over := root / t.box.volumeHigh
	edges := []float64{a.low, a.high}
	if a.low == a.high || a.onLevels {
		edges = edges[:1]
	}
	for i, edge := range edges {
		if math.IsInf(edge, 0) {
			continue
		}
		e := t.minusVolume(n.expression, edge, g.spare())
		low, high := -n.stray, n.stray
		scale := a.scaleLow
		if len(edges) == 2 {
			// Beyond the edge on the band's side nothing is missed.
			least, most := t.span(e)
			if i == 0 {
				high = max(high, most+n.stray)
			} else {
				low, scale = min(low, least-n.stray), a.scaleHigh
			}
		} else if !a.onLevels {
			scale = max(a.scaleLow, a.scaleHigh)
		}
		t.aim(e, over/scale, low, high)
	}
}

// minusVolume is e - factor × volume.
func (t *tableau) minusVolume(e expression, factor float64, steps []float64) expression {
	out := expression{constant: e.constant - factor*t.volume.constant, volume: e.volume - factor, steps: steps}
	for j := range steps {
		steps[j] = e.steps[j] - factor*t.volume.steps[j]
	}
	return out
}

// aimEdges adds an aim at e itself.
func (t *tableau) aimEdges(a *aim, e expression, root float64, edge func(float64) (float64, float64)) {
	least, most := t.span(e)
	if a.low == a.high {
		low, high := edge(a.low)
		t.aim(e, root/a.scaleLow, low, high)
		return
	}
	if !math.IsInf(a.low, 0) {
		low, high := edge(a.low)
		t.aim(e, root/a.scaleLow, low, max(high, most))
	}
	if !math.IsInf(a.high, 0) {
		low, high := edge(a.high)
		t.aim(e, root/a.scaleHigh, min(low, least), high)
	}
}

// addLimit adds the caps of a limit, loosened by what counts as at it.
func (g *grid) addLimit(t *tableau, l *limit) {
	for _, side := range []struct{ edge, sign float64 }{{l.high, 1}, {l.low, -1}} {
		if math.IsInf(side.edge, 0) {
			continue
		}
		edge := side.edge + side.sign*2*tolerated*(1+math.Abs(side.edge))
		if l.property == profile.Volume {
			t.cap(t.volume, -edge, side.sign)
			continue
		}
		n := g.numeratorOf(t, l.property, g.spare())
		switch {
		case !n.ok:
		case n.perVolume:
			t.cap(t.minusVolume(n.expression, edge, g.spare()), -side.sign*n.stray, side.sign)
		default:
			t.cap(n.expression, -edge-side.sign*n.stray, side.sign)
		}
	}
}

// addRatio adds the caps of a ratio.
func (g *grid) addRatio(t *tableau, r *ratio) {
	for _, side := range []struct{ factor, sign float64 }{{r.high, 1}, {r.low, -1}} {
		if math.IsInf(side.factor, 0) {
			continue
		}
		e := expression{constant: r.numeratorFixed - side.factor*r.denominatorFixed, steps: g.spare()}
		room := r.numeratorFixed + r.denominatorFixed
		for j := range e.steps {
			e.steps[j] = r.numerator[j] - side.factor*r.denominator[j]
			room += (r.numerator[j] + r.denominator[j]) * t.box.upper[j]
		}
		t.cap(e, -side.sign*2*tolerated*(1+room), side.sign)
	}
}
