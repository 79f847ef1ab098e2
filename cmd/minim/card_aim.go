package main

import (
	"fmt"
	"math"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// Measures of the pictures of a card, in pixels; they stand one below the other
// on a phone and side by side on paper.
const (
	cardPictureWidth = 300.0
	aimRow           = 41.0
	aimTop           = 2.0
	aimKey           = 24.0
	aimLeft          = 7.0
	aimRight         = cardPictureWidth - 7
	tickSize         = 9.0
	// narrowSize is what words of smallSize are taken for that are mostly digits,
	// which are narrower than letters.
	narrowSize = 0.9 * smallSize
)

// Series of the pictures of a card.
const (
	gotSeries    = 0
	wantedSeries = 2
)

// Half the width of a row is at least so many steps and at most so many; what is
// further off is drawn at the edge.
const (
	leastSteps = 2.0
	mostSteps  = 8.0
)

// volumeStep is the tolerance of a volume, as a part of it; it has no JND.
const volumeStep = fullWithin

// aimedRow is one target and what was got, on the scale of its own steps.
type aimedRow struct {
	property profile.Property
	// words say what was wanted and got, taster what that is to one.
	words, taster string
	// noticed says that a taster may notice the miss.
	noticed bool
	// low and high are the places of the target on the scale, infinite where a
	// limit leaves it open; got that of the drink.
	low, high, got float64
	// free is how far off nobody notices, or is within the tolerance.
	free float64
	// step is one step in the property's unit where that is no JND, else 0.
	step float64
	// back turns a place into a value.
	back func(float64) float64
}

// aimPicture draws target against got; of a drink without targets, what it
// tastes of. The title says which, the sentences what a tick is and which targets
// have no scale.
func aimPicture(a *solver.Answer) (p *picture, title, says string) {
	var rows []aimedRow
	steps := []string{"A tick is one JND"}
	var besides []string
	for i := range a.Spec.Target {
		row, ok := newAimedRow(a, &a.Spec.Target[i])
		switch {
		case !ok:
			besides = append(besides, row.sentence())
			continue
		case row.property == profile.Volume && a.Spec.Target[i].Tolerance == 0:
			steps = append(steps, fmt.Sprintf("of volume %s %%", trimmed(100*volumeStep, 0)))
		case row.step > 0:
			steps = append(steps, fmt.Sprintf("of %s %s %s", row.property.Name(), trimmed(row.step, 2), row.property.Unit()))
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return tastePicture(a), "What it tastes of", ""
	}
	says = strings.TrimSpace(strings.Join(steps, ", ")) + "."
	if len(besides) > 0 {
		says += " Besides: " + strings.Join(besides, "; ") + "."
	}
	return drawAimed(a, rows), "Target against got", says
}

// drawAimed draws the rows and their key.
func drawAimed(a *solver.Answer, rows []aimedRow) *picture {
	half := leastSteps
	for i := range rows {
		half = max(half, rows[i].reach()+0.75)
	}
	half = min(half, mostSteps)
	var said []string
	for i := range rows {
		said = append(said, rows[i].sentence())
	}
	p := newPicture(cardPictureWidth, aimTop+aimRow*float64(len(rows))+aimKey, drinkName(a)+": target against got", strings.Join(said, "; ")+".")
	for i := range rows {
		p.aimedLine(&rows[i], half, aimTop+aimRow*float64(i))
	}
	y := aimTop + aimRow*float64(len(rows)) + 14
	p.bar(xy{aimLeft, y - 7}, 16, 5, wantedSeries)
	p.text(xy{aimLeft + 21, y}, anchorStart, smallSize-1, "wanted")
	p.point(xy{aimLeft + 75, y - 4}, 9, gotSeries, "")
	p.text(xy{aimLeft + 83, y}, anchorStart, smallSize-1, "got")
	p.band(xy{aimLeft + 112, y - 10}, 16, 11, plainSeries)
	p.text(xy{aimLeft + 133, y}, anchorStart, smallSize-1, "not noticed, or as good as met")
	return p
}

// newAimedRow puts a target on its scale: J of its property, else steps of the
// tolerance; ok is false where there is neither.
func newAimedRow(a *solver.Answer, t *pantry.Target) (row aimedRow, ok bool) {
	p := t.Property
	row = aimedRow{property: p, free: profile.Perceptible}
	low, high, wanted := targetEnds(t)
	row.words = wanted + ", got " + comparedValue(p, a)
	for i := range a.Misses {
		if m := &a.Misses[i]; m.Property == p {
			row.taster, row.noticed = missWord(m), m.Perceptible()
		}
	}
	var level func(float64) float64
	if j, has := p.JND(); has {
		level, row.back = j.Level, j.At
	} else {
		step := t.Tolerance
		if p == profile.Volume && step == 0 {
			step = volumeStep * (low + high) / 2
		}
		if !(step > 0) || math.IsInf(step, 0) {
			return row, false
		}
		row.step = step
		level, row.back, row.free = func(v float64) float64 { return v / step }, func(n float64) float64 { return n * step }, 1
	}
	row.low, row.high, row.got = math.Inf(-1), math.Inf(1), level(a.Profile[p].Value)
	if !math.IsInf(low, 0) {
		row.low = level(low)
	}
	if !math.IsInf(high, 0) {
		row.high = level(high)
	}
	return row, true
}

// sentence is the row for those who cannot see it.
func (r *aimedRow) sentence() string {
	text := strings.TrimSpace(r.property.Name() + " wanted " + r.words + " " + r.property.Unit())
	if r.taster != "" {
		text += " (" + r.taster + ")"
	}
	return text
}

// targetEnds are the ends of what is wanted, and the words for it: those of the
// aim, else those of the limits.
func targetEnds(t *pantry.Target) (low, high float64, words string) {
	number := func(v float64) string { return trimmed(v, decimals[t.Property]) }
	if t.Aimed {
		if t.Low == t.High {
			return t.Low, t.High, number(t.Low)
		}
		return t.Low, t.High, number(t.Low) + " to " + number(t.High)
	}
	low, high = math.Inf(-1), math.Inf(1)
	var all []string
	if t.AtLeast != nil {
		low, all = *t.AtLeast, append(all, "at least "+number(*t.AtLeast))
	}
	if t.AtMost != nil {
		high, all = *t.AtMost, append(all, "at most "+number(*t.AtMost))
	}
	return low, high, strings.Join(all, ", ")
}

// middle is the place that the row is centred on.
func (r *aimedRow) middle() float64 {
	switch {
	case math.IsInf(r.low, 0):
		return r.high
	case math.IsInf(r.high, 0):
		return r.low
	}
	return (r.low + r.high) / 2
}

// reach is how far from the middle something stands.
func (r *aimedRow) reach() float64 {
	far := math.Abs(r.got - r.middle())
	if !math.IsInf(r.low, 0) {
		far = max(far, r.middle()-r.low)
	}
	return far
}

// aimedLine draws one row below a height.
func (p *picture) aimedLine(r *aimedRow, half, top float64) {
	centre, y := (aimLeft+aimRight)/2, top+21
	at := func(place float64) float64 {
		return centre + min(max((place-r.middle())/half, -1), 1)*(aimRight-aimLeft)/2
	}
	name := r.property.Name()
	if unit := r.property.Unit(); unit != "" {
		name += ", " + unit
	}
	p.text(xy{aimLeft, top + 10}, anchorStart, smallSize, name)
	room := aimRight - aimLeft - textWidth(name, smallSize)
	words := r.words
	if said := words + ": " + r.taster; r.noticed && textWidth(said, narrowSize) <= room {
		words = said
	}
	p.text(xy{aimRight, top + 10}, anchorEnd, smallSize, cutShort(words, narrowSize, room))

	p.band(xy{at(r.low - r.free), y - 7}, at(r.high+r.free)-at(r.low-r.free), 14, plainSeries)
	p.gridLine(xy{aimLeft, y}, xy{aimRight, y})
	every := max(1, niceStep(half/2.5))
	for n := -math.Floor(half); n <= math.Floor(half); n++ {
		v, x := r.back(r.middle()+n), at(r.middle()+n)
		if v < 0 && r.property.NonNegative() {
			continue
		}
		p.line(xy{x, y - 3}, xy{x, y + 3})
		if math.Mod(n, every) == 0 && x-aimLeft > 10 && aimRight-x > 10 {
			p.text(xy{x, y + 16}, anchorMiddle, tickSize, trimmed(v, decimals[r.property]))
		}
	}
	const thick = 5
	left, right := at(r.low), at(r.high)
	if right-left < 3 {
		p.bar(xy{left - 1.5, y - 7}, 3, 14, wantedSeries)
	} else {
		p.bar(xy{left, y - thick/2.0}, right-left, thick, wantedSeries)
	}
	p.point(xy{at(r.got), y}, 11, gotSeries, r.sentence())
	if off := r.got - r.middle(); math.Abs(off) > half {
		p.text(xy{at(r.got) - 12*sign(off), y + 4}, anchorMiddle, textSize, map[bool]string{true: ">", false: "<"}[off > 0])
	}
}

// tastePicture has a bar for each property that can be tasted, as many JND long
// as it is from none.
func tastePicture(a *solver.Answer) *picture {
	const row, left, right = 22.0, 72.0, 218.0
	var shown []profile.Property
	most := 1.0
	var said []string
	for _, p := range solver.TasteProperties {
		v := a.Profile[p].Value
		if j, ok := p.JND(); ok && p != profile.Temperature && p != profile.Viscosity && j.Level(v) >= profile.Perceptible {
			shown, most = append(shown, p), max(most, j.Level(v))
			said = append(said, fmt.Sprintf("%s %s JND from none", p.Name(), fixed(j.Level(v), 0)))
		}
	}
	axis := niceAxis("JND from none", 0, most, left, right)
	bottom := 8 + row*float64(len(shown))
	p := newPicture(cardPictureWidth, bottom+44, drinkName(a)+": what it tastes of", list(said)+".")
	p.axisBelow(axis, bottom, 8)
	for n, one := range shown {
		j, _ := one.JND()
		y := 8 + row*float64(n)
		words := comparedValue(one, a) + " " + one.Unit()
		p.text(xy{left - 8, y + row/2 + 4}, anchorEnd, smallSize, one.Name())
		p.bar(xy{left, y + 4}, axis.at(j.Level(a.Profile[one].Value))-left, row-9, gotSeries)
		p.text(xy{cardPictureWidth - 2, y + row/2 + 4}, anchorEnd, smallSize, words)
	}
	return p
}
