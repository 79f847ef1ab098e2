package profile

import "math"

// Drink is a drink on its way: the mix meets the ice, then the top is added.
type Drink struct {
	Mix, Top State
	Ice      Ice
}

// Finished is a drink in the glass.
type Finished struct {
	State State
	// Water is the melted ice in it.
	Water Gram
	// Temperature is that of the liquid; melting ice in the glass is left out.
	Temperature Celsius
	Values      Values
}

// Values holds one number for each property, in the property's unit.
type Values [Properties]float64

// Gradients holds, for each property, its slopes in the components of a state.
type Gradients [Properties]State

// PropertySet is a set of properties.
type PropertySet uint32

// AllProperties is every property.
const AllProperties PropertySet = 1<<Properties - 1

// With returns the set with p in it.
func (s PropertySet) With(p Property) PropertySet { return s | 1<<p }

// Has tells whether p is in the set.
func (s PropertySet) Has(p Property) bool { return s>>p&1 != 0 }

// Finish returns the drink in the glass, with all of its properties.
func (d *Drink) Finish() Finished {
	var f Finished
	f.State, f.Water, f.Temperature = d.finish(AllProperties, &f.Values, nil, nil)
	return f
}

// Evaluate fills the wanted properties of the finished drink and, unless mix and
// top are both nil, their slopes in each component of mix and top; one of the
// two alone is a mistake. What is not wanted is left as it was. Without liquid
// every property is 0.
func (d *Drink) Evaluate(wanted PropertySet, values *Values, mix, top *Gradients) {
	d.finish(wanted, values, mix, top)
}

func (d *Drink) finish(wanted PropertySet, values *Values, mixGradients, topGradients *Gradients) (State, Gram, Celsius) {
	differentiate := mixGradients != nil
	ice := d.Ice.chill(&d.Mix, differentiate)
	s := d.Mix.Add(d.Top)
	s[WaterGrams] += ice.water
	s[HeatJoules] = ice.heat + d.Top[HeatJoules]

	e := evaluation{state: &s}
	e.volume = s.volume(gradientIf(differentiate, &e.volumeGradient))
	e.temperature = s.temperature(gradientIf(differentiate, &e.temperatureGradient))

	for p := Property(0); p < Property(Properties); p++ {
		if !wanted.Has(p) {
			continue
		}
		var g State
		if p == Dilution {
			values[p] = d.dilution(&ice, differentiate, &g)
			if differentiate {
				mixGradients[p], topGradients[p] = g, State{}
			}
			continue
		}
		values[p] = e.property(p, gradientIf(differentiate, &g))
		if !differentiate {
			continue
		}
		topGradients[p] = g
		// The chain through the ice: melt and heat depend on the mix alone.
		byWater, byHeat := g[WaterGrams], g[HeatJoules]
		g[HeatJoules] = 0
		for i := range g {
			g[i] += byWater*ice.waterGradient[i] + byHeat*ice.heatGradient[i]
		}
		mixGradients[p] = g
	}
	return s, Gram(ice.water), Celsius(e.temperature)
}

// dilution is ml of melted water per 100 ml before ice, and its gradient.
func (d *Drink) dilution(ice *chilled, differentiate bool, gradient *State) float64 {
	var byMix State
	before := d.Mix.volume(gradientIf(differentiate, &byMix))
	if before <= 0 {
		return 0
	}
	percent := 100 * MeltMillilitresPerGram * ice.water / before
	if differentiate {
		for i := range gradient {
			gradient[i] = (100*MeltMillilitresPerGram*ice.waterGradient[i] - percent*byMix[i]) / before
		}
	}
	return percent
}

// temperature is that of the liquid from its heat content, never below its
// freezing point.
func (s *State) temperature(gradient *State) float64 {
	if s.Mass() <= 0 {
		return 0
	}
	var byState State
	differentiate := gradient != nil
	t := s.temperatureOf(s[HeatJoules])
	floor := s.freezingPoint(gradientIf(differentiate, &byState))
	if t < floor && !nearly(t, floor) {
		if differentiate {
			*gradient = byState
		}
		return floor
	}
	if differentiate {
		_, capacity := s.heatContent(t, &byState)
		for i := range gradient {
			gradient[i] = -byState[i] / capacity
		}
		gradient[HeatJoules] = 1 / capacity
	}
	return t
}

// TemperatureAlone returns the temperature of s by itself: that of its heat
// content, never below its freezing point.
func (s State) TemperatureAlone() Celsius { return Celsius(s.temperature(nil)) }

// nearly tells whether two temperatures differ by no more than round-off, so
// that a drink at its freezing point takes the smooth branch.
func nearly(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }
