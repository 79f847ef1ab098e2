package pantry

import (
	"errors"
	"fmt"
	"math"

	"minim/profile"
)

// Making is what one making of a prep comes to.
type Making struct {
	// state is all that is there after the last step, at 20 °C, its cost that of
	// all that went in.
	state profile.State
	// variance is that of what steeped plants gave.
	variance profile.State
	// kept is the part of what does not boil off that is still there.
	kept float64
	// mixed is what was there before the first step.
	mixed profile.State
}

// Volume is what is there after the last step, at 20 °C.
func (m *Making) Volume() profile.Millilitre { return m.state.Volume() }

// State is all that is there after the last step, at 20 °C.
func (m *Making) State() profile.State { return m.state }

// mix stirs the parts together.
func (p *Prep) mix(bases []float64, units []profile.State) profile.State {
	var s profile.State
	for n := range p.Parts {
		s = s.Add(p.Parts[n].Unit(units[n]).Scale(bases[n]))
	}
	s[profile.HeatJoules] = float64(s.HeatAt(roomTemperature))
	return s
}

// Make mixes so many base units of each part, of the given states, and goes
// through the steps. A step that cannot be done, such as a reduction to more than
// there is, is InputErrors; the making then goes on without it.
func (p *Prep) Make(bases []float64, units []profile.State) (Making, error) {
	m := Making{state: p.mix(bases, units), kept: 1}
	m.mixed = m.state
	cost := m.state[profile.Cost]
	var wrong InputErrors
	plants := 0
	for n := range p.Spec.Steps {
		s := &p.Spec.Steps[n]
		var plant *Ingredient
		if s.Kind == Steep {
			plant = p.Plants[plants]
			plants++
			if plant != nil {
				each, _ := plant.PricePerUnit()
				cost += each * s.Steeping.grams()
			}
		}
		if err := m.take(s, plant); err != nil {
			wrong = append(wrong, p.Spec.ErrorAt(s.Place, err.Error(), ""))
		}
	}
	m.state[profile.Cost] = cost
	m.state[profile.HeatJoules] = float64(m.state.HeatAt(roomTemperature))
	if len(wrong) > 0 {
		return m, wrong
	}
	return m, nil
}

// PerMillilitre returns the state of one ml of the prep as it is poured: at the
// temperature it is kept at, and with its share of the cost of all that it yields.
func (p *Prep) PerMillilitre(m *Making) profile.State {
	volume := float64(m.state.Volume())
	if volume <= 0 {
		return profile.State{}
	}
	s := m.state.Scale(1 / volume)
	s[profile.HeatJoules] = float64(s.HeatAt(p.keptAt(&s)))
	s[profile.Cost] = m.state[profile.Cost] / volume
	if measured := float64(p.Spec.Makes.Volume); measured > 0 {
		s[profile.Cost] = m.state[profile.Cost] / measured
	}
	return s
}

// keptAt is the temperature that a prep is poured at: that of its place, the
// fridge's where it would freeze in the freezer.
func (p *Prep) keptAt(s *profile.State) profile.Celsius {
	store := p.Spec.Makes.Store
	t := storages[store].at
	if store == StoreFreezer {
		cold := *s
		cold[profile.HeatJoules] = float64(cold.HeatAt(t))
		if cold.TemperatureAlone() > t+0.1 {
			return storages[StoreFridge].at
		}
	}
	return t
}

// take does one step.
func (m *Making) take(s *PrepStep, plant *Ingredient) error {
	var err error
	value := s.Value
	switch s.Kind {
	case Reduce:
		var reduced profile.State
		switch s.Measure {
		case ToMass:
			reduced, err = m.state.ReducedToMass(profile.Gram(value))
		case ToBrix:
			reduced, err = m.state.ReducedToBrix(profile.Brix(value))
		default:
			reduced, err = m.state.ReducedToVolume(profile.Millilitre(value))
		}
		if err != nil {
			return m.reductionError(s, err)
		}
		m.state = reduced
	case Steep:
		return m.steep(&s.Steeping, plant)
	case Strain:
		return m.lose(s)
	case Clarify:
		m.state = m.state.Clarified()
		return m.lose(s)
	case Dilute:
		if s.Measure == WithVolume {
			m.state = m.state.DilutedWith(profile.Millilitre(value))
			break
		}
		diluted, ok := m.state.DilutedTo(profile.Millilitre(value))
		if !ok {
			return fmt.Errorf("%s, but there are %.0f ml already; expected more", s.Text(), float64(m.state.Volume()))
		}
		m.state = diluted
	case Carbonate:
		c := profile.GramPerLitre(value)
		if s.Measure == GasVolumes {
			c *= profile.CarbonDioxideVolume
		}
		m.state = m.state.CarbonatedTo(c)
	}
	return nil
}

func (m *Making) reductionError(s *PrepStep, err error) error {
	there := fmt.Sprintf("%.0f ml", float64(m.state.Volume()))
	switch s.Measure {
	case ToMass:
		there = fmt.Sprintf("%.0f g", float64(m.state.Mass()))
	case ToBrix:
		there = fmt.Sprintf("%.1f °Bx", float64(m.state.RefractometerBrix(roomTemperature)))
	}
	if errors.Is(err, profile.ErrBoiledDry) {
		return fmt.Errorf("%s: it would boil dry before that; expected more", s.Text())
	}
	if s.Measure == ToBrix {
		return fmt.Errorf("%s, but it has %s already; expected more", s.Text(), there)
	}
	return fmt.Errorf("%s, but there are only %s; expected less", s.Text(), there)
}

// leastLeft is the part of a liquid that is no more than rounding.
const leastLeft = 1e-6

// lose leaves a part of the liquid behind.
func (m *Making) lose(s *PrepStep) error {
	volume := float64(m.state.Volume())
	lost := s.Value
	if s.Measure == LosesPercent {
		lost = volume * s.Value / 100
	}
	if lost >= volume*(1-leastLeft) {
		return fmt.Errorf("%s, but there are only %.0f ml; expected less", s.Text(), volume)
	}
	m.keep(1 - lost/volume)
	return nil
}

// keep leaves all but so large a part of the liquid behind.
func (m *Making) keep(part float64) {
	m.state = m.state.Scale(part)
	m.variance = m.variance.Scale(part * part)
	m.kept *= part
}

// grams is the mass of the plant.
func (s *Steeping) grams() float64 { return s.Amount.Value * float64(unitTable[s.Amount.Unit].grams) }

// share is the part of what the plant gives that has gone over:
// 1 - exp(-ln 2 t / t½), and 1 where no half time is given.
func (s *Steeping) share() float64 {
	if s.HalfIn.Count == 0 {
		return 1
	}
	return ExtractedShare(PerHour(math.Ln2/float64(s.HalfIn.Hours())), s.For.Hours())
}

// keptBack is the liquid that the plant keeps.
func (s *Steeping) keptBack() float64 {
	each := RetainedByLeaf
	if s.KeepsBack != nil {
		each = *s.KeepsBack
	}
	return float64(each) * s.grams()
}

// given is what a kilogram of the plant gives: as written after gives, and where
// that is silent what its row on the shelf says.
func (s *Steeping) given(plant *Ingredient) []Given {
	all := append([]Given(nil), s.Gives...)
	if plant == nil {
		return all
	}
	for c := range Column(Columns) {
		figure := plant.Figures[c]
		if !canBeGiven(c) || !figure.Known || s.writes(c) {
			continue
		}
		all = append(all, Given{c, figure.Value, figure.Spread})
	}
	return all
}

// writes tells whether the amount of a column is written after gives.
func (s *Steeping) writes(c Column) bool {
	for _, g := range s.Gives {
		if g.Into == c {
			return true
		}
	}
	return false
}

// steep adds what the plant gives,
//
//	m = grams × gives × (1 - exp(-ln 2 t / t½))
//
// and takes away the liquid that it keeps when it is strained off.
func (m *Making) steep(s *Steeping, plant *Ingredient) error {
	kilograms := s.grams() / 1000
	part := s.share()
	for _, g := range s.given(plant) {
		facts := columns[g.Into]
		m.state[facts.component] += kilograms * g.PerKilogram * part
		m.state[profile.TitratableAcidGrams] += kilograms * g.PerKilogram * part * facts.citric
		m.variance[facts.component] += square(kilograms * g.Spread * part)
		m.variance[profile.TitratableAcidGrams] += square(kilograms * g.Spread * part * facts.citric)
	}
	volume, kept := float64(m.state.Volume()), s.keptBack()
	if kept >= volume {
		return fmt.Errorf("%s keeps back all of the %.0f ml; expected more liquid, or less plant", s.Plant, volume)
	}
	m.keep(1 - kept/volume)
	return nil
}
