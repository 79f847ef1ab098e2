package pantry

import (
	"fmt"
	"slices"
	"strings"

	"minim/profile"
)

// Unit is a unit in which a bar measures.
type Unit int

// The units. An ounce is a fluid ounce; without a word before it, the US one.
const (
	Millilitres Unit = iota
	Centilitres
	Litres
	USOunces
	ImperialOunces
	Grams
	Kilograms
	Dashes
	Drops
	Barspoons
	Teaspoons
	Pinches
	Pieces

	units int = iota
)

// unitTable holds what is fixed about each unit: how it is written of one and
// of several, the other words for it, in lower case, and what one of it holds
// or weighs. A piece has no size of its own.
var unitTable = [units]struct {
	one, several string
	words        []string
	millilitres  profile.Millilitre
	grams        profile.Gram
}{
	Millilitres: {
		one: "ml", several: "ml", millilitres: 1,
		words: []string{"millilitre", "millilitres", "milliliter", "milliliters"},
	},
	Centilitres: {
		one: "cl", several: "cl", millilitres: 10,
		words: []string{"centilitre", "centilitres", "centiliter", "centiliters"},
	},
	Litres: {
		one: "l", several: "l", millilitres: 1000,
		words: []string{"litre", "litres", "liter", "liters"},
	},
	USOunces: {
		one: "oz", several: "oz", millilitres: profile.USFluidOunce,
		words: []string{"ounce", "ounces", "fl oz", "floz", "fluid oz", "fluid ounce", "fluid ounces", "us oz", "us fl oz", "oz us", "oz (us)"},
	},
	ImperialOunces: {
		one: "imp oz", several: "imp oz", millilitres: profile.ImperialFluidOunce,
		words: []string{"imp fl oz", "imperial oz", "imperial fl oz", "imperial ounce", "imperial ounces", "uk oz", "uk fl oz", "oz (imp)"},
	},
	Grams: {
		one: "g", several: "g", grams: 1,
		words: []string{"gram", "grams", "gramme", "grammes"},
	},
	Kilograms: {
		one: "kg", several: "kg", grams: 1000,
		words: []string{"kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"},
	},
	Dashes: {one: "dash", several: "dashes", millilitres: profile.Dash},
	Drops:  {one: "drop", several: "drops", millilitres: profile.Drop},
	Barspoons: {
		one: "barspoon", several: "barspoons", millilitres: profile.Barspoon,
		words: []string{"bar spoon", "bar spoons", "bsp", "bsps"},
	},
	Teaspoons: {
		one: "tsp", several: "tsp", millilitres: profile.Teaspoon,
		words: []string{"tsps", "teaspoon", "teaspoons"},
	},
	Pinches: {one: "pinch", several: "pinches", grams: profile.Pinch},
	Pieces:  {one: "piece", several: "pieces", words: []string{"pc", "pcs"}},
}

// unitsByWord finds a unit by any of its words.
var unitsByWord = func() map[string]Unit {
	found := map[string]Unit{}
	for u, facts := range unitTable {
		found[facts.one], found[facts.several] = Unit(u), Unit(u)
		for _, word := range facts.words {
			found[word] = Unit(u)
		}
	}
	return found
}()

// String returns the word for one of the unit: "ml", "dash", "imp oz".
func (u Unit) String() string { return unitTable[u].one }

// Units returns every unit, in the order of the constants.
func Units() []Unit {
	all := make([]Unit, units)
	for u := range all {
		all[u] = Unit(u)
	}
	return all
}

// Millilitres returns what one of the unit holds; 0 for a mass and for a piece.
func (u Unit) Millilitres() profile.Millilitre { return unitTable[u].millilitres }

// Grams returns what one of the unit weighs; 0 for a volume and for a piece.
func (u Unit) Grams() profile.Gram { return unitTable[u].grams }

// Words returns the other words for the unit, in lower case, none for some.
func (u Unit) Words() []string { return slices.Clone(unitTable[u].words) }

// word returns the unit as it stands after a number.
func (u Unit) word(number float64) string {
	if number > 1 || number == 0 {
		return unitTable[u].several
	}
	return unitTable[u].one
}

// unitsInWords lists the units for messages.
const unitsInWords = "ml, cl, oz, g, dash, drop, barspoon, tsp, pinch or piece"

// unitHints answers measures that are in use but are none of the units: their
// size differs from house to house, or there is a plainer way to write it.
var unitHints = map[string]string{
	"part": "a part has no size of its own; choose one, such as 30 ml",
	"shot": "shots differ from house to house; write the ml or oz", "jigger": "jiggers differ from house to house; write the ml or oz",
	"pony": "write the ml or oz", "splash": "a splash has no size; write the ml or dashes, or leave it open",
	"top": "leave it open where it stands under top", "cup": "a US cup is 8 oz", "pint": "a US pint is 16 oz, an imperial pint 20 imp oz",
	"tbsp": "a tablespoon is 3 tsp, or 15 ml", "tablespoon": "a tablespoon is 3 tsp, or 15 ml", "dl": "1 dl is 100 ml",
	"mg": "1000 mg is 1 g", "µg": "write grams", "lb": "a pound is 453.6 g", "gal": "a US gallon is 128 oz",
	"slice": "count it in pieces", "leaf": "count it in pieces", "leave": "count it in pieces", "sprig": "count it in pieces",
	"spoon": "write barspoon or tsp",
}

// unitNamed returns the unit of that word; number is what stood before it.
func unitNamed(word, number string) (Unit, *mistake) {
	folded := foldUnit(word)
	if u, ok := unitsByWord[folded]; ok {
		return u, nil
	}
	if word == "" {
		return 0, &mistake{
			message: fmt.Sprintf("%q has no unit; expected %s", clip(number), unitsInWords),
			hint:    fmt.Sprintf("write %s ml, if ml are meant", clip(number)),
			part:    number,
		}
	}
	if kind := kindOfUnit(folded); kind != "" {
		return 0, &mistake{message: fmt.Sprintf("%q is %s; expected an amount in %s", clip(number+" "+word), kind, unitsInWords)}
	}
	wrong := &mistake{message: fmt.Sprintf("no unit %q; expected %s", clip(word), unitsInWords)}
	for _, known := range []string{folded, strings.TrimSuffix(folded, "s"), strings.TrimSuffix(folded, "es")} {
		if hint, ok := unitHints[known]; ok {
			wrong.hint = hint
			return 0, wrong
		}
	}
	if near := nearestUnit(folded); near != "" {
		wrong.hint = "nearest: " + near
	}
	return 0, wrong
}

// foldUnit brings a unit to the one form in which it is looked up: lower case,
// single spaces, no full stops.
func foldUnit(word string) string {
	word = strings.ToLower(strings.ReplaceAll(word, ".", " "))
	return strings.Join(strings.Fields(word), " ")
}

// kindOfUnit says what a unit of something other than an amount measures; empty
// for any other word.
func kindOfUnit(folded string) string {
	switch {
	case strings.HasSuffix(folded, "/l"), strings.HasSuffix(folded, "/ml"), strings.HasSuffix(folded, "/100ml"):
		return "a concentration"
	case strings.HasPrefix(folded, "%"), folded == "percent", folded == "per cent", folded == "proof", folded == "abv", folded == "brix":
		return "a proportion"
	case strings.HasPrefix(folded, "°"), folded == "c", folded == "f":
		return "a temperature"
	case folded == "kcal", folded == "kj", folded == "cal":
		return "an energy"
	}
	return ""
}

// nearestUnit returns the unit whose word looks most like word, empty where none
// does. Two letters are too few to guess from.
func nearestUnit(word string) string {
	if len(word) < 3 {
		return ""
	}
	var among []string
	for _, facts := range unitTable {
		for _, w := range append([]string{facts.one, facts.several}, facts.words...) {
			if len(w) > 3 {
				among = append(among, w)
			}
		}
	}
	return lookalike(word, among)
}
