package main

import (
	"errors"
	"fmt"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// lightenFlags are the words of minim lighten.
type lightenFlags struct {
	abv, ethanol, below string
	frontier            bool
	steps               int
	at                  string
	with, keep          []string
}

var lightenCommand = command{
	name:     "lighten",
	synopsis: "lighten FILE",
	summary:  "a weaker drink that keeps the rest",
	about: `Takes alcohol out of a finished drink and keeps its volume, sugar, acid, salt,
bitterness and umami as near as can be, in JND. Part of the alcohol may be
replaced: with water, tea, verjus, syrup and weaker relatives from the shelf, or
with what --with names. It says what goes with the alcohol and what to try by
tasting. With --frontier it goes from the full strength down to none, or to what
the pours that are kept hold; any of these points is printed in full with --at.`,
	example: `minim lighten examples/high-water.yaml --abv 12`,
	schema:  "lighten",
	flags: func(f *flags) {
		f.set.StringVar(&f.lighten.abv, "abv", "", "at most so much alcohol, in `% vol`, such as 8%; at 0 nothing alcoholic is poured")
		f.set.StringVar(&f.lighten.ethanol, "ethanol", "", "at most so many `GRAMS` of ethanol in the drink, such as 10g")
		f.set.StringVar(&f.lighten.below, "below", "", "less alcohol than so much, in `% vol`, such as 0.5%")
		f.set.BoolVar(&f.lighten.frontier, "frontier", false, "from the full strength to none, or to what is kept, in steps")
		f.set.IntVar(&f.lighten.steps, "steps", 8, "how `MANY` steps the frontier has, 2 to 50")
		f.set.StringVar(&f.lighten.at, "at", "", "with --frontier: print the drink at this strength, in `% vol`, in full")
		f.set.StringVar(&f.svg, "svg", "", "with --frontier: draw it into this `FILE`")
		f.set.StringArrayVar(&f.lighten.with, "with", nil, "what may take the place of alcohol, `NAMES` with commas between, instead of what the shelf suggests")
		f.set.StringArrayVar(&f.lighten.keep, "keep", nil, "pours that stay as they are, `NAMES` with commas between")
		f.specFlags("print the weaker drink")
	},
	run: lighten,
}

func lighten(f *flags, s streams) error {
	if len(f.args) != 1 {
		return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	q := solver.LightenQuestion{With: commaList(f.lighten.with), Keep: commaList(f.lighten.keep)}
	if err := f.readStrength(&q); err != nil {
		return err
	}
	var err error
	if q.Shelf, err = f.shelf(s); err != nil {
		return err
	}
	if q.Spec, err = f.readSpec(f.args[0], s); err != nil {
		return err
	}
	if q.Shelf, err = f.withPreps(q.Shelf, q.Spec); err != nil {
		return err
	}
	if f.lighten.frontier && f.lighten.at == "" {
		frontier, err := solver.Trace(q, f.lighten.steps)
		if err != nil {
			return named(q.Spec, err)
		}
		return f.printFrontier(frontier, s)
	}
	answer, err := solver.Lighten(q)
	if err != nil {
		return named(q.Spec, err)
	}
	return f.printLightened(answer, s)
}

// readStrength reads how much alcohol is left, which is asked for in one way.
func (f *flags) readStrength(q *solver.LightenQuestion) error {
	asked := 0
	q.Property = profile.Strength
	for _, one := range []struct {
		flag, text string
		property   profile.Property
		part       float64
	}{
		{"abv", f.lighten.abv, profile.Strength, 1},
		{"ethanol", f.lighten.ethanol, profile.Ethanol, 1},
		{"below", f.lighten.below, profile.Strength, belowPart},
		{"at", f.lighten.at, profile.Strength, 1},
	} {
		if !f.given(one.flag) {
			continue
		}
		asked++
		t, err := pantry.ParseTarget("at most "+one.text, one.property)
		if err != nil || t.AtMost == nil {
			return fmt.Errorf("--%s %q; expected a number of 0 or more in %s, such as 8", one.flag, one.text, one.property.Unit())
		}
		if one.flag == "below" && *t.AtMost <= 0 {
			return errors.New("nothing is below 0; expected --abv 0 for a drink without alcohol")
		}
		q.Property, q.Most = one.property, *t.AtMost*one.part
	}
	frontier := f.lighten.frontier
	switch {
	case !frontier && (f.given("at") || f.given("svg") || f.given("steps")):
		return errors.New("--at, --svg and --steps belong to --frontier; expected that beside them")
	case f.given("at") && f.given("svg"):
		return errors.New("--at and --svg were both given; expected the one or the other")
	case frontier && asked > 1 || frontier && asked == 1 && !f.given("at"):
		return errors.New("--frontier goes through every strength; expected no --abv, --ethanol or --below beside it")
	case !frontier && asked != 1:
		return errors.New("expected one of --abv 8%, --ethanol 10g, --below 0.5% or --frontier")
	case frontier && f.spec && !f.given("at"):
		return errors.New("--spec prints one drink; expected --at beside it to say which, such as --at 8%")
	case f.given("svg"):
		return f.checkPicture(f.args[0])
	}
	return nil
}

// belowPart is what a strength is multiplied with to stay below it by less than
// anyone measures.
const belowPart = 0.9999

// printLightened writes a weaker drink as the flags ask for it.
func (f *flags) printLightened(l *solver.Lightened, s streams) error {
	var err error
	unit := f.liquidUnit(l.Spec)
	switch {
	case f.spec:
		err = f.writeSpec(l.Spec, s)
	case f.json:
		err = writeLightenedJSON(s.out, l)
	default:
		careless := *l.Answer
		careless.Cautions = nil // they come last, after what changed
		if err = writeAnswer(s.out, &careless, unit); err == nil {
			err = writeLightened(s.out, l, unit)
		}
	}
	return f.remarks(l.Answer, s, err)
}
