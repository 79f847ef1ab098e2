package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"minim/pantry"
	"minim/solver"
)

// costFlags are the words that ask what a drink costs.
type costFlags struct {
	wanted        bool
	price, margin string
}

// costFlags adds them to a command.
func (f *flags) costFlags() {
	f.set.BoolVar(&f.cost.wanted, "cost", false, "what a serve costs to pour, by the prices and packs of the pantry")
	f.set.StringVar(&f.cost.price, "price", "", "the `PRICE` of a serve on the menu, such as 12: what part of it is poured")
	f.set.StringVar(&f.cost.margin, "margin", "", "the `PART` of the price to keep, such as 80%: the price that takes")
}

// asked tells whether the person asked for the cost.
func (c *costFlags) asked() bool { return c.wanted || c.price != "" || c.margin != "" }

// pricing is a cost with the price and margin that it is set against; either is
// 0 where it was not given.
type pricing struct {
	*solver.Cost
	price, margin float64
	// making says that it is of one making of a prep.
	making bool
}

// of sets a cost of a serve against the flags.
func (c *costFlags) of(cost func() (*solver.Cost, error)) (*pricing, error) {
	p := &pricing{}
	var err error
	if c.price != "" {
		if p.price, _, err = pantry.ParseQuantity(c.price, pantry.Counts); err != nil || p.price <= 0 {
			return nil, fmt.Errorf("--price %q; expected more than 0, such as 12", c.price)
		}
	}
	if c.margin != "" {
		if p.margin, _, err = pantry.ParseQuantity(c.margin, pantry.Quantities{"": 1, "%": 1}); err != nil || p.margin <= 0 || p.margin >= 100 {
			return nil, fmt.Errorf("--margin %q; expected more than 0%% and less than 100%%, such as 80%%", c.margin)
		}
	}
	if p.Cost, err = cost(); err != nil {
		return nil, err
	}
	if c.asked() && len(p.Parts) == 0 {
		return nil, errors.New("no ingredient of it has a price and a pack; expected these in the columns price and pack of a CSV given with --pantry")
	}
	return p, nil
}

// money writes an amount of money.
func (p *pricing) money(amount float64) string {
	return strings.TrimSpace(fixed(amount, 2) + " " + p.Currency)
}

// sentence says what serves of a drink cost; serves is 1 for one alone.
func (p *pricing) sentence(serves float64) string {
	least := ""
	if len(p.Unpriced) > 0 {
		least = "at least "
	}
	what := "A serve"
	if p.making {
		what = "A making"
	}
	text := fmt.Sprintf("%s costs %s%s", what, least, p.money(p.PerServe))
	if serves != 1 {
		text += fmt.Sprintf(", %s serves %s", trimmed(serves, 1), p.money(p.PerServe*serves))
	}
	if dearest, ok := p.Dearest(); ok && len(p.Parts) > 1 {
		text += fmt.Sprintf("; the %s makes %s %% of it", dearest.Name, fixed(100*dearest.Share, 0))
	}
	text += "."
	if p.price > 0 {
		text += fmt.Sprintf(" At %s a serve that is a pour cost of %s%s %%.", p.money(p.price), least, fixed(p.PourCost(p.price), 1))
	}
	if p.margin > 0 {
		text += fmt.Sprintf(" To keep %s %%, it would sell for %s%s.", trimmed(p.margin, 2), least, p.money(p.PriceAt(p.margin)))
	}
	if len(p.Unpriced) > 0 {
		text += fmt.Sprintf(" No price or no pack is known of %s.", list(p.Unpriced))
	}
	return text + " Prices are as the pantry has them: no tax is added or taken off, and ice, garnish and waste are left out."
}

// write prints what one drink costs below its answer.
func (p *pricing) write(w io.Writer) error {
	_, err := fmt.Fprintf(w, "\n%s\n", wrap(p.sentence(1), lineWidth))
	return err
}

// writeJSON prints an answer with its cost.
func (p *pricing) writeJSON(w io.Writer, a *solver.Answer) error {
	return writeValue(w, &struct {
		*jsonAnswer
		Cost *jsonCost `json:"cost"`
	}{answerJSON(a), costJSON(p)})
}

type (
	jsonCost struct {
		PerServe float64        `json:"per_serve"`
		Currency string         `json:"currency"`
		AtLeast  bool           `json:"at_least"`
		Parts    []jsonCostPart `json:"parts"`
		Unpriced []string       `json:"unpriced"`
		PourCost *float64       `json:"pour_cost_percent"`
		PriceAt  *float64       `json:"price_at_margin"`
		Dearest  string         `json:"dearest"`
	}
	jsonCostPart struct {
		Ingredient string  `json:"ingredient"`
		Amount     float64 `json:"amount"`
		Share      float64 `json:"share"`
	}
)

// costJSON is nil for no cost.
func costJSON(p *pricing) *jsonCost {
	if p == nil {
		return nil
	}
	out := &jsonCost{
		PerServe: digits(p.PerServe), Currency: p.Currency, AtLeast: len(p.Unpriced) > 0, Parts: []jsonCostPart{},
		Unpriced: append([]string{}, p.Unpriced...),
	}
	for _, part := range p.Parts {
		out.Parts = append(out.Parts, jsonCostPart{part.Name, digits(part.Amount), digits(part.Share)})
	}
	if dearest, ok := p.Dearest(); ok {
		out.Dearest = dearest.Name
	}
	if p.price > 0 {
		percent := digits(p.PourCost(p.price))
		out.PourCost = &percent
	}
	if p.margin > 0 {
		price := digits(p.PriceAt(p.margin))
		out.PriceAt = &price
	}
	return out
}
