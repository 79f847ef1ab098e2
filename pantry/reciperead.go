package pantry

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"minim/profile"
)

// RecipeReading is a spec made of a recipe, and what of it could not be taken over.
type RecipeReading struct {
	Spec *Spec
	// Unread are the lines that are no pour, in their order, each with its place
	// and the reason.
	Unread []*InputError
	// Notes say what was taken for what.
	Notes []string
}

// Limits of a recipe.
const (
	mostRecipeLines = 200
	deepestSteps    = 4
)

// ReadRecipe reads a recipe in JSON-LD: an object, a list or an @graph with
// one Recipe of schema.org in it. Each line of recipeIngredient that begins with
// an amount becomes a fixed pour; the others are listed. The steps say what ice
// does, what goes on top and how it is finished, as far as their words do. shelf
// tells names from remarks behind them.
//
// What is no JSON, holds no Recipe or more than one, or has no line that can be
// read, is InputErrors.
func ReadRecipe(r io.Reader, file string, shelf *Shelf) (*RecipeReading, error) {
	root, in, err := readJSON(r, file)
	if err != nil {
		return nil, err
	}
	var recipes []*jsonNode
	findRecipes(root, 0, &recipes)
	switch {
	case len(recipes) == 0:
		return nil, InputErrors{in.inputError(Place{File: file}, "no Recipe in it; expected an object with \"@type\": \"Recipe\", alone, in a list or in an @graph", "")}
	case len(recipes) > 1:
		return nil, InputErrors{in.inputError(in.placeOf(recipes[1]), fmt.Sprintf("%d recipes; expected one in a file", len(recipes)), "put each into a file of its own")}
	}
	return in.recipe(recipes[0], shelf)
}

// findRecipes collects the objects of type Recipe that stand alone, in a list or
// in an @graph.
func findRecipes(n *jsonNode, depth int, into *[]*jsonNode) {
	if n == nil || depth > deepestSteps {
		return
	}
	if n.list {
		for _, item := range n.items {
			findRecipes(item, depth+1, into)
		}
		return
	}
	for _, kind := range n.field("@type").each() {
		if word := kind.text(); word[strings.LastIndexAny(word, "/:")+1:] == "Recipe" {
			*into = append(*into, n)
			return
		}
	}
	findRecipes(n.field("@graph"), depth+1, into)
}

func (in *jsonReader) recipe(n *jsonNode, shelf *Shelf) (*RecipeReading, error) {
	out := &RecipeReading{Spec: &Spec{File: in.file, Name: n.field("name").text(), Measure: DefaultMeasure}}
	lines := n.field("recipeIngredient")
	if lines == nil {
		lines = n.field("ingredients")
	}
	all := lines.each()
	switch {
	case len(all) == 0:
		return nil, InputErrors{in.inputError(in.placeOf(n), "a Recipe without recipeIngredient; expected lines such as \"45 ml dry gin\" under it", "")}
	case len(all) > mostRecipeLines:
		return nil, InputErrors{in.inputError(in.placeOf(all[mostRecipeLines]), fmt.Sprintf("more than %d lines; expected one drink", mostRecipeLines), "")}
	}
	var pours []Pour
	var places []Place
	for _, line := range all {
		pour, note, wrong := readRecipeLine(line.text(), shelf)
		if wrong != nil {
			out.Unread = append(out.Unread, in.inputError(in.placeOf(line), wrong.message, wrong.hint))
			continue
		}
		out.note(note)
		pours, places = append(pours, pour), append(places, in.placeOf(line))
	}
	steps := readRecipeSteps(stepTexts(n.field("recipeInstructions"), 0), pours, shelf)
	taken := map[string]bool{}
	for i, pour := range pours {
		into := &out.Spec.Mix
		if steps.onTop[i] {
			into = &out.Spec.Top
		}
		key := fmt.Sprint(steps.onTop[i], Fold(pour.Name))
		if taken[key] {
			out.Unread = append(out.Unread, in.inputError(places[i], fmt.Sprintf("%s for the second time; expected one line for it", pour.Name), "add the two amounts"))
			continue
		}
		taken[key] = true
		*into = append(*into, pour)
	}
	sortByPlace(out.Unread)
	if len(pours) == 0 {
		return nil, InputErrors(out.Unread)
	}
	out.Spec.Finish = steps.finish
	for _, note := range steps.notes {
		out.note(note)
	}
	if len(out.Spec.Mix) > 0 {
		ice, note := readIceSteps(steps.making)
		out.Spec.Ice, out.Spec.IceStated = ice, ice.Method != profile.NoIce
		out.note(note)
	}
	if yield := n.field("recipeYield").each(); len(yield) > 0 {
		text := yield[0].amountText()
		if number, _ := splitNumber(text); number != "" && number != "1" {
			out.note(fmt.Sprintf("the recipe makes %s; its amounts were taken as they are written", clip(text)))
		}
	}
	return out, nil
}

// note adds a note; empty text is none.
func (r *RecipeReading) note(text string) {
	if text != "" {
		r.Notes = append(r.Notes, text)
	}
}

// amountText is a string or a number as text.
func (n *jsonNode) amountText() string {
	if number, ok := n.value.(json.Number); ok {
		return number.String()
	}
	return n.text()
}

// stepTexts are the lines of recipeInstructions, in order: a text, a list of
// texts, HowToSteps, or HowToSections of these.
func stepTexts(n *jsonNode, depth int) []string {
	var texts []string
	if n == nil || depth > deepestSteps {
		return nil
	}
	for _, item := range n.each() {
		switch {
		case item.list:
			texts = append(texts, stepTexts(item, depth+1)...)
		case item.field("itemListElement") != nil:
			texts = append(texts, stepTexts(item.field("itemListElement"), depth+1)...)
		case item.field("text") != nil:
			texts = append(texts, item.field("text").lines()...)
		case item.fields != nil:
			texts = append(texts, item.field("name").lines()...)
		default:
			texts = append(texts, item.lines()...)
		}
	}
	return texts
}

// lines are the lines of a string value, cleaned, those of nothing left out.
func (n *jsonNode) lines() []string {
	if n == nil {
		return nil
	}
	whole, _ := n.value.(string)
	var lines []string
	for _, line := range strings.FieldsFunc(whole, func(r rune) bool { return r == '\n' || r == '\r' }) {
		if text := cleanText(line); text != "" {
			lines = append(lines, text)
		}
	}
	return lines
}
