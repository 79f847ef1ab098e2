package solver

import (
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// mixing is a batch on its way: the lines of the sheet as columns of a problem,
// per serve.
type mixing struct {
	question *BatchQuestion
	serve    *Answer
	// asked is the question, and written the serve as a question.
	asked, written *work
	pours          []pour      // of the serve, all fixed
	ranges         []pourRange // of the same
	// rows are those mixed beforehand, in the order of adding, and water the row
	// in place of ice, -1 where there is none.
	rows     []batchColumn
	water    int
	service  []int // places in pours
	problem  *problem
	serves   float64
	dilution BatchDilution
}

// batchColumn is one line of the sheet.
type batchColumn struct {
	pour *pour // nil for water in place of ice
	// place is that of the pour in the serve.
	place int
	unit  profile.State // of one gram
	// grams is what one serve takes; room is how far either way a serve of the
	// batch may be from it, 0 for a pour that is kept to the scale's step.
	grams, room float64
	step        profile.Gram
	low, high   int // in steps, for the batch
}

// ColdBatch is the temperature of a batch out of the fridge. Common practice, no
// source.
const ColdBatch profile.Celsius = 5

// newMixing sorts the pours of a finished drink and makes the problem.
func newMixing(q *BatchQuestion, serve *Answer) (*mixing, error) {
	asked, err := newWork(q.Question)
	if err != nil {
		return nil, err
	}
	again := q.Question
	again.Spec = serve.Spec
	w, err := newWork(again)
	if err != nil {
		return nil, err
	}
	m := &mixing{
		question: q, serve: serve, asked: asked, written: w, pours: w.pours, water: -1, ranges: rangesOf(asked.pours, serve.Pours),
	}
	var kept []int
	for n := range m.pours {
		if keptOut(&m.pours[n], q.Shelf, q.FreshIn) == "" {
			kept = append(kept, n)
		} else {
			m.service = append(m.service, n)
		}
	}
	if !slices.ContainsFunc(kept, func(n int) bool { return !m.pours[n].ingredient.Solid }) {
		return nil, m.nothingKeeps()
	}
	var service []pour
	for _, n := range m.service {
		if m.pours[n].stage == InMix {
			service = append(service, m.pours[n])
		}
	}
	m.dilution = dilute(q.Diluting, w.ice, service)
	for _, n := range kept {
		m.rows = append(m.rows, newColumn(&m.pours[n], n, m.ranges[n], q.Scale))
	}
	if err := m.weighWater(w.ice); err != nil {
		return nil, err
	}
	if m.dilution.PerServe > 0 {
		var water profile.State
		water[profile.WaterGrams] = 1
		m.rows = append(m.rows, batchColumn{place: -1, unit: chilledTo(20, water), grams: float64(m.dilution.PerServe), step: q.Scale})
	}
	m.orderOfAdding()
	if m.serves, err = q.Size.serves(m.perServe().Volume()); err != nil {
		return nil, err
	}
	return m, nil
}

// nothingKeeps is ErrNothingKeeps with the file of the carbonated prep that is
// poured, where there is one.
func (m *mixing) nothingKeeps() error {
	for n := range m.pours {
		i := m.pours[n].ingredient
		if prep, ok := m.question.Shelf.Prep(i); ok && i.Bubbles() {
			return fmt.Errorf("%w: the %s is carbonated; expected a drink that holds more than that, or the prep itself: `minim batch %s --bottle 200ml --bottles 6`", ErrNothingKeeps, m.pours[n].written.Name, prep.Spec.File)
		}
	}
	return fmt.Errorf("%w: all that is liquid is fresh, carbonated or added after the ice; what is fresh can go in with --fresh in, for the same day", ErrNothingKeeps)
}

// newColumn is the line of one pour, weighed.
func newColumn(p *pour, place int, wide pourRange, scale profile.Gram) batchColumn {
	mass := float64(p.unit.Mass())
	return batchColumn{pour: p, place: place, unit: p.unit.Scale(1 / mass), grams: p.amount * mass, room: wide.room * mass, step: scaleStep(p.ingredient, scale)}
}

// scaleStep is the step that an ingredient is weighed in.
func scaleStep(i *pantry.Ingredient, scale profile.Gram) profile.Gram {
	if i.Solid || smallMeasure(i) {
		scale = min(scale, fineScale)
	}
	if i.Solid && i.Step.Amount > 0 && i.Step.Word == "" {
		scale = min(scale, profile.Gram(i.Step.Amount))
	}
	return scale
}

// fineScale is the step of the small scale that powders, bitters and salt
// solutions are weighed on; powders that a bar measures finer have a scale as
// fine. Common practice, no source.
const fineScale profile.Gram = 0.1

// smallMeasure tells whether a liquid is poured by the drop, the dash or the
// fraction of a millilitre.
func smallMeasure(i *pantry.Ingredient) bool {
	return i.Step.Word == "dash" || i.Step.Word == "drop" || i.Step.Amount > 0 && i.Step.Amount < 1
}

// pourRange is what the spec lets one pour be, in base units.
type pourRange struct{ low, high, room float64 }

// rangesOf finds for each pour of the answer what the spec asked: a fixed pour
// has no room, one that was solved half of its measure either way, within its
// range.
func rangesOf(asked []pour, answered []PouredAmount) []pourRange {
	ranges := make([]pourRange, len(answered))
	next := 0
	for i := range asked {
		p := &asked[i]
		if next == len(answered) {
			break
		}
		if a := &answered[next]; a.Name != p.written.Name || a.Stage != p.stage {
			continue
		}
		if !p.fixed {
			ranges[next] = pourRange{float64(p.low) * p.step, float64(p.high) * p.step, p.step / 2}
		}
		next++
	}
	return ranges
}

// weighWater finds the water in place of ice.
func (m *mixing) weighWater(ice profile.Ice) error {
	melt := profile.Gram(float64(m.serve.WaterMillilitres) / profile.MeltMillilitresPerGram)
	switch m.dilution.Way {
	case FullyDiluted:
		m.dilution.PerServe = melt
	case DilutedForTheFridge:
		if ice.WaterFixed || ice.TemperatureFixed {
			return ErrMeltFixed
		}
		m.dilution.PerServe = m.waterBefore(ice, melt)
	}
	return nil
}

// waterBefore is the water to measure into a serve that comes to the ice at
// ColdBatch, so that with what then melts it holds as much as the serve that
// came to it as written: the root of
//
//	w + melt(mix + w at 5 °C) - melt(mix)
//
// by bisection; the melt changes by less than the water.
func (m *mixing) waterBefore(ice profile.Ice, melt profile.Gram) profile.Gram {
	var added profile.State
	for _, n := range m.service {
		if m.pours[n].stage == InMix {
			added = added.Add(m.pours[n].unit.Scale(m.pours[n].amount))
		}
	}
	low, high := 0.0, float64(melt)
	for range 60 {
		w := (low + high) / 2
		cold := m.perServe()
		cold[profile.WaterGrams] += w
		d := profile.Drink{Mix: chilledTo(ColdBatch, cold).Add(added), Ice: ice}
		if w+float64(d.Finish().Water) < float64(melt) {
			low = w
		} else {
			high = w
		}
	}
	return profile.Gram((low + high) / 2)
}

// chilledTo is s at a temperature.
func chilledTo(t profile.Celsius, s profile.State) profile.State {
	s[profile.HeatJoules] = float64(s.HeatAt(t))
	return s
}

// orderOfAdding puts the lines into the order of the sheet: what holds no
// alcohol, water first, then powders, which dissolve in it, then what holds
// alcohol. Common practice, no source: powders and syrups go slowly into
// spirit, and what evaporates stands open the shortest.
func (m *mixing) orderOfAdding() {
	rank := func(c *batchColumn) int {
		switch {
		case c.pour == nil:
			return 0
		case c.pour.ingredient.Solid:
			return 2
		case c.unit[profile.EthanolGrams] > 0:
			return 3
		default:
			return 1
		}
	}
	slices.SortStableFunc(m.rows, func(a, b batchColumn) int { return rank(&a) - rank(&b) })
	m.water = slices.IndexFunc(m.rows, func(c batchColumn) bool { return c.pour == nil })
}

// perServe is one serve's share of the batch, unrounded.
func (m *mixing) perServe() profile.State {
	var s profile.State
	for i := range m.rows {
		s = s.Add(m.rows[i].unit.Scale(m.rows[i].grams))
	}
	return s
}

// setBounds says between which steps each line may lie: for what is kept the
// two next to the scaled serve, for what the spec left open half of the serve's
// measure, inside its range.
func (m *mixing) setBounds() {
	for i := range m.rows {
		c := &m.rows[i]
		exact := c.grams * m.serves / float64(c.step)
		c.low, c.high = int(math.Floor(exact+roundOff)), int(math.Ceil(exact-roundOff))
		if c.room > 0 {
			steps := m.serves / float64(c.step)
			mass := float64(c.pour.unit.Mass())
			wide := m.ranges[c.place]
			c.low = min(c.low, int(math.Ceil(max(c.grams-c.room, wide.low*mass)*steps-roundOff)))
			c.high = max(c.high, int(math.Floor(min(c.grams+c.room, wide.high*mass)*steps+roundOff)))
		}
		c.low, c.high = max(c.low, 1), max(c.high, 1)
	}
}

// pose writes one serve of the batch as a problem with a column for each line,
// in steps, and the service pours fixed. Without an aim the serve itself is the
// target.
func (m *mixing) pose() error {
	aims := m.asked.problem.aims
	if len(aims) == 0 {
		for _, p := range likeProperties {
			v := m.serve.Profile[p].Value
			aims = append(aims, aim{property: p, low: v, high: v, scaleLow: sizeAt(p, v), scaleHigh: sizeAt(p, v), weight: 1})
		}
	}
	var pours []pour
	for i := range m.rows {
		c := &m.rows[i]
		if c.pour == nil {
			continue
		}
		p := *c.pour
		mass := float64(p.unit.Mass())
		p.fixed, p.step = false, float64(c.step)/mass/m.serves
		pours = append(pours, p)
	}
	for _, n := range m.service {
		pours = append(pours, m.pours[n])
	}
	posed := &work{question: m.written.question, pours: pours, problem: newProblem(m.written.ice, pours, aims, m.asked.problem.limits)}
	if err := posed.readRatios(); err != nil {
		return err
	}
	m.problem = posed.problem
	return nil
}
