package pantry

import "minim/profile"

// Column numbers the composition figures of an ingredient. In a row whose basis
// is per_kg the figures named PerLitre read per kilogram.
type Column int

// The columns, in the order of the file.
const (
	// DensityGramsPerMillilitre is at 20 °C; of the crystal for a solid.
	DensityGramsPerMillilitre Column = iota
	// StrengthPercent is ml of ethanol in 100 ml at 20 °C.
	StrengthPercent
	SucrosePerLitre
	GlucosePerLitre
	FructosePerLitre
	// OtherSugarsPerLitre is lactose, maltose and sugar-like oligosaccharides.
	OtherSugarsPerLitre
	CitricPerLitre
	MalicPerLitre
	TartaricPerLitre
	LacticPerLitre
	AceticPerLitre
	PhosphoricPerLitre
	// TitratableAcidPerLitre is grams of anhydrous citric acid, to pH 8.2.
	TitratableAcidPerLitre
	PH
	SodiumMilligramsPerLitre
	// GlutamicMilligramsPerLitre is free glutamic acid, as the acid.
	GlutamicMilligramsPerLitre
	// NucleotidesMilligramsPerLitre is inosinic plus guanylic acid, as acids:
	// their plain sum, although guanylic acid tastes 2.3 times as strong.
	NucleotidesMilligramsPerLitre
	// BitternessMilligramsPerLitre is quinine hydrochloride of equal bitterness.
	BitternessMilligramsPerLitre
	CaffeineMilligramsPerLitre
	// CarbonDioxidePerLitre is dissolved gas as packaged.
	CarbonDioxidePerLitre
	// GumPerLitre is gums, pectins, dextrins and other polysaccharides.
	GumPerLitre
	// RelativeSweetness is that of a gram of what stands in no sugar column,
	// sucrose 1.
	RelativeSweetness
	SuccinicPerLitre
	QuinicPerLitre
	GluconicPerLitre
	OxalicPerLitre
	AscorbicPerLitre
	// PolyolsPerLitre is glycerol, sorbitol, erythritol and their like.
	PolyolsPerLitre
	PotassiumMilligramsPerLitre
	// StrongChargePerLitre is strong cations minus strong anions in meq; where
	// there is no figure it follows from the pH, see Ingredient.PerUnit.
	StrongChargePerLitre
	// OtherSolidsPerLitre is fat, protein, fibre and extract of a liquid that
	// stand in no other column. In a solid they are what the columns leave,
	// the water of a hydrate or a cheese with them.
	OtherSolidsPerLitre
	// ThickeningPerLitre is the xanthan gum that thickens as much as what gums
	// are in it. No figure counts as 0: gum arabic, pectin and dextrins at the
	// strength of drinks barely thicken, and count as solids like sugar.
	ThickeningPerLitre
	// ProteinPerLitre is nitrogen times 6.25, as on a label, and FatPerLitre all
	// fat. Both are part of the other solids, see Ingredient.PerUnit. No figure
	// counts as 0 but where HoldsProteinOrFat.
	ProteinPerLitre
	FatPerLitre

	// Columns is how many there are.
	Columns int = iota
)

// columnFacts is what is fixed about each column.
type columnFacts struct {
	heading string
	// low and high are the least and the most a cell can sensibly hold.
	low, high float64
	// component is where the figure goes, each unit of it times perUnit; the
	// density, the strength, pH and relative sweetness have ways of their own.
	component profile.Component
	amount    bool
	// grams is what one unit of the figure weighs.
	grams float64
	// citric is the citric acid that one gram of this acid titrates like.
	citric float64
}

// Grams of citric acid that neutralise as much alkali to pH 8.2 as a gram of
// each acid: citric 192.124/3 g per equivalent over the acid's molar mass
// per equivalent. Phosphoric acid gives two of its three protons, oxalic two,
// ascorbic and the hydroxy acids with one carboxyl group one.
//
// Source: molar masses, IUPAC atomic weights.
const (
	citricPerMalic      = 0.955
	citricPerTartaric   = 0.853
	citricPerLactic     = 0.711
	citricPerAcetic     = 1.066
	citricPerPhosphoric = 1.307
	citricPerSuccinic   = 1.085
	citricPerAscorbic   = 0.364
	citricPerGluconic   = 64.041 / 196.155
	citricPerQuinic     = 64.041 / 192.167
	citricPerOxalic     = 64.041 / 45.017
)

// Bounds of the cells: pure sugar solutions, syrups and acids stay below 1700
// g/L, and a kilogram holds no more than 1000 g.
const (
	mostGrams      = 1700
	mostMilligrams = 1e6
)

func grams(heading string, c profile.Component, citric float64) columnFacts {
	return columnFacts{heading: heading, high: mostGrams, component: c, amount: true, grams: 1, citric: citric}
}

func milligrams(heading string, c profile.Component) columnFacts {
	return columnFacts{heading: heading, high: mostMilligrams, component: c, amount: true, grams: 1e-3}
}

// columns is the one table of the composition columns.
var columns = [Columns]columnFacts{
	DensityGramsPerMillilitre:     {heading: "density_g_per_ml", low: 0.6, high: 3},
	StrengthPercent:               {heading: "abv_percent", high: 100},
	SucrosePerLitre:               grams("sucrose_g_per_l", profile.SucroseGrams, 0),
	GlucosePerLitre:               grams("glucose_g_per_l", profile.GlucoseGrams, 0),
	FructosePerLitre:              grams("fructose_g_per_l", profile.FructoseGrams, 0),
	OtherSugarsPerLitre:           grams("other_sugars_g_per_l", profile.OtherSugarsGrams, 0),
	CitricPerLitre:                grams("citric_g_per_l", profile.CitricGrams, 1),
	MalicPerLitre:                 grams("malic_g_per_l", profile.MalicGrams, citricPerMalic),
	TartaricPerLitre:              grams("tartaric_g_per_l", profile.TartaricGrams, citricPerTartaric),
	LacticPerLitre:                grams("lactic_g_per_l", profile.LacticGrams, citricPerLactic),
	AceticPerLitre:                grams("acetic_g_per_l", profile.AceticGrams, citricPerAcetic),
	PhosphoricPerLitre:            grams("phosphoric_g_per_l", profile.PhosphoricGrams, citricPerPhosphoric),
	TitratableAcidPerLitre:        {heading: "titratable_acidity_g_per_l_as_citric", high: mostGrams, component: profile.TitratableAcidGrams, amount: true},
	PH:                            {heading: "pH", high: 14},
	SodiumMilligramsPerLitre:      milligrams("sodium_mg_per_l", profile.SodiumMilligrams),
	GlutamicMilligramsPerLitre:    milligrams("glutamate_free_mg_per_l", profile.GlutamicMilligrams),
	NucleotidesMilligramsPerLitre: milligrams("nucleotides_mg_per_l", profile.NucleotidesMilligrams),
	BitternessMilligramsPerLitre: {
		heading: "bitterness_mg_per_l_quinine_hcl_eq", high: 1e8,
		component: profile.BitternessMilligrams, amount: true,
	},
	CaffeineMilligramsPerLitre:  milligrams("caffeine_mg_per_l", profile.CaffeineMilligrams),
	CarbonDioxidePerLitre:       {heading: "co2_g_per_l", high: 20, component: profile.CarbonDioxideGrams, amount: true, grams: 1},
	GumPerLitre:                 grams("polysaccharide_g_per_l", profile.GumGrams, 0),
	RelativeSweetness:           {heading: "relative_sweetness", high: 20000},
	SuccinicPerLitre:            grams("succinic_g_per_l", profile.SuccinicGrams, citricPerSuccinic),
	QuinicPerLitre:              grams("quinic_g_per_l", profile.QuinicGrams, citricPerQuinic),
	GluconicPerLitre:            grams("gluconic_g_per_l", profile.GluconicGrams, citricPerGluconic),
	OxalicPerLitre:              grams("oxalic_g_per_l", profile.OxalicGrams, citricPerOxalic),
	AscorbicPerLitre:            grams("ascorbic_g_per_l", profile.AscorbicGrams, citricPerAscorbic),
	PolyolsPerLitre:             grams("polyols_g_per_l", profile.PolyolsGrams, 0),
	PotassiumMilligramsPerLitre: milligrams("potassium_mg_per_l", profile.PotassiumMilligrams),
	StrongChargePerLitre: {
		heading: "net_strong_charge_meq_per_l", low: -1e4, high: 1e4,
		component: profile.StrongChargeMilliequivalents, amount: true,
	},
	OtherSolidsPerLitre: grams("other_solids_g_per_l", profile.OtherSolidsGrams, 0),
	ProteinPerLitre:     {heading: "protein_g_per_l", high: mostGrams, component: profile.ProteinGrams, amount: true},
	FatPerLitre:         {heading: "fat_g_per_l", high: mostGrams, component: profile.FatGrams, amount: true},
	ThickeningPerLitre:  {heading: "thickening_xanthan_g_per_l", high: mostGrams, component: profile.ThickenerGrams, amount: true},
}

// Name returns the heading of the column in the file.
func (c Column) Name() string { return columns[c].heading }

// ColumnNamed returns the composition column of that heading.
func ColumnNamed(heading string) (Column, bool) {
	for c := range columns {
		if columns[c].heading == heading {
			return Column(c), true
		}
	}
	return 0, false
}

// sugarColumns are those that an analysis counts as sugar.
var sugarColumns = []Column{SucrosePerLitre, GlucosePerLitre, FructosePerLitre, OtherSugarsPerLitre}
