package profile

import "math"

// The pH is looked for between these; where the balance would lie beyond them,
// as in nothing that can be drunk, the pH is the nearer one.
const (
	leastPH   = -2.0
	mostPH    = 16.0
	neutralPH = waterPK / 2
)

// leastVolume in ml is that below which there is no liquid to have a pH.
const leastVolume = 1e-200

// ph is -log10 of the activity of hydrogen ions at 25 °C, from the balance of
// charge over all acids of the drink and water:
//
//	S + [H] - [OH] + Σ_i c_i <z>_i = 0
//
// S is the strong charge, c_i the concentration of acid i per litre of the
// finished drink and <z>_i the mean charge of its forms. Activities are those of
// Davies with the ionic strength I = ½ Σ c z² of the same forms, sodium,
// potassium and their counter-ions with them; above 0.5 mol/L they stay what
// they are at 0.5. Table salt raises I and nothing else. All carbon dioxide in
// the drink counts as carbonic acid, before any is lost on pouring. An empty
// glass is neutral, 7.
//
// The constants are those of water at 25 °C. Ethanol raises pK by about 0.1 for
// each 10 % vol (Usseglio-Tomasset & Bosia 1978, from memory), sugar does little
// below 200 g/L, and cooling to 0 °C moves it by less than 0.13: none of these
// is computed. Proteins, polyphenols and other buffers in no column are left
// out too.
func (e *evaluation) ph(gradient *State) float64 {
	if !(e.volume > leastVolume) {
		return neutralPH
	}
	var x electrolyte
	var p speciation
	e.state.electrolyte(e.volume, &x)
	ph, ionicStrength, inside := x.solve(&p)
	if gradient != nil && inside {
		e.phGradient(&x, &p, ionicStrength, gradient)
	}
	return ph
}

// balanced is the last step of the search, in pH and relative to the ionic
// strength, from which the step after it would be round-off.
const balanced = 1e-7

// newtonSteps is how many are tried before the search that cannot fail.
const newtonSteps = 20

// solve returns the pH and the ionic strength, at most 0.5 mol/L, at which the
// charges balance and the ionic strength is that of the ions; inside is false
// where the pH stands at an end of its range. It leaves the speciation there,
// but for the last step, in p.
//
// 1. Balance is taken as ln(positive/negative) = 0: almost straight in pH over
// decades of concentration, and falling all along.
// 2. Newton's method in pH and ionic strength at once, steps cut to a few pH
// and a factor of ten. The slope in pH along consistent ionic strengths is kept
// to a tenth at least of that at a fixed one, which is never 0.
// 3. Where that does not settle, one is nested in the other, each bracketed.
func (x *electrolyte) solve(p *speciation) (ph, ionicStrength float64, inside bool) {
	const (
		start   = 3.0 // most sour drinks are near it
		longest = 3.0
		factor  = 10.0
	)
	strong, _, _ := x.strongIons()
	ph, ionicStrength = start, min(max(strong/(2*x.volume), 0.02), mostIonicStrength)
	for range newtonSteps {
		pGamma, slope := davies(ionicStrength)
		x.at(ph, pGamma, p)
		value := math.Log(p.positive / p.negative)
		byPH := p.positiveByPH/p.positive - p.negativeByPH/p.negative
		byStrength := slope * (p.positiveByGamma/p.positive - p.negativeByGamma/p.negative)
		var step, turn float64
		if actual := p.ionic / x.volume; actual >= mostIonicStrength {
			turn = mostIonicStrength - ionicStrength
			step = -(value + byStrength*turn) / byPH
		} else {
			rest := max(1-slope*p.ionicByGamma/x.volume, 1/factor)
			off, follow := (actual-ionicStrength)/rest, p.ionicByPH/x.volume/rest
			step = -(value + byStrength*off) / min(byPH+byStrength*follow, byPH/factor)
			turn = off + follow*step
		}
		step = min(max(step, -longest), longest)
		next := min(max(ph+step, leastPH), mostPH)
		strength := min(max(ionicStrength+turn, ionicStrength/factor), ionicStrength*factor, mostIonicStrength)
		settled := math.Abs(next-ph) <= balanced && math.Abs(strength-ionicStrength) <= balanced*ionicStrength
		outside := math.Abs(step) > 2*balanced && next == ph
		ph, ionicStrength = next, strength
		if settled {
			return ph, ionicStrength, !outside
		}
	}
	return x.bisect(p)
}

// halvings narrow a bracket down to round-off.
const halvings = 64

// bisect is solve by halving: ionic strength outside, pH inside it. At no ionic
// strength the ions have some, at 0.5 they have no more than is counted, so a
// consistent one lies between.
func (x *electrolyte) bisect(p *speciation) (ph, ionicStrength float64, inside bool) {
	low, high := 0.0, mostIonicStrength
	for range halvings {
		ionicStrength = (low + high) / 2
		ph = x.phAt(ionicStrength, p)
		if p.ionic/x.volume > ionicStrength {
			low = ionicStrength
		} else {
			high = ionicStrength
		}
	}
	return ph, ionicStrength, ph > leastPH && ph < mostPH
}

// phAt returns the pH at which the charges balance at a given ionic strength, or
// the end of the range beyond which they do, and leaves the speciation in p. The
// balance falls with pH, so halving finds it.
func (x *electrolyte) phAt(ionicStrength float64, p *speciation) float64 {
	pGamma, _ := davies(ionicStrength)
	charge := func(ph float64) float64 {
		x.at(ph, pGamma, p)
		return p.charge()
	}
	low, high := leastPH, mostPH
	if charge(low) <= 0 {
		return low
	}
	if charge(high) >= 0 {
		return high
	}
	middle := 0.0
	for range halvings {
		middle = (low + high) / 2
		if charge(middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return middle
}

// phGradient adds the slopes of the pH in each component. With Q the charge, G
// the ionic strength times the volume V, and g = pGamma(I), both
//
//	Q(pH, g) + dQ = 0,  G(pH, g) + dG = I V
//
// hold for a change that brings charge dQ and ions dG of its own:
//
//	dI  = (G_pH dpH + dG - I dV) / (V - G_g g')
//	dpH = -(dQ + k (dG - I dV)) / (Q_pH + k G_pH),  k = Q_g g' / (V - G_g g')
//
// and k = 0 where the ionic strength is held at its most.
func (e *evaluation) phGradient(x *electrolyte, p *speciation, ionicStrength float64, gradient *State) {
	k := 0.0
	if p.ionic/x.volume < mostIonicStrength {
		_, slope := davies(ionicStrength)
		k = p.chargeByGamma() * slope / (x.volume - p.ionicByGamma*slope)
	}
	scale := -1 / (p.chargeByPH() + k*p.ionicByPH)
	byVolume := scale * (p.hydrogen - p.hydroxide + k*((p.hydrogen+p.hydroxide)/2-ionicStrength))
	for c := range gradient {
		gradient[c] += byVolume * e.volumeGradient[c]
	}
	for i := range acids {
		d := p.moments(i)
		gradient[acids[i].component] += scale * millimoles[i] * (d.first + k*d.second/2)
	}
	_, byMetal, byStrong := x.strongIons()
	gradient[StrongChargeMilliequivalents] += scale * (1 + k*byStrong/2)
	gradient[SodiumMilligrams] += scale * k * byMetal / 2 / sodiumMolarMass
	gradient[PotassiumMilligrams] += scale * k * byMetal / 2 / potassiumMolarMass
}

// StrongChargeMilliequivalentsAt returns the strong charge that gives s that pH
// with the acids it has, whatever strong charge it has now: strong cations minus
// strong anions in meq, below 0 where it takes a strong acid. The pH is from -2
// to 16; without liquid the charge is 0. It is the charge balance solved for S,
// the ionic strength that of all ions, those of S among them; see Property PH.
func (s State) StrongChargeMilliequivalentsAt(ph float64) float64 {
	volume := s.volume(nil)
	if !(volume > leastVolume) {
		return 0
	}
	ph = min(max(ph, leastPH), mostPH)
	var x electrolyte
	var p speciation
	s.electrolyte(volume, &x)
	low, high := 0.0, mostIonicStrength
	ionicStrength := 0.05
	for range newtonSteps + halvings {
		pGamma, slope := davies(ionicStrength)
		x.strong = 0
		x.at(ph, pGamma, &p)
		x.strong = -p.charge()
		strong, _, byStrong := x.strongIons()
		ions := (p.weak + strong) / 2 / volume
		if ions >= mostIonicStrength && ionicStrength == mostIonicStrength {
			break
		}
		if ions > ionicStrength {
			low = ionicStrength
		} else {
			high = ionicStrength
		}
		bend := slope * (p.ionicByGamma - byStrong/2*p.chargeByGamma()) / volume
		next := ionicStrength + (ions-ionicStrength)/(1-bend)
		if ions >= mostIonicStrength {
			next = mostIonicStrength
		}
		if !(next > low && next <= high) {
			next = (low + high) / 2
		}
		if math.Abs(next-ionicStrength) <= consistent*ionicStrength {
			break
		}
		ionicStrength = next
	}
	return x.strong
}

// consistent is how near, relative to it, the ionic strength has to come to that
// of the ions where nothing else is looked for.
const consistent = 1e-12

// TitrationEndpoint is the pH to which juice and wine are titrated, also
// in the titratable acidity of the pantry.
//
// Source: fruit and wine practice, 8.1 to 8.2; AOAC, from memory.
const TitrationEndpoint = 8.2

// TitratableCitric returns the acidity found by titrating s, degassed, to an
// endpoint in pH, as grams of anhydrous citric acid at three protons each. It
// is the strong charge that the balance asks for at the endpoint less the one
// that is there; that the titrant dilutes the sample is left out. Below 0 where
// s is already more alkaline.
//
// To pH 8.2 a gram of citric, malic, tartaric, lactic and acetic acid comes out
// within 1 % of its equivalents (1.000, 0.955, 0.853, 0.711, 1.066); phosphoric
// acid gives up 1.9 protons where the equivalents count 2.
func (s State) TitratableCitric(endpoint float64) Gram {
	s = s.Degassed()
	alkali := s.StrongChargeMilliequivalentsAt(endpoint) - s[StrongChargeMilliequivalents]
	return Gram(alkali * citricGramsPerMilliequivalent)
}
