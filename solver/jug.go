package solver

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// Jug is what to add to a batch on the table. The jug holds the mix of the drink
// as it was, without ice or top, for Serves serves. Corrected, a drink with a top
// is poured into as many serves, so that each grows from ServeBefore to
// ServeAfter of the mix; one without makes ServesAfter serves of the same size.
type Jug struct {
	Volume, VolumeAfter     profile.Millilitre
	Serves, ServesAfter     float64
	ServeBefore, ServeAfter profile.Millilitre
	Additions               []Addition
	// Properties are those held, the volume aside: what the jug was, what is
	// wanted, and what the additions make of a serve.
	Properties []PropertyChange
	// Proven says that no additions come nearer, and that no fewer do.
	Proven bool
}

// Addition is one ingredient into the jug.
type Addition struct {
	Name       string
	Ingredient *pantry.Ingredient
	Amount     pantry.Amount
	// Base is in ml of a liquid or grams of a solid.
	Base float64
}

// Reached tells whether no held property is perceptibly off.
func (j *Jug) Reached() bool {
	return !slices.ContainsFunc(j.Properties, func(p PropertyChange) bool { return math.Abs(p.AfterJND) >= profile.Perceptible })
}

// ErrLessThanAServe is returned for a jug with less than a serve in it.
type ErrLessThanAServe struct{ Jug, Serve profile.Millilitre }

func (e ErrLessThanAServe) Error() string {
	return fmt.Sprintf("a jug of %s ml is less than a serve, which takes %s ml of the mix; expected more", significant(float64(e.Jug)), significant(float64(e.Serve)))
}

// bigJug is from where a jug is corrected in coarser steps. These, in ml and g:
// common practice, no source. Strong is what has a measure of its own below a
// jigger's, such as saline or bitters.
const (
	coarseLiquid                    = 5
	coarseStrong                    = 1
	fineLiquid                      = 2.5
	coarseSolid                     = 1
	fineSolid                       = 0.1
	bigJug       profile.Millilitre = 1000
)

// jugRoom is how many times the drink may come to: a correction that needs more
// is a new batch. Common practice, no source.
const jugRoom = 1.25

// jugStep is the measure in which an ingredient goes into a jug: that of the spec
// where it is in ounces. What is strong or potent keeps a finer one.
func jugStep(i *pantry.Ingredient, volume profile.Millilitre, measure pantry.Amount) float64 {
	liquid, strong, solid := float64(coarseLiquid), float64(coarseStrong), float64(coarseSolid)
	if volume < bigJug {
		liquid, strong, solid = fineLiquid, min(coarseStrong, i.Step.Amount), fineSolid
	}
	if each, err := measure.Of(i); err == nil && !i.Solid && (measure.Unit == pantry.USOunces || measure.Unit == pantry.ImperialOunces) {
		liquid = each
	}
	switch {
	case !i.Solid && i.Step.Amount > 0 && i.Step.Amount < fineLiquid:
		return strong
	case !i.Solid:
		return liquid
	case i.Step.Amount > 0 && i.Step.Amount < powderStep:
		return i.Step.Amount
	}
	return solid
}

// inJug finds the fewest and least additions to the jug that bring a serve to
// what is wanted, or as near as adding can.
func (c *change) inJug(q NudgeQuestion) (*Jug, error) {
	was, err := partsOf(c.spec, c.shelf)
	if err != nil {
		return nil, err
	}
	var serve profile.State
	for n := range was {
		if was[n].stage == InMix {
			p, err := resolvePour(fixedPart(&was[n], was[n].before), InMix, c.spec, c.shelf, longest)
			if err != nil {
				return nil, err
			}
			serve = serve.Add(p.unit.Scale(p.amount))
		}
	}
	if serve.Mass() == 0 {
		return nil, errors.New("nothing in the mix: there is no batch in a jug to correct")
	}
	jug := &Jug{Volume: q.Jug, ServeBefore: serve.Volume()}
	jug.Serves = float64(q.Jug / jug.ServeBefore)
	if jug.Serves < 1 {
		return nil, ErrLessThanAServe{q.Jug, jug.ServeBefore}
	}

	r, err := c.jugRework(was, jug, q)
	if err != nil {
		return nil, err
	}
	found, err := r.fewChanges()
	if err != nil {
		return nil, err
	}
	jug.Proven = found.solution.Proven && found.solution.PreferenceProven
	p, err := r.changing(make([]bool, len(r.pours)))
	if err != nil {
		return nil, err
	}
	d := profile.Drink{Mix: p.mix, Top: p.top, Ice: p.ice}
	for i := range r.pours {
		one := &r.pours[i]
		if one.fixed || found.amounts[i] == 0 {
			continue
		}
		jug.Additions = append(jug.Additions, Addition{one.written.Name, one.ingredient, baseAmount(found.amounts[i], one.ingredient), found.amounts[i]})
		d.Mix = d.Mix.Add(one.unit.Scale(found.amounts[i]))
	}
	jug.VolumeAfter = d.Mix.Volume()
	jug.ServesAfter, jug.ServeAfter = jug.Serves, jug.VolumeAfter/profile.Millilitre(jug.Serves)
	if p.top.Mass() == 0 {
		jug.ServesAfter, jug.ServeAfter = float64(jug.VolumeAfter/jug.ServeBefore), jug.ServeBefore
	}
	values := d.Finish().Values
	for i := range r.problem.aims {
		a := &r.problem.aims[i]
		j, ok := a.property.JND()
		if !ok {
			continue
		}
		after := values[a.property]
		nearest := min(max(after, a.low), a.high)
		jug.Properties = append(jug.Properties, PropertyChange{
			Property: a.property, Before: c.original.Profile[a.property].Value, Wanted: nearest, Held: true, After: after,
			AfterJND: j.Level(after) - j.Level(nearest), HasJND: true,
		})
	}
	return jug, nil
}

// fixedPart is a pour of exactly that amount.
func fixedPart(p *part, a pantry.Amount) pantry.Pour {
	out := pantry.FixedPour(p.pour.Name, a)
	out.At, out.Place = p.pour.At, p.pour.Place
	return out
}

// jugRework is the question of what to add: the jug is fixed, and so is the top
// of its serves; each ingredient of the mix and of From may be added.
func (c *change) jugRework(was []part, jug *Jug, q NudgeQuestion) (*rework, error) {
	asked := *c.spec
	asked.Mix, asked.Top, asked.Target, asked.Like, asked.Reference, asked.Ratios, asked.Glass = nil, nil, nil, "", nil, nil, 0
	asked.Ice.Mass *= profile.Gram(jug.Serves)
	for _, t := range c.wanted {
		if t.Property != profile.Volume {
			asked.Target = append(asked.Target, t)
		}
	}
	var offered []pantry.Pour
	var seen []*pantry.Ingredient
	offer := func(name string, i *pantry.Ingredient) {
		if !slices.Contains(seen, i) {
			offered = append(offered, pantry.Pour{Name: name, Kind: pantry.Optional})
			seen = append(seen, i)
		}
	}
	for n := range was {
		p := &was[n]
		scaled := fixedPart(p, pantry.Amount{Value: p.before.Value * jug.Serves, Unit: p.before.Unit})
		if p.stage == OnTop {
			asked.Top = append(asked.Top, scaled)
			continue
		}
		asked.Mix = append(asked.Mix, scaled)
		kept := slices.ContainsFunc(q.Keep, func(name string) bool { k, err := partNamed(was, c.shelf, name); return err == nil && k == n })
		if !kept {
			offer(p.pour.Name, p.ingredient)
		}
	}
	for _, name := range q.From {
		i, err := c.shelf.Find(name)
		if err != nil {
			return nil, err
		}
		if i.Bubbles() {
			return nil, fmt.Errorf("%s bubbles; expected what can go into a jug of mix", name)
		}
		offer(name, i)
	}
	asked.Mix = append(asked.Mix, offered...)
	w, err := newWork(Question{Spec: &asked, Shelf: c.shelf, Budget: c.budget})
	if err != nil {
		return nil, err
	}
	r := &rework{work: w, before: make([]float64, len(w.pours)), uncounted: make([]bool, len(w.pours))}
	for i := range w.pours {
		p := &w.pours[i]
		if p.fixed {
			r.before[i] = p.amount
			continue
		}
		most := float64(jug.Volume)
		if p.ingredient.Solid {
			most *= powderShare
		}
		p.step, p.low = jugStep(p.ingredient, jug.Volume, c.spec.Measure), 0
		p.high = int(math.Floor(most / p.step))
	}
	w.volume = float64(jug.Volume)
	most := jugRoom * jug.Serves * c.original.Profile[profile.Volume].Value
	room := limit{property: profile.Volume, low: 0, high: most, scale: sizeAt(profile.Volume, most), written: "the room in the jug"}
	w.problem = newProblem(w.ice, w.pours, w.problem.aims, append(slices.Clone(w.problem.limits), room))
	w.problem.anyVolumeIsAlike = true
	return r, nil
}
