package profile

// ethanolWater returns ml of ethanol and water of that strength, at 20 °C.
func ethanolWater(ml Millilitre, strength PercentVolume) State {
	p := MassFractionOf(strength)
	grams := float64(ml) * float64(EthanolWaterDensity(p, 20)) / 1000
	var s State
	s[EthanolGrams] = grams * float64(p)
	s[WaterGrams] = grams * (1 - float64(p))
	return s
}

// water returns grams of water.
func water(grams float64) State {
	var s State
	s[WaterGrams] = grams
	return s
}

// propertyOf returns a property of the drink mixed from s without ice.
func propertyOf(p Property, s State) float64 {
	d := Drink{Mix: s}
	return d.Finish().Values[p]
}

// rootOf solves rising(x) = wanted for x between low and high by bisection.
func rootOf(rising func(x float64) float64, wanted, low, high float64) float64 {
	for range 200 {
		middle := (low + high) / 2
		if rising(middle) < wanted {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

var alcoholometrySubjects = map[string]publishedSubject{
	"water_density": func(in *publishedInputs) float64 {
		return float64(EthanolWaterDensity(0, Celsius(in.number("celsius"))))
	},
	"ethanol_density": func(in *publishedInputs) float64 {
		return float64(EthanolWaterDensity(1, Celsius(in.number("celsius"))))
	},
	"ethanol_water_density_from_mass_fraction": func(in *publishedInputs) float64 {
		return float64(EthanolWaterDensity(MassFraction(in.number("mass_fraction")), Celsius(in.number("celsius"))))
	},
	"ethanol_water_density_from_abv": func(in *publishedInputs) float64 {
		p := MassFractionOf(PercentVolume(in.number("abv_percent")))
		return float64(EthanolWaterDensity(p, Celsius(in.number("celsius"))))
	},
	"ethanol_mass_fraction_from_abv": func(in *publishedInputs) float64 {
		in.word("celsius")
		return 100 * float64(MassFractionOf(PercentVolume(in.number("abv_percent"))))
	},
	// The printed table read backwards: its densities fall as strength rises.
	"abv_from_density": func(in *publishedInputs) float64 {
		negated := func(p float64) float64 { return -float64(EthanolWaterDensity(MassFraction(p), 20)) }
		return float64(StrengthOf(MassFraction(rootOf(negated, -in.number("density_kg_m3"), 0, 1))))
	},
	"volume_at_temperature": func(in *publishedInputs) float64 {
		s := ethanolWater(1000, PercentVolume(in.number("abv_percent")))
		return float64(s.VolumeAt(Celsius(in.number("celsius"))))
	},
	"mix_volume": func(in *publishedInputs) float64 { return float64(mixOfTwo(in).Volume()) },
	"mix_abv":    func(in *publishedInputs) float64 { return propertyOf(Strength, mixOfTwo(in)) },
	"infusion_abv": func(in *publishedInputs) float64 {
		s := ethanolWater(Millilitre(in.number("spirit_ml")), PercentVolume(in.number("abv_percent")))
		return propertyOf(Strength, s.Add(water(in.number("fruit_water_g"))))
	},
	// The water, at 20 °C, that brings the mixed drink to its strength.
	"water_to_reduce": func(in *publishedInputs) float64 {
		in.word("celsius")
		s := ethanolWater(Millilitre(in.number("start_ml")), PercentVolume(in.number("from_abv")))
		weakness := func(grams float64) float64 { return -propertyOf(Strength, s.Add(water(grams))) }
		grams := rootOf(weakness, -in.number("to_abv"), 0, 1e4)
		return float64(water(grams).Volume())
	},
	"contraction_per_100_volumes": func(in *publishedInputs) float64 {
		in.word("celsius")
		s := ethanolWater(100, PercentVolume(in.number("abv_percent")))
		var ethanol State
		ethanol[EthanolGrams] = s[EthanolGrams]
		return float64(ethanol.Volume() + water(s[WaterGrams]).Volume() - s.Volume())
	},
}

func mixOfTwo(in *publishedInputs) State {
	in.word("celsius")
	first := ethanolWater(Millilitre(in.number("first_ml")), PercentVolume(in.number("first_abv_percent")))
	second := ethanolWater(Millilitre(in.number("second_ml")), PercentVolume(in.number("second_abv_percent")))
	return first.Add(second)
}

const (
	// sixtyFahrenheit is the temperature of the gauging manual.
	sixtyFahrenheit = Celsius((60 - 32) / 1.8)
	// airDensity in kg/m³ at 60 °F and sea level; from memory.
	airDensity = 1.2
	// poundsPerGallon of water at 60 °F weighed in air: 27 CFR part 30.
	poundsPerGallon = 8.32823
)

// fractionOfProof is the ethanol mass fraction of a US proof, which is twice
// the strength with both volumes at 60 °F.
func fractionOfProof(proof float64) MassFraction {
	pure := float64(EthanolWaterDensity(1, sixtyFahrenheit))
	strength := func(p float64) float64 {
		return 200 * p * float64(EthanolWaterDensity(MassFraction(p), sixtyFahrenheit)) / pure
	}
	return MassFraction(rootOf(strength, proof, 0, 1))
}

// partsOfWater are the volumes of water in 100 volumes of that proof at 60 °F.
func partsOfWater(proof float64) float64 {
	p := fractionOfProof(proof)
	return 100 * (1 - float64(p)) * float64(EthanolWaterDensity(p, sixtyFahrenheit)/EthanolWaterDensity(0, sixtyFahrenheit))
}

// gravityInAir is the specific gravity, weighed in air, of a density in kg/m³.
func gravityInAir(density, densityOfWater KilogramPerCubicMetre) float64 {
	return float64((density - airDensity) / (densityOfWater - airDensity))
}

// gallonOfProof is the weight in pounds, in air, of a gallon at 60 °F.
func gallonOfProof(proof float64) float64 {
	density := EthanolWaterDensity(fractionOfProof(proof), sixtyFahrenheit)
	return poundsPerGallon * gravityInAir(density, EthanolWaterDensity(0, sixtyFahrenheit))
}

// expansionTo60F is the factor that takes a volume at that temperature to 60 °F.
func expansionTo60F(proof, fahrenheit float64) float64 {
	p := float64(fractionOfProof(proof))
	var s State
	s[EthanolGrams], s[WaterGrams] = 100*p, 100*(1-p)
	return float64(s.VolumeAt(sixtyFahrenheit) / s.VolumeAt(Celsius((fahrenheit-32)/1.8)))
}

var gaugingSubjects = map[string]publishedSubject{
	"parts_water_per_100_volumes_at_60f": func(in *publishedInputs) float64 {
		in.word("parts_alcohol")
		return partsOfWater(in.number("us_proof"))
	},
	"specific_gravity_60f": func(in *publishedInputs) float64 {
		p := fractionOfProof(in.number("us_proof"))
		return float64(EthanolWaterDensity(p, sixtyFahrenheit) / EthanolWaterDensity(0, sixtyFahrenheit))
	},
	// 27 CFR 30.66: (A₁/A₂) W₂ - W₁, A parts of alcohol and W of water.
	"gallons_water_to_reduce": func(in *publishedInputs) float64 {
		from, to := in.number("from_proof"), in.number("to_proof")
		return in.number("gallons") / 100 * (from/to*partsOfWater(to) - partsOfWater(from))
	},
	"pounds_water_to_reduce": func(in *publishedInputs) float64 {
		from, to := fractionOfProof(in.number("from_proof")), fractionOfProof(in.number("to_proof"))
		return in.number("pounds") * float64(from/to-1)
	},
	"weight_of_100_wine_gallons_in_air": func(in *publishedInputs) float64 {
		return 100 * gallonOfProof(in.number("us_proof"))
	},
	"wine_gallons_from_weight": func(in *publishedInputs) float64 {
		return in.number("pounds") / gallonOfProof(in.number("us_proof"))
	},
	"proof_gallons_from_weight": func(in *publishedInputs) float64 {
		proof := in.number("us_proof")
		return in.number("pounds") / gallonOfProof(proof) * proof / 100
	},
	"volume_correction_factor_to_60f": func(in *publishedInputs) float64 {
		return expansionTo60F(in.number("us_proof"), in.number("fahrenheit"))
	},
	"volume_correction_to_60f": func(in *publishedInputs) float64 {
		return in.number("gallons") * expansionTo60F(in.number("us_proof"), in.number("fahrenheit"))
	},
}
