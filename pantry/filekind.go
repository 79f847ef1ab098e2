package pantry

import (
	"regexp"
	"strings"
)

// fileKind is what a text file is, as far as its beginning tells.
type fileKind int

const (
	unknownFile fileKind = iota
	ingredientTable
	lotTableFile
	recipeFile
	webPage
	specFile
)

var (
	pageBeginning = regexp.MustCompile(`(?is)^\s*(?:<\?xml[^>]*>\s*)?<(?:!doctype\s+html|html|head|body|script)\b`)
	specLine      = regexp.MustCompile(`(?m)^(?:drink|glass|mix|top|makes|target|choose):`)
)

// kindOf tells what a file is that was given in the place of another.
func kindOf(text string) fileKind {
	start := strings.TrimLeft(text, " \t\r\n")
	switch {
	case pageBeginning.MatchString(start):
		return webPage
	case strings.HasPrefix(start, "{") || strings.HasPrefix(start, "["):
		if strings.Contains(start, `"recipeIngredient"`) || strings.Contains(start, `"@type"`) {
			return recipeFile
		}
		return unknownFile
	}
	first, _, _ := strings.Cut(start, "\n")
	if _, named := separatorNamed(first); named {
		return ingredientTable
	}
	found := map[string]bool{}
	cells := strings.Split(first, string(separatorOf([]string{first})))
	for _, cell := range cells {
		found[strings.ToLower(strings.Trim(strings.TrimSpace(cell), `"`))] = true
	}
	switch {
	case strings.HasPrefix(first, "#"):
		// A remark in a spec may name anything.
	case len(cells) > 1 && found["date"] && found["ingredient"]:
		return lotTableFile
	case len(cells) > 1 && found["name"]:
		return ingredientTable
	}
	if specLine.MatchString(text) {
		return specFile
	}
	return unknownFile
}

// notSpec says of a file given as a spec what it is instead; nil: perhaps a spec.
func notSpec(text string) *mistake {
	switch kindOf(text) {
	case ingredientTable:
		return &mistake{message: "a table, not a spec; expected lines such as `drink: name`", hint: "a table of ingredients is given with --pantry"}
	case lotTableFile:
		return &mistake{message: "a table of measurements, not a spec; expected lines such as `drink: name`", hint: "it is given with --lots"}
	case recipeFile:
		return &mistake{message: "a recipe, not a spec; expected lines such as `drink: name`", hint: "`minim import` makes a spec of it"}
	case webPage:
		return &mistake{message: "a web page, not a spec; expected lines such as `drink: name`", hint: "save its script block of type application/ld+json alone, for `minim import`"}
	}
	return nil
}

// notRecipe says of a file given as a recipe what it is instead.
func notRecipe(text string) *mistake {
	switch kindOf(text) {
	case webPage:
		return &mistake{message: "a web page; expected the JSON in it", hint: "save the script block of type application/ld+json alone"}
	case specFile:
		return &mistake{message: "a spec, not a recipe; expected JSON", hint: "a spec needs no import: every other command reads it"}
	case ingredientTable, lotTableFile:
		return &mistake{message: "a table, not a recipe; expected JSON", hint: "a table of ingredients is given with --pantry, one of measurements with --lots"}
	}
	return nil
}

// notTable says of a file given as a table what it is instead.
func notTable(text string) *mistake {
	switch kindOf(text) {
	case webPage:
		return &mistake{message: "a web page, not a table; expected CSV", hint: "in the spreadsheet, save as CSV UTF-8"}
	case specFile:
		return &mistake{message: "a spec, not a table; expected CSV", hint: "a spec is given by its name alone, without --pantry or --lots"}
	case recipeFile:
		return &mistake{message: "a recipe, not a table; expected CSV", hint: "`minim import` makes a spec of it"}
	}
	return nil
}
