package profile

import (
	"math"
	"testing"
)

func TestTitrationGoesBothWays(t *testing.T) {
	acid := TitratableAcid(0.1, 12.3, 5)
	if got := BaseNeeded(acid, 0.1, 5); math.Abs(float64(got)-12.3) > 1e-12 {
		t.Errorf("12.3 ml of base come back as %.15g", got)
	}
	for c := range Component(Components) {
		as, ok := acid.FromCitric(c)
		if _, isAcid := EquivalentOf(c); isAcid != ok {
			t.Errorf("component %d: acid %t, converted %t", c, isAcid, ok)
		}
		if !ok {
			continue
		}
		if back, _ := as.ToCitric(c); math.Abs(float64(back-acid)) > 1e-12 {
			t.Errorf("component %d: %g g/L come back as %g", c, acid, back)
		}
	}
	if _, ok := acid.ToCitric(WaterGrams); ok {
		t.Error("water is an acid")
	}
}

// A yardstick titrated with a base of known strength gives what that strength
// gives: the two methods are one.
func TestYardstickAgreesWithAKnownBase(t *testing.T) {
	const base EquivalentPerLitre = 0.25
	yardstick := GramPerLitre(60) // 6 % citric acid
	inYardstick := BaseNeeded(yardstick, base, 5)
	const inSample Millilitre = 17
	want := TitratableAcid(base, inSample, 4)
	got := AcidByYardstick(yardstick, 5, BaseUsed(inYardstick), 4, BaseUsed(inSample))
	if math.Abs(float64(got-want)) > 1e-9 {
		t.Errorf("by the yardstick %g g/L, by the base %g", got, want)
	}
}

func TestPercentIsGramsInAHundredMillilitres(t *testing.T) {
	if got := GramPerLitre(60).Percent(); got != 6 {
		t.Errorf("60 g/L is %g %%", got)
	}
	if got := PercentWeightInVolume(6).GramsPerLitre(); got != 60 {
		t.Errorf("6 %% is %g g/L", got)
	}
}
