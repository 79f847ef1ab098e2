package solver

import (
	"math"

	"minim/pantry"
	"minim/profile"
)

// spread fills the profile with its values and how well they are known: the ±
// of every figure of every pour carried to every property through the
// property's slopes, the figures taken as independent:
//
//	± p = sqrt( Σ_pours Σ_components (∂p/∂z_c · amount · ±c)² )
//
// Bitterness without a ± of its own is known to a factor: its share is
// multiplied for the high end and divided for the low one. The melt that a
// method gives has a ± of its own, unless the spec fixes it, and so has the
// temperature.
func (w *work) spread(a *Answer, d *profile.Drink, v *profile.Values) {
	var mix, top profile.Gradients
	var values profile.Values
	d.Evaluate(profile.AllProperties, &values, &mix, &top)
	for p := range a.Profile {
		property := profile.Property(p)
		down, up := 0.0, 0.0
		for i := range a.Pours {
			one := &a.Pours[i]
			slopes := &mix[p]
			if one.Stage == OnTop {
				slopes = &top[p]
			}
			spread := one.Ingredient.PerUnitSpread()
			if property == profile.PH {
				term := acidTogether(one, &spread, slopes)
				down += term * term
				up += term * term
				continue
			}
			for c, s := range &spread {
				term := slopes[c] * s * one.Base
				down += term * term
				up += term * term
			}
			if property == profile.Bitter && !one.Ingredient.HasOwnBitterness() {
				unit := one.Ingredient.PerUnit()
				share := slopes[profile.BitternessMilligrams] * unit[profile.BitternessMilligrams] * one.Base
				lower := share * (1 - 1/float64(pantry.BitternessFactor))
				higher := share * (pantry.BitternessFactor - 1)
				down += lower * lower
				up += higher * higher
			}
		}
		if w.ice.Method != profile.NoIce && d.Mix.Mass() > 0 {
			melt, degrees := w.iceSpread(property, top[p][profile.WaterGrams], float64(d.Mix.Volume()))
			down += melt*melt + degrees*degrees
			up += melt*melt + degrees*degrees
		}
		model := profile.ModelSpread(property, v)
		down += model * model
		up += model * model
		low, high := v[p]-math.Sqrt(down), v[p]+math.Sqrt(up)
		if property.NonNegative() {
			low = max(low, 0)
		}
		a.Profile[p] = PropertyValue{Value: v[p], Low: low, High: high}
	}
}

// PlusMinus is half of the range in which the value is known.
func (v *PropertyValue) PlusMinus() float64 { return (v.High - v.Low) / 2 }

// acidTogether is what the ± of a pour's acidity makes of the pH. A juice of more
// acid has more of the cations that it grew with, so its acids and its net
// strong charge vary together, and its own pH hardly does.
func acidTogether(one *PouredAmount, spread, slopes *profile.State) float64 {
	unit := one.Ingredient.PerUnit()
	acid := unit[profile.TitratableAcidGrams]
	if acid <= 0 {
		return 0
	}
	part := spread[profile.TitratableAcidGrams] / acid
	sum := slopes[profile.StrongChargeMilliequivalents] * unit[profile.StrongChargeMilliequivalents]
	for c := profile.CitricGrams; c <= profile.OxalicGrams; c++ {
		sum += slopes[c] * unit[c]
	}
	return sum * part * one.Base
}

// iceSpread is what the ± of a method's melt, and of the temperature it reaches,
// make of a property whose slope in grams of water is known.
func (w *work) iceSpread(p profile.Property, byWater, mixVolume float64) (melt, degrees float64) {
	if p == profile.Temperature && !w.ice.TemperatureFixed {
		degrees = float64(profile.ChillSpread)
	}
	if w.ice.WaterFixed {
		return 0, degrees
	}
	if p == profile.Dilution {
		return profile.DilutionSpread, degrees
	}
	return byWater * profile.DilutionSpread / 100 * mixVolume / profile.MeltMillilitresPerGram, degrees
}
