package pantry

import (
	"encoding/json"
	"fmt"
	"io"
)

// Recipe is a drink as a Recipe of schema.org, which other programs read as
// JSON-LD. Marshalling it gives JSON that is safe inside a script element: <, >
// and & are escaped.
//
// Source: schema.org, types Recipe, HowToStep and NutritionInformation.
type Recipe struct {
	Context string `json:"@context"`
	Type    string `json:"@type"`
	Name    string `json:"name"`
	// Category is "Drink".
	Category string `json:"recipeCategory"`
	// Yield is "1 drink" and its volume.
	Yield string `json:"recipeYield"`
	// Ingredients are lines such as "45 ml dry gin", in the order of building.
	Ingredients  []string         `json:"recipeIngredient"`
	Instructions []RecipeStep     `json:"recipeInstructions"`
	Nutrition    *RecipeNutrition `json:"nutrition,omitempty"`
}

// RecipeStep is one sentence of a recipe.
type RecipeStep struct {
	Type string `json:"@type"`
	Text string `json:"text"`
}

// RecipeNutrition is what one serve holds, as far as it is known; what is empty
// is left out.
type RecipeNutrition struct {
	Type        string `json:"@type"`
	ServingSize string `json:"servingSize,omitempty"`
	Calories    string `json:"calories,omitempty"`
	Sugar       string `json:"sugarContent,omitempty"`
	Sodium      string `json:"sodiumContent,omitempty"`
}

// NewRecipe is a finished spec as a recipe, without its yield and nutrition. A
// pour that is still open is an error.
func NewRecipe(s *Spec) (*Recipe, error) {
	r := &Recipe{
		Context: "https://schema.org", Type: "Recipe", Name: s.Name, Category: "Drink",
		Ingredients: []string{}, Instructions: []RecipeStep{},
	}
	if r.Name == "" {
		r.Name = "A drink"
	}
	for _, p := range s.Pours() {
		if p.Kind != Fixed {
			return nil, fmt.Errorf("%s is still open; expected an amount", p.Name)
		}
		line := p.Low.String() + " " + p.Name
		if p.At != nil {
			line += " at " + celsiusText(*p.At)
		}
		r.Ingredients = append(r.Ingredients, line)
	}
	for _, text := range s.BuildingSteps() {
		r.Instructions = append(r.Instructions, RecipeStep{Type: "HowToStep", Text: text})
	}
	return r, nil
}

// Write writes the recipe as indented JSON-LD.
func (r *Recipe) Write(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(r)
}
