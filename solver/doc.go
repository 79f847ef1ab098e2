// Package solver turns a spec and a shelf into a mathematical problem, and the
// problem's solution back into a drink.
//
// Design answers a spec with open pours, or one that leaves its ingredients to be
// chosen; Report gives the profile of a spec as written, and Finish whichever of
// the two a spec needs. Of a finished drink Rebalance changes as little as a swap
// or a delivery asks for, Nudged what a taster asks for, Lighten and Trace its
// strength, and Reach says how far each property can go; Compare sets drinks side
// by side. SolvePreps finds the open pours of preps, MakeBatch and MakePrepBatch
// the sheets of a service, CostOf what a serve costs to pour.
//
// Data flows one way: the spec's names become pours with states, the targets
// become rows, package leastsquares finds the amounts, and the full model of
// package profile says what the drink then is.
//
// # Method
//
// The objective is the sum of squared misses, each in just-noticeable differences
// at its target. It is minimised over real amounts by Gauss-Newton steps, then
// over the measures by branch and bound whose relaxations hold for the full model
// (enclosure.go says why), then a preference decides among the drinks that nobody
// could tell from the best. DEVELOPERS.md names what is proven, by which test, and
// what is only the best found: reaches, batches and open preps.
//
// The package reads no files and prints nothing; amounts it returns are on the
// measures of the bar, and every answer says how far it was proven.
package solver
