package main

import (
	"errors"
	"fmt"

	"minim/pantry"
	"minim/profile"
)

type (
	gram       = profile.Gram
	millilitre = profile.Millilitre
)

var measureLiqueurCommand = command{
	name:     "pantry measure liqueur",
	synopsis: "pantry measure liqueur",
	summary:  "sugar and strength from density, refractometer and label",
	about: `Solves density and refraction together for the sugar and the strength of a
liqueur, a syrup or a wine: alcohol throws off either alone. Give two of Brix,
density (or a hydrometer's gravity) and the label's strength, or all three.`,
	example: `minim pantry measure liqueur --name "house orange liqueur" --brix 29.4 --density 1.0416 --abv 30`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of the liquid")
		f.reading("category", "its `CATEGORY`; unsaid, liqueur")
		f.reading("brix", "what the refractometer shows, in `°Bx` (± 0.2)")
		f.reading("density", "weight per volume, in `g/ml` (± 0.001)")
		f.reading("gravity", "what a hydrometer shows instead, such as `1.062` (± 0.001)")
		f.reading("calibrated", "the `°C` that the hydrometer is made for; unsaid, 20")
		f.reading("weight", "or `g` on the scale of the --volume, the vessel tared (± 0.1)")
		f.reading("volume", "`ml` that were weighed (± 0.5)")
		f.reading("abv", "strength on the label, in `%` vol (± 0.3)")
		f.reading("at", "temperature of the sample in `°C`; unsaid, 20")
		f.set.BoolVar(&f.measured.compensated, "compensated", false, "the refractometer corrects for the temperature itself")
		f.measuredOut()
	},
	run: func(f *flags, s streams) error {
		if err := f.needed("name"); err != nil {
			return err
		}
		c := &collect{flags: f}
		at := profile.Celsius(20)
		if m := maybe[profile.Celsius](c, "at", pantry.Temperatures); m != nil {
			at = m.Value
		}
		r := pantry.LiqueurReadings{Name: f.text("name"), Category: f.text("category"), Strength: maybe[profile.PercentVolume](c, "abv", pantry.Strengths)}
		if m := maybe[profile.Brix](c, "brix", pantry.BrixDegrees); m != nil {
			r.Brix = &pantry.BrixReading{Brix: *m, At: at, Compensated: f.measured.compensated}
		}
		var err error
		if r.Density, err = densityReading(f, c, at); err != nil {
			return err
		}
		m, err := pantry.MeasureLiqueur(r)
		return f.reportMeasured(m, err, s)
	},
}

// densityReading is the density by whichever instrument was used, nil by none.
func densityReading(f *flags, c *collect, at profile.Celsius) (*pantry.DensityReading, error) {
	var found []pantry.DensityReading
	if m := maybe[pantry.GramPerMillilitre](c, "density", pantry.Densities); m != nil {
		if m.Spread == 0 {
			m.Spread = pantry.GramPerMillilitre(pantry.HydrometerSpread)
		}
		found = append(found, pantry.DensityReading{At: at, Density: pantry.KilogramsPerCubicMetre(*m)})
	}
	if m := maybe[profile.SpecificGravity](c, "gravity", pantry.Counts); m != nil {
		calibrated := profile.Celsius(20)
		if t := maybe[profile.Celsius](c, "calibrated", pantry.Temperatures); t != nil {
			calibrated = t.Value
		}
		found = append(found, pantry.ByHydrometer(*m, calibrated, at))
	}
	if weight := maybe[gram](c, "weight", pantry.Masses); weight != nil {
		if !f.given("volume") {
			return nil, errors.New("--weight without --volume; expected both")
		}
		found = append(found, pantry.ByWeighing(*weight, take[millilitre](c, "volume", pantry.Volumes), at))
	}
	switch {
	case c.err != nil:
		return nil, c.err
	case len(found) > 1:
		return nil, errors.New("the density was given twice; expected one of --density, --gravity and --weight")
	case len(found) == 1:
		return &found[0], nil
	}
	return nil, nil
}

// reportMeasured reports a measurement that went well.
func (f *flags) reportMeasured(m *pantry.Measured, err error, s streams) error {
	if err != nil {
		return err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	return f.report(&result{measured: m}, shelf, s)
}

var measureTitrationCommand = command{
	name:     "pantry measure titration",
	synopsis: "pantry measure titration",
	summary:  "acidity from ml of base, or against a known acid",
	about: `Acidity from the base that a sample took to a lasting pink (pH 8.2): of known
strength, as 0.1 mol/L sodium hydroxide; or, in a kitchen, any base that a
yardstick of known acidity took as well, counted in drops, ml or grams.`,
	example: `minim pantry measure titration --name "this week's limes" --sample 10ml --base 75ml --strength 0.1`,
	schema:  "pantry-measure",
	flags: func(f *flags) {
		f.reading("name", "the `NAME` of what was titrated")
		f.reading("category", "its `CATEGORY`, such as juice")
		f.reading("sample", "`ml` of it that were titrated (± 0.1, by jigger ± 0.5)")
		f.reading("base", "`ml` of base that it took (± 0.1), or drops beside a yardstick (± 0.5)")
		f.reading("strength", "strength of the base, in `mol/L` (± 1 %)")
		f.reading("blank", "`ml` of base that the water alone took")
		f.reading("yardstick", "acidity of the yardstick as citric, in `g/L`: 60 of a 6 % solution")
		f.reading("yardstick-sample", "`ml` of the yardstick that were titrated")
		f.reading("yardstick-base", "`drops`, ml or g of the same base that the yardstick took")
		f.reading("as", "put it all down as this `ACID`, such as malic; unsaid, as titratable acid alone")
		f.measuredOut()
	},
	run: func(f *flags, s streams) error {
		if err := f.needed("name", "sample", "base"); err != nil {
			return err
		}
		as := pantry.DensityGramsPerMillilitre
		if f.given("as") {
			var ok bool
			if as, _, ok = pantry.AcidNamed(f.text("as")); !ok {
				return noAcid("--as", f.text("as"))
			}
		}
		c := &collect{flags: f}
		if f.given("yardstick") {
			if err := f.needed("yardstick-sample", "yardstick-base"); err != nil {
				return err
			}
			r := pantry.YardstickReading{
				Name: f.text("name"), Category: f.text("category"), As: as,
				Yardstick:       take[profile.GramPerLitre](c, "yardstick", pantry.PerLitres),
				YardstickVolume: take[millilitre](c, "yardstick-sample", pantry.Volumes), YardstickUsed: take[profile.BaseUsed](c, "yardstick-base", pantry.Counts),
				Sample: take[millilitre](c, "sample", pantry.Volumes), SampleUsed: take[profile.BaseUsed](c, "base", pantry.Counts),
			}
			if c.err != nil {
				return c.err
			}
			m, err := pantry.MeasureAcidByYardstick(r)
			return f.reportMeasured(m, err, s)
		}
		if !f.given("strength") {
			return errors.New("neither the base nor a yardstick is known; expected --strength in mol/L, or --yardstick with --yardstick-sample and --yardstick-base")
		}
		r := pantry.TitrationReading{
			Name: f.text("name"), Category: f.text("category"), As: as,
			Sample: take[millilitre](c, "sample", pantry.Volumes), Used: take[millilitre](c, "base", pantry.Volumes),
			Blank: take[millilitre](c, "blank", pantry.Volumes).Value, Strength: take[profile.EquivalentPerLitre](c, "strength", pantry.Molarities),
		}
		if c.err != nil {
			return c.err
		}
		m, err := pantry.MeasureAcid(r)
		return f.reportMeasured(m, err, s)
	},
}

// noAcid names the acids nearest to a word that is none.
func noAcid(flag, word string) error {
	return fmt.Errorf("%s: no acid %q; %s", flag, word, pantry.Suggest(word, pantry.AcidNames(), 3))
}
