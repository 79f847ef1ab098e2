package profile

// solution returns 100 g of a solution of a solute in water, massPercent grams
// of it the solute. A chloride is its metal and, for the rest, other solids.
func solution(solute string, massPercent float64) State {
	s := water(100 - massPercent)
	switch solute {
	case "sodium_chloride":
		sodium := massPercent * 22.990 / 58.443 // molar masses
		s[SodiumMilligrams] = 1000 * sodium
		s[OtherSolidsGrams] = massPercent - sodium
		return s
	case "potassium_chloride":
		potassium := massPercent * 39.098 / 74.551 // molar masses
		s[PotassiumMilligrams] = 1000 * potassium
		s[OtherSolidsGrams] = massPercent - potassium
		return s
	}
	component, ok := map[string]Component{
		"sucrose": SucroseGrams, "glucose": GlucoseGrams, "fructose": FructoseGrams,
		"maltose": OtherSugarsGrams, "lactose": OtherSugarsGrams,
		"glycerol": PolyolsGrams, "citric_acid": CitricGrams, "lactic_acid": LacticGrams,
		"acetic_acid": AceticGrams, "phosphoric_acid": PhosphoricGrams,
	}[solute]
	if !ok {
		panic("no component for " + solute)
	}
	s[component] = massPercent
	return s
}

// densityOf is the density of s at 20 °C.
func densityOf(s State) KilogramPerCubicMetre {
	return KilogramPerCubicMetre(1000 * float64(s.Mass()) / float64(s.Volume()))
}

// ethanolWaterSucrose is the mixture that a row describes in grams.
func ethanolWaterSucrose(in *publishedInputs) State {
	var s State
	s[EthanolGrams] = in.number("ethanol_g")
	s[WaterGrams] = in.number("water_g")
	s[SucroseGrams] = in.number("sucrose_g")
	return s
}

var solutionSubjects = map[string]publishedSubject{
	// The formula; that State.Volume gives the same is tested by identity.
	"sucrose_solution_density": func(in *publishedInputs) float64 {
		in.word("celsius")
		return float64(SucroseSolutionDensity(MassFraction(in.number("brix") / 100)))
	},
	"sucrose_solution_density_at_temperature": func(in *publishedInputs) float64 {
		s := solution("sucrose", in.number("brix"))
		return 1000 * float64(s.Mass()) / float64(s.VolumeAt(Celsius(in.number("celsius"))))
	},
	"sucrose_apparent_specific_gravity_in_air": func(in *publishedInputs) float64 {
		return gravityInAir(densityOf(solution("sucrose", in.number("brix"))), WaterDensity)
	},
	"apparent_specific_volume_sucrose": func(in *publishedInputs) float64 {
		in.word("celsius")
		s := solution("sucrose", in.number("brix"))
		return float64(s.Volume()-water(s[WaterGrams]).Volume()) / s[SucroseGrams]
	},
	"sucrose_grams_per_litre": func(in *publishedInputs) float64 {
		in.word("celsius")
		return propertyOf(Sugar, solution("sucrose", in.number("brix")))
	},
	"syrup_volume": func(in *publishedInputs) float64 {
		in.word("celsius")
		s := water(in.number("water_g"))
		s[SucroseGrams] = in.number("sugar_g")
		return float64(s.Volume())
	},
	"solution_density": func(in *publishedInputs) float64 {
		in.word("celsius")
		return float64(densityOf(solution(in.word("solute"), in.number("mass_percent"))))
	},
	"mixture_volume":  func(in *publishedInputs) float64 { return float64(ethanolWaterSucrose(in).Volume()) },
	"mixture_density": func(in *publishedInputs) float64 { return float64(densityOf(ethanolWaterSucrose(in))) },
	"mixture_abv":     func(in *publishedInputs) float64 { return propertyOf(Strength, ethanolWaterSucrose(in)) },
}
