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
	// Budget is that of Question, for each drink that is looked for.
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
	// Stronger is what more of the allowed alcohol would cost; nil where the drink
	// is within 1 JND of strength of the limit, or is the original.
	Stronger *Stronger
	// Far are the original's own pours that rose above double: this is another
	// drink.
	Far []FarPour
}

// Stronger is the nearest drink within 1 JND of the limit.
type Stronger struct {
	// Strength is its own, in % vol.
	Strength float64
	// Worst is the property that it misses most, in JND: no volume. Here is what the
	// drink in the answer misses of the same.
	Worst Miss
	Here  float64
	// Besides are ingredients that it takes and the drink in the answer does not.
	Besides []string
	// Possible is false where no drink between that and the limit keeps the rest of
	// the limits.
	Possible bool
}

// choiceBudget is how many boxes choosing among drinks that taste alike may look
// at: of those there are many, at every strength.
const choiceBudget = 10_000

// ErrNotLightened is returned for a Property that is neither strength nor
// ethanol, or a Most that is negative or no number.
var ErrNotLightened = errors.New("no strength to come down to; expected a number from 0 in % vol or in grams of ethanol")

// Lighten finds the drink with at most so much alcohol that is nearest to the
// original in volume, sugar, acid, salt, bitterness and umami.
//
// Strength is a hard limit. Among the drinks that no taster could tell from the
// nearest it takes the one with the fewest ingredients that are not the
// original's own, then the strongest. If the original itself is weak enough it is
// the answer. What is kept must be weak enough by itself, as leastKept says. Errors
// are those of Report and Design, and ErrNotLightened.
func Lighten(q LightenQuestion) (*Lightened, error) {
	l, err := newLightening(q)
	if err != nil {
		return nil, err
	}
	if err := l.tooStrongKept(q.Most); err != nil {
		return nil, err
	}
	out, _, err := l.at(q.Most, nil)
	if err != nil {
		return nil, err
	}
	out.Stronger, err = l.stronger(out)
	return out, err
}

// shortOfLimit is by how many JND of strength a drink may stay below what it may
// have without anyone asking why.
const shortOfLimit = 1

// stronger looks for the nearest drink within 1 JND of the limit.
func (l *lightening) stronger(out *Lightened) (*Stronger, error) {
	j, _ := profile.Strength.JND()
	got, now := out.Profile[out.Property].Value, out.Profile[profile.Strength].Value
	if got <= 0 || out.Most <= 0 || len(out.Broken) > 0 || l.weakEnough(out.Most) {
		return nil, nil
	}
	// Grams of ethanol in about the same volume rise as the strength does.
	allowed := now * out.Most / got
	if j.Level(allowed)-j.Level(now) <= shortOfLimit {
		return nil, nil
	}
	most, least := out.Most, out.Most*j.At(j.Level(allowed)-shortOfLimit)/allowed
	found, err := l.searchKeeping(pantry.Target{Property: out.Property, AtLeast: &least, AtMost: &most}, nil, nil, 1)
	if err != nil {
		return nil, err
	}
	a := found.answer
	s := &Stronger{Strength: a.Profile[profile.Strength].Value, Possible: len(a.Broken) == 0}
	for i := range a.Misses {
		if m := &a.Misses[i]; m.Property != profile.Volume && math.Abs(m.JND) > math.Abs(s.Worst.JND) {
			s.Worst = *m
		}
	}
	for i := range a.Pours {
		p := &a.Pours[i]
		if !slices.ContainsFunc(out.Pours, func(o PouredAmount) bool { return o.Ingredient == p.Ingredient }) {
			s.Besides = append(s.Besides, p.Name)
		}
	}
	for i := range out.Misses {
		if out.Misses[i].Property == s.Worst.Property {
			s.Here = out.Misses[i].JND
		}
	}
	return s, nil
}

// far are the original's pours that rose above double; what brings the alcohol is
// asked to go down.
func (l *lightening) far(a *Answer) []FarPour {
	var out []FarPour
	for i := range l.original.Pours {
		was := &l.original.Pours[i]
		n := slices.IndexFunc(a.Pours, func(p PouredAmount) bool { return p.Ingredient == was.Ingredient && p.Stage == was.Stage })
		if n >= 0 && !isPlain(was.Ingredient) && a.Pours[n].Base > mostOfOwn*was.Base*(1+roundOff) {
			out = append(out, FarPour{Name: was.Name, Ingredient: was.Ingredient, Before: was.Amount, After: a.Pours[n].Amount})
		}
	}
	return out
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
	if err := l.setTargets(&spec); err != nil {
		return nil, err
	}
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

// at lightens to one strength. Weaker are the best drinks for a lower limit, which
// are allowed here too; nil: none is known. The best drinks for this limit are
// returned beside the answer, nil where the original is.
func (l *lightening) at(most float64, weaker weakDrinks) (*Lightened, weakDrinks, error) {
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

// searched is the nearest drink with some pours as they were.
type searched struct {
	answer *Answer
	least  float64 // F*
	proven bool
	// best are the steps of the nearest drink by the names of its pours; nil where
	// nothing was open.
	best map[string]int
}

// searchKeeping finds the nearest drink with the given pours as they were, and
// chooses among those like it.
// It looks at no more than its share of the boxes.
func (l *lightening) searchKeeping(limit pantry.Target, weaker map[string]int, stay []*pantry.Ingredient, shares int) (*searched, error) {
	w, err := l.work(limit, stay)
	if err != nil {
		return nil, err
	}
	w.budget /= shares
	p := w.problem
	if len(p.open) == 0 {
		answer, err := w.answer(p, nil, Solution{Proven: true, PreferenceProven: true})
		if err != nil {
			return nil, err
		}
		return &searched{answer: answer, least: answer.Solution.Objective, proven: true}, nil
	}
	continuous, err := p.continuous(p.starts(w.volume))
	if err != nil {
		return nil, err
	}
	best, err := p.strongestOnMeasures(continuous.X, p.stepsOf(weaker), w.budget*2/3, limit.Property)
	if err != nil {
		return nil, err
	}
	solving := p
	if best.Violation > 0 {
		if solving, best, err = p.leastBroken(best.K, w.budget*2/3); err != nil {
			return nil, err
		}
	}
	chosen, err := solving.prefer(best.K, min(w.budget/3, choiceBudget))
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
	answer, err := w.answer(solving, chosen.k, Solution{
		Least: best.Objective, Bound: best.Bound, Proven: best.Proven, PreferenceProven: chosen.proven && best.Proven,
		KKT: continuous.KKT, Nodes: best.Nodes + chosen.nodes,
	})
	return &searched{answer: answer, least: best.Objective, proven: best.Proven, best: p.named(best.K)}, err
}

// work is the question at one limit. What the original poured is never left out
// for brevity, and among drinks that taste alike, and are full, the strongest is
// nearest.
func (l *lightening) work(limit pantry.Target, stay []*pantry.Ingredient) (*work, error) {
	w, err := newWork(Question{Spec: l.spec(limit, stay), Shelf: l.asked.Shelf, Budget: l.asked.Budget})
	if err != nil {
		return nil, err
	}
	// What the original has was weighed; a replacement with an unknown figure
	// is a remark, not a target of the asker's that cannot be met.
	w.targets = nil
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
	out.Far = l.far(out.Answer)
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
