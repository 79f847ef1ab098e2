package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// surrogate is a problem as linear least squares over all open pours, good
// enough to rule drinks out: every drink of objective F at most cutoff that
// breaks no limit has
//
//	F ≥ scale ||A k - b||² - offset
type surrogate struct {
	a             *leastsquares.Matrix
	b             []float64
	scale, offset float64
}

// widestBand is the most, in scales, that half a band may be to make a row.
const widestBand = 1.0

// surrogateAt writes the problem around a reference drink, for drinks with F at
// most cutoff. ok is false where nothing bounds their volume. A guess promises
// nothing: it takes melt and volume to be on their tangents.
//
// With v the slopes of the volume at the finished reference, V = v·z + δ, z the
// finished drink, |δ| ≤ E (see straightness). z is linear in the steps but for
// the melt. An aim t of a linear numerator N gives the row
//
//	(N - t V) / (s V⁺),  V⁺ the most that V can be,
//
// which no drink's miss falls below. Over ice the melt, and with it V, is left
// free: the rows are projected along the direction in which V moves them, which
// can only lower them. Without ice each row is off by at most t E / (s V⁺). A
// band is an aim at its middle that is off by half of it. With a the true
// misses, r the rows and w how far they are off, all as vectors, |r| ≤ |a| + |w|
// and so
//
//	F = |a|² ≥ (1 - θ) |r|² - (1/θ - 1) |w|²  for any θ from 0 to 1.
//
// Wide bands, umami with nucleotides about, and properties without a linear
// numerator give no row.
func (p *problem) surrogateAt(reference []float64, cutoff float64, guess bool) (s *surrogate, ok bool) {
	_, most := p.between(profile.Volume, cutoff)
	if math.IsInf(most, 1) {
		return nil, false
	}
	d := p.drink(reference)
	finished := d.Finish()
	slopes := finished.State.VolumeGradient()
	fixed := dot(&slopes, &p.mix) + dot(&slopes, &p.top)
	perStep := make([]float64, len(p.open))
	for j := range p.column {
		perStep[j] = dot(&slopes, &p.column[j])
	}
	if guess && p.ice.Method != profile.NoIce {
		fixed += slopes[profile.WaterGrams] * p.meltTangent(&d, slopes[profile.WaterGrams], perStep)
	}
	rows := p.linearRows(perStep, fixed, most)
	if guess {
		return newSurrogate(rows, len(p.open)), true
	}
	off := 0.0
	for _, r := range rows {
		off += r.band * r.band
	}
	off = math.Sqrt(off)
	if p.ice.Method != profile.NoIce {
		projectOut(rows)
	} else {
		along := 0.0
		for _, r := range rows {
			along += r.perVolume * r.perVolume
		}
		off += math.Sqrt(along) * p.straightness(&finished.State, most, cutoff)
	}
	s = newSurrogate(rows, len(p.open))
	if off > 0 {
		share := off / (off + math.Sqrt(cutoff))
		s.scale, s.offset = 1-share, (1/share-1)*off*off
	}
	return s, true
}

// newSurrogate lays rows out as a matrix.
func newSurrogate(rows []linearRow, columns int) *surrogate {
	s := &surrogate{a: leastsquares.NewMatrix(len(rows), columns), b: make([]float64, len(rows)), scale: 1}
	for i, r := range rows {
		copy(s.a.Row(i), r.steps)
		s.b[i] = r.right
	}
	return s
}

// meltTangent adds what a gram of melt swells the drink by, times the slopes of
// the melt at a drink, to perStep, and returns the melt that the tangent gives
// where none of the open pours is poured.
func (p *problem) meltTangent(d *profile.Drink, perMelt float64, perStep []float64) float64 {
	var v profile.Values
	inMix, onTop := new(profile.Gradients), new(profile.Gradients)
	d.Evaluate(profile.PropertySet(0).With(profile.Dilution), &v, inMix, onTop)
	before, byMix := float64(d.Mix.Volume()), d.Mix.VolumeGradient()
	percent, per := v[profile.Dilution], 1/(100*profile.MeltMillilitresPerGram)
	along := func(s *profile.State) float64 {
		return per * (before*dot(&inMix[profile.Dilution], s) + percent*dot(&byMix, s))
	}
	for j := range p.column {
		if p.open[j].stage == InMix {
			perStep[j] += perMelt * along(&p.column[j])
		}
	}
	return along(&p.mix)
}

// linearRow is a row of the surrogate: steps·k - right, and how it moves with
// the volume.
type linearRow struct {
	steps            []float64
	right, perVolume float64
	band             float64 // half the width of the band it stands for
}

// linearRows writes a row for each aim that has one, where the volume is fixed
// and so much for a step of each open pour.
func (p *problem) linearRows(perStep []float64, fixed, most float64) []linearRow {
	var rows []linearRow
	for i := range p.aims {
		a := &p.aims[i]
		scale := max(a.scaleLow, a.scaleHigh)
		weight := math.Sqrt(a.weight) / scale
		middle, half := (a.low+a.high)/2, (a.high-a.low)/2
		if half > widestBand*scale {
			continue
		}
		r := linearRow{steps: make([]float64, len(p.open)), band: weight * half}
		weights, perVolume, ok := a.property.Linear()
		if a.property == profile.Umami && !p.holdsNucleotides() {
			weights[profile.GlutamicMilligrams], perVolume, ok = profile.MSGPerGlutamicAcid, true, true
		}
		switch {
		case a.property == profile.Volume:
			for j := range r.steps {
				r.steps[j] = weight * perStep[j]
			}
			r.right, r.perVolume = weight*(middle-fixed), weight
		case !ok:
			continue
		case perVolume:
			over := weight / most
			for j := range r.steps {
				r.steps[j] = over * (dot(&weights, &p.column[j]) - middle*perStep[j])
			}
			r.right = over * (middle*fixed - dot(&weights, &p.mix) - dot(&weights, &p.top))
			r.perVolume = -over * middle
		default:
			for j := range r.steps {
				r.steps[j] = weight * dot(&weights, &p.column[j])
			}
			r.right = weight * (middle - dot(&weights, &p.mix) - dot(&weights, &p.top))
		}
		rows = append(rows, r)
	}
	return rows
}

// projectOut makes the rows orthogonal to the direction in which the volume
// moves them.
func projectOut(rows []linearRow) {
	norm := 0.0
	for i := range rows {
		norm += rows[i].perVolume * rows[i].perVolume
	}
	if norm == 0 {
		return
	}
	take := func(at func(*linearRow) *float64) {
		along := 0.0
		for i := range rows {
			along += *at(&rows[i]) * rows[i].perVolume
		}
		for i := range rows {
			*at(&rows[i]) -= along / norm * rows[i].perVolume
		}
	}
	for j := range rows[0].steps {
		take(func(r *linearRow) *float64 { return &r.steps[j] })
	}
	take(func(r *linearRow) *float64 { return &r.right })
}

// holdsNucleotides tells whether any pour brings nucleotides, which make umami
// a product.
func (p *problem) holdsNucleotides() bool {
	if p.mix[profile.NucleotidesMilligrams]+p.top[profile.NucleotidesMilligrams] > 0 {
		return true
	}
	for j := range p.column {
		if p.column[j][profile.NucleotidesMilligrams] > 0 {
			return true
		}
	}
	return false
}

// straightness bounds how far the volume of a finished drink of at most so many
// ml strays from its tangent at the reference, for drinks with F at most cutoff
// and at least leastLiquid. With e and w the ethanol and water in a ml, p their
// mass fraction at the reference and C the curvature of their volume, ethanol
// strays by at most
//
//	½ C (e - p (e + w))² / (e + w),
//
// largest at an end of what the aim at strength leaves e and the liquid leaves
// e + w, at most 1; sugar likewise in sugar and water; the curved solutes by
// what the aims at acid and salt leave.
func (p *problem) straightness(reference *profile.State, most, cutoff float64) float64 {
	low, high := p.between(profile.Strength, cutoff)
	perPercent := float64(profile.EthanolDensity) / 1e5
	low, high = low*perPercent, min(high*perPercent, 1)
	liquid := reference[profile.EthanolGrams] + reference[profile.WaterGrams]
	curvature := profile.SolventCurvature
	if high/leastLiquid <= float64(profile.WeakSolvent) {
		curvature = profile.WeakSolventCurvature
	}
	stray := offCentre(low, high, leastLiquid, 1, reference[profile.EthanolGrams]/liquid) * curvature / 2

	sweetLow, sweetHigh := p.between(profile.Sugar, cutoff)
	sweetLow, sweetHigh = sweetLow/1000, min(sweetHigh/1000, 1)
	syrup := sugarsIn(reference) + reference[profile.WaterGrams]
	stray += offCentre(sweetLow, sweetHigh, max(leastLiquid-high, 0.1), 1.4, sugarsIn(reference)/syrup) * profile.SugarCurvature / 2

	_, acid := p.between(profile.Acid, cutoff)
	_, salt := p.between(profile.Salt, cutoff)
	for i := range curvedSolutes {
		part := acid / 1000
		if curvedSolutes[i].component == profile.SodiumMilligrams {
			part = salt / 1000
		}
		x := min(1, part/max(leastLiquid-high, 0.1))
		stray += curvedSolutes[i].curvature / 2 * x * x
	}
	return stray * most
}

// offCentre is the largest (a - x m)² / m for a between low and high and m
// between least and most.
func offCentre(low, high, least, most, x float64) float64 {
	worst := 0.0
	for _, a := range []float64{low, high} {
		for _, m := range []float64{least, most} {
			worst = max(worst, (a-x*m)*(a-x*m)/m)
		}
	}
	return worst
}
