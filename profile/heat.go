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

// Heat of mixing ethanol and water, referred to 0 °C: the heat that a gram of the
// mixture of ethanol mass fraction p gave off in becoming one is
// -p (1-p) Σ_k mixingHeat_k p^k J/g.
//
// Source: excess enthalpies at 25 °C of about -0.77 kJ/mol at 15 mol % and -0.34
// at 50 mol % (Larkin, J. Chem. Thermodyn. 7 (1975), and others; eleven points
// from memory, good to 5 %), less the excess heat content from 0 to 25 °C of the
// heat capacities above; the fit misses the points by at most 0.8 J/g.
var mixingHeat = [4]float64{-341.2481, 218.0984, 776.8879, -836.2870}

// heatContent is the heat content H of s at temperature t, above liquid water and
// liquid ethanol apart, at 0 °C, with its slope in t; it fills gradient, if not
// nil, with its slopes in the state at that temperature:
//
//	H = a t + b t² + X
//
// a + 2 b t the heat capacity of the liquid, X the heat of mixing at 0 °C.
func (s *State) heatContent(t float64, gradient *State) (heat, capacity float64) {
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	solvent := water + ethanol
	p := 0.0
	if solvent > 0 {
		p = ethanol / solvent
	}
	c0, c0Slope := polynomial(heatCapacityAt0[:], p)
	c20, c20Slope := polynomial(heatCapacityAt20[:], p)
	bend, bendSlope := (c20-c0)/40, (c20Slope-c0Slope)/40
	mixing, mixingSlope := mixingHeatAt(p)
	perSolvent := t*(c0+bend*t) + mixing
	perSolute := t * (soluteHeatCapacity + soluteHeatCapacitySlope/2*t)
	solutes := float64(s.Mass()) - solvent
	if gradient != nil {
		for c := Component(0); c < firstMassless; c++ {
			gradient[c] = perSolute * gramsPerUnit(c)
		}
		byFraction := t*(c0Slope+bendSlope*t) + mixingSlope
		gradient[EthanolGrams] = perSolvent + (1-p)*byFraction
		gradient[WaterGrams] = perSolvent - p*byFraction
	}
	return solvent*perSolvent + solutes*perSolute, solvent*(c0+2*bend*t) + solutes*(soluteHeatCapacity+soluteHeatCapacitySlope*t)
}

// mixingHeatAt is the heat of mixing at 0 °C in J/g at ethanol mass fraction p,
// and its slope.
func mixingHeatAt(p float64) (heat, slope float64) {
	shape, shapeSlope := polynomial(mixingHeat[:], p)
	return p * (1 - p) * shape, (1-2*p)*shape + p*(1-p)*shapeSlope
}

// HeatAt returns the heat content of s at temperature t, above liquid water and
// liquid ethanol at 0 °C: the integral of its heat capacity, which is taken as
// linear in t, and the heat of mixing ethanol and water. Dissolving sugar and
// salt is left out: 10 g of sucrose cool 100 g of drink by a tenth of a kelvin.
func (s State) HeatAt(t Celsius) Joule {
	heat, _ := s.heatContent(float64(t), nil)
	return Joule(heat)
}

// temperatureOf is the temperature at which s holds the given heat, by Newton's
// method: heat rises almost linearly with temperature. An empty glass is at
// 0 °C.
func (s *State) temperatureOf(heat float64) float64 {
	t := 0.0
	for range 20 {
		have, capacity := s.heatContent(t, nil)
		if capacity <= 0 {
			return t
		}
		step := (heat - have) / capacity
		t += step
		if math.Abs(step) <= 1e-13*(1+math.Abs(t)) {
			break
		}
	}
	return t
}
