package main

import (
	"fmt"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// tradeWords are words of the trade, folded, and what answers them here: those
// of units, methods, properties and tastes, and over them those that are written
// out. A word of several words has low lines in it.
var tradeWords = func() map[string]string {
	all := map[string]string{}
	for _, u := range pantry.Units() {
		for _, word := range u.Words() {
			all[pantry.Fold(word)] = "minim help units"
		}
	}
	for _, word := range profile.MethodNames() {
		all[pantry.Fold(word)] = "minim design --ice"
	}
	for _, word := range profile.PropertyNames() {
		all[pantry.Fold(word)] = "minim help targets"
	}
	for word := range tasteWords {
		all[word] = "minim nudge --more"
	}
	for _, one := range [][2]string{
		{"minim rebalance", "swap substitute replace season drift"},
		{"minim design --at-most", "choose choice pick"},
		{"minim design --ice", "ice shaken stirred blended method"},
		{"minim design --glass", "glass"},
		{"minim design --robust", "robust"},
		{"minim design", "solve balance"},
		{"minim pantry lot", "lot delivery measurement harvest"},
		{"minim pantry list", "ingredient shelf stock inventory bottles"},
		{"minim pantry check", "csv spreadsheet"},
		{"minim pantry measure", "measuring hydrometer titrate saline liqueur dose"},
		{"minim help units, and minim pantry measure dash", "dash pinch barspoon"},
		{"minim pantry measure titration", "titration"},
		{"minim pantry measure infusion", "infusion infuse steep tincture"},
		{"minim pantry measure adjust", "juice superjuice"},
		{"minim prep", "syrup cordial carbonate carbonation carbonated clarify clarified clarification reduce reduction prepare premix"},
		{"minim profile", "kcal energy calorie nutrition nutrient caffeine taste"},
		{"minim profile --cost", "cost price cheap cheaper money"},
		{"minim profile --price", "margin budget"},
		{"minim profile --rocks", "melt meltwater rock"},
		{"minim profile, and minim card", "allergen gluten nut sulphite"},
		{"minim batch", "label batching shopping shelf_life keeping keep spoil scaling scale_up prebatch punch party yield double half waste brix refractometer"},
		{"minim batch --serves", "serve serving people"},
		{"minim batch --bottle", "bottle"},
		{"minim batch --keg", "keg tap draught"},
		{"minim batch --scale", "scale weigh weight"},
		{"minim lighten", "weaker lower low low_abv light"},
		{"minim lighten --below", "mocktail zero zero_proof alcohol_free non_alcoholic nonalcoholic no_alcohol"},
		{"minim nudge", "adjust adjustment correct less more"},
		{"minim nudge --more", "sweeter sourer drier stronger saltier bitterer thicker thinner longer shorter tarter sharper sour sourness acidic"},
		{"minim nudge --jug", "jug pitcher"},
		{"minim reach", "limit range extreme"},
		{"minim compare", "menu difference similar"},
		{"minim export, and minim import", "recipe"},
		{"minim card", "print book cards page"},
		{"minim compare --svg", "picture chart graph svg"},
		{"minim help targets", "dilution aim acidity strength alcohol proof fizz fizzy bubble texture temperature cold salinity"},
		{"minim help measures", "jigger step rounding accuracy precision pour"},
		{"minim help jnd", "noticeable tolerance threshold"},
		{"minim help units", "convert conversion"},
		{"minim pantry list --vegan", "vegan vegetarian"},
		{"minim help targets, and minim pantry measure bitterness", "bitterness"},
		{"minim pantry measure acid", "citric malic tartaric powder"},
		{"minim design --spec", "spec yaml template"},
		{"minim schema", "json"},
		{"minim completion", "tab"},
	} {
		for _, word := range strings.Fields(one[1]) {
			all[pantry.Fold(word)] = one[0]
		}
	}
	return all
}()

// answersTo is what answers a word of the trade or the name of an ingredient;
// empty: nothing that is known.
func answersTo(word string) string {
	if meant, ok := tradeWords[pantry.Fold(word)]; ok {
		return meant
	}
	if i, err := pantry.Embedded().Find(word); err == nil {
		return fmt.Sprintf("minim pantry show %q", i.Name)
	}
	return ""
}

// noCommand says that a word is no command of those in words, and what may have
// been meant.
func noCommand(word, after string, words []string) error {
	text := fmt.Sprintf("no command %q%s", word, after)
	if meant := answersTo(word); meant != "" && after == "" {
		return fmt.Errorf("%s; what answers it is %s", text, meant)
	}
	if near := pantry.NearestWithin(word, words, 2); len(near) > 0 {
		return fmt.Errorf("%s; nearest: %s", text, strings.Join(near, ", "))
	}
	if after == "" {
		return fmt.Errorf("%s; `minim help` lists them", text)
	}
	return fmt.Errorf("%s; expected one of %s", text, strings.Join(words, ", "))
}
