package solver

import (
	"fmt"

	"minim/pantry"
	"minim/profile"
)

// fatEnergy is that of a gram of fat, in kcal: the most that solids in no column
// can hold. Source: Regulation (EU) 1169/2011, Annex XIV.
const fatEnergy = 9

// uncountedEnergy is the part of the energy by which a printed one may be short.
const uncountedEnergy = 0.1

// Recipe returns the drink as a Recipe of schema.org, for JSON-LD. Nutrition is
// left out where an ingredient's part in it is unknown: energy also where protein
// and fat, which it does not count, could raise it by a tenth.
func (a *Answer) Recipe() (*pantry.Recipe, error) {
	r, err := pantry.NewRecipe(a.Spec)
	if err != nil {
		return nil, err
	}
	volume := a.Profile[profile.Volume].Value
	r.Yield = fmt.Sprintf("1 drink of %.0f ml", volume)
	n := &pantry.RecipeNutrition{Type: "NutritionInformation", ServingSize: fmt.Sprintf("%.0f ml", volume)}
	known := func(p profile.Property) bool { return len(a.Profile[p].UnknownFrom) == 0 }
	energy := float64(a.Dose.Kilocalories)
	if known(profile.Energy) && fatEnergy*a.finished.State[profile.OtherSolidsGrams] <= uncountedEnergy*energy {
		n.Calories = fmt.Sprintf("%.0f calories", energy)
	}
	if known(profile.Sugar) {
		n.Sugar = fmt.Sprintf("%.1f g", a.Profile[profile.Sugar].Value*volume/1000)
	}
	if known(profile.Salt) {
		n.Sodium = fmt.Sprintf("%.0f mg", float64(a.Dose.Sodium))
	}
	r.Nutrition = n
	return r, nil
}
