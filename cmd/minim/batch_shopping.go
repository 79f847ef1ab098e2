package main

import (
	"fmt"
	"math"
	"strings"

	"minim/pantry"
	"minim/solver"
)

// writeShopping prints what the bar makes first and what it buys.
func writeShopping(b *strings.Builder, prepare, purchases []solver.Purchase, unit liquidUnit) error {
	if len(prepare) > 0 {
		var rows [][]string
		for i := range prepare {
			rows = append(rows, []string{prepare[i].Ingredient.Name, needed(&prepare[i], prepare[i].Need, unit)})
		}
		b.WriteString("\n")
		if err := writeTable(b, []tableColumn{{heading: "make first"}, {heading: "needed", right: true}}, rows); err != nil {
			return err
		}
	}
	currency, each := onlyCurrency(purchases)
	var rows [][]string
	for i := range purchases {
		p := &purchases[i]
		buy, left, price := "", "", ""
		if p.Packs > 0 {
			buy = fmt.Sprintf("%d × %s", p.Packs, p.Ingredient.Pack)
			left = needed(p, p.Left, unit)
		}
		if p.Priced {
			price = fixed(p.Price, 2)
			if each {
				price = strings.TrimSpace(price + " " + p.Ingredient.Currency)
			}
		}
		rows = append(rows, []string{shortened(listedName(p.Ingredient), shoppingNames), needed(p, p.Need, unit), buy, left, price})
	}
	b.WriteString("\n")
	return writeTable(b, []tableColumn{
		{heading: "shopping"},
		{heading: "needed", right: true},
		{heading: "buy", right: true, optional: true},
		{heading: "left over", right: true, optional: true},
		{heading: strings.TrimSpace("price " + currency), right: true, optional: true},
	}, rows)
}

// onlyCurrency is that of all prices on a list; each says that they differ, so
// that every price needs its own.
func onlyCurrency(list []solver.Purchase) (currency string, each bool) {
	first := true
	for i := range list {
		switch p := &list[i]; {
		case !p.Priced:
		case first:
			currency, first = p.Ingredient.Currency, false
		case p.Ingredient.Currency != currency:
			return "", true
		}
	}
	return currency, false
}

// listedName is the name of an ingredient, or where that is too long for the
// list its longest alias that is not.
func listedName(i *pantry.Ingredient) string {
	if len([]rune(i.Name)) <= shoppingNames {
		return i.Name
	}
	longest := ""
	for _, alias := range i.Aliases {
		if n := len([]rune(alias)); n <= shoppingNames && n > len([]rune(longest)) {
			longest = alias
		}
	}
	if longest == "" {
		return i.Name
	}
	return longest
}

// needed writes an amount for a shopping list.
func needed(p *solver.Purchase, base float64, unit liquidUnit) string {
	switch i := p.Ingredient; {
	case i.Step.Word == "piece" && i.Piece > 0:
		return pantry.Amount{Value: math.Ceil(base/i.Piece - 1e-9), Unit: pantry.Pieces}.String()
	case p.Ingredient.Solid && base >= 1000:
		return fixed(base/1000, 2) + " kg"
	case p.Ingredient.Solid:
		return trimmed(base, 1) + " g"
	}
	return unit.bought(base)
}
