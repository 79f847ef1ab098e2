package pantry

import (
	"fmt"
	"slices"
	"strings"
)

// names warns of a name or alias that belongs to another ingredient below.
func (c *checker) names(r *row) {
	for n, folded := range r.folds {
		field := aliasesField
		switch {
		case n == 0:
			field = nameField
		case n == len(r.folds)-1 && r.filled[idField]:
			field = idField
		}
		for _, hit := range c.in.below.byName[folded] {
			if hit == r.over {
				continue
			}
			other := c.in.below.ingredients[hit]
			c.warn(r, field, fmt.Sprintf("%q is also a name of %s (%s); here it becomes %s", r.own[n], other.Name, other.Place, r.ingredient.Name),
				"take the word out unless every spec that says it should get this one")
		}
	}
}

// trade warns of prices that nothing can be reckoned with.
func (c *checker) trade(r *row) {
	i := &r.ingredient
	if !r.filled[priceField] && !r.filled[packField] && !r.filled[currencyField] {
		return
	}
	switch {
	case i.Priced && i.Pack.Value == 0:
		c.warn(r, priceField, fmt.Sprintf("%s has a price without a pack; expected what the price buys", i.Name), "write 700 ml, 1 kg or 12 pieces in the column pack")
	case i.Priced:
		if _, err := i.Pack.Of(i); err != nil {
			message, hint, _ := strings.Cut(err.Error(), "\nhint: ")
			c.warn(r, packField, "the pack of "+message, hint)
		}
	}
	if i.Priced && i.Currency == "" {
		c.warn(r, priceField, fmt.Sprintf("%s has a price without a currency; expected one such as EUR in the column currency", i.Name), "")
	}
	if i.Currency == "" {
		return
	}
	if c.currency == "" {
		c.currency = i.Currency
	}
	if i.Currency != c.currency {
		c.warn(r, currencyField, fmt.Sprintf("%s is priced in %s, rows before it in %s; expected one currency", i.Name, i.Currency, c.currency), "sums of both mean nothing")
	}
}

// lawfulAllergens are the substances of Regulation (EU) 1169/2011, Annex II.
var lawfulAllergens = []string{
	"cereals containing gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "nuts", "celery", "mustard", "sesame seeds",
	"sulphur dioxide and sulphites", "lupin", "molluscs",
}

// animalAllergens are those that come from animals.
var animalAllergens = []string{"crustaceans", "eggs", "fish", "milk", "molluscs"}

// allergenWord is an allergen without what stands in brackets behind it.
func allergenWord(allergen string) string {
	word, _, _ := strings.Cut(allergen, "(")
	return strings.TrimSpace(word)
}

func allergenHint(word string) string {
	if near, ok := AllergenNamed(word); ok {
		return "write " + near
	}
	if near := lookalike(word, lawfulAllergens); near != "" {
		return "nearest: " + near
	}
	return "one of " + strings.Join(lawfulAllergens, ", ")
}

// allergens warns of words that are not those of the law, and of a vegan
// ingredient with milk.
func (c *checker) allergens(r *row) {
	i := &r.ingredient
	for _, allergen := range i.Allergens {
		word := allergenWord(allergen)
		if r.filled[allergensField] && !slices.Contains(lawfulAllergens, word) {
			c.warn(r, allergensField, fmt.Sprintf("allergen %q of %s; expected a word of Regulation (EU) 1169/2011, Annex II", allergen, i.Name),
				allergenHint(word))
		}
		if i.Vegan == Yes && slices.Contains(animalAllergens, word) && (r.filled[veganField] || r.filled[allergensField]) {
			c.warn(r, veganField, fmt.Sprintf("%s is vegan and holds %s; expected one of the two", i.Name, word), "")
		}
	}
}
