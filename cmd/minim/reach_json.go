package main

import (
	"encoding/json"
	"io"

	"minim/solver"
)

// The JSON of ranges. Keys are stable; a property's numbers are in its unit.
type (
	jsonReachable struct {
		Drink      string              `json:"drink"`
		Amounts    string              `json:"amounts"`
		Properties []jsonPropertyReach `json:"properties"`
		Apart      []string            `json:"apart"`
		Broken     []jsonBroken        `json:"broken"`
		Conflict   []string            `json:"conflict"`
		Lots       []jsonLot           `json:"lots"`
		Notes      []string            `json:"notes"`
	}
	jsonPropertyReach struct {
		Property    string     `json:"property"`
		Unit        string     `json:"unit"`
		Target      *jsonRange `json:"target"`
		Alone       *jsonSpan  `json:"alone"`
		Held        *jsonSpan  `json:"held"`
		UnknownFrom []string   `json:"unknown_from"`
	}
	jsonSpan struct {
		Least    jsonEnd `json:"least"`
		Greatest jsonEnd `json:"greatest"`
	}
	jsonEnd struct {
		Value float64    `json:"value"`
		Pours []jsonPour `json:"pours"`
		Stops []jsonStop `json:"stops"`
		KKT   float64    `json:"kkt"`
	}
	jsonStop struct {
		Kind  string  `json:"kind"`
		Name  string  `json:"name"`
		Bound float64 `json:"bound"`
		Price float64 `json:"price"`
		Unit  string  `json:"unit"`
	}
)

// writeReachJSON prints everything that is known of the ranges.
func writeReachJSON(w io.Writer, r *solver.Reachable) error {
	out := jsonReachable{
		Drink: r.Spec.Name, Amounts: "of any size", Properties: []jsonPropertyReach{}, Apart: []string{}, Broken: []jsonBroken{},
		Conflict: append([]string{}, r.Conflict...), Lots: lotsJSON(r.Lots), Notes: append([]string{}, r.Notes...),
	}
	for i := range r.Ranges {
		one := &r.Ranges[i]
		p := jsonPropertyReach{
			Property: one.Property.Name(), Unit: one.Property.Unit(), Alone: spanJSON(&one.Alone), Held: spanJSON(one.Held),
			UnknownFrom: append([]string{}, one.UnknownFrom...),
		}
		if one.Aimed {
			p.Target = &jsonRange{digits(one.Low), digits(one.High)}
		}
		out.Properties = append(out.Properties, p)
	}
	for _, p := range r.Apart {
		out.Apart = append(out.Apart, p.Name())
	}
	for _, b := range r.Broken {
		out.Broken = append(out.Broken, jsonBroken{b.Written, digits(b.Got), b.Unit})
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(out)
}

func spanJSON(s *solver.Span) *jsonSpan {
	if s == nil {
		return nil
	}
	return &jsonSpan{endJSON(&s.Least), endJSON(&s.Greatest)}
}

func endJSON(e *solver.End) jsonEnd {
	out := jsonEnd{Value: digits(e.Value), Pours: poursJSON(e.Pours), Stops: []jsonStop{}, KKT: digits(e.KKT)}
	for _, s := range e.Stops {
		out.Stops = append(out.Stops, jsonStop{s.Kind, s.Name, digits(s.Bound), digits(s.Price), s.Unit})
	}
	return out
}
