package pantry

import (
	"regexp"
	"slices"
	"strings"
)

// otherHeadings is what spreadsheets call the columns besides, without unit.
var otherHeadings = map[string]string{
	"ingredient": "name", "product": "name", "item": "name", "bottle": "name",
	"type": "category", "group": "category", "kind": "category",
	"alias": "aliases", "also": "aliases", "other name": "aliases", "synonym": "aliases",
	"allergen": "allergens", "notes": "note", "comment": "note", "remark": "note",
	"in stock": "stock", "cost": "price", "pack size": "pack", "bottle size": "pack",
	"abv": "abv_percent", "alcohol": "abv_percent", "alc": "abv_percent", "strength": "abv_percent", "alcohol by volume": "abv_percent",
	"alc.": "abv_percent", "vol": "abv_percent", "abv percent": "abv_percent",
	"density": "density_g_per_ml", "ph": "pH", "ph value": "pH",
	"dextrose": "glucose_g_per_l", "levulose": "fructose_g_per_l",
	"titratable acidity as citric": "titratable_acidity_g_per_l_as_citric", "titratable acid as citric": "titratable_acidity_g_per_l_as_citric",
	"acidity as citric": "titratable_acidity_g_per_l_as_citric", "acid as citric": "titratable_acidity_g_per_l_as_citric",
	"bitterness as quinine": "bitterness_mg_per_l_quinine_hcl_eq", "dash": "dash_ml", "keeping": "keeps", "shelf life": "keeps",
}

// headingWords are the headings by every word that stands for them, folded: the
// names of the columns, those of otherHeadings, and of the composition columns
// the substance alone.
var headingWords = func() map[string]string {
	words := map[string]string{}
	for n := range fields {
		words[Fold(fields[n].heading)] = fields[n].heading
	}
	for other, heading := range otherHeadings {
		words[Fold(other)] = heading
	}
	for c := range Column(Columns) {
		name := columns[c].heading
		for _, ending := range []string{"_mg_per_l", "_g_per_l"} {
			if word, cut := strings.CutSuffix(name, ending); cut {
				words[Fold(word)] = name
				if columns[c].citric > 0 {
					words[Fold(word)+" acid"] = name
				}
			}
		}
	}
	return words
}()

// A unit at the end of a heading, in brackets or not, and those that there are.
var (
	headingUnit = regexp.MustCompile(`(?i)^(.*?)[\s,]*[(\[]?\s*(% ?vol\.?|vol\.? ?%|% ?abv|% ?w/v|%|g/l|g per l|grams? per litre|g/100 ?ml|mg/l|mg/100 ?ml|g/ml|g/cm3|g/cm³|kg/l|kg/m3|kg/m³|ml)\s*[)\]]?$`)
	unitNames   = strings.NewReplacer(" per ", "/", "grams", "g", "gram", "g", "litre", "l", "liter", "l", " ", "", ".", "", "³", "3")
)

// unitFactors turn a unit into that of a column, by the column's own unit.
var unitFactors = map[string]map[string]float64{
	"g_per_l":  {"g/l": 1, "mg/l": 1e-3, "g/100ml": 10, "mg/100ml": 1e-2, "%w/v": 10, "g/ml": 1000},
	"mg_per_l": {"mg/l": 1, "g/l": 1000, "mg/100ml": 10, "g/100ml": 1e4},
	"g_per_ml": {"g/ml": 1, "g/cm3": 1, "kg/l": 1, "kg/m3": 1e-3, "g/l": 1e-3},
	"percent":  {"%": 1, "%vol": 1, "vol%": 1, "%abv": 1},
	"ml":       {"ml": 1},
}

// unitOf is the key in unitFactors of a heading of the pantry; empty where the
// column has no unit.
func unitOf(heading string) string {
	switch {
	case strings.HasSuffix(heading, sourceEnding):
		return ""
	case strings.Contains(heading, "_mg_per_l"):
		return "mg_per_l"
	case strings.Contains(heading, "_g_per_l"):
		return "g_per_l"
	case strings.Contains(heading, "_g_per_ml"):
		return "g_per_ml"
	case strings.HasPrefix(heading, "abv_percent"):
		return "percent"
	case heading == "dash_ml":
		return "ml"
	default:
		return ""
	}
}

// headingMeant returns the field that a heading means for certain, and what
// turns its figures into the field's unit: 0 where the heading names no unit
// though the column has one.
func headingMeant(text string) (field int, factor float64, ok bool) {
	if f, ok := fieldNamed(text); ok {
		return f, 1, true
	}
	if f, ok := fieldNamed(strings.ReplaceAll(text, " ", "_")); ok {
		return f, 1, true
	}
	word, unit := text, ""
	if parts := headingUnit.FindStringSubmatch(text); parts != nil && parts[1] != "" {
		word, unit = parts[1], plainUnit(parts[2])
	}
	folded := Fold(strings.NewReplacer("(", " ", ")", " ", ",", " ").Replace(word))
	heading, known := headingWords[folded]
	if !known {
		return 0, 0, false
	}
	f, _ := fieldNamed(heading)
	own := unitOf(heading)
	switch {
	case own == "":
		return f, 1, unit == ""
	case own == "percent" && unit == "":
		return f, 1, true
	case unit == "":
		return f, 0, true
	}
	factor, ok = unitFactors[own][unit]
	return f, factor, ok
}

func plainUnit(unit string) string { return unitNames.Replace(strings.ToLower(unit)) }

// doubtfulWords are those of figures that the pantry has under another name or
// in more than one column: leaving them out would lose what the bar knows.
var doubtfulWords = []string{"sugar", "acid", "acidity", "ta", "brix", "proof", "gravity", "sg", "salt", "bitter", "bitterness", "density", "alcohol", "abv", "sweetness"}

// doubtfulHeading tells whether a column may hold a figure of the composition.
func doubtfulHeading(text string) bool {
	if parts := headingUnit.FindStringSubmatch(text); parts != nil && parts[1] != "" && plainUnit(parts[2]) != "ml" {
		return true
	}
	return slices.ContainsFunc(strings.FieldsFunc(Fold(text), func(r rune) bool { return r == ' ' || r == '(' || r == ')' || r == '/' }),
		func(word string) bool { return slices.Contains(doubtfulWords, word) })
}
