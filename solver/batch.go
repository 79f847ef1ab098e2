package solver

import (
	"errors"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// Batch is a drink made for many: what is mixed beforehand, by weight and by
// volume, and what is added to each serve.
type Batch struct {
	// Serve is the drink that is made for many.
	Serve *Answer
	// Serves is how many; not always a whole number where the volume was given.
	Serves float64
	// Rows are what is mixed beforehand, in the order of adding.
	Rows []BatchRow
	// AtService is added to each serve, in the order of building.
	AtService []ServiceRow
	Dilution  BatchDilution
	// Volume and Mass are those of all that is mixed beforehand, at 20 °C.
	Volume profile.Millilitre
	Mass   profile.Gram
	// Strength is that of what is mixed beforehand, as on a label.
	Strength profile.PercentVolume
	Filling  *Filling
	// Objective is F of one serve of the batch, ScaledObjective that of one of
	// the spec's serve times Serves, each pour rounded to the scale; Objective is
	// never more, unless rounding breaks a hard limit that the batch keeps. F is
	// measured from the spec's target or, where nothing is aimed at, from the
	// serve itself. JND and ScaledJND are the roots of the summed squares in JND.
	Objective, ScaledObjective float64
	JND, ScaledJND             float64
	// Misses are those of one serve of the batch from what JND counts, of the
	// properties that have one, in the order of the target.
	Misses   []Miss
	Readings Readings
	Holding  Holding
	// Buy is the shopping list for batch and service, Make what the bar makes
	// itself first.
	Buy, Make []Purchase
	// Poured are the pours of one serve of the batch, the amounts being those of
	// the sheet.
	Poured []PouredAmount
	// Cautions are those of the serve, and of making its preps.
	Cautions []profile.Caution
	// Ice is what the serves take, 0 where the spec has none or the batch is
	// poured without any.
	Ice profile.Gram
}

// BatchRow is one line of the sheet.
type BatchRow struct {
	// Ingredient is nil for the water in the place of melted ice.
	Ingredient *pantry.Ingredient
	Name       string
	// PerServe is what the spec's serve takes, in ml of a liquid or grams of a
	// solid; Amount the same as the bar measures it.
	PerServe float64
	Amount   pantry.Amount
	// Grams is what the scale shows, on its step, Step that step, and Running
	// what it shows of everything so far.
	Grams, Step, Running profile.Gram
	// Millilitres is the same amount of a liquid at 20 °C; 0 for a solid.
	Millilitres profile.Millilitre
	// Places is how many decimals the step needs.
	Places int
}

// ServiceRow is what each serve gets besides the batch.
type ServiceRow struct {
	PouredAmount
	// Why says what keeps it out of the batch.
	Why string
	// Total is what all serves take, in ml or grams.
	Total float64
}

// Diluting says what becomes of the water that ice would bring.
type Diluting int

// The ways of diluting a batch.
const (
	// AsUsual is FullyDiluted for a stirred drink without anything fresh, else
	// Undiluted.
	AsUsual Diluting = iota
	// Undiluted has each serve made on ice, as the spec says.
	Undiluted
	// FullyDiluted measures in all of the water; the batch is poured cold,
	// without ice that melts.
	FullyDiluted
	// DilutedForTheFridge measures in the part that ice does not bring when the
	// batch comes to it at 5 °C.
	DilutedForTheFridge
)

// BatchDilution is how a batch is diluted, and why.
type BatchDilution struct {
	Way Diluting
	// Why is the reason for a choice that nobody made.
	Why string
	// PerServe is the water in place of ice in one serve.
	PerServe profile.Gram
}

// BatchQuestion is what MakeBatch is asked beside the drink.
type BatchQuestion struct {
	Question
	Size BatchSize
	// Scale is the step of the scale that liquids are weighed on; 0 is
	// DefaultScale.
	Scale    profile.Gram
	Diluting Diluting
	// FreshIn puts what is fresh into the batch, which then keeps as short.
	FreshIn bool
	// Made says what the bar makes itself; nil: the preps that it pours.
	Made Making
}

// Cost is what a serve of the batch costs to pour: see CostOf.
func (b *Batch) Cost() (*Cost, error) { return CostOf(b.Poured, MakingOf(b.Serve.Preps)) }

// DefaultScale is the step of a kitchen scale. Common practice, no source.
const DefaultScale profile.Gram = 1

// The steps that a scale may have.
const leastScale, mostScale profile.Gram = 0.01, 100

// Errors of batches that cannot be made.
var (
	// ErrNothingKeeps is returned where every liquid is added at service.
	ErrNothingKeeps = errors.New("nothing in it can be mixed beforehand")
	// ErrMeltFixed is returned for DilutedForTheFridge where the spec fixes what
	// the ice does, so that no model says what it does to a cold batch.
	ErrMeltFixed = errors.New("the spec fixes its melt or its temperature, so what ice does to a cold batch is not known; expected a plain method, such as `ice: stir`, or another way to dilute")
)

// MakeBatch finds a finished or solved drink for many serves: the sheet on the
// scale's steps. The spec's amounts are kept to within a step of the scale;
// those that the spec left open may move by half of the serve's measure, towards
// the target, since a scale is finer than a jigger. So F is never more than that
// of scaling and rounding the serve (see Batch.Objective).
//
// Errors are those of Design and Report, ErrNothingKeeps, ErrMeltFixed, and a
// size or a step of the scale out of range.
func MakeBatch(q BatchQuestion) (*Batch, error) {
	scale, err := q.checked()
	if err != nil {
		return nil, err
	}
	q.Scale = scale
	serve, _, err := Finish(q.Question)
	if err != nil {
		return nil, err
	}
	if q.Made == nil {
		q.Made = MakingOf(serve.Preps)
	}
	m, err := newMixing(&q, serve)
	if err != nil {
		return nil, err
	}
	b := &Batch{Serve: serve, Dilution: m.dilution}
	if err := m.fit(b); err != nil {
		return nil, err
	}
	m.list(b)
	state := m.batchState(b)
	b.Volume, b.Mass = state.Volume(), state.Mass()
	mixed := profile.Drink{Mix: state}
	values := mixed.Finish().Values
	b.Strength = profile.PercentVolume(values[profile.Strength])
	b.Filling = q.Size.filling(b.Volume, b.Mass, b.Serves)
	b.Readings = m.readings(b, state)
	b.Holding = m.holding(b, state, &values)
	b.Ice = m.ice()
	b.Cautions = batchCautions(serve)
	return b, nil
}

// FreshDays is the keeping time up to which something is fresh, and is added at
// service; mixed in, it bounds the batch. Common practice, no source.
const FreshDays = 3

// keptOut says why a pour does not go into a batch; empty where it does.
func keptOut(p *pour, shelf *pantry.Shelf, freshIn bool) string {
	switch {
	case p.ingredient.Bubbles():
		return "carbonated"
	case p.stage == OnTop:
		return "after the ice"
	case freshIn:
		return ""
	}
	return fresh(p.ingredient, shelf)
}

// fresh says why an ingredient is fresh; empty where it is not. A prep that does not
// say how long it keeps is as fresh as what goes into it.
func fresh(i *pantry.Ingredient, shelf *pantry.Shelf) string {
	category := strings.ToLower(i.Category)
	days, known := i.KeepingDays()
	switch {
	case strings.Contains(category, "juice"):
		return "fresh juice"
	case strings.Contains(category, "egg") || strings.Contains(category, "dairy"):
		return "egg or dairy"
	case known && days <= FreshDays:
		return "keeps 3 days"
	case known:
		return ""
	}
	prep, ok := shelf.Prep(i)
	if !ok {
		return ""
	}
	for n := range prep.Parts {
		if why := fresh(prep.Parts[n].Ingredient, shelf); why != "" {
			return why
		}
	}
	return ""
}

// dilute decides on the water.
func dilute(way Diluting, ice profile.Ice, service []pour) BatchDilution {
	fresh := len(service) > 0
	switch {
	case ice.Method == profile.NoIce:
		return BatchDilution{Way: Undiluted, Why: "nothing melts into it"}
	case way != AsUsual:
		return BatchDilution{Way: way}
	case ice.Method == profile.Stir && !fresh:
		return BatchDilution{Way: FullyDiluted, Why: "it is stirred and nothing in it is fresh: cold is all that ice still had to bring"}
	case fresh:
		return BatchDilution{Way: Undiluted, Why: "some of it is added at service, and ice does its work on the whole"}
	default:
		return BatchDilution{Way: Undiluted, Why: "it is " + map[profile.Method]string{
			profile.Shake: "shaken, which brings air besides cold and water", profile.Blend: "blended with its ice", profile.Build: "built on ice in the glass",
		}[ice.Method]}
	}
}
