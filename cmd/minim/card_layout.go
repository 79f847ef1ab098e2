package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// cardBook is what the page is filled with: one card, or those of a folder.
type cardBook struct {
	Title string
	// Book says that a folder was named: the page then begins with an index.
	Book  bool
	Cards []*card

	// files are where the drinks were read; skipped those of a folder that are no
	// drink, and why.
	files   []string
	skipped []skippedFile
}

// card is one drink, in the words and numbers that stand on its page.
type card struct {
	// Number counts the cards of a book from 1.
	Number int
	Name   string
	InBook bool
	// Facts are the figures under the name.
	Facts []cardFact
	// Before is what comes before the first pour, Build what follows, in order.
	Before string
	Build  []cardStep
	// Service is glass, ice, finish, allergens and cost.
	Service []cardFact
	// Vessel is the pours to scale, Aim target against got, InGlass the drink over
	// time; AimTitle, AimSays and InGlassSays the words above and below.
	Vessel, Aim, InGlass markup
	AimTitle, AimSays    string
	InGlassSays          string
	Batch                cardBatch
	// Broken are hard limits that the drink breaks, Care cautions, LocalRules what
	// goes before them, Dose what one drink holds, Notes what is known in part.
	Broken     []string
	Care       []cardCaution
	LocalRules string
	Dose       string
	Notes      string
	// Recipe is the drink for other programs, as JSON-LD.
	Recipe *pantry.Recipe

	answer *solver.Answer
	aim    *picture
	cost   *pricing
}

// cardFact is something with a name.
type cardFact struct{ Name, Says string }

// cardStep is a pour with its amount, or a step of the work in words.
type cardStep struct {
	// Place numbers the pours from 1; 0 for a step in words.
	Place        int
	Amount, Unit string
	Words, Note  string
}

// cardCaution is a caution apart from the allergens.
type cardCaution struct{ Title, Of, Text, Rule string }

// cardPart is the heading of a part of a card, one level deeper within a book.
type cardPart struct {
	Words  string
	InBook bool
}

// Part is called by the page for each heading.
func (c *card) Part(words string) cardPart { return cardPart{words, c.InBook} }

// ID is the place of the card within the page.
func (c *card) ID() string { return "drink-" + strconv.Itoa(c.Number) }

// longBuild is from how many pours on a sheet of paper is set closer.
const longBuild = 8

// Long says that the build takes more than its share of a sheet.
func (c *card) Long() bool { return len(c.answer.Pours) >= longBuild }

// Contents is what the index says of the drink: the ingredients in their order.
func (c *card) Contents() string {
	var names []string
	for _, step := range c.Build {
		if step.Place > 0 {
			names = append(names, step.Words)
		}
	}
	return strings.Join(names, ", ")
}

// newCard lays out a finished drink.
func newCard(a *solver.Answer, unit liquidUnit, sips []serving, cost *costFlags) (*card, error) {
	c := &card{answer: a, Dose: doseLine(a), LocalRules: profile.LocalRules}
	if cost.asked() {
		var err error
		if c.cost, err = cost.of(a.Cost); err != nil {
			return nil, err
		}
	}
	c.Facts = cardFacts(a, unit)
	c.Before, c.Build = buildSteps(a, unit)
	c.Service = c.service(a, unit)
	c.Batch = batchOf(a, unit)
	for _, b := range a.Broken {
		c.Broken = append(c.Broken, printable(fmt.Sprintf("The limit %q is broken: it comes to %s.", b.Written, unit.reached(&b))))
	}
	for i := range a.Cautions {
		if one := &a.Cautions[i]; one.Key != profile.AllergensKey {
			c.Care = append(c.Care, cardCaution{one.Title, printable(strings.Join(one.Ingredients, ", ")), one.Text, one.Rule})
		}
	}
	if len(a.Notes) > 0 {
		c.Notes = printable("Note: " + strings.Join(a.Notes, "; ") + ".")
	}
	var err error
	if c.Recipe, err = a.Recipe(); err != nil {
		return nil, err
	}
	return c, c.draw(a, unit, sips)
}

// draw makes the pictures of the card.
func (c *card) draw(a *solver.Answer, unit liquidUnit, sips []serving) error {
	var err error
	c.aim, c.AimTitle, c.AimSays = aimPicture(a)
	if c.Aim, err = pictureMarkup(c.aim); err != nil {
		return err
	}
	if c.Vessel, err = pictureMarkup(vesselPicture(a, unit)); err != nil {
		return err
	}
	over, says := inGlass(a, sips)
	c.InGlassSays = says
	c.InGlass, err = pictureMarkup(over)
	return err
}

// cardFacts are what the bar asks first. Strength is in whole or half percent, as
// on a menu; acid has the percent that the bar says.
func cardFacts(a *solver.Answer, unit liquidUnit) []cardFact {
	of := func(p profile.Property, text string) string {
		switch v := &a.Profile[p]; {
		case len(v.UnknownFrom) == 0:
			return text
		case v.Value == 0:
			return "unknown"
		}
		return "at least " + text
	}
	acid := a.Profile[profile.Acid].Value
	facts := []cardFact{
		{"in the glass", unit.volume(a.Profile[profile.Volume].Value)},
		{"strength", of(profile.Strength, trimmed(math.Round(2*a.Profile[profile.Strength].Value)/2, 1)+" % vol")},
		{"sugar", of(profile.Sugar, fixed(a.Profile[profile.Sugar].Value, 0)+" g/L")},
		{"acid", of(profile.Acid, fixed(acid, 1)+" g/L ("+fixed(acid/10, 1)+" %)")},
		{"served at", fixed(float64(a.Temperature), 0) + " °C"},
	}
	return facts
}

// buildSteps is the build in its order: what the mix goes into, the pours of the
// mix, the ice, and what goes on top.
func buildSteps(a *solver.Answer, unit liquidUnit) (before string, steps []cardStep) {
	said := a.Spec.BuildingSteps()
	mixed := len(a.Spec.Mix) > 0
	if mixed {
		before = said[0]
	}
	iced := false
	for i := range a.Pours {
		p := &a.Pours[i]
		if p.Stage == solver.OnTop && mixed && !iced {
			steps, iced = append(steps, cardStep{Words: said[1]}), true
		}
		steps = append(steps, pourStep(a.Spec, p, i+1, unit))
	}
	if mixed && !iced {
		steps = append(steps, cardStep{Words: said[1]})
	}
	if !unit.isOunce() {
		alignAmounts(steps)
	}
	return before, steps
}

// alignAmounts pads amounts with spaces as wide as a digit and a point, so that
// the points stand below one another.
func alignAmounts(steps []cardStep) {
	const digitSpace, pointSpace = "\u2007", "\u2008"
	amounts := make([]string, len(steps))
	for i := range steps {
		amounts[i] = steps[i].Amount
	}
	alignPoints(amounts)
	for i, text := range amounts {
		number := strings.TrimRight(text, " ")
		pad := len(text) - len(number)
		if pad > 0 && !strings.Contains(number, ".") {
			number, pad = number+pointSpace, pad-1
		}
		steps[i].Amount = number + strings.Repeat(digitSpace, pad)
	}
}

// pourStep is one pour: liquids in the unit of the page, what the bar counts or
// weighs as it does that.
func pourStep(spec *pantry.Spec, p *solver.PouredAmount, place int, unit liquidUnit) cardStep {
	step := cardStep{Place: place, Words: printable(p.Name)}
	var notes []string
	if p.Ingredient.Solid || counted(p.Amount.Unit) {
		text := p.Amount.String()
		cut := strings.LastIndexByte(text, ' ')
		step.Amount, step.Unit = text[:max(cut, 0)], text[cut+1:]
		if !p.Ingredient.Solid && p.Amount.Unit == pantry.Pieces {
			notes = append(notes, "about "+unit.number(p.Base)+" "+liquidUnits[unit].unit.String())
		}
	} else {
		step.Amount, step.Unit = unit.number(p.Base), liquidUnits[unit].unit.String()
	}
	if p.Stage == solver.OnTop && len(spec.Mix) > 0 {
		notes = append(notes, "on top")
	}
	for _, written := range spec.Pours() {
		if written.Name == p.Name && written.At != nil {
			notes = append(notes, "at "+trimmed(float64(*written.At), 1)+" °C")
		}
	}
	step.Note = strings.Join(notes, ", ")
	return step
}

// service is what is to be known for serving the drink.
func (c *card) service(a *solver.Answer, unit liquidUnit) []cardFact {
	var facts []cardFact
	if a.Spec.Glass > 0 {
		facts = append(facts, cardFact{"Glass", "holds " + unit.volume(float64(a.Spec.Glass)) + ", ice aside"})
	}
	ice := "none"
	if a.Spec.Ice.Method != profile.NoIce {
		ice = fmt.Sprintf("%s; about %s melts in", a.Spec.Ice.Method.Name(), unit.volume(float64(a.WaterMillilitres)))
	}
	facts = append(facts, cardFact{"Ice", ice})
	if len(a.Spec.Finish) > 0 {
		facts = append(facts, cardFact{"Finish", printable(strings.Join(a.Spec.Finish, ", "))})
	}
	allergens := "none listed; labels go before this list"
	for i := range a.Cautions {
		if one := &a.Cautions[i]; one.Key == profile.AllergensKey {
			allergens, _, _ = strings.Cut(one.Text, ". Labels go before")
		}
	}
	facts = append(facts, cardFact{"Allergens", printable(allergens)})
	if c.cost != nil {
		facts = append(facts, cardFact{"Cost", printable(c.cost.sentence(1))})
	}
	return facts
}

// remark names the files of a folder that are no drink, and says what should be
// known of the drink of a single card; a broken limit is always named.
func (b *cardBook) remark(w io.Writer) error {
	for _, one := range b.skipped {
		fmt.Fprintf(w, "%v\n", one.why)
	}
	broken := false
	for _, c := range b.Cards {
		for _, limit := range c.Broken {
			broken = true
			fmt.Fprintln(w, wrap("note: "+c.Name+": "+limit, lineWidth))
		}
		if b.Book {
			continue
		}
		for _, note := range c.answer.Notes {
			fmt.Fprintln(w, wrap("note: "+note, lineWidth))
		}
	}
	if broken {
		return errLimitBroke
	}
	return nil
}
