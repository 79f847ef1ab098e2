package profile

import (
	"math"
	"testing"
)

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// nothing is the most water, in grams, that ice alone in the tin may melt to:
// there is no mix to melt it, but the search for the melt has a last digit.
const nothing = 1e-20

func TestNothingInNothingOut(t *testing.T) {
	for m := range Method(methods) {
		for _, ice := range []Ice{
			{Method: m}, {Method: m, Mass: 100}, {Method: m, At: -15}, {Method: m, WaterFixed: true, WaterPercent: 25},
		} {
			d := Drink{Ice: ice}
			f := d.Finish()
			if f.Water < 0 || float64(f.Water) > nothing || f.Temperature != 0 {
				t.Errorf("%s, %+v: %g g of water at %g °C", m.Name(), ice, f.Water, f.Temperature)
			}
			for p, value := range f.Values {
				if Property(p) == PH {
					value -= 7 // neutral
				}
				if math.Abs(value) > nothing*1.01 {
					t.Errorf("%s, %+v: %s is %g", m.Name(), ice, Property(p).Name(), value)
				}
			}
			var values Values
			var mix, top Gradients
			d.Evaluate(AllProperties, &values, &mix, &top)
			for p := range values {
				for c := range mix[p] {
					if !finite(mix[p][c]) || !finite(top[p][c]) {
						t.Errorf("%s, %+v: slopes of %s in component %d: %g, %g", m.Name(), ice, Property(p).Name(), c, mix[p][c], top[p][c])
					}
				}
			}
		}
	}
}

func TestEmptyStates(t *testing.T) {
	var none State
	if none.Volume() != 0 || none.VolumeAt(5) != 0 || none.Mass() != 0 || none.HeatAt(30) != 0 {
		t.Errorf("an empty state: %g ml, %g ml at 5 °C, %g g, %g J", none.Volume(), none.VolumeAt(5), none.Mass(), none.HeatAt(30))
	}
	if heat, capacity := none.heatContent(30, nil); heat != 0 || capacity != 0 {
		t.Errorf("heat content %g, capacity %g", heat, capacity)
	}
}

// A top alone is a drink, and ice on nothing gives nothing to it.
func TestTopAloneIsItself(t *testing.T) {
	top := at(solution("sucrose", 10), 8)
	d := Drink{Top: top, Ice: Ice{Method: Shake}}
	f := d.Finish()
	if f.State != top || f.Water != 0 || f.Values[Dilution] != 0 {
		t.Errorf("got %+v", f)
	}
	if !alike(float64(f.Temperature), 8, 1e-12) {
		t.Errorf("temperature %g, want 8", f.Temperature)
	}
}

func TestOnlyWantedPropertiesAreTouched(t *testing.T) {
	d := Drink{Mix: at(ethanolWater(60, 40), 20), Top: at(water(30), 5), Ice: Ice{Method: Stir}}
	full := d.Finish().Values
	for p := range Property(Properties) {
		var set PropertySet
		set = set.With(p)
		if !set.Has(p) || set.Has(p+1) || !AllProperties.Has(p) {
			t.Errorf("set of %s: %b", p.Name(), set)
		}
		var values Values
		for i := range values {
			values[i] = -1
		}
		var mix, top Gradients
		d.Evaluate(set, &values, &mix, &top)
		for q := range values {
			want := -1.0
			if Property(q) == p {
				want = full[q]
			} else if mix[q] != (State{}) || top[q] != (State{}) {
				t.Errorf("%s wanted, slopes of %s filled", p.Name(), Property(q).Name())
			}
			if values[q] != want {
				t.Errorf("%s wanted: %s is %g, want %g", p.Name(), Property(q).Name(), values[q], want)
			}
		}
	}
	if AllProperties.Has(Property(Properties)) {
		t.Error("all properties hold one beyond the last")
	}
}
