package main

import (
	"math/rand/v2"
	"testing"
)

var plot = box{70, 70, 730, 500}

// uncovered fails where a name covers another or stands outside.
func uncovered(t *testing.T, all []labelled) {
	t.Helper()
	places := placeLabels(all, plot)
	for n, place := range places {
		if place.outside(plot) > 1e-9 {
			t.Errorf("the name of thing %d stands outside: %+v", n, place)
		}
		for i, other := range places[:n] {
			if place.overlap(other) > 0 {
				t.Errorf("the names of things %d and %d cover one another: %+v, %+v", i, n, other, place)
			}
		}
	}
}

func TestNamesStandApart(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		var all []labelled
		for range 20 {
			at := xy{100 + 600*draw.Float64(), 100 + 370*draw.Float64()}
			all = append(all, labelled{at, 4 + 18*draw.Float64(), "Name of a drink"[:4+draw.IntN(11)]})
		}
		uncovered(t, all)
	}
}

// Eight drinks that are all the same are still named apart, in the middle and in
// a corner.
func TestNamesOfThingsInOnePlaceStandApart(t *testing.T) {
	for _, at := range []xy{{400, 300}, {75, 75}, {725, 495}} {
		var all []labelled
		for range 8 {
			all = append(all, labelled{at, 10, "Twin Pier"})
		}
		uncovered(t, all)
	}
}

// The first free place is to the right.
func TestANameStandsToTheRightWhereThatIsFree(t *testing.T) {
	one := labelled{xy{300, 300}, 10, "Pier"}
	place := placeLabels([]labelled{one}, plot)[0]
	if place.left != 300+10+labelGap || (place.top+place.bottom)/2 != 300 {
		t.Errorf("the name stands at %+v", place)
	}
	one.at.x = 725
	if place := placeLabels([]labelled{one}, plot)[0]; place.right != 725-10-labelGap {
		t.Errorf("at the right end the name stands at %+v", place)
	}
}
