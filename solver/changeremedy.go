package solver

import (
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// Remedy is an ingredient that was tried as one more pour and brings the drink
// nearer.
type Remedy struct {
	// Name is what to call it on the command line.
	Name string
	// TotalJND is the total miss with it; Unnoticed tells that no single miss can
	// be perceived and the volume is full.
	TotalJND  float64
	Unnoticed bool
}

// water is what thins a drink, by its name in the pantry.
const water = "water"

// thickeners are what thickens it, the plainest at a bar first: a syrup, what
// syrups are thickened with, and what takes a scale to a hundredth of a gram.
var thickeners = []string{"gum syrup", "gum arabic", "xanthan gum"}

// unnoticed tells whether no held property is perceptibly off and the volume is
// full.
func (c *Changed) unnoticed() bool {
	return !slices.ContainsFunc(c.Properties, PropertyChange.Noticed)
}

// Noticed tells whether a held property is perceptibly off, or the volume by more
// than its tolerance.
func (p PropertyChange) Noticed() bool {
	if p.Property == profile.Volume {
		return p.Held && math.Abs(p.After-p.Wanted) > volumeTolerance*p.Wanted
	}
	return p.Held && p.HasJND && math.Abs(p.AfterJND) >= profile.Perceptible
}

// misses tells whether a property is held and noticeably off.
func (c *Changed) misses(p profile.Property) bool {
	return slices.ContainsFunc(c.Properties, func(one PropertyChange) bool { return one.Property == p && one.Noticed() })
}

// remedy tries one more ingredient: it helps where every miss then goes
// unnoticed, or all together come down by worthHelp; water only where strength and
// volume are then right. Nil where it does not, or is poured already.
func (c *Changed) remedy(name string, shelf *pantry.Shelf, again func(name string) (*Changed, error)) (*Remedy, error) {
	i, err := shelf.Find(name)
	if err != nil || slices.ContainsFunc(c.Pours, func(p PourChange) bool { return p.Ingredient == i }) {
		return nil, nil
	}
	with, err := again(name)
	if err != nil {
		return nil, err
	}
	r := &Remedy{Name: name, TotalJND: with.TotalJND, Unnoticed: with.unnoticed()}
	if name == water && (with.misses(profile.Strength) || with.misses(profile.Volume)) {
		return nil, nil
	}
	if len(with.Far) > len(c.Far) || len(with.Broken) > len(c.Broken) || !r.Unnoticed && c.TotalJND-r.TotalJND < worthHelp {
		return nil, nil
	}
	return r, nil
}
