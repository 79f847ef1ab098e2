package solver

import (
	"math"

	"minim/pantry"
	"minim/profile"
)

// Reading is what an instrument shows of a batch, and how far off is still
// right.
type Reading struct {
	Value float64
	// Property is what the reading speaks for. Within is how far it moves while
	// that property of the finished drink moves by half a JND, the smaller of up
	// and down; 0 where the batch brings less than half a JND of it, so that the
	// reading speaks for nothing.
	Property profile.Property
	Within   float64
}

// Readings are those of a well mixed batch at 20 °C, degassed.
type Readings struct {
	// Brix is that of a refractometer without correction for alcohol, in °Bx.
	Brix Reading
	// Density is in g/ml; a hydrometer of specific gravity at 20 °C shows it over
	// that of water, 0.99820.
	Density Reading
	PH      Reading
	// Unsure names ingredients whose figures for a reading are unknown: the
	// reading leaves out what these bring.
	Unsure []string
}

// readings computes what the instruments show. The refractometer speaks for
// sugar, or strength where there is less than a JND of sugar; the hydrometer for
// strength, or sugar where there is less than a JND of alcohol; the pH meter for
// acid. A reading's room is found by putting as much sugar, ethanol or acid as
// makes half a JND in the finished drink into the batch, or taking it out, with
// water giving or taking its place.
func (m *mixing) readings(b *Batch, s profile.State) Readings {
	sugar, strength := profile.Sugar, profile.Strength
	if m.amountOf(b, s, sugar) < 1 {
		sugar = profile.Strength
	}
	if m.amountOf(b, s, strength) < 1 {
		strength = profile.Sugar
	}
	r := Readings{
		Brix: m.reading(b, s, sugar, func(s profile.State) float64 { return float64(m.inTheRefractometer(b, s).RefractometerBrix(20)) }),
		Density: m.reading(b, s, strength, func(s profile.State) float64 {
			const kilogramsPerCubicMetre = 1e-3
			return kilogramsPerCubicMetre * float64(s.DensityAt(20))
		}),
		PH: m.reading(b, s, profile.Acid, func(s profile.State) float64 { return valueOf(s, profile.PH) }),
	}
	r.Unsure = unsureOf(b.Rows)
	return r
}

// unsureOf names what of the sheet has unknown figures that a reading needs.
func unsureOf(rows []BatchRow) []string {
	var names []string
	for i := range rows {
		if of := rows[i].Ingredient; of != nil && (of.Unknown(profile.Sugar) || of.Unknown(profile.PH) || of.Unknown(profile.Strength)) {
			names = append(names, rows[i].Name)
		}
	}
	return names
}

// valueOf is a property of a liquid by itself.
func valueOf(s profile.State, p profile.Property) float64 {
	d := profile.Drink{Mix: s}
	var v profile.Values
	d.Evaluate(profile.PropertySet(0).With(p), &v, nil, nil)
	return v[p]
}

// amountOf is how many JND of a property of the finished drink the batch brings.
func (m *mixing) amountOf(b *Batch, s profile.State, p profile.Property) float64 {
	j, _ := p.JND()
	finished := m.serve.Profile[profile.Volume].Value
	return j.Level(valueOf(s, p) * float64(b.Volume) / b.Serves / finished)
}

// inTheRefractometer is the batch with the dissolved matter that stands in no
// column but shows in the densities of its ingredients, in the place of as many
// grams of water.
func (m *mixing) inTheRefractometer(b *Batch, s profile.State) profile.State {
	for i := range b.Rows {
		row := &b.Rows[i]
		if row.Ingredient == nil {
			continue
		}
		grams, _ := row.Ingredient.UnlistedSolids()
		s = pantry.WithUnlistedSolids(s, grams*float64(row.Millilitres)/1000)
	}
	return s
}

// reading is what an instrument shows of the batch, with its room.
func (m *mixing) reading(b *Batch, s profile.State, p profile.Property, shows func(profile.State) float64) Reading {
	r := Reading{Value: shows(s), Property: p}
	if m.amountOf(b, s, p) < profile.Perceptible {
		return r
	}
	j, _ := p.JND()
	now := m.serve.Profile[p].Value
	room := math.Inf(1)
	for _, by := range []float64{-profile.Perceptible, profile.Perceptible} {
		change := j.At(max(0, j.Level(now)+by)) - now
		// The property times the volume of the finished drink is an amount.
		amount := change * m.serve.Profile[profile.Volume].Value * b.Serves
		room = min(room, math.Abs(shows(withMore(s, p, amount))-r.Value))
	}
	r.Within = room
	return r
}

// withMore is s with more of what makes a property, water giving its place: an
// amount in the property's unit times ml. Sugars and acids stay in proportion;
// where there is no sugar it is sucrose.
func withMore(s profile.State, p profile.Property, amount float64) profile.State {
	out := s
	add := func(c profile.Component, grams float64) { out[c] = max(0, out[c]+grams) }
	switch p {
	case profile.Strength:
		add(profile.EthanolGrams, amount/100*gramsPerMillilitre*float64(profile.EthanolDensity))
	case profile.Sugar:
		grams, total := amount/1000, valueOf(s, profile.Sugar)*float64(s.Volume())/1000
		for c := profile.SucroseGrams; c <= profile.OtherSugarsGrams; c++ {
			switch {
			case total > 0:
				add(c, grams*s[c]/total)
			case c == profile.SucroseGrams:
				add(c, grams)
			}
		}
	case profile.Acid:
		if titratable := s[profile.TitratableAcidGrams]; titratable > 0 {
			factor := max(0, 1+amount/1000/titratable)
			out[profile.TitratableAcidGrams] *= factor
			for c := profile.CitricGrams; c <= profile.OxalicGrams; c++ {
				out[c] *= factor
			}
		}
	}
	slopes := s.VolumeGradient()
	swollen := 0.0
	for c := range out {
		if profile.Component(c) != profile.WaterGrams {
			swollen += (out[c] - s[c]) * slopes[c]
		}
	}
	out[profile.WaterGrams] = max(0, out[profile.WaterGrams]-swollen/slopes[profile.WaterGrams])
	return out
}

// gramsPerMillilitre turns kg/m³ into g/ml.
const gramsPerMillilitre = 1e-3
