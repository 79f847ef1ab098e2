package profile

// Component numbers the extensive amounts that make up a State. The unit of
// each amount is the last word of its name.
type Component int

// The components. Masses of the same substance are never counted twice:
// sodium and potassium are the bare ions, and the ions that came with them
// stand in OtherSolidsGrams.
const (
	WaterGrams Component = iota
	EthanolGrams
	SucroseGrams
	GlucoseGrams
	FructoseGrams
	// OtherSugarsGrams are lactose, maltose and oligosaccharides that an
	// analysis counts as sugars.
	OtherSugarsGrams
	// PolyolsGrams are glycerol, erythritol, sorbitol and their like: solids
	// that sweeten but are not sugar.
	PolyolsGrams
	CitricGrams
	MalicGrams
	TartaricGrams
	LacticGrams
	AceticGrams
	PhosphoricGrams
	SuccinicGrams
	AscorbicGrams
	GluconicGrams
	QuinicGrams
	OxalicGrams
	// GumGrams are gums, pectins, dextrins and other polysaccharides.
	GumGrams
	// OtherSolidsGrams are solids in no other column: proteins, fats, the
	// counter-ions of sodium.
	OtherSolidsGrams
	CarbonDioxideGrams
	// SodiumMilligrams counts every sodium ion, whatever salt it came in.
	SodiumMilligrams
	PotassiumMilligrams
	// GlutamicMilligrams is free glutamic acid, counted as the acid.
	GlutamicMilligrams
	// NucleotidesMilligrams is inosinic plus guanylic acid, free acids, gram for
	// gram although guanylic acid tastes 2.3 times as strong.
	NucleotidesMilligrams
	CaffeineMilligrams

	// From here on the amounts carry no mass of their own.

	// SweetenerGrams is the sucrose that tastes as sweet as the sweeteners
	// that stand in no sugar column.
	SweetenerGrams
	// ThickenerGrams is the xanthan gum that thickens as much as the gums do;
	// those that barely thicken, as gum arabic does, stand in GumGrams alone.
	ThickenerGrams
	// ProteinGrams and FatGrams are part of OtherSolidsGrams, where their mass
	// counts; here they count for their energy alone.
	ProteinGrams
	FatGrams
	// TitratableAcidGrams is the acid found by titration to pH 8.2 in the
	// degassed liquid, as grams of anhydrous citric acid.
	TitratableAcidGrams
	// StrongChargeMilliequivalents is strong cations minus strong anions; the
	// acids listed above are weak and not in it, nor is table salt.
	StrongChargeMilliequivalents
	// BitternessMilligrams is the quinine hydrochloride of equal bitterness.
	BitternessMilligrams
	// VolumeCorrectionMillilitres is what measured density says the liquid
	// takes up at 20 °C beyond the volume computed from its composition.
	VolumeCorrectionMillilitres
	// HeatJoules is heat content above liquid water and liquid ethanol apart, at
	// 0 °C.
	HeatJoules
	// Cost is money, in whatever currency the pantry's prices are.
	Cost

	// Components is how many there are.
	Components int = iota
)

// firstMassless is the first component that carries no mass of its own.
const firstMassless = SweetenerGrams

// State is a drink in progress as a vector of extensive amounts, each in the
// unit of its Component. Mixing two drinks adds their states, exactly: masses
// add, volumes do not and are computed from the state (see Volume).
type State [Components]float64

// Add returns the state of s and t mixed together.
func (s State) Add(t State) State {
	for i := range s {
		s[i] += t[i]
	}
	return s
}

// Scale returns the state of f times as much of the same drink; f is 0 or more.
func (s State) Scale(f float64) State {
	for i := range s {
		s[i] *= f
	}
	return s
}

// Mass returns the total mass: the sum of all components that carry mass,
// milligrams counted as thousandths.
func (s State) Mass() Gram {
	total := 0.0
	for _, grams := range s[:SodiumMilligrams] {
		total += grams
	}
	for _, milligrams := range s[SodiumMilligrams:firstMassless] {
		total += milligrams * 1e-3
	}
	return Gram(total)
}

// gramsPerUnit is how many grams one unit of component c weighs.
func gramsPerUnit(c Component) float64 {
	switch {
	case c >= firstMassless:
		return 0
	case c >= SodiumMilligrams:
		return 1e-3
	default:
		return 1
	}
}
