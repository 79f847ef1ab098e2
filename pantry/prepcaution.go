package pantry

import (
	"slices"

	"minim/profile"
)

// Cautions returns what making the prep calls for, in the order of its steps: the
// plants that are steeped, and alcohol that is simmered.
//
//	plant-infusion     a step that steeps
//	simmered-alcohol   a step that reduces more than 0.5 % vol
func (p *Prep) Cautions() []profile.Caution {
	var all []profile.Caution
	add := func(from string, c profile.Caution) {
		n := slices.IndexFunc(all, func(known profile.Caution) bool { return known.Key == c.Key })
		if n < 0 {
			c.Ingredients = nil
			all = append(all, c)
			n = len(all) - 1
		}
		if into := &all[n].Ingredients; !slices.Contains(*into, from) {
			*into = append(*into, from)
		}
	}
	m := Making{state: p.mix(p.Bases(), p.Units()), kept: 1}
	plants := 0
	for n := range p.Spec.Steps {
		s := &p.Spec.Steps[n]
		var plant *Ingredient
		switch s.Kind {
		case Steep:
			plant = p.Plants[plants]
			plants++
			add(s.Steeping.Plant+" in "+p.Spec.title(), infusedPlants)
		case Reduce:
			for _, c := range m.state.SimmeringCautions() {
				add(p.Spec.title(), c)
			}
		}
		if err := m.take(s, plant); err != nil {
			break
		}
	}
	return all
}

// HandlingCautions returns what the parts of the prep call for in the hand of
// whoever makes it.
func (p *Prep) HandlingCautions() []profile.Caution {
	var all []profile.Caution
	for n := range p.Parts {
		part := &p.Parts[n]
		unit := part.Ingredient.PerUnit()
		for _, c := range unit.HandlingCautions() {
			c.Ingredients = []string{part.Name + " in " + p.Spec.title()}
			all = append(all, c)
		}
	}
	return all
}
