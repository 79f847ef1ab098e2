package solver

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// ErrNoVolume is returned where ingredients are to be chosen and no volume is
// aimed at: the volume is what makes amounts comparable.
var ErrNoVolume = errors.New("ingredients are to be chosen but no volume is aimed at; expected a target such as `volume: 150 ml`")

// firstCutoffs are how far off, as F, drinks are looked at, the near ones first.
var firstCutoffs = []float64{1, 9, 100, lastCutoff}

// Limits of the search over ingredients: how far off drinks are looked at at
// all, and how much work is done for one number of ingredients, as pairs of
// ingredients tried: some seconds.
const (
	lastCutoff    = 1e4
	choicePairs   = 2_000_000_000
	choiceWorkers = 2
)

// nearEnough is the F, an eighth of a JND in all and half of unlikeness, from
// which on no other drink could be told to be nearer to the target: the target
// itself then takes the place of the nearest drink.
const nearEnough = 0.015625

// choice is the search for ingredients over one problem.
type choice struct {
	*problem
	most   int
	must   []int
	groups []leastsquares.ChoiceGroup
	// cost is that of a step of each open pour, room what is left for them; nil
	// where it does not matter.
	cost []float64
	room float64
}

// Chosen says how the ingredients of an answer were chosen.
type Chosen struct {
	// Offered is how many ingredients there were, AtMost how many of them were
	// allowed, Count how many were taken.
	Offered, AtMost, Count int
	// Nearest is the F of the nearest drink of at most AtMost, and NearestProven
	// that no drink is nearer than that or than an eighth of a JND in all.
	Nearest       float64
	NearestProven bool
	// FewestProven says that no drink of fewer tastes like the nearest one.
	FewestProven bool
	// Cost is that of the liquid of a serve where a most was asked for, in
	// Currency; 0 otherwise.
	Cost     float64
	Currency string
}

// newChoice reads the conditions of the spec as columns of the problem.
func (w *work) newChoice(choose *pantry.Choose) (*choice, error) {
	c := &choice{problem: w.problem, most: choose.AtMost}
	columns := func(names []string) ([]int, error) {
		list, err := w.named(names, false)
		var out []int
		for _, i := range list {
			if j := slices.IndexFunc(c.open, func(p pour) bool { return p.ingredient == i }); j >= 0 && !slices.Contains(out, j) {
				out = append(out, j)
			}
		}
		return out, err
	}
	must, err := columns(choose.Must)
	if err != nil {
		return nil, err
	}
	c.must = must
	for j := range c.open {
		if !c.open[j].optional && !slices.Contains(c.must, j) {
			c.must = append(c.must, j)
		}
	}
	slices.Sort(c.must)
	for _, names := range choose.OneOf {
		group, err := columns(names)
		if err != nil {
			return nil, err
		}
		c.groups = append(c.groups, leastsquares.ChoiceGroup{Columns: group, Exactly: true})
	}
	if choose.MostCost > 0 {
		return c, w.capCost(c, choose)
	}
	return c, nil
}

// capCost limits what the drink may cost.
func (w *work) capCost(c *choice, choose *pantry.Choose) error {
	c.room, c.cost = choose.MostCost, nil
	for n := range w.pours {
		p := &w.pours[n]
		price, ok := p.ingredient.PricePerUnit()
		switch {
		case p.isWater():
			price = 0
		case !ok:
			return pantry.InputErrors{w.question.Spec.ErrorAt(p.written.Place, p.written.Name+" has no price, and the cost is limited; expected its price and pack in a CSV of your own", "")}
		}
		if p.fixed {
			c.room -= price * p.amount
		} else {
			c.cost = append(c.cost, price*p.step)
		}
	}
	return nil
}

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
		if other.Objective < best.Objective-tolerated*(1+best.Objective) {
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
	o := leastsquares.ChoiceOptions{Budget: pairs, Workers: choiceWorkers, Cutoff: cutoff, Incumbents: narrowed(first, columns)}
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

// choose answers a question that leaves the ingredients open: the nearest drink
// of at most so many of them; then, among the drinks that no taster could tell
// from that one, the fewest ingredients and of these the nearest. Tastes that
// nobody aims at are held to one JND above none.
func (w *work) choose() (*Answer, error) {
	choose := w.question.Spec.Choose
	if !w.problem.aimsAt(profile.Volume) {
		return nil, ErrNoVolume
	}
	c, err := w.newChoice(choose)
	if err != nil {
		return nil, err
	}
	asked := w.problem
	w.problem = asked.with(asked.aims, append(slices.Clone(asked.limits), asked.quietLimits()...))
	best, reference, err := w.chooseLeast(c)
	if err != nil {
		return nil, err
	}
	if !best.Found && len(w.problem.limits) > len(asked.limits) {
		w.problem = asked
		if best, reference, err = w.chooseLeast(c); err != nil {
			return nil, err
		}
	}
	if !best.Found {
		return nil, pantry.InputErrors{w.question.Spec.ErrorAt(choose.Place, fmt.Sprintf("no %d ingredients make a drink within the limits; expected more of them, or wider limits", choose.AtMost), "")}
	}
	final, fewestProven, err := w.chooseFewest(c, best, reference)
	if err != nil {
		return nil, err
	}
	if w.others, err = w.alternatives(c, reference, final.K); err != nil {
		return nil, err
	}
	near := best.Objective <= nearEnough
	w.choice = &Chosen{
		AtMost: choose.AtMost, Count: c.count(final.Support), Nearest: best.Objective,
		NearestProven: best.Proven || near, FewestProven: fewestProven,
	}
	for j := range c.open {
		if c.open[j].chosen {
			w.choice.Offered++
		}
	}
	if c.cost != nil {
		w.choice.Cost = choose.MostCost - c.room
		for _, j := range final.Support {
			w.choice.Cost += c.cost[j] * float64(final.K[j])
			if w.choice.Currency == "" {
				w.choice.Currency = c.open[j].ingredient.Currency
			}
		}
	}
	return w.chosenAnswer(asked, final.K, Solution{
		Least: min(best.Objective, final.Objective), Bound: best.Bound, Proven: w.choice.NearestProven,
		PreferenceProven: w.choice.NearestProven && fewestProven, Nodes: best.Nodes + final.Nodes,
	})
}

// count is how many of the columns were offered for choice.
func (c *choice) count(columns []int) int {
	n := 0
	for _, j := range columns {
		if c.open[j].chosen {
			n++
		}
	}
	return n
}

// chooseLeast finds the nearest drink, and the continuous optimum over all that
// is offered, which the surrogate touches.
func (w *work) chooseLeast(c *choice) (leastsquares.ChoiceAnswer, []float64, error) {
	p := w.problem
	continuous, err := p.continuous(p.starts(w.volume)[:1])
	if err != nil {
		return leastsquares.ChoiceAnswer{}, nil, err
	}
	best, err := c.least(p, continuous.X, choicePairs, nil)
	return best, continuous.X, err
}

// least chooses the least objective, besides the sets that are taken: a quick
// answer gives the cutoff below which every set is ruled out or tried. A quick
// answer that is near enough is taken as it is.
func (c *choice) least(p *problem, reference []float64, pairs int, taken [][]int) (best leastsquares.ChoiceAnswer, err error) {
	for _, cutoff := range firstCutoffs {
		// Fewer ingredients are fewer to look through, and sometimes enough.
		for most := c.most; most > 0 && (most > c.most-3 || !best.Found); most-- {
			quick, err := c.search(p, reference, most, cutoff, 0, nil, taken)
			if err != nil || quick.Found && quick.Objective <= nearEnough {
				return quick, err
			}
			if quick.Found && (!best.Found || quick.Objective < best.Objective) {
				best = quick
			}
		}
		if best.Found {
			return c.search(p, reference, c.most, best.Objective*(1+1e-6)+1e-9, pairs, [][]int{best.K}, taken)
		}
	}
	return c.search(p, reference, c.most, lastCutoff, pairs, nil, taken)
}

// chooseFewest looks for fewer ingredients among the drinks that taste like the
// best or, where that is near enough, like the target.
func (w *work) chooseFewest(c *choice, best leastsquares.ChoiceAnswer, reference []float64) (final leastsquares.ChoiceAnswer, proven bool, err error) {
	near := best.Objective <= nearEnough
	p, cutoff := w.problem, unlikeness*unlikeness
	if !near {
		p, cutoff = w.problem.alikeInVolume(best.K), 2*unlikeness*unlikeness
		reference = steps(best.K)
	}
	cutoff *= 1 + tolerated
	counted, proven := c.count(best.Support), true
	for most := 0; most < counted; most++ {
		fewer, err := c.search(p, reference, most, cutoff, choicePairs, nil, nil)
		if err != nil {
			return best, false, err
		}
		if fewer.Found {
			return fewer, proven && fewer.Proven, nil
		}
		proven = proven && fewer.Proven
	}
	return best, proven, nil
}

// alikeInVolume is the problem of getting as near as can be to a drink, its
// volume included, among those that nobody can tell from it.
func (p *problem) alikeInVolume(k []int) *problem {
	var values profile.Values
	d := p.drink(steps(k))
	d.Evaluate(profile.AllProperties, &values, nil, nil)
	q := p.alike(&values)
	volume := values[profile.Volume]
	one := volume * alikeVolume / unlikeness
	return q.with(append(slices.Clone(q.aims), aim{property: profile.Volume, low: volume, high: volume, scaleLow: one, scaleHigh: one, weight: 1}), q.limits)
}

// quietLimits hold each taste that nobody aims at or limits to one JND above
// none: of a whole shelf, none is what can be had.
func (p *problem) quietLimits() []limit {
	var limits []limit
	for _, quiet := range quietTastes {
		taste := quiet.taste
		limited := slices.ContainsFunc(p.limits, func(l limit) bool { return l.property == taste })
		if p.aimsAt(taste) || limited || taste == profile.Sugar && p.aimsAt(profile.Sweetness) {
			continue
		}
		j, _ := taste.JND()
		level := j.At(untargetedRoom)
		limits = append(limits, limit{property: taste, low: math.Inf(-1), high: level, scale: j.Size(level)})
	}
	return limits
}

// chosenAnswer narrows the work to the ingredients of k and answers with them.
func (w *work) chosenAnswer(asked *problem, k []int, s Solution) (*Answer, error) {
	narrow, amounts := asked.only(support(k)), []int(nil)
	var pours []pour
	open := 0
	for n := range w.pours {
		if !w.pours[n].fixed {
			open++
			if k[open-1] == 0 {
				continue
			}
			amounts = append(amounts, k[open-1])
		}
		pours = append(pours, w.pours[n])
	}
	w.pours, w.problem = pours, narrow
	continuous, err := narrow.continuous(append(narrow.starts(w.volume), steps(amounts)))
	if err != nil {
		return nil, err
	}
	s.KKT = continuous.KKT
	w.continuous = &continuous
	return w.answer(narrow, amounts, s)
}
