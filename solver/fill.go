package solver

import (
	"math"

	"minim/pantry"
	"minim/profile"
)

// amountOf writes steps of an open pour in the unit that the bar measures.
func (w *work) amountOf(p *pour, k float64) pantry.Amount {
	base := k * p.step
	i := p.ingredient
	units := map[string]pantry.Unit{"dash": pantry.Dashes, "drop": pantry.Drops, "piece": pantry.Pieces}
	if unit, ok := units[i.Step.Word]; ok {
		if one, err := (pantry.Amount{Value: 1, Unit: unit}).Of(i); err == nil && one > 0 {
			return pantry.Amount{Value: tidy(base / one), Unit: unit}
		}
	}
	if i.Solid {
		return pantry.Amount{Value: tidy(base), Unit: pantry.Grams}
	}
	measure := w.question.Spec.Measure
	if measure.Unit == pantry.USOunces || measure.Unit == pantry.ImperialOunces || measure.Unit == pantry.Centilitres {
		if i.Step.Amount == 0 {
			return pantry.Amount{Value: tidy(k * measure.Value), Unit: measure.Unit}
		}
	}
	return pantry.Amount{Value: tidy(base), Unit: pantry.Millilitres}
}

// tidy drops the last bits of an amount that was reached by multiplication.
func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// poured lists the pours with k steps of each open one, in the order of
// building, and the spec that they make. Pours of nothing are left out.
func (w *work) poured(k []float64) ([]PouredAmount, *pantry.Spec) {
	spec := *w.question.Spec
	spec.Mix, spec.Top = nil, nil
	spec.Ice = w.ice
	spec.IceStated = spec.IceStated || w.ice.Method != profile.NoIce
	var list []PouredAmount
	open := 0
	for n := range w.pours {
		p := &w.pours[n]
		base, amount := p.amount, p.written.Low
		if !p.fixed {
			base, amount = k[open]*p.step, w.amountOf(p, k[open])
			open++
		}
		if base == 0 {
			continue
		}
		list = append(list, PouredAmount{
			Ingredient: p.ingredient, Name: p.written.Name, Stage: p.stage, Amount: amount, Base: base,
			Grams: p.unit.Scale(base).Mass(), Solved: !p.fixed,
		})
		fixed := pantry.FixedPour(p.written.Name, amount)
		fixed.At, fixed.Place = p.written.At, p.written.Place
		if p.stage == OnTop {
			spec.Top = append(spec.Top, fixed)
		} else {
			spec.Mix = append(spec.Mix, fixed)
		}
	}
	if len(spec.Mix) == 0 {
		spec.Ice = profile.Ice{}
	}
	spec.Ratios = keptRatios(&spec)
	return list, &spec
}

// keptRatios are those whose two pours are both still in the spec.
func keptRatios(spec *pantry.Spec) []pantry.Ratio {
	named := func(name string) bool {
		for _, p := range spec.Pours() {
			if pantry.Fold(p.Name) == pantry.Fold(name) {
				return true
			}
		}
		return false
	}
	var kept []pantry.Ratio
	for _, r := range spec.Ratios {
		if named(r.Numerator) && named(r.Denominator) {
			kept = append(kept, r)
		}
	}
	return kept
}

// answer evaluates the drink of k steps with the full model and says how it
// does. The problem is the one that was solved: its broken limits may have been
// moved, so these are judged by the one that was asked.
func (w *work) answer(solved *problem, k []int, s Solution) (*Answer, error) {
	x := steps(k)
	a := &Answer{Solution: s}
	a.Pours, a.Spec = w.poured(x)
	d := w.problem.drink(x)
	finished := d.Finish()
	a.WaterMillilitres = profile.Millilitre(float64(finished.Water) * profile.MeltMillilitresPerGram)
	a.Temperature = finished.Temperature
	a.finished = finished
	a.Dose = finished.State.Dose()
	a.Solution.Objective = w.problem.objective(&finished.Values)
	if len(k) == 0 {
		a.Solution.Least, a.Solution.Bound = a.Solution.Objective, a.Solution.Objective
	}
	w.spread(a, &d, &finished.Values)
	if err := w.weighUnknowns(a, x, &d, &finished.Values); err != nil {
		return nil, err
	}
	w.measureMisses(a, &finished.Values)
	a.Tolerance = w.tolerance(x)
	for i := range w.problem.limits {
		l := &w.problem.limits[i]
		if v := finished.Values[l.property]; l.broken(v) > 0 {
			a.Broken = append(a.Broken, BrokenLimit{l.written, v, l.property.Unit()})
		}
	}
	for i := range w.problem.ratios {
		if r := &w.problem.ratios[i]; r.broken(x) > 0 {
			a.Broken = append(a.Broken, BrokenLimit{Written: "ratio " + r.written, Got: r.quotient(x)})
		}
	}
	if w.continuous != nil {
		a.Continuous.Objective = w.continuous.Objective
		a.Continuous.Pours, _ = w.poured(w.continuous.X)
		a.Limits = w.heldBack()
		conflict, err := w.conflict(a)
		if err != nil {
			return nil, err
		}
		a.Conflict = conflict
	}
	w.remark(a, x)
	a.Cautions = w.cautions(a)
	return a, nil
}

// quotient is the numerator over the denominator.
func (r *ratio) quotient(x []float64) float64 {
	n, d := r.numeratorFixed, r.denominatorFixed
	for j := range x {
		n += r.numerator[j] * x[j]
		d += r.denominator[j] * x[j]
	}
	return n / d
}

// measureMisses compares the drink with its targets.
func (w *work) measureMisses(a *Answer, v *profile.Values) {
	sum := 0.0
	for i := range w.problem.aims {
		aim := &w.problem.aims[i]
		m := Miss{Property: aim.property, Low: aim.low, High: aim.high, Got: v[aim.property]}
		nearest := min(max(m.Got, aim.low), aim.high)
		m.Off = m.Got - nearest
		if j, ok := aim.property.JND(); ok {
			m.HasJND = true
			m.JND = j.Level(m.Got) - j.Level(nearest)
			sum += m.JND * m.JND
		}
		a.Misses = append(a.Misses, m)
	}
	a.TotalJND = math.Sqrt(sum)
}
