package profile

// freezingOfEthanol is the depression in K of the freezing point of
// ethanol-water mixtures by ethanol mass fraction. Beyond 68 % it goes on
// straight; no drink goes there.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021),
// Concentrative properties of aqueous solutions.
var freezingOfEthanol = newCurve(
	[]float64{
		0, 0.02, 0.05, 0.10, 0.12, 0.15, 0.18, 0.20, 0.22, 0.24, 0.26, 0.28, 0.30,
		0.32, 0.34, 0.36, 0.40, 0.44, 0.50, 0.56, 0.60, 0.68,
	},
	[]float64{
		0, 0.81, 2.09, 4.47, 5.56, 7.36, 9.40, 10.92, 12.60, 14.47, 16.41, 18.43, 20.47,
		22.44, 24.27, 25.98, 29.26, 32.68, 37.67, 42.06, 44.93, 49.52,
	})

// cryoscopicConstant of water in K kg/mol. Source: CRC Handbook, from memory.
const cryoscopicConstant = 1.858

// freezingSolute says how a kind of solute lowers the freezing point: the
// depression is K m (1 + growth m), m mol per kg of water. The growth is fitted
// to the CRC table between 10 and 42 % by mass.
type freezingSolute struct {
	gramsPerMole float64 // divided by the ions that it falls into
	growth       float64
	components   []Component
}

var freezingSolutes = []freezingSolute{
	{342.297, 0.115, []Component{SucroseGrams, OtherSugarsGrams}},
	{180.156, 0.033, []Component{GlucoseGrams, FructoseGrams}},
	{192.124, 0.011, []Component{
		CitricGrams, MalicGrams, TartaricGrams, SuccinicGrams, AscorbicGrams, GluconicGrams, QuinicGrams, OxalicGrams,
	}},
	{92.094, 0.021, []Component{PolyolsGrams, LacticGrams, AceticGrams, PhosphoricGrams}},
	// Sodium brings a chloride: 1.86 particles at drink strength (sodium
	// chloride 10 % by mass: 6.56 K).
	{22.990e3 / 1.86, 0, []Component{SodiumMilligrams}},
	{39.098e3 / 1.86, 0, []Component{PotassiumMilligrams}},
}

// lowestFreezing is the freezing point of pure ethanol, a floor for liquids
// that hold next to no water. Source: CRC Handbook (2021), -114.1 °C.
const lowestFreezing = -114.1

// leastWater, in grams, is where a molality would overflow; there is no drink
// with so little.
const leastWater = 1e-200

// FreezingPoint returns the temperature at which the first ice forms in s: the
// depression by ethanol of the ethanol-water curve at e/(e + w), plus those of
// the other solutes on the water alone. Expect 0.5 K down to -10 °C; for sugar
// and ethanol together no measured table was found.
func (s State) FreezingPoint() Celsius {
	return Celsius(s.freezingPoint(nil))
}

// freezingPoint fills gradient, if not nil, with the slopes in the state.
func (s *State) freezingPoint(gradient *State) float64 {
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	if water < leastWater {
		return lowestFreezing
	}
	p := ethanol / (ethanol + water)
	depression, slope := freezingOfEthanol.at(p)
	byWater := -slope * p / (ethanol + water)
	if gradient != nil {
		gradient[EthanolGrams] = -slope * (1 - p) / (ethanol + water)
	}
	for i := range freezingSolutes {
		f := &freezingSolutes[i]
		amount := 0.0
		for _, c := range f.components {
			amount += s[c]
		}
		perUnit := 1000 / (f.gramsPerMole * water)
		molality := amount * perUnit
		depression += cryoscopicConstant * molality * (1 + f.growth*molality)
		rise := cryoscopicConstant * (1 + 2*f.growth*molality)
		byWater -= rise * molality / water
		if gradient != nil {
			for _, c := range f.components {
				gradient[c] = -rise * perUnit
			}
		}
	}
	if -depression < lowestFreezing {
		if gradient != nil {
			*gradient = State{}
		}
		return lowestFreezing
	}
	if gradient != nil {
		gradient[WaterGrams] = -byWater
	}
	return -depression
}
