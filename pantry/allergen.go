package pantry

import "slices"

// shortAllergens is what people say for them.
var shortAllergens = map[string]string{
	"gluten": "cereals containing gluten", "wheat": "cereals containing gluten", "dairy": "milk", "lactose": "milk", "soy": "soybeans",
	"soya": "soybeans", "tree nut": "nuts", "sulphite": "sulphur dioxide and sulphites", "sulfite": "sulphur dioxide and sulphites",
	"sulphur dioxide": "sulphur dioxide and sulphites", "sesame": "sesame seeds", "peanut": "peanuts",
	"almond": "nuts", "hazelnut": "nuts", "walnut": "nuts", "cashew": "nuts", "pecan": "nuts", "brazil nut": "nuts", "pistachio": "nuts",
	"macadamia": "nuts", "rye": "cereals containing gluten", "barley": "cereals containing gluten", "oat": "cereals containing gluten",
	"spelt": "cereals containing gluten", "prawn": "crustaceans", "shrimp": "crustaceans", "crab": "crustaceans", "lobster": "crustaceans",
	"oyster": "molluscs", "mussel": "molluscs", "clam": "molluscs", "anchovy": "fish", "cream": "milk", "cheese": "milk", "yoghurt": "milk",
	"yogurt": "milk",
}

// AllergenNames returns the allergens in the words of Regulation (EU)
// 1169/2011, Annex II.
func AllergenNames() []string { return slices.Clone(lawfulAllergens) }

// AllergenNamed returns the law's word for an allergen.
func AllergenNamed(word string) (string, bool) {
	if long, ok := shortAllergens[Fold(word)]; ok {
		return long, true
	}
	return WordAmong(word, lawfulAllergens)
}
