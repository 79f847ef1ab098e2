package pantry

import (
	"math"

	"minim/profile"
)

// DensityReading is the density of a liquid at the temperature it was read at;
// ± 1 kg/m³ unless given.
type DensityReading struct {
	Density Measurement[profile.KilogramPerCubicMetre]
	At      profile.Celsius
}

// ByHydrometer returns the density that a hydrometer made for one temperature
// reads at another; ± 0.001 unless given.
func ByHydrometer(gravity Measurement[profile.SpecificGravity], calibratedAt, at profile.Celsius) DensityReading {
	if gravity.Spread == 0 {
		gravity.Spread = HydrometerSpread
	}
	density := func(g profile.SpecificGravity) profile.KilogramPerCubicMetre {
		return profile.HydrometerDensity(g, calibratedAt, at)
	}
	return DensityReading{At: at, Density: Measurement[profile.KilogramPerCubicMetre]{
		Value: density(gravity.Value), Spread: density(gravity.Spread),
	}}
}

// ByWeighing returns the density of a known volume of liquid from what a scale
// shows of it, the vessel tared; ± 0.1 g and ± 0.5 ml unless given. A scale
// shows less by the lift of the air:
//
//	ρ = w/V + 1.2 kg/m³ (1 - (w/V) / 8000 kg/m³)
//
// A volume of 0 gives a density that every use refuses.
func ByWeighing(weight Measurement[profile.Gram], volume Measurement[profile.Millilitre], at profile.Celsius) DensityReading {
	if weight.Spread == 0 {
		weight.Spread = ScaleSpread
	}
	if volume.Spread == 0 {
		volume.Spread = JiggerSpread
	}
	shown := 1000 * float64(weight.Value) / float64(volume.Value)
	relative := math.Hypot(float64(weight.Spread/weight.Value), float64(volume.Spread/volume.Value))
	density := shown + float64(airDensity)*(1-shown/float64(weightDensity))
	return DensityReading{At: at, Density: Measurement[profile.KilogramPerCubicMetre]{
		Value:  profile.KilogramPerCubicMetre(density),
		Spread: profile.KilogramPerCubicMetre(shown * relative),
	}}
}

// BrixReading is what a refractometer shows.
type BrixReading struct {
	Brix Measurement[profile.Brix]
	// At is the temperature of the sample on the prism.
	At profile.Celsius
	// Compensated is true of an instrument that corrects for the temperature
	// itself, as for sucrose.
	Compensated bool
}

// index is the refractive index that the prism saw when b was shown.
func (r *BrixReading) index(b profile.Brix) profile.RefractiveIndex {
	if r.Compensated {
		b = profile.ShownBrix(b, r.At)
	}
	return profile.SucroseRefractiveIndex(b)
}

// shown is what the refractometer shows of s.
func (r *BrixReading) shown(s profile.State) profile.Brix {
	b := s.RefractometerBrix(r.At)
	if r.Compensated {
		b = profile.CorrectedBrix(b, r.At)
	}
	return b
}
