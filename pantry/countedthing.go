package pantry

import (
	"slices"
	"strings"
)

// countedThings are fruit, leaves and their parts, folded, which no amount in ml
// is meant for.
var countedThings = []string{
	"lime", "lemon", "orange", "grapefruit", "cherry", "strawberry", "raspberry", "blackberry", "olive", "apple", "pineapple", "cucumber",
	"leaf", "leave", "sprig", "slice", "wedge", "twist", "peel", "zest", "wheel", "chunk", "egg", "yolk", "clove", "stick", "pod",
}

// liquidWords make a liquid of a fruit.
var liquidWords = []string{
	"juice", "cordial", "syrup", "liqueur", "bitter", "wine", "vodka", "gin", "rum", "brandy", "soda", "water", "oil", "cider", "vinegar",
	"vermouth", "puree", "tea", "essence", "tincture", "spirit", "beer", "lemonade",
}

// unitlessHint says what to write for a number without a unit before a name: a
// count of what has a piece, ml of what may be a liquid.
func unitlessHint(number, name string, shelf *Shelf) string {
	if i, err := shelf.Find(name); err == nil && i.Piece > 0 {
		word := " piece"
		if value, wrong := parseMagnitude(number); wrong == nil && value > 1 {
			word += "s"
		}
		return "write " + clip(number) + word
	}
	words := strings.FieldsFunc(Fold(name), func(r rune) bool { return r == ' ' || r == ',' })
	holds := func(among []string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(among, w) })
	}
	if holds(countedThings) && !holds(liquidWords) {
		return "write what of it goes into the drink, such as the ml of its juice; a garnish belongs under finish"
	}
	return "write " + clip(number) + " ml, if ml are meant"
}
