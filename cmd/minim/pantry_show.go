package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

var pantryShowCommand = command{
	name:     "pantry show",
	synopsis: "pantry show INGREDIENT",
	summary:  "all that is known of one ingredient, its sources, and what is not",
	about: `Shows one ingredient: what is in a litre and in 100 g of it, each figure with
its ± and where it comes from, what is not known, what it comes to by itself
and what your instruments would read, allergens, other names and measures.`,
	example: `minim pantry show "lime juice"`,
	schema:  "pantry-show",
	flags:   func(*flags) {},
	run: func(f *flags, s streams) error {
		name := strings.Join(f.args, " ")
		if name == "" {
			return fmt.Errorf("nothing named; expected an ingredient, such as \"lime juice\"")
		}
		shelf, err := f.shelf(s)
		if err != nil {
			return err
		}
		i, err := shelf.Find(name)
		if err != nil {
			return err
		}
		if f.json {
			return writeValue(s.out, ingredientJSON(shelf, i, i.Derived()))
		}
		if err := writeIngredient(s.out, shelf, i); err != nil {
			return &writeError{err}
		}
		return nil
	},
}

// writeIngredient prints everything that is known of an ingredient.
func writeIngredient(w io.Writer, shelf *pantry.Shelf, i *pantry.Ingredient) error {
	var b strings.Builder
	b.WriteString(wrap(i.Name, lineWidth) + "\n")
	for _, line := range about(shelf, i) {
		b.WriteString(wrap(line, lineWidth) + "\n")
	}
	b.WriteString("\n")
	sources, err := writeComposition(&b, i)
	if err != nil {
		return err
	}
	b.WriteString("\n")
	if err := writeDerived(&b, i.Derived()); err != nil {
		return err
	}
	if len(sources) > 0 {
		b.WriteString("\n")
	}
	for n, source := range sources {
		b.WriteString(wrap(fmt.Sprintf("[%d] %s", n+1, source), lineWidth) + "\n")
	}
	if i.Note != "" {
		b.WriteString("\n" + wrap("Note: "+i.Note, lineWidth) + "\n")
	}
	_, err = io.WriteString(w, trimLines(b.String()))
	return err
}

// about says in lines what is no number.
func about(shelf *pantry.Shelf, i *pantry.Ingredient) []string {
	state := "liquid"
	if i.Solid {
		state = "solid"
	}
	kind := state
	if i.Category != "" {
		kind = i.Category + ", " + state
	}
	lines := []string{kind + "; figures " + string(i.Confidence)}
	if lot, ok := shelf.Lot(i); ok {
		lines = append(lines, lot.String())
	}
	if len(i.Aliases) > 0 {
		lines = append(lines, "also: "+strings.Join(i.Aliases, ", "))
	}
	lines = append(lines, allergenLine(i))
	keeping := []string{}
	if i.Keeps != "" {
		keeping = append(keeping, i.Keeps)
	}
	if i.KeptAt != 20 {
		keeping = append(keeping, fmt.Sprintf("poured at %s °C", trimmed(float64(i.KeptAt), 1)))
	}
	if len(keeping) > 0 {
		lines = append(lines, "keeps: "+strings.Join(keeping, "; "))
	}
	if step := i.MeasureText(); step != "" {
		lines = append(lines, "measured in steps of "+step)
	}
	if i.Priced {
		price := "price: " + trimmed(i.Price, 2)
		if i.Currency != "" {
			price += " " + i.Currency
		}
		if i.Pack.Value > 0 {
			price += " for " + i.Pack.String()
		}
		lines = append(lines, price)
	}
	if i.OutOfStock {
		lines = append(lines, "out of stock")
	}
	if i.ThickensUnmodelled() {
		lines = append(lines, "thickens: pulp, fat or protein make it thicker than is reckoned; the viscosity of a drink with it is at least so much")
	}
	if i.Tannin != "" && i.Tannin != "none" {
		lines = append(lines, "tannin: "+i.Tannin)
	}
	return lines
}

// writeComposition prints what is in the ingredient, and returns the sources
// that its lines point to.
func writeComposition(b *strings.Builder, i *pantry.Ingredient) (sources []string, err error) {
	var rows [][]string
	var none, unknown []string
	per, spreadPer := "per litre", "±"
	if i.Solid {
		spreadPer = "± per kg"
	}
	for _, c := range i.Constituents() {
		switch {
		case !c.Known:
			unknown = append(unknown, c.Name)
			continue
		case c.PerHundredGrams == 0:
			none = append(none, c.Name)
			continue
		}
		litre := ""
		if !i.Solid {
			litre = significant(c.PerLitre, 4)
		}
		spread := ""
		switch {
		case c.Factor > 1:
			spread = "×/÷ " + trimmed(c.Factor, 1)
		case c.PerLitreSpread > 0:
			spread = significant(c.PerLitreSpread, 2)
		}
		from := string(c.Confidence)
		switch c.Source {
		case "":
		case pantry.ByDifference, pantry.ByEquivalents:
			from = c.Source
		default:
			n := slices.Index(sources, c.Source)
			if n < 0 {
				n, sources = len(sources), append(sources, c.Source)
			}
			from += " [" + strconv.Itoa(n+1) + "]"
		}
		rows = append(rows, []string{c.Name, c.Unit, litre, spread, significant(c.PerHundredGrams, 3), from})
	}
	err = writeTable(b, []tableColumn{
		{heading: "composition"},
		{heading: "unit"},
		{heading: per, right: true, optional: true},
		{heading: spreadPer, right: true, optional: true},
		{heading: "per 100 g", right: true},
		{heading: "from"},
	}, rows)
	if unlisted, spread := i.UnlistedSolids(); unlisted > 2*spread {
		b.WriteString("\n" + wrap(fmt.Sprintf("Its density shows some %s g (± %s g) of solids a litre in no line: they count as water here.", fixed(unlisted, 0), fixed(spread, 0)), lineWidth) + "\n")
	}
	if len(none) > 0 {
		b.WriteString("\n" + wrap("Known to be none: "+strings.Join(none, ", "), lineWidth) + "\n")
	}
	if len(unknown) > 0 {
		b.WriteString("\n" + wrap("Not known: "+strings.Join(unknown, ", "), lineWidth) + "\n")
	}
	return sources, err
}

// writeDerived prints what the ingredient comes to by itself.
func writeDerived(b *strings.Builder, all []pantry.Derived) error {
	var rows [][]string
	bubbles := false
	for n := range all {
		d := &all[n]
		bubbles = bubbles || d.Name == profile.CarbonDioxide.Name() && d.Value > 0
		places := derivedDecimals[d.Name]
		value, about := fixed(d.Value, places), ""
		plusMinus := d.PlusMinus()
		if plusMinus > 1e-9 {
			places = max(min(placesFor(plusMinus), places), 0)
			value = fixed(d.Value, places)
			about = "± " + fixed(plusMinus, places)
			if up, down := d.High-d.Value, d.Value-d.Low; math.Abs(up-down) > 0.2*plusMinus {
				about = fixed(d.Low, places) + " to " + fixed(d.High, places)
			} else if strings.Trim(about, "± 0.") == "" {
				about = ""
			}
		}
		if bubbles && d.Name == "brix" {
			about = strings.TrimPrefix(about+", degassed", ", ")
		}
		switch {
		case d.Known():
		case strings.Trim(value, "-0.") == "":
			value, about = "unknown", ""
		default:
			value = "at least " + value
		}
		rows = append(rows, []string{d.Name, d.Unit, value, about})
	}
	return writeTable(b, []tableColumn{{heading: "by itself"}, {heading: "unit"}, {heading: "value", right: true}, {heading: "known to"}}, rows)
}

// derivedDecimals is how many decimals a property of an ingredient is shown with
// at the most.
var derivedDecimals = map[string]int{
	"abv": 1, "sugar": 1, "sweetness": 1, "acid": 2, "salt": 2, "bitter": 1, "umami": 2, "co2": 1, "energy": 0, "caffeine": 0,
	"ph": 2, "density": 4, "brix": 1,
}

// significant writes a number to so many digits, without zeros at its end.
func significant(v float64, digits int) string {
	if v == 0 {
		return "0"
	}
	return trimmed(v, max(0, digits-1-int(math.Floor(math.Log10(math.Abs(v))))))
}

// allergenLine says what allergens an ingredient lists, and whether it is vegan.
func allergenLine(i *pantry.Ingredient) string {
	allergens := "allergens: none listed"
	if len(i.Allergens) > 0 {
		allergens = "allergens: " + strings.Join(i.Allergens, "; ")
	}
	return allergens + "; " + map[pantry.Certainty]string{pantry.Yes: "vegan", pantry.No: "not vegan", pantry.Unknown: "not known whether vegan"}[i.Vegan]
}
