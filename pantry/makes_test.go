package pantry

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/profile"
)

const cordial = `drink: Sea rocket cordial
mix:
  water: 500 ml
  white sugar: 500 g
steps:
  - steep: {dried hibiscus: 20 g, for: 20 min, at: 90 °C, half in: 5 min, keeps back: 3 ml/g, gives: {citric: 60 g/kg ± 10, caffeine: 11000 mg/kg}}
  - strain: loses 40 ml
  - clarify: loses 10 %
  - reduce: to 500 ml
  - dilute: to 1000 ml
  - carbonate: 4 volumes
makes: {volume: 750 ml, keeps: 14 days, store: fridge}
`

func TestPrepIsWrittenAsAPersonWould(t *testing.T) {
	got, err := written(mustRead(t, cordial))
	if err != nil || got != cordial {
		t.Errorf("wrote\n%s%v\nwant\n%s", got, err, cordial)
	}
}

func TestStepsAreReadInEveryUnit(t *testing.T) {
	for text, want := range map[string]PrepStep{
		"reduce: to 0.5 l":       {Kind: Reduce, Measure: ToVolume, Value: 500},
		"reduce: to 1.2 kg":      {Kind: Reduce, Measure: ToMass, Value: 1200},
		"reduce: to 45 brix":     {Kind: Reduce, Measure: ToBrix, Value: 45},
		"strain: loses 4 cl":     {Kind: Strain, Measure: LosesVolume, Value: 40},
		"strain: loses 5 %":      {Kind: Strain, Measure: LosesPercent, Value: 5},
		"clarify":                {Kind: Clarify, Measure: LosesPercent, Value: usualClarifyLoss},
		"clarify: loses 100 ml":  {Kind: Clarify, Measure: LosesVolume, Value: 100},
		"dilute: with 200 ml":    {Kind: Dilute, Measure: WithVolume, Value: 200},
		"carbonate: 7.5 g/L":     {Kind: Carbonate, Measure: GasPerLitre, Value: 7.5},
		"carbonate: 1 volume":    {Kind: Carbonate, Measure: GasVolumes, Value: 1},
		"steep: {oat: 1.5 kg}":   {Kind: Steep, Steeping: Steeping{Plant: "oat", Amount: Amount{1.5, Kilograms}}},
		"steep: {fir tips: 3 g}": {Kind: Steep, Steeping: Steeping{Plant: "fir tips", Amount: Amount{3, Grams}}},
	} {
		s := bare(mustRead(t, "mix:\n  water: 500 ml\nsteps:\n  - "+text+"\nmakes: {store: shelf}\n"))
		if len(s.Steps) != 1 || s.Steps[0].Kind != want.Kind || s.Steps[0].Measure != want.Measure || s.Steps[0].Value != want.Value ||
			s.Steps[0].Steeping.Plant != want.Steeping.Plant || s.Steps[0].Steeping.Amount != want.Steeping.Amount {
			t.Errorf("%s is read as %+v", text, s.Steps)
		}
	}
}

func TestShelfLifeInHours(t *testing.T) {
	for text, hours := range map[string]Hour{"30 min": 0.5, "4 hours": 4, "1 day": 24, "2 weeks": 336, "3 months": 2160, "1.5 h": 1.5} {
		got, wrong := parseTime(text)
		if wrong != nil || got.Hours() != hours {
			t.Errorf("%s is %v hours, %v; want %v", text, got.Hours(), wrong, hours)
		}
	}
}

func anyMakes(t *rapid.T) *Makes {
	m := &Makes{Store: Storage(rapid.IntRange(1, len(storages)-1).Draw(t, "store"))}
	if rapid.Bool().Draw(t, "yields") {
		m.Volume = profile.Millilitre(numberFrom(1, 99_999).Draw(t, "yield"))
	}
	if rapid.Bool().Draw(t, "keeps") {
		m.Keeps = anyTime(t)
	}
	return m
}

func anyTime(t *rapid.T) ShelfLife {
	return ShelfLife{numberFrom(0.5, 365).Draw(t, "count"), TimeUnit(rapid.IntRange(0, timeUnits-1).Draw(t, "unit"))}
}

func anySteps(t *rapid.T) []PrepStep {
	measures := map[PrepStepKind][]StepMeasure{
		Reduce: {ToVolume, ToMass, ToBrix}, Strain: {LosesVolume, LosesPercent}, Clarify: {LosesVolume, LosesPercent},
		Dilute: {ToVolume, WithVolume}, Carbonate: {GasVolumes, GasPerLitre},
	}
	most := map[StepMeasure]float64{ToBrix: mostBrix, LosesPercent: 99, GasVolumes: mostGasVolumes, GasPerLitre: mostGasPerLitre}
	var steps []PrepStep
	for range rapid.IntRange(0, 4).Draw(t, "steps") {
		s := PrepStep{Kind: PrepStepKind(rapid.IntRange(0, prepStepKinds-1).Draw(t, "step"))}
		if s.Kind == Steep {
			s.Steeping = anySteeping(t)
		} else {
			s.Measure = rapid.SampledFrom(measures[s.Kind]).Draw(t, "measured")
			high := most[s.Measure]
			if high == 0 {
				high = 99_999
			}
			s.Value = numberFrom(0.1, high).Draw(t, "value")
		}
		steps = append(steps, s)
	}
	return steps
}

func anySteeping(t *rapid.T) Steeping {
	plant := anyName().Filter(func(name string) bool {
		return lookalike(name, steepWords) == "" && !strings.HasPrefix(name, "gives")
	})
	s := Steeping{Plant: plant.Draw(t, "plant"), Amount: Amount{numberFrom(0.1, 999).Draw(t, "grams"), Grams}}
	if rapid.Bool().Draw(t, "timed") {
		s.For = anyTime(t)
		if rapid.Bool().Draw(t, "halved") {
			s.HalfIn = anyTime(t)
		}
	}
	if rapid.Bool().Draw(t, "hot") {
		s.At = pointer(profile.Celsius(numberFrom(0, 100).Draw(t, "at")))
	}
	if rapid.Bool().Draw(t, "keeping") {
		s.KeepsBack = pointer(MillilitrePerGram(numberFrom(0, mostKeptBack).Draw(t, "kept back")))
	}
	if rapid.Bool().Draw(t, "giving") {
		for c := range Column(Columns) {
			if !canBeGiven(c) || rapid.IntRange(0, 5).Draw(t, "given") > 0 {
				continue
			}
			g := Given{Into: c, PerKilogram: numberFrom(0, 900).Draw(t, "per kilogram")}
			if rapid.Bool().Draw(t, "with a spread") {
				g.Spread = numberFrom(0.1, 50).Draw(t, "spread")
			}
			s.Gives = append(s.Gives, g)
		}
	}
	return s
}
