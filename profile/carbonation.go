package profile

import "math"

// CarbonDioxideVolume is the carbon dioxide in one volume of it, litres of gas
// at 0 °C and 1 atm in a litre of drink: 44.01 g/mol over 22.26 l/mol.
//
// Source: the constants 1.951 and 0.987 of the reference method of the European
// Union for sparkling wine give the same; trade sources use 1.96.
const CarbonDioxideVolume GramPerLitre = 1.977

// CarbonDioxideVolumes returns c, of carbon dioxide, in volumes.
func CarbonDioxideVolumes(c GramPerLitre) float64 { return float64(c / CarbonDioxideVolume) }

// pouringLoss is the part of the carbon dioxide above saturation that leaves
// on pouring. It is fitted, in just-noticeable differences, to sparkling wine of
// 12.5 % vol at 10 °C, 11 to 8 g/L, where it leaves 8.4, and to beer of 5 % vol
// at 6 °C poured with care, 5.49 to 5.19 g/L, where it leaves 4.6.
//
// Source: Liger-Belair & Cilindre, ACS Omega 6 (2021) 9672.
const pouringLoss = 0.29

// How ethanol and sugar lessen the carbon dioxide in a litre:
// (0.86 - 0.01 A)(1 - 0.00144 S)/0.86, A % vol and S g/L of sugar.
//
// Source: reference method of the European Union for sparkling wine
// (Regulation 2676/90, from memory), for 20 °C.
const (
	saturationWithoutEthanol = 0.86
	saturationPerStrength    = 0.01
	saturationPerSugar       = 0.00144
)

// Beyond these no source was seen, and the factors are held: % vol and g/L,
// reached over twice the width. Pure ethanol dissolves three times as much as
// water, so the fall must end somewhere.
const (
	strongestSaturation   = 16.0
	strongSaturationWidth = 3.0
	sweetestSaturation    = 300.0
	sweetSaturationWidth  = 50.0
)

// The temperatures in °C between which the solubility is computed; outside
// them it is held.
const (
	coldestSaturation = -30.0
	hottestSaturation = 100.0
)

// Saturation returns the carbon dioxide that a drink of temperature t,
// strength and sugar content holds under 1 atm of the gas, in g per litre: in
// water by
//
//	log₁₀ K = 10.5624 - 0.023547 T - 3972.8/T + 587460/T² + 1.9194e-5 T²
//
// K in mol/kg and T in K, times the factors of ethanol and sugar. Water from 0
// to 30 °C agrees with modern compilations within 1.3 %; ethanol and sugar were
// measured near 20 °C, to about 15 % vol and 100 g/L, and are held above 16 %
// vol and 300 g/L.
//
// Source: PHREEQC, phreeqc.dat, CO2(g).
func Saturation(t Celsius, strength PercentVolume, sugar GramPerLitre) GramPerLitre {
	s := saturationAt(float64(t), float64(strength), float64(sugar))
	return GramPerLitre(s.value)
}

// saturation is a saturation in g/L and its slopes.
type saturation struct{ value, byTemperature, byStrength, bySugar float64 }

func saturationAt(celsius, strength, sugar float64) (s saturation) {
	const carbonDioxideMolarMass = 44.01
	held := min(max(celsius, coldestSaturation), hottestSaturation)
	kelvin := held + 273.15
	log := 10.5624 - 0.023547*kelvin - 3972.8/kelvin + 587460/(kelvin*kelvin) + 1.9194e-5*kelvin*kelvin
	inWater := math.Exp(math.Ln10*log) * carbonDioxideMolarMass * float64(WaterDensity) / 1000

	over, overSlope := softPositive(strength-strongestSaturation, strongSaturationWidth)
	byEthanol := 1 - saturationPerStrength/saturationWithoutEthanol*(strength-over)
	byEthanolSlope := -saturationPerStrength / saturationWithoutEthanol * (1 - overSlope)
	over, overSlope = softPositive(sugar-sweetestSaturation, sweetSaturationWidth)
	bySugar := 1 - saturationPerSugar*(sugar-over)
	bySugarSlope := -saturationPerSugar * (1 - overSlope)

	s.value = inWater * byEthanol * bySugar
	s.byStrength = inWater * byEthanolSlope * bySugar
	s.bySugar = inWater * byEthanol * bySugarSlope
	if held == celsius {
		rise := -0.023547 + (3972.8-2*587460/kelvin)/(kelvin*kelvin) + 2*1.9194e-5*kelvin
		s.byTemperature = math.Ln10 * rise * s.value
	}
	return s
}

// softPositive is the positive part of x with the corner at 0 rounded off over
// width to either side: there, with u = (x + width)/(2 width), its slope is
// 3 u² - 2 u³ and it is width (2 u³ - u⁴). Slope and bend have no jump.
func softPositive(x, width float64) (value, slope float64) {
	switch {
	case x <= -width:
		return 0, 0
	case x >= width:
		return x, 1
	}
	u := (x + width) / (2 * width)
	return width * u * u * u * (2 - u), u * u * (3 - 2*u)
}

// carbonDioxide is what is dissolved after pouring, in g/L: of c g/L in all it
// is c - λ p, p the part of c above the saturation s at the serving temperature
// and λ the pouringLoss. The corner at s is rounded off from s/2 to 3 s/2, see
// softPositive. Expect 0.6 g/L: pourings differ.
func (e *evaluation) carbonDioxide(gradient *State) float64 {
	if e.volume <= 0 {
		return 0
	}
	perLitre := millilitresPerLitre / e.volume
	c := perLitre * e.state[CarbonDioxideGrams]
	strength := percent * ethanolMillilitreGram * e.state[EthanolGrams] / e.volume
	sugar := perLitre * e.state.sugarGrams()
	s := saturationAt(e.temperature, strength, sugar)

	lost, byC := softPositive(c-s.value, s.value/2)
	// The width is half the saturation: p = s (u³ - u⁴/2) with u = c/s - ½, so
	// dp/ds = u³ - u⁴/2 - (u + ½) dp/dc, which is -1 beyond u = 1.
	bySaturation := 0.0
	if byC > 0 {
		u := min(c/s.value-0.5, 1)
		bySaturation = u*u*u*(1-u/2) - (u+0.5)*byC
	}
	value := c - pouringLoss*lost
	if gradient == nil {
		return value
	}
	byC = 1 - pouringLoss*byC
	bySaturation *= -pouringLoss
	byStrength, bySugar := bySaturation*s.byStrength, bySaturation*s.bySugar
	byVolume := -(byC*c + byStrength*strength + bySugar*sugar) / e.volume
	byTemperature := bySaturation * s.byTemperature
	for i := range gradient {
		gradient[i] += byVolume*e.volumeGradient[i] + byTemperature*e.temperatureGradient[i]
	}
	gradient[CarbonDioxideGrams] += byC * perLitre
	gradient[EthanolGrams] += byStrength * percent * ethanolMillilitreGram / e.volume
	for _, i := range sugarComponents {
		gradient[i] += bySugar * perLitre
	}
	return value
}
