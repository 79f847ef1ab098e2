// Package profile holds the state of a drink, its properties and the chemistry
// and psychophysics behind them.
//
// A drink is what goes into the tin (the mix), what happens on ice, and what
// is added afterwards (the top). For most purposes build a Drink and call
// Evaluate: it returns the properties of the finished drink and, on request,
// how each changes with every component of mix and top.
//
// Masses, acid equivalents, charge and heat add exactly when things are mixed.
// Volumes do not: they are computed from the state.
//
// The package knows no files, flags or tables; it computes composition, not
// perception, and no mixture suppression.
//
// # Method and sources
//
// Each constant and formula names its source where it stands, and says so where
// it is from memory or an estimate. In the order of the way through a drink:
//
//   - ethanol and water: OIML R 22, International alcoholometric tables (1975);
//     strength by volume at 20 °C (alcoholometry.go, volume.go);
//   - sugars, acids and salts in solution: apparent volumes fitted to published
//     densities, sucrose to those of ICUMSA (volume.go);
//   - acidity: titratable to pH 8.2 in citric equivalents; pH by charge balance
//     with the pKa of NIST Standard Reference Database 46 and the activities of
//     Davies, Ion Association (1962) (acid.go, speciation.go, ph.go);
//   - ice: an energy balance with the freezing point of the mix and one fitted
//     number a method (ice.go, freezing.go, heat.go);
//   - gas: the solubility of PHREEQC, the loss on pouring of Liger-Belair and
//     Cilindre, ACS Omega 6 (2021) 9672 (carbonation.go);
//   - savour: Yamaguchi's synergy of glutamate and nucleotides (property_value.go);
//   - just-noticeable differences: the generalised law of Weber with thresholds
//     and fractions named one by one (jnd.go);
//   - boiling down: Rayleigh's equation over published vapour-liquid pairs
//     (reduction.go);
//   - cautions: the regulation beside each (caution.go, cautionhandling.go).
//
// What these come to against published tables is in testdata/published.csv, row
// by row with its source, and in DEVELOPERS.md. What no number here covers:
// aroma, smoke, tannin, the heat of spice, and how tastes mask one another.
package profile
