package main

import (
	"slices"

	"minim/solver"
)

// cardCost is what the pours of one serve cost, as bought: garnish, ice, waste
// and tax are left out.
type cardCost struct {
	// Sums are by currency, in the order of the pours; a price that names none
	// has an empty one. Sums in different currencies do not add.
	Sums []costSum
	// Unpriced are the pours without a price, in their order.
	Unpriced []string
}

type costSum struct {
	Currency string
	Amount   float64
}

// costOf adds up Σ amount × price of a pack / what a pack holds.
func costOf(a *solver.Answer) *cardCost {
	c := &cardCost{}
	for i := range a.Pours {
		p := &a.Pours[i]
		each, ok := p.Ingredient.PricePerUnit()
		if !ok {
			c.Unpriced = append(c.Unpriced, p.Name)
			continue
		}
		n := slices.IndexFunc(c.Sums, func(s costSum) bool { return s.Currency == p.Ingredient.Currency })
		if n < 0 {
			n, c.Sums = len(c.Sums), append(c.Sums, costSum{Currency: p.Ingredient.Currency})
		}
		c.Sums[n].Amount += each * p.Base
	}
	return c
}

// sentence says the cost, and which prices are missing.
func (c *cardCost) sentence() string {
	var sums []string
	for _, s := range c.Sums {
		text := fixed(s.Amount, 2)
		if s.Currency != "" {
			text += " " + s.Currency
		}
		sums = append(sums, text)
	}
	switch {
	case len(sums) == 0:
		return "unknown: the pantry has no price for " + list(c.Unpriced)
	case len(c.Unpriced) > 0:
		return "at least " + list(sums) + " a serve; no price for " + list(c.Unpriced) + "; without garnish and ice"
	}
	return list(sums) + " a serve, without garnish and ice"
}
