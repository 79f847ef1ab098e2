// Package solver turns a spec and a shelf into a mathematical problem, and the
// problem's solution back into a drink.
//
// Design answers a spec with open pours, Reach says how far each property can be
// moved by them, and Report gives the profile of a spec as written. Data flows one way: the spec's names become pours with states, the
// targets become rows, package leastsquares finds the amounts, and the full
// model of package profile says what the drink then is.
//
// The package reads no files and prints nothing; amounts it returns are on the
// measures of the bar, and every answer says how it was proven.
package solver
