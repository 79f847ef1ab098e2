package solver

import (
	"fmt"
	"math"
	"slices"

	"minim/profile"
)

// noticeable is how many JND farther from the target a drink is noticed to be.
const noticeable = 0.5

// quietLimits hold each taste that nobody aims at or limits to one JND above
// what comes with the fixed pours and with one step of each that must be in the
// drink: of a whole shelf, nothing more is what can be had.
func (p *problem) quietLimits(must []int) []limit {
	var required profile.Values
	least := make([]float64, len(p.open))
	for _, j := range must {
		least[j] = float64(max(p.open[j].low, 1))
	}
	d := p.drink(least)
	d.Ice = profile.Ice{}
	d.Evaluate(profile.AllProperties, &required, nil, nil)
	share := 1.0
	if volume, _ := p.between(profile.Volume, 0); volume > 0 {
		share = min(1, required[profile.Volume]/volume)
	}
	var limits []limit
	for _, quiet := range quietTastes {
		taste := quiet.taste
		limited := slices.ContainsFunc(p.limits, func(l limit) bool { return l.property == taste })
		if p.aimsAt(taste) || limited || taste == profile.Sugar && p.aimsAt(profile.Sweetness) {
			continue
		}
		j, _ := taste.JND()
		level := j.At(j.Level(share*required[taste]) + untargetedRoom)
		limits = append(limits, limit{property: taste, low: math.Inf(-1), high: level, scale: j.Size(level)})
	}
	return limits
}

// quietWithoutHarm lists the limits of tastes that nobody aims at which can all be
// kept without the drink being farther from the target by what could be tasted; the
// others are named in a remark. Quick searches tell.
func (w *work) quietWithoutHarm(c *choice, asked *problem, quiet []limit) ([]limit, error) {
	c.left = quietWork
	distance := func(limits []limit) (float64, error) {
		p := asked.with(asked.aims, append(slices.Clone(asked.limits), limits...))
		continuous, err := p.continuous(p.starts(w.volume)[:1])
		if err != nil {
			return 0, err
		}
		found, err := c.quickest(p, continuous.X, nil)
		if !found.Found {
			return math.Sqrt(lastCutoff), err
		}
		return math.Sqrt(found.Objective), err
	}
	all, err := distance(quiet)
	if err != nil || all*all <= asked.near() {
		return quiet, err
	}
	least, err := distance(nil)
	if err != nil || all-least < noticeable {
		return quiet, err
	}
	var kept []limit
	for _, l := range quiet {
		more := append(slices.Clone(kept), l)
		d, err := distance(more)
		if err != nil {
			return nil, err
		}
		if d-least < noticeable {
			kept = more
			continue
		}
		w.notes = append(w.notes, fmt.Sprintf("no target speaks of %s; kept to %s the drink would be farther from the rest by what could be tasted, so that %s was left free: write a target to hold it",
			l.property.Name(), numberWithUnit(l.property, l.high), l.property.Name()))
	}
	return kept, nil
}
