package solver

import (
	"fmt"

	"minim/pantry"
	"minim/profile"
)

// Recipe returns the drink as a Recipe of schema.org, for JSON-LD. Nutrition is
// left out where an ingredient's part in it is unknown.
func (a *Answer) Recipe() (*pantry.Recipe, error) {
	r, err := pantry.NewRecipe(a.Spec)
	if err != nil {
		return nil, err
	}
	volume := a.Profile[profile.Volume].Value
	r.Yield = fmt.Sprintf("1 drink of %.0f ml", volume)
	if a.Prep != nil {
		r.Name, r.Yield = a.Prep.Ingredient.Name, fmt.Sprintf("%.0f ml", volume)
	}
	n := &pantry.RecipeNutrition{Type: "NutritionInformation", ServingSize: fmt.Sprintf("%.0f ml", volume)}
	known := func(p profile.Property) bool { return len(a.Profile[p].UnknownFrom) == 0 }
	if known(profile.Energy) {
		n.Calories = fmt.Sprintf("%.0f calories", float64(a.Dose.Kilocalories))
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
