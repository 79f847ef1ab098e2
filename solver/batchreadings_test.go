package solver

import (
	"testing"

	"minim/profile"
)

// 10 g of sugar in 90 ml of water (89.84 g) are 10.02 g in 100 g: 10.0 °Bx, the
// degree Brix being that. Its density is 1.0381 g/ml (CRC Handbook, 102nd ed.
// (2021), concentrative properties, sucrose 10 %), 1.0400 times that of water.
// It holds 104 g/L, where one JND is sqrt(4² + (0.17 × 104)²) = 18.1 g/L: half of
// it more is 113 g/L, which at 11 °Bx and 1.042 g/ml (114.6 g/L) less 1.6 g/L is
// 10.85 °Bx. So the refractometer may be 0.8 off; half a JND is a little less
// downwards, since the JND falls with the sugar.
func TestReadingsOfASugarSolution(t *testing.T) {
	b := makeBatch(t, "mix:\n  water: 90 ml\n  sugar: 10 g\n", BatchSize{Serves: 10}, nil)
	r := &b.Readings
	near(t, "Brix", r.Brix.Value, 10.02, 0.05)
	near(t, "density", r.Density.Value, 1.0382, 0.0007)
	near(t, "room of Brix", r.Brix.Within, 0.82, 0.06)
	// 4.1 kg/m³ a degree between 10 and 15 °Bx of the same table, 1059.2.
	near(t, "room of density", r.Density.Within, 0.82*(1059.2-1038.1)/5/1000, 0.0003)
	if r.Brix.Property != profile.Sugar || r.Density.Property != profile.Sugar {
		t.Errorf("they speak for %s and %s", r.Brix.Property.Name(), r.Density.Property.Name())
	}
	if r.PH.Within != 0 {
		t.Errorf("a pH without acid may be %g off", r.PH.Within)
	}
}

// A spirit alone: 40 % vol is 0.94805 g/ml, and half a JND at 40 % vol, with one
// of sqrt(0.6² + 4²) = 4.04 % vol, moves its density by that of OIML R 22 (1975)
// between 40 and 50 % vol, 1.79 kg/m³ for each % vol, and between 30 and 40, 1.42.
func TestReadingsOfASpiritSpeakForStrength(t *testing.T) {
	b := makeBatch(t, "mix:\n  vodka: 50 ml\n", BatchSize{Serves: 10}, nil)
	r := &b.Readings
	near(t, "density", r.Density.Value, 0.94805, 0.0001)
	if r.Density.Property != profile.Strength || r.Brix.Property != profile.Strength {
		t.Errorf("they speak for %s and %s", r.Brix.Property.Name(), r.Density.Property.Name())
	}
	near(t, "room of density", r.Density.Within, 2.0*1.6/1000, 0.0005)
}

// Citric acid, 6 g in a litre: one JND is sqrt(0.1² + 1.2²) = 1.2 g/L. The pH of
// a weak acid moves by half the logarithm of its concentration, nearly:
// 0.5 × log10(6.6/6) = 0.021 for half a JND. 6 g/L are 31.2 mmol/L; with a pKa of
// 3.13 the hydrogen ion is 4.47 mmol/L, pH 2.35 (ideal solution, by hand).
func TestReadingOfAnAcidSolution(t *testing.T) {
	b := makeBatch(t, "mix:\n  water: 100 ml\n  citric acid powder: 0.6 g\n", BatchSize{Serves: 50}, nil)
	near(t, "pH", b.Readings.PH.Value, 2.35, 0.05)
	near(t, "room of pH", b.Readings.PH.Within, 0.021, 0.005)
	if b.Readings.PH.Property != profile.Acid {
		t.Errorf("it speaks for %s", b.Readings.PH.Property.Name())
	}
}

// Freezing points of ethanol in water by strength: 40 % vol -23.6 °C, 20 % vol
// -8.2 °C (interpolated in the CRC Handbook, 102nd ed. (2021), freezing point
// depression by mass). 40 ml of 40 % in 80 ml are 20 % vol, but for contraction;
// 16.3 % by mass, of which 27.6 % by mass freezes at -18 °C: by the lever rule
// 1 - 16.3/27.6 = 41 % of it is ice there.
func TestABatchFreezesAsEthanolAndWaterDo(t *testing.T) {
	spirit := makeBatch(t, "mix:\n  vodka: 50 ml\n", BatchSize{Serves: 10}, nil).Holding
	near(t, "40 % vol freezes at", float64(spirit.FreezingPoint), -23.6, 0.3)
	near(t, "ice in it", spirit.FrozenInFreezer, 0, 0)
	half := makeBatch(t, "mix:\n  vodka: 40 ml\n  water: 40 ml\n", BatchSize{Serves: 10}, nil).Holding
	near(t, "20 % vol freezes at", float64(half.FreezingPoint), -8.2, 0.3)
	near(t, "ice in it", half.FrozenInFreezer, 0.41, 0.01)
}
