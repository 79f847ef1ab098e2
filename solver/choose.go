package solver

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// ErrNoVolume is returned where ingredients are to be chosen and no volume is
// aimed at: the volume is what makes amounts comparable.
var ErrNoVolume = errors.New("ingredients are to be chosen but no volume is aimed at; expected a target such as `volume: 150 ml`")

// firstCutoffs are how far off, as F, drinks are looked at, the near ones first.
var firstCutoffs = []float64{1, 9, 100, lastCutoff}

// lastCutoff is how far off, as F, drinks are looked at at all.
const lastCutoff = 1e4

// misleading is the F from which on the linear picture of a question says little
// about which ingredients are nearest.
const misleading = 4

const choiceWorkers = 2

// nearEnough is the square of an eighth of a JND in all, half of unlikeness: from
// there on no other drink could be told to be nearer to the target, and the target
// itself then takes the place of the nearest drink.
const nearEnough = 0.015625

// objectivePerJND is the least that F can be where the drink is one JND from the
// target in all, and at most 1: a light weight or a wide tolerance makes F small
// where the taste is far off.
func (p *problem) objectivePerJND() float64 {
	least := 1.0
	for i := range p.aims {
		a := &p.aims[i]
		if _, tasteable := a.property.JND(); tasteable && !a.onLevels {
			for _, edge := range [2][2]float64{{a.low, a.scaleLow}, {a.high, a.scaleHigh}} {
				scales := sizeAt(a.property, edge[0]) / edge[1]
				least = min(least, a.weight*scales*scales)
			}
		}
	}
	return least
}

// near is the F up to which a drink is near enough to the target.
func (p *problem) near() float64 { return nearEnough * p.objectivePerJND() }

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
	// left is the work that the present phase may still do.
	left int
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
	// FewestProven says that no drink of fewer tastes like the nearest one, which
	// is itself proven.
	FewestProven bool
	// Cost is that of the liquid of a serve where a most was asked for, in
	// Currency; 0 otherwise.
	Cost     float64
	Currency string
	// NotOffered are those that could have been offered and were not, by reason.
	NotOffered []NotOffered
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
		if fixed, err := w.fixedOf(names); err != nil {
			return nil, err
		} else if fixed {
			continue
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
	if k, broken, err := c.leastBroken(asked); err != nil {
		return nil, err
	} else if broken {
		return w.leastBrokenAnswer(c, asked, k)
	}
	kept, err := w.quietWithoutHarm(c, asked, asked.quietLimits(c.must))
	if err != nil {
		return nil, err
	}
	w.problem = asked.with(asked.aims, append(slices.Clone(asked.limits), kept...))
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
		return nil, pantry.InputErrors{w.question.Spec.ErrorAt(choose.Place, w.noChoice(best.Proven), "")}
	}
	final, fewestProven, err := w.chooseFewest(c, best, reference)
	if err != nil {
		return nil, err
	}
	if w.others, err = w.alternatives(c, reference, final.K); err != nil {
		return nil, err
	}
	near, bound := best.Objective <= w.problem.near(), best.Bound
	if near {
		bound = 0 // a quick search promises nothing
	}
	w.choice = &Chosen{
		NotOffered: w.notOffered, AtMost: choose.AtMost, Count: c.count(final.Support), Nearest: best.Objective,
		Offered: c.offered(), NearestProven: best.Proven || near, FewestProven: fewestProven && (best.Proven || near),
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
		Least: min(best.Objective, final.Objective), Bound: bound, Proven: w.choice.NearestProven,
		PreferenceProven: w.choice.FewestProven, Nodes: best.Nodes + final.Nodes,
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
	c.left = nearestWork
	best, err := c.least(p, continuous.X, allWork, nil)
	return best, continuous.X, err
}

// least chooses the least objective, besides the sets that are taken: a quick
// answer gives the cutoff below which every set is ruled out or tried. A quick
// answer that is near enough is taken as it is.
func (c *choice) least(p *problem, reference []float64, pairs int, taken [][]int) (leastsquares.ChoiceAnswer, error) {
	quick, err := c.quickest(p, reference, taken)
	switch {
	case err != nil || quick.Found && quick.Objective <= p.near():
		return quick, err
	case quick.Found:
		if quick.Objective > misleading && taken == nil {
			if quick, err = c.nearer(p, quick); err != nil {
				return quick, err
			}
		}
		return c.search(p, reference, c.most, quick.Objective*(1+1e-6)+1e-9, pairs, [][]int{quick.K}, taken)
	}
	return c.search(p, reference, c.most, lastCutoff, pairs, nil, taken)
}

// quickest finds a good drink without any promise; Found is false where it finds
// none.
func (c *choice) quickest(p *problem, reference []float64, taken [][]int) (best leastsquares.ChoiceAnswer, err error) {
	for _, cutoff := range firstCutoffs {
		// Fewer ingredients are fewer to look through, and sometimes enough.
		for most := c.most; most > 0 && (most > c.most-3 || !best.Found); most-- {
			quick, err := c.search(p, reference, most, cutoff, 0, nil, taken)
			if err != nil || quick.Found && quick.Objective <= p.near() {
				return quick, err
			}
			if quick.Found && (!best.Found || quick.Objective < best.Objective) {
				best = quick
			}
		}
		if best.Found {
			break
		}
	}
	return best, nil
}

// chooseFewest looks for fewer ingredients among the drinks that taste like the
// best or, where that is near enough, like the target.
func (w *work) chooseFewest(c *choice, best leastsquares.ChoiceAnswer, reference []float64) (final leastsquares.ChoiceAnswer, proven bool, err error) {
	near := best.Objective <= w.problem.near()
	p, cutoff := w.problem, unlikeness*unlikeness*w.problem.objectivePerJND()
	if !near {
		p, cutoff = w.problem.alikeInVolume(best.K), 2*unlikeness*unlikeness
		reference = steps(best.K)
	}
	cutoff *= 1 + tolerated
	counted, proven := c.count(best.Support), true
	c.left = fewestWork
	for most := 0; most < counted; most++ {
		fewer, err := c.search(p, reference, most, cutoff, allWork, nil, nil)
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

// noChoice says why there is no answer.
func (w *work) noChoice(proven bool) string {
	most := w.question.Spec.Choose.AtMost
	what := fmt.Sprintf("no %d ingredients of those offered make a drink", most)
	if most == 1 {
		what = "no ingredient of those offered makes a drink by itself"
	}
	if !proven {
		what = strings.Replace(what, "no ", "found no ", 1)
	}
	if len(w.problem.limits)+len(w.problem.ratios) == 0 && w.question.Spec.Choose.MostCost == 0 {
		return what + " anywhere near the target; expected a nearer target, wider tolerances, or more ingredients under from"
	}
	return what + " near the target and within the limits; expected more of them, or wider limits"
}

// chosenAnswer narrows the work to the ingredients of k and answers with them.
func (w *work) chosenAnswer(asked *problem, k []int, s Solution) (*Answer, error) {
	narrow, amounts := w.narrowTo(asked, k)
	continuous, err := narrow.continuous(append(narrow.starts(w.volume), steps(amounts)))
	if err != nil {
		return nil, err
	}
	s.KKT = continuous.KKT
	w.continuous = &continuous
	return w.answer(narrow, amounts, s)
}

// narrowTo leaves the work the ingredients of k, and returns their problem and
// amounts.
func (w *work) narrowTo(asked *problem, k []int) (*problem, []int) {
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
	return narrow, amounts
}

// offered is how many ingredients may be chosen.
func (c *choice) offered() int {
	n := 0
	for j := range c.open {
		if c.open[j].chosen {
			n++
		}
	}
	return n
}
