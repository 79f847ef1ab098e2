package pantry

import (
	"math"
	"strings"
	"testing"
)

func TestQuantitiesAreReadWithUnitAndSpread(t *testing.T) {
	for _, one := range []struct {
		text          string
		units         Quantities
		value, spread float64
		says          string
	}{
		{"250", Masses, 250, 0, ""},
		{"1.5 kg", Masses, 1500, 0, ""},
		{"0.7l", Volumes, 700, 0, ""},
		{"2 oz", Volumes, 59.147059125, 0, ""},
		{"32.5 ± 0.3", BrixDegrees, 32.5, 0.3, ""},
		{"32.5 °Bx +/- 0.3", BrixDegrees, 32.5, 0.3, ""},
		{"1 ± 0.01 kg", Masses, 1000, 10, ""},
		{"1 kg ± 5 g", Masses, 1000, 5, ""},
		{"40 % vol", Strengths, 40, 0, ""},
		{"-5 °C", Temperatures, -5, 0, ""},
		{"90 min", Times, 1.5, 0, ""},
		{"88%", Parts, 0.88, 0, ""},
		{"", Masses, 0, 0, "is no number"},
		{"x", Masses, 0, 0, "is no number"},
		{"NaN", Masses, 0, 0, "expected a number"},
		{"5 cups", Volumes, 0, 0, "expected a number in cl, l, ml, oz"},
		{"2,5 g", Masses, 0, 0, "decimal comma"},
		{"3 g", Counts, 0, 0, "without a unit"},
		{"3 ± 0", Counts, 0, 0, "more than 0"},
		{"3 ± -1", Counts, 0, 0, "more than 0"},
	} {
		v, s, err := ParseQuantity(one.text, one.units)
		switch {
		case one.says == "" && (err != nil || math.Abs(v-one.value) > 1e-9*math.Abs(one.value) || math.Abs(s-one.spread) > 1e-9):
			t.Errorf("%q is %g ± %g, %v; want %g ± %g", one.text, v, s, err, one.value, one.spread)
		case one.says != "" && (err == nil || !strings.Contains(err.Error(), one.says)):
			t.Errorf("%q: %v, want %q", one.text, err, one.says)
		}
	}
	if !ByVolume("500 ml") || ByVolume("500 g") || ByVolume("500") || !ByVolume("1 l ± 5 ml") {
		t.Error("by volume is what ends in a unit of volume")
	}
}

func TestAcidsGoByTheirNames(t *testing.T) {
	for name, want := range map[string]Column{"citric": CitricPerLitre, "Malic acid": MalicPerLitre, "citric monohydrate": CitricPerLitre, "citric acid monohydrate": CitricPerLitre} {
		acid, purity, ok := AcidNamed(name)
		if !ok || acid != want || strings.Contains(name, "mono") != (purity < 1) {
			t.Errorf("%q is %v, %g, %v", name, acid, purity, ok)
		}
	}
	if _, _, ok := AcidNamed("sodium"); ok {
		t.Error("sodium is no acid")
	}
}
