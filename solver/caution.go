package solver

import (
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// cautions lists what the drink calls for: allergens, what the finished serve
// holds, then what its ingredients and its finish are. Cautions of one kind are
// one, with all that bring it.
func (w *work) cautions(a *Answer) []profile.Caution {
	var all cautionList
	shelf := w.question.Shelf
	all.add("", allergenCautions(a, shelf)...)
	if a.Prep == nil {
		all.add("", a.finished.Cautions()...)
	}
	all.add("", quinineCautions(a, shelf)...)
	for i := range a.Pours {
		p := &a.Pours[i]
		all.add(p.Name, shelf.Cautions(p.Ingredient, p.Name)...)
	}
	for _, p := range a.Preps {
		all.add("", p.Cautions()...)
	}
	if p := a.Prep; p != nil {
		all.add("", p.Cautions()...)
		all.add(p.Ingredient.Name, p.Ingredient.Cautions(p.Ingredient.Name)...)
	}
	for _, text := range a.Spec.Finish {
		all.add(text, pantry.CautionsOfText(text)...)
	}
	return all
}

// batchCautions are those of a serve, and of what is weighed into its preps.
func batchCautions(serve *Answer) []profile.Caution {
	var all cautionList
	all.add("", serve.Cautions...)
	for _, p := range serve.Preps {
		all.add("", p.HandlingCautions()...)
	}
	return all
}

// cautionList holds each kind of caution once.
type cautionList []profile.Caution

// add adds cautions that all come from one ingredient, unless they say
// themselves what they come from; none where it is empty.
func (l *cautionList) add(from string, cautions ...profile.Caution) {
	for _, c := range cautions {
		n := slices.IndexFunc(*l, func(known profile.Caution) bool { return known.Key == c.Key })
		sources := c.Ingredients
		if len(sources) == 0 && from != "" {
			sources = []string{from}
		}
		if n < 0 {
			// How long each keeps is said in the text, once.
			first := c
			first.Ingredients, first.Keeps = nil, ""
			*l = append(*l, first)
			n = len(*l) - 1
		}
		into := &(*l)[n].Ingredients
		for _, source := range sources {
			if !slices.Contains(*into, source) {
				*into = append(*into, source)
				if c.Keeps != "" {
					(*l)[n].Text += " Said to keep: " + source + ", " + c.Keeps + "."
				}
			}
		}
	}
}

// allergenCautions names each allergen and what brings it.
func allergenCautions(a *Answer, shelf *pantry.Shelf) []profile.Caution {
	var allergens, sources []string
	from := map[string][]string{}
	note := func(source string, listed []string) {
		for _, allergen := range listed {
			if from[allergen] == nil {
				allergens = append(allergens, allergen)
			}
			if !slices.Contains(from[allergen], source) {
				from[allergen] = append(from[allergen], source)
			}
			if !slices.Contains(sources, source) {
				sources = append(sources, source)
			}
		}
	}
	for i := range a.Pours {
		note(a.Pours[i].Name, a.Pours[i].Ingredient.Allergens)
	}
	for _, text := range a.Spec.Finish {
		note(text, shelf.AllergensOfText(text))
	}
	if len(allergens) == 0 {
		return nil
	}
	for n, allergen := range allergens {
		allergens[n] = allergen + " in " + strings.Join(from[allergen], ", ")
	}
	return []profile.Caution{{
		Key: profile.AllergensKey, Title: "Allergens",
		Ingredients: sources,
		Text:        strings.Join(allergens, "; ") + ". Labels go before this list; traces from shared tools are not in it.",
		Rule:        "Regulation (EU) 1169/2011, Annex II",
	}}
}

// quinineCautions adds up the pours that are made with quinine.
func quinineCautions(a *Answer, shelf *pantry.Shelf) []profile.Caution {
	var names []string
	most := 0.0
	for i := range a.Pours {
		p := &a.Pours[i]
		if each, made := shelf.Quinine(p.Ingredient); made {
			most += float64(each) * p.Base
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	cautions := profile.QuinineCautions(&a.finished.State, profile.Milligram(most))
	for n := range cautions {
		cautions[n].Ingredients = slices.Clone(names)
	}
	return cautions
}
