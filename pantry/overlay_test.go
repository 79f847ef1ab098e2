package pantry

import (
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

func TestOverlayReplacesOnlyWhatItFills(t *testing.T) {
	below := find(t, Embedded(), "lime juice")
	shelf := overlay(t, "name,sodium_mg_per_l,sodium_mg_per_l_pm\nlime-juice,30,4\n")
	i := find(t, shelf, "Lime juice")
	if i.Name != "lime-juice" || i.ID != below.ID || i.Category != "juice" || i.KeptAt != 5 {
		t.Errorf("the row below was lost: %q, %q, %q, %v", i.Name, i.ID, i.Category, i.KeptAt)
	}
	if f := i.Figures[SodiumMilligramsPerLitre]; f.Value != 30 || f.Spread != 4 || f.Source != "bar.csv" || f.Confidence != Seen {
		t.Errorf("sodium %+v", f)
	}
	for c := range Column(Columns) {
		if c != SodiumMilligramsPerLitre && i.Figures[c] != below.Figures[c] {
			t.Errorf("%s changed from %+v to %+v", c.Name(), below.Figures[c], i.Figures[c])
		}
	}
	if got, want := len(shelf.All()), len(Embedded().All()); got != want {
		t.Errorf("%d ingredients; want %d", got, want)
	}
	if f := find(t, Embedded(), "lime juice").Figures[SodiumMilligramsPerLitre]; f.Value != 21 {
		t.Errorf("the shelf below changed: %+v", f)
	}
}

func TestOverlayAddsNewNames(t *testing.T) {
	shelf := overlay(t, "name,category,sucrose_g_per_l\nRhubarb cordial,syrup,400\nRhubarb cordial no. 2,syrup,420\n")
	all := shelf.All()
	last := all[len(all)-1]
	if last.Name != "Rhubarb cordial no. 2" || last.ID != "rhubarb_cordial_no._2" {
		t.Errorf("the last ingredient is %q with id %q", last.Name, last.ID)
	}
	if find(t, shelf, "rhubarb cordials").Figures[SucrosePerLitre].Value != 400 {
		t.Error("the new ingredient is not found")
	}
}

func TestOverlayMatchesAliasesAndIDs(t *testing.T) {
	shelf := overlay(t, "name,abv_percent\ngin,41.5\n")
	i := find(t, shelf, "dry gin")
	if i != find(t, shelf, "gin") || i != find(t, shelf, "Dry gin 40 %") || i.Name != "gin" || i.Figures[StrengthPercent].Value != 41.5 {
		t.Errorf("gin is %q of %v", i.Name, i.Figures[StrengthPercent])
	}
	shelf = overlay(t, "id,name,abv_percent\ngin_40,House gin,42\n")
	if i := find(t, shelf, "gin"); i.Name != "House gin" || i.Figures[StrengthPercent].Value != 42 {
		t.Errorf("gin is %q of %v", i.Name, i.Figures[StrengthPercent])
	}
}

func TestOverlayOfCompositionComputesTheDensityAnew(t *testing.T) {
	// A 43 % spirit weighs 943.06 kg/m3, OIML R 22; the row below says 948.
	i := find(t, overlay(t, "name,abv_percent\ndry gin,43\n"), "gin")
	if i.Figures[DensityGramsPerMillilitre].Known {
		t.Error("the density of another strength was kept")
	}
	near(t, "density", float64(i.PerUnit().Mass()), 0.94306, 2e-5, "OIML R 22")
	near(t, "correction", i.PerUnit()[profile.VolumeCorrectionMillilitres], 0, 1e-9, "nothing was measured")

	i = find(t, overlay(t, "name,abv_percent,density_g_per_ml\ndry gin,43,0.944\n"), "gin")
	near(t, "given density", float64(i.PerUnit().Mass()), 0.944, 1e-9, "the bar's own")

	i = find(t, overlay(t, "name,abv_percent,pH,bitterness_mg_per_l_quinine_hcl_eq\ndry gin,40,6,1\n"), "gin")
	if !i.Figures[DensityGramsPerMillilitre].Known {
		t.Error("the density was dropped though the composition stayed")
	}
}

func TestOverlayOfAcidsSumsTheTitratableAcidityAnew(t *testing.T) {
	i := find(t, overlay(t, "name,citric_g_per_l,malic_g_per_l,phosphoric_g_per_l\nlime juice,52,0,0\n"), "lime juice")
	near(t, "acid", i.PerUnit()[profile.TitratableAcidGrams]*1000, 52, 1e-9, "the bar's own")
	i = find(t, overlay(t, "name,citric_g_per_l,titratable_acidity_g_per_l_as_citric\nlime juice,52,51\n"), "lime juice")
	near(t, "acid", i.PerUnit()[profile.TitratableAcidGrams]*1000, 51, 1e-9, "the bar's own")
}

func TestOverlayOfTheDashChangesTheMeasure(t *testing.T) {
	i := find(t, overlay(t, "name,dash_ml\naromatic bitters,0.6\n"), "aromatic bitters")
	if i.Step != (Step{0.6, "dash"}) {
		t.Errorf("measure %v; want one dash of 0.6 ml", i.Step)
	}
	i = find(t, overlay(t, "name,measure\naromatic bitters,0.5 ml\n"), "aromatic bitters")
	if i.Step != (Step{0.5, ""}) {
		t.Errorf("measure %v; want 0.5 ml", i.Step)
	}
}

func TestOverlayOfAPieceOfUnknownSizeHasNoMeasure(t *testing.T) {
	i := find(t, overlay(t, "name,piece\negg white,0\n"), "egg white")
	if i.Step != (Step{}) {
		t.Errorf("measure %v; want none", i.Step)
	}
	i = find(t, overlay(t, "name,piece\negg white,33\n"), "egg white")
	if i.Step != (Step{33, "piece"}) {
		t.Errorf("measure %v; want a piece of 33 ml", i.Step)
	}
}

func TestOverlayIDIsNotAnAlias(t *testing.T) {
	shelf := overlay(t, "id,name\ngin,House special\n")
	if i := find(t, shelf, "gin"); i.Name != "House special" {
		t.Errorf("gin is %q", i.Name)
	}
	if i := find(t, shelf, "dry gin"); i.Name != "Dry gin 40 %" {
		t.Errorf("dry gin is %q", i.Name)
	}
}

func TestOverlayAliasTakesTheWordFromBelow(t *testing.T) {
	shelf := overlay(t, "name,aliases,abv_percent\nBathtub spirit,gin,38\n")
	if i := find(t, shelf, "gin"); i.Name != "Bathtub spirit" {
		t.Errorf("gin is %q", i.Name)
	}
	if i := find(t, shelf, "dry gin"); i.Name != "Dry gin 40 %" || slices.Contains(i.Aliases, "gin") {
		t.Errorf("dry gin is %q with %q", i.Name, i.Aliases)
	}
	shelf = overlay(t, "name,aliases,citric_g_per_l\nTuesday's limes,lime juice,52\n")
	for _, name := range []string{"lime juice", "fresh lime juice", "lime"} {
		if i := find(t, shelf, name); i.Name != "Tuesday's limes" {
			t.Errorf("%s is %q", name, i.Name)
		}
	}
	if got, want := len(shelf.All()), len(Embedded().All()); got != want {
		t.Errorf("%d ingredients; want %d", got, want)
	}
}

func TestOverlaysLieOverOneAnother(t *testing.T) {
	first := overlay(t, "name,sodium_mg_per_l\nlime juice,30\nShrub,5\n")
	second, err := first.Overlay(strings.NewReader("name,caffeine_mg_per_l\nlime juice,1\nshrub,2\n"), "second.csv")
	if err != nil {
		t.Fatal(err)
	}
	lime, shrub := find(t, second, "lime juice"), find(t, second, "shrub")
	if lime.Figures[SodiumMilligramsPerLitre].Value != 30 || lime.Figures[CaffeineMilligramsPerLitre].Value != 1 {
		t.Errorf("lime juice %v, %v", lime.Figures[SodiumMilligramsPerLitre], lime.Figures[CaffeineMilligramsPerLitre])
	}
	if shrub.Figures[SodiumMilligramsPerLitre].Source != "bar.csv" || shrub.Figures[CaffeineMilligramsPerLitre].Source != "second.csv" {
		t.Errorf("shrub %+v, %+v", shrub.Figures[SodiumMilligramsPerLitre], shrub.Figures[CaffeineMilligramsPerLitre])
	}
}

func TestOverlayOfASolidNeedsNoState(t *testing.T) {
	i := find(t, overlay(t, "name,measure,sucrose_g_per_l\nwhite sugar,0.5 g,999\n"), "sugar")
	if !i.Solid || i.Step.Amount != 0.5 || i.PerUnit()[profile.SucroseGrams] != 0.999 {
		t.Errorf("sugar %v, %v, %v", i.Solid, i.Step, i.PerUnit()[profile.SucroseGrams])
	}
}
