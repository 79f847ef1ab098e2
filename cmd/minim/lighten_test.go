package main

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestJSONHasEveryKeyOfAWeakerDrink(t *testing.T) {
	file := filepath.Join(examples(t), "high-water.yaml")
	answer := decoded(t, "", exitAnswered, "lighten", file, "--abv", "12", "--json")
	for _, key := range append([]string{"lighten"}, answerKeys...) {
		if _, ok := answer[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	more := answer["lighten"].(object)
	for _, key := range []string{"property", "at_most", "least_jnd", "proven", "offered", "original", "lost", "variants", "stronger", "another_drink"} {
		if _, ok := more[key]; !ok {
			t.Errorf("no key %q in lighten", key)
		}
	}
	if pours := more["original"].(object)["pours"].([]any); len(pours) != 4 {
		t.Errorf("%d pours of the original, its spec has 4", len(pours))
	}
}

func TestJSONHasEveryKeyOfAFrontier(t *testing.T) {
	file := filepath.Join(examples(t), "morning-tide.yaml")
	code, out, errs := minim(t, "", "lighten", file, "--frontier", "--steps", "3", "--json")
	if code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	var answer object
	if err := json.Unmarshal([]byte(out), &answer); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"drink", "original", "offered", "points", "knee", "curve"} {
		if _, ok := answer[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	points := answer["points"].([]any)
	if len(points) != 4 {
		t.Fatalf("%d points of three steps, expected 4", len(points))
	}
	for _, key := range []string{"at_most", "abv", "ethanol_g", "least_jnd", "total_jnd", "proven", "broken", "pours"} {
		if _, ok := points[3].(object)[key]; !ok {
			t.Errorf("no key %q in a point", key)
		}
	}
}

func TestWeakerDrinksFitTheTerminal(t *testing.T) {
	for _, name := range []string{"high-water.yaml", "morning-tide.yaml"} {
		for _, form := range [][]string{{"--abv", "2"}, {"--frontier", "--steps", "9"}} {
			for _, units := range []string{"ml", "oz"} {
				args := append([]string{"lighten", filepath.Join(examples(t), name), "--units", units}, form...)
				code, out, errs := minim(t, "", args...)
				if code != exitAnswered {
					t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
				}
				fits(t, strings.ReplaceAll(out, examples(t), "examples"), args)
			}
		}
	}
}

func TestThePictureOfAFrontierIsWellFormed(t *testing.T) {
	name := filepath.Join(t.TempDir(), "way.svg")
	if code, _, errs := minim(t, "", "lighten", filepath.Join(examples(t), "high-water.yaml"), "--frontier", "--svg", name); code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	decoder := xml.NewDecoder(file)
	for {
		if _, err := decoder.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
