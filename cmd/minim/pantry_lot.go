package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"minim/pantry"
)

// lotFlags are what was measured.
type lotFlags struct {
	ingredient, date, note string
	readings               [pantry.LotFigures]string
}

// lotFlagNames are the flags of the figures of a lot.
var lotFlagNames = [pantry.LotFigures]string{
	pantry.LotBrix: "brix", pantry.LotAcid: "acid", pantry.LotPH: "ph", pantry.LotStrength: "abv", pantry.LotDensity: "density",
}

var pantryLotCommand = command{
	name:     "pantry lot",
	synopsis: "pantry lot FILE",
	summary:  "record what you measured of a delivery, and see how it drifts",
	about: `Appends today's measurement of an ingredient to FILE, a CSV that --lots then
takes into account everywhere, and shows how the ingredient drifts. All records
are kept; the newest day counts, and on that day the later row. The acid scales
all acids in proportion; the Brix scales the sugars to what acids, alcohol and
other solids leave of it; strength, pH and density replace the pantry's.`,
	example: `minim pantry lot lots.csv --ingredient "lime juice" --brix 8.2 --acid "52 g/L"`,
	schema:  "pantry-lot",
	flags: func(f *flags) {
		f.set.StringVar(&f.lot.ingredient, "ingredient", "", "the `INGREDIENT` that was measured")
		f.set.StringVar(&f.lot.readings[pantry.LotBrix], "brix", "", "refractometer reading at 20 °C, degassed, in `°Bx` (taken as ± 0.2)")
		f.set.StringVar(&f.lot.readings[pantry.LotAcid], "acid", "", "titrated acid as citric, in `g/L` (± 3 %)")
		f.set.StringVar(&f.lot.readings[pantry.LotPH], "ph", "", "`pH` at 25 °C (± 0.05)")
		f.set.StringVar(&f.lot.readings[pantry.LotStrength], "abv", "", "strength in `%` vol, as on the label (± 0.3)")
		f.set.StringVar(&f.lot.readings[pantry.LotDensity], "density", "", "weight per volume at 20 °C, in `g/ml` (± 0.001)")
		f.set.StringVar(&f.lot.date, "date", "", "the `DAY` of the measurement, such as 2026-11-25; unsaid, today")
		f.set.StringVar(&f.lot.note, "note", "", "any `TEXT` to remember the delivery by")
	},
	run: recordLot,
}

func recordLot(f *flags, s streams) error {
	if len(f.args) != 1 || f.args[0] == "-" {
		return errors.New("expected one FILE to append the measurement to, such as lots.csv")
	}
	name := f.args[0]
	lot, err := f.lotFromFlags()
	if err != nil {
		return err
	}
	// The pantry's own figures are what a measurement is compared with.
	shelf, err := f.shelfWithout("", s)
	if err != nil {
		return err
	}
	measured, err := shelf.Find(lot.Ingredient)
	if err != nil {
		return fmt.Errorf("--ingredient: %w", err)
	}
	existing, err := existingFile(name)
	if err != nil {
		return err
	}
	content, err := pantry.AppendLot(existing, name, lot)
	if err != nil {
		return err
	}
	lots, err := pantry.ReadLots(strings.NewReader(string(content)), name)
	if err != nil {
		return err
	}
	after, err := shelf.WithLotsOf(lots, measured)
	if err != nil {
		return withoutUnwritten(err, existing)
	}
	if err := writeFile(name, func(w io.Writer) error { _, err := w.Write(content); return err }); err != nil {
		return err
	}
	for _, doubt := range after.Doubts {
		fmt.Fprintln(s.err, wrap("note: "+doubt, lineWidth))
	}
	drifts, err := shelf.Drift(lots, lot.Ingredient)
	if err != nil {
		return err
	}
	return f.printLot(&recordedLot{lot: lot, file: name, records: len(lots), before: measured, after: after, drifts: drifts}, s)
}

// recordedLot is what there is to say of a measurement.
type recordedLot struct {
	lot     pantry.Lot
	file    string
	records int
	before  *pantry.Ingredient
	after   *pantry.AppliedLot
	drifts  []pantry.Drift
}

// withoutUnwritten takes the place off what is wrong with the row that is not in
// the file yet: nobody could look it up.
func withoutUnwritten(err error, existing []byte) error {
	var located pantry.InputErrors
	if !errors.As(err, &located) {
		return err
	}
	rows := strings.Count(strings.TrimRight(string(existing), "\r\n"), "\n") + 1
	if len(located) == 1 && (len(existing) == 0 || located[0].Place.Line > rows) {
		return errors.New(located[0].Message)
	}
	return err
}

// existingFile is the content of a file, nothing where there is none yet.
func existingFile(name string) ([]byte, error) {
	r, err := open(name, streams{})
	if err != nil {
		if _, gone := os.Stat(name); errors.Is(gone, os.ErrNotExist) {
			return nil, nil
		}
		return nil, err
	}
	defer r.Close()
	content, err := io.ReadAll(r)
	if err != nil {
		return nil, readError(name, err)
	}
	return content, nil
}

// lotFromFlags is the measurement that the flags describe.
func (f *flags) lotFromFlags() (pantry.Lot, error) {
	lot := pantry.Lot{Ingredient: strings.Join(strings.Fields(f.lot.ingredient), " "), Note: strings.Join(strings.Fields(f.lot.note), " ")}
	if lot.Ingredient == "" {
		return lot, errors.New("nothing named; expected --ingredient with the name of what was measured")
	}
	measured := false
	for n, text := range f.lot.readings {
		if !f.given(lotFlagNames[n]) {
			continue
		}
		r, err := pantry.ParseLotFigure(pantry.LotFigure(n), text)
		if err != nil {
			return lot, fmt.Errorf("--%s: %w", lotFlagNames[n], err)
		}
		lot.Readings[n], measured = r, true
	}
	if !measured {
		return lot, errors.New("nothing measured; expected at least one of --brix, --acid, --ph, --abv and --density")
	}
	date := f.lot.date
	if date == "" {
		date = time.Now().Format(time.DateOnly)
	}
	day, err := pantry.ParseDate(date)
	if err != nil {
		return lot, fmt.Errorf("--date: %w", err)
	}
	lot.Date = day
	return lot, nil
}

func (f *flags) printLot(r *recordedLot, s streams) error {
	if f.json {
		return writeValue(s.out, map[string]any{"lot": lotsJSON([]*pantry.AppliedLot{r.after})[0], "file": r.file, "records": r.records, "drift": driftJSON(r)})
	}
	var b strings.Builder
	b.WriteString(wrap(r.lot.String(), lineWidth) + "\n")
	b.WriteString(wrap(fmt.Sprintf("%s holds %s.", r.file, countOf(r.records, "record")), lineWidth) + "\n")
	if newest := r.after.String(); newest != r.lot.String() {
		b.WriteString(wrap("What counts now: "+newest, lineWidth) + "\n")
	}
	b.WriteString("\n")
	var rows [][]string
	for _, d := range r.drifts {
		places := lotDecimals[d.Figure]
		spread, week := "", ""
		if d.Count > 1 {
			spread = fixed(d.Spread, places)
		}
		if d.HasTrend {
			week = signed(d.PerWeek, places) + " ± " + fixed(d.PerWeekSpread, places)
		}
		table := ""
		if v, _, ok := r.before.Reading(d.Figure); ok {
			table = fixed(v, places)
		}
		rows = append(rows, []string{d.Figure.Word(), d.Figure.Unit(), table, fixed(d.Last, places), fmt.Sprint(d.Count), fixed(d.Mean, places), spread, week})
	}
	err := writeTable(&b, []tableColumn{
		{heading: "measured"},
		{heading: "unit"},
		{heading: "pantry", right: true, optional: true},
		{heading: "newest", right: true},
		{heading: "readings", right: true},
		{heading: "mean", right: true},
		{heading: "spread", right: true, optional: true},
		{heading: "change a week", right: true, optional: true},
	}, rows)
	if err != nil {
		return &writeError{err}
	}
	_, err = io.WriteString(s.out, trimLines(b.String()))
	if err != nil {
		return &writeError{err}
	}
	return nil
}

// lotDecimals are those that an instrument deserves.
var lotDecimals = [pantry.LotFigures]int{pantry.LotBrix: 1, pantry.LotAcid: 1, pantry.LotPH: 2, pantry.LotStrength: 1, pantry.LotDensity: 3}

// countOf writes a count with its noun: 1 record, 2 records.
func countOf(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}

type jsonDrift struct {
	Figure           string   `json:"figure"`
	Unit             string   `json:"unit"`
	Count            int      `json:"count"`
	Mean             float64  `json:"mean"`
	Spread           float64  `json:"spread"`
	Newest           float64  `json:"newest"`
	PerWeek          *float64 `json:"per_week"`
	PerWeekPlusMinus *float64 `json:"per_week_plus_minus"`
	Pantry           *float64 `json:"pantry"`
}

func driftJSON(r *recordedLot) []jsonDrift {
	out := []jsonDrift{}
	for _, d := range r.drifts {
		one := jsonDrift{Figure: d.Figure.Name(), Unit: d.Figure.Unit(), Count: d.Count, Mean: digits(d.Mean), Spread: digits(d.Spread), Newest: digits(d.Last)}
		if d.HasTrend {
			week, spread := digits(d.PerWeek), digits(d.PerWeekSpread)
			one.PerWeek, one.PerWeekPlusMinus = &week, &spread
		}
		if v, _, ok := r.before.Reading(d.Figure); ok {
			v = digits(v)
			one.Pantry = &v
		}
		out = append(out, one)
	}
	return out
}

// writeValue prints a value as JSON.
func writeValue(w io.Writer, v any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(v); err != nil {
		return &writeError{err}
	}
	return nil
}
