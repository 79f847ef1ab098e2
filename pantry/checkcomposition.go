package pantry

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/profile"
)

// densityTolerance is how far the volume computed from the composition may be
// off the measured one, per millilitre: rounding, minerals, what stands in no
// column.
const densityTolerance = 0.01

// fatBeyondSolids is how many ml more than the 0.62 of other solids a gram of
// milk fat takes up at 20 °C, 1 / 0.93 g/ml; proteins lie between.
//
// Source: handbook density of milk fat, from memory.
const fatBeyondSolids = 1.08 - 0.62

// densityGap is how many ml the volume computed from the composition of one ml
// exceeds it by, negative where it falls short, and the least and the most that
// densityTolerance and the solids of unknown kind allow.
func (i *Ingredient) densityGap() (gap, least, most float64) {
	gap = -i.composed()[profile.VolumeCorrectionMillilitres]
	solids := i.Figures[OtherSolidsPerLitre].Value * i.perUnit()
	return gap, -densityTolerance - fatBeyondSolids*solids, densityTolerance
}

// closure warns where the parts leave nothing for water in a liquid that pours
// like one, within the slack that is no error.
func (c *checker) closure(r *row) {
	i := &r.ingredient
	mass, whole := float64(i.listed().Mass()), 1.0
	if !i.Solid {
		if whole = i.Figures[DensityGramsPerMillilitre].Value; whole == 0 {
			return
		}
	}
	if mass > whole {
		c.warn(r, nameField, fmt.Sprintf("the parts of %s add up to %.1f %% of its mass; expected 100 %% at most", i.Name, 100*mass/whole),
			"rounded figures may do that; check the largest of them")
	}
}

// foodSolidsSlack, in g/L, is what protein and fat may exceed the other solids by
// that they are part of: figures rounded to grams.
const foodSolidsSlack = 1

// food warns where protein and fat are more than the other solids that they are
// part of.
func (c *checker) food(r *row) {
	i := &r.ingredient
	solids := i.Figures[OtherSolidsPerLitre]
	part := i.Figures[ProteinPerLitre].Value - i.Figures[GlutamicMilligramsPerLitre].Value*1e-3 + i.Figures[FatPerLitre].Value
	if i.Solid || !solids.Known || part <= solids.Value+foodSolidsSlack {
		return
	}
	c.warn(r, figureFields[OtherSolidsPerLitre], fmt.Sprintf("%s has %s g/L of other solids and %s g/L of protein and fat; expected these to be part of the other solids",
		i.Name, formatNumber(solids.Value), shortNumber(part)), "leave "+OtherSolidsPerLitre.Name()+" empty, or fill in all solids that stand in no other column")
}

// density warns where density and composition do not go together, and says
// which of density, sugar and strength would have to be what.
func (c *checker) density(r *row) {
	i := &r.ingredient
	density := i.Figures[DensityGramsPerMillilitre]
	if i.Solid || !density.Known {
		return
	}
	gap, least, most := i.densityGap()
	if gap >= least && gap <= most {
		return
	}
	computed := *i
	computed.Figures[DensityGramsPerMillilitre] = Figure{}
	weighs := float64(computed.composed().Mass())
	word := "more"
	if weighs < density.Value {
		word = "less"
	}
	c.warn(r, figureFields[DensityGramsPerMillilitre], fmt.Sprintf(
		"%s has a density of %s g/ml, and its composition weighs %.3f, %.1f %% %s; expected them to agree within %g %%",
		i.Name, formatNumber(density.Value), weighs, 100*math.Abs(weighs/density.Value-1), word, 100*densityTolerance), i.blame(weighs))
}

// suspect is a figure that could be the wrong one, and what would fit.
type suspect struct {
	word, unit   string
	now, fitting float64
	// usual is where the category's figures lie; none where nothing is known.
	usual span
	ok    bool
}

func (s *suspect) nowUnusual() bool     { return s.usual.known() && !s.usual.holds(s.now, 1) }
func (s *suspect) fittingUnusual() bool { return s.usual.known() && !s.usual.holds(s.fitting, 1) }

func (s *suspect) String() string {
	text := fmt.Sprintf("%s %s", s.word, shortNumber(s.fitting))
	if s.unit != "" {
		text += " " + s.unit
	}
	return text
}

// blame says what density, sugar or strength would fit the other two, and which
// looks wrong: the one that is unusual in the category and would no longer be,
// else the only one whose fitting value is usual.
func (i *Ingredient) blame(weighs float64) string {
	sugars, strength := 0.0, i.Figures[StrengthPercent].Value
	for _, column := range sugarColumns {
		sugars += i.Figures[column].Value
	}
	all := []suspect{{
		word: "density", unit: "g/ml", now: i.Figures[DensityGramsPerMillilitre].Value, fitting: weighs,
		usual: spanOf(i.Category, i.PerKilogram, DensityGramsPerMillilitre), ok: true,
	}}
	fit, ok := i.fitting(1500, (*Ingredient).withSugar)
	all = append(all, suspect{word: "sugar", unit: "g/L", now: sugars, fitting: fit, usual: sugarSpanOf(i.Category, i.PerKilogram), ok: ok})
	fit, ok = i.fitting(100, (*Ingredient).withStrength)
	all = append(all, suspect{word: "strength", unit: "% vol", now: strength, fitting: fit, usual: spanOf(i.Category, i.PerKilogram, StrengthPercent), ok: ok})
	all = slices.DeleteFunc(all, func(s suspect) bool { return !s.ok })

	var words []string
	for _, s := range all {
		words = append(words, s.String())
	}
	hint := "what would fit: " + strings.Join(words, ", or ")
	for _, s := range all {
		if slip := s.slip(); slip != "" {
			return hint + "; the " + s.word + " looks wrong, as if it were " + slip
		}
	}
	likely := slices.DeleteFunc(slices.Clone(all), func(s suspect) bool { return !s.nowUnusual() || s.fittingUnusual() })
	if len(likely) == 0 {
		likely = slices.DeleteFunc(all, func(s suspect) bool { return s.fittingUnusual() })
	}
	if len(likely) == 1 {
		hint += "; the " + likely[0].word + " looks wrong"
	}
	return hint
}

// slip names the unit that the figure seems to be in: a tenth of what fits is
// sugar in 100 ml, twice of it is strength in US proof.
func (s *suspect) slip() string {
	switch {
	case s.word == "sugar" && s.now > 0 && math.Abs(s.fitting-10*s.now) < 0.15*s.fitting:
		return "g in 100 ml"
	case s.word == "strength" && s.now > 0 && math.Abs(2*s.fitting-s.now) < 0.1*s.now:
		return "US proof"
	default:
		return ""
	}
}

// fitting returns the value up to most at which the composition fills exactly
// its millilitre at the density given; ok is false where none does.
func (i *Ingredient) fitting(most float64, with func(*Ingredient, float64) Ingredient) (value float64, ok bool) {
	gap := func(v float64) float64 {
		changed := with(i, v)
		unit := changed.composed()
		if float64(unit.Mass()) > i.Figures[DensityGramsPerMillilitre].Value*(1+1e-9) {
			// No water is left: the parts alone weigh more than the whole.
			return math.NaN()
		}
		return -unit[profile.VolumeCorrectionMillilitres]
	}
	low, high := 0.0, most
	for math.IsNaN(gap(high)) && high > 1e-3 {
		high *= 0.98
	}
	atLow, atHigh := gap(low), gap(high)
	if math.IsNaN(atLow) || math.IsNaN(atHigh) || (atLow > 0) == (atHigh > 0) {
		return 0, false
	}
	for range 50 {
		middle := (low + high) / 2
		if (gap(middle) > 0) == (atLow > 0) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, true
}

// withSugar returns i with that much sugar in all, its kinds in proportion.
func (i *Ingredient) withSugar(total float64) Ingredient {
	out, before := *i, 0.0
	for _, c := range sugarColumns {
		before += i.Figures[c].Value
	}
	if before == 0 {
		out.Figures[SucrosePerLitre] = Figure{Value: total, Known: true}
		return out
	}
	for _, c := range sugarColumns {
		out.Figures[c].Value *= total / before
	}
	return out
}

func (i *Ingredient) withStrength(percent float64) Ingredient {
	out := *i
	out.Figures[StrengthPercent] = Figure{Value: percent, Known: true}
	return out
}

// Bounds of the titratable acidity against the sum of the listed acids. Acids
// without a column and rounding raise it; what stands as salt is not titrated.
// Common practice, no source.
const (
	acidityAbove     = 1.25
	acidityBelow     = 0.75
	aciditySlack     = 0.5  // g/L
	usualPotassium   = 3000 // mg/L, of juices where none is given
	potassiumPerMole = 39.098
)

// acidity warns where titration and the listed acids do not go together. A
// milliequivalent of potassium leaves one of acid as salt, untitrated.
func (c *checker) acidity(r *row) {
	i := &r.ingredient
	titrated := i.Figures[TitratableAcidPerLitre]
	if !titrated.Known || !slices.ContainsFunc(acidColumns, func(a Column) bool { return r.filled[figureFields[a]] }) && !r.filled[figureFields[TitratableAcidPerLitre]] {
		return
	}
	sum, complete := 0.0, true
	for column, facts := range columns {
		sum += facts.citric * i.Figures[column].Value
		complete = complete && (i.Figures[column].Known || !slices.Contains(acidColumns, Column(column)))
	}
	potassium := usualPotassium * 1.0
	if f := i.Figures[PotassiumMilligramsPerLitre]; f.Known {
		potassium = f.Value
	}
	most := acidityAbove*sum + aciditySlack
	least := acidityBelow*sum - potassium/potassiumPerMole*citricPerMilliequivalent - aciditySlack
	switch {
	case complete && titrated.Value > most:
		c.warn(r, figureFields[TitratableAcidPerLitre], fmt.Sprintf("%s titrates %s g/L as citric acid, and its acids give %s; expected %s at most",
			i.Name, shortNumber(titrated.Value), shortNumber(sum), shortNumber(most)),
			"an acid may be missing, or the titration is expressed as another acid: g/L as tartaric × 0.853, as acetic × 1.066, as sulphuric × 1.306")
	case titrated.Value < least:
		c.warn(r, figureFields[TitratableAcidPerLitre], fmt.Sprintf("%s titrates %s g/L as citric acid, and its acids give %s; expected %s at least",
			i.Name, shortNumber(titrated.Value), shortNumber(sum), shortNumber(least)),
			"an acid may be too high, or the titration is in g per 100 ml")
	}
}

// citricPerMilliequivalent is the grams of citric acid that a milliequivalent
// of alkali neutralises: 192.124 / 3 / 1000.
const citricPerMilliequivalent = 0.064041
