package solver

import (
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// setTargets aims at the original's profile as far as it is known, or at what
// its reference wants, and keeps the hard limits that are not on alcohol.
func (l *lightening) setTargets(original *pantry.Spec) error {
	w, err := newWork(Question{Spec: original, Shelf: l.asked.Shelf})
	if err != nil {
		return err
	}
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
		if nothingKnown := v.Value == 0 && len(v.UnknownFrom) > 0; nothingKnown || w.doubtful(p) {
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
	return nil
}

// doubtful tells whether unknown figures could move property p of a drink of
// fixed pours as far as makes it no target.
func (w *work) doubtful(p profile.Property) bool {
	d := w.problem.drink(nil)
	v := d.Finish().Values
	total := 0.0
	for n := range w.pours {
		shift, _ := w.unknownShift(p, n, w.pours[n].amount, &d, &v)
		total += math.Abs(shift)
	}
	return total >= refusedUnknown
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
// range, is kept or is to stay, stays as written.
func (l *lightening) spec(limit pantry.Target, stay []*pantry.Ingredient) *pantry.Spec {
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
		spec.Mix = l.appendOwn(spec.Mix, p, stay, alcoholic, none)
	}
	for _, p := range l.kept.Top {
		spec.Top = l.appendOwn(spec.Top, p, stay, alcoholic, none)
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
func (l *lightening) appendOwn(list []pantry.Pour, p pantry.Pour, stay []*pantry.Ingredient, alcoholic float64, none bool) []pantry.Pour {
	i, err := l.asked.Shelf.Find(p.Name)
	if err != nil {
		panic("solver: a pour that was reported is not on the shelf: " + p.Name)
	}
	if l.isKept(i) || slices.Contains(stay, i) {
		return append(list, p)
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
