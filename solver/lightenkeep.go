package solver

import (
	"fmt"
	"math"
	"strings"

	"minim/profile"
)

// leastKept is the least that the drink can have of the property with what is
// kept: the ethanol of the kept pours, in the volume that is wanted. In % vol that
// is
//
//	c · (m_kept / m) · V / V_wanted,
//
// c, m and V the strength, grams of ethanol and volume of the original.
func (l *lightening) leastKept() float64 {
	kept := 0.0
	for n := range l.original.Pours {
		if p := &l.original.Pours[n]; l.isKept(p.Ingredient) {
			kept += ethanolOf(p)
		}
	}
	if kept == 0 {
		return 0
	}
	is := func(p profile.Property) float64 { return l.original.Profile[p].Value }
	part := kept / l.ethanol()
	if l.asked.Property == profile.Ethanol {
		return part * is(profile.Ethanol)
	}
	return part * is(profile.Strength) * is(profile.Volume) / l.volume()
}

// ethanol is that of all the original's pours.
func (l *lightening) ethanol() float64 {
	sum := 0.0
	for n := range l.original.Pours {
		sum += ethanolOf(&l.original.Pours[n])
	}
	return sum
}

// volume is the most that is wanted of it, or what the original has.
func (l *lightening) volume() float64 {
	for i := range l.targets {
		if t := &l.targets[i]; t.Property == profile.Volume && t.Aimed && t.High > 0 && !math.IsInf(t.High, 0) {
			return t.High
		}
	}
	return l.original.Profile[profile.Volume].Value
}

// strongKept names the kept pours that hold alcohol, with their amounts.
func (l *lightening) strongKept() []string {
	var out []string
	for n := range l.original.Pours {
		if p := &l.original.Pours[n]; l.isKept(p.Ingredient) && ethanolOf(p) > 0 {
			out = append(out, p.Amount.String()+" "+p.Name)
		}
	}
	return out
}

// tooStrongKept refuses a limit that the kept pours break by themselves.
func (l *lightening) tooStrongKept(most float64) error {
	least := l.leastKept()
	if most >= least-tolerated*(1+least) {
		return nil
	}
	kept := strings.Join(l.strongKept(), " and ")
	flag, unit, written := "--abv", "%", "% vol"
	where := fmt.Sprintf(" in a drink of %.0f ml", l.volume())
	if l.asked.Property == profile.Ethanol {
		flag, unit, written, where = "--ethanol", "g", "g of ethanol", ""
	}
	return fmt.Errorf("--keep: %s alone make %.1f %s%s, and at most %s is asked for; ask for %s %.1f%s or more, or leave it out of --keep",
		kept, tenthAbove(least), written, where, significant(most), flag, tenthAbove(least), unit)
}

// tenthAbove is the next tenth that is no less, so that what is asked for can be
// had.
func tenthAbove(v float64) float64 { return math.Ceil(10*v-tolerated) / 10 }
