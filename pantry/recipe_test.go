package pantry

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"minim/profile"
)

func readRecipe(t *testing.T, text string) *RecipeReading {
	t.Helper()
	r, err := ReadRecipe(strings.NewReader(text), "recipe.json", Embedded())
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return r
}

// withLines is a recipe of these lines and these steps.
func withLines(lines, steps string) string {
	return fmt.Sprintf(`{"@context": "https://schema.org", "@type": "Recipe", "name": "Test", "recipeIngredient": [%s], "recipeInstructions": %s}`, lines, steps)
}

// Lines as recipes have them. What each means is plain from its words.
func TestRecipeLinesAreReadAsPours(t *testing.T) {
	for line, want := range map[string]string{
		"45 ml dry gin":                         "dry gin: 45 ml",
		"45ml gin":                              "gin: 45 ml",
		"1 1/2 oz gin":                          "gin: 1 ½ oz",
		"1½ fl oz gin":                          "gin: 1 ½ oz",
		"3 cl lemon juice, freshly squeezed":    "lemon juice: 3 cl",
		"30 ml lemon juice (about one lemon)":   "lemon juice: 30 ml",
		"45 ml (1 1/2 oz) gin":                  "gin: 45 ml",
		"2 dashes of aromatic bitters":          "aromatic bitters: 2 dashes",
		"1 egg white":                           "egg white: 1 piece",
		"2 imperial fl oz gin":                  "gin: 2 imp oz",
		"1 bar spoon rich syrup":                "rich syrup: 1 barspoon",
		"30 ml gin at -18 °C":                   "gin: 30 ml at -18 °C",
		"20 ml of something nobody knows":       "of something nobody knows: 20 ml",
		"1 piece egg white":                     "egg white: 1 piece",
		"a pinch of salt":                       "salt: 1 pinch",
		"A dash of orange bitters":              "orange bitters: 1 dash",
		"one barspoon rich syrup":               "rich syrup: 1 barspoon",
		"an oz of gin":                          "gin: 1 oz",
		"0.1 g salt":                            "salt: 0.1 g",
		"10 ml sugar syrup 1:1 by weight":       "sugar syrup 1:1 by weight: 10 ml",
		"Juice of 1 lemon":                      "",
		"Ice":                                   "",
		"1 part gin":                            "",
		"30-45 ml gin":                          "",
		"0 ml gin":                              "",
		"-3 ml gin":                             "",
		"2,5 ml gin":                            "",
		"1 slice of orange":                     "",
		"":                                      "",
		"30 ml":                                 "",
		"30 ml is":                              "",
		"1000000000 ml gin":                     "",
		"30 ml ' ' '":                           "",
		"2 eggs beaten with a ton of sugar":     "",
		"a splash of soda water":                "",
		"½":                                     "",
		"NaN ml gin":                            "",
		"1e3 ml gin":                            "",
		"7 ml \u202e\u0007":                     "",
		"20 ml gin\nor 30 ml vodka":             "gin or 30 ml vodka: 20 ml",
		"20 ml lime juice, plus a wheel (fine)": "lime juice: 20 ml",
	} {
		pour, _, wrong := readRecipeLine(cleanText(line), Embedded())
		switch {
		case wrong != nil && want != "":
			t.Errorf("%q: %v, expected %s", line, wrong, want)
		case wrong == nil && want == "":
			t.Errorf("%q was read as %s of %s, expected to be left out", line, pour.Low, pour.Name)
		case wrong == nil && pour.Name+": "+pour.text() != want:
			t.Errorf("%q was read as %s: %s, expected %s", line, pour.Name, pour.text(), want)
		}
	}
}

// A line whose number has no unit is not always one of ml.
func TestLinesWithoutAUnitGetTheHintThatFits(t *testing.T) {
	for line, want := range map[string]string{
		"1/2 lime, juiced":  "ml of its juice",
		"3 mint leaves":     "garnish belongs under finish",
		"2 slices cucumber": "garnish belongs under finish",
		"45 dry gin":        "write 45 ml, if ml are meant",
		"20 lime juice":     "write 20 ml, if ml are meant",
	} {
		_, _, wrong := readRecipeLine(line, Embedded())
		if wrong == nil || !strings.Contains(wrong.hint, want) {
			t.Errorf("%q: %+v, expected a hint with %q", line, wrong, want)
		}
	}
	_, err := ReadSpec(strings.NewReader("mix:\n  egg whites: 1\n"), "egg.yaml")
	if err == nil || !strings.Contains(err.Error(), "hint: write 1 piece") {
		t.Errorf("egg whites: 1: %v", err)
	}
}

// A garnish is one at the end of a sentence too.
func TestAGarnishIsFoundBehindOtherWords(t *testing.T) {
	for step, want := range map[string]string{
		"Top with soda water, garnish with a cherry.":      "a cherry",
		"Strain and garnish with a lemon twist.":           "a lemon twist",
		"Strain; then garnish with mint and a lime wheel.": "mint and a lime wheel",
		"Shake, strain, and then finish with: nutmeg":      "nutmeg",
	} {
		r := readRecipe(t, withLines(`"45 ml gin", "60 ml soda water"`, fmt.Sprintf("%q", step)))
		if len(r.Spec.Finish) != 1 || r.Spec.Finish[0] != want {
			t.Errorf("%q: finish %q, expected %q", step, r.Spec.Finish, want)
		}
		if top := strings.HasPrefix(step, "Top"); top != (len(r.Spec.Top) == 1) {
			t.Errorf("%q: %d on top", step, len(r.Spec.Top))
		}
	}
}

func TestStepsOfARecipeSayWhatIceDoes(t *testing.T) {
	for steps, want := range map[string]profile.Method{
		`"Shake hard and strain."`:                                          profile.Shake,
		`["Add all to a shaker with ice.", "Strain."]`:                      profile.Shake,
		`"Stirred, then strained."`:                                         profile.Stir,
		`{"@type": "HowToStep", "text": "Blend until smooth."}`:             profile.Blend,
		`[{"@type": "HowToStep", "name": "Build over ice"}]`:                profile.Build,
		`"Stir the sugar into the juice. Shake with ice."`:                  profile.Shake,
		`"Pour and drink."`:                                                 profile.NoIce,
		`"Pour into the pastry brush."`:                                     profile.NoIce,
		`"Garnish with a shaken leaf."`:                                     profile.NoIce,
		`"Serve it without ice."`:                                           profile.NoIce,
		`[{"@type": "HowToSection", "itemListElement": [{"text":"Stir"}]}]`: profile.Stir,
		`null`: profile.NoIce,
		`7`:    profile.NoIce,
	} {
		r := readRecipe(t, withLines(`"45 ml gin"`, steps))
		if r.Spec.Ice.Method != want {
			t.Errorf("%s: %s, expected %s", steps, r.Spec.Ice.Method.Name(), want.Name())
		}
		silent := strings.Contains(steps, "without ice") || want != profile.NoIce
		if several := strings.Contains(steps, "Stir the sugar"); !several && silent != (len(r.Notes) == 0) {
			t.Errorf("%s: notes %q", steps, r.Notes)
		}
	}
}

func TestStepsOfARecipeSayWhatGoesOnTopAndHowItIsFinished(t *testing.T) {
	const lines = `"45 ml gin", "20 ml water", "20 ml lime juice", "100 ml soda water"`
	for _, c := range []struct{ steps, top, finish string }{
		{`"Shake. Top with the soda water."`, "soda water", ""},
		{`"Shake. Top up with soda. Garnish with a lime wheel."`, "soda water", "a lime wheel"},
		{`"Shake and top with water."`, "water", ""},
		{`["Shake", "Top with soda water.", "Garnish: lime", "Finish it with salt."]`, "soda water", "lime, salt"},
		{`"Shake everything."`, "", ""},
	} {
		r := readRecipe(t, withLines(lines, c.steps))
		var top []string
		for _, p := range r.Spec.Top {
			top = append(top, p.Name)
		}
		if got := strings.Join(top, ", "); got != c.top {
			t.Errorf("%s: %q on top, expected %q", c.steps, got, c.top)
		}
		if got := strings.Join(r.Spec.Finish, ", "); got != c.finish {
			t.Errorf("%s: finished with %q, expected %q", c.steps, got, c.finish)
		}
	}
}

// A recipe stands alone, in a list or in an @graph, under any of its names.
func TestARecipeIsFoundWhereverItStands(t *testing.T) {
	const recipe = `{"@type": "Recipe", "name": "Test", "recipeIngredient": "45 ml gin", "recipeInstructions": "Shake."}`
	for _, text := range []string{
		recipe,
		"\uFEFF" + recipe,
		"[" + recipe + "]",
		`[{"@type": "Person", "name": "Recipe"}, ` + recipe + `]`,
		`{"@context": "https://schema.org", "@graph": [{"@type": "WebPage"}, ` + recipe + `]}`,
		strings.Replace(recipe, `"Recipe"`, `["Thing", "Recipe"]`, 1),
		strings.Replace(recipe, `"Recipe"`, `"https://schema.org/Recipe"`, 1),
		strings.Replace(recipe, `"Recipe"`, `"schema:Recipe"`, 1),
		strings.Replace(recipe, "recipeIngredient", "ingredients", 1),
	} {
		if r := readRecipe(t, text); len(r.Spec.Mix) != 1 || r.Spec.Mix[0].Name != "gin" || r.Spec.Name != "Test" {
			t.Errorf("%s was read as %+v", text, r.Spec)
		}
	}
}

// Each mistake is refused, with its place and what was expected.
func TestWhatIsNoRecipeIsRefused(t *testing.T) {
	const recipe = `{"@type": "Recipe", "recipeIngredient": ["45 ml gin"]}`
	for text, want := range map[string]string{
		"":                                        "recipe.json: an empty file; expected JSON with a Recipe in it",
		"gin: 45 ml":                              "recipe.json:1:1: no recipe in JSON",
		"drink: Sour":                             "recipe.json: a spec, not a recipe",
		"<!DOCTYPE html>\n<html>":                 "recipe.json: a web page",
		"name,category\nGin,spirit\n":             "recipe.json: a table, not a recipe",
		"{\"@type\": \"Recipe\",\n  oops}":        "recipe.json:2:3: no JSON from here on",
		`{"@type": "Recipe"`:                      "the file ends in the middle",
		`{"@type": "Recipe"}`:                     "recipe.json:1:1: a Recipe without recipeIngredient",
		`{"@type": "Person"}`:                     "recipe.json: no Recipe in it",
		"7":                                       "no recipe in JSON",
		"[" + recipe + ",\n " + recipe + "]":      "recipe.json:2:2: 2 recipes; expected one in a file",
		recipe + " {}":                            "more text after the end of the JSON",
		`{"@type": "Recipe", "@type": "Recipe"}`:  `recipe.json:1:21: "@type" for the second time; expected it once`,
		strings.Repeat("[", 1000):                 "more than 32 levels of brackets",
		strings.Repeat(" ", largestJSON) + "{}":   "more than one megabyte",
		"{\"name\": \"\xff\"}":                    "bytes that are not UTF-8",
		withLines(`"Ice",`+"\n"+`  "Salt"`, `""`): `recipe.json:2:3: "Salt" is no amount and name; expected a line such as "45 ml dry gin"`,
		withLines(strings.Repeat(`"Ice",`, mostRecipeLines)+`"Ice"`, `""`): "more than 200 lines",
	} {
		_, err := ReadRecipe(strings.NewReader(text), "recipe.json", Embedded())
		var wrong InputErrors
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60q: %v, expected %q", text, err, want)
		}
	}
}

// What cannot be read is listed in the order of the file, and the rest is kept.
func TestLinesThatCannotBeReadAreListed(t *testing.T) {
	r := readRecipe(t, withLines("\"45 ml gin\",\n \"Ice\",\n  \"20 ml lime juice\",\n\"15 ml gin\",\n 7, \"1 shot rum\"", `"Shake."`))
	var places []string
	for _, one := range r.Unread {
		places = append(places, one.Place.String())
	}
	if want := []string{"recipe.json:2:2", "recipe.json:4:1", "recipe.json:5:2", "recipe.json:5:5"}; !slices.Equal(places, want) {
		t.Errorf("left out at %v, expected %v", places, want)
	}
	if len(r.Spec.Mix) != 2 {
		t.Errorf("%d pours, expected the gin and the lime juice", len(r.Spec.Mix))
	}
}

// Whatever is given as a recipe, it is read or refused, and what is read can be
// written as a spec that reads back.
func FuzzReadRecipe(f *testing.F) {
	example, err := os.ReadFile(filepath.Join("..", "examples", "harbour-wall.json"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(example))
	f.Add(inUTF16(string(example), binary.LittleEndian))
	f.Add(withLines(`"45 ml gin", "1 egg white", "Ice"`, `[{"@type": "HowToStep", "text": "Shake with 130 g of ice at -10 °C."}, "Top with soda. Garnish with mint."]`))
	f.Add(`{"@graph": [{"@type": ["Recipe"], "ingredients": "2 dashes bitters", "recipeYield": 4}]}`)
	f.Add(`[[[{"@type": null, "\ud800": -0.0e-5}]]]`)
	shelf := Embedded()
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ReadRecipe(strings.NewReader(text), "recipe.json", shelf)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error that says nothing")
			}
			return
		}
		var out strings.Builder
		if err := r.Spec.Write(&out); err != nil {
			t.Errorf("%q was read as a spec that cannot be written: %v", text, err)
		}
	})
}

// A megabyte of anything is read or refused in the time of a page of text.
func TestLargeRecipesTakeNoLongTime(t *testing.T) {
	for _, text := range []string{
		withLines(`"1 ml `+strings.Repeat("x", 900_000)+`", "45 ml gin"`, `""`),
		withLines(`"45 ml gin"`, `[`+strings.Repeat(`"a",`, 200_000)+`"b"]`),
		`{"@type": "Recipe", "recipeIngredient": ["45 ml gin"], "recipeInstructions": "` + strings.Repeat(`\\\"`, 200_000) + `"}`,
		`[` + strings.Repeat(`0,`, 400_000) + `0]`,
		`{` + strings.Repeat(`"":0,`, 2) + `}`,
	} {
		start := time.Now()
		_, _ = ReadRecipe(strings.NewReader(text), "recipe.json", Embedded())
		if took := time.Since(start); took > 5*time.Second {
			t.Errorf("%.40q of %d bytes took %v", text, len(text), took)
		}
	}
}

// A finished spec goes out as a recipe and comes back with the same pours, ice,
// tops and finish, where its names are on the shelf. Doubled spaces in the finish
// become one.
func TestAnySpecIsReadBackFromItsRecipe(t *testing.T) {
	var names []string
	for _, i := range Embedded().All() {
		names = append(names, i.Name)
		names = append(names, i.Aliases...)
	}
	rapid.Check(t, func(rt *rapid.T) {
		s := anySpec(rt)
		s.Glass, s.Target, s.Ratios, s.Like, s.Measure, s.MeasureStated = 0, nil, nil, "", DefaultMeasure, false
		s.Makes, s.Steps, s.Choose, s.Reference = nil, nil, nil, nil
		used := map[string]bool{}
		for _, stage := range []*[]Pour{&s.Mix, &s.Top} {
			for n := range *stage {
				p := &(*stage)[n]
				at := p.At
				name := rapid.SampledFrom(names).Filter(func(name string) bool { return !used[Fold(name)] }).Draw(rt, "name")
				used[Fold(name)] = true
				*p = FixedPour(name, anyAmount(rt, "amount"))
				p.At = at
			}
		}
		if len(s.Mix) == 0 {
			s.Ice, s.IceStated = profile.Ice{}, false
		}
		s.IceStated = s.Ice.Method != profile.NoIce
		for n, text := range s.Finish {
			s.Finish[n] = cleanText(text)
		}
		r, err := NewRecipe(s)
		if err != nil {
			rt.Fatal(err)
		}
		var text strings.Builder
		if err := r.Write(&text); err != nil {
			rt.Fatal(err)
		}
		reading, err := ReadRecipe(strings.NewReader(text.String()), "back.json", Embedded())
		if err != nil {
			rt.Fatalf("%v\n%s", err, text.String())
		}
		reading.Spec.Name = s.Name
		if got, want := string(reading.Spec.yaml()), string(s.yaml()); got != want {
			rt.Fatalf("read back as\n%s\nfrom\n%s\n%s", got, want, text.String())
		}
	})
}
