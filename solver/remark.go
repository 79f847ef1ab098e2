package solver

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// remark adds what the asker should know beside the numbers.
func (w *work) remark(a *Answer, x []float64) {
	w.remarkLots(a)
	w.remarkPreps(a)
	w.remarkVolume(a)
	w.remarkUnits(a)
	w.remarkUntargeted(a, x)
	w.remarkNotNeeded(a, x)
	w.remarkSodium(a)
	w.remarkGum(a)
	w.remarkTwice(a)
	w.remarkBubbles(a)
	a.remarkBuilt()
	a.remarkUnknown()
	if w.continuous != nil && a.Solution.Proven && !a.Solution.PreferenceProven {
		a.Notes = append(a.Notes, "no drink is closer; among those that taste alike the choice was cut short")
	}
}

// leftOut says what a property is computed without.
func leftOut(p profile.Property, names []string) string {
	last := len(names) - 1
	if last == 0 {
		return fmt.Sprintf("%s leaves out %s: what it brings of it is unknown", p.Name(), names[0])
	}
	return fmt.Sprintf("%s leaves out %s and %s: what these bring of it is unknown", p.Name(), strings.Join(names[:last], ", "), names[last])
}

// remarkUnknown names what each property leaves out.
func (a *Answer) remarkUnknown() {
	for p := range a.Profile {
		if names := a.Profile[p].UnknownFrom; len(names) > 0 {
			a.Notes = append(a.Notes, leftOut(profile.Property(p), names))
		}
	}
}

// remarkLots names the measurements that went into the drink.
func (w *work) remarkLots(a *Answer) {
	for i := range a.Pours {
		lot, ok := w.question.Shelf.Lot(a.Pours[i].Ingredient)
		if ok && !slices.Contains(a.Lots, lot) {
			a.Lots = append(a.Lots, lot)
			a.Notes = append(a.Notes, lot.String())
			a.Notes = append(a.Notes, lot.Doubts...)
		}
	}
}

// remarkVolume says so where nothing asks for a volume.
func (w *work) remarkVolume(a *Answer) {
	if w.continuous == nil {
		return
	}
	if w.problem.limits != nil && w.problem.limits[len(w.problem.limits)-1] == leastDrink {
		a.Notes = append(a.Notes, NoVolumeAsked+"; to say how much, write `volume: 120 ml` under target")
	}
}

// NoVolumeAsked begins the note on a drink of any size.
const NoVolumeAsked = "no volume was asked for: any size of this drink would do as well"

// Between these volumes lies what is served in one glass; common practice, no source.
const (
	smallestServe profile.Millilitre = 15
	largestServe  profile.Millilitre = 1000
)

// remarkUnits asks about amounts that look like those of another unit.
func (w *work) remarkUnits(a *Answer) {
	if w.making {
		return
	}
	if v := profile.Millilitre(a.Profile[profile.Volume].Value); v > 0 && v < smallestServe || v > largestServe {
		a.Notes = append(a.Notes, fmt.Sprintf("the drink comes to %s ml: are the amounts in ml?", strconv.FormatFloat(math.Round(10*float64(v))/10, 'f', -1, 64)))
	}
	for i := range w.question.Spec.Target {
		t := &w.question.Spec.Target[i]
		if t.Property == profile.Strength && t.Aimed && t.High > 0 && t.High < 1 {
			a.Notes = append(a.Notes, fmt.Sprintf("abv is aimed at %.3g %% vol; it is in per cent: 16, not 0.16", t.High))
		}
	}
}

// character is what an ingredient of a category brings that a target could ask for.
var character = []profile.Property{profile.Bitter, profile.Umami, profile.Salt, profile.Acid, profile.Sugar}

// remarkUntargeted names wanted pours that came out at their least because no
// target speaks for what they are.
func (w *work) remarkUntargeted(a *Answer, x []float64) {
	for j := range w.problem.open {
		p := &w.problem.open[j]
		if p.optional || x[j] > float64(p.low) {
			continue
		}
		for _, property := range character {
			if w.problem.aimsAt(property) || w.missing(p, property) < profile.Perceptible {
				continue
			}
			a.Notes = append(a.Notes, fmt.Sprintf("%s comes out at its least: no target asks for what it brings; add one for %s", p.written.Name, property.Name()))
			break
		}
	}
}

// remarkNotNeeded names what was offered and came out at none.
func (w *work) remarkNotNeeded(a *Answer, x []float64) {
	var names []string
	for j := range w.problem.open {
		if p := &w.problem.open[j]; p.optional && x[j] == 0 {
			names = append(names, p.written.Name)
		}
	}
	if len(names) == 0 || len(a.Broken) > 0 {
		return
	}
	text := "offered but left out: " + strings.Join(names, ", ")
	if a.Solution.Proven {
		text += "; no drink with more of that comes closer to the target by what anyone could taste"
	}
	a.Notes = append(a.Notes, text)
}

// missing is what 30 ml (or 3 g) of an ingredient in the drink would add of a
// property, in JND: whether it has a character of that kind.
func (w *work) missing(p *pour, property profile.Property) float64 {
	amount := 30.0
	if p.ingredient.Solid {
		amount = 3
	}
	d := profile.Drink{Mix: p.unit.Scale(amount)}
	var v profile.Values
	d.Evaluate(profile.PropertySet(0).With(property), &v, nil, nil)
	j, ok := property.JND()
	if !ok {
		return 0
	}
	diluted := v[property] * amount / max(w.volume, amount)
	return j.Level(diluted)
}

// remarkBubbles warns of what bubbles on its way into the ice: it loses its gas,
// and a closed tin with gas in it can burst open.
func (w *work) remarkBubbles(a *Answer) {
	done, ok := map[profile.Method]string{profile.Stir: "stirred", profile.Shake: "shaken", profile.Blend: "blended"}[w.ice.Method]
	if !ok {
		return
	}
	for i := range a.Pours {
		if p := &a.Pours[i]; p.Stage == InMix && p.Ingredient.Bubbles() {
			a.Notes = append(a.Notes, fmt.Sprintf("%s is carbonated and stands in the mix, which is %s: it would lose its gas, and a closed tin can burst open; put it under top", p.Name, done))
		}
	}
}

// remarkTwice says so where two lines pour the same bottle.
func (w *work) remarkTwice(a *Answer) {
	for i := range a.Pours {
		for j := range i {
			if a.Pours[i].Ingredient == a.Pours[j].Ingredient && a.Pours[i].Stage == a.Pours[j].Stage {
				a.Notes = append(a.Notes, fmt.Sprintf("%s and %s are the same ingredient, %s", a.Pours[j].Name, a.Pours[i].Name, a.Pours[i].Ingredient.Name))
			}
		}
	}
}

// sodium is what a base unit of an ingredient holds in mg, and how much of it was
// added as salt: in a prep, the parts' share of it.
func (w *work) sodium(i *pantry.Ingredient) (all, added float64) {
	all = i.PerUnit()[profile.SodiumMilligrams]
	if i.Category == "salt" {
		return all, all
	}
	prep, ok := w.question.Shelf.Prep(i)
	if !ok || all == 0 {
		return all, 0
	}
	in, salt := 0.0, 0.0
	for n := range prep.Parts {
		one, asSalt := w.sodium(prep.Parts[n].Ingredient)
		in += one * prep.Parts[n].Base
		salt += asSalt * prep.Parts[n].Base
	}
	if in == 0 {
		return all, 0
	}
	return all, all * salt / in
}

// remarkSodium says so where much of the salt that is printed was never added as
// salt.
func (w *work) remarkSodium(a *Answer) {
	if a.Profile[profile.Salt].Value < 0.3 {
		return
	}
	total, added := 0.0, 0.0
	for i := range a.Pours {
		one, asSalt := w.sodium(a.Pours[i].Ingredient)
		total += one * a.Pours[i].Base
		added += asSalt * a.Pours[i].Base
	}
	if added < total/2 {
		a.Notes = append(a.Notes, "more than half of the salt is sodium of other ingredients, which tastes less salty than added salt")
	}
}
