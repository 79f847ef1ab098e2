package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// continuum presents a problem in real amounts, counted in steps. Its values
// are the properties that aims and limits need, a row for each edge of a band
// and each limit.
type continuum struct {
	*problem
	row      []profile.Property
	mix, top *profile.Gradients
}

// Values implements leastsquares.NonlinearModel.
func (c *continuum) Values(x, value []float64, jacobian *leastsquares.Matrix) {
	d := c.drink(x)
	var v profile.Values
	if jacobian == nil {
		d.Evaluate(c.wanted, &v, nil, nil)
	} else {
		d.Evaluate(c.wanted, &v, c.mix, c.top)
	}
	for i, p := range c.row {
		value[i] = v[p]
		if jacobian == nil {
			continue
		}
		for j := range c.open {
			gradient := &c.mix[p]
			if c.open[j].stage == OnTop {
				gradient = &c.top[p]
			}
			jacobian.Set(i, j, dot(gradient, &c.column[j]))
		}
	}
}

// continuous finds the least F over real amounts near each start, and returns
// the best: among those that break no limit the least F, else the least
// violation.
func (p *problem) continuous(starts [][]float64) (leastsquares.NonlinearSolution, error) {
	q, c := p.nonlinear()
	var best leastsquares.NonlinearSolution
	for i, start := range starts {
		q.Start = start
		s, err := leastsquares.SolveNonlinear(q)
		if err != nil {
			return s, err
		}
		if i == 0 || better(&s, &best) {
			best = s
		}
	}
	best.LimitMultiplier = best.LimitMultiplier[len(c.row)-len(p.limits):]
	return best, nil
}

// better tells whether a is a better continuous answer than b, by more than
// round-off.
func better(a, b *leastsquares.NonlinearSolution) bool {
	const met = 1e-7
	va, vb := max(a.Violation-met, 0), max(b.Violation-met, 0)
	if va != vb {
		return va < vb
	}
	return a.Objective < b.Objective-1e-12*(1+b.Objective)
}

// nonlinear writes the problem in reals: aim rows first, then a row a limit.
func (p *problem) nonlinear() (leastsquares.NonlinearProblem, *continuum) {
	c := &continuum{problem: p, mix: new(profile.Gradients), top: new(profile.Gradients)}
	var q leastsquares.NonlinearProblem
	most := 2*len(p.aims) + len(p.limits)
	c.row = make([]profile.Property, 0, most)
	for _, list := range []*[]float64{&q.Low, &q.High, &q.Scale, &q.Weight, &q.LimitLow, &q.LimitHigh, &q.LimitScale} {
		*list = make([]float64, 0, most)
	}
	aim := func(property profile.Property, low, high, scale, weight float64) {
		c.row = append(c.row, property)
		q.Low, q.High = append(q.Low, low), append(q.High, high)
		q.Scale, q.Weight = append(q.Scale, scale), append(q.Weight, weight)
		q.LimitLow, q.LimitHigh = append(q.LimitLow, math.Inf(-1)), append(q.LimitHigh, math.Inf(1))
		q.LimitScale = append(q.LimitScale, 1)
	}
	for i := range p.aims {
		a := &p.aims[i]
		if a.low == a.high {
			aim(a.property, a.low, a.high, a.scaleLow, a.weight)
			continue
		}
		if !math.IsInf(a.low, 0) {
			aim(a.property, a.low, math.Inf(1), a.scaleLow, a.weight)
		}
		if !math.IsInf(a.high, 0) {
			aim(a.property, math.Inf(-1), a.high, a.scaleHigh, a.weight)
		}
	}
	for i := range p.limits {
		l := &p.limits[i]
		aim(l.property, 0, 0, 1, 0)
		last := len(c.row) - 1
		q.LimitLow[last], q.LimitHigh[last], q.LimitScale[last] = l.low, l.high, l.scale
	}
	q.Model = c
	q.Lower, q.Upper = make([]float64, len(p.open)), make([]float64, len(p.open))
	for j := range p.open {
		q.Lower[j], q.Upper[j] = float64(p.open[j].low), float64(p.open[j].high)
		if p.open[j].optional {
			q.Lower[j] = 0
		}
	}
	q.G, q.H = p.ratioRows()
	return q, c
}

// ratioRows writes the ratios as rows of G x <= H.
func (p *problem) ratioRows() (*leastsquares.Matrix, []float64) {
	var rows, h []float64
	for i := range p.ratios {
		r := &p.ratios[i]
		for _, side := range []struct{ factor, sign float64 }{{r.high, 1}, {r.low, -1}} {
			if math.IsInf(side.factor, 0) {
				continue
			}
			for j := range p.open {
				rows = append(rows, side.sign*(r.numerator[j]-side.factor*r.denominator[j]))
			}
			h = append(h, -side.sign*(r.numeratorFixed-side.factor*r.denominatorFixed))
		}
	}
	if len(h) == 0 {
		return nil, nil
	}
	return &leastsquares.Matrix{Rows: len(h), Cols: len(p.open), Data: rows}, h
}

// starts returns points to begin from: an equal share of volume for each open
// pour, and each pour's middle.
func (p *problem) starts(volume float64) [][]float64 {
	share, middle := make([]float64, len(p.open)), make([]float64, len(p.open))
	for j := range p.open {
		o := &p.open[j]
		low, high := float64(o.low), float64(o.high)
		if o.optional {
			low = 0
		}
		amount := volume / float64(len(p.open)+1)
		if o.ingredient.Solid {
			amount /= 20
		}
		share[j] = min(max(amount/o.step, low), high)
		middle[j] = (low + high) / 2
	}
	return [][]float64{share, middle}
}
