package profile

// WaterDensity is the density of pure water at 20 °C.
//
// Source: Kell (1975), as used in ICUMSA SPS-4; OIML R 22 gives 998.201.
const WaterDensity KilogramPerCubicMetre = 998.2012

// MeltMillilitresPerGram turns melted water into millilitres at 20 °C.
const MeltMillilitresPerGram = 1000 / float64(WaterDensity)

// icumsa20 are the coefficients C[0][k] of the density of sucrose solutions at
// 20 °C: ρ = ρ_water + Σ_k C_k c^(k+1), c grams of sucrose per gram of solution.
//
// Source: ICUMSA SPS-4; Bubník, Kadlec, Urban & Bruhns, Sugar Technologists
// Manual (1995), p. 164.
var icumsa20 = [6]float64{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890}

// SucroseSolutionDensity returns the density at 20 °C of a solution of c grams
// of sucrose per gram of solution (Brix / 100), from 0 to 0.85; above 0.70 the
// solution is supersaturated and handbooks differ by 0.1 %.
//
// Source: ICUMSA SPS-4, see icumsa20.
func SucroseSolutionDensity(c MassFraction) KilogramPerCubicMetre {
	p, _ := polynomial(icumsa20[:], float64(c))
	return WaterDensity + KilogramPerCubicMetre(float64(c)*p)
}

// sugarApparentVolume returns the volume in ml that a gram of sucrose takes up
// in a solution of c grams of sugars per gram of sugars and water, and its
// slope in c. It is the density formula solved for it, so that a sucrose
// solution comes out at exactly the ICUMSA density:
//
//	φ(c) = (1/ρ - (1-c)/ρ_w) / c = (ρ - P(c)) / (ρ ρ_w),  ρ = ρ_w + c P(c)
func sugarApparentVolume(c float64) (phi, slope float64) {
	p, rise := polynomial(icumsa20[:], c)
	rhoWater := float64(WaterDensity)
	rho := rhoWater + c*p
	rhoRise := p + c*rise
	phi = 1000 * (rho - p) / (rho * rhoWater)
	slope = 1000/(rho*rhoWater)*(rhoRise-rise) - phi*rhoRise/rho
	return phi, slope
}

// apparentVolumes is the volume in ml that one unit of each component takes up
// in solution at 20 °C. For the sugars it is the difference from sucrose.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021),
// Concentrative properties of aqueous solutions, densities at 10 and 20 % by
// mass at 20 °C, unless a line says otherwise.
var apparentVolumes = func() (v [Components]float64) {
	v[GlucoseGrams] = 0.0057
	v[FructoseGrams] = -0.0026
	v[OtherSugarsGrams] = 0 // maltose and lactose straddle sucrose
	v[PolyolsGrams] = 0.773 // glycerol
	v[CitricGrams] = 0.597
	v[MalicGrams] = 0.595    // no table seen; taken as citric (estimate)
	v[TartaricGrams] = 0.595 // no table seen; taken as citric (estimate)
	v[LacticGrams] = 0.786
	v[AceticGrams] = 0.866
	v[PhosphoricGrams] = 0.481
	v[SuccinicGrams] = 0.62 // estimate
	v[AscorbicGrams] = 0.60 // estimate
	v[GluconicGrams] = 0.60 // estimate
	v[QuinicGrams] = 0.60   // estimate
	v[OxalicGrams] = 0.60   // estimate
	v[GumGrams] = 0.62      // proteins and gums lie between 0.60 and 0.74 (estimate)
	v[OtherSolidsGrams] = 0.62
	v[CarbonDioxideGrams] = 0.76 // partial molar volume 33.5 ml/mol, from memory
	// With its chloride among the other solids this gives sodium chloride its
	// 0.323 ml/g at 10 % by mass; potassium likewise, 0.388 ml/g.
	v[SodiumMilligrams] = -0.136e-3
	v[PotassiumMilligrams] = 0.178e-3
	v[GlutamicMilligrams] = 0.62e-3
	v[NucleotidesMilligrams] = 0.62e-3
	v[CaffeineMilligrams] = 0.62e-3
	v[VolumeCorrectionMillilitres] = 1
	return v
}()

// Volume returns the volume of s at 20 °C: the ethanol and water at the OIML
// R 22 density of their own mixture, plus the apparent volume of each solute,
// that of the sugars depending on sugars/(sugars + water), plus the correction
// that the ingredients carry.
func (s State) Volume() Millilitre {
	return Millilitre(s.volume(nil))
}

// VolumeGradient returns the volume that one unit more of each component adds.
func (s State) VolumeGradient() State {
	var g State
	s.volume(&g)
	return g
}

// VolumeAt returns the volume of s at t: the ethanol and water expand as OIML
// R 22 says, the solutes are taken not to.
func (s State) VolumeAt(t Celsius) Millilitre {
	v := s.Volume()
	solvent := s[EthanolGrams] + s[WaterGrams]
	if solvent == 0 {
		return v
	}
	p := MassFraction(s[EthanolGrams] / solvent)
	atT := 1000 / float64(EthanolWaterDensity(p, t))
	at20 := 1000 / float64(EthanolWaterDensity(p, 20))
	return v + Millilitre(solvent*(atT-at20))
}

// volume returns the volume at 20 °C in ml and adds its gradient to gradient,
// which may be nil.
func (s *State) volume(gradient *State) float64 {
	total := 0.0
	for c, v := range apparentVolumes {
		total += v * s[c]
	}
	water, ethanol := s[WaterGrams], s[EthanolGrams]
	sugars := s.sugarGrams()
	if gradient != nil {
		for c, v := range apparentVolumes {
			gradient[c] += v
		}
	}

	solvent := ethanol + water
	p := 0.0
	if solvent > 0 {
		p = ethanol / solvent
	}
	v, slope := ethanolWaterSpecificVolume(p)
	total += solvent * v
	if gradient != nil {
		gradient[EthanolGrams] += v + (1-p)*slope
		gradient[WaterGrams] += v - p*slope
	}

	c := 0.0
	if sugars > 0 {
		c = sugars / (sugars + water)
	}
	phi, phiSlope := sugarApparentVolume(c)
	total += sugars * phi
	if gradient != nil {
		bySugar := phi + c*(1-c)*phiSlope
		gradient[WaterGrams] -= c * c * phiSlope
		for _, i := range sugarComponents {
			gradient[i] += bySugar
		}
	}
	return total
}

var sugarComponents = [...]Component{SucroseGrams, GlucoseGrams, FructoseGrams, OtherSugarsGrams}

// sugarGrams is the mass of all that an analysis counts as sugar.
func (s *State) sugarGrams() float64 {
	return s[SucroseGrams] + s[GlucoseGrams] + s[FructoseGrams] + s[OtherSugarsGrams]
}
