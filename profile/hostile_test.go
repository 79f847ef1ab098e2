package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawHostile draws amounts that no drink has: nothing, next to nothing, a tonne.
func drawHostile(t *rapid.T, name string) State {
	amounts := []float64{0, 1e-300, 1e6}
	if rapid.Bool().Draw(t, name+" is sparse") {
		amounts = append(amounts, make([]float64, 40)...)
	}
	var s State
	copy(s[:], rapid.SliceOfN(rapid.SampledFrom(amounts), Components, Components).Draw(t, name))
	return s
}

// leastAmount is the volume in ml, or the mass of drink or water in g, below which
// a concentration or a slope may be beyond the largest number, as a tonne in
// 1e-300 ml is.
const leastAmount = 1e-6

func TestHostileMagnitudesStayFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drink{Mix: drawHostile(t, "mix"), Top: drawHostile(t, "top"), Ice: drawIce(t)}
		var values Values
		var mix, top Gradients
		d.Evaluate(AllProperties, &values, &mix, &top)
		trace := func(amount float64) bool { return amount != 0 && math.Abs(amount) < leastAmount }
		overflows := trace(values[Volume]) || trace(float64(d.Mix.Volume()))
		steep := trace(float64(d.Mix.Mass())) || trace(float64(d.Mix.Mass()+d.Top.Mass())) ||
			trace(d.Mix[WaterGrams]) || trace(d.Mix[WaterGrams]+d.Top[WaterGrams])
		for p, value := range values {
			_, perVolume, _ := Property(p).Linear()
			if !finite(value) && !(overflows && (perVolume || Property(p) == Umami || Property(p) == CarbonDioxide)) {
				t.Errorf("%s is %g", Property(p).Name(), value)
			}
			for c := range mix[p] {
				if !overflows && !steep && (!finite(mix[p][c]) || !finite(top[p][c])) {
					t.Errorf("slopes of %s in component %d: %g, %g", Property(p).Name(), c, mix[p][c], top[p][c])
				}
			}
		}
	})
}
