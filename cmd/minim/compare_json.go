package main

import (
	"encoding/json"
	"io"

	"minim/profile"
	"minim/solver"
)

// The JSON of a comparison. Each drink has all the keys of an answer.
type (
	jsonCompared struct {
		Drinks  []jsonComparedDrink `json:"drinks"`
		Pairs   []jsonPair          `json:"pairs"`
		Counted []string            `json:"counted"`
		Skipped []jsonSkipped       `json:"skipped"`
	}
	jsonComparedDrink struct {
		*jsonAnswer
		Name    string                    `json:"name"`
		File    string                    `json:"file"`
		Solved  bool                      `json:"solved"`
		Against map[string]jsonDifference `json:"against_first"`
	}
	jsonDifference struct {
		Unit        string   `json:"unit"`
		More        float64  `json:"more"`
		JND         *float64 `json:"jnd"`
		Perceptible bool     `json:"perceptible"`
		Unknown     bool     `json:"unknown"`
	}
	jsonPair struct {
		First       string             `json:"first"`
		Second      string             `json:"second"`
		TotalJND    float64            `json:"total_jnd"`
		Perceptible bool               `json:"perceptible"`
		JND         map[string]float64 `json:"jnd"`
		Most        string             `json:"most"`
	}
	jsonSkipped struct {
		File string `json:"file"`
		Why  string `json:"why"`
	}
)

// writeComparedJSON prints everything that is known of a comparison.
func writeComparedJSON(w io.Writer, c *compared) error {
	out := jsonCompared{Drinks: []jsonComparedDrink{}, Pairs: []jsonPair{}, Counted: []string{}, Skipped: []jsonSkipped{}}
	for _, p := range solver.TasteProperties {
		out.Counted = append(out.Counted, p.Name())
	}
	for n, a := range c.Drinks {
		drink := jsonComparedDrink{answerJSON(a), c.names[n], c.files[n], c.solved[n], map[string]jsonDifference{}}
		for p := range c.Against[n] {
			d := &c.Against[n][p]
			one := jsonDifference{Unit: d.Property.Unit(), More: difference(d.More, a.Profile[p].Value), Perceptible: d.Perceptible(), Unknown: d.Unknown}
			if d.HasJND {
				jnd := digits(d.JND)
				one.JND = &jnd
			}
			drink.Against[profile.Property(p).Name()] = one
		}
		out.Drinks = append(out.Drinks, drink)
	}
	for i := range c.Pairs {
		p := &c.Pairs[i]
		pair := jsonPair{
			First: c.names[p.First], Second: c.names[p.Second], TotalJND: digits(p.TotalJND),
			Perceptible: p.TotalJND >= profile.Perceptible, JND: map[string]float64{}, Most: p.Differences[0].Property.Name(),
		}
		for _, d := range p.Differences {
			pair.JND[d.Property.Name()] = digits(d.JND)
		}
		out.Pairs = append(out.Pairs, pair)
	}
	for _, one := range c.skipped {
		out.Skipped = append(out.Skipped, jsonSkipped{one.name, one.why.Error()})
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(out)
}
