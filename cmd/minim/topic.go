package main

import (
	"fmt"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// topic is something that the help explains beside the commands. Its numbers
// come from the tables that the program counts with.
type topic struct {
	name, summary string
	text          func() string
}

// topics is every topic, in the order of the help.
func topics() []topic {
	return []topic{
		{"units", "the units of amounts and what each holds", unitsTopic},
		{"targets", "what can be aimed at, and how it is written", targetsTopic},
		{"measures", "the steps in which amounts are given", measuresTopic},
		{"jnd", "how small a difference can be tasted", jndTopic},
		{"method", "how an answer is found, and what --json says of it", methodTopic},
	}
}

func topicNames() []string {
	var all []string
	for _, t := range topics() {
		all = append(all, t.name)
	}
	return all
}

// topicNamed finds a topic in either case: jnd and JND.
func topicNamed(name string) (topic, bool) {
	all := topics()
	n := slices.IndexFunc(all, func(t topic) bool { return strings.EqualFold(t.name, name) })
	if n < 0 {
		return topic{}, false
	}
	return all[n], true
}

func topicCandidates() []candidate {
	var all []candidate
	for _, t := range topics() {
		all = append(all, candidate{t.name, t.summary})
	}
	return all
}

// page puts paragraphs and tables below one another.
func page(parts ...string) string {
	return trimLines(strings.Join(parts, "\n"))
}

func text(format string, values ...any) string {
	return wrap(fmt.Sprintf(format, values...), lineWidth) + "\n"
}

// tableText is a table as text.
func tableText(columns []tableColumn, rows [][]string) string {
	var b strings.Builder
	if err := writeTable(&b, columns, rows); err != nil {
		panic("minim: " + err.Error())
	}
	return b.String()
}

// sizeOf is what one of a unit holds or weighs, in ml or g, to four digits.
func sizeOf(u pantry.Unit) (size, unit string) {
	switch {
	case u.Millilitres() > 0:
		return significant(float64(u.Millilitres()), 4), "ml"
	case u.Grams() > 0:
		return significant(float64(u.Grams()), 4), "g"
	}
	return "its own", ""
}

func unitsTopic() string {
	var rows [][]string
	for _, u := range pantry.Units() {
		size, unit := sizeOf(u)
		words := u.Words()
		rows = append(rows, []string{u.String(), size, unit, strings.Join(words[:min(3, len(words))], ", ")})
	}
	return page(
		text("An amount is a number and a unit: 45 ml, 1 ½ oz, 2 dashes, 0.5 g, 1 piece. The decimal mark is a point."),
		tableText([]tableColumn{{heading: "unit"}, {heading: "one is", right: true}, {heading: ""}, {heading: "also written"}}, rows),
		text("An ounce is a fluid ounce, the US one unless imp stands before it. Dashes, drops, barspoons and pinches differ from house to house; "+
			"minim pantry measure dash weighs yours. A piece, such as one egg white, is as large as the pantry says of that ingredient."),
		text("Amounts and g/L are those at 20 °C, and pH that at 25 °C. --units oz prints amounts in US fluid ounces, in quarters."),
	)
}

func targetsTopic() string {
	var rows [][]string
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		aimed := "aim, band or limit"
		if _, ok := p.JND(); !ok && p != profile.Volume {
			aimed = "limit; an aim needs its ±"
		}
		rows = append(rows, []string{p.Name(), pantry.TargetUnits(p), aimed})
	}
	return page(
		text("What a drink can be aimed at, under target: in a spec or by a flag of minim design."),
		tableText([]tableColumn{{heading: "property"}, {heading: "written in"}, {heading: "as"}}, rows),
		text("An aim is a number: abv: 18 %%. A band is two with dots between, and costs nothing inside: sugar: 65..70 g/L. A limit is never passed: "+
			"bitter: at most 15 mg/L, or at least. An aim and a limit go together: 6 mg/L, at most 20 mg/L."),
		text("An aim may say that it matters more, acid: 6.5 g/L, weight 2, or how far off is still right, 6.5 g/L ± 0.3. "+
			"like: other.yaml takes the profile of another drink, and what is written under target goes before it."),
		text("The dilution is the ml of water that melt into each 100 ml of the mix before ice, top not counted: 50 ml of melt in a mix of 89 ml is 56 %%. "+
			"It is no share of the finished drink, of which that water is 36 %%."),
	)
}

func measuresTopic() string {
	quarter := 0.25 * float64(profile.USFluidOunce)
	var rows [][]string
	for _, u := range []pantry.Unit{pantry.Dashes, pantry.Drops, pantry.Barspoons, pantry.Teaspoons, pantry.Pinches} {
		size, unit := sizeOf(u)
		part, _ := solver.HandErrorPart(u)
		rows = append(rows, []string{"1 " + u.String(), size, unit, fixed(100*part, 0) + " %"})
	}
	piece, _ := solver.HandErrorPart(pantry.Pieces)
	return page(
		text("A measure is a step that your bar can really pour. Unless something else is said, liquids come in steps of %s, and with --units oz in quarter ounces, "+
			"which is %s ml.", pantry.DefaultMeasure, fixed(quarter, 2)),
		text("measure: 5 ml in a spec, or --measure 5ml, changes the step of every liquid that has none of its own. An ingredient has its own where the pantry says so: "+
			"bitters come in dashes, egg white in pieces, salt in tenths of a gram. The column measure of your CSV sets it."),
		tableText([]tableColumn{{heading: "measure"}, {heading: "taken as", right: true}, {heading: ""}, {heading: "the hand is off by", right: true}}, rows),
		text("A jigger is off by %s ml, or %s %% of the amount where that is more, a scale by %s g, a piece by %s %% of its size. Two pours in three come nearer "+
			"than that, one in three does not: it is common practice, no source, and how far serves come apart is counted with it.",
			fixed(float64(solver.JiggerError), 2), fixed(100*solver.JiggerErrorPart, 0), fixed(float64(solver.ScaleError), 2), fixed(100*piece, 0)),
		text("minim pantry measure dash finds the size of yours by counting and weighing. Amounts are rounded once, at the end: what is printed is the profile of "+
			"the drink that is poured, not of the exact one before rounding. minim reach alone counts with amounts of any size."),
	)
}

// examples of levels at which a JND is worked out, within what drinks have.
var jndLevels = map[profile.Property]float64{
	profile.Strength: 18, profile.Sugar: 80, profile.Sweetness: 80, profile.Acid: 8, profile.Salt: 1, profile.Bitter: 20, profile.Umami: 1,
	profile.Temperature: 0, profile.CarbonDioxide: 5, profile.Viscosity: 2,
}

func jndTopic() string {
	var rows [][]string
	var none []string
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		j, ok := p.JND()
		if !ok {
			none = append(none, p.Name())
			continue
		}
		level := jndLevels[p]
		rows = append(rows, []string{p.Name(), p.Unit(), fixed(j.Threshold, 2), fixed(100*j.WeberFraction, 0) + " %", trimmed(level, 0), fixed(j.Size(level), 2)})
	}
	var words [][]string
	for _, step := range []struct {
		miss float64
		said string
	}{{0, "below 0.5"}, {0.5, "0.5 to 1"}, {1, "1 to 2"}, {2, "2 and more"}} {
		words = append(words, []string{step.said, profile.Noticed(step.miss)})
	}
	return page(
		text("A JND, a just-noticeable difference, is the smallest change that one taster in one comparison names correctly three times in four. "+
			"It has a least size, and grows with what is already there: at a level c it is the root of (least size)² + (share × c)²."),
		tableText([]tableColumn{
			{heading: "property"},
			{heading: "unit"},
			{heading: "least", right: true},
			{heading: "share", right: true},
			{heading: "so at", right: true},
			{heading: "one JND is", right: true},
		}, rows),
		text("No JND is known of %s.", list(none)),
		tableText([]tableColumn{{heading: "off by, JND"}, {heading: "said of it"}}, words),
		text("Laboratories differ by a factor of two, and so do people. Several small misses add up as the root of the sum of their squares."),
	)
}

func methodTopic() string {
	return page(
		text("The drink is a list of what is in it, and mixing adds lists; volumes do not add, and are computed from the densities. The melt of the ice follows from its heat."),
		text("The objective is the sum of the squared misses, each in JND at its target and times its weight. First it is minimised over amounts of any size within the limits, "+
			"by a Gauss-Newton method with the analytic Jacobian; kkt in the JSON is how far that point is from satisfying the conditions of an optimum."),
		text("Then the measures are searched by branch and bound. bound is what no feasible drink on the measures can go below, nodes how many boxes were looked at; proven says that "+
			"the search was finished. Of all drinks that nobody could tell from the best, the one with the least untargeted salt, acid, sugar, bitterness and umami, "+
			"then the fewest ingredients is taken; preference_proven says that these were all looked at."),
		text("price in limits is by how many JND the total miss would fall for one unit more room. Nothing is random without a fixed seed: the same question gives the same bytes. "+
			"minim schema design describes every key."),
	)
}
