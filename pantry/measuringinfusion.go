package pantry

import (
	"math"
	"slices"

	"minim/profile"
)

type (
	// Hour is a time of steeping.
	Hour float64
	// PerHour is the rate of a first-order extraction.
	PerHour float64
	// MillilitrePerGram is liquid kept back by a gram of dry solids.
	MillilitrePerGram float64
)

// ColdBrewRate is that of caffeine into water at 20 to 25 °C: equilibrium, taken
// as 95 %, after 6 to 7 hours (an estimate from it).
//
// Source: Fuller & Rao, Scientific Reports 7 (2017) 17979.
const ColdBrewRate PerHour = 0.46

// Liquid kept back by a gram of dry tea or coffee (from memory), with a ± that
// covers 1.5 to 2.5; fruit pulp keeps 0.3 to 1.
const (
	RetainedByLeaf       MillilitrePerGram = 2
	RetainedByLeafSpread MillilitrePerGram = 0.3
)

// ExtractedShare returns what a first-order extraction has given after t, as a
// share of what it gives in the end:
//
//	1 - exp(-k t)
//
// For k and t of 0 or more; leaf, peel and root follow it roughly, with a fast
// first wash on top.
func ExtractedShare(k PerHour, t Hour) float64 { return -math.Expm1(-float64(k) * float64(t)) }

// Extract is one thing that the plant gives to the liquid.
type Extract struct {
	// Into is its column: bitterness, caffeine, an acid, a sugar.
	Into Column
	// Dose is what a kilogram of the plant holds of it, in the column's unit for
	// a kilogram.
	Dose, DoseSpread float64
	// Share is the part of it that goes over in the end, measured or read in a
	// source, 0 to 1; there is no usual one.
	Share, ShareSpread float64
	// Rate makes it a matter of time, see ExtractedShare; 0 is a share that is
	// reached, however long it took.
	Rate PerHour
}

// InfusionRecipe is a plant steeped in a liquid and strained off.
type InfusionRecipe struct {
	Name, Category string
	// Base is the liquid, such as a spirit.
	Base *Ingredient
	// Volume of the base at 20 °C; ± 0.5 ml unless given.
	Volume Measurement[profile.Millilitre]
	Plant  Measurement[profile.Gram]
	// PlantWater is the part of the plant that is water and goes into the liquid:
	// 0.85 to 0.95 of fresh fruit, 0 of what is dry. ± as given.
	PlantWater Measurement[profile.MassFraction]
	// Retained is the liquid that a gram of the plant keeps back; 0 stands for
	// 2 ± 0.3 ml/g, that of dry tea or coffee.
	Retained Measurement[MillilitrePerGram]
	Time     Hour
	Extracts []Extract
}

// InfusionCaution is the usual caution for infusions and home-made tinctures.
const InfusionCaution = "steep only plants sold as food, in food-grade vessels; high-proof spirit and its vapour burn: no flame near it; keep to local law"

// InfusionFromRecipe computes an infusion or a tincture: the base with the water
// of the plant and the extracts in it,
//
//	c = (c_base V + plant × dose × share × (1 - exp(-k t))) / V'
//
// V' the volume of the state at 20 °C. What the plant keeps back has the strength
// of the liquid, so that it takes from the yield alone. No rate for spirit on
// peel, herbs, chilli or vanilla was found published: without a measured share
// an extract is refused. The ± is first order in amounts, water, dose and share.
func InfusionFromRecipe(r InfusionRecipe) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	r.check(&f)
	if len(f) > 0 {
		return nil, f.err()
	}
	if r.Retained == (Measurement[MillilitrePerGram]{}) {
		r.Retained = Measurement[MillilitrePerGram]{RetainedByLeaf, RetainedByLeafSpread}
	}
	inputs := []float64{float64(r.Volume.Value), float64(r.Plant.Value), float64(r.PlantWater.Value)}
	spreads := []float64{float64(r.Volume.Spread), float64(r.Plant.Spread), float64(r.PlantWater.Spread)}
	for _, e := range r.Extracts {
		inputs, spreads = append(inputs, e.Dose, e.Share), append(spreads, e.DoseSpread, e.ShareSpread)
	}
	category := cleanText(r.Category)
	if category == "" {
		category = "bitters & tincture"
	}
	m := newMeasured(name, category, "computed from its recipe on "+r.Base.Name, Computed)
	base := r.Base.inLitres()
	share := func(n int, x []float64) float64 { // grams or mg that extract n gives
		return x[1] / 1000 * x[3+2*n] * x[4+2*n] * r.Extracts[n].reached(r.Time)
	}
	finished := func(x []float64) (volume, density float64) {
		s := r.Base.PerUnit().Scale(x[0])
		s[profile.WaterGrams] += x[1] * x[2]
		for n, e := range r.Extracts {
			if facts := columns[e.Into]; facts.grams > 0 {
				s[facts.component] += share(n, x)
			}
		}
		volume = float64(s.Volume())
		return volume, 1000 * float64(s.Mass()) / volume
	}
	var filled []Column
	for c := range Column(Columns) {
		if r.fills(c) {
			filled = append(filled, c)
		}
	}
	values := func(x []float64) []float64 {
		volume, density := finished(x)
		out := []float64{density, volume}
		for _, c := range filled {
			v := base[c].Value * x[0] / volume
			for n, e := range r.Extracts {
				switch {
				case e.Into == c:
					v += share(n, x) / volume * 1000
				case c == TitratableAcidPerLitre:
					v += columns[e.Into].citric * share(n, x) / volume * 1000
				}
			}
			out = append(out, v)
		}
		return out
	}
	value, s := firstOrder(values, inputs, spreads)
	dilution := inputs[0] / value[1]
	baseDensity := base[DensityGramsPerMillilitre].Spread
	m.figure(DensityGramsPerMillilitre, value[0]/1000, math.Hypot(s[0]/1000, baseDensity))
	for n, c := range filled {
		ofBase := base[c].Spread
		if c == BitternessMilligramsPerLitre && !base[c].OwnSpread && s[n+2] > 0 {
			ofBase = base[c].Value * math.Log(BitternessFactor)
		}
		m.figure(c, value[n+2], math.Hypot(s[n+2], ofBase*dilution))
	}
	m.Ingredient.Allergens = slices.Clone(r.Base.Allergens)
	m.Yield = profile.Millilitre(value[1] - float64(r.Retained.Value)*inputs[1])
	if m.Yield <= 0 {
		f.add("%.0f g of plant keep back all of the %.0f ml; expected more liquid, or a smaller retained", inputs[1], value[1])
		return nil, f.err()
	}
	yieldSpread := math.Hypot(s[1], float64(r.Retained.Spread)*inputs[1])
	m.remark("%.0f g of plant a litre of %s; yields %s ml, the plant keeps back %.0f ml",
		1000*inputs[1]/inputs[0], r.Base.Name, withSpread(float64(m.Yield), yieldSpread), value[1]-float64(m.Yield))
	r.remarks(m)
	return m.closed()
}

// check refuses what no infusion can have and sets the usual ±.
func (r *InfusionRecipe) check(f *faults) {
	if r.Base == nil || r.Base.Solid {
		f.add("no liquid to steep in; expected one with a known composition")
	} else if strength := r.Base.Figures[StrengthPercent]; !strength.Known {
		f.add("%s has no strength; expected abv_percent, 0 for none", r.Base.Name)
	}
	r.Volume = take(f, "volume of the base", r.Volume, 1e6, " ml", JiggerSpread)
	r.Plant = take(f, "plant", r.Plant, 1e6, " g", ScaleSpread)
	f.within("water of the plant", float64(r.PlantWater.Value), 0, 1, "")
	f.spread("water of the plant", float64(r.PlantWater.Spread))
	f.within("liquid kept back", float64(r.Retained.Value), 0, 20, " ml/g")
	f.spread("liquid kept back", float64(r.Retained.Spread))
	f.within("time", float64(r.Time), 0, 1e5, " h")
	for n, e := range r.Extracts {
		if e.Into < 0 || int(e.Into) >= Columns || !columns[e.Into].amount || e.Into == TitratableAcidPerLitre || e.Into == StrongChargePerLitre {
			f.add("extract %d goes into no amount of the pantry; expected a column such as %s", n+1, BitternessMilligramsPerLitre.Name())
			continue
		}
		what := e.Into.Name()
		f.within("dose of "+what, e.Dose, 0, 1e9, "")
		f.spread("dose of "+what, e.DoseSpread)
		f.spread("share of "+what, e.ShareSpread)
		f.within("rate of "+what, float64(e.Rate), 0, 1e4, " per hour")
		if !(e.Share > 0 && e.Share <= 1) {
			f.add("share of %s %v; expected more than 0 and at most 1, as measured: no rate for spirits is published, so taste or titrate it against a dilution series", what, e.Share)
		}
		if e.Rate > 0 && r.Time <= 0 {
			f.add("no time for %s, which has a rate; expected hours", what)
		}
	}
}

// reached is the part of the final share after t.
func (e *Extract) reached(t Hour) float64 {
	if e.Rate == 0 {
		return 1
	}
	return ExtractedShare(e.Rate, t)
}

// fills tells whether the infusion has a figure in a column: the base's, and for
// an extract it must be one that the base has as well, or has none of.
func (r *InfusionRecipe) fills(c Column) bool {
	if !columns[c].amount && c != StrengthPercent {
		return false
	}
	return r.Base.Figures[c].Known
}

// remarks adds what a reader of the result should know.
func (r *InfusionRecipe) remarks(m *Measured) {
	for _, e := range r.Extracts {
		if !r.Base.Figures[e.Into].Known {
			m.remark("the %s of %s is unknown, so that of the infusion is too", e.Into.Word(), r.Base.Name)
		}
		const nearlyAll = 0.95
		if reached := e.reached(r.Time); reached < nearlyAll {
			m.remark("after %s h %.0f %% of the final %s is there", formatNumber(float64(r.Time)), 100*reached, e.Into.Word())
		}
	}
	if r.PlantWater.Value > 0 {
		m.remark("the water of the plant, %.0f g, went into the liquid", float64(r.PlantWater.Value)*float64(r.Plant.Value))
	}
	if len(r.Extracts) == 0 {
		m.remark("colour, aroma and whatever else the plant gives is in no figure; measure its Brix, acid or bitterness")
	}
	if r.Base.Figures[PH].Known {
		m.remark("its pH is unknown; measure it")
	}
	m.remark(InfusionCaution)
}

// inLitres returns the figures of a liquid per litre.
func (i *Ingredient) inLitres() [Columns]Figure {
	figures := i.Figures
	if !i.PerKilogram {
		return figures
	}
	for c := range figures {
		if columns[c].amount {
			figures[c].Value *= figures[DensityGramsPerMillilitre].Value
			figures[c].Spread *= figures[DensityGramsPerMillilitre].Value
		}
	}
	return figures
}
