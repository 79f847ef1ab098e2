package pantry

import (
	"fmt"
	"math"
	"slices"
	"time"

	"minim/profile"
)

// What the other solids are known to: the last digit of a tabled density, and
// a fifth of what it gives (estimate).
const (
	densityDigit     = 0.001
	otherSolidsDoubt = 0.2
)

// otherSolidsVolume is the volume in ml of a gram of other solids in solution,
// the same as a state takes.
var otherSolidsVolume = func() float64 {
	var s profile.State
	s[profile.OtherSolidsGrams] = 1
	return float64(s.Volume())
}()

// alcoholBrixSpread is what the model of refraction is off by where there is
// alcohol beside sugar, in °Bx, see profile.State.RefractiveIndexAt.
const (
	alcoholBrixSpread  = 0.3
	leastAlcoholInBrix = 0.5 // % vol
)

// instrumentTemperature is what readings are corrected to.
const instrumentTemperature profile.Celsius = 20

// UnlistedSolids returns the grams per litre of dissolved matter that stands in
// no column, and their ±. The measured density gives it away: in the place of
// water, a gram of other solids makes a litre 1.002 - 0.62 ml smaller, so
//
//	U = -correction / (v_water - v_solids)
//
// with the volume correction of the ingredient in ml per litre. A positive
// correction gives none, nor does a solid or an ingredient of unknown density. What
// a prep makes has those of its parts.
func (i *Ingredient) UnlistedSolids() (grams, spread float64) {
	if i.Solid {
		return 0, 0
	}
	perVolume := profile.MeltMillilitresPerGram - otherSolidsVolume
	spread = 1000 * densityDigit / perVolume
	if i.made != nil {
		return 1000 * i.made.unlisted, max(spread, otherSolidsDoubt*1000*i.made.unlisted)
	}
	if !i.Figures[DensityGramsPerMillilitre].Known {
		return 0, spread
	}
	grams = max(0, -1000*i.PerUnit()[profile.VolumeCorrectionMillilitres]/perVolume)
	return grams, max(spread, otherSolidsDoubt*grams)
}

// WithUnlistedSolids is s with so many grams of unlisted solids in the place of
// water and of the volume correction that they stood for.
func WithUnlistedSolids(s profile.State, grams float64) profile.State {
	s[profile.OtherSolidsGrams] += grams
	s[profile.WaterGrams] = max(0, s[profile.WaterGrams]-grams)
	s[profile.VolumeCorrectionMillilitres] += grams * (profile.MeltMillilitresPerGram - otherSolidsVolume)
	return s
}

// inTheRefractometer is a millilitre of a liquid per litre with its unlisted
// solids, in grams per litre, in the place of water, filled up with water over a
// positive volume correction. A density measured beside the Brix is not in it:
// it is the composition that refracts.
func (i *Ingredient) inTheRefractometer(unlisted, correction float64) profile.State {
	s := i.listed()
	s[profile.OtherSolidsGrams] += unlisted / 1000
	s[profile.VolumeCorrectionMillilitres] = max(0, correction)
	s[profile.WaterGrams] = waterToFill(s)
	return s
}

// Brix returns what a refractometer at 20 °C reads of a liquid, in °Bx, and its
// ±. The reading is that of profile.State.RefractometerBrix for the listed
// composition together with the unlisted solids that its density shows (see
// UnlistedSolids). ok is false for a solid, and where a sugar or the strength
// is unknown.
func (i *Ingredient) Brix() (brix, spread float64, ok bool) {
	if i.Solid || i.Unknown(profile.Sugar) || i.Unknown(profile.Strength) {
		return 0, 0, false
	}
	if i.made != nil {
		sugars := i.made.spread
		spread = math.Sqrt(square(sugars[profile.SucroseGrams])+square(sugars[profile.GlucoseGrams])+square(sugars[profile.FructoseGrams])+square(sugars[profile.OtherSugarsGrams])) *
			percentPerGram / i.Figures[DensityGramsPerMillilitre].Value
		return i.made.brix(), spread, true
	}
	sugars := newSugars(i.perLitre())
	brix = max(0, sugars.reads(sugars.total))
	return brix, math.Sqrt(sugars.restSquares()+square(sugars.ownSpread())) * sugars.slope(), true
}

// percentPerGram is how many °Bx a gram of sugar in a gram of liquid is.
const percentPerGram = 100

func square(v float64) float64 { return v * v }

// sugars is the question how much sugar a refractometer's reading stands for.
type sugars struct {
	of *Ingredient // per litre
	// total is the sugar in g/L before.
	total float64
	// unlisted solids in g/L, their ±, and the volume correction.
	unlisted, doubt, correction float64
}

// newSugars takes the density of what bubbles for that of a degassed sample, as a
// hydrometer has it.
func newSugars(i *Ingredient) *sugars {
	s, flat := &sugars{of: i}, *i
	flat.Figures[CarbonDioxidePerLitre].Value = 0
	s.unlisted, s.doubt = flat.UnlistedSolids()
	s.correction = flat.PerUnit()[profile.VolumeCorrectionMillilitres]
	for _, c := range sugarColumns {
		s.total += i.Figures[c].Value
	}
	return s
}

// with is the ingredient with so much sugar in g/L, its split kept; where there
// was none it is sucrose.
func (s *sugars) with(total float64) *Ingredient {
	out := *s.of
	for _, c := range sugarColumns {
		if s.total > 0 {
			out.Figures[c].Value *= total / s.total
		} else if c == SucrosePerLitre {
			out.Figures[c].Value = total
		}
	}
	return &out
}

// reads is what a refractometer shows of so much sugar; it rises with it.
func (s *sugars) reads(total float64) float64 {
	return float64(s.with(total).inTheRefractometer(s.unlisted, s.correction).RefractometerBrix(instrumentTemperature))
}

// slope is °Bx per g/L of sugar.
func (s *sugars) slope() float64 { return s.reads(s.total+1) - s.reads(s.total) }

// ownSpread is the root of the summed squares of the ± of each sugar.
func (s *sugars) ownSpread() float64 {
	root := 0.0
	for _, c := range sugarColumns {
		root = math.Hypot(root, s.of.Figures[c].Spread)
	}
	return root
}

// restSquares is the square of the ±, in g/L of sugar, that all but the sugar
// and the instrument leave: the unlisted solids and the acids, a gram of either
// taken to refract like a gram of sugar, the strength, and the model where there
// is alcohol.
func (s *sugars) restSquares() float64 {
	squares := square(s.doubt)
	for c, facts := range columns {
		if facts.citric > 0 {
			squares += square(s.of.Figures[c].Spread)
		}
	}
	if strength := s.of.Figures[StrengthPercent]; strength.Value > leastAlcoholInBrix {
		stronger := *s
		out := *s.of
		out.Figures[StrengthPercent].Value++
		stronger.of = &out
		byStrength := stronger.reads(s.total) - s.reads(s.total)
		squares += (square(byStrength*strength.Spread) + square(alcoholBrixSpread)) / square(s.slope())
	}
	return squares
}

// scaleAcids brings every listed acid to a titration of a g/L in proportion.
// Their shares among one another stay, and each is then known to the
// titration's ±. The pH that was not measured anew is taken to stay, doubtful
// by the logarithm of the change. Without any acid before there is none to
// scale.
func (i *Ingredient) scaleAcids(a float64, day time.Time) {
	before := 1000 * i.listed()[profile.TitratableAcidGrams]
	if before <= 0 {
		return
	}
	factor := a / before
	for c, facts := range columns {
		if f := &i.Figures[c]; facts.citric > 0 && f.Known {
			*f = Figure{
				Value: f.Value * factor, Known: true, Spread: LotAcid.Spread(f.Value * factor), OwnSpread: true,
				Source: "scaled to the titration of " + day.Format(time.DateOnly), Confidence: Computed,
			}
		}
	}
	if f := &i.Figures[PH]; f.Known && factor > 0 && factor != 1 {
		f.Spread, f.OwnSpread = math.Hypot(f.Spread, math.Log10(factor)), true
	}
}

// mostSugar is more than any liquid dissolves, in g/L.
const mostSugar = 1500

// scaleTo brings the sugars to a refractometer's reading, their split kept, and
// returns the ingredient; acid is the titration of the same lot, for what is said
// where the two do not fit. What acids, alcohol, the other solids in columns and
// the unlisted ones leave of the reading is sugar.
func (s *sugars) scaleTo(brix float64, acid Reading, day time.Time) (*Ingredient, error) {
	known := slices.ContainsFunc(sugarColumns, func(c Column) bool { return s.of.Figures[c].Known })
	least := s.reads(0)
	switch {
	case math.Abs(s.reads(s.total)-brix) <= 1e-9:
	case s.total == 0 && known && math.Abs(least-brix) <= 2*brixSpread:
		return s.of, nil
	case s.total == 0:
		return nil, fmt.Errorf("Brix %s, but no kind of sugar is known to be in it; expected its sugars in the bar's CSV, a refractometer does not tell them apart", formatNumber(brix))
	case brix < least && acid.Known:
		return nil, fmt.Errorf("Brix %s and acid %s g/L do not go together: without any sugar, that acid and what else is in it already read %.1f; expected another reading, measure one of the two again",
			formatNumber(brix), formatNumber(acid.Value), least)
	case brix < least:
		return nil, fmt.Errorf("Brix %s is less than all but its sugar reads, %.1f; expected more, or the acid and the strength of this lot as well", formatNumber(brix), least)
	case s.reads(mostSugar) < brix:
		return nil, fmt.Errorf("Brix %s is more than any sugar gives it; expected less", formatNumber(brix))
	default:
		low, high := 0.0, float64(mostSugar)
		for range 60 {
			if middle := (low + high) / 2; s.reads(middle) < brix {
				low = middle
			} else {
				high = middle
			}
		}
		total := (low + high) / 2
		s.of, s.total = s.with(total), total
	}
	// Each sugar takes its part of the ±, so that the root of their summed
	// squares is that of all.
	spread := math.Sqrt(s.restSquares() + square(LotBrix.Spread(brix)/s.slope()))
	root := 0.0
	for _, c := range sugarColumns {
		root = math.Hypot(root, s.of.Figures[c].Value)
	}
	out := *s.of
	for _, c := range sugarColumns {
		if f := &out.Figures[c]; f.Known && root > 0 {
			*f = Figure{
				Value: f.Value, Known: true, Spread: spread * f.Value / root, OwnSpread: true,
				Source: "scaled to the Brix of " + day.Format(time.DateOnly), Confidence: Computed,
			}
		}
	}
	return &out, nil
}
