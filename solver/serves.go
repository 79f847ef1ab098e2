package solver

import (
	"minim/pantry"
	"minim/profile"
)

// serves are the glasses of one drink that a bar hands out: the same amounts
// written, poured and chilled by hand, from bottles and fruit that vary. What
// counts are the aimed properties that have a JND.
type serves struct {
	work       *work
	properties []profile.Property
	wanted     profile.PropertySet
	measuredIn []pantry.Unit
	spread     []profile.State // of one base unit of each pour, one standard deviation

	mix, top profile.Gradients

	// Of the drink that was looked at last:
	base    []float64
	values  profile.Values
	sources []source
	effect  []float64 // in JND, row-major: a row a source, a column a property
}

// source is one independent cause of difference between two serves, at one
// standard deviation.
type source struct {
	kind sourceKind
	// pour is the index of the pour that it belongs to; theIce for the ice.
	pour      int
	component profile.Component // of a figure
	// size is in base units of an amount poured, in units of the component a
	// base unit of a figure, in grams of melt, in °C of chill.
	size float64
}

// sourceKind says what varies.
type sourceKind int

const (
	amountPoured sourceKind = iota
	melt
	chill
	// figure is the ± of what is in a bottle or a fruit; all others are the hand's.
	figure
)

// theIce stands for the ice among the pours.
const theIce = -1

// newServes prepares to judge drinks of w; nil where nothing that is aimed at
// has a JND.
func (w *work) newServes() *serves {
	s := &serves{work: w}
	for i := range w.problem.aims {
		if p := w.problem.aims[i].property; !s.wanted.Has(p) {
			if _, ok := p.JND(); ok {
				s.properties = append(s.properties, p)
				s.wanted = s.wanted.With(p)
			}
		}
	}
	if len(s.properties) == 0 {
		return nil
	}
	for n := range w.pours {
		p := &w.pours[n]
		s.measuredIn = append(s.measuredIn, w.measuredIn(p))
		s.spread = append(s.spread, p.ingredient.PerUnitSpread())
	}
	return s
}

// lookAt takes up the drink of x steps of each open pour.
func (s *serves) lookAt(x []float64) {
	w := s.work
	s.base = w.amounts(s.base[:0], x)
	s.sources = s.sources[:0]
	d := profile.Drink{Ice: w.ice}
	for n := range w.pours {
		p := &w.pours[n]
		if s.base[n] == 0 {
			continue
		}
		addTo(&d, p, s.base[n])
		s.sources = append(s.sources, source{kind: amountPoured, pour: n, size: p.pouringError(s.base[n], s.measuredIn[n])})
		for c, spread := range &s.spread[n] {
			if spread > 0 {
				s.sources = append(s.sources, source{kind: figure, pour: n, component: profile.Component(c), size: spread})
			}
		}
	}
	if w.ice.Method != profile.NoIce && d.Mix.Mass() > 0 {
		grams, _ := w.iceSpread(profile.Volume, 1, float64(d.Mix.Volume()))
		_, degrees := w.iceSpread(profile.Temperature, 0, 0)
		s.sources = append(s.sources, source{kind: melt, pour: theIce, size: grams}, source{kind: chill, pour: theIce, size: degrees})
	}
	d.Evaluate(s.wanted, &s.values, &s.mix, &s.top)
	s.effect = s.effect[:0]
	for i := range s.sources {
		for _, p := range s.properties {
			j, _ := p.JND()
			s.effect = append(s.effect, s.firstOrder(&s.sources[i], p)/j.Size(s.values[p]))
		}
	}
}

// addTo adds so many base units of a pour to a drink, and returns what it was
// added to.
func addTo(d *profile.Drink, p *pour, base float64) *profile.State {
	into := &d.Mix
	if p.stage == OnTop {
		into = &d.Top
	}
	for c, v := range &p.unit {
		into[c] += base * v
	}
	return into
}

// firstOrder is what one standard deviation of a source makes of property p, in
// its unit, through the property's slopes.
func (s *serves) firstOrder(one *source, p profile.Property) float64 {
	switch one.kind {
	case melt:
		return one.size * s.top[p][profile.WaterGrams]
	case chill:
		if p == profile.Temperature {
			return one.size
		}
		return 0
	}
	slopes := &s.mix[p]
	if s.work.pours[one.pour].stage == OnTop {
		slopes = &s.top[p]
	}
	if one.kind == figure {
		return one.size * s.base[one.pour] * slopes[one.component]
	}
	return one.size * dot(slopes, &s.work.pours[one.pour].unit)
}

// pick says which sources count.
type pick func(*source) bool

func byHand(one *source) bool { return one.kind != figure }

func every(*source) bool { return true }

// covariance of the properties in JND², row-major:
//
//	C = Σ_sources e eᵀ
//
// e the effect of the source at one standard deviation.
func (s *serves) covariance(counts pick) []float64 {
	n := len(s.properties)
	c := make([]float64, n*n)
	for i := range s.sources {
		if !counts(&s.sources[i]) {
			continue
		}
		e := s.effect[i*n : (i+1)*n]
		for k := range e {
			for l := range e {
				c[k*n+l] += e[k] * e[l]
			}
		}
	}
	return c
}

// meanSquare is the mean squared distance of a serve from the drink meant, in
// JND², by first order.
func (s *serves) meanSquare() float64 {
	sum := 0.0
	for _, e := range s.effect {
		sum += e * e
	}
	return sum
}

// squaredOff is how far, in JND², the serve of z standard deviations of each
// source is from the drink meant, by first order.
func (s *serves) squaredOff(z []float64) float64 {
	n := len(s.properties)
	var off [profile.Properties]float64
	for i, by := range z {
		if by != 0 {
			for k, e := range s.effect[i*n : (i+1)*n] {
				off[k] += by * e
			}
		}
	}
	return inner(off[:n], off[:n])
}

// squaredOffFully is the same by the full model. No pour and no figure falls
// below none.
func (s *serves) squaredOffFully(z []float64) float64 {
	d := profile.Drink{Ice: s.work.ice}
	var into, unit *profile.State
	amount, warmer := 0.0, 0.0
	for i := range s.sources {
		one := &s.sources[i]
		by := z[i] * one.size
		switch one.kind {
		case amountPoured:
			amount = max(0, s.base[one.pour]+by)
			unit = &s.work.pours[one.pour].unit
			into = addTo(&d, &s.work.pours[one.pour], amount)
		case figure:
			if there := unit[one.component]; there >= 0 {
				by = max(by, -there)
			}
			into[one.component] += amount * by
		case melt:
			d.Top[profile.WaterGrams] += by
		case chill:
			warmer = by
		}
	}
	var v profile.Values
	d.Evaluate(s.wanted, &v, nil, nil)
	v[profile.Temperature] += warmer
	sum := 0.0
	for _, p := range s.properties {
		j, _ := p.JND()
		miss := j.Level(v[p]) - j.Level(s.values[p])
		sum += miss * miss
	}
	return sum
}

func inner(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
