package solver

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// Swap puts In into the place of Out. Without In the pour goes; without Out,
// In is added.
type Swap struct{ Out, In string }

// RebalanceQuestion is what Rebalance is asked.
type RebalanceQuestion struct {
	// Spec is a finished drink: every amount is written.
	Spec *pantry.Spec
	// Shelf is what the drink is poured from now, Before what it was approved
	// with: the same shelf, or one without the newest delivery.
	Shelf, Before *pantry.Shelf
	Swaps         []Swap
	// Keep names pours that do not move, Free ingredients that may be added.
	Keep, Free []string
	// Ignore are properties that need not stay as they were.
	Ignore []profile.Property
	// Budget is that of Question, for each drink that is looked for.
	Budget int
}

// Changed is a drink that was changed, beside the drink it came from.
type Changed struct {
	// Answer is the drink as it is now; its misses are from Wanted.
	*Answer
	// Original is the drink as the spec has it, Alone that with the swap and
	// nothing corrected.
	Original, Alone *Answer
	// Pours are in the order of building, what went before what came in its place.
	Pours []PourChange
	// Properties are the tastes, the strength and the volume.
	Properties []PropertyChange
	// Moved counts the Pours that changed beside what was swapped. Size is the sum
	// of the squared changes in steps, against the approved drink. FromReference
	// tells that this is another than the spec pours, so that what is fewest is
	// counted from there, and Moved may be another number.
	Moved         int
	Size          float64
	FromReference bool
	// Unknown are properties that nobody can hold: what some pour brings of them
	// is not known.
	Unknown []UnknownProperty
	// BrokenBefore are limits that the drink as it was written broke, as Broken
	// calls them. They are not mended: nobody asked for another drink.
	BrokenBefore []string
	// Within is what its drinks were looked for within, and so those that Conflict
	// speaks of.
	Within Confines
	// Nudges are what tasting asked for; nil after a swap or a delivery.
	Nudges []Nudge
	// NotComputed names swaps that change more than is computed.
	NotComputed []Swap
	// Far are pours that went below half or above double of what they were, or of
	// what they stand in the place of: this is another drink.
	Far []FarPour
	// Remedy is one more ingredient that was tried and helps; nil where none did or
	// none is needed.
	Remedy *Remedy
	// Thinner is what would make it as thin as a nudge asks; nil where none asks or
	// its pours do.
	Thinner *Thinner
}

// UnknownProperty is one that the figures of some ingredients leave open.
type UnknownProperty struct {
	Property profile.Property
	Names    []string
}

// PourChange is one pour before and after.
type PourChange struct {
	Name       string
	Ingredient *pantry.Ingredient
	Stage      Stage
	// Before and After are as the bar measures; nil where there was or is none.
	Before, After *pantry.Amount
	// BeforeBase and AfterBase are in ml of a liquid or grams of a solid.
	BeforeBase, AfterBase float64
}

// Moved tells whether the amount is another than before.
func (p *PourChange) Moved() bool {
	return math.Abs(p.AfterBase-p.BeforeBase) > roundOff*(1+p.BeforeBase)
}

// PropertyChange is one property before and after.
type PropertyChange struct {
	Property profile.Property
	// Before is that of the spec as written, Wanted what it is held to; Held is
	// false of a property that is released or unknown.
	Before, Wanted float64
	Held           bool
	Alone, After   float64
	// AloneJND and AfterJND are J(value) - J(Wanted), or from Before where nothing
	// is held; HasJND is false of the volume.
	AloneJND, AfterJND float64
	HasJND             bool
}

// ErrNothingSwapped is returned where neither a swap nor a delivery is given.
var ErrNothingSwapped = errors.New("nothing has changed; expected a swap such as \"lime juice=lemon juice\", or a new delivery")

// Rebalance finds the amounts that keep the profile of a finished drink after a
// swap or a new delivery, as fewChanges says: no perceptible miss where none need
// be, then the fewest other pours moved, each by the least. A swapped-in
// ingredient starts at the amount of what it replaces, by volume, or by mass
// between a liquid and a solid, and moves without counting. A pour of the drink
// keeps at least one measure. The profile to keep is that of the drink's
// reference where it has one, and changes are counted from the reference's pours.
// What the swap alone leaves unnoticed is kept so, and no pour goes below half or
// above double of what it was, wherever some drink can do both. A volume that is
// released stays within 80 to 120 % of the original's.
//
// Salt, bitterness and umami that are released or unknown come out at most 1 JND
// above the original where any drink does. Hard limits of the spec are kept; one
// that cannot be is named in Broken. Errors are pantry.InputErrors or of the
// names given.
//
// Where strength or volume stays noticeably off, water is tried as one more pour
// and named as Remedy if it helps.
func Rebalance(q RebalanceQuestion) (*Changed, error) {
	out, err := q.rebalanced()
	if err != nil || !out.misses(profile.Strength) && !out.misses(profile.Volume) {
		return out, err
	}
	out.Remedy, err = out.remedy(water, q.Shelf, func(name string) (*Changed, error) {
		q.Free = append(slices.Clone(q.Free), name)
		return q.rebalanced()
	})
	return out, err
}

// rebalanced is Rebalance without a remedy.
func (q RebalanceQuestion) rebalanced() (*Changed, error) {
	if q.Before == nil {
		q.Before = q.Shelf
	}
	if len(q.Swaps) == 0 && q.Before == q.Shelf {
		return nil, ErrNothingSwapped
	}
	original, err := Report(Question{Spec: withoutTargets(q.Spec), Shelf: q.Before})
	if err != nil {
		return nil, err
	}
	parts, err := q.parts()
	if err != nil {
		return nil, err
	}
	held, err := hold(q.Spec, original, q.Ignore)
	if err != nil {
		return nil, err
	}
	spec := *q.Spec
	spec.Ratios = q.ratios()
	c := &change{
		spec: &spec, shelf: q.Shelf, original: original, parts: parts, wanted: held.wanted, approved: held.approved,
		unknown: held.unknown, budget: q.Budget, correcting: true, anyVolume: slices.Contains(q.Ignore, profile.Volume), gone: q.gone(),
	}
	out, err := c.solve()
	if err != nil {
		return nil, err
	}
	out.NotComputed = q.notComputed()
	return out, nil
}

// gone are the ingredients that were swapped out.
func (q *RebalanceQuestion) gone() []*pantry.Ingredient {
	var out []*pantry.Ingredient
	for _, s := range q.Swaps {
		if i, err := q.Shelf.Find(s.Out); s.Out != "" && err == nil {
			out = append(out, i)
		}
	}
	return out
}

// withoutTargets is the drink of a spec, whatever it was aimed at.
func withoutTargets(spec *pantry.Spec) *pantry.Spec {
	out := *spec
	out.Target, out.Like = nil, ""
	return &out
}

// held is what a finished drink is held to.
type held struct {
	// approved is the profile wanted of the drink, wanted what is left of it
	// without what is released.
	approved, wanted []pantry.Target
	unknown          []UnknownProperty
}

// hold says what a finished drink is held to: the targets of its reference, or
// its own profile as far as its ingredients are known.
func hold(spec *pantry.Spec, original *Answer, ignore []profile.Property) (held, error) {
	var h held
	if spec.Reference != nil {
		h.approved = slices.Clone(spec.Reference.Target)
	}
	if len(h.approved) == 0 {
		for _, p := range likeProperties {
			if v := &original.Profile[p]; v.refused {
				h.unknown = append(h.unknown, UnknownProperty{p, v.UnknownFrom})
			} else {
				h.approved = append(h.approved, aimAt(p, v.Value))
			}
		}
	}
	for _, t := range h.approved {
		if !slices.Contains(ignore, t.Property) {
			h.wanted = append(h.wanted, t)
		}
	}
	if len(h.wanted) == 0 {
		return h, errors.New("every property is released; expected one at least to hold")
	}
	return h, nil
}

// aimAt is a target of one value, to six figures, so that a file shows it as a
// person would write it.
func aimAt(p profile.Property, v float64) pantry.Target {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		panic("solver: a formatted number that does not read back")
	}
	return pantry.Target{Property: p, Aimed: true, Low: rounded, High: rounded, Weight: 1}
}

// parts are the pours of the drink after the swaps.
func (q *RebalanceQuestion) parts() ([]part, error) {
	parts, err := partsOf(q.Spec, q.Shelf)
	if err != nil {
		return nil, err
	}
	were, err := referred(q.Spec, q.Shelf)
	if err != nil {
		return nil, err
	}
	for n := range parts {
		if at := indexOf(were, parts[n].ingredient); at >= 0 {
			parts[n].before = were[at].before
		}
	}
	for _, s := range q.Swaps {
		if parts, err = q.swapped(parts, s); err != nil {
			return nil, err
		}
	}
	parts = refer(parts, were)
	for _, name := range q.Free {
		i, err := q.Shelf.Find(name)
		if err != nil {
			return nil, err
		}
		if indexOf(parts, i) < 0 {
			parts = append(parts, newPart(name, i, true))
		}
	}
	for _, name := range q.Keep {
		n, err := partNamed(parts, q.Shelf, name)
		if err != nil {
			return nil, err
		}
		if parts[n].before.Value == 0 && parts[n].alone.Value > 0 {
			parts[n].before = parts[n].alone
		}
		if parts[n].before.Value == 0 {
			return nil, fmt.Errorf("%s has no amount yet to keep; expected a pour of the drink", name)
		}
		parts[n].kept = true
	}
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(a.stage, b.stage) })
	return parts, nil
}

// newPart is an ingredient that the drink had none of.
func newPart(name string, i *pantry.Ingredient, optional bool) part {
	p := part{pour: pantry.Pour{Name: name}, ingredient: i, before: none, alone: none, optional: optional, fresh: !optional}
	if i.Bubbles() {
		p.stage = OnTop
	}
	return p
}

// swapped makes one swap.
func (q *RebalanceQuestion) swapped(parts []part, s Swap) ([]part, error) {
	var in *pantry.Ingredient
	if s.In != "" {
		var err error
		if in, err = q.Shelf.Find(s.In); err != nil {
			return nil, err
		}
	}
	if s.Out == "" {
		if indexOf(parts, in) >= 0 {
			return nil, fmt.Errorf("%s is in the drink already; expected another ingredient to add", s.In)
		}
		return append(parts, newPart(s.In, in, false)), nil
	}
	n, err := partNamed(parts, q.Shelf, s.Out)
	if err != nil {
		return nil, err
	}
	out := parts[n]
	if in == nil {
		return slices.Delete(slices.Clone(parts), n, n+1), nil
	}
	if in == out.ingredient {
		return parts, nil
	}
	next := part{pour: pantry.Pour{Name: s.In, Place: out.pour.Place}, ingredient: in, stage: out.stage, fresh: true, inPlaceOf: out.pour.Name}
	next.newState = out.ingredient.Solid != in.Solid
	next.anyAmount = next.newState || isPlain(out.ingredient) && isPlain(in)
	if in.Bubbles() {
		next.stage = OnTop
	}
	if next.before, err = inPlaceOf(out.before, out.ingredient, in); err != nil {
		return nil, err
	}
	if next.alone, err = inPlaceOf(out.alone, out.ingredient, in); err != nil {
		return nil, err
	}
	parts = slices.Clone(parts)
	at := indexOf(parts, in)
	if at < 0 {
		parts[n] = next
		return parts, nil
	}
	if parts[at].before, err = together(parts[at].before, next.before, in); err != nil {
		return nil, err
	}
	if parts[at].alone, err = together(parts[at].alone, next.alone, in); err != nil {
		return nil, err
	}
	parts[at].fresh = true
	return slices.Delete(parts, n, n+1), nil
}

// ratios are those of the spec, by the names that the swaps leave.
func (q *RebalanceQuestion) ratios() []pantry.Ratio {
	ratios := slices.Clone(q.Spec.Ratios)
	for _, s := range q.Swaps {
		if s.Out == "" || s.In == "" {
			continue
		}
		for n := range ratios {
			for _, name := range []*string{&ratios[n].Numerator, &ratios[n].Denominator} {
				if pantry.Fold(*name) == pantry.Fold(s.Out) {
					*name = s.In
				}
			}
		}
	}
	return ratios
}

// plainCategories hold ingredients of which nothing but what is computed can be
// tasted. Common practice, no source.
var plainCategories = []string{"salt", "acid", "sugar & sweetener"}

// notComputed are the swaps that change smoke, peel, tannin, heat or the
// character of a base: all but those between plain ingredients.
func (q *RebalanceQuestion) notComputed() []Swap {
	plain := func(name string) bool {
		i, err := q.Shelf.Find(name)
		if name == "" || err != nil {
			return true
		}
		p := pour{unit: i.PerUnit()}
		return slices.Contains(plainCategories, strings.ToLower(i.Category)) || p.isWater()
	}
	var out []Swap
	for _, s := range q.Swaps {
		if !(plain(s.Out) && plain(s.In)) && pantry.Fold(s.Out) != pantry.Fold(s.In) {
			out = append(out, s)
		}
	}
	return out
}
