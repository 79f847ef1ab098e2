package main

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
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

// The command under a frontier, however long, can be copied into a shell, and
// prints the drink that it speaks of, without drawing.
func TestTheCommandUnderAFrontierRunsAsPrinted(t *testing.T) {
	root := withExamples(t)
	asked := `minim lighten examples/high-water.yaml --frontier --steps 2 --svg way.svg --with "water, fino sherry, green tea, verjus" --units oz`
	shell := func(line string) string {
		command := exec.Command("sh", "-c", line)
		command.Dir = root
		out, err := command.Output()
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		return string(out)
	}
	out := shell(asked)
	fits(t, out, []string{asked})
	_, printed, found := strings.Cut(out, "\nAny of them in full, such as this one:\n")
	if !found {
		t.Fatalf("no command in\n%s", out)
	}
	if full := shell(printed); !strings.Contains(full, "Offered beside its own bottles: water, fino sherry, green tea and verjus.") {
		t.Errorf("%s\nprints\n%s", printed, full)
	}
}
