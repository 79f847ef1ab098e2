package profile

// propertyIn is the property that a row names.
func propertyIn(in *publishedInputs) Property {
	p, ok := PropertyNamed(in.word("property"))
	if !ok {
		panic("no such property")
	}
	return p
}

// jndIn is the JND law of the property that a row names.
func jndIn(in *publishedInputs) JND {
	j, ok := propertyIn(in).JND()
	if !ok {
		panic("no JND")
	}
	return j
}

// litreOfWater holds what a test dissolves in traces.
func litreOfWater() State { return water(float64(WaterDensity)) }

var tasteSubjects = map[string]publishedSubject{
	"jnd_threshold":      func(in *publishedInputs) float64 { return jndIn(in).Threshold },
	"jnd_weber_fraction": func(in *publishedInputs) float64 { return jndIn(in).WeberFraction },
	"jnd_size":           func(in *publishedInputs) float64 { return jndIn(in).Size(in.number("level")) },
	"jnd_difference": func(in *publishedInputs) float64 {
		j := jndIn(in)
		return j.Level(in.number("to")) - j.Level(in.number("from"))
	},
	// The drink is made up to one litre, so that grams are grams per litre.
	"umami": func(in *publishedInputs) float64 {
		s := litreOfWater()
		s[GlutamicMilligrams] = 1000 * in.number("msg_g_per_l") / MSGPerGlutamicAcid
		s[NucleotidesMilligrams] = 1000 * (in.number("inosinic_g_per_l") + in.number("guanylic_g_per_l"))
		s[VolumeCorrectionMillilitres] = 1000 - float64(s.Volume())
		return propertyOf(Umami, s)
	},
	"msg_per_glutamic_acid": func(*publishedInputs) float64 { return MSGPerGlutamicAcid },
	"sodium_chloride_per_sodium": func(*publishedInputs) float64 {
		s := litreOfWater()
		s[SodiumMilligrams] = 1000
		return propertyOf(Salt, s) * float64(s.Volume()) / 1000
	},
	"relative_sweetness": func(in *publishedInputs) float64 {
		s := at(solution(in.word("sugar"), 10), Celsius(in.number("celsius")))
		return propertyOf(Sweetness, s) / propertyOf(Sugar, s)
	},
	"bitterness_after_dilution": func(in *publishedInputs) float64 {
		stock := litreOfWater()
		stock[BitternessMilligrams] = in.number("stock_mg_per_l")
		poured, total := in.number("stock_ml"), in.number("made_up_to_ml")
		return propertyOf(Bitter, stock.Scale(poured/1000).Add(litreOfWater().Scale((total-poured)/1000)))
	},
}

// measureNamed is the constant behind a measure.
func measureNamed(name string) float64 {
	size, ok := map[string]Millilitre{
		"us_fluid_ounce": USFluidOunce, "imperial_fluid_ounce": ImperialFluidOunce,
		"teaspoon": Teaspoon, "barspoon": Barspoon, "dash": Dash, "drop": Drop,
	}[name]
	if !ok {
		panic("no measure " + name)
	}
	return float64(size)
}

// nutrients are the components that count as each nutrient on a label.
var nutrients = map[string]Component{
	"carbohydrate": SucroseGrams, "polyols": PolyolsGrams, "erythritol": PolyolsGrams,
	"protein": ProteinGrams, "fat": FatGrams, "alcohol": EthanolGrams,
	"organic_acid": CitricGrams, "phosphoric_acid": PhosphoricGrams, "fibre": GumGrams,
}

var amountSubjects = map[string]publishedSubject{
	"ml_per_measure": func(in *publishedInputs) float64 {
		in.word("measure")
		return measureNamed(in.word("constant")) * in.number("times") / in.number("over")
	},
	"ounces_to_ml": func(in *publishedInputs) float64 {
		return measureNamed(in.word("constant")) * in.number("times")
	},
	"ethanol_grams": func(in *publishedInputs) float64 {
		return propertyOf(Ethanol, ethanolWater(Millilitre(in.number("ml")), PercentVolume(in.number("abv_percent"))))
	},
	"drink_energy_kcal": func(in *publishedInputs) float64 {
		s := ethanolWater(Millilitre(in.number("ml")), PercentVolume(in.number("abv_percent")))
		s[SucroseGrams] = in.number("sugar_g")
		s[CitricGrams] = in.number("acid_g")
		return propertyOf(Energy, s)
	},
	"energy_factor_kcal": func(in *publishedInputs) float64 {
		component, ok := nutrients[in.word("nutrient")]
		if !ok {
			panic("no such nutrient")
		}
		s := water(100)
		s[component] = 1
		return propertyOf(Energy, s)
	},
}
