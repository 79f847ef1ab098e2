package pantry

import "fmt"

// What a delivery can be at all. Nothing that is poured lies outside these pH: the
// strongest lemon juice is at 2, a one-molar strong acid at 0, lime water at 12.4
// (CRC Handbook, from memory).
const (
	lowestLotPH  = 0.5
	highestLotPH = 12
	// sourGrams of acid a litre taste sour; common practice, no source.
	sourGrams = 2
	// declaredPercent is the strength from which a drink must say its alcohol:
	// Regulation (EU) 1169/2011, article 16 (4). Below it a juice may have begun to
	// ferment.
	declaredPercent = 1.2
	// spiritPercent is the least of a spirit: Regulation (EU) 2019/787, article 2 (c).
	spiritPercent = 15
)

// possible refuses readings that no delivery of the ingredient gives; those that
// are merely far from the pantry's are doubts.
func (i *Ingredient) possible(readings *[LotFigures]Reading) error {
	if r := readings[LotPH]; r.Known && (r.Value < lowestLotPH || r.Value > highestLotPH) {
		return fmt.Errorf("pH %s; expected from %s to %s: rinse the probe, and try the meter in its buffers",
			formatNumber(r.Value), formatNumber(lowestLotPH), formatNumber(highestLotPH))
	}
	if own, _, known := i.Reading(LotAcid); known && own >= sourGrams && readings[LotAcid] == (Reading{Known: true}) {
		return fmt.Errorf("acid 0 g/L of what the pantry has at %.2g g/L; expected more: check the titration, or leave it out if it was not measured", own)
	}
	own, r := i.Figures[StrengthPercent], readings[LotStrength]
	switch {
	case !r.Known || !own.Known:
	case own.Value == 0 && r.Value > declaredPercent:
		return fmt.Errorf("abv %s %% vol of what has no alcohol; expected 0 to %s: check which ingredient it was", formatNumber(r.Value), formatNumber(declaredPercent))
	case own.Value >= spiritPercent && r.Value == 0:
		return fmt.Errorf("abv 0 %% vol of what the pantry has at %s; expected more: check the label and which ingredient it was", formatNumber(own.Value))
	}
	return nil
}
