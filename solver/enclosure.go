package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// box is a node of the search with what is known of the volume in it.
type box struct {
	empty       bool
	lower       []float64
	upper       []float64
	centre      []float64
	half        []float64
	values      profile.Values // at the centre
	drink       profile.Drink  // at the centre
	volume      float64        // at the centre
	volumeSlope []float64
	slack       float64 // E: how far V strays from its tangent
	melt        float64 // at the centre, in grams
	meltSlope   []float64
	meltReach   float64 // how far the tangent of the melt goes from the centre
	meltSlack   float64
	volumeLow   float64
	volumeHigh  float64
}

func (b *box) resize(n int) {
	if len(b.lower) == n {
		return
	}
	for _, v := range []*[]float64{&b.lower, &b.upper, &b.centre, &b.half, &b.volumeSlope, &b.meltSlope} {
		*v = make([]float64, n)
	}
}

// enclose bounds the volume over a node and narrows it to what the volume aim
// allows below the cutoff.
func (g *grid) enclose(node *leastsquares.Node, cutoff float64) *box {
	b := &g.scratch
	b.resize(len(g.open))
	for j := range g.open {
		b.lower[j], b.upper[j] = float64(node.Lower[j]), float64(node.Upper[j])
		b.centre[j], b.half[j] = (b.lower[j]+b.upper[j])/2, (b.upper[j]-b.lower[j])/2
	}
	b.drink = g.drink(b.centre)
	wanted := g.wanted.With(profile.Volume).With(profile.Dilution)
	b.drink.Evaluate(wanted, &b.values, g.atCentre, g.atTop)
	b.volume = b.values[profile.Volume]
	g.along(profile.Volume, b.volumeSlope)
	g.swell(b)

	reach := b.slack
	for j := range g.open {
		reach += math.Abs(b.volumeSlope[j]) * b.half[j]
	}
	b.volumeLow = max(b.volume-reach, node.AuxLower[0], 0)
	b.volumeHigh = min(b.volume+reach, node.AuxUpper[0])
	for i := range g.aims {
		if a := &g.aims[i]; a.property == profile.Volume && !math.IsInf(cutoff, 1) {
			off := math.Sqrt(cutoff / a.weight)
			b.volumeLow = max(b.volumeLow, a.low-off*a.scaleLow)
			b.volumeHigh = min(b.volumeHigh, a.high+off*a.scaleHigh)
		}
	}
	room := 1e-9 * (1 + b.volumeHigh)
	b.volumeLow -= room
	b.volumeHigh += room
	b.empty = b.volumeLow > b.volumeHigh
	return b
}

// sugarsIn is the mass of all sugars in s.
func sugarsIn(s *profile.State) float64 {
	return s[profile.SucroseGrams] + s[profile.GlucoseGrams] + s[profile.FructoseGrams] + s[profile.OtherSugarsGrams]
}

// along fills slope with the derivative of property p, at the centre, in one
// step of each open pour.
func (g *grid) along(p profile.Property, slope []float64) {
	for j := range g.open {
		gradient := &g.atCentre[p]
		if g.open[j].stage == OnTop {
			gradient = &g.atTop[p]
		}
		slope[j] = dot(gradient, &g.column[j])
	}
}

// swell bounds how far melt and final volume stray from their tangents at the
// centre of the box.
func (g *grid) swell(b *box) {
	mixMass := float64(b.drink.Mix.Mass())
	before := float64(b.drink.Mix.Volume())
	b.melt, b.meltSlack, b.meltReach = 0, 0, 0
	clear(b.meltSlope)
	if g.ice.Method != profile.NoIce && before > 0 {
		g.meltTangent(b, before)
		b.meltSlack = g.meltStray(b, mixMass)
	}

	// Where the tangent of the melt falls below nothing it is cut off there.
	cut := max(b.meltReach-b.melt, 0)

	// Solvent: ½ C (e - p(e+w))² / (e+w); sugars likewise. What is squared is 0
	// at the centre, so over the box it is at most the summed half widths.
	final := b.drink.Mix.Add(b.drink.Top)
	ethanol, water := final[profile.EthanolGrams], final[profile.WaterGrams]+b.melt
	sugars := sugarsIn(&final)
	p, c := 0.0, 0.0
	if ethanol+water > 0 {
		p = ethanol / (ethanol + water)
	}
	if sugars+water > 0 {
		c = sugars / (sugars + water)
	}
	offSolvent, offSugar := p*cut, c*cut
	leastSolvent, leastSyrup := ethanol+water, sugars+water
	for j := range g.open {
		e, w := g.column[j][profile.EthanolGrams], g.column[j][profile.WaterGrams]+b.meltSlope[j]
		s := sugarsIn(&g.column[j])
		offSolvent += math.Abs(e-p*(e+w)) * b.half[j]
		offSugar += math.Abs(s-c*(s+w)) * b.half[j]
		leastSolvent -= math.Abs(e+w) * b.half[j]
		leastSyrup -= math.Abs(s+w) * b.half[j]
	}
	b.slack = (b.meltSlack+cut)*volumePerMelt +
		stray(profile.SolventCurvature, offSolvent, leastSolvent) +
		stray(profile.SugarCurvature, offSugar, leastSyrup)
	for i := range curvedSolutes {
		b.slack += g.soluteStray(b, &curvedSolutes[i], final[curvedSolutes[i].component], water, cut)
	}
}

// curvedSolutes are the components whose apparent volume depends on their own
// concentration.
var curvedSolutes = func() (all []curvedSolute) {
	for c := range profile.Component(profile.Components) {
		if curvature, grams := profile.SoluteCurvature(c); curvature != 0 {
			all = append(all, curvedSolute{c, math.Abs(curvature), grams})
		}
	}
	return all
}()

type curvedSolute struct {
	component    profile.Component
	curvature    float64 // ml/g
	gramsPerUnit float64
}

// soluteStray bounds how far the volume of one solute strays from its tangent at
// the centre, where there are so many units of it and grams of water.
func (g *grid) soluteStray(b *box, c *curvedSolute, units, water, cut float64) float64 {
	grams := units * c.gramsPerUnit
	x := 0.0
	if grams+water > 0 {
		x = grams / (grams + water)
	}
	off, least := x*cut, grams+water
	for j := range g.open {
		s := g.column[j][c.component] * c.gramsPerUnit
		w := g.column[j][profile.WaterGrams] + b.meltSlope[j]
		off += math.Abs(s-x*(s+w)) * b.half[j]
		least -= math.Abs(s+w) * b.half[j]
	}
	return stray(c.curvature, off, least)
}

// stray bounds ½ curvature off² / mass over a box: off is the most that a part
// is off its share at the tangent, least the least mass. Off over mass is a
// difference of two mass fractions and so at most 1.
func stray(curvature, off, least float64) float64 {
	if off < least {
		off *= off / least
	}
	return curvature / 2 * off
}

// meltTangent fills the melt at the centre and its slopes: the melt is dilution
// times the volume of the mix over 100.
func (g *grid) meltTangent(b *box, before float64) {
	percent := b.values[profile.Dilution]
	perMillilitre := 1 / (100 * profile.MeltMillilitresPerGram)
	b.melt = percent * before * perMillilitre
	g.along(profile.Dilution, b.meltSlope)
	byMix := b.drink.Mix.VolumeGradient()
	for j := range b.meltSlope {
		if g.open[j].stage == OnTop {
			continue
		}
		b.meltSlope[j] *= before * perMillilitre
		b.meltSlope[j] += percent * perMillilitre * dot(&byMix, &g.column[j])
		b.meltReach += math.Abs(b.meltSlope[j]) * b.half[j]
	}
}

// dot is the sum of the products of two states' amounts.
func dot(a, b *profile.State) float64 {
	sum := 0.0
	for c, v := range a {
		sum += v * b[c]
	}
	return sum
}

// meltStray bounds the melt's distance from its tangent.
func (g *grid) meltStray(b *box, mixMass float64) float64 {
	reach := b.meltReach
	massLow, massHigh := mixMass, mixMass
	for j := range g.open {
		if g.open[j].stage == InMix {
			m := float64(g.column[j].Mass()) * b.half[j]
			massLow -= m
			massHigh += m
		}
	}
	most := float64(g.ice.MostWater(profile.Gram(massHigh)))
	plain := max(most-(b.melt-reach), b.melt+reach)
	if g.ice.WaterFixed || g.ice.TemperatureFixed || g.ice.Mass > 0 || massLow <= 0 || b.melt-reach <= 0 {
		return plain
	}
	if !g.watery(b) {
		return plain
	}
	factor := g.ice.Method.WaterPerMelt()
	off := 0.0
	for j := range g.open {
		if g.open[j].stage == InMix {
			off += b.half[j] * g.unlike(&b.drink.Mix, mixMass, j)
		}
	}
	curved := factor * off * off / (2 * massLow)
	if b.melt-reach-curved <= 0 {
		return plain
	}
	return min(curved, plain)
}

// unlike is how much one step of pour j differs in composition from the mix, in
// the scales of the melt's curvature.
func (g *grid) unlike(mix *profile.State, mixMass float64, j int) float64 {
	mass := float64(g.column[j].Mass())
	sum := 0.0
	for c := range g.column[j] {
		sum += meltScale[c] * math.Abs(g.column[j][c]-mix[c]/mixMass*mass)
	}
	return sum
}

var meltScale = func() (s profile.State) {
	for c := range s {
		s[c] = profile.MeltCurvature(profile.Component(c))
	}
	return s
}()

// watery tells whether every mix in the box has the water that the curvature of
// the melt was bounded for.
func (g *grid) watery(b *box) bool {
	least := float64(profile.MeltLeastWater)
	margin := g.mix[profile.WaterGrams] - least*float64(g.mix.Mass())
	for j := range g.open {
		if g.open[j].stage != InMix {
			continue
		}
		per := g.column[j][profile.WaterGrams] - least*float64(g.column[j].Mass())
		margin += min(per*b.lower[j], per*b.upper[j])
	}
	return margin >= 0
}
