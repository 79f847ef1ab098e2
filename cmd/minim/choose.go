package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// choiceFlags say which ingredients may be chosen, and how many.
type choiceFlags struct {
	atMost, alternatives int
	must, noneOf, oneOf  []string
	mostCost             string
}

func (f *flags) choiceFlags() {
	c := &f.chosen
	f.set.IntVar(&c.atMost, "at-most", 0, "choose the ingredients too, at most `N` of those of --from or, without it, of the whole pantry")
	f.set.StringArrayVar(&c.must, "must", nil, "ingredients that have to be chosen, `NAMES` with commas between")
	f.set.StringArrayVar(&c.oneOf, "one-of", nil, "ingredients or a category of which exactly one is chosen, `NAMES` with commas between; may be given again")
	f.set.StringArrayVar(&c.noneOf, "none-of", nil, "ingredients, categories or allergens not to choose, `KINDS` with commas between; \"animal products\" and \"out of stock\" are two")
	f.set.StringVar(&c.mostCost, "most-cost", "", "the most that the liquid of a serve may cost, `MONEY` in the currency of your prices")
	f.set.IntVar(&c.alternatives, "alternatives", 0, "also name `N` other sets of ingredients, the nearest first")
}

// mostAlternatives is how many other sets may be asked for.
const mostAlternatives = 20

// checkChoice refuses flags of a choice that say nothing by themselves.
func (f *flags) checkChoice() error {
	c := &f.chosen
	switch {
	case f.given("alternatives") && (c.alternatives < 1 || c.alternatives > mostAlternatives):
		return fmt.Errorf("--alternatives %d; expected a number from 1 to %d", c.alternatives, mostAlternatives)
	case f.given("at-most") && (c.atMost < 1 || c.atMost > pantry.MostChosen):
		return fmt.Errorf("--at-most %d; expected a number from 1 to %d", c.atMost, pantry.MostChosen)
	case c.atMost == 0 && (len(c.must) > 0 || len(c.oneOf) > 0 || len(c.noneOf) > 0 || c.mostCost != ""):
		return errors.New("--must, --one-of, --none-of and --most-cost go with --at-most: how many ingredients to choose")
	}
	return nil
}

// offeredOrChosen turns --from into optional pours or, beside --at-most, into a
// choice.
func (f *flags) offeredOrChosen(spec *pantry.Spec, shelf *pantry.Shelf) ([]*pantry.Ingredient, error) {
	if f.chosen.atMost == 0 {
		return f.offered(spec, shelf)
	}
	must := commaList(f.chosen.must)
	spec.Choose = &pantry.Choose{
		AtMost: f.chosen.atMost, From: commaList(f.from), NoneOf: commaList(f.chosen.noneOf),
		Place: pantry.Place{File: "--at-most " + strconv.Itoa(f.chosen.atMost)},
	}
	for _, names := range f.chosen.oneOf {
		if group := commaList([]string{names}); len(group) > 0 {
			spec.Choose.OneOf = append(spec.Choose.OneOf, group)
		}
	}
	for _, names := range append(spec.Choose.OneOf, must, spec.Choose.From, spec.Choose.NoneOf) {
		if len(names) > pantry.MostNames {
			return nil, fmt.Errorf("%d names to choose from or to rule out; expected at most %d: name a category, such as juice", len(names), pantry.MostNames)
		}
	}
	spec.Choose.Must = distinct(must)
	if len(spec.Choose.Must) > spec.Choose.AtMost {
		return nil, fmt.Errorf("--must names %d ingredients, --at-most allows %d", len(spec.Choose.Must), spec.Choose.AtMost)
	}
	if f.chosen.mostCost != "" {
		cost, err := pantry.ParseMostCost(f.chosen.mostCost)
		if err != nil {
			return nil, fmt.Errorf("--most-cost: %w", err)
		}
		spec.Choose.MostCost = cost
	}
	return solver.Offered(spec.Choose, shelf)
}

// distinct leaves out names that were there before.
func distinct(names []string) []string {
	var out []string
	for _, name := range names {
		if !slices.ContainsFunc(out, func(n string) bool { return pantry.Fold(n) == pantry.Fold(name) }) {
			out = append(out, name)
		}
	}
	return out
}

// commaList takes lists of names apart at their commas.
func commaList(lists []string) []string {
	var names []string
	for _, text := range lists {
		for name := range strings.SplitSeq(text, ",") {
			if name = strings.TrimSpace(name); name != "" {
				names = append(names, name)
			}
		}
	}
	return names
}

// choiceSentence says how the ingredients were chosen.
func choiceSentence(a *solver.Answer) string {
	c := a.Chosen
	text := fmt.Sprintf("Chosen: %d of %d offered, with at most %d allowed.", c.Count, c.Offered, c.AtMost)
	switch {
	case c.NearestProven && c.FewestProven && c.Count < c.AtMost:
		text += " No choice comes closer by anything that could be tasted, and no fewer taste like it."
	case c.NearestProven && c.FewestProven:
		text += " No other choice comes closer by anything that could be tasted."
	case c.NearestProven:
		text += " No choice comes closer by anything that could be tasted; whether fewer would do was not settled."
	default:
		text += " The search was cut short: a closer choice is not ruled out."
	}
	if c.Cost > 0 {
		text += fmt.Sprintf(" The liquid of a serve costs %s %s.", fixed(c.Cost, 2), c.Currency)
	}
	return text
}

// writeAlternatives lists other sets of ingredients for the same target.
func writeAlternatives(b *strings.Builder, a *solver.Answer, unit liquidUnit) error {
	var rows [][]string
	for i := range a.Alternatives {
		other := &a.Alternatives[i]
		var pours []string
		for j := range other.Pours {
			p := &other.Pours[j]
			amount := p.Amount.String()
			if !p.Ingredient.Solid && !counted(p.Amount.Unit) {
				amount = unit.sized(p.Base)
			}
			pours = append(pours, amount+" "+p.Name)
		}
		for n, line := range strings.Split(wrap(strings.Join(pours, ", "), alternativeWidth), "\n") {
			row := []string{"", line, "", ""}
			if n == 0 {
				row = []string{strconv.Itoa(i + 1), line, fixed(other.TotalJND, 1), profile.Noticed(other.TotalJND)}
			}
			rows = append(rows, row)
		}
	}
	b.WriteString("\n")
	err := writeTable(b, []tableColumn{
		{heading: "or", right: true}, {heading: "pour"}, {heading: "JND", right: true}, {heading: "a taster"},
	}, rows)
	if text := nearerSentence(a); err == nil && text != "" {
		b.WriteString("\n" + wrap(text, lineWidth) + "\n")
	}
	return err
}

// nearerSentence says why a set that comes nearer was not the first choice.
func nearerSentence(a *solver.Answer) string {
	for i := range a.Alternatives {
		other := &a.Alternatives[i]
		more := len(other.Pours) - len(a.Pours)
		if a.TotalJND-other.TotalJND < shownNearer {
			continue
		}
		switch {
		case more == 1:
			return "Number " + strconv.Itoa(i+1) + " comes nearer, with one ingredient more."
		case more > 1:
			return fmt.Sprintf("Number %d comes nearer, with %d ingredients more.", i+1, more)
		case a.Chosen != nil && !a.Chosen.NearestProven:
			return fmt.Sprintf("Number %d comes nearer: the search for the first was cut short.", i+1)
		}
	}
	return ""
}

// shownNearer is how many JND nearer a set is before one decimal shows it.
const shownNearer = 0.05

// alternativeWidth leaves room for the other columns.
const alternativeWidth = 44
