package main

import "minim/solver"

// The JSON of a choice of ingredients.
type (
	jsonChosen struct {
		Offered       int     `json:"offered"`
		AtMost        int     `json:"at_most"`
		Count         int     `json:"count"`
		Nearest       float64 `json:"nearest"`
		NearestProven bool    `json:"nearest_proven"`
		FewestProven  bool    `json:"fewest_proven"`
		Cost          float64 `json:"cost"`
		Currency      string  `json:"currency"`
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
	return &jsonChosen{
		Offered: c.Offered, AtMost: c.AtMost, Count: c.Count, Nearest: digits(c.Nearest),
		NearestProven: c.NearestProven, FewestProven: c.FewestProven, Cost: digits(c.Cost), Currency: c.Currency,
	}
}

func alternativesJSON(all []solver.Alternative) []jsonAlternative {
	out := []jsonAlternative{}
	for i := range all {
		out = append(out, jsonAlternative{poursJSON(all[i].Pours), digits(all[i].TotalJND)})
	}
	return out
}
