package pantry

import (
	"fmt"
	"math"

	"minim/profile"
)

// liqueurAnswer is what the readings say, in g/L, % vol and kg/m³ at 20 °C.
type liqueurAnswer struct {
	sugar, sugarSpread       float64
	strength, strengthSpread float64
	density, densitySpread   float64
	// watered is grams of sugar per gram of sugar and water.
	watered float64
}

// answer solves the readings and adds to m what they leave to say.
func (q *liqueurQuestion) answer(m *Measured) (liqueurAnswer, error) {
	first, second := byDensity, byBrix
	switch {
	case !q.given[byDensity]:
		first, second = byBrix, byStrength
	case !q.given[byBrix]:
		second = byStrength
	}
	at := q.solve(first, second, q.read[first], q.read[second])
	s := q.modelled(at)
	// The values and what the readings are off at the solution: 0 but at the ends.
	values := func(x []float64) []float64 {
		l := q.solve(first, second, x[0], x[1])
		return []float64{
			l.sugarPerLitre(), l.strength(), float64(l.state().DensityAt(20)),
			q.reads(first, l) - x[0], q.reads(second, l) - x[1],
		}
	}
	read := []float64{q.read[first], q.read[second]}
	value, _ := firstOrder(values, read, []float64{s[first], s[second]})
	if err := q.fits(m, first, second, value, s); err != nil {
		return liqueurAnswer{}, err
	}
	c := covariance(values, read, []float64{s[first], s[second]})
	out := liqueurAnswer{
		sugar: value[0], strength: value[1], density: value[2],
		sugarSpread: math.Sqrt(c[0][0]), strengthSpread: math.Sqrt(c[1][1]), densitySpread: math.Sqrt(c[2][2]),
	}
	if q.given[byDensity] && q.given[byBrix] && q.given[byStrength] {
		if err := q.label(m, &out, c, s); err != nil {
			return out, err
		}
	}
	water := out.density - out.sugar - out.strength/100*float64(profile.EthanolDensity)
	if out.sugar > 0 {
		out.watered = out.sugar / (out.sugar + math.Max(water, 0))
	}
	return out, nil
}

// modelled is the ± of each reading with that of the model at a composition.
func (q *liqueurQuestion) modelled(l liqueur) [readings]float64 {
	both := l.strength() / 30 * l.sugarPerLitre() / 400
	s := q.spread
	s[byDensity] = math.Hypot(s[byDensity], modelDensity*both)
	s[byBrix] = math.Hypot(s[byBrix], modelBrix*both)
	return s
}

// covariance is that of f by first order, for independent inputs.
func covariance(f func(x []float64) []float64, x, spread []float64) [3][3]float64 {
	var c [3][3]float64
	eachShift(f, x, spread, func(shift []float64) {
		for k := range c {
			for l := range c {
				c[k][l] += shift[k] * shift[l]
			}
		}
	})
	return c
}

// fits refuses two readings that no liquid has: the solution stands at an end of
// the range, sugar or strength 0, and leaves one of them off. What one reading
// is off by is compared with its own ± and with what the other's moves it.
func (q *liqueurQuestion) fits(m *Measured, first, second int, value []float64, s [readings]float64) error {
	for k, n := range []int{first, second} {
		off, other := value[3+k], first+second-n
		if math.Abs(off) < 1e-6*math.Max(1, math.Abs(q.read[n])) {
			continue
		}
		expected := func(v float64) float64 {
			a, b := q.read[first], q.read[second]
			if other == first {
				a = v
			} else {
				b = v
			}
			return q.reads(n, q.solve(first, second, a, b))
		}
		moved := (expected(q.read[other]+s[other]) - expected(q.read[other]-s[other])) / 2
		allowed := math.Hypot(s[n], moved)
		if math.Abs(off) > refusedAt*allowed {
			return q.contradiction(n, q.read[n]+off, allowed, "")
		}
		m.remark("the %s says %.*f%s where the other reading makes it %.*f%s; within the errors, so that what would be below 0 is taken as 0",
			readingFacts[n].instrument, readingFacts[n].decimals, q.read[n], readingFacts[n].unit,
			readingFacts[n].decimals, q.read[n]+off, readingFacts[n].unit)
	}
	return nil
}

// contradiction is the error of an instrument that reads other than expected.
func (q *liqueurQuestion) contradiction(n int, expected, allowed float64, others string) error {
	return &ContradictionError{
		Instrument: readingFacts[n].instrument, Unit: readingFacts[n].unit, Read: q.read[n], Expected: expected,
		Apart: math.Abs(q.read[n] - expected), Allowed: allowed, Others: others,
	}
}

// label corrects what density and refraction say by the strength of the label.
func (q *liqueurQuestion) label(m *Measured, out *liqueurAnswer, c [3][3]float64, s [readings]float64) error {
	apart := q.read[byStrength] - out.strength
	variance := c[1][1] + s[byStrength]*s[byStrength]
	allowed := math.Sqrt(variance)
	if math.Abs(apart) > refusedAt*allowed {
		byLabel := q.solve(byDensity, byStrength, q.read[byDensity], q.read[byStrength])
		byOther := q.solve(byBrix, byStrength, q.read[byBrix], q.read[byStrength])
		others := fmt.Sprintf("; with the label right the refractometer would say %.1f instead of %.1f °Bx, or the density be %.1f instead of %.1f kg/m³",
			q.reads(byBrix, byLabel), q.read[byBrix], q.reads(byDensity, byOther), q.read[byDensity])
		return q.contradiction(byStrength, out.strength, allowed, others)
	}
	if math.Abs(apart) > remarkedAt*allowed {
		m.remark("the label says %.1f %% vol where density and refractometer make it %s; all three were weighed by their errors",
			q.read[byStrength], withSpread(out.strength, math.Sqrt(c[1][1])))
	}
	if variance == 0 {
		return nil
	}
	out.sugar = math.Max(0, out.sugar+c[0][1]/variance*apart)
	out.strength = math.Max(0, out.strength+c[1][1]/variance*apart)
	out.density += c[2][1] / variance * apart
	out.sugarSpread = math.Sqrt(math.Max(0, c[0][0]-c[0][1]*c[0][1]/variance))
	out.strengthSpread = math.Sqrt(math.Max(0, c[1][1]-c[1][1]*c[1][1]/variance))
	out.densitySpread = math.Sqrt(math.Max(0, c[2][2]-c[2][1]*c[2][1]/variance))
	return nil
}
