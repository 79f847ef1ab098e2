package main

import (
	"strings"
	"testing"
)

// measuringsOfAnyReading are the ways to measure, and readings that they answer;
// A, B and C stand for what is typed as a reading.
var measuringsOfAnyReading = []struct {
	words []string
	sound [3]string
}{
	{[]string{"syrup", "--name", "house thing", "--sugar", "A", "--water", "B"}, [3]string{"500g", "500g", ""}},
	{[]string{"saline", "--name", "house thing", "--salt", "A", "--made-up-to", "B"}, [3]string{"20g", "100ml", ""}},
	{[]string{"acid", "--name", "house thing", "--acid", "citric=A", "--acid", "malic=B", "--made-up-to", "C"}, [3]string{"60g", "30g", "1l"}},
	{[]string{"titration", "--name", "house thing", "--category", "juice", "--sample", "A", "--base", "B", "--strength", "C"}, [3]string{"10ml", "75 ml ± 0.2", "0.1"}},
	{[]string{"liqueur", "--name", "house thing", "--brix", "A", "--density", "B", "--abv", "C"}, [3]string{"29.4", "1.0416", "30"}},
	{[]string{"infusion", "--name", "house thing", "--base", "vodka", "--volume", "A", "--plant", "B", "--hours", "12", "--extract", "caffeine=C"}, [3]string{"700ml", "60g", "11000,0.9"}},
	{[]string{"adjust", "--juice", "orange juice", "--acid", "A", "--blend", "citric=B", "--blend", "malic=C"}, [3]string{"46 g/L", "2", "1"}},
	{[]string{"dash", "--ingredient", "aromatic bitters", "--total", "A", "--count", "B"}, [3]string{"18.4g", "20", ""}},
	{[]string{"bitterness", "--name", "house thing", "--substance", "quinine", "--taster", "A"}, [3]string{"3..4.5 8..12", "", ""}},
	{[]string{"bitterness", "--substance", "quinine", "--stock", "A"}, [3]string{"61", "", ""}},
}

// Whatever is typed as readings, an ingredient comes of them that the pantry
// reads back, or they are refused and the file stays as it was.
func FuzzMeasureAnyReadings(f *testing.F) {
	for n := range measuringsOfAnyReading {
		for _, other := range measuringsOfAnyReading {
			f.Add(uint8(n), other.sound[0], other.sound[1], other.sound[2])
		}
		for _, typed := range [][3]string{{"1e300", "1e-300", "-0"}, {"NaN", "Inf", "±"}, {"0", "0", "0"}, {"1\n2", "\xff", "1e308 kg"}} {
			f.Add(uint8(n), typed[0], typed[1], typed[2])
		}
	}
	f.Fuzz(func(t *testing.T, n uint8, a, b, c string) {
		const before = "name,category\nHouse gin,spirit\n"
		t.Chdir(t.TempDir())
		args := measuring(n, a, b, c)
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

// measuring is the command line of one way to measure.
func measuring(n uint8, a, b, c string) []string {
	args := []string{"pantry", "measure"}
	for _, word := range measuringsOfAnyReading[int(n)%len(measuringsOfAnyReading)].words {
		// Only the words that stand for a reading have one in them.
		if flag, letter, ok := strings.Cut(word, "="); ok {
			word = flag + "=" + typedFor(letter, a, b, c)
		} else {
			word = typedFor(word, a, b, c)
		}
		args = append(args, word)
	}
	return args
}

// Each way to measure comes as far as its arithmetic: sound readings are answered.
func TestMeasuringAnswersSoundReadings(t *testing.T) {
	for n, m := range measuringsOfAnyReading {
		args := measuring(uint8(n), m.sound[0], m.sound[1], m.sound[2])
		if code, _, errs := minim(t, "", args...); code != exitAnswered {
			t.Errorf("minim %q: exit code %d\n%s", args, code, errs)
		}
	}
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
