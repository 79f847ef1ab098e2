package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// The filled-in spec is the answer: read and written once more it is the same
// file, and its profile is the one that the answer gave.
func TestFilledInSpecReadsBackAsTheSameDrink(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, question := range questions(t) {
		ask := append([]string{"design", "--pantry", house}, question...)
		_, filled, _ := minim(t, "", append(ask, "--spec")...)
		_, again, _ := minim(t, filled, "design", "--pantry", house, "-", "--spec")
		if again != filled {
			t.Errorf("%q: written\n%s\nread and written once more\n%s", question, filled, again)
		}
		code, _, _ := minim(t, "", ask...)
		answer := decoded(t, "", code, append(ask, "--json")...)
		report := decoded(t, filled, code, "profile", "--pantry", house, "-", "--json")
		for _, key := range []string{"profile", "dilution", "misses", "total_jnd", "finish", "broken"} {
			if !reflect.DeepEqual(answer[key], report[key]) {
				t.Errorf("%q: %s of the answer\n%v\nof its spec\n%v", question, key, answer[key], report[key])
			}
		}
		poured, written := answer["pours"].([]any), report["pours"].([]any)
		if len(poured) != len(written) {
			t.Fatalf("%q: %d pours, %d in the spec", question, len(poured), len(written))
		}
		for i := range poured {
			for _, key := range append([]string{"id"}, pourKeys...) {
				if a, b := poured[i].(object)[key], written[i].(object)[key]; !reflect.DeepEqual(a, b) {
					t.Errorf("%q: %s of pour %d is %v, in the spec %v", question, key, i, a, b)
				}
			}
		}
	}
}

// Whatever is given as a spec, the program answers or says what is wrong: it
// never stops half-way, and never prints half an answer.
func FuzzProfileOfAnyText(f *testing.F) {
	for _, pattern := range []string{filepath.Join("testdata", "broken", "*.yaml"), filepath.Join("..", "..", "examples", "*.yaml")} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("%s: no files, %v", pattern, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
		}
	}
	f.Add(martini)
	f.Add(salted)
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, "like") && strings.Contains(text, "/") {
			t.Skip("would read a file from anywhere")
		}
		code, out, errs := minim(t, text, "profile", "-")
		switch code {
		case exitAnswered, exitLimitBroke:
			if !strings.HasSuffix(out, "\n") || strings.Contains(out, "NaN") || strings.Contains(out, "Inf") {
				t.Errorf("%q prints\n%s", text, out)
			}
		case exitBadInput:
			if out != "" || errs == "" {
				t.Errorf("%q: standard output %q, standard error %q", text, out, errs)
			}
		default:
			t.Errorf("%q: exit code %d", text, code)
		}
	})
}
