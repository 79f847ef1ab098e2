package profile

import "math"

type (
	// RefractiveIndex is that of the sodium D line, 589 nm, against air.
	RefractiveIndex float64
	// Brix is grams of sucrose in 100 g of a solution of sucrose in water. What a
	// refractometer or a hydrometer marked in Brix shows of any other liquid is
	// its apparent Brix: that of the sucrose solution that reads the same.
	Brix float64
)

// MostBrix is where the scale of ICUMSA ends.
const MostBrix Brix = 85

// sucroseIndex are the coefficients of the refractive index of sucrose solutions
// at 20 °C, n = Σ a_k c^k, c grams of sucrose per gram of solution: least squares
// over the 18 values of the scale at 0, 5 ... 85 °Bx, none missed by more than
// 4e-6, 0.003 °Bx.
//
// Source: ICUMSA refractive index scale 1974.
var sucroseIndex = [6]float64{
	1.3329888100686498, 0.14266846761306176, 0.05540825800483897, 0.010057484356178661, 0.015861609561973, -0.010742378275020623,
}

// SucroseRefractiveIndex returns the refractive index at 20 °C of a solution of
// sucrose, from 0 to 85 °Bx, within 4e-6 of the scale. Outside it goes on along
// the same polynomial.
//
// Source: ICUMSA refractive index scale 1974, see sucroseIndex.
func SucroseRefractiveIndex(b Brix) RefractiveIndex {
	n, _ := polynomial(sucroseIndex[:], float64(b)/100)
	return RefractiveIndex(n)
}

// BrixOf undoes SucroseRefractiveIndex by bisection, within 1e-9 °Bx; what lies
// below the index of a solution of -20 °Bx or above that of 95 °Bx is clamped to
// these. A negative Brix is what an instrument would show below its zero.
func BrixOf(n RefractiveIndex) Brix {
	const leastShown, mostShown = -20, 95
	return Brix(rising(leastShown, mostShown, func(b float64) bool { return SucroseRefractiveIndex(Brix(b)) < n }))
}

// rising returns by bisection where below turns from true to false between low
// and high; low or high itself where it never does.
func rising(low, high float64, below func(x float64) bool) float64 {
	for range 100 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if below(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// Specific refractions, (n² - 1)/(n² + 2)/ρ, of water and ethanol at 20 °C in
// ml/g, and the excess of their mixtures over the mean by mass:
//
//	r(p) = (1-p) r_water + p r_ethanol + p (1-p) Σ_k x_k p^k
//
// least squares over the refractive indices at 19 mass fractions from 0 to 1,
// none missed by more than 6e-5; they are printed to 1e-4.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative
// properties of aqueous solutions, ethanol; densities by OIML R 22.
var (
	waterRefraction   = specificRefraction(float64(SucroseRefractiveIndex(0)), 1e-3*float64(WaterDensity))
	ethanolRefraction = specificRefraction(1.3614, 1e-3*float64(EthanolDensity))
	excessRefraction  = [4]float64{-0.003274038019577309, -0.001314383232169169, -0.002785333856145872, 0.008944252826446735}
)

// Slopes of the specific refractions of ethanol and sucrose in temperature, per
// kelvin and gram of refraction: that of ethanol gives pure ethanol the dn/dt of
// -4.0e-4 per kelvin that handbooks print, that of sucrose the correction of
// 0.81 °Bx that the International Temperature Correction Table gives at 60 °Bx
// and 30 °C (both from memory).
const (
	ethanolRefractionRise = 9e-5
	sucroseRefractionRise = 7.5e-5
)

// waterIndex is the refractive index of water by temperature.
//
// Source: CRC Handbook of Chemistry and Physics, index of refraction of water
// (from memory); that at 20 °C is the zero of the scale of ICUMSA.
var waterIndex = newCurve(
	[]float64{0, 10, 20, 30, 40},
	[]float64{1.33395, 1.33369, 1.33299, 1.33192, 1.33051},
)

// specificRefraction is Lorentz and Lorenz's (n² - 1)/(n² + 2)/ρ in ml/g, ρ in
// g/ml. It adds up by mass in a mixture, nearly.
func specificRefraction(n, density float64) float64 {
	return (n*n - 1) / (n*n + 2) / density
}

// waterRefractionAt is the specific refraction of water at t, with the density
// of OIML R 22.
func waterRefractionAt(t Celsius) float64 {
	there, _ := waterIndex.at(float64(t))
	here, _ := waterIndex.at(20)
	rise := specificRefraction(there, float64(EthanolWaterDensity(0, t))) / specificRefraction(here, float64(EthanolWaterDensity(0, 20)))
	return waterRefraction * rise
}

// sucroseRefraction is the apparent specific refraction of sucrose in a solution
// of c grams per gram of sucrose and water: what the scale of ICUMSA leaves to
// it beside the water's.
func sucroseRefraction(c float64) float64 {
	const dilute = 1e-3 // below it the difference drowns in rounding
	c = max(c, dilute)
	n := float64(SucroseRefractiveIndex(Brix(100 * c)))
	whole := specificRefraction(n, 1e-3*float64(SucroseSolutionDensity(MassFraction(c))))
	return (whole - (1-c)*waterRefraction) / c
}

// Apparent specific refractions in solution at 20 °C in ml/g, of the sugars less
// that of sucrose.
//
// Source: computed from n and density of the CRC Handbook of Chemistry and
// Physics, 102nd ed. (2021), Concentrative properties of aqueous solutions:
// glucose and fructose at 30 % by mass, glycerol, citric acid and sodium
// chloride at 20 %. What has no table is taken like its nearest kin there
// (estimate).
var apparentRefractions = func() (r [Components]float64) {
	of := func(c, n, density float64) float64 {
		return (specificRefraction(n, density) - (1-c)*waterRefraction) / c
	}
	acid := of(0.20, 1.3598, 1.0858)
	salt := of(0.20, 1.3684, 1.1478)
	sucrose := sucroseRefraction(0.30)
	r[GlucoseGrams] = of(0.30, 1.3805, 1.1246) - sucrose
	r[FructoseGrams] = of(0.30, 1.3803, 1.1276) - sucrose
	r[PolyolsGrams] = of(0.20, 1.3572, 1.0459)
	for c := CitricGrams; c <= OxalicGrams; c++ {
		r[c] = acid
	}
	r[GumGrams], r[OtherSolidsGrams], r[CarbonDioxideGrams] = sucrose, sucrose, acid
	// The chloride of a salt stands among the other solids.
	r[SodiumMilligrams] = 1e-3 * (salt*saltPerSodium - sucrose*(saltPerSodium-1))
	r[PotassiumMilligrams] = r[SodiumMilligrams]
	r[GlutamicMilligrams], r[NucleotidesMilligrams], r[CaffeineMilligrams] = 1e-3*sucrose, 1e-3*sucrose, 1e-3*sucrose
	return r
}()

// RefractiveIndexAt returns the refractive index of s at t, from 0 to 40 °C, by
// Lorentz and Lorenz: the specific refractions add by mass,
//
//	(n² - 1)/(n² + 2) = Σ_i m_i r_i / V(t)
//
// with that of ethanol and water of their own mixture, that of the sugars at
// sugars/(sugars + water), and V the volume of DensityAt. Sucrose in water at
// 20 °C is exactly the scale of ICUMSA, ethanol in water within 6e-5 of the CRC
// Handbook, and other single solutes within 2e-4. For sugar and ethanol together
// no measured table was found: expect 4e-4, 0.3 °Bx, at 30 % vol and 400 g/L
// (estimate). An empty state has the index of air, 1.
func (s State) RefractiveIndexAt(t Celsius) RefractiveIndex {
	volume := float64(s.VolumeAt(t))
	if volume <= 0 {
		return 1
	}
	warmer := float64(t) - 20
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	total := 0.0
	if solvent := water + ethanol; solvent > 0 {
		p := ethanol / solvent
		excess, _ := polynomial(excessRefraction[:], p)
		total += water*waterRefractionAt(t) + ethanol*ethanolRefraction*(1+ethanolRefractionRise*warmer) + solvent*p*(1-p)*excess
	}
	solutes := 0.0
	for c, r := range apparentRefractions {
		solutes += r * s[c]
	}
	if sugars := s.sugarGrams(); sugars > 0 {
		solutes += sugars * sucroseRefraction(sugars/(sugars+water))
	}
	total += solutes * (1 + sucroseRefractionRise*warmer)
	z := total / volume
	return RefractiveIndex(math.Sqrt((1 + 2*z) / (1 - z)))
}

// Degassed is s without its carbon dioxide, as instruments read a sample of it.
func (s State) Degassed() State {
	s[CarbonDioxideGrams] = 0
	return s
}

// RefractometerBrix returns what a refractometer without temperature
// compensation shows of s, degassed, at t, in °Bx; see RefractiveIndexAt for the
// range and error, 1e-4 being 0.07 °Bx in water and 0.04 at 60 °Bx.
func (s State) RefractometerBrix(t Celsius) Brix { return BrixOf(s.Degassed().RefractiveIndexAt(t)) }

// sucroseSolution is 100 g of a sucrose solution.
func sucroseSolution(b Brix) State {
	var s State
	s[SucroseGrams], s[WaterGrams] = float64(b), 100-float64(b)
	return s
}

// CorrectedBrix returns the Brix at 20 °C of the sucrose solution of which a
// refractometer without temperature compensation shows a reading at t: about
// 0.07 °Bx more for each kelvin above 20 °C. From 10 to 40 °C it is within 0.06
// °Bx of the International Temperature Correction Table (from memory). Alcohol
// makes the error larger: half as much again at 40 % vol. A reading of less
// than 0 °Bx at 20 °C is returned as it comes, clamped at -5.
//
// Source: ICUMSA 1974 scale, density of ICUMSA SPS-4, refractive index of water.
func CorrectedBrix(reading Brix, t Celsius) Brix {
	const leastCorrected = -5
	if zero := sucroseSolution(0).RefractometerBrix(t); reading < zero {
		return max(reading-zero, leastCorrected)
	}
	return Brix(rising(0, float64(MostBrix)+5, func(b float64) bool {
		return sucroseSolution(Brix(b)).RefractometerBrix(t) < reading
	}))
}

// ShownBrix undoes CorrectedBrix: what a refractometer without temperature
// compensation shows of a sucrose solution of b at t. For 0 to 85 °Bx and 0 to
// 40 °C.
func ShownBrix(b Brix, t Celsius) Brix { return sucroseSolution(b).RefractometerBrix(t) }
