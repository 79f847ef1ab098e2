package profile

import "math"

// electrolyte is a drink as the charge balance sees it: amounts in mmol or meq,
// so that those over the volume in ml are mol/L.
type electrolyte struct {
	volume float64
	// present are the acids that there are, by their place in the table, and
	// amount how much there is of each.
	present [weakAcids]uint8
	amount  [weakAcids]float64
	count   int
	// strong is strong cations minus strong anions, metal sodium and potassium.
	strong, metal float64
}

// electrolyte fills x with what of s carries charge.
func (s *State) electrolyte(volume float64, x *electrolyte) {
	x.volume = volume
	x.strong = s[StrongChargeMilliequivalents]
	x.metal = s[SodiumMilligrams]/sodiumMolarMass + s[PotassiumMilligrams]/potassiumMolarMass
	x.count = 0
	for i := range acids {
		if amount := s[acids[i].component] * millimoles[i]; amount != 0 {
			x.present[x.count] = uint8(i)
			x.amount[x.count] = amount
			x.count++
		}
	}
}

// strongIons is the amount of ions of strong acids and bases, for the ionic
// strength alone: sodium and potassium, chloride for what of them the strong
// charge does not explain, and cations in no column where it is more than them.
func (x *electrolyte) strongIons() (amount, byMetal, byStrong float64) {
	if x.metal >= x.strong {
		return 2*x.metal - x.strong, 2, -1
	}
	return x.strong, 0, 1
}

// media is what the dissociation of every acid depends on: powers of 10^pH and
// of 1/γ_z.
type media struct {
	alkalinity [mostCharge + 1]float64
	inverse    [mostCharge + 1]float64
	// hydrogen and hydroxide are concentrations, mol/L.
	hydrogen, hydroxide float64
}

func mediaAt(ph, pGamma float64) (m media) {
	a, g := math.Exp(math.Ln10*ph), math.Exp(math.Ln10*pGamma)
	g4 := g * g * g * g
	m.alkalinity = [mostCharge + 1]float64{1, a, a * a, a * a * a}
	m.inverse = [mostCharge + 1]float64{1, g, g4, g4 * g4 * g}
	m.hydrogen = g / a
	m.hydroxide = a * g * waterProduct
	return m
}

var waterProduct = math.Pow(10, -waterPK)

// moments are the means of z, z², z³ and z⁴ over the forms of one acid, and the
// part of it that is a cation.
type moments struct {
	first, second, third, fourth, cation float64
}

// moments weighs the forms of acid i. That which has lost j protons weighs
//
//	β_j 10^(j pH) / γ_z,  z = charge - j
func (m *media) moments(i int) (d moments) {
	beta := &cumulative[i]
	if acids[i].charge == 0 {
		one := beta[1] * m.alkalinity[1] * m.inverse[1]
		two := beta[2] * m.alkalinity[2] * m.inverse[2]
		three := beta[3] * m.alkalinity[3] * m.inverse[3]
		part := 1 / (1 + one + two + three)
		one, two, three = one*part, two*part, three*part
		d.first = -(one + 2*two + 3*three)
		d.second = one + 4*two + 9*three
		d.third = -(one + 8*two + 27*three)
		d.fourth = one + 16*two + 81*three
		return d
	}
	plus := m.inverse[1]
	zero := beta[1] * m.alkalinity[1]
	one := beta[2] * m.alkalinity[2] * m.inverse[1]
	two := beta[3] * m.alkalinity[3] * m.inverse[2]
	part := 1 / (plus + zero + one + two)
	plus, one, two = plus*part, one*part, two*part
	d.first = plus - one - 2*two
	d.second = plus + one + 4*two
	d.third = plus - one - 8*two
	d.fourth = plus + one + 16*two
	d.cation = plus
	return d
}

// speciation is the state of an electrolyte at a pH and an activity of ions:
// charge in meq, ionic strength times volume in mmol, and slopes in pH and in
// pGamma. The slopes come from the spread of charge over the forms of each acid,
// as a form weighs 10^(j pH + z² pGamma):
//
//	∂<z>/∂pH = -ln 10 var(z)         ∂<z>/∂pGamma = ln 10 cov(z, z²)
//	∂<z²>/∂pH = -ln 10 cov(z, z²)    ∂<z²>/∂pGamma = ln 10 var(z²)
type speciation struct {
	media
	positive, positiveByPH, positiveByGamma float64
	negative, negativeByPH, negativeByGamma float64
	ionic, ionicByPH, ionicByGamma          float64
	// weak is the sum of z² over all ions but those of strong acids and bases.
	weak float64
}

// charge is the balance, 0 at the pH of the drink.
func (p *speciation) charge() float64 { return p.positive - p.negative }

// chargeByPH is below 0 at any pH and ionic strength: there is one pH at most.
func (p *speciation) chargeByPH() float64 { return p.positiveByPH - p.negativeByPH }

func (p *speciation) chargeByGamma() float64 { return p.positiveByGamma - p.negativeByGamma }

// at fills p; the ions of strong acids and bases are in it.
func (x *electrolyte) at(ph, pGamma float64, p *speciation) {
	p.media = mediaAt(ph, pGamma)
	h, oh := x.volume*p.hydrogen, x.volume*p.hydroxide
	positive, positiveByPH, positiveByGamma := h, -h, h
	negative, negativeByPH, negativeByGamma := oh, oh, oh
	squares, covariance, fourths := h+oh, h-oh, h+oh
	for k := range x.count {
		n := x.amount[k]
		d := p.moments(int(x.present[k]))
		c := d.third - d.first*d.second
		squares += n * d.second
		covariance += n * c
		fourths += n * (d.fourth - d.second*d.second)
		negative += n * (d.cation - d.first)
		byPH, byGamma := n*(d.second-d.first*d.first), -n*c
		if d.cation > 0 {
			up := n * d.cation
			positive += up
			upByPH, upByGamma := -up*(1-d.first), up*(1-d.second)
			positiveByPH += upByPH
			positiveByGamma += upByGamma
			byPH += upByPH
			byGamma += upByGamma
		}
		negativeByPH += byPH
		negativeByGamma += byGamma
	}
	strong, _, _ := x.strongIons()
	p.positive = positive + max(x.strong, 0)
	p.negative = negative + max(-x.strong, 0)
	p.positiveByPH, p.positiveByGamma = math.Ln10*positiveByPH, math.Ln10*positiveByGamma
	p.negativeByPH, p.negativeByGamma = math.Ln10*negativeByPH, math.Ln10*negativeByGamma
	p.weak = squares
	p.ionic = (squares + strong) / 2
	p.ionicByPH, p.ionicByGamma = -math.Ln10/2*covariance, math.Ln10/2*fourths
}
