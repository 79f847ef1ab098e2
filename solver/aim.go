package solver

import (
	"math"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// volumeTolerance is what the volume may miss its target by, as a part of it,
// before it counts one: a tolerance, not a difference that anyone tastes.
const volumeTolerance = 0.02

// aim is a wanted value (low equal to high) or band of one property. Outside it
// costs weight × (distance / scale)², the scale being that of the nearer edge.
type aim struct {
	property            profile.Property
	low, high           float64
	scaleLow, scaleHigh float64
	weight              float64
	// onLevels measures the distance on the JND scale of the property instead,
	// and the scales are not used.
	onLevels bool
}

// limit is a bound that is never broken if it can be helped.
type limit struct {
	property  profile.Property
	low, high float64 // either may be infinite
	// scale is how much breaking the limit by one counts.
	scale float64
	// written is what to call it in an answer.
	written string
}

// tolerated is how far beyond a limit still counts as at it, relative to 1 plus
// its size: round-off of the model.
const tolerated = 1e-9

// aimsAndLimits turns targets, and what the glass holds, into aims and limits.
func aimsAndLimits(targets []pantry.Target, glass profile.Millilitre) (aims []aim, limits []limit) {
	for i := range targets {
		t := &targets[i]
		if t.Aimed {
			a := aim{property: t.Property, low: t.Low, high: t.High, weight: t.Weight}
			if a.weight == 0 {
				a.weight = 1
			}
			a.scaleLow, a.scaleHigh = t.Tolerance, t.Tolerance
			if t.Tolerance == 0 {
				a.scaleLow, a.scaleHigh = sizeAt(t.Property, t.Low), sizeAt(t.Property, t.High)
			}
			aims = append(aims, a)
		}
		if t.AtLeast != nil {
			limits = append(limits, limit{t.Property, *t.AtLeast, math.Inf(1), sizeAt(t.Property, *t.AtLeast), limitName(t.Property, "at least", *t.AtLeast)})
		}
		if t.AtMost != nil {
			limits = append(limits, limit{t.Property, math.Inf(-1), *t.AtMost, sizeAt(t.Property, *t.AtMost), limitName(t.Property, "at most", *t.AtMost)})
		}
	}
	if glass > 0 {
		holds := float64(glass)
		limits = append(limits, limit{profile.Volume, math.Inf(-1), holds, sizeAt(profile.Volume, holds), "glass " + numberWithUnit(profile.Volume, holds)})
	}
	return aims, limits
}

// sizeAt is what counts as one unit of miss of p at value c: a JND where p has
// one, 2 % of the volume, else a twentieth of the value (at least a
// hundredth of its unit), which only compares broken limits with one another.
func sizeAt(p profile.Property, c float64) float64 {
	if j, ok := p.JND(); ok {
		return j.Size(c)
	}
	if p == profile.Volume {
		return max(volumeTolerance*c, 0.01)
	}
	return max(math.Abs(c)/20, 0.01)
}

// limitName says a limit as its spec did.
func limitName(p profile.Property, words string, value float64) string {
	return p.Name() + " " + words + " " + numberWithUnit(p, value)
}

// numberWithUnit writes a value of p for a sentence, to four figures.
func numberWithUnit(p profile.Property, value float64) string {
	return strings.TrimSpace(significant(value) + " " + p.Unit())
}

// distance is how far v lies outside the aim, in scales, with its sign.
func (a *aim) distance(v float64) float64 {
	if a.onLevels {
		j, _ := a.property.JND()
		return j.Level(v) - j.Level(min(max(v, a.low), a.high))
	}
	switch {
	case v < a.low:
		return (v - a.low) / a.scaleLow
	case v > a.high:
		return (v - a.high) / a.scaleHigh
	}
	return 0
}

// broken is how far v breaks the limit, in its scale.
func (l *limit) broken(v float64) float64 {
	switch {
	case v < l.low-tolerated*(1+math.Abs(l.low)):
		return (l.low - v) / l.scale
	case v > l.high+tolerated*(1+math.Abs(l.high)):
		return (v - l.high) / l.scale
	}
	return 0
}

// significant writes v with up to four significant figures.
func significant(v float64) string {
	text := strconv.FormatFloat(v, 'g', 4, 64)
	if strings.ContainsRune(text, 'e') {
		text = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return text
}
