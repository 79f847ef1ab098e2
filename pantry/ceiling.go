package pantry

import (
	"slices"
	"strings"
	"sync"

	"minim/profile"
)

// acidColumns are the acids looked for where no titratable acidity was given.
var acidColumns = []Column{CitricPerLitre, MalicPerLitre, TartaricPerLitre, LacticPerLitre, AceticPerLitre}

// neededColumns are the figures that a property is computed from; properties
// that need none are computed from what is there.
var neededColumns = [profile.Properties][]Column{
	profile.Strength:      {StrengthPercent},
	profile.Ethanol:       {StrengthPercent},
	profile.Energy:        append([]Column{StrengthPercent}, sugarColumns...),
	profile.Sugar:         sugarColumns,
	profile.Sweetness:     sugarColumns,
	profile.Acid:          acidColumns,
	profile.PH:            acidColumns,
	profile.Salt:          {SodiumMilligramsPerLitre},
	profile.Bitter:        {BitternessMilligramsPerLitre},
	profile.Umami:         {GlutamicMilligramsPerLitre, NucleotidesMilligramsPerLitre},
	profile.Caffeine:      {CaffeineMilligramsPerLitre},
	profile.CarbonDioxide: {CarbonDioxidePerLitre},
	profile.Viscosity:     append([]Column{StrengthPercent}, sugarColumns...),
}

// UnknownColumns returns the figures that p needs and that nobody gave. An acid
// cell is not missed where the titratable acidity stands, for pH only if the
// listed acids make it up, nor carbon dioxide in a category where nothing
// sparkles.
func (i *Ingredient) UnknownColumns(p profile.Property) []Column {
	if i.made != nil {
		return i.made.unknown[p]
	}
	switch p {
	case profile.Acid:
		if i.Figures[TitratableAcidPerLitre].Known {
			return nil
		}
	case profile.PH:
		if titrated := i.Figures[TitratableAcidPerLitre]; titrated.Known && i.acidListed() >= acidsExplained*titrated.Value*i.perUnit() {
			return nil
		}
	case profile.CarbonDioxide:
		most, ok := CeilingOf(i.Category, i.PerKilogram, CarbonDioxidePerLitre)
		if !ok || most.Figure.Value == 0 {
			return nil
		}
	}
	var unknown []Column
	if p == profile.Energy {
		for _, c := range foodColumns {
			if !i.told(c) {
				unknown = append(unknown, c)
			}
		}
	}
	if p == profile.Viscosity && i.ThickensUnmodelled() {
		unknown = append(unknown, ThickeningPerLitre)
	}
	for _, c := range neededColumns[p] {
		if !i.Figures[c].Known {
			unknown = append(unknown, c)
		}
	}
	return unknown
}

// foodColumns are what holds energy in milk, egg and their like beside sugar.
var foodColumns = []Column{ProteinPerLitre, FatPerLitre}

// thickWords are of what thickens by pulp, fat, protein or foam, folded, and
// thickFoodLeast is the protein and fat, in g/L, from which a liquid does. Both
// common practice, no source.
var (
	thickWords  = []string{"tomato juice", "puree", "purée", "pulp", "nectar", "smoothie", "cream", "egg", "yolk", "aquafaba", "coconut milk", "coconut cream", "nut milk", "orgeat", "almond syrup"}
	noThickName = []string{"cream of tartar", "cream soda", "cream sherry", "clarified", "tomato water", "liqueur"}
)

const thickFoodLeast = 25

// ThickensUnmodelled tells of a liquid that pulp, fat or protein make thicker than
// sugar and gum are reckoned to, by its name or by 25 g/L of protein and fat, and
// of which nobody gave a thickening.
func (i *Ingredient) ThickensUnmodelled() bool {
	if i.Solid || i.Figures[ThickeningPerLitre].Known {
		return false
	}
	names := strings.Join(append([]string{i.Name}, i.Aliases...), "; ")
	if holdsPhrase(names, noThickName) {
		return false
	}
	salted := i.Figures[SodiumMilligramsPerLitre].Value*i.perUnit() > leastSaltySodium*10
	food := (i.Figures[ProteinPerLitre].Value + i.Figures[FatPerLitre].Value) * i.perUnit() * 1000
	return holdsPhrase(names, thickWords) || food >= thickFoodLeast && !salted
}

// told tells of a column that counts as none where it is empty and no protein or
// fat is to be expected, and of every column that is filled.
func (i *Ingredient) told(c Column) bool {
	return i.Figures[c].Known || slices.Contains(foodColumns, c) && !i.HoldsProteinOrFat()
}

// Where protein and fat are to be expected, folded.
var (
	foodCategories = []string{"dairy & egg", "dairy", "egg", "plant milk", "nut milk"}
	foodWords      = []string{"milk", "cream", "half and half", "yoghurt", "yogurt", "kefir", "butter", "egg", "yolk", "aquafaba"}
	noFoodWords    = []string{"cream of tartar", "cream soda", "cream sherry", "milk thistle", "clarified", "washed", "milk punch"}
	foodAllergens  = []string{"milk", "eggs"}
)

// HoldsProteinOrFat tells of dairy, egg and plant milk, by category, allergen or
// name: there an empty cell for protein or fat is unknown, elsewhere none. What
// ends in a bottle of spirit is not excepted, as cream liqueurs hold both.
func (i *Ingredient) HoldsProteinOrFat() bool {
	names := strings.Join(append([]string{i.Name}, i.Aliases...), "; ")
	if holdsPhrase(names, noFoodWords) {
		return false
	}
	return slices.Contains(foodCategories, Fold(i.Category)) || slices.ContainsFunc(foodAllergens, i.listsAllergen) || holdsPhrase(names, foodWords)
}

// acidsExplained is the part of the titratable acidity from which the listed
// acids are taken to be all of it: 15 % is how far titrations of juice differ.
const acidsExplained = 0.85

// acidListed is the acidity, as grams of citric acid in one base unit, of the
// acids that are listed.
func (i *Ingredient) acidListed() float64 {
	titrated := 0.0
	for c, facts := range columns {
		titrated += facts.citric * i.Figures[c].Value
	}
	return titrated * i.perUnit()
}

// Unknown tells whether some figure that p is computed from is unknown.
func (i *Ingredient) Unknown(p profile.Property) bool {
	return len(i.UnknownColumns(p)) > 0
}

// Highest is the largest known figure of a column in one category.
type Highest struct {
	Figure Figure
	// Of is the name of the ingredient it belongs to.
	Of string
}

type ceilingKey struct {
	category    string
	perKilogram bool
	column      Column
}

// ceilings is the largest known figure of the embedded pantry for each
// category, basis and column; of equals the first.
var ceilings = sync.OnceValue(func() map[ceilingKey]Highest {
	highest := map[ceilingKey]Highest{}
	for _, i := range Embedded().All() {
		for c, f := range i.Figures {
			key := ceilingKey{Fold(i.Category), i.PerKilogram, Column(c)}
			if before, seen := highest[key]; f.Known && (!seen || f.Value > before.Figure.Value) {
				highest[key] = Highest{Figure: f, Of: i.Name}
			}
		}
	}
	return highest
})

// CeilingOf returns the largest known figure of column c among the embedded
// ingredients of a category and basis, with its source and whose it is; ok is
// false where the embedded pantry knows none.
func CeilingOf(category string, perKilogram bool, c Column) (most Highest, ok bool) {
	most, ok = ceilings()[ceilingKey{Fold(category), perKilogram, c}]
	return most, ok
}

// Ceiling returns what one base unit could hold at the most of what p needs and
// nobody gave: each unknown figure at the largest of its category, unknown
// acidity at the largest titratable acidity beyond the acids that are listed. For
// pH that acidity is citric acid, with the strong charge that leaves the
// ingredient at its measured pH where that is known: a buffer nobody listed.
// ok is false where a figure is unknown and its category has no ceiling for it.
// That of what a prep makes is what its parts could hold.
func (i *Ingredient) Ceiling(p profile.Property) (perUnit profile.State, ok bool) {
	if i.made != nil {
		return i.made.ceiling[p], i.made.bounded[p]
	}
	unknown := i.UnknownColumns(p)
	if p == profile.Acid && len(unknown) > 0 {
		most, known := CeilingOf(i.Category, i.PerKilogram, TitratableAcidPerLitre)
		listed := i.listed()[profile.TitratableAcidGrams]
		perUnit[profile.TitratableAcidGrams] = max(0, most.Figure.Value*i.perUnit()-listed)
		return perUnit, known
	}
	if p == profile.PH && len(unknown) > 0 {
		return i.unlistedBuffer()
	}
	for _, c := range unknown {
		most, known := CeilingOf(i.Category, i.PerKilogram, c)
		if !known {
			return profile.State{}, false
		}
		if c == StrengthPercent {
			perUnit[profile.EthanolGrams] = ethanolGrams(most.Figure.Value)
			continue
		}
		perUnit[columns[c].component] += most.Figure.Value * i.perUnit()
	}
	return perUnit, true
}

// unlistedBuffer is the citric acid in one base unit that the titratable acidity,
// or where that is unknown too the largest of the category, has beyond the
// listed acids, and the strong charge with which it leaves a measured pH as it is.
func (i *Ingredient) unlistedBuffer() (perUnit profile.State, ok bool) {
	titrated, ok := i.Figures[TitratableAcidPerLitre], true
	if !titrated.Known {
		var most Highest
		most, ok = CeilingOf(i.Category, i.PerKilogram, TitratableAcidPerLitre)
		titrated = most.Figure
	}
	perUnit[profile.CitricGrams] = max(0, titrated.Value*i.perUnit()-i.acidListed())
	if i.infersCharge() {
		unit := i.PerUnit()
		ph, before := i.Figures[PH].Value, unit[profile.StrongChargeMilliequivalents]
		unit[profile.CitricGrams] += perUnit[profile.CitricGrams]
		perUnit[profile.StrongChargeMilliequivalents] = unit.StrongChargeMilliequivalentsAt(ph) - before
	}
	return perUnit, ok
}
