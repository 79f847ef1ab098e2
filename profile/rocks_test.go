package profile

import (
	"math"
	"testing"
)

func overIce(t *testing.T, ice Gram, minutes ...float64) (Finished, []Sip) {
	t.Helper()
	d := Drink{Mix: at(ethanolWater(90, 30), 20), Ice: Ice{Method: Stir}}
	f := d.Finish()
	return f, f.OnTheRocks(Rocks{Mass: ice, At: 0, Room: 22}, minutes)
}

// A 300 ml glass in a room of 22 °C melts 1.8 to 2.7 g of ice a minute once it is
// cold: 10 to 15 W over 333.55 J/g. Estimate; no measured rate was found.
func TestSettledGlassMeltsAsItsWattsSay(t *testing.T) {
	_, sips := overIce(t, 120, 10, 20)
	if rate := float64(sips[1].Melted-sips[0].Melted) / 10; rate < 1.8 || rate > 2.7 {
		t.Errorf("%g g of ice melt a minute, want 1.8 to 2.7", rate)
	}
}

func TestGlassOnlyGetsWeaker(t *testing.T) {
	f, sips := overIce(t, 120, 0, 1, 2, 5, 10, 15, 20)
	if got, want := float64(sips[0].Melted), SurfaceWater*120; !alike(got, want, 1e-12) {
		t.Errorf("%g g at once, want the surface water %g", got, want)
	}
	for i := 1; i < len(sips); i++ {
		a, b := &sips[i-1], &sips[i]
		if b.Melted < a.Melted || b.Values[Strength] > a.Values[Strength] || b.Values[Dilution] < a.Values[Dilution] {
			t.Errorf("minute %g to %g: %g to %g g, %g to %g %% vol", a.Minutes, b.Minutes, a.Melted, b.Melted, a.Values[Strength], b.Values[Strength])
		}
	}
	if got := sips[6].Values[Ethanol]; !alike(got, f.Values[Ethanol], 1e-12) {
		t.Errorf("%g g of ethanol after 20 minutes, %g at first", got, f.Values[Ethanol])
	}
}

// What the room gave is in the drink and its ice: heat above liquid water and
// ice at 0 °C, before and after.
func TestHeatOfGlassAndIceIsThatOfTheRoom(t *testing.T) {
	for _, iceAt := range []float64{0, -4, -18} {
		drink := at(ethanolWater(100, 25), -2)
		mass, now, gain := 500.0, iceAt, 0.0
		whole := func() float64 { return drink[HeatJoules] + mass*(iceHeatCapacity*now-heatOfFusion) }
		before := whole()
		for range int(15 * 60 / rocksStep) {
			gain += rocksStep * roomConductance * (22 - float64(drink.TemperatureAlone()))
			mass, now = drink.rest(rocksStep, 22, mass, now)
		}
		if got := whole() - before; !alike(got, gain, 1e-9) {
			t.Errorf("ice at %g °C: glass and ice gained %g J, the room gave %g J", iceAt, got, gain)
		}
	}
}

// Without ice the room warms the drink towards itself and never beyond.
func TestServedUpItWarms(t *testing.T) {
	_, sips := overIce(t, 0, 0, 10, 60, 600)
	for i := 1; i < len(sips); i++ {
		if sips[i].Temperature <= sips[i-1].Temperature || sips[i].Temperature > 22 || sips[i].Melted != 0 {
			t.Errorf("minute %g: %g °C, %g g melted", sips[i].Minutes, sips[i].Temperature, sips[i].Melted)
		}
	}
	if last := float64(sips[3].Temperature); math.Abs(last-22) > 0.1 {
		t.Errorf("%g °C after ten hours in a room of 22 °C", last)
	}
}

// Ice from a freezer warms before it melts.
func TestColdIceMeltsLater(t *testing.T) {
	d := Drink{Mix: at(ethanolWater(90, 30), 20), Ice: Ice{Method: Stir}}
	f := d.Finish()
	wet := f.OnTheRocks(Rocks{Mass: 120, At: 0, Room: 22}, []float64{3})
	cold := f.OnTheRocks(Rocks{Mass: 120, At: -18, Room: 22}, []float64{3})
	if cold[0].Melted >= wet[0].Melted || cold[0].Temperature >= wet[0].Temperature {
		t.Errorf("ice at -18 °C: %g g and %g °C, at 0 °C %g g and %g °C", cold[0].Melted, cold[0].Temperature, wet[0].Melted, wet[0].Temperature)
	}
}

// Twice finer steps change nothing that shows.
func TestRocksStepIsFineEnough(t *testing.T) {
	coarse := at(ethanolWater(90, 30), 0)
	fine := coarse
	cm, ca, fm, fa := 120.0, 0.0, 120.0, 0.0
	for range 1200 {
		cm, ca = coarse.rest(rocksStep, 22, cm, ca)
		fm, fa = fine.rest(rocksStep/2, 22, fm, fa)
		fm, fa = fine.rest(rocksStep/2, 22, fm, fa)
	}
	if math.Abs(cm-fm) > 0.02 || math.Abs(float64(coarse.TemperatureAlone()-fine.TemperatureAlone())) > 0.02 {
		t.Errorf("%g g and %g °C against %g g and %g °C", cm, coarse.TemperatureAlone(), fm, fine.TemperatureAlone())
	}
}
