package main

import (
	"io"
	"strings"

	"minim/solver"
)

// Measures of the picture of ranges, in pixels.
const (
	reachWidth  = 720.0
	reachTop    = 64.0
	reachRow    = 46.0
	reachBottom = 44.0
	reachLeft   = 240.0 // where the bars begin
	reachRight  = 610.0
	reachThick  = 14.0
	heldSize    = 9.0 // of the numbers of what is held
)

// Series of the picture of ranges.
const (
	rangeSeries  = 0
	targetSeries = 3
)

// writeReachPicture draws a row for each property, on a scale of its own: a pale
// bar from least to most alone, a full one with the other targets held, and the
// target as a mark below, beside the bar where it is out of reach.
func writeReachPicture(w io.Writer, r *solver.Reachable) error {
	var shown []*solver.PropertyReach
	for i := range r.Ranges {
		if one := &r.Ranges[i]; one.Aimed || one.Alone.Greatest.Value > one.Alone.Least.Value {
			shown = append(shown, one)
		}
	}
	name := r.Spec.Name
	if name == "" {
		name = "A drink"
	}
	height := reachTop + reachRow*float64(len(shown)) + reachBottom
	p := newPicture(reachWidth, height, name+": how far each property can go",
		"For each property the least and the most alone, the range with the other targets held within one JND, and the target, in amounts of any size.")
	p.text(xy{20, 30}, anchorStart, textSize+3, cutShort(name+": how far each property can go", textSize+3, reachWidth-40))
	for i, one := range shown {
		p.reachLine(one, anyAimed(r), reachTop+reachRow*(float64(i)+0.5))
	}
	y := height - 18
	p.band(xy{20, y - 11}, 28, 12, rangeSeries)
	p.text(xy{54, y}, anchorStart, smallSize, "alone")
	p.bar(xy{110, y - 11}, 28, 12, rangeSeries)
	p.text(xy{144, y}, anchorStart, smallSize, "with the other targets held within one JND")
	p.point(xy{420, y - 5}, 10, targetSeries, "target")
	p.text(xy{432, y}, anchorStart, smallSize, "target, beside the bar where out of reach")
	return p.write(w)
}

// reachLine draws one property at a height, and what is held where there are
// others to hold.
func (p *picture) reachLine(one *solver.PropertyReach, others bool, y float64) {
	name, property := one.Property.Name(), one.Property
	if unit := property.Unit(); unit != "" {
		name += ", " + unit
	}
	low, high := one.Alone.Least.Value, one.Alone.Greatest.Value
	at := func(v float64) float64 {
		if !(high > low) {
			return (reachLeft + reachRight) / 2
		}
		const beside = 10
		return min(max(reachLeft+(v-low)/(high-low)*(reachRight-reachLeft), reachLeft-beside), reachRight+beside)
	}
	p.text(xy{20, y + 0.35*textSize}, anchorStart, textSize, name)
	p.text(xy{reachLeft - 22, y + 0.35*smallSize}, anchorEnd, smallSize, rangeNumber(property, low))
	p.text(xy{reachRight + 22, y + 0.35*smallSize}, anchorStart, smallSize, rangeNumber(property, high))
	p.band(xy{at(low), y - reachThick/2}, at(high)-at(low), reachThick, rangeSeries)
	if one.Held != nil && others {
		from, to := min(max(one.Held.Least.Value, low), high), min(max(one.Held.Greatest.Value, low), high)
		p.bar(xy{at(from), y - reachThick/2}, max(at(to)-at(from), 1), reachThick, rangeSeries)
		above := y - reachThick/2 - 4
		p.text(xy{at(from), above}, anchorEnd, heldSize, rangeNumber(property, one.Held.Least.Value))
		p.text(xy{at(to), above}, anchorStart, heldSize, rangeNumber(property, one.Held.Greatest.Value))
	}
	if !one.Aimed {
		return
	}
	meaning := strings.TrimSpace("wanted " + wanted(one) + " " + property.Unit())
	below := y + reachThick/2 + 6
	if one.Low < one.High {
		p.polyline([]xy{{at(one.Low), below}, {at(one.High), below}}, targetSeries)
		p.point(xy{at(one.High), below}, 10, targetSeries, meaning)
	}
	p.point(xy{at(one.Low), below}, 10, targetSeries, meaning)
}
