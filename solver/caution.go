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
	all.add("", allergenCautions(a, w.question.Shelf)...)
	all.add("", a.finished.Cautions()...)
	all.add("", quinineCautions(a)...)
	for i := range a.Pours {
		p := &a.Pours[i]
		all.add(p.Name, p.Ingredient.Cautions(p.Name)...)
	}
	for _, text := range a.Spec.Finish {
		all.add(text, pantry.CautionsOfText(text)...)
	}
	return all
}

// cautionList holds each kind of caution once.
type cautionList []profile.Caution

// add adds cautions that all come from one ingredient; none where it is empty.
func (l *cautionList) add(from string, cautions ...profile.Caution) {
	for _, c := range cautions {
		n := slices.IndexFunc(*l, func(known profile.Caution) bool { return known.Key == c.Key })
		if n < 0 {
			*l = append(*l, c)
			n = len(*l) - 1
		}
		if into := &(*l)[n].Ingredients; from != "" && !slices.Contains(*into, from) {
			*into = append(*into, from)
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
func quinineCautions(a *Answer) []profile.Caution {
	var names []string
	most := 0.0
	for i := range a.Pours {
		p := &a.Pours[i]
		if each, made := p.Ingredient.Quinine(); made {
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
