package pantry

import (
	"math"

	"minim/profile"
)

// BaseCaution is the usual caution for titrating.
const BaseCaution = "sodium hydroxide burns eyes and skin: wear goggles and gloves, follow its label, and pour what was titrated away; it is no drink"

// TitrationReading is one titration of an ingredient.
type TitrationReading struct {
	Name, Category string
	// Sample is the volume titrated, ± 0.1 ml from a syringe or pipette unless
	// given.
	Sample Measurement[profile.Millilitre]
	// Used is the base to a lasting pink or pH 8.1 to 8.2, and Blank what the
	// water beside the sample took; ± 0.1 ml unless given.
	Used  Measurement[profile.Millilitre]
	Blank profile.Millilitre
	// Strength of the base; ± 1 % unless given.
	Strength Measurement[profile.EquivalentPerLitre]
	// As is the acid that is put in its column, such as MalicPerLitre; density
	// or another column that is no acid stands for none, the zero value too.
	As Column
}

// MeasureAcid turns a titration with a base of known strength into an ingredient
// with that titratable acidity, see profile.TitratableAcid: N V / sample ×
// 64.041 g/L as citric acid. The ± is first order in the three readings.
func MeasureAcid(r TitrationReading) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	sample := take(&f, "sample", r.Sample, 1e5, " ml", BuretteSpread)
	used := take(&f, "base", r.Used, 1e5, " ml", BuretteSpread)
	strength := take(&f, "strength of the base", r.Strength, 20, " mol/L", r.Strength.Value*BaseSpreadPercent/100)
	f.within("base of the blank", float64(r.Blank), 0, float64(r.Used.Value), " ml")
	if len(f) > 0 {
		return nil, f.err()
	}
	value, s := firstOrder(func(x []float64) []float64 {
		return []float64{float64(profile.TitratableAcid(profile.EquivalentPerLitre(x[0]), profile.Millilitre(x[1])-r.Blank, profile.Millilitre(x[2])))}
	}, []float64{float64(strength.Value), float64(used.Value), float64(sample.Value)},
		[]float64{float64(strength.Spread), float64(used.Spread), float64(sample.Spread)})
	m := titrated(name, r.Category, "titrated with a base of known strength", r.As, value[0], s[0])
	const little = 5 // ml
	if used.Value < little {
		m.remark("only %s ml of base went in; a larger sample or a weaker base halves the ±", formatNumber(float64(used.Value)))
	}
	return m.closed()
}

// YardstickReading is a titration in the kitchen: of a sample, and of a yardstick
// of known acidity, with the same base to the same colour.
type YardstickReading struct {
	Name, Category string
	// Yardstick is the acidity of a solution that was weighed out, in g/L as
	// citric acid: 60 of a 6 % solution. ± 1 % unless given.
	Yardstick Measurement[profile.GramPerLitre]
	// The volumes titrated, ± 0.5 ml from a jigger unless given.
	YardstickVolume, Sample Measurement[profile.Millilitre]
	// The base that each took, in drops, ml or grams alike; ± half a drop unless
	// given.
	YardstickUsed, SampleUsed Measurement[profile.BaseUsed]
	// As is as in TitrationReading.
	As Column
}

// MeasureAcidByYardstick turns a titration against a yardstick into an ingredient
// with that titratable acidity, see profile.AcidByYardstick. The ± is first order
// in the five readings.
func MeasureAcidByYardstick(r YardstickReading) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	yardstick := take(&f, "acidity of the yardstick", r.Yardstick, 1000, " g/L", r.Yardstick.Value/100)
	yardstickVolume := take(&f, "volume of the yardstick", r.YardstickVolume, 1e5, " ml", JiggerSpread)
	sample := take(&f, "sample", r.Sample, 1e5, " ml", JiggerSpread)
	yardstickUsed := take(&f, "base of the yardstick", r.YardstickUsed, 1e6, "", DropSpread)
	sampleUsed := take(&f, "base of the sample", r.SampleUsed, 1e6, "", DropSpread)
	if len(f) > 0 {
		return nil, f.err()
	}
	value, s := firstOrder(func(x []float64) []float64 {
		return []float64{float64(profile.AcidByYardstick(profile.GramPerLitre(x[0]), profile.Millilitre(x[1]),
			profile.BaseUsed(x[2]), profile.Millilitre(x[3]), profile.BaseUsed(x[4])))}
	}, []float64{float64(yardstick.Value), float64(yardstickVolume.Value), float64(yardstickUsed.Value), float64(sample.Value), float64(sampleUsed.Value)},
		[]float64{float64(yardstick.Spread), float64(yardstickVolume.Spread), float64(yardstickUsed.Spread), float64(sample.Spread), float64(sampleUsed.Spread)})
	const mostAcid = 1500
	f.within("acidity", value[0], 0, mostAcid, " g/L")
	if len(f) > 0 {
		return nil, f.err()
	}
	m := titrated(name, r.Category, "titrated against a yardstick of known acidity", r.As, value[0], s[0])
	m.remark("bicarbonate fizzes and ends at another colour than sodium hydroxide: use one base and one indicator for both, and stir till no bubble comes")
	const apart = 2
	if ratio := float64(r.SampleUsed.Value / r.YardstickUsed.Value); ratio > apart || ratio < 1.0/apart {
		m.remark("sample and yardstick took very different amounts of base; dilute one so that both take about as much")
	}
	return m.closed()
}

// titrated is the ingredient of an acidity in g/L as citric acid.
func titrated(name, category, source string, as Column, acid, spread float64) *Measured {
	m := newMeasured(name, cleanText(category), source, Seen)
	m.figure(TitratableAcidPerLitre, acid, spread)
	m.remark("%s g/L as citric acid, %.2f %%; %.1f as tartaric, %.1f as malic", withSpread(acid, spread), acid/10,
		asAcid(acid, profile.TartaricGrams), asAcid(acid, profile.MalicGrams))
	if isAcid(as) {
		component := columns[as].component
		m.figure(as, asAcid(acid, component), asAcid(spread, component))
		m.remark("all of it is put down to %s", acidName(as))
	}
	m.remark("stir out carbon dioxide before titrating; a dark juice needs a pH meter, to 8.2")
	m.remark(BaseCaution)
	return m
}

// asAcid turns grams of citric acid into the grams of another that titrate alike.
func asAcid(citric float64, as profile.Component) float64 {
	converted, ok := profile.GramPerLitre(citric).FromCitric(as)
	if !ok {
		return math.NaN()
	}
	return float64(converted)
}
