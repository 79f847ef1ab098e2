package pantry

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// crossFigure returns a figure of an ingredient in the unit in which another
// table gives it; known is false where the pantry does not have it.
func crossFigure(i *Ingredient, figure, unit string) (value float64, known bool, err error) {
	per100g := 10.0 // g in a litre to g in 100 g
	if !i.Solid {
		per100g *= i.Figures[DensityGramsPerMillilitre].Value
	}
	total := func(among []Column) {
		for _, c := range among {
			value += i.Figures[c].Value
			known = known || i.Figures[c].Known
		}
	}
	switch figure {
	case "sugars":
		total(sugarColumns)
	case "soluble_solids":
		total(sugarColumns)
		for c, facts := range columns {
			if facts.citric > 0 || Column(c) == PolyolsPerLitre {
				total([]Column{Column(c)})
			}
		}
		value += i.Figures[PotassiumMilligramsPerLitre].Value / 1000
	default:
		c, ok := ColumnNamed(figure)
		if !ok {
			return 0, false, fmt.Errorf("no figure %q", figure)
		}
		value, known = i.Figures[c].Value, i.Figures[c].Known
	}
	switch unit {
	case "g/100 g", "mg/100 g":
		return value / per100g, known, nil
	case "g/L", "g/ml", "pH":
		return value, known, nil
	default:
		return 0, false, fmt.Errorf("no unit %q", unit)
	}
}

// Figures of the embedded pantry against tables that they were not taken from.
// One that is further off than the row allows stays, with the reason.
func TestEmbeddedFiguresAgreeWithOtherTables(t *testing.T) {
	file, err := os.Open("testdata/crosscheck.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	in := csv.NewReader(file)
	in.Comment = '#'
	records, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"ingredient", "figure", "value", "unit", "source", "confidence", "deviation_allowed", "explained"}
	if !slices.Equal(records[0], want) {
		t.Fatalf("columns %q; want %q", records[0], want)
	}
	rows, seen, outside := 0, 0, 0
	t.Logf("%-24s %-22s %9s %9s %9s %7s  %s", "ingredient", "figure", "pantry", "other", "deviation", "allowed", "source; why it is off")
	for _, r := range records[1:] {
		other, errValue := strconv.ParseFloat(r[2], 64)
		allowed, errAllowed := strconv.ParseFloat(r[6], 64)
		if errValue != nil || errAllowed != nil || allowed <= 0 || r[4] == "" || !slices.Contains(confidences, Confidence(r[5])) {
			t.Fatalf("%q: %v, %v", r, errValue, errAllowed)
		}
		i := find(t, Embedded(), r[0])
		got, known, err := crossFigure(i, r[1], r[3])
		if err != nil || !known {
			t.Fatalf("%s %s: known %v, %v", r[0], r[1], known, err)
		}
		rows++
		if Confidence(r[5]).fromSource() {
			seen++
		}
		off, explained := math.Abs(got-other) > allowed, r[7] != ""
		if off {
			outside++
		}
		if off != explained {
			t.Errorf("%s: %s is %.4g, elsewhere %s ± %s %s (%s), and explained %q", r[0], r[1], got, r[2], r[6], r[3], r[4], r[7])
		}
		t.Logf("%-24s %-22s %9.4g %9.4g %+9.2g %7.2g  %s; %s", r[0], strings.TrimSuffix(r[1], "_per_l"), got, other, got-other, allowed, r[4], r[7])
	}
	t.Logf("%d figures, %d of them not from memory; %d are off by more than is allowed", rows, seen, outside)
	if rows < 60 || seen < 40 {
		t.Errorf("%d figures, %d of them not from memory; want 60 and 40", rows, seen)
	}
}
