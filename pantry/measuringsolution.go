package pantry

import (
	"math"
	"strings"

	"minim/profile"
)

// coarse is the relative ± from which a solution should be made anew.
const coarse = 0.02

// smallStep is the measure of strong solutions: 0.25 ml, a few drops.
const smallStep = 0.25

// Solvent says what a solid was dissolved in: in so many grams of water (percent
// by weight), or made up with water to so many ml (percent weight in volume).
type Solvent struct {
	Water    *Measurement[profile.Gram]
	MadeUpTo *Measurement[profile.Millilitre]
}

func (s Solvent) check(f *faults) Solvent {
	const most = 1e6
	switch {
	case s.Water == nil && s.MadeUpTo == nil:
		f.add("no water; expected grams of water, or the ml that the solution was made up to")
	case s.Water != nil && s.MadeUpTo != nil:
		f.add("grams of water and ml made up to; expected one of them")
	case s.Water != nil:
		w := take(f, "water", *s.Water, most, " g", ScaleSpread)
		s.Water = &w
	default:
		v := take(f, "made up to", *s.MadeUpTo, most, " ml", JiggerSpread)
		s.MadeUpTo = &v
	}
	return s
}

// amount is the grams of water or the ml made up to, and its ±.
func (s Solvent) amount() (amount, spread float64) {
	if s.Water != nil {
		return float64(s.Water.Value), float64(s.Water.Spread)
	}
	return float64(s.MadeUpTo.Value), float64(s.MadeUpTo.Spread)
}

// SalineRecipe is salt dissolved in water.
type SalineRecipe struct {
	Name    string
	Salt    Measurement[profile.Gram]
	Solvent Solvent
}

// SalineFromRecipe computes a solution of sodium chloride, up to what water holds
// at 20 °C, 26.4 % by weight. In grams of water w = salt / (salt + water); made
// up to V ml, w is what satisfies w ρ(w) = salt / V. The salt is taken to be
// sodium chloride alone. The density is within 0.3 kg/m³ of the table, the ±
// that of scale and jigger, first order.
//
// Source: CRC Handbook, see profile.SodiumChlorideSolutionDensity.
func SalineFromRecipe(r SalineRecipe) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	salt := take(&f, "salt", r.Salt, 1e6, " g", ScaleSpread)
	solvent := r.Solvent.check(&f)
	if len(f) > 0 {
		return nil, f.err()
	}
	fraction := func(salt, amount float64) float64 {
		if solvent.Water != nil {
			return salt / (salt + amount)
		}
		perLitre := 1000 * salt / amount
		return crossing(0, 1, func(w float64) bool {
			return w*float64(profile.SodiumChlorideSolutionDensity(profile.MassFraction(w))) < perLitre
		})
	}
	amount, amountSpread := solvent.amount()
	w := fraction(float64(salt.Value), amount)
	if w > float64(profile.SodiumChlorideSaturated) {
		f.add("%.1f %% salt by weight; expected at most %.1f, what water holds at 20 °C", 100*w, 100*float64(profile.SodiumChlorideSaturated))
		return nil, f.err()
	}
	values := func(x []float64) []float64 {
		w := fraction(x[0], x[1])
		density := float64(profile.SodiumChlorideSolutionDensity(profile.MassFraction(w)))
		return []float64{100 * w, density, w * density}
	}
	value, s := firstOrder(values, []float64{float64(salt.Value), amount}, []float64{float64(salt.Spread), amountSpread})
	m := newMeasured(name, "salt", "computed from its recipe; density CRC Handbook", Computed)
	m.Ingredient.Step = Step{Amount: smallStep}
	const milligramsSodium = 1000 / (1 + chloridePerSodium)
	m.figure(SodiumMilligramsPerLitre, milligramsSodium*value[2], milligramsSodium*s[2])
	const tableSpread = 0.3 // kg/m³
	m.figure(DensityGramsPerMillilitre, value[1]/1000, math.Hypot(s[1], tableSpread)/1000)
	m.none()
	m.Yield = profile.Millilitre(1000 * float64(salt.Value) / value[2])
	m.remark("%s g of salt a litre, %.1f %% by weight, %.1f %% weight in volume; makes %.0f ml",
		withSpread(value[2], s[2]), value[0], value[2]/10, float64(m.Yield))
	if s[2] > coarse*value[2] {
		m.remark("± %.1f %% comes of so small an amount on this scale; weigh more, or on a finer one", 100*s[2]/value[2])
	}
	m.remark("the salt is counted as sodium chloride; moist sea salt holds a few per cent less")
	return m.closed()
}

// AcidPowder is an acid that was weighed: a powder or a strong solution of it.
type AcidPowder struct {
	// Acid is one of the columns of an acid, such as CitricPerLitre.
	Acid  Column
	Grams Measurement[profile.Gram]
	// Purity is grams of the acid itself in a gram; 0 stands for 1. Citric acid
	// monohydrate is 192.124/210.139 = 0.914, lactic acid often 0.88, phosphoric
	// 0.85; the rest is water.
	Purity profile.MassFraction
}

// AcidRecipe is acids dissolved in water.
type AcidRecipe struct {
	Name    string
	Acids   []AcidPowder
	Solvent Solvent
}

// CitricMonohydratePurity is citric acid in a gram of its monohydrate.
const CitricMonohydratePurity profile.MassFraction = 1 / profile.CitricMonohydratePerCitric

// Solutions of more acid than this earn the caution.
const strongAcid = 100 // g/L

// AcidCaution is the usual caution for strong acids.
const AcidCaution = "strong acid harms eyes, skin and teeth: wear goggles and gloves, add acid to water, label it, and follow the label of the pack"

// AcidFromRecipe computes a solution of food acids. Its volume is that of its
// state at 20 °C, made up to V ml with the water that takes it there; for 0 to
// 30 % by weight (malic and tartaric acid with the apparent volume of citric,
// an estimate). The ± is that of scale and jigger, first order, and 0.1 % of
// the density.
//
// Source: CRC Handbook, see profile.State.Volume.
func AcidFromRecipe(r AcidRecipe) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	solvent := r.Solvent.check(&f)
	inputs, spreads := []float64{0}, []float64{0}
	if len(r.Acids) == 0 {
		f.add("no acid; expected at least one")
	}
	for n := range r.Acids {
		a := &r.Acids[n]
		if !isAcid(a.Acid) {
			f.add("acid %d is none; expected one of %s", n+1, acidNames())
			continue
		}
		grams := take(&f, acidName(a.Acid), a.Grams, 1e6, " g", ScaleSpread)
		f.within("purity of "+acidName(a.Acid), float64(a.Purity), 0, 1, "")
		inputs, spreads = append(inputs, float64(grams.Value)), append(spreads, float64(grams.Spread))
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	inputs[0], spreads[0] = solvent.amount()
	composition := func(x []float64) profile.State { return r.state(solvent, x) }
	state := composition(inputs)
	const mostAcid = 0.30
	if acid := 1 - state[profile.WaterGrams]/float64(state.Mass()); !(acid <= mostAcid) || state[profile.WaterGrams] <= 0 {
		f.add("%.0f %% acid by weight; expected at most %.0f", 100*acid, 100*mostAcid)
		return nil, f.err()
	}
	values := func(x []float64) []float64 {
		s := composition(x)
		litres := float64(s.Volume()) / 1000
		out := []float64{float64(s.Mass()) / litres}
		for c := range columns {
			if isAcid(Column(c)) {
				out = append(out, s[columns[c].component]/litres)
			}
		}
		return out
	}
	value, spread := firstOrder(values, inputs, spreads)
	m := newMeasured(name, "acid", "computed from its recipe; density CRC Handbook", Computed)
	m.Ingredient.Step = Step{Amount: smallStep}
	const tableSpread = 0.001
	m.figure(DensityGramsPerMillilitre, value[0]/1000, math.Hypot(spread[0], tableSpread*value[0])/1000)
	titrated, titratedSquare, n := 0.0, 0.0, 0
	for c := range columns {
		if !isAcid(Column(c)) {
			continue
		}
		n++
		if value[n] > 0 {
			m.figure(Column(c), value[n], spread[n])
			titrated += columns[c].citric * value[n]
			titratedSquare += columns[c].citric * spread[n] * columns[c].citric * spread[n]
		}
	}
	m.figure(TitratableAcidPerLitre, titrated, math.Sqrt(titratedSquare))
	m.none()
	m.Yield = profile.Millilitre(state.Volume())
	m.remark("%s g/L as citric acid, %.1f %% weight in volume; makes %.0f ml", withSpread(titrated, math.Sqrt(titratedSquare)), titrated/10, float64(m.Yield))
	if spread := math.Sqrt(titratedSquare); spread > coarse*titrated {
		m.remark("± %.1f %% comes of so small an amount on this scale; weigh more, or on a finer one", 100*spread/titrated)
	}
	if titrated > strongAcid {
		m.remark(AcidCaution)
	}
	return m.closed()
}

// state is the solution of x: the solvent's amount, then the grams of each acid.
func (r *AcidRecipe) state(solvent Solvent, x []float64) profile.State {
	var s profile.State
	water := 0.0
	for n, a := range r.Acids {
		purity := float64(a.Purity)
		if purity == 0 {
			purity = 1
		}
		s[columns[a.Acid].component] += purity * x[n+1]
		water += (1 - purity) * x[n+1]
	}
	if solvent.Water != nil {
		s[profile.WaterGrams] = water + x[0]
		return s
	}
	s[profile.WaterGrams] = crossing(0, 2*x[0], func(w float64) bool {
		filled := s
		filled[profile.WaterGrams] = w
		return float64(filled.Volume()) < x[0]
	})
	return s
}

// isAcid tells whether a column is that of an acid of its own.
func isAcid(c Column) bool { return c >= 0 && int(c) < Columns && columns[c].citric > 0 }

// acidName is the word for an acid's column.
func acidName(c Column) string {
	word, _, _ := strings.Cut(columns[c].heading, "_")
	return word + " acid"
}

// acidNames lists the acids.
func acidNames() string {
	var names []string
	for c := range columns {
		if isAcid(Column(c)) {
			names = append(names, acidName(Column(c)))
		}
	}
	return strings.Join(names, ", ")
}
