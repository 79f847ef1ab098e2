package profile

import "math"

// acid is a weak acid or ampholyte of the charge balance.
type acid struct {
	component Component
	// molarMass is in g/mol; that of carbonic acid is of the gas it comes from.
	molarMass float64
	// charge is that of the form that has kept all of its protons: 0, or 1 for an
	// amino acid.
	charge int
	// pK holds the dissociation constants at 25 °C and no ionic strength.
	pK []float64
}

// acids are the weak acids a drink is buffered by.
//
// Source of the constants: NIST Standard Reference Database 46 as in the
// database minteq.v4 of PHREEQC (citric, tartaric, acetic, phosphoric, carbonic,
// glutamic 4.30 and 9.96); a public table of organic acids (lactic, succinic,
// oxalic, malic 3.40; it gives malic 5.20 where the CRC Handbook has 5.11, from
// memory, which is taken); Tanikami et al. 2021 (ascorbic 4.15, 12.07);
// Huang et al. 2017 (gluconic 3.74 ± 0.06); from memory quinic 3.40 to 3.58 and
// glutamic 2.16. Molar masses: IUPAC atomic weights.
var acids = [...]acid{
	{CitricGrams, 192.124, 0, []float64{3.128, 4.761, 6.396}},
	{MalicGrams, 134.087, 0, []float64{3.40, 5.11}},
	{TartaricGrams, 150.086, 0, []float64{3.036, 4.366}},
	{LacticGrams, 90.078, 0, []float64{3.86}},
	{AceticGrams, 60.052, 0, []float64{4.757}},
	{PhosphoricGrams, 97.994, 0, []float64{2.148, 7.198, 12.375}},
	{SuccinicGrams, 118.088, 0, []float64{4.21, 5.64}},
	{AscorbicGrams, 176.124, 0, []float64{4.15, 12.07}},
	{GluconicGrams, 196.155, 0, []float64{3.74}},
	{QuinicGrams, 192.167, 0, []float64{3.46}},
	{OxalicGrams, 90.034, 0, []float64{1.27, 4.26}},
	{CarbonDioxideGrams, 44.010, 0, []float64{6.352, 10.329}},
	{GlutamicMilligrams, 147.13, 1, []float64{2.16, 4.30, 9.96}},
}

const weakAcids = len(acids)

// waterPK is -log10 of the ion product of water at 25 °C.
//
// Source: database phreeqc.dat of PHREEQC.
const waterPK = 14.00

// Molar masses of the alkali metals in g/mol, IUPAC atomic weights.
const (
	sodiumMolarMass    = 22.990
	potassiumMolarMass = 39.098
)

// citricGramsPerMilliequivalent is the anhydrous citric acid that neutralises a
// milliequivalent of alkali with its three protons: 192.124 g/mol / 3 / 1000.
const citricGramsPerMilliequivalent = 192.124 / 3 / 1000

// mostCharge is the largest charge of an ion of the acids, either way.
const mostCharge = 3

// cumulative holds, for each acid, the product of its first j dissociation
// constants: β_j = 10^-(pK_1 + … + pK_j), β_0 = 1.
var cumulative = func() (beta [weakAcids][mostCharge + 1]float64) {
	for i := range acids {
		sum := 0.0
		beta[i][0] = 1
		for j, pK := range acids[i].pK {
			sum += pK
			beta[i][j+1] = math.Pow(10, -sum)
		}
	}
	return beta
}()

// millimoles is how many mmol of each acid one unit of its component holds.
var millimoles = func() (m [weakAcids]float64) {
	for i := range acids {
		m[i] = 1000 * gramsPerUnit(acids[i].component) / acids[i].molarMass
	}
	return m
}()

// Constants of the activity coefficients at 25 °C. Above 0.5 mol/L the formula
// is no longer good, and the coefficients stay what they are there.
//
// Source: Davies, Ion Association (1962); A = 0.509 for water at 25 °C.
const (
	daviesA           = 0.509
	daviesLinear      = 0.3
	mostIonicStrength = 0.5
)

// davies returns -log10 of the activity coefficient of an ion of charge 1 at an
// ionic strength in mol/L, from 0 to 0.5, and its slope; that of an ion of
// charge z is z² times as much:
//
//	-log10 γ_z = A z² ( √I / (1 + √I) - 0.3 I )
func davies(ionicStrength float64) (pGamma, slope float64) {
	root := math.Sqrt(ionicStrength)
	pGamma = daviesA * (root/(1+root) - daviesLinear*ionicStrength)
	slope = daviesA * (1/(2*root*(1+root)*(1+root)) - daviesLinear)
	return pGamma, slope
}
