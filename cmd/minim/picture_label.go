package main

import "math"

// labelled is something in a picture that is to have its name beside it.
type labelled struct {
	at xy
	// reach is how far it stretches from its middle.
	reach float64
	words string
}

// box is an upright rectangle.
type box struct{ left, top, right, bottom float64 }

// overlap is the area that two boxes share.
func (b box) overlap(o box) float64 {
	width := min(b.right, o.right) - max(b.left, o.left)
	height := min(b.bottom, o.bottom) - max(b.top, o.top)
	if width <= 0 || height <= 0 {
		return 0
	}
	return width * height
}

// outside is the area of b that is not within o.
func (b box) outside(o box) float64 {
	return (b.right-b.left)*(b.bottom-b.top) - b.overlap(o)
}

// directions are where a name may stand, the first that is free: right, left,
// above, below, then the corners.
var directions = []xy{{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, -0.9}, {-0.9, 0.9}}

// Around each thing the places for its name stand in rings.
const (
	labelGap   = 4.0
	labelRing  = 15.0
	labelRings = 12
)

// placeLabels finds the boxes of the names, in their order: the nearest place
// that is within bounds and covers neither a name nor a thing; where there is
// none, the one that covers least.
func placeLabels(all []labelled, bounds box) []box {
	var taken []box
	for _, one := range all {
		taken = append(taken, box{one.at.x - one.reach, one.at.y - one.reach, one.at.x + one.reach, one.at.y + one.reach})
	}
	places := make([]box, len(all))
	for n, one := range all {
		least := math.Inf(1)
		for ring := 0.0; ring < labelRings && least > 0; ring++ {
			for _, d := range directions {
				place := beside(one, d, one.reach+labelGap+ring*labelRing)
				covered := 4 * place.outside(bounds)
				for _, t := range taken {
					covered += place.overlap(t)
				}
				if covered < least {
					least, places[n] = covered, place
				}
			}
		}
		taken = append(taken, places[n])
	}
	return places
}

// beside is the box of a name in a direction and at a distance.
func beside(one labelled, d xy, distance float64) box {
	width, height := textWidth(one.words, smallSize), 1.2*smallSize
	x, y := one.at.x+d.x*distance, one.at.y+d.y*distance
	// The box hangs from the side, or the middle, that faces the thing.
	left := x - width*(1-sign(d.x))/2
	top := y - height*(1-sign(d.y))/2
	return box{left, top, left + width, top + height}
}

func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// labels writes names beside things, with a line where a name stands far off.
func (p *picture) labels(all []labelled, bounds box) {
	for n, place := range placeLabels(all, bounds) {
		one := &all[n]
		middle := (place.left + place.right) / 2
		end := xy{min(max(one.at.x, place.left), place.right), min(max(one.at.y, place.top), place.bottom)}
		if away := math.Hypot(end.x-one.at.x, end.y-one.at.y); away > one.reach+labelGap+1 {
			p.gridLine(one.at, end)
		}
		p.text(xy{middle, place.bottom - 0.3*smallSize}, anchorMiddle, smallSize, one.words)
	}
}
