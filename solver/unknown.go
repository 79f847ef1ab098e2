package solver

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// What an unknown figure, taken at the largest of its category, may move a
// property by before it is named, and before a target on it is refused, in JND.
const (
	namedUnknown   = 0.1
	refusedUnknown = 0.5
)

// unknownShift is how far, in JND (2 % of the value where it has none), the
// unknown figures of one pour could move property p.
func (w *work) unknownShift(p profile.Property, n int, amount float64, d *profile.Drink, v *profile.Values) (shift float64, bounded bool) {
	one := &w.pours[n]
	if !one.ingredient.Unknown(p) {
		return 0, true
	}
	most, ok := one.ingredient.Ceiling(p)
	if !ok {
		return 0, false
	}
	raised := *d
	into := &raised.Mix
	if one.stage == OnTop {
		into = &raised.Top
	}
	*into = into.Add(most.Scale(amount))
	var values profile.Values
	raised.Evaluate(profile.PropertySet(0).With(p), &values, nil, nil)
	return (values[p] - v[p]) / sizeAt(p, v[p]), true
}

// weighUnknowns names the ingredients whose unknown figures could show, and
// refuses targets that these could move by half a JND.
func (w *work) weighUnknowns(a *Answer, x []float64, d *profile.Drink, v *profile.Values) error {
	var wrong pantry.InputErrors
	amounts, required := w.amounts(nil, x), w.required()
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		total, names, columns := w.unknownOf(p, amounts, d, v)
		a.Profile[p].UnknownFrom = names
		a.Profile[p].refused = total >= refusedUnknown
		if a.Profile[p].refused {
			if t := w.targetOf(p); t != nil {
				if worst := w.mostUpsetting(p, amounts, required, d, v); worst != nil {
					w.upsetting = worst
				}
				wrong = append(wrong, w.question.Spec.ErrorAt(t.Place,
					fmt.Sprintf("%s is a target, but what %s holds of it is unknown and could move it by %.1f JND", p.Name(), strings.Join(names, ", "), total),
					"fill "+strings.Join(columns, ", ")+" in a CSV of your own (0 where there is known to be none), or drop the target"))
			}
		}
	}
	if len(wrong) > 0 && w.continuous != nil {
		return wrong
	}
	return nil
}

// unknownOf is how far, in JND, the unknown figures of all pours together could
// move property p, and which pours and columns these are; pours of nothing and
// shifts too small to be named are passed over.
func (w *work) unknownOf(p profile.Property, amounts []float64, d *profile.Drink, v *profile.Values) (total float64, names, columns []string) {
	for n, amount := range amounts {
		if amount == 0 {
			continue
		}
		shift, bounded := w.unknownShift(p, n, amount, d, v)
		if bounded && math.Abs(shift) < namedUnknown {
			continue
		}
		total += math.Abs(shift)
		for _, name := range w.unknownNames(n, p) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		for _, c := range w.pours[n].ingredient.UnknownColumns(p) {
			if !slices.Contains(columns, c.Name()) {
				columns = append(columns, c.Name())
			}
		}
	}
	return total, names, columns
}

// mostUpsetting is the chosen pour, of those that need not be, whose unknown
// figures could move property p most; nil where there is none.
func (w *work) mostUpsetting(p profile.Property, amounts []float64, required []*pantry.Ingredient, d *profile.Drink, v *profile.Values) (worst *pantry.Ingredient) {
	most := namedUnknown
	for n, amount := range amounts {
		one := &w.pours[n]
		if amount == 0 || !one.chosen || slices.Contains(required, one.ingredient) {
			continue
		}
		if shift, bounded := w.unknownShift(p, n, amount, d, v); bounded && math.Abs(shift) >= most {
			most, worst = math.Abs(shift), one.ingredient
		}
	}
	return worst
}

// targetOf is the target on p, or nil.
func (w *work) targetOf(p profile.Property) *pantry.Target {
	for i := range w.targets {
		if w.targets[i].Property == p {
			return &w.targets[i]
		}
	}
	return nil
}
