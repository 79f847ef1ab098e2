package pantry

import (
	"encoding/csv"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/profile"
)

func TestEmbeddedReadsBackTheSame(t *testing.T) {
	var b strings.Builder
	if err := Embedded().Write(&b); err != nil {
		t.Fatal(err)
	}
	for about, below := range map[string]*Shelf{"nothing": {}, "itself": Embedded()} {
		again, err := below.Overlay(strings.NewReader(b.String()), "again.csv")
		if err != nil {
			t.Fatal(err)
		}
		compare(t, "over "+about, again.All(), Embedded().All())
	}
}

func TestOverlaidShelfReadsBackTheSame(t *testing.T) {
	shelf := overlay(t, `name,aliases,abv_percent,citric_g_per_l,source,confidence,typical_spread_percent,sucrose_g_per_l_source
gin,,43,,,,,
Tuesday's limes,lime juice,,52,titrated,,3,
lemon juice,,,50,,memory,,label
honey,,,,our beekeeper,seen,2,
"=1+1, plus","'@home; -x",,,,,,
`)
	var b strings.Builder
	if err := shelf.Write(&b); err != nil {
		t.Fatal(err)
	}
	again, err := (&Shelf{}).Overlay(strings.NewReader(b.String()), "again.csv")
	if err != nil {
		t.Fatal(err)
	}
	compare(t, "over nothing", again.All(), shelf.All())
}

// compare reports ingredients that differ in more than their place.
func compare(t interface{ Errorf(string, ...any) }, about string, got, want []*Ingredient) {
	if len(got) != len(want) {
		t.Errorf("%s: %d ingredients; want %d", about, len(got), len(want))
		return
	}
	for n := range want {
		a, b := *got[n], *want[n]
		a.Place, b.Place = Place{}, Place{}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s:\ngot  %+v\nwant %+v", about, a, b)
		}
	}
}

func TestWriterGuardsFormulas(t *testing.T) {
	shelf := overlay(t, "name,note,net_strong_charge_meq_per_l,aliases\n'=SUM(A1),'+1,-3,\"'-a; b\"\n@home,''=x,4,\n")
	var b strings.Builder
	all := shelf.All()
	if err := WriteCSV(&b, all[len(all)-2:]); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range []map[string]string{
		{"name": "'=SUM(A1)", "note": "'+1", "net_strong_charge_meq_per_l": "-3", "aliases": "'-a; b"},
		{"name": "'@home", "note": "''=x", "net_strong_charge_meq_per_l": "4"},
	} {
		for m, heading := range records[0] {
			if cell, ok := want[heading]; ok && records[n+1][m] != cell {
				t.Errorf("%s is written %q; want %q", heading, records[n+1][m], cell)
			}
		}
	}
	if i := find(t, shelf, "=SUM(A1)"); i.Note != "+1" || i.Aliases[0] != "-a" {
		t.Errorf("read %q, %q", i.Note, i.Aliases)
	}
}

func TestWriterPassesOnAFaultOfTheStream(t *testing.T) {
	if err := Embedded().Write(noRoom{}); !errors.Is(err, errNoRoom) {
		t.Errorf("got %v", err)
	}
}

var errNoRoom = errors.New("the disk is full")

type noRoom struct{}

func (noRoom) Write([]byte) (int, error) { return 0, errNoRoom }

// words are texts that a bar, a spreadsheet or a prankster may put in a cell.
func words() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "=1+1", "'=x", "'", "''-", "+", "-3", "@", "Curaçao", "a,b", `12" long`, "1:1", "none", "seen", "memory: x", "a:b", "%", "40 %"}),
		rapid.String(),
	)
}

func drawIngredient(t *rapid.T, n int) *Ingredient {
	text := func(what string) string { return cleanText(words().Draw(t, what)) }
	i := &Ingredient{
		ID: fmt.Sprintf("id %d", n), Name: cleanText(fmt.Sprintf("%s no %d", words().Draw(t, "name"), n)), Category: text("category"),
		Tannin: text("tannin"), Note: text("note"), Source: text("source"), Confidence: rapid.SampledFrom(confidences).Draw(t, "confidence"),
		SpreadPercent: rapid.Float64Range(0, 1000).Draw(t, "spread"), KeptAt: profile.Celsius(rapid.Float64Range(-30, 100).Draw(t, "kept at")),
		Piece: rapid.Float64Range(0, 1e4).Draw(t, "piece"), Solid: rapid.Bool().Draw(t, "solid"),
	}
	i.PerKilogram = i.Solid
	i.Vegan = rapid.SampledFrom([]Certainty{Unknown, No, Yes}).Draw(t, "vegan")
	i.OutOfStock, i.Keeps = rapid.Bool().Draw(t, "out of stock"), text("keeps")
	if i.Priced = rapid.Bool().Draw(t, "priced"); i.Priced {
		i.Price = rapid.Float64Range(0, largestPrice).Draw(t, "price")
		i.Currency = rapid.SampledFrom([]string{"", "EUR", "JPY"}).Draw(t, "currency")
		i.Pack = Amount{rapid.Float64Range(1e-3, 1e5).Draw(t, "pack"), Unit(rapid.IntRange(0, units-1).Draw(t, "pack unit"))}
	}
	if list := rapid.SliceOfN(rapid.StringMatching(`[=+@a-z][a-z, ]{0,8}[a-z]`), 0, 3).Draw(t, "aliases"); len(list) > 0 {
		for m, alias := range list {
			i.Aliases = append(i.Aliases, fmt.Sprintf("%s %d %d", cleanText(alias), n, m))
		}
	}
	for c := range Column(Columns) {
		if !rapid.Bool().Draw(t, "known") {
			continue
		}
		f := Figure{Known: true, Source: text("figure source"), Confidence: rapid.SampledFrom(confidences).Draw(t, "figure confidence")}
		switch {
		case c == DensityGramsPerMillilitre:
			f.Value = rapid.Float64Range(1.2, 3).Draw(t, "density")
		case c == StrengthPercent:
			f.Value = rapid.Float64Range(1, 40).Draw(t, "strength")
			if i.Solid {
				f.Value = 0
			}
		case c == StrongChargePerLitre:
			f.Value = rapid.Float64Range(-1e4, 1e4).Draw(t, "charge")
		default:
			f.Value = rapid.Float64Range(0, 14).Draw(t, "figure")
		}
		if rapid.Bool().Draw(t, "own spread") {
			f.Spread, f.OwnSpread = rapid.Float64Range(0, 2).Draw(t, "figure spread"), true
		}
		if f.Source == "" && f.Confidence.fromSource() {
			f.Source = i.Source
		}
		i.Figures[c] = f
	}
	i.spreadFigures()
	return i
}

func TestWhatIsWrittenReadsBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var wrote []*Ingredient
		for n := range rapid.IntRange(1, 4).Draw(t, "rows") {
			wrote = append(wrote, drawIngredient(t, n))
		}
		var b strings.Builder
		if err := WriteCSV(&b, wrote); err != nil {
			t.Fatal(err)
		}
		shelf, err := (&Shelf{}).Overlay(strings.NewReader(b.String()), "again.csv")
		if err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		compare(t, b.String(), shelf.All(), wrote)
	})
}

func TestNumbersReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		got, wrong := parseNumber(formatNumber(v))
		if got != v || wrong.message != "" {
			t.Fatalf("%v is written %q and read %v, %v", v, formatNumber(v), got, wrong)
		}
	})
}
