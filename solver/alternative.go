package solver

import (
	"cmp"
	"math"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// alternativesApart is by how many ingredients two alternatives differ at least:
// one exchanged for another.
const alternativesApart = 2

// alternatives looks for other sets of ingredients, each of them far enough from
// k and from those before: of those that taste like the target one of the fewest
// ingredients, else the nearest found. They are in the order of their distance
// from the target; none is proven to be the nearest.
func (w *work) alternatives(c *choice, reference []float64, k []int) ([]Alternative, error) {
	var out []Alternative
	taken := [][]int{support(k)}
	c.left = alternativeWork
	for len(out) < w.question.Alternatives {
		found, err := c.alternative(w.problem, reference, taken)
		if err != nil {
			return nil, err
		}
		if !found.Found {
			break
		}
		taken = append(taken, found.Support)
		x := steps(found.K)
		pours, _ := w.poured(x)
		var v profile.Values
		d := w.problem.drink(x)
		d.Evaluate(w.problem.wanted, &v, nil, nil)
		out = append(out, Alternative{pours, w.problem.totalJND(&v)})
	}
	slices.SortStableFunc(out, func(a, b Alternative) int { return cmp.Compare(a.TotalJND, b.TotalJND) })
	return out, nil
}

// alternative finds one more set.
func (c *choice) alternative(p *problem, reference []float64, taken [][]int) (leastsquares.ChoiceAnswer, error) {
	for most := 1; most <= c.most; most++ {
		found, err := c.search(p, reference, most, unlikeness*unlikeness*p.objectivePerJND(), 0, nil, taken)
		if err != nil || found.Found {
			return found, err
		}
	}
	return c.least(p, reference, allWork, taken)
}

// optionalAlternatives are those of a spec whose optional pours make the sets.
func (w *work) optionalAlternatives(reference []float64, k []int) ([]Alternative, error) {
	if w.question.Alternatives == 0 {
		return nil, nil
	}
	c := &choice{problem: w.problem}
	for j := range c.open {
		if c.open[j].optional {
			c.open[j].chosen = true
			c.most++
		} else {
			c.must = append(c.must, j)
		}
	}
	if c.most == 0 {
		return nil, nil
	}
	return w.alternatives(c, reference, k)
}

// support lists the pours that are not none.
func support(k []int) []int {
	var out []int
	for j, n := range k {
		if n > 0 {
			out = append(out, j)
		}
	}
	return out
}

// totalJND is the root of the summed squares of the misses in JND.
func (p *problem) totalJND(v *profile.Values) float64 {
	sum := 0.0
	for i := range p.aims {
		a := &p.aims[i]
		if j, ok := a.property.JND(); ok {
			got := v[a.property]
			miss := j.Level(got) - j.Level(min(max(got, a.low), a.high))
			sum += miss * miss
		}
	}
	return math.Sqrt(sum)
}
