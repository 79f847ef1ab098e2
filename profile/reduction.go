package profile

import (
	"errors"
	"math"
)

// Errors of reducing by simmering.
var (
	// ErrReducedAlready is returned where the liquid is no larger, no heavier or
	// no less sweet than what it should be reduced to.
	ErrReducedAlready = errors.New("there is no more than that to begin with")
	// ErrBoiledDry is returned where the water would be gone before that.
	ErrBoiledDry = errors.New("it would boil dry before that")
)

// The integration of a reduction: the step in ln(water), and where so little
// water is left that the pan is dry: a thousandth.
const (
	reductionStep  = 0.02
	reductionSteps = 345
)

// ReducedToVolume simmers s in an open pan down to a volume, measured at 20 °C
// after cooling. See reduced for what leaves. Errors are ErrReducedAlready and
// ErrBoiledDry.
func (s State) ReducedToVolume(v Millilitre) (State, error) {
	return s.reduced(func(s *State) float64 { return s.volume(nil) - float64(v) })
}

// ReducedToMass simmers s in an open pan down to a mass, as ReducedToVolume does.
func (s State) ReducedToMass(m Gram) (State, error) {
	return s.reduced(func(s *State) float64 { return float64(s.Mass() - m) })
}

// ReducedToBrix simmers s in an open pan until a refractometer reads b at 20 °C,
// as ReducedToVolume does.
func (s State) ReducedToBrix(b Brix) (State, error) {
	return s.reduced(func(s *State) float64 { return float64(b - s.RefractometerBrix(20)) })
}

// reduced boils s down until tooMuch, which falls on the way, is 0. What leaves is
// in equilibrium with what stays, and never comes back (Rayleigh's distillation):
//
//	d ln(ethanol) / d ln(water) = α(x)        α: EthanolVolatility
//	d ln(acetic)  / d ln(water) = 0.7
//
// integrated by fourth-order Runge-Kutta steps of 0.02 in ln(water). Carbon
// dioxide leaves at once. All else stays, the titratable acid less that of the
// acetic acid; nothing is inverted, browned or caramelised. The result is at
// 20 °C. Liquid that runs back from a lid makes the loss of ethanol larger.
//
// Source: Rayleigh, Phil. Mag. 4 (1902) 521, the law, from memory.
func (s State) reduced(tooMuch func(*State) float64) (State, error) {
	s[CarbonDioxideGrams] = 0
	s[HeatJoules] = float64(s.HeatAt(20))
	over := tooMuch(&s)
	switch {
	case nearly(over, 0):
		return s, nil
	case over < 0:
		return s, ErrReducedAlready
	}
	for range reductionSteps {
		next := s.boiledOff(reductionStep)
		if tooMuch(&next) > 0 {
			s = next
			continue
		}
		low, high := 0.0, reductionStep
		for range 50 {
			middle := (low + high) / 2
			next = s.boiledOff(middle)
			if tooMuch(&next) > 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return s.boiledOff(high), nil
	}
	return s, ErrBoiledDry
}

// boiledOff is s after its water fell by the factor exp(-u), u small.
func (s State) boiledOff(u float64) State {
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	if ethanol > 0 && water > 0 {
		// slope is d ln(ethanol) / du with ln(ethanol) lower by e.
		slope := func(u, e float64) float64 {
			w, l := water*math.Exp(-u), ethanol*math.Exp(-e)
			return EthanolVolatility(MassFraction(l / (l + w)))
		}
		k1 := slope(0, 0)
		k2 := slope(u/2, u/2*k1)
		k3 := slope(u/2, u/2*k2)
		k4 := slope(u, u*k3)
		s[EthanolGrams] *= math.Exp(-u / 6 * (k1 + 2*k2 + 2*k3 + k4))
	}
	s[WaterGrams] *= math.Exp(-u)
	acetic := s[AceticGrams]
	s[AceticGrams] *= math.Exp(-aceticVolatility * u)
	s[TitratableAcidGrams] = max(0, s[TitratableAcidGrams]-citricPerAcetic*(acetic-s[AceticGrams]))
	s[HeatJoules] = float64(s.HeatAt(20))
	return s
}
