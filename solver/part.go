package solver

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// part is one pour of a drink that is being changed.
type part struct {
	pour       pantry.Pour // its name, temperature and place
	ingredient *pantry.Ingredient
	stage      Stage
	// before is the amount it had in the drink that was approved; nothing for what
	// that had none of.
	before pantry.Amount
	// alone is its amount in the drink as it is, with nothing corrected.
	alone pantry.Amount
	// kept pours do not move; fresh ones stand in the place of another, and move
	// without counting; optional ones may come out at none.
	kept, fresh, optional bool
	// inPlaceOf names what it stands in the place of; anyAmount parts are the same
	// drink in any amount.
	inPlaceOf string
	anyAmount bool
	// newState parts are solid in the place of a liquid, or the other way.
	newState bool
}

// none is no amount.
var none = pantry.Amount{Unit: pantry.Millilitres}

// partsOf lists the pours of a finished drink, with the amounts of the drink it
// came from where that has them. Everything that is wrong is collected.
func partsOf(spec *pantry.Spec, shelf *pantry.Shelf) ([]part, error) {
	var parts []part
	var wrong pantry.InputErrors
	for stage, list := range [][]pantry.Pour{InMix: spec.Mix, OnTop: spec.Top} {
		for _, p := range list {
			i, err := shelf.Find(p.Name)
			if err != nil {
				wrong = append(wrong, asInputError(spec, p, err))
				continue
			}
			parts = append(parts, part{pour: p, ingredient: i, stage: Stage(stage), before: p.Low, alone: p.Low})
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return parts, nil
}

// referred are the pours of the reference by their ingredient.
func referred(spec *pantry.Spec, shelf *pantry.Shelf) ([]part, error) {
	if spec.Reference == nil {
		return nil, nil
	}
	was := *spec
	was.Mix, was.Top = spec.Reference.Mix, spec.Reference.Top
	return partsOf(&was, shelf)
}

// partNamed finds a part by the ingredient that a name means.
func partNamed(parts []part, shelf *pantry.Shelf, name string) (int, error) {
	var names []string
	for n := range parts {
		if pantry.Fold(parts[n].pour.Name) == pantry.Fold(name) {
			return n, nil
		}
		names = append(names, parts[n].pour.Name)
	}
	if i, err := shelf.Find(name); err == nil {
		if n := indexOf(parts, i); n >= 0 {
			return n, nil
		}
	}
	return 0, fmt.Errorf("%q is no pour of this drink; %s", name, pantry.Suggest(name, names, 1))
}

// indexOf is the place of an ingredient among the parts, or -1.
func indexOf(parts []part, i *pantry.Ingredient) int {
	return slices.IndexFunc(parts, func(p part) bool { return p.ingredient == i })
}

// refer gives the parts the amounts of the drink that this one came from. Where
// nothing of that is missing, what it had none of was added since, and may go
// again.
func refer(parts, were []part) []part {
	if len(were) == 0 {
		return parts
	}
	missing := slices.ContainsFunc(were, func(w part) bool { return indexOf(parts, w.ingredient) < 0 })
	for n := range parts {
		p := &parts[n]
		switch at := indexOf(were, p.ingredient); {
		case at >= 0:
			p.before = were[at].before
			if !missing {
				p.stage, p.pour.Name, p.pour.At = were[at].stage, were[at].pour.Name, were[at].pour.At
			}
		case !missing:
			p.before, p.optional = none, true
		}
	}
	if !missing {
		slices.SortStableFunc(parts, func(a, b part) int {
			place := func(p part) int {
				if at := indexOf(were, p.ingredient); at >= 0 {
					return at
				}
				return len(were)
			}
			return cmp.Compare(place(a), place(b))
		})
	}
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(a.stage, b.stage) })
	return parts
}

// inPlaceOf is the amount of an ingredient in the place of another: the same
// volume, or the same mass where one is a liquid and the other a solid.
func inPlaceOf(a pantry.Amount, out, in *pantry.Ingredient) (pantry.Amount, error) {
	base, err := a.Of(out)
	if err != nil {
		return none, err
	}
	if out.Solid != in.Solid {
		grams := float64(out.PerUnit().Scale(base).Mass())
		if base, err = (pantry.Amount{Value: grams, Unit: pantry.Grams}).Of(in); err != nil {
			return none, err
		}
		return baseAmount(base, in), nil
	}
	if same, err := a.Of(in); err == nil && math.Abs(same-base) <= roundOff*(1+base) {
		return a, nil
	}
	return baseAmount(base, in), nil
}

// baseAmount is an amount in ml of a liquid or grams of a solid.
func baseAmount(base float64, i *pantry.Ingredient) pantry.Amount {
	unit := pantry.Millilitres
	if i.Solid {
		unit = pantry.Grams
	}
	return pantry.Amount{Value: tidy(base), Unit: unit}
}

// together adds two amounts of an ingredient.
func together(a, b pantry.Amount, i *pantry.Ingredient) (pantry.Amount, error) {
	switch {
	case a.Value == 0:
		return b, nil
	case b.Value == 0:
		return a, nil
	case a.Unit == b.Unit:
		return pantry.Amount{Value: tidy(a.Value + b.Value), Unit: a.Unit}, nil
	}
	first, err := a.Of(i)
	if err != nil {
		return none, err
	}
	second, err := b.Of(i)
	return baseAmount(first+second, i), err
}

// pouredSpec is the spec with the parts in the given amounts; parts of nothing
// are left out.
func pouredSpec(spec *pantry.Spec, parts []part, amounts []pantry.Amount) *pantry.Spec {
	out := *spec
	out.Mix, out.Top = nil, nil
	for n := range parts {
		if amounts[n].Value == 0 {
			continue
		}
		p := pantry.FixedPour(parts[n].pour.Name, amounts[n])
		p.At, p.Place = parts[n].pour.At, parts[n].pour.Place
		if parts[n].stage == OnTop {
			out.Top = append(out.Top, p)
		} else {
			out.Mix = append(out.Mix, p)
		}
	}
	if len(out.Mix) == 0 {
		out.Ice = profile.Ice{}
	}
	out.Ratios = keptRatios(&out)
	return &out
}

// reworkOf is the question of moving the parts to the targets. The second result
// says which part each pour is.
func reworkOf(spec *pantry.Spec, shelf *pantry.Shelf, parts []part, targets []pantry.Target, budget int) (*rework, []int, error) {
	asked := *spec
	asked.Mix, asked.Top, asked.Target, asked.Like, asked.Reference = nil, nil, targets, "", nil
	var index []int
	var before []pantry.Amount
	var fresh, anyAmount []bool
	newState := false
	for n := range parts {
		p := &parts[n]
		pour := pantry.Pour{Name: p.pour.Name, Kind: pantry.Open, At: p.pour.At, Place: p.pour.Place}
		switch {
		case p.kept && p.before.Value == 0:
			continue
		case p.kept:
			pour.Kind, pour.Low, pour.High = pantry.Fixed, p.before, p.before
		case p.optional:
			pour.Kind = pantry.Optional
		}
		if p.stage == OnTop {
			asked.Top = append(asked.Top, pour)
		} else {
			asked.Mix = append(asked.Mix, pour)
		}
		index, before, fresh = append(index, n), append(before, p.before), append(fresh, p.fresh)
		newState = newState || p.newState
		anyAmount = append(anyAmount, p.anyAmount || p.inPlaceOf == "" && isPlain(p.ingredient))
	}
	asked.Ratios = keptRatios(&asked)
	w, err := newWork(Question{Spec: &asked, Shelf: shelf, Budget: budget})
	if err != nil {
		return nil, nil, err
	}
	r := &rework{work: w, uncounted: fresh, anyAmount: anyAmount, newState: newState}
	for n := range w.pours {
		base := 0.0
		if before[n].Value > 0 {
			if base, err = before[n].Of(w.pours[n].ingredient); err != nil {
				return nil, nil, err
			}
		}
		r.before = append(r.before, base)
	}
	return r, index, nil
}

// amountsAfter are the amounts of all parts after a rework: as they were where
// nothing changed, else on the measure.
func (r *rework) amountsAfter(parts []part, index []int, out *reworked) []pantry.Amount {
	amounts := make([]pantry.Amount, len(parts))
	for i, n := range index {
		amounts[n] = parts[n].before
		if out.changed[i] {
			amounts[n] = r.amountOf(&r.pours[i], math.Round(out.amounts[i]/r.pours[i].step))
		}
	}
	return amounts
}
