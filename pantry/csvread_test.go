package pantry

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

func overlay(t *testing.T, text string) *Shelf {
	t.Helper()
	shelf, err := Embedded().Overlay(strings.NewReader(text), "bar.csv")
	if err != nil {
		t.Fatal(err)
	}
	return shelf
}

func find(t *testing.T, s *Shelf, name string) *Ingredient {
	t.Helper()
	i, err := s.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

func TestReaderRefuses(t *testing.T) {
	for _, c := range []struct{ about, text, want, hint string }{
		{"an empty file", "", "bar.csv: empty; expected a heading line", ""},
		{"a mark and blanks alone", "\uFEFF \n\n", "bar.csv: empty; expected a heading line", ""},
		{"a binary file", "PK\x03\x04\x00\x00xl/", "bar.csv: a spreadsheet file; expected CSV", "CSV UTF-8"},
		{"another encoding", "name\nCura\xe7ao\n", "bar.csv:2: letters that are not UTF-8", "CSV UTF-8"},
		{"no name column", "id,category\ngin,spirit\n", "bar.csv:1:1: no column name; expected at least that one", "names the columns"},
		{"an unknown column", "name,abv_procent\nGin,40\n", `bar.csv:1:6: column "abv_procent"; expected a column of the pantry, nearest: abv_percent`, ""},
		{"a column twice", "name,abv_percent,ABV_percent\nGin,40,41\n", `bar.csv:1:18: column "ABV_percent" a second time`, ""},
		{"a unit", "name,abv_percent\nGin,40 %\n", `bar.csv:2:5: abv_percent "40 %" has a unit; expected a bare number`, "write 40"},
		{"a unit of mass", "name,sucrose_g_per_l\nSyrup,615 g/L\n", `bar.csv:2:7: sucrose_g_per_l "615 g/L" has a unit`, "write 615"},
		{"a decimal comma", "name,abv_percent\nGin,\"37,5\"\n", `bar.csv:2:5: abv_percent "37,5" has a decimal comma; expected a decimal point`, "write 37.5"},
		{"a decimal comma after a point for thousands", "name;sodium_mg_per_l\nSoy;67.300,5\n", `bar.csv:2:5: sodium_mg_per_l "67.300,5" has a point and a comma`, "thousands"},
		{"a decimal point after a comma for thousands", "name,sodium_mg_per_l\nSoy,\"67,300.5\"\n", `bar.csv:2:5: sodium_mg_per_l "67,300.5" has a point and a comma`, "thousands"},
		{"a decimal comma that parts cells", "name,abv_percent\nGin,37,5\n", `bar.csv:2:8: "5" under no heading; expected 2 cells`, "decimal point"},
		{"NaN", "name,abv_percent\nGin,NaN\n", `bar.csv:2:5: abv_percent "NaN" is not a quantity`, "leave the cell empty"},
		{"infinity", "name,abv_percent\nGin,-Inf\n", `bar.csv:2:5: abv_percent "-Inf" is not a quantity`, ""},
		{"a number beyond numbers", "name,abv_percent\nGin,1e999\n", `bar.csv:2:5: abv_percent "1e999" is too large`, ""},
		{"a negative amount", "name,citric_g_per_l\nLime,-3\n", `bar.csv:2:6: citric_g_per_l "-3" is negative; expected 0 or more`, ""},
		{"an absurd amount", "name,citric_g_per_l\nLime,46000\n", `bar.csv:2:6: citric_g_per_l "46000" is out of range; expected 0 to 1700`, ""},
		{"an absurd pH", "name,pH\nLime,22\n", `bar.csv:2:6: pH "22" is out of range; expected 0 to 14`, ""},
		{"a density in kg/m3", "name,density_g_per_ml\nGin,948\n", `bar.csv:2:5: density_g_per_ml "948" is out of range; expected 0.6 to 3`, ""},
		{"a time", "name,sucrose_g_per_l\nSyrup,1:1\n", `bar.csv:2:7: sucrose_g_per_l "1:1" is a ratio or a time`, "format the column"},
		{"a dash for unknown", "name,sodium_mg_per_l\nSyrup,-\n", `bar.csv:2:7: sodium_mg_per_l "-" is no number`, "leave the cell empty"},
		{"a trace", "name,sodium_mg_per_l\nSyrup,trace\n", `bar.csv:2:7: sodium_mg_per_l "trace" is no number`, "leave the cell empty"},
		{"a limit", "name,sodium_mg_per_l\nSyrup,<5\n", `bar.csv:2:7: sodium_mg_per_l "<5" is a limit`, "_pm"},
		{"a range", "name,sodium_mg_per_l\nSyrup,5-10\n", `bar.csv:2:7: sodium_mg_per_l "5-10" is a range`, "_pm"},
		{"a hexadecimal number", "name,sodium_mg_per_l\nSyrup,0x1F\n", `bar.csv:2:7: sodium_mg_per_l "0x1F"`, ""},
		{"a fraction for a strength", "name,category,abv_percent\nHouse gin,spirit,0.47\n", "bar.csv:2:1: abv_percent 0.47 for a spirit; expected percent by volume", "47 % into 0.47"},
		{"a fraction over a spirit below", "name,abv_percent\ngin,0.47\n", "bar.csv:2:1: abv_percent 0.47 for a spirit", "47 % into 0.47"},
		{"no name in a row", "name,abv_percent\n,40\n", "bar.csv:2:1: no name; expected one in each row", ""},
		{"a name twice", "name\nHouse Bitters\nGin\nhouse-bitter\n", `bar.csv:4:1: House Bitters in line 2 and house-bitter in line 4 both go by "house-bitter"`, ""},
		{"an alias twice", "name,aliases\nCordial A,cordial\nCordial B,cordials\n", `bar.csv:3:1: Cordial A in line 2 and Cordial B in line 3 both go by "cordials"`, ""},
		{"two rows for one below", "name\ngin\nDry gin 40 %\n", `bar.csv:3:1: gin in line 2 and Dry gin 40 % in line 3 both change "Dry gin 40 %"`, ""},
		{"an id of another", "id,name\nlemon_juice,Lime juice\n", `bar.csv:2:13: name "Lime juice" and id "lemon_juice" belong to two ingredients`, ""},
		{"another basis", "name,basis\nlime juice,per_kg\n", "bar.csv:2:1: lime juice has another state or basis", "another name"},
		{"a state of neither", "name,state\nIce,frozen\n", `bar.csv:2:5: state "frozen" is neither; expected liquid or solid`, ""},
		{"a confidence of none", "name,confidence\nIce,sure\n", `bar.csv:2:5: confidence "sure" is no degree of confidence`, ""},
		{"a solid per litre", "name,state,basis\nSugar cube,solid,per_l\n", "bar.csv:2:1: Sugar cube is a solid per litre; expected basis per_kg", ""},
		{"a strong solid", "name,state,abv_percent\nCube,solid,3\n", "bar.csv:2:1: Cube: a solid with a strength", ""},
		{"more than a kilogram", "name,state,sucrose_g_per_l,citric_g_per_l\nSherbet,solid,900,200\n", "bar.csv:2:1: Sherbet: the parts of a kilogram add up to 1100 g", ""},
		{"more than it weighs", "name,density_g_per_ml,sucrose_g_per_l\nThin,1.0,1200\n", "bar.csv:2:1: Thin: the parts of a litre add up to 1200 g; expected at most the 1000 g", ""},
		{"more than a litre", "name,abv_percent,sucrose_g_per_l\nFull,90,900\n", "bar.csv:2:1: Full: the parts of a litre take up ", ""},
		{"a liquid by weight of unknown density", "name,state,basis\nHoney water,liquid,per_kg\n", "bar.csv:2:1: Honey water: a liquid per kilogram without a density", ""},
		{"a spread without a figure", "name,pH_pm\nShrub,0.1\n", "bar.csv:2:1: Shrub has a pH_pm without a pH; expected both", ""},
		{"a measure without unit", "name,measure\nShrub,2\n", `bar.csv:2:7: measure "2"; expected a number and a unit`, ""},
		{"a measure of the wrong kind", "name,state,measure\nSugar cube,solid,1 ml\n", `bar.csv:2:18: measure "1 ml"; expected g`, ""},
		{"a piece of unknown size", "name,measure\nQuail egg,1 piece\n", `bar.csv:2:11: measure "1 piece"; expected the size of a piece`, ""},
		{"a measure of nothing", "name,measure\nShrub,0 ml\n", `bar.csv:2:7: measure "0 ml"; expected more than 0`, ""},
		{"a quotation mark out of place", "name,note\nRibbon,12\" long\n", "bar.csv:2:10: a quotation mark out of place", "doubled"},
		{"an open quotation mark", "name,note\nRibbon,\"long\n", "a quotation mark out of place", "doubled"},
		{"columns counted in characters", "name,note,abv_percent\nCuraçao,é,x\n", `bar.csv:2:11: abv_percent "x"`, ""},
	} {
		t.Run(c.about, func(t *testing.T) {
			shelf, err := Embedded().Overlay(strings.NewReader(c.text), "bar.csv")
			if err == nil {
				t.Fatal("accepted")
			}
			if shelf != nil {
				t.Error("a shelf besides an error")
			}
			var all InputErrors
			if !errors.As(err, &all) || len(all) == 0 {
				t.Fatalf("got %T; want InputErrors", err)
			}
			if len(all) != 1 {
				t.Errorf("%d errors; want one:\n%s", len(all), err)
			}
			if !strings.Contains(all[0].Error(), c.want) {
				t.Errorf("got\n%s\nwant\n%s", err, c.want)
			}
			if !strings.Contains(all[0].Hint, c.hint) {
				t.Errorf("hint %q; want %q in it", all[0].Hint, c.hint)
			}
		})
	}
}

func TestReaderCollectsAllErrors(t *testing.T) {
	var b strings.Builder
	b.WriteString("name,abv_percent,colour\n")
	for n := range 12 {
		fmt.Fprintf(&b, "Bottle %d,much\n", n)
	}
	_, err := Embedded().Overlay(strings.NewReader(b.String()), "bar.csv")
	var all InputErrors
	if !errors.As(err, &all) || len(all) != 13 {
		t.Fatalf("%d errors; want 13", len(all))
	}
	if !strings.HasSuffix(err.Error(), "and 3 more") {
		t.Errorf("got\n%s", err)
	}
}

func TestReaderAcceptsWhatSpreadsheetsWrite(t *testing.T) {
	for about, text := range map[string]string{
		"plain":                    "name,abv_percent,sucrose_g_per_l\nHouse liqueur,20,150\n",
		"byte order mark and CRLF": "\uFEFFname,abv_percent,sucrose_g_per_l\r\nHouse liqueur,20,150\r\n",
		"carriage returns alone":   "name,abv_percent,sucrose_g_per_l\rHouse liqueur,20,150\r",
		"decimal commas":           "name;abv_percent;sucrose_g_per_l\nHouse liqueur;20,0;1,5E2\n",
		"semicolons":               "name;abv_percent;sucrose_g_per_l\nHouse liqueur;20;150\n",
		"quoted cells":             "\"name\",\"abv_percent\",\"sucrose_g_per_l\"\n\"House liqueur\",\"20\",\"150\"\n",
		"blank rows and cells":     "name,abv_percent,sucrose_g_per_l,,\nHouse liqueur,20,150,,\n,,,,\n\n , ,\n",
		"no end of line":           "name,abv_percent,sucrose_g_per_l\nHouse liqueur,20,150",
		"another order":            "sucrose_g_per_l,name,abv_percent\n150,House liqueur,20\n",
		"capitals and blanks":      " Name ,ABV_percent, sucrose_g_per_l\nHouse liqueur, 20 ,150.\n",
		"an exponent":              "name,abv_percent,sucrose_g_per_l\nHouse liqueur,2e1,+1.5E2\n",
		"control characters":       "name,abv_percent,sucrose_g_per_l\nHouse\x1b \u202eliqueur\x7f,20,150\n",
	} {
		i := find(t, overlay(t, text), "house liqueur")
		if i.Name != "House liqueur" || i.Figures[StrengthPercent].Value != 20 || i.Figures[SucrosePerLitre].Value != 150 {
			t.Errorf("%s: read %q, %v, %v", about, i.Name, i.Figures[StrengthPercent], i.Figures[SucrosePerLitre])
		}
		if i.Figures[GlucosePerLitre].Known {
			t.Errorf("%s: glucose became known", about)
		}
		if i.Solid || i.PerKilogram || i.KeptAt != 20 {
			t.Errorf("%s: a row with a name is a liquid per litre at 20 °C, got %+v", about, i)
		}
	}
}

func TestReaderKeepsPlaces(t *testing.T) {
	shelf := overlay(t, "id,name\n\nx,\"Long\nname\"\ny,Shrub\n")
	if got := find(t, shelf, "shrub").Place; got != (Place{"bar.csv", 5, 3}) {
		t.Errorf("place %v; want bar.csv:5:3", got)
	}
	if got := find(t, shelf, "long name").Place; got != (Place{"bar.csv", 3, 3}) {
		t.Errorf("place %v; want bar.csv:3:3", got)
	}
}

func TestReaderRefusesFilesThatAreTooLarge(t *testing.T) {
	_, err := Embedded().Overlay(bytes.NewReader(bytes.Repeat([]byte("a"), largestFile+1)), "bar.csv")
	if err == nil || !strings.Contains(err.Error(), "more than 10 MB") {
		t.Errorf("got %v", err)
	}
}

func TestReaderPassesOnAFaultOfTheStream(t *testing.T) {
	fault := errors.New("the disk is gone")
	_, err := Embedded().Overlay(iotest.ErrReader(fault), "bar.csv")
	if !errors.Is(err, fault) || !strings.HasPrefix(err.Error(), "bar.csv: ") {
		t.Errorf("got %v", err)
	}
}

func TestReaderTakesTenThousandRows(t *testing.T) {
	var b strings.Builder
	b.WriteString("name,category,abv_percent,sucrose_g_per_l,citric_g_per_l,aliases\n")
	for n := range 10000 {
		fmt.Fprintf(&b, "Bottle no. %d,liqueur,%d,%d,1,bottle %dth; the %dth\n", n, n%40, n%300, n, n)
	}
	start := time.Now()
	shelf := overlay(t, b.String())
	find(t, shelf, "the 9999th")
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("took %v; want less than 5 s", took)
	}
	if got, want := len(shelf.All()), 10000+len(Embedded().All()); got != want {
		t.Errorf("%d ingredients; want %d", got, want)
	}
}

// Whatever the file, reading it ends with errors that print, or with a shelf
// whose states are sound and which reads back as it was written.
func FuzzOverlay(f *testing.F) {
	f.Add("name,abv_percent\nGin,40\n", true)
	f.Add(inUTF16("name\tabv_percent\r\nGin\t40,5\r\n", binary.BigEndian), true)
	f.Add("sep=;\r\nname;abv_percent\r\nGin;40,5\r\n", true)
	f.Add("\uFEFFname;pH;pH_pm;pH_source\r\n'=Gin;3.1;0.1;memory: x\r\n", false)
	f.Add("id,name,state,basis,density_g_per_ml,aliases,measure,piece\negg_white,Egg,liquid,per_l,1.03,a;b,2 piece,31\n", true)
	f.Add("name,net_strong_charge_meq_per_l\n\"a\nb\",-3e-9\n", false)
	f.Add("name\n\"", false)
	f.Fuzz(func(t *testing.T, text string, overEmbedded bool) {
		below := &Shelf{}
		if overEmbedded {
			below = Embedded()
		}
		shelf, err := below.Overlay(strings.NewReader(text), "bar.csv")
		if err != nil {
			checkErrors(t, err)
			return
		}
		first := shelfCSV(t, shelf)
		again, err := (&Shelf{}).Overlay(strings.NewReader(first), "again.csv")
		if err != nil {
			t.Fatalf("what was written does not read: %v\n%s", err, first)
		}
		if second := shelfCSV(t, again); first != second {
			t.Fatalf("written twice differs:\n%s\n%s", first, second)
		}
		for _, i := range shelf.All() {
			checkState(t, i)
		}
	})
}

func shelfCSV(t *testing.T, s *Shelf) string {
	t.Helper()
	var b strings.Builder
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func checkErrors(t *testing.T, err error) {
	t.Helper()
	var all InputErrors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("%T %v", err, err)
	}
	for _, r := range err.Error() {
		if r != '\n' && isControl(r) {
			t.Fatalf("control character %U in %q", r, err)
		}
	}
}
