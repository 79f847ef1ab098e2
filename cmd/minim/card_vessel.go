package main

import (
	"math"
	"strconv"
	"strings"

	"minim/solver"
)

// Measures of the picture of the pours, in pixels.
const (
	vesselWidth  = 112.0
	vesselHeight = 300.0
	vesselLeft   = 34.0
	vesselRight  = 82.0
	vesselTop    = 14.0
	vesselFoot   = 290.0
)

// vesselLayer is something in the measuring glass.
type vesselLayer struct {
	// place is the number of the pour in the build; 0 is melted ice.
	place int
	ml    float64
}

// vesselPicture draws the pours to scale in a measuring glass, the first at the
// bottom, each with its number in the build; what melts of the ice is pale, between
// the mix and the top. Volumes are as poured: together they are a little more
// than the drink.
func vesselPicture(a *solver.Answer, unit liquidUnit) *picture {
	var layers []vesselLayer
	melted := float64(a.WaterMillilitres) == 0
	melt := func() {
		if !melted {
			layers, melted = append(layers, vesselLayer{0, float64(a.WaterMillilitres)}), true
		}
	}
	total := 0.0
	var said []string
	for i := range a.Pours {
		p := &a.Pours[i]
		if p.Stage == solver.OnTop {
			melt()
		}
		if !p.Ingredient.Solid {
			layers = append(layers, vesselLayer{i + 1, p.Base})
			said = append(said, unit.number(p.Base)+" "+liquidUnits[unit].unit.String()+" "+p.Name)
		}
	}
	melt()
	for _, layer := range layers {
		total += layer.ml
	}
	full := max(total, float64(a.Spec.Glass))
	each := float64(liquidUnits[unit].each)
	scale := niceAxis("", 0, full/each, vesselFoot, vesselTop+10)

	p := newPicture(vesselWidth, vesselHeight, drinkName(a)+": the pours to scale", strings.Join(said, ", ")+".")
	p.fill(layers, func(ml float64) float64 { return scale.at(ml / each) })
	p.graduate(scale, liquidUnits[unit].unit.String())
	if glass := float64(a.Spec.Glass); glass > 0 {
		y := scale.at(glass / each)
		p.polyline([]xy{{vesselLeft, y}, {vesselWidth, y}}, 1)
		p.text(xy{vesselWidth - 1, y - 4}, anchorEnd, tickSize, "glass")
	}
	return p
}

// fill draws the layers from the bottom up.
func (p *picture) fill(layers []vesselLayer, at func(float64) float64) {
	const leastForANumber = 10
	from := 0.0
	for n, layer := range layers {
		foot, top := at(from), at(from+layer.ml)
		words := strconv.Itoa(layer.place)
		if layer.place == 0 {
			words = "melt"
			for y := foot - 4; y > top+2; y -= 6 {
				p.gridLine(xy{vesselLeft + 4, y}, xy{vesselRight - 4, y})
			}
		} else {
			p.band(xy{vesselLeft, top}, vesselRight-vesselLeft, foot-top, n)
		}
		if n > 0 {
			p.line(xy{vesselLeft, foot}, xy{vesselRight, foot})
		}
		if foot-top >= leastForANumber {
			p.text(xy{(vesselLeft + vesselRight) / 2, (foot+top)/2 + 4}, anchorMiddle, smallSize, words)
		}
		from += layer.ml
	}
	p.line(xy{vesselLeft, at(from)}, xy{vesselRight, at(from)})
}

// graduate draws the glass and its marks, four small ones between two numbers.
func (p *picture) graduate(scale axis, unit string) {
	p.polyline([]xy{{vesselLeft, vesselTop}, {vesselLeft, vesselFoot}, {vesselRight, vesselFoot}, {vesselRight, vesselTop}}, plainSeries)
	const small = 5
	marks := int(math.Round((scale.high - scale.low) / scale.step * small))
	for n := range marks + 1 {
		v := scale.low + float64(n)*scale.step/small
		y, long := scale.at(v), 5.0
		if n%small == 0 {
			long = 10
			p.text(xy{vesselLeft - 13, y + 3.5}, anchorEnd, tickSize+0.5, scale.tickText(v))
		}
		p.line(xy{vesselLeft - long, y}, xy{vesselLeft, y})
	}
	p.text(xy{vesselLeft - 13, vesselTop + 0.5}, anchorEnd, tickSize+0.5, unit)
}
