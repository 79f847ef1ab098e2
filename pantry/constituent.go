package pantry

import (
	"strings"

	"minim/profile"
)

// Constituent is one substance in an ingredient.
type Constituent struct {
	// Name is what a bar calls it, Unit g or mg.
	Name, Unit string
	// PerLitre is how much is in a litre of a liquid; 0 for a solid.
	PerLitre float64
	// PerLitreSpread is one standard deviation of it, and of a kilogram for a solid.
	PerLitreSpread float64
	// Factor is what the amount is multiplied and divided by for its range, in
	// the place of a ±; 0 for none.
	Factor float64
	// PerHundredGrams is how much is in 100 g.
	PerHundredGrams float64
	// Known is false where nobody gave the figure.
	Known bool
	// Source and Confidence are those of the figure.
	Source     string
	Confidence Confidence
}

// Sources of what follows from the other figures.
const (
	// ByDifference is the water that the figures leave of the mass.
	ByDifference = "by difference"
	// ByEquivalents is the titratable acid that the listed acids add up to.
	ByEquivalents = "by equivalents"
)

// constituentNames are the columns whose heading is no word of the bar's.
var constituentNames = map[Column]string{
	TitratableAcidPerLitre:        "titratable acid as citric",
	GlutamicMilligramsPerLitre:    "free glutamate",
	NucleotidesMilligramsPerLitre: "nucleotides",
	BitternessMilligramsPerLitre:  "bitterness as quinine HCl",
	CarbonDioxidePerLitre:         "carbon dioxide",
	GumPerLitre:                   "polysaccharides",
	StrengthPercent:               "ethanol",
	RelativeSweetness:             "relative sweetness",
	StrongChargePerLitre:          "net strong charge, meq",
	DensityGramsPerMillilitre:     "density",
	ProteinPerLitre:               "protein (of other solids)",
	FatPerLitre:                   "fat (of other solids)",
	PH:                            "pH",
}

// Word returns what a bar calls the column.
func (c Column) Word() string {
	if name, ok := constituentNames[c]; ok {
		return name
	}
	name := columns[c].heading
	for _, ending := range []string{"_mg_per_l", "_g_per_l"} {
		name = strings.TrimSuffix(name, ending)
	}
	return strings.ReplaceAll(name, "_", " ")
}

// Constituents returns what is in the ingredient: first the water that its
// figures leave of its mass, and the ethanol of its strength, then each column
// that is an amount, unknown ones included but for those that count as none. In a solid what the figures leave
// is not water alone, so it has no water line.
func (i *Ingredient) Constituents() []Constituent {
	unit, spread := i.PerUnit(), i.PerUnitSpread()
	mass := float64(unit.Mass())
	one := func(name, unitText string, amount, plusMinus float64) Constituent {
		out := Constituent{Name: name, Unit: unitText, PerLitreSpread: 1000 * plusMinus, Known: true}
		if !i.Solid {
			out.PerLitre = 1000 * amount
		}
		if mass > 0 {
			out.PerHundredGrams = 100 * amount / mass
		}
		return out
	}
	var all []Constituent
	if !i.Solid {
		water := one("water", "g", unit[profile.WaterGrams], 0)
		water.Source, water.Confidence = ByDifference, Computed
		strength := i.Figures[StrengthPercent]
		ethanol := one(StrengthPercent.Word(), "g", unit[profile.EthanolGrams], spread[profile.EthanolGrams])
		ethanol.Known, ethanol.Source, ethanol.Confidence = strength.Known, strength.Source, strength.Confidence
		all = append(all, water, ethanol)
	}
	for c, facts := range columns {
		if !facts.amount || Column(c) == StrongChargePerLitre || Column(c) == ThickeningPerLitre {
			continue
		}
		f := i.Figures[c]
		if i.told(Column(c)) && !f.Known {
			continue
		}
		text := "g"
		if strings.Contains(facts.heading, "_mg_per_l") {
			text = "mg"
		}
		line := one(Column(c).Word(), text, f.Value*i.perUnit(), f.Spread*i.perUnit())
		if Column(c) == BitternessMilligramsPerLitre && !i.HasOwnBitterness() {
			line.Factor = BitternessFactor
		}
		if Column(c) == TitratableAcidPerLitre && !f.Known && !i.Unknown(profile.Acid) {
			line = one(Column(c).Word(), text, unit[profile.TitratableAcidGrams], spread[profile.TitratableAcidGrams])
			line.Source, line.Confidence = ByEquivalents, Computed
			all = append(all, line)
			continue
		}
		line.Known, line.Source, line.Confidence = f.Known, f.Source, f.Confidence
		all = append(all, line)
	}
	return all
}

// MeasureText returns the ingredient's own measure as its file writes it, such
// as "1 dash"; empty where it has none.
func (i *Ingredient) MeasureText() string { return i.stepText() }
