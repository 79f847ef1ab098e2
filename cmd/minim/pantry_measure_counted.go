package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// countedWords are what can be weighed one by one.
var countedWords = []struct {
	word string
	what pantry.Counted
}{{"dash", pantry.CountedDashes}, {"pinch", pantry.CountedPinches}, {"barspoon", pantry.CountedBarspoons}}

var measureDashCommand = command{
	name:     "pantry measure dash",
	synopsis: "pantry measure dash",
	summary:  "what your dash, pinch or barspoon is, by weighing twenty",
	about: `Calibrates a dash bottle, a pinch or a barspoon by weighing: each one by itself
(which shows how they vary), or twenty together.`,
	example: `minim pantry measure dash --ingredient "aromatic bitters" --total 18.4g --count 20`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("ingredient", "the `NAME` of what was dashed, pinched or spooned")
		f.reading("what", "`dash`, pinch or barspoon; unsaid, dash")
		f.reading("each", "the weights one by one in `g`, with spaces between")
		f.reading("total", "or the weight of all together, in `g`")
		f.reading("count", "`HOW MANY` they were together")
		f.reading("scale", "the ± of the scale, in `g`; unsaid, 0.1")
		f.measuredOut()
	},
	run: measureDash,
}

func measureDash(f *flags, s streams) error {
	if err := f.needed("ingredient"); err != nil {
		return err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	i, err := shelf.Find(f.text("ingredient"))
	if err != nil {
		return fmt.Errorf("--ingredient: %w", err)
	}
	c := &collect{flags: f}
	r := pantry.CountReading{Of: i, Total: take[gram](c, "total", pantry.Masses).Value, Scale: take[gram](c, "scale", pantry.Masses).Value}
	if c.err != nil {
		return c.err
	}
	if f.given("count") {
		if r.Count, err = strconv.Atoi(f.text("count")); err != nil {
			return fmt.Errorf("--count %q; expected a whole number", f.text("count"))
		}
	}
	for _, one := range strings.Fields(f.text("each")) {
		grams, _, err := pantry.ParseQuantity(strings.TrimSuffix(one, ","), pantry.Masses)
		if err != nil {
			return fmt.Errorf("--each: %w", err)
		}
		r.Each = append(r.Each, gram(grams))
	}
	word := f.text("what")
	if word == "" {
		word = "dash"
	}
	known := false
	for _, one := range countedWords {
		if pantry.Fold(word) == one.word {
			r.What, known = one.what, true
		}
	}
	if !known {
		return fmt.Errorf("--what %q; expected dash, pinch or barspoon", word)
	}
	found, err := pantry.Calibrate(r)
	if err != nil {
		return err
	}
	out := map[string]any{
		"count": found.Count, "mean_g": digits(float64(found.Mean)), "of_one_g": digits(float64(found.OfOne)), "of_mean_g": digits(float64(found.OfMean)),
		"ml": digits(float64(found.Millilitres.Value)), "ml_plus_minus": digits(float64(found.Millilitres.Spread)),
	}
	return f.report(&result{measured: &found.Measured, json: out}, shelf, s)
}

// referenceWords are what a reference solution may be bitter with.
var referenceWords = []struct {
	word      string
	substance pantry.ReferenceSubstance
}{
	{"quinine hydrochloride", pantry.QuinineHydrochloride},
	{"quinine", pantry.QuinineBase},
	{"quinine sulphate", pantry.QuinineSulphate},
	{"caffeine", pantry.CaffeineReference},
}

var measureBitternessCommand = command{
	name:     "pantry measure bitterness",
	synopsis: "pantry measure bitterness",
	summary:  "bitterness by a dilution series beside a reference",
	about: `Bitterness from two thresholds of each taster: of a reference in mg/L and of the
sample in ml in a litre of water, both as the strongest glass that was missed
and the weakest that was told from water: --taster "3..4.5 8..12". With --stock
it prints how to make the reference series instead, from tonic water of stated
quinine or a solution bought ready made; never weigh pure quinine.`,
	example: `minim pantry measure bitterness --name "gentian tincture" --substance quinine --taster "3..4.5 8..12" --taster "2..3 5..8"`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the sample")
		f.reading("category", "its `CATEGORY`")
		f.reading("substance", "the reference: quinine hydrochloride, `quinine`, quinine sulphate or caffeine")
		f.several("taster", "one taster's `THRESHOLDS`, such as \"3..4.5 8..12\" (repeatable)")
		f.reading("abv", "strength of the sample, in `%` vol")
		f.reading("stock", "strength of the reference stock in `mg/L`: print the series to make from it")
		f.reading("strongest", "strongest glass of the series in `mg/L` as quinine hydrochloride; unsaid, 12")
		f.reading("factor", "`HOW MANY` times each glass is as strong as the last; unsaid, 1.5")
		f.reading("glasses", "`HOW MANY` glasses; unsaid, 7")
		f.reading("each", "`ml` in each glass; unsaid, 100")
		f.measuredOut()
	},
	run: measureBitterness,
}

func measureBitterness(f *flags, s streams) error {
	if err := f.needed("substance"); err != nil {
		return err
	}
	var substance pantry.ReferenceSubstance
	known := false
	for _, one := range referenceWords {
		if pantry.Fold(f.text("substance")) == one.word {
			substance, known = one.substance, true
		}
	}
	if !known {
		return fmt.Errorf("--substance %q; expected quinine hydrochloride, quinine, quinine sulphate or caffeine", f.text("substance"))
	}
	if f.given("stock") {
		return f.printSeries(substance, s)
	}
	if err := f.needed("name", "taster"); err != nil {
		return err
	}
	r := pantry.BitternessReading{Name: f.text("name"), Category: f.text("category"), Substance: substance}
	c := &collect{flags: f}
	if m := maybe[profile.PercentVolume](c, "abv", pantry.Strengths); m != nil {
		r.Strength = &m.Value
	}
	if c.err != nil {
		return c.err
	}
	for _, text := range *f.measured.lists["taster"] {
		taster, err := tasterFrom(text)
		if err != nil {
			return err
		}
		r.Tasters = append(r.Tasters, taster)
	}
	found, err := pantry.MeasureBitterness(r)
	if err != nil {
		return err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	return f.report(&result{
		measured: &found.Measured,
		json:     map[string]any{"bitterness_mg_per_l": digits(float64(found.Bitterness)), "factor": digits(found.Factor)},
	}, shelf, s)
}

// tasterFrom reads two brackets: of the reference and of the sample.
func tasterFrom(text string) (t pantry.Taster, err error) {
	wrong := fmt.Errorf("--taster %q; expected the reference in mg/L and the sample in ml a litre, each as missed..told, such as \"3..4.5 8..12\"", text)
	var ends []float64
	for _, bracket := range strings.Fields(text) {
		low, high, ok := strings.Cut(bracket, "..")
		if !ok {
			return t, wrong
		}
		for _, number := range []string{low, high} {
			v, _, err := pantry.ParseQuantity(number, pantry.Counts)
			if err != nil {
				return t, wrong
			}
			ends = append(ends, v)
		}
	}
	if len(ends) != 4 {
		return t, wrong
	}
	t.Reference = pantry.Bracket[profile.MilligramPerLitre]{Miss: profile.MilligramPerLitre(ends[0]), Hit: profile.MilligramPerLitre(ends[1])}
	t.Sample = pantry.Bracket[pantry.MillilitrePerLitre]{Miss: pantry.MillilitrePerLitre(ends[2]), Hit: pantry.MillilitrePerLitre(ends[3])}
	return t, nil
}

// printSeries prints the glasses of a reference series.
func (f *flags) printSeries(substance pantry.ReferenceSubstance, s streams) error {
	c := &collect{flags: f}
	stock := take[profile.MilligramPerLitre](c, "stock", pantry.Milligrams).Value
	strongest, factor, each, glasses := profile.MilligramPerLitre(12), 1.5, millilitre(100), 7
	if m := maybe[profile.MilligramPerLitre](c, "strongest", pantry.Milligrams); m != nil {
		strongest = m.Value
	}
	if m := maybe[float64](c, "factor", pantry.Counts); m != nil {
		factor = m.Value
	}
	if m := maybe[millilitre](c, "each", pantry.Volumes); m != nil {
		each = m.Value
	}
	if c.err != nil {
		return c.err
	}
	var err error
	if f.given("glasses") {
		if glasses, err = strconv.Atoi(f.text("glasses")); err != nil {
			return fmt.Errorf("--glasses %q; expected a whole number", f.text("glasses"))
		}
	}
	if f.out != "" {
		return errors.New("--out beside --stock; a series is no ingredient")
	}
	series, err := pantry.ReferenceSeries(stock, substance, strongest, factor, glasses, each)
	if err != nil {
		return err
	}
	if f.json {
		steps := []map[string]any{}
		for _, one := range series {
			steps = append(steps, map[string]any{
				"mg_per_l": digits(float64(one.Strength)), "mg_per_l_quinine_hcl_eq": digits(float64(one.Equivalent)),
				"stock_ml": digits(float64(one.Stock)), "water_ml": digits(float64(one.Water)),
			})
		}
		return writeValue(s.out, map[string]any{"series": steps, "caution": pantry.BitternessCaution})
	}
	var rows [][]string
	for n, one := range series {
		rows = append(rows, []string{strconv.Itoa(n + 1), fixed(float64(one.Strength), 2), fixed(float64(one.Equivalent), 2), fixed(float64(one.Stock), 1), fixed(float64(one.Water), 1)})
	}
	var b strings.Builder
	err = writeTable(&b, []tableColumn{
		{heading: "glass", right: true}, {heading: "mg/L", right: true}, {heading: "as quinine HCl", right: true}, {heading: "stock ml", right: true}, {heading: "water ml", right: true},
	}, rows)
	if err != nil {
		return &writeError{err}
	}
	b.WriteString("\n" + wrap(sentence(pantry.BitternessCaution), lineWidth) + "\n")
	if _, err := fmt.Fprint(s.out, trimLines(b.String())); err != nil {
		return &writeError{err}
	}
	return nil
}
