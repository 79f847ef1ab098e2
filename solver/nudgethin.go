package solver

import (
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// Thinner is what was tried for a drink that is to be thinner than its pours can
// make it and keep the rest.
type Thinner struct {
	// Thickest is the pour without which the drink is thinnest, and Without its
	// viscosity then, in mPa·s. Thickest is nil where nobody would notice.
	Thickest *PourChange
	Without  float64
	// Water is the least, in ml, with which the drink as it was is as thin as is
	// wanted, and Volume what it then comes to; 0 where none up to its own volume is.
	Water, Volume float64
}

// thinner tries the drink without each of its pours, and with more water, where
// it is to be thinner and is not; else it is nil.
func (q *NudgeQuestion) thinner(out *Changed) (*Thinner, error) {
	if !q.toward(profile.Viscosity, -1) || !out.misses(profile.Viscosity) {
		return nil, nil
	}
	at := slices.IndexFunc(out.Properties, func(p PropertyChange) bool { return p.Property == profile.Viscosity })
	wanted, now := out.Properties[at].Wanted, out.Properties[at].Before
	spec := withoutTargets(q.Spec)
	spec.Ratios, spec.Reference, spec.Glass = nil, nil, 0
	report := func(spec *pantry.Spec) (*Answer, error) { return Report(Question{Spec: spec, Shelf: q.Shelf}) }
	t := &Thinner{Without: now}
	for n := range out.Pours {
		p := &out.Pours[n]
		if p.Before == nil {
			continue
		}
		less := *spec
		others := func(list []pantry.Pour) []pantry.Pour {
			return slices.DeleteFunc(slices.Clone(list), func(one pantry.Pour) bool {
				i, err := q.Shelf.Find(one.Name)
				return err == nil && i == p.Ingredient
			})
		}
		less.Mix, less.Top = others(spec.Mix), others(spec.Top)
		if len(less.Mix) == 0 {
			continue
		}
		a, err := report(&less)
		if err != nil {
			return nil, err
		}
		if v := a.Profile[profile.Viscosity]; !v.refused && v.Value < t.Without {
			t.Thickest, t.Without = p, v.Value
		}
	}
	if j, ok := profile.Viscosity.JND(); t.Thickest != nil && ok && j.Level(now)-j.Level(t.Without) < profile.Perceptible {
		t.Thickest = nil
	}
	return t, q.watered(t, spec, out.Original.Profile[profile.Volume].Value, wanted)
}

// waterStep is by how much, in ml, water is added on trial.
const waterStep = 2.5

// watered looks for the water that thins the drink as it was to what is wanted.
func (q *NudgeQuestion) watered(t *Thinner, spec *pantry.Spec, volume, wanted float64) error {
	if _, err := q.Shelf.Find(water); err != nil {
		return nil
	}
	for n := 1; n <= int(math.Floor(volume/waterStep)); n++ {
		more := *spec
		ml := float64(n) * waterStep
		more.Mix = append(slices.Clone(spec.Mix), pantry.FixedPour(water, pantry.Amount{Value: ml, Unit: pantry.Millilitres}))
		a, err := Report(Question{Spec: &more, Shelf: q.Shelf})
		if err != nil {
			return err
		}
		if v := a.Profile[profile.Viscosity]; !v.refused && v.Value <= wanted {
			t.Water, t.Volume = ml, a.Profile[profile.Volume].Value
			return nil
		}
	}
	return nil
}
