package pantry

import (
	"encoding/binary"
	"strings"
	"testing"
)

func clean(text string) (*Cleaned, error) {
	return Clean(strings.NewReader(text), "sheet.csv", Embedded())
}

func TestCleaningIsWhatIsCertain(t *testing.T) {
	for _, one := range []struct{ about, text, want string }{
		{"names of columns", "Product,Type,Notes\nHouse gin,spirit,ours\n", "name,category,note\nHouse gin,spirit,ours\n"},
		{"units of headings", "name,Density (kg/m3),Sucrose [g/100ml],Citric acid mg/l\nX,1100,25,500\n", "name,density_g_per_ml,sucrose_g_per_l,citric_g_per_l\nX,1.1,250,0.5\n"},
		{"units of cells", "name,abv,sucrose\nX,40 % vol,50 g/l\n", "name,abv_percent,sucrose_g_per_l\nX,40,50\n"},
		{"a cell's unit before the heading's", "name,Sucrose g/100ml\nX,250 g/l\n", "name,sucrose_g_per_l\nX,250\n"},
		{"decimal commas", "name;ABV\nX;12,5\n", "name,abv_percent\nX,12.5\n"},
		{"decimal commas in quotation marks", "name,abv\nX,\"12,5\"\n", "name,abv_percent\nX,12.5\n"},
		{"thousands before a point", "name,basis,abv,Sucrose mg/l\nX,per_l,0,\"1,234.5\"\n", "name,basis,abv_percent,sucrose_g_per_l\nX,per_l,0,1.2345\n"},
		{"words", "name,vegan,stock,currency,confidence,abv\nX,Y,FALSE,€,Seen,n/a\n", "name,vegan,stock,currency,confidence,abv_percent\nX,yes,no,EUR,seen,\n"},
		{"no place for it", "name,Supplier,abv\nX,a farm,5\n", "name,abv_percent\nX,5\n"},
		{"blank rows and columns", "\uFEFFname,,abv,\r\n\r\nX,,5,\r\n,,,\r\n", "name,abv_percent\nX,5\n"},
		{"formulas", "name,note\nX,=1+1\n", "name,note\nX,'=1+1\n"},
	} {
		cleaned, err := clean(one.text)
		if err != nil {
			t.Errorf("%s: %v", one.about, err)
			continue
		}
		if got := string(cleaned.CSV); got != one.want {
			t.Errorf("%s: %q becomes\n%q, want\n%q", one.about, one.text, got, one.want)
		}
		again, err := clean(string(cleaned.CSV))
		if err != nil || string(again.CSV) != one.want || len(again.Changes) > 0 {
			t.Errorf("%s: cleaned again it is %v, %v", one.about, again, err)
		}
	}
}

func TestDoubtIsRefusedWhereItStands(t *testing.T) {
	for _, one := range []struct{ text, place, says string }{
		{"name,Sugar g/l\nX,5\n", "sheet.csv:1:6", "expected to know which figure it is"},
		{"name,Acidity\nX,5\n", "sheet.csv:1:6", "expected to know which figure it is"},
		{"name,Proof\nX,80\n", "sheet.csv:1:6", "expected to know which figure it is"},
		{"name,Brix\nX,5\n", "sheet.csv:1:6", "expected to know which figure it is"},
		{"name,Sucrose\nX,5\n", "sheet.csv:2:3", "without a unit"},
		{"name,abv,ABV %\nX,5,5\n", "sheet.csv:1:10", "a second one for abv_percent"},
		{"bottle size,abv\n1 l,5\n", "sheet.csv:1:1", "no column of names"},
		{"name,abv\nX,\"1,234\"\n", "sheet.csv:2", "decimal comma"},
		{"name,abv\n\nX,trace\n", "sheet.csv:3", "is no number"},
		{"name,abv\nX,5,6\n", "sheet.csv:2:5", "under no heading"},
		{"name,abv\nX,12 g/l\n", "sheet.csv:2", "has a unit"},
		{"", "sheet.csv", "empty"},
	} {
		cleaned, err := clean(one.text)
		if err == nil {
			t.Errorf("%q becomes %q", one.text, cleaned.CSV)
			continue
		}
		if !strings.HasPrefix(err.Error(), one.place+":") || !strings.Contains(err.Error(), one.says) {
			t.Errorf("%q: %v, want %s … %s", one.text, err, one.place, one.says)
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add("Product;ABV;Density (kg/m3)\r\nX;12,5 %;1100\r\n")
	f.Add(inUTF16("Product;ABV\r\nX;12,5 %\r\n", binary.LittleEndian))
	f.Add("name,Sucrose [g/100ml],vegan\nX,\"1,234.5\",Y\n")
	f.Fuzz(func(t *testing.T, text string) {
		cleaned, err := clean(text)
		if err != nil {
			return
		}
		if _, err := Embedded().Overlay(strings.NewReader(string(cleaned.CSV)), "again.csv"); err != nil {
			t.Fatalf("%q becomes %q, which does not read: %v", text, cleaned.CSV, err)
		}
	})
}

func TestAppendedIngredientsReadBack(t *testing.T) {
	i := *find(t, Embedded(), "aromatic bitters")
	i.DashMillilitres, i.Step = 0.75, Step{Amount: 0.75, Word: "dash"}
	out, err := AppendIngredient([]byte("name;abv_percent\nHouse gin;47\n"), "house.csv", &i, Embedded())
	if err != nil {
		t.Fatal(err)
	}
	if want := "name;abv_percent;dash_ml\nHouse gin;47;\nAromatic bitters 44.7 %;;0.75\n"; string(out) != want {
		t.Errorf("%q, want %q", out, want)
	}
	if _, err := AppendIngredient(out, "house.csv", &i, Embedded()); err == nil {
		t.Error("a second row of the same name was written")
	}
}
