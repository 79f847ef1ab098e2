package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// How long any text may take: to be read and reckoned, and where it is searched
// for a drink, the work of which is bounded in boxes and not in seconds. What
// takes longer is tried again, for the machine may have been busy with other
// work: it fails at the third time.
const (
	longestReading = 2 * time.Second
	longestSearch  = 10 * time.Second
)

// commandsThatSearch look for a drink where the file asks for one.
var commandsThatSearch = []string{"design", "rebalance", "lighten", "nudge", "reach", "compare", "prep", "batch", "card"}

// Sound files, one of each kind that a command reads.
const (
	anyBottles = "name,category,abv_percent,density_g_per_ml\nHouse gin,spirit,40,0.948\n"
	anyLots    = "date,ingredient,brix\n2026-11-20,lemon juice,8.5\n"
	anyRecipe  = `{"@context":"https://schema.org","@type":"Recipe","name":"X","recipeIngredient":["45 ml dry gin","20 ml lemon juice"]}`
	anyPrep    = "drink: house syrup\nmakes: {volume: 500 ml}\nmix:\n  white sugar: open\n  water: open\n"
	anyAsk     = "drink: x\nmix:\n  dry gin: open\n  lemon juice: optional\n  rich syrup: 5..20 ml\nice: stir\ntarget:\n  volume: 100 ml\n  abv: 18 %\n  acid: at most 6 g/L\n"
	// usesPrep pours what anyPrep makes.
	usesPrep = "drink: y\nmix:\n  dry gin: 45 ml\n  lemon juice: 20 ml\n  house syrup: 20 ml\ntarget:\n  sugar: 80 g/L\n"
)

// linesOfAnyFile are the command lines that read a file, and a sound one that
// they answer; any.yaml is the file, sour.yaml and uses.yaml are sound ones
// beside it.
var linesOfAnyFile = []struct {
	args  []string
	sound string
}{
	{[]string{"design", "any.yaml"}, anyAsk},
	{[]string{"design", "any.yaml", "--spec"}, anyAsk},
	{[]string{"profile", "any.yaml", "--json"}, sour},
	{[]string{"rebalance", "any.yaml", "--swap", "dry gin=vodka"}, sour},
	{[]string{"lighten", "any.yaml", "--abv", "8"}, sour},
	{[]string{"nudge", "any.yaml", "--more", "sour"}, sour},
	{[]string{"reach", "any.yaml"}, anyAsk},
	{[]string{"compare", "any.yaml", "sour.yaml"}, sour},
	{[]string{"prep", "any.yaml", "--for", "uses.yaml"}, anyPrep},
	{[]string{"batch", "any.yaml", "--serves", "12"}, sour},
	{[]string{"card", "any.yaml"}, sour},
	{[]string{"export", "any.yaml"}, sour},
	{[]string{"import", "any.yaml"}, anyRecipe},
	{[]string{"pantry", "check", "any.yaml"}, anyBottles},
	{[]string{"pantry", "import", "any.yaml", "--out", "clean.csv"}, anyBottles},
	{[]string{"pantry", "list", "--pantry", "any.yaml"}, anyBottles},
	{[]string{"profile", "sour.yaml", "--pantry", "any.yaml"}, anyBottles},
	{[]string{"profile", "sour.yaml", "--lots", "any.yaml"}, anyLots},
	{[]string{"rebalance", "sour.yaml", "--lot", "any.yaml"}, anyLots},
}

// filesBeside writes a file and the sound ones beside it.
func filesBeside(t *testing.T, text string) {
	t.Helper()
	t.Chdir(t.TempDir())
	written(t, "any.yaml", text)
	written(t, "sour.yaml", sour)
	written(t, "uses.yaml", usesPrep)
}

// Each command line comes as far as reading the file: a sound one is answered.
func TestCommandsAnswerASoundFile(t *testing.T) {
	for _, line := range linesOfAnyFile {
		filesBeside(t, line.sound)
		if code, _, errs := minim(t, "", line.args...); code != exitAnswered && code != exitLimitBroke {
			t.Errorf("minim %q: exit code %d\n%s", line.args, code, errs)
		}
	}
}

// noNumber is how Go writes a number that is none, or a value it cannot format.
var noNumber = regexp.MustCompile(`\bNaN\b|\bInf\b|%!`)

var placeInAnyFile = regexp.MustCompile(`(?m)^any\.yaml:(\d+)`)

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
		for _, text := range []string{sour, anyBottles, anyLots, anyRecipe, anyPrep, anyAsk, "", "\xff\x00"} {
			f.Add(text, uint8(n))
		}
	}
	f.Fuzz(func(t *testing.T, text string, n uint8) {
		if strings.Contains(text, "like") && strings.Contains(text, "/") {
			t.Skip("would read a file from anywhere")
		}
		args := linesOfAnyFile[int(n)%len(linesOfAnyFile)].args
		longest := longestReading
		if slices.Contains(commandsThatSearch, args[0]) {
			longest = longestSearch
		}
		var code int
		var out, errs string
		for tries := 1; ; tries++ {
			filesBeside(t, text)
			start := time.Now()
			code, out, errs = minim(t, "", args...)
			if took := time.Since(start); took <= longest {
				break
			} else if tries == 3 {
				t.Errorf("minim %q takes %v for %q", args, took, text)
				break
			}
		}
		checkAnyAnswer(t, args, text, code, out, errs)
	})
}

// checkAnyAnswer demands that an answer is whole or its refusal has a place.
func checkAnyAnswer(t *testing.T, args []string, text string, code int, out, errs string) {
	t.Helper()
	switch code {
	case exitAnswered, exitLimitBroke:
		if !slices.Contains(args, "--out") && out == "" || out != "" && !strings.HasSuffix(out, "\n") {
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
