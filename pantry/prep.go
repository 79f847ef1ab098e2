package pantry

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"minim/profile"
)

// Prep is a spec that makes an ingredient of a shelf.
type Prep struct {
	Spec *Spec
	// Ingredient is what it makes; its composition is that of the parts after the
	// steps, per ml at 20 °C.
	Ingredient *Ingredient
	// Parts are the pours of one making, in the order of Spec.Mix.
	Parts []PrepPart
	// Plants are what is steeped, in the order of the steps; a plant that is on no
	// shelf is nil.
	Plants []*Ingredient
	// Yield is what one making gives at 20 °C: Spec.Makes.Volume where that is
	// written, else Computed, what is there after the last step.
	Yield, Computed profile.Millilitre
	// Unpriced names the parts whose price is not known, down to what is no prep.
	Unpriced []string
	// Notes are what the maker should know.
	Notes []string

	// plantAllergens are those that the names of plants on no shelf speak of.
	plantAllergens []string
	// names are the folded names that pours call it by.
	names []string
}

// PrepPart is one pour of a prep.
type PrepPart struct {
	// Name is what the prep's spec calls it.
	Name       string
	Ingredient *Ingredient
	Amount     Amount
	// Base is for one making, in ml of a liquid at 20 °C or grams of a solid; of a
	// pour that is still open it is a guess.
	Base float64
	// at is the temperature it is measured at; nil: 20 °C.
	at *profile.Celsius
}

// SteepedPlant is a plant that is steeped in one making.
type SteepedPlant struct {
	// Plant is what the prep's spec calls it.
	Plant string
	// Ingredient is nil for a plant that is on no shelf.
	Ingredient *Ingredient
	Mass       profile.Gram
}

// OnTheList is the plant as something to buy: one without a price where it is on no
// shelf.
func (s *SteepedPlant) OnTheList() *Ingredient {
	if s.Ingredient != nil {
		return s.Ingredient
	}
	return &Ingredient{Name: s.Plant, Solid: true}
}

// Steeped are the plants that are steeped in one making, in order.
func (p *Prep) Steeped() []SteepedPlant {
	var all []SteepedPlant
	for n := range p.Spec.Steps {
		if s := &p.Spec.Steps[n].Steeping; p.Spec.Steps[n].Kind == Steep {
			all = append(all, SteepedPlant{s.Plant, p.Plants[len(all)], profile.Gram(s.grams())})
		}
	}
	return all
}

// Open tells whether some pour is still to be found.
func (p *Prep) Open() bool { return !p.Spec.filled() }

// filled tells whether every pour has its amount.
func (s *Spec) filled() bool {
	return !slices.ContainsFunc(s.Pours(), func(p Pour) bool { return p.Kind != Fixed })
}

// Unit returns the state of one base unit of the part, given that of one base
// unit of its ingredient at 20 °C: what is measured hot is less.
func (p *PrepPart) Unit(of profile.State) profile.State {
	if p.at == nil || p.Ingredient.Solid {
		return of
	}
	if there := of.VolumeAt(*p.at); there > 0 {
		return of.Scale(float64(of.Volume() / there))
	}
	return of
}

// newPrep makes a prep of a spec whose pours are on the shelf. The error is
// InputErrors.
func newPrep(spec *Spec, shelf *Shelf) (*Prep, error) {
	p := &Prep{Spec: spec}
	var wrong InputErrors
	for _, pour := range spec.Mix {
		part, err := newPart(pour, spec, shelf)
		if err != nil {
			wrong = append(wrong, spec.pourError(pour, err))
			continue
		}
		p.Parts = append(p.Parts, part)
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	for n := range spec.Steps {
		if s := &spec.Steps[n]; s.Kind == Steep {
			plant, err := shelf.Find(s.Steeping.Plant)
			if err != nil {
				plant = nil
			}
			if plant != nil && !plant.Solid {
				return nil, InputErrors{spec.ErrorAt(s.Place, s.Steeping.Plant+" is a liquid; expected a plant to steep", "pour it under mix")}
			}
			p.Plants = append(p.Plants, plant)
		}
	}
	if spec.Makes.Volume == 0 && !spec.filled() {
		return nil, InputErrors{spec.ErrorAt(spec.Makes.Place, "pours are open and no volume is made; expected volume under makes", "write makes: {volume: 750 ml}")}
	}
	bases, units := p.Bases(), p.Units()
	made, err := p.Make(bases, units)
	if err != nil && spec.filled() {
		return nil, err
	}
	if made.state[profile.WaterGrams]+made.state[profile.EthanolGrams] <= 0 {
		return nil, InputErrors{spec.ErrorAt(Place{File: spec.File}, "nothing liquid in the prep; expected at least one liquid, such as water", "")}
	}
	for _, s := range p.Steeped() {
		if s.Ingredient == nil {
			p.plantAllergens = append(p.plantAllergens, shelf.AllergensOfText(s.Plant)...)
		}
	}
	p.Computed = made.state.Volume()
	p.Yield = p.Computed
	if spec.Makes.Volume > 0 {
		p.Yield = spec.Makes.Volume
	}
	p.Ingredient = p.ingredient(&made, bases)
	p.remark()
	return p, nil
}

// pourError puts what is wrong with a pour where it stands.
func (s *Spec) pourError(pour Pour, err error) *InputError {
	message, hint := err.Error(), ""
	var wrong *mistake
	var name *NameError
	switch {
	case errors.As(err, &wrong):
		message, hint = wrong.message, wrong.hint
	case errors.As(err, &name):
		hint = "an ingredient of your own goes into a CSV, given with --pantry, or into a prep beside this file"
	}
	return s.ErrorAt(pour.Place, message, hint)
}

// openShare is the part of the volume that an open solid is guessed at, in g/ml.
const openShare = 0.02

func newPart(pour Pour, spec *Spec, shelf *Shelf) (PrepPart, error) {
	ingredient, err := shelf.Find(pour.Name)
	if err != nil {
		return PrepPart{}, err
	}
	part := PrepPart{Name: pour.Name, Ingredient: ingredient, Amount: pour.Low, at: pour.At}
	if pour.Kind == Fixed {
		part.Base, err = pour.Low.Of(ingredient)
		return part, err
	}
	part.Base = float64(spec.Makes.Volume) / float64(len(spec.Mix))
	if ingredient.Solid {
		part.Base = openShare * float64(spec.Makes.Volume)
	}
	if pour.Low.Value > 0 {
		low, err := pour.Low.Of(ingredient)
		if err != nil {
			return part, err
		}
		part.Base = max(part.Base, low)
	}
	if pour.High.Value > 0 {
		high, err := pour.High.Of(ingredient)
		if err != nil {
			return part, err
		}
		part.Base = min(part.Base, high)
	}
	return part, nil
}

// Bases returns how much of each part goes into one making, in base units.
func (p *Prep) Bases() []float64 {
	bases := make([]float64, len(p.Parts))
	for n := range p.Parts {
		bases[n] = p.Parts[n].Base
	}
	return bases
}

// Units returns the state of one base unit of each part's ingredient.
func (p *Prep) Units() []profile.State {
	units := make([]profile.State, len(p.Parts))
	for n := range p.Parts {
		units[n] = p.Parts[n].Ingredient.PerUnit()
	}
	return units
}

// surplus is how far a measured yield may exceed the computed volume and count as
// the same: a jug's error; common practice, no source.
const surplus = 0.03

// remark notes what the maker should know.
func (p *Prep) remark() {
	note := func(format string, values ...any) {
		p.Notes = append(p.Notes, p.Spec.title()+": "+fmt.Sprintf(format, values...))
	}
	if float64(p.Yield) > (1+surplus)*float64(p.Computed) && !p.Open() {
		note("makes %.0f ml, but only %.0f ml come of what goes in; measure it again, or write the water that was added", float64(p.Yield), float64(p.Computed))
	}
	plants := 0
	for n := range p.Spec.Steps {
		s := &p.Spec.Steps[n]
		switch s.Kind {
		case Steep:
			if len(p.Plants) > plants && len(s.Steeping.Gives) == 0 && p.Plants[plants] == nil {
				note("what %s gives is unknown; measure its acid, sugar and bitterness, and write them after gives", s.Steeping.Plant)
			}
			plants++
		case Reduce:
			if strength := p.mixedStrength(); strength > 0 {
				note("its alcohol boils off first: %.1f %% vol before, %.1f after", strength, p.Ingredient.Figures[StrengthPercent].Value)
			}
		}
	}
	own := p.Spec.Makes.Keeps
	for n := range p.Parts {
		part := p.Parts[n].Ingredient
		if part.made != nil && part.made.keeps.Count > 0 && own.Count > 0 && part.made.keeps.Hours() < own.Hours() {
			note("keeps %s, but the %s in it %s", own, p.Parts[n].Name, part.made.keeps)
		}
	}
}

// mixedStrength is the strength in % vol before the steps.
func (p *Prep) mixedStrength() float64 {
	mixed := p.mix(p.Bases(), p.Units())
	return mixed[profile.EthanolGrams] / ethanolGrams(1) / max(float64(mixed.Volume()), 1e-9)
}

// title is what the prep is called.
func (s *Spec) title() string {
	if s.Name != "" {
		return s.Name
	}
	return stem(s.File)
}

// smallShare is the part of the largest unknown below which another is not named.
const smallShare = 0.05

// UnknownParts names what brings an amount of a property that nobody knows, down
// to what is no prep itself: every part of which nobody can say how much it may
// be, and of the others those that may bring more than a twentieth of the most.
func (s *Shelf) UnknownParts(i *Ingredient, property profile.Property) []string {
	p, ok := s.Prep(i)
	if !ok {
		return nil
	}
	most, share := 0.0, make([]float64, len(p.Parts))
	for n := range p.Parts {
		part := &p.Parts[n]
		if !part.Ingredient.Unknown(property) {
			share[n] = -1
			continue
		}
		share[n] = math.Inf(1)
		if ceiling, bounded := part.Ingredient.Ceiling(property); bounded {
			share[n] = 0
			for _, v := range ceiling {
				share[n] = max(share[n], math.Abs(v)*part.Base)
			}
			most = max(most, share[n])
		}
	}
	var names []string
	for n := range p.Parts {
		if share[n] < smallShare*most || share[n] <= 0 {
			continue
		}
		below := s.UnknownParts(p.Parts[n].Ingredient, property)
		if len(below) == 0 {
			below = []string{p.Parts[n].Name}
		}
		names = append(names, below...)
	}
	plants := 0
	for n := range p.Spec.Steps {
		if steep := &p.Spec.Steps[n].Steeping; p.Spec.Steps[n].Kind == Steep {
			if slices.Contains(steep.untold(p.Plants[plants]), property) {
				names = append(names, steep.Plant)
			}
			plants++
		}
	}
	return names
}
