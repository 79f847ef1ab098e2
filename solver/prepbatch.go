package solver

import (
	"errors"
	"fmt"
	"math"

	"minim/pantry"
	"minim/profile"
)

// PrepBatch is a prep made in the amount that a bar stores.
type PrepBatch struct {
	// Making is one making, as the spec says.
	Making *Answer
	// Times is how many makings the batch is, not always a whole number.
	Times float64
	// Rows are what is weighed, in the order of the spec; PerServe and Amount are
	// those of one making.
	Rows []BatchRow
	// Steps are what is done after the weighing, for the whole batch.
	Steps []pantry.PrepStep
	// Volume and Mass are what comes of the rounded rows after the steps, at 20 °C.
	// What stays behind in one making stays behind in the same part here.
	Volume profile.Millilitre
	Mass   profile.Gram
	// Readings are those of what comes of it; what is still right of them is half a
	// JND of the prep by itself.
	Readings Readings
	// Filling is nil where no container was named.
	Filling *Filling
	// Buy is the shopping list, Make what the bar makes itself first.
	Buy, Make []Purchase
}

// Errors of batches of a prep.
var (
	errPrepServes  = errors.New("a number of serves of a prep, which has none; expected a volume, a bottle or a keg")
	errPrepDiluted = errors.New("a way of diluting a prep, which meets no ice; expected its steps to say what is added, such as `dilute: to 1 l`")
)

// MakePrepBatch makes a prep in the volume of q.Size:
//
//	times = volume / yield of one making
//
// Every pour and plant, and every step that is measured in ml or g, is one
// making's times so many; pours are rounded to the step of the scale. Open pours
// are found first, for the prep's own target. Volume and Mass are computed from
// the rounded amounts.
//
// Errors are those of Design and Report, a size in serves or out of range, and a
// way of diluting.
func MakePrepBatch(q BatchQuestion) (*PrepBatch, error) {
	scale, err := q.checked()
	switch {
	case err != nil:
		return nil, err
	case q.Size.Serves != 0:
		return nil, errPrepServes
	case q.Diluting != AsUsual:
		return nil, errPrepDiluted
	}
	making, _, err := Finish(q.Question)
	if err != nil {
		return nil, err
	}
	prep := making.Prep
	b := &PrepBatch{Making: making, Times: float64(q.Size.total() / prep.Yield)}
	running := profile.Gram(0)
	bases, units := make([]float64, len(prep.Parts)), prep.Units()
	for n, p := range making.Pours {
		if p.Base == 0 {
			continue
		}
		row := prepRow(&p, b.Times, scale)
		running += row.Grams
		row.Running = running
		b.Rows = append(b.Rows, row)
		bases[n] = p.Base * float64(row.Grams/p.Grams) / b.Times
	}
	for n := range prep.Spec.Steps {
		b.Steps = append(b.Steps, prep.Spec.Steps[n].Times(b.Times))
	}
	made, err := prep.Make(bases, units)
	if err != nil {
		return nil, err
	}
	state, kept := made.State(), b.Times*float64(prep.Yield/prep.Computed)
	b.Volume, b.Mass = state.Volume()*profile.Millilitre(kept), state.Mass()*profile.Gram(kept)
	b.Readings = b.readings(state.Scale(kept))
	b.Filling = q.Size.filling(b.Volume, b.Mass, 0)
	b.list(q.Made)
	return b, nil
}

// readings are those of a batch of a drink that is the prep alone, its gas gone.
func (b *PrepBatch) readings(s profile.State) Readings {
	made := b.Making.Prep.Ingredient
	alone := Batch{
		Serves: float64(b.Volume) / b.Making.Profile[profile.Volume].Value, Volume: b.Volume,
		Rows: []BatchRow{{Ingredient: made, Name: made.Name, Millilitres: b.Volume}},
	}
	m := mixing{serve: b.Making}
	r := m.readings(&alone, s.Degassed())
	r.Unsure = unsureOf(b.Rows)
	return r
}

// checked returns the step of the scale of a size that can be made.
func (q *BatchQuestion) checked() (profile.Gram, error) {
	if err := q.Size.Check(); err != nil {
		return 0, err
	}
	if q.Scale == 0 {
		return DefaultScale, nil
	}
	if !(q.Scale >= leastScale && q.Scale <= mostScale) {
		return 0, fmt.Errorf("a scale with steps of %s g; expected from %g to %g g", significant(float64(q.Scale)), leastScale, mostScale)
	}
	return q.Scale, nil
}

// prepRow is the line of one pour of a making, times so many.
func prepRow(p *PouredAmount, times float64, scale profile.Gram) BatchRow {
	step := scaleStep(p.Ingredient, scale)
	grams := profile.Gram(tidy(max(1, math.Round(float64(p.Grams)*times/float64(step))) * float64(step)))
	row := BatchRow{
		Ingredient: p.Ingredient, Name: p.Name, PerServe: p.Base, Amount: p.Amount, Grams: grams, Step: step, Places: placesOf(step),
	}
	if !p.Ingredient.Solid {
		unit := p.Ingredient.PerUnit()
		row.Millilitres = profile.Millilitre(float64(grams) / float64(unit.Mass()))
	}
	return row
}

// list writes what is bought, plants that are steeped included, and what is made
// first.
func (b *PrepBatch) list(made Making) {
	if made == nil {
		made = MakingOf(b.Making.Preps)
	}
	var pours []PouredAmount
	var needs []float64
	for i := range b.Rows {
		r := &b.Rows[i]
		pours, needs = append(pours, PouredAmount{Ingredient: r.Ingredient}), append(needs, float64(r.Millilitres))
		if r.Ingredient.Solid {
			needs[i] = float64(r.Grams)
		}
	}
	for _, plant := range b.Making.Prep.Steeped() {
		pours = append(pours, PouredAmount{Ingredient: plant.OnTheList()})
		needs = append(needs, float64(plant.Mass)*b.Times)
	}
	b.Buy, b.Make = shoppingList(pours, needs, made)
}
