package pantry

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"minim/profile"
)

// A taster who finds quinine hydrochloride between 4 and 6.25 mg/L has his
// threshold at 5, that of Ph. Eur. 2.8.15; one who finds a sample between 2 and
// 3.125 ml in a litre has it at 2.5, so that the sample is 5/0.0025 = 2000 mg/L.
func TestThresholdsGiveBitterness(t *testing.T) {
	taster := Taster{Bracket[profile.MilligramPerLitre]{4, 6.25}, Bracket[MillilitrePerLitre]{2, 3.125}}
	for _, row := range []struct {
		of   ReferenceSubstance
		want float64
	}{
		{QuinineHydrochloride, 2000},
		{QuinineBase, 2000 * 396.9 / 324.4}, // molar masses
		{QuinineSulphate, 2000 * 1.01},
		{CaffeineReference, 2000 * 0.02},
	} {
		m, err := MeasureBitterness(BitternessReading{Name: "house bitters", Category: "bitters & tincture", Substance: row.of, Tasters: []Taster{taster}})
		if err != nil {
			t.Fatal(err)
		}
		sound(t, &m.Measured)
		within(t, "bitterness", float64(m.Bitterness), row.want, 0.02*m.Factor*row.want)
		if !m.Ingredient.HasOwnBitterness() {
			t.Error("no ± of its own")
		}
		// ln(1.5625)/√12 twice and a repetition of 1.5 twice.
		factor := math.Exp(math.Sqrt(2*math.Pow(math.Log(1.5625), 2)/12 + 2*math.Pow(math.Log(1.5), 2) + map[bool]float64{true: math.Pow(math.Log(2), 2)}[row.of == CaffeineReference]))
		within(t, "factor", m.Factor, factor, 1e-9)
		if text := strings.Join(m.Remarks, "\n"); !strings.Contains(text, "21 CFR 172.575") || !strings.Contains(text, "never from pure quinine") {
			t.Errorf("no caution in %q", m.Remarks)
		}
	}
}

// Simulated panels of six whose thresholds differ, but not between reference and
// sample, find the bitterness that was put in, and their factor is honest.
func TestPanelsFindTheBitterness(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	bracket := func(at float64) (miss, hit float64) {
		n := math.Floor(math.Log(at) / math.Log(1.5))
		return math.Pow(1.5, n), math.Pow(1.5, n+1)
	}
	const truth, panels = 800.0, 300
	honest := 0
	for range panels {
		var tasters []Taster
		for range 6 {
			own := 5 * math.Exp(0.4*random.NormFloat64())
			a, b := bracket(own * math.Exp(0.25*random.NormFloat64()))
			c, d := bracket(own * math.Exp(0.25*random.NormFloat64()) / truth * 1000)
			tasters = append(tasters, Taster{
				Bracket[profile.MilligramPerLitre]{profile.MilligramPerLitre(a), profile.MilligramPerLitre(b)},
				Bracket[MillilitrePerLitre]{MillilitrePerLitre(c), MillilitrePerLitre(d)},
			})
		}
		m, err := MeasureBitterness(BitternessReading{Name: "x", Tasters: tasters})
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(math.Log(float64(m.Bitterness) / truth)); off <= 2*math.Log(m.Factor) {
			honest++
		}
	}
	if honest < panels*92/100 { // 95 of 100 within two, less the chance of 300 panels
		t.Errorf("%d of %d panels within their factor squared", honest, panels)
	}
}

// From tonic water of 61 mg/L of quinine, 74.4 as the hydrochloride: 5 mg/L is
// 6.7 ml of it in 100.
func TestReferenceFromTonicWater(t *testing.T) {
	series, err := ReferenceSeries(61, QuinineBase, 12, 1.5, 6, 100)
	if err != nil {
		t.Fatal(err)
	}
	if len(series) != 6 {
		t.Fatalf("%d glasses", len(series))
	}
	for n, s := range series {
		within(t, "volume", float64(s.Stock+s.Water), 100, 1e-9)
		within(t, "strength", float64(s.Stock)/100*61, float64(s.Strength), 1e-9)
		within(t, "equivalent", float64(s.Equivalent), 1.22*float64(s.Strength), 1e-9)
		if n > 0 {
			within(t, "step", float64(s.Strength/series[n-1].Strength), 1.5, 1e-9)
		}
	}
	within(t, "strongest", float64(series[5].Equivalent), 12, 1e-9)
	instructions := strings.Join(ReferenceInstructions(series, QuinineBase), "\n")
	for _, words := range []string{"glass 6: 16.1 ml of stock and 83.9 ml of water, 9.84 mg/L of quinine, 12.00", "never from pure quinine", "flat"} {
		if !strings.Contains(instructions, words) {
			t.Errorf("no %q in %s", words, instructions)
		}
	}
	_, err = ReferenceSeries(500, QuinineHydrochloride, 150, 1.5, 6, 100)
	refused(t, err, "strongest glass 150 mg/L", "at most 101.26") // 83 × 1.22
	_, err = ReferenceSeries(5000, QuinineHydrochloride, 12, 1.5, 6, 100)
	refused(t, err, "stock 5000 mg/L", "at most 1000")
	_, err = ReferenceSeries(8, QuinineHydrochloride, 12, 0.5, 60, 0)
	refused(t, err, "strongest glass 12 mg/L", "factor", "number of glasses", "volume of a glass")
}

func TestThresholdsThatCannotBe(t *testing.T) {
	_, err := MeasureBitterness(BitternessReading{Name: "x", Tasters: []Taster{
		{Bracket[profile.MilligramPerLitre]{6, 4}, Bracket[MillilitrePerLitre]{0, 3}},
	}})
	refused(t, err, "taster 1 missed the reference at 6 mg/L", "taster 1 missed the sample at 0 ml/L")
	_, err = MeasureBitterness(BitternessReading{Name: "x"})
	refused(t, err, "no tasters")
}
