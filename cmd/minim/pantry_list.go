package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

// listFlags say which ingredients are wanted.
type listFlags struct {
	category, confidence   string
	with, withoutAllergens []string
	vegan, inStock, csv    bool
}

var pantryListCommand = command{
	name:     "pantry list",
	synopsis: "pantry list",
	summary:  "the ingredients of a category, strength, acidity, confidence …",
	about: `Lists what is on the shelf. --with compares a property as "acid>=20" or
"abv<1": abv, sugar, sweetness, acid, salt, umami, co2 per litre (of solids per
kilogram), bitter in mg, energy and caffeine in 100 ml or g, ph, density, brix.
A property that is not known meets no condition.`,
	example: `minim pantry list --category juice --with "acid>=20" --without-allergen milk`,
	schema:  "pantry-list",
	flags: func(f *flags) {
		l := &f.list
		f.set.StringVar(&l.category, "category", "", "only those of the `CATEGORY`")
		f.set.StringArrayVar(&l.with, "with", nil, "only those of which `CONDITION` is true, such as acid>=20 (repeatable)")
		f.set.StringArrayVar(&l.withoutAllergens, "without-allergen", nil, "only those that do not list the `ALLERGEN` (repeatable)")
		f.set.BoolVar(&l.vegan, "vegan", false, "only those that are known to be vegan")
		f.set.StringVar(&l.confidence, "confidence", "", "only those of which the figures are as the `WORD` says: seen, computed, memory or estimate")
		f.set.BoolVar(&l.inStock, "in-stock", false, "leave out what your own CSV says is out of stock")
		f.set.BoolVar(&l.csv, "csv", false, "print the list as CSV")
	},
	run: listPantry,
}

func listPantry(f *flags, s streams) error {
	switch {
	case len(f.args) > 0:
		return fmt.Errorf("%q; expected flags alone", f.args[0])
	case f.json && f.list.csv:
		return fmt.Errorf("--json and --csv were both given; expected the one or the other")
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	choice, err := f.choice(shelf)
	if err != nil {
		return err
	}
	chosen := choice.Of(shelf)
	switch {
	case f.json:
		err = writeValue(s.out, listJSON(shelf, chosen))
	case f.list.csv:
		err = writeListCSV(s.out, chosen)
	default:
		err = writeList(s.out, chosen)
	}
	if err != nil {
		return &writeError{err}
	}
	for _, note := range chosen.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	return nil
}

// choice is what the flags ask for.
func (f *flags) choice(shelf *pantry.Shelf) (*pantry.Choice, error) {
	c := &pantry.Choice{Vegan: f.list.vegan, InStock: f.list.inStock}
	if f.list.category != "" {
		category, ok := pantry.WordAmong(f.list.category, shelf.Categories())
		if !ok {
			all := shelf.Categories()
			return nil, fmt.Errorf("--category %q; nearest: %s; expected one of %s", f.list.category, strings.Join(pantry.Nearest(f.list.category, all, 1), ""), strings.Join(all, ", "))
		}
		c.Category = category
	}
	for _, text := range f.list.with {
		condition, err := pantry.ParseCondition(text)
		if err != nil {
			return nil, fmt.Errorf("--with %w", err)
		}
		c.With = append(c.With, condition)
	}
	for _, text := range f.list.withoutAllergens {
		allergen, ok := pantry.AllergenNamed(text)
		if !ok {
			return nil, fmt.Errorf("--without-allergen %q; expected one of the law's words, nearest: %s", text, strings.Join(pantry.Nearest(text, pantry.AllergenNames(), 3), ", "))
		}
		c.WithoutAllergens = append(c.WithoutAllergens, allergen)
	}
	if f.list.confidence != "" {
		degree, ok := pantry.ConfidenceNamed(f.list.confidence)
		if !ok {
			return nil, fmt.Errorf("--confidence %q; expected seen, computed, memory or estimate", f.list.confidence)
		}
		c.Confidence = degree
	}
	return c, nil
}

// listed are the properties that the table shows.
var listedProperties = []struct {
	name, heading string
	places        int
}{{"abv", "% vol", 1}, {"sugar", "sugar", 0}, {"acid", "acid", 1}, {"bitter", "bitter", 0}}

// widestName is the room that 80 columns leave for a name.
const widestName = 34

func writeList(w io.Writer, chosen *pantry.Chosen) error {
	var rows [][]string
	for n, i := range chosen.Ingredients {
		row := []string{shortened(i.Name, widestName)}
		for _, p := range listedProperties {
			row = append(row, listedCell(chosen.Derived[n], p.name, p.places))
		}
		per := "L"
		if i.Solid {
			per = "kg"
		}
		rows = append(rows, append(row, per, string(i.Confidence)))
	}
	var b strings.Builder
	if len(rows) > 0 {
		columns := []tableColumn{{heading: "ingredient"}}
		for _, p := range listedProperties {
			columns = append(columns, tableColumn{heading: p.heading, right: true})
		}
		if err := writeTable(&b, append(columns, tableColumn{heading: "per"}, tableColumn{heading: "figures"}), rows); err != nil {
			return err
		}
		b.WriteString("\n")
	}
	b.WriteString(wrap(countOf(len(rows), "ingredient")+". Sugar and acid (as citric) in g, bitterness in mg (as quinine HCl); ? is unknown.", lineWidth) + "\n")
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// shortened cuts a name to so many characters.
func shortened(name string, most int) string {
	runes := []rune(name)
	if len(runes) <= most {
		return name
	}
	return strings.TrimSpace(string(runes[:most-1])) + "…"
}

// listedCell is one property of the list; empty where there is no such property.
func listedCell(all []pantry.Derived, name string, places int) string {
	for n := range all {
		d := &all[n]
		switch {
		case d.Name != name:
		case d.Known():
			return trimmed(d.Value, places)
		case d.Value > 0:
			return "≥ " + trimmed(d.Value, places)
		default:
			return "?"
		}
	}
	return ""
}

// writeListCSV writes every property of the chosen as CSV: empty is unknown.
func writeListCSV(w io.Writer, chosen *pantry.Chosen) error {
	names := pantry.DerivedNames()
	out := csv.NewWriter(w)
	records := [][]string{append([]string{"name", "id", "category", "state", "confidence"}, names...)}
	for n, i := range chosen.Ingredients {
		state := "liquid"
		if i.Solid {
			state = "solid"
		}
		record := []string{pantry.GuardCell(i.Name), pantry.GuardCell(i.ID), pantry.GuardCell(i.Category), state, string(i.Confidence)}
		for _, name := range names {
			cell := ""
			for k := range chosen.Derived[n] {
				if d := &chosen.Derived[n][k]; d.Name == name && d.Known() {
					cell = trimmed(d.Value, 4)
				}
			}
			record = append(record, cell)
		}
		records = append(records, record)
	}
	return out.WriteAll(records)
}

func listJSON(shelf *pantry.Shelf, chosen *pantry.Chosen) any {
	ingredients := []jsonIngredient{}
	for n, i := range chosen.Ingredients {
		ingredients = append(ingredients, ingredientJSON(shelf, i, chosen.Derived[n]))
	}
	return map[string]any{"ingredients": ingredients, "notes": append([]string{}, chosen.Notes...)}
}
