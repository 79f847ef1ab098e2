package solver

import (
	"math"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// unlikeness is the radius, in JND, of the drinks that no taster could tell
// from the best: the root of the summed squares over the aimed properties.
const unlikeness = 0.25

// alikeVolume is how far, as a part, the volume may be off the best's.
const alikeVolume = 0.01

// untargetedRoom is how many JND above the least reachable a taste that nobody
// aimed at may be.
const untargetedRoom = 1.0

// quietTastes are the tastes that come out low where nobody asked for them, and
// the level at which each is as loud as the others in a drink, in its own unit:
// common practice, no source.
var quietTastes = []struct {
	taste profile.Property
	loud  float64
}{{profile.Salt, 1}, {profile.Bitter, 10}, {profile.Umami, 0.5}, {profile.Acid, 5}, {profile.Sugar, 50}}

// ball is the set of drinks that taste like one of given values, up to radius
// JND.
type ball struct {
	aims   []aim
	radius float64
}

// outside is how far beyond the radius the values are, in JND.
func (b *ball) outside(v *profile.Values) float64 {
	sum := 0.0
	for i := range b.aims {
		a := &b.aims[i]
		d := a.distance(v[a.property])
		sum += d * d
	}
	return max(0, math.Sqrt(sum)-b.radius*(1+tolerated))
}

// alike returns the problem of getting as near as can be to a drink of values
// v, among those that nobody can tell from it.
func (p *problem) alike(v *profile.Values) *problem {
	var aims []aim
	limits := slices.Clone(p.limits)
	hold := func(property profile.Property, low, high float64) {
		limits = append(limits, limit{property: property, low: low, high: high, scale: sizeAt(property, v[property])})
	}
	for i := range p.aims {
		a := &p.aims[i]
		value := v[a.property]
		switch j, ok := a.property.JND(); {
		case a.property == profile.Volume:
			continue
		case ok:
			low, high := j.At(j.Level(value)-unlikeness), j.At(j.Level(value)+unlikeness)
			aims = append(aims, aim{
				property: a.property, low: value, high: value, weight: 1, onLevels: true,
				scaleLow: j.Size(max(math.Abs(low), math.Abs(high))),
			})
			hold(a.property, low, high)
		default:
			aims = append(aims, aim{property: a.property, low: value, high: value, weight: 1, scaleLow: a.scaleLow, scaleHigh: a.scaleLow})
			hold(a.property, value-unlikeness*a.scaleLow, value+unlikeness*a.scaleLow)
		}
	}
	volume := v[profile.Volume]
	low, high := volume*(1-alikeVolume), volume*(1+alikeVolume)
	if a := p.aimAt(profile.Volume); a != nil && p.fullIsAlike {
		low, high = min(low, a.low*(1-volumeTolerance)), max(high, a.high*(1+volumeTolerance))
	}
	if !p.anyVolumeIsAlike {
		hold(profile.Volume, low, high)
	}
	q := p.with(append(slices.Clone(aims), p.amongAlike...), limits)
	q.within = append(slices.Clone(p.within), ball{aims, unlikeness})
	q.want()
	return q
}

// preferred is the outcome of choosing among drinks that taste alike.
type preferred struct {
	k      []int
	nodes  int
	proven bool
	// among are the limits that these drinks keep, size the number of optional
	// ingredients; among is nil where none was found.
	among *problem
	size  int
}

// prefer chooses among the drinks that no taster could tell from the best: the
// tastes that nobody aimed at near their least, then the fewest
// ingredients, then the nearest to the best, then the order of names.
func (p *problem) prefer(best []int, budget int) (preferred, error) {
	out := preferred{k: best, proven: true}
	var values profile.Values
	d := p.drink(steps(best))
	d.Evaluate(profile.AllProperties, &values, nil, nil)
	q := p.alike(&values)

	quietest, err := q.quieten(p, best, budget/2)
	if err != nil {
		return out, err
	}
	out.nodes += quietest.Nodes
	out.proven = out.proven && quietest.Proven
	chosen, err := q.fewest(best, budget-quietest.Nodes)
	if err != nil {
		return out, err
	}
	out.nodes += chosen.nodes
	out.proven = out.proven && chosen.proven
	if chosen.k != nil {
		out.k, out.among, out.size = chosen.k, q, chosen.size
	}
	return out, nil
}

// aimsAt tells whether some aim is at property t.
func (p *problem) aimsAt(t profile.Property) bool { return p.aimAt(t) != nil }

// aimAt is the aim at property t, or nil.
func (p *problem) aimAt(t profile.Property) *aim {
	for i := range p.aims {
		if p.aims[i].property == t {
			return &p.aims[i]
		}
	}
	return nil
}

// touches tells whether some open pour brings any of a taste.
func (p *problem) touches(t profile.Property) bool {
	return slices.ContainsFunc(p.column, func(s profile.State) bool {
		d := profile.Drink{Mix: s}
		var v profile.Values
		d.Evaluate(profile.PropertySet(0).With(t), &v, nil, nil)
		return v[t] > 0
	})
}

// quieten finds the drink of p with the least of the tastes that asked aims not
// at, by the summed squares of their loudness, limits each of them to
// untargetedRoom above what it has there, and makes them count in what remains
// to be chosen.
func (p *problem) quieten(asked *problem, start []int, budget int) (leastsquares.GridAnswer, error) {
	var tastes []aim
	for _, quiet := range quietTastes {
		taste := quiet.taste
		if asked.aimsAt(taste) || taste == profile.Sugar && asked.aimsAt(profile.Sweetness) || !asked.touches(taste) {
			continue
		}
		tastes = append(tastes, aim{property: taste, weight: 1, scaleLow: quiet.loud, scaleHigh: quiet.loud})
	}
	if len(tastes) == 0 {
		return leastsquares.GridAnswer{K: start, Proven: true}, nil
	}
	g := newGrid(p.with(tastes, p.limits))
	answer, err := leastsquares.SolveGrid(g, leastsquares.GridOptions{
		NodeLimit: budget, Semicontinuous: g.Semicontinuous(), Incumbents: [][]int{start},
	})
	if err != nil || !answer.Found {
		return answer, err
	}
	var values profile.Values
	d := p.drink(steps(answer.K))
	d.Evaluate(profile.AllProperties, &values, nil, nil)
	for _, a := range tastes {
		j, _ := a.property.JND()
		level := j.At(j.Level(values[a.property]) + untargetedRoom)
		p.limits = append(p.limits, limit{property: a.property, low: math.Inf(-1), high: level, scale: j.Size(level)})
	}
	p.aims = append(slices.Clone(p.aims), tastes...)
	p.want()
	return answer, nil
}

// fewest finds, for rising numbers of optional ingredients (water not counted),
// the drink nearest to the best and quietest in what nobody asked for, and stops
// at the first number that has one.
func (p *problem) fewest(best []int, budget int) (preferred, error) {
	var out preferred
	out.proven = true
	counted := p.counted()
	for size := 0; size <= len(counted) && out.k == nil; size++ {
		cutoff := beyondTaste
		for subset := firstSubset(size); subset != nil; subset = nextSubset(subset, len(counted)) {
			if out.nodes >= budget {
				out.proven = false
				return out, nil
			}
			g := newGrid(p)
			g.pourOnly(counted, subset)
			answer, err := leastsquares.SolveGrid(g, leastsquares.GridOptions{
				NodeLimit: budget - out.nodes, Semicontinuous: g.Semicontinuous(), Incumbents: [][]int{best}, Cutoff: cutoff,
			})
			if err != nil {
				return out, err
			}
			out.nodes += answer.Nodes
			out.proven = out.proven && answer.Proven
			if answer.Found && answer.Violation == 0 && (out.k == nil || answer.Objective < cutoff-tolerated*(1+cutoff)) {
				out.k, out.size, cutoff = answer.K, size, max(answer.Objective, math.SmallestNonzeroFloat64)
			}
		}
	}
	return out, nil
}

// counted lists the open pours that count as ingredients which could be left
// out, in the order of names.
func (p *problem) counted() []int {
	var counted []int
	for j := range p.open {
		if p.open[j].optional && !p.open[j].original && !p.open[j].isWater() {
			counted = append(counted, j)
		}
	}
	slices.SortFunc(counted, func(a, b int) int { return compareNames(&p.open[a], &p.open[b]) })
	return counted
}

// pourOnly leaves out the optional pours that are not in the subset of those
// counted, and demands the others.
func (g *grid) pourOnly(counted, subset []int) {
	for i, j := range counted {
		if slices.Contains(subset, i) {
			g.root.Lower[j] = max(g.root.Lower[j], 1)
		} else {
			g.root.Upper[j] = 0
		}
	}
}

// beyondTaste is more than the summed squares of all levels of any drink; a
// finite cutoff keeps a search without an answer from looking for the least
// violation.
const beyondTaste = 1e9

// firstSubset is the first subset of a size, by rising indices.
func firstSubset(size int) []int {
	subset := make([]int, size)
	for i := range subset {
		subset[i] = i
	}
	return subset
}

// nextSubset moves to the next subset of 0..n-1 in lexicographic order, or nil.
func nextSubset(subset []int, n int) []int {
	size := len(subset)
	for i := size - 1; i >= 0; i-- {
		if subset[i] < n-size+i {
			subset[i]++
			for j := i + 1; j < size; j++ {
				subset[j] = subset[j-1] + 1
			}
			return subset
		}
	}
	return nil
}
