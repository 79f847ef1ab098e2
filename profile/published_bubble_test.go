package profile

var bubbleSubjects = map[string]publishedSubject{
	"co2_solubility_water": func(in *publishedInputs) float64 {
		return float64(Saturation(Celsius(in.number("celsius")), 0, 0))
	},
	// Litres of gas at 0 °C and 1 atm in a litre of water.
	"co2_volumes_in_water": func(in *publishedInputs) float64 {
		return CarbonDioxideVolumes(Saturation(Celsius(in.number("celsius")), 0, 0))
	},
	"co2_grams_per_litre_of_one_volume": func(*publishedInputs) float64 { return float64(CarbonDioxideVolume) },
	"co2_in_drink_at_20c": func(in *publishedInputs) float64 {
		const atmosphere = 101325 // Pa
		held := Saturation(20, PercentVolume(in.number("abv_percent")), GramPerLitre(in.number("sugar_g_per_l")))
		return float64(held) * in.number("pressure_pa") / atmosphere
	},
	"co2_per_bar": func(in *publishedInputs) float64 {
		const barsInAtmosphere = 1.01325
		held := Saturation(Celsius(in.number("celsius")), PercentVolume(in.number("abv_percent")), GramPerLitre(in.number("sugar_g_per_l")))
		return float64(held) / barsInAtmosphere
	},
	// Per litre of drink, made up to it with water.
	"carbon_dioxide_in_glass": func(in *publishedInputs) float64 {
		s := sweetSpirit(PercentVolume(in.number("abv_percent")), GramPerLitre(in.number("sugar_g_per_l")))
		s[CarbonDioxideGrams] = in.number("poured_g_per_l")
		s[VolumeCorrectionMillilitres] = 1000 - float64(s.Volume())
		return propertyOf(CarbonDioxide, at(s, Celsius(in.number("celsius"))))
	},
	// The loss on pouring is left out: what is in the mixture, dissolved or not.
	"co2_after_mixing_flat": func(in *publishedInputs) float64 {
		soda := litreOfWater()
		soda[CarbonDioxideGrams] = float64(CarbonDioxideVolume) * in.number("soda_volumes")
		s := soda.Scale(in.number("soda_ml") / 1000).Add(litreOfWater().Scale(in.number("flat_ml") / 1000))
		return CarbonDioxideVolumes(GramPerLitre(1000 * s[CarbonDioxideGrams] / float64(s.Volume())))
	},
}
