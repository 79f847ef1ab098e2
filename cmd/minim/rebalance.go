package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// changeFlags say what of a finished drink changes.
type changeFlags struct {
	swaps, adds, measured, keep, ignore, free []string
	lot                                       string
	more, less, from                          []string
	jug                                       string
}

var rebalanceCommand = command{
	name:     "rebalance",
	synopsis: "rebalance FILE",
	summary:  "keep a drink the same after a swap or a lot",
	about: `Keeps the profile of a finished drink when a bottle is swapped, or when this
week's limes are sharper. The new ingredient starts at the amount of the old
one; then as few other pours move as can, each by as little as can, until nobody
could taste a difference in what is computed. Nothing is spent that the swap
leaves as it was, and no pour goes below half or above double wherever that can
be helped. What cannot be put right is named. A volume that is let go (--ignore
volume) stays between 80 and 120 % of what it was.
With --spec the new spec says which drink it came from, so that small changes
never add up and swapping back gives the old spec.`,
	example: `minim rebalance examples/morning-tide.yaml --swap "lemon juice=lime juice"`,
	schema:  "rebalance",
	flags: func(f *flags) {
		f.set.StringArrayVar(&f.change.swaps, "swap", nil, "`\"A=B\"`: B takes the place of A; \"A=\" takes A away (repeatable)")
		f.set.StringArrayVar(&f.change.adds, "add", nil, "an ingredient that comes in, by its name: an `INGREDIENT` (repeatable)")
		f.set.StringVar(&f.change.lot, "lot", "", "the CSV `FILE` with the measurements of a new delivery, as minim pantry lot writes it")
		f.set.StringArrayVar(&f.change.measured, "measure", nil, "a new delivery's `READINGS`, such as \"lime juice: acid=52 g/L, brix=8.2\" (repeatable)")
		f.set.StringArrayVar(&f.change.keep, "keep", nil, "pours that do not move, `NAMES` with commas between")
		f.set.StringArrayVar(&f.change.ignore, "ignore", nil, "`PROPERTIES` that need not stay, with commas between")
		f.set.StringArrayVar(&f.change.free, "free", nil, "what may be added to put it right, `NAMES` such as \"saline, water\"")
		f.specFlags("print the new spec")
	},
	run: rebalance,
}

func rebalance(f *flags, s streams) error {
	if len(f.args) != 1 {
		return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	before, err := f.shelf(s)
	if err != nil {
		return err
	}
	q := solver.RebalanceQuestion{Before: before, Keep: commaList(f.change.keep), Free: commaList(f.change.free)}
	if q.Shelf, err = f.delivered(before, s); err != nil {
		return err
	}
	if q.Spec, err = f.readSpec(f.args[0], s); err != nil {
		return err
	}
	if q.Before, err = f.withPreps(q.Before, q.Spec); err != nil {
		return err
	}
	if q.Shelf, err = f.withPreps(q.Shelf, q.Spec); err != nil {
		return err
	}
	if q.Swaps, err = f.change.swapsNamed(); err != nil {
		return err
	}
	if err := f.change.measuredHere(q); err != nil {
		return err
	}
	if q.Ignore, err = propertiesNamed(f.change.ignore, "ignore"); err != nil {
		return err
	}
	changed, err := solver.Rebalance(q)
	if err != nil {
		return named(q.Spec, err)
	}
	return f.printChanged(changed, nil, s)
}

// measuredHere refuses a measurement of what neither the drink pours, nor a prep
// of it, nor a swap brings.
func (c *changeFlags) measuredHere(q solver.RebalanceQuestion) error {
	var names []string
	for _, p := range q.Spec.Pours() {
		names = append(names, p.Name)
	}
	poured := slices.Clone(names)
	for _, s := range q.Swaps {
		poured = append(poured, s.In)
	}
	poured = append(poured, q.Free...)
	for _, text := range c.measured {
		lot, err := lotIn(text)
		if err != nil {
			return err
		}
		measured, err := q.Shelf.Find(lot.Ingredient)
		if err != nil {
			return fmt.Errorf("--measure: %w", err)
		}
		if !slices.ContainsFunc(poured, func(name string) bool { return madeWith(q.Shelf, name, measured) }) {
			return fmt.Errorf("--measure: no %s in this drink; %s", lot.Ingredient, pantry.Suggest(lot.Ingredient, names, 1))
		}
	}
	return nil
}

// madeWith tells whether a name means the ingredient, or a prep that is made with it.
func madeWith(shelf *pantry.Shelf, name string, i *pantry.Ingredient) bool {
	found, err := shelf.Find(name)
	if name == "" || err != nil {
		return false
	}
	if prep, ok := shelf.Prep(found); ok && found != i {
		return slices.ContainsFunc(prep.Spec.Pours(), func(p pantry.Pour) bool { return madeWith(shelf, p.Name, i) })
	}
	return found == i
}

// swapsNamed reads --swap and --add.
func (c *changeFlags) swapsNamed() ([]solver.Swap, error) {
	var swaps []solver.Swap
	for _, text := range c.swaps {
		out, in, found := strings.Cut(text, "=")
		out, in = strings.TrimSpace(out), strings.TrimSpace(in)
		if !found || out == "" {
			return nil, fmt.Errorf("--swap %q; expected what goes and what comes, such as \"lime juice=lemon juice\", or \"lime juice=\"", text)
		}
		swaps = append(swaps, solver.Swap{Out: out, In: in})
	}
	for _, name := range commaList(c.adds) {
		swaps = append(swaps, solver.Swap{In: name})
	}
	return swaps, nil
}

// propertiesNamed reads a list of properties.
func propertiesNamed(lists []string, flag string) ([]profile.Property, error) {
	var out []profile.Property
	for _, name := range commaList(lists) {
		p, ok := profile.PropertyNamed(name)
		if n, tasted := tasteWords[pantry.Fold(name)]; !ok && tasted {
			p, ok = n.Property, true
		}
		if !ok {
			return nil, fmt.Errorf("--%s: no property %q; %s", flag, name, pantry.Suggest(name, profile.PropertyNames(), 2))
		}
		out = append(out, p)
	}
	return out, nil
}

// delivered is the shelf with the new delivery on it; the same shelf where there
// is none.
func (f *flags) delivered(before *pantry.Shelf, s streams) (*pantry.Shelf, error) {
	var lots []pantry.Lot
	if f.change.lot != "" {
		var err error
		if lots, err = readLots(f.change.lot, s); err != nil {
			return nil, err
		}
	}
	for _, text := range f.change.measured {
		lot, err := lotIn(text)
		if err != nil {
			return nil, err
		}
		lots = append(lots, lot)
	}
	if len(lots) == 0 {
		return before, nil
	}
	shelf, _, err := before.WithLots(lots)
	return shelf, err
}

// lotIn reads "lime juice: acid=52 g/L, brix=8.2".
func lotIn(text string) (pantry.Lot, error) {
	lot := pantry.Lot{Place: pantry.Place{File: "--measure"}}
	name, readings, found := strings.Cut(text, ":")
	lot.Ingredient = strings.TrimSpace(name)
	if !found || lot.Ingredient == "" {
		return lot, fmt.Errorf("--measure %q; expected an ingredient and its readings, such as \"lime juice: acid=52 g/L\"", text)
	}
	for _, reading := range commaList([]string{readings}) {
		figure, value, found := strings.Cut(reading, "=")
		n, known := figureNamed(strings.TrimSpace(figure))
		if !found || !known {
			return lot, fmt.Errorf("--measure %q; expected one of brix, acid, ph, abv and density, then = and what was read", reading)
		}
		r, err := pantry.ParseLotFigure(n, strings.TrimSpace(value))
		if err != nil {
			return lot, fmt.Errorf("--measure: %s: %w", figure, err)
		}
		if lot.Readings[n].Known {
			return lot, fmt.Errorf("--measure %q; expected %s once", text, figure)
		}
		lot.Readings[n] = r
	}
	if lot.Readings == ([pantry.LotFigures]pantry.Reading{}) {
		return lot, errors.New("--measure: nothing measured of " + lot.Ingredient + "; expected a reading such as acid=52 g/L")
	}
	day, err := pantry.ParseDate(time.Now().Format(time.DateOnly))
	lot.Date = day
	return lot, err
}

func figureNamed(word string) (pantry.LotFigure, bool) {
	for n, name := range lotFlagNames {
		if strings.EqualFold(name, word) {
			return pantry.LotFigure(n), true
		}
	}
	return 0, false
}
