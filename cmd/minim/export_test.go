package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"html/template"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
)

// finishedDrinks are specs with all amounts written: what every question is
// answered with, and drinks with each kind of ice, top and measure.
func finishedDrinks(t *testing.T) []string {
	t.Helper()
	house := filepath.Join(examples(t), "weir-lantern.csv")
	var all []string
	for _, question := range questions(t) {
		code, filled, errs := minim(t, "", append([]string{"design", "--pantry", house, "--spec"}, question...)...)
		if code != exitAnswered && code != exitLimitBroke {
			t.Fatalf("%q: exit code %d\n%s", question, code, errs)
		}
		all = append(all, filled)
	}
	return append(all,
		"mix:\n  gin: 45 ml at -18 °C\n  lemon juice: 1 ¼ oz\n  citric acid: 0.5 g\n  egg white: 1 piece\nice: {shake: 130 g, at: -10 °C}\ntop:\n  soda water: 1.5 cl at 3 °C\n",
		"mix:\n  gin: 2 imp oz\n  water: 10 ml\n  aromatic bitters: 3 dashes\nice: {stir: 25.5 % water}\ntop:\n  soda water: 20 ml\n  water: 5 ml\nfinish:\n  - 'olive. Or two; shaken: not stirred'\n  - Top with nothing.\n",
		"mix:\n  gin: 60 ml\n  dry vermouth: 10 ml\nice: {stir: to -4.5 °C}\n",
		"mix:\n  gin: 60 ml\nice: build at -5 °C\ntop:\n  tonic water: 100 ml\n",
		"mix:\n  aged rum: 60 ml\n  pineapple juice: 2 oz\nice: blend\n",
		"top:\n  brut sparkling wine: 120 ml\n  cassis: 10 ml\n",
		"mix:\n  vodka: 1 drop\n  water: 1 barspoon\n",
	)
}

// What is exported as a recipe is the same drink when it is imported.
func TestRecipeReadsBackAsTheSameDrink(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, drink := range finishedDrinks(t) {
		_, recipe, _ := minim(t, drink, "export", "-", "--as", "recipe", "--pantry", house)
		code, spec, errs := minim(t, recipe, "import", "-", "--pantry", house)
		if code != exitAnswered || errs != "" {
			t.Errorf("%s\nexit code %d: %s\n%s", drink, code, errs, recipe)
			continue
		}
		code, _, _ = minim(t, drink, "profile", "-", "--pantry", house)
		want := decoded(t, drink, code, "profile", "-", "--pantry", house, "--json")
		got := decoded(t, spec, exitAnswered, "profile", "-", "--pantry", house, "--json")
		for _, key := range []string{"profile", "pours", "ice", "dilution", "finish", "cautions", "dose"} {
			if !reflect.DeepEqual(got[key], want[key]) {
				t.Errorf("%s\nafter export and import\n%s\n%s: %v, expected %v", drink, spec, key, got[key], want[key])
			}
		}
	}
}

// schemaTypes are the types that a type of schema.org has the properties of.
var schemaTypes = map[string][]string{
	"Recipe":               {"Recipe", "HowTo", "CreativeWork", "Thing"},
	"HowToStep":            {"CreativeWork", "Thing"},
	"NutritionInformation": {"NutritionInformation", "Thing"},
}

// What is exported has properties of schema.org alone, each of the type that it
// expects. The list of properties is from memory.
func TestRecipeKeepsToThePropertiesOfSchemaOrg(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "schema.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	expected := map[string]string{}
	for _, row := range rows[1:] {
		expected[row[0]+" "+row[1]] = row[2]
	}
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, drink := range finishedDrinks(t) {
		_, recipe, _ := minim(t, drink, "export", "-", "--as", "recipe", "--pantry", house)
		var root object
		if err := json.Unmarshal([]byte(recipe), &root); err != nil {
			t.Fatalf("%v\n%s", err, recipe)
		}
		if root["@context"] != "https://schema.org" || root["@type"] != "Recipe" || root["name"] == "" {
			t.Errorf("no named Recipe of schema.org:\n%s", recipe)
		}
		keepsToSchema(t, root, expected)
	}
}

// schemaTexts are the forms of the types that are written as text.
var schemaTexts = map[string]*regexp.Regexp{
	"Text": regexp.MustCompile(`.`), "Energy": regexp.MustCompile(`^\d+ calories$`), "Mass": regexp.MustCompile(`^\d+(\.\d+)? (g|mg)$`),
}

func keepsToSchema(t *testing.T, n object, expected map[string]string) {
	t.Helper()
	kind, _ := n["@type"].(string)
	for key, value := range n {
		if strings.HasPrefix(key, "@") {
			continue
		}
		want := ""
		for _, of := range schemaTypes[kind] {
			if word, ok := expected[of+" "+key]; ok {
				want = word
			}
		}
		if want == "" {
			t.Errorf("%s has no property %s", kind, key)
		}
		items, list := value.([]any)
		if !list {
			items = []any{value}
		}
		for _, item := range items {
			switch v := item.(type) {
			case string:
				if form, ok := schemaTexts[want]; !ok || !form.MatchString(v) {
					t.Errorf("%s of %s is %q, expected %s", key, kind, v, want)
				}
			case object:
				if v["@type"] != want {
					t.Errorf("%s of %s is of type %v, expected %s", key, kind, v["@type"], want)
				}
				keepsToSchema(t, v, expected)
			default:
				t.Errorf("%s of %s is %v, expected %s", key, kind, item, want)
			}
		}
	}
}

// hostile is a drink whose names would do something on a page or in a sheet.
const hostile = `drink: '</script><script>alert(1)</script>'
mix:
  '=cmd|calc': 30 ml
  '<img src=x onerror=alert(1)>': 20 ml
  'a|b [x](y) *z*': 10 ml
ice: shake
finish:
  - '</script><b>'
`

const hostilePantry = "name,abv_percent,category\n\"=cmd|calc\",40,spirit\n<img src=x onerror=alert(1)>,0,syrup\na|b [x](y) *z*,0,syrup\n"

func TestNamesAreInertWhereverTheyAreWritten(t *testing.T) {
	house := filepath.Join(t.TempDir(), "house.csv")
	if err := os.WriteFile(house, []byte(hostilePantry), 0o600); err != nil {
		t.Fatal(err)
	}
	exported := func(as string) string {
		code, out, errs := minim(t, hostile, "export", "-", "--as", as, "--pantry", house)
		if code != exitAnswered {
			t.Fatalf("--as %s: exit code %d\n%s", as, code, errs)
		}
		return out
	}
	recipe := exported("recipe")
	if strings.ContainsAny(recipe, "<>&") {
		t.Errorf("a recipe that a script element could end in:\n%s", recipe)
	}
	var back pantry.Recipe
	if err := json.Unmarshal([]byte(recipe), &back); err != nil || back.Name != "</script><script>alert(1)</script>" {
		t.Errorf("%v: the name reads back as %q", err, back.Name)
	}
	var page strings.Builder
	whole := template.Must(template.New("").Parse(`<script type="application/ld+json">{{.}}</script>`))
	if err := whole.Execute(&page, &back); err != nil || strings.Count(page.String(), "<") != 2 {
		t.Errorf("%v: on a page it reads\n%s", err, page.String())
	}
	rows, err := csv.NewReader(strings.NewReader(exported("csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("a cell that a spreadsheet runs: %q", cell)
			}
		}
	}
	markdown := exported("markdown")
	if strings.ContainsAny(markdown, "<>") {
		t.Errorf("Markdown with HTML in it:\n%s", markdown)
	}
	unescapedPipe := regexp.MustCompile(`[^\\]\|`)
	for _, line := range strings.Split(markdown, "\n") {
		if strings.HasPrefix(line, "| ") && len(unescapedPipe.FindAllString(line, -1)) != 3 {
			t.Errorf("a row of other than three cells: %s", line)
		}
	}
}

// Every pour of the CSV is the same drink: volumes and masses are those of the
// profile, in whatever unit.
func TestPoursInEveryUnitAreTheSamePours(t *testing.T) {
	const drink = "mix:\n  gin: 45 ml\n  lemon juice: 22.5 ml\n  rich syrup: 15 ml\n  aromatic bitters: 2 dashes\n  salt: 0.1 g\n"
	// Millilitres in one: by definition of the units; the ounces are those of the
	// United States, 29.5735 ml, and of the imperial gallon, 28.4131 ml.
	for unit, each := range map[string]float64{"ml": 1, "cl": 10, "oz": 29.5735295625, "imp-oz": 28.4130625} {
		_, out, _ := minim(t, drink, "export", "-", "--as", "csv", "--units", unit)
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil || len(rows) != 6 {
			t.Fatalf("%v\n%s", err, out)
		}
		for i, ml := range []float64{45, 22.5, 15} {
			var amount float64
			if err := json.Unmarshal([]byte(rows[i+1][2]), &amount); err != nil {
				t.Fatal(err)
			}
			if word := strings.ReplaceAll(unit, "-", " "); rows[i+1][3] != word || amount < (ml-0.005)/each || amount > (ml+0.005)/each {
				t.Errorf("--units %s: %q, expected %g ml", unit, rows[i+1], ml)
			}
		}
		if !slices.Equal(rows[4][2:4], []string{"2", "dash"}) || !slices.Equal(rows[5][2:5], []string{"0.1", "g", ""}) {
			t.Errorf("--units %s: %q and %q, expected them as the bar measures them", unit, rows[4], rows[5])
		}
	}
}
