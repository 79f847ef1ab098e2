package main

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
)

// object is a JSON object as another program would find it.
type object = map[string]any

// The keys that other programs rely on.
var (
	answerKeys    = []string{"pours", "dilution", "profile", "misses", "solution", "continuous", "limits", "lots", "notes", "cautions", "local_rules"}
	pourKeys      = []string{"ingredient", "stage", "amount", "unit", "ml", "g"}
	dilutionKeys  = []string{"water_ml", "temperature_c"}
	propertyKeys  = []string{"value", "unit", "plus_minus", "unknown_from"}
	missKeys      = []string{"property", "target", "got", "miss", "jnd", "perceptible"}
	variationKeys = []string{"chance", "standard_error", "properties", "worst", "pour", "share"}
	solutionKeys  = []string{"objective", "proven", "bound", "kkt", "nodes"}
	limitKeys     = []string{"name", "kind", "price"}
)

// salted has a solid, a dash, something on top, a target that is met and one
// that is not, and a pour whose umami nobody knows.
const salted = `drink: Salted Cooler
mix:
  tequila: 30..45 ml
  lime juice: open
  agave syrup: open
  fine salt: open
  aromatic bitters: 1 dash
ice: shake
top:
  soda water: 30..90 ml
finish:
  - lime wheel
target:
  volume: 180 ml
  abv: 9 %
  sugar: 40..60 g/L
  acid: 4 g/L
  salt: 1 g/L
  umami: at most 5 g/L
`

func TestJSONHasEveryKeyOfADesign(t *testing.T) {
	answer := decoded(t, salted, exitAnswered, "design", "-", "--json")
	pours := answer["pours"].([]any)
	if len(pours) != 6 {
		t.Fatalf("%d pours, expected those of the spec: %v", len(pours), pours)
	}
	for i, want := range []struct {
		ingredient, stage, unit string
		solid                   bool
	}{
		{"tequila", "mix", "ml", false},
		{"lime juice", "mix", "ml", false},
		{"agave syrup", "mix", "ml", false},
		{"fine salt", "mix", "g", true},
		{"aromatic bitters", "mix", "dash", false},
		{"soda water", "top", "ml", false},
	} {
		p := pours[i].(object)
		if p["ingredient"] != want.ingredient || p["stage"] != want.stage || p["unit"] != want.unit {
			t.Errorf("pour %d is %v, want %+v", i, p, want)
		}
		if (p["ml"] == nil) != want.solid {
			t.Errorf("ml of %s is %v", want.ingredient, p["ml"])
		}
		if want.solid && p["g"] != p["amount"] {
			t.Errorf("%v g of %v g of %s", p["g"], p["amount"], want.ingredient)
		}
		if want.unit == "ml" && p["ml"] != p["amount"] {
			t.Errorf("%v ml of %v ml of %s", p["ml"], p["amount"], want.ingredient)
		}
	}
	misses := answer["misses"].([]any)
	for i, property := range []string{"volume", "abv", "sugar", "acid", "salt"} {
		if misses[i].(object)["property"] != property {
			t.Errorf("miss %d is %v, want that of %s", i, misses[i], property)
		}
	}
	if len(misses) != 5 {
		t.Errorf("%d misses, want 5: a limit is not missed", len(misses))
	}
	if finish := answer["finish"].([]any); len(finish) != 1 || finish[0] != "lime wheel" {
		t.Errorf("finish is %v", finish)
	}
}

func TestJSONAgreesWithItself(t *testing.T) {
	for _, c := range []struct {
		name, input string
		code        int
		args        []string
	}{
		{"a design", salted, exitAnswered, []string{"design", "-"}},
		{"a profile with a target", strings.NewReplacer("30..45 ml", "40 ml", "30..90 ml", "60 ml", "open", "10 g").Replace(salted), exitAnswered, []string{"profile", "-"}},
		{"a profile alone", martini, exitAnswered, []string{"profile", "-"}},
		{"a limit broken", brokenLimit, exitLimitBroke, []string{"design", "-"}},
		{"flags", "", exitAnswered, []string{"design", "--abv", "28", "--acid", "8", "--volume", "120", "--from", "lime juice, lager"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			checkConsistent(t, decoded(t, c.input, c.code, append(c.args, "--json")...))
		})
	}
}

func checkConsistent(t *testing.T, answer object) {
	t.Helper()
	profile := answer["profile"].(object)
	value := func(name string) float64 { return profile[name].(object)["value"].(float64) }
	// Ethanol weighs 0.78924 g/ml at 20 °C: OIML R 22 (1975), table I, 100 % vol.
	// Tolerance: the five digits of that figure.
	grams := value("abv") / 100 * value("volume") * 0.78924
	if math.Abs(grams-value("ethanol")) > 2e-5*grams+1e-9 {
		t.Errorf("%v g of ethanol; its volume weighs %v g", value("ethanol"), grams)
	}
	for name, p := range profile {
		plusMinus := p.(object)["plus_minus"].(float64)
		if plusMinus < 0 {
			t.Errorf("%s is known to %v", name, plusMinus)
		}
	}
	for _, m := range answer["misses"].([]any) {
		m := m.(object)
		target := m["target"].(object)
		got, low, high := m["got"].(float64), target["low"].(float64), target["high"].(float64)
		// A band costs nothing inside; tolerance: the ten digits that are printed.
		want := math.Min(got-low, 0) + math.Max(got-high, 0)
		if miss := m["miss"].(float64); math.Abs(miss-want) > 1e-8*(1+math.Abs(got)) {
			t.Errorf("%v of %v..%v is a miss of %v, printed as %v", got, low, high, want, miss)
		}
		if math.Abs(got-value(m["property"].(string))) > 1e-8*(1+math.Abs(got)) {
			t.Errorf("%s is %v among the misses, %v in the profile", m["property"], got, value(m["property"].(string)))
		}
		jnd, tasted := m["jnd"].(float64)
		if tasted && m["perceptible"] != (math.Abs(jnd) >= 0.5) {
			t.Errorf("%v JND; perceptible is %v", jnd, m["perceptible"])
		}
		if m["property"] == "volume" && (tasted || m["perceptible"] != false) {
			t.Errorf("volume is full or short, never tasted: %v", m)
		}
	}
	solution := answer["solution"].(object)
	if solution["bound"].(float64) > solution["objective"].(float64)*(1+1e-9)+1e-12 {
		t.Errorf("the bound is above the answer: %v", solution)
	}
}

// Arrays are empty where there is nothing, never null, so that a program can
// walk through them without asking.
func TestJSONArraysAreNeverNull(t *testing.T) {
	answer := decoded(t, martini, exitAnswered, "profile", "-", "--json")
	for _, key := range []string{"misses", "limits", "notes", "finish", "pours"} {
		if _, ok := answer[key].([]any); !ok {
			t.Errorf("%s is %v, expected an array", key, answer[key])
		}
	}
	if len(answer["misses"].([]any)) != 0 || len(answer["finish"].([]any)) != 0 {
		t.Errorf("misses or finishes of a spec that has none: %v, %v", answer["misses"], answer["finish"])
	}
}

// What is unknown is named in both places where a reader may look.
func TestJSONNamesWhatIsUnknown(t *testing.T) {
	answer := decoded(t, martini, exitAnswered, "profile", "-", "--json")
	from := answer["profile"].(object)["umami"].(object)["unknown_from"].([]any)
	if !slices.Contains(from, any("dry vermouth")) {
		t.Errorf("the umami of dry vermouth is unknown; unknown_from is %v", from)
	}
	noted := slices.ContainsFunc(answer["notes"].([]any), func(n any) bool {
		return strings.Contains(n.(string), "umami") && strings.Contains(n.(string), "dry vermouth")
	})
	if !noted {
		t.Errorf("no note of it: %v", answer["notes"])
	}
}

// decoded is what --json prints, after a look at every key and number.
func decoded(t *testing.T, input string, code int, args ...string) object {
	t.Helper()
	got, out, errs := minim(t, input, args...)
	if got != code {
		t.Fatalf("minim %q: exit code %d, want %d\n%s", args, got, code, errs)
	}
	var answer object
	decoder := json.NewDecoder(strings.NewReader(out))
	if err := decoder.Decode(&answer); err != nil {
		t.Fatalf("minim %q: %v\n%s", args, err, out)
	}
	if decoder.More() {
		t.Errorf("minim %q prints more than one object", args)
	}
	hasKeys(t, "the answer", answer, answerKeys)
	hasKeys(t, "dilution", answer["dilution"].(object), dilutionKeys)
	hasKeys(t, "solution", answer["solution"].(object), solutionKeys)
	if tolerance, ok := answer["tolerance"].(object); ok {
		hasKeys(t, "tolerance", tolerance, variationKeys)
		hasKeys(t, "tolerance.by_hand", tolerance["by_hand"].(object), variationKeys)
	}
	continuous := answer["continuous"].(object)
	hasKeys(t, "continuous", continuous, []string{"pours", "objective"})
	profile := answer["profile"].(object)
	hasKeys(t, "profile", profile, []string{"volume", "abv", "sugar", "sweetness", "acid", "salt", "bitter", "umami", "temperature", "dilution"})
	for name, property := range profile {
		hasKeys(t, "profile."+name, property.(object), propertyKeys)
	}
	for _, list := range []struct {
		name  string
		items any
		keys  []string
	}{
		{"pours", answer["pours"], pourKeys},
		{"continuous.pours", continuous["pours"], pourKeys},
		{"misses", answer["misses"], missKeys},
		{"limits", answer["limits"], limitKeys},
	} {
		items, ok := list.items.([]any)
		if !ok {
			t.Fatalf("%s is %v, expected an array", list.name, list.items)
		}
		for _, item := range items {
			hasKeys(t, list.name+"[]", item.(object), list.keys)
		}
	}
	noNullArray(t, "", answer)
	return answer
}

func hasKeys(t *testing.T, where string, o object, keys []string) {
	t.Helper()
	for _, key := range keys {
		if _, ok := o[key]; !ok {
			t.Errorf("%s has no key %s: %v", where, key, o)
		}
	}
}

// mayBeNull are the only keys without a value: the ml of a solid, the JND of a
// property that has none, what explains a miss where there is nothing to
// explain, the tolerance where no aim can be tasted, the choice where none was
// asked for, what a stronger drink would cost where this one is as strong as it
// may be, and of a batch what was not asked for or is not known.
var mayBeNull = append([]string{"ml", "jnd", "conflict", "help", "tolerance", "chosen", "stronger"},
	"price", "price_at_margin", "pour_cost_percent", "filling", "keeps_days", "within")

func noNullArray(t *testing.T, key string, v any) {
	t.Helper()
	switch v := v.(type) {
	case nil:
		if !slices.Contains(mayBeNull, key) {
			t.Errorf("%s is null", key)
		}
	case object:
		for k, inner := range v {
			noNullArray(t, k, inner)
		}
	case []any:
		for _, inner := range v {
			noNullArray(t, key+"[]", inner)
		}
	}
}
