package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What a file of any size may cost: seconds of the processor, so that other
// work on the machine does not count, and megabytes resident at the peak.
const (
	mostProcessorTime = 2 * time.Second
	mostMegabytes     = 200
)

func repeated(count int, line func(n int) string) string {
	var b strings.Builder
	for n := range count {
		b.WriteString(line(n))
	}
	return b.String()
}

func manyBottles(rows int) string {
	return "name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,titratable_acidity_g_per_l_as_citric,source\n" +
		repeated(rows, func(n int) string {
			return fmt.Sprintf("bottle %d,liqueur,,%d,%d,%d,made up\n", n, 15+n%20, 10*(n%30), n%9)
		})
}

// Files of ten megabytes, of a million rows, of a hundred thousand brackets, of
// names that multiply, and folders of ten thousand are answered or refused with
// a word on how large they may be, in 2 s and 200 MB.
func TestFilesOfAnySizeAreAnsweredOrRefusedInTime(t *testing.T) {
	program := built(t)
	t.Chdir(t.TempDir())
	const ten = 10_000_000
	multiplied := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for _, pair := range []string{"ab", "bc", "cd", "de", "ef", "fg", "gh", "hi"} {
		multiplied += fmt.Sprintf("%c: &%c [%s]\n", pair[1], pair[1], strings.TrimSuffix(strings.Repeat("*"+pair[:1]+", ", 9), ", "))
	}
	for name, text := range map[string]string{
		"sour.yaml":        sour,
		"line.yaml":        "mix:\n  dry gin: 45 ml # " + strings.Repeat("x", ten) + "\n",
		"multiplied.yaml":  multiplied,
		"pours.yaml":       "mix:\n" + repeated(10_000, func(n int) string { return fmt.Sprintf("  bottle %d: open\n", n) }),
		"garnishes.yaml":   "mix:\n  dry gin: 45 ml\nfinish:\n" + strings.Repeat("  - mint\n", 90_000),
		"eight.yaml":       "ice: stir\nmix:\n" + repeated(8, func(n int) string { return fmt.Sprintf("  bottle %d: 5..15 ml\n", 11*n) }) + "target:\n  volume: 110 ml\n  abv: 15 %\n",
		"line.csv":         "name,category\n" + strings.Repeat("x", ten) + ",spirit\n",
		"columns.csv":      "name," + repeated(100_000, func(n int) string { return fmt.Sprintf("c%d,", n) }) + "\nx\n",
		"million.csv":      "name\n" + repeated(1_000_000, func(n int) string { return fmt.Sprintf("n%d\n", n) }),
		"wrong.csv":        "name,abv_percent\n" + repeated(mostTestedRows, func(n int) string { return fmt.Sprintf("b%d,x\n", n) }),
		"empty.csv":        "name\n" + strings.Repeat("\n", ten),
		"many.csv":         manyBottles(10_000),
		"most.csv":         manyBottles(mostTestedRows),
		"more.csv":         manyBottles(mostTestedRows + 1),
		"others.csv":       strings.ReplaceAll(manyBottles(mostTestedRows), "bottle", "flask"),
		"misspelt.csv":     "date,ingredient,brix\n" + repeated(mostTestedRows, func(n int) string { return fmt.Sprintf("2026-11-20,lemmon juce %d,8.5\n", n) }),
		"names.yaml":       "choose:\n  at most: 5\n  from: [" + strings.Repeat("juice, ", 100_000) + "juice]\ntarget:\n  volume: 110 ml\n  abv: 15 %\n",
		"tag.yaml":         "mix: " + strings.Repeat("!", 900_000) + " x\n",
		"anchor.yaml":      "mix: &" + strings.Repeat("x", 900_000) + " x\n",
		"measured.csv":     "date,ingredient,brix\n" + strings.Repeat("2026-11-20,lemon juice,8.5\n", 350_000),
		"lists.json":       strings.Repeat("[", 500_000),
		"objects.json":     strings.Repeat(`{"a":`, 150_000),
		"line.json":        `{"@type": "Recipe", "name": "` + strings.Repeat("x", ten) + `"}`,
		"ingredients.json": `{"@type": "Recipe", "recipeIngredient": [` + strings.Repeat(`"1 ml gin",`, 80_000) + `"1 ml gin"]}`,
	} {
		written(t, name, text)
	}
	for folder, count := range map[string]int{"thousands": 10_000, "menu": 200} {
		if err := os.Mkdir(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		for n := range count {
			written(t, filepath.Join(folder, fmt.Sprintf("drink %d.yaml", n)), fmt.Sprintf("drink: No %d\nmix:\n  dry gin: 45 ml\n  lemon juice: %d ml\n", n, 10+n%20))
		}
	}
	written(t, filepath.Join("thousands", "ask.yml"), "mix:\n  dry gin: 45 ml\n  house cordial: 20 ml\n")
	written(t, filepath.Join("thousands", "house cordial.yml"), "drink: house cordial\nmakes: {volume: 500 ml}\nmix:\n  sugar: 200 g\n  water: open\n")

	for _, c := range []struct {
		args string
		code int
		says string
	}{
		{"profile line.yaml", exitBadInput, "more than one megabyte"},
		{"profile multiplied.yaml", exitBadInput, "multiplied.yaml:1:1"},
		{"design pours.yaml", exitBadInput, "at most 40"},
		{"profile garnishes.yaml", exitAnswered, ""},
		{"design eight.yaml --pantry many.csv", exitAnswered, ""},
		{"profile sour.yaml --pantry line.csv", exitBadInput, "more than one megabyte"},
		{"profile sour.yaml --pantry columns.csv", exitBadInput, "at most 1000 columns"},
		{"profile sour.yaml --pantry million.csv", exitBadInput, "at most 10000 rows"},
		{"profile sour.yaml --pantry wrong.csv", exitBadInput, "wrong.csv:2:4"},
		{"profile sour.yaml --pantry empty.csv", exitBadInput, "empty rows"},
		{"profile sour.yaml --pantry most.csv", exitAnswered, ""},
		{"profile sour.yaml --pantry more.csv", exitBadInput, "more.csv:10002:1"},
		{"profile sour.yaml --lots measured.csv", exitBadInput, "at most 10000 rows"},
		{"pantry list --pantry most.csv", exitAnswered, ""},
		{"pantry list --pantry most.csv --pantry most.csv", exitAnswered, ""},
		{"pantry list --pantry most.csv --pantry others.csv", exitBadInput, "at most 11000"},
		{"pantry list --lots misspelt.csv", exitBadInput, "and 9990 more"},
		{"design names.yaml", exitBadInput, "at most 500"},
		{"design --at-most 5 --abv 15 --volume 100 --measure 0.001ml", exitBadInput, "less than a drop"},
		{"profile tag.yaml", exitBadInput, "expected a value"},
		{"profile anchor.yaml", exitBadInput, "expected a value"},
		{"card thousands --out book.html", exitBadInput, "at most 200"},
		{"pantry check most.csv", exitAnswered, ""},
		{"pantry check million.csv", exitBadInput, "at most 10000 rows"},
		{"pantry import most.csv --out clean.csv", exitAnswered, ""},
		{"pantry import line.csv --out clean.csv", exitBadInput, "more than one megabyte"},
		{"import lists.json", exitBadInput, "32 levels"},
		{"import objects.json", exitBadInput, "32 levels"},
		{"import line.json", exitBadInput, "more than one megabyte"},
		{"import ingredients.json", exitBadInput, "more than 200 lines"},
		{"compare thousands", exitBadInput, "at most 200"},
		{"compare menu", exitAnswered, ""},
		{"profile thousands/ask.yml", exitBadInput, "thousands/house cordial.yml"},
	} {
		code, said, took, peak := measured(t, program, strings.Fields(c.args)...)
		t.Logf("minim %s: %v, %d MB", c.args, took.Round(10*time.Millisecond), peak)
		if code != c.code || !strings.Contains(said, c.says) || strings.Contains(said, "goroutine") {
			t.Errorf("minim %s: exit code %d, want %d and %q in\n%.500s", c.args, code, c.code, c.says, said)
		}
		if took > mostProcessorTime || peak >= mostMegabytes {
			t.Errorf("minim %s: %v and %d MB, expected at most %v and %d MB", c.args, took, peak, mostProcessorTime, mostMegabytes)
		}
	}
}

// mostTestedRows is how many rows a CSV may have.
const mostTestedRows = 10_000
