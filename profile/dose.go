package profile

// Energy and small masses on a label.
type (
	// Kilojoule is food energy.
	Kilojoule float64
	// Kilocalorie is food energy. The factors of the two are rounded apart, so
	// one is never converted into the other.
	Kilocalorie float64
	// Milligram is a mass.
	Milligram float64
)

// energyFactor is the energy in a gram.
type energyFactor struct{ kilojoules, kilocalories float64 }

// energyFactors are those of each component. Phosphoric acid is no organic
// acid. The other solids carry none, beyond the protein and the fat that are
// told of them. Erythritol has 0, but stands among the polyols and counts 10 kJ
// and 2.4 kcal.
//
// Source: Regulation (EU) 1169/2011, Annex XIV.
var energyFactors = func() (f [Components]energyFactor) {
	for _, c := range sugarComponents {
		f[c] = energyFactor{17, 4}
	}
	for c := CitricGrams; c <= OxalicGrams; c++ {
		f[c] = energyFactor{13, 3}
	}
	f[PhosphoricGrams] = energyFactor{}
	f[EthanolGrams] = energyFactor{29, 7}
	f[PolyolsGrams] = energyFactor{10, 2.4}
	f[GumGrams] = energyFactor{8, 2} // fibre
	f[ProteinGrams] = energyFactor{17, 4}
	f[FatGrams] = energyFactor{37, 9}
	return f
}()

// Dose is what one serve brings into the body.
type Dose struct {
	// Kilojoules and Kilocalories are each computed from the grams.
	Kilojoules   Kilojoule
	Kilocalories Kilocalorie
	Ethanol      Gram
	// StandardDrinks counts the ethanol in the standard drinks of the United
	// Kingdom, the United States, Australia, the WHO and EU, and Canada.
	StandardDrinks []StandardDrinks
	Sodium         Milligram
	Caffeine       Milligram
}

// StandardDrinks is the ethanol of a serve in the standard drinks, or units, of
// one place.
type StandardDrinks struct {
	Where string
	// Grams is the ethanol in one standard drink.
	Grams Gram
	Count float64
}

// standardDrinkSizes are the grams of ethanol in a standard drink.
var standardDrinkSizes = [...]struct {
	where string
	grams Gram
}{
	// 10 ml of ethanol, taken as 8 g since 1987: an encyclopedia's table. By the
	// millilitre a drink has 1.4 % more units.
	{"UK", 8},
	// National Institute on Alcohol Abuse and Alcoholism: about 14 g, 0.6 fl oz.
	{"US", 14},
	// National guidelines, in an encyclopedia's table.
	{"Australia", 10},
	// World Health Organization, AUDIT questionnaire; the commonest size in the
	// European Union, whose members have 10 to 20 g.
	{"WHO and EU", 10},
	// 13.45 g: an encyclopedia's table; national pages round to 13.6.
	{"Canada", 13.45},
}

// Dose returns what s, a finished serve, brings into the body.
func (s State) Dose() Dose {
	d := Dose{
		Ethanol:        Gram(s[EthanolGrams]),
		StandardDrinks: make([]StandardDrinks, len(standardDrinkSizes)),
		Sodium:         Milligram(s[SodiumMilligrams]),
		Caffeine:       Milligram(s[CaffeineMilligrams]),
	}
	for c, f := range energyFactors {
		d.Kilojoules += Kilojoule(f.kilojoules * s[c])
		d.Kilocalories += Kilocalorie(f.kilocalories * s[c])
	}
	for i, size := range standardDrinkSizes {
		d.StandardDrinks[i] = StandardDrinks{Where: size.where, Grams: size.grams, Count: float64(d.Ethanol / size.grams)}
	}
	return d
}
