package solver

import (
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// distance is how far one serve of a batch is from what it should be.
type batchDistance struct{ violation, objective, jnd float64 }

// closer tells whether a is closer than b by more than round-off.
func (a *batchDistance) closer(b *batchDistance) bool {
	const rounding = 1e-9
	switch {
	case a.violation < b.violation-rounding:
		return true
	case a.violation > b.violation+rounding:
		return false
	}
	return a.objective < b.objective-rounding*(1e-3+b.objective)
}

// distance evaluates one serve of the batch of k steps with the full model. All
// of the water measured in counts as melt, so that the drink is as cold as the
// spec's is.
func (m *mixing) distance(k []int) batchDistance {
	d := m.drink(k)
	var v profile.Values
	d.Evaluate(m.problem.wanted, &v, nil, nil)
	out := batchDistance{objective: m.problem.objective(&v), violation: m.problem.violation(m.columns(k), &v)}
	for i := range m.problem.aims {
		a := &m.problem.aims[i]
		if j, ok := a.property.JND(); ok {
			nearest := min(max(v[a.property], a.low), a.high)
			out.jnd += (j.Level(v[a.property]) - j.Level(nearest)) * (j.Level(v[a.property]) - j.Level(nearest))
		}
	}
	out.jnd = math.Sqrt(out.jnd)
	return out
}

// misses are how far a serve of the batch of k steps is from each aim that has a
// JND.
func (m *mixing) misses(k []int) []Miss {
	d := m.drink(k)
	var v profile.Values
	d.Evaluate(m.problem.wanted, &v, nil, nil)
	var out []Miss
	for i := range m.problem.aims {
		a := &m.problem.aims[i]
		if j, ok := a.property.JND(); ok {
			got := v[a.property]
			nearest := min(max(got, a.low), a.high)
			out = append(out, Miss{
				Property: a.property, Low: a.low, High: a.high, Got: got, Off: got - nearest, JND: j.Level(got) - j.Level(nearest), HasJND: true,
			})
		}
	}
	return out
}

// columns are the steps of the problem's columns: those of the lines but the
// water.
func (m *mixing) columns(k []int) []float64 {
	x := make([]float64, 0, len(k))
	for i := range k {
		if i != m.water {
			x = append(x, float64(k[i]))
		}
	}
	return x
}

// drink is one serve of the batch of k steps, with what is added at service.
func (m *mixing) drink(k []int) profile.Drink {
	d := m.problem.drink(m.columns(k))
	switch m.dilution.Way {
	case FullyDiluted:
		d.Ice = profile.Ice{
			Method: d.Ice.Method, WaterFixed: true,
			WaterPercent: 100 * profile.MeltMillilitresPerGram * m.waterOf(k) / float64(d.Mix.Volume()),
		}
	case DilutedForTheFridge:
		var batched profile.State
		for i := range m.rows {
			batched = batched.Add(m.rows[i].unit.Scale(float64(k[i]) * float64(m.rows[i].step) / m.serves))
		}
		d.Mix = chilledTo(ColdBatch, batched).Add(m.problem.mix)
	}
	return d
}

// waterOf is the water in place of ice in one serve, in grams.
func (m *mixing) waterOf(k []int) float64 {
	if m.water < 0 {
		return 0
	}
	return float64(k[m.water]) * float64(m.rows[m.water].step) / m.serves
}

// mostFits is how often a batch of a given volume is solved anew.
const mostFits = 6

// fit finds the steps of every line. Where the volume is given, what moves
// towards the target changes the volume of a serve, so the number of serves
// follows until the volume is right to what the scale rounds; should it not
// settle, no line moves by more than the scale's step.
func (m *mixing) fit(b *Batch) error {
	wanted, scaled := m.question.Size.total(), m.serves
	rounding := profile.Millilitre(0)
	for i := range m.rows {
		rounding += profile.Millilitre(m.rows[i].step)
	}
	for tries := 1; ; tries++ {
		m.setBounds()
		if err := m.pose(); err != nil {
			return err
		}
		b.Serves, b.Rows = m.serves, nil
		m.round(b)
		got := m.batchState(b).Volume()
		if wanted == 0 || tries > mostFits || math.Abs(float64(got-wanted)) <= float64(rounding) {
			return nil
		}
		m.serves *= float64(wanted / got)
		if tries == mostFits {
			m.serves = scaled
			for i := range m.rows {
				m.rows[i].room = 0
			}
		}
	}
}

// round finds the steps of every line by a local search from the scaled and
// rounded serve: single lines, then pairs, by strides that halve down to one
// step, as long as a serve comes closer.
func (m *mixing) round(b *Batch) {
	k := make([]int, len(m.rows))
	widest := 1
	for i := range m.rows {
		c := &m.rows[i]
		k[i] = max(1, int(math.Round(c.grams*m.serves/float64(c.step))))
		widest = max(widest, c.high-c.low)
	}
	best := m.distance(k)
	b.ScaledObjective, b.ScaledJND = best.objective, best.jnd
	for stride := 1 << int(math.Log2(float64(widest))); stride >= 1; stride /= 2 {
		for moved := true; moved; {
			moved = false
			m.moves(stride, func(change []int) {
				for i, by := range change {
					if k[i]+by < m.rows[i].low || k[i]+by > m.rows[i].high {
						return
					}
				}
				for i, by := range change {
					k[i] += by
				}
				if there := m.distance(k); there.closer(&best) {
					best, moved = there, true
					return
				}
				for i, by := range change {
					k[i] -= by
				}
			})
		}
	}
	b.Objective, b.JND = best.objective, best.jnd
	b.Misses = m.misses(k)
	running := profile.Gram(0)
	for i := range m.rows {
		row := m.row(i, k[i])
		running += row.Grams
		row.Running = running
		b.Rows = append(b.Rows, row)
	}
}

// moves calls try with every change of one line or two by a stride.
func (m *mixing) moves(stride int, try func(change []int)) {
	change := make([]int, len(m.rows))
	for i := range m.rows {
		for _, by := range []int{stride, -stride} {
			change[i] = by
			try(change)
			for j := range i {
				for _, other := range []int{stride, -stride} {
					change[j] = other
					try(change)
				}
				change[j] = 0
			}
		}
		change[i] = 0
	}
}

// row is a line of the sheet with k steps.
func (m *mixing) row(i, k int) BatchRow {
	c := &m.rows[i]
	row := BatchRow{Step: c.step, Grams: profile.Gram(tidy(float64(k) * float64(c.step)))}
	row.Places = placesOf(c.step)
	if c.pour == nil {
		row.Name = "water"
		row.PerServe = c.grams * profile.MeltMillilitresPerGram
		row.Amount = pantry.Amount{Value: tidy(row.PerServe), Unit: pantry.Millilitres}
		row.Millilitres = profile.Millilitre(float64(row.Grams) * profile.MeltMillilitresPerGram)
		return row
	}
	p := &m.serve.Pours[c.place]
	row.Ingredient, row.Name, row.PerServe, row.Amount = p.Ingredient, p.Name, p.Base, p.Amount
	if !p.Ingredient.Solid {
		row.Millilitres = profile.Millilitre(float64(row.Grams) / float64(c.pour.unit.Mass()))
	}
	return row
}

// placesOf is how many decimals a step of the scale needs.
func placesOf(step profile.Gram) int {
	return max(0, int(math.Ceil(-math.Log10(float64(step))-roundOff)))
}

// batchState is all that is mixed beforehand.
func (m *mixing) batchState(b *Batch) profile.State {
	var s profile.State
	for i := range b.Rows {
		s = s.Add(m.rows[i].unit.Scale(float64(b.Rows[i].Grams)))
	}
	return s
}

// list writes what is added at service, and what is bought.
func (m *mixing) list(b *Batch) {
	needs := make([]float64, len(m.serve.Pours))
	for i := range b.Rows {
		if c := &m.rows[i]; c.pour != nil {
			needs[c.place] += float64(b.Rows[i].Grams) / float64(c.pour.unit.Mass())
		}
	}
	for _, n := range m.service {
		p := m.serve.Pours[n]
		needs[n] = p.Base * b.Serves
		b.AtService = append(b.AtService, ServiceRow{p, keptOut(&m.pours[n], m.question.Shelf, m.question.FreshIn), needs[n]})
	}
	b.Poured = slices.Clone(m.serve.Pours)
	for n := range b.Poured {
		p := &b.Poured[n]
		p.Grams *= profile.Gram(needs[n] / b.Serves / p.Base)
		p.Base = needs[n] / b.Serves
	}
	b.Buy, b.Make = shoppingList(m.serve.Pours, needs, m.question.Made)
}

// ice is what the serves take.
func (m *mixing) ice() profile.Gram {
	ice := m.serve.Spec.Ice
	switch {
	case ice.Method == profile.NoIce || m.dilution.Way == FullyDiluted:
		return 0
	case ice.Mass > 0:
		return ice.Mass * profile.Gram(m.serves)
	}
	mix := profile.Gram(0)
	for n := range m.pours {
		if m.pours[n].stage == InMix {
			mix += m.pours[n].unit.Scale(m.pours[n].amount).Mass()
		}
	}
	return profile.IceRatio * mix * profile.Gram(m.serves)
}
