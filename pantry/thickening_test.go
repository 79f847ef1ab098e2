package pantry

import (
	"math"
	"testing"

	"minim/profile"
)

// The scale of thickening is xanthan gum itself; gums that barely thicken have
// no figure and count as none.
func TestOnlyXanthanThickens(t *testing.T) {
	for _, i := range Embedded().All() {
		want := 0.0
		if i.Name == "Xanthan gum" {
			want = 1
		}
		if got := i.PerUnit()[profile.ThickenerGrams]; got != want {
			t.Errorf("%s: %g g of xanthan in one unit, want %g", i.Name, got, want)
		}
		if i.Figures[ThickeningPerLitre].Known != (want > 0) {
			t.Errorf("%s: thickening known is %v", i.Name, i.Figures[ThickeningPerLitre].Known)
		}
	}
}

// A litre with 1 g of xanthan has 7 to 21 mPa·s more at 50 1/s: a rough
// published spread, from memory.
func TestXanthanInADrink(t *testing.T) {
	gum := find(t, Embedded(), "xanthan gum").PerUnit()
	var s profile.State
	s[profile.WaterGrams] = float64(profile.WaterDensity)
	s = s.Add(gum)
	s[profile.HeatJoules] = float64(s.HeatAt(20))
	d := profile.Drink{Mix: s}
	if v := d.Finish().Values[profile.Viscosity] - 1.002; v < 7 || v > 21 {
		t.Errorf("%g mPa·s more", v)
	}
}

func TestViscosityIsReadInItsUnits(t *testing.T) {
	for _, text := range []string{"3.5 mPa·s", "3.5 mPas", "3.5 mPa s", "3.5 mPa.s", "3.5 cP", "3.5cp"} {
		got, wrong := parseTargetValue(text, profile.Viscosity, "")
		if wrong != nil || math.Abs(got-3.5) > 1e-12 {
			t.Errorf("%q: %g, %+v", text, got, wrong)
		}
	}
	for _, text := range []string{"3.5", "3.5 Pa s", "-1 mPa·s", "2000 mPa·s"} {
		if got, wrong := parseTargetValue(text, profile.Viscosity, ""); wrong == nil {
			t.Errorf("%q is read as %g", text, got)
		}
	}
}
