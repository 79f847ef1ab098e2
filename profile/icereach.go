package profile

import "math"

// partToReach is the part f of the way to equilibrium at which the drink is at
// the wanted temperature T, and its gradient in the mix: the root of
//
//	H(mix + f x + surface, T) - H₀ - f (H₁ - H₀)
//
// x and H₁ the melt and heat content at equilibrium. It rises with f; without a
// root between 0 and 1 the nearer end is it.
//
// The cold end is where the drink comes to its freezing point, which the surface
// water of wet ice mostly brings a little before f = 1: it raises the freezing point by
// more than it warms the drink. What would come after is a drink below its
// freezing point. There f is the root with T_f(mix + f x + surface), the freezing
// point of the drink, in the place of T.
func (ice *Ice) partToReach(mix *State, e *chilled, surface, perGram float64, gradient *State) float64 {
	w := wayToEquilibrium{mix: mix, end: e, surface: surface, perGram: perGram, to: float64(ice.Temperature)}
	if left, _ := w.imbalance(0); left >= 0 {
		return 0
	}
	w.freezes = true
	if atStart, _ := w.imbalance(0); atStart >= 0 {
		// The mix is below its freezing point before it meets the ice.
		w.freezes = false
		return w.part(gradient)
	}
	freezingAt := w.part(nil)
	w.freezes = false
	if left, _ := w.imbalance(freezingAt); left >= 0 {
		return w.part(gradient)
	}
	w.freezes = true
	return w.part(gradient)
}

// wayToEquilibrium is the straight way of melt and heat content from a mix with
// the surface water of its ice to equilibrium.
type wayToEquilibrium struct {
	mix              *State
	end              *chilled
	surface, perGram float64
	// to is the temperature that is wanted; freezes asks for the freezing point
	// of the drink in its place.
	to      float64
	freezes bool

	drink State
	// byState is the slope in the drink of its heat content at the temperature.
	byState State
}

// imbalance is the heat content that the drink has at the temperature less the
// one that it has come to at part f of the way, and its slope in f.
func (w *wayToEquilibrium) imbalance(f float64) (left, slope float64) {
	fallen := w.end.heat - w.mix[HeatJoules]
	w.drink = *w.mix
	w.drink[WaterGrams] += f*w.end.water + w.surface
	t := w.to
	var freezing State
	if w.freezes {
		t = w.drink.freezingPoint(&freezing)
	}
	heat, capacity := w.drink.heatContent(t, &w.byState)
	for i := range freezing {
		w.byState[i] += capacity * freezing[i]
	}
	return heat - w.mix[HeatJoules] - f*fallen, w.byState[WaterGrams]*w.end.water - fallen
}

// part is the root of the imbalance between 0 and 1, where it is below 0 at 0,
// and its gradient in the mix; 1 without a root.
func (w *wayToEquilibrium) part(gradient *State) float64 {
	if left, _ := w.imbalance(1); left <= 0 {
		return 1
	}
	low, high, f := 0.0, 1.0, 0.5
	for range 100 {
		left, slope := w.imbalance(f)
		if left < 0 {
			low = f
		} else {
			high = f
		}
		next := f - left/slope
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		if math.Abs(next-f) <= 1e-14 {
			f = next
			break
		}
		f = next
	}
	if gradient == nil {
		return f
	}
	_, slope := w.imbalance(f)
	for i := Component(0); i < Component(Components); i++ {
		byMix := -f * w.end.heatGradient[i]
		if i == HeatJoules {
			byMix -= 1 - f
		} else {
			byMix += w.byState[i]
		}
		byMix += w.byState[WaterGrams] * (f*w.end.waterGradient[i] + w.perGram*gramsPerUnit(i))
		gradient[i] = -byMix / slope
	}
	return f
}
