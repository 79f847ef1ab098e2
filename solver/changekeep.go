package solver

import (
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// How far any pour may go, as a part of what it was, before the drink is another
// one: the same that lightening allows. Common practice, no source.
const (
	leastOfPour = leastOfOwn
	mostOfPour  = mostOfOwn
)

// How far a volume that need not stay may go, as a part of the original's: what
// is released is the exact size, not the kind of serve. Common practice, no
// source.
const (
	leastOfVolume = 0.8
	mostOfVolume  = 1.2
)

// untouched is how far the change alone leaves each property: no pour is spent on
// one at the cost of another.
type untouched struct {
	// limits keep unnoticed what is unnoticed, and every other miss no larger than
	// it is; strength alone is that of a strength that is unnoticed.
	limits, strength []limit
	// total is all misses together, no more than they were.
	total ball
	// bitter tells that the bitterness is unnoticed: no dash moves.
	bitter bool
}

// leftAlone gathers it from the drink with the change and nothing corrected.
func (r *rework) leftAlone(alone *Answer) *untouched {
	out := untouched{bitter: true}
	sum := 0.0
	for i := range r.problem.aims {
		a := &r.problem.aims[i]
		v := alone.Profile[a.property].Value
		if a.property == profile.Volume {
			low, high := a.low*(1-volumeTolerance), a.high*(1+volumeTolerance)
			if l := (limit{property: a.property, low: low, high: high, scale: sizeAt(a.property, high)}); l.broken(v) == 0 {
				l.written = heldName(a.property)
				out.limits = append(out.limits, l)
			}
			continue
		}
		j, ok := a.property.JND()
		if !ok {
			continue
		}
		miss := j.Level(v) - j.Level(min(max(v, a.low), a.high))
		sum += miss * miss
		out.total.aims = append(out.total.aims, aim{property: a.property, low: a.low, high: a.high, onLevels: true})
		for _, l := range imperceptible(a) {
			l.written = heldName(a.property)
			unnoticed := l.broken(v) == 0
			l.low, l.high = min(l.low, v), max(l.high, v)
			out.limits = append(out.limits, l)
			if unnoticed && a.property == profile.Strength {
				out.strength = append(out.strength, l)
			}
			out.bitter = out.bitter && (unnoticed || a.property != profile.Bitter)
		}
	}
	out.total.radius = math.Sqrt(sum)
	return &out
}

// holds tells whether that is the name of one of its limits.
func (u *untouched) holds(name string) bool {
	return slices.ContainsFunc(u.limits, func(l limit) bool { return l.written == name })
}

// Confines are what a drink was looked for within, apart from the pours of it.
type Confines struct {
	// HalfToDouble tells that no pour with a taste of its own went below half or
	// above double of what it was.
	HalfToDouble bool
	// AsItWas tells that what the change alone leaves unnoticed was to stay so.
	AsItWas bool
	// Limits tells that limits and ratios of the asker's were to be kept.
	Limits bool
}

// confines are those of the question.
func (r *rework) confines() Confines {
	out := Confines{HalfToDouble: r.halfToDouble, Limits: len(r.problem.ratios) > 0}
	for i := range r.problem.limits {
		switch l := &r.problem.limits[i]; {
		case r.alone != nil && r.alone.holds(l.written):
			out.AsItWas = true
		case !slices.ContainsFunc(r.loose, func(ours limit) bool { return ours.written == l.written }):
			out.Limits = true
		}
	}
	return out
}

// heldName is what to call a property that is to stay as it was.
func heldName(p profile.Property) string { return p.Name() + " as it was" }

// roomForVolume limits a volume that was released to about the serve it was.
func roomForVolume(original *Answer) limit {
	v := original.Profile[profile.Volume].Value
	return limit{property: profile.Volume, low: leastOfVolume * v, high: mostOfVolume * v, scale: sizeAt(profile.Volume, v), written: "80 to 120 % of the volume before"}
}

// with is the same question with other limits.
func (r *rework) with(limits []limit) *rework {
	out := *r
	w := *r.work
	out.work = &w
	w.problem = r.problem.with(r.problem.aims, limits)
	return &out
}

// near is the same question with no pour below half or above double of what it
// was, where its measure has such amounts; what has no character of its own goes
// as far as it takes. Seasoned keeps what goes by the dash as it was: a dash is no
// source of strength.
func (r *rework) near(seasoned bool) (*rework, error) {
	out := *r
	out.halfToDouble = true
	w := *r.work
	out.work = &w
	w.pours = slices.Clone(r.pours)
	for i := range w.pours {
		p := &w.pours[i]
		if p.fixed || r.before[i] == 0 || r.anyAmount[i] {
			continue
		}
		if k, on := p.stepsOf(r.before[i]); seasoned && on && !r.uncounted[i] && (p.ingredient.Step.Word == "dash" || p.ingredient.Step.Word == "drop") {
			p.low, p.high = k, k
			continue
		}
		low := max(p.low, int(math.Ceil(leastOfPour*r.before[i]/p.step-roundOff)))
		high := min(p.high, int(math.Floor(mostOfPour*r.before[i]/p.step+roundOff)))
		if low <= high {
			p.low, p.high = low, high
			p.optional = false
		}
	}
	was := r.problem
	w.problem = newProblem(r.ice, w.pours, was.aims, was.limits)
	w.problem.anyVolumeIsAlike = was.anyVolumeIsAlike
	return &out, w.readRatios()
}

// isPlain tells whether nothing but what is computed can be tasted of an
// ingredient, so that any amount of it is the same drink: salt, acid, sugar and
// its plain syrups, thickeners and still water.
func isPlain(i *pantry.Ingredient) bool {
	p := pour{unit: i.PerUnit()}
	if p.isWater() && !i.Bubbles() {
		return true
	}
	switch i.Category {
	case "salt", "acid", "sugar & sweetener", "texture agent":
		return true
	case "syrup":
		return p.unit[profile.TitratableAcidGrams] == 0 && p.unit[profile.BitternessMilligrams] == 0
	}
	return false
}

// farFrom are the pours that make another drink of it: those below half or above
// double of what they were, or of what they stand in the place of.
func (r *rework) farFrom(parts []part, index []int, amounts []float64) []FarPour {
	var out []FarPour
	for i, n := range index {
		was, is := r.before[i], amounts[i]
		room := roundOff * (1 + was)
		if r.pours[i].fixed || r.anyAmount[i] || was == 0 || is >= leastOfPour*was-room && is <= mostOfPour*was+room {
			continue
		}
		out = append(out, FarPour{Name: parts[n].pour.Name, Ingredient: parts[n].ingredient, InPlaceOf: parts[n].inPlaceOf, Before: parts[n].before, After: r.amountOf(&r.pours[i], math.Round(is/r.pours[i].step))})
	}
	return out
}

// FarPour is a pour that went so far from what it was that this is another drink.
type FarPour struct {
	Name       string
	Ingredient *pantry.Ingredient
	// InPlaceOf is what it was swapped in for; empty for a pour of the drink.
	InPlaceOf     string
	Before, After pantry.Amount
}

// hardlyHelped tells whether the amounts from before are among the drinks that
// the best one was found among, misses perceptible in it are not put right by it,
// and its total miss is smaller by less than anyone could tell, or they are off by
// less than anyone could tell in all.
func (r *rework) hardlyHelped(best *nearestDrink) (bool, error) {
	if r.alone == nil || slices.ContainsFunc(r.indices(), r.comesIn) {
		return false, nil
	}
	p, err := best.asked.changing(make([]bool, len(r.pours)))
	if err != nil {
		return false, err
	}
	p = p.with(p.aims, best.among.limits)
	p.within = best.among.within
	p.want()
	var was profile.Values
	d := p.drink(nil)
	d.Evaluate(profile.AllProperties, &was, nil, nil)
	if p.violation(nil, &was) > 0 {
		return false, nil
	}
	total, asWere := p.totalJND(&best.values), p.totalJND(&was)
	if asWere >= profile.Perceptible && (total < profile.Perceptible || asWere-total >= unlikeness) {
		return false, nil
	}
	for i := range p.aims {
		for _, l := range imperceptible(&p.aims[i]) {
			if l.broken(was[l.property]) > 0 && l.broken(best.values[l.property]) == 0 {
				return false, nil
			}
		}
		if a := &p.aims[i]; a.property == profile.Volume && math.Abs(a.distance(was[a.property])) > 1 && math.Abs(a.distance(best.values[a.property])) <= 1 {
			return false, nil
		}
	}
	return true, nil
}

// indices are those of the pours.
func (r *rework) indices() []int {
	out := make([]int, len(r.pours))
	for i := range out {
		out[i] = i
	}
	return out
}

// missOf is F of a drink of given amounts.
func (r *rework) missOf(amounts []float64) float64 {
	d := profile.Drink{Ice: r.ice}
	for i := range r.pours {
		into := &d.Mix
		if r.pours[i].stage == OnTop {
			into = &d.Top
		}
		*into = into.Add(r.pours[i].unit.Scale(amounts[i]))
	}
	var v profile.Values
	d.Evaluate(r.problem.wanted, &v, nil, nil)
	return r.problem.objective(&v)
}
