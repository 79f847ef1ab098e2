package profile

import "math"

// acidNamed is the place of an acid in the table of acids.
func acidNamed(name string) int {
	component, ok := map[string]Component{
		"citric": CitricGrams, "malic": MalicGrams, "tartaric": TartaricGrams, "lactic": LacticGrams, "acetic": AceticGrams,
		"phosphoric": PhosphoricGrams, "succinic": SuccinicGrams, "ascorbic": AscorbicGrams, "gluconic": GluconicGrams,
		"quinic": QuinicGrams, "oxalic": OxalicGrams, "carbonic": CarbonDioxideGrams, "glutamic": GlutamicMilligrams,
	}[name]
	if ok {
		for i := range acids {
			if acids[i].component == component {
				return i
			}
		}
	}
	panic("no acid " + name)
}

// litre makes s up to one litre, whatever it takes up itself.
func litre(s State) State {
	s[VolumeCorrectionMillilitres] += 1000 - float64(s.Volume())
	return s
}

// litreOfAcid is a litre with so many mol of an acid in it.
func litreOfAcid(name string, mol float64) State {
	i := acidNamed(name)
	s := litreOfWater()
	s[acids[i].component] = 1000 * mol / millimoles[i]
	return litre(s)
}

// withBase adds mol of a strong base: potassium hydroxide, its water left out.
func withBase(s State, mol float64) State {
	s[StrongChargeMilliequivalents] += 1000 * mol
	s[PotassiumMilligrams] += 1000 * mol * potassiumMolarMass
	return litre(s)
}

var acidSubjects = map[string]publishedSubject{
	"pKa_25C": func(in *publishedInputs) float64 {
		return acids[acidNamed(in.word("acid"))].pK[int(in.number("step"))-1]
	},
	"davies_activity_coefficient": func(in *publishedInputs) float64 {
		z := in.number("z")
		pGamma, _ := davies(in.number("I"))
		return math.Pow(10, -z*z*pGamma)
	},
	// A kilogram of water with mol of the acid and of strong base.
	"ph_standard": func(in *publishedInputs) float64 {
		i := acidNamed(in.word("acid"))
		s := water(1000)
		s[acids[i].component] = 1000 * in.number("mol_per_kg") / millimoles[i]
		s[StrongChargeMilliequivalents] = 1000 * in.number("base_mol_per_kg")
		s[PotassiumMilligrams] = s[StrongChargeMilliequivalents] * potassiumMolarMass
		return propertyOf(PH, s)
	},
	// The rows without activity stand beside those with it to show that it hardly
	// moves a pure acid.
	"ph_of_acid_solution_molar": func(in *publishedInputs) float64 {
		in.word("activity")
		return propertyOf(PH, litreOfAcid(in.word("acid"), in.number("mol_per_L")))
	},
	"ph_of_acid_solution": func(in *publishedInputs) float64 {
		in.word("activity")
		i := acidNamed(in.word("acid"))
		return propertyOf(PH, litreOfAcid(in.word("acid"), in.number("g_per_L")/acids[i].molarMass))
	},
	"ph_of_partly_neutralised_acid": func(in *publishedInputs) float64 {
		return propertyOf(PH, withBase(litreOfAcid(in.word("acid"), in.number("mol_per_L")), in.number("strong_base_mol_per_L")))
	},
	"ph_of_acid_mix": func(in *publishedInputs) float64 {
		s := litreOfAcid(in.word("first"), in.number("first_mol_per_L"))
		i := acidNamed(in.word("second"))
		s[acids[i].component] = 1000 * in.number("second_mol_per_L") / millimoles[i]
		return propertyOf(PH, withBase(s, in.number("strong_base_mol_per_L")))
	},
	"ph_of_juice_like": func(in *publishedInputs) float64 {
		mol := in.number("citric_g_per_L") / acids[acidNamed("citric")].molarMass
		return propertyOf(PH, withBase(litreOfAcid("citric", mol), in.number("K_mmol_per_L")/1000))
	},
	// Grams that titrate like a gram of citric acid at three protons; 5 g/L.
	"acid_g_equal_to_1g_citric_by_titration": func(in *publishedInputs) float64 {
		i := acidNamed(in.word("acid"))
		s := litreOfWater()
		s[acids[i].component] = 5
		return 5 / float64(litre(s).TitratableCitric(TitrationEndpoint))
	},
	"citric_g_titrated_per_g": func(in *publishedInputs) float64 {
		i := acidNamed(in.word("acid"))
		s := litreOfWater()
		s[acids[i].component] = 5
		return float64(litre(s).TitratableCitric(in.number("endpoint"))) / 5
	},
	"protons_titrated": func(in *publishedInputs) float64 {
		s := litreOfAcid(in.word("acid"), 0.05)
		return float64(s.TitratableCitric(in.number("endpoint"))) / citricGramsPerMilliequivalent / 50
	},
	"ta_as_citric_from_titration": func(in *publishedInputs) float64 {
		milliequivalents := 1000 * in.number("naoh_mol_per_L") * in.number("naoh_ml") / in.number("sample_ml")
		return milliequivalents * citricGramsPerMilliequivalent
	},
	"ta_as_tartaric_from_titration": func(in *publishedInputs) float64 {
		equivalents := in.number("naoh_mol_per_L") * in.number("naoh_ml") / in.number("sample_ml")
		return equivalents * acids[acidNamed("tartaric")].molarMass / 2
	},
	// The part that keeps one proton or more, in next to no ionic strength.
	"protonated_fraction": func(in *publishedInputs) float64 {
		i := acidNamed(in.word("acid"))
		m := mediaAt(in.number("ph"), 0)
		last := len(acids[i].pK)
		all := 0.0
		for j := range last + 1 {
			all += cumulative[i][j] * m.alkalinity[j]
		}
		return 1 - cumulative[i][last]*m.alkalinity[last]/all
	},
}
