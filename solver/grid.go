package solver

import (
	"math"

	"minim/profile"
	"minim/solver/leastsquares"
)

// grid presents a problem to the branch and bound: whole steps of the open
// pours, with the final volume as the auxiliary quantity to split by.
type grid struct {
	*problem
	root leastsquares.Node

	x        []float64
	values   profile.Values
	atCentre *profile.Gradients // in the mix
	atTop    *profile.Gradients
	scratch  box
	rows     tableau
	spares   [][]float64
	used     int
	space    *leastsquares.Workspace
	// warmest and coldest bound the temperature of every drink of the problem.
	warmest, coldest profile.Celsius
}

func emptyGrid(p *problem) *grid {
	return &grid{problem: p, atCentre: new(profile.Gradients), atTop: new(profile.Gradients), space: leastsquares.NewWorkspace()}
}

func newGrid(p *problem) *grid {
	n := len(p.open)
	g := emptyGrid(p)
	g.root.Lower, g.root.Upper = make([]int, n), make([]int, n)
	for j := range p.open {
		g.root.Lower[j], g.root.Upper[j] = p.open[j].low, p.open[j].high
		if p.open[j].optional {
			g.root.Lower[j] = 0
		}
	}
	g.prepare()
	return g
}

// prepare bounds the temperature and the volume of the drinks of the root.
func (g *grid) prepare() {
	p := g.problem
	g.x = resizedTo(g.x, len(p.open))
	g.coldest, g.warmest = g.temperatures()
	lowest, highest := 0.0, math.Inf(1)
	for i := range p.limits {
		if l := &p.limits[i]; l.property == profile.Volume {
			lowest, highest = max(lowest, l.low), min(highest, l.high)
		}
	}
	highest = min(highest, g.most())
	g.root.AuxLower, g.root.AuxUpper = append(g.root.AuxLower[:0], min(lowest, highest)), append(g.root.AuxUpper[:0], highest)
}

// most is more than the volume can come to: everything at its most, with all of
// the ice.
func (g *grid) most() float64 {
	for j := range g.x {
		g.x[j] = float64(g.root.Upper[j])
	}
	d := g.drink(g.x)
	return float64(d.Mix.Volume()+d.Top.Volume()) + float64(g.ice.MostWater(d.Mix.Mass()))*volumePerMelt + 1
}

// volumePerMelt is more than the ml by which a gram of melt swells any drink.
const volumePerMelt = 1.1

// Variables implements leastsquares.GridModel.
func (g *grid) Variables() (integers, auxiliaries int) { return len(g.open), 1 }

// Root implements leastsquares.GridModel.
func (g *grid) Root() leastsquares.Node { return g.root }

// Semicontinuous says which pours are none or at least so many steps.
func (g *grid) Semicontinuous() []int {
	least := make([]int, len(g.open))
	for j := range g.open {
		if g.open[j].optional {
			least[j] = g.open[j].low
		}
	}
	return least
}

// Evaluate implements leastsquares.GridModel with the full model.
func (g *grid) Evaluate(k []int) (violation, objective float64) {
	for j := range k {
		g.x[j] = float64(k[j])
	}
	d := g.drink(g.x)
	d.Evaluate(g.wanted, &g.values, nil, nil)
	return g.violation(g.x, &g.values), g.objective(&g.values)
}

// Relax implements leastsquares.GridModel. The variables are the steps k, the
// slack e of the volume, and a slack for each band edge and curved numerator.
//
// Let c be the centre of the box. The final volume is
//
//	V = V(c) + ∇V(c)·(k - c) + e,  |e| ≤ E
//
// with E from the curvature of melt and volume over the box (see swell). A
// property that is a numerator over the volume, p = N(k)/V, misses its target t
// by (N - t V)/(s V), whose square is at least ((N - t V)/(s V⁺))² with V⁺ the
// most that V can be in the node. Numerators are linear in k but for umami,
// sweetness and melt, which carry a slack of their own. Properties without a
// numerator (temperature) get no row: leaving a row out keeps the bound valid.
func (g *grid) Relax(node *leastsquares.Node, cutoff float64, r *leastsquares.Relaxation) {
	b := g.enclose(node, cutoff)
	*r = leastsquares.Relaxation{SplitAux: -1, Empty: b.empty, Problem: r.Problem}
	if b.empty {
		return
	}
	t := &g.rows
	t.reset(b)
	g.used = 0
	for i := range g.aims {
		g.addAim(t, &g.aims[i])
	}
	for i := range g.limits {
		g.addLimit(t, &g.limits[i])
	}
	for i := range g.ratios {
		g.addRatio(t, &g.ratios[i])
	}
	t.fill(&r.Problem)
	if b.volumeHigh > widest*b.volumeLow && b.volumeHigh-b.volumeLow > 1 {
		r.SplitAux, r.SplitAt = 0, math.Sqrt(max(b.volumeLow, 0.25*b.volumeHigh)*b.volumeHigh)
	}
}

// widest is the ratio of the most to the least volume of a node beyond which
// the node is split by volume: dividing by V⁺ loses its square.
const widest = 1.08

// spare returns storage for one number a pour, good until the next relaxation.
func (g *grid) spare() []float64 {
	if g.used == len(g.spares) {
		g.spares = append(g.spares, make([]float64, len(g.open)))
	}
	g.used++
	if last := &g.spares[g.used-1]; len(*last) != len(g.open) {
		*last = make([]float64, len(g.open))
	}
	return g.spares[g.used-1]
}

// temperatures bounds the temperature of every drink of the problem. Mixing
// ends between the coldest and the warmest pour. After ice a method that falls
// short of equilibrium leaves the drink the rest of its heat, and mixing in
// melt only adds to what holds it; one that does not leaves it at its freezing
// point, below 0 °C.
func (g *grid) temperatures() (coldest, warmest profile.Celsius) {
	coldest, warmest = math.MaxFloat64, -math.MaxFloat64
	top := profile.Celsius(-math.MaxFloat64)
	see := func(s *profile.State, stage Stage) {
		if s.Mass() == 0 {
			return
		}
		t := s.TemperatureAlone()
		coldest, warmest = min(coldest, t), max(warmest, t)
		if stage == OnTop {
			top = max(top, t)
		}
	}
	see(&g.mix, InMix)
	see(&g.top, OnTop)
	for j := range g.column {
		see(&g.column[j], g.open[j].stage)
	}
	if g.ice.Method == profile.NoIce {
		return coldest, warmest
	}
	coldest = profile.Celsius(math.Inf(-1))
	if g.ice.WaterFixed || g.ice.TemperatureFixed || g.ice.Mass > 0 {
		return coldest, warmest
	}
	left := profile.Celsius(max(0, 1-g.ice.Method.WaterPerMelt()))
	return coldest, max(heatCapacityRoom*left*max(warmest, 0), top, 0)
}

// heatCapacityRoom is more than the ratio of the heat capacities of a drink at
// pouring temperature and chilled: 5 % at 60 % by mass of ethanol.
const heatCapacityRoom = 1.1
