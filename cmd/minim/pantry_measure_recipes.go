package main

import (
	"errors"
	"fmt"
	"strings"

	"minim/pantry"
	"minim/profile"
)

var measureSyrupCommand = command{
	name:     "pantry measure syrup",
	synopsis: "pantry measure syrup",
	summary:  "a syrup from its sugar and water, by weight or volume",
	about: `Computes a syrup from its recipe, hot or cold: sugar and water by weight or by
volume, what the pot lost.`,
	example: `minim pantry measure syrup --name "house syrup 2:1" --sugar 1kg --water 500ml --water-at 90`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the syrup")
		f.reading("sugar", "how much sugar, in `g` or ml")
		f.reading("water", "how much water, in `g` or ml")
		f.reading("water-at", "temperature at which the water was measured by volume, in `°C`; unsaid, 20")
		f.reading("boiled-off", "`g` that the pot lost on the way")
		f.reading("bulk", "weight of the sugar in the cup, in `g/ml`; unsaid, 0.85 ± 0.05")
		f.set.BoolVar(&f.measured.raw, "raw", false, "the sugar is not white: demerara, muscovado and their like")
		f.measuredOut()
	},
	run: func(f *flags, s streams) error {
		if err := f.needed("name", "sugar", "water"); err != nil {
			return err
		}
		c := &collect{flags: f}
		r := pantry.SyrupRecipe{
			Name: f.text("name"), Sugar: portion(c, "sugar"), Water: portion(c, "water"), WaterAt: 20,
			BoiledOff: maybe[gram](c, "boiled-off", pantry.Masses), Bulk: take[pantry.GramPerMillilitre](c, "bulk", pantry.Densities), Raw: f.measured.raw,
		}
		if m := maybe[profile.Celsius](c, "water-at", pantry.Temperatures); m != nil {
			r.WaterAt = m.Value
		}
		if c.err != nil {
			return c.err
		}
		m, err := pantry.SyrupFromRecipe(r)
		return f.reportMeasured(m, err, s)
	},
}

// portion reads an amount by weight or by volume, whichever its unit says.
func portion(c *collect, name string) (p pantry.Portion) {
	text := strings.ToLower(c.flags.text(name))
	if pantry.ByVolume(text) {
		p.Millilitres = maybe[millilitre](c, name, pantry.Volumes)
	} else {
		p.Grams = maybe[gram](c, name, pantry.Masses)
	}
	return p
}

var measureSalineCommand = command{
	name:     "pantry measure saline",
	synopsis: "pantry measure saline",
	summary:  "salt in water: by weight, or made up to a volume",
	about: `Computes a salt solution from its recipe: salt in so much water (percent by
weight), or made up with water to so much (percent weight in volume).`,
	example: `minim pantry measure saline --name "house saline" --salt 20g --made-up-to 100ml`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the solution")
		f.reading("salt", "how much salt, in `g`")
		f.reading("water", "how much water it went into, in `g`")
		f.reading("made-up-to", "or what it was made up to with water, in `ml`")
		f.measuredOut()
	},
	run: func(f *flags, s streams) error {
		if err := f.needed("name", "salt"); err != nil {
			return err
		}
		c := &collect{flags: f}
		r := pantry.SalineRecipe{Name: f.text("name"), Salt: take[gram](c, "salt", pantry.Masses), Solvent: solvent(c)}
		if c.err != nil {
			return c.err
		}
		m, err := pantry.SalineFromRecipe(r)
		return f.reportMeasured(m, err, s)
	},
}

var measureAcidCommand = command{
	name:     "pantry measure acid",
	synopsis: "pantry measure acid",
	summary:  "acid powders in water, such as a 6 % solution",
	about: `Computes a solution of food acids from its recipe. An acid is citric, citric
monohydrate, malic, tartaric, lactic, acetic, phosphoric, succinic, ascorbic …;
"lactic=20g 88%" is 20 g of an acid of 88 %.`,
	example: `minim pantry measure acid --name "house acid" --acid citric=40g --acid malic=20g --made-up-to 1l`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the solution")
		f.several("acid", "an acid and its weight, as `citric=60g` (repeatable)")
		f.reading("water", "how much water they went into, in `g`")
		f.reading("made-up-to", "or what they were made up to with water, in `ml`")
		f.measuredOut()
	},
	run: func(f *flags, s streams) error {
		if err := f.needed("name", "acid"); err != nil {
			return err
		}
		r := pantry.AcidRecipe{Name: f.text("name")}
		for _, text := range *f.measured.lists["acid"] {
			name, amount, _ := strings.Cut(text, "=")
			acid, purity, ok := pantry.AcidNamed(name)
			if !ok {
				return noAcid("--acid", strings.TrimSpace(name))
			}
			weight, strength, weak := strings.Cut(strings.TrimSpace(amount), " ")
			if weak && !strings.HasSuffix(strength, "%") {
				weight, weak = amount, false
			}
			grams, spread, err := pantry.ParseQuantity(weight, pantry.Masses)
			if err != nil {
				return fmt.Errorf("--acid %s: %w", text, err)
			}
			if weak {
				if purity, _, err = pantry.ParseQuantity(strength, pantry.Parts); err != nil {
					return fmt.Errorf("--acid %s: %w", text, err)
				}
			}
			r.Acids = append(r.Acids, pantry.AcidPowder{
				Acid: acid, Purity: profile.MassFraction(purity),
				Grams: pantry.Measurement[gram]{Value: gram(grams), Spread: gram(spread)},
			})
		}
		c := &collect{flags: f}
		r.Solvent = solvent(c)
		if c.err != nil {
			return c.err
		}
		m, err := pantry.AcidFromRecipe(r)
		return f.reportMeasured(m, err, s)
	},
}

var measureInfusionCommand = command{
	name:     "pantry measure infusion",
	synopsis: "pantry measure infusion",
	summary:  "a plant steeped in a liquid: dose, time, what goes over",
	about: `Computes an infusion or a tincture: the liquid, the water of the plant, and what
goes over into it. An extract is its name, what a kilogram of the plant holds of
it in the pantry's unit, and the share that goes over, as caffeine=11000,0.95;
a third number is its rate per hour. There is no usual share: measure it, or
take one from a source.`,
	example: `minim pantry measure infusion --name "coffee vodka" --base vodka --volume 700ml --plant 60g --hours 12 --extract caffeine=11000,0.9`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the infusion")
		f.reading("category", "its `CATEGORY`; unsaid, that of tinctures")
		f.reading("base", "the `INGREDIENT` that it is steeped in")
		f.reading("volume", "how much of it, in `ml`")
		f.reading("plant", "how much plant, in `g`")
		f.reading("plant-water", "the `%` of the plant that is water; unsaid, none")
		f.reading("retained", "`ml` that a gram of the plant keeps back; unsaid, 2 ± 0.3, as of dry leaf")
		f.reading("hours", "how long, in `h`")
		f.several("extract", "what goes over, as `caffeine=11000,0.9` (repeatable)")
		f.measuredOut()
	},
	run: measureInfusion,
}

func measureInfusion(f *flags, s streams) error {
	if err := f.needed("name", "base", "volume", "plant"); err != nil {
		return err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	base, err := shelf.Find(f.text("base"))
	if err != nil {
		return fmt.Errorf("--base: %w", err)
	}
	c := &collect{flags: f}
	r := pantry.InfusionRecipe{
		Name: f.text("name"), Category: f.text("category"), Base: base, Volume: take[millilitre](c, "volume", pantry.Volumes),
		Plant: take[gram](c, "plant", pantry.Masses), PlantWater: take[profile.MassFraction](c, "plant-water", pantry.Parts),
		Retained: take[pantry.MillilitrePerGram](c, "retained", pantry.Counts), Time: take[pantry.Hour](c, "hours", pantry.Times).Value,
	}
	if c.err != nil {
		return c.err
	}
	for _, text := range *f.measured.lists["extract"] {
		name, numbers, _ := strings.Cut(text, "=")
		column, ok := pantry.AmountNamed(name)
		if !ok {
			return fmt.Errorf("--extract %q: the pantry has no column for %q; expected caffeine, bitterness, an acid or a sugar", text, name)
		}
		parts := strings.Split(numbers, ",")
		if len(parts) < 2 || len(parts) > 3 {
			return fmt.Errorf("--extract %q; expected a name, its dose and its share, such as caffeine=11000,0.9", text)
		}
		values := make([]float64, 3)
		spreads := make([]float64, 3)
		for n, part := range parts {
			if values[n], spreads[n], err = pantry.ParseQuantity(part, pantry.Parts); err != nil {
				return fmt.Errorf("--extract %q: %w", text, err)
			}
		}
		r.Extracts = append(r.Extracts, pantry.Extract{
			Into: column, Dose: values[0], DoseSpread: spreads[0],
			Share: values[1], ShareSpread: spreads[1], Rate: pantry.PerHour(values[2]),
		})
	}
	m, err := pantry.InfusionFromRecipe(r)
	if err != nil {
		return err
	}
	return f.report(&result{measured: m}, shelf, s)
}

var measureAdjustCommand = command{
	name:     "pantry measure adjust",
	synopsis: "pantry measure adjust",
	summary:  "grams of acid and sugar that bring a juice to a sharpness",
	about: `Says how much acid and sugar to weigh into a juice so that it is as sharp or as
sweet as another: orange juice at lime's sharpness. --lots takes today's fruit
into account.`,
	example: `minim pantry measure adjust --juice "orange juice" --acid "46 g/L" --blend citric=2 --blend malic=1 --batch 1l`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("juice", "the `INGREDIENT` that is there")
		f.reading("name", "the `NAME` of what comes of it; unsaid, sharpened and the juice")
		f.reading("acid", "wanted acid as citric, in `g/L`")
		f.reading("sugar", "wanted sugar, in `g/L`")
		f.several("blend", "an acid and its part by weight, as `citric=2` (repeatable); unsaid, citric alone")
		f.reading("batch", "how much juice, in `ml`; unsaid, a litre")
		f.reading("scale", "the ± of the scale, in `g`; unsaid, 0.1")
		f.measuredOut()
	},
	run: measureAdjust,
}

func measureAdjust(f *flags, s streams) error {
	if err := f.needed("juice"); err != nil {
		return err
	}
	if !f.given("acid") && !f.given("sugar") {
		return errors.New("nothing wanted; expected --acid, --sugar or both")
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	juice, err := shelf.Find(f.text("juice"))
	if err != nil {
		return fmt.Errorf("--juice: %w", err)
	}
	c := &collect{flags: f}
	q := pantry.JuiceQuestion{
		Name: f.text("name"), Juice: juice, Batch: take[millilitre](c, "batch", pantry.Volumes).Value,
		Scale: take[gram](c, "scale", pantry.Masses).Value,
	}
	if q.Name == "" {
		q.Name = "sharpened " + f.text("juice")
	}
	if m := maybe[profile.GramPerLitre](c, "acid", pantry.PerLitres); m != nil {
		q.Acid = &m.Value
	}
	if m := maybe[profile.GramPerLitre](c, "sugar", pantry.PerLitres); m != nil {
		q.Sugar = &m.Value
	}
	if c.err != nil {
		return c.err
	}
	for _, text := range *f.measured.lists["blend"] {
		name, part, _ := strings.Cut(text, "=")
		acid, purity, ok := pantry.AcidNamed(name)
		if !ok {
			return noAcid("--blend", strings.TrimSpace(name))
		}
		share, _, err := pantry.ParseQuantity(part, pantry.Parts)
		if err != nil {
			return fmt.Errorf("--blend %s: %w", text, err)
		}
		q.Blend = append(q.Blend, pantry.AcidShare{Acid: acid, Share: share, Purity: profile.MassFraction(purity)})
	}
	a, err := pantry.AdjustJuice(q)
	if err != nil {
		return err
	}
	var lines []string
	additions := []map[string]any{}
	for _, one := range a.Additions {
		additions = append(additions, map[string]any{"into": one.Into.Name(), "g": digits(float64(one.Grams))})
	}
	if lot, ok := shelf.Lot(juice); ok {
		lines = append(lines, lot.String())
	}
	return f.report(&result{measured: &a.Measured, lines: lines, json: map[string]any{"additions": additions}}, shelf, s)
}
