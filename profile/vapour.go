package profile

// Relative volatility of ethanol over water at 1 atm,
//
//	α = (y / (1 - y)) / (x / (1 - x))
//
// x and y the mole fractions of ethanol in the boiling liquid and in the vapour
// above it, from the measured pairs below.
//
// Source: Carey & Lewis, Ind. Eng. Chem. 24 (1932) 882, as handbooks of chemical
// engineering print it (from memory). The ends, 12.0 in water and 0.91 in
// ethanol, follow from van Laar's equation with the constants 1.68 and 0.92
// (from memory).
var ethanolVapour = []struct{ x, y float64 }{
	{0.0190, 0.1700},
	{0.0721, 0.3891},
	{0.0966, 0.4375},
	{0.1238, 0.4704},
	{0.1661, 0.5089},
	{0.2337, 0.5445},
	{0.2608, 0.5580},
	{0.3273, 0.5826},
	{0.3965, 0.6122},
	{0.5079, 0.6564},
	{0.5732, 0.6841},
	{0.6763, 0.7385},
	{0.7472, 0.7815},
	{0.8943, 0.8943},
}

const (
	volatilityInWater   = 12.0
	volatilityInEthanol = 0.91
)

// aceticVolatility is that of acetic acid over water in dilute solution at the
// boil, taken as constant: 0.65 to 0.75 (from memory).
const aceticVolatility = 0.7

// Molar masses in g/mol, IUPAC atomic weights.
const (
	ethanolMolarMass = 46.069
	waterMolarMass   = 18.015
	aceticMolarMass  = 60.052
)

// citricPerAcetic is the citric acid that titrates like a gram of acetic acid.
const citricPerAcetic = 1000 * citricGramsPerMilliequivalent / aceticMolarMass

var volatilityCurve = func() curve {
	x, alpha := []float64{0}, []float64{volatilityInWater}
	for _, pair := range ethanolVapour {
		x = append(x, pair.x)
		alpha = append(alpha, pair.y/(1-pair.y)*(1-pair.x)/pair.x)
	}
	return newCurve(append(x, 1), append(alpha, volatilityInEthanol))
}()

// EthanolVolatility returns the relative volatility of ethanol over water, at the
// boil under 1 atm, in a liquid of that mass of ethanol per mass of ethanol and
// water, 0 to 1. Sugar, which drives out more ethanol, is left out.
func EthanolVolatility(p MassFraction) float64 {
	ethanol, water := float64(p)/ethanolMolarMass, (1-float64(p))/waterMolarMass
	alpha, _ := volatilityCurve.at(ethanol / (ethanol + water))
	return alpha
}
