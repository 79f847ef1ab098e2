package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// transcript is a command of the README and what it says the program prints.
type transcript struct{ command, output string }

// transcripts finds the console blocks: a line with "$ minim", then the output.
func transcripts(text string) []transcript {
	var found []transcript
	inside := false
	for _, line := range strings.Split(text, "\n") {
		switch {
		case line == "```console":
			inside = true
		case line == "```":
			inside = false
		case inside && strings.HasPrefix(line, "$ minim "):
			found = append(found, transcript{command: strings.TrimPrefix(line, "$ minim ")})
		case inside && len(found) > 0:
			found[len(found)-1].output += line + "\n"
		}
	}
	return found
}

// words splits a command line at spaces outside double quotes.
func words(line string) []string {
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

func TestREADMEPrintsWhatTheProgramPrints(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(withExamples(t))
	all := transcripts(string(text))
	if len(all) < 3 {
		t.Fatalf("%d transcripts in README.md, expected three or more", len(all))
	}
	for _, one := range all {
		var out, errs bytes.Buffer
		if code := run(words(one.command), strings.NewReader(""), &out, &errs); code != exitAnswered {
			t.Errorf("minim %s: exit %d\n%s", one.command, code, errs.String())
		}
		if strings.TrimSpace(out.String()) != strings.TrimSpace(one.output) {
			t.Errorf("minim %s prints\n%s\nbut README.md says\n%s", one.command, out.String(), one.output)
		}
	}
}
