package pantry

import (
	"fmt"
	"math"

	"minim/profile"
)

// LiqueurReadings are what a bar can read of a liquid of sugar, ethanol and
// water: any two of the three, or all. Liquids without alcohol have a strength
// of 0.
type LiqueurReadings struct {
	Name string
	// Category is that of the ingredient; empty stands for liqueur.
	Category string
	Brix     *BrixReading
	Density  *DensityReading
	// Strength is that of the label; ± 0.3 % vol unless given.
	Strength *Measurement[profile.PercentVolume]
}

// The readings in the order in which a solution is computed from them.
const (
	byDensity = iota
	byBrix
	byStrength
	readings
)

var readingFacts = [readings]struct {
	instrument, unit string
	decimals         int
}{
	{"density", " kg/m³", 1},
	{"refractometer", " °Bx", 1},
	{"label", " % vol", 1},
}

// ContradictionError is returned where readings cannot be of one liquid.
type ContradictionError struct {
	// Instrument is the one whose reading does not fit the others.
	Instrument string
	// Read and Expected are its reading and what the others say that it would
	// be, Apart the difference, all in Unit, and Allowed one standard deviation
	// of it by the errors of all instruments.
	Read, Expected, Apart, Allowed float64
	Unit                           string
	// Others says which of the other readings could be at fault instead.
	Others string
}

// Error says by how much the readings contradict each other.
func (e *ContradictionError) Error() string {
	return fmt.Sprintf("the readings contradict each other: the %s says %.1f%s where the others make it %s%s, %.1f%s apart%s; read again, at 20 °C and without bubbles",
		e.Instrument, e.Read, e.Unit, withSpread(e.Expected, e.Allowed), e.Unit, e.Apart, e.Unit, e.Others)
}

// Readings whose difference exceeds these standard deviations are remarked on
// and refused.
const (
	remarkedAt = 2
	refusedAt  = 3
)

// Standard deviations of the model where sugar and ethanol stand together, at 30
// % vol and 400 g/L and in proportion to both (estimates): of the density from
// its distance to the relation of Tabarié (OIV-MA-AS2-03B), of the refraction
// from the three digits that Lorentz and Lorenz's rule loses in ethanol and
// water, as no measured table of the three was found.
const (
	modelDensity = 2.0 // kg/m³
	modelBrix    = 0.3 // °Bx
)

// mostSugarPerSolvent bounds the search: grams of sugar per gram of ethanol and
// water; 85 °Bx is 5.7.
const mostSugarPerSolvent = 6

// liqueur is a composition: grams of ethanol per gram of ethanol and water, and
// of sugar per gram of the same.
type liqueur struct{ ethanol, sugar float64 }

func (l liqueur) state() (s profile.State) {
	s[profile.EthanolGrams], s[profile.WaterGrams], s[profile.SucroseGrams] = l.ethanol, 1-l.ethanol, l.sugar
	return s
}

func (l liqueur) strength() float64 {
	s := l.state()
	return 100 * l.ethanol * 1000 / float64(profile.EthanolDensity) / float64(s.Volume())
}

func (l liqueur) sugarPerLitre() float64 {
	s := l.state()
	return 1000 * l.sugar / float64(s.Volume())
}

// liqueurQuestion is the readings as numbers with their ±.
type liqueurQuestion struct {
	given        [readings]bool
	read, spread [readings]float64
	brix         *BrixReading
	densityAt    profile.Celsius
}

// reads is what an instrument would show of l.
func (q *liqueurQuestion) reads(n int, l liqueur) float64 {
	switch n {
	case byDensity:
		return float64(l.state().DensityAt(q.densityAt))
	case byBrix:
		return float64(q.brix.shown(l.state()))
	default:
		return l.strength()
	}
}

// excess is how much more than v an instrument shows, in a unit of its own.
func (q *liqueurQuestion) excess(n int, v float64) func(l liqueur) float64 {
	if n == byBrix {
		index := q.brix.index(profile.Brix(v))
		return func(l liqueur) float64 { return float64(l.state().RefractiveIndexAt(q.brix.At) - index) }
	}
	return func(l liqueur) float64 { return q.reads(n, l) - v }
}

// solve returns the composition of which two instruments show a and b, the
// first density or refraction. Sugar raises both at each strength, and along
// one value of the first the second rises with the strength; so that two nested
// bracketed searches find the one solution, or the end of the range that comes
// nearest.
func (q *liqueurQuestion) solve(first, second int, a, b float64) liqueur {
	ofFirst, ofSecond := q.excess(first, a), q.excess(second, b)
	at := func(ethanol float64) liqueur {
		return liqueur{ethanol, root(0, mostSugarPerSolvent, func(s float64) float64 { return ofFirst(liqueur{ethanol, s}) })}
	}
	least := 0.0
	if first == byDensity {
		// Weaker than this even the liquid without sugar is too heavy.
		least = root(0, 1, func(p float64) float64 { return -ofFirst(liqueur{p, 0}) })
	}
	return at(root(least, 1, func(p float64) float64 { return ofSecond(at(p)) }))
}

// MeasureLiqueur solves density, refraction and strength for the sugar and the
// strength of a liquid of sucrose, ethanol and water.
//
// Two readings give both unknowns by nested bracketed searches on ρ(sugar,
// strength) and n(sugar, strength), which cannot fail: readings beyond the range give its
// nearest end. With all three the label corrects what density and refraction
// say, each by its weight,
//
//	x = x₀ + C h (L - A₀) / (C_AA + s_L²)
//
// x₀ = (sugar₀, A₀) and C its covariance by first order, h the strength's row,
// L ± s_L the label. Readings that differ by more than three standard deviations
// are a *ContradictionError, by more than two a remark.
//
// For 0 to 60 % vol and 0 to 800 g/L. The ± is that of the instruments, first
// order, and of the model, see modelDensity: with ± 0.2 °Bx and ± 0.001 about
// ± 3 g/L and ± 0.6 % vol. All that is dissolved counts as sucrose.
//
// Source: OIML R 22, ICUMSA SPS-4 and 1974, CRC Handbook; see
// profile.State.DensityAt and RefractiveIndexAt.
func MeasureLiqueur(r LiqueurReadings) (*Measured, error) {
	var f faults
	name := f.nameOf(r.Name)
	q := r.question(&f)
	if len(f) > 0 {
		return nil, f.err()
	}
	category, source := r.Category, "computed from "+q.instruments()
	if category == "" {
		category = "liqueur"
	}
	m := newMeasured(name, cleanText(category), source, Computed)
	result, err := q.answer(m)
	if err != nil {
		return nil, err
	}
	m.figure(StrengthPercent, result.strength, result.strengthSpread)
	if q.given[byStrength] && !(q.given[byDensity] && q.given[byBrix]) {
		strength := &m.Ingredient.Figures[StrengthPercent]
		strength.Source, strength.Confidence = "label", Seen
	}
	for _, c := range sugarColumns {
		m.figure(c, 0, 0)
	}
	m.figure(SucrosePerLitre, result.sugar, result.sugarSpread)
	m.figure(DensityGramsPerMillilitre, result.density/1000, result.densitySpread/1000)
	r.remarks(m, &result)
	return m.closed()
}

// question checks the readings.
func (r *LiqueurReadings) question(f *faults) *liqueurQuestion {
	q := &liqueurQuestion{}
	set := func(n int, what string, value, spread, usual, low, high float64) {
		f.within(what, value, low, high, readingFacts[n].unit)
		f.spread(what, spread)
		if spread == 0 {
			spread = usual
		}
		q.given[n], q.read[n], q.spread[n] = true, value, spread
	}
	if b := r.Brix; b != nil {
		q.brix = b
		set(byBrix, "refractometer reading", float64(b.Brix.Value), float64(b.Brix.Spread), float64(RefractometerSpread), 0, float64(profile.MostBrix))
		f.within("temperature of the refractometer's sample", float64(b.At), 0, 40, " °C")
	}
	if d := r.Density; d != nil {
		q.densityAt = d.At
		usual := float64(HydrometerSpread) * float64(profile.WaterDensity)
		set(byDensity, "density", float64(d.Density.Value), float64(d.Density.Spread), usual, 780, 1450)
		f.within("temperature of the density's sample", float64(d.At), 0, 40, " °C")
	}
	if s := r.Strength; s != nil {
		set(byStrength, "strength", float64(s.Value), float64(s.Spread), float64(LabelSpread), 0, 100)
		if s.Value == 0 && s.Spread == 0 {
			q.spread[byStrength] = 0 // nobody distilled it
		}
	}
	given := 0
	for _, is := range q.given {
		if is {
			given++
		}
	}
	if given < 2 {
		f.add("%d of the readings Brix, density and strength; expected two, since alcohol throws off each of the others", given)
	}
	return q
}

// instruments names what was read.
func (q *liqueurQuestion) instruments() string {
	words := ""
	for n, is := range q.given {
		if !is {
			continue
		}
		if words != "" {
			words += " and "
		}
		words += readingFacts[n].instrument
	}
	return words
}

// remarks adds what a reader of the result should know.
func (r *LiqueurReadings) remarks(m *Measured, result *liqueurAnswer) {
	m.remark("the sugar is all that is dissolved, counted as sucrose: acids, glycerol and extract are in it")
	if r.Brix != nil {
		m.from20("refractometer", r.Brix.At)
		m.remark("glucose and fructose read 1.5 %% low on a refractometer; so does the sugar where it is inverted")
	}
	if r.Density != nil {
		m.from20("density", r.Density.At)
		const coarsely = 3.0 // kg/m³
		if s := float64(r.Density.Density.Spread); s > coarsely {
			m.remark("the density is known to ± %.0f kg/m³ alone; weigh a larger volume, or measure it in a flask or syringe instead of a jigger", math.Ceil(s))
		}
	}
	if saturated := float64(saturatedWarm) / 100; result.watered > saturated {
		m.remark("%.0f g of sugar in 100 g of sugar and water is more than water holds at 20 °C; look for another solid, or read again", 100*result.watered)
	}
	m.remark("neither instrument is to be trusted with cream, pulp or bubbles: strain and degas first")
}
