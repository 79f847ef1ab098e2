package pantry

import (
	"math"

	"minim/profile"
)

// Bulk density of granulated sugar in the cup; common practice. Tables run from
// 0.80 to 0.90, that of Japan (JSFC 03005) at 0.90.
const (
	SugarBulkDensity       GramPerMillilitre = 0.85
	SugarBulkDensitySpread GramPerMillilitre = 0.05
)

// Brix of a saturated sucrose solution at 20 °C and in the refrigerator at 5 °C.
//
// Source: Bubník & Kadlec (1995), 64.447 + 0.08222 t + 1.6169e-3 t² - 1.558e-6 t³
// - 4.63e-8 t⁴.
const (
	saturatedWarm profile.Brix = 66.7
	saturatedCold profile.Brix = 64.9
)

// Portion is an amount by weight or by volume; one of the two is given.
type Portion struct {
	Grams       *Measurement[profile.Gram]
	Millilitres *Measurement[profile.Millilitre]
}

// check refuses a portion without an amount or with two; the amounts come back
// with their usual ±.
func (p Portion) check(f *faults, what string) Portion {
	const most = 1e6
	switch {
	case p.Grams == nil && p.Millilitres == nil:
		f.add("no amount of %s; expected grams or ml", what)
	case p.Grams != nil && p.Millilitres != nil:
		f.add("%s in grams and in ml; expected one of them", what)
	case p.Grams != nil:
		g := take(f, what, *p.Grams, most, " g", ScaleSpread)
		p.Grams = &g
	default:
		v := take(f, what, *p.Millilitres, most, " ml", JiggerSpread)
		p.Millilitres = &v
	}
	return p
}

// grams is the mass and its ± at a bulk density; for a portion that was checked.
func (p Portion) grams(bulk Measurement[GramPerMillilitre]) (grams, spread float64) {
	if p.Grams != nil {
		return float64(p.Grams.Value), float64(p.Grams.Spread)
	}
	volume, density := float64(p.Millilitres.Value), float64(bulk.Value)
	return volume * density, math.Hypot(volume*float64(bulk.Spread), float64(p.Millilitres.Spread)*density)
}

// SyrupRecipe is sugar dissolved in water.
type SyrupRecipe struct {
	Name         string
	Sugar, Water Portion
	// Bulk is the density of the sugar in the cup, used where it is measured by
	// volume; 0 stands for 0.85 ± 0.05 g/ml.
	Bulk Measurement[GramPerMillilitre]
	// WaterAt is the temperature at which water is measured by volume: a litre at
	// 90 °C weighs 965 g.
	WaterAt profile.Celsius
	// BoiledOff is what the pot lost on the way, weighed before and after; nil
	// is nothing.
	BoiledOff *Measurement[profile.Gram]
	// Raw is true of demerara, muscovado and other sugars that are not white.
	Raw bool
}

// SyrupFromRecipe computes a syrup from its sugar and water:
//
//	Brix = 100 sugar / (sugar + water - boiled off)
//
// with the density of ICUMSA SPS-4 at that Brix. Volumes become masses through
// the bulk density of the sugar and the density of the water at its temperature.
// For 0 to 75 °Bx; the ± is that of scale, jigger and bulk density, first order.
// Sugars that are not white are counted as sucrose.
func SyrupFromRecipe(r SyrupRecipe) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	r.Sugar, r.Water = r.Sugar.check(&f, "sugar"), r.Water.check(&f, "water")
	if r.Bulk.Value == 0 && r.Bulk.Spread == 0 {
		r.Bulk = Measurement[GramPerMillilitre]{SugarBulkDensity, SugarBulkDensitySpread}
	}
	const mostBulk = 1.6
	r.Bulk = take(&f, "bulk density of the sugar", r.Bulk, mostBulk, " g/ml", SugarBulkDensitySpread)
	f.within("temperature of the water", float64(r.WaterAt), 0, 100, " °C")
	lost, lostSpread := 0.0, 0.0
	if r.BoiledOff != nil {
		lost, lostSpread = float64(r.BoiledOff.Value), math.Max(float64(r.BoiledOff.Spread), float64(ScaleSpread))
		f.within("water boiled off", lost, 0, 1e6, " g")
		f.spread("water boiled off", float64(r.BoiledOff.Spread))
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	sugar, sugarSpread := r.Sugar.grams(r.Bulk)
	perMillilitre := Measurement[GramPerMillilitre]{Value: GramPerMillilitre(profile.WaterDensityAt(r.WaterAt) / 1000)}
	water, waterSpread := r.Water.grams(perMillilitre)
	const mostBrix = 75 // beyond it no syrup stays clear
	brix := 100 * sugar / (sugar + water - lost)
	switch {
	case lost >= water:
		f.add("%s g of water boiled off %s g; expected less", formatNumber(lost), formatNumber(water))
	case !(brix <= mostBrix):
		f.add("%.1f °Bx; expected at most %d, what hot water keeps in solution for a while", brix, mostBrix)
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	values := func(x []float64) []float64 {
		b := profile.Brix(100 * x[0] / (x[0] + x[1] - x[2]))
		return []float64{float64(b), float64(b.GramsPerLitre()), float64(profile.SucroseSolutionDensity(profile.MassFraction(b / 100)))}
	}
	value, s := firstOrder(values, []float64{sugar, water, lost}, []float64{sugarSpread, waterSpread, lostSpread})
	m := newMeasured(name, "syrup", "computed from its recipe; density ICUMSA SPS-4", Computed)
	m.figure(SucrosePerLitre, value[1], s[1])
	m.figure(DensityGramsPerMillilitre, value[2]/1000, s[2]/1000)
	m.none()
	m.Yield = profile.Millilitre(1000 * (sugar + water - lost) / value[2])
	m.remark("%s °Bx; makes %.0f ml", withSpread(value[0], s[0]), float64(m.Yield))
	r.remarks(m, profile.Brix(brix))
	return m.closed()
}

// remarks adds what a reader of the result should know.
func (r *SyrupRecipe) remarks(m *Measured, brix profile.Brix) {
	if r.Sugar.Millilitres != nil {
		m.remark("sugar by volume is taken at %s g/ml; weigh a cup of yours to know better",
			withSpread(float64(r.Bulk.Value), float64(r.Bulk.Spread)))
	}
	const hot = 40
	if r.Water.Millilitres != nil && r.WaterAt > hot {
		m.remark("water measured at %s °C weighs %.3f g/ml", formatNumber(float64(r.WaterAt)), float64(profile.WaterDensityAt(r.WaterAt))/1000)
	}
	if r.BoiledOff == nil {
		m.remark("no water is taken to have boiled off; weigh the pot before and after where it was heated")
	}
	if r.Raw {
		m.remark("the sugar is counted as sucrose; raw cane sugar is 94 %% sucrose and 2 %% glucose and fructose (Ciqual 31017)")
	}
	switch {
	case brix > saturatedWarm:
		m.remark("%.1f °Bx is more than water holds at 20 °C (%.1f); it will grain", float64(brix), float64(saturatedWarm))
	case brix > saturatedCold:
		m.remark("%.1f °Bx is more than water holds at 5 °C (%.1f); it may grain in the refrigerator", float64(brix), float64(saturatedCold))
	}
}
