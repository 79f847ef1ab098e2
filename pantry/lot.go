package pantry

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"minim/profile"
)

// Lot is one delivery's own measurements of an ingredient.
type Lot struct {
	// Date is the day of the measurement, at midnight UTC.
	Date time.Time
	// Ingredient is what the file calls it.
	Ingredient string
	Readings   [LotFigures]Reading
	Note       string
	Place      Place
}

// ParseDate reads a day written as in 2026-11-20.
func ParseDate(text string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, strings.TrimSpace(text))
	if err != nil || day.Year() < 1900 {
		return time.Time{}, fmt.Errorf("%q is no date; expected year, month and day as in 2026-11-20", text)
	}
	return day, nil
}

// Day writes the date of the lot as the file does.
func (l *Lot) Day() string { return l.Date.Format(time.DateOnly) }

// String says what was measured, as "lime juice as measured on 2026-11-20:
// acid 52 g/L".
func (l *Lot) String() string { return measuredText(l.Ingredient, l.Date, &l.Readings) }

func measuredText(name string, day time.Time, readings *[LotFigures]Reading) string {
	return fmt.Sprintf("%s as measured on %s: %s", name, day.Format(time.DateOnly), figuresText(readings))
}

// figuresText writes the readings as "acid 52 g/L, Brix 8.2".
func figuresText(readings *[LotFigures]Reading) string {
	var parts []string
	for _, f := range []LotFigure{LotAcid, LotBrix, LotPH, LotStrength, LotDensity} {
		r := readings[f]
		if !r.Known {
			continue
		}
		text := lotTable[f].word + " " + formatNumber(r.Value)
		if f != LotBrix && lotTable[f].unit != "" {
			text += " " + lotTable[f].unit
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// newestOf returns the readings that count among the lots of one ingredient:
// those of its newest day. What the newest delivery leaves unmeasured is not
// taken from an older one; of two readings on the same day the later row
// counts.
func newestOf(lots []Lot) (day time.Time, readings [LotFigures]Reading, last Lot) {
	for _, l := range lots {
		switch {
		case l.Date.Before(day):
			continue
		case l.Date.After(day):
			day, readings = l.Date, [LotFigures]Reading{}
		}
		last = l
		for f, r := range l.Readings {
			if r.Known {
				readings[f] = r
			}
		}
	}
	return day, readings, last
}

// AppliedLot is a lot that a shelf takes into account.
type AppliedLot struct {
	// Ingredient is the ingredient as measured.
	Ingredient *Ingredient
	// Name is what the lot file calls it.
	Name     string
	Date     time.Time
	Readings [LotFigures]Reading
	Note     string
	// Doubts names figures so far from the pantry's that a slip of the keyboard is
	// likelier than such a delivery.
	Doubts []string
	// Place is the row in the lot file that counts last.
	Place Place
}

// Day writes the date of the measurement as the file does.
func (a *AppliedLot) Day() string { return a.Date.Format(time.DateOnly) }

// String says what was measured, as that of a Lot does.
func (a *AppliedLot) String() string { return measuredText(a.Name, a.Date, &a.Readings) }

// WithLots returns a new shelf on which every ingredient that was measured is
// as its newest lot says, and the lots it took into account in the order of
// the shelf. Preps come on top of lots: those of s are not on it. The error is InputErrors: an ingredient that is not on the shelf,
// a solid, or readings that its composition cannot have.
func (s *Shelf) WithLots(lots []Lot) (*Shelf, []AppliedLot, error) {
	of := map[*Ingredient][]Lot{}
	var wrong InputErrors
	for _, l := range lots {
		if len(wrong) >= mostShown && len(s.byName[Fold(l.Ingredient)]) == 0 {
			// Only counted: the nearest names are a search of the whole shelf.
			wrong = append(wrong, &InputError{Place: l.Place, Message: (&NameError{Name: l.Ingredient}).Error()})
			continue
		}
		i, err := s.Find(l.Ingredient)
		if err != nil {
			wrong = append(wrong, &InputError{
				Place: l.Place, Message: err.Error(),
				Hint: "a bar's own ingredient is there once its CSV is given with --pantry",
			})
			continue
		}
		of[i] = append(of[i], l)
	}
	out := &Shelf{ingredients: slices.Clone(s.ingredients), overlays: s.overlays, lotsFile: s.lotsFile}
	if len(lots) > 0 {
		out.lotsFile = lots[0].Place.File
	}
	var applied []AppliedLot
	for n, i := range out.ingredients {
		if len(of[i]) == 0 {
			continue
		}
		day, readings, last := newestOf(of[i])
		measured, err := i.measured(&readings, day)
		if err != nil {
			wrong = append(wrong, &InputError{Place: last.Place, Message: last.Ingredient + ": " + err.Error()})
			continue
		}
		out.ingredients[n] = measured
		applied = append(applied, AppliedLot{Ingredient: measured, Name: last.Ingredient, Date: day, Readings: readings, Note: last.Note, Place: last.Place, Doubts: i.doubts(&readings)})
	}
	if len(wrong) > 0 {
		return nil, nil, wrong
	}
	out.index()
	out.lots = map[*Ingredient]*AppliedLot{}
	for n := range applied {
		out.lots[applied[n].Ingredient] = &applied[n]
	}
	return out, applied, nil
}

// Lot returns the lot that an ingredient of this shelf was measured in, if it was.
func (s *Shelf) Lot(i *Ingredient) (*AppliedLot, bool) {
	lot, ok := s.lots[i]
	return lot, ok
}

// perLitre returns a liquid whose figures are per litre.
func (i *Ingredient) perLitre() *Ingredient {
	out := *i
	if !i.PerKilogram {
		return &out
	}
	density := i.Figures[DensityGramsPerMillilitre].Value
	for c, facts := range columns {
		if facts.amount {
			out.Figures[c].Value *= density
			out.Figures[c].Spread *= density
		}
	}
	out.PerKilogram = false
	return &out
}

// measured returns the ingredient with the readings of one day in it, its
// figures per litre.
func (i *Ingredient) measured(readings *[LotFigures]Reading, day time.Time) (*Ingredient, error) {
	if i.Solid {
		return nil, fmt.Errorf("is a solid; expected a liquid, a lot's readings are those of a liquid")
	}
	if err := i.possible(readings); err != nil {
		return nil, err
	}
	out := i.perLitre()
	before := *out
	solids := newSugars(&before)
	set := func(c Column, f LotFigure) {
		v := readings[f].Value
		out.Figures[c] = Figure{
			Value: v, Known: true, Spread: f.Spread(v), OwnSpread: true,
			Source: "measured " + day.Format(time.DateOnly), Confidence: Seen,
		}
	}
	if readings[LotStrength].Known {
		set(StrengthPercent, LotStrength)
	}
	if r := readings[LotAcid]; r.Known {
		out.scaleAcids(r.Value, day)
		set(TitratableAcidPerLitre, LotAcid)
	}
	if readings[LotPH].Known {
		set(PH, LotPH)
	}
	if readings[LotDensity].Known {
		set(DensityGramsPerMillilitre, LotDensity)
	}
	if r := readings[LotBrix]; r.Known {
		solids.of = out
		var err error
		if out, err = solids.scaleTo(r.Value, readings[LotAcid], day); err != nil {
			return nil, err
		}
	}
	if density := &out.Figures[DensityGramsPerMillilitre]; !readings[LotDensity].Known && density.Known && out.moved(&before) > 0 {
		*density = Figure{
			Value: out.weightAt(before.PerUnit()[profile.VolumeCorrectionMillilitres]), Known: true, Spread: density.Spread, OwnSpread: density.OwnSpread,
			Source: density.Source, Confidence: Computed,
		}
	}
	return out, out.check()
}

// moved is by how many grams a litre the composition differs from before.
func (i *Ingredient) moved(before *Ingredient) float64 {
	moved := 1000 * ethanolGrams(math.Abs(i.Figures[StrengthPercent].Value-before.Figures[StrengthPercent].Value))
	for c, facts := range columns {
		moved += math.Abs(i.Figures[c].Value-before.Figures[c].Value) * facts.grams
	}
	return moved
}

// weightAt returns the density in g/ml that the composition gives once the
// volume correction of the ingredient, in ml per ml, is counted in.
func (i *Ingredient) weightAt(correction float64) float64 {
	s := i.listed()
	s[profile.VolumeCorrectionMillilitres] = correction
	s[profile.WaterGrams] = waterToFill(s)
	return float64(s.Mass())
}

// WithLotsOf applies the lots of one ingredient of the shelf, and returns what
// was made of them. The error is InputErrors; lots of other ingredients are
// passed over.
func (s *Shelf) WithLotsOf(lots []Lot, i *Ingredient) (*AppliedLot, error) {
	own := slices.DeleteFunc(slices.Clone(lots), func(l Lot) bool {
		found, err := s.Find(l.Ingredient)
		return err != nil || found != i
	})
	_, applied, err := s.WithLots(own)
	if err != nil {
		return nil, err
	}
	if len(applied) == 0 {
		return nil, fmt.Errorf("nothing was measured of %s", i.Name)
	}
	return &applied[0], nil
}

// doubtfulRatio is how many times more or less than the pantry's a reading is
// doubted; common practice, no source: limes differ by half, not by a factor.
const doubtfulRatio = 2.5

// doubts names the readings that are too far from the pantry's own figures.
func (i *Ingredient) doubts(readings *[LotFigures]Reading) []string {
	var out []string
	for f := range LotFigure(LotFigures) {
		own, _, known := i.Reading(f)
		r := readings[f]
		if !r.Known || !known || own <= 0 || r.Value*doubtfulRatio >= own && r.Value <= own*doubtfulRatio {
			continue
		}
		out = append(out, fmt.Sprintf("%s: %s %s is far from the pantry's %s; check the decimal point and the unit",
			i.Name, f.Word(), strings.TrimSpace(formatNumber(r.Value)+" "+f.Unit()), formatNumber(math.Round(own*100)/100)))
	}
	return out
}

// Reading returns what an instrument of the bar would show of the ingredient,
// and its ±; ok is false where the figures do not say.
func (i *Ingredient) Reading(f LotFigure) (v, spread float64, ok bool) {
	if i.Solid {
		return 0, 0, false
	}
	switch f {
	case LotBrix:
		return i.Brix()
	case LotAcid:
		return 1000 * i.listed()[profile.TitratableAcidGrams], 1000 * i.PerUnitSpread()[profile.TitratableAcidGrams], !i.Unknown(profile.Acid)
	case LotDensity:
		return float64(i.PerUnit().Mass()), i.Figures[DensityGramsPerMillilitre].Spread, true
	}
	figure := i.Figures[map[LotFigure]Column{LotPH: PH, LotStrength: StrengthPercent}[f]]
	return figure.Value, figure.Spread, figure.Known
}
