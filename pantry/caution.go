package pantry

import (
	"slices"
	"strings"

	"minim/profile"
)

// commonPractice is the rule of a caution that no published limit stands behind.
const commonPractice = "common practice"

// namedCaution is what the words of a name call for.
type namedCaution struct {
	caution profile.Caution
	// phrases are folded; a name that holds one as whole words is meant, unless it
	// holds one of besides.
	phrases, besides []string
	// garnish says that it is of what finishes a drink alone.
	garnish bool
}

// infusedPlants is the caution of what plants stand or stood in.
var infusedPlants = profile.Caution{
	Key: "plant-infusion", Title: "Infused plants",
	Text: "it harms where the plant in it does: food-grade plants alone, named for certain and unsprayed, the dose known, strained, dated.",
	Rule: commonPractice,
}

// namedCautions are in the order in which they are given.
var namedCautions = []namedCaution{
	{
		caution: infusedPlants,
		phrases: []string{"infusion", "infused", "steeped", "tincture", "macerated"},
	},
	{
		caution: profile.Caution{
			Key: "flower", Title: "Flowers",
			Text: "only those grown and sold as food: florists' are sprayed, and some are poisonous.",
			Rule: commonPractice,
		},
		phrases: []string{"flower", "petal", "blossom"},
		besides: []string{"edible", "water"},
		garnish: true,
	},
	{
		caution: profile.Caution{
			Key: "flame", Title: "Open flame",
			Text: "nothing above 50 % vol and no spray of oils near it but the one meant, hair and sleeves away, a lid at hand; never hand over a drink that burns.",
			Rule: commonPractice,
		},
		phrases: []string{"flame", "flamed", "flaming", "flambe", "flambeed", "ignite", "ignited", "on fire", "torched", "torch"},
		besides: []string{"flame grape", "torch ginger"},
	},
	{
		caution: profile.Caution{
			Key: "dry-ice", Title: "Dry ice",
			Text: "it burns skin, drives the air out of a small room and bursts what is sealed. Tongs and fresh air; none may be left in a drink that is handed over.",
			Rule: commonPractice,
		},
		phrases: []string{"dry ice"},
	},
	{
		caution: profile.Caution{
			Key: "liquid-nitrogen", Title: "Liquid nitrogen",
			Text: "it burns, drives the air out of a room and tears a stomach: trained hands alone, and none may be left in a drink that is handed over.",
			Rule: commonPractice,
		},
		phrases: []string{"liquid nitrogen", "ln2"},
	},
}

// CautionsOfText returns what the words of a garnish or finish call for.
func CautionsOfText(text string) []profile.Caution { return cautionsNamed(text, true) }

func cautionsNamed(text string, garnish bool) []profile.Caution {
	var all []profile.Caution
	for n := range namedCautions {
		c := &namedCautions[n]
		if (garnish || !c.garnish) && holdsPhrase(text, c.phrases) && !holdsPhrase(text, c.besides) {
			all = append(all, c.caution)
		}
	}
	return all
}

// holdsPhrase tells whether text, once folded, holds one of the folded phrases
// as whole words.
func holdsPhrase(text string, phrases []string) bool {
	folded := " " + strings.Map(noMarks, Fold(text)) + " "
	return slices.ContainsFunc(phrases, func(phrase string) bool { return strings.Contains(folded, " "+phrase+" ") })
}

// noMarks turns punctuation into spaces.
func noMarks(r rune) rune {
	if strings.ContainsRune(".,;:!?()/\"", r) {
		return ' '
	}
	return r
}

// keepingRule ends what the embedded pantry says of keeping.
const keepingRule = "; common practice, no source"

// keptCategories are those of what a bar makes or opens and then keeps.
var keptCategories = []string{"juice", "tea & infusion", "syrup", "umami", "dairy & egg", prepCategory}

// notRaw are words of egg that is not raw.
var notRaw = []string{"pasteurised", "pasteurized", "cooked", "dried", "powder", "liqueur"}

// Cautions returns what an ingredient calls for, under the name that a spec
// gives it: by what it is made of, its allergens and its words.
//
//	raw-egg   the allergen eggs, in a name without a word such as pasteurised
//	dairy     the allergen milk, in a liquid
//
// Of what a prep makes these two come from its parts, which say more: see
// Shelf.Cautions.
func (i *Ingredient) Cautions(name string) []profile.Caution {
	var all []profile.Caution
	if i.made == nil {
		all = i.animalCautions(name)
	}
	unit := i.PerUnit()
	all = append(all, unit.HandlingCautions()...)
	if !i.Solid && slices.Contains(keptCategories, i.Category) && !i.listsAllergen("milk") && !i.listsAllergen("eggs") {
		all = append(all, unit.KeepingCautions(i.Figures[PH].Value, strings.TrimSuffix(i.Keeps, keepingRule))...)
	}
	return append(all, cautionsNamed(name+"; "+i.Name, false)...)
}

// Cautions returns what an ingredient of the shelf calls for, under the name that
// a spec gives it; of what a prep makes, also what egg, milk and cream in it call
// for, to any depth.
func (s *Shelf) Cautions(i *Ingredient, name string) []profile.Caution {
	return append(i.Cautions(name), s.animalParts(i, name)...)
}

func (s *Shelf) animalParts(i *Ingredient, in string) []profile.Caution {
	p, ok := s.Prep(i)
	if !ok {
		return nil
	}
	var all []profile.Caution
	for n := range p.Parts {
		part := &p.Parts[n]
		of := part.Name + " in " + in
		if part.Ingredient.made != nil {
			all = append(all, s.animalParts(part.Ingredient, of)...)
			continue
		}
		for _, c := range part.Ingredient.animalCautions(part.Name) {
			c.Ingredients = []string{of}
			all = append(all, c)
		}
	}
	return all
}

// animalCautions are those of egg, milk and cream.
func (i *Ingredient) animalCautions(name string) []profile.Caution {
	var all []profile.Caution
	names := strings.Join(append([]string{name, i.Name}, i.Aliases...), "; ")
	if i.listsAllergen("eggs") && !holdsPhrase(names, notRaw) {
		all = append(all, profile.Caution{
			Key: "raw-egg", Title: "Raw egg",
			Text: "pasteurised, or fresh, cold and cracked to order; say so on the menu, for guests who must not have it.",
			Rule: commonPractice,
		})
	}
	if i.listsAllergen("milk") && !i.Solid {
		all = append(all, profile.Caution{
			Key: "dairy", Title: "Milk and cream",
			Text: "5 °C or below, back in the fridge at once, and gone by the date on the carton; acid curdles them.",
			Rule: commonPractice,
		})
	}
	return all
}

// listsAllergen tells whether the row lists the allergen, of whatever kind.
func (i *Ingredient) listsAllergen(word string) bool {
	return slices.ContainsFunc(i.Allergens, func(listed string) bool { return Fold(allergenWord(listed)) == Fold(word) })
}

// quinineWords are of what is made with quinine or with the bark it comes from.
var quinineWords = []string{"tonic", "tonic water", "bitter lemon", "quinine", "cinchona", "quinquina"}

// Quinine returns the quinine in one ml or gram of what is made with it, where
// all its bitterness is quinine: the most there can be by its figure. made is
// false for every other ingredient, however bitter.
func (i *Ingredient) Quinine() (most profile.Milligram, made bool) {
	if !holdsPhrase(strings.Join(append([]string{i.Name}, i.Aliases...), "; "), quinineWords) {
		return 0, false
	}
	unit := i.PerUnit()
	return profile.Milligram(unit[profile.BitternessMilligrams] * profile.QuininePerHydrochloride), true
}

// Quinine returns the quinine in one ml or gram of an ingredient of the shelf,
// like that of the ingredient; of what a prep makes it is that of all its parts,
// none of it lost.
func (s *Shelf) Quinine(i *Ingredient) (most profile.Milligram, made bool) {
	p, ok := s.Prep(i)
	if !ok {
		return i.Quinine()
	}
	for n := range p.Parts {
		if each, of := s.Quinine(p.Parts[n].Ingredient); of {
			most += each * profile.Milligram(p.Parts[n].Base/float64(p.Yield))
			made = true
		}
	}
	return most, made
}

// mostNameWords is how many words of a garnish are looked up as one name.
const mostNameWords = 6

// AllergensOfText returns the allergens that a garnish or finish may bring: those
// of every ingredient of the shelf that its words name, and the law's own words.
func (s *Shelf) AllergensOfText(text string) []string {
	var found []string
	words := strings.Fields(text)
	for from := range words {
		for to := from + 1; to <= min(from+mostNameWords, len(words)); to++ {
			phrase := strings.Trim(strings.Join(words[from:to], " "), ".,;:!?()")
			for _, n := range s.byName[Fold(phrase)] {
				found = append(found, s.ingredients[n].Allergens...)
			}
			if word, ok := AllergenNamed(phrase); ok {
				found = append(found, word)
			}
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}
