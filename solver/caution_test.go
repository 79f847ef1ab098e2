package solver

import (
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// report is the answer to a finished spec with the built-in pantry.
func report(t *testing.T, text string) *Answer {
	t.Helper()
	spec, err := pantry.ReadSpec(strings.NewReader(text), "test.yaml")
	if err != nil {
		t.Fatal(err)
	}
	a, err := Report(Question{Spec: spec, Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func keys(cautions []profile.Caution) string {
	var all []string
	for _, c := range cautions {
		all = append(all, c.Key)
	}
	return strings.Join(all, " ")
}

func TestADrinkListsEachKindOfCautionOnce(t *testing.T) {
	for _, c := range []struct{ spec, want string }{
		{"mix:\n  gin: 60 ml\n  lemon juice: 20 ml\n", ""},
		{"mix:\n  gin: 45 ml\n  egg white: 1 piece\n  cream: 15 ml\n", "allergens raw-egg dairy"},
		{"mix:\n  green tea: 60 ml\n  black tea: 60 ml\n", "caffeine-label low-acid"},
		{"top:\n  tonic water: 150 ml\n", "quinine"},
		// 10 ml of a solution of 1 g/L in 60 ml are 8.2 mg of quinine, 137 mg/kg. By hand.
		{"mix:\n  quinine solution: 10 ml\n  vodka: 50 ml\n", "quinine quinine-limit"},
		{"mix:\n  vodka: 50 ml\nfinish:\n  - flamed orange peel\n  - salted almonds\n", "allergens flame"},
		{"mix:\n  vodka: 50 ml\nfinish:\n  - grated parmesan\n", "allergens"},
		// 2 dashes of 44.7 % in 150 ml are 0.55 %, a drop 0.02 %. By hand.
		{"mix:\n  soda water: 150 ml\n  aromatic bitters: 2 dashes\n", "strength-label"},
		{"mix:\n  soda water: 150 ml\n  aromatic bitters: 1 drop\n", "alcohol-words strength-label"},
	} {
		if got := keys(report(t, c.spec).Cautions); got != c.want {
			t.Errorf("%s calls for %q, expected %q", c.spec, got, c.want)
		}
		for _, one := range report(t, c.spec).Cautions {
			if one.Title == "" || one.Text == "" || one.Rule == "" {
				t.Errorf("%s: %s lacks its title, text or rule: %q", c.spec, one.Key, one.String())
			}
		}
	}
}

func TestACautionNamesAllThatBringsIt(t *testing.T) {
	a := report(t, "mix:\n  fino: 30 ml\n  dry vermouth: 30 ml\n  green tea: 20 ml\n  cucumber juice: 20 ml\n")
	if len(a.Cautions) != 2 {
		t.Fatalf("cautions %q, expected allergens and low-acid", keys(a.Cautions))
	}
	if want := "sulphur dioxide and sulphites in fino, dry vermouth"; !strings.Contains(a.Cautions[0].Text, want) {
		t.Errorf("%q, expected %q in it", a.Cautions[0].Text, want)
	}
	if want := []string{"green tea", "cucumber juice"}; !slices.Equal(a.Cautions[1].Ingredients, want) {
		t.Errorf("%q of %q, expected %q", a.Cautions[1].Key, a.Cautions[1].Ingredients, want)
	}
}

// What the pantry says of keeping stands in the place of "within days", once for
// each, also in a batch; a brine of 157 g/L of salt is not blamed, nor is a drink of
// it.
func TestACautionOfKeepingQuotesHowLongEachKeeps(t *testing.T) {
	a := report(t, "mix:\n  green tea: 20 ml\n  cucumber juice: 20 ml\n  tamari: 5 ml\n")
	n := slices.IndexFunc(a.Cautions, func(c profile.Caution) bool { return c.Key == "low-acid" })
	if n < 0 {
		t.Fatalf("cautions %q, expected low-acid", keys(a.Cautions))
	}
	for _, c := range []profile.Caution{a.Cautions[n], batchCautions(a)[n]} {
		if strings.Contains(c.Text, "within days") || strings.Count(c.Text, "Said to keep: green tea, 2 days cold.") != 1 || !strings.Contains(c.Text, "cucumber juice, 2 days cold.") {
			t.Errorf("%q", c.Text)
		}
		if slices.Contains(c.Ingredients, "tamari") {
			t.Errorf("blames %q", c.Ingredients)
		}
	}
}
