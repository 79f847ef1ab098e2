package main

import "minim/solver"

// The JSON of a choice of ingredients.
type (
	jsonChosen struct {
		Offered       int              `json:"offered"`
		AtMost        int              `json:"at_most"`
		Count         int              `json:"count"`
		Nearest       float64          `json:"nearest"`
		NearestProven bool             `json:"nearest_proven"`
		FewestProven  bool             `json:"fewest_proven"`
		Cost          float64          `json:"cost"`
		Currency      string           `json:"currency"`
		NotOffered    []jsonNotOffered `json:"not_offered"`
	}
	jsonNotOffered struct {
		Ingredients []string `json:"ingredients"`
		Why         string   `json:"why"`
	}
	jsonAlternative struct {
		Pours    []jsonPour `json:"pours"`
		TotalJND float64    `json:"total_jnd"`
	}
)

func chosenJSON(c *solver.Chosen) *jsonChosen {
	if c == nil {
		return nil
	}
	out := &jsonChosen{
		Offered: c.Offered, AtMost: c.AtMost, Count: c.Count, Nearest: digits(c.Nearest),
		NearestProven: c.NearestProven, FewestProven: c.FewestProven, Cost: digits(c.Cost), Currency: c.Currency,
		NotOffered: []jsonNotOffered{},
	}
	for _, n := range c.NotOffered {
		one := jsonNotOffered{Ingredients: []string{}, Why: n.Why}
		for _, i := range n.Ingredients {
			one.Ingredients = append(one.Ingredients, i.Name)
		}
		out.NotOffered = append(out.NotOffered, one)
	}
	return out
}

func alternativesJSON(all []solver.Alternative) []jsonAlternative {
	out := []jsonAlternative{}
	for i := range all {
		out = append(out, jsonAlternative{poursJSON(all[i].Pours), digits(all[i].TotalJND)})
	}
	return out
}
