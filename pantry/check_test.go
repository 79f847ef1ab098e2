package pantry

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

// findings returns what Check says of a file, as a person reads it.
func findings(text []byte, file string) string {
	var b strings.Builder
	for _, f := range Check(bytes.NewReader(text), file, Embedded()) {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

// Each file in testdata/badpantries is one kind of mistake, or of what may be
// one; beside it stands what a bartender is told.
func TestMistakesInPantriesAreExplained(t *testing.T) {
	files, err := filepath.Glob("testdata/badpantries/*.csv")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d broken pantries, %v; expected the folder of them", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".csv"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			wantFile := strings.TrimSuffix(file, ".csv") + ".txt"
			got := findings(text, filepath.Base(file))
			want, err := os.ReadFile(wantFile)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
			checkFindings(t, text, filepath.Base(file))
		})
	}
}

// checkFindings demands that there are findings in the order of the file, and
// errors among them exactly where the file cannot be read.
func checkFindings(t *testing.T, text []byte, file string) {
	t.Helper()
	_, err := Embedded().Overlay(bytes.NewReader(text), file)
	var all InputErrors
	if err != nil && !errors.As(err, &all) {
		t.Fatal(err)
	}
	last, severe := Place{}, 0
	for _, f := range Check(bytes.NewReader(text), file, Embedded()) {
		p := f.Place
		if p.Line < last.Line || p.Line == last.Line && p.Column < last.Column {
			t.Errorf("%v comes after %v", p, last)
		}
		last = p
		if f.Severity == SevereError {
			severe++
		}
		if p.File != file || f.Message == "" || strings.HasSuffix(f.Message, ".") || strings.ContainsAny(f.Message, "\n\r\x1b") {
			t.Errorf("not a line for people: %v", f)
		}
	}
	if severe != len(all) {
		t.Errorf("%d errors found; reading gives %d", severe, len(all))
	}
	if last == (Place{}) {
		t.Error("nothing found")
	}
}

func TestCheckFindsNothingInTheEmbeddedPantry(t *testing.T) {
	excepted := map[string]bool{}
	for name := range looseDensities {
		excepted[name] = true
	}
	for _, f := range Check(bytes.NewReader(embeddedCSV), "ingredients.csv", &Shelf{}) {
		if strings.Contains(f.Message, "density of") && startsWithAny(f.Message, excepted) || strings.Contains(f.Message, "unknown, and could be tasted") {
			continue
		}
		t.Error(f)
	}
}

func startsWithAny(text string, words map[string]bool) bool {
	for w := range words {
		if strings.HasPrefix(text, w) {
			return true
		}
	}
	return false
}

func TestCheckPassesGoodRows(t *testing.T) {
	for about, text := range map[string]string{
		"prices":            "name;price;pack;currency;stock\nGin;18,50;0,7 l;EUR;yes\nLime juice;6,00;1 l;EUR;no\n",
		"a spirit":          "name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,source\nGin,spirit,0.9431,43,0,label\n",
		"a pantry of names": "name\nGin\n",
	} {
		if got := findings([]byte(text), "bar.csv"); got != "" {
			t.Errorf("%s:\n%s", about, got)
		}
	}
}

func TestCheckReportsAFaultOfTheStream(t *testing.T) {
	got := Check(iotest.ErrReader(errors.New("the disk is gone")), "bar.csv", Embedded())
	if len(got) != 1 || got[0].Severity != SevereError || got[0].Message != "the disk is gone" {
		t.Errorf("got %v", got)
	}
}

func TestCheckReportsMoreThanTen(t *testing.T) {
	text := "name,abv_percent\n" + strings.Repeat(",x\n", 25)
	if got := Check(strings.NewReader(text), "bar.csv", Embedded()); len(got) != 50 {
		t.Errorf("%d findings; want 50", len(got))
	}
}

// Whatever the file, checking it ends, with errors exactly where it cannot be read.
func FuzzCheck(f *testing.F) {
	files, err := filepath.Glob("testdata/badpantries/*.csv")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
		f.Add([]byte(inUTF16(string(text), binary.LittleEndian)))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		_, err := Embedded().Overlay(bytes.NewReader(text), "bar.csv")
		severe := false
		for _, finding := range Check(bytes.NewReader(text), "bar.csv", Embedded()) {
			severe = severe || finding.Severity == SevereError
		}
		if severe != (err != nil) {
			t.Errorf("errors found: %v; reading gives %v", severe, err)
		}
	})
}
