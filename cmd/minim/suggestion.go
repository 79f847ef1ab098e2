package main

import (
	"fmt"
	"strings"

	"minim/pantry"
)

// tradeWords are words of the trade, folded, and what answers them here.
var tradeWords = map[string]string{
	"swap": "minim rebalance", "substitute": "minim rebalance", "replace": "minim rebalance",
	"choose": "minim design --at-most", "choice": "minim design --at-most", "pick": "minim design --at-most",
	"lot": "minim pantry lot", "delivery": "minim pantry lot", "measurement": "minim pantry lot",
	"allergen": "minim profile, and minim card", "label": "minim batch",
	"cost": "minim profile --cost", "price": "minim profile --cost", "margin": "minim profile --price",
	"serve": "minim batch --serves", "bottle": "minim batch --bottle", "keg": "minim batch --keg", "shopping": "minim batch",
	"weaker": "minim lighten", "lower": "minim lighten", "sweeter": "minim nudge", "sourer": "minim nudge", "adjust": "minim nudge",
	"jug": "minim nudge --jug", "limit": "minim reach", "range": "minim reach", "menu": "minim compare",
	"syrup": "minim prep", "cordial": "minim prep", "recipe": "minim export, and minim import", "print": "minim card", "solve": "minim design",
	"oz": "minim help units", "ounce": "minim help units", "dilution": "minim help targets", "ingredient": "minim pantry list",
}

// noCommand says that a word is no command of those in words, and what may have
// been meant.
func noCommand(word, after string, words []string) error {
	text := fmt.Sprintf("no command %q%s", word, after)
	if meant, ok := tradeWords[pantry.Fold(word)]; ok && after == "" {
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
