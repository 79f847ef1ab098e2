package profile

// byMass returns grams of ethanol and water, massPercent of it ethanol.
func byMass(grams, massPercent float64) State {
	var s State
	s[EthanolGrams] = grams * massPercent / 100
	s[WaterGrams] = grams - s[EthanolGrams]
	return s
}

// at returns s with the heat content that it has at t.
func at(s State, t Celsius) State {
	s[HeatJoules] = float64(s.HeatAt(t))
	return s
}

// heatCapacityOf is that of a gram of s at t, from the heat contents one kelvin
// on either side.
func heatCapacityOf(s State, t Celsius) float64 {
	return float64(s.HeatAt(t+1)-s.HeatAt(t-1)) / 2 / float64(s.Mass())
}

var heatSubjects = map[string]publishedSubject{
	"freezing_point_ethanol_water": func(in *publishedInputs) float64 {
		return float64(byMass(100, in.number("ethanol_mass_percent")).FreezingPoint())
	},
	"freezing_point_solution": func(in *publishedInputs) float64 {
		return float64(solution(in.word("solute"), in.number("mass_percent")).FreezingPoint())
	},
	"freezing_point_from_abv": func(in *publishedInputs) float64 {
		return float64(ethanolWater(100, PercentVolume(in.number("abv_percent"))).FreezingPoint())
	},
	"heat_capacity_water": func(in *publishedInputs) float64 {
		return heatCapacityOf(water(100), Celsius(in.number("celsius")))
	},
	"heat_capacity_ethanol": func(in *publishedInputs) float64 {
		return heatCapacityOf(byMass(100, 100), Celsius(in.number("celsius")))
	},
	"heat_capacity_ethanol_water": func(in *publishedInputs) float64 {
		return heatCapacityOf(byMass(100, in.number("ethanol_mass_percent")), Celsius(in.number("celsius")))
	},
	"heat_capacity_sucrose_solution": func(in *publishedInputs) float64 {
		return heatCapacityOf(solution("sucrose", in.number("brix")), Celsius(in.number("celsius")))
	},
	"heat_capacity_ice":  func(in *publishedInputs) float64 { in.word("celsius"); return iceHeatCapacity },
	"heat_of_fusion_ice": func(in *publishedInputs) float64 { in.word("celsius"); return heatOfFusion },
}

// meltOn is the water that stirring gives to the mix, as melt at equilibrium.
func meltOn(mix State, ice, iceAt float64) float64 {
	d := Drink{Mix: mix, Ice: Ice{Method: Stir, Mass: Gram(ice), At: Celsius(iceAt)}}
	return d.Ice.equilibrium(&d.Mix, false).water
}

// mixOnIce is the mix that a row puts on ice, by mass and strength.
func mixOnIce(in *publishedInputs) (mix State, ice, iceAt float64) {
	p := 100 * float64(MassFractionOf(PercentVolume(in.number("abv_percent"))))
	mix = at(byMass(in.number("drink_g"), p), Celsius(in.number("start_celsius")))
	return mix, in.number("ice_g"), in.number("ice_celsius")
}

// dilutionBy is the water for each volume of ethanol and water at 20 °C.
func dilutionBy(m Method) publishedSubject {
	return func(in *publishedInputs) float64 {
		mix := at(ethanolWater(90, PercentVolume(100*in.number("abv_fraction"))), 20)
		d := Drink{Mix: mix, Ice: Ice{Method: m}}
		return d.Finish().Values[Dilution] / 100
	}
}

var iceSubjects = map[string]publishedSubject{
	"equilibrium_melt": func(in *publishedInputs) float64 { return meltOn(mixOnIce(in)) },
	"equilibrium_temperature": func(in *publishedInputs) float64 {
		mix, iceMass, iceAt := mixOnIce(in)
		ice := Ice{Method: Stir, Mass: Gram(iceMass), At: Celsius(iceAt)}
		e := ice.equilibrium(&mix, false)
		chilled := mix.Add(water(e.water))
		chilled[HeatJoules] = e.heat
		return chilled.temperature(nil)
	},
	"ice_melt_to_cool_water": func(in *publishedInputs) float64 {
		in.word("to_celsius") // water with ice in it comes to 0 °C
		mix := at(water(in.number("water_g")), Celsius(in.number("from_celsius")))
		return meltOn(mix, 2*in.number("water_g"), in.number("ice_celsius"))
	},
	"ice_melt_equivalent_of_subcooled_ice": func(in *publishedInputs) float64 {
		mix := at(water(100), 20)
		return meltOn(mix, in.number("ice_g"), 0) - meltOn(mix, in.number("ice_g"), in.number("ice_celsius"))
	},
	"dilution_ratio_built":   dilutionBy(Build),
	"dilution_ratio_stirred": dilutionBy(Stir),
	"dilution_ratio_shaken":  dilutionBy(Shake),
}
