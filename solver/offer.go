package solver

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// Most of what is offered for choice: common practice, no source.
const (
	// offeredPowder is in grams per ml of drink.
	offeredPowder = 0.1
	// offeredDashes is the most of what is measured by the dash or drop.
	offeredDashes = 6
)

// Words under `none of` besides names, categories and allergens: what is not
// known to be without anything of animals, and what is out of stock.
const (
	AnimalProducts = "animal products"
	OutOfStock     = "out of stock"
)

// offers lists what may be chosen: what `from` names or, without it, the shelf
// less water, less what holds nucleotides, less what thickens where no viscosity
// is asked for and less what is savoury where no umami is; without what is ruled out, what the spec pours
// already, and what could upset a target by a figure that nobody knows.
func (w *work) offers(choose *pantry.Choose) ([]pour, error) {
	var wrong pantry.InputErrors
	list := func(names []string, barring bool) []*pantry.Ingredient {
		found, err := w.named(names, barring)
		if err != nil {
			wrong = append(wrong, w.question.Spec.ErrorAt(choose.Place, "choose: "+err.Error(), ""))
		}
		return found
	}
	barred := list(choose.NoneOf, true)
	var offered []*pantry.Ingredient
	add := func(found []*pantry.Ingredient) {
		for _, i := range found {
			if !slices.Contains(offered, i) {
				offered = append(offered, i)
			}
		}
	}
	if len(choose.From) == 0 {
		add(w.wholeShelf())
	}
	for _, names := range append([][]string{choose.From, choose.Must}, choose.OneOf...) {
		add(list(names, false))
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	must, err := w.named(choose.Must, false)
	if err != nil {
		return nil, err
	}
	for _, names := range choose.OneOf {
		// What is poured already is the one of them.
		if fixed, err := w.fixedOf(names); err != nil {
			return nil, err
		} else if fixed {
			barred = append(barred, list(names, false)...)
		}
	}
	if err := w.mustFit(choose, must, barred); err != nil {
		return nil, err
	}
	var out []pour
	var unknown, unpriced []*pantry.Ingredient
	for _, i := range offered {
		poured := slices.ContainsFunc(w.pours, func(p pour) bool { return p.ingredient == i })
		if poured || slices.Contains(barred, i) {
			continue
		}
		p, ok := w.offer(i)
		_, priced := i.PricePerUnit()
		switch needed := slices.Contains(must, i); {
		case !ok:
		case choose.MostCost > 0 && !priced && !p.isWater():
			unpriced = append(unpriced, i)
		case !needed && w.upsets(&p):
			unknown = append(unknown, i)
		default:
			out = append(out, p)
		}
	}
	w.remarkLeftOut(unknown, "of which something that is aimed at is unknown")
	w.remarkLeftOut(unpriced, "without a price")
	if len(out) == 0 {
		return nil, pantry.InputErrors{w.question.Spec.ErrorAt(choose.Place, "choose: nothing is left to choose from; expected ingredients under from, or fewer under none of", "")}
	}
	return out, w.oneCurrency(choose, out)
}

// fixedOf tells whether one of the named ingredients is a fixed pour of the spec.
func (w *work) fixedOf(names []string) (bool, error) {
	group, err := w.named(names, false)
	return slices.ContainsFunc(w.pours, func(p pour) bool { return p.fixed && slices.Contains(group, p.ingredient) }), err
}

// mustFit refuses what must be in the drink and cannot be.
func (w *work) mustFit(choose *pantry.Choose, must, barred []*pantry.Ingredient) error {
	refuse := func(format string, of ...any) error {
		return pantry.InputErrors{w.question.Spec.ErrorAt(choose.Place, "choose: "+fmt.Sprintf(format, of...), "")}
	}
	var counted []*pantry.Ingredient
	for _, i := range must {
		if slices.ContainsFunc(w.pours, func(p pour) bool { return p.ingredient == i }) || slices.Contains(counted, i) {
			continue
		}
		counted = append(counted, i)
		p, ok := w.offer(i)
		_, priced := i.PricePerUnit()
		switch {
		case slices.Contains(barred, i):
			return refuse("%s must be in the drink and is ruled out; expected the one or the other", i.Name)
		case !ok:
			return refuse("%s must be in the drink, but its measure is more than the drink; expected more volume or a finer measure", i.Name)
		case choose.MostCost > 0 && !priced && !p.isWater():
			return refuse("%s must be in the drink and has no price, and the cost is limited; expected its price and pack in a CSV of your own", i.Name)
		}
	}
	if len(counted) > choose.AtMost {
		return refuse("must comes to %d ingredients (%s), at most to %d; expected single names: all of a category are in the drink", len(counted), someOf(counted), choose.AtMost)
	}
	return nil
}

// someOf names the first few of a list.
func someOf(list []*pantry.Ingredient) string {
	const named = 3
	var names []string
	for n, i := range list {
		if n == named {
			names = append(names, fmt.Sprintf("%d more", len(list)-named))
			break
		}
		names = append(names, i.Name)
	}
	return strings.Join(names, ", ")
}

// Offered lists what a choice is from: what it names or, without names, the whole
// shelf.
func Offered(choose *pantry.Choose, shelf *pantry.Shelf) ([]*pantry.Ingredient, error) {
	w := &work{question: Question{Shelf: shelf}}
	if len(choose.From) == 0 {
		return w.wholeShelf(), nil
	}
	return w.named(choose.From, false)
}

// oneCurrency refuses to add up prices of several currencies.
func (w *work) oneCurrency(choose *pantry.Choose, offered []pour) error {
	if choose.MostCost == 0 {
		return nil
	}
	offered = slices.DeleteFunc(slices.Clone(offered), func(p pour) bool { return p.isWater() })
	for i := range offered {
		if first, other := offered[0].ingredient, offered[i].ingredient; first.Currency != other.Currency {
			return pantry.InputErrors{w.question.Spec.ErrorAt(choose.Place, fmt.Sprintf("choose: %s is priced in %s and %s in %s; expected one currency", first.Name, first.Currency, other.Name, other.Currency), "")}
		}
	}
	return nil
}

// offer is an ingredient as a pour that may be chosen.
func (w *work) offer(i *pantry.Ingredient) (pour, bool) {
	step, err := stepOf(i, w.question.Spec)
	if err != nil {
		return pour{}, false
	}
	most := w.volume
	if i.Solid {
		most *= offeredPowder
		if soluble := i.SolubleGramsPerLitre * w.volume / 1000; soluble > 0 {
			most = min(most, soluble)
		}
	}
	high := int(most/step + roundOff)
	if i.Step.Word == "dash" || i.Step.Word == "drop" {
		high = min(high, offeredDashes)
	}
	p := pour{
		written: pantry.Pour{Name: i.Name, Kind: pantry.Optional}, ingredient: i, unit: i.PerUnit(), optional: true,
		step: step, low: 1, high: high, chosen: true,
	}
	if i.Bubbles() {
		p.stage = OnTop
	}
	return p, high > 0
}

// wholeShelf is what a choice without names is from.
func (w *work) wholeShelf() []*pantry.Ingredient {
	var out []*pantry.Ingredient
	for _, i := range w.question.Shelf.All() {
		unit := i.PerUnit()
		p := pour{unit: unit}
		if !p.isWater() && !i.OutOfStock && unit[profile.NucleotidesMilligrams] == 0 && w.inPlace(i) {
			out = append(out, i)
		}
	}
	return out
}

// inPlace tells whether an ingredient may be named to somebody who did not name
// it: one that thickens only where a viscosity is asked for, a savoury one only
// where umami is.
func (w *work) inPlace(i *pantry.Ingredient) bool {
	unit := i.PerUnit()
	thickens := i.Solid && unit[profile.ThickenerGrams]+unit[profile.GumGrams] > 0
	return (!thickens || w.targetOf(profile.Viscosity) != nil) &&
		(unit[profile.GlutamicMilligrams] <= savoury || w.targetOf(profile.Umami) != nil)
}

// savoury is the free glutamic acid, in mg per ml or gram, from which an
// ingredient is there for its savour: between tomato juice and soy sauce.
const savoury = 1.5

// upsets tells whether an unknown figure of a pour, taken at the largest of its
// category, could move a target by half a JND. As much of it is looked at as a
// fifth of the drink, or what may be poured.
func (w *work) upsets(p *pour) bool {
	amount := min(float64(p.high)*p.step, w.volume/5)
	for i := range w.targets {
		property := w.targets[i].Property
		if !p.ingredient.Unknown(property) {
			continue
		}
		most, bounded := p.ingredient.Ceiling(property)
		if !bounded {
			continue
		}
		d := profile.Drink{Mix: p.unit.Scale(amount)}
		d.Mix[profile.WaterGrams] += max(0, w.volume-amount)
		var plain, raised profile.Values
		set := profile.PropertySet(0).With(property)
		d.Evaluate(set, &plain, nil, nil)
		d.Mix = d.Mix.Add(most.Scale(amount))
		d.Evaluate(set, &raised, nil, nil)
		if math.Abs(raised[property]-plain[property]) >= refusedUnknown*sizeAt(property, w.targets[i].High) {
			return true
		}
	}
	return false
}

// NotOffered are ingredients that a choice was not made from.
type NotOffered struct {
	Ingredients []*pantry.Ingredient
	// Why is the reason, in words.
	Why string
}

// remarkLeftOut names what was not offered, a few of them by name.
func (w *work) remarkLeftOut(left []*pantry.Ingredient, why string) {
	if len(left) > 0 {
		w.notOffered = append(w.notOffered, NotOffered{left, why})
		w.notes = append(w.notes, "not offered, "+why+": "+someOf(left))
	}
}

// named finds the ingredients that go by each name: one of that name or all of a
// category. Where they are to be barred a name is an allergen too, or one of the
// words for animal products (what is not known to be without) and out of stock.
func (w *work) named(names []string, barring bool) ([]*pantry.Ingredient, error) {
	var out []*pantry.Ingredient
	for _, name := range names {
		folded := pantry.Fold(name)
		var hits []*pantry.Ingredient
		word := folded == pantry.Fold(AnimalProducts) || folded == pantry.Fold(OutOfStock)
		allergen, lawful := pantry.AllergenNamed(name)
		for _, i := range w.question.Shelf.All() {
			switch {
			case pantry.Fold(i.Category) == folded,
				barring && lawful && holdsAllergen(i, allergen),
				barring && folded == pantry.Fold(AnimalProducts) && i.Vegan != pantry.Yes,
				barring && folded == pantry.Fold(OutOfStock) && i.OutOfStock:
				hits = append(hits, i)
			}
		}
		if i, err := w.question.Shelf.Find(name); err == nil {
			hits = append(hits, i)
		} else if len(hits) == 0 && !(barring && (word || lawful)) {
			return nil, err
		}
		for _, i := range hits {
			if !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out, nil
}

// holdsAllergen tells whether an ingredient lists an allergen, in whatever more
// words.
func holdsAllergen(i *pantry.Ingredient, lawful string) bool {
	return slices.ContainsFunc(i.Allergens, func(a string) bool {
		word, _, _ := strings.Cut(a, " (")
		return pantry.Fold(word) == pantry.Fold(lawful)
	})
}
