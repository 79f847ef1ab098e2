package main

import (
	"io"
	"math"

	"minim/profile"
	"minim/solver"
)

// The JSON of an answer. Keys are stable; numbers are in the units of the
// design: ml and g, and for each property its own.
type (
	jsonAnswer struct {
		Drink      string                  `json:"drink"`
		Pours      []jsonPour              `json:"pours"`
		Ice        jsonIce                 `json:"ice"`
		Dilution   jsonDilution            `json:"dilution"`
		Finish     []string                `json:"finish"`
		Profile    map[string]jsonProperty `json:"profile"`
		Misses     []jsonMiss              `json:"misses"`
		TotalJND   float64                 `json:"total_jnd"`
		Tolerance  *jsonTolerance          `json:"tolerance"`
		Solution   jsonSolution            `json:"solution"`
		Continuous jsonContinuous          `json:"continuous"`
		Limits     []jsonLimit             `json:"limits"`
		Broken     []jsonBroken            `json:"broken"`
		Conflict   *jsonConflict           `json:"conflict"`
		Chosen     *jsonChosen             `json:"chosen"`
		Others     []jsonAlternative       `json:"alternatives"`
		Lots       []jsonLot               `json:"lots"`
		Volumes    float64                 `json:"co2_volumes"`
		Dose       jsonDose                `json:"dose"`
		Glass      []jsonSip               `json:"glass"`
		Preps      []jsonPrep              `json:"preps"`
		Makes      *jsonMakes              `json:"makes,omitempty"`
		Notes      []string                `json:"notes"`
		Cautions   []jsonCaution           `json:"cautions"`
		LocalRules string                  `json:"local_rules"`
	}
	jsonPour struct {
		Ingredient string   `json:"ingredient"`
		ID         string   `json:"id"`
		Stage      string   `json:"stage"`
		Amount     float64  `json:"amount"`
		Unit       string   `json:"unit"`
		ML         *float64 `json:"ml"`
		Grams      float64  `json:"g"`
		Solved     bool     `json:"solved"`
	}
	jsonIce struct {
		Method string `json:"method"`
		Chosen bool   `json:"chosen"`
	}
	jsonDilution struct {
		WaterML     float64 `json:"water_ml"`
		Temperature float64 `json:"temperature_c"`
	}
	jsonProperty struct {
		Value       float64  `json:"value"`
		Unit        string   `json:"unit"`
		PlusMinus   float64  `json:"plus_minus"`
		Low         float64  `json:"low"`
		High        float64  `json:"high"`
		UnknownFrom []string `json:"unknown_from"`
	}
	jsonRange struct {
		Low  float64 `json:"low"`
		High float64 `json:"high"`
	}
	jsonMiss struct {
		Property    string    `json:"property"`
		Unit        string    `json:"unit"`
		Target      jsonRange `json:"target"`
		Got         float64   `json:"got"`
		Miss        float64   `json:"miss"`
		JND         *float64  `json:"jnd"`
		Perceptible bool      `json:"perceptible"`
	}
	jsonTolerance struct {
		jsonVariation
		ByHand jsonVariation `json:"by_hand"`
	}
	jsonVariation struct {
		Chance        float64              `json:"chance"`
		StandardError float64              `json:"standard_error"`
		Properties    []jsonPropertySpread `json:"properties"`
		Worst         string               `json:"worst"`
		Pour          string               `json:"pour"`
		Share         float64              `json:"share"`
	}
	jsonPropertySpread struct {
		Property string  `json:"property"`
		JND      float64 `json:"jnd"`
	}
	jsonSolution struct {
		Objective        float64 `json:"objective"`
		Least            float64 `json:"least"`
		Proven           bool    `json:"proven"`
		PreferenceProven bool    `json:"preference_proven"`
		Bound            float64 `json:"bound"`
		KKT              float64 `json:"kkt"`
		Nodes            int     `json:"nodes"`
	}
	jsonContinuous struct {
		Pours     []jsonPour `json:"pours"`
		Objective float64    `json:"objective"`
	}
	jsonLimit struct {
		Name  string  `json:"name"`
		Kind  string  `json:"kind"`
		Price float64 `json:"price"`
		Unit  string  `json:"unit"`
	}
	jsonBroken struct {
		Limit string  `json:"limit"`
		Got   float64 `json:"got"`
		Unit  string  `json:"unit"`
	}
	jsonConflict struct {
		Targets []jsonReach `json:"targets"`
		Limits  []string    `json:"limits"`
		Coarse  bool        `json:"coarse"`
		Help    *jsonHelp   `json:"help"`
	}
	jsonReach struct {
		Property string    `json:"property"`
		Target   jsonRange `json:"target"`
		Alone    float64   `json:"alone"`
	}
	jsonDose struct {
		Ethanol        float64             `json:"ethanol_g"`
		Kilojoules     float64             `json:"energy_kj"`
		Kilocalories   float64             `json:"energy_kcal"`
		Sodium         float64             `json:"sodium_mg"`
		Caffeine       float64             `json:"caffeine_mg"`
		StandardDrinks []jsonStandardDrink `json:"standard_drinks"`
	}
	jsonStandardDrink struct {
		Where string  `json:"where"`
		Grams float64 `json:"g"`
		Count float64 `json:"count"`
	}
	jsonSip struct {
		Minutes     float64            `json:"minutes"`
		Melted      float64            `json:"melted_g"`
		Temperature float64            `json:"temperature_c"`
		Profile     map[string]float64 `json:"profile"`
	}
	jsonHelp struct {
		Ingredient string  `json:"ingredient"`
		Ice        string  `json:"ice"`
		TotalJND   float64 `json:"total_jnd"`
	}
)

// writeJSON prints everything that is known of an answer.
func writeJSON(w io.Writer, a *solver.Answer) error {
	return writeValue(w, answerJSON(a))
}

func answerJSON(a *solver.Answer) *jsonAnswer {
	out := &jsonAnswer{
		Drink:    a.Spec.Name,
		Pours:    poursJSON(a.Pours),
		Ice:      jsonIce{a.Spec.Ice.Method.Name(), a.IceChosen},
		Dilution: jsonDilution{digits(float64(a.WaterMillilitres)), digits(float64(a.Temperature))},
		Finish:   append([]string{}, a.Spec.Finish...),
		Profile:  map[string]jsonProperty{},
		Misses:   missesJSON(a.Misses),
		TotalJND: digits(a.TotalJND),
		Solution: jsonSolution{
			digits(a.Solution.Objective), digits(a.Solution.Least), a.Solution.Proven, a.Solution.PreferenceProven,
			digits(a.Solution.Bound), digits(a.Solution.KKT), a.Solution.Nodes,
		},
		Continuous: jsonContinuous{poursJSON(a.Continuous.Pours), digits(a.Continuous.Objective)},
		Limits:     []jsonLimit{},
		Broken:     []jsonBroken{},
		Lots:       lotsJSON(a.Lots),
		Notes:      append([]string{}, a.Notes...),
	}
	out.Volumes = digits(profile.CarbonDioxideVolumes(profile.GramPerLitre(a.Profile[profile.CarbonDioxide].Value)))
	out.Dose = doseJSON(&a.Dose)
	out.Chosen, out.Others = chosenJSON(a.Chosen), alternativesJSON(a.Alternatives)
	out.Preps = prepsJSON(a)
	if a.Prep != nil {
		makes := makesJSON(a.Prep)
		out.Makes = &makes
		out.Drink = a.Prep.Ingredient.Name
	}
	out.Glass = glassJSON(a.Glass)
	out.Cautions, out.LocalRules = cautionsJSON(a.Cautions), profile.LocalRules
	for p := range a.Profile {
		v := &a.Profile[p]
		property := profile.Property(p)
		out.Profile[property.Name()] = jsonProperty{
			digits(v.Value), property.Unit(), digits(v.PlusMinus()), digits(v.Low), digits(v.High), append([]string{}, v.UnknownFrom...),
		}
	}
	if t := a.Tolerance; t != nil {
		out.Tolerance = &jsonTolerance{variationJSON(&t.Overall), variationJSON(&t.ByHand)}
	}
	for _, l := range a.Limits {
		out.Limits = append(out.Limits, jsonLimit{l.Name, l.Kind, digits(l.Price), l.Unit})
	}
	for _, b := range a.Broken {
		out.Broken = append(out.Broken, jsonBroken{b.Written, digits(b.Got), b.Unit})
	}
	if c := a.Conflict; c != nil {
		out.Conflict = &jsonConflict{Targets: []jsonReach{}, Limits: append([]string{}, c.Limits...), Coarse: c.Coarse}
		for _, t := range c.Targets {
			out.Conflict.Targets = append(out.Conflict.Targets, jsonReach{t.Property.Name(), jsonRange{digits(t.Low), digits(t.High)}, digits(t.Alone)})
		}
		if c.Help != nil {
			out.Conflict.Help = helpJSON(c.Help)
		}
	}
	return out
}

func missesJSON(misses []solver.Miss) []jsonMiss {
	out := []jsonMiss{}
	for i := range misses {
		m := &misses[i]
		miss := jsonMiss{
			Property: m.Property.Name(), Unit: m.Property.Unit(), Target: jsonRange{digits(m.Low), digits(m.High)},
			Got: digits(m.Got), Miss: difference(m.Off, m.Got), Perceptible: m.Perceptible(),
		}
		if m.HasJND {
			jnd := digits(m.JND)
			miss.JND = &jnd
		}
		out = append(out, miss)
	}
	return out
}

func variationJSON(v *solver.Variation) jsonVariation {
	out := jsonVariation{
		Chance: digits(v.Chance), StandardError: digits(v.StandardError), Properties: []jsonPropertySpread{},
		Worst: v.Worst.Name(), Pour: v.Pour, Share: digits(v.Share),
	}
	for _, p := range v.Properties {
		out.Properties = append(out.Properties, jsonPropertySpread{p.Property.Name(), digits(p.JND)})
	}
	return out
}

func doseJSON(d *profile.Dose) jsonDose {
	out := jsonDose{
		Ethanol: digits(float64(d.Ethanol)), Kilojoules: digits(float64(d.Kilojoules)), Kilocalories: digits(float64(d.Kilocalories)),
		Sodium: digits(float64(d.Sodium)), Caffeine: digits(float64(d.Caffeine)), StandardDrinks: []jsonStandardDrink{},
	}
	for _, s := range d.StandardDrinks {
		out.StandardDrinks = append(out.StandardDrinks, jsonStandardDrink{s.Where, digits(float64(s.Grams)), digits(s.Count)})
	}
	return out
}

func glassJSON(sips []profile.Sip) []jsonSip {
	out := []jsonSip{}
	for i := range sips {
		sip := jsonSip{
			Minutes: sips[i].Minutes, Melted: digits(float64(sips[i].Melted)), Temperature: digits(float64(sips[i].Temperature)),
			Profile: map[string]float64{},
		}
		for p, v := range sips[i].Values {
			sip.Profile[profile.Property(p).Name()] = digits(v)
		}
		out = append(out, sip)
	}
	return out
}

func helpJSON(h *solver.Help) *jsonHelp {
	out := &jsonHelp{TotalJND: digits(h.TotalJND)}
	if h.Ingredient != nil {
		out.Ingredient = h.Ingredient.Name
	} else {
		out.Ice = h.Method.Name()
	}
	return out
}

func poursJSON(pours []solver.PouredAmount) []jsonPour {
	out := []jsonPour{}
	for i := range pours {
		p := &pours[i]
		one := jsonPour{
			Ingredient: p.Name, ID: p.Ingredient.ID, Stage: p.Stage.String(), Amount: digits(p.Amount.Value), Unit: p.Amount.Unit.String(),
			Grams: digits(float64(p.Grams)), Solved: p.Solved,
		}
		if !p.Ingredient.Solid {
			ml := digits(p.Base)
			one.ML = &ml
		}
		out = append(out, one)
	}
	return out
}

// difference rounds what got is off by: to 0 where it is beyond the digits of got.
func difference(off, got float64) float64 {
	if math.Abs(off) < 1e-10*math.Abs(got) {
		return 0
	}
	return digits(off)
}

// digits rounds to ten significant figures, below which machines may differ,
// and drops the sign of zero.
func digits(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	scale := math.Pow(10, 9-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(scale, 0) || scale == 0 {
		return 0
	}
	return math.Round(v*scale)/scale + 0
}
