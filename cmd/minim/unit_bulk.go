package main

import (
	"math"

	"minim/pantry"
)

// litre is how many millilitres it has, from which on volumes in ml are written
// in litres.
const litre = 1000

// bulk writes a large volume for a sentence.
func (u liquidUnit) bulk(ml float64) string {
	if u.metric() && ml >= litre {
		return fixed(ml/litre, 2) + " litres"
	}
	return u.volume(ml)
}

// bought writes a volume for a shopping list.
func (u liquidUnit) bought(ml float64) string {
	switch {
	case u.metric() && ml >= litre:
		return fixed(ml/litre, 2) + " l"
	case u.metric():
		return u.volume(ml)
	}
	return trimmed(u.amount(ml), 1) + " " + u.word()
}

// onTheJug writes a volume as a measuring jug or a small cylinder shows it:
// steps of 5 ml from 100 ml, of 1 ml from 10 ml, else of 0.1 ml; quarters of an
// ounce. Common practice, no source.
func (u liquidUnit) onTheJug(ml float64) string {
	if u.isOunce() {
		return u.number(ml)
	}
	step, places := 5.0, 0
	switch {
	case ml < 10:
		step, places = 0.1, 1
	case ml < 100:
		step = 1
	}
	if liquidUnits[u].unit == pantry.Centilitres {
		places++
	}
	return fixed(u.amount(step*math.Round(ml/step)), places)
}

// metric tells whether the unit goes over into litres.
func (u liquidUnit) metric() bool { return !u.isOunce() }
