package profile

import "math"

// Limits of what is handled behind the bar. A caution is given beyond them,
// never at the limit itself.
const (
	// weakAcidMost is the acid in a gram of an ingredient that is still handled as
	// food is: between vinegar, 0.07, and phosphoric acid of 10 %. Common
	// practice, no source.
	weakAcidMost = 0.095
	// quietStrengthMost, in % vol, is where a spirit begins to be called
	// overproof. Common practice, no source. The hundredth above it is what the
	// way from a label to grams and back may be off.
	quietStrengthMost = 50 + 0.01
	// acidFoodMost is the equilibrium pH of an acid food, and stableActivityMost
	// the water activity of a food in which nothing dangerous grows.
	// Source: 21 CFR 114.3 (United States).
	acidFoodMost       = 4.6
	stableActivityMost = 0.85
	// brineLeast, in g/L, is the salt from which an ingredient by itself is taken for
	// a brine that keeps, as fish sauce and soy sauce do. Common practice, no source.
	brineLeast = 100
)

// HandlingCautions returns what s, an amount of one ingredient, calls for in the
// hand:
//
//	strong-acid   listed acids > 9.5 % of the mass
//	high-proof    strength > 50 % vol
func (s State) HandlingCautions() []Caution {
	var all []Caution
	acids := 0.0
	for c := CitricGrams; c <= OxalicGrams; c++ {
		acids += s[c]
	}
	if acids > weakAcidMost*float64(s.Mass()) {
		all = append(all, Caution{
			Key: "strong-acid", Title: "Strong acid",
			Text: "gloves and goggles, no dust in the air, and the acid into the water, never water onto the acid. Weigh it; a slip of the spoon is a sharp mouthful.",
			Rule: commonPractice,
		})
	}
	if d := (Drink{Top: s}); d.Finish().Values[Strength] > quietStrengthMost {
		all = append(all, Caution{
			Key: "high-proof", Title: "High proof",
			Text: "its vapour burns. Keep it from flames, torches and hot plates, and never pour from the bottle near a flame.",
			Rule: commonPractice,
		})
	}
	return all
}

// SimmeringCautions returns what s, all that stands in a pan, calls for when it is
// simmered:
//
//	simmered-alcohol   strength > 0.5 % vol
//
// Below that it is taken for what is called free of alcohol.
func (s State) SimmeringCautions() []Caution {
	if d := (Drink{Top: s}); d.Finish().Values[Strength] <= alcoholFreeMost {
		return nil
	}
	return []Caution{{
		Key: "simmered-alcohol", Title: "Simmered alcohol",
		Text: "the alcohol boils off first, and its vapour burns and makes heads swim: no flame under it, air through the room, a lid at hand.",
		Rule: commonPractice,
	}}
}

// KeepingCautions returns what s, an amount of one liquid that a bar opens or
// makes and then keeps, calls for:
//
//	low-acid   pH > 4.6, water activity > 0.85, 0.5 % vol or less, salt below 100 g/L
//
// Alcoholic drinks are outside the rule, which does not say from which strength
// on; 0.5 % vol is taken. measured is the pH, where it is known; 0: it follows
// from the composition. keeps says how long it is said to keep, as a pantry has it;
// empty: within days.
//
// Source: 21 CFR 114.3.
func (s State) KeepingCautions(measured float64, keeps string) []Caution {
	d := Drink{Top: s}
	alone := d.Finish().Values
	ph := measured
	if ph == 0 {
		ph = alone[PH]
	}
	if s[WaterGrams] <= 0 || ph <= acidFoodMost || alone[Strength] > alcoholFreeMost || alone[Salt] >= brineLeast || s.WaterActivity() <= stableActivityMost {
		return nil
	}
	within := "within days"
	if keeps != "" {
		within = "in time"
	}
	return []Caution{{
		Key: "low-acid", Title: "Does not keep",
		Text:  "neither sour enough (pH 4.6 or below) nor dry enough to hold: it spoils, and sealed it can turn dangerous without smelling of it. Make little, keep it cold, date it, and throw it out " + within + ".",
		Keeps: keeps,
		Rule:  "21 CFR 114.3 (United States)",
	}}
}

// Heat of fusion of ice in J/mol, what the heat capacity of water exceeds that
// of ice by, in J/(mol K), and the gas constant, in J/(mol K).
//
// Source: CRC Handbook, from memory.
const (
	meltingHeat     = 6008.0
	meltingCapacity = 37.6
	gasConstant     = 8.314
	kelvinAtZero    = 273.15
)

// saltOsmotic is molality times osmotic coefficient of sodium chloride by molality,
// mol in a kilogram of water at 25 °C; straight beyond 6.
//
// Source: Robinson & Stokes, Electrolyte Solutions (1965), appendix 8.10, from
// memory: φ 0.9324, 0.9209, 0.9355, 0.9576, 0.9833, 1.0453, 1.1158, 1.1916, 1.2706.
var saltOsmotic = newCurve(
	[]float64{0, 0.1, 0.5, 1, 1.5, 2, 3, 4, 5, 6},
	[]float64{0, 0.09324, 0.46045, 0.9355, 1.4364, 1.9666, 3.1359, 4.4632, 5.958, 7.6236})

// WaterActivity is the vapour pressure of the water in s over that of pure
// water, 0 to 1: the activity that the salt gives its water times that of all
// else (Ross, J. Food Sci. 40 (1975) 26). Salt is all the sodium as sodium
// chloride of m mol/kg, two ions each, φ its osmotic coefficient and M the molar
// mass of water in kg:
//
//	ln a = -2 m φ M
//
// The rest comes from the freezing point T that s has without sodium, in kelvin,
// where ice and liquid have the same vapour pressure (T₀ is that of water):
//
//	ln a = (H - C T₀)/R (1/T₀ - 1/T) + C/R ln(T/T₀)
//
// It is within 0.01 of that at 20 °C for solutions of sugar, salt and acid.
// Without water it is 0.
func (s State) WaterActivity() float64 {
	water := s[WaterGrams]
	if water < leastWater {
		return 0
	}
	molality := s[SodiumMilligrams] / sodiumMolarMass / water
	osmotic, _ := saltOsmotic.at(molality)
	s[SodiumMilligrams] = 0
	t := math.Max(1, kelvinAtZero+float64(s.FreezingPoint()))
	return math.Exp((meltingHeat-meltingCapacity*kelvinAtZero)/gasConstant*(1/kelvinAtZero-1/t) + meltingCapacity/gasConstant*math.Log(t/kelvinAtZero) -
		2*osmotic*waterMolarMass/1000)
}
