package solver

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// Nudge moves one property by so many JND, up or down; the volume by so many
// lengths.
type Nudge struct {
	Property profile.Property
	Steps    float64
}

// lengthStep is one step of longer or shorter, as a part of the volume. Common
// practice, no source.
const lengthStep = 0.05

// NudgeQuestion is what Nudged is asked.
type NudgeQuestion struct {
	// Spec is a finished drink: every amount is written.
	Spec  *pantry.Spec
	Shelf *pantry.Shelf
	// Nudges are what tasting asks for, a property at most once.
	Nudges []Nudge
	// Keep names pours that do not move; From ingredients that may be added.
	Keep, From []string
	// Jug is how much of the mix, before ice and top, is on the table; 0: none.
	Jug profile.Millilitre
	// Budget is that of Question, for each drink that is looked for.
	Budget int
}

// ErrNoNudge is returned where nothing is to change.
var ErrNoNudge = errors.New("nothing to change; expected --more or --less with a word such as sour")

// Nudged moves the profile of a finished drink by what tasting asks for, holds
// the rest of it, and finds the fewest changed pours that get there, as fewChanges
// says. Where it is to be weaker, water may come in unasked. A property p at level c moves by n steps to
//
//	J⁻¹(J(c) + n), never below 0,
//
// J the scale of its JND; the volume by a twentieth a step. Where the spec has a
// reference, its profile is what moves. With a jug the second result says what to
// add to it; without, it is nil. Errors are pantry.InputErrors or of the names
// given.
func Nudged(q NudgeQuestion) (*Changed, *Jug, error) {
	if len(q.Nudges) == 0 {
		return nil, nil, ErrNoNudge
	}
	if q.toward(profile.Strength, -1) && !slices.Contains(q.From, water) {
		q.From = append(slices.Clone(q.From), water)
	}
	out, c, err := q.nudged()
	if err != nil {
		return nil, nil, err
	}
	if out.Remedy, err = q.remedyFor(out); err != nil {
		return nil, nil, err
	}
	if out.Thinner, err = q.thinner(out); err != nil || q.Jug == 0 {
		return out, nil, err
	}
	jug, err := c.inJug(q)
	return out, jug, err
}

// toward tells whether a property is moved up (sign 1) or down (sign -1).
func (q *NudgeQuestion) toward(p profile.Property, sign float64) bool {
	return slices.ContainsFunc(q.Nudges, func(n Nudge) bool { return n.Property == p && n.Steps*sign > 0 })
}

// remedyFor tries what would help a nudge that does not come about: what thickens
// or thins where the body is asked for, else the one ingredient of the shelf that
// would help most.
func (q NudgeQuestion) remedyFor(out *Changed) (*Remedy, error) {
	if out.unnoticed() {
		return nil, nil
	}
	var names []string
	switch {
	case out.misses(profile.Viscosity) && q.toward(profile.Viscosity, 1):
		names = thickeners
	case out.misses(profile.Viscosity) && q.toward(profile.Viscosity, -1):
		names = []string{water}
	case out.Conflict != nil && out.Conflict.Help != nil && out.Conflict.Help.Ingredient != nil:
		names = []string{out.Conflict.Help.Ingredient.Name}
	}
	for _, name := range names {
		r, err := out.remedy(name, q.Shelf, func(name string) (*Changed, error) {
			with := q
			with.From = append(slices.Clone(q.From), name)
			changed, _, err := with.nudged()
			return changed, err
		})
		if err != nil || r != nil {
			return r, err
		}
	}
	return nil, nil
}

// nudged is the glass alone, and the question that it was the answer to.
func (q NudgeQuestion) nudged() (*Changed, *change, error) {
	original, err := Report(Question{Spec: withoutTargets(q.Spec), Shelf: q.Shelf})
	if err != nil {
		return nil, nil, err
	}
	h, err := hold(q.Spec, original, nil)
	if err != nil {
		return nil, nil, err
	}
	h.hold(original, q.Nudges, profile.Viscosity)
	h.holdLimited(original)
	wanted, err := moved(h, original, q.Nudges)
	if err != nil {
		return nil, nil, err
	}
	swaps := RebalanceQuestion{Spec: q.Spec, Shelf: q.Shelf, Keep: q.Keep, Free: q.From}
	parts, err := swaps.parts()
	if err != nil {
		return nil, nil, err
	}
	c := &change{
		spec: q.Spec, shelf: q.Shelf, original: original, parts: parts, wanted: wanted, approved: wanted, unknown: h.unknown, budget: q.Budget,
	}
	out, err := c.solve()
	if err != nil {
		return nil, nil, err
	}
	out.Nudges = q.Nudges
	return out, c, nil
}

// hold adds the drink's own level of a property that is held only where it is
// nudged.
func (h *held) hold(original *Answer, nudges []Nudge, p profile.Property) {
	v := &original.Profile[p]
	held := slices.ContainsFunc(h.approved, func(t pantry.Target) bool { return t.Property == p })
	if !held && !v.refused && slices.ContainsFunc(nudges, func(n Nudge) bool { return n.Property == p }) {
		h.approved = append(h.approved, aimAt(p, v.Value))
	}
}

// holdLimited holds what is only limited, such as the strength of a lightened
// drink, where the drink as it is has it; a limit on ethanol holds the strength.
func (h *held) holdLimited(original *Answer) {
	ethanol, strength := false, false
	for n := range h.approved {
		t := &h.approved[n]
		ethanol, strength = ethanol || t.Property == profile.Ethanol, strength || t.Property == profile.Strength
		if aim, ok := limitedOnly(*t, original); ok && slices.Contains(likeProperties, t.Property) {
			*t = aim
		}
	}
	if v := &original.Profile[profile.Strength]; ethanol && !strength && !v.refused {
		h.approved = append(h.approved, aimAt(profile.Strength, v.Value))
	}
}

// moved are the targets with the nudges made.
func moved(h held, original *Answer, nudges []Nudge) ([]pantry.Target, error) {
	out := slices.Clone(h.approved)
	for n, nudge := range nudges {
		if slices.ContainsFunc(nudges[:n], func(m Nudge) bool { return m.Property == nudge.Property }) {
			return nil, fmt.Errorf("%s is moved twice; expected one step up or down", nudge.Property.Name())
		}
		at := slices.IndexFunc(out, func(t pantry.Target) bool { return t.Property == nudge.Property })
		if at < 0 {
			return nil, notMovable(h, nudge.Property)
		}
		t := &out[at]
		if !t.Aimed {
			aim, ok := limitedOnly(*t, original)
			if !ok {
				return nil, notMovable(h, nudge.Property)
			}
			*t = aim
		}
		step := func(v float64) float64 {
			if j, ok := t.Property.JND(); ok {
				return max(0, j.At(j.Level(v)+nudge.Steps))
			}
			return max(0, v*(1+lengthStep*nudge.Steps))
		}
		low, high := aimAt(t.Property, step(t.Low)).Low, aimAt(t.Property, step(t.High)).High
		if low == t.Low && high == t.High {
			return nil, fmt.Errorf("%s cannot go lower: there is none in the drink", t.Property.Name())
		}
		t.Low, t.High = low, high
	}
	return out, nil
}

func notMovable(h held, p profile.Property) error {
	for _, u := range h.unknown {
		if u.Property == p {
			return fmt.Errorf("%s of this drink is not known: what %s brings of it is in no column", p.Name(), strings.Join(u.Names, ", "))
		}
	}
	var names []string
	for _, t := range h.approved {
		if t.Property != p {
			names = append(names, t.Property.Name())
		}
	}
	return fmt.Errorf("%s of this drink is not held; expected one of %s", p.Name(), strings.Join(names, ", "))
}
