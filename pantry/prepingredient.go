package pantry

import (
	"math"
	"slices"
	"strings"

	"minim/profile"
)

// prepCategory is the category of what a prep makes.
const prepCategory = "prep"

// composition is that of an ingredient that a prep makes, where figures in
// columns would lose something: the exact sum of the parts.
type composition struct {
	unit, spread profile.State
	// unknown are the columns that nobody gave, for each property.
	unknown [profile.Properties][]Column
	// ceiling is what one ml could hold at most of what is unknown; bounded is
	// false where nobody can say.
	ceiling [profile.Properties]profile.State
	bounded [profile.Properties]bool
	// ownBitterness says that the bitterness of every part has a ± of its own.
	ownBitterness bool
	// unlisted are dissolved solids that stand in no column, in g per ml.
	unlisted float64
	keeps    ShelfLife
	// unpriced names the parts, down to what is no prep, that have no price.
	unpriced []string
}

// plantProperties are what a steeped plant may change, and is unknown of one that
// nothing is known of.
var plantProperties = []profile.Property{
	profile.Sugar, profile.Sweetness, profile.Acid, profile.PH, profile.Bitter, profile.Umami, profile.Energy, profile.Caffeine,
}

// volatile tells whether a component leaves in part where a prep is simmered.
func volatile(c profile.Component) bool {
	return c == profile.EthanolGrams || c == profile.AceticGrams || c == profile.CarbonDioxideGrams
}

// leftOf is the part of each component of the mix that is in the prep at last.
func (m *Making) leftOf() (part profile.State) {
	for c := range profile.Component(profile.Components) {
		part[c] = m.kept
		if gone := m.state[c] == 0; (volatile(c) || gone) && m.mixed[c] > 0 {
			part[c] = min(m.kept, m.state[c]/m.mixed[c])
		}
	}
	return part
}

// ingredient is what the prep makes of so many base units of each part. Allergens
// are those of all parts, it is vegan where all parts are, and its ± is that of
// the parts, taken as independent, by first order.
func (p *Prep) ingredient(m *Making, bases []float64) *Ingredient {
	volume := float64(m.state.Volume())
	left := m.leftOf()
	made := &composition{unit: p.PerMillilitre(m), ownBitterness: true, keeps: p.Spec.Makes.Keeps}
	for property := range made.bounded {
		made.bounded[property] = true
	}
	i := &Ingredient{
		ID: idOf(Fold(stem(p.Spec.File))), Name: p.Spec.title(), Category: prepCategory, Confidence: Computed, Source: "computed from its recipe",
		KeptAt: p.keptAt(&made.unit), Keeps: keepsWords(p.Spec.Makes), Place: Place{File: p.Spec.File}, Vegan: Yes, made: made,
	}
	known := [Columns]bool{}
	for c := range known {
		known[c] = true
	}
	variance := m.variance
	p.Unpriced = nil
	for n := range p.Parts {
		part := p.Parts[n].Ingredient
		base := bases[n]
		if base == 0 {
			continue
		}
		spread := part.PerUnitSpread()
		for c := range spread {
			variance[c] += square(spread[c] * base * left[c])
		}
		for c := range known {
			known[c] = known[c] && part.told(Column(c))
		}
		made.addUnknown(part, base, &left, volume)
		if bitter := part.PerUnit()[profile.BitternessMilligrams]; bitter > 0 && !part.HasOwnBitterness() {
			made.ownBitterness = false
		}
		grams, _ := part.UnlistedSolids()
		made.unlisted += grams / 1000 * base * m.kept / volume
		i.takeOn(part, p)
	}
	plants := 0
	for n := range p.Spec.Steps {
		if s := &p.Spec.Steps[n]; s.Kind == Steep {
			made.addPlant(&s.Steeping, p.Plants[plants], &known)
			if plant := p.Plants[plants]; plant != nil {
				i.takeOn(plant, p)
			} else {
				i.takeUnknown()
				p.lackPrice(s.Steeping.Plant)
			}
			plants++
		}
	}
	i.takeAllergens(p.plantAllergens)
	for c := range variance {
		made.spread[c] = math.Sqrt(variance[c]) / volume
	}
	for _, c := range []profile.Component{profile.WaterGrams, profile.HeatJoules, profile.Cost, profile.VolumeCorrectionMillilitres} {
		made.spread[c] = 0
	}
	made.unpriced = p.Unpriced
	i.setFigures(&known)
	if len(p.Unpriced) == 0 {
		i.Priced, i.Pack, i.Price = true, Amount{1, Litres}, 1000*made.unit[profile.Cost]
	} else {
		i.Currency, made.unit[profile.Cost] = "", 0
	}
	return i
}

// keepsWords says in words how long a prep keeps, and where.
func keepsWords(m *Makes) string {
	var words []string
	for _, w := range []string{m.Keeps.String(), m.Store.String()} {
		if w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

// takeAllergens adds allergens that are not listed yet.
func (i *Ingredient) takeAllergens(allergens []string) {
	for _, allergen := range allergens {
		if !slices.Contains(i.Allergens, allergen) {
			i.Allergens = append(i.Allergens, allergen)
		}
	}
}

// takeOn adds to a prep what its part brings besides composition.
func (i *Ingredient) takeOn(part *Ingredient, p *Prep) {
	i.takeAllergens(part.Allergens)
	switch {
	case part.Vegan == No || i.Vegan == No:
		i.Vegan = No
	case part.Vegan == Unknown:
		i.takeUnknown()
	}
	// Water of the tap costs nothing worth counting.
	_, priced := part.PricePerUnit()
	switch {
	case priced && part.Currency != "" && i.Currency != "" && part.Currency != i.Currency:
		p.lackPrice(part.Name + " in " + i.Currency)
	case priced || part.PlainWater():
	case part.made != nil:
		p.lackPrice(part.made.unpriced...)
	default:
		p.lackPrice(part.Name)
	}
	if i.Currency == "" {
		i.Currency = part.Currency
	}
}

// lackPrice names what has no price, each once.
func (p *Prep) lackPrice(names ...string) {
	for _, name := range names {
		if !slices.Contains(p.Unpriced, name) {
			p.Unpriced = append(p.Unpriced, name)
		}
	}
}

// takeUnknown takes on something of which nothing is known.
func (i *Ingredient) takeUnknown() {
	if i.Vegan == Yes {
		i.Vegan = Unknown
	}
}

// PlainWater tells whether next to nothing but water is in it: what comes from the
// tap.
func (i *Ingredient) PlainWater() bool {
	const dissolved = 1e-3 // g per ml
	s := i.composed()
	return !i.Solid && float64(s.Mass())-s[profile.WaterGrams] < dissolved
}

// addUnknown takes on what is unknown of so many base units of a part.
func (made *composition) addUnknown(part *Ingredient, base float64, left *profile.State, volume float64) {
	for property := range made.unknown {
		columns := part.UnknownColumns(profile.Property(property))
		if len(columns) == 0 {
			continue
		}
		made.note(profile.Property(property), columns)
		most, ok := part.Ceiling(profile.Property(property))
		made.bounded[property] = made.bounded[property] && ok
		for c := range most {
			made.ceiling[property][c] += most[c] * base * left[c] / volume
		}
	}
}

// note adds columns that are unknown for a property.
func (made *composition) note(p profile.Property, columns []Column) {
	for _, c := range columns {
		if !slices.Contains(made.unknown[p], c) {
			made.unknown[p] = append(made.unknown[p], c)
		}
	}
}

// addPlant takes on what is unknown of a steeped plant.
func (made *composition) addPlant(s *Steeping, plant *Ingredient, known *[Columns]bool) {
	for _, property := range s.untold(plant) {
		made.bounded[property] = false
		made.note(property, givenColumns(property))
		for _, c := range givenColumns(property) {
			known[c] = false
		}
	}
}

// givenColumns are those that a property needs and that a plant can give.
func givenColumns(p profile.Property) []Column {
	return slices.DeleteFunc(slices.Clone(neededColumns[p]), func(c Column) bool { return c == StrengthPercent })
}

// untold are the properties that the plant may change and of which neither its row
// nor what is written after gives says anything. One acid or sugar that was
// measured stands for its kind.
func (s *Steeping) untold(plant *Ingredient) []profile.Property {
	all := s.given(plant)
	var out []profile.Property
	for _, property := range plantProperties {
		needed := givenColumns(property)
		if !slices.ContainsFunc(all, func(g Given) bool { return slices.Contains(needed, g.Into) }) {
			out = append(out, property)
		}
	}
	return out
}

// setFigures fills the columns from the composition, for those who look at them.
func (i *Ingredient) setFigures(known *[Columns]bool) {
	unit, degassed := i.made.unit, i.made.unit.Degassed()
	figure := func(v, spread float64, known bool) Figure {
		return Figure{Value: v, Known: known, Spread: spread, OwnSpread: true, Source: i.Source, Confidence: Computed}
	}
	for c, facts := range columns {
		if facts.amount {
			i.Figures[c] = figure(1000*unit[facts.component], 1000*i.made.spread[facts.component], known[c])
		}
	}
	i.Figures[BitternessMilligramsPerLitre].OwnSpread = i.made.ownBitterness
	i.Figures[StrongChargePerLitre].Known = true
	i.Figures[TitratableAcidPerLitre].Known = !i.Unknown(profile.Acid)
	i.Figures[CarbonDioxidePerLitre].Known = true
	i.Figures[OtherSolidsPerLitre].Known = true
	i.Figures[StrengthPercent] = figure(unit[profile.EthanolGrams]/ethanolGrams(1), i.made.spread[profile.EthanolGrams]/ethanolGrams(1), known[StrengthPercent])
	i.Figures[DensityGramsPerMillilitre] = figure(float64(degassed.Mass())/float64(degassed.Volume()), 0, true)
	i.Figures[PH] = figure(phAlone(&unit), 0, !i.Unknown(profile.PH))
}

// phAlone is the pH of a liquid by itself.
func phAlone(s *profile.State) float64 {
	var v profile.Values
	d := profile.Drink{Mix: *s}
	d.Evaluate(profile.PropertySet(0).With(profile.PH), &v, nil, nil)
	return v[profile.PH]
}

// brix is what a refractometer at 20 °C reads of a prep, degassed.
func (made *composition) brix() float64 {
	return max(0, float64(WithUnlistedSolids(made.unit, made.unlisted).RefractometerBrix(instrumentTemperature)))
}
