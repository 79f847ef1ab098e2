package solver

import (
	"math"

	"minim/profile"
)

// problem is a spec as mathematics: what is fixed as a state, each open pour as
// a column, aims and limits on the finished drink.
type problem struct {
	ice  profile.Ice
	mix  profile.State // of the fixed pours
	top  profile.State
	open []pour
	// column is the state that one step of each open pour adds.
	column []profile.State
	aims   []aim
	limits []limit
	ratios []ratio
	// within are more hard limits: to taste like other drinks.
	within []ball
	wanted profile.PropertySet
	// amongAlike are aims that count only in choosing among drinks that taste
	// alike.
	amongAlike []aim
	// fullIsAlike lets any volume within its tolerance of the target pass for
	// alike, not just those close to the best.
	fullIsAlike bool
	// anyVolumeIsAlike lets every volume pass for the best one: of a jug there are
	// only more serves or fewer.
	anyVolumeIsAlike bool
}

// ratio keeps one total of pours between low and high times another; a fixed
// pour counts in the constants.
type ratio struct {
	numerator, denominator           []float64 // per step of each open pour, in base units
	numeratorFixed, denominatorFixed float64
	low, high                        float64
	written                          string
}

// newProblem gathers pours, aims and limits. Ratios are added by their reader.
func newProblem(ice profile.Ice, pours []pour, aims []aim, limits []limit) *problem {
	p := &problem{ice: ice, aims: aims, limits: limits}
	for _, one := range pours {
		switch {
		case !one.fixed:
			p.open = append(p.open, one)
			p.column = append(p.column, one.unit.Scale(one.step))
		case one.stage == OnTop:
			p.top = p.top.Add(one.unit.Scale(one.amount))
		default:
			p.mix = p.mix.Add(one.unit.Scale(one.amount))
		}
	}
	p.want()
	return p
}

// want notes which properties the aims and limits need.
func (p *problem) want() {
	p.wanted = 0
	for i := range p.aims {
		p.wanted = p.wanted.With(p.aims[i].property)
	}
	for i := range p.limits {
		p.wanted = p.wanted.With(p.limits[i].property)
	}
	for n := range p.within {
		for i := range p.within[n].aims {
			p.wanted = p.wanted.With(p.within[n].aims[i].property)
		}
	}
}

// with returns the same pours with other aims and limits.
func (p *problem) with(aims []aim, limits []limit) *problem {
	q := *p
	q.aims, q.limits = aims, limits
	q.want()
	return &q
}

// drink is the drink of x steps of each open pour.
func (p *problem) drink(x []float64) profile.Drink {
	d := profile.Drink{Mix: p.mix, Top: p.top, Ice: p.ice}
	for j := range p.open {
		if x[j] == 0 {
			continue
		}
		into := &d.Mix
		if p.open[j].stage == OnTop {
			into = &d.Top
		}
		for c, v := range &p.column[j] {
			into[c] += v * x[j]
		}
	}
	return d
}

// objective is F: the weighted squared distances of the aims.
func (p *problem) objective(v *profile.Values) float64 {
	sum := 0.0
	for i := range p.aims {
		a := &p.aims[i]
		r := a.distance(v[a.property])
		sum += a.weight * r * r
	}
	return sum
}

// violation is how far limits and ratios are broken together: the root of the
// summed squares, each in its own scale.
func (p *problem) violation(x []float64, v *profile.Values) float64 {
	sum := 0.0
	for i := range p.limits {
		b := p.limits[i].broken(v[p.limits[i].property])
		sum += b * b
	}
	for i := range p.ratios {
		b := p.ratios[i].broken(x)
		sum += b * b
	}
	for n := range p.within {
		b := p.within[n].outside(v)
		sum += b * b
	}
	return math.Sqrt(sum)
}

// ratioScale is the amount, in ml or g, by which a broken ratio counts one.
const ratioScale = 1.0

// broken is how far, in ml or g, the numerator is out of its range.
func (r *ratio) broken(x []float64) float64 {
	n, d := r.numeratorFixed, r.denominatorFixed
	for j := range x {
		n += r.numerator[j] * x[j]
		d += r.denominator[j] * x[j]
	}
	room := tolerated * (1 + n + d)
	switch {
	case n < r.low*d-room:
		return (r.low*d - n) / ratioScale
	case n > r.high*d+room:
		return (n - r.high*d) / ratioScale
	}
	return 0
}

// steps turns whole steps into reals.
func steps(k []int) []float64 {
	x := make([]float64, len(k))
	for j := range k {
		x[j] = float64(k[j])
	}
	return x
}
