package profile

type (
	// EquivalentPerLitre is the strength of a base: moles of hydroxide a litre,
	// its normality.
	EquivalentPerLitre float64
	// GramPerEquivalent is the mass of an acid that neutralises a mole of base.
	GramPerEquivalent float64
	// BaseUsed is how much of one and the same base went in: drops, ml or grams,
	// alike for all that is compared.
	BaseUsed float64
	// PercentWeightInVolume is grams in 100 ml.
	PercentWeightInVolume float64
)

// CitricMonohydratePerCitric is grams of citric acid monohydrate as acid as a
// gram without water: molar masses 210.139 and 192.124.
const CitricMonohydratePerCitric = 210.139 / 192.124

// EquivalentOf returns what a mole of base neutralises of an acid up to pH 8.2:
// its molar mass over the protons it has given by then (citric acid 3,
// phosphoric and the acids with two carboxyl groups 2, the others 1; phosphoric
// acid has really given 1.91, so it reads 4 % low). ok is false for what is no
// acid.
//
// Source: molar masses, IUPAC atomic weights.
func EquivalentOf(acid Component) (equivalent GramPerEquivalent, ok bool) {
	equivalent, ok = equivalents[acid]
	return equivalent, ok
}

var equivalents = map[Component]GramPerEquivalent{
	CitricGrams:     192.124 / 3,
	MalicGrams:      134.087 / 2,
	TartaricGrams:   150.086 / 2,
	LacticGrams:     90.078,
	AceticGrams:     60.052,
	PhosphoricGrams: 97.994 / 2,
	SuccinicGrams:   118.088 / 2,
	AscorbicGrams:   176.124,
	GluconicGrams:   196.155,
	QuinicGrams:     192.167,
	OxalicGrams:     90.034 / 2,
}

// TitratableAcid returns the acid in a sample as grams of anhydrous citric acid
// a litre:
//
//	TA = N V_base / V_sample × 64.041
//
// N the strength of the base, V_base what brought the sample to pH 8.1 or 8.2
// (or phenolphthalein to a lasting pink), less what a blank took; the sample
// free of carbonic acid. The sample must be above 0. Its error is that of the
// two volumes and of the strength: 0.1 ml in 10 ml is 1 %. Dark juices are
// titrated with a pH meter.
//
// Source: the definition; OIV-MA-AS313-01 (wine, to pH 7, as tartaric or
// sulphuric acid) and AOAC 942.15 (fruit, to pH 8.1) compute alike (both from
// memory).
func TitratableAcid(base EquivalentPerLitre, used, sample Millilitre) GramPerLitre {
	return GramPerLitre(float64(base) * float64(used) / float64(sample) * float64(equivalents[CitricGrams]))
}

// BaseNeeded undoes TitratableAcid: the ml of base that a sample takes.
func BaseNeeded(acid GramPerLitre, base EquivalentPerLitre, sample Millilitre) Millilitre {
	return Millilitre(float64(acid) * float64(sample) / float64(base) / float64(equivalents[CitricGrams]))
}

// AcidByYardstick returns the acidity of a sample from how much of one base,
// whatever its strength, the sample and a yardstick of known acidity took to the
// same colour:
//
//	TA = TA_yardstick × (used / used_yardstick) × (V_yardstick / V_sample)
//
// All must be above 0. The acidity is in the unit of the yardstick's, as
// citric acid where that is citric. Twenty drops to within one make 5 % each.
func AcidByYardstick(yardstick GramPerLitre, yardstickVolume Millilitre, yardstickUsed BaseUsed, sample Millilitre, used BaseUsed) GramPerLitre {
	return GramPerLitre(float64(yardstick) * float64(used/yardstickUsed) * float64(yardstickVolume/sample))
}

// FromCitric returns the grams a litre of an acid that titrate like that much
// citric acid: TA × equivalent / 64.041. ok is false for what is no acid.
func (g GramPerLitre) FromCitric(as Component) (converted GramPerLitre, ok bool) {
	equivalent, ok := equivalents[as]
	return GramPerLitre(float64(g) * float64(equivalent/equivalents[CitricGrams])), ok
}

// ToCitric undoes FromCitric: the citric acid that titrates like that much of an
// acid.
func (g GramPerLitre) ToCitric(from Component) (citric GramPerLitre, ok bool) {
	equivalent, ok := equivalents[from]
	if !ok {
		return 0, false
	}
	return GramPerLitre(float64(g) * float64(equivalents[CitricGrams]/equivalent)), true
}

// Percent returns grams in 100 ml: 60 g/L is 6 %.
func (g GramPerLitre) Percent() PercentWeightInVolume { return PercentWeightInVolume(g / 10) }

// GramsPerLitre undoes Percent.
func (p PercentWeightInVolume) GramsPerLitre() GramPerLitre { return GramPerLitre(10 * p) }
