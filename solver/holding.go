package solver

import (
	"math"

	"minim/profile"
)

// Freezer is the temperature of a domestic or bar freezer. Common practice, no
// source for bars; it is that of frozen food in trade.
const Freezer profile.Celsius = -18

// AcidFoodPH is the pH at or below which a food counts as acid, or acidified,
// in the United States; alcoholic drinks are outside that rule.
//
// Source: 21 CFR 114.3.
const AcidFoodPH = 4.6

// SpiritStrength is from where a drink is commonly held to keep by its alcohol.
// Common practice, no source.
const SpiritStrength profile.PercentVolume = 20

// SyrupBrix is from where a syrup is commonly held to keep by its sugar. Common
// practice, no source.
const SyrupBrix = 65

// A mix is kept cold for no longer than this, in days: FreshDays with juice, egg,
// dairy or anything else fresh in it, weakDays where it is neither strong nor very
// sweet, since what it was mixed of may have kept for weeks by a strength that it no
// longer has, and any other for the weeks that such drinks are commonly held.
// Common practice, no source.
const (
	weakDays  = 7
	mixedDays = 8 * 7
)

// Holding is what decides how a batch is kept. It never says that anything is
// safe.
type Holding struct {
	// FreezingPoint is where the first ice forms, and FrozenInFreezer what part
	// of the mass is ice at Freezer.
	FreezingPoint   profile.Celsius
	FrozenInFreezer float64
	PH              float64
	Strength        profile.PercentVolume
	// Sugar is in grams per 100 g.
	Sugar float64
	// Days is the shortest time that an ingredient of the batch is said to keep,
	// KeptShort that ingredient and Words what is said of it; Days is 0 where
	// nothing is said of any.
	Days      float64
	KeptShort string
	Words     string
	// Fresh tells whether anything fresh is in the batch.
	Fresh bool
	// MostDays is the most that such a mix is kept, whatever its parts are said to.
	MostDays float64
	// Unsure names the ingredients of unknown pH, strength or sugar.
	Unsure []string
	// Allergens are those listed of what is in the batch, and of what is added at
	// service besides.
	Allergens, AtService []string
}

func (m *mixing) holding(b *Batch, s profile.State, v *profile.Values) Holding {
	h := Holding{
		FreezingPoint: s.FreezingPoint(), PH: v[profile.PH], Strength: profile.PercentVolume(v[profile.Strength]),
		Sugar:  100 * v[profile.Sugar] * float64(b.Volume) / 1000 / float64(b.Mass),
		Unsure: b.Readings.Unsure,
	}
	h.FrozenInFreezer = float64(s.FrozenAt(Freezer) / s.Mass())
	shortest := math.Inf(1)
	seen := map[string]bool{}
	add := func(to *[]string, allergens []string) {
		for _, a := range allergens {
			if !seen[a] {
				seen[a] = true
				*to = append(*to, a)
			}
		}
	}
	for i := range b.Rows {
		of := b.Rows[i].Ingredient
		if of == nil {
			continue
		}
		h.Fresh = h.Fresh || fresh(of, m.question.Shelf) != ""
		if days, ok := of.KeepingDays(); ok && days < shortest {
			shortest = days
			h.Days, h.KeptShort, h.Words = days, b.Rows[i].Name, of.Keeps
		}
		add(&h.Allergens, of.Allergens)
	}
	switch {
	case h.Fresh:
		h.MostDays = FreshDays
	case h.Strength < SpiritStrength && h.Sugar < SyrupBrix:
		h.MostDays = weakDays
	default:
		h.MostDays = mixedDays
	}
	for i := range b.AtService {
		add(&h.AtService, b.AtService[i].Ingredient.Allergens)
	}
	return h
}

// UseWithin is how many days after its making the batch is to be used up: the
// shortest that any part is said to keep, and no longer than such a mix is kept.
func (h *Holding) UseWithin() float64 {
	if h.Days == 0 {
		return h.MostDays
	}
	return min(h.Days, h.MostDays)
}
