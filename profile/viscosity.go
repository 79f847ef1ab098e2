package profile

import "math"

// Viscosity of ethanol-water mixtures of ethanol mass fraction p:
//
//	ln η = ln 1.002 + Σ_k a_k p^k + τ (3.4288 + Σ_k b_k p^k),  τ = (20 - t)/(t + 118)
//
// η in mPa·s and t in °C, the form of a Vogel equation. Fitted so that the worst
// relative error is least, it is within 3.0 % of every point from 0 to 20 °C
// and within 5.0 % of those from -20 to 0 °C, where the sources themselves differ by up to
// 5 %; water alone within 0.4 % from 0 to 30 °C and 1.2 % to 100 °C.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021),
// Concentrative properties of aqueous solutions, at 20 °C; Melinder, Properties
// of Secondary Working Fluids for Indirect Systems, IIF-IIR (2010), 11 to 60 %
// by mass, -20 to 20 °C; pure ethanol from an encyclopedia table.
var (
	ethanolViscosity        = [6]float64{0, 4.87231, -4.98518, -4.69235, 8.90545, -3.94742}
	ethanolViscosityThinned = [4]float64{waterViscosityThinned, 14.07348, -28.47347, 13.42903}
)

const (
	waterViscosityAt20    = 1.002
	waterViscosityThinned = 3.4288
	vogelTemperature      = 118.0
)

// The temperatures in °C between which viscosity is computed; outside them it
// is held.
const (
	coldestViscosity = -50.0
	hottestViscosity = 100.0
)

// thickestSolution is the mass fraction of sugars above which viscosity is
// held: no drink is a syrup beyond saturation.
const thickestSolution = 0.85

// waterShare is the mass fraction of sugars at which the formula's own figure
// for water, 3.6 % too thin at 20 °C, and the true one weigh alike.
const waterShare = 0.05

// sucroseAlike is the sucrose that thickens as much as one unit of each
// component. What is not listed thickens by nothing.
//
// Source: fitted to the CRC Handbook (2021) at 20 °C, to 30 % by mass, which it
// meets within 5 %: glucose, fructose, maltose, citric and lactic acid, sodium
// chloride, glycerol (to 20 %). The other acids are taken as these, other
// solids as the chloride and gums as sugar (estimates).
var sucroseAlike = func() (w [Components]float64) {
	w[SucroseGrams] = 1
	w[GlucoseGrams] = 0.92
	w[FructoseGrams] = 0.87
	w[OtherSugarsGrams] = 1.03
	w[PolyolsGrams] = 0.88
	for c := CitricGrams; c <= OxalicGrams; c++ {
		w[c] = 0.82
	}
	w[LacticGrams] = 0.775
	w[AceticGrams] = 0.775
	w[GumGrams] = 1
	w[OtherSolidsGrams] = 0.6
	w[SodiumMilligrams] = 0.6e-3
	return w
}()

// tau is the variable of the Vogel equation and its slope in t.
func tau(t float64) (value, slope float64) {
	value = (20 - t) / (t + vogelTemperature)
	return value, -(1 + value) / (t + vogelTemperature)
}

// lnSugarRatio is the logarithm of how many times thicker than water a solution
// of c grams of sucrose per gram is, and its slopes in c and t:
//
//	log₁₀ η = 22.46 A - 0.114 + B (1.1 + 43.1 A^1.25),  A = Bx/(1900 - 18 Bx),  B = (30 - t)/(91 + t)
//
// with Bx = 100 c, less, as c grows from 0 past waterShare, what the formula is off
// for water. Within 5 % of the CRC Handbook at 20 °C to 70 °Bx; near 0 °C it is
// 6 to 14 % thicker than an older table of the same handbook.
//
// Source: Mathlouthi & Génotelle in Sucrose: Properties and Applications (1995),
// pp. 126-154.
func lnSugarRatio(c, t float64) (value, byC, byT float64) {
	held := min(c, thickestSolution)
	d := 1900 - 1800*held
	a := 100 * held / d
	root := math.Sqrt(math.Sqrt(a))
	b := (30 - t) / (91 + t)
	bSlope := -(1 + b) / (91 + t)

	v, vSlope := tau(t)
	ofWater := lnWaterViscosity + waterViscosityThinned*v - math.Ln10*(1.1*b-0.114)
	ofWaterSlope := waterViscosityThinned*vSlope - math.Ln10*1.1*bSlope
	share := held / (held + waterShare)

	value = math.Ln10*(22.46*a+b*43.1*a*root) - share*ofWater
	byT = math.Ln10*bSlope*43.1*a*root - share*ofWaterSlope
	if held == c {
		aSlope := 190000 / (d * d)
		byC = math.Ln10*(22.46+b*43.1*1.25*root)*aSlope - ofWater*waterShare/((held+waterShare)*(held+waterShare))
	}
	return value, byC, byT
}

// Xanthan gum at c g/L in water is a power-law fluid, η = K γ̇^(n-1):
//
//	n = 0.1 + 0.9/(1 + c)
//	K = 0.020 c + 0.060 c² Pa·sⁿ
//
// drawn through the middle of a rough published spread, from memory, at 0.5,
// 1, 2 and 5 g/L: K 0.02-0.05, 0.05-0.1, 0.2-0.4, 1.5-2.5 and n 0.6-0.7,
// 0.5-0.6, 0.35-0.45, 0.2-0.3. At the shear in the mouth that spread is 4-15,
// 7-21, 16-47 and 66-160 mPa·s, so expect a factor of 2 either way. Drinks take
// 0.5 to 3 g/L.
const (
	xanthanConsistency       = 0.020
	xanthanConsistencyGrowth = 0.060
	xanthanLeastIndex        = 0.1

	// shearInTheMouth is the rate in 1/s at which thickness is reckoned: Wood
	// (1968); US National Dysphagia Diet (2002). Both from memory.
	shearInTheMouth = 50.0

	// thickestXanthan is in g/L. Beyond it there is a gel, and no more is added.
	thickestXanthan = 20.0
)

// powerLawViscosity returns the viscosity in mPa·s of a fluid of consistency
// K Pa·sⁿ and flow index n at a shear rate in 1/s: K γ̇^(n-1).
func powerLawViscosity(consistency, index, shear float64) float64 {
	return 1000 * consistency * math.Pow(shear, index-1)
}

// Logarithms that every drink needs.
var (
	lnShearInTheMouth = math.Log(shearInTheMouth)
	lnWaterViscosity  = math.Log(waterViscosityAt20)
)

// xanthanViscosity is what c g/L adds to a liquid's viscosity, and its slope.
// Temperature, acid and salt are left out (the gum hardly feels them).
func xanthanViscosity(c float64) (value, slope float64) {
	if c <= 0 {
		return 0, 1000 * xanthanConsistency
	}
	held := min(c, thickestXanthan)
	index := xanthanLeastIndex + (1-xanthanLeastIndex)/(1+held)
	thinned := powerLawViscosity(1, index, shearInTheMouth)
	value = thinned * (xanthanConsistency + xanthanConsistencyGrowth*held) * held
	if held == c {
		indexSlope := -(1 - xanthanLeastIndex) / ((1 + held) * (1 + held))
		slope = thinned*(xanthanConsistency+2*xanthanConsistencyGrowth*held) + value*lnShearInTheMouth*indexSlope
	}
	return value, slope
}

// viscosity is that of the drink at its serving temperature, in mPa·s: of the
// ethanol and water, times what the sugars and their like do in the water
// alone, plus what the gum adds at the shear in the mouth. Sugar with ethanol
// was not found measured: expect 20 % there.
func (e *evaluation) viscosity(gradient *State) float64 {
	if e.volume <= 0 {
		return 0
	}
	t := min(max(e.temperature, coldestViscosity), hottestViscosity)
	water, ethanol := e.state[WaterGrams], e.state[EthanolGrams]
	solvent := water + ethanol
	p := 0.0
	if solvent > 0 {
		p = ethanol / solvent
	}
	level, levelByP := polynomial(ethanolViscosity[:], p)
	thinned, thinnedByP := polynomial(ethanolViscosityThinned[:], p)
	v, vSlope := tau(t)

	solutes := 0.0
	for i, w := range sucroseAlike[:firstMassless] {
		solutes += w * e.state[i]
	}
	c := 0.0
	if solutes > 0 {
		c = solutes / (solutes + water)
	}
	ratio, ratioByC, ratioByT := lnSugarRatio(c, t)

	liquid := waterViscosityAt20 * math.Exp(level+thinned*v+ratio)
	perLitre := millilitresPerLitre / e.volume
	thickener := perLitre * e.state[ThickenerGrams]
	gum, gumSlope := xanthanViscosity(thickener)
	if gradient == nil {
		return liquid + gum
	}

	byVolume := -gumSlope * thickener / e.volume
	byTemperature := 0.0
	if t == e.temperature {
		byTemperature = liquid * (thinned*vSlope + ratioByT)
	}
	for i := range gradient {
		gradient[i] += byVolume*e.volumeGradient[i] + byTemperature*e.temperatureGradient[i]
	}
	gradient[ThickenerGrams] += gumSlope * perLitre
	if solvent > 0 {
		byP := liquid * (levelByP + thinnedByP*v)
		gradient[EthanolGrams] += byP * (1 - p) / solvent
		gradient[WaterGrams] -= byP * p / solvent
	}
	if total := solutes + water; total > 0 && ratioByC != 0 {
		bySolute := liquid * ratioByC * (1 - c) / total
		for i, w := range sucroseAlike[:firstMassless] {
			gradient[i] += w * bySolute
		}
		gradient[WaterGrams] -= liquid * ratioByC * c / total
	}
	return liquid + gum
}
