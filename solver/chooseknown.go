package solver

import (
	"slices"

	"minim/pantry"
)

// mostUnknown is how many ingredients are left out of a choice, one after the
// other, because what is unknown of them adds up with others of the drink.
const mostUnknown = 8

// chooseKnown answers a question that leaves the ingredients open. By itself an
// unknown figure may be too small to upset a target, and too large beside others:
// then the choice is made again without the largest of them.
func chooseKnown(q Question) (*Answer, error) {
	spec, choose := *q.Spec, *q.Spec.Choose
	spec.Choose = &choose
	q.Spec = &spec
	choose.NoneOf = slices.Clone(choose.NoneOf)
	var left []*pantry.Ingredient
	for {
		w, err := newWork(q)
		if err != nil {
			return nil, err
		}
		if len(w.problem.aims)+len(w.problem.limits) == 0 {
			return nil, ErrNoTarget
		}
		w.remarkLeftOut(left, "of which what is unknown upsets a target beside what else is in the drink")
		a, err := w.choose()
		if w.upsetting == nil || len(left) == mostUnknown {
			return a, err
		}
		left = append(left, w.upsetting)
		choose.NoneOf = append(choose.NoneOf, w.upsetting.Name)
	}
}

// required lists what must be in the drink.
func (w *work) required() []*pantry.Ingredient {
	if w.question.Spec.Choose == nil {
		return nil
	}
	list, _ := w.named(w.question.Spec.Choose.Must, false)
	return list
}
