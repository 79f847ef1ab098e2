package pantry

import "minim/profile"

// Chloride that came with a gram of sodium, and sodium that belongs to a gram
// of free glutamic acid.
//
// Source: molar masses, IUPAC atomic weights: Cl 35.453, Na 22.990, glutamic
// acid 147.13 g/mol.
const (
	sodiumMolarMass    = 22.990
	chloridePerSodium  = 35.453 / sodiumMolarMass
	sodiumPerGlutamate = sodiumMolarMass / 147.13
)

// leastSaltySodium is the sodium in mg per ml from which it is taken to have
// come as table salt: 1 g/L.
const leastSaltySodium = 1

// PerUnit returns the state of one base unit at its keeping temperature: of
// 1 ml measured at 20 °C for a liquid, of 1 g for a solid. Unknown figures
// count as 0.
//
// What the figures leave of the mass is water in a liquid and other solids in a
// solid, so the water of a hydrate or a cheese stands in the other solids. The
// fat, protein and fibre of a liquid stand there where their column is filled;
// where it is empty, its fat and its protein, free glutamic acid apart, are all
// that is known of them and the rest counts as water. A liquid of unknown density is filled
// with water to the millilitre. The volume correction
// is what makes 1 ml of a liquid of known density take up 1 ml; a solid has
// none, its apparent volume in solution counts. Sodium above 1 g/L of a liquid,
// glutamate's apart, brings its chloride into the other solids. The cost is
// that of PricePerUnit, and 0 where that is not known.
//
// Where no strong charge was given, it is the one that gives the ingredient its
// measured pH with the acids that are listed: by itself it has that pH. Where
// the pH is unknown too, it is the sodium of glutamate and nothing else.
//
// What a prep makes has the exact composition of its parts.
func (i *Ingredient) PerUnit() profile.State {
	if i.made != nil {
		return i.made.unit
	}
	s := i.composed()
	s[profile.Cost], _ = i.PricePerUnit()
	return s
}

// composed is PerUnit without the cost.
func (i *Ingredient) composed() profile.State {
	if i.made != nil {
		return i.made.unit
	}
	s := i.listed()
	if i.Solid {
		s[profile.OtherSolidsGrams] += max(0, 1-float64(s.Mass()))
	} else {
		density := i.Figures[DensityGramsPerMillilitre]
		if density.Known {
			s[profile.WaterGrams] = max(0, density.Value-float64(s.Mass()))
		} else {
			s[profile.WaterGrams] = waterToFill(s)
		}
		s[profile.VolumeCorrectionMillilitres] = 1 - float64(s.Volume())
	}
	s[profile.SweetenerGrams] = i.sweetener(float64(s.Mass()))
	s[profile.HeatJoules] = float64(s.HeatAt(i.KeptAt))
	switch {
	case i.infersCharge():
		s[profile.StrongChargeMilliequivalents] = s.StrongChargeMilliequivalentsAt(i.Figures[PH].Value)
	case !i.Figures[StrongChargePerLitre].Known:
		ofGlutamate := sodiumPerGlutamate * s[profile.GlutamicMilligrams]
		s[profile.StrongChargeMilliequivalents] = min(s[profile.SodiumMilligrams], ofGlutamate) / sodiumMolarMass
	}
	return s
}

// infersCharge tells whether the strong charge follows from the measured pH.
func (i *Ingredient) infersCharge() bool {
	return i.Figures[PH].Known && !i.Figures[StrongChargePerLitre].Known
}

// listed is the state of what the figures of one base unit say, without what
// fills up its mass or its volume.
func (i *Ingredient) listed() profile.State {
	var s profile.State
	per := i.perUnit()
	titrated := 0.0
	for c, facts := range columns {
		f := i.Figures[c]
		if !f.Known {
			continue
		}
		if facts.amount {
			s[facts.component] += f.Value * per
		}
		titrated += facts.citric * f.Value * per
	}
	s[profile.EthanolGrams] = ethanolGrams(i.Figures[StrengthPercent].Value)
	if !i.Figures[TitratableAcidPerLitre].Known {
		s[profile.TitratableAcidGrams] = titrated
	}
	if !i.Solid && !i.Figures[OtherSolidsPerLitre].Known {
		s[profile.OtherSolidsGrams] += s[profile.FatGrams] + max(0, s[profile.ProteinGrams]-s[profile.GlutamicMilligrams]*1e-3)
	}
	if sodium := s[profile.SodiumMilligrams]; !i.Solid && sodium > leastSaltySodium {
		fromSalt := max(0, sodium-sodiumPerGlutamate*s[profile.GlutamicMilligrams])
		s[profile.OtherSolidsGrams] += fromSalt * 1e-3 * chloridePerSodium
	}
	return s
}

// waterToFill returns the grams of water that bring the volume of s to 1 ml; 0
// where it is more than that already.
func waterToFill(s profile.State) float64 {
	low, high := 0.0, 1.1
	for range 60 {
		s[profile.WaterGrams] = (low + high) / 2
		if s.Volume() < 1 {
			low = s[profile.WaterGrams]
		} else {
			high = s[profile.WaterGrams]
		}
	}
	return low
}

// sweetener returns the grams of sucrose that taste as sweet as what stands in
// no sugar column of one base unit of the given mass: the polyols where there
// are any, else all but the sugars.
func (i *Ingredient) sweetener(mass float64) float64 {
	relative := i.Figures[RelativeSweetness]
	if !relative.Known {
		return 0
	}
	per := i.perUnit()
	sweet := i.Figures[PolyolsPerLitre].Value * per
	if sweet == 0 {
		sweet = mass
		for _, c := range sugarColumns {
			sweet -= i.Figures[c].Value * per
		}
	}
	return max(0, sweet) * relative.Value
}

// PerUnitSpread returns one standard deviation of each amount in PerUnit. The
// water that closes the mass, the correction and the heat carry none; nor does
// bitterness unless it has a ± of its own, see HasOwnBitterness. Acids added up
// by equivalents are taken to vary together. An inferred strong charge has the
// spread that the pH's own ± gives it.
func (i *Ingredient) PerUnitSpread() profile.State {
	if i.made != nil {
		return i.made.spread
	}
	var s profile.State
	per := i.perUnit()
	titrated := 0.0
	for c, facts := range columns {
		spread := i.Figures[c].Spread * per
		if facts.amount {
			s[facts.component] += spread
		}
		titrated += facts.citric * spread
	}
	s[profile.EthanolGrams] = ethanolGrams(i.Figures[StrengthPercent].Spread)
	if !i.Figures[TitratableAcidPerLitre].Known {
		s[profile.TitratableAcidGrams] = titrated
	}
	if relative := i.Figures[RelativeSweetness]; relative.Known && relative.Value > 0 {
		unit := i.PerUnit()
		s[profile.SweetenerGrams] = unit[profile.SweetenerGrams] * relative.Spread / relative.Value
	}
	if ph := i.Figures[PH]; i.infersCharge() && ph.Spread > 0 {
		unit := i.PerUnit()
		above := unit.StrongChargeMilliequivalentsAt(ph.Value + ph.Spread)
		below := unit.StrongChargeMilliequivalentsAt(ph.Value - ph.Spread)
		s[profile.StrongChargeMilliequivalents] = (above - below) / 2
	}
	return s
}

// Bubbles tells whether the ingredient is carbonated.
func (i *Ingredient) Bubbles() bool { return i.Figures[CarbonDioxidePerLitre].Value > 0 }
