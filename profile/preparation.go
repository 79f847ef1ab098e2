package profile

// DilutedTo returns s made up with water of 20 °C to a volume at 20 °C. Where s
// has that volume, or more, nothing is added and ok is false. Volumes do not add:
// the water is what closes the volume, found to rounding.
func (s State) DilutedTo(v Millilitre) (diluted State, ok bool) {
	if nearly(float64(s.Volume()), float64(v)) {
		return s, true
	}
	if s.Volume() > v {
		return s, false
	}
	// Contraction never takes more than a tenth of what is added.
	low, high := 0.0, 1.2*float64(v)
	for range 60 {
		middle := (low + high) / 2
		if s.with(middle).Volume() < v {
			low = middle
		} else {
			high = middle
		}
	}
	return s.with(high), true
}

// with returns s with so many grams more water of 20 °C.
func (s State) with(water float64) State {
	var more State
	more[WaterGrams] = water
	more[HeatJoules] = float64(more.HeatAt(20))
	return s.Add(more)
}

// DilutedWith returns s with a volume of water, both at 20 °C.
func (s State) DilutedWith(v Millilitre) State {
	return s.with(float64(v) / MeltMillilitresPerGram)
}

// Clarified returns s without what a filter, a fining or a centrifuge takes out as
// far as a state knows it apart: gums and pectins, and their thickening. Protein,
// fat and pulp that stand in OtherSolidsGrams stay there, as dissolved solids
// stand in it too; so do bitterness and colour that a fining binds.
func (s State) Clarified() State {
	s[GumGrams], s[ThickenerGrams] = 0, 0
	return s
}

// CarbonatedTo returns s with so much carbon dioxide dissolved in it and no other;
// c is 0 or more and, to stay dissolved, within Saturation at the pressure of
// the vessel.
func (s State) CarbonatedTo(c GramPerLitre) State {
	s[CarbonDioxideGrams] = 0
	flat := float64(s.Volume())
	perGram := s.VolumeGradient()[CarbonDioxideGrams]
	perMillilitre := float64(c) / millilitresPerLitre
	s[CarbonDioxideGrams] = perMillilitre * flat / (1 - perMillilitre*perGram)
	return s
}
