package main

import (
	"math"
)

// axis is a straight scale in a picture.
type axis struct {
	// label names what is measured, with its unit.
	label string
	// low and high are the values at its ends, step that between two ticks.
	low, high, step float64
	// from and to are the coordinates of low and high.
	from, to float64
}

// mostTicks is about how many ticks an axis has at most.
const mostTicks = 6

// niceAxis is an axis over values from low to high, widened to the next ticks;
// the ticks are 1, 2 or 5 times a power of ten apart. A single value gets room on
// both sides, down to 0 at most where it is not below.
func niceAxis(label string, low, high, from, to float64) axis {
	a := axis{label: label, low: low, high: high, from: from, to: to}
	if !(math.Abs(low) <= farthest && math.Abs(high) <= farthest) {
		a.low, a.high = math.NaN(), math.NaN()
		return a
	}
	if low > high {
		low, high = high, low
	}
	if magnitude := max(math.Abs(low), math.Abs(high)); high-low <= 1e-6*magnitude || magnitude == 0 {
		room := max(0.1*magnitude, 1)
		if low >= 0 {
			low = max(low-room, 0)
		} else {
			low -= room
		}
		high += room
	}
	a.step = niceStep((high - low) / (mostTicks - 1))
	// A value on a tick to within rounding needs no further tick.
	const slack = 1e-9
	a.low = a.step * math.Floor(low/a.step+slack)
	a.high = a.step * math.Ceil(high/a.step-slack)
	return a
}

// niceStep is the least of 1, 2 and 5 times a power of ten that is not below v.
func niceStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= v*(1-1e-9) {
			return n * power
		}
	}
	return 10 * power
}

// at is the coordinate of a value.
func (a axis) at(v float64) float64 {
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// ticks are the values that are written beside the axis.
func (a axis) ticks() []float64 {
	if !(a.step > 0) {
		return nil
	}
	var out []float64
	for n := math.Round(a.low / a.step); n <= math.Round(a.high/a.step); n++ {
		out = append(out, n*a.step)
	}
	return out
}

// tickText writes a tick with the decimals that the step needs.
func (a axis) tickText(v float64) string {
	return fixed(v, max(0, -int(math.Floor(math.Log10(a.step)+1e-9))))
}

// axisBelow draws a horizontal axis at a height, its label below its end, and
// grid lines up to top; none where top is the same height.
func (p *picture) axisBelow(a axis, y, top float64) {
	for _, v := range a.ticks() {
		x := a.at(v)
		if top != y {
			p.gridLine(xy{x, y}, xy{x, top})
		}
		p.line(xy{x, y}, xy{x, y + 5})
		p.text(xy{x, y + 18}, anchorMiddle, smallSize, a.tickText(v))
	}
	p.line(xy{a.from, y}, xy{a.to, y})
	p.text(xy{a.to, y + 36}, anchorEnd, textSize, a.label)
}

// axisLeft draws an upright axis at x, its label above its upper end, and grid
// lines as far as right; none where right is the same x.
func (p *picture) axisLeft(a axis, x, right float64) {
	for _, v := range a.ticks() {
		y := a.at(v)
		if right != x {
			p.gridLine(xy{x, y}, xy{right, y})
		}
		p.line(xy{x - 5, y}, xy{x, y})
		p.text(xy{x - 9, y + 0.35*smallSize}, anchorEnd, smallSize, a.tickText(v))
	}
	p.line(xy{x, a.from}, xy{x, a.to})
	p.text(xy{x - 30, min(a.from, a.to) - 12}, anchorStart, textSize, a.label)
}
