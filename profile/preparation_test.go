package profile

import (
	"math"
	"testing"
)

// 96 % spirit made up to a litre at 40 %: 416.7 ml of it hold 400 ml of ethanol, and
// the water is what a litre of 40 % weighs beyond them, 948.05 - 336.5 = 632.4 g
// beside 315.7 g of ethanol. Source: OIML R 22: 948.05 kg/m³ at 40 % vol, ethanol
// 789.24.
func TestDilutionClosesTheVolume(t *testing.T) {
	var spirit State
	spirit[EthanolGrams] = 400 * 0.78924
	spirit[WaterGrams] = 20
	got, ok := spirit.DilutedTo(1000)
	if !ok || math.Abs(float64(got.Volume())-1000) > 1e-9 {
		t.Fatalf("%v ml, %v", got.Volume(), ok)
	}
	if want := 948.05 - 400*0.78924; math.Abs(got[WaterGrams]-want) > 0.05 {
		t.Errorf("%.2f g of water, want %.2f", got[WaterGrams], want)
	}
	if _, ok := spirit.DilutedTo(100); ok {
		t.Error("diluted to less than there is")
	}
	more := spirit.DilutedWith(100)
	if want := 20 + 100*0.9982; math.Abs(more[WaterGrams]-want) > 0.01 {
		t.Errorf("%.3f g of water, want %.3f", more[WaterGrams], want)
	}
}

// Four volumes are 4 × 1.977 = 7.908 g in a litre of the result.
func TestCarbonationCountsALitreOfTheResult(t *testing.T) {
	var water State
	water[WaterGrams] = 998.2
	got := water.CarbonatedTo(4 * CarbonDioxideVolume)
	if c := 1000 * got[CarbonDioxideGrams] / float64(got.Volume()); math.Abs(c-7.908) > 1e-9 {
		t.Errorf("%.4f g/L, want 7.908", c)
	}
	if again := got.CarbonatedTo(0); again != water {
		t.Errorf("%v g of gas stay", again[CarbonDioxideGrams])
	}
}

func TestClarifyingTakesGumsAndNothingElse(t *testing.T) {
	var juice State
	for c := range juice {
		juice[c] = 1
	}
	got := juice.Clarified()
	for c := range got {
		want := 1.0
		if Component(c) == GumGrams || Component(c) == ThickenerGrams {
			want = 0
		}
		if got[c] != want {
			t.Errorf("component %d is %v, want %v", c, got[c], want)
		}
	}
}
