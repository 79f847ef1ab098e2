package solver

import (
	"math"
	"slices"

	"minim/pantry"
)

// Purchase is how much of one ingredient a batch takes and what is bought for
// it.
type Purchase struct {
	Ingredient *pantry.Ingredient
	// Need is in ml of a liquid or grams of a solid.
	Need float64
	// Packs is need over what a pack holds, rounded up, and Left what is over, in
	// the unit of Need; Packs is 0 where the pack is not known.
	Packs int
	Left  float64
	// Price is that of the packs, in the ingredient's currency; it means nothing
	// unless Priced.
	Price  float64
	Priced bool
}

// wholePacks forgives the round-off of a need that is a whole number of packs.
const wholePacks = 1e-9

// shoppingList gathers what is needed of everything, what is made by the bar
// taken apart, in the order of first need; tap water is left out.
func shoppingList(pours []PouredAmount, needs []float64, made Making) (buy, prepare []Purchase) {
	add := func(list *[]Purchase) func(*pantry.Ingredient, float64) {
		return func(i *pantry.Ingredient, base float64) {
			n := slices.IndexFunc(*list, func(p Purchase) bool { return p.Ingredient == i })
			if n < 0 {
				n = len(*list)
				*list = append(*list, Purchase{Ingredient: i})
			}
			(*list)[n].Need += base
		}
	}
	for i := range pours {
		made.bought(pours[i].Ingredient, needs[i], add(&prepare), add(&buy))
	}
	buy = slices.DeleteFunc(buy, func(p Purchase) bool { return p.Ingredient.PlainWater() })
	for i := range buy {
		buy[i].inPacks()
	}
	return buy, prepare
}

func (p *Purchase) inPacks() {
	holds, err := p.Ingredient.Pack.Of(p.Ingredient)
	if err != nil || holds <= 0 {
		return
	}
	p.Packs = int(math.Ceil(p.Need/holds - wholePacks))
	p.Left = max(0, float64(p.Packs)*holds-p.Need)
	if p.Ingredient.Priced {
		p.Price, p.Priced = float64(p.Packs)*p.Ingredient.Price, true
	}
}
