package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// wrongInput is one kind of mistake, what the program is given, and what it has
// to say so that a bartender can put it right.
type wrongInput struct {
	name string
	args []string
	// place is where the message has to point; empty where the mistake has none.
	place string
	says  []string
}

func TestBrokenFilesAreRefusedWhereTheyAreBroken(t *testing.T) {
	t.Chdir(filepath.Join("testdata", "broken"))
	wrong := []wrongInput{
		{"comparison sign", []string{"comparison-sign.yaml"}, "comparison-sign.yaml:6:8", []string{">= 9 %", "hint: write at least 9 %"}},
		{"decimal comma", []string{"decimal-comma.yaml"}, "decimal-comma.yaml:4:15", []string{"2,5 ml", "expected a decimal point", "hint: write 2.5 ml"}},
		{"empty file", []string{"empty.yaml"}, "empty.yaml", []string{"empty file", "expected a spec"}},
		{"control character", []string{"escape.yaml"}, "escape.yaml:1:16", []string{"control character", "expected plain text", "hint: "}},
		{"file of another kind", []string{"photograph.yaml"}, "photograph.yaml", []string{"a picture (PNG)", "plain text", "hint: "}},
		{"like a missing file", []string{"like-a-missing-file.yaml"}, "", []string{"lost.yaml", "no such file"}},
		{"list for a spec", []string{"list-of-drinks.yaml"}, "list-of-drinks.yaml:1:1", []string{"list", "`drink: name`", "hint: "}},
		{"negative amount", []string{"negative-amount.yaml"}, "negative-amount.yaml:3:12", []string{"-45", "negative", "expected"}},
		{"nothing after a name", []string{"nothing-after-the-name.yaml"}, "nothing-after-the-name.yaml:5:14", []string{"soda water", "expected a value", "hint: "}},
		{"no target", []string{"nothing-aimed-at.yaml"}, "nothing-aimed-at.yaml", []string{"open", "expected a target", "abv: 18 %"}},
		{"number sign in a name", []string{"number-sign.yaml"}, "number-sign.yaml:3:7", []string{"cut short by #", `hint: `, `"gin #2"`}},
		{"range upside down", []string{"range-upside-down.yaml"}, "range-upside-down.yaml:3:12", []string{"45..30 ml", "upside down", "hint: write 30..45 ml"}},
		{"ingredient twice", []string{"same-ingredient-twice.yaml"}, "same-ingredient-twice.yaml:5:3", []string{"dry gin", "line 3", "expected it once"}},
		{"target twice", []string{"target-twice.yaml"}, "target-twice.yaml:7:3", []string{"abv", "line 6", "expected it once"}},
		{"sugar in percent", []string{"sugar-in-percent.yaml"}, "sugar-in-percent.yaml:6:10", []string{"8 %", "expected g/L", "write 80 g/L"}},
		{"tab", []string{"tab.yaml"}, "tab.yaml:3:1", []string{"tab", "expected spaces", "hint: "}},
		{"target in the wrong unit", []string{"target-in-the-wrong-unit.yaml"}, "target-in-the-wrong-unit.yaml:6:11", []string{"90 g/L", "expected ml"}},
		{"pour in the wrong unit", []string{"volume-in-grams-per-litre.yaml"}, "volume-in-grams-per-litre.yaml:4:18", []string{"25 g/L", "concentration", "expected an amount in ml"}},
		{"unknown ingredient", []string{"unknown-ingredient.yaml"}, "unknown-ingredient.yaml:4:3", []string{"lime jiuce", "nearest: lime juice", "hint: "}},
		{"unknown method", []string{"unknown-method.yaml"}, "unknown-method.yaml:4:6", []string{"shaken", "expected one of", "nearest: shake"}},
		{"unknown property", []string{"unknown-property.yaml"}, "unknown-property.yaml:6:3", []string{"acidd", "expected one of volume", "nearest: acid"}},
		{"unknown section", []string{"unknown-section.yaml"}, "unknown-section.yaml:2:1", []string{"mixx", "expected one of drink", "nearest: mix"}},
		{"missing file", []string{"lost.yaml"}, "lost.yaml", []string{"no such file"}},
		{"folder", []string{"."}, ".", []string{"not a file", "expected a file"}},
		{"pantry without names", []string{"--pantry", "no-name-column.csv", "--from", "gin"}, "no-name-column.csv:1:1", []string{"no column name", "hint: "}},
		{"pantry with a decimal comma", []string{"--pantry", "decimal-comma.csv", "--from", "gin"}, "decimal-comma.csv:2:11", []string{"40,5", "expected a decimal point", "write 40.5"}},
		{"pantry with negative sugar", []string{"--pantry", "negative-sugar.csv", "--from", "gin"}, "negative-sugar.csv:2:14", []string{"-5", "negative", "expected 0 or more"}},
		{"pantry with infinite sugar", []string{"--pantry", "infinite-sugar.csv", "--from", "gin"}, "infinite-sugar.csv:2:14", []string{"Inf", "expected a number"}},
		{"pantry beyond pure alcohol", []string{"--pantry", "more-than-pure-alcohol.csv", "--from", "gin"}, "more-than-pure-alcohol.csv:2:11", []string{"400", "expected 0 to 100"}},
		{"empty pantry", []string{"--pantry", "empty.csv", "--from", "gin"}, "empty.csv", []string{"empty", "expected a heading line"}},
		{"missing pantry", []string{"--pantry", "lost.csv", "--from", "gin"}, "lost.csv", []string{"no such file"}},
		{"folder for a pantry", []string{"--pantry", ".", "--from", "gin"}, ".", []string{"not a file", "expected a file"}},
	}
	seen := map[string]bool{}
	for _, w := range wrong {
		w.args = append([]string{"design"}, w.args...)
		w.check(t, "")
		for _, a := range w.args {
			seen[a] = true
		}
	}
	seen["three-mistakes.yaml"] = true // in a test of its own
	files, err := filepath.Glob("*")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if !seen[file] {
			t.Errorf("testdata/broken/%s is in no test", file)
		}
	}
}

// A file is read to its end: all of its mistakes at once, in the order of its
// lines.
func TestAllMistakesOfAFileAreNamedInItsOrder(t *testing.T) {
	t.Chdir(filepath.Join("testdata", "broken"))
	_, _, errs := minim(t, "", "profile", "three-mistakes.yaml")
	last := -1
	for _, place := range []string{"three-mistakes.yaml:3:13:", "three-mistakes.yaml:4:15:", "three-mistakes.yaml:6:8:"} {
		at := strings.Index(errs, place)
		if at <= last {
			t.Errorf("%s is missing or out of order:\n%s", place, errs)
		}
		last = at
	}
}

func TestWrongCommandLinesAreRefused(t *testing.T) {
	t.Chdir(filepath.Join("testdata", "broken"))
	flat := func(more ...string) []string {
		return append([]string{"design", "--from", "dry gin, lime juice, rich syrup"}, more...)
	}
	for _, w := range []wrongInput{
		{"no command", nil, "", []string{"no command", "design", "profile", "help"}},
		{"unknown command", []string{"desing"}, "", []string{"desing", "nearest: design"}},
		{"help for an unknown command", []string{"help", "profil"}, "", []string{"profil", "nearest: profile"}},
		{"unknown flag", flat("--acidd", "8"), "--acidd", []string{"nearest: --acid"}},
		{"unknown flag of profile", []string{"profile", "--jsom", "empty.yaml"}, "--jsom", []string{"nearest: --json"}},
		{"flag without its value", []string{"design", "--abv"}, "--abv", nil},
		{"flag with a wrong choice", flat("--abv", "18", "--units", "gill"), "--units", []string{"gill", "expected one of ml, cl, oz, imp-oz"}},
		{"flag with a wrong method", flat("--abv", "18", "--ice", "shaken"), "--ice", []string{"shaken", "expected one of", "shake"}},
		{"target that is no number", flat("--abv", "strong"), "--abv", []string{"strong", "expected a number"}},
		{"target not a number", flat("--abv", "NaN"), "--abv", []string{"NaN", "expected a number"}},
		{"infinite target", flat("--sugar", "Inf"), "--sugar", []string{"Inf", "expected a number"}},
		{"infinite volume", flat("--volume", "Inf ml"), "--volume", []string{"Inf", "expected a number"}},
		{"negative strength", flat("--abv", "-3"), "--abv", []string{"-3", "negative"}},
		{"strength beyond pure alcohol", flat("--abv", "400"), "--abv", []string{"400", "expected at most 100 %"}},
		{"band upside down", flat("--abv", "20..10"), "--abv", []string{"20..10", "upside down", "write 10..20"}},
		{"sugar target in percent", flat("--sugar", "8 %"), "--sugar", []string{"8 %", "expected g/L", "write 80 g/L"}},
		{"target with a decimal comma", flat("--acid", "6,5"), "--acid", []string{"6,5", "6.5"}},
		{"measure not a number", flat("--abv", "18", "--measure", "NaNml"), "--measure", []string{"NaNml", "expected a number"}},
		{"measure in an unknown unit", flat("--abv", "18", "--measure", "3 thimbles"), "--measure", []string{"thimbles", "expected ml"}},
		{"negative glass", flat("--abv", "18", "--glass", "-200ml"), "--glass", []string{"-200", "negative"}},
		{"glass by weight", flat("--abv", "18", "--glass", "200g"), "--glass", []string{"200g", "expected ml"}},
		{"ingredient offered twice", []string{"design", "--from", "gin, gin", "--abv", "18"}, "--from", []string{"gin", "twice"}},
		{"unknown ingredient offered", []string{"design", "--from", "gin, lime jiuce", "--abv", "18"}, "--from", []string{"lime jiuce", "nearest: lime juice"}},
		{"targets and nothing to pour", []string{"design", "--abv", "18"}, "", []string{"nothing to pour", "--from"}},
		{"pours and no target", flat(), "", []string{"expected a target"}},
		{"standard input twice", []string{"design", "-", "-"}, "", []string{"standard input", "only once"}},
		{"standard input as spec and pantry", []string{"design", "-", "--pantry", "-"}, "", []string{"standard input", "only once"}},
		{"target beside a file", []string{"design", "empty.yaml", "--abv", "18"}, "--abv", []string{"beside a file"}},
		{"ingredients beside a file", []string{"design", "empty.yaml", "--from", "gin"}, "--from", []string{"beside a file"}},
		{"two files", []string{"design", "empty.yaml", "tab.yaml"}, "", []string{"2 files", "expected one"}},
		{"profile of no file", []string{"profile"}, "", []string{"expected one"}},
		{"profile of a folder", []string{"profile", "."}, ".", []string{"not a file"}},
		{"profile of open pours", []string{"profile", "nothing-aimed-at.yaml"}, "nothing-aimed-at.yaml:3:3", []string{"dry gin", "open", "design", "hint: "}},
	} {
		w.check(t, "")
	}
}

func TestBrokenStandardInputIsNamedByItsDash(t *testing.T) {
	w := wrongInput{"standard input", []string{"design", "-"}, "-:2:12", []string{"negative"}}
	w.check(t, "mix:\n  dry gin: -45 ml\n")
}

// check demands exit code 2, silence on standard output, and a message that a
// person can act on.
func (w *wrongInput) check(t *testing.T, input string) {
	t.Helper()
	code, out, errs := minim(t, input, w.args...)
	if code != exitBadInput {
		t.Errorf("%s: exit code %d, want %d", w.name, code, exitBadInput)
	}
	if out != "" {
		t.Errorf("%s: standard output is not empty:\n%s", w.name, out)
	}
	if !strings.Contains(errs, w.place) {
		t.Errorf("%s: no %q in\n%s", w.name, w.place, errs)
	}
	oneLine := strings.ToLower(strings.Join(strings.Fields(errs), " "))
	for _, s := range w.says {
		if !strings.Contains(oneLine, strings.ToLower(strings.TrimSpace(s))) {
			t.Errorf("%s: no %q in\n%s", w.name, s, errs)
		}
	}
	for _, s := range []string{"failed to", "*os.", "strconv", "yaml: line", "%!", "goroutine", "\x1b", "\x00"} {
		if strings.Contains(errs, s) {
			t.Errorf("%s: %q is nothing for a bar, in\n%s", w.name, s, errs)
		}
	}
	if !strings.HasSuffix(errs, "\n") {
		t.Errorf("%s: the message ends without a new line: %q", w.name, errs)
	}
	for _, line := range strings.Split(errs, "\n") {
		if strings.HasPrefix(line, "minim: ") && strings.HasSuffix(line, ".") || strings.HasPrefix(line, ": ") {
			t.Errorf("%s: %q", w.name, line)
		}
	}
}

// Messages are broken at spaces where a terminal ends; the person's own line and
// the mark under it are not, nor is a word that is longer.
func TestMessagesFitATerminal(t *testing.T) {
	own := "  " + strings.Repeat("x y ", 30)
	long := "f.yaml:1:1: " + strings.Repeat("nine ten ", 20) + strings.Repeat("z", 100) + " end"
	lines := strings.Split(errorLines(long+"\n"+own+"\n  ^"), "\n")
	if got := strings.Join(lines[:len(lines)-2], " "); got != long {
		t.Errorf("%q became %q", long, got)
	}
	for _, line := range lines[:len(lines)-2] {
		if len([]rune(line)) > lineWidth && strings.Contains(line, " ") {
			t.Errorf("%d wide: %q", len([]rune(line)), line)
		}
	}
	if lines[len(lines)-2] != own {
		t.Errorf("their own line became %q", lines[len(lines)-2])
	}
}
