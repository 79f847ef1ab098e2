package profile

import "math"

type (
	// SpecificGravity is the density over that of water, both at 20 °C and free
	// of the lift of the air, unless a hydrometer says otherwise.
	SpecificGravity float64
	// Plato is grams of extract in 100 g of wort: Brix but for 0.05 (from memory),
	// and here the same scale of density.
	Plato float64
	// Baume is degrees on the scale for liquids heavier than water.
	Baume float64
)

// Of a hydrometer: the modulus of the Baumé scale in the United States (144.3 in
// parts of Europe, from memory), and the expansion of its glass in volume per
// kelvin (soda-lime; ISO 649, from memory).
const (
	baumeModulus   = 145
	glassExpansion = 25e-6
)

// SpecificGravityOf returns ρ/ρ_water at 20 °C.
func SpecificGravityOf(density KilogramPerCubicMetre) SpecificGravity {
	return SpecificGravity(density / WaterDensity)
}

// Density undoes SpecificGravityOf.
func (g SpecificGravity) Density() KilogramPerCubicMetre {
	return KilogramPerCubicMetre(g) * WaterDensity
}

// Baume returns 145 - 145/SG, 0 for water. It is for 1 and above, and 0 for
// what is not above 0.
//
// Source: the modulus of the United States; with 144.3 it is 0.5 % less.
func (g SpecificGravity) Baume() Baume {
	if g <= 0 {
		return 0
	}
	return Baume(baumeModulus - baumeModulus/float64(g))
}

// SpecificGravity undoes SpecificGravity.Baume for less than 145 degrees.
func (b Baume) SpecificGravity() SpecificGravity {
	return SpecificGravity(baumeModulus / (baumeModulus - float64(b)))
}

// BrixOfDensity returns the Brix of the sucrose solution of that density at
// 20 °C, which is what a saccharometer shows: it undoes SucroseSolutionDensity
// by bisection from -20 to 95 °Bx and clamps outside. Within 0.03 °Bx of NBS
// Circular 440 up to 65 °Bx.
func BrixOfDensity(density KilogramPerCubicMetre) Brix {
	const least, most = -0.20, 0.95
	return Brix(100 * rising(least, most, func(c float64) bool { return SucroseSolutionDensity(MassFraction(c)) < density }))
}

// PlatoOfDensity is BrixOfDensity in degrees Plato, within 0.05.
func PlatoOfDensity(density KilogramPerCubicMetre) Plato { return Plato(BrixOfDensity(density)) }

// GramsPerLitre returns the sucrose in a litre of a solution at 20 °C: Brix/100
// times its density. For 0 to 85 °Bx; it has the error of the density, 0.1 g/L
// to 70 °Bx.
//
// Source: ICUMSA SPS-4, see SucroseSolutionDensity.
func (b Brix) GramsPerLitre() GramPerLitre {
	c := MassFraction(b / 100)
	return GramPerLitre(float64(c) * float64(SucroseSolutionDensity(c)))
}

// ApparentStrength returns the strength of the mixture of ethanol and water that
// has that density at 20 °C: what an alcoholometer shows. Sugar and extract
// make it fall short of the true strength. Above the density of water it is 0,
// below that of ethanol 100 % vol.
//
// Source: OIML R 22.
func ApparentStrength(density KilogramPerCubicMetre) PercentVolume {
	p := rising(0, 1, func(p float64) bool { return EthanolWaterDensity(MassFraction(p), 20) > density })
	return StrengthOf(MassFraction(p))
}

// HydrometerDensity returns the density at its own temperature of a liquid in
// which a hydrometer shows g, the instrument being made for calibratedAt, where
// it shows 1 in water:
//
//	ρ = g ρ_water(calibratedAt) (1 - 25e-6 (t - calibratedAt))
//
// The second factor is the expansion of its glass; from 0 to 40 °C. It adds
// 0.05 kg/m³ to the error of the reading.
func HydrometerDensity(g SpecificGravity, calibratedAt, t Celsius) KilogramPerCubicMetre {
	glass := 1 - glassExpansion*float64(t-calibratedAt)
	return KilogramPerCubicMetre(float64(g) * float64(EthanolWaterDensity(0, calibratedAt)) * glass)
}

// SucroseSolutionDensityAt returns the density of a solution of c grams of
// sucrose per gram, from 0 to 0.70 and 0 to 100 °C.
//
// Source: ICUMSA SPS-4, see icumsa.
func SucroseSolutionDensityAt(c MassFraction, t Celsius) KilogramPerCubicMetre {
	atT := icumsaAt(t)
	p, _ := polynomial(atT[:], float64(c))
	return WaterDensityAt(t) + KilogramPerCubicMetre(float64(c)*p)
}

// DensityAt returns the density of s at t, from 0 to 40 °C: its mass over its
// volume, the ethanol and water expanding as in OIML R 22 and the solutes, all
// alike, as sucrose does in the water (ICUMSA SPS-4). Sucrose solutions are
// within 0.1 kg/m³ of that formula, and sugar with ethanol within 0.3 % of the
// density (see Volume). An empty state has none: 0.
func (s State) DensityAt(t Celsius) KilogramPerCubicMetre {
	volume := float64(s.VolumeAt(t))
	if volume <= 0 {
		return 0
	}
	return KilogramPerCubicMetre(1000 * float64(s.Mass()) / volume)
}

// DensityAt20 returns the density at 20 °C of the sucrose solution that has the
// given density at t: the temperature correction of a saccharometer. It is for
// liquids without alcohol, from 0 to 40 °C and to 85 °Bx; what is lighter than
// water is taken to expand as water does.
func DensityAt20(density KilogramPerCubicMetre, t Celsius) KilogramPerCubicMetre {
	if waterAtT := EthanolWaterDensity(0, t); density <= waterAtT {
		return density * EthanolWaterDensity(0, 20) / waterAtT
	}
	return SucroseSolutionDensity(MassFraction(rising(0, float64(MostBrix)/100, func(c float64) bool {
		return SucroseSolutionDensityAt(MassFraction(c), t) < density
	})))
}

// kell are the coefficients of the density of water in kg/m³ from 0 to 100 °C,
// over 1 + 16.887236e-3 t.
//
// Source: Kell, J. Chem. Eng. Data 20 (1975) 97, as used in ICUMSA SPS-4.
var kell = [6]float64{999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12}

// WaterDensityAt returns the density of water from 0 to 100 °C, also when it is
// poured hot, within 0.01 kg/m³; t is clamped to that range.
//
// Source: Kell (1975), see kell.
func WaterDensityAt(t Celsius) KilogramPerCubicMetre {
	x := math.Min(math.Max(float64(t), 0), 100)
	rho, _ := polynomial(kell[:], x)
	return KilogramPerCubicMetre(rho / (1 + 16.887236e-3*x))
}

// sodiumChlorideVolumes are the apparent volumes of sodium chloride in ml/g at
// each fraction by mass, v = (1/ρ - (1-w)/ρ_water)/w, computed from densities.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative
// properties of aqueous solutions, sodium chloride at 20 °C: 1.0340, 1.0707,
// 1.1478 and 1.1972 g/ml at 5, 10, 20 and 26 % by mass.
var sodiumChlorideVolumes = func() curve {
	w := []float64{0.05, 0.10, 0.20, 0.26}
	v := make([]float64, len(w))
	for i, density := range []float64{1034.0, 1070.7, 1147.8, 1197.2} {
		v[i] = (1000/density - (1-w[i])*1000/float64(WaterDensity)) / w[i]
	}
	return newCurve(w, v)
}()

// SodiumChlorideSaturated is the most sodium chloride that water holds at 20 °C
// (26.4 % by mass, from memory).
const SodiumChlorideSaturated MassFraction = 0.264

// SodiumChlorideSolutionDensity returns the density at 20 °C of a solution of w
// grams of sodium chloride per gram, from 0 to 0.264, within 0.3 kg/m³ of the
// table; w is clamped to that range.
//
// Source: CRC Handbook of Chemistry and Physics, see sodiumChlorideVolumes.
func SodiumChlorideSolutionDensity(w MassFraction) KilogramPerCubicMetre {
	x := math.Min(math.Max(float64(w), 0), float64(SodiumChlorideSaturated))
	v, _ := sodiumChlorideVolumes.at(x)
	return KilogramPerCubicMetre(1000 / (x*v + (1-x)*1000/float64(WaterDensity)))
}
