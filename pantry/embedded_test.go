package pantry

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

func TestEmbeddedNamesAreGenericAndHitOneIngredient(t *testing.T) {
	seen := map[string]string{}
	for _, i := range Embedded().All() {
		if strings.Contains(i.Name, ",") {
			t.Errorf("%q has a comma", i.Name)
		}
		if i.ID == "" || i.Category == "" || i.Source == "" {
			t.Errorf("%s: id %q, category %q, source %q", i.Name, i.ID, i.Category, i.Source)
		}
		for _, name := range i.names() {
			if other, double := seen[Fold(name)]; double && other != i.Name {
				t.Errorf("%q is %s and %s", name, other, i.Name)
			}
			seen[Fold(name)] = i.Name
			if got, err := Embedded().Find(name); err != nil || got != i {
				t.Errorf("%q finds %v, %v; want %s", name, got, err, i.Name)
			}
		}
	}
	if n := len(Embedded().All()); n < 60 {
		t.Errorf("%d ingredients; want 60 at least", n)
	}
	if first, second := Embedded(), Embedded(); first != second {
		t.Error("parsed twice")
	}
}

func TestEmbeddedCategories(t *testing.T) {
	want := []string{
		"spirit", "fortified wine", "aromatised wine", "wine", "beer & cider", "liqueur", "bitters & tincture", "syrup",
		"sugar & sweetener", "acid", "salt", "juice", "dairy & egg", "umami", "tea & infusion", "mixer & water", "texture agent", "aromatic water",
	}
	if got := Embedded().Categories(); !slices.Equal(got, want) {
		t.Errorf("categories %q; want %q", got, want)
	}
}

func TestEmbeddedRowsClose(t *testing.T) {
	for _, i := range Embedded().All() {
		checkState(t, i)
		unit := i.PerUnit()
		if i.Solid {
			near(t, i.Name+", mass", float64(unit.Mass()), 1, slack, "a gram")
			continue
		}
		listed := i.listed()
		density := i.Figures[DensityGramsPerMillilitre]
		if !density.Known {
			t.Errorf("%s: a liquid without a density", i.Name)
		}
		if water := density.Value - float64(listed.Mass()); water < 0 {
			t.Errorf("%s: water by difference is %.4f g in a millilitre", i.Name, water)
		}
		near(t, i.Name+", mass", float64(unit.Mass()), density.Value, 1e-12, "its density")
		thirty := unit.Scale(30)
		near(t, i.Name+", volume of 30 ml", float64(thirty.Volume()), 30, 1e-9, "definition")
	}
}

// looseDensities are the rows whose volume from the composition is further above
// or below the measured one than densityGap allows, and why.
var looseDensities = map[string]struct {
	tolerance float64
	why       string
}{
	"Maple syrup":             {0.018, "minerals and acids of the sap stand in no column"},
	"Glycerol 99.5 %":         {0.025, "apparent volume in the pure liquid is that of dilute solutions"},
	"Lactic acid 88 %":        {0.022, "apparent volume in the syrupy acid is that of dilute solutions"},
	"Sherry vinegar 7 %":      {0.012, "extract of wood and wine stands in no column"},
	"Tomato juice":            {0.015, "pulp and minerals stand in no column; the density is rounded to 0.01"},
	"Beetroot juice":          {0.014, "protein and minerals stand in no column; the density is an estimate"},
	"Fermented anchovy sauce": {0.022, "minerals of molasses stand in no column; the density is an estimate"},
}

func TestEmbeddedDensitiesAgreeWithComposition(t *testing.T) {
	type row struct {
		name             string
		gap, least, most float64
		share            float64
	}
	var rows []row
	for _, i := range Embedded().All() {
		if i.Solid {
			continue
		}
		gap, least, most := i.densityGap()
		share := max(gap/most, gap/least)
		loose, excepted := looseDensities[i.Name]
		if excepted {
			least, most = min(least, -loose.tolerance), max(most, loose.tolerance)
		}
		if gap < least || gap > most {
			t.Errorf("%s: the volume from its composition is %+.4f ml off a millilitre; expected %.4f to %.4f", i.Name, gap, least, most)
		}
		if excepted && share <= 1 {
			t.Errorf("%s no longer needs its exception", i.Name)
		}
		rows = append(rows, row{i.Name, gap, least, most, share})
	}
	for name := range looseDensities {
		find(t, Embedded(), name)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(b.share, a.share) })
	t.Log("volume from the composition less the measured one, ml per ml, and what is allowed; the worst five")
	for _, r := range rows[:5] {
		t.Logf("%-26s %+.4f  (%.4f to %.4f)  %s", r.name, r.gap, r.least, r.most, looseDensities[r.name].why)
	}
}

func TestEmbeddedFiguresHaveASource(t *testing.T) {
	for _, i := range Embedded().All() {
		if i.Source == "" || i.Confidence == "" {
			t.Errorf("%s: source %q, confidence %q", i.Name, i.Source, i.Confidence)
		}
		for c, f := range i.Figures {
			if f.Known && f.Source == "" && f.Confidence.fromSource() {
				t.Errorf("%s: %s %v is %s of nothing", i.Name, Column(c).Name(), f.Value, f.Confidence)
			}
		}
	}
}

func TestEmbeddedAllergensAreThoseOfTheLaw(t *testing.T) {
	// Regulation (EU) 1169/2011, Annex II, from memory; sulphites from 10 mg/L.
	for name, want := range map[string]string{
		"milk": "milk", "cream": "milk", "parmesan": "milk", "egg white": "eggs", "egg": "eggs", "fish sauce": "fish", "dashi": "fish",
		"soy sauce": "cereals containing gluten", "tamari": "soybeans", "miso": "soybeans", "lager": "cereals containing gluten",
		"orgeat": "nuts", "amaretto": "nuts", "celery bitters": "celery", "white wine": "sulphur dioxide and sulphites",
		"fino": "sulphur dioxide and sulphites", "sweet vermouth": "sulphur dioxide and sulphites", "worcester sauce": "fish",
	} {
		i := find(t, Embedded(), name)
		if !slices.ContainsFunc(i.Allergens, func(a string) bool { return allergenWord(a) == want }) {
			t.Errorf("%s holds %q; want %s", name, i.Allergens, want)
		}
	}
	for _, i := range Embedded().All() {
		for _, a := range i.Allergens {
			if !slices.Contains(lawfulAllergens, allergenWord(a)) {
				t.Errorf("%s: allergen %q", i.Name, a)
			}
			if slices.Contains(animalAllergens, allergenWord(a)) && i.Vegan != No {
				t.Errorf("%s holds %s, vegan %q", i.Name, a, i.Vegan)
			}
		}
	}
}

func TestEmbeddedSaysWhatIsVeganAndHowItKeeps(t *testing.T) {
	for name, want := range map[string]Certainty{
		"gin": Yes, "lime juice": Yes, "honey": No, "honey syrup": No, "egg white": No, "cream": No, "fish sauce": No, "parmesan": No, "aquafaba": Yes,
		"red wine": Unknown, "stout": Unknown, "dry vermouth": Unknown, "red bitter aperitif": Unknown, "kombu dashi": Yes, "dashi": No,
	} {
		if got := find(t, Embedded(), name).Vegan; got != want {
			t.Errorf("%s: vegan %q; want %q", name, got, want)
		}
	}
	for _, i := range Embedded().All() {
		if i.Vegan == Unknown && i.Note == "" {
			t.Errorf("%s: vegan is open and no note says why", i.Name)
		}
		perishable := slices.Contains([]string{"juice", "dairy & egg", "wine", "fortified wine", "aromatised wine", "beer & cider", "syrup", "tea & infusion"}, i.Category)
		if perishable && i.Keeps == "" {
			t.Errorf("%s perishes and nothing says how it keeps", i.Name)
		}
		if i.Keeps != "" && !strings.HasSuffix(i.Keeps, "; common practice, no source") {
			t.Errorf("%s keeps %q without saying where that is from", i.Name, i.Keeps)
		}
		if i.Priced || i.Pack.Value != 0 || i.OutOfStock {
			t.Errorf("%s has a price, a pack or no stock", i.Name)
		}
	}
}

// Figures of the embedded pantry against what was published, in the unit of
// the publication.
func TestEmbeddedFiguresArePublishedOnes(t *testing.T) {
	figure := func(name string, c Column) float64 { return find(t, Embedded(), name).Figures[c].Value }
	sugars := func(name string) float64 {
		total := 0.0
		for _, c := range sugarColumns {
			total += figure(name, c)
		}
		return total
	}
	for _, c := range []struct {
		what                 string
		got, want, tolerance float64
		source               string
	}{
		{"density of gin at 40 %, kg/m3", figure("gin", DensityGramsPerMillilitre) * 1000, 948.05, 0.1, "OIML R 22"},
		{"density of neutral spirit at 96 %, kg/m3", figure("neutral spirit", DensityGramsPerMillilitre) * 1000, 807.42, 0.1, "OIML R 22"},
		{"density of gin at 47 %, kg/m3", figure("gin 47%", DensityGramsPerMillilitre) * 1000, 935.88, 0.1, "OIML R 22"},
		{"malic acid as citric", figure("malic acid", TitratableAcidPerLitre) / 1000, 0.955, 0.0005, "molar masses"},
		{"tartaric acid as citric", figure("tartaric acid", TitratableAcidPerLitre) / 1000, 0.853, 0.0005, "molar masses"},
		{"sodium in salt, g/g", figure("salt", SodiumMilligramsPerLitre) / 1e6, 0.3934, 0.004, "molar masses; tables 0.388 to 0.391"},
		{"glutamic acid in MSG, g/g", figure("MSG", GlutamicMilligramsPerLitre) / 1e6, 0.786, 0.0005, "molar masses"},
		{"bitterness of quinine solution, mg/L", figure("quinine solution", BitternessMilligramsPerLitre), 1000, 0, "Ph. Eur. 2.8.15, definition"},
		{"sucrose at 50 % by mass, g/L", figure("simple syrup", SucrosePerLitre), 614.8, 0.3, "ICUMSA SPS-4"},
		{"sucrose at 66.7 % by mass, g/L", figure("rich syrup", SucrosePerLitre), 884.4, 0.6, "ICUMSA SPS-4"},
		{"sucrose in white sugar, g/100 g", figure("white sugar", SucrosePerLitre) / 10, 99.8, 0, "USDA SR28 19335, Ciqual 31016"},
		{"sugar of orange curaçao, g/L", sugars("orange curaçao"), 278, 0.5, "JSFC 16028"},
		{"density of orange curaçao", figure("orange curaçao", DensityGramsPerMillilitre), 1.053, 0, "JSFC 16028"},
		{"sugar of mint liqueur, g/L", sugars("mint liqueur"), 421, 0.5, "JSFC 16030"},
		{"sugar of sweet vermouth, g/L", sugars("sweet vermouth"), 172, 0.5, "JSFC 16031"},
		{"sugar of dry vermouth, g/L", sugars("dry vermouth"), 30, 0.5, "JSFC 16032"},
		{"saccharides of mirin, g/L", sugars("mirin"), 507, 2, "JSFC 16025"},
		{"sugar of junmai sake, g/L", figure("sake", GlucosePerLitre) + 3, 23, 1, "JSFC 16002: 2.3 g/100 g of sugars, the rest oligosaccharides"},
		{"citric acid of lemon, g/L", figure("lemon juice", CitricPerLitre), 48.0, 0.05, "Penniston et al., J. Endourol. 22:567 (2008)"},
		{"citric acid of lime, g/L", figure("lime juice", CitricPerLitre), 45.86, 0.05, "Penniston et al. 2008"},
		{"citric acid of orange, g/L", figure("orange juice", CitricPerLitre), 9.10, 0.05, "Penniston et al. 2008"},
		{"sucrose of orange, g/100 g", figure("orange juice", SucrosePerLitre) / 10.44, 3.46, 0.01, "Ciqual 2070"},
		{"fructose of pomegranate, g/100 g", figure("pomegranate juice", FructosePerLitre) / 10.65, 6.83, 0.01, "Krueger, J. AOAC Int. (2012)"},
		{"glucose of pomegranate, g/100 g", figure("pomegranate juice", GlucosePerLitre) / 10.65, 6.66, 0.01, "Krueger 2012"},
		{"citric acid of pomegranate, g/100 g", figure("pomegranate juice", CitricPerLitre) / 10.65, 1.19, 0.01, "Krueger 2012"},
		{"sugar of sweet port, g/L", sugars("ruby port"), 110, 20, "port wine institute, class sweet 90 to 130"},
		{"sodium of dark soy sauce, mg/100 g", figure("soy sauce", SodiumMilligramsPerLitre) / 11.81, 5700, 5, "JSFC 17007"},
		{"sodium of fish sauce, mg/100 g", figure("fish sauce", SodiumMilligramsPerLitre) / 12.21, 9000, 5, "JSFC 17107"},
		{"glutamate of fish sauce, mg/100 g", figure("fish sauce", GlutamicMilligramsPerLitre) / 12.21, 950, 1, "Umami Information Center"},
		{"quinine of tonic water, mg/L as base", figure("tonic water", BitternessMilligramsPerLitre) / 1.22, 61, 1, "LGL Bavaria, mean of a survey"},
		{"caffeine of espresso, mg/100 g", figure("espresso", CaffeineMilligramsPerLitre) / 10, 212, 3, "USDA SR28 14210"},
		{"caffeine of cola, mg/100 g", figure("cola", CaffeineMilligramsPerLitre) / 10.4, 9, 0.1, "USDA SR28 14148"},
		{"pH of dry white wine", figure("white wine", PH), 3.18, 0, "Cortez et al. 2009, median of 4898"},
		{"fixed acidity of dry white wine, g/L as tartaric", figure("white wine", TitratableAcidPerLitre) / citricPerTartaric, 6.8, 0.05, "Cortez et al. 2009, median"},
		{"glycerol in glycerol, g/L", figure("glycerol", PolyolsPerLitre), 0.995 * 1261, 1, "99.5 % of 1.261 g/ml"},
	} {
		near(t, c.what, c.got, c.want, c.tolerance, c.source)
	}
}

// Grams of alcohol in 100 g as analysed, which the pantry holds as a strength
// and a density: g/100 g = 100 x ethanol / mass.
func TestEmbeddedAlcoholByMass(t *testing.T) {
	for name, c := range map[string]struct {
		want, tolerance float64
		source          string
	}{
		"sweet vermouth": {12.1, 0.1, "JSFC 16031"},
		"mirin":          {9.5, 0.1, "JSFC 16025"},
		"orange curaçao": {30.5, 0.3, "JSFC 16028"},
		"soy sauce":      {2.1, 0.05, "JSFC 17007"},
		"vodka":          {33.3, 0.05, "OIML R 22 at 40 % vol"},
		"neutral spirit": {93.84, 0.05, "OIML R 22 at 96 % vol"},
		"cassis":         {11.6, 0.1, "Ciqual 1021"},
	} {
		unit := find(t, Embedded(), name).PerUnit()
		near(t, name+", g/100 g", 100*unit[profile.EthanolGrams]/float64(unit.Mass()), c.want, c.tolerance, c.source)
	}
}

func TestEmbeddedMeasures(t *testing.T) {
	// Common practice, no source.
	for name, want := range map[string]Step{
		"gin": {}, "lime juice": {}, "aromatic bitters": {0.92, "dash"}, "gentian tincture": {0.92, "dash"}, "saline": {0.25, ""},
		"lactic acid": {0.25, ""}, "citric acid": {0.1, ""}, "sucralose": {0.01, ""}, "xanthan gum": {0.01, ""},
		"egg white": {30, "piece"}, "whole egg": {50, "piece"},
	} {
		if got := find(t, Embedded(), name).Step; got != want {
			t.Errorf("%s is measured by %v; want %v", name, got, want)
		}
	}
	for name, want := range map[string]profile.Celsius{
		"gin": 20, "rich syrup": 20, "orange liqueur": 20, "lime juice": 5, "egg white": 5, "sparkling wine": 5, "tonic": 5, "lager": 5, "black tea": 5, "water": 20,
	} {
		if got := find(t, Embedded(), name).KeptAt; got != want {
			t.Errorf("%s is kept at %v; want %v", name, got, want)
		}
	}
}

// Regulation (EU) 1169/2011, Annex XII, from memory, lets a label be off by
// 0.3 % vol, 0.5 to 1 for wine and beer, 1.5 where plants were steeped.
func TestEmbeddedStrengthsAreAsGoodAsLabels(t *testing.T) {
	for _, i := range Embedded().All() {
		f := i.Figures[StrengthPercent]
		if f.Value == 0 {
			continue
		}
		if !f.OwnSpread || f.Spread < 0.3/math.Sqrt(3)-0.01 || f.Spread > 1.5/math.Sqrt(3)+0.01 {
			t.Errorf("%s: strength %v ± %v, own %v", i.Name, f.Value, f.Spread, f.OwnSpread)
		}
	}
}

// Gums and glutamate are sold as salts, and hardly titrate: Regulation (EU)
// 231/2012, from memory. Pectin keeps free carboxyl groups.
func TestGumsAndSavourySaltsAreKnownToHoldNoAcid(t *testing.T) {
	for name, want := range map[string]bool{"xanthan gum": true, "gum arabic": true, "agar": true, "msg": true, "high-methoxyl pectin": false} {
		i := find(t, Embedded(), name)
		if i.Unknown(profile.Acid) || (i.PerUnit()[profile.TitratableAcidGrams] == 0) != want {
			t.Errorf("%s: acid unknown %v, %g g in a gram", name, i.Unknown(profile.Acid), i.PerUnit()[profile.TitratableAcidGrams])
		}
		if want && i.Unknown(profile.PH) {
			t.Errorf("the acids of %s are unknown", name)
		}
	}
}
