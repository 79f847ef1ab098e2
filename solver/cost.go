package solver

import (
	"fmt"
	"slices"
	"strings"

	"minim/pantry"
)

// Cost is what one serve costs to pour. Prices are those of the pantry, as
// bought: no tax is added or taken off, and garnish, ice and waste are left out.
type Cost struct {
	// PerServe is in Currency, at least so much where Unpriced names anything.
	PerServe float64
	// Currency is empty where no price names one.
	Currency string
	// Parts are the pours with a price, in their order.
	Parts []CostPart
	// Unpriced are pours without a price or a pack, in their order; tap water is
	// free.
	Unpriced []string
}

// CostPart is what one pour costs.
type CostPart struct {
	Name   string
	Amount float64
	// Share is the part of PerServe that it makes, 0 to 1.
	Share float64
}

// Dearest returns the pour that makes most of the cost, the first of equals; ok
// is false where nothing has a price.
func (c *Cost) Dearest() (part CostPart, ok bool) {
	for _, one := range c.Parts {
		if one.Amount > part.Amount {
			part, ok = one, true
		}
	}
	return part, ok
}

// PourCost returns the cost as a percentage of a price for one serve, more than
// 0, both with or both without tax:
//
//	100 cost / price
func (c *Cost) PourCost(price float64) float64 { return 100 * c.PerServe / price }

// PriceAt returns the price of a serve at a wanted margin, the part of the price
// in percent that is not spent on what is poured, from 0 to below 100:
//
//	cost / (1 - margin / 100)
func (c *Cost) PriceAt(margin float64) float64 { return c.PerServe / (1 - margin/100) }

// Cost is what the drink costs to pour, or what one making of a prep does, steeped
// plants included: see CostOf.
func (a *Answer) Cost() (*Cost, error) {
	pours := a.Pours
	if a.Prep != nil {
		pours = slices.Clone(pours)
		for _, s := range a.Prep.Steeped() {
			pours = append(pours, PouredAmount{Ingredient: s.OnTheList(), Name: s.Plant, Base: float64(s.Mass)})
		}
	}
	return CostOf(pours, MakingOf(a.Preps))
}

// CostOf adds up what the pours of a serve cost,
//
//	Σ amount × price of a pack / what a pack holds
//
// that of what the bar makes being the sum of its parts, unless it has a price
// of its own. Prices in more than one currency do not add: an error that names
// them.
func CostOf(pours []PouredAmount, made Making) (*Cost, error) {
	c := &Cost{}
	var currencies []string
	for i := range pours {
		p := &pours[i]
		part := CostPart{Name: p.Name}
		known := true
		add := func(i *pantry.Ingredient, base float64) {
			price, ok := i.PricePerUnit()
			switch {
			case ok:
				part.Amount += price * base
				if i.Currency != "" && !slices.Contains(currencies, i.Currency) {
					currencies = append(currencies, i.Currency)
				}
			case !i.PlainWater():
				known = false
				if i != p.Ingredient {
					c.miss(i.Name + " in " + p.Name)
				}
			}
		}
		if _, ok := p.Ingredient.PricePerUnit(); ok {
			add(p.Ingredient, p.Base)
		} else {
			made.bought(p.Ingredient, p.Base, func(*pantry.Ingredient, float64) {}, add)
			if _, made := made.of(p.Ingredient); !known && !made {
				c.miss(p.Name)
			}
		}
		c.PerServe += part.Amount
		if part.Amount > 0 {
			c.Parts = append(c.Parts, part)
		}
	}
	if len(currencies) > 1 {
		return nil, fmt.Errorf("prices in %s; expected one currency, since these do not add", strings.Join(currencies, " and "))
	}
	c.Currency = strings.Join(currencies, "")
	for i := range c.Parts {
		c.Parts[i].Share = c.Parts[i].Amount / c.PerServe
	}
	return c, nil
}

func (c *Cost) miss(name string) {
	if !slices.Contains(c.Unpriced, name) {
		c.Unpriced = append(c.Unpriced, name)
	}
}
