package pantry

import (
	"fmt"
	"math"

	"minim/profile"
)

// MillilitrePerLitre is ml of a sample in a litre of what is tasted.
type MillilitrePerLitre float64

// ReferenceSubstance is what a reference solution is bitter with.
type ReferenceSubstance int

// The reference substances.
const (
	QuinineHydrochloride ReferenceSubstance = iota // the dihydrate, 396.9 g/mol
	QuinineBase                                    // as labels of tonic water state it
	QuinineSulphate                                // the dihydrate
	CaffeineReference
)

// substanceFacts turn mg of a substance into mg of quinine hydrochloride of equal
// bitterness, good to a factor. Quinine base is 396.9/324.4 = 1.22 times its
// mass as the hydrochloride, the sulphate 1.01 (molar masses). Caffeine 0.02 is an
// estimate: its thresholds run from 74 to 300 mg/L (ASTM E679 study and others)
// against 5 for quinine hydrochloride (Ph. Eur. 2.8.15).
var substanceFacts = map[ReferenceSubstance]struct {
	name         string
	each, factor float64
}{
	QuinineHydrochloride: {"quinine hydrochloride", 1, 1},
	QuinineBase:          {"quinine", 1.22, 1},
	QuinineSulphate:      {"quinine sulphate", 1.01, 1},
	CaffeineReference:    {"caffeine", 0.02, 2},
}

// QuinineLimit is the most quinine, as the base, in a carbonated drink.
//
// Source: 21 CFR 172.575, 83 parts per million.
const QuinineLimit profile.MilligramPerLitre = 83

// mostStock is the strongest solution that this asks anyone to handle, as
// quinine hydrochloride: one bought ready made of 1 g/L.
const mostStock profile.MilligramPerLitre = 1000

// BitternessCaution is the usual caution for tasting quinine.
const BitternessCaution = "start from tonic water of stated quinine or a solution bought ready made, never from pure quinine weighed at home: milligrams matter; " +
	"taste 10 ml and spit it out, stay below 83 mg/L (21 CFR 172.575) and within local law, and leave it to others where quinine or caffeine is advised against, as in pregnancy"

// ReferenceStep is one glass of a dilution series.
type ReferenceStep struct {
	// Strength is of the substance itself, as tasters' brackets want it, and
	// Equivalent of quinine hydrochloride.
	Strength, Equivalent profile.MilligramPerLitre
	Stock, Water         profile.Millilitre
}

// ReferenceSeries returns the glasses of a reference series, weakest first: each
// of that volume and factor times as strong as the last, from a stock of so many
// mg/L of a substance, such as degassed tonic water of 61 mg/L of quinine; the
// strongest is in quinine hydrochloride equivalents. Stock and water are measured
// at 20 °C and their volumes taken to add.
//
// The strongest is at most the stock and at most the limit of 21 CFR 172.575; for
// 2 to 20 steps a factor of 1.2 to 4 apart. A good series runs from 1 to 12 mg/L
// of quinine hydrochloride in steps of 1.5 (Ph. Eur. 2.8.15 expects tasters to
// find it between 3.6 and 5.8).
func ReferenceSeries(stock profile.MilligramPerLitre, of ReferenceSubstance, strongest profile.MilligramPerLitre,
	factor float64, steps int, each profile.Millilitre,
) ([]ReferenceStep, error) {
	var f faults
	facts, known := substanceFacts[of]
	if !known {
		f.add("the substance of the reference is unknown; expected quinine hydrochloride, quinine, quinine sulphate or caffeine")
		return nil, f.err()
	}
	have := facts.each * float64(stock)
	f.above("stock", have, float64(mostStock), " mg/L as quinine hydrochloride")
	limit := roundPlaces(float64(QuinineLimit)*substanceFacts[QuinineBase].each, 2)
	f.above("strongest glass", float64(strongest), math.Min(math.Max(have, 0), limit), " mg/L as quinine hydrochloride")
	f.within("factor between glasses", factor, 1.2, 4, "")
	f.within("number of glasses", float64(steps), 2, 20, "")
	f.above("volume of a glass", float64(each), 1e4, " ml")
	if len(f) > 0 {
		return nil, f.err()
	}
	series := make([]ReferenceStep, steps)
	for n := range series {
		strength := float64(strongest) / math.Pow(factor, float64(steps-1-n))
		drawn := float64(each) * strength / have
		series[n] = ReferenceStep{
			Strength: profile.MilligramPerLitre(strength / facts.each), Equivalent: profile.MilligramPerLitre(strength),
			Stock: profile.Millilitre(drawn), Water: each - profile.Millilitre(drawn),
		}
	}
	return series, nil
}

// ReferenceInstructions says in plain words how to make a series and how to taste
// it.
func ReferenceInstructions(series []ReferenceStep, of ReferenceSubstance) []string {
	lines := []string{
		"stock: tonic water whose label states its quinine, stirred or left open until flat, or a solution bought ready made",
		"tonic brings sugar and acid: put as much of both into the water and into the glasses of the sample, or buy a solution without",
	}
	for n, s := range series {
		lines = append(lines, fmt.Sprintf("glass %d: %.1f ml of stock and %.1f ml of water, %.2f mg/L of %s, %.2f as quinine hydrochloride",
			n+1, float64(s.Stock), float64(s.Water), float64(s.Strength), substanceFacts[of].name, float64(s.Equivalent)))
	}
	return append(lines,
		"taste from the weakest up, each beside two glasses of water that look the same, and say which one differs; rinse and wait a minute between",
		"write down the strongest glass that was missed and the first from which all are found; do the same with the sample in water",
		BitternessCaution,
	)
}

// Bracket is where a taster's threshold lies: the strongest glass that was still
// mistaken for water and the weakest that was told from it, neighbours in a
// series.
type Bracket[Unit ~float64] struct{ Miss, Hit Unit }

// Taster is one person's two thresholds, best found blind among glasses of water.
type Taster struct {
	// Reference is in mg/L of the reference substance.
	Reference Bracket[profile.MilligramPerLitre]
	// Sample is in ml of the unknown in a litre of water.
	Sample Bracket[MillilitrePerLitre]
}

// BitternessReading is a dilution series of an unknown beside one of a reference.
type BitternessReading struct {
	Name, Category string
	Substance      ReferenceSubstance
	Tasters        []Taster
	// Strength of the sample, in whose glasses alcohol burns; nil is unknown.
	Strength *profile.PercentVolume
}

// MeasuredBitterness is the bitterness and the factor that it is good to.
type MeasuredBitterness struct {
	Measured
	// Bitterness is in mg/L quinine hydrochloride equivalents; two thirds of
	// repetitions fall between Bitterness/Factor and Bitterness×Factor.
	Bitterness profile.MilligramPerLitre
	Factor     float64
}

// tasterRepeats is the factor to which one taster finds the same threshold again
// (estimate; published test-retest factors run from 1.3 to 2).
const tasterRepeats = 1.5

// enoughTasters is from how many the spread between tasters is their own.
const enoughTasters = 4

// MeasureBitterness turns thresholds into bitterness. A threshold is the geometric
// mean of last miss and first hit (ASTM E679), and for each taster
//
//	bitterness = reference threshold / (sample threshold / 1000)
//
// whose geometric mean over the tasters is the answer. Its factor is exp of the
// standard error of the logarithms between tasters, from four of them on, made
// wider by √((n-1)/(n-3)) as the distribution of Student is; of fewer, of the steps (ln(hit/miss)/√12 each) and a taster's repetition, 1.5.
// It equates thresholds, not strength of taste: bitterness by this index and by
// the tongue can differ by a factor of two, and sugar and acid in the sample hide
// some of it.
func MeasureBitterness(r BitternessReading) (*MeasuredBitterness, error) {
	var f faults
	name := f.nameOf(r.Name)
	facts, known := substanceFacts[r.Substance]
	if !known {
		f.add("the substance of the reference is unknown; expected quinine hydrochloride, quinine, quinine sulphate or caffeine")
	}
	if len(r.Tasters) == 0 {
		f.add("no tasters; expected at least one, four or more for choice")
	}
	if r.Strength != nil {
		f.within("strength of the sample", float64(*r.Strength), 0, 100, " % vol")
	}
	var logs []float64
	steps := 0.0 // variance of one taster's ratio by the steps of the series
	for n, t := range r.Tasters {
		checkBracket(&f, n, "reference", float64(t.Reference.Miss), float64(t.Reference.Hit), 1e4, " mg/L")
		checkBracket(&f, n, "sample", float64(t.Sample.Miss), float64(t.Sample.Hit), 1000, " ml/L")
		if len(f) > 0 {
			continue
		}
		reference, ofReference := threshold(float64(t.Reference.Miss), float64(t.Reference.Hit))
		sample, ofSample := threshold(float64(t.Sample.Miss), float64(t.Sample.Hit))
		logs = append(logs, math.Log(1000*reference*facts.each/sample))
		steps += (ofReference + ofSample) / float64(len(r.Tasters))
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	mean, between := meanOf(logs)
	variance := steps + 2*math.Pow(math.Log(tasterRepeats), 2)
	if len(logs) >= enoughTasters {
		// Chance agreement of a few tasters cannot beat the steps of the series.
		n := float64(len(logs))
		variance = math.Max(between, steps) * (n - 1) / (n - 3)
	}
	variance = variance/float64(len(logs)) + math.Pow(math.Log(facts.factor), 2)
	out := &MeasuredBitterness{
		Measured: *newMeasured(name, cleanText(r.Category), "dilution series against "+facts.name, Seen),
		Factor:   math.Exp(math.Sqrt(variance)),
	}
	bitterness := math.Exp(mean)
	const mostBitter = 1e8 // as the column allows
	f.within("bitterness", bitterness, 0, mostBitter, " mg/L")
	if len(f) > 0 {
		return nil, f.err()
	}
	out.figure(BitternessMilligramsPerLitre, bitterness, bitterness*math.Sqrt(variance))
	out.Bitterness = profile.MilligramPerLitre(out.Ingredient.Figures[BitternessMilligramsPerLitre].Value)
	out.remark("%.3g mg/L quinine hydrochloride equivalents, ×/÷ %.2g (%.3g to %.3g)", bitterness, out.Factor, bitterness/out.Factor, bitterness*out.Factor)
	r.remarks(out)
	m, err := out.closed()
	if err != nil {
		return nil, err
	}
	out.Measured = *m
	return out, nil
}

// checkBracket refuses a miss that is not below its hit.
func checkBracket(f *faults, taster int, what string, miss, hit, most float64, unit string) {
	if !(miss > 0 && miss < hit && hit <= most) {
		f.add("taster %d missed the %s at %v%s and found it at %v%s; expected the miss above 0 and below the hit, and the hit at most %s%s",
			taster+1, what, miss, unit, hit, unit, formatNumber(most), unit)
	}
}

// threshold is the geometric mean of miss and hit and the variance of its
// logarithm, the threshold lying anywhere between them.
func threshold(miss, hit float64) (mean, variance float64) {
	step := math.Log(hit / miss)
	return math.Sqrt(miss) * math.Sqrt(hit), step * step / 12
}

// meanOf is the mean and the variance of single values around it.
func meanOf(values []float64) (mean, variance float64) {
	for _, v := range values {
		mean += v / float64(len(values))
	}
	for _, v := range values {
		variance += (v - mean) * (v - mean) / math.Max(1, float64(len(values)-1))
	}
	return mean, variance
}

// remarks adds what a reader of the result should know.
func (r *BitternessReading) remarks(out *MeasuredBitterness) {
	facts := substanceFacts[r.Substance]
	const low, high = 3.6, 5.8 // mg/L quinine hydrochloride, Ph. Eur. 2.8.15
	blind, burning := 0, 0.0
	for _, t := range r.Tasters {
		reference, _ := threshold(float64(t.Reference.Miss), float64(t.Reference.Hit))
		if at := reference * facts.each; at < low/2 || at > high*2 {
			blind++
		}
		if r.Strength != nil {
			burning = math.Max(burning, float64(*r.Strength)*float64(t.Sample.Hit)/1000)
		}
	}
	if blind > 0 {
		out.remark("%d of %d tasters found the reference far from the 3.6 to 5.8 mg/L of quinine hydrochloride that Ph. Eur. 2.8.15 expects; check the solution, and let them sit out if it was right", blind, len(r.Tasters))
	}
	if len(r.Tasters) < enoughTasters {
		out.remark("%d is few; four tasters or more show how much they differ", len(r.Tasters))
	}
	const felt = 1.0 // % vol
	if burning > felt {
		out.remark("the glasses held up to %.1f %% vol of alcohol, which tastes bitter itself; give the reference as much", burning)
	}
	if r.Substance == CaffeineReference {
		out.remark("caffeine and quinine differ in slope: the factor of their thresholds, 0.02, is good to ×/÷ 2")
	}
	out.remark("thresholds are compared, not strength of taste; what is sweet or sour beside it hides bitterness, so give the reference as much sugar and acid as the glasses of the sample have")
	out.remark(BitternessCaution)
}
