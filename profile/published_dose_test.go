package profile

// serveOf is ml of that strength with sugar, acid and polyols added by the gram.
func serveOf(in *publishedInputs) State {
	s := ethanolWater(Millilitre(in.number("ml")), PercentVolume(in.number("abv_percent")))
	s[SucroseGrams] = in.number("sugar_g")
	s[CitricGrams] = in.number("acid_g")
	return s
}

// standardDrinksIn counts the standard drinks of one place.
func standardDrinksIn(s State, where string) StandardDrinks {
	for _, drinks := range s.Dose().StandardDrinks {
		if drinks.Where == where {
			return drinks
		}
	}
	panic("no standard drink of " + where)
}

var doseSubjects = map[string]publishedSubject{
	"drink_energy_kj": func(in *publishedInputs) float64 { return float64(serveOf(in).Dose().Kilojoules) },
	"label_energy_kj": func(in *publishedInputs) float64 {
		s := serveOf(in)
		s[PolyolsGrams] = in.number("polyols_g")
		return float64(s.Dose().Kilojoules)
	},
	"energy_factor_kj": func(in *publishedInputs) float64 {
		component, ok := nutrients[in.word("nutrient")]
		if !ok {
			panic("no such nutrient")
		}
		s := water(100)
		s[component] = 1
		return float64(s.Dose().Kilojoules)
	},
	"standard_drink_size": func(in *publishedInputs) float64 {
		return float64(standardDrinksIn(water(1), in.word("where")).Grams)
	},
	"standard_drinks": func(in *publishedInputs) float64 {
		s := ethanolWater(Millilitre(in.number("ml")), PercentVolume(in.number("abv_percent")))
		return standardDrinksIn(s, in.word("where")).Count
	},
}
