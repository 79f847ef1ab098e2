package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// batches are what bars ask of drinks that are shaken, stirred, topped, and kept
// for the same day.
func batches(t *testing.T) [][]string {
	t.Helper()
	house, prices := filepath.Join(examples(t), "weir-lantern.csv"), filepath.Join(examples(t), "weir-lantern-prices.csv")
	var all [][]string
	for _, name := range []string{"low-tide-garden", "morning-tide", "slack-water", "weir-light"} {
		file := filepath.Join(examples(t), name+".yaml")
		for _, size := range [][]string{
			{"--serves", "40"}, {"--bottle", "700ml", "--bottles", "6", "--units", "oz"}, {"--keg", "19l", "--fresh", "in", "--dilute", "full"},
		} {
			all = append(all, append([]string{"batch", file, "--pantry", house, "--pantry", prices, "--price", "12"}, size...))
		}
	}
	return all
}

// prepBatches are what bars ask of syrups and cordials.
func prepBatches(t *testing.T) [][]string {
	t.Helper()
	house, prices := filepath.Join(examples(t), "weir-lantern.csv"), filepath.Join(examples(t), "weir-lantern-prices.csv")
	var all [][]string
	for _, name := range []string{"acid-blend", "hibiscus-syrup", "hibiscus-cordial"} {
		file := filepath.Join(examples(t), "preps", name+".yaml")
		for _, size := range [][]string{{"--litres", "2"}, {"--bottle", "700ml", "--bottles", "6", "--units", "oz"}, {"--keg", "19l", "--units", "imp-oz"}} {
			all = append(all, append([]string{"batch", file, "--pantry", house, "--pantry", prices}, size...))
		}
	}
	return all
}

func TestBatchesFitTheTerminal(t *testing.T) {
	for _, args := range append(batches(t), prepBatches(t)...) {
		code, out, errs := minim(t, "", args...)
		if code != exitAnswered {
			t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
		}
		fits(t, out, args)
		if strings.Contains(out, "safe ") || strings.Contains(out, "safely") {
			t.Errorf("minim %q calls something safe:\n%s", args, out)
		}
		if _, again, _ := minim(t, "", args...); again != out {
			t.Errorf("minim %q prints differently the second time", args)
		}
	}
}

// The sheet and the label are read apart, and say the same.
func TestTheLabelDatesABatchAsTheSheetDoes(t *testing.T) {
	all := batches(t)
	for _, mix := range []string{
		"  gin: 60 ml\n  dry madeira: 30 ml\n", "  gin: 60 ml\n", "  gin: 30 ml\n  water: 70 ml\n", "  gin: 30 ml\n  brew: 30 ml\n", "  gin: 30 ml\n  infusion: 30 ml\n",
	} {
		folder := t.TempDir()
		for name, text := range map[string]string{
			"drink.yaml": "mix:\n" + mix, "brew.yaml": "mix:\n  water: 1 l\nmakes: {keeps: 4 hours}\n", "infusion.yaml": "mix:\n  water: 1 l\nmakes: {keeps: 30 min}\n",
		} {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, []string{"batch", filepath.Join(folder, "drink.yaml"), "--serves", "10", "--fresh", "in"})
	}
	sheet, label := regexp.MustCompile(`use\sthe\sbatch\sup\swithin\s(\d+\s\w+)`), regexp.MustCompile(`(?m)^  use by +_+ +\(made on \+ (\d+ \w+)\)$`)
	for _, args := range all {
		code, out, errs := minim(t, "", args...)
		if code != exitAnswered {
			t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
		}
		said, dated := sheet.FindStringSubmatch(strings.ToLower(out)), label.FindStringSubmatch(out)
		if said == nil || dated == nil || strings.Join(strings.Fields(said[1]), " ") != dated[1] {
			t.Errorf("%q: the sheet says %q, the label %q\n%s", args, said, dated, out)
		}
	}
}

// Names of any length fit, in the largest batch and the dearest currency.
func TestLongNamesFitTheTerminal(t *testing.T) {
	long := "Sweet sherry from sun-dried grapes 17 %"
	folder := t.TempDir()
	prices := filepath.Join(folder, "prices.csv")
	text := "name,price,pack,currency\n" + long + ",123456.50,375 ml,HUF\nGinger beer,1234.50,200 ml,HUF\nLemon juice,98765.40,1 l,HUF\n"
	if err := os.WriteFile(prices, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	spec := "mix:\n  " + long + ": 37.5 ml\n  sugar syrup 1:1 by weight: 12.5 ml\n  acid-adjusted orange juice: 17.5 ml\n  salted tomato juice: 12.25 ml\n" +
		"  fine salt: 0.25 g\nice: shake\ntop:\n  ginger beer: 62.5 ml\n"
	spec = strings.Replace(spec, "sugar syrup 1:1 by weight", "'sugar syrup 1:1 by weight'", 1)
	for _, units := range []string{"ml", "oz"} {
		args := []string{"batch", "-", "--serves", "9999", "--pantry", prices, "--units", units, "--cost"}
		code, out, errs := minim(t, spec, args...)
		if code != exitAnswered {
			t.Fatalf("exit code %d\n%s", code, errs)
		}
		fits(t, out, args)
	}
}

func TestJSONOfABatchAgreesWithItself(t *testing.T) {
	for _, args := range batches(t) {
		answer := decoded(t, "", exitAnswered, append(args, "--json")...)
		checkConsistent(t, answer)
		batch := answer["batch"].(object)
		sum := 0.0
		for _, row := range batch["rows"].([]any) {
			r := row.(object)
			sum += r["g"].(float64)
			if math.Abs(r["running_g"].(float64)-sum) > 1e-6 {
				t.Errorf("%q: running to %v g, the sum is %g", args, r["running_g"], sum)
			}
		}
		if g := batch["g"].(float64); math.Abs(g-sum) > 1e-6*sum {
			t.Errorf("%q: %g g in all, the sum is %g", args, g, sum)
		}
		squares := 0.0
		for _, m := range batch["misses"].([]any) {
			jnd := m.(object)["jnd"].(float64)
			squares += jnd * jnd
		}
		if jnd := batch["jnd"].(float64); math.Abs(jnd-math.Sqrt(squares)) > 1e-6 {
			t.Errorf("%q: %g JND in all, the misses come to %g", args, jnd, math.Sqrt(squares))
		}
		if batch["objective"].(float64) > batch["scaled_objective"].(float64) {
			t.Errorf("%q: the sheet is further off than the scaled serve", args)
		}
		for _, key := range []string{"pours", "profile", "dilution", "misses", "solution", "cost"} {
			if _, ok := answer[key]; !ok {
				t.Errorf("%q: no key %s", args, key)
			}
		}
	}
}

func TestABatchThatCannotBeWrittenSaysSo(t *testing.T) {
	var errs bytes.Buffer
	args := batches(t)[0]
	if code := run(args, strings.NewReader(""), &fullDisk{room: 100}, &errs); code != exitNotWritten {
		t.Errorf("exit code %d\n%s", code, errs.String())
	}
}

// Weights of a drop and of a keg, volumes as a jug or a small cylinder shows
// them.
func TestVolumesAreThoseOfAJug(t *testing.T) {
	for _, c := range []struct {
		ml   float64
		want string
	}{{0.44, "0.4"}, {9.96, "10.0"}, {12.4, "12"}, {99.4, "99"}, {102.4, "100"}, {103, "105"}, {2398, "2400"}} {
		if got := millilitres.onTheJug(c.ml); got != c.want {
			t.Errorf("%g ml is %s on the jug, want %s", c.ml, got, c.want)
		}
	}
}
