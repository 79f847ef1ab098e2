package profile

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The curvatures are largest second derivatives: sample them again, finer and
// elsewhere than where they were found.
func TestCurvatureOfVolumesIsBounded(t *testing.T) {
	const h = 1e-4
	syrup := func(c float64) float64 {
		phi, _ := sugarApparentVolume(c)
		return c * phi
	}
	solvent := func(p float64) float64 {
		v, _ := ethanolWaterSpecificVolume(p)
		return v
	}
	for _, one := range []struct {
		name  string
		f     func(float64) float64
		bound float64
	}{{"solvent", solvent, SolventCurvature}, {"sugar", syrup, SugarCurvature}} {
		worst := 0.0
		for x := h; x <= 1-h; x += 3.7e-4 {
			worst = math.Max(worst, math.Abs(one.f(x+h)-2*one.f(x)+one.f(x-h))/(h*h))
		}
		t.Logf("%s: largest second derivative %.3f, bound %.3f", one.name, worst, one.bound)
		if worst > one.bound {
			t.Errorf("%s: second derivative %v exceeds the bound %v", one.name, worst, one.bound)
		}
	}
}

// The melt of a random mix lies off the tangent at another by no more than the
// curvature says.
func TestMeltStaysNearItsTangent(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	mix := func() State {
		for {
			var s State
			for c, most := range map[Component]float64{
				EthanolGrams: 0.5, SucroseGrams: 0.6, GlucoseGrams: 0.3, FructoseGrams: 0.3, CitricGrams: 0.08,
				PolyolsGrams: 0.2, OtherSolidsGrams: 0.1, SodiumMilligrams: 15, GumGrams: 0.02,
			} {
				if r.IntN(3) > 0 {
					s[c] = most * r.Float64()
				}
			}
			if water := 1 - float64(s.Mass()); water >= float64(MeltLeastWater) {
				s[WaterGrams] = water
				s[HeatJoules] = float64(s.HeatAt(Celsius(25 * r.Float64())))
				return s.Scale(20 + 200*r.Float64())
			}
		}
	}
	worst := 0.0
	for range 30000 {
		ice := Ice{Method: Stir, At: Celsius(-5 * r.Float64())}
		touch, other := mix(), mix()
		if r.IntN(2) == 0 {
			// Near neighbours show the second derivative, distant ones the span.
			other = touch.Scale(1 - 0.01).Add(other.Scale(0.01))
		}
		at := ice.equilibrium(&touch, true)
		there := ice.equilibrium(&other, false)
		if at.water <= 0 || there.water <= 0 {
			continue
		}
		tangent, off := 0.0, 0.0
		ratio := float64(other.Mass() / touch.Mass())
		for c := range other {
			tangent += at.waterGradient[c] * other[c]
			off += MeltCurvature(Component(c)) * math.Abs(other[c]-touch[c]*ratio)
		}
		if allowed := off * off / (2 * float64(other.Mass())); allowed > 1e-9 {
			worst = math.Max(worst, math.Abs(there.water-tangent)/allowed)
		}
	}
	t.Logf("the melt strays by at most %.2f of what its curvature allows", worst)
	if worst > 1 {
		t.Errorf("the melt strays from its tangent by %v of the bound", worst)
	}
}
