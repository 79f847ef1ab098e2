package profile

// ModelSpread returns one standard deviation of what the model itself is off by
// in property p of a drink with values v, beside what its inputs bring; 0 where
// the inputs and the ice are all.
//
//	ph         0.05 + 0.01 for each % vol: acids are weaker in ethanol, about
//	           0.1 for 10 % vol, which is left out
//	viscosity  15 %: sugar and ethanol together were never measured
//	co2        15 %: pouring loses more or less
//
// Estimates.
func ModelSpread(p Property, v *Values) float64 {
	switch p {
	case PH:
		return 0.05 + 0.01*v[Strength]
	case Viscosity:
		return 0.15 * v[Viscosity]
	case CarbonDioxide:
		return 0.15 * v[CarbonDioxide]
	}
	return 0
}
