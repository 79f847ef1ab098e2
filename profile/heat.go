package profile

import "math"

// Heat capacity of ethanol-water mixtures in J/(g K), at 0 °C and at 20 °C, as
// polynomials in the ethanol mass fraction, constant term first. It is above
// the mass average and, to 20 % by mass, above water's. The polynomials are
// least-squares fits to twelve points each, none of which they miss by more
// than 0.006 J/(g K).
//
// Source: Melinder, Properties of Secondary Working Fluids for Indirect
// Systems, IIF-IIR (2010), ethanol-water tables, 11 to 60 % by mass; water and
// pure ethanol: CRC Handbook of Chemistry and Physics, 102nd ed. (2021), the
// ethanol figure taken to 0 and 20 °C along 0.0071 J/(g K²).
var (
	heatCapacityAt0  = [6]float64{4.217187, 2.613568, -10.582111, 0.724560, 16.048891, -10.762113}
	heatCapacityAt20 = [6]float64{4.181262, 2.095799, -5.102275, -12.696600, 30.227785, -16.303986}
)

// Heat capacity that a gram of dissolved sugar adds: c = 4.184 - 2.511 w +
// 0.0075 w t J/(g K) for sucrose solutions of mass fraction w, hence 1.673 and
// 0.0075 for the sugar itself. The other solutes are taken alike (estimate).
//
// Source: Bubník et al., Sugar Technologists Manual (1995), as cited by Llano (2005).
const (
	soluteHeatCapacity      = 1.673
	soluteHeatCapacitySlope = 0.0075
)

// heatCoefficients are those of the heat content a T + b T² of a state, in
// J/K and J/K², and their gradients in the state, filled where not nil.
func (s *State) heatCoefficients(aGradient, bGradient *State) (a, b float64) {
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	solvent := water + ethanol
	p := 0.0
	if solvent > 0 {
		p = ethanol / solvent
	}
	c0, c0Slope := polynomial(heatCapacityAt0[:], p)
	c20, c20Slope := polynomial(heatCapacityAt20[:], p)
	bend, bendSlope := (c20-c0)/40, (c20Slope-c0Slope)/40
	solutes := float64(s.Mass()) - solvent
	a = solvent*c0 + solutes*soluteHeatCapacity
	b = solvent*bend + solutes*soluteHeatCapacitySlope/2
	if aGradient == nil {
		return a, b
	}
	for c := Component(0); c < firstMassless; c++ {
		grams := gramsPerUnit(c)
		aGradient[c] = soluteHeatCapacity * grams
		bGradient[c] = soluteHeatCapacitySlope / 2 * grams
	}
	aGradient[EthanolGrams] = c0 + (1-p)*c0Slope
	aGradient[WaterGrams] = c0 - p*c0Slope
	bGradient[EthanolGrams] = bend + (1-p)*bendSlope
	bGradient[WaterGrams] = bend - p*bendSlope
	return a, b
}

// HeatAt returns the heat content of s at temperature t, above the liquid at
// 0 °C: the integral of its heat capacity, which is taken as linear in t. The
// heat that ethanol and water set free on mixing is left out: for a drink it
// is below the melt of 2 g of ice (estimate).
func (s State) HeatAt(t Celsius) Joule {
	a, b := s.heatCoefficients(nil, nil)
	return Joule(float64(t) * (a + b*float64(t)))
}

// temperatureFromHeat solves a T + b T² = heat for T, and gives the slopes of T
// in heat, a and b. An empty glass is at 0 °C.
func temperatureFromHeat(heat, a, b float64) (t, byHeat, byA, byB float64) {
	if a <= 0 {
		return 0, 0, 0, 0
	}
	root := math.Sqrt(max(a*a+4*b*heat, 0))
	t = 2 * heat / (a + root)
	capacity := a + 2*b*t
	return t, 1 / capacity, -t / capacity, -t * t / capacity
}
