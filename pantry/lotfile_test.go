package pantry

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const lotFile = `date,ingredient,brix,acid_g_per_l,ph,abv_percent,density_g_per_ml,note
2026-11-20,lime juice,8.2,52,2.3,,,Tuesday's crate
2026-11-21,"house cordial, red",,,,,1.21,
`

func TestLotFileReads(t *testing.T) {
	lots, err := ReadLots(strings.NewReader(lotFile), "lots.csv")
	if err != nil || len(lots) != 2 {
		t.Fatal(lots, err)
	}
	l := lots[0]
	if l.Day() != "2026-11-20" || l.Ingredient != "lime juice" || l.Readings[LotBrix] != (Reading{8.2, true}) || l.Readings[LotStrength].Known || l.Note != "Tuesday's crate" {
		t.Errorf("%+v", l)
	}
	if l.Place != (Place{File: "lots.csv", Line: 2, Column: 12}) {
		t.Errorf("stands at %v", l.Place)
	}
}

// Spreadsheets write a byte order mark, CRLF, semicolons, decimal commas, blank
// rows and columns in any order.
func TestLotFileOfASpreadsheetReads(t *testing.T) {
	text := "\uFEFFIngredient;Date;Acid_g_per_L\r\nlime juice;2026-11-20;52,5\r\n;;\r\n\r\n"
	lots, err := ReadLots(strings.NewReader(text), "lots.csv")
	if err != nil || len(lots) != 1 || lots[0].Readings[LotAcid].Value != 52.5 {
		t.Fatal(lots, err)
	}
}

func TestBrokenLotFilesAreRefusedWhereTheyAreBroken(t *testing.T) {
	row := func(cells string) string { return "date,ingredient,brix,acid_g_per_l,note\n" + cells + "\n" }
	for _, one := range []struct{ text, place, says, hint string }{
		{"", "lots.csv", "empty; expected a heading line with the columns date and ingredient", ""},
		{"date,brix\n", "lots.csv:1:1", "no column ingredient", "the columns are date"},
		{"date,ingredient,acid_g_l\n2026-11-20,lime,5\n", "lots.csv:1:17", "nearest: acid_g_per_l", "the columns are"},
		{"date,ingredient,date\n", "lots.csv:1:17", "a second time", ""},
		{row("20/11/2026,lime,8,,"), "lots.csv:2:1", "is no date", "write 2026-11-20"},
		{row("05.11.2026,lime,8,,"), "lots.csv:2:1", "is no date", "write 2026-11-05, or 2026-05-11"},
		{row("11/20/2026,lime,8,,"), "lots.csv:2:1", "is no date", "write 2026-11-20"},
		{row("2026-11-20 00:00,lime,8,,"), "lots.csv:2:1", "is no date", "without the time"},
		{row("46346,lime,8,,"), "lots.csv:2:1", "is no date", "spreadsheet's number"},
		{row("2026-02-30,lime,8,,"), "lots.csv:2:1", "is no date", ""},
		{row(",lime,8,,"), "lots.csv:2:2", "no date", ""},
		{row("2026-11-20,,8,,"), "lots.csv:2:1", "no ingredient", ""},
		{row("2026-11-20,lime,,,"), "lots.csv:2:12", "nothing measured", "fill at least one"},
		{row(`2026-11-20,lime,"8,2",,`), "lots.csv:2:17", "decimal comma", "write 8.2"},
		{row("2026-11-20,lime,8.2 Bx,,"), "lots.csv:2:17", "has a unit", "write 8.2"},
		{row("2026-11-20,lime,120,,"), "lots.csv:2:17", "expected 0 to 95", ""},
		{row("2026-11-20,lime,,-5,"), "lots.csv:2:18", "negative", ""},
		{row("2026-11-20,lime,8,5,,6"), "lots.csv:2:22", "under no heading", ""},
		{row(`2026-11-20,li"me,8,5,`), "lots.csv:2", "quotation mark", ""},
	} {
		_, err := ReadLots(strings.NewReader(one.text), "lots.csv")
		if err == nil {
			t.Errorf("%q was read", one.text)
			continue
		}
		for _, part := range []string{one.place + ":", one.says, one.hint} {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%q: no %q in\n%v", one.text, part, err)
			}
		}
	}
}

func TestAllMistakesOfALotFileAreNamed(t *testing.T) {
	_, err := ReadLots(strings.NewReader("date,ingredient,brix\nyesterday,lime,x\n2026-11-20,,8\n"), "lots.csv")
	if all, ok := err.(InputErrors); !ok || len(all) != 3 {
		t.Errorf("%v", err)
	}
}

func anyLot(t *rapid.T) Lot {
	word := rapid.StringMatching(`[=+\-@'",; a-zé%:1]{1,12}[a-z]`)
	l := Lot{
		Date:       time.Date(rapid.IntRange(1950, 2090).Draw(t, "year"), 3, rapid.IntRange(1, 31).Draw(t, "day"), 0, 0, 0, 0, time.UTC),
		Ingredient: cleanText(unguard(cleanText(word.Draw(t, "ingredient")))),
		Note:       cleanText(unguard(cleanText(word.Draw(t, "note")))),
	}
	for f := range l.Readings {
		if f == 0 || rapid.Bool().Draw(t, "known") {
			l.Readings[f] = Reading{Value: rapid.Float64Range(lotTable[f].low, lotTable[f].high).Draw(t, "value"), Known: true}
		}
	}
	return l
}

func TestLotsReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lots := rapid.SliceOfN(rapid.Custom(anyLot), 1, 5).Draw(t, "lots")
		var b bytes.Buffer
		if err := WriteLots(&b, lots); err != nil {
			t.Fatal(err)
		}
		again, err := ReadLots(&b, "lots.csv")
		if err != nil || len(again) != len(lots) {
			t.Fatal(err)
		}
		for n := range lots {
			if !sameLot(lots[n], again[n]) {
				t.Fatalf("wrote %+v, read %+v", lots[n], again[n])
			}
		}
	})
}

func TestAppendingKeepsWhatStood(t *testing.T) {
	l := Lot{Date: day(t, "2026-11-25"), Ingredient: "lime juice", Note: "=1+1"}
	l.Readings[LotPH] = Reading{2.3, true}
	for _, one := range []struct{ before, after string }{
		{"", "date,ingredient,brix,acid_g_per_l,ph,abv_percent,density_g_per_ml,note\n2026-11-25,lime juice,,,2.3,,,'=1+1\n"},
		{"date,ingredient,brix\n2026-11-20,lemon,8\n\n", "date,ingredient,brix,ph,note\n2026-11-20,lemon,8,,\n2026-11-25,lime juice,,2.3,'=1+1\n"},
		{"\uFEFFingredient;date;brix;ph\r\nlemon;2026-11-20;8,5;\r\n", "\uFEFFingredient;date;brix;ph;note\r\nlemon;2026-11-20;8,5;;\r\nlime juice;2026-11-25;;2.3;'=1+1\r\n"},
	} {
		got, err := AppendLot([]byte(one.before), "lots.csv", l)
		if err != nil || string(got) != one.after {
			t.Errorf("%q becomes\n%q, %v, want\n%q", one.before, got, err, one.after)
		}
	}
	if _, err := AppendLot([]byte("date,ingredient,brix\nyesterday,lime,8\n"), "lots.csv", l); err == nil {
		t.Error("a file that cannot be read was appended to")
	}
	l.Readings[LotBrix] = Reading{math.NaN(), true}
	if _, err := AppendLot(nil, "lots.csv", l); err == nil {
		t.Error("a row that cannot be read back was written")
	}
}

func FuzzReadLots(f *testing.F) {
	f.Add(lotFile)
	f.Add(inUTF16(lotFile, binary.LittleEndian))
	f.Add("sep=;\ndate;ingredient;brix\n2026-11-20;lime;8,2\n")
	f.Add("\uFEFFdate;ingredient;brix\r\n2026-11-20;lime;8,2\r\n")
	f.Fuzz(func(t *testing.T, text string) {
		lots, err := ReadLots(strings.NewReader(text), "lots.csv")
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := WriteLots(&b, lots); err != nil {
			t.Fatal(err)
		}
		again, err := ReadLots(&b, "lots.csv")
		if err != nil || len(again) != len(lots) {
			t.Fatalf("%q: written and read again: %v", text, err)
		}
	})
}
