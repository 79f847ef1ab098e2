package solver

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// weakDrinks are the steps of the nearest drinks by which pours stay as they were.
type weakDrinks map[string]map[string]int

// isKept tells whether the asker keeps the pour.
func (l *lightening) isKept(i *pantry.Ingredient) bool {
	return slices.ContainsFunc(l.asked.Keep, func(name string) bool {
		kept, err := l.asked.Shelf.Find(name)
		return err == nil && kept == i
	})
}

// stays lists which pours may stay as they were: none of them; and where some
// amounts lie off the measure, so that no step of it gives them back, all of
// these, and all but each one. The pour with the most ethanol is the one that has
// to go down, and is not among them.
func (l *lightening) stays(none bool) [][]*pantry.Ingredient {
	var off []*pantry.Ingredient
	strongest := 0.0
	for n := range l.original.Pours {
		strongest = max(strongest, ethanolOf(&l.original.Pours[n]))
	}
	for n := range l.original.Pours {
		p := &l.original.Pours[n]
		step, err := stepOf(p.Ingredient, l.kept)
		ethanol := ethanolOf(p)
		if err != nil || l.isKept(p.Ingredient) || p.Amount.Unit == pantry.Pieces || ethanol > 0 && (none || ethanol == strongest) {
			continue
		}
		if k := p.Base / step; math.Abs(k-math.Round(k)) > roundOff {
			off = append(off, p.Ingredient)
		}
	}
	all := [][]*pantry.Ingredient{nil}
	if len(off) == 0 {
		return all
	}
	all = append(all, off)
	for n := range off {
		if len(off) > 1 {
			all = append(all, slices.Delete(slices.Clone(off), n, n+1))
		}
	}
	return all
}

// search finds the nearest drink, over which pours stay as they were. Among those
// that no taster could tell from it, it takes the one that leaves out the fewest of
// the original's pours, then the strongest.
func (l *lightening) search(out *Lightened, limit pantry.Target, weaker weakDrinks) (weakDrinks, error) {
	var all []*searched
	known := weakDrinks{}
	stays := l.stays(*limit.AtMost == 0)
	for _, stay := range stays {
		var names []string
		for _, i := range stay {
			names = append(names, i.Name)
		}
		key := strings.Join(names, "\n")
		one, err := l.searchKeeping(limit, weaker[key], stay, len(stays))
		if err != nil {
			return nil, err
		}
		known[key] = one.best
		// With more pours fixed, limits may be out of reach that can be kept.
		if len(all) == 0 || len(one.answer.Broken) == 0 {
			all = append(all, one)
		}
	}
	if len(all) > 1 && len(all[0].answer.Broken) > 0 {
		all = all[1:]
	}
	best, bound, proven := all[0], math.Inf(1), true
	for _, one := range all {
		proven, bound = proven && one.proven, min(bound, one.answer.Solution.Bound)
		if one.least < best.least*(1-tolerated) {
			best = one
		}
	}
	taken := best
	for _, one := range all {
		if !l.alike(one.answer, best.answer) {
			continue
		}
		mine, theirs := one.answer.Profile[out.Property].Value, taken.answer.Profile[out.Property].Value
		if cmp.Or(cmp.Compare(l.gone(one.answer), l.gone(taken.answer)), -compareClose(mine, theirs)) < 0 {
			taken = one
		}
	}
	out.Answer, out.LeastJND, out.Proven = taken.answer, math.Sqrt(best.least), proven
	out.Answer.Solution.Least, out.Answer.Solution.Bound = best.least, min(bound, best.least)
	return known, nil
}

// alike tells whether nobody could tell a from b in what is kept, both being full.
func (l *lightening) alike(a, b *Answer) bool {
	sum := 0.0
	for i := range l.targets {
		p := l.targets[i].Property
		one, other := a.Profile[p].Value, b.Profile[p].Value
		if j, ok := p.JND(); ok {
			sum += math.Pow(j.Level(one)-j.Level(other), 2)
		} else if p == profile.Volume && math.Abs(one-other) > other*2*volumeTolerance {
			return false
		}
	}
	return math.Sqrt(sum) <= unlikeness*(1+tolerated)
}

// gone counts the original's pours that are left out.
func (l *lightening) gone(a *Answer) int {
	count := 0
	for n := range l.original.Pours {
		was := &l.original.Pours[n]
		if !slices.ContainsFunc(a.Pours, func(p PouredAmount) bool { return p.Ingredient == was.Ingredient && p.Stage == was.Stage }) {
			count++
		}
	}
	return count
}

// compareClose compares two numbers, equal up to round-off of the model.
func compareClose(a, b float64) int {
	if math.Abs(a-b) <= tolerated*(1+math.Abs(b)) {
		return 0
	}
	return cmp.Compare(a, b)
}
