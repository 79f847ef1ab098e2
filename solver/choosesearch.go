package solver

import (
	"math"
	"slices"

	"minim/profile"
	"minim/solver/leastsquares"
)

// search chooses at most so many ingredients for the least objective below the
// cutoff; p is the problem of the choice with its own aims and limits. Work of 0
// asks for a good answer only.
//
// Nucleotides multiply the savour of the rest, so that drinks without any, of
// which the surrogate knows the umami, are searched apart from those with each.
func (c *choice) search(p *problem, reference []float64, most int, cutoff float64, pairs int, first, taken [][]int) (leastsquares.ChoiceAnswer, error) {
	allowed := make([]bool, len(p.open))
	var savour []int
	for j := range allowed {
		allowed[j] = true
		if p.aimsAt(profile.Umami) && p.column[j][profile.NucleotidesMilligrams] > 0 {
			savour = append(savour, j)
		}
	}
	for _, j := range savour {
		allowed[j] = false
	}
	best, err := c.searchAmong(p, allowed, c.must, reference, most, cutoff, pairs, first, taken)
	for n := 0; n < len(savour) && err == nil; n++ {
		j := savour[n]
		allowed[j] = true
		if most == 0 {
			break
		}
		must := append(slices.Clone(c.must), j)
		slices.Sort(must)
		var other leastsquares.ChoiceAnswer
		other, err = c.searchAmong(p, allowed, slices.Compact(must), reference, most, min(cutoff, best.Objective), pairs, first, taken)
		other.Bound, other.Proven = min(best.Bound, other.Bound), best.Proven && other.Proven
		other.Nodes += best.Nodes
		if other.Found && (!best.Found || other.Objective < best.Objective-tolerated*(1+best.Objective)) {
			best = other
		} else {
			best.Bound, best.Proven, best.Nodes = other.Bound, other.Proven, other.Nodes
		}
	}
	return best, err
}

// searchAmong is search over some of the columns.
func (c *choice) searchAmong(whole *problem, allowed []bool, must []int, reference []float64, most int, cutoff float64, pairs int, first, taken [][]int) (leastsquares.ChoiceAnswer, error) {
	none := leastsquares.ChoiceAnswer{Objective: math.Inf(1), Bound: math.Inf(1), Proven: true}
	var columns []int
	place := make([]int, len(allowed))
	for j := range allowed {
		place[j] = -1
		reachable := allowed[j] && whole.highest(j, cutoff) >= max(whole.open[j].low, 1)
		if reachable || slices.ContainsFunc(taken, func(t []int) bool { return slices.Contains(t, j) }) {
			place[j] = len(columns)
			columns = append(columns, j)
		}
	}
	p := whole.only(columns)
	x := make([]float64, len(columns))
	for n, j := range columns {
		x[n] = reference[j]
	}
	s, ok := p.surrogateAt(x, cutoff, pairs == 0)
	if !ok {
		return none, ErrNoVolume
	}
	q := leastsquares.ChoiceProblem{
		A: s.a, B: s.b, Scale: s.scale, Offset: s.offset, Most: most,
		Upper: make([]int, len(columns)), Least: make([]int, len(columns)), Counted: make([]bool, len(columns)),
		Evaluate: p.chosenObjective, Decode: p.chosenSteps,
	}
	if q.Must, ok = placed(must, place); !ok {
		return none, nil
	}
	for _, g := range c.groups {
		// Of a group that must have its say some may be out of reach.
		group, _ := placed(g.Columns, place)
		if len(group) == 0 {
			return none, nil
		}
		q.Groups = append(q.Groups, leastsquares.ChoiceGroup{Columns: group, Exactly: true})
	}
	for n, j := range columns {
		q.Least[n], q.Counted[n] = whole.open[j].low, whole.open[j].chosen
		if allowed[j] {
			q.Upper[n] = max(whole.highest(j, cutoff), 0)
		}
	}
	if c.cost != nil {
		q.G, q.H = leastsquares.NewMatrix(1, len(columns)), []float64{c.room}
		for n, j := range columns {
			q.G.Set(0, n, c.cost[j])
		}
	}
	o := leastsquares.ChoiceOptions{Budget: min(pairs, c.left), QuickBudget: c.quickShare(), Workers: choiceWorkers, Cutoff: cutoff, Incumbents: narrowed(first, columns)}
	var answer leastsquares.ChoiceAnswer
	var err error
	if taken != nil {
		var supports [][]int
		for _, t := range taken {
			inside, _ := placed(t, place)
			supports = append(supports, inside)
		}
		answer, err = leastsquares.Alternatives(q, o, supports, alternativesApart)
	} else {
		answer, err = leastsquares.SolveChoice(q, o)
	}
	c.left = max(c.left-answer.Work, 0)
	if answer.K != nil {
		k := make([]int, len(whole.open))
		for n, j := range columns {
			k[j] = answer.K[n]
		}
		answer.K, answer.Support = k, support(k)
	}
	return answer, err
}

// placed turns columns into their places; ok is false where one has none.
func placed(columns, place []int) (out []int, ok bool) {
	ok = true
	for _, j := range columns {
		if place[j] < 0 {
			ok = false
			continue
		}
		out = append(out, place[j])
	}
	return out, ok
}

// narrowed takes the columns out of vectors of which nothing else is not 0.
func narrowed(vectors [][]int, columns []int) [][]int {
	var out [][]int
	for _, v := range vectors {
		inside, left := make([]int, len(columns)), len(support(v))
		for n, j := range columns {
			if inside[n] = v[j]; v[j] != 0 {
				left--
			}
		}
		if left == 0 {
			out = append(out, inside)
		}
	}
	return out
}
