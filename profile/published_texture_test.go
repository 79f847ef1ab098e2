package profile

// viscosityOf is that of s at a temperature.
func viscosityOf(s State, t Celsius) float64 { return propertyOf(Viscosity, at(s, t)) }

var textureSubjects = map[string]publishedSubject{
	"viscosity_water": func(in *publishedInputs) float64 { return viscosityOf(water(100), Celsius(in.number("celsius"))) },
	"viscosity_ethanol": func(in *publishedInputs) float64 {
		return viscosityOf(ethanolWater(100, 100), Celsius(in.number("celsius")))
	},
	"viscosity_ethanol_water": func(in *publishedInputs) float64 {
		s := water(100 - in.number("ethanol_mass_percent"))
		s[EthanolGrams] = in.number("ethanol_mass_percent")
		return viscosityOf(s, Celsius(in.number("celsius")))
	},
	"viscosity_solution": func(in *publishedInputs) float64 {
		return viscosityOf(solution(in.word("solute"), in.number("mass_percent")), Celsius(in.number("celsius")))
	},
	"viscosity_power_law": func(in *publishedInputs) float64 {
		return powerLawViscosity(in.number("consistency_pa_s_n"), in.number("flow_index"), in.number("shear_per_s"))
	},
	"shear_in_the_mouth": func(*publishedInputs) float64 { return shearInTheMouth },
	// What the gum adds to a litre of drink.
	"viscosity_xanthan": func(in *publishedInputs) float64 {
		s := litreOfWater()
		s[ThickenerGrams] = in.number("grams_per_l")
		return viscosityOf(s, 20) - viscosityOf(litreOfWater(), 20)
	},
}
