package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// iceCase is a way through the ice whose derivatives differ from the others'.
type iceCase struct {
	name string
	// ice of that case, for a mix whose melt at equilibrium on ample wet ice is
	// melt grams.
	ice func(melt float64) Ice
	// coldMix says that the mix starts next to its freezing point.
	coldMix bool
}

var iceCases = []iceCase{
	{name: "none", ice: func(float64) Ice { return Ice{} }},
	{name: "build", ice: func(float64) Ice { return Ice{Method: Build} }},
	{name: "stir", ice: func(float64) Ice { return Ice{Method: Stir} }},
	{name: "shake", ice: func(float64) Ice { return Ice{Method: Shake} }},
	{name: "blend", ice: func(float64) Ice { return Ice{Method: Blend} }},
	{name: "stir on cold ice", ice: func(float64) Ice { return Ice{Method: Stir, At: -12} }},
	{name: "shake on measured cold ice", ice: func(melt float64) Ice {
		return Ice{Method: Shake, Mass: Gram(6 * melt), At: -5}
	}},
	{name: "stir until all ice melts", ice: func(melt float64) Ice { return Ice{Method: Stir, Mass: Gram(0.3 * melt)} }},
	{name: "shake until all ice melts", ice: func(melt float64) Ice { return Ice{Method: Shake, Mass: Gram(0.5 * melt)} }},
	// At equilibrium some ice is left; with the surface water it is not.
	{name: "blend on little ice", ice: func(melt float64) Ice { return Ice{Method: Blend, Mass: Gram(1.2 * melt)} }},
	{name: "stir on ice too cold to melt", ice: func(float64) Ice { return Ice{Method: Stir, At: -60} }, coldMix: true},
	{name: "shake on ice too cold to melt", ice: func(float64) Ice { return Ice{Method: Shake, At: -60} }, coldMix: true},
	{name: "little fixed water", ice: func(float64) Ice { return Ice{Method: Stir, WaterFixed: true, WaterPercent: 8} }},
	{name: "much fixed water", ice: func(float64) Ice {
		return Ice{Method: Stir, WaterFixed: true, WaterPercent: 120}
	}},
	{name: "to a fixed temperature", ice: func(float64) Ice {
		return Ice{Method: Stir, TemperatureFixed: true, Temperature: 2}
	}},
	{name: "to a fixed temperature on measured cold ice", ice: func(melt float64) Ice {
		return Ice{Method: Shake, Mass: Gram(6 * melt), At: -5, TemperatureFixed: true, Temperature: 4}
	}},
	{name: "to a temperature out of reach", ice: func(float64) Ice {
		return Ice{Method: Stir, TemperatureFixed: true, Temperature: -100}
	}},
	{name: "fixed water on ice too cold to melt", ice: func(float64) Ice {
		return Ice{Method: Shake, At: -60, WaterFixed: true, WaterPercent: 20}
	}, coldMix: true},
}

// leastPart keeps amounts away from zero, beyond which the curves bend.
const leastPart = 0.02

func TestDerivativesAgreeWithDifferences(t *testing.T) {
	for _, c := range iceCases {
		t.Run(c.name, func(t *testing.T) {
			compared := 0
			rapid.Check(t, func(t *rapid.T) {
				d := Drink{Mix: drawPourOf(t, "mix", leastPart, 8, 30)}
				if c.coldMix {
					d.Mix = at(d.Mix, d.Mix.FreezingPoint()+0.5)
				}
				ample := Ice{Method: Stir}
				d.Ice = c.ice(ample.equilibrium(&d.Mix, false).water)
				if rapid.Bool().Draw(t, "topped") {
					d.Top = drawPourOf(t, "top", leastPart, 8, 25)
				}
				if nearKink(&d) {
					t.Skip("near a kink")
				}
				compareDerivatives(t, &d)
				compared++
			})
			if compared == 0 {
				t.Error("every drink was near a kink")
			}
		})
	}
}

// nearKink tells whether a property has a corner close to the drink: fructose
// at 5 °C, a drink near but not at its freezing point, ice just used up.
func nearKink(d *Drink) bool {
	const near = 1e-3
	f := d.Finish()
	close := func(a, b float64) bool { return math.Abs(a-b) <= near*(1+math.Abs(b)) }
	const fructoseCorner = 5 // °C
	if close(float64(f.Temperature), fructoseCorner) {
		return true
	}
	if above := aboveFreezing(&f.State); math.Abs(above) < near && (d.Top != State{} || !nearly(above, 0)) {
		return true
	}
	if d.Ice.Method == NoIce {
		return false
	}
	melt := d.Ice.equilibrium(&d.Mix, false).water
	mass := float64(d.Ice.Mass)
	if mass == 0 {
		mass = IceRatio * float64(d.Mix.Mass())
	}
	if d.Ice.TemperatureFixed {
		// Out of reach it is at an end of the way to equilibrium, and just out of
		// reach next to the corner.
		reached := float64(beforeTop(d).Temperature)
		return !alike(float64(d.Ice.Temperature), reached, 1e-9) && close(float64(d.Ice.Temperature), reached)
	}
	if d.Ice.WaterFixed {
		return close(melt, float64(f.Water)) || close(melt, mass)
	}
	// A melt equal to the mass is all of the ice, away from the corner unless a
	// little more ice would leave some.
	more := d.Ice
	more.Mass = Gram(mass * (1 + near))
	runsOut := melt == mass && more.equilibrium(&d.Mix, false).water < float64(more.Mass)
	factor := d.Ice.Method.WaterPerMelt()
	return runsOut || melt < mass && close(melt, mass) || factor > 1 && close(factor*melt, mass)
}

// beforeTop is the drink without its top.
func beforeTop(d *Drink) Finished {
	bare := Drink{Mix: d.Mix, Ice: d.Ice}
	return bare.Finish()
}

// aboveFreezing is how far the heat content of s alone would take it above its
// freezing point.
func aboveFreezing(s *State) float64 {
	return s.temperatureOf(s[HeatJoules]) - float64(s.FreezingPoint())
}

// compareDerivatives compares every slope with central differences. The top of
// an untopped drink at its freezing point is left out: adding a trace of
// anything warms or does not warm it, a corner in what depends on temperature.
func compareDerivatives(t *rapid.T, d *Drink) {
	t.Helper()
	f := d.Finish()
	corner := nearly(aboveFreezing(&f.State), 0)
	var values Values
	var mix, top Gradients
	d.Evaluate(AllProperties, &values, &mix, &top)
	for c := Component(0); c < Component(Components); c++ {
		byMix := differences(d, func(d *Drink) *float64 { return &d.Mix[c] }, c)
		byTop := differences(d, func(d *Drink) *float64 { return &d.Top[c] }, c)
		for p := Property(0); p < Property(Properties); p++ {
			if !byMix.agree(p, mix[p][c], values[p]) {
				t.Errorf("%s in component %d of the mix: slope %.12g, differences %.12g", p.Name(), c, mix[p][c], byMix.slopes(p))
			}
			if corner && (p == Temperature || p == Sweetness || p == CarbonDioxide || p == Viscosity) {
				continue
			}
			if !byTop.agree(p, top[p][c], values[p]) {
				t.Errorf("%s in component %d of the top: slope %.12g, differences %.12g", p.Name(), c, top[p][c], byTop.slopes(p))
			}
		}
	}
}

// centralDifferences are slopes over ever narrower steps: a knot of a tabulated
// curve may fall into a wide one, hardly into all.
type centralDifferences [3]struct {
	step  float64
	slope Values
}

func differences(d *Drink, amount func(*Drink) *float64, c Component) (result centralDifferences) {
	unit := 1.0
	switch {
	case c == HeatJoules:
		unit = 100
	case gramsPerUnit(c) == 1e-3:
		unit = 1000
	}
	for i, part := range []float64{1e-3, 1e-4, 1e-5} {
		step := part * unit
		below, above := *d, *d
		*amount(&below) -= step
		*amount(&above) += step
		var low, high Values
		below.Evaluate(AllProperties, &low, nil, nil)
		above.Evaluate(AllProperties, &high, nil, nil)
		width := *amount(&above) - *amount(&below)
		result[i].step = step
		for p := range low {
			result[i].slope[p] = (high[p] - low[p]) / width
		}
	}
	return result
}

// agree allows a relative error of 1e-6 and the round-off of the difference.
func (c *centralDifferences) agree(p Property, slope, value float64) bool {
	for _, d := range c {
		roundOff := 2e-13 * (1 + math.Abs(value)) / d.step
		if math.Abs(d.slope[p]-slope) <= 1e-6*math.Abs(slope)+roundOff {
			return true
		}
	}
	return false
}

func (c *centralDifferences) slopes(p Property) (slopes []float64) {
	for _, d := range c {
		slopes = append(slopes, d.slope[p])
	}
	return slopes
}
