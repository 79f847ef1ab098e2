package solver

import (
	"fmt"

	"minim/pantry"
	"minim/profile"
)

// mostGum is the xanthan gum in g/L up to which drinks and preps are thickened
// with it; common practice, no source: 0.5 to 3.
const mostGum = 3.0

// gum is the xanthan gum that thickens as much as the gums which were weighed
// into a base unit of an ingredient, in g: in a prep, the parts' share of what
// thickens it.
func (w *work) gum(i *pantry.Ingredient) float64 {
	all := i.PerUnit()[profile.ThickenerGrams]
	if i.IsGum() {
		return all
	}
	prep, ok := w.question.Shelf.Prep(i)
	if !ok || all == 0 {
		return 0
	}
	in, weighed := 0.0, 0.0
	for n := range prep.Parts {
		part := &prep.Parts[n]
		in += part.Ingredient.PerUnit()[profile.ThickenerGrams] * part.Base
		weighed += w.gum(part.Ingredient) * part.Base
	}
	if in == 0 {
		return 0
	}
	return all * weighed / in
}

// remarkGum says so where more gum than usual thickens the drink, or else a prep
// in it.
func (w *work) remarkGum(a *Answer) {
	note := func(what string, perLitre float64) bool {
		if perLitre <= mostGum*(1+1e-6) {
			return false
		}
		a.Notes = append(a.Notes, fmt.Sprintf("the gum in %s comes to %.1f g of xanthan gum in a litre; 0.5 to 3 g is usual (common practice, no source), and more turns it to slime", what, perLitre))
		return true
	}
	total := 0.0
	for i := range a.Pours {
		total += w.gum(a.Pours[i].Ingredient) * a.Pours[i].Base
	}
	if volume := a.Profile[profile.Volume].Value; volume > 0 && note("it", 1000*total/volume) {
		return
	}
	for _, p := range prepsOf(w.question.Spec, w.question.Shelf) {
		note(p.Ingredient.Name, 1000*w.gum(p.Ingredient))
	}
}
