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
package profile
