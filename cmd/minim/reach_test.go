package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// wide has names, numbers and an ounce that fill a terminal.
const wide = `drink: A Very Long Drink for a Very Large Bowl at the End of a Very Long Table
glass: 9 l
mix:
  acid-adjusted orange juice: open
  sweet white vermouth: 500..2500 ml
  dry gin: open
  rich syrup: optional
  aromatic bitters: 1..30 dashes
  fine salt: optional
ice: shake
top:
  sparkling wine: open
target:
  volume: 8000 ml
  abv: 12.5 %
  sugar: 65..70 g/L
  bitter: 12 mg/L
`

func TestReachFitsTheTerminal(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, file := range []string{"weir-light.yaml", "slack-water.yaml", "low-tide-garden.yaml"} {
		args := []string{"reach", "--pantry", house, filepath.Join(examples(t), file), "--of", "acid"}
		code, out, errs := minim(t, "", args...)
		if code != exitAnswered {
			t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
		}
		fits(t, out, args)
	}
	for _, args := range [][]string{{"reach", "-", "--of", "bitter"}, {"reach", "-", "--of", "volume", "--units", "oz"}} {
		code, out, errs := minim(t, wide, args...)
		if code != exitAnswered {
			t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
		}
		fits(t, out, args)
	}
}

// Vodka of 40 % and water: 60 ml with 30 ml of water are 26.71 % vol, with 60 ml
// 20.01 % vol (OIML R 22 at 20 °C, masses adding).
func TestReachInJSONHasItsKeysAndThePoursOfEveryEnd(t *testing.T) {
	code, out, errs := minim(t, "mix:\n  vodka: 60 ml\n  water: 30..60 ml\ntarget:\n  abv: 24 %\n", "reach", "-", "--json")
	if code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	var answer object
	if err := json.Unmarshal([]byte(out), &answer); err != nil {
		t.Fatal(err)
	}
	hasKeys(t, "the answer", answer, []string{"drink", "amounts", "properties", "apart", "broken", "conflict", "lots", "notes"})
	first := answer["properties"].([]any)[0].(object)
	hasKeys(t, "a property", first, []string{"property", "unit", "target", "alone", "held", "unknown_from"})
	if first["property"] != "abv" || first["target"].(object)["low"] != 24.0 {
		t.Errorf("the first property is %v, want the one aimed at", first)
	}
	for name, want := range map[string]struct{ value, water float64 }{"least": {20.01, 60}, "greatest": {26.71, 30}} {
		end := first["alone"].(object)[name].(object)
		hasKeys(t, "an end", end, []string{"value", "pours", "stops", "kkt"})
		if got := end["value"].(float64); got < want.value-0.01 || got > want.value+0.01 {
			t.Errorf("%s strength is %v, want %v", name, got, want.value)
		}
		pours := end["pours"].([]any)
		hasKeys(t, "a pour", pours[1].(object), pourKeys)
		if pours[1].(object)["ml"] != want.water {
			t.Errorf("water at the %s is %v, want %v ml", name, pours[1], want.water)
		}
		stop := end["stops"].([]any)[0].(object)
		hasKeys(t, "a stop", stop, []string{"kind", "name", "bound", "price", "unit"})
		if stop["name"] != "water" || stop["bound"] != want.water {
			t.Errorf("%s is stopped by %v, want water at %v ml", name, stop, want.water)
		}
	}
}

func TestThePictureOfAReachIsWellFormedWhateverTheNames(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "reach.svg")
	spec := "drink: '</svg><script>\"&'\nmix:\n  dry gin: 30..60 ml\n  lime juice: open\nice: shake\ntarget:\n  abv: 60 %\n  acid: 5..7 g/L\n"
	if code, _, errs := minim(t, spec, "reach", "-", "--svg", name); code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	decoder := xml.NewDecoder(strings.NewReader(string(text)))
	elements := map[string]int{}
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if start, ok := token.(xml.StartElement); ok {
			elements[start.Name.Local]++
		}
	}
	if elements["script"] > 0 || elements["svg"] != 1 || elements["rect"] < 10 {
		t.Errorf("the picture has %v", elements)
	}
	left, _ := filepath.Glob(filepath.Join(folder, ".*"))
	if len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

func TestAPictureIsNeverWrittenOverWhatIsRead(t *testing.T) {
	name := filepath.Join(t.TempDir(), "ask.yaml")
	const spec = "mix:\n  vodka: 30..60 ml\n  water: open\n"
	if err := os.WriteFile(name, []byte(spec), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, out, _ := minim(t, "", "reach", name, "--svg", name); code != exitBadInput || out != "" {
		t.Errorf("exit code %d, printed %q", code, out)
	}
	if text, _ := os.ReadFile(name); string(text) != spec {
		t.Errorf("the spec is now %q", text)
	}
}
