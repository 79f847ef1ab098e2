package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// writeLightened says what a weaker drink changed, what it no longer has, and
// what to try.
func writeLightened(w io.Writer, l *solver.Lightened, unit liquidUnit) error {
	var b strings.Builder
	for _, sentence := range lightenedSentences(l, unit) {
		b.WriteString("\n" + wrap(sentence, lineWidth) + "\n")
	}
	writeCautions(&b, l.Cautions)
	_, err := io.WriteString(w, b.String())
	return err
}

func lightenedSentences(l *solver.Lightened, unit liquidUnit) []string {
	changes := changed(l.Original.Pours, l.Pours, unit)
	strength := func(a *solver.Answer) string { return fixed(a.Profile[profile.Strength].Value, 1) }
	if len(changes) == 0 {
		return []string{fmt.Sprintf("At %s %% vol the drink is weak enough as it is: nothing changes.", strength(l.Original))}
	}
	out := []string{
		fmt.Sprintf("From %s to %s %% vol, %s to %s g of ethanol. What changed: %s.", strength(l.Original), strength(l.Answer),
			fixed(l.Original.Profile[profile.Ethanol].Value, 1), fixed(l.Profile[profile.Ethanol].Value, 1), list(changes)),
	}
	out = append(out, farSentences(l.Far, toAnotherDrink, unit)...)
	out = append(out, strongerSentence(l)...)
	if len(l.Offered) > 0 {
		out = append(out, "Offered beside its own bottles: "+list(l.Offered)+".")
	}
	if lost := lostClauses(l, unit); len(lost) > 0 {
		out = append(out, "What goes with the alcohol, and no pour above makes up for: "+strings.Join(lost, "; ")+".")
	}
	var tries []string
	for _, v := range l.Variants {
		tries = append(tries, fmt.Sprintf("%s %s instead of %s (%s up %s JND)", v.Pour, spokenAmount(v.To, unit), spokenAmount(v.From, unit), v.Property.Name(), fixed(v.JND, 1)))
	}
	if len(tries) > 0 {
		out = append(out, "Taste it, and try one at a time: "+strings.Join(tries, "; ")+".")
	}
	return out
}

// spoken writes what is poured in the asker's units, counted or weighed in its
// own.
func spoken(p *solver.PouredAmount, unit liquidUnit) string {
	if p.Ingredient.Solid || counted(p.Amount.Unit) {
		return p.Amount.String()
	}
	return unit.sized(p.Base)
}

func spokenAmount(a pantry.Amount, unit liquidUnit) string {
	if a.Unit == pantry.Millilitres {
		return unit.sized(a.Value)
	}
	return a.String()
}

// changed lists the pours that differ, in the order of building, new ones last.
func changed(before, after []solver.PouredAmount, unit liquidUnit) []string {
	var out []string
	find := func(all []solver.PouredAmount, p *solver.PouredAmount) *solver.PouredAmount {
		for i := range all {
			if all[i].Ingredient == p.Ingredient && all[i].Stage == p.Stage {
				return &all[i]
			}
		}
		return nil
	}
	for i := range before {
		p := &before[i]
		switch now := find(after, p); {
		case now == nil:
			out = append(out, p.Name+" "+spoken(p, unit)+" goes")
		case math.Abs(now.Base-p.Base) > 1e-6:
			from, to := spoken(p, unit), spoken(now, unit)
			if from != to { // else the same on a jigger
				out = append(out, p.Name+" "+from+" to "+to)
			}
		}
	}
	for i := range after {
		if p := &after[i]; find(before, p) == nil {
			out = append(out, spoken(p, unit)+" "+p.Name+" comes in")
		}
	}
	return out
}

// lostClauses say what goes with the alcohol or comes of its going.
func lostClauses(weaker *solver.Lightened, unit liquidUnit) []string {
	var out []string
	for _, l := range weaker.Lost {
		before, after := fixed(l.Before, 1), fixed(l.After, 1)
		direction := func(more, less string) string {
			if l.After > l.Before {
				return more
			}
			return less
		}
		switch l.Kind {
		case solver.LostWarmth:
			out = append(out, fmt.Sprintf("burn and warmth (%s JND of strength)", fixed(-l.JND, 1)))
		case solver.LostBitterness:
			out = append(out, "some bitterness of its own, which no number counts")
		case solver.LostSweetness:
			out = append(out, fmt.Sprintf("its own sweetness, roughly that of %s g/L of sugar", fixed(l.Before-l.After, 0)))
		case solver.LostMelt:
			out = append(out, fmt.Sprintf("the ice melts %s (%s to %s)", direction("more", "less"), unit.whole(l.Before), unit.volume(l.After)))
		case solver.LostCold:
			out = append(out, fmt.Sprintf("it comes out %s (%s to %s °C)", direction("warmer", "colder"), before, after))
		case solver.LostBody:
			p := profile.Viscosity
			before, after = withDoubt(p, &weaker.Original.Profile[p], before), withDoubt(p, &weaker.Profile[p], after)
			out = append(out, fmt.Sprintf("it gets %s (%s to %s mPa·s)", direction("thicker", "thinner"), before, after))
		case solver.LostGas:
			out = append(out, fmt.Sprintf("it sparkles %s (%s to %s g/L of CO2)", direction("more", "less"), before, after))
		}
	}
	return out
}

// strongerSentence says why a drink is much weaker than it may be.
func strongerSentence(l *solver.Lightened) []string {
	s := l.Stronger
	limit := fixed(l.Most, 1) + " " + l.Property.Unit()
	switch {
	case s == nil:
		return nil
	case !s.Possible:
		return []string{fmt.Sprintf("It is weaker than the %s allowed: with these bottles no drink comes nearer to that.", limit)}
	case math.Abs(s.Worst.JND) < profile.Perceptible && len(s.Besides) > 0:
		return []string{fmt.Sprintf("It is weaker than the %s allowed: one at %s %% vol takes %s as well, and keeps the rest so that nobody would notice; its largest miss is %s, %s JND.",
			limit, fixed(s.Strength, 1), list(s.Besides), s.Worst.Property.Name(), signed(s.Worst.JND, 1))}
	}
	return []string{fmt.Sprintf("It is weaker than the %s allowed: the nearest stronger one, at %s %% vol, costs %s, which it misses by %s JND (%s); this one by %s.",
		limit, fixed(s.Strength, 1), s.Worst.Property.Name(), signed(s.Worst.JND, 1), profile.Noticed(s.Worst.JND), signed(s.Here, 1))}
}
