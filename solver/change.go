package solver

import (
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// change is a finished drink, its parts, and what is now wanted of it.
type change struct {
	spec     *pantry.Spec
	shelf    *pantry.Shelf
	original *Answer
	parts    []part
	// approved is what a reference is to say; wanted is what the drink is now held
	// to, hard limits aside.
	approved, wanted []pantry.Target
	unknown          []UnknownProperty
	budget           int
	// correcting is a drink to be kept as it was, in which nothing that stayed so
	// by itself is spent; else tasting asked for another.
	correcting bool
	// anyVolume says that the volume need not stay.
	anyVolume bool
	// gone is what was swapped out: nobody has it.
	gone []*pantry.Ingredient
}

// report evaluates the parts in given amounts against targets.
func (c *change) report(amounts []pantry.Amount, targets []pantry.Target) (*Answer, error) {
	spec := pouredSpec(c.spec, c.parts, amounts)
	asked := withoutTargets(spec)
	asked.Target = targets
	answer, err := Report(Question{Spec: asked, Shelf: c.shelf})
	if err != nil {
		return nil, err
	}
	answer.Spec = spec
	return answer, nil
}

// solve finds the fewest changes that bring the drink to what is wanted.
func (c *change) solve() (*Changed, error) {
	var as []pantry.Amount
	for n := range c.parts {
		as = append(as, c.parts[n].alone)
	}
	alone, err := c.report(as, c.wanted)
	if err != nil {
		return nil, err
	}
	wanted, unknown := c.leaveUnknown(alone)
	targets := append(slices.Clone(wanted), hardLimits(c.spec.Target)...)
	spec, loose, err := c.withoutBrokenRatios()
	if err != nil {
		return nil, err
	}
	r, index, err := reworkOf(spec, c.shelf, c.parts, targets, c.budget)
	if err != nil {
		return nil, err
	}
	loose = append(loose, r.allow(c.original)...)
	r.gone = c.gone
	r.quiet = quietLimits(c.original, alone, wanted)
	if c.correcting && !r.newState {
		r.alone = r.leftAlone(alone)
	}
	if c.anyVolume {
		r.loose = append(r.loose, roomForVolume(c.original))
	}
	found, err := r.fewChanges()
	if err != nil {
		return nil, err
	}
	asked := found.asked
	amounts := r.amountsAfter(c.parts, index, found)
	answer, err := c.report(amounts, targets)
	if err != nil {
		return nil, err
	}
	answer.Solution = found.solution
	if err := asked.explain(answer, found); err != nil {
		return nil, err
	}
	// What the change leaves unnoticed, half and double, and about the volume
	// before, are no limits of the asker's to be widened.
	answer.Limits = slices.DeleteFunc(answer.Limits, func(h HeldBack) bool {
		ours := func(l limit) bool { return l.written == h.Name }
		return r.alone != nil && (h.Kind == "least" || h.Kind == "most" || r.alone.holds(h.Name)) || slices.ContainsFunc(r.loose, ours)
	})
	mended := func(b BrokenLimit) bool { return !slices.Contains(loose, b.Written) }
	tasted := func(m Miss) bool { return m.Perceptible() }
	if len(answer.Broken) > 0 && !slices.ContainsFunc(answer.Broken, mended) && !slices.ContainsFunc(answer.Misses, tasted) {
		answer.Conflict = nil // nothing else is left to explain
	}
	out := &Changed{Answer: answer, Original: c.original, Alone: alone, Size: found.size, Unknown: unknown, BrokenBefore: loose, Within: asked.confines()}
	if err := c.comparePours(out, amounts); err != nil {
		return nil, err
	}
	out.Moved = c.moved(out.Pours)
	out.FromReference = slices.ContainsFunc(c.parts, func(p part) bool { return p.before != p.alone })
	c.compareProperties(out, wanted)
	out.Far = r.farFrom(c.parts, index, found.amounts)
	c.refer(out)
	return out, nil
}

// leaveUnknown takes out what the swapped drink leaves unknown.
func (c *change) leaveUnknown(alone *Answer) (wanted []pantry.Target, unknown []UnknownProperty) {
	unknown = slices.Clone(c.unknown)
	for _, t := range c.wanted {
		if v := &alone.Profile[t.Property]; v.refused {
			unknown = append(unknown, UnknownProperty{t.Property, v.UnknownFrom})
			continue
		}
		wanted = append(wanted, t)
	}
	return wanted, unknown
}

// hardLimits are what targets never let go.
func hardLimits(targets []pantry.Target) []pantry.Target {
	var out []pantry.Target
	for _, t := range targets {
		if t.AtLeast != nil || t.AtMost != nil {
			out = append(out, pantry.Target{Property: t.Property, AtLeast: t.AtLeast, AtMost: t.AtMost, Place: t.Place})
		}
	}
	return out
}

// quietLimits let salt, bitterness and umami that nobody aims at rise by 1 JND
// above the original, or to where the swap alone brings them.
func quietLimits(original, alone *Answer, wanted []pantry.Target) []limit {
	var out []limit
	for _, p := range []profile.Property{profile.Salt, profile.Bitter, profile.Umami} {
		if slices.ContainsFunc(wanted, func(t pantry.Target) bool { return t.Property == p }) {
			continue
		}
		j, _ := p.JND()
		most := max(j.At(j.Level(original.Profile[p].Value)+untargetedRoom), alone.Profile[p].Value)
		out = append(out, limit{property: p, low: math.Inf(-1), high: most, scale: j.Size(most)})
	}
	return out
}

// explain says why the drink is no closer, all pours that may move being open.
func (r *rework) explain(a *Answer, found *reworked) error {
	changed := map[string]bool{}
	for i, c := range found.changed {
		if c {
			changed[pantry.Fold(r.pours[i].written.Name)] = true
		}
	}
	for n := range a.Pours {
		a.Pours[n].Solved = changed[pantry.Fold(a.Pours[n].Name)]
	}
	if len(r.problem.open) == 0 {
		return nil
	}
	s, err := r.problem.continuous(append(r.problem.starts(r.volume), r.nearestSteps()))
	if err != nil {
		return err
	}
	r.continuous = &s
	a.Solution.KKT = s.KKT
	a.Continuous.Objective = s.Objective
	a.Continuous.Pours, _ = r.poured(s.X)
	a.Limits = r.heldBack()
	a.Conflict, err = r.conflict(a)
	return err
}

// nearestSteps are the amounts from before in steps of the open pours.
func (r *rework) nearestSteps() []float64 {
	var x []float64
	for i := range r.pours {
		if p := &r.pours[i]; !p.fixed {
			x = append(x, min(max(r.before[i]/p.step, float64(p.low)), float64(p.high)))
		}
	}
	return x
}

// comparePours lists the pours before and after, in the order of building.
func (c *change) comparePours(out *Changed, amounts []pantry.Amount) error {
	was, err := partsOf(c.spec, c.shelf)
	if err != nil {
		return err
	}
	gone := func(stage Stage, from, to int) error {
		for n := from; n < to; n++ {
			if was[n].stage != stage || indexOf(c.parts, was[n].ingredient) >= 0 {
				continue
			}
			base, err := was[n].before.Of(was[n].ingredient)
			if err != nil {
				return err
			}
			amount := was[n].before
			out.Pours = append(out.Pours, PourChange{Name: was[n].pour.Name, Ingredient: was[n].ingredient, Stage: stage, Before: &amount, BeforeBase: base})
		}
		return nil
	}
	next := 0
	for n := range c.parts {
		p := &c.parts[n]
		at := indexOf(was, p.ingredient)
		if at >= next {
			if err := gone(p.stage, next, at); err != nil {
				return err
			}
			next = at + 1
		} else if at < 0 && next < len(was) && indexOf(c.parts, was[next].ingredient) < 0 {
			if err := gone(was[next].stage, next, next+1); err != nil {
				return err
			}
			next++
		}
		one := PourChange{Name: p.pour.Name, Ingredient: p.ingredient, Stage: p.stage}
		if at >= 0 {
			amount := was[at].before
			one.Before = &amount
			if one.BeforeBase, err = amount.Of(p.ingredient); err != nil {
				return err
			}
		}
		if amounts[n].Value > 0 {
			amount := amounts[n]
			one.After = &amount
			if one.AfterBase, err = amount.Of(p.ingredient); err != nil {
				return err
			}
		}
		if one.Before != nil || one.After != nil {
			out.Pours = append(out.Pours, one)
		}
	}
	for _, stage := range []Stage{InMix, OnTop} {
		if err := gone(stage, next, len(was)); err != nil {
			return err
		}
	}
	return nil
}

// moved counts the pours that moved, without what was swapped out or in.
func (c *change) moved(pours []PourChange) int {
	count := 0
	for n := range pours {
		at := indexOf(c.parts, pours[n].Ingredient)
		if at >= 0 && !c.parts[at].fresh && pours[n].Moved() {
			count++
		}
	}
	return count
}

// compareProperties lists what is held, and the tastes that are not, before and
// after.
func (c *change) compareProperties(out *Changed, wanted []pantry.Target) {
	list := slices.Clone(likeProperties)
	for _, t := range wanted {
		if !slices.Contains(list, t.Property) {
			list = append(list, t.Property)
		}
	}
	for _, p := range list {
		one := PropertyChange{
			Property: p, Before: c.original.Profile[p].Value, Alone: out.Alone.Profile[p].Value, After: out.Profile[p].Value,
		}
		low, high := one.Before, one.Before
		for _, t := range wanted {
			if t.Property == p && t.Aimed {
				one.Held, low, high = true, t.Low, t.High
			}
		}
		one.Wanted = min(max(one.After, low), high)
		if j, ok := p.JND(); ok {
			one.HasJND = true
			one.AloneJND = j.Level(one.Alone) - j.Level(min(max(one.Alone, low), high))
			one.AfterJND = j.Level(one.After) - j.Level(one.Wanted)
		}
		out.Properties = append(out.Properties, one)
	}
}

// refer writes into the spec what it came from, unless it is that drink again.
func (c *change) refer(out *Changed) {
	reference := &pantry.Reference{Mix: c.spec.Mix, Top: c.spec.Top}
	if c.spec.Reference != nil {
		reference.Mix, reference.Top = c.spec.Reference.Mix, c.spec.Reference.Top
	}
	reference.Target = c.approved
	out.Spec.Reference = reference
	if samePours(reference.Pours(), out.Spec.Pours()) && meets(reference.Target, out.Answer) {
		out.Spec.Reference = nil
	}
}

// samePours tells whether two lists pour the same, by name and amount.
func samePours(a, b []pantry.Pour) bool {
	return slices.EqualFunc(a, b, func(x, y pantry.Pour) bool {
		return pantry.Fold(x.Name) == pantry.Fold(y.Name) && x.Low == y.Low
	})
}

// meets tells whether the drink is exactly what the targets ask for.
func meets(targets []pantry.Target, a *Answer) bool {
	aims, _ := aimsAndLimits(targets, 0)
	sum := 0.0
	for i := range aims {
		d := aims[i].distance(a.Profile[aims[i].property].Value)
		sum += d * d
	}
	return sum <= exactly
}
