package solver

import (
	"cmp"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// cheapest is the least price, in JND per unit, that is worth a line.
const cheapest = 1e-4

// heldBack lists the bounds that the continuous optimum leans on, with what one
// more unit of room is worth: from F = Σ r², d√F = -μ dh / (2 √F).
func (w *work) heldBack() []HeldBack {
	s := w.continuous
	root := math.Sqrt(s.Objective)
	if root < 1e-6 || s.Violation > brokenByMore {
		return nil
	}
	var held []HeldBack
	add := func(h HeldBack, multiplier, unit float64) {
		h.Price = math.Abs(multiplier) / (2 * root) / unit
		if h.Price > cheapest {
			held = append(held, h)
		}
	}
	for j := range w.problem.open {
		p := &w.problem.open[j]
		unit := "ml"
		if p.ingredient.Solid {
			unit = "g"
		}
		if !p.optional {
			add(HeldBack{Name: p.written.Name, Kind: "least", Unit: unit}, s.LowerMultiplier[j], p.step)
		}
		add(HeldBack{Name: p.written.Name, Kind: "most", Unit: unit}, s.UpperMultiplier[j], p.step)
	}
	for i := range w.problem.limits {
		l := &w.problem.limits[i]
		add(HeldBack{Name: l.written, Kind: "limit", Unit: l.property.Unit()}, s.LimitMultiplier[i], 1)
	}
	row := 0
	for i := range w.problem.ratios {
		r := &w.problem.ratios[i]
		for _, edge := range []float64{r.high, r.low} {
			if math.IsInf(edge, 0) {
				continue
			}
			add(HeldBack{Name: r.written, Kind: "ratio", Unit: "ml or g"}, s.InequalityMultiplier[row], 1)
			row++
		}
	}
	slices.SortStableFunc(held, func(a, b HeldBack) int { return cmp.Compare(b.Price, a.Price) })
	return held
}

// brokenByMore is the violation, in the limits' own scales, from which a
// continuous answer counts as breaking them.
const brokenByMore = 1e-6

// met is the F below which all targets together are met so well that nobody
// notices: half a JND in all.
const met = profile.Perceptible * profile.Perceptible

// conflict explains a miss that can be noticed: the smallest set of targets that
// cannot be met together, found by leaving targets out one at a time while the
// rest still cannot; and the ingredient of the shelf that would help most.
func (w *work) conflict(a *Answer) (*Conflict, error) {
	if !w.noticed(a) {
		return nil, nil
	}
	var c Conflict
	if w.continuous.Objective < met && w.continuous.Violation < brokenByMore {
		c.Coarse = true
		return &c, nil
	}
	help, err := w.help()
	if err != nil {
		return nil, err
	}
	c.Help = help
	if w.continuous.Violation > brokenByMore {
		c.Limits, err = w.limitsApart()
		return &c, err
	}
	apart := slices.Clone(w.problem.aims)
	for i := 0; i < len(apart) && len(apart) > 1; {
		rest := slices.Delete(slices.Clone(apart), i, i+1)
		f, _, err := w.nearest(w.problem.with(rest, w.problem.limits))
		if err != nil {
			return nil, err
		}
		if f < met {
			i++
			continue
		}
		apart = rest
	}
	for i := range apart {
		_, values, err := w.nearest(w.problem.with(apart[i:i+1], w.problem.limits))
		if err != nil {
			return nil, err
		}
		c.Targets = append(c.Targets, TargetReach{
			Property: apart[i].property, Low: apart[i].low, High: apart[i].high, Alone: values[apart[i].property],
		})
	}
	return &c, nil
}

// limitsApart is the smallest set of limits that cannot be kept together, found
// by leaving limits out one at a time while the rest still cannot be kept.
func (w *work) limitsApart() ([]string, error) {
	apart := slices.Clone(w.problem.limits)
	for i := 0; i < len(apart) && len(apart) > 1; {
		rest := slices.Delete(slices.Clone(apart), i, i+1)
		f, _, err := w.nearest(w.problem.with(nil, rest))
		if err != nil {
			return nil, err
		}
		if math.IsInf(f, 1) {
			apart = rest
		} else {
			i++
		}
	}
	var names []string
	for i := range apart {
		names = append(names, apart[i].written)
	}
	return names, nil
}

// noticed tells whether some target is missed by what can be noticed, or the
// volume by more than its tolerance.
func (w *work) noticed(a *Answer) bool {
	if len(a.Broken) > 0 {
		return true
	}
	for i := range a.Misses {
		m := &a.Misses[i]
		if m.Perceptible() || m.Property == profile.Volume && math.Abs(m.Off) > volumeTolerance*m.Low {
			return true
		}
	}
	return a.TotalJND >= profile.Perceptible
}

// nearest is the continuous optimum of another problem over the same pours: its
// F, infinite where a limit is broken, and what the drink is.
func (w *work) nearest(p *problem) (float64, profile.Values, error) {
	starts := append(p.starts(w.volume), w.continuous.X)
	s, err := p.continuous(starts)
	if err != nil {
		return 0, profile.Values{}, err
	}
	var v profile.Values
	d := p.drink(s.X)
	d.Evaluate(profile.AllProperties, &v, nil, nil)
	if s.Violation > brokenByMore {
		return math.Inf(1), v, nil
	}
	return s.Objective, v, nil
}

// worthHelp is by how much, in JND, a change must lower the total miss to be named.
const worthHelp = 0.25

// help tries each ingredient of the shelf as one more optional pour, and each
// other way with the ice, and returns the change that is worth naming: of those
// that leave within worthHelp of the least miss, the plainest. What bubbles is
// tried on top. Each drink is measured as the misses of an answer are.
func (w *work) help() (*Help, error) {
	type trial struct {
		Help
		off float64
	}
	before := math.Inf(1)
	if w.continuous.Violation < brokenByMore {
		before, _ = w.problem.measured(w.continuous.X)
	}
	var tried []trial
	consider := func(h Help, p *problem, start []float64) error {
		s, err := p.continuous([][]float64{start})
		if err == nil && s.Violation < brokenByMore {
			one := trial{Help: h}
			if one.off, one.TotalJND = p.measured(s.X); before-one.off >= worthHelp {
				tried = append(tried, one)
			}
		}
		return err
	}
	for _, i := range w.question.Shelf.All() {
		if !w.inPlace(i) || slices.Contains(w.gone, i) {
			continue
		}
		if len(i.Allergens) > 0 || slices.ContainsFunc(w.pours, func(p pour) bool { return p.ingredient == i }) {
			continue
		}
		p, ok := w.withOneMore(i)
		if !ok {
			continue
		}
		if err := consider(Help{Ingredient: i}, p, append(slices.Clone(w.continuous.X), 1)); err != nil {
			return nil, err
		}
	}
	var poured []*pantry.Ingredient
	for n := range w.pours {
		poured = append(poured, w.pours[n].ingredient)
	}
	for _, method := range []profile.Method{profile.Build, profile.Stir, profile.Shake} {
		if w.ice.Method == profile.Shake && ChooseIce(poured) == profile.Shake {
			break // juice, egg and dairy are shaken whatever the numbers say
		}
		if w.ice.Method == profile.NoIce || w.ice.Method == method || w.ice.WaterFixed || w.ice.TemperatureFixed {
			continue
		}
		p := *w.problem
		p.ice.Method = method
		if err := consider(Help{Method: method}, &p, w.continuous.X); err != nil {
			return nil, err
		}
	}
	if len(tried) == 0 {
		return nil, nil
	}
	least := slices.MinFunc(tried, func(a, b trial) int { return cmp.Compare(a.off, b.off) }).off
	best := slices.MinFunc(tried, func(a, b trial) int {
		far := func(t trial) bool { return t.off > least+worthHelp }
		if far(a) != far(b) {
			return cmp.Compare(a.off, b.off)
		}
		// Of equals, to a hundredth of a JND, the first on the shelf.
		return cmp.Or(cmp.Compare(w.plainness(a.Help), w.plainness(b.Help)), cmp.Compare(math.Round(100*a.off), math.Round(100*b.off)))
	})
	return &best.Help, nil
}

// measured is the total miss of a drink of x steps, in JND, and how far off it is
// with the volume counted besides.
func (p *problem) measured(x []float64) (off, totalJND float64) {
	var v profile.Values
	d := p.drink(x)
	d.Evaluate(p.wanted, &v, nil, nil)
	totalJND = p.totalJND(&v)
	sum := totalJND * totalJND
	for i := range p.aims {
		if a := &p.aims[i]; !hasJND(a.property) {
			r := a.distance(v[a.property])
			sum += r * r
		}
	}
	return math.Sqrt(sum), totalJND
}

// plainness orders changes that help about as much: water, another way with the
// ice, sugar, another of a kind that the drink has, anything else.
func (w *work) plainness(h Help) int {
	if h.Ingredient == nil {
		return 1
	}
	extra := pour{unit: h.Ingredient.PerUnit()}
	sugar, acid := extra.unit[profile.SucroseGrams], extra.unit[profile.TitratableAcidGrams]
	switch {
	case extra.isWater():
		return 0
	case sugar > 0.5 && acid == 0 && extra.unit[profile.BitternessMilligrams] == 0:
		return 2
	case slices.ContainsFunc(w.pours, func(p pour) bool { return p.ingredient.Category == h.Ingredient.Category }):
		return 3
	}
	return 4
}

// withOneMore is the problem with one more optional pour.
func (w *work) withOneMore(i *pantry.Ingredient) (*problem, bool) {
	step, err := stepOf(i, w.question.Spec)
	if err != nil {
		return nil, false
	}
	extra := pour{
		written: pantry.Pour{Name: i.Name}, ingredient: i, unit: i.PerUnit(), optional: true, step: step, high: int(w.volume / step),
	}
	if i.Bubbles() {
		extra.stage = OnTop
	}
	if i.Solid {
		extra.high = int(w.volume * powderShare / step)
	}
	p := *w.problem
	p.open = append(slices.Clone(p.open), extra)
	p.column = append(slices.Clone(p.column), extra.unit.Scale(step))
	p.ratios = slices.Clone(p.ratios)
	for n := range p.ratios {
		p.ratios[n].numerator = append(slices.Clone(p.ratios[n].numerator), 0)
		p.ratios[n].denominator = append(slices.Clone(p.ratios[n].denominator), 0)
	}
	return &p, true
}

// powderShare is the most of a powder, in grams per ml of drink, that is tried.
const powderShare = 0.1
