package pantry

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"
)

// inUTF16 is text as another program writes it, with the mark before it.
func inUTF16(text string, order binary.ByteOrder) string {
	var b bytes.Buffer
	for _, unit := range append([]uint16{0xFEFF}, utf16.Encode([]rune(text))...) {
		var two [2]byte
		order.PutUint16(two[:], unit)
		b.Write(two[:])
	}
	return b.String()
}

// The bytes are those of RFC 2781, section 3 and appendix A.1: U+12345 is D808
// DF45, and the words are "=Ra".
func TestUTF16IsDecoded(t *testing.T) {
	for _, c := range []struct{ data, want string }{
		{"\xFF\xFE\x08\xD8\x45\xDF\x3D\x00\x52\x00\x61\x00", "\U00012345=Ra"},
		{"\xFE\xFF\xD8\x08\xDF\x45\x00\x3D\x00\x52\x00\x61", "\U00012345=Ra"},
		{"\xFF\xFE", ""},
		{"\xEF\xBB\xBFRa", "Ra"},
		{"Ra", "Ra"},
	} {
		if got, wrong := decoded([]byte(c.data)); wrong != nil || string(got) != c.want {
			t.Errorf("%x is read as %q, %v; want %q", c.data, got, wrong, c.want)
		}
	}
}

func TestBrokenUTF16IsRefusedByEveryReader(t *testing.T) {
	read := map[string]func(text string) error{
		"spec":   func(text string) error { _, err := ReadSpec(strings.NewReader(text), "f"); return err },
		"pantry": func(text string) error { _, err := Embedded().Overlay(strings.NewReader(text), "f"); return err },
		"lots":   func(text string) error { _, err := ReadLots(strings.NewReader(text), "f"); return err },
		"clean":  func(text string) error { _, err := Clean(strings.NewReader(text), "f", Embedded()); return err },
		"recipe": func(text string) error { _, err := ReadRecipe(strings.NewReader(text), "f", Embedded()); return err },
		"row": func(text string) error {
			_, err := AppendRow([]byte(text), "f", []string{"name"}, []string{"x"})
			return err
		},
	}
	for _, c := range []struct{ text, want string }{
		{"\xFF\xFEm\x00i", "UTF-16 that ends in half a letter"},
		{"\xFF\xFE\x08\xD8", "half of a pair"},
		{"\xFF\xFE\x08\xD8a\x00", "half of a pair"},
		{"\xFE\xFF\xDF\x45\x00a", "half of a pair"},
		{"m\x00i\x00x\x00:\x00", "UTF-16 without its mark"},
		{"\x00m\x00i\x00x\x00:", "UTF-16 without its mark"},
	} {
		for name, of := range read {
			if err := of(c.text); err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "UTF-8") {
				t.Errorf("%s of %q: %v; want %q", name, c.text, err, c.want)
			}
		}
	}
}

// A table reads the same in UTF-16, with tabs, and with a first line that names
// the separator; one more row leaves it so.
func TestTablesOfSpreadsheetsAreRead(t *testing.T) {
	const plain = "name,category,abv_percent\nHouse gin,spirit,40.5\n"
	want := shelfCSV(t, overlay(t, plain))
	for _, text := range []string{
		inUTF16(plain, binary.LittleEndian),
		inUTF16("name\tcategory\tabv_percent\r\nHouse gin\tspirit\t40,5\r\n", binary.BigEndian),
		"name\tcategory\tabv_percent\nHouse gin\tspirit\t40.5\n",
		"sep=;\nname;category;abv_percent\nHouse gin;spirit;40,5\n",
		"\uFEFF\"sep=;\"\r\nname;category;abv_percent\r\nHouse gin;spirit;40,5\r\n",
		"SEP=,\nname,category,abv_percent\nHouse gin,spirit,40.5\n",
		"sep=\t\nname\tcategory\tabv_percent\nHouse gin\tspirit\t40.5\n",
	} {
		if got := shelfCSV(t, overlay(t, text)); got != want {
			t.Errorf("%q is read as\n%s\nand not\n%s", text, got, want)
		}
		longer, err := AppendRow([]byte(text), "bar.csv", []string{"name", "category"}, []string{"House rum", "spirit"})
		if err != nil {
			t.Fatal(err)
		}
		if after := overlay(t, string(longer)); find(t, after, "house gin").Figures[StrengthPercent].Value != 40.5 || find(t, after, "house rum").Category != "spirit" {
			t.Errorf("%q with a row more is %q", text, longer)
		}
		if strings.Contains(strings.ToLower(text), "sep=") != strings.Contains(strings.ToLower(string(longer)), "sep=") {
			t.Errorf("%q with a row more is %q", text, longer)
		}
	}
	_, err := Embedded().Overlay(strings.NewReader("sep=;\nname;abv_percent\nGin;much\n"), "bar.csv")
	refused(t, err, "bar.csv:3:5: ")
}
