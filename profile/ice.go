package profile

import "math"

// Ice and water. Heat of fusion: CRC Handbook of Chemistry and Physics (2021),
// 6.010 kJ/mol. Heat capacity of ice: about 2.10 J/(g K) at 0 °C and 2.03 at
// -10 °C, from memory but for the first.
const (
	heatOfFusion    = 333.55 // J/g at 0 °C
	iceHeatCapacity = 2.09   // J/(g K)
)

// IceRatio is grams of ice for each gram of mix where nothing else is said;
// common practice, no source.
const IceRatio = 2

// SurfaceWater is the water, in grams per gram of ice, that clings to ice at 0 °C
// and goes into the drink with it; ice below 0 °C is dry. Cubes carry 2 to 5 %,
// crushed ice 10 % or more (from memory; no published measurement was found).
const SurfaceWater = 0.02

// waterPerMelt is each method's one fitted parameter: the ice that it melts per
// unit of the melt that brings the same drink and ice, at rest in a perfect
// vessel, to equilibrium. Above 1 the vessel's heat and the work of the arm add
// to it.
//
// Source: stir and shake are least-squares fits, with the surface water of 2 g of
// ice for each gram of mix, to the dilution curves of a bar-science book (2014),
// -1.21a² + 1.246a + 0.145 and -1.567a² + 1.742a + 0.203, a the strength as a
// fraction, both from memory: over 15 to 35 % vol they miss by at most 1.3 and 1.7
// percentage points. Build: the same book's 24 % for built drinks at about 37 %
// vol, from memory. Blend: estimate from its 11 to 15 % vol of blended drinks.
var waterPerMelt = [methods]float64{Build: 0.344, Stir: 0.721, Shake: 1.060, Blend: 1.4}

// DilutionSpread is one standard deviation of a method's melt between bartenders
// and rounds, in ml per 100 ml of mix (estimate: what the fits of waterPerMelt
// leave), and ChillSpread that of the temperature reached (estimate).
const (
	DilutionSpread         = 3.0
	ChillSpread    Celsius = 1.5
)

// WaterPerMelt returns the ice that the method melts per unit of equilibrium
// melt. A bar that weighs its drinks before and after has its own.
func (m Method) WaterPerMelt() float64 { return waterPerMelt[m] }

// chilled is a mix after its ice, with the slopes of each amount in the mix.
type chilled struct {
	water, heat                 float64 // g, J
	waterGradient, heatGradient State
}

// chill computes the water that the ice gives to the mix and the heat content
// that the drink keeps.
//
// Equilibrium first. x grams melt, and drink and ice are at the freezing point
// T of the diluted drink:
//
//	H(mix + x water, T) - H₀ + x (L - cᵢ T) + mᵢ cᵢ (T - Tᵢ) = 0
//
// H the heat content of a liquid, H₀ that of the mix, mᵢ and Tᵢ mass and
// temperature of the ice, L heat of fusion, cᵢ heat capacity of ice. The left
// side rises with x. Without a root below mᵢ all of the ice melts.
//
// A method then melts f x (see waterPerMelt), and the surface water of the ice
// comes on top. Where f is at most 1 the drink is as if a fraction f of it had
// come to equilibrium and been mixed with the rest; where f is above 1 it is at
// its freezing point. Water that is fixed says how much was melted.
//
// Gradients are filled only if wanted.
func (ice *Ice) chill(mix *State, wanted bool) (c chilled) {
	if ice.Method == NoIce || mix.Mass() == 0 {
		c.heat = mix[HeatJoules]
		if wanted {
			c.heatGradient[HeatJoules] = 1
		}
		return c
	}
	still := *ice
	if ice.WaterFixed {
		// The water says how much ice there was.
		still.Mass = 0
	}
	e := still.equilibrium(mix, wanted)
	surface, perGram := still.surface(float64(mix.Mass()))

	factor := waterPerMelt[ice.Method]
	var factorGradient State
	switch {
	case ice.WaterFixed:
		c.water = ice.WaterPercent / 100 / MeltMillilitresPerGram * mix.volume(gradientIf(wanted, &c.waterGradient))
		scale(&c.waterGradient, ice.WaterPercent/100/MeltMillilitresPerGram)
		factor = math.Inf(1)
		switch melted := c.water - surface; {
		case melted <= 0:
			factor = 0
		case e.water > 0:
			factor = melted / e.water
			if wanted {
				for i := range factorGradient {
					melting := c.waterGradient[i] - perGram*gramsPerUnit(Component(i))
					factorGradient[i] = (melting - factor*e.waterGradient[i]) / e.water
				}
			}
		}
	case ice.TemperatureFixed:
		factor = ice.partToReach(mix, &e, surface, perGram, gradientIf(wanted, &factorGradient))
		c.water = factor*e.water + surface
		if wanted {
			for i := range c.waterGradient {
				c.waterGradient[i] = factor*e.waterGradient[i] + factorGradient[i]*e.water + perGram*gramsPerUnit(Component(i))
			}
		}
	case ice.Mass > 0 && factor*e.water+surface > float64(ice.Mass):
		c.water = float64(ice.Mass)
		if e.water >= c.water {
			factor = 1
		}
	default:
		c.water = factor*e.water + surface
		if wanted {
			c.waterGradient = e.waterGradient
			scale(&c.waterGradient, factor)
			for i := range c.waterGradient {
				c.waterGradient[i] += perGram * gramsPerUnit(Component(i))
			}
		}
	}

	if factor <= 1 {
		h0 := mix[HeatJoules]
		c.heat = h0 + factor*(e.heat-h0)
		if wanted {
			for i := range c.heatGradient {
				c.heatGradient[i] = factor*e.heatGradient[i] + factorGradient[i]*(e.heat-h0)
			}
			c.heatGradient[HeatJoules] += 1 - factor
		}
		return c
	}
	c.heat = frozenHeat(mix, c.water, &c.waterGradient, gradientIf(wanted, &c.heatGradient))
	return c
}

// surface is the water that clings to the ice for a mix of so many grams, and
// its slope in that mass.
func (ice *Ice) surface(mixMass float64) (grams, perGram float64) {
	switch {
	case ice.At < 0:
		return 0, 0
	case ice.Mass > 0:
		return SurfaceWater * float64(ice.Mass), 0
	}
	return SurfaceWater * IceRatio * mixMass, SurfaceWater * IceRatio
}

// MostWater is more than the water that the ice gives to a mix of that mass.
func (ice *Ice) MostWater(mix Gram) Gram {
	switch {
	case ice.Method == NoIce:
		return 0
	case ice.WaterFixed:
		// A gram of any pour takes up less than 1.4 ml.
		return Gram(ice.WaterPercent / 100 * 1.4 * float64(mix))
	case ice.Mass > 0:
		return ice.Mass
	}
	return Gram((max(waterPerMelt[ice.Method], 1) + SurfaceWater) * IceRatio * float64(mix))
}

// equilibrium returns melt and heat content of the drink at rest with its ice.
func (ice *Ice) equilibrium(mix *State, wanted bool) (e chilled) {
	mass := float64(mix.Mass())
	if mass == 0 {
		return e
	}
	iceMass, perGram := IceRatio*mass, float64(IceRatio)
	if ice.Mass > 0 {
		iceMass, perGram = float64(ice.Mass), 0
	}
	iceAt := float64(ice.At)
	diluted := *mix
	var freezing, byState State
	// imbalance is the left side of the balance, and its slope in the melt.
	imbalance := func(x float64) (left, slope, t, liquidByT float64) {
		diluted[WaterGrams] = mix[WaterGrams] + x
		t = diluted.freezingPoint(&freezing)
		heat, capacity := diluted.heatContent(t, &byState)
		left = heat - mix[HeatJoules] + x*(heatOfFusion-iceHeatCapacity*t) + iceMass*iceHeatCapacity*(t-iceAt)
		byT := capacity + (iceMass-x)*iceHeatCapacity
		slope = byState[WaterGrams] + byT*freezing[WaterGrams] + heatOfFusion - iceHeatCapacity*t
		return left, slope, t, capacity
	}

	low, high := 0.0, iceMass
	if left, _, _, _ := imbalance(low); left >= 0 {
		// The ice is too cold to melt: the drink would freeze instead.
		e.heat = frozenHeat(mix, 0, &e.waterGradient, gradientIf(wanted, &e.heatGradient))
		return e
	}
	if left, _, _, _ := imbalance(high); left <= 0 {
		return allMelted(mix, iceMass, perGram, iceAt, wanted)
	}
	x := min(0.3*mass, iceMass/2)
	for range 100 {
		left, slope, _, _ := imbalance(x)
		if left < 0 {
			low = x
		} else {
			high = x
		}
		next := x - left/slope
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		if math.Abs(next-x) <= 1e-13*mass {
			x = next
			break
		}
		x = next
	}
	_, slope, t, liquidByT := imbalance(x)
	e.water = x
	e.heat, _ = diluted.heatContent(t, nil)
	if !wanted {
		return e
	}
	byT := liquidByT + (iceMass-x)*iceHeatCapacity
	for i := Component(0); i < Component(Components); i++ {
		byMix := byState[i] + byT*freezing[i] + perGram*gramsPerUnit(i)*iceHeatCapacity*(t-iceAt)
		if i == HeatJoules {
			byMix = -1
		}
		dx := -byMix / slope
		e.waterGradient[i] = dx
		if i != HeatJoules {
			e.heatGradient[i] = byState[i] + liquidByT*freezing[i]
		}
		e.heatGradient[i] += dx * (byState[WaterGrams] + liquidByT*freezing[WaterGrams])
	}
	return e
}

// allMelted is the equilibrium when the ice is too little: its cold goes into
// the liquid, which stays above its freezing point.
func allMelted(mix *State, iceMass, perGram, iceAt float64, wanted bool) (e chilled) {
	e.water = iceMass
	cold := heatOfFusion - iceHeatCapacity*iceAt
	e.heat = mix[HeatJoules] - iceMass*cold
	if wanted {
		for i := Component(0); i < Component(Components); i++ {
			e.waterGradient[i] = perGram * gramsPerUnit(i)
			e.heatGradient[i] = -cold * e.waterGradient[i]
		}
		e.heatGradient[HeatJoules] = 1
	}
	return e
}

// frozenHeat returns the heat content of the mix with water grams of melt at
// the freezing point of the two, and its gradient in the mix.
func frozenHeat(mix *State, water float64, waterGradient, heatGradient *State) float64 {
	diluted := *mix
	diluted[WaterGrams] += water
	var freezing, byState State
	t := diluted.freezingPoint(&freezing)
	heat, capacity := diluted.heatContent(t, &byState)
	if heatGradient != nil {
		byWater := byState[WaterGrams] + capacity*freezing[WaterGrams]
		for i := Component(0); i < Component(Components); i++ {
			if i != HeatJoules {
				heatGradient[i] = byState[i] + capacity*freezing[i]
			}
			heatGradient[i] += byWater * waterGradient[i]
		}
	}
	return heat
}

// gradientIf returns g where it is wanted, else nil.
func gradientIf(wanted bool, g *State) *State {
	if wanted {
		return g
	}
	return nil
}

// scale multiplies g in place.
func scale(g *State, f float64) {
	for i := range g {
		g[i] *= f
	}
}
