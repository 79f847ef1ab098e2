package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// described are command lines whose JSON the schemas must describe, run in a
// folder with the examples and in this order. A command without a line here
// fails TestEveryCommandWithJSONHasASchema.
var described = []struct {
	schema, line, input string
	code                int
}{
	{"design", `design - --json`, salted, exitAnswered},
	{"design", `design - --json`, brokenLimit, exitLimitBroke},
	{"design", `design --abv 28 --acid 8 --volume 120 --from "lime juice, lager" --json`, "", exitAnswered},
	{"design", `design examples/weir-light.yaml --pantry examples/weir-lantern.csv --robust --json`, "", exitAnswered},
	{"profile", `profile - --json`, martini, exitAnswered},
	{"profile", `profile examples/morning-tide.yaml --rocks 120g --json`, "", exitAnswered},
	{"design", `design examples/ferry-queue.yaml --pantry examples/weir-lantern.csv --json`, "", exitAnswered},
	{"rebalance", `rebalance examples/morning-tide.yaml --swap "lemon juice=lime juice" --json`, "", exitAnswered},
	{"nudge", `nudge examples/morning-tide.yaml --more sour --json`, "", exitAnswered},
	{"nudge", `nudge examples/high-water.yaml --less thick --json`, "", exitAnswered},
	{"nudge", `nudge examples/morning-tide.yaml --more sour --jug 2L --json`, "", exitAnswered},
	{"lighten", `lighten examples/high-water.yaml --abv 12 --json`, "", exitAnswered},
	{"lighten", `lighten examples/high-water.yaml --frontier --json`, "", exitAnswered},
	{"compare", `compare examples/morning-tide.yaml examples/slack-water.yaml --json`, "", exitAnswered},
	{"compare", `compare examples --pantry examples/weir-lantern.csv --json`, "", exitAnswered},
	{"compare", `compare examples --json`, "", exitAnswered},
	{"design", `design examples/slack-water.yaml --pantry examples/weir-lantern-prices.csv --price 12 --margin 80% --json`, "", exitAnswered},
	{"design", `design examples/preps/ebb-tide.yaml --json`, "", exitAnswered},
	{"profile", `profile examples/preps/hibiscus-cordial.yaml --json`, "", exitAnswered},
	{"profile", `profile examples/morning-tide.yaml --pantry examples/weir-lantern-prices.csv --cost --json`, "", exitAnswered},
	{"prep", `prep examples/preps/tide-base.yaml --for examples/preps/ebb-tide.yaml --json`, "", exitAnswered},
	{"batch", `batch examples/slack-water.yaml --pantry examples/weir-lantern-prices.csv --bottle 700ml --bottles 6 --json`, "", exitAnswered},
	{"batch", `batch examples/morning-tide.yaml --serves 40 --json`, "", exitAnswered},
	{"batch", `batch examples/slack-water.yaml --litres 3 --dilute full --units oz --json`, "", exitAnswered},
	{"batch", `batch examples/morning-tide.yaml --pantry examples/weir-lantern-prices.csv --keg 19l --fresh in --price 12 --json`, "", exitAnswered},
	{"batch", `batch examples/preps/acid-blend.yaml --litres 5 --json`, "", exitAnswered},
	{"batch", `batch examples/preps/hibiscus-cordial.yaml --pantry examples/weir-lantern-prices.csv --bottle 700ml --bottles 6 --json`, "", exitAnswered},
	{"batch", `batch - --pantry examples/weir-lantern-prices.csv --bottle 200ml --bottles 12 --json`, carbonatedPrep, exitAnswered},
	{"batch", `batch - --keg 100ml --scale 10g --json`, carbonatedPrep, exitAnswered},
	{"card", `card examples/morning-tide.yaml --json`, "", exitAnswered},
	{"card", `card examples/morning-tide.yaml --pantry examples/weir-lantern-prices.csv --cost --out card.html --json`, "", exitAnswered},
	{"card", `card examples --pantry examples/weir-lantern.csv --json`, "", exitAnswered},
	{"export", `export examples/morning-tide.yaml --as markdown --out morning-tide.md --json`, "", exitAnswered},
	{"import", `import examples/harbour-wall.json --json`, "", exitAnswered},
	{"import", `import examples/harbour-wall.json --out harbour-wall.yaml --json`, "", exitAnswered},
	{"import", `import - --json`, recipeWithStrangeLines, exitAnswered},
	{"reach", `reach examples/weir-light.yaml --pantry examples/weir-lantern.csv --json`, "", exitAnswered},
	{"reach", `reach - --json`, brokenLimit, exitLimitBroke},
	{"pantry-list", `pantry list --json`, "", exitAnswered},
	{"pantry-lot", `pantry lot lots.csv --ingredient "lime juice" --acid 52 --brix 8.2 --date 2026-11-04 --json`, "", exitAnswered},
	{"pantry-lot", `pantry lot lots.csv --ingredient "lime juice" --acid 54 --date 2026-11-11 --json`, "", exitAnswered},
	{"pantry-lot", `pantry lot lots.csv --ingredient "lime juice" --acid 56 --date 2026-11-18 --json`, "", exitAnswered},
	{"pantry-show", `pantry show "lime juice" --lots lots.csv --json`, "", exitAnswered},
	{"design", `design - --lots lots.csv --json`, salted, exitAnswered},
	{"pantry-check", `pantry check - --json`, "name,sugar_g_per_l\nSyrup,\"6,5\"\n", exitBadInput},
	{"pantry-import", `pantry import examples/cellar-sheet.csv --out cellar.csv --json`, "", exitAnswered},
	{"pantry-export", `pantry export --category juice --out juices.csv --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure syrup --name x --sugar 1kg --water 1kg --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure saline --name x --salt 20g --made-up-to 100ml --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure adjust --juice "orange juice" --acid "46 g/L" --blend citric=2 --blend malic=1 --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure dash --ingredient "aromatic bitters" --total 18.4g --count 20 --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure bitterness --name x --substance quinine --taster "3..4.5 8..12" --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure bitterness --substance quinine --stock 61 --json`, "", exitAnswered},
	{"pantry-measure", `pantry measure liqueur --name x --brix 29.4 --density 1.0416 --abv 30 --json`, "", exitAnswered},
	{"version", `version --json`, "", exitAnswered},
}

// carbonatedPrep is a prep under pressure, of an allergen and of what has no price.
const carbonatedPrep = `makes: {volume: 1 l, keeps: 5 days, store: fridge}
mix:
  fino sherry: 200 ml
  simple syrup: 150 ml
  lemon juice: 50 ml
  water: 600 ml
steps:
  - strain: loses 20 ml
  - carbonate: 4 volumes
`

// recipeWithStrangeLines has one line that is a pour and one that is none.
const recipeWithStrangeLines = `{"@context": "https://schema.org", "@type": "Recipe", "name": "Two Lines",
"recipeIngredient": ["45 ml dry gin", "a little of this and that"]}`

// compiledSchema is a schema as minim schema prints it, read by a validator
// that knows nothing of this program.
func compiledSchema(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	code, out, errs := minim(t, "", "schema", name)
	if code != exitAnswered || errs != "" {
		t.Fatalf("schema %s: exit code %d\n%s", name, code, errs)
	}
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
	if err != nil {
		t.Fatalf("schema %s: %v", name, err)
	}
	compiler := jsonschema.NewCompiler()
	url := "minim://schema/" + name + ".json"
	if err := compiler.AddResource(url, document); err != nil {
		t.Fatalf("schema %s: %v", name, err)
	}
	schema, err := compiler.Compile(url)
	if err != nil {
		t.Fatalf("schema %s: %v", name, err)
	}
	return schema
}

func TestJSONIsAsItsSchemaSays(t *testing.T) {
	t.Chdir(withExamples(t))
	for _, d := range described {
		code, out, errs := minim(t, d.input, words(d.line)...)
		if code != d.code {
			t.Fatalf("minim %s: exit code %d, want %d\n%s", d.line, code, d.code, errs)
		}
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err != nil {
			t.Fatalf("minim %s: %v", d.line, err)
		}
		schema := compiledSchema(t, d.schema)
		if err := schema.Validate(document); err != nil {
			t.Errorf("minim %s: %v", d.line, err)
			continue
		}
		// A key that nobody described is refused, wherever it stands.
		strangers := 0
		withStranger(document, func() {
			strangers++
			if err := schema.Validate(document); err == nil {
				t.Errorf("minim %s: the schema takes a key that it does not describe", d.line)
			}
		})
		if strangers == 0 {
			t.Errorf("minim %s prints no object", d.line)
		}
	}
}

// withStranger puts a key that there is not into the objects of a document in
// turn, and the first of each list, and calls check with each.
func withStranger(part any, check func()) {
	switch part := part.(type) {
	case map[string]any:
		part["stranger"] = []any{true}
		check()
		delete(part, "stranger")
		for _, inner := range part {
			withStranger(inner, check)
		}
	case []any:
		if len(part) > 0 {
			withStranger(part[0], check)
		}
	}
}

func TestEveryCommandWithJSONHasASchema(t *testing.T) {
	for _, c := range leaves(commands()) {
		if c.bare && c.schema == "" {
			continue
		}
		tried := slices.ContainsFunc(described, func(d struct {
			schema, line, input string
			code                int
		},
		) bool {
			return d.schema == c.schema
		})
		if !tried {
			t.Errorf("%s: no schema, or no line among those described; see How to add a command in DEVELOPERS.md", c.name)
		}
	}
}

// Each file is a schema by the published meta-schema of draft 2020-12, which
// the validator carries, and has a word for every key.
func TestSchemasAreSchemas(t *testing.T) {
	files, err := filepath.Glob("schema/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d schemas: %v", len(files), err)
	}
	meta, err := jsonschema.NewCompiler().Compile("https://json-schema.org/draft/2020-12/schema")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		document, err := jsonschema.UnmarshalJSON(bytes.NewReader(content))
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if err := meta.Validate(document); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		var schema map[string]any
		if err := json.Unmarshal(content, &schema); err != nil {
			t.Fatal(err)
		}
		if want := "minim://schema/" + filepath.Base(file); schema["$id"] != want {
			t.Errorf("%s calls itself %v, want %s", file, schema["$id"], want)
		}
		everyKeyIsDescribed(t, file, schema)
	}
}

// everyKeyIsDescribed looks through a schema and those within it.
func everyKeyIsDescribed(t *testing.T, where string, schema any) {
	t.Helper()
	switch schema := schema.(type) {
	case map[string]any:
		for keyword, part := range schema {
			named, ok := part.(map[string]any)
			if !ok || keyword != "properties" && keyword != "$defs" {
				everyKeyIsDescribed(t, where, part)
				continue
			}
			for key, inner := range named {
				one := inner.(map[string]any)
				if one["description"] == nil && one["$ref"] == nil {
					t.Errorf("%s: nothing is said of %s", where, key)
				}
				everyKeyIsDescribed(t, where, inner)
			}
		}
	case []any:
		for _, inner := range schema {
			everyKeyIsDescribed(t, where, inner)
		}
	}
}

// A printed schema is read by itself: what it refers to stands in it under the
// whole name, which every reader finds without resolving one file against
// another.
func TestPrintedSchemasReferWithinThemselvesByWholeNames(t *testing.T) {
	for _, name := range schemaNames() {
		schema := bundledSchema(name)
		within := map[string]bool{}
		inner, _ := schema["$defs"].(map[string]any)
		for _, part := range inner {
			if id, ok := part.(map[string]any)["$id"].(string); ok {
				within[id] = true
			}
		}
		var look func(part any)
		look = func(part any) {
			switch part := part.(type) {
			case []any:
				for _, inner := range part {
					look(inner)
				}
			case map[string]any:
				if ref, ok := part["$ref"].(string); ok {
					if file, _, _ := strings.Cut(ref, "#"); file != "" && !within[file] {
						t.Errorf("%s refers to %q, which is not in it", name, ref)
					}
				}
				for _, inner := range part {
					look(inner)
				}
			}
		}
		look(schema)
	}
}
