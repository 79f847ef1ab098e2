package main

import (
	"fmt"
	"strings"

	"minim/pantry"
	"minim/solver"
)

// writeMakes says what is done to a prep after mixing, and what comes of it.
func writeMakes(b *strings.Builder, p *pantry.Prep, unit liquidUnit) error {
	writeSteps(b, p)
	rows := [][]string{}
	row := func(name, unit, value, about string) { rows = append(rows, []string{name, unit, value, about}) }
	lost := ""
	if part := 1 - float64(p.Yield/p.Computed); part > leastLoss {
		lost = unit.volume(float64(p.Computed-p.Yield)) + " stay behind"
	}
	row("yield", unit.heading(), unit.whole(float64(p.Yield)), lost)
	rows = append(rows, madeFigures(p)...)
	b.WriteString("\n")
	if err := writeTable(b, []tableColumn{{heading: "makes"}, {heading: "unit"}, {heading: "value", right: true}, {optional: true}}, rows); err != nil {
		return err
	}
	b.WriteString("\n" + wrap(allergenLine(p.Ingredient), lineWidth) + "\n")
	if len(p.Unpriced) > 0 {
		b.WriteString(wrap("The cost is unknown: no price for "+list(p.Unpriced)+".", lineWidth) + "\n")
	}
	return nil
}

// madeFigures are the rows of what a prep comes to in any amount.
func madeFigures(p *pantry.Prep) [][]string {
	var rows [][]string
	about := ""
	if p.Ingredient.Bubbles() {
		about = "degassed"
	}
	for _, d := range p.Ingredient.Derived() {
		if d.Name != "density" && d.Name != "brix" || !d.Known() {
			continue
		}
		places := 1
		if d.Name == "density" {
			places = 3
		}
		rows = append(rows, []string{d.Name, d.Unit, fixed(d.Value, places), about})
	}
	return append(rows, keptFigures(p)...)
}

// keptFigures are those of them that no instrument shows.
func keptFigures(p *pantry.Prep) [][]string {
	var rows [][]string
	row := func(name, unit, value, about string) { rows = append(rows, []string{name, unit, value, about}) }
	switch each, ok := p.Ingredient.PricePerUnit(); {
	case ok:
		row("cost", strings.TrimSpace(p.Ingredient.Currency+" per litre"), fixed(1000*each, 2), "")
	default:
		row("cost", "", "unknown", "")
	}
	if p.Ingredient.Keeps != "" {
		row("keeps", "", p.Spec.Makes.Keeps.String(), p.Spec.Makes.Store.String())
	}
	return rows
}

// leastLoss is the part of a yield that is worth a word.
const leastLoss = 0.005

// writeSteps lists what is done after mixing, in order.
func writeSteps(b *strings.Builder, p *pantry.Prep) { writeNumbered(b, p.Spec.Steps) }

func writeNumbered(b *strings.Builder, steps []pantry.PrepStep) {
	for n := range steps {
		if n == 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(b, "%d. %s\n", n+1, strings.ReplaceAll(wrap(steps[n].Sentence(), lineWidth-3), "\n", "\n   "))
	}
}

// writeSolvedPrep prints what goes into a prep whose amounts were found.
func writeSolvedPrep(b *strings.Builder, s *solver.SolvedPrep, unit liquidUnit) error {
	p := s.Prep
	b.WriteString("\n" + wrap(fmt.Sprintf("%s, a prep of %s: this much goes in", p.Ingredient.Name, unit.volume(float64(p.Yield))), lineWidth) + "\n\n")
	if err := writePours(b, solver.PouredParts(p), unit); err != nil {
		return err
	}
	writeSteps(b, p)
	return nil
}

// prepsLine names the preps in a drink and where they stand.
func prepsLine(a *solver.Answer) string {
	var words []string
	for _, p := range a.Preps {
		text := p.Ingredient.Name + " (" + p.Spec.File
		if p.Ingredient.Keeps != "" {
			text += "; keeps " + p.Ingredient.Keeps
		}
		words = append(words, text+")")
	}
	switch len(words) {
	case 0:
		return ""
	case 1:
		return "prep: " + words[0]
	}
	return "preps: " + strings.Join(words, ", ")
}

type (
	jsonPrep struct {
		Name   string         `json:"name"`
		File   string         `json:"file"`
		Makes  jsonMakes      `json:"makes"`
		Solved bool           `json:"solved"`
		Steps  []string       `json:"steps"`
		Said   []string       `json:"sentences"`
		Pours  []jsonPrepPour `json:"pours"`
		Notes  []string       `json:"notes"`
	}
	jsonMakes struct {
		ML         float64  `json:"ml"`
		ComputedML float64  `json:"computed_ml"`
		Keeps      string   `json:"keeps"`
		Store      string   `json:"store"`
		Density    float64  `json:"density_g_per_ml"`
		Brix       *float64 `json:"brix"`
		CostPerL   *float64 `json:"cost_per_l"`
		Currency   string   `json:"currency"`
		Unpriced   []string `json:"unpriced"`
		Allergens  []string `json:"allergens"`
		Vegan      string   `json:"vegan"`
	}
	jsonPrepPour struct {
		jsonPour
		Prep bool `json:"prep"`
	}
)

// prepsJSON writes the preps of an answer.
func prepsJSON(a *solver.Answer) []jsonPrep {
	out := []jsonPrep{}
	for _, p := range a.Preps {
		var open []bool
		for i := range a.SolvedPreps {
			if a.SolvedPreps[i].Prep == p {
				open = a.SolvedPreps[i].Solved
			}
		}
		out = append(out, prepJSON(p, open, a.Preps))
	}
	return out
}

// prepJSON writes one prep; solved says which pours were found, nil: none.
func prepJSON(p *pantry.Prep, solved []bool, among []*pantry.Prep) jsonPrep {
	one := jsonPrep{Name: p.Ingredient.Name, File: p.Spec.File, Makes: makesJSON(p), Solved: solved != nil, Steps: []string{}, Said: []string{}, Pours: []jsonPrepPour{}, Notes: append([]string{}, p.Notes...)}
	for n := range p.Spec.Steps {
		one.Steps = append(one.Steps, p.Spec.Steps[n].Text())
		one.Said = append(one.Said, p.Spec.Steps[n].Sentence())
	}
	for n, pour := range poursJSON(solver.PouredParts(p)) {
		pour.Solved = solved != nil && solved[n]
		isPrep := false
		for _, other := range among {
			isPrep = isPrep || other.Ingredient == p.Parts[n].Ingredient
		}
		one.Pours = append(one.Pours, jsonPrepPour{pour, isPrep})
	}
	return one
}

func makesJSON(p *pantry.Prep) jsonMakes {
	i := p.Ingredient
	out := jsonMakes{
		ML: digits(float64(p.Yield)), ComputedML: digits(float64(p.Computed)), Keeps: p.Spec.Makes.Keeps.String(), Store: p.Spec.Makes.Store.String(),
		Density: digits(i.Figures[pantry.DensityGramsPerMillilitre].Value), Currency: i.Currency, Unpriced: append([]string{}, p.Unpriced...),
		Allergens: append([]string{}, i.Allergens...), Vegan: i.Vegan.String(),
	}
	if brix, _, ok := i.Brix(); ok {
		v := digits(brix)
		out.Brix = &v
	}
	if each, ok := i.PricePerUnit(); ok {
		v := digits(1000 * each)
		out.CostPerL = &v
	}
	return out
}
