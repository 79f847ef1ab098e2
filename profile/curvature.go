package profile

// The bounds in this file say how far volume and melt can stray from straight
// lines in the amounts poured. A search over amounts needs them to rule out
// what it has not tried. Each is a largest second derivative, found by dense
// sampling and raised by a fifth; the tests sample again.

// SolventCurvature bounds the second derivative, in ml/g, of the specific
// volume of ethanol-water mixtures in the ethanol mass fraction, 0 to 1.
//
// A mixture of e g ethanol and w g water lies off the tangent at mass fraction
// p by at most ½ SolventCurvature (e - p(e+w))² / (e+w) ml.
const SolventCurvature = 2.1

// WeakSolventCurvature bounds the same up to an ethanol mass fraction of
// WeakSolvent, about 57 % vol.
const (
	WeakSolventCurvature              = 0.9
	WeakSolvent          MassFraction = 0.5
)

// SugarCurvature bounds the second derivative, in ml/g, of c φ(c), c grams of
// sugars per gram of sugars and water and φ their apparent volume.
const SugarCurvature = 0.24

// SoluteCurvature returns the second derivative, in ml/g, of x φ(x) for a solute
// whose apparent volume φ = φ₀ + k x changes with x, its grams per gram of it
// and water; 2 k, and 0 for every other component. Its s grams, gramsPerUnit
// for each unit of the component, with w of water lie off the tangent at x by
// exactly ½ curvature (s - x(s + w))² / (s + w) ml.
func SoluteCurvature(c Component) (curvature, gramsPerUnit float64) {
	for _, r := range risingVolumes {
		if r.component == c {
			return 2 * r.slope, r.grams
		}
	}
	return 0, 0
}

// MeltLeastWater is the mass fraction of water in the mix from which
// MeltCurvature holds.
const MeltLeastWater MassFraction = 0.25

// MeltCurvature returns the scale s of component c for which the melt at
// equilibrium with the usual ice, in grams, lies off its tangent by at most
//
//	½ (Σ_c s_c |z_c - φ_c M|)² / M
//
// z the mix, M its mass, φ the amounts in a gram of the mix where the tangent
// touches: for ice that melts, in pours of 0 to 25 °C, and mixes of at least
// MeltLeastWater. s is per unit of the component.
func MeltCurvature(c Component) float64 {
	switch c {
	case WaterGrams:
		return 0
	case EthanolGrams:
		return 4.0
	case SucroseGrams, OtherSugarsGrams:
		return 1.15
	case GlucoseGrams, FructoseGrams, PolyolsGrams, LacticGrams, AceticGrams, PhosphoricGrams:
		return 1.1
	case SodiumMilligrams, PotassiumMilligrams:
		return 6.8e-3
	case HeatJoules:
		return 3e-3
	}
	return gramsPerUnit(c)
}
