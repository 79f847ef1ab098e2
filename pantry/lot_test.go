package pantry

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"minim/profile"
)

func day(t *testing.T, text string) time.Time {
	t.Helper()
	d, err := ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// reading makes a lot of one day.
func reading(t *testing.T, name, date string, values map[LotFigure]float64) Lot {
	t.Helper()
	l := Lot{Ingredient: name, Date: day(t, date), Place: Place{File: "lots.csv", Line: 2, Column: 1}}
	for f, v := range values {
		l.Readings[f] = Reading{Value: v, Known: true}
	}
	return l
}

func withLots(t *testing.T, s *Shelf, lots ...Lot) (*Shelf, []AppliedLot) {
	t.Helper()
	out, applied, err := s.WithLots(lots)
	if err != nil {
		t.Fatal(err)
	}
	return out, applied
}

// What an instrument reads of the pantry's own composition is no news.
func TestALotThatRepeatsThePantryChangesNothing(t *testing.T) {
	shelf := Embedded()
	tried := 0
	for _, i := range shelf.All() {
		values := map[LotFigure]float64{}
		for f := range LotFigure(LotFigures) {
			if v, _, ok := i.Reading(f); ok && (f != LotBrix || v > 0.5) {
				values[f] = v
			}
		}
		if len(values) < 3 {
			continue
		}
		for _, one := range []map[LotFigure]float64{values, {LotAcid: values[LotAcid]}, {LotBrix: values[LotBrix]}} {
			for f := range one {
				if _, ok := values[f]; !ok {
					delete(one, f)
				}
			}
			if len(one) == 0 {
				continue
			}
			after, _ := withLots(t, shelf, reading(t, i.ID, "2026-11-20", one))
			tried++
			was, is := i.PerUnit(), find(t, after, i.ID).PerUnit()
			for c := range was {
				// rounding of the bisection for the sugars
				if math.Abs(was[c]-is[c]) > 1e-6*(1+math.Abs(was[c])) {
					t.Errorf("%s, %v: component %d was %g, is %g", i.Name, one, c, was[c], is[c])
				}
			}
		}
	}
	if tried < 100 {
		t.Fatalf("only %d lots tried", tried)
	}
}

// A refractometer reads the juices of the pantry as the Codex says of juice.
func TestBrixOfJuicesIsThatOfTheCodex(t *testing.T) {
	// Source: General Standard for Fruit Juices and Nectars, CODEX STAN
	// 247-2005, annex, minimum Brix of reconstituted juice (from memory). Fruit
	// varies by a degree or two, so within 2 °Bx.
	for name, codex := range map[string]float64{
		"orange juice": 11.2, "grapefruit juice": 10, "lemon juice": 8, "lime juice": 8, "pineapple juice": 12.8, "apple juice": 11.5,
	} {
		brix, spread, ok := find(t, Embedded(), name).Brix()
		if !ok || math.Abs(brix-codex) > 2 {
			t.Errorf("%s reads %.1f ± %.1f °Bx (%v), the codex says %g", name, brix, spread, ok, codex)
		}
	}
}

func TestBrixOfASyrupIsItsSugarByWeight(t *testing.T) {
	// A part of sugar by weight in two or three parts: the definition of Brix.
	for name, brix := range map[string]float64{"simple syrup": 50, "rich syrup": 100 * 2.0 / 3} {
		if got, _, ok := find(t, Embedded(), name).Brix(); !ok || math.Abs(got-brix) > 0.2 {
			t.Errorf("%s reads %.2f °Bx, %.2f of its weight is sugar", name, got, brix)
		}
	}
}

func TestAcidOfALotScalesEveryAcid(t *testing.T) {
	before := find(t, Embedded(), "lime juice")
	shelf, applied := withLots(t, Embedded(), reading(t, "lime", "2026-11-20", map[LotFigure]float64{LotAcid: 55.2}))
	after := find(t, shelf, "lime juice")
	factor := 55.2 / before.Figures[TitratableAcidPerLitre].Value
	for c, facts := range columns {
		if want := before.Figures[c].Value * factor; facts.citric > 0 && math.Abs(after.Figures[c].Value-want) > 1e-9 {
			t.Errorf("%s is %g, want %g", Column(c).Name(), after.Figures[c].Value, want)
		}
	}
	f := after.Figures[TitratableAcidPerLitre]
	if f.Value != 55.2 || math.Abs(f.Spread-0.03*55.2) > 1e-12 || f.Source != "measured 2026-11-20" || f.Confidence != Seen {
		t.Errorf("titratable acid is %+v", f)
	}
	if got := 1000 * after.PerUnit()[profile.TitratableAcidGrams]; math.Abs(got-55.2) > 1e-9 {
		t.Errorf("a litre titrates to %g g", got)
	}
	for _, c := range sugarColumns {
		if after.Figures[c] != before.Figures[c] {
			t.Errorf("%s changed", c.Name())
		}
	}
	// 9.2 g/L of citric acid in the place of its volume of water, 0.597 ml/g.
	if rise := after.Figures[DensityGramsPerMillilitre].Value - before.Figures[DensityGramsPerMillilitre].Value; rise < 0.003 || rise > 0.0045 {
		t.Errorf("the density rises by %g", rise)
	}
	if len(applied) != 1 || applied[0].String() != "lime as measured on 2026-11-20: acid 55.2 g/L" {
		t.Errorf("applied %v", applied)
	}
	if lot, ok := shelf.Lot(after); !ok || lot.Ingredient != after {
		t.Error("the shelf does not know its lot")
	}
	if _, ok := Embedded().Lot(before); ok {
		t.Error("the shelf below knows the lot")
	}
}

// 78 g of sugar and 4 g of acid in a litre of 1.030 g/ml are 7.96 g in 100 g, and are
// read so where the gas is out. Citric acid refracts a little less than sugar (CRC
// Handbook: 20 % of it 1.3598, of sucrose 1.3639, water 1.3330; from memory): 7.9.
// The same reading as a lot leaves it as it is.
func TestBrixOfACarbonatedMixerIsThatOfADegassedSample(t *testing.T) {
	tonic := find(t, Embedded(), "tonic water")
	brix, _, ok := tonic.Brix()
	if !ok || math.Abs(brix-7.9) > 0.1 {
		t.Fatalf("tonic water reads %.2f °Bx (%v), by hand 7.9", brix, ok)
	}
	shelf, _ := withLots(t, Embedded(), reading(t, tonic.ID, "2026-11-20", map[LotFigure]float64{LotBrix: brix}))
	if got, want := find(t, shelf, tonic.ID).PerUnit().Mass(), tonic.PerUnit().Mass(); math.Abs(float64(got-want)) > 1e-6 {
		t.Errorf("the same reading makes it weigh %g g/ml, and it did %g", got, want)
	}
}

// The Brix moves the sugars alone, by what the reading is off: a degree is 10 g
// in a kilogram.
func TestBrixOfALotScalesTheSugars(t *testing.T) {
	before := find(t, Embedded(), "pineapple juice")
	own, _, _ := before.Brix()
	shelf, _ := withLots(t, Embedded(), reading(t, "pineapple juice", "2026-11-20", map[LotFigure]float64{LotBrix: own + 1}))
	after := find(t, shelf, "pineapple juice")
	was, is := 0.0, 0.0
	for _, c := range sugarColumns {
		was += before.Figures[c].Value
		is += after.Figures[c].Value
	}
	if math.Abs(is-was-10.6) > 0.6 {
		t.Errorf("one degree more makes %g g/L of sugar more", is-was)
	}
	for _, c := range sugarColumns {
		if share := before.Figures[c].Value / was; math.Abs(after.Figures[c].Value/is-share) > 1e-9 {
			t.Errorf("the share of %s changed", c.Name())
		}
	}
	if brix, _, _ := after.Brix(); math.Abs(brix-own-1) > 0.02 {
		t.Errorf("it reads %g after, want %g", brix, own+1)
	}
	if after.Figures[CitricPerLitre] != before.Figures[CitricPerLitre] {
		t.Error("the acid changed")
	}
}

func TestStrengthAndDensityOfALotReplace(t *testing.T) {
	shelf, _ := withLots(t, Embedded(),
		reading(t, "dry gin", "2026-11-20", map[LotFigure]float64{LotStrength: 47}),
		reading(t, "rich syrup", "2026-11-20", map[LotFigure]float64{LotDensity: 1.32}))
	gin := find(t, shelf, "dry gin")
	// OIML R 22, table: 47 % vol is 934.8 kg/m³.
	if d := gin.Figures[DensityGramsPerMillilitre].Value; math.Abs(d-0.9348) > 0.0015 || gin.Figures[StrengthPercent].Value != 47 {
		t.Errorf("a gin of %g %% weighs %g g/ml", gin.Figures[StrengthPercent].Value, d)
	}
	syrup := find(t, shelf, "rich syrup").Figures[DensityGramsPerMillilitre]
	if syrup.Value != 1.32 || syrup.Spread != 0.001 {
		t.Errorf("the syrup weighs %+v", syrup)
	}
}

func TestTheNewestDayCountsAndItsLaterRow(t *testing.T) {
	shelf, applied := withLots(t, Embedded(),
		reading(t, "lime juice", "2026-11-20", map[LotFigure]float64{LotAcid: 50, LotPH: 2.3}),
		reading(t, "lime juice", "2026-11-21", map[LotFigure]float64{LotAcid: 54}),
		reading(t, "lime juice", "2026-11-21", map[LotFigure]float64{LotAcid: 53, LotBrix: 9}),
		reading(t, "lime juice", "2026-11-19", map[LotFigure]float64{LotAcid: 40}))
	if got := find(t, shelf, "lime juice").Figures[TitratableAcidPerLitre].Value; got != 53 {
		t.Errorf("acid %g counts, want that of the newest day's later row", got)
	}
	if len(applied) != 1 || applied[0].Readings[LotPH].Known || !applied[0].Readings[LotBrix].Known {
		t.Errorf("applied %+v: an older delivery's pH is not this one's", applied)
	}
}

func TestLotsThatCannotBeAreRefused(t *testing.T) {
	for _, one := range []struct {
		lot  Lot
		says string
	}{
		{reading(t, "lime jiuce", "2026-11-20", map[LotFigure]float64{LotAcid: 50}), "nearest: Lime juice"},
		{reading(t, "fine salt", "2026-11-20", map[LotFigure]float64{LotDensity: 2}), "is a solid"},
		{reading(t, "lime juice", "2026-11-20", map[LotFigure]float64{LotBrix: 2}), "less than all but its sugar reads"},
		{reading(t, "lime juice", "2026-11-20", map[LotFigure]float64{LotBrix: 7.2, LotAcid: 62}), "Brix 7.2 and acid 62 g/L do not go together"},
		{reading(t, "soda water", "2026-11-20", map[LotFigure]float64{LotBrix: 8}), "does not tell them apart"},
		{reading(t, "rich syrup", "2026-11-20", map[LotFigure]float64{LotDensity: 0.8}), "expected at most"},
	} {
		_, _, err := Embedded().WithLots([]Lot{one.lot})
		if err == nil || !strings.Contains(err.Error(), one.says) || !strings.Contains(err.Error(), "lots.csv:2:1") {
			t.Errorf("%s: %v, want %q", one.lot.Ingredient, err, one.says)
		}
	}
}

// Brix of a liqueur is read through its alcohol: the same sugar again.
func TestBrixOfALiqueurIsReadThroughItsAlcohol(t *testing.T) {
	i := find(t, Embedded(), "dry orange liqueur 40 %")
	brix, _, ok := i.Brix()
	sugars := i.Figures[SucrosePerLitre].Value
	if !ok || brix < sugars/10.35+5 {
		t.Fatalf("reads %g °Bx; alcohol adds to the %g of its sugar", brix, sugars/10.35)
	}
	shelf, _ := withLots(t, Embedded(), reading(t, i.ID, "2026-11-20", map[LotFigure]float64{LotBrix: brix - 1}))
	after := find(t, shelf, i.ID).Figures[SucrosePerLitre]
	if after.Value >= sugars-5 || after.Value < sugars-20 {
		t.Errorf("one degree less makes %g g/L of %g", after.Value, sugars)
	}
	if after.Spread < 3 {
		t.Errorf("± %g g/L; the model of alcohol and sugar is no better than 3", after.Spread)
	}
}

func TestFlagsOfALotAreReadWithTheirUnits(t *testing.T) {
	for _, one := range []struct {
		figure LotFigure
		text   string
		want   float64
		says   string
	}{
		{LotAcid, "52 g/L", 52, ""},
		{LotAcid, "52", 52, ""},
		{LotBrix, "8.2 °Bx", 8.2, ""},
		{LotStrength, "40 %", 40, ""},
		{LotDensity, "1.03 g/ml", 1.03, ""},
		{LotPH, "2.3", 2.3, ""},
		{LotAcid, "5.2 %", 0, "1 % weight in volume is 10 g/L"},
		{LotAcid, "52 mg/L", 0, "expected a number in g/L"},
		{LotAcid, "5,2", 0, "write 5.2"},
		{LotPH, "15", 0, "expected 0 to 14"},
		{LotBrix, "NaN", 0, "expected a number"},
		{LotBrix, "-1", 0, "negative"},
		{LotDensity, "1030 kg/m3", 0, "expected a number in g/ml"},
		{LotDensity, "1030", 0, "expected 0.6 to 3"},
	} {
		r, err := ParseLotFigure(one.figure, one.text)
		switch {
		case one.says == "" && (err != nil || r.Value != one.want || !r.Known):
			t.Errorf("%s %q: %v, %v", one.figure.Name(), one.text, r, err)
		case one.says != "" && (err == nil || !strings.Contains(err.Error(), one.says)):
			t.Errorf("%s %q: %v, want %q", one.figure.Name(), one.text, err, one.says)
		}
	}
}

// The worked line: readings 50, 52, 51, 55 g/L in weeks 0 to 3.
func TestDrift(t *testing.T) {
	var lots []Lot
	for n, v := range []float64{50, 52, 51, 55} {
		lots = append(lots, reading(t, []string{"lime juice", "lime"}[n%2], day(t, "2026-11-01").AddDate(0, 0, 7*n).Format(time.DateOnly), map[LotFigure]float64{LotAcid: v}))
	}
	slices.Reverse(lots)
	lots = append(lots, reading(t, "lemon juice", "2026-11-22", map[LotFigure]float64{LotAcid: 5}))
	drifts, err := Embedded().Drift(lots, "Lime juice")
	if err != nil || len(drifts) != 1 {
		t.Fatal(drifts, err)
	}
	d := drifts[0]
	// By hand: mean 52, squares 4+0+1+9 = 14, Σtv = -1.5·-2 + -0.5·0 + 0.5·-1 +
	// 1.5·3 = 7, Σtt = 5, slope 1.4, residual squares 14 - 49/5 = 4.2; its ± is
	// √(2.1/5) = 0.648, and the instrument's 3 % of 52 over √5 = 0.698.
	if d.Count != 4 || d.Mean != 52 || d.Last != 55 || math.Abs(d.Spread-math.Sqrt(14.0/3)) > 1e-9 || math.Abs(d.PerWeek-1.4) > 1e-9 || math.Abs(d.PerWeekSpread-1.56/math.Sqrt(5)) > 1e-9 {
		t.Errorf("%+v", d)
	}
	if one, err := Embedded().Drift(lots[:1], "lime juice"); err != nil || one[0].HasTrend || one[0].Spread != 0 {
		t.Errorf("one reading: %+v, %v", one, err)
	}
	if _, err := Embedded().Drift(lots, "lime jiuce"); err == nil {
		t.Error("an unknown name has no drift")
	}
}

// A slip of the decimal point is recorded, and doubted; a sharp week is not.
func TestFiguresFarFromThePantryAreDoubted(t *testing.T) {
	for acid, want := range map[float64]bool{6.2: true, 62: false, 40: false, 460: true} {
		lot := Lot{Ingredient: "lime juice", Date: time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)}
		lot.Readings[LotAcid] = Reading{Value: acid, Known: true}
		_, applied, err := Embedded().WithLots([]Lot{lot})
		if err != nil {
			if want {
				continue
			}
			t.Fatal(err)
		}
		if got := len(applied[0].Doubts) > 0; got != want {
			t.Errorf("acid %g g/L: doubts %v", acid, applied[0].Doubts)
		}
	}
}

// Readings that no delivery gives are refused with what to check; one that is far
// off is a doubt, and a juice that has begun to ferment is no mistake.
func TestImpossibleReadingsAreRefused(t *testing.T) {
	for _, c := range []struct {
		ingredient string
		figure     LotFigure
		value      float64
		want       string
	}{
		{"lime juice", LotPH, 0, "pH 0; expected from 0.5 to 12"},
		{"lime juice", LotPH, 0.49, "pH 0.49"},
		{"lime juice", LotPH, 12.5, "pH 12.5"},
		{"lime juice", LotAcid, 0, "acid 0 g/L of what the pantry has at"},
		{"lime juice", LotStrength, 40, "abv 40 % vol of what has no alcohol"},
		{"dry gin", LotStrength, 0, "abv 0 % vol of what the pantry has at 40"},
		{"lime juice", LotPH, 0.5, ""},
		{"lime juice", LotAcid, 1, ""},
		{"lime juice", LotStrength, 1, ""},
		{"dry gin", LotStrength, 20, ""},
		{"simple syrup", LotAcid, 0, ""},
	} {
		l := Lot{Ingredient: c.ingredient, Date: time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)}
		l.Readings[c.figure] = Reading{Value: c.value, Known: true}
		_, _, err := Embedded().WithLots([]Lot{l})
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.ingredient+": "+c.want)) {
			t.Errorf("%s, %s %g: %v; want %q", c.ingredient, c.figure.Word(), c.value, err, c.want)
		}
	}
}
