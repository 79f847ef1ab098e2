package main

import (
	"fmt"
	"math"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// batchFlags are the words that say how a batch is made.
type batchFlags struct {
	serves, litres, bottle, bottles, keg, headSpace string
	scale, dilute, fresh                            string
}

var batchCommand = command{
	name:     "batch",
	synopsis: "batch FILE",
	summary:  "one drink for many: the sheet, by weight first",
	about: `Makes a finished drink for many serves: what to weigh and in which order, water
in the place of the ice's where it is diluted beforehand, what is added to each
serve, what the instruments should read, how it keeps, a label, and what to buy.
Amounts are found on the steps of the scale, so that the batch is no further
from its target than the serve times so many. What is open is solved first.

A batch is given in --serves, --litres, --bottle with or without --bottles, or
--keg. Fresh juice, egg, dairy, what keeps 3 days at most, what is carbonated
and what goes in after the ice are added at service.

  --dilute none    each serve is made on ice, as the spec says
  --dilute full    all of the ice's water is measured in; poured cold, no ice
  --dilute fridge  part of it: the batch comes to the ice at 5 °C

Unsaid, a stirred drink with nothing fresh in it is diluted in full, any other
is not, and the sheet says why.

A prep, such as a syrup, is made in --litres, --bottle or --keg: what is
weighed, then its steps, measured for the whole of it.`,
	example: `minim batch examples/slack-water.yaml --bottle 700ml --bottles 6`,
	schema:  "batch",
	flags: func(f *flags) {
		b := &f.batch
		f.set.StringVar(&b.serves, "serves", "", "how `MANY` serves, such as 40")
		f.set.StringVar(&b.litres, "litres", "", "how `MANY` litres are mixed beforehand, such as 5")
		f.set.StringVar(&b.bottle, "bottle", "", "what one bottle is filled with, a `VOLUME` such as 700ml")
		f.set.StringVar(&b.bottles, "bottles", "", "how `MANY` bottles; unsaid, what --serves takes, or one")
		f.set.StringVar(&b.keg, "keg", "", "the `VOLUME` of a keg, such as 19l")
		f.set.StringVar(&b.headSpace, "head-space", "10%", "the `PART` of a keg that stays empty")
		f.set.StringVar(&b.scale, "scale", "1g", "the `STEP` of the scale; powders, bitters and salines are weighed to 0.1 g at least")
		f.set.StringVar(&b.dilute, "dilute", "", "the `WAY` of diluting: none, full or fridge")
		f.set.StringVar(&b.fresh, "fresh", "out", "`WHERE` fresh things go: out or in; out adds them at service, in mixes them beforehand, for 3 days at most")
		f.costFlags()
	},
	run: func(f *flags, s streams) error {
		if len(f.args) != 1 {
			return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
		}
		for _, one := range [][2]string{{"bottle", f.batch.bottle}, {"keg", f.batch.keg}} {
			if err := f.bareVolume(one[0], one[1]); err != nil {
				return err
			}
		}
		q, err := f.batch.question()
		if err != nil {
			return err
		}
		shelf, err := f.shelf(s)
		if err != nil {
			return err
		}
		if q.Question, err = f.question(f.args[0], shelf, s); err != nil {
			return err
		}
		if q.Spec.Makes != nil {
			return f.batchPrep(q, s)
		}
		batch, err := solver.MakeBatch(*q)
		if err != nil {
			return named(q.Spec, err)
		}
		cost, err := f.cost.of(batch.Cost)
		if err != nil {
			return err
		}
		return f.printBatch(batch, cost, s)
	},
}

// question reads the flags.
func (b *batchFlags) question() (*solver.BatchQuestion, error) {
	q := &solver.BatchQuestion{}
	var err error
	whole := func(name, text string) int {
		if text == "" || err != nil {
			return 0
		}
		n, _, wrong := pantry.ParseQuantity(text, pantry.Counts)
		if wrong != nil || n < 1 || n != math.Trunc(n) || n > math.MaxInt32 {
			err = fmt.Errorf("--%s %q; expected a whole number of 1 or more, such as 40", name, text)
		}
		return int(n)
	}
	volume := func(name, text string) profile.Millilitre {
		if text == "" || err != nil {
			return 0
		}
		v, wrong := pantry.ParseVolume(text)
		if wrong != nil {
			err = fmt.Errorf("--%s: %w", name, wrong)
		}
		return v
	}
	quantity := func(name, text string, units pantry.Quantities, least, below float64, expected string) float64 {
		if text == "" || err != nil {
			return 0
		}
		v, _, wrong := pantry.ParseQuantity(text, units)
		if wrong != nil || v < least || v >= below {
			err = fmt.Errorf("--%s %q; expected %s", name, text, expected)
		}
		return v
	}
	q.Size = solver.BatchSize{
		Serves: whole("serves", b.serves), Bottle: volume("bottle", b.bottle), Bottles: whole("bottles", b.bottles), Keg: volume("keg", b.keg),
		Volume:    profile.Millilitre(1000 * quantity("litres", b.litres, pantry.Quantities{"": 1, "l": 1}, 0.01, 1e6, "a number of litres, such as 5")),
		HeadSpace: quantity("head-space", b.headSpace, pantry.Quantities{"": 1, "%": 1}, 0, 100, "from 0% to less than 100%, such as 10%"),
	}
	q.Scale = profile.Gram(quantity("scale", b.scale, pantry.Masses, 0.01, 100.5, "the smallest step that the scale shows, from 0.01g to 100g, such as 1g"))
	if err != nil {
		return nil, err
	}
	ways := map[string]solver.Diluting{"": solver.AsUsual, "none": solver.Undiluted, "full": solver.FullyDiluted, "fridge": solver.DilutedForTheFridge}
	way, ok := ways[b.dilute]
	if !ok {
		return nil, fmt.Errorf("--dilute %q; expected none, full or fridge", b.dilute)
	}
	if err := q.Size.Check(); err != nil {
		return nil, fmt.Errorf("%w; the flags are --serves, --litres, --bottle, --bottles and --keg", err)
	}
	if b.fresh != "in" && b.fresh != "out" {
		return nil, fmt.Errorf("--fresh %q; expected in or out", b.fresh)
	}
	q.Diluting, q.FreshIn = way, b.fresh == "in"
	return q, nil
}

// printBatch writes a batch as the flags ask for it.
func (f *flags) printBatch(b *solver.Batch, cost *pricing, s streams) error {
	var err error
	if f.json {
		err = writeBatchJSON(s.out, b, cost)
	} else {
		if len(cost.Parts) == 0 && !f.cost.asked() {
			cost = nil
		}
		err = writeBatch(s.out, b, cost, f.liquidUnit(b.Serve.Spec))
	}
	if err != nil {
		return &writeError{err}
	}
	for _, note := range b.Serve.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	if len(b.Serve.Broken) > 0 {
		return errLimitBroke
	}
	return nil
}
