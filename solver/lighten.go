package solver

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// LightenQuestion asks for a weaker drink that keeps the rest.
type LightenQuestion struct {
	// Spec is the drink, all amounts written. Where it came from another, its
	// Reference is what is kept.
	Spec  *pantry.Spec
	Shelf *pantry.Shelf
	// Property is profile.Strength (% vol) or profile.Ethanol (grams a serve),
	// and Most what the drink may have of it, 0 or more. At 0 no pour has any
	// ethanol.
	Property profile.Property
	Most     float64
	// With are the names of what to offer in the place of alcohol; nil: water, tea,
	// verjus and weaker relatives from the shelf.
	With []string
	// Keep are the names of pours that stay as they are.
	Keep []string
	// Budget is how many boxes each search may look at; 0 means DefaultBudget.
	Budget int
}

// Lightened is a weaker drink.
type Lightened struct {
	// Answer is the drink; its Spec carries the original as its Reference.
	*Answer
	// Original is the drink that it came from.
	Original *Answer
	Property profile.Property
	Most     float64
	// LeastJND is √F*: the least total miss, strength left out, in JND of the
	// original, over what the bar can measure. It never falls as Most does.
	LeastJND float64
	// Proven says that no drink has a smaller total miss.
	Proven bool
	// Offered is what the drink could take in the place of alcohol.
	Offered []string
	Lost    []Lost
	// Variants are single steps to try, by tasting.
	Variants []Variant
}

// ErrNotLightened is returned for a Property that is neither strength nor
// ethanol, or a Most that is negative or no number.
var ErrNotLightened = errors.New("no strength to come down to; expected a number from 0 in % vol or in grams of ethanol")

// Lighten finds the drink with at most so much alcohol that is nearest to the
// original in volume, sugar, acid, salt, bitterness and umami.
//
// Strength is a hard limit. Among the drinks that no taster could tell from the
// nearest it takes the one with the fewest ingredients that are not the
// original's own, then the strongest. If the original itself is weak enough it is
// the answer. Errors are those of Report and Design, and ErrNotLightened.
func Lighten(q LightenQuestion) (*Lightened, error) {
	l, err := newLightening(q)
	if err != nil {
		return nil, err
	}
	out, _, err := l.at(q.Most, nil)
	return out, err
}

// lightening is the question without its limit, good for every strength.
type lightening struct {
	asked    LightenQuestion
	original *Answer
	kept     *pantry.Spec // the original's pours with the profile that is wanted
	offered  []offer
	targets  []pantry.Target
	notes    []string
}

func newLightening(q LightenQuestion) (*lightening, error) {
	if q.Property != profile.Strength && q.Property != profile.Ethanol || !(q.Most >= 0) || math.IsInf(q.Most, 0) {
		return nil, ErrNotLightened
	}
	l := &lightening{asked: q}
	spec := *q.Spec
	spec.Like, spec.Choose, spec.Target = "", nil, nil
	if r := spec.Reference; r != nil {
		spec.Mix, spec.Top = r.Mix, r.Top
	}
	var err error
	if l.original, err = Report(Question{Spec: &spec, Shelf: q.Shelf}); err != nil {
		return nil, err
	}
	l.setTargets()
	spec.Target = l.targets
	l.kept = &spec
	for _, name := range q.Keep {
		i, err := q.Shelf.Find(name)
		if err != nil {
			return nil, fmt.Errorf("--keep: %w", err)
		}
		if !slices.ContainsFunc(l.original.Pours, func(p PouredAmount) bool { return p.Ingredient == i }) {
			return nil, fmt.Errorf("--keep: no %q in the drink; expected one of its pours", name)
		}
	}
	return l, l.findOffered()
}

// setTargets aims at the original's profile as far as it is known, or at what
// its reference wants, and keeps the hard limits that are not on alcohol.
func (l *lightening) setTargets() {
	spec := l.asked.Spec
	wanted := spec.Target
	if r := spec.Reference; r != nil && len(r.Target) > 0 {
		wanted = r.Target
	}
	for _, p := range likeProperties {
		v := l.original.Profile[p]
		if p == profile.Strength {
			continue
		}
		if len(v.UnknownFrom) > 0 {
			l.notes = append(l.notes, p.Name()+" is not kept: what the original has of it is unknown")
			continue
		}
		t := pantry.Target{Property: p, Aimed: true, Low: v.Value, High: v.Value, Weight: 1}
		for _, w := range wanted {
			if w.Property != p {
				continue
			}
			if spec.Reference != nil && w.Aimed {
				t = w
			}
			t.AtLeast, t.AtMost = w.AtLeast, w.AtMost
		}
		l.targets = append(l.targets, t)
	}
	for _, w := range wanted {
		kept := slices.ContainsFunc(l.targets, func(t pantry.Target) bool { return t.Property == w.Property })
		if !kept && w.Property != profile.Strength && w.Property != profile.Ethanol && (w.AtLeast != nil || w.AtMost != nil) {
			w.Aimed = false
			l.targets = append(l.targets, w)
		}
	}
}

// findOffered finds what may take the place of alcohol.
func (l *lightening) findOffered() error {
	var wanted []profile.Property
	for i := range l.targets {
		wanted = append(wanted, l.targets[i].Property)
	}
	if l.asked.With == nil {
		l.offered = replacements(l.asked.Shelf, l.original.Pours, wanted)
		return nil
	}
	for _, name := range l.asked.With {
		i, err := l.asked.Shelf.Find(name)
		if err != nil {
			return fmt.Errorf("--with: %w", err)
		}
		poured := slices.ContainsFunc(l.original.Pours, func(p PouredAmount) bool { return p.Ingredient == i })
		if !poured && !slices.ContainsFunc(l.offered, func(o offer) bool { return o.ingredient == i }) {
			l.offered = append(l.offered, offer{name, i})
		}
	}
	return nil
}

// How far the original's own pours without alcohol may go, as a part of what they
// were: it stays the drink it was. Common practice, no source.
const (
	leastOfOwn = 0.5
	mostOfOwn  = 2
)

// spec opens the original's pours. What brings alcohol may come down to none;
// spirits never go up, the wines that stand in for them by as much as all the
// alcohol that they may replace, other bottles to double. The rest stays between
// half and double, water free. What is counted in pieces, has no measure in that
// range, or is kept, stays as written.
func (l *lightening) spec(limit pantry.Target) *pantry.Spec {
	spec := *l.kept
	spec.Ratios = nil
	spec.Mix, spec.Top = nil, nil
	alcoholic := 0.0
	for i := range l.original.Pours {
		if p := &l.original.Pours[i]; ethanolOf(p) > 0 && !p.Ingredient.Solid {
			alcoholic += p.Base
		}
	}
	none := *limit.AtMost == 0
	for _, p := range l.kept.Mix {
		spec.Mix = l.appendOwn(spec.Mix, p, alcoholic, none)
	}
	for _, p := range l.kept.Top {
		spec.Top = l.appendOwn(spec.Top, p, alcoholic, none)
	}
	for _, o := range l.offered {
		i, p := o.ingredient, pantry.Pour{Name: o.name, Kind: pantry.Optional}
		holds := i.PerUnit()[profile.EthanolGrams] > 0
		if holds && none {
			continue
		}
		if (holds || i.Category == "acid") && !i.Solid && alcoholic > 0 {
			p.High = pantry.Amount{Value: alcoholic, Unit: pantry.Millilitres}
		}
		if i.Bubbles() {
			spec.Top = append(spec.Top, p)
		} else {
			spec.Mix = append(spec.Mix, p)
		}
	}
	spec.Target = append(slices.Clone(l.targets), limit)
	return &spec
}

// appendOwn opens one of the original's pours.
func (l *lightening) appendOwn(list []pantry.Pour, p pantry.Pour, alcoholic float64, none bool) []pantry.Pour {
	i, err := l.asked.Shelf.Find(p.Name)
	if err != nil {
		panic("solver: a pour that was reported is not on the shelf: " + p.Name)
	}
	for _, name := range l.asked.Keep {
		if kept, err := l.asked.Shelf.Find(name); err == nil && kept == i {
			return append(list, p)
		}
	}
	own, err := p.Low.Of(i)
	step, errStep := stepOf(i, l.kept)
	if err != nil || errStep != nil || p.Low.Unit == pantry.Pieces {
		return append(list, p)
	}
	open := pantry.Pour{Name: p.Name, At: p.At, Place: p.Place}
	one := pour{unit: i.PerUnit()}
	switch holds := one.unit[profile.EthanolGrams] > 0; {
	case holds && none:
		return list
	case holds:
		open.Kind, open.High = pantry.Optional, p.Low
		switch {
		case slices.Contains(relatives["spirit"], i.Category) && p.Low.Unit == pantry.Millilitres:
			open.High.Value += alcoholic
		case i.Category != "spirit":
			open.High.Value *= mostOfOwn
		}
		if high, err := open.High.Of(i); err == nil && high < step {
			open.High = pantry.Amount{Value: step, Unit: baseUnit(i)}
		}
	case one.isWater():
		open.Kind = pantry.Optional
	default:
		if math.Ceil(leastOfOwn*own/step-roundOff) > math.Floor(mostOfOwn*own/step+roundOff) {
			return append(list, p)
		}
		open.Kind, open.Low, open.High = pantry.Between, p.Low, p.Low
		open.Low.Value *= leastOfOwn
		open.High.Value *= mostOfOwn
	}
	return append(list, open)
}

// baseUnit is the unit of an ingredient's amounts in the solver.
func baseUnit(i *pantry.Ingredient) pantry.Unit {
	if i.Solid {
		return pantry.Grams
	}
	return pantry.Millilitres
}

// at lightens to one strength. Weaker is the best drink for a lower limit, by the
// places of its pours in the same spec, which is allowed here too; nil: none is
// known. The best drink for this limit is returned beside the answer, nil where
// the original is.
func (l *lightening) at(most float64, weaker map[string]int) (*Lightened, map[string]int, error) {
	limit := pantry.Target{Property: l.asked.Property, AtMost: &most}
	out := &Lightened{Original: l.original, Property: l.asked.Property, Most: most}
	for _, o := range l.offered {
		if most > 0 || o.ingredient.PerUnit()[profile.EthanolGrams] == 0 {
			out.Offered = append(out.Offered, o.name)
		}
	}
	same := *l.kept
	same.Target = append(slices.Clone(l.targets), limit)
	if l.weakEnough(most) {
		a, err := Report(Question{Spec: &same, Shelf: l.asked.Shelf})
		if err != nil {
			return nil, nil, err
		}
		if len(a.Broken) == 0 && a.TotalJND <= unlikeness {
			out.Answer, out.Proven, out.LeastJND = a, true, math.Sqrt(a.Solution.Objective)
			return out, nil, l.finish(out)
		}
	}
	best, err := l.search(out, limit, weaker)
	if err != nil {
		return nil, nil, err
	}
	return out, best, l.finish(out)
}

// weakEnough tells whether the original keeps the limit.
func (l *lightening) weakEnough(most float64) bool {
	if most == 0 {
		return !slices.ContainsFunc(l.original.Pours, func(p PouredAmount) bool { return ethanolOf(&p) > 0 })
	}
	return l.original.Profile[l.asked.Property].Value <= most+tolerated*(1+most)
}

// search finds the nearest drink and chooses among those like it.
func (l *lightening) search(out *Lightened, limit pantry.Target, weaker map[string]int) (map[string]int, error) {
	w, err := l.work(limit)
	if err != nil {
		return nil, err
	}
	p := w.problem
	if len(p.open) == 0 {
		out.Answer, err = w.answer(p, nil, Solution{Proven: true, PreferenceProven: true})
		if err == nil {
			out.LeastJND, out.Proven = math.Sqrt(out.Answer.Solution.Objective), true
		}
		return nil, err
	}
	continuous, err := p.continuous(p.starts(w.volume))
	if err != nil {
		return nil, err
	}
	best, err := p.strongestOnMeasures(continuous.X, p.stepsOf(weaker), w.budget, limit.Property)
	if err != nil {
		return nil, err
	}
	solving := p
	if best.Violation > 0 {
		if solving, best, err = p.leastBroken(best.K, w.budget); err != nil {
			return nil, err
		}
	}
	chosen, err := solving.prefer(best.K, w.budget)
	if err != nil {
		return nil, err
	}
	if again, err := p.continuous([][]float64{continuous.X, steps(best.K)}); err != nil {
		return nil, err
	} else if better(&again, &continuous) {
		continuous = again
	}
	// Where the search was cut short, choosing may come upon a closer drink.
	if violation, objective := newGrid(solving).Evaluate(chosen.k); violation <= best.Violation && objective < best.Objective {
		best.K, best.Objective = chosen.k, objective
	}
	w.continuous, w.chosen = &continuous, &chosen
	out.Answer, err = w.answer(solving, chosen.k, Solution{
		Least: best.Objective, Bound: best.Bound, Proven: best.Proven, PreferenceProven: chosen.proven && best.Proven,
		KKT: continuous.KKT, Nodes: best.Nodes + chosen.nodes,
	})
	out.LeastJND, out.Proven = math.Sqrt(best.Objective), best.Proven
	return p.named(best.K), err
}

// work is the question at one limit. What the original poured is never left out
// for brevity, and among drinks that taste alike, and are full, the strongest is
// nearest.
func (l *lightening) work(limit pantry.Target) (*work, error) {
	w, err := newWork(Question{Spec: l.spec(limit), Shelf: l.asked.Shelf, Budget: l.asked.Budget})
	if err != nil {
		return nil, err
	}
	for j := range w.problem.open {
		p := &w.problem.open[j]
		p.original = slices.ContainsFunc(l.original.Pours, func(o PouredAmount) bool { return o.Ingredient == p.ingredient })
	}
	if most := *limit.AtMost; most > 0 {
		size := sizeAt(limit.Property, l.original.Profile[limit.Property].Value)
		// A weaker mix melts less, so that the volume of drinks of the same taste
		// follows their strength.
		w.problem.fullIsAlike = true
		w.problem.amongAlike = []aim{{property: limit.Property, low: most, high: most, scaleLow: size, scaleHigh: size, weight: 1}}
	}
	return w, nil
}

// strongestOnMeasures is the branch and bound, started from the rounded
// continuous optimum and from a known drink; of equals it finds the strongest.
func (p *problem) strongestOnMeasures(x []float64, known []int, budget int, by profile.Property) (leastsquares.GridAnswer, error) {
	g := newGrid(p)
	start := make([]int, len(x))
	for j := range x {
		start[j] = min(max(int(math.Round(x[j])), g.root.Lower[j]), g.root.Upper[j])
	}
	incumbents := [][]int{start}
	if known != nil {
		incumbents = append(incumbents, known)
	}
	strength := func(k []int) float64 {
		var v profile.Values
		d := p.drink(steps(k))
		d.Evaluate(profile.PropertySet(0).With(by), &v, nil, nil)
		return v[by]
	}
	return leastsquares.SolveGrid(g, leastsquares.GridOptions{
		NodeLimit: budget, Semicontinuous: g.Semicontinuous(), Incumbents: incumbents,
		Better: func(a, b []int) int { return cmp.Compare(strength(b), strength(a)) },
	})
}

// named writes steps by the pours' names, with their stage.
func (p *problem) named(k []int) map[string]int {
	out := map[string]int{}
	for j := range p.open {
		out[p.open[j].stage.String()+" "+p.open[j].written.Name] = k[j]
	}
	return out
}

// stepsOf finds them again among the pours of another limit; what it does not
// name is none.
func (p *problem) stepsOf(named map[string]int) []int {
	if named == nil {
		return nil
	}
	k := make([]int, len(p.open))
	for j := range p.open {
		k[j] = named[p.open[j].stage.String()+" "+p.open[j].written.Name]
	}
	return k
}

// finish adds where the drink came from, what is lost and what to try.
func (l *lightening) finish(out *Lightened) error {
	spec := *out.Answer.Spec
	if spec.Reference == nil {
		spec.Reference = &pantry.Reference{Mix: l.kept.Mix, Top: l.kept.Top}
	}
	most := out.Most
	spec.Target = append(rounded(l.targets), pantry.Target{Property: out.Property, AtMost: &most, Weight: 1})
	reference := *spec.Reference
	reference.Target = spec.Target
	spec.Reference = &reference
	out.Answer.Spec = &spec
	out.Notes = append(slices.Clone(l.notes), out.Notes...)
	if len(l.kept.Ratios) > 0 {
		out.Notes = append(out.Notes, "the original's ratios are not kept")
	}
	out.Lost = lost(l.original, out.Answer)
	out.Variants = l.variants(out)
	return nil
}

// rounded writes targets to six figures, as much as anyone can read.
func rounded(targets []pantry.Target) []pantry.Target {
	out := slices.Clone(targets)
	for i := range out {
		out[i].Low, out[i].High = sixFigures(out[i].Low), sixFigures(out[i].High)
		if out[i].Weight == 0 {
			out[i].Weight = 1
		}
	}
	return out
}

func sixFigures(v float64) float64 {
	if v == 0 {
		return 0
	}
	scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(scale, 0) {
		return 0
	}
	return math.Round(v*scale) / scale
}
