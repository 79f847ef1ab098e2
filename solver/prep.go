package solver

import (
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// What a prep is measured in: a scale of 1 g, or 0.1 g for what is potent, and a
// jug of 5 ml, or 1 ml for what the bar doses finer. Common practice, no source.
const (
	prepSolidStep   = 1
	prepPotentStep  = 0.1
	prepLiquidStep  = 5
	prepDosedStep   = 1
	potentSolidStep = 0.05 // g, below which the pantry's own measure says potent
)

// SolvedPrep is a prep whose open pours were found.
type SolvedPrep struct {
	Prep *pantry.Prep
	// Solved says of each part whether its amount was open.
	Solved []bool
}

// PrepAnswer is how preps are made so that drinks come out right.
type PrepAnswer struct {
	// Shelf has the preps with all their amounts.
	Shelf *pantry.Shelf
	// Preps are those that had open pours, each after those it pours.
	Preps []SolvedPrep
	// Drinks answer the questions, in their order.
	Drinks []*Answer
	// Objective is the sum of F over the drinks and what preps themselves aim at,
	// their volume included. Continuous is the least that was found in real amounts.
	Objective, Continuous float64
	KKT                   float64
}

// SolvePreps finds the open pours of the preps on the shelf, which all questions
// share, so that the drinks come out right together: the least sum of F over the
// drinks and over what a prep aims at itself, its volume within 2 % counting one.
//
// Real amounts come from Gauss-Newton steps with numeric slopes, from two starts;
// amounts on the scale from a search of that point's neighbours, two pours at a
// time, while open pours of the drinks follow in real amounts. The drinks are then
// solved on their measures with the prep as it is. The result is the best found:
// nothing proves that no other is better.
func SolvePreps(questions []Question) (*PrepAnswer, error) {
	shelf := questions[0].Shelf
	m, err := newPrepModel(shelf, questions)
	if err != nil {
		return nil, err
	}
	return m.answer(shelf, questions)
}

// answer finds the amounts of the preps, and answers the questions with them.
func (m *prepModel) answer(shelf *pantry.Shelf, questions []Question) (*PrepAnswer, error) {
	continuous, err := m.solve()
	if err != nil {
		return nil, err
	}
	k := m.onScale(continuous.X)
	filled, err := shelf.WithPrepPours(m.poursOf(k))
	if err != nil {
		return nil, err
	}
	out := &PrepAnswer{Shelf: filled, Continuous: continuous.Objective, KKT: continuous.KKT, Objective: m.ownObjective(k)}
	out.Preps = m.solved(filled)
	for _, q := range questions {
		q.Shelf = filled
		answer, err := Design(q)
		if err != nil {
			return nil, err
		}
		out.Objective += answer.Solution.Objective
		answer.found(out)
		out.Drinks = append(out.Drinks, answer)
	}
	return out, nil
}

// found notes that the answer rests on preps that were searched for.
func (a *Answer) found(from *PrepAnswer) {
	a.SolvedPreps = from.Preps
	a.Solution.Proven, a.Solution.PreferenceProven, a.Solution.Bound = false, false, 0
	a.Solution.KKT = from.KKT
	a.Continuous.Objective = from.Continuous
}

// openPreps tells whether a prep that the spec needs has open pours.
func openPreps(q Question) bool {
	return slices.ContainsFunc(prepsOf(q.Spec, q.Shelf), (*pantry.Prep).Open)
}

// refuseOpenPreps is what a question is told whose preps are not all made.
func refuseOpenPreps(q Question) error {
	var wrong pantry.InputErrors
	for _, p := range prepsOf(q.Spec, q.Shelf) {
		for _, pour := range p.Spec.Mix {
			if pour.Kind != pantry.Fixed {
				hint := ""
				if len(wrong) == 0 {
					hint = "let `minim design` of the drink, or `minim prep`, find it"
				}
				wrong = append(wrong, p.Spec.ErrorAt(pour.Place, pour.Name+" is still open; expected an amount", hint))
			}
		}
	}
	if len(wrong) > 0 {
		return wrong
	}
	return nil
}

// prepsOf are the preps that a spec pours, and those in them, each after those
// that it pours itself.
func prepsOf(spec *pantry.Spec, shelf *pantry.Shelf) []*pantry.Prep {
	wanted := map[*pantry.Ingredient]bool{}
	for _, pour := range spec.Pours() {
		if i, err := shelf.Find(pour.Name); err == nil {
			wanted[i] = true
		}
	}
	all := shelf.Preps()
	var out []*pantry.Prep
	for n := len(all) - 1; n >= 0; n-- {
		if !wanted[all[n].Ingredient] {
			continue
		}
		out = append(out, all[n])
		for _, part := range all[n].Parts {
			wanted[part.Ingredient] = true
		}
	}
	slices.Reverse(out)
	return out
}

// prepPour is an open pour of a prep, counted in steps.
type prepPour struct {
	prep, part int
	step       float64 // in base units
	low, high  float64 // in steps; low is 0 where it is optional
	amount     pantry.Amount
}

// newPrepPour reads the range of an open pour.
func newPrepPour(p *pantry.Prep, prep, part int) (prepPour, error) {
	written, ingredient := p.Spec.Mix[part], p.Parts[part].Ingredient
	o := prepPour{prep: prep, part: part, step: prepLiquidStep, amount: pantry.Amount{Value: prepLiquidStep, Unit: pantry.Millilitres}}
	switch {
	case ingredient.Solid:
		o.step = prepSolidStep
		if own := ingredient.Step.Amount; own > 0 && own < potentSolidStep {
			o.step = prepPotentStep
		}
		o.amount = pantry.Amount{Value: o.step, Unit: pantry.Grams}
	case p.Spec.MeasureStated:
		var err error
		o.amount = p.Spec.Measure
		if o.step, err = p.Spec.Measure.Of(ingredient); err != nil {
			return o, err
		}
	case ingredient.Step.Amount > 0:
		o.step = prepDosedStep
		o.amount.Value = prepDosedStep
	}
	low, high := o.step, float64(p.Spec.Makes.Volume)
	if ingredient.Solid && ingredient.SolubleGramsPerLitre > 0 {
		high = min(high, ingredient.SolubleGramsPerLitre*high/1000)
	}
	if written.Kind == pantry.Optional {
		low = 0
	}
	for _, end := range []struct {
		amount pantry.Amount
		to     *float64
	}{{written.Low, &low}, {written.High, &high}} {
		if end.amount.Value > 0 {
			var err error
			if *end.to, err = end.amount.Of(ingredient); err != nil {
				return o, err
			}
		}
	}
	if written.Kind == pantry.Optional {
		low = 0
	}
	o.low, o.high = math.Ceil(low/o.step-roundOff), math.Floor(high/o.step+roundOff)
	if o.low > o.high {
		return o, fmt.Errorf("%s: no multiple of its measure, %s, lies between %s and %s; expected a wider range or a finer measure",
			written.Name, quantity(o.step, ingredient), quantity(low, ingredient), quantity(high, ingredient))
	}
	return o, nil
}

// amountOf writes steps of an open pour of a prep.
func (o *prepPour) amountOf(k float64) pantry.Amount {
	return pantry.Amount{Value: tidy(k * o.amount.Value), Unit: o.amount.Unit}
}

// poursOf are the pours of the preps with so many steps of each open one; those
// of nothing are left out.
func (m *prepModel) poursOf(k []float64) map[*pantry.Prep][]pantry.Pour {
	all := map[*pantry.Prep][]pantry.Pour{}
	for n, p := range m.preps {
		if !p.Open() {
			continue
		}
		var pours []pantry.Pour
		for part, written := range p.Spec.Mix {
			if j := m.openAt(n, part); j >= 0 {
				if k[j] == 0 {
					continue
				}
				fixed := pantry.FixedPour(written.Name, m.open[j].amountOf(k[j]))
				fixed.At, fixed.Place = written.At, written.Place
				written = fixed
			}
			pours = append(pours, written)
		}
		all[p] = pours
	}
	return all
}

// solved are the preps of the filled shelf that were open before.
func (m *prepModel) solved(filled *pantry.Shelf) []SolvedPrep {
	var out []SolvedPrep
	for n, now := range filled.Preps() {
		before := m.preps[n]
		if !before.Open() {
			continue
		}
		s := SolvedPrep{Prep: now}
		for _, part := range now.Spec.Mix {
			open := false
			for _, written := range before.Spec.Mix {
				open = open || pantry.Fold(written.Name) == pantry.Fold(part.Name) && written.Kind != pantry.Fixed
			}
			s.Solved = append(s.Solved, open)
		}
		out = append(out, s)
	}
	return out
}

// openAt is the place of a part among the open pours, -1 where it is fixed.
func (m *prepModel) openAt(prep, part int) int {
	for j := range m.open {
		if m.open[j].prep == prep && m.open[j].part == part {
			return j
		}
	}
	return -1
}

var _ leastsquares.NonlinearModel = (*prepModel)(nil)

// volumeAim keeps a prep to the volume that it makes.
func volumeAim(v profile.Millilitre) aim {
	return aim{property: profile.Volume, low: float64(v), high: float64(v), scaleLow: sizeAt(profile.Volume, float64(v)), scaleHigh: sizeAt(profile.Volume, float64(v)), weight: 1}
}
