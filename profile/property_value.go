package profile

// Sodium chloride per gram of sodium: 58.443 / 22.990, molar masses.
const saltPerSodium = 2.5421

// MSGPerGlutamicAcid turns free glutamic acid into monosodium glutamate
// monohydrate: 187.13 / 147.13, molar masses.
const MSGPerGlutamicAcid = 1.272

// UmamiSynergy is the constant of Yamaguchi's law with both amounts in g/L;
// 1218 for g/dl.
//
// Source: Yamaguchi, J. Food Sci. 32 (1967) 473, constant seen in an article
// quoting Yamaguchi et al., J. Food Sci. 36 (1971) 846.
const UmamiSynergy = 121.8

// Relative sweetness by mass, sucrose 1.
//
// Source: glucose and maltose (for the other sugars), middles of published
// tables (0.5 to 0.8; 0.33 to 0.50); fructose, least-squares line through
// Tsuzuki & Yamazaki, Biochem. Z. (1953), 5 to 60 °C, held below 5 °C.
const (
	glucoseSweetness      = 0.70
	otherSugarSweetness   = 0.40
	fructoseSweetnessAt0  = 1.494
	fructoseLossPerKelvin = 0.0119
	fructoseColdest       = 5.0
)

const (
	millilitresPerLitre   = 1000
	percent               = 100
	milligramsPerGram     = 1000
	ethanolMillilitreGram = 1000 / float64(EthanolDensity)
)

// evaluation computes properties of a finished state from its volume and
// temperature.
type evaluation struct {
	state                               *State
	volume, temperature                 float64
	volumeGradient, temperatureGradient State
}

// property returns the value of p and adds its slopes in the finished state to
// gradient, which may be nil. Dilution is not a function of the finished state.
func (e *evaluation) property(p Property, gradient *State) float64 {
	switch p {
	case Volume:
		if gradient != nil {
			*gradient = e.volumeGradient
		}
		return e.volume
	case Temperature:
		if gradient != nil {
			*gradient = e.temperatureGradient
		}
		return e.temperature
	case Umami:
		return e.umami(gradient)
	case Ethanol, Energy, Caffeine:
		return e.dot(&amountWeights[p], gradient)
	case Sweetness:
		return e.sweetness(gradient)
	case PH:
		return e.ph(gradient)
	case Viscosity:
		return e.viscosity(gradient)
	case CarbonDioxide:
		return e.carbonDioxide(gradient)
	default:
		return e.ratio(&amountWeights[p], gradient)
	}
}

// amountWeights turn the state into the numerator of each property that is an
// amount, or an amount in a litre of the drink. For grams per litre the weight
// of a gram is 1000, as volumes are in ml.
var amountWeights = func() (w [Properties]State) {
	w[Strength][EthanolGrams] = percent * ethanolMillilitreGram
	for _, c := range sugarComponents {
		w[Sugar][c] = millilitresPerLitre
	}
	for c, factor := range energyFactors {
		w[Energy][c] = factor.kilocalories
	}
	w[Acid][TitratableAcidGrams] = millilitresPerLitre
	w[Salt][SodiumMilligrams] = millilitresPerLitre * saltPerSodium / milligramsPerGram
	w[Bitter][BitternessMilligrams] = millilitresPerLitre
	w[Ethanol][EthanolGrams] = 1
	w[Caffeine][CaffeineMilligrams] = 1
	w[Sweetness][SucroseGrams] = millilitresPerLitre
	w[Sweetness][GlucoseGrams] = millilitresPerLitre * glucoseSweetness
	w[Sweetness][OtherSugarsGrams] = millilitresPerLitre * otherSugarSweetness
	w[Sweetness][SweetenerGrams] = millilitresPerLitre
	return w
}()

// Linear returns the weights that make p a weighted sum of the amounts in the
// finished drink, divided by its volume in ml if perVolume; melted ice and heat
// weigh nothing. ok is false for properties of another form: volume, ph,
// temperature, dilution, umami, co2, viscosity, and sweetness, whose weights
// leave out fructose (see FructoseSweetness).
func (p Property) Linear() (weights State, perVolume, ok bool) {
	switch p {
	case Ethanol, Energy, Caffeine:
		return amountWeights[p], false, true
	case Strength, Sugar, Acid, Salt, Bitter:
		return amountWeights[p], true, true
	case Sweetness:
		return amountWeights[p], true, false
	}
	return State{}, false, false
}

// FructoseSweetness returns how many grams of sucrose are as sweet as a gram of
// fructose at temperature t, and the slope per kelvin: a straight line through
// published points from 5 to 60 °C, held below 5 °C.
//
// Source: Tsuzuki & Yamazaki, Biochem. Z. (1953); least-squares line.
func FructoseSweetness(t Celsius) (relative, slope float64) {
	if t < fructoseColdest {
		return fructoseSweetnessAt0 - fructoseLossPerKelvin*fructoseColdest, 0
	}
	return fructoseSweetnessAt0 - fructoseLossPerKelvin*float64(t), -fructoseLossPerKelvin
}

// dot is the weighted sum of the state's amounts.
func (e *evaluation) dot(weights, gradient *State) float64 {
	sum := 0.0
	for i, w := range weights {
		sum += w * e.state[i]
	}
	if gradient != nil {
		*gradient = *weights
	}
	return sum
}

// ratio is the weighted sum of the state's amounts over its volume.
func (e *evaluation) ratio(weights, gradient *State) float64 {
	if e.volume <= 0 {
		return 0
	}
	value := e.dot(weights, gradient) / e.volume
	e.perVolume(value, gradient)
	return value
}

// perVolume turns the gradient of a numerator into that of numerator/volume.
func (e *evaluation) perVolume(value float64, gradient *State) {
	if gradient == nil {
		return
	}
	for i := range gradient {
		gradient[i] = (gradient[i] - value*e.volumeGradient[i]) / e.volume
	}
}

// sweetness is the sucrose, in g/L, that is as sweet as all the sugars and
// sweeteners: the sum of relative sweetness times concentration. It adds for
// sugars and polyols; blends of intense sweeteners may exceed it.
func (e *evaluation) sweetness(gradient *State) float64 {
	if e.volume <= 0 {
		return 0
	}
	relative, slope := FructoseSweetness(Celsius(e.temperature))
	fructose := millilitresPerLitre * e.state[FructoseGrams]
	value := (e.dot(&amountWeights[Sweetness], gradient) + relative*fructose) / e.volume
	if gradient != nil {
		gradient[FructoseGrams] += millilitresPerLitre * relative
		for i := range gradient {
			gradient[i] += slope * fructose * e.temperatureGradient[i]
		}
		e.perVolume(value, gradient)
	}
	return value
}

// umami is u + 121.8 u v: u the free glutamic acid as monosodium glutamate and
// v the nucleotides, both g/L (Yamaguchi 1967). It holds for weak to moderate
// umami; no data in sour or alcoholic drinks were found.
//
// Guanylic acid counts like inosinic here, as the tables that the amounts come
// from give their sum. It tastes 2.3 times as strong (Yamaguchi et al., J. Food
// Sci. 36 (1971) 846), so where it is all of the nucleotides, as in dried
// mushrooms, the second term is 2.3 times too small and umami up to that: with
// 0.2 g/L of glutamate and 0.02 g/L of guanylic acid 0.69 in place of 1.32 g/L.
func (e *evaluation) umami(gradient *State) float64 {
	if e.volume <= 0 {
		return 0
	}
	perLitre := millilitresPerLitre / (milligramsPerGram * e.volume)
	u := MSGPerGlutamicAcid * e.state[GlutamicMilligrams] * perLitre
	v := e.state[NucleotidesMilligrams] * perLitre
	if gradient != nil {
		byU, byV := 1+UmamiSynergy*v, UmamiSynergy*u
		fall := (byU*u + byV*v) / e.volume
		for i := range gradient {
			gradient[i] = -fall * e.volumeGradient[i]
		}
		gradient[GlutamicMilligrams] += byU * MSGPerGlutamicAcid * perLitre
		gradient[NucleotidesMilligrams] += byV * perLitre
	}
	return u + UmamiSynergy*u*v
}
