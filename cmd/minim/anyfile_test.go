package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// longestAnswer is how long any text may take. It guards against what never
// ends, with room for a machine that is busy with other work.
const longestAnswer = 10 * time.Second

// linesOfAnyFile are the command lines that read a file; any.txt is the file,
// sour.yaml and house.csv are sound ones beside it.
var linesOfAnyFile = [][]string{
	{"design", "any.txt"},
	{"design", "any.txt", "--spec"},
	{"profile", "any.txt", "--json"},
	{"rebalance", "any.txt", "--swap", "dry gin=vodka"},
	{"lighten", "any.txt", "--abv", "8"},
	{"nudge", "any.txt", "--more", "sour"},
	{"reach", "any.txt"},
	{"compare", "any.txt", "sour.yaml"},
	{"prep", "any.txt"},
	{"batch", "any.txt", "--serves", "12"},
	{"card", "any.txt"},
	{"export", "any.txt"},
	{"import", "any.txt"},
	{"pantry", "check", "any.txt"},
	{"pantry", "import", "any.txt"},
	{"pantry", "list", "--pantry", "any.txt"},
	{"profile", "sour.yaml", "--pantry", "any.txt"},
	{"profile", "sour.yaml", "--lots", "any.txt"},
	{"rebalance", "sour.yaml", "--lot", "any.txt"},
}

// noNumber is how Go writes a number that is none, or a value it cannot format.
var noNumber = regexp.MustCompile(`\bNaN\b|\bInf\b|%!`)

var placeInAnyFile = regexp.MustCompile(`(?m)^any\.txt:(\d+)`)

// Whatever stands in a file, every command that reads it answers or says what
// is wrong: no panic, no half answer, no number that is none, and no place
// beyond the file's end.
func FuzzCommandsOnAnyFile(f *testing.F) {
	for _, pattern := range []string{filepath.Join("testdata", "broken", "*"), filepath.Join("..", "..", "examples", "*")} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("%s: no files, %v", pattern, err)
		}
		for n, file := range files {
			text, err := os.ReadFile(file)
			if err != nil || len(text) > 4096 {
				continue
			}
			f.Add(string(text), uint8(n))
		}
	}
	for n := range linesOfAnyFile {
		f.Add(sour, uint8(n))
		f.Add("", uint8(n))
		f.Add("\xff\x00", uint8(n))
		f.Add("name,category,abv_percent,density_g_per_ml\nDry gin 40 %,spirit,40,0.948\n", uint8(n))
		f.Add("date,ingredient,brix\n2026-11-20,lemon juice,8.5\n", uint8(n))
		f.Add(`{"@context":"https://schema.org","@type":"Recipe","name":"X","recipeIngredient":["45 ml dry gin","20 ml lemon juice"]}`, uint8(n))
		f.Add("drink: x\nmakes: 500 ml\nmix:\n  sugar: 200 g\n  water: 300 g\n", uint8(n))
		f.Add("drink: x\nmix:\n  dry gin: open\n  lemon juice: optional\n  rich syrup: 5..20 ml\nice: stir\ntarget:\n  volume: 100 ml\n  abv: 18 %\n  acid: at most 6 g/L\n", uint8(n))
	}
	f.Fuzz(func(t *testing.T, text string, n uint8) {
		if strings.Contains(text, "like") {
			t.Skip("would read a file of any name")
		}
		t.Chdir(t.TempDir())
		written(t, "any.txt", text)
		written(t, "sour.yaml", sour)
		args := linesOfAnyFile[int(n)%len(linesOfAnyFile)]
		start := time.Now()
		code, out, errs := minim(t, "", args...)
		if took := time.Since(start); took > longestAnswer {
			t.Errorf("minim %q takes %v for %q", args, took, text)
		}
		checkAnyAnswer(t, args, text, code, out, errs)
	})
}

// checkAnyAnswer demands that an answer is whole or its refusal has a place.
func checkAnyAnswer(t *testing.T, args []string, text string, code int, out, errs string) {
	t.Helper()
	switch code {
	case exitAnswered, exitLimitBroke:
		if out == "" || !strings.HasSuffix(out, "\n") {
			t.Errorf("minim %q ends in the middle for %q:\n%s", args, text, out)
		}
		if word := noNumber.FindString(out); word != "" && !strings.Contains(text, word) {
			t.Errorf("minim %q prints %s for %q:\n%.2000s", args, word, text, out)
		}
	case exitBadInput:
		if out != "" && args[1] != "check" || out+errs == "" {
			t.Errorf("minim %q for %q: standard output %q, standard error %q", args, text, out, errs)
		}
	default:
		t.Errorf("minim %q for %q: exit code %d\n%s", args, text, code, errs)
	}
	// A carriage return alone ends a line too.
	lines := strings.Count(text, "\n") + strings.Count(text, "\r") + 1
	for _, place := range placeInAnyFile.FindAllStringSubmatch(out+errs, -1) {
		if line, err := strconv.Atoi(place[1]); err != nil || line < 1 || line > lines {
			t.Errorf("minim %q names line %s of %d for %q", args, place[1], lines, text)
		}
	}
}
