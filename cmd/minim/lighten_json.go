package main

import (
	"encoding/json"
	"io"

	"minim/profile"
	"minim/solver"
)

// The keys of the JSON of a weaker drink are stable: other programs rely on
// them.
type (
	jsonLightened struct {
		*jsonAnswer
		Lighten jsonLighten `json:"lighten"`
	}
	jsonLighten struct {
		Property string        `json:"property"`
		AtMost   float64       `json:"at_most"`
		LeastJND float64       `json:"least_jnd"`
		Proven   bool          `json:"proven"`
		Offered  []string      `json:"offered"`
		Original jsonOriginal  `json:"original"`
		Lost     []jsonLost    `json:"lost"`
		Variants []jsonVariant `json:"variants"`
		Stronger *jsonStronger `json:"stronger"`
		Far      []jsonFar     `json:"another_drink"`
	}
	jsonStronger struct {
		Possible bool     `json:"possible"`
		Strength float64  `json:"abv"`
		Worst    string   `json:"worst"`
		JND      float64  `json:"jnd"`
		Here     float64  `json:"jnd_here"`
		Besides  []string `json:"besides"`
	}
	jsonOriginal struct {
		Pours   []jsonPour         `json:"pours"`
		Profile map[string]float64 `json:"profile"`
	}
	jsonLost struct {
		Kind   string  `json:"kind"`
		Before float64 `json:"before"`
		After  float64 `json:"after"`
		Unit   string  `json:"unit"`
		JND    float64 `json:"jnd"`
	}
	jsonVariant struct {
		Ingredient string  `json:"ingredient"`
		From       float64 `json:"from"`
		To         float64 `json:"to"`
		Unit       string  `json:"unit"`
		Property   string  `json:"property"`
		JND        float64 `json:"jnd"`
		Strength   float64 `json:"abv"`
	}
	jsonFrontier struct {
		Drink    string           `json:"drink"`
		Original jsonOriginal     `json:"original"`
		Offered  []string         `json:"offered"`
		Points   []jsonPoint      `json:"points"`
		Knee     *float64         `json:"knee"`
		Curve    []jsonCurvePoint `json:"curve"`
	}
	jsonPoint struct {
		AtMost   float64    `json:"at_most"`
		Strength float64    `json:"abv"`
		Ethanol  float64    `json:"ethanol_g"`
		LeastJND float64    `json:"least_jnd"`
		TotalJND float64    `json:"total_jnd"`
		Proven   bool       `json:"proven"`
		Broken   bool       `json:"broken"`
		Pours    []jsonPour `json:"pours"`
	}
	jsonCurvePoint struct {
		AtMost   float64 `json:"at_most"`
		LeastJND float64 `json:"least_jnd"`
	}
)

func writeLightenedJSON(w io.Writer, l *solver.Lightened) error {
	out := jsonLightened{answerJSON(l.Answer), jsonLighten{
		Property: l.Property.Name(), AtMost: digits(l.Most), LeastJND: digits(l.LeastJND), Proven: l.Proven,
		Offered: append([]string{}, l.Offered...), Original: originalJSON(l.Original), Lost: []jsonLost{}, Variants: []jsonVariant{}, Far: farJSON(l.Far),
	}}
	if s := l.Stronger; s != nil {
		out.Lighten.Stronger = &jsonStronger{s.Possible, digits(s.Strength), s.Worst.Property.Name(), digits(s.Worst.JND), digits(s.Here), append([]string{}, s.Besides...)}
	}
	for _, one := range l.Lost {
		out.Lighten.Lost = append(out.Lighten.Lost, jsonLost{string(one.Kind), digits(one.Before), digits(one.After), one.Unit, digits(one.JND)})
	}
	for _, v := range l.Variants {
		out.Lighten.Variants = append(out.Lighten.Variants, jsonVariant{
			v.Pour, digits(v.From.Value), digits(v.To.Value), v.From.Unit.String(), v.Property.Name(), digits(v.JND), digits(v.Strength),
		})
	}
	return encodeJSON(w, out)
}

func writeFrontierJSON(w io.Writer, f *solver.Frontier) error {
	out := jsonFrontier{
		Drink: f.Original.Spec.Name, Original: originalJSON(f.Original),
		Offered: append([]string{}, f.Points[0].Offered...), Points: []jsonPoint{}, Curve: []jsonCurvePoint{},
	}
	for _, p := range f.Points {
		out.Points = append(out.Points, jsonPoint{
			digits(p.Most), digits(p.Profile[profile.Strength].Value), digits(p.Profile[profile.Ethanol].Value), digits(p.LeastJND),
			digits(p.TotalJND), p.Proven, len(p.Broken) > 0, poursJSON(p.Pours),
		})
	}
	if f.Knee >= 0 {
		knee := digits(f.Points[f.Knee].Most)
		out.Knee = &knee
	}
	for _, c := range f.Curve {
		out.Curve = append(out.Curve, jsonCurvePoint{digits(c.Most), digits(c.LeastJND)})
	}
	return encodeJSON(w, out)
}

func originalJSON(a *solver.Answer) jsonOriginal {
	out := jsonOriginal{poursJSON(a.Pours), map[string]float64{}}
	for p := range a.Profile {
		out.Profile[profile.Property(p).Name()] = digits(a.Profile[p].Value)
	}
	return out
}

func encodeJSON(w io.Writer, v any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(v)
}
