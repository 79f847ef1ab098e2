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
		var names, columns []string
		total, most := 0.0, 0.0
		var worst *pantry.Ingredient
		for n, amount := range amounts {
			if amount == 0 {
				continue
			}
			shift, bounded := w.unknownShift(p, n, amount, d, v)
			if bounded && math.Abs(shift) < namedUnknown {
				continue
			}
			total += math.Abs(shift)
			if one := &w.pours[n]; one.chosen && math.Abs(shift) > most && !slices.Contains(required, one.ingredient) {
				most, worst = math.Abs(shift), one.ingredient
			}
			names = append(names, w.pours[n].written.Name)
			for _, c := range w.pours[n].ingredient.UnknownColumns(p) {
				if !slices.Contains(columns, c.Name()) {
					columns = append(columns, c.Name())
				}
			}
		}
		a.Profile[p].UnknownFrom = names
		if total >= refusedUnknown {
			if t := w.targetOf(p); t != nil {
				if worst != nil {
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

// targetOf is the target on p, or nil.
func (w *work) targetOf(p profile.Property) *pantry.Target {
	for i := range w.targets {
		if w.targets[i].Property == p {
			return &w.targets[i]
		}
	}
	return nil
}
