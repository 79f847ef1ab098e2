package pantry

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"minim/profile"
)

// Worked titrations: 46.8 ml of 0.1 M on 5 ml is 59.9 g/L as citric acid
// (definition); OIV-MA-AS313-01, 10 ml of wine and 8.0 ml, 80 meq/L and 6.0 g/L
// as tartaric acid; AOAC 942.15, 10 ml of juice and 25.0 ml at 0.0064 g each,
// 1.60 % as citric acid (both from memory).
func TestWorkedTitrations(t *testing.T) {
	for _, row := range []struct {
		name                   string
		sample, used           profile.Millilitre
		as                     Column
		citric, other, ofOther float64
	}{
		{"lime", 5, 46.8, CitricPerLitre, 59.9, 59.9, 0.1},
		{"wine", 10, 8.0, TartaricPerLitre, 6.0 / 1.172, 6.0, 0.02},
		{"juice", 10, 25.0, DensityGramsPerMillilitre, 16.0, 0, 0},
	} {
		m, err := MeasureAcid(TitrationReading{
			Name: row.name, Category: "juice", Strength: *value(profile.EquivalentPerLitre(0.1)),
			Sample: Measurement[profile.Millilitre]{Value: row.sample, Spread: 0.001}, Used: Measurement[profile.Millilitre]{Value: row.used, Spread: 0.001}, As: row.as,
		})
		if err != nil {
			t.Fatal(err)
		}
		sound(t, m)
		spread := m.Ingredient.Figures[TitratableAcidPerLitre].Spread
		within(t, row.name+" as citric acid", figure(m, TitratableAcidPerLitre), row.citric, 0.1)
		within(t, row.name+" ±", spread, 0.01*row.citric, 0.001*row.citric) // 1 % of the base alone
		if isAcid(row.as) {
			within(t, row.name+" as itself", figure(m, row.as), row.other, row.ofOther)
		}
		if !strings.Contains(strings.Join(m.Remarks, "\n"), "goggles") {
			t.Errorf("no caution in %q", m.Remarks)
		}
	}
}

func TestBlankIsTakenOff(t *testing.T) {
	with, err := MeasureAcid(TitrationReading{Name: "a", Strength: *value(profile.EquivalentPerLitre(0.1)), Sample: *value(profile.Millilitre(5)), Used: *value(profile.Millilitre(20.5)), Blank: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "acid", figure(with, TitratableAcidPerLitre), 0.1*20/5*64.041, 0.1)
	_, err = MeasureAcid(TitrationReading{Name: "a", Strength: *value(profile.EquivalentPerLitre(0.1)), Sample: *value(profile.Millilitre(5)), Used: *value(profile.Millilitre(20)), Blank: 30})
	refused(t, err, "base of the blank 30 ml; expected 0 to 20 ml")
}

// Thirty drops for the yardstick of 6 % and twenty for as much juice is 4 %; the
// ± is that of simulated drops and jiggers.
func TestYardstickInDrops(t *testing.T) {
	r := YardstickReading{
		Name: "lime", Category: "juice", Yardstick: *value(profile.GramPerLitre(60)),
		YardstickVolume: *value(profile.Millilitre(10)), Sample: *value(profile.Millilitre(10)),
		YardstickUsed: *value(profile.BaseUsed(30)), SampleUsed: *value(profile.BaseUsed(20)), As: CitricPerLitre,
	}
	m, err := MeasureAcidByYardstick(r)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, m)
	f := m.Ingredient.Figures[TitratableAcidPerLitre]
	within(t, "acid", f.Value, 40, 0.05)
	random := rand.New(rand.NewPCG(3, 3))
	var found []float64
	for range 4000 {
		n := random.NormFloat64
		found = append(found, 60*(1+0.01*n())*(20+0.5*n())/(30+0.5*n())*(10+0.5*n())/(10+0.5*n()))
	}
	_, variance := meanOf(found)
	within(t, "±", f.Spread, math.Sqrt(variance), 0.06*math.Sqrt(variance))
	if strings.Contains(strings.Join(m.Remarks, "\n"), "very different") {
		t.Errorf("20 and 30 drops are called very different: %q", m.Remarks)
	}
	r.SampleUsed.Value = 9
	if m, err = MeasureAcidByYardstick(r); err != nil || !strings.Contains(strings.Join(m.Remarks, "\n"), "very different") {
		t.Errorf("9 and 30 drops: %v", err)
	}
	r.YardstickUsed.Value = 0
	_, err = MeasureAcidByYardstick(r)
	refused(t, err, "base of the yardstick 0; expected more than 0")
}
