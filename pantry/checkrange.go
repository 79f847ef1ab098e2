package pantry

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"minim/profile"
)

// span is where the known figures of a column lie in one category of the
// embedded pantry.
type span struct {
	low, high float64
	count     int
}

// leastCount is how many ingredients of a category it takes to say what is usual.
const leastCount = 3

func (s span) known() bool { return s.count >= leastCount }

func (s *span) add(v float64) {
	if s.count == 0 {
		s.low, s.high = v, v
	}
	s.low, s.high = min(s.low, v), max(s.high, v)
	s.count++
}

// holds tells whether v lies inside, or beyond it by no more than factor.
func (s span) holds(v, factor float64) bool { return v >= s.low/factor && v <= s.high*factor }

// embeddedSpans are the spans of every category, basis and column, and those of
// all sugars together under the column after the last.
var embeddedSpans = sync.OnceValue(func() map[ceilingKey]*span {
	spans := map[ceilingKey]*span{}
	add := func(i *Ingredient, c Column, v float64) {
		key := ceilingKey{Fold(i.Category), i.PerKilogram, c}
		if spans[key] == nil {
			spans[key] = &span{}
		}
		spans[key].add(v)
	}
	for _, i := range Embedded().All() {
		sugars := 0.0
		for c, f := range i.Figures {
			if f.Known {
				add(i, Column(c), f.Value)
			}
		}
		for _, c := range sugarColumns {
			sugars += i.Figures[c].Value
		}
		add(i, allSugars, sugars)
	}
	return spans
})

const allSugars = Column(Columns)

func spanOf(category string, perKilogram bool, c Column) span {
	if s := embeddedSpans()[ceilingKey{Fold(category), perKilogram, c}]; s != nil {
		return *s
	}
	return span{}
}

func sugarSpanOf(category string, perKilogram bool) span {
	return spanOf(category, perKilogram, allSugars)
}

// How far beyond its category's figures one may lie before it is remarked on:
// a factor, and in grams, percent or, for milligrams, mg below which nothing is
// remarked on. Bitterness runs over decades.
const (
	beyondFactor      = 1.5
	beyondBitter      = 4
	beyondGrams       = 5
	beyondMilligrams  = 200
	beyondDensity     = 0.05
	beyondPH          = 0.5
	mostSpiritSweeten = 20 // g/L
)

// plausibility warns of filled figures that lie far from those of the category
// and have no source of their own.
func (c *checker) plausibility(r *row) {
	i := &r.ingredient
	sweetSpirit := c.sweetSpirit(r)
	for column, facts := range columns {
		usual := spanOf(i.Category, i.PerKilogram, Column(column))
		v := i.Figures[column].Value
		if !r.filled[figureFields[column]] || r.filled[cellSourceFields[column]] || !usual.known() || sweetSpirit && strings.Contains(facts.heading, "ose_g") {
			continue
		}
		inside := false
		switch Column(column) {
		case DensityGramsPerMillilitre:
			inside = v >= usual.low-beyondDensity && v <= usual.high+beyondDensity
		case PH:
			inside = v >= usual.low-beyondPH && v <= usual.high+beyondPH
		case BitternessMilligramsPerLitre:
			inside = v <= beyondBitter*usual.high+beyondGrams
		case RelativeSweetness, StrongChargePerLitre, OtherSolidsPerLitre, ProteinPerLitre, FatPerLitre:
			inside = true
		default:
			slack := float64(beyondGrams)
			if facts.amount && facts.grams == 1e-3 {
				slack = beyondMilligrams
			}
			inside = v >= usual.low/beyondFactor-slack && v <= usual.high*beyondFactor+slack
		}
		if !inside {
			c.warn(r, figureFields[column], fmt.Sprintf("%s %s of %s; expected as in the %s of the built-in pantry, %s to %s",
				facts.heading, formatNumber(v), i.Name, i.Category, formatNumber(usual.low), formatNumber(usual.high)),
				"if it was measured, say where in "+facts.heading+sourceEnding)
		}
	}
}

// sweetSpirit warns of a spirit that holds more sugar than any kind may be
// sweetened with.
//
// Source: Regulation (EU) 2019/787, Annex I, from memory: rum 20 g/L, others
// less, brandy 35; a liqueur from 100 g/L.
func (c *checker) sweetSpirit(r *row) bool {
	i, sugars, at := &r.ingredient, 0.0, nameField
	for _, column := range sugarColumns {
		sugars += i.Figures[column].Value
		if r.filled[figureFields[column]] && i.Figures[column].Value > 0 {
			at = figureFields[column]
		}
	}
	if Fold(i.Category) != "spirit" || sugars <= mostSpiritSweeten {
		return false
	}
	c.warn(r, at, fmt.Sprintf("%s is a spirit with %s g/L of sugar; expected %d at most", i.Name, shortNumber(sugars), mostSpiritSweeten),
		"a spirit with 100 g/L or more is a liqueur")
	return true
}

// The pour that unknown figures are weighed in: 30 ml of a liquid or 2 g of a
// solid, or four of its own measures, made up to 120 ml with water.
const (
	usualPour      = 30
	usualPowder    = 2
	usualSteps     = 4
	usualGlass     = 120
	noticeableStep = 0.5 // JND
)

// weighedProperties are those whose unknown figures are looked for.
var weighedProperties = []profile.Property{profile.Strength, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami}

// gaps warns of unknown figures that could be tasted, were they as large as the
// largest of the category.
func (c *checker) gaps(r *row) {
	i := &r.ingredient
	pour := float64(usualPour)
	if i.Solid {
		pour = usualPowder
	}
	if i.Step.Amount > 0 && i.Step.Word != "piece" {
		pour = min(pour, usualSteps*i.Step.Amount)
	}
	water := profile.State{profile.WaterGrams: usualGlass - pour}
	known := water.Add(i.PerUnit().Scale(pour))
	var columnNames, properties []string
	unbounded := false
	for _, p := range weighedProperties {
		unknown := i.UnknownColumns(p)
		if len(unknown) == 0 {
			continue
		}
		most, ok := i.Ceiling(p)
		if !ok {
			unbounded = true
			continue
		}
		jnd, _ := p.JND()
		raised := profile.Drink{Mix: known.Add(most.Scale(pour))}
		plain := profile.Drink{Mix: known}
		var high, low profile.Values
		alone := profile.PropertySet(0).With(p)
		raised.Evaluate(alone, &high, nil, nil)
		plain.Evaluate(alone, &low, nil, nil)
		shift := jnd.Level(high[p]) - jnd.Level(low[p])
		if shift < noticeableStep {
			continue
		}
		properties = append(properties, p.Name())
		for _, column := range unknown {
			columnNames = append(columnNames, column.Name())
		}
	}
	if len(properties) > 0 {
		c.warn(r, nameField, fmt.Sprintf("%s has no %s; unknown, and could be tasted: %s", i.Name, listed(columnNames), strings.Join(properties, ", ")),
			"write 0 where there is none")
	}
	if unbounded && i.Category == "" {
		c.warn(r, nameField, fmt.Sprintf("%s has no category and unknown figures; expected one, since nothing else bounds what they could be", i.Name),
			"give it a category of the built-in pantry, such as "+Embedded().Categories()[0])
	}
}

// source warns of figures that come from nowhere. One from memory or an
// estimate may.
func (c *checker) source(r *row) {
	i := &r.ingredient
	if r.filled[sourceOfRowField] || !i.Confidence.fromSource() && r.over < 0 {
		return
	}
	var without []string
	for column := range columns {
		if r.filled[figureFields[column]] && !r.filled[cellSourceFields[column]] {
			without = append(without, Column(column).Name())
		}
	}
	if len(without) > 0 {
		c.warn(r, nameField, fmt.Sprintf("%s has no source for %s; expected where the figures come from", i.Name, listed(without)),
			"the column source takes any words, such as label, refractometer, a table's name")
	}
}

// listed joins words, of more than four the first three.
func listed(words []string) string {
	const most = 4
	if len(words) > most {
		return strings.Join(words[:most-1], ", ") + " and " + strconv.Itoa(len(words)-most+1) + " more"
	}
	return strings.Join(words, ", ")
}

// shortNumber writes v to three digits, or to the whole where it has more.
func shortNumber(v float64) string {
	if math.Abs(v) >= 1000 {
		return strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}
