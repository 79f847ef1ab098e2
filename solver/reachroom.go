package solver

import (
	"math"
	"math/rand/v2"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// room is a set of drinks: those that keep the limits and ratios of a problem,
// with each open pour between lower and upper.
type room struct {
	problem      *problem
	lower, upper []float64 // in steps
	// none is, for each pour that is none or at least so many steps, that number;
	// 0 for the others.
	none []float64
}

func newRoom(p *problem) *room {
	n := len(p.open)
	r := &room{problem: p, lower: make([]float64, n), upper: make([]float64, n), none: make([]float64, n)}
	for j := range p.open {
		o := &p.open[j]
		r.lower[j], r.upper[j] = o.least/o.step, o.most/o.step
		if o.optional {
			r.none[j], r.lower[j] = r.lower[j], 0
		}
	}
	return r
}

// holding is the room in which the aims, but for that at one property, are held
// as limits after those of r.
func (r *room) holding(aims []aim, but profile.Property) *room {
	limits := slices.Clone(r.problem.limits)
	for i := range aims {
		if aims[i].property != but {
			limits = append(limits, heldWithin(&aims[i]))
		}
	}
	held := *r
	held.problem = r.problem.with(nil, limits)
	return &held
}

// heldWithin keeps an aim to one JND either way of its target, a volume to its
// tolerance, and to the written ± where there is one.
func heldWithin(a *aim) limit {
	l := limit{property: a.property, low: a.low - a.scaleLow, high: a.high + a.scaleHigh, written: a.property.Name()}
	j, ok := a.property.JND()
	if ok && a.scaleLow == j.Size(a.low) && a.scaleHigh == j.Size(a.high) {
		l.low, l.high = j.At(j.Level(a.low)-1), j.At(j.Level(a.high)+1)
	}
	l.scale = max(a.scaleLow, a.scaleHigh)
	return l
}

// values are the properties of the drink of x that the room's limits need, and
// those wanted besides.
func (r *room) values(x []float64, wanted profile.PropertySet) profile.Values {
	var v profile.Values
	d := r.problem.drink(x)
	d.Evaluate(r.problem.wanted|wanted, &v, nil, nil)
	return v
}

// holds tells whether the drink of x, whose properties are v, is in the room, as
// closely as the solver keeps limits.
func (r *room) holds(x []float64, v *profile.Values) bool {
	for j := range x {
		if x[j] < r.lower[j] || x[j] > r.upper[j] {
			return false
		}
	}
	return r.split(x) < 0 && r.problem.violation(x, v) <= brokenByMore
}

// split is a pour of x that is more than none and less than its least, or -1.
func (r *room) split(x []float64) int {
	for j := range x {
		if x[j] > 0 && x[j] < r.none[j]*(1-roundOff) {
			return j
		}
	}
	return -1
}

// bounded is the room with other bounds of one pour.
func (r *room) bounded(j int, lower, upper float64) *room {
	b := *r
	b.lower, b.upper = slices.Clone(r.lower), slices.Clone(r.upper)
	b.lower[j], b.upper[j] = lower, upper
	return &b
}

// nearest is the drink that breaks the limits least and, of these, misses the
// aims least, near one of the starts.
func (r *room) nearest(aims []aim, starts [][]float64) (leastsquares.NonlinearSolution, error) {
	var best leastsquares.NonlinearSolution
	for i, start := range starts {
		s, err := r.solve(aims, start)
		if err != nil {
			return s, err
		}
		if i == 0 || better(&s, &best) {
			best = s
		}
	}
	return best, nil
}

// solve misses the aims least within the room, near a start.
func (r *room) solve(aims []aim, start []float64) (leastsquares.NonlinearSolution, error) {
	q, _ := r.problem.with(aims, r.problem.limits).nonlinear()
	q.Lower, q.Upper, q.Start = r.lower, r.upper, start
	return leastsquares.SolveNonlinear(q)
}

// drawnStarts is how many drawn drinks a search begins from, besides an equal
// share of each pour, the middle of each, and the drink nearest to the targets.
const drawnStarts = 3

// seeds of the drawn drinks: the same question draws the same.
const (
	firstSeed  = 20
	secondSeed = 1806
)

// draw returns n drinks with amounts between the bounds. One amount in four is at
// an end, and the room's limits may be broken.
func (r *room) draw(n int) [][]float64 {
	random := rand.New(rand.NewPCG(firstSeed, secondSeed))
	drawn := make([][]float64, n)
	for i := range drawn {
		x := make([]float64, len(r.lower))
		share := math.Pow(random.Float64(), 2)
		for j := range x {
			at := share * random.Float64()
			switch random.IntN(8) {
			case 0:
				at = 0
			case 1:
				at = 1
			}
			x[j] = r.lower[j] + at*(r.upper[j]-r.lower[j])
		}
		drawn[i] = x
	}
	return drawn
}
