package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// menu is a folder with so many drinks, each a little different from the last.
func menu(t *testing.T, drinks int) string {
	t.Helper()
	folder := t.TempDir()
	for n := range drinks {
		text := fmt.Sprintf("drink: Number %d on the list of the house\nmix:\n  dry gin: %d ml\n  lime juice: %d ml\n  rich syrup: %d ml\nice: shake\n",
			n, 20+n%40, 5+7*n%30, 3+11*n%25)
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%03d.yaml", n)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func specFile(t *testing.T, name, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestJSONOfAComparisonIsComplete(t *testing.T) {
	stirred := specFile(t, "stirred.yaml", martini)
	code, out, errs := minim(t, salted, "compare", stirred, "-", "--json")
	if code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	var answer object
	if err := json.Unmarshal([]byte(out), &answer); err != nil {
		t.Fatal(err)
	}
	drinks := answer["drinks"].([]any)
	if len(drinks) != 2 {
		t.Fatalf("%d drinks, want 2", len(drinks))
	}
	for n, one := range drinks {
		drink := one.(object)
		for _, key := range append([]string{"name", "file", "solved", "against_first", "drink"}, answerKeys...) {
			if _, ok := drink[key]; !ok {
				t.Errorf("drink %d has no %s", n, key)
			}
		}
		if solved := drink["solved"].(bool); solved != (n == 1) {
			t.Errorf("drink %d: solved is %v", n, solved)
		}
		against := drink["against_first"].(object)
		if len(against) != len(drink["profile"].(object)) {
			t.Errorf("drink %d is compared on %d properties of %d", n, len(against), len(drink["profile"].(object)))
		}
		for name, d := range against {
			more := d.(object)["more"].(float64)
			here := drink["profile"].(object)[name].(object)["value"].(float64)
			there := drinks[0].(object)["profile"].(object)[name].(object)["value"].(float64)
			if math.Abs(more-(here-there)) > 1e-8*max(1, math.Abs(here)) {
				t.Errorf("drink %d: %g more %s, but %g against %g", n, more, name, here, there)
			}
		}
	}
	pair := answer["pairs"].([]any)[0].(object)
	sum := 0.0
	for _, name := range answer["counted"].([]any) {
		jnd := pair["jnd"].(object)[name.(string)].(float64)
		if jnd != drinks[1].(object)["against_first"].(object)[name.(string)].(object)["jnd"].(float64) {
			t.Errorf("%s of the pair is %g", name, jnd)
		}
		sum += jnd * jnd
	}
	if total := pair["total_jnd"].(float64); math.Abs(total-math.Sqrt(sum)) > 1e-8 || !pair["perceptible"].(bool) {
		t.Errorf("total %g, but the parts make %g", total, math.Sqrt(sum))
	}
	if most := pair["most"]; pair["first"] != "Martini" || pair["second"] != "Salted Cooler" || most == "" {
		t.Errorf("pair %v", pair)
	}
}

func TestJSONNamesWhatWasSkipped(t *testing.T) {
	folder := menu(t, 2)
	if err := os.WriteFile(filepath.Join(folder, "notes.yaml"), []byte("- lemons\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, out, _ := minim(t, "", "compare", folder, "--json")
	if !strings.Contains(out, `"skipped": [`) || !strings.Contains(out, "notes.yaml") {
		t.Errorf("what was skipped is not named:\n%s", out)
	}
}

func TestComparisonsFitTheTerminal(t *testing.T) {
	folder, long := menu(t, 30), specFile(t, "long.yaml", "drink: "+strings.Repeat("Very ", 30)+"Long Name\nmix:\n  fino sherry: 60 ml\n  very bitter amaro: 10 ml\n  green tea: 5 ml\n")
	few := []string{"compare", long, specFile(t, "martini.yaml", martini)}
	for n := range 6 {
		few = append(few, filepath.Join(folder, fmt.Sprintf("%03d.yaml", n)))
	}
	for _, args := range [][]string{few, {"compare", folder}, {"compare", folder, long}, {"compare", long, long, long}, {"compare", examples(t)}} {
		for _, form := range [][]string{nil, {"--units", "oz"}} {
			code, out, errs := minim(t, "", append(args[:len(args):len(args)], form...)...)
			if code != exitAnswered {
				t.Fatalf("%q: exit code %d\n%s", args, code, errs)
			}
			fits(t, out, args)
		}
	}
}

// A menu of the same drink thirty times: the page names twenty pairs and says
// how many more there are. 30 · 29 / 2 = 435.
func TestManyDrinksAlikeAreCounted(t *testing.T) {
	folder := t.TempDir()
	for n := range 30 {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%02d.yaml", n)), []byte(martini), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, out, _ := minim(t, "", "compare", folder)
	if !strings.Contains(out, "415 more pairs could hardly be told apart") {
		t.Errorf("the rest of the pairs is not counted:\n%s", out)
	}
}

func TestComparisonsThatCannotBeWrittenAreAFailure(t *testing.T) {
	file := specFile(t, "martini.yaml", martini)
	for _, args := range [][]string{{"compare", file, "-"}, {"compare", file, "-", "--json"}, {"compare", menu(t, 3)}} {
		notWritten(t, args, martini, &fullDisk{})
		notWritten(t, args, martini, &fullDisk{40})
	}
}

// The pictures are read by any reader of XML, whatever the drinks are called,
// and each drink is in them.
func TestPicturesOfComparisonsAreWellFormed(t *testing.T) {
	folder := menu(t, 12)
	hostile := specFile(t, "hostile.yaml", "drink: </svg><script>alert(\"1\")</script> & 'x'\nmix:\n  dry gin: 40 ml\n  water: 20 ml\n")
	svg := filepath.Join(t.TempDir(), "picture.svg")
	for _, args := range [][]string{
		{folder},
		{folder, hostile},
		{hostile, hostile},
		{hostile, filepath.Join(folder, "001.yaml"), filepath.Join(folder, "002.yaml")},
		{folder, folder},
		{menu(t, 1)},
	} {
		code, _, errs := minim(t, "", append([]string{"compare", "--svg", svg}, args...)...)
		if code != exitAnswered {
			t.Fatalf("%q: exit code %d\n%s", args, code, errs)
		}
		drawn, err := os.ReadFile(svg)
		if err != nil {
			t.Fatal(err)
		}
		counted, _ := elements(t, string(drawn))
		if counted["svg"] != 1 || counted["script"] != 0 || counted["circle"] == 0 {
			t.Errorf("%q: elements %v", args, counted)
		}
		// Two pictures of the same drinks are the same bytes.
		minim(t, "", append([]string{"compare", "--svg", svg}, args...)...)
		if again, err := os.ReadFile(svg); err != nil || string(again) != string(drawn) {
			t.Errorf("%q: drawn twice, the picture differs: %v", args, err)
		}
	}
}

// Water, dry and without acid or strength, is drawn all the same.
func TestDrinksOfNothingAreDrawn(t *testing.T) {
	svg := filepath.Join(t.TempDir(), "picture.svg")
	water := specFile(t, "water.yaml", "mix:\n  water: 100 ml\n")
	for _, args := range [][]string{{water, water}, {filepath.Dir(water)}} {
		if code, out, errs := minim(t, "", append([]string{"compare", "--svg", svg}, args...)...); code != exitAnswered {
			t.Errorf("%q: exit code %d\n%s%s", args, code, out, errs)
		}
	}
}

// The discs by hand: half the diameter is a quarter of the area.
func TestDiscsGoWithSweetnessByArea(t *testing.T) {
	if d := discFor(80, 80); d != largestDisc {
		t.Errorf("the sweetest drink's disc is %g across", d)
	}
	if d := discFor(20, 80); math.Abs(d-largestDisc/2) > 1e-9 {
		t.Errorf("a quarter as sweet is %g across, want half", d)
	}
	if discFor(0, 80) <= 0 || discFor(0, 0) <= 0 {
		t.Error("a dry drink is not to be seen")
	}
}

func TestNamesTellDrinksApart(t *testing.T) {
	if got := shortNames([]string{"Ferry Sour of the House", "Ferry Sour of the Garden", "Ebb", "Ebb"}, 14); len(got) != 4 ||
		got[0] != "Ferry Sour of…" || got[1] != "Ferry Sour… 2" || got[2] != "Ebb" || got[3] != "Ebb 2" {
		t.Errorf("short names %q", got)
	}
}

// Twice the same drink tastes the same and is more. 20 ml of 40 % (0.948 g/ml) and
// 20 ml of water weigh 38.9 g, at 0.974 g/ml 40.0 ml: OIML R 22 (1975).
func TestDrinksThatDifferInWhatHasNoJNDAreNotTheSame(t *testing.T) {
	small := specFile(t, "small.yaml", "drink: Small\nmix:\n  vodka: 20 ml\n  water: 20 ml\n")
	large := specFile(t, "large.yaml", "drink: Large\nmix:\n  vodka: 40 ml\n  water: 40 ml\n")
	_, out, _ := minim(t, "", "compare", small, large)
	if strings.Contains(out, "the same") || !strings.Contains(out, "Nobody would tell Large from Small") || !strings.Contains(out, "larger by 40 ml") {
		t.Errorf("twice the drink:\n%s", out)
	}
}
