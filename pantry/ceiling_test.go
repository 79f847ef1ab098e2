package pantry

import (
	"testing"

	"minim/profile"
)

func TestUnknownAsksForTheFiguresOfTheProperty(t *testing.T) {
	for _, c := range []struct {
		row     string
		p       profile.Property
		unknown bool
	}{
		{"name,abv_percent\na,40\n", profile.Strength, false},
		{"name\na\n", profile.Strength, true},
		{"name\na\n", profile.Ethanol, true},
		{"name,sucrose_g_per_l\na,5\n", profile.Sugar, true},
		{"name,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l\na,5,0,0,0\n", profile.Sugar, false},
		{"name,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l\na,5,0,0,0\n", profile.Sweetness, false},
		{"name,citric_g_per_l\na,5\n", profile.Acid, true},
		{"name,titratable_acidity_g_per_l_as_citric\na,5\n", profile.Acid, false},
		{"name,citric_g_per_l,malic_g_per_l,tartaric_g_per_l,lactic_g_per_l,acetic_g_per_l\na,5,0,0,0,0\n", profile.Acid, false},
		{"name\na\n", profile.Salt, true},
		{"name,sodium_mg_per_l\na,0\n", profile.Salt, false},
		{"name\na\n", profile.Bitter, true},
		{"name,glutamate_free_mg_per_l\na,0\n", profile.Umami, true},
		{"name,glutamate_free_mg_per_l,nucleotides_mg_per_l\na,0,0\n", profile.Umami, false},
		{"name\na\n", profile.Caffeine, true},
		{"name\na\n", profile.CarbonDioxide, false},
		{"name,category\na,juice\n", profile.CarbonDioxide, false},
		{"name,category\na,mixer & water\n", profile.CarbonDioxide, true},
		{"name,category\na,beer & cider\n", profile.CarbonDioxide, true},
		{"name\na\n", profile.PH, true},
		{"name,citric_g_per_l,malic_g_per_l,tartaric_g_per_l,lactic_g_per_l,acetic_g_per_l\na,5,0,0,0,0\n", profile.PH, false},
		{"name,citric_g_per_l,titratable_acidity_g_per_l_as_citric\na,5,5.5\n", profile.PH, false},
		{"name,citric_g_per_l,titratable_acidity_g_per_l_as_citric\na,5,7\n", profile.PH, true},
		{"name,titratable_acidity_g_per_l_as_citric\na,0\n", profile.PH, false},
		{"name\na\n", profile.Volume, false},
		{"name\na\n", profile.Temperature, false},
	} {
		if got := only(t, c.row).Unknown(c.p); got != c.unknown {
			t.Errorf("%q, %s unknown: %v; want %v", c.row, c.p.Name(), got, c.unknown)
		}
	}
}

func TestCeilingIsTheHighestOfTheCategory(t *testing.T) {
	// The strongest spirit sold as such has 96 % vol: Regulation (EU) 2019/787.
	most, ok := CeilingOf("spirits", false, StrengthPercent)
	if !ok || most.Figure.Value != 96 || most.Of != "Neutral spirit 96 %" || most.Figure.Source == "" {
		t.Errorf("ceiling of spirits is %+v, %v", most, ok)
	}
	per, ok := only(t, "name,category\na,spirit\n").Ceiling(profile.Strength)
	if !ok {
		t.Fatal("no ceiling")
	}
	near(t, "ethanol", per[profile.EthanolGrams], 0.96*0.789239, 1e-9, "OIML R 22")

	// Nothing unknown: nothing more.
	per, ok = only(t, "name,category,abv_percent\na,spirit,40\n").Ceiling(profile.Strength)
	if !ok || per != (profile.State{}) {
		t.Errorf("a known strength could be more by %v, %v", per, ok)
	}
	// Only the unknown figures are filled up. Honey has the most glucose of the syrups, 491 g/L (USDA SR28 19296).
	per, ok = only(t, "name,category,sucrose_g_per_l,fructose_g_per_l,other_sugars_g_per_l\na,syrup,100,0,0\n").Ceiling(profile.Sugar)
	if !ok || per[profile.SucroseGrams] != 0 {
		t.Errorf("sucrose is known, and could be more by %v", per[profile.SucroseGrams])
	}
	near(t, "glucose", per[profile.GlucoseGrams], 0.491, 1e-9, "USDA SR28 19296")
	// Juices are no sharper than 49 g/L here, of which 10 are listed already.
	per, ok = only(t, "name,category,citric_g_per_l\na,juice,10\n").Ceiling(profile.Acid)
	if !ok {
		t.Fatal("no ceiling")
	}
	near(t, "acid", per[profile.TitratableAcidGrams], 0.039, 1e-9, "lemon juice at 49 g/L")

	for _, row := range []string{"name\na\n", "name,category\na,shrub\n"} {
		if _, ok := only(t, row).Ceiling(profile.Salt); ok {
			t.Errorf("%q has a ceiling", row)
		}
	}
}

// A buffer that nobody listed leaves a measured pH as it is, and holds it there.
func TestUnlistedAcidOfAMeasuredPHIsABuffer(t *testing.T) {
	i := only(t, "name,category,titratable_acidity_g_per_l_as_citric,pH\nCoffee,tea & infusion,2,5\n")
	per, ok := i.Ceiling(profile.PH)
	if !ok {
		t.Fatal("no ceiling")
	}
	near(t, "acid", per[profile.CitricGrams], 0.002, 1e-12, "the titration")
	raised := profile.Drink{Mix: i.PerUnit().Add(per)}
	near(t, "pH", raised.Finish().Values[profile.PH], 5, 0.001, "the row")
	raised.Mix[profile.StrongChargeMilliequivalents] -= 0.001 // 1 meq/L of acid
	if got := raised.Finish().Values[profile.PH]; got < 4.6 {
		t.Errorf("a buffer of 10 mmol/L falls to pH %.2f by 1 meq/L", got)
	}
	per, ok = only(t, "name,category,citric_g_per_l\na,juice,10\n").Ceiling(profile.PH)
	near(t, "acid of unknown pH", per[profile.CitricGrams], 0.039, 1e-9, "lemon juice at 49 g/L")
	if !ok || per[profile.StrongChargeMilliequivalents] != 0 {
		t.Errorf("ceiling %v, %v; want acid alone", per, ok)
	}
}

// Every embedded ingredient either knows what a property needs, has a ceiling
// with a source, or says that it has none.
func TestEveryCeilingHasASource(t *testing.T) {
	for _, i := range Embedded().All() {
		for p := range profile.Property(profile.Properties) {
			per, ok := i.Ceiling(p)
			if !i.Unknown(p) && (!ok || per != profile.State{}) {
				t.Errorf("%s knows its %s, and has a ceiling of %v", i.Name, p.Name(), per)
			}
			for c, v := range per {
				if v < 0 && profile.Component(c) != profile.StrongChargeMilliequivalents {
					t.Errorf("%s has a ceiling of %s below zero", i.Name, p.Name())
				}
			}
		}
		for c := range Column(Columns) {
			most, ok := CeilingOf(i.Category, i.PerKilogram, c)
			if ok && most.Figure.Source == "" && most.Figure.Confidence.fromSource() {
				t.Errorf("%s of %s comes from %s without a source", c.Name(), i.Category, most.Of)
			}
			if f := i.Figures[c]; f.Known && (!ok || f.Value > most.Figure.Value) {
				t.Errorf("%s has more %s than its category", i.Name, c.Name())
			}
		}
	}
}
