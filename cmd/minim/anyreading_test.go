package main

import (
	"strings"
	"testing"
)

// measuringsOfAnyReading are the ways to measure; A, B and C stand for what is
// typed as a reading.
var measuringsOfAnyReading = [][]string{
	{"syrup", "--name", "house thing", "--sugar", "A", "--water", "B"},
	{"saline", "--name", "house thing", "--salt", "A", "--made-up-to", "B"},
	{"acid", "--name", "house thing", "--acid", "citric=A", "--acid", "malic=B", "--made-up-to", "C"},
	{"titration", "--name", "house thing", "--category", "juice", "--sample", "A", "--base", "B", "--strength", "C"},
	{"liqueur", "--name", "house thing", "--brix", "A", "--density", "B", "--abv", "C"},
	{"infusion", "--name", "house thing", "--base", "vodka", "--volume", "A", "--plant", "B", "--hours", "12", "--extract", "caffeine=C"},
	{"adjust", "--juice", "orange juice", "--acid", "A", "--blend", "citric=B", "--blend", "malic=C"},
	{"dash", "--ingredient", "aromatic bitters", "--total", "A", "--count", "B"},
	{"bitterness", "--name", "house thing", "--substance", "quinine", "--taster", "A"},
	{"bitterness", "--substance", "quinine", "--stock", "A"},
}

// Whatever is typed as readings, an ingredient comes of them that the pantry
// reads back, or they are refused and the file stays as it was.
func FuzzMeasureAnyReadings(f *testing.F) {
	for n := range measuringsOfAnyReading {
		for _, typed := range [][3]string{
			{"500g", "500g", "1l"}, {"20g", "100ml", "0.1"}, {"10ml", "75 ml ± 0.2", "0.1"}, {"29.4", "1.0416", "30"}, {"700ml", "60g", "11000,0.9"},
			{"46 g/L", "2", "1"}, {"18.4g", "20", ""}, {"3..4.5 8..12", "", ""}, {"61", "", ""}, {"1e300", "1e-300", "-0"}, {"NaN", "Inf", "±"}, {"0", "0", "0"},
		} {
			f.Add(uint8(n), typed[0], typed[1], typed[2])
		}
	}
	f.Fuzz(func(t *testing.T, n uint8, a, b, c string) {
		const before = "name,category\nHouse gin,spirit\n"
		t.Chdir(t.TempDir())
		args := []string{"pantry", "measure"}
		for _, word := range measuringsOfAnyReading[int(n)%len(measuringsOfAnyReading)] {
			// Only the words that stand for a reading have one in them.
			if flag, letter, ok := strings.Cut(word, "="); ok {
				word = flag + "=" + typedFor(letter, a, b, c)
			} else {
				word = typedFor(word, a, b, c)
			}
			args = append(args, word)
		}
		typed := a + b + c
		code, out, errs := minim(t, "", args...)
		checkAnyAnswer(t, args, typed, code, out, errs)
		if strings.Contains(strings.Join(args, " "), "--stock") {
			return
		}
		written(t, "house.csv", before)
		code, _, errs = minim(t, "", append(args, "--out", "house.csv")...)
		if code != exitAnswered {
			if code != exitBadInput {
				t.Errorf("minim %q: exit code %d\n%s", args, code, errs)
			}
			holds(t, "house.csv", before)
			return
		}
		if code, _, errs := minim(t, "", "pantry", "list", "--pantry", "house.csv"); code != exitAnswered {
			t.Errorf("minim %q writes what is not read again: %s", args, errs)
		}
	})
}

func typedFor(letter, a, b, c string) string {
	switch letter {
	case "A":
		return a
	case "B":
		return b
	case "C":
		return c
	}
	return letter
}
